#!/usr/bin/env python3
"""Copies every N-th beam of a full-wave stack, with all its per-cell layers and attributes.

    python3 extract_fullwave.py C0_dev.h5 testdata/fullwave/C0_extract.h5 --every 13

The result opens with the same layout map as the whole stack. Needs h5py and numpy (seen with h5py 3.7, numpy 1.24);
no test runs this script.
"""
import argparse

import h5py


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("source", help="full-wave stack, ascans[position, beam, sample]")
    parser.add_argument("target", help="file to write")
    parser.add_argument("--every", type=int, default=13, help="keep beams 0, N, 2N, ... (default 13)")
    arguments = parser.parse_args()
    with h5py.File(arguments.source, "r") as source, h5py.File(arguments.target, "w") as target:
        positions, beams, samples = source["ascans"].shape
        target.attrs.update(source.attrs)
        target.attrs["extract"] = f"beams 0, {arguments.every}, {2 * arguments.every}, ... of {beams}"
        for name, dataset in source.items():
            data = dataset[...]
            if data.shape[:2] == (positions, beams):
                data = data[:, :: arguments.every]
            elif data.shape == (beams,):
                data = data[:: arguments.every]
            options = {}
            if data.ndim == 3:
                options = dict(chunks=(1,) + data.shape[1:], compression="gzip", compression_opts=9, shuffle=True)
            # track_times off: the same input gives the same bytes.
            copy = target.create_dataset(name, data=data, track_times=False, **options)
            copy.attrs.update(dataset.attrs)


if __name__ == "__main__":
    main()
