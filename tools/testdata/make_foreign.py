#!/usr/bin/env python3
"""Writes the foreign files that the layout-map tests read: python3 make_foreign.py testdata/foreign

Every file holds the same samples, so that a test can compare them bit by bit without a second reader:

    value(scan, beam, sample) = ((31 scan + 7 beam + 1) (sample + 3)) mod 2003 - 1001      (5 x 4 x 64)

Needs h5py and numpy (seen with h5py 3.7, HDF5 1.10.8, numpy 1.24); no test runs this script.
"""
import os
import sys

import h5py
import numpy as np

SCANS, BEAMS, SAMPLES = 5, 4, 64
scan, beam, sample = np.meshgrid(np.arange(SCANS), np.arange(BEAMS), np.arange(SAMPLES), indexing="ij")
VALUES = ((31 * scan + 7 * beam + 1) * (sample + 3)) % 2003 - 1001
THICKNESS_MM = 6.0 + 0.1 * np.arange(SCANS)[:, None] + 0.01 * np.arange(BEAMS)[None, :]
OPTIONS = dict(track_times=False)


def user_block(path):
    """[scan, beam, sample] int16 contiguous behind a user block of 512 bytes; facts as attributes in trade units."""
    with h5py.File(path, "w", userblock_size=512) as f:
        d = f.create_dataset("export/waves", data=VALUES.astype("<i2"), **OPTIONS)
        d.attrs["sampling MHz"] = 100.0
        d.attrs["delay us"] = 1.5
        f.attrs["probe"] = "7.5 MHz"
        f.create_dataset("export/encoder_mm", data=2.0 * np.arange(SCANS), **OPTIONS)
        f.create_dataset("export/wall_mm", data=THICKNESS_MM, **OPTIONS)
    with open(path, "r+b") as f:
        f.write(b"export of a scan; the HDF5 file begins at byte 512\n")


def sample_first(path):
    """[sample, beam, scan] int16 in chunks of gzip and shuffle: axes turned over, beams stored last one first."""
    turned = np.ascontiguousarray(VALUES[:, ::-1, :].transpose(2, 1, 0)).astype("<i2")
    with h5py.File(path, "w") as f:
        f.create_dataset("data", data=turned, chunks=(16, 4, 3), compression="gzip", shuffle=True, **OPTIONS)
        f.create_dataset("x", data=np.array([10.0, 10.5, 11.0, 11.5, 12.0]), **OPTIONS).attrs["units"] = "mm"
        f.create_dataset("y", data=np.array([3.0, 2.0, 1.0, 0.0]), **OPTIONS).attrs["units"] = "mm"
        f.create_dataset("delay", data=np.array([1.75, 1.5, 1.25, 1.0]), **OPTIONS)
        f.create_dataset("wall", data=np.ascontiguousarray(THICKNESS_MM[:, ::-1].T / 25.4), **OPTIONS)


def cells(path):
    """[cell, sample] uint16 offset binary, big-endian, with the time of every sample and a mask over the cells."""
    with h5py.File(path, "w", libver="latest") as f:
        f.create_dataset("scan/raw", data=(VALUES + 32768).reshape(-1, SAMPLES).astype(">u2"), chunks=(8, 64), compression="lzf", **OPTIONS)
        f.create_dataset("scan/time", data=(0.8 + 0.01 * np.arange(SAMPLES)).astype("<f4"), **OPTIONS)
        f.create_dataset("scan/encoder_counts", data=np.repeat(np.arange(SCANS, dtype="<i4") * 40, BEAMS), **OPTIONS)
        mask = np.ones(SCANS * BEAMS, dtype="u1")
        mask[[3, 9]] = 0
        f.create_dataset("scan/recorded", data=mask, **OPTIONS)


def lines(path):
    """Two groups with [beam, single, scan, sample] float32 in contiguous layout, sign turned over in both."""
    with h5py.File(path, "w") as f:
        for number, part in enumerate((VALUES[:3], VALUES[3:])):
            group = f.create_group(f"pass{number + 1}")
            stored = -np.ascontiguousarray(part.transpose(1, 0, 2)).astype("<f4") / 4
            group.create_dataset("rf", data=stored[:, None], **OPTIONS)
            group.attrs["dt"] = 1e-8
            group.attrs["gain"] = 42.5 + number


def small(path):
    """One A-scan as a 1-D dataset and one scan position as a 2-D dataset."""
    with h5py.File(path, "w") as f:
        f.create_dataset("one", data=VALUES[0, 0].astype("<i2"), **OPTIONS)
        f.create_dataset("row", data=VALUES[0].astype("i1"), **OPTIONS)
        f.create_dataset("row_float", data=VALUES[0].astype("<f8"), **OPTIONS)
        f.create_dataset("words", data=np.array([b"not", b"samples"]), **OPTIONS)


def arrays(folder):
    np.save(f"{folder}/c_int16.npy", VALUES.astype("<i2"))
    np.save(f"{folder}/fortran_int16_big.npy", np.asfortranarray(VALUES.astype(">i2")))
    np.save(f"{folder}/fortran_float32.npy", np.asfortranarray(VALUES.astype("<f4")))
    np.save(f"{folder}/objects.npy", np.array([{"a": 1}, None], dtype=object), allow_pickle=True)
    for version in ((1, 0), (2, 0), (3, 0)):
        with open(f"{folder}/version{version[0]}_float64.npy", "wb") as f:
            np.lib.format.write_array(f, VALUES.astype("<f8")[0], version=version)
    with open(f"{folder}/big_endian.raw", "wb") as f:
        f.write(b"H" * 100)
        f.write(VALUES.astype(">i2").tobytes())
    os.makedirs(f"{folder}/positions", exist_ok=True)
    for i in range(SCANS):
        # Names that plain sorting would order 10, 12, 2, 4, 8.
        np.save(f"{folder}/positions/p{2 * i + 2 if i < 2 else 2 * i + 4}.npy", VALUES[i].astype("<i2"))
    os.makedirs(f"{folder}/passes", exist_ok=True)
    VALUES[:2].astype("<i2").tofile(f"{folder}/passes/line9.bin")
    VALUES[2:].astype("<i2").tofile(f"{folder}/passes/line10.bin")


def main():
    folder = sys.argv[1]
    os.makedirs(folder, exist_ok=True)
    user_block(f"{folder}/user_block.h5")
    sample_first(f"{folder}/sample_first.h5")
    cells(f"{folder}/cells.h5")
    lines(f"{folder}/lines.h5")
    small(f"{folder}/small.h5")
    arrays(folder)


if __name__ == "__main__":
    main()
