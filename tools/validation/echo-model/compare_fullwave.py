"""Echo model against the full-wave reference stacks in testdata/fullwave: same geometries, pulse taken from a flat interface echo.

    python3 tools/validation/echo-model/compare_fullwave.py [--program "dotnet run -c Release --project tools/validation/echo-model --"]

Needs numpy, scipy and h5py. Prints a table: correlation of envelopes between interface and end of the second back wall, first and second back wall over
interface in dB against the full wave (model minus full wave), and the time of the strongest echo in the window of the first back wall.
"""

import argparse
import json
import os
import subprocess
import tempfile

import h5py
import numpy as np
from scipy.signal import hilbert

CW, CS, RATE = 1480.0, 5920.0, 100e6
HERE = os.path.dirname(os.path.abspath(__file__))
DATA = os.path.join(HERE, "..", "..", "..", "testdata", "fullwave")


def load(name):
    with h5py.File(os.path.join(DATA, name + ".h5")) as f:
        a = f["ascans"]
        out = {k: f[k][()] for k in f}
        out["t0"] = float(a.attrs["t0_s"])
        out["config"] = json.loads(a.attrs["position_config"])
        out["pulse"] = json.loads(a.attrs["pulse"])
    return out


def pulse_of(stack, position, beam, after=0.9e-6):
    """Interface echo, cut out and moved so that its theoretical time falls on a sample; peak-normalised."""
    x = stack["ascans"][position, beam].astype(float)
    t = stack["t0"] + np.arange(len(x)) / RATE
    ti = 2e-3 * stack["truth_gap_mm"][position, beam] / CW
    before = 0.7e-6
    window = np.clip(np.minimum((t - ti + before) / 0.1e-6, (ti + after - t) / 0.1e-6), 0, 1)
    spectrum = np.fft.rfft(x * window, 4096)
    f = np.fft.rfftfreq(4096, 1 / RATE)
    centre = 100
    spectrum *= np.exp(2j * np.pi * f * ((ti - stack["t0"]) - centre / RATE))
    y = np.fft.irfft(spectrum, 4096)[: 100 + int((after + 0.1e-6) * RATE)]
    return (y / np.abs(y).max()).astype(np.float32).tolist(), centre


def narrow(pulse, bandwidth, f0=7e6, full=0.6):
    """The pulse filtered from 60 % of bandwidth to less; both spectra Gaussian, bandwidths at -6 dB."""
    if bandwidth >= full:
        return pulse
    y, n = np.array(pulse[0]), 1024
    f = np.fft.rfftfreq(n, 1 / RATE)
    deviation = lambda b: b * f0 / (2 * np.sqrt(2 * np.log(2)))
    response = np.exp(-0.5 * (f - f0) ** 2 * (deviation(bandwidth) ** -2 - deviation(full) ** -2))
    wide = np.zeros(n)
    wide[100 : 100 + len(y)] = y
    y = np.fft.irfft(np.fft.rfft(wide) * response, n)[: 300 + len(y)]
    return (y / np.abs(y).max()).astype(np.float32).tolist(), pulse[1] + 100


def profile_2d(f, x0, spacing=0.1e-3, count=192):
    x = (np.arange(count) - (count - 1) / 2) * spacing + x0
    return f(x).astype(np.float32).tolist(), 1, count, spacing


def profile_3d(f, x0, spacing=0.15e-3, count=112):
    u = (np.arange(count) - (count - 1) / 2) * spacing
    return f(np.hypot(u[:, None], u[None, :] + x0)).astype(np.float32).ravel().tolist(), count, count, spacing


def rough(rng, rms, corr, d, spacing=0.1e-3, count=192):
    """Gaussian random profile with correlation exp(-x²/corr²); many times as long as the patch, cut at random."""
    n = 4096
    k = 2 * np.pi * np.fft.fftfreq(n, spacing)
    h = np.fft.ifft(np.fft.fft(rng.standard_normal(n)) * np.exp(-((k * corr) ** 2) / 8)).real
    h *= rms / h.std()
    s = rng.integers(0, n - count)
    return (d + h[s : s + count]).astype(np.float32).tolist(), 1, count, spacing


STACKS = ["C1_dev", "C1E_dev", "C2_dev", "C3_dev", "C4_dev", "C5_dev", "C6_dev", "C7B_dev", "C7C_dev"]


def cases(names=STACKS, rough_patch=None):
    """Group, case, record and facts of every A-scan of the stacks; rough_patch(stack, position, beam) replaces the drawing of rough walls."""
    c1, c2, c3 = load("C1_dev"), load("C2_dev"), load("C3_dev")
    pulses = {"minimum-phase": pulse_of(c1, 0, 2), "zero-phase": pulse_of(c1, 1, 1)}
    rng = np.random.default_rng(3)
    for name in names:
        s = {"C1_dev": c1, "C2_dev": c2, "C3_dev": c3}.get(name) or load(name)
        for p, config in enumerate(s["config"]):
            for b in range(s["ascans"].shape[1]):
                gap = 1e-3 * s["truth_gap_mm"][p, b]
                wall = 1e-3 * s["truth_thickness_mm"][p, b]
                three = name in ("C2_dev", "C3_dev")
                if three:
                    reference = 0 if name == "C2_dev" else 0
                    pulse = pulse_of(s, p, reference, 1.0e-6)
                else:
                    pulse = narrow(pulses[s["pulse"][p]], float(s["bandwidth_fraction"][p, b]))
                case = dict(
                    Pulse=pulse[0], PulseCentre=pulse[1], PulseRate=RATE,
                    Aperture=1e-3 * float(s["n_elements"][p, b]), Elevation=4e-3 if three else None,
                    Couplant=gap, Wall=wall, Start=s["t0"], Rate=RATE, Samples=int(s["ascans"].shape[2]),
                    Face=float(s["array_face_R"][p, b]) if "array_face_R" in s else 0.0,
                )
                kind = config["kind"]
                group = kind
                x0 = 1e-3 * float(s["index_mm"][b])
                patch = None
                if kind == "edge":
                    d, d2 = 1e-3 * config["d"], 1e-3 * config["d2"]
                    patch = profile_2d(lambda x: np.where(x < 0, d, d2), x0)
                elif kind == "fbh":
                    w, r, rem = 1e-3 * config["wall"], 0.5e-3 * config["dia"], 1e-3 * config["rem"]
                    patch = profile_3d(lambda q: np.where(q <= r, rem, w), x0)
                    group = "fbh %g mm" % config["dia"]
                elif kind == "pit":
                    w, r = 1e-3 * config["wall"], 0.5e-3 * config["dia"]
                    depth = w - 1e-3 * config["rem"]
                    patch = profile_3d(lambda q: w - depth * np.sqrt(np.maximum(0, 1 - (q / r) ** 2)), x0)
                    group = "pit %g mm" % config["dia"]
                elif kind == "rough":
                    if rough_patch:
                        patch = rough_patch(s, p, b)
                    else:
                        patch = rough(rng, 1e-3 * config["rms"], 1e-3 * config["corr"], 1e-3 * config["d"])
                        case["Wall"] = 1e-3 * config["d"]
                    group = "rough %g/%g" % (config["rms"], config["corr"])
                elif kind == "curved":
                    case["Radius"] = 1e-3 * config["R"]
                    case["Conformal"] = config["coup"] == "conform"
                    group = "curved " + config["coup"]
                elif kind == "paint":
                    case["Paint"] = 1e-3 * config["paint"]
                    group = "paint %g" % config["paint"]
                elif kind == "tilt":
                    case["Tilt"] = np.radians(config["tilt"])
                    group = "tilt %g" % config["tilt"]
                elif kind == "pocket":
                    case["Coupled"] = 1 - config["cov"]
                elif kind == "lam":
                    half = 0.5 * config["wl"]
                    x, a = 2.0 * b, 0.5 * s["n_elements"][p, b]
                    cover = max(0.0, min(half, x + a) - max(-half, x - a)) / (2 * a)
                    case["LaminationDepth"] = 1e-3 * config["zl"]
                    case["LaminationCover"] = float(cover)
                    group = "lamination %g mm" % config["wl"]
                if patch:
                    case.update(Patch=patch[0], PatchAlong=patch[1], PatchAround=patch[2], Spacing=patch[3])
                yield group, case, s["ascans"][p, b].astype(float), dict(
                    name=name, position=p, beam=b, kind=kind, gap=gap, wall=wall, least=1e-3 * float(s["truth_min_thickness_mm"][p, b]),
                    paint=case.get("Paint", 0.0), lam=case.get("LaminationDepth", 0.0) if case.get("LaminationCover") else 0.0,
                )


def peak(envelope, t, first, last):
    inside = (t >= first) & (t <= last)
    if not inside.any():
        return np.nan, np.nan
    i = np.argmax(np.where(inside, envelope, 0))
    return envelope[i], t[i]


def score(record, model, case, facts):
    t = case["Start"] + np.arange(len(record)) / RATE
    ti = 2 * facts["gap"] / CW
    front = ti + 2 * facts["paint"] / 2500
    trip = 2 * facts["wall"] / CS
    ea, eb = np.abs(hilbert(record)), np.abs(hilbert(model))
    ia, _ = peak(ea, t, ti - 0.4e-6, ti + 0.4e-6)
    ib, _ = peak(eb, t, ti - 0.4e-6, ti + 0.4e-6)
    depth = min(facts["wall"], facts["least"])
    first = front + 2 * depth / CS - 0.25e-6
    last = front + trip + 0.45e-6
    window = (t > max(first, ti + 0.55e-6)) & (t < front + 2 * trip + 0.6e-6)
    correlation = np.dot(ea[window], eb[window]) / np.sqrt(np.dot(ea[window], ea[window]) * np.dot(eb[window], eb[window]))
    b1a, ta = peak(ea, t, first, last)
    b1b, tb = peak(eb, t, first, last)
    b2a, _ = peak(ea, t, front + 2 * trip - 0.3e-6, front + 2 * trip + 0.4e-6)
    b2b, _ = peak(eb, t, front + 2 * trip - 0.3e-6, front + 2 * trip + 0.4e-6)
    dB = lambda u, v: 20 * np.log10(u / v)
    return correlation, dB(b1b / ib, b1a / ia), dB(b2b / ib, b2a / ia), 1e9 * (tb - ta), dB(b1a, ia), dB(b1b, ib), dB(ib, ia), dB(b2a, ia), dB(b2b, ib)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--program", default="dotnet run -c Release --project %s --" % HERE)
    program = parser.parse_args().program.split()
    everything = list(cases())
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "cases.jsonl")
        with open(path, "w") as f:
            for _, case, _, _ in everything:
                f.write(json.dumps(case) + "\n")
        subprocess.run(program + [path, os.path.join(folder, "out.f32")], check=True)
        out = np.fromfile(os.path.join(folder, "out.f32"), np.float32)
    groups, at = {}, 0
    for group, case, record, facts in everything:
        model = out[at : at + case["Samples"]].astype(float)
        at += case["Samples"]
        groups.setdefault(group, []).append(score(record, model, case, facts))
    print("| case | n | envelope correlation, median | 10 % | BW1/IF full wave dB | model - full wave dB | SD | BW2/IF model - full wave dB | BW1 time ns, median | SD of it |")
    print("|---|---|---|---|---|---|---|---|---|---|")
    for group, rows in groups.items():
        r = np.array(rows)
        if group.startswith("rough"):
            # Other profiles than those of the stack: distributions are compared, not cells.
            print("| %s | %d | - | - | %.1f (SD %.1f) | %+.1f (model SD %.1f) | - | %+.1f | - | - |" % (
                group, len(r), r[:, 4].mean(), r[:, 4].std(), r[:, 5].mean() - r[:, 4].mean(), r[:, 5].std(),
                np.nanmean(r[:, 8]) - np.nanmean(r[:, 7])))
            continue
        print("| %s | %d | %.3f | %.3f | %.1f | %+.2f | %.2f | %+.2f | %+.0f | %.0f |" % (
            group, len(r), np.median(r[:, 0]), np.quantile(r[:, 0], 0.1), np.median(r[:, 4]), np.median(r[:, 1]), r[:, 1].std(),
            np.nanmedian(r[:, 2]), np.median(r[:, 3]), r[:, 3].std()))


if __name__ == "__main__":
    main()
