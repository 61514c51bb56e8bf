#!/usr/bin/env python3
"""Writes testdata/dsp/analytic.json: complex FIR taps and their output, computed with NumPy in double precision.

   python3 make_dsp_vectors.py OUT.json

The formula of the taps is the one of the README beside the file; nothing of EchoToThickness takes part."""
import json, sys
import numpy as np

FS, LO, HI, TAPS = 100e6, 3e6, 12e6, 63
n = np.arange(TAPS) - TAPS // 2
fc = 0.5 * (HI - LO) / FS
low = 2 * fc * np.sinc(2 * fc * n) * np.hamming(TAPS)
low /= low.sum()
g = 2 * low * np.exp(1j * np.pi * (LO + HI) / FS * n)

t = np.arange(150)
x = (np.exp(-((t - 40.3) / 9.0) ** 2) * np.cos(2 * np.pi * 0.075 * (t - 40.3))
     - 0.5 * np.exp(-((t - 96.7) / 9.0) ** 2) * np.cos(2 * np.pi * 0.075 * (t - 96.7)))
x = np.round(x, 7)
y = np.convolve(x, g, "same")
f = [-12e6, -7.5e6, 0, 3e6, 7.5e6, 12e6, 20e6]
H = [np.sum(g * np.exp(-2j * np.pi * q / FS * np.arange(TAPS))) for q in f]
rng = np.random.RandomState(5)
m16, m15 = np.round(rng.normal(size=16), 6), np.round(rng.normal(size=15), 6)
mad = lambda v: float(np.median(np.abs(v - np.median(v))))
L = lambda v: [float(q) for q in v]
json.dump(dict(provenance=f"computed with NumPy {np.__version__}", sample_rate_hz=FS, low_hz=LO, high_hz=HI, taps=TAPS,
               re=L(g.real), im=L(g.imag), x=L(x), y_re=L(y.real), y_im=L(y.imag),
               f_hz=f, h_re=L(np.real(H)), h_im=L(np.imag(H)),
               m16=L(m16), m15=L(m15), median16=float(np.median(m16)), median15=float(np.median(m15)), mad16=mad(m16), mad15=mad(m15)),
          open(sys.argv[1], "w"), indent=0)
