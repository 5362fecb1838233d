#!/usr/bin/env python3
"""Draws air inside against strokes from a study with a trace: read_study.py STUDY.h5 FIGURE.svg

Debian packages: python3-h5py python3-matplotlib. Run first:
    clearstroke study scenarios/studies/stroke_speed.toml -o stroke_speed.h5
"""
import sys

import h5py
import matplotlib

matplotlib.use("Agg")  # no screen needed
import matplotlib.pyplot as plt

with h5py.File(sys.argv[1]) as study:
    done = study["status"][:] == 1
    speed = study["operator.push_speed"]  # one value per case
    air = study["trace_air_inside_ml"]  # case, plan, stroke
    stroke = air.dims[2][0]  # the scale that stands beside that dimension
    figure, axes = plt.subplots()
    for case in done.nonzero()[0]:
        axes.plot(stroke[:], air[case, 0, :], label=f"{1e3 * speed[case]:.0f} mm/s")
    axes.set_title(study.attrs["title"].decode() if isinstance(study.attrs["title"], bytes) else study.attrs["title"])
    axes.set_xlabel(stroke.attrs["long_name"].decode())
    axes.set_ylabel(f"{air.attrs['long_name'].decode()} [{air.attrs['units'].decode()}]")
    axes.legend()
    figure.savefig(sys.argv[2])
