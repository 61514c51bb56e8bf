#!/usr/bin/env python3
"""compare_peer.py GRID.h5 PEER.h5: the toolkit's grid against a peer's (microseconds, millimetres) on the same stack."""
import json, sys
import h5py, numpy as np

PAIRS = [("interface_time", "interface_us", 1e6), ("first_echo_time", "bw1_us", 1e6), ("second_echo_time", "bw2_us", 1e6),
         ("first_echo_amplitude", "bw1_amp", 1), ("second_echo_amplitude", "bw2_amp", 1),
         ("thickness_interface_wall", "thickness_if_bw1_mm", 1e3), ("thickness_wall_wall", "thickness_bw1_bw2_mm", 1e3)]


def find(f, name):
    hit = []
    f.visititems(lambda k, v: hit.append(v) if isinstance(v, h5py.Dataset) and k.split("/")[-1] == name else None)
    return hit[0][()].astype(float)


g, p = h5py.File(sys.argv[1]), h5py.File(sys.argv[2])
out = {}
for ours, theirs, scale in PAIRS:
    a, b = find(g, ours) * scale, p[theirs][()].astype(float)
    if "amp" in theirs:      # the peer also writes amplitudes of echoes under the level
        b = np.where(np.isnan(a), np.nan, b)
    out[ours] = dict(largest=float(np.nanmax(abs(a - b))), missing_differs=int((np.isnan(a) != np.isnan(b)).sum()))
out["not_measured_differs"] = int(((find(g, "status") != 0) != (p["status"][()] != 0)).sum())
print(json.dumps(out))
