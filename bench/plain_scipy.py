#!/usr/bin/python3
"""Beat times of a clock recording by a plain SciPy pipeline: band-pass,
envelope, peaks. What anyone would write in an afternoon, and the measure that
Seatboard's ear is held against. Prints one time in seconds a line."""

import sys

import numpy as np
from scipy.io import wavfile
from scipy.signal import butter, find_peaks, hilbert, sosfiltfilt


def main(path, beat):
    rate, x = wavfile.read(path)
    if x.ndim > 1:
        x = x.mean(axis=1)
    x = x / 32768.0
    band = butter(4, [500, min(17000, 0.42 * rate)], "bandpass", fs=rate, output="sos")
    envelope = np.abs(hilbert(sosfiltfilt(band, x)))
    low = butter(2, 400, "lowpass", fs=rate, output="sos")
    envelope = sosfiltfilt(low, envelope)
    height = np.median(envelope) + 0.25 * (np.quantile(envelope, 0.9995) - np.median(envelope))
    peaks, _ = find_peaks(envelope, height=height, distance=int(0.6 * beat * rate))
    for p in peaks:
        if 0 < p < len(envelope) - 1:
            a, b, c = envelope[p - 1 : p + 2]
            d = a - 2 * b + c
            p = p + (0.5 * (a - c) / d if d else 0.0)
        print("%.9f" % (p / rate))


if __name__ == "__main__":
    main(sys.argv[1], float(sys.argv[2]))
