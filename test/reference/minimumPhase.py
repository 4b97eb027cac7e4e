"""Writes minimumPhase.json: minimum phase and group delay of known systems, by general-purpose signal code.

Run from this folder: python3 minimumPhase.py
"""
import datetime
import json

import numpy as np
import scipy
from scipy import signal

FREQUENCIES = np.linspace(0.02, 0.98, 49) * np.pi  # rad per sample

# 1. A mixed-phase FIR: decaying noise of 48 taps. Its minimum-phase partner is found by turning every zero
#    outside the unit circle to the inside (no cepstrum, no Hilbert transform).
taps = np.random.default_rng(20).standard_normal(48) * 0.9 ** np.arange(48)
zeros = np.roots(taps)
outside = np.abs(zeros) > 1
inside = np.where(outside, 1 / np.conj(zeros), zeros)
partner = np.real(np.poly(inside)) * abs(taps[0]) * np.prod(np.abs(zeros[outside]))
_, response = signal.freqz(partner, worN=FREQUENCIES)
_, measured = signal.freqz(taps, worN=FREQUENCIES)

# 2. The same magnitude through scipy's analytic signal: phase = -imag(hilbert(ln|H|)) on a full circle.
size = 1 << 16
log_magnitude = np.log(np.abs(np.fft.fft(taps, size)))
circle = -np.imag(signal.hilbert(log_magnitude))
by_hilbert = np.interp(FREQUENCIES, 2 * np.pi * np.arange(size) / size, circle)

# 3. scipy's homomorphic minimum_phase of the linear-phase filter with the same magnitude squared (half=True
#    takes the root, so the result has the magnitude of `taps`).
autocorrelation = np.convolve(taps, taps[::-1])
homomorphic = signal.minimum_phase(autocorrelation, method="homomorphic", n_fft=size, half=True)

# 4. A recursive system, minimum phase by construction: a Butterworth high pass and 1 + half a resonance, at 48 kHz.
b, a = signal.iirpeak(300, 4, fs=48000)
sos = np.vstack([signal.butter(4, 55, "highpass", fs=48000, output="sos"), np.hstack([a + 0.5 * b, a])])
sos_hz = np.array([30, 55, 100, 200, 280, 300, 320, 500, 1000, 3000, 10000, 20000.0])
_, sos_response = signal.sosfreqz(sos, worN=sos_hz, fs=48000)

document = {
    "source": "numpy.roots/poly, scipy.signal.freqz, hilbert, minimum_phase, sosfreqz",
    "command": "python3 minimumPhase.py",
    "version": f"numpy {np.__version__}, scipy {scipy.__version__}",
    "date": datetime.date.today().isoformat(),
    "taps": taps.tolist(),
    "frequencyRadPerSample": FREQUENCIES.tolist(),
    "levelDb": (20 * np.log10(np.abs(response))).tolist(),
    "measuredPhaseRad": np.angle(measured).tolist(),
    "minimumPhaseRad": np.angle(response).tolist(),
    "minimumPhaseByHilbertRad": by_hilbert.tolist(),
    "minimumPhaseTaps": partner.tolist(),
    "minimumPhaseTapsHomomorphic": homomorphic.tolist(),
    "recursive": {
        "sampleRateHz": 48000,
        "sos": sos.tolist(),
        "frequencyHz": sos_hz.tolist(),
        "levelDb": (20 * np.log10(np.abs(sos_response))).tolist(),
        "phaseRad": np.angle(sos_response).tolist(),
    },
}
print("hilbert against roots:", np.max(np.abs(np.angle(np.exp(1j * (by_hilbert - np.angle(response)))))))
print("homomorphic taps against roots:", np.max(np.abs(homomorphic - partner)))
with open("minimumPhase.json", "w", encoding="utf-8") as file:
    json.dump(document, file, indent=1)
    file.write("\n")
