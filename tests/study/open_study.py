"""Opens a study file by h5py and by xarray and checks that it tells all about itself: open_study.py STUDY.h5"""
import sys

import h5py
import numpy as np
import xarray

path = sys.argv[1]


def text(value):
    return value.decode() if isinstance(value, bytes) else str(value)


with h5py.File(path) as f:
    for name in ("title", "program", "program_version", "seed", "study_text", "base_text_0"):
        assert text(f.attrs[name]), name
    assert "[[base]]" in text(f.attrs["study_text"])
    for name, d in f.items():
        assert "units" in d.attrs and text(d.attrs["long_name"]), name
        if not h5py.h5ds.is_scale(d.id):
            for k, dimension in enumerate(d.dims):
                assert len(dimension) == 1, (name, k, "has no scale")
                assert len(dimension[0]) == d.shape[k], (name, k)
    assert f["strokes_total"].chunks and f["strokes_total"].compression == "gzip"
    assert (f["status"][:] == 1).all()
    assert list(f["plan"].asstr()[:]) == ["the file's own"]
    strokes = f["strokes_total"][:, 0]
    assert (strokes >= 2).all() and (strokes == np.round(strokes)).all()
    assert text(f["operator.push_speed"].attrs["units"]) == "m/s"

data = xarray.open_dataset(path, engine="h5netcdf", phony_dims="access")
assert data["strokes_total"].dims == ("case", "plan"), data["strokes_total"].dims
assert data["trace_air_inside_ml"].dims == ("case", "plan", "stroke")
assert text(data["air_left_ml"].attrs["units"]) == "mL"
assert (data["strokes_total"].values[:, 0] == strokes).all()
mean = data["trace_air_inside_ml"].sel(stroke=1.0).mean()
assert np.isfinite(mean)
print("sound")
