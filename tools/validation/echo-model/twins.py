"""Twins of the full-wave reference stacks by the echo model, measured by the same frozen procedures.

    dotnet build -c Release && python3 tools/validation/echo-model/twins.py [--keep FOLDER] [--seed 11] [--stacks C4 C5]

Needs numpy, scipy and h5py. Every position keeps its geometry, pulse, noise level and truth; only the samples are the echo model's. Each pair of rows of the
table has full wave and twin. C0 is an exact one-dimensional solution and has its own tests.

Noise has the stated rms and the spectrum seen in front of the interface echo (the stacks' receiver has a band; --white for the other assumption).
What is not the same: scatter of grain is left out; the profiles of rough walls are drawn anew from their law, but go through the wall on every beam axis and the
mean under every aperture that the stack's truth gives; the width of a lamination is taken as a share of the aperture; paint as in compare_fullwave.py. One gain for all
plane-strain stacks, taken from C1; one a stack in 3-D; one a position in C7A (filtered) and C7D (no interface in the record).
"""

import argparse
import json
import os
import shutil
import subprocess
import tempfile

import h5py
import numpy as np

import compare_fullwave as fullwave

ROOT = os.path.join(fullwave.HERE, "..", "..", "..")
ETT = ["dotnet", os.path.join(ROOT, "src/EchoToThickness.Cli/bin/Release/net10.0/ett.dll")]
ALL = ["C1", "C1CLIP", "C1E", "C2", "C3", "C4", "C5", "C6", "C7A", "C7B", "C7C", "C7D"]
CLIP_GAIN = 10 ** (16 / 20)


class RoughWalls:
    """Gaussian profiles, correlation exp(-x²/l²), conditioned on the truth of a position (kriging of an unconditional draw)."""

    def __init__(self, seed, spacing=0.1e-3, count=192, margin=12e-3):
        self.seed, self.spacing, self.count, self.margin = seed, spacing, count, margin
        self.profiles = {}
        self.worst_minimum = []

    def profile(self, stack, p):
        if p in self.profiles:
            return self.profiles[p]
        config = stack["config"][p]
        rms, length = 1e-3 * config["rms"], 1e-3 * config["corr"]
        x0 = 1e-3 * stack["index_mm"]
        x = np.arange(x0[0] - self.margin, x0[-1] + self.margin, self.spacing)
        covariance = rms**2 * np.exp(-(((x[:, None] - x[None, :]) / length) ** 2))
        values, vectors = np.linalg.eigh(covariance)
        rng = np.random.default_rng([self.seed, p])
        free = vectors @ (np.sqrt(np.maximum(values, 0)) * rng.standard_normal(len(x)))
        half = 0.5e-3 * stack["n_elements"][p][:, None]
        on_axis = np.maximum(0, 1 - np.abs(x[None, :] - x0[:, None]) / self.spacing)
        under = (np.abs(x[None, :] - x0[:, None]) <= half + 1e-9).astype(float)
        rows = np.vstack([on_axis, under / under.sum(1, keepdims=True)])
        known = 1e-3 * (np.concatenate([stack["truth_thickness_mm"][p], stack["truth_mean_thickness_mm"][p]]) - config["d"])
        spread = np.concatenate([np.full(len(x0), 2e-6), np.full(len(x0), 6e-6)])  # rounding of axis and of the mean's edges
        gain = covariance @ rows.T @ np.linalg.inv(rows @ covariance @ rows.T + np.diag(spread**2))
        h = free + gain @ (known - rows @ free)
        h += 1e-3 * config["d"]
        self.worst_minimum.append(np.median(np.abs([1e3 * h[u > 0].min() for u in under] - stack["truth_min_thickness_mm"][p])))
        self.profiles[p] = (x, h, under > 0)
        return self.profiles[p]

    def patch(self, stack, p, b):
        x, h, _ = self.profile(stack, p)
        at = 1e-3 * stack["index_mm"][b] + (np.arange(self.count) - (self.count - 1) / 2) * self.spacing
        return np.interp(at, x, h).astype(np.float32).tolist(), 1, self.count, self.spacing


def receiver_noise(names):
    """Amplitude against frequency of the noise in front of the interface echo, median over the stacks; rms 1. Shape [length / 2 + 1]."""
    length = 64
    window = np.hanning(length)
    powers = []
    for name in names:
        stack = fullwave.load(name + "_dev")
        for p, row in enumerate(stack["ascans"]):
            for b, record in enumerate(row):
                end = int((2e-3 * stack["truth_gap_mm"][p, b] / fullwave.CW - stack["t0"] - 0.9e-6) * fullwave.RATE)
                for start in range(0, end - length + 1, length // 2):
                    piece = record[start : start + length] / stack["noise_rms_counts"][p, b]
                    powers.append(np.abs(np.fft.rfft(piece * window)) ** 2)
    weight = np.full(window.size // 2 + 1, 2.0)
    weight[[0, -1]] = 1
    # The median of an exponential law is ln 2 times its mean; it is blind to the few pieces that hold the first swing of an echo.
    mean = np.median(powers, axis=0) / np.log(2) / (window**2).sum()
    mean[[0, -1]] *= np.log(2) / 0.4549  # real bins: median of chi-square with one degree of freedom
    total = (weight * mean).sum() / length  # 1 where the stated rms is that of the record
    return np.sqrt(mean / total), len(powers), np.sqrt(total)


def draw_noise(rng, length, shape):
    """Gaussian noise of rms 1 with that spectrum."""
    n = 2 * length
    response = np.interp(np.fft.rfftfreq(n), np.linspace(0, 0.5, len(shape)), shape)
    full = np.concatenate([response, response[-2:0:-1]])
    response /= np.sqrt((full**2).mean())
    return np.fft.irfft(np.fft.rfft(rng.standard_normal(n)) * response, n)[:length]


def compute(cases, program):
    with tempfile.TemporaryDirectory() as folder:
        path, out = os.path.join(folder, "cases.jsonl"), os.path.join(folder, "out.f32")
        with open(path, "w") as f:
            f.writelines(json.dumps(case) + "\n" for _, case, _, _ in cases)
        subprocess.run(program + [path, out], check=True)
        samples = np.fromfile(out, np.float32).astype(float)
    ends = np.cumsum([case["Samples"] for _, case, _, _ in cases])
    return np.split(samples, ends[:-1])


def front_gain(cases, models):
    """Counts of the recorded interface over that of the model, median."""
    ratios = []
    for (_, case, record, facts), model in zip(cases, models):
        t = case["Start"] + np.arange(len(record)) / fullwave.RATE
        window = np.abs(t - 2 * facts["gap"] / fullwave.CW) < 0.4e-6
        ratios.append(np.abs(record[window]).max() / np.abs(model[window]).max())
    return float(np.median(ratios))


def write(folder, name, cases, models, gain, walls, seed, shape):
    source = os.path.join(fullwave.DATA, name + "_dev.h5")
    path = os.path.join(folder, name + "_twin.h5")
    shutil.copyfile(source, path)
    os.chmod(path, 0o644)
    with h5py.File(path, "r+") as f:
        data = f["ascans"][()]
        for (_, case, record, facts), model in zip(cases, models):
            p, b = facts["position"], facts["beam"]
            scale = gain(p, record, model)
            rng = np.random.default_rng([seed, ALL.index(name), p, b])
            noise = float(f["noise_rms_counts"][p, b]) * draw_noise(rng, len(model), shape)
            data[p, b] = np.clip(np.rint(scale * model + noise), -32768, 32767)
            if name == "C4":
                _, h, under = walls.profile(walls.stack, p)
                f["truth_min_thickness_mm"][p, b] = 1e3 * h[under[b]].min()
                f["truth_mean_thickness_mm"][p, b] = 1e3 * h[under[b]].mean()
        f["ascans"][...] = data
    return source, path


def score(path, name, folder):
    layout = os.path.join(ROOT, "testdata/layouts/fullwave.toml")
    five = name in ("C2", "C3")
    procedure = os.path.join(ROOT, "testdata/procedures", "fullwave-5MHz.toml" if five else "fullwave.toml")
    grid = os.path.join(folder, "grid.h5")
    subprocess.run(ETT + ["measure", path, "--layout", layout, "--procedure", procedure, "-o", grid, "-q"], check=True)
    row = subprocess.run(
        ETT + ["score", grid, path, "--layout", layout, "--no-heading"], check=True, capture_output=True, text=True
    ).stdout
    return [c.strip() for c in row.strip().strip("|").split("|")]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--program", default="dotnet run -c Release --project %s --" % fullwave.HERE)
    parser.add_argument("--keep", help="folder for the twins")
    parser.add_argument("--seed", type=int, default=11)
    parser.add_argument("--white", action="store_true", help="white noise instead of the spectrum seen in front of the interface")
    parser.add_argument("--stacks", nargs="+", default=ALL, choices=ALL)
    options = parser.parse_args()
    program = options.program.split()
    walls = RoughWalls(options.seed)
    walls.stack = fullwave.load("C4_dev")
    with tempfile.TemporaryDirectory() as scratch:
        folder = options.keep or scratch
        os.makedirs(folder, exist_ok=True)
        noise_of = {}
        for family, names in (("plane", ["C1", "C4", "C5", "C7B"]), ("three", ["C2", "C3"])):
            noise_of[family], count, rms = receiver_noise(names)
            if options.white:
                noise_of[family] = np.ones_like(noise_of[family])
            print("noise, %s: %d pieces, rms %.3f of the stated one" % (family, count, rms))
        plain = list(fullwave.cases(["C1_dev"]))
        plane_gain = front_gain(plain, compute(plain, program))
        print("| stack | samples of | n | missing | gross (thick, thin) | cycle | bias | SD | RMSE | P95 | RMSE sound |")
        print("|---|---|---|---|---|---|---|---|---|---|---|")
        for name in options.stacks:
            cases = list(fullwave.cases([name + "_dev"], walls.patch))
            models = compute(cases, program)
            if name in ("C2", "C3"):
                stack_gain = front_gain(cases, models)
                gain = lambda p, r, m: stack_gain
            elif name in ("C7A", "C7D"):
                gain = lambda p, r, m: np.abs(r).max() / np.abs(m).max()
            else:
                gain = lambda p, r, m: plane_gain * (CLIP_GAIN if name == "C1CLIP" else 1)
            shape = noise_of["three" if name in ("C2", "C3") else "plane"]
            pair = write(folder, name, cases, models, gain, walls, options.seed, shape)
            for path, who in zip(pair, ("full wave", "twin")):
                _, n, miss, gross, thick, thin, cycle, bias, rmse, p95, sound = score(path, name, folder)
                sd = np.sqrt(max(0.0, float(rmse) ** 2 - float(bias) ** 2)) if rmse not in ("-", "") else float("nan")
                print("| %s | %s | %s | %s | %s (%s, %s) | %s | %s | %.4f | %s | %s | %s |" % (
                    name, who, n, miss, gross, thick, thin, cycle, bias, sd, rmse, p95, sound), flush=True)
    if walls.worst_minimum:
        print("\nC4: smallest wall under the aperture, drawn less true, median per profile, um: "
              + ", ".join("%.0f" % (1e3 * v) for v in walls.worst_minimum))


if __name__ == "__main__":
    main()
