"""Writes testdata/dsp/spectral.json: Fourier transform, analytic signal, Wiener deconvolution, cepstrum, autoregressive models.

Python with NumPy and SciPy only (versions are written into the file). Shares no code with the library: Burg's reflection coefficients are solved
as least-squares problems by numpy.linalg.lstsq, Yule-Walker by scipy.linalg.solve_toeplitz.
"""

import json
import pathlib

import numpy as np
import scipy
from scipy.linalg import solve_toeplitz
from scipy.signal import correlate, hilbert

FS, FC = 100e6, 7e6
SIGMA = np.sqrt(2 * np.log(2)) / (np.pi * 0.6 * FC)


def pulse(t):
    return np.exp(-0.5 * (t / SIGMA) ** 2) * np.cos(2 * np.pi * FC * t)


def burg(x, order):
    """Burg: each k minimises |f + k b|^2 + |b + conj(k) f|^2; a real least-squares problem in (Re k, Im k)."""
    x = np.asarray(x, complex)
    f, b = x[1:].copy(), x[:-1].copy()
    a = np.array([], complex)
    power = np.mean(np.abs(x) ** 2)
    for _ in range(order):
        # f + k b and conj(b) + k conj(f): both linear in k.
        left = np.concatenate([b, np.conj(f)])
        right = -np.concatenate([f, np.conj(b)])
        k = np.linalg.lstsq(left[:, None], right, rcond=None)[0][0]
        a = np.concatenate([a + k * np.conj(a[::-1]), [k]])
        f, b = (f + k * b)[1:], (b + np.conj(k) * f)[:-1]
        power *= 1 - abs(k) ** 2
    return a, power


def split(z):
    return {"re": np.real(z).tolist(), "im": np.imag(z).tolist()}


def main():
    rng = np.random.default_rng(20)
    n = np.arange(128)
    reference = pulse((np.arange(61) - 30) / FS)
    trace = (
        pulse((n - 30) / FS) - 0.4 * pulse((n - 62.3) / FS) - 0.3 * pulse((n - 94.6) / FS) + 0.01 * rng.standard_normal(128)
    )
    padded = np.zeros(128)
    padded[:61] = reference
    spectrum, echo = np.fft.fft(trace), np.fft.fft(padded)
    q = 0.01 * np.max(np.abs(echo) ** 2)
    wiener = np.fft.ifft(spectrum * np.conj(echo) / (np.abs(echo) ** 2 + q))
    cepstrum = np.fft.ifft(np.log(np.abs(spectrum) + 1e-3))
    # Three exponentials in a little noise, as a deconvolved band holds them.
    m = np.arange(60)
    tones = sum(a * np.exp(-2j * np.pi * f * m) for a, f in ((1, 0.05), (0.8, 0.11), (0.6, 0.17)))
    tones = tones + 0.01 * (rng.standard_normal(60) + 1j * rng.standard_normal(60))
    complex_a, complex_power = burg(tones, 8)
    real_a, real_power = burg(trace, 6)
    lags = np.array([np.dot(trace[: 128 - k], trace[k:]) for k in range(7)]) / 128
    yule = -solve_toeplitz(lags[:6], lags[1:7])
    forward = list(tones)
    for _ in range(20):
        forward.append(-sum(complex_a[j] * forward[-1 - j] for j in range(8)))
    data = {
        "source": f"NumPy {np.__version__}, SciPy {scipy.__version__}, tools/testdata/make_spectral_vectors.py",
        "trace": trace.tolist(),
        "reference": reference.tolist(),
        "fft": split(spectrum),
        "hilbert": split(hilbert(trace)),
        "autocorrelation": correlate(trace, trace, "full")[127:].tolist(),
        "wiener": split(wiener),
        "cepstrum": np.real(cepstrum).tolist(),
        "burg_real": {"a": split(real_a), "power": real_power},
        "burg_complex": {"x": split(tones), "a": split(complex_a), "power": complex_power},
        "extrapolated": split(np.array(forward[60:])),
        "yule_walker": {"r": lags.tolist(), "a": yule.tolist(), "power": float(lags[0] + np.dot(yule, lags[1:7]))},
    }
    target = pathlib.Path(__file__).parents[2] / "testdata" / "dsp" / "spectral.json"
    target.write_text(json.dumps(data) + "\n")


if __name__ == "__main__":
    main()
