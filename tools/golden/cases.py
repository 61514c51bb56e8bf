"""The A-scans and procedures of the golden table. Amplitudes are whole counts of a full scale of 32768, so that every fraction is
exact in single precision and ties stay ties."""
import copy
import math
import random

RATE = 100e6
FREQUENCY = 10e6
FULL = 32768


def stack(**changes):
    s = {"rate": RATE, "start": 0.5e-6, "full_scale": FULL, "zero": 0, "minimum": -32768, "maximum": 32767,
         "frequency": FREQUENCY, "bandwidth": 0.6, "form": "rf"}
    s.update(changes)
    return s


def train(n, echoes, noise=0.0, seed=1, clip=None, offset=0):
    """Sum of Gaussian pulses (position in samples, amplitude as a fraction, phase in radians), in counts."""
    rng = random.Random(seed)
    tau = math.sqrt(2 * math.log(2)) / (math.pi * 0.6 * FREQUENCY) * RATE
    out = []
    for i in range(n):
        v = 0.0
        for position, amplitude, phase in echoes:
            u = i - position
            v += amplitude * math.exp(-u * u / (2 * tau * tau)) * math.cos(2 * math.pi * FREQUENCY / RATE * u + phase)
        v += noise * rng.gauss(0, 1)
        c = round(v * FULL) + offset
        if clip is not None:
            c = max(-clip, min(clip, c))
        out.append(max(-32768, min(32767, c)))
    return out


PI = math.pi
SCANS = {
    "clean": train(240, [(45.3, 0.70, 0), (125.7, 0.35, PI), (206.1, 0.18, PI)]),
    "noisy": train(240, [(45.3, 0.70, 0), (125.7, 0.35, PI), (206.1, 0.18, PI)], noise=0.012, seed=7),
    "weak-before-strong": train(240, [(50.8, 0.60, 0), (98.2, 0.14, PI), (128.4, 0.40, PI), (205.9, 0.22, PI)], noise=0.006, seed=3),
    "strong-before-weak": train(240, [(40.6, 0.55, PI), (112.5, 0.45, 0), (142.9, 0.16, 0), (184.6, 0.25, 0), (215.0, 0.09, 0)], noise=0.006, seed=5),
    "odd-phase": train(240, [(47.0, 0.66, 0.9), (122.0, 0.31, PI + 0.9), (197.0, 0.2, PI + 0.9)], noise=0.004, seed=11),
}


def spikes(n, marks, floor=0):
    """Samples written by hand: value floor except for {index: counts}."""
    return [marks.get(i, floor) for i in range(n)]


def base(**conditioning):
    c = {"remove_offset": False, "signal": "rf"}
    c.update(conditioning)
    return {
        "conditioning": c,
        "interface": {"search_start": 0.6e-6, "search_end": 1.25e-6, "level": (0.5, "strongest"), "take": "first", "pick": "peak"},
        "gates": [
            {"name": "wall1", "follows": "interface", "start": ("s", 0.35e-6), "width": ("s", 0.75e-6), "level": (0.08, "full scale"), "take": "strongest", "pick": "peak", "polarity": "either"},
            {"name": "wall2", "follows": "wall1", "start": ("s", 0.35e-6), "width": ("s", 0.75e-6), "level": (0.05, "full scale"), "take": "strongest", "pick": "peak", "polarity": "either"},
        ],
        "pairing": {"rule": "difference", "from": "interface", "to": "wall1"},
    }


CASES = []


def add(name, about, samples, procedure, stack_facts=None, velocity=5920.0):
    CASES.append({"name": name, "about": about, "samples": samples, "procedure": copy.deepcopy(procedure),
                  "stack": stack_facts or stack(), "velocity": velocity})


# ---- every pick on the interface, every signal
for rule in ("flank", "peak", "zero-crossing", "envelope-peak", "correlation"):
    for scan in ("clean", "odd-phase"):
        p = base()
        p["interface"]["pick"] = rule
        add(f"interface {rule}, {scan}", "the interface by each pick; gates ride on it", SCANS[scan], p)
for fraction in (0.1, 0.5, 0.9):
    p = base()
    p["interface"].update(pick="flank", flank_fraction=fraction)
    for g in p["gates"]:
        g.update(pick="flank", flank_fraction=fraction)
    add(f"flank fraction {fraction}", "target under, at and over the level of the echo's first sample", SCANS["noisy"], p)
for signal in ("rectified", "envelope"):
    for rule in ("flank", "peak", "envelope-peak"):
        for take in ("first", "strongest", "last"):
            p = base(signal=signal)
            p["interface"]["pick"] = "flank"
            for g in p["gates"]:
                g.update(pick=rule, take=take)
            add(f"{signal} {rule} {take}", "signals without a sign", SCANS["strong-before-weak"], p)
for take in ("first", "strongest", "last"):
    p = base()
    p["interface"].update(take=take, level=(0.2, "full scale"), search_end=2.5e-6)
    p["gates"] = p["gates"][:1]
    p["gates"][0].update(width=("s", 0.6e-6))
    add(f"interface take {take}", "search over the whole record; the last strong echo leaves no room for a wall", SCANS["strong-before-weak"], p)
for polarity in ("positive", "negative"):
    p = base()
    p["interface"].update(polarity=polarity, level=(6.0, "noise"))
    add(f"interface {polarity}", "only one half wave; level from noise", SCANS["odd-phase"], p)

# ---- conditioning
p = base(band=(5e6, 15e6), taps=31, remove_offset=True)
add("band-pass", "filtered rf, offset removed, noise measured after the filter", train(240, [(45.3, 0.7, 0), (125.7, 0.35, PI), (206.1, 0.18, PI)], noise=0.01, seed=2, offset=900), p)
p = base(band=(5e6, 15e6), taps=31, remove_offset=True, signal="envelope")
p["interface"]["pick"] = "flank"
add("band-pass envelope", "envelope of the band", train(240, [(45.3, 0.7, 0), (125.7, 0.35, PI), (206.1, 0.18, PI)], noise=0.01, seed=2, offset=900), p)
p = base(band=(5e6, 15e6), taps=31, remove_offset=True)
for g in p["gates"]:
    g["pick"] = "correlation"
p["interface"]["pick"] = "zero-crossing"
add("band-pass correlation", "walls by correlation with the interface, which is timed at a zero crossing", train(240, [(45.3, 0.7, 0.4), (125.7, 0.35, PI + 0.4), (206.1, 0.18, PI + 0.4)], noise=0.01, seed=4, offset=-400), p)

# ---- ties, edges, joins: hand-written samples, rectified so that amplitudes are what is written
hand = base(signal="rectified")
hand["interface"] = {"search_start": 0.5e-6, "search_end": 0.8e-6, "level": (0.25, "full scale"), "take": "first", "pick": "flank"}
hand["gates"] = [{"name": "wall1", "follows": "interface", "start": ("s", 0.3e-6), "width": ("s", 0.4e-6), "level": (0.125, "full scale"), "take": "first", "pick": "flank", "polarity": "either"}]
hand["pairing"] = {"rule": "difference", "from": "interface", "to": "wall1", "minimum_snr": 0.0}
quiet = stack(frequency=None, start=0.0)
hand["interface"].update(search_start=0.0, search_end=0.3e-6)
face = {10: 4096, 11: 12288, 12: 8192}


def written(name, about, marks, change=None, facts=None, n=120, floor=0):
    p = copy.deepcopy(hand)
    if change:
        change(p)
    add(name, about, spikes(n, {**face, **marks}, floor), p, facts or quiet)


written("equal to the level reaches it", "sample 60 equals the level exactly", {59: 100, 60: 4096, 61: 50})
written("one count under the level", "sample 60 misses the level by one count", {59: 100, 60: 4095, 61: 50})
written("two equal maxima in one echo", "the earliest of equals is the highest sample", {59: 4200, 60: 9000, 61: 9000, 62: 4100}, lambda p: p["gates"][0].update(pick="peak"))
written("two equal echoes, strongest", "the earlier echo of equals", {50: 6000, 70: 6000}, lambda p: p["gates"][0].update(pick="peak", take="strongest"))
written("two equal echoes, last", "the later one", {50: 6000, 70: 6000}, lambda p: p["gates"][0].update(pick="peak", take="last"))
# interface pick: 10 + (8192 - 4096) / (12288 - 4096) = 10.5 samples; gate 40.5 .. 80.5 holds samples 41 .. 80.
written("sample before the gate", "sample 40 is outside, 60 is the echo", {40: 20000, 60: 9000})
written("first sample of the gate", "sample 41 is the first inside and over the level: the pick is the sample, ring-down is suspected", {40: 2000, 41: 9000})
written("already over the level", "falls through the start of the gate, rises again later", {40: 20000, 41: 15000, 42: 9000, 43: 3000, 60: 7000})
written("already over, strongest is later", "the strongest echo is not the one that starts over the level", {40: 20000, 41: 6000, 60: 7000}, lambda p: p["gates"][0].update(take="strongest", pick="peak"))
written("last sample of the gate", "sample 80 is the last inside", {79: 1000, 80: 9000, 81: 12000})
written("just past the gate", "sample 81 is outside", {80: 1000, 81: 9000})
written("echo across the gate's end", "rises to 83, judged by 79 and 80; the parabola may look outside", {79: 5000, 80: 9000, 81: 14000, 82: 20000, 83: 21000, 84: 9000}, lambda p: p["gates"][0].update(pick="peak"))
written("gate start on a sample", "gate 40.0 .. 80.0 samples: 40 is inside, 80 is not", {40: 9000, 80: 9000}, lambda p: p["gates"][0].update(follows="pulse", start=("s", 0.4e-6), take="last", pick="peak"))
written("gate past the record", "cut by the record, echo still found", {100: 3000, 101: 9000, 102: 2000}, lambda p: p["gates"][0].update(width=("s", 2e-6)))
written("gate wholly past the record", "no samples, no echo", {}, lambda p: p["gates"][0].update(start=("s", 1.5e-6)))
written("peak at the last sample", "no neighbour to the right", {118: 3000, 119: 9000}, lambda p: p["gates"][0].update(width=("s", 2e-6), pick="peak"))
written("interface over the level at once", "search begins inside the echo", {}, lambda p: p["interface"].update(search_start=0.11e-6))
written("no interface", "nothing reaches the level", {}, lambda p: p["interface"].update(level=(0.5, "full scale")))
written("all zero", "not even noise", {10: 0, 11: 0, 12: 0}, lambda p: p["interface"].update(level=(5.0, "noise")))
written("constant record", "every sample is the strongest", {10: 5000, 11: 5000, 12: 5000}, lambda p: p["interface"].update(level=(0.5, "strongest")), floor=5000)

ten = stack(start=0.0)  # one period is 10 samples
written("gap shorter than a period joins", "runs at 50 and 59 are 9 samples apart: one echo, whose peak is 59", {50: 5000, 59: 9000}, lambda p: p["gates"][0].update(pick="peak"), ten)
written("gap of a period separates", "runs at 50 and 60 are 10 samples apart: two echoes, first is 50", {50: 5000, 60: 9000}, lambda p: p["gates"][0].update(pick="peak"), ten)
written("chain of joins", "50, 58, 66, 74: each closer than a period to the last", {50: 5000, 58: 6000, 66: 9000, 74: 7000}, lambda p: p["gates"][0].update(pick="peak"), ten)
written("flank of a joined echo", "the flank belongs to the first half wave", {49: 2000, 50: 5000, 59: 9000}, None, ten)

# ---- follows chains and pulse
p = base()
p["gates"].append({"name": "wall3", "follows": "wall2", "start": ("s", 0.3e-6), "width": ("s", 0.8e-6), "level": (-0.0 + 0.25, "followed"), "take": "first", "pick": "peak", "polarity": "same"})
p["pairing"] = {"rule": "difference", "from": "wall2", "to": "wall3"}
add("chain of three gates", "each gate rides on the one before; the third has the order 3", train(300, [(45.3, 0.70, 0), (115.7, 0.35, PI), (186.1, 0.18, PI), (256.5, 0.12, PI)]), p)
add("chain broken", "nothing for the second gate, so the third has no place", train(300, [(45.3, 0.70, 0), (115.7, 0.35, PI)]), p)
p = copy.deepcopy(p)
p["pairing"] = {"rule": "difference", "from": "wall1", "to": "wall3"}
add("wall 1 to wall 3", "two round trips", train(300, [(45.3, 0.70, 0), (115.7, 0.35, PI), (186.1, 0.18, PI), (256.5, 0.12, PI)]), p)
p = base()
p["gates"][0].update(follows="pulse", start=("s", 1.4e-6), width=("s", 0.8e-6))
add("gate on the pulse", "absolute gate, interface-corrected wall", SCANS["noisy"], p)
p["pairing"] = {"rule": "difference", "from": "wall1", "to": "wall2"}
p["interface"]["level"] = (0.99, "full scale")
add("wall to wall without interface", "no interface needed: both gates ride on the pulse", SCANS["noisy"], p)
p = base()
p["interface"]["offset"] = 0.037e-6
add("interface offset", "gates and walls start from the reported time", SCANS["noisy"], p)
p = base()
p["gates"][0].update(start=("m", 1.1e-3), width=("m", 2.0e-3))
p["gates"][1].update(start=("m", 1.1e-3), width=("m", 2.0e-3))
add("gates in depth of metal", "2 d / v", SCANS["noisy"], p)
add("gates in depth, other velocity", "the same procedure in slower metal", SCANS["noisy"], p, velocity=5000.0)

# ---- level by depth
for scan, points in (("weak-before-strong", [(1.0e-3, 0.0), (3.0e-3, 24.0)]), ("strong-before-weak", [(0.5e-3, 12.0), (1.5e-3, 6.0), (2.5e-3, -8.0)]), ("noisy", [(2.2e-3, -6.0)])):
    for take in ("first", "strongest", "last"):
        p = base()
        p["gates"][0].update(level_by_depth=points, take=take, pick="flank")
        p["gates"][1].update(level_by_depth=points, take=take, pick="peak")
        add(f"level by depth, {scan}, {take}", "linear in decibels between points, constant beyond", SCANS[scan], p)

# ---- saturation
clipped = train(240, [(45.3, 1.4, 0), (125.7, 0.35, PI), (206.1, 0.18, PI)])
p = base()
p["interface"]["pick"] = "peak"
add("clipped interface, peak", "the position of a cut peak is not known: refused", clipped, p)
p = base()
p["interface"].update(pick="flank", level=(0.3, "full scale"))
add("clipped interface, flank", "the flank under the rail stands, noted", clipped, p)
p["interface"].update(pick="zero-crossing")
add("clipped interface, zero crossing", "stands, noted", clipped, p)
p = base()
p["interface"]["pick"] = "flank"
p["gates"][0]["pick"] = "correlation"
add("clipped interface, correlation", "the clipped echo is the reference", clipped, p)
p = base()
p["pairing"] = {"rule": "difference", "from": "wall1", "to": "wall2"}
add("clipped interface, wall to wall", "the wall does not rest on the clipped echo", clipped, p)
p = base()
add("rails unknown, plateau", "a limiter at 16000 counts; the rails are not known", train(240, [(45.3, 0.9, 0), (125.7, 0.35, PI), (206.1, 0.18, PI)], clip=16000), p, stack(minimum=None, maximum=None))
add("rails unknown, no plateau", "the highest sample is single", SCANS["noisy"], p, stack(minimum=None, maximum=None))
p = base(saturation_samples=0)
add("saturation ignored", "detection switched off", clipped, p)
p = base(saturation_samples=40)
add("run too short", "no run of 40 samples at a rail", clipped, p)
p = base()
add("clipped wall", "the back wall is cut off", train(240, [(45.3, 0.70, 0), (125.7, 1.5, PI), (206.1, 0.3, PI)]), p)

# ---- pairing
p = base()
p["pairing"] = {"rule": "agreement", "agreement": 0.1e-3}
add("agreement", "both spacings agree: the weighted line", SCANS["noisy"], p)
add("agreement refused", "coating: interface to wall is longer", train(260, [(40.3, 0.70, 0), (125.7, 0.35, PI), (190.1, 0.18, PI)], noise=0.004, seed=9), p)
p["gates"][0].update(width=("s", 1.2e-6))
p["gates"][1].update(width=("s", 1.2e-6))
doubled = train(260, [(40.0, 0.70, 0), (100.0, 0.35, PI), (220.0, 0.18, PI)], noise=0.004, seed=9)
add("agreement, doubled second spacing", "wall 2 is missing, gate 2 took wall 3", doubled, p)
p["pairing"] = {"rule": "difference", "from": "interface", "to": "wall1"}
add("difference, runner-up doubled", "the wall rests on the smaller spacing", doubled, p)
p["pairing"] = {"rule": "difference", "from": "wall1", "to": "wall2"}
add("difference on the doubled spacing", "ambiguous", doubled, p)
p["pairing"] = {"rule": "difference", "from": "interface", "to": "wall1"}
add("first gate took wall 2", "interface to wall is twice wall to wall", train(260, [(40.0, 0.70, 0), (160.0, 0.35, PI), (220.0, 0.18, PI)], noise=0.004, seed=9), p)
converted = train(260, [(40.0, 0.70, 0), (110.0, 0.35, PI), (209.15, 0.18, PI)], noise=0.004, seed=9)
add("mode-converted second echo", "1.416 times the wall", converted, p)
p["pairing"] = {"rule": "difference", "from": "wall1", "to": "wall2"}
add("wall from a mode-converted echo", "ambiguous", converted, p)
p = base()
add("growing echoes", "the second echo is much stronger than the first at equal spacing", train(240, [(45.3, 0.70, 0), (120.7, 0.12, PI), (196.1, 0.3, PI)], noise=0.004, seed=9), p)
add("polarity unexpected", "the wall has the sign of the interface", train(240, [(45.3, 0.70, 0), (125.7, 0.35, 0), (206.1, 0.18, 0)], noise=0.004, seed=9), p)
add("couplant multiple near", "interface at 0.953 us, its double at 1.906 us falls on wall 1", train(240, [(45.3, 0.70, 0), (140.6, 0.35, PI), (235.9, 0.18, PI)], noise=0.004, seed=9), p)
p["pairing"]["minimum_snr"] = 40.0
add("low signal to noise", "40 dB are asked for", SCANS["noisy"], p)
p = base()
p["wall"] = {"minimum": 3.0e-3, "maximum": 12.0e-3}
add("outside the range", "2.4 mm where 3 mm is the least", SCANS["noisy"], p)
p = base()
p["pairing"] = {"rule": "difference", "from": "interface", "to": "wall2"}
add("interface to wall 2", "two walls, halved", SCANS["noisy"], p)
add("no second wall", "one echo only", train(240, [(45.3, 0.70, 0), (125.7, 0.35, PI)], noise=0.004, seed=9), base())
rect = [abs(v) for v in SCANS["noisy"]]
p = base(signal="rectified")
add("rectified stack", "stored without sign; the offset is not removed", rect, p, stack(form="rectified"))
p = base(signal="rectified")
add("offset binary", "unsigned counts around 32768", [v + 32768 for v in SCANS["noisy"]], p, stack(zero=32768, minimum=0, maximum=65535))


def cross():
    """Every take x level reference x pick x polarity of a gate: 300 combinations over the A-scans above, in turn."""
    names = list(SCANS)
    turn = 0
    for take in ("first", "strongest", "last"):
        for level in ((0.1, "full scale"), (0.4, "strongest"), (8.0, "noise"), (0.15, "followed")):
            for rule in ("flank", "peak", "zero-crossing", "envelope-peak", "correlation"):
                for polarity in ("either", "positive", "negative", "opposite", "same"):
                    p = base()
                    for g in p["gates"]:
                        g.update(take=take, level=level, pick=rule, polarity=polarity)
                    scan = names[turn % len(names)]
                    # 25 combinations of pick and polarity a block: shift by one block so that scans do not repeat with polarity.
                    turn += 1 if polarity != "same" else 2
                    case = {"scan": scan, "samples": SCANS[scan], "procedure": p, "stack": stack(), "velocity": 5920.0}
                    yield take, rule, polarity, level, case
