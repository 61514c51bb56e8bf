"""Writes the small HDF5 files under testdata/hdf5 with h5py (an HDF5 implementation that is not ours).

Run: python3 tools/testdata/make_hdf5_fixtures.py testdata/hdf5
Every sample follows a formula that the tests repeat, so the files need no reference beside them:
    v(s, b, i) = (7919 s + 104729 b + 31 i + (i i mod 977)) mod 65536
int16: v - 32768; uint16: v; int8: v mod 256 - 128; uint8: v mod 256; float32, float64: (v - 32768) / 7
"""

import sys
from pathlib import Path

import h5py
import numpy as np

SHAPE = (7, 11, 40)


def values(kind: str, shape=SHAPE) -> np.ndarray:
    s, b, i = np.meshgrid(*(np.arange(n, dtype=np.int64) for n in shape), indexing="ij")
    v = (7919 * s + 104729 * b + 31 * i + (i * i) % 977) % 65536
    kind = kind.lstrip("<>")
    if kind == "i2":
        return (v - 32768).astype("i2")
    if kind == "u2":
        return v.astype("u2")
    if kind == "i1":
        return (v % 256 - 128).astype("i1")
    if kind == "u1":
        return (v % 256).astype("u1")
    return ((v - 32768) / 7).astype(kind)


LAYOUTS = {
    "contiguous": {},
    "row_chunks": {"chunks": (1, 11, 40)},
    "odd_chunks": {"chunks": (3, 5, 20)},
    "one_chunk": {"chunks": SHAPE},
    "gzip": {"chunks": (2, 11, 40), "compression": "gzip", "compression_opts": 4},
    "gzip_shuffle": {"chunks": (1, 11, 40), "compression": "gzip", "compression_opts": 1, "shuffle": True},
    "gzip_shuffle_fletcher": {
        "chunks": (3, 5, 20), "compression": "gzip", "compression_opts": 1, "shuffle": True, "fletcher32": True,
    },
    "fletcher": {"chunks": (3, 5, 20), "fletcher32": True},
    "shuffle": {"chunks": (3, 5, 20), "shuffle": True},
    "lzf": {"chunks": (2, 11, 40), "compression": "lzf", "shuffle": True},
    "one_unlimited": {"chunks": (1, 11, 40), "maxshape": (None, 11, 40), "compression": "gzip", "shuffle": True},
    "two_unlimited": {"chunks": (2, 4, 40), "maxshape": (None, None, 40), "compression": "gzip", "fletcher32": True},
    "wide_limit": {"chunks": (2, 4, 40), "maxshape": (9, 15, 40), "compression": "gzip"},
}


def layouts(path: Path, libver: str, userblock: int = 0) -> None:
    with h5py.File(path, "w", libver=libver, userblock_size=userblock) as f:
        for name, options in LAYOUTS.items():
            d = f.create_dataset(name, data=values("<i2"), **options)
            d.attrs["sample_rate"] = 100e6
            d.attrs["unit"] = "Hz"
        f.create_dataset("unwritten", SHAPE, "<i2", chunks=(3, 5, 20), fillvalue=-5, compression="gzip")
        f.create_dataset("many_chunks", data=values("<i2", (60, 30, 4)), chunks=(1, 1, 4), compression="gzip")
        scaled = f.create_dataset("scaleoffset", SHAPE, "<i2", chunks=(3, 5, 20), scaleoffset=0)
        scaled[...] = values("<i2")


def types(path: Path) -> None:
    with h5py.File(path, "w") as f:
        for order in "<>":
            for kind in ("i1", "u1", "i2", "u2", "f4", "f8"):
                name = ("big_" if order == ">" else "little_") + kind
                f.create_dataset(name, data=values(order + kind).astype(order + kind))
                f.create_dataset(
                    name + "_packed", data=values(order + kind).astype(order + kind), chunks=(3, 5, 20),
                    compression="gzip", shuffle=True, fletcher32=True,
                )
        f.create_dataset("int32", data=np.arange(6, dtype="<i4"))
        f.create_dataset("float16", data=np.arange(6, dtype="<f2"))
        f.create_dataset("texts", data=["alpha", "beta"])
        status = h5py.enum_dtype({"Measured": 0, "NotScanned": 7}, basetype="u1")
        f.create_dataset("status", data=np.array([0, 7, 0], "u1"), dtype=status)


def structure(path: Path, libver: str) -> None:
    with h5py.File(path, "w", libver=libver, track_order=False) as f:
        a = f.attrs
        a["big_double"] = np.array(12.5, ">f8")
        a["float"] = np.float32(0.25)
        a["int"] = np.int32(-7)
        a["big_unsigned"] = np.array(65000, ">u2")
        a["text"] = "plate µm"
        a["fixed"] = np.bytes_("fixed text")
        a["doubles"] = np.linspace(0, 1, 5)
        a["texts"] = ["one", "two", "three"]
        g = f.create_group("a/b/c")
        g.create_dataset("data", data=np.arange(12.0).reshape(3, 4))
        g["data"].attrs["units"] = "m"
        f["hard"] = f["a/b/c/data"]
        f["soft"] = h5py.SoftLink("/a/b/c")
        f["relative"] = h5py.SoftLink("a/b")
        f["dangling"] = h5py.SoftLink("/nowhere")
        f["ring"] = h5py.SoftLink("/ring")
        f["outside"] = h5py.ExternalLink("types.h5", "/int32")
        f["a/again"] = f["a"]
        crowd = f.create_group("crowd")
        for i in range(300):
            crowd[f"member{i:03d}"] = h5py.SoftLink("/hard") if i % 50 == 0 else f["hard"]
        many = f.create_group("many_attributes")
        for i in range(60):
            many.attrs[f"attribute{i:02d}"] = i * 1.5
        f["named_type"] = np.dtype("<i2")
        f.create_dataset("committed", data=np.arange(3, dtype="<i2"), dtype=f["named_type"])
        f.create_dataset("compact", (3,), "<f8")
        f.create_dataset("scalar", data=3.5)


def main() -> None:
    folder = Path(sys.argv[1])
    layouts(folder / "layouts-old.h5", "earliest")
    layouts(folder / "layouts-latest.h5", "latest")
    layouts(folder / "layouts-userblock.h5", "latest", userblock=512)
    types(folder / "types.h5")
    structure(folder / "structure-old.h5", "earliest")
    structure(folder / "structure-latest.h5", "latest")


main()
