#!/usr/bin/python3
"""Compares beat times with the truth of a made recording: how many were
found, how many are false, and how they scatter about the truth of their own
side once its constant is taken off (rms, and robust). A line of a table."""

import json
import sys

import numpy as np


def main(name, truth_file, beats_file):
    truth = json.load(open(truth_file))
    beats = [b for b in truth["beats"] if not b["silent"]]
    at = np.array([b["at"] for b in beats])
    side = np.array([b["k"] & 1 for b in beats])
    heard = []
    for line in open(beats_file):
        try:
            heard.append(float(line.split(",")[0]))
        except ValueError:
            continue
    heard = np.array(heard)
    near = np.clip(np.searchsorted(at, heard), 1, len(at) - 1)
    near -= (heard - at[near - 1]) < (at[near] - heard)
    error = heard - at[near]
    good = np.abs(error) < 25e-3
    settled = good & (heard > 30)
    out = []
    for s in (0, 1):
        e = error[settled & (side[near] == s)]
        e = e - np.median(e)
        out.append("%8.2f %8.2f" % (1e6 * np.sqrt(np.mean(e**2)), 1e6 * 1.4826 * np.median(np.abs(e))))
    print("%-10s %5d of %5d  %3d false   rms and robust, us: %s | %s" % (name, len(set(near[good])), len(at), int(np.sum(~good)), out[0], out[1]))


if __name__ == "__main__":
    main(*sys.argv[1:4])
