#!/usr/bin/env python3
"""What a careful script does for a map of positions, for DEVELOPERS.md: a frame condensed to 48 coupled freedoms, 24 springs
that differ from position to position, three pushes; 10,000 positions in batches, on one thread.

    OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 python3 testdata/map-speed/map.py
    go test ./frame -run xxx -bench Positions -cpu 1

NumPy (Debian's python3-numpy, with OpenBLAS) is the reference; both numbers are from one machine, one after the other.
"""
import time

import numpy as np

rng = np.random.default_rng(1)
freedoms, springs, side, pushes = 48, 24, 100, 3
a = rng.standard_normal((freedoms, freedoms))
k = a @ a.T + freedoms * np.eye(freedoms)
push = rng.standard_normal((freedoms, pushes))
own = np.eye(pushes)
forms = [rng.standard_normal((side, springs // 2, freedoms)) for _ in range(2)]  # of either axis, by position
stiffness = rng.uniform(1, 2, (2, side, springs // 2))


def stiffened(axis):
    return np.einsum("pk,pki,pkj->pij", stiffness[axis], forms[axis], forms[axis])


best = 0.0
for _ in range(3):
    begun = time.perf_counter()
    first, second = stiffened(0), stiffened(1)
    worst = 0.0
    for i in range(side):
        moved = np.linalg.solve(k + first[i] + second, np.broadcast_to(push, (side, freedoms, pushes)))
        compliance = own + np.einsum("ij,pik->pjk", push, moved)
        worst = max(worst, compliance[:, 0, 0].max())
    best = max(best, side * side / (time.perf_counter() - begun))
print(f"{best:.0f} positions/s")
