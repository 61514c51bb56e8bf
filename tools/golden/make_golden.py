"""Works out the gate decisions of testdata/gates/golden.json: slowly, with plain loops, from docs/gating.md alone.

Independent of the C# code on purpose: nothing here was translated from it, and a mismatch is a finding about one of the two or about
the page. Uses the Python standard library only (seen with Python 3.11).

    python3 tools/golden/make_golden.py > testdata/gates/golden.json
"""
import json
import math
import random
import struct
import sys
from decimal import Decimal

from cases import CASES, SCANS, cross, stack


def single(x):
    """Rounds to IEEE single precision."""
    return struct.unpack("<f", struct.pack("<f", x))[0]


# ---------------------------------------------------------------- section 1 and 2: samples and conditioning
class Record:
    def __init__(self, case):
        s = case["stack"]
        self.fs = s["rate"]
        self.t0 = s["start"]
        self.counts = case["samples"]
        self.n = len(self.counts)
        scale = s["full_scale"]
        x = [single((c - s["zero"]) * (1.0 / scale)) for c in self.counts]
        cond = case["procedure"]["conditioning"]
        self.saturated = self._saturation(s, cond.get("saturation_samples", 2))
        rectified_stack = s["form"] == "rectified"
        if cond.get("remove_offset", True) and not rectified_stack:
            mean = sum(x) / self.n
            x = [v - mean for v in x]
        taps = cond.get("taps", 63)
        k_max = (taps - 1) // 2
        if "band" in cond:
            low, high = cond["band"]
            f = 0.5 * (low + high)
            b = 0.5 * (high - low)
            lp = []
            for k in range(-k_max, k_max + 1):
                u = 2 * b * k / self.fs
                sinc = 1.0 if k == 0 else math.sin(math.pi * u) / (math.pi * u)
                lp.append((0.54 + 0.46 * math.cos(math.pi * k / k_max)) * sinc)
            total = sum(lp)
            lp = [v / total for v in lp]
            real = [2 * lp[k + k_max] * math.cos(2 * math.pi * f * k / self.fs) for k in range(-k_max, k_max + 1)]
            turned = [2 * lp[k + k_max] * math.sin(2 * math.pi * f * k / self.fs) for k in range(-k_max, k_max + 1)]
            y = self._filter(x, real, k_max)
            self.period = 1 / f
        else:
            turned = []
            for k in range(-k_max, k_max + 1):
                w = 0.54 + 0.46 * math.cos(math.pi * k / k_max)
                turned.append(2 / (math.pi * k) * w if k % 2 else 0.0)
            y = x
            self.period = 1 / s["frequency"] if s["frequency"] else 0.0
        q = self._filter(x, turned, k_max)
        self.y = y
        self.env = list(y) if rectified_stack else [math.hypot(a, b) for a, b in zip(y, q)]
        self.kind = cond.get("signal", "rf")
        if rectified_stack:
            self.signal = y
        else:
            self.signal = {"rf": y, "rectified": [abs(v) for v in y], "envelope": self.env}[self.kind]
        self.signed = self.kind == "rf" and not rectified_stack
        order = sorted(abs(v) for v in y)
        h = self.n // 2
        median = order[h] if self.n % 2 else 0.5 * (order[h - 1] + order[h])
        self.noise = median / 0.674489750196082

    def _filter(self, x, taps, k_max):
        out = []
        for i in range(self.n):
            total = 0.0
            for k in range(-k_max, k_max + 1):
                if 0 <= i - k < self.n:
                    total += taps[k + k_max] * x[i - k]
            out.append(total)
        return out

    def _saturation(self, s, shortest):
        marks = [False] * self.n
        if shortest == 0:
            return marks
        for rail, upper in ((s["maximum"], True), (s["minimum"], False)):
            need = shortest
            limit = rail
            if rail is None:
                if min(self.counts) == max(self.counts):
                    continue
                limit = max(self.counts) if upper else min(self.counts)
                need = max(shortest, 3)
            if (upper and limit <= s["zero"]) or (not upper and limit >= s["zero"]):
                continue
            i = 0
            while i < self.n:
                j = i
                while j < self.n and (self.counts[j] >= limit if upper else self.counts[j] <= limit):
                    j += 1
                if j - i >= need:
                    for k in range(i, j):
                        marks[k] = True
                i = max(j, i + 1)
        return marks

    def time(self, position):
        return self.t0 + position / self.fs

    def index(self, seconds):
        return math.ceil((seconds - self.t0) * self.fs - 1e-9)


# ---------------------------------------------------------------- section 4 to 6: level, echo, pick
def amplitude(rec, i, sign):
    v = rec.signal[i]
    if not rec.signed:
        return v
    return abs(v) if sign == 0 else sign * v


def find_echoes(rec, first, end, sign, levels):
    over = [i for i in range(first, end) if amplitude(rec, i, sign) >= levels[i - first] and amplitude(rec, i, sign) > 0]
    groups = []
    for i in over:
        if groups and (i == groups[-1][-1] + 1 or i - groups[-1][-1] < rec.period * rec.fs - 1e-9):
            groups[-1].append(i)
        else:
            groups.append([i])
    echoes = []
    for g in groups:
        m = g[0]
        for i in g:
            if amplitude(rec, i, sign) > amplitude(rec, m, sign):
                m = i
        echoes.append({"first": g[0], "last": g[-1], "peak": m, "amplitude": amplitude(rec, m, sign)})
    return echoes


def parabola(left, centre, right):
    bend = left - 2 * centre + right
    if bend >= 0:
        return 0.0
    return max(-0.5, min(0.5, (left - right) / (2 * bend)))


def refine(values, m):
    if m == 0 or m == len(values) - 1:
        return float(m)
    return m + parabola(values[m - 1], values[m], values[m + 1])


def pick(rec, echo, rule, fraction, first, sign, levels, reference):
    m = echo["peak"]
    s = -1 if rec.signed and rec.signal[m] < 0 else 1
    u = [s * v for v in rec.signal]
    if rule == "flank":
        f = echo["first"]
        if fraction is None:
            if f == first:
                return float(f)
            g0 = amplitude(rec, f - 1, sign) - levels[f - 1 - first]
            g1 = amplitude(rec, f, sign) - levels[f - first]
            return f - 1 + g0 / (g0 - g1)
        target = fraction * echo["amplitude"]
        j = f
        if amplitude(rec, f, sign) >= target:
            while j - 1 >= first and amplitude(rec, j - 1, sign) >= target:
                j -= 1
        else:
            while amplitude(rec, j, sign) < target:
                j += 1
        if j == first:
            return float(j)
        a0, a1 = amplitude(rec, j - 1, sign), amplitude(rec, j, sign)
        return j - 1 + (target - a0) / (a1 - a0)
    if rule == "peak":
        return refine(u, m)
    if rule == "zero-crossing":
        for j in range(m + 1, rec.n):
            if u[j] <= 0:
                return j - 1 + u[j - 1] / (u[j - 1] - u[j])
        return None
    reach = rec.period * rec.fs + 1e-9
    if rule == "envelope-peak":
        span = [k for k in range(rec.n) if abs(k - m) <= reach] if rec.period > 0 else range(echo["first"], echo["last"] + 1)
        best = None
        for k in span:
            if best is None or rec.env[k] > rec.env[best]:
                best = k
        return refine(rec.env, best)
    if rule == "correlation":
        if reference is None:
            return None
        h, half, reference_sign = reference
        r = {}
        for j in range(rec.n):
            if abs(j - m) <= reach + 1:
                r[j] = sum(h[k + half] * rec.y[j + k] for k in range(-half, half + 1) if 0 <= j + k < rec.n)
        asked = sign * reference_sign
        best = None
        for j in sorted(r):
            if abs(j - m) <= reach:
                value = abs(r[j]) if asked == 0 else asked * r[j]
                if best is None or value > best[0]:
                    best = (value, j)
        j = best[1]
        turn = -1 if r[j] < 0 else 1
        if j == 0 or j == rec.n - 1:
            return float(j)
        return j + parabola(turn * r[j - 1], turn * r[j], turn * r[j + 1])
    raise ValueError(rule)


def choose(echoes, take):
    if take == "first":
        return echoes[0]
    if take == "last":
        return echoes[-1]
    best = echoes[0]
    for e in echoes:
        if e["amplitude"] > best["amplitude"]:
            best = e
    return best


def half_reference(rec):
    return math.ceil(1.5 * rec.period * rec.fs - 1e-9)


def pulse_reference(rec, case):
    half = half_reference(rec)
    bandwidth = case["stack"]["bandwidth"] or 0.6
    f = 1 / rec.period
    tau = math.sqrt(2 * math.log(2)) / (math.pi * bandwidth * f)
    h = [math.exp(-((k / rec.fs) ** 2) / (2 * tau**2)) * math.cos(2 * math.pi * f * k / rec.fs) for k in range(-half, half + 1)]
    return h, half, 1


def echo_reference(rec, m):
    half = half_reference(rec)
    h = [rec.y[m + k] if 0 <= m + k < rec.n else 0.0 for k in range(-half, half + 1)]
    return h, half, -1 if rec.y[m] < 0 else 1


def touched(rec, echo):
    return any(rec.saturated[echo["first"] : echo["last"] + 1])


def sign_of(rec, echo):
    if not rec.signed:
        return 0
    v = rec.signal[echo["peak"]]
    return (v > 0) - (v < 0)


def level_base(rec, rule, first, end, sign, followed):
    ratio, reference = rule
    if reference == "full scale":
        return ratio
    if reference == "strongest":
        return ratio * max([amplitude(rec, i, sign) for i in range(first, end)], default=0.0)
    if reference == "noise":
        return ratio * rec.noise
    return ratio * followed


# ---------------------------------------------------------------- sections 3, 7, 8
def interface(rec, case):
    s = case["procedure"]["interface"]
    first = rec.index(s["search_start"]) if "search_start" in s else 0
    end = rec.index(s["search_end"]) if "search_end" in s else rec.n
    first, end = max(0, min(first, rec.n)), max(0, min(end, rec.n))
    end = max(end, first)
    sign = {"either": 0, "positive": 1, "negative": -1}[s.get("polarity", "either")]
    level = single(level_base(rec, s["level"], first, end, sign, None))
    levels = [level] * (end - first)
    out = {"first_index": first, "end_index": end, "level": level, "found": False}
    echoes = find_echoes(rec, first, end, sign, levels)
    if not echoes:
        return out
    e = choose(echoes, s.get("take", "first"))
    rule = s.get("pick", "flank")
    reference = pulse_reference(rec, case) if rule == "correlation" else None
    p = pick(rec, e, rule, s.get("flank_fraction"), first, sign, levels, reference)
    if p is None:
        return out
    out.update(found=True, pick=rec.time(p), reported=rec.time(p) + s.get("offset", 0.0), amplitude=e["amplitude"],
               polarity=sign_of(rec, e), starts_over=e["first"] == first, saturated=touched(rec, e), peak=e["peak"])
    return out


def gates(rec, case, face):
    v = case["velocity"]
    done = {}
    result = []
    for g in case["procedure"]["gates"]:
        out = {"name": g["name"], "placed": False, "found": False}
        result.append(out)
        done[g["name"]] = out
        follows = g.get("follows", "interface")
        if follows == "pulse":
            t, f_amplitude, f_sign = 0.0, None, 0
        elif follows == "interface":
            if not face["found"]:
                continue
            t, f_amplitude, f_sign = face["reported"], face["amplitude"], face["polarity"]
        else:
            if not done[follows]["found"]:
                continue
            t, f_amplitude, f_sign = done[follows]["seconds"], done[follows]["amplitude"], done[follows]["polarity"]
        start = t + extent(g["start"], v)
        stop = start + extent(g["width"], v)
        first, end = rec.index(start), rec.index(stop)
        cut = end > rec.n
        first = max(0, min(first, rec.n))
        end = max(first, min(end, rec.n))
        polarity = g.get("polarity", "either")
        sign = {"either": 0, "positive": 1, "negative": -1, "opposite": -f_sign, "same": f_sign}[polarity]
        base = level_base(rec, g["level"], first, end, sign, f_amplitude)
        levels = []
        for i in range(first, end):
            depth = v * (rec.time(i) - t) / 2
            levels.append(single(base * 10 ** (change(g.get("level_by_depth", []), depth) / 20)))
        out.update(placed=True, start=start, end=stop, first_index=first, end_index=end, cut=cut)
        echoes = find_echoes(rec, first, end, sign, levels)
        if not echoes:
            continue
        e = choose(echoes, g["take"])
        reference = None
        if g["pick"] == "correlation" and face["found"]:
            reference = echo_reference(rec, face["peak"])
        p = pick(rec, e, g["pick"], g.get("flank_fraction"), first, sign, levels, reference)
        if p is None:
            continue
        seconds = rec.time(p)
        if g["pick"] == "correlation":
            seconds = face["reported"] + (p - face["peak"]) / rec.fs
        others = [o for o in echoes if o is not e]
        if g["take"] == "strongest":
            near = max([o["amplitude"] for o in others], default=0.0) / e["amplitude"]
        else:
            rest = range(first, e["first"]) if g["take"] == "first" else range(e["last"] + 1, end)
            near = max([amplitude(rec, i, sign) / levels[i - first] for i in rest if levels[i - first] > 0], default=0.0)
        starts_over = e["first"] == first
        out.update(found=True, seconds=seconds, amplitude=e["amplitude"], polarity=sign_of(rec, e), level=levels[0],
                   starts_over=starts_over, saturated=touched(rec, e), margin=max(0.0, min(1.0, 1 - near)),
                   ring_down=starts_over and (seconds - rec.time(first)) * rec.fs <= 1 + 1e-9)
    return result


def extent(value, velocity):
    kind, number = value
    return number if kind == "s" else 2 * number / velocity


def change(points, depth):
    if not points:
        return 0.0
    if depth <= points[0][0]:
        return points[0][1]
    for (d0, c0), (d1, c1) in zip(points, points[1:]):
        if depth <= d1:
            return c0 + (c1 - c0) * (depth - d0) / (d1 - d0)
    return points[-1][1]


def pairing(rec, case, face, outcomes):
    p = case["procedure"]["pairing"]
    v = case["velocity"]
    names = [g["name"] for g in case["procedure"]["gates"]]
    by = dict(zip(names, outcomes))
    first = p.get("first_wall", names[0])
    second = p.get("second_wall", names[1] if len(names) > 1 else None)
    agreement = p["rule"] == "agreement"
    frm = "interface" if agreement else p["from"]
    to = second if agreement else p["to"]
    used = [n for n in ((first, second) if agreement else (frm, to)) if n != "interface"]
    minimum = p.get("minimum_snr", 10.0)
    tolerance = p.get("agreement", 0.1e-3)
    notes = set()
    result = {"status": None, "thickness": None, "interface_wall": None, "wall_wall": None}
    loses = ("peak", "envelope-peak")
    rules = {g["name"]: g["pick"] for g in case["procedure"]["gates"]}
    rules["interface"] = case["procedure"]["interface"].get("pick", "flank")

    def snr(e):
        return 200.0 if rec.noise == 0 else min(200.0, 20 * math.log10(e["amplitude"] / rec.noise))

    def believable(e, name):
        return e["found"] and not e.get("ring_down", False) and snr(e) >= minimum and not (e["saturated"] and rules[name] in loses)

    a = b = None
    if first and believable(by[first], first):
        if believable(face, "interface"):
            a = v * (by[first]["seconds"] - face["reported"]) / 2
        if second and believable(by[second], second):
            b = v * (by[second]["seconds"] - by[first]["seconds"]) / 2
    result["interface_wall"], result["wall_wall"] = a, b

    def rides(name):
        while name not in ("interface", "pulse"):
            name = case["procedure"]["gates"][names.index(name)].get("follows", "interface")
        return name == "interface"

    if not face["found"] and (frm == "interface" or rides(to) or rides(frm)):
        result["status"] = "NoInterfaceEcho"
        return result, notes
    for n in used:
        if by[n].get("cut"):
            notes.add("GateCutByRecord")
        if by[n].get("ring_down"):
            notes.add("RingDownRejected")
    if any(not by[n]["found"] or by[n]["ring_down"] for n in used):
        result["status"] = "NoBackWallEcho"
        return result, notes
    involved = [(by[n], n) for n in used]
    if frm == "interface":
        involved.append((face, "interface"))
    for e, n in involved:
        if e["saturated"]:
            notes.add("InterfaceSaturated" if n == "interface" else "BackWallSaturated")
    if min(snr(e) for e, n in involved) < minimum:
        result["status"] = "LowSignalToNoise"
        return result, notes
    if any(e["saturated"] and rules[n] in loses for e, n in involved):
        result["status"] = "Saturated"
        return result, notes

    def order(name):
        if name == "interface":
            return 0
        if name == first:
            return 1
        if name == second:
            return 2
        f = case["procedure"]["gates"][names.index(name)].get("follows", "interface")
        return order(f) + 1 if f in names else 1

    if agreement:
        weights = [face["amplitude"] ** 2, by[first]["amplitude"] ** 2, by[second]["amplitude"] ** 2]
        times = [face["reported"], by[first]["seconds"], by[second]["seconds"]]
        total = sum(weights)
        k_mean = sum(w * k for k, w in enumerate(weights)) / total
        t_mean = sum(w * t for w, t in zip(weights, times)) / total
        slope = sum(w * (k - k_mean) * (t - t_mean) for k, (w, t) in enumerate(zip(weights, times)))
        slope /= sum(w * (k - k_mean) ** 2 for k, w in enumerate(weights))
        wall = v * slope / 2
    else:
        t_from = face["reported"] if frm == "interface" else by[frm]["seconds"]
        wall = v * (by[to]["seconds"] - t_from) / 2 / (order(to) - order(frm))
    chain = ([("interface", face)] if frm == "interface" else []) + [(n, by[n]) for n in used]
    signs = [(-e["polarity"] if n == "interface" else e["polarity"]) for n, e in chain if not e["saturated"]]
    if 0 not in signs and len(set(signs)) > 1:
        notes.add("PolarityUnexpected")
    if face["found"]:
        for n in used:
            if any(abs(by[n]["seconds"] - k * face["reported"]) < rec.period for k in (2, 3)):
                notes.add("CouplantMultipleNear")
    if frm != "interface":
        notes.add("WithoutInterface")
    agree = a is not None and b is not None and abs(a - b) <= tolerance
    if frm == "interface" and not agreement and not agree:
        notes.add("SingleEcho")
    status = "Measured"
    if a is not None and b is not None:
        small, large = min(a, b), max(a, b)
        named = True
        if large - small <= tolerance:
            named = False
            e1, e2 = by[first], by[second]
            near = any(abs(e2["seconds"] - k * face["reported"]) < rec.period for k in (2, 3))
            if not e1["saturated"] and e2["amplitude"] > math.sqrt(2) * e1["amplitude"] and not near:
                notes.add("HalvedWallRejected")
                status = "AmbiguousPairing"
        else:
            ratio = 0.5 * (1 + 5920.0 / 3230.0)
            if abs(large - 2 * small) <= tolerance:
                notes.add("DoubledWallRejected")
            elif abs(large - ratio * small) <= tolerance:
                notes.add("ModeConvertedEcho")
            else:
                named = False
                if a > b:
                    notes.add("CoatingSuspected")
            if agreement or (named and abs(wall - large) <= abs(wall - small)):
                status = "AmbiguousPairing"
    w = case["procedure"].get("wall", {})
    if status == "Measured" and not w.get("minimum", 1.2e-3) <= wall <= w.get("maximum", 15e-3):
        status = "OutsideRange"
    result["status"] = status
    if status == "Measured":
        result["thickness"] = wall
    return result, notes


# ---------------------------------------------------------------- the file
def level_text(rule):
    ratio, ref = rule
    if ref == "full scale":
        return f"{ratio * 100:.12g} % of full scale"
    if ref == "noise":
        return f"{ratio:.12g} x noise"
    return f"{20 * math.log10(ratio):.15g} dB of {ref}"


def to_toml(p):
    lines = []

    def quantity(v, unit, factor):
        # Moves the decimal point of the shortest text of the value; the reader moves it back, so both sides hold the same double.
        text = format(Decimal(repr(v)).scaleb(-int(round(math.log10(factor)))), "f")
        return f'"{text} {unit}"'

    def level(rule):
        return f'"{level_text(rule)}"'

    def span(value):
        return quantity(value[1], "us", 1e-6) if value[0] == "s" else quantity(value[1], "mm", 1e-3)

    c = p["conditioning"]
    lines.append("[conditioning]")
    for key in ("remove_offset",):
        if key in c:
            lines.append(f"{key} = {'true' if c[key] else 'false'}")
    for key in ("taps", "saturation_samples"):
        if key in c:
            lines.append(f"{key} = {c[key]}")
    if "signal" in c:
        lines.append(f'signal = "{c["signal"]}"')
    if "band" in c:
        lines.append(f"band_low = {quantity(c['band'][0], 'MHz', 1e6)}")
        lines.append(f"band_high = {quantity(c['band'][1], 'MHz', 1e6)}")
    i = p["interface"]
    lines.append("[interface]")
    for key in ("search_start", "search_end", "offset"):
        if key in i:
            lines.append(f"{key} = {quantity(i[key], 'us', 1e-6)}")
    lines.append(f"level = {level(i['level'])}")
    for key in ("take", "pick", "polarity"):
        if key in i:
            lines.append(f'{key} = "{i[key]}"')
    if "flank_fraction" in i:
        lines.append(f'flank_fraction = "{i["flank_fraction"] * 100:.12g} %"')
    for g in p["gates"]:
        lines.append("[[gate]]")
        lines.append(f'name = "{g["name"]}"')
        if "follows" in g:
            lines.append(f'follows = "{g["follows"]}"')
        lines.append(f"start = {span(g['start'])}")
        lines.append(f"width = {span(g['width'])}")
        lines.append(f"level = {level(g['level'])}")
        for key in ("take", "pick", "polarity"):
            if key in g:
                lines.append(f'{key} = "{g[key]}"')
        if "flank_fraction" in g:
            lines.append(f'flank_fraction = "{g["flank_fraction"] * 100:.12g} %"')
        for depth, db in g.get("level_by_depth", []):
            lines.append("[[gate.level_by_depth]]")
            lines.append(f"depth = {quantity(depth, 'mm', 1e-3)}")
            lines.append(f'change = "{db:.12g} dB"')
    w = p.get("wall", {})
    if w:
        lines.append("[wall]")
        for key, v in w.items():
            lines.append(f"{key} = {quantity(v, 'mm', 1e-3)}")
    q = p["pairing"]
    lines.append("[pairing]")
    for key in ("rule", "from", "to", "first_wall", "second_wall"):
        if key in q:
            lines.append(f'{key} = "{q[key]}"')
    if "agreement" in q:
        lines.append(f"agreement = {quantity(q['agreement'], 'mm', 1e-3)}")
    if "minimum_snr" in q:
        lines.append(f'minimum_snr = "{q["minimum_snr"]:.12g} dB"')
    return "\n".join(lines) + "\n"


def main():
    out = []
    for case in CASES:
        rec = Record(case)
        face = interface(rec, case)
        outcomes = gates(rec, case, face)
        result, notes = pairing(rec, case, face, outcomes)
        filtered = "band" in case["procedure"]["conditioning"] or case["procedure"]["conditioning"].get("remove_offset", True)
        needs_envelope = case["procedure"]["conditioning"].get("signal") == "envelope" or "envelope-peak" in json.dumps(case["procedure"])
        correlates = "correlation" in json.dumps(case["procedure"])
        out.append({
            "name": case["name"],
            "about": case["about"],
            "exact": not (filtered or needs_envelope or correlates),
            "stack": case["stack"],
            "velocity": case["velocity"],
            "samples": case["samples"],
            "procedure": to_toml(case["procedure"]),
            "noise": rec.noise,
            "interface": {k: v for k, v in face.items() if k != "peak"},
            "gates": outcomes,
            "result": result,
            "notes": sorted(notes),
        })
    combined = []
    template = None
    for take, rule, polarity, reference, case in cross():
        rec = Record(case)
        face = interface(rec, case)
        outcomes = gates(rec, case, face)
        result, notes = pairing(rec, case, face, outcomes)
        text = to_toml(case["procedure"])
        words = {"take": take, "pick": rule, "polarity": polarity, "level": level_text(reference)}
        if template is None:
            template = text
            head, tail = template.split("[[gate]]", 1)
            for key, word in words.items():
                tail = tail.replace(f'{key} = "{word}"', f'{key} = "<{key}>"')
            template = head + "[[gate]]" + tail
        filled = template
        for key, word in words.items():
            filled = filled.replace(f"<{key}>", word)
        assert filled == text, (filled, text)
        combined.append([case["scan"], words["level"], take, rule, polarity]
                        + [g["seconds"] if g["found"] else None for g in outcomes]
                        + [g["amplitude"] if g["found"] else None for g in outcomes]
                        + [result["status"], "+".join(sorted(notes))])
    out_text = "{" + f'"about": {json.dumps(ABOUT)},\n"cases": [\n'
    out_text += ",\n".join(json.dumps(c, separators=(",", ":")) for c in out)
    out_text += '\n],\n"cross_columns": ' + json.dumps(CROSS_COLUMNS)
    out_text += ',\n"cross_template": ' + json.dumps(template)
    out_text += ',\n"cross_stack": ' + json.dumps(stack()) + ',\n"cross_velocity": 5920.0'
    out_text += ',\n"cross_scans": ' + json.dumps(SCANS, separators=(",", ":"))
    out_text += ',\n"cross": [\n' + ",\n".join(json.dumps(c, separators=(",", ":")) for c in combined) + "\n]}\n"
    sys.stdout.write(out_text)


ABOUT = "Gate decisions worked out by tools/golden/make_golden.py from docs/gating.md; see README.md beside this file."
CROSS_COLUMNS = ["scan", "level", "take", "pick", "polarity", "first gate, s", "second gate, s",
                 "first amplitude", "second amplitude", "status", "notes"]


if __name__ == "__main__":
    main()
