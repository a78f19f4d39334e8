#!/usr/bin/env python3
"""Measures frame/sparse against general-purpose sparse libraries on the same matrices and writes table.md.

One thread each, CPU seconds, medians of three (splu of large matrices: once), so that other work beside it matters less;
still only the ratios are worth quoting, and they wander by a tenth. Peaks are worked out from the pattern: factor and
waiting updates, without the matrix. Beside it stand CHOLMOD's supernodal Cholesky, METIS' nested dissection, OpenBLAS (reference.c), and SciPy's
splu in its symmetric mode: what a script would use. Needs Go, a C compiler, SuiteSparse's headers, NumPy and SciPy.

    speed.py [shape ...]    all shapes of frame/sparse/shapes_test.go without arguments
"""
import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

for name in ("GOMAXPROCS", "OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np
import scipy.sparse as sp
import scipy.sparse.linalg

HERE = Path(__file__).resolve().parent
SHAPES = ["frame 8x8x8", "frame 16x16x16", "frame 24x24x24", "grillage 60x60", "grillage 150x150", "bricks 49x51x3",
          "bricks 80x100x5", "bricks 300x300x2", "twenty-node bricks 24x24x3"]
SLOW = 1e6  # nonzeros of the matrix above which splu is run once only


def run(*command):
    return json.loads(subprocess.run(command, check=True, capture_output=True, text=True, cwd=HERE).stdout.splitlines()[0])


def read(path):
    """The matrix that measure_test.go wrote, both triangles."""
    n, entries = np.fromfile(path, np.int64, 2)
    pointer = np.fromfile(path, np.int32, n + 1, offset=16)
    index = np.fromfile(path, np.int32, entries, offset=16 + 4 * (n + 1))
    value = np.fromfile(path, np.float64, entries, offset=16 + 4 * (n + 1 + entries))
    lower = sp.csc_matrix((value, index, pointer), (n, n))
    return (lower + sp.tril(lower, -1).T).tocsc()


def splu(k):
    times = []
    for _ in range(3 if k.nnz < SLOW else 1):
        start = time.process_time()
        lu = scipy.sparse.linalg.splu(k, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0, options={"SymmetricMode": True})
        lu.solve(np.ones(k.shape[0]))
        times.append(time.process_time() - start)
    return float(np.median(times))


def main(shapes):
    head = ["matrix", "rows", "analyse", "nonzeros of L", "factor", "analyse + factor + solve", "one solve", "20 right-hand sides / one",
            "store / 8 bytes a nonzero", "peak / 8 bytes a nonzero", "splu / ours", "GFLOP/s"]
    lines = ["Ratios to CHOLMOD with METIS and OpenBLAS unless said otherwise; below 1 ours is quicker or smaller. One thread.", "",
             "| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    with tempfile.TemporaryDirectory() as room:
        reference, matrix = f"{room}/reference", f"{room}/matrix"
        subprocess.run(["cc", "-O2", "-o", reference, HERE / "reference.c", "-lcholmod", "-lopenblas"], check=True)
        test = f"{room}/test"
        subprocess.run(["go", "test", "-c", "-o", test, "."], check=True, cwd=HERE.parents[1] / "frame/sparse")
        for shape in shapes:
            ours = run(test, "-test.run", "^TestMeasure$", "-shape", shape, "-matrix", matrix)
            theirs = run(reference, matrix)
            script = splu(read(matrix))
            total = [t["analyse"] + t["factor"] + t["solve"] for t in (ours, theirs)]
            entries = 8 * theirs["nonzeros"]
            row = [shape, f"{ours['rows']:,.0f}"] + [f"{ours[key] / theirs[key]:.2f}" for key in ("analyse", "nonzeros", "factor")] + [
                f"{total[0] / total[1]:.2f}", f"{ours['solve'] / theirs['solve']:.2f}", f"{ours['twenty'] / ours['solve']:.1f}",
                f"{ours['store'] / (8 * ours['nonzeros']):.2f}", f"{ours['peak'] / (8 * ours['nonzeros']):.2f}", f"{script / total[0]:.1f}",
                f"{ours['work'] / ours['factor'] / 1e9:.1f}"]
            lines.append("| " + " | ".join(row) + " |")
            print(lines[-1], "   ", " ".join(f"{k} {ours.get(k, 0):.4g}/{theirs.get(k, 0):.4g}" for k in ("analyse", "factor", "solve", "twenty", "nonzeros")),
                  f"splu {script:.3g}", flush=True)
    if shapes == SHAPES:
        (HERE / "table.md").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main(sys.argv[1:] or SHAPES)
