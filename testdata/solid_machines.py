#!/usr/bin/env python3
"""Makes solid-machines.yaml: 3D linear elasticity answers for whole small mills, all parts bonded where they touch.

Method: the elements and the kind of grid of solid_heldout.py, with parts of two metals. Cells are graded toward the
edges of held faces and of bonds, where the stress is singular, and less toward patch edges and all other faces.
Units: N, mm, MPa, tonne. Needs NumPy, SciPy, PyYAML and CVXOPT.

    solid_machines.py verify      compare with closed forms and with solid-heldout.yaml on VERIFY
    solid_machines.py write       verify, then solve CASES and write solid-machines.yaml: about 20
                                  minutes on one thread
    solid_machines.py finer ID    one machine on its meshes and one finer, to see what error_rel is worth
"""
import itertools
import sys
import time

import cvxopt
import cvxopt.cholmod
import numpy as np
import scipy.sparse as sp
import yaml

import solid_heldout as grid
from solid_heldout import HERE, LOAD, box, flow

METALS = {"aluminium": {"E": 70000.0, "nu": 0.33, "density": 2.7e-9},
          "steel": {"E": 210000.0, "nu": 0.3, "density": 7.85e-9}}
GRAVITY = 9810.0  # mm/s²
# Per mesh: smallest cell at the edges of held faces, of bonds, of patches and at other faces, and largest cell, mm. The
# first three halve from mesh to mesh, and with them the error (energy at the edge of a held face falls with h, at a
# re-entrant one with h^1.09): as much as the last step is still to come.
MESHES = [(2.8, 4.8, 8.0, 14.0, 36.0), (1.4, 2.4, 4.0, 10.0, 30.0), (0.7, 1.2, 2.0, 7.0, 24.0)]
# The share of the last step that stays in doubt: with all halved once more, H1's compliances, ends and sags were up to
# 0.31 of it from what the first three meshes had said, 0.18 % at most.
STEP_DOUBT = 0.5
VERIFY = ["solid-H1", "solid-H3", "solid-H5"]


def part(name, *c, metal="aluminium"):
    return {"name": name, **box(*c), "material": metal}


def gusset(name, y, z, x):
    """Right triangle in the y-z plane with its legs from y[0], z[0] to y[1] and to z[1], extruded along x."""
    return {"name": name, "corner_yz": [y[0], z[0]], "leg_y_to": [y[1], z[0]], "leg_z_to": [y[0], z[1]], "x": list(x)}


CASES = [
    {"id": "machine-C", "title": "C-frame: base 250 x 340 x 22 on four feet, two uprights with a head between them",
     "blocks": [part("base", 0, 0, 28, 250, 340, 50),
                part("foot1", 0, 0, 0, 36, 44, 28), part("foot2", 214, 0, 0, 250, 44, 28),
                part("foot3", 0, 296, 0, 36, 340, 28), part("foot4", 214, 296, 0, 250, 340, 28),
                part("upright1", 62, 244, 50, 82, 324, 310), part("upright2", 168, 244, 50, 188, 324, 310),
                part("head", 82, 130, 245, 168, 306, 283), part("bed", 35, 26, 50, 215, 176, 66),
                part("spindle", 103, 86, 188, 147, 130, 318, metal="steel")],
     "fixed": [box(0, 0, 0, 36, 44, 0), box(214, 0, 0, 250, 44, 0),
               box(0, 296, 0, 36, 340, 0), box(214, 296, 0, 250, 340, 0)],
     "tool": box(120, 103, 188, 130, 113, 188), "work": box(115, 98, 66, 135, 118, 66),
     "ends": {"front": box(115, 26, 66, 135, 46, 66), "side": box(35, 98, 66, 55, 118, 66)}},
    {"id": "machine-B", "title": "bed 210 x 270 x 13 on two ribs on a base, one column 112 x 34 x 305 behind",
     "blocks": [part("base", 0, 0, 0, 250, 372, 20), part("rib1", 40, 30, 20, 57, 262, 58),
                part("rib2", 193, 30, 20, 210, 262, 58), part("bed", 20, 8, 58, 230, 278, 71),
                part("column", 69, 305, 20, 181, 339, 325), part("arm", 86, 148, 252, 164, 305, 291),
                part("spindle", 104, 106, 176, 146, 148, 306, metal="steel")],
     "fixed": [box(0, 0, 0, 250, 30, 0), box(0, 322, 0, 250, 372, 0)],
     "tool": box(120, 122, 176, 130, 132, 176), "work": box(115, 117, 71, 135, 137, 71),
     "ends": {"front": box(115, 8, 71, 135, 28, 71), "corner": box(20, 8, 71, 40, 28, 71)}},
    {"id": "machine-P", "title": "fixed portal: uprights 26 x 92 x 236, beam 340 x 30 x 84, head off its middle",
     "blocks": [part("base", 0, 0, 0, 340, 280, 24), part("upright1", 0, 150, 24, 26, 242, 260),
                part("upright2", 314, 150, 24, 340, 242, 260), part("beam", 0, 120, 168, 340, 150, 252),
                part("head", 186, 78, 150, 266, 120, 262), part("block", 62, 52, 24, 278, 112, 44),
                part("bed", 62, 22, 44, 278, 142, 58),
                part("spindle", 206, 38, 122, 246, 78, 236, metal="steel")],
     "fixed": [box(0, 0, 0, 62, 38, 0), box(278, 0, 0, 340, 38, 0),
               box(0, 242, 0, 62, 280, 0), box(278, 242, 0, 340, 280, 0)],
     "tool": box(221, 53, 122, 231, 63, 122), "work": box(216, 48, 58, 236, 68, 58),
     "ends": {"left": box(62, 72, 58, 82, 92, 58), "right": box(258, 72, 58, 278, 92, 58)}},
    {"id": "machine-G", "title": "column 96 x 26 x 310 with two gussets on a steel base, arm 58 x 186 x 34",
     "blocks": [part("base", 0, 0, 0, 190, 350, 18, metal="steel"), part("column", 47, 226, 18, 143, 252, 328),
                part("arm", 66, 40, 236, 124, 226, 270), part("bed", 28, 14, 18, 162, 164, 36),
                part("spindle", 75, 50, 132, 115, 90, 236, metal="steel")],
     "gussets": [gusset("gusset1", (252, 336), (18, 172), (47, 61)),
                 gusset("gusset2", (252, 336), (18, 172), (129, 143))],
     "fixed": [box(0, 0, 0, 190, 350, 0)],
     "tool": box(90, 65, 132, 100, 75, 132), "work": box(85, 60, 36, 105, 80, 36),
     "ends": {"front": box(85, 14, 36, 105, 34, 36)}},
    {"id": "machine-L", "title": "L-shaped engraving mill of 15 mm plates, one cheek, on four pads",
     "blocks": [part("base", 0, 0, 0, 150, 215, 15), part("back", 0, 200, 15, 150, 215, 210),
                part("cheek", 0, 128, 15, 15, 200, 146), part("shelf", 38, 88, 176, 112, 200, 191),
                part("block", 45, 34, 15, 125, 104, 35), part("bed", 22, 14, 35, 148, 118, 50),
                part("spindle", 61, 60, 96, 89, 88, 206, metal="steel")],
     "fixed": [box(0, 0, 0, 24, 24, 0), box(126, 0, 0, 150, 24, 0),
               box(0, 191, 0, 24, 215, 0), box(126, 191, 0, 150, 215, 0)],
     "tool": box(71, 70, 96, 79, 78, 96), "work": box(66, 65, 50, 84, 83, 50),
     "ends": {"front": box(66, 14, 50, 84, 32, 50), "right": box(130, 65, 50, 148, 83, 50)}},
    {"id": "machine-T", "title": "tall narrow column 64 x 58 x 430 on a base 210 x 240 x 18 on four pads",
     "blocks": [part("base", 0, 0, 12, 210, 240, 30),
                part("pad1", 0, 0, 0, 32, 32, 12, metal="steel"), part("pad2", 178, 0, 0, 210, 32, 12, metal="steel"),
                part("pad3", 0, 208, 0, 32, 240, 12, metal="steel"),
                part("pad4", 178, 208, 0, 210, 240, 12, metal="steel"),
                part("column", 88, 164, 30, 152, 222, 460), part("arm", 92, 62, 372, 148, 164, 424),
                part("bed", 32, 12, 30, 178, 132, 54), part("spindle", 102, 26, 300, 138, 62, 418, metal="steel")],
     "fixed": [box(0, 0, 0, 32, 32, 0), box(178, 0, 0, 210, 32, 0),
               box(0, 208, 0, 32, 240, 0), box(178, 208, 0, 210, 240, 0)],
     "tool": box(115, 39, 300, 125, 49, 300), "work": box(110, 34, 54, 130, 54, 54),
     "ends": {"left": box(32, 34, 54, 52, 54, 54)}},
    {"id": "machine-X", "title": "box 230 x 300 x 102 of 11 mm plates as base, column 104 x 40 x 250 off its middle",
     "blocks": [part("floor", 0, 0, 0, 230, 300, 11), part("side1", 0, 0, 11, 11, 300, 91),
                part("side2", 219, 0, 11, 230, 300, 91), part("front", 11, 0, 11, 219, 11, 91),
                part("rear", 11, 289, 11, 219, 300, 91), part("top", 0, 0, 91, 230, 300, 102),
                part("column", 78, 248, 102, 182, 288, 352), part("arm", 95, 120, 280, 165, 248, 320),
                part("bed", 45, 30, 102, 185, 170, 116), part("spindle", 110, 80, 220, 150, 120, 340, metal="steel")],
     "fixed": [box(0, 0, 0, 45, 30, 0), box(185, 0, 0, 230, 30, 0), box(95, 248, 0, 140, 300, 0)],
     "tool": box(125, 95, 220, 135, 105, 220), "work": box(120, 90, 116, 140, 110, 116),
     "ends": {"front": box(120, 30, 116, 140, 50, 116), "corner": box(45, 30, 116, 65, 50, 116)}},
    {"id": "machine-M", "title": "C-frame on a solid base, bed 360 x 110 x 14 held by a block under its middle only",
     "blocks": [part("base", 0, 0, 0, 200, 300, 25), part("column", 60, 235, 25, 140, 285, 275),
                part("arm", 68, 110, 222, 132, 235, 266), part("block", 60, 42, 25, 140, 122, 55),
                part("bed", -80, 27, 55, 280, 137, 69),
                part("spindle", 80, 70, 165, 120, 110, 280, metal="steel")],
     "fixed": [box(0, 0, 0, 200, 300, 0)],
     "tool": box(95, 85, 165, 105, 95, 165), "work": box(90, 80, 69, 110, 100, 69),
     "ends": {"left": box(-80, 72, 69, -60, 92, 69), "corner": box(260, 27, 69, 280, 47, 69)}},
]


# ---- grid ----

def bonds(case):
    """The rectangles on which two parts touch."""
    solids = case["blocks"] + [box(g["x"][0], min(y), min(z), g["x"][1], max(y), max(z))
                               for g in case.get("gussets", [])
                               for y, z in [zip(g["corner_yz"], (g["leg_y_to"][0], g["leg_z_to"][1]))]]
    for a, b in itertools.combinations(solids, 2):
        lo, hi = np.maximum(a["from"], b["from"]), np.minimum(a["to"], b["to"])
        if np.all(lo <= hi) and np.count_nonzero(lo == hi) == 1:
            yield box(*lo, *hi)


def patches(case):
    return [case["tool"], case["work"], *case["ends"].values()]


def grid_lines(case, mesh):
    """Cell borders in x, y, z. Along a gusset those in z are those in y, turned round: cells end on its slope."""
    *sizes, h_max = mesh
    marks = [{}, {}, {}]
    for h, boxes in zip(sizes, (case["fixed"], bonds(case), patches(case), case["blocks"])):
        for b, a, end in itertools.product(boxes, range(3), ("from", "to")):
            v = float(b[end][a])
            marks[a][v] = min(h, marks[a].get(v, h))
    (y0, y1), (z0, z1) = legs(case)
    if y0 != y1:
        for v, h in [m for m in marks[1].items() if inside(m[0], y0, y1)]:
            marks[2].setdefault(z1 - (v - y0) * (z1 - z0) / (y1 - y0), h)
        for v, h in [m for m in marks[2].items() if inside(m[0], z0, z1)]:
            marks[1].setdefault(y0 + (z1 - v) * (y1 - y0) / (z1 - z0), h)
    lines = []
    for a in range(3):
        size = {v: min(h + grid.GROWTH * abs(v - w) for w, h in marks[a].items()) for v in marks[a]}
        line = [min(marks[a])]
        for p, q in itertools.pairwise(sorted(marks[a])):
            # The longer leg of a gusset sets the cells of both.
            by = max(1, abs((z1 - z0) / (y1 - y0))) if a == 1 and inside((p + q) / 2, y0, y1) else 1
            line += list(p + (q - p) * grid.subdivide(by * (q - p), size[p], size[q], h_max)[1:-1]) + [q]
        lines.append(np.array(line))
    if y0 != y1:
        y, z = lines[1], lines[2]
        y = y[(y >= min(y0, y1)) & (y <= max(y0, y1))]
        lines[2] = np.sort(np.concatenate([z[(z < min(z0, z1)) | (z > max(z0, z1))],
                                           z1 - (y - y0) * (z1 - z0) / (y1 - y0)]))
    return lines


def legs(case):
    """From the corner to the ends of a gusset's legs in y and z; of several, side by side, the first's."""
    for g in case.get("gussets", []):
        return (g["corner_yz"][0], g["leg_y_to"][0]), (g["corner_yz"][1], g["leg_z_to"][1])
    return (0, 0), (0, 0)


def inside(v, p, q):
    return min(p, q) < v < max(p, q)


# ---- solution ----

def element_kinds(case, lines):
    """Per kind of element and metal: nodes of its cells on the half grid, their signed sizes, its tables, the metal."""
    step = [np.diff(c) for c in lines]
    hexes, wedges = grid.cells_of(case, lines)
    steel = np.zeros([len(s) for s in step], bool)
    for b in case["blocks"]:
        if b.get("material") == "steel":
            steel[tuple(slice(*s) for s in grid.span(lines, b))] = True
    for metal, chosen in (("aluminium", ~steel[tuple(hexes.T)]), ("steel", steel[tuple(hexes.T)])):
        cells = hexes[chosen]
        if len(cells):
            table = grid.hexahedron()
            size = np.stack([step[a][cells[:, a]] for a in range(3)], axis=1)
            yield 2 * cells[:, None, :] + table[0], size, table, metal
    if len(wedges):
        table = grid.wedge()
        sign = np.concatenate([np.ones((len(wedges), 1), int), wedges[:, 3:]], axis=1)
        size = sign * np.stack([step[a][wedges[:, a]] for a in range(3)], axis=1)
        corner = 2 * wedges[:, :3] + 2 * (sign < 0)
        yield corner[:, None, :] + sign[:, None, :] * table[0], size, table, "aluminium"


def shares(nodes, pts, wts, powers):
    """Integral of each shape function over the reference element."""
    def monomials(p):
        return np.array([np.prod(p ** np.array(q), axis=1) for q in powers]).T

    return wts @ monomials(pts) @ np.linalg.inv(monomials(nodes.astype(float)))


def solve(case, mesh):
    """Mean movements of tool against work under LOAD on both, of the ends, and own weight; and the unknowns."""
    lines = grid_lines(case, mesh)
    step = [np.diff(c) for c in lines]
    shape = [2 * len(c) - 1 for c in lines]

    def number(ijk):
        return np.ravel_multi_index(np.moveaxis(ijk, -1, 0), shape)

    kinds = [(number(at), *rest) for at, *rest in element_kinds(case, lines)]
    used = np.unique(np.concatenate([k[0].ravel() for k in kinds]))
    place = np.full(np.prod(shape), -1)
    place[used] = np.arange(len(used))
    ijk = np.stack(np.unravel_index(used, shape), axis=1)
    held = np.zeros(len(used), bool)
    for b in case["fixed"]:
        s = 2 * np.array(grid.span(lines, b))
        held |= np.all((ijk >= s[:, 0]) & (ijk <= s[:, 1]), axis=1)
    free = np.full(len(used), -1)
    free[~held] = np.arange(np.count_nonzero(~held))
    n = 3 * np.count_nonzero(~held)

    K, weight = sp.csc_matrix((n, n)), np.zeros(len(used))
    for conn, size, table, metal in kinds:
        products, volume = grid.derivative_products(*table), np.abs(np.prod(size / 2, axis=1))
        metal = METALS[metal]
        np.add.at(weight, place[conn], metal["density"] * GRAVITY * volume[:, None] * shares(*table))
        dof = (3 * free[place[conn]][:, :, None] + np.arange(3)).reshape(len(conn), -1)
        for c in range(0, len(conn), 6000):  # in pieces, to bound the memory
            d, ke = dof[c:c + 6000], grid.element_stiffness(products, size[c:c + 6000], metal["E"], metal["nu"])
            r, s = np.repeat(d, d.shape[1], axis=1).ravel(), np.tile(d, (1, d.shape[1])).ravel()
            keep = (s >= 0) & (r >= s)
            K = K + sp.coo_matrix((ke.ravel()[keep], (r[keep], s[keep])), shape=(n, n)).tocsc()

    mean = [w[~held] / w.sum() for w in
            (grid.patch_weights(b, lines, step, number, place, len(used)) for b in patches(case))]
    W = np.zeros((n, 3 * (len(mean) - 1)))
    for p, w in enumerate([mean[0] - mean[1]] + mean[2:]):
        for a in range(3):
            W[a::3, 3 * p + a] = w
    U = solved(K, W)
    G = np.zeros(n)
    G[2::3] = -weight[~held]
    moved, sag = LOAD * W.T @ U, U.T @ G
    return {"compliance": moved[:3, :3], "ends": np.diag(moved)[3:].reshape(-1, 3), "sag": sag.reshape(-1, 3)}, n


def solved(K, W):
    K = K.tocoo()
    A = cvxopt.spmatrix(cvxopt.matrix(K.data), cvxopt.matrix(K.row.astype(np.int64)),
                        cvxopt.matrix(K.col.astype(np.int64)), K.shape)
    del K
    U = cvxopt.matrix(W)
    factor = cvxopt.cholmod.symbolic(A)
    cvxopt.cholmod.numeric(A, factor)
    cvxopt.cholmod.solve(factor, U)
    return np.array(U)


def scale(what, v):
    """What an error is relative to: the entry itself, but off the diagonal and of a sag the largest one beside it."""
    if what == "compliance":
        return np.where(np.eye(3, dtype=bool), np.abs(v), np.abs(v).max())
    return np.abs(v) if what == "ends" else np.abs(v).max(axis=1, keepdims=True)


def extrapolated(what, coarse, middle, fine):
    """Value and relative uncertainty: at least how far the extrapolation moved when the finest mesh came in."""
    first, last = middle - coarse, fine - middle
    doubt = np.maximum(STEP_DOUBT * np.abs(last), np.abs(2 * last - first)) / scale(what, fine + last)
    return fine + last, np.maximum(grid.ERROR_FLOOR, doubt)


def answer(case, meshes=MESHES):
    """By what is asked, value and relative uncertainty; and the finest mesh's unknowns."""
    runs = []
    for mesh in meshes:
        t = time.time()
        value, dof = solve(case, mesh)
        runs.append(value)
        print(f"{case['id']}: {dof} unknowns, {time.time() - t:.0f} s", file=sys.stderr, flush=True)
    return {what: extrapolated(what, *(r[what] for r in runs)) for what in runs[0]}, dof


# ---- checks and output ----

def pillar():
    """Worst difference of a pillar of two metals, nu = 0, pulled and under its own weight, from closed forms."""
    kept, l, area = {k: dict(v) for k, v in METALS.items()}, 100.0, 400.0
    for m in METALS.values():
        m["nu"] = 0.0
    case = {"id": "pillar", "fixed": [box(0, 0, 0, 20, 20, 0)], "tool": box(0, 0, 200, 20, 20, 200),
            "blocks": [part("lower", 0, 0, 0, 20, 20, 100), part("upper", 0, 0, 100, 20, 20, 200, metal="steel")],
            "work": box(0, 0, 100, 20, 20, 100), "ends": {"middle": box(0, 0, 100, 20, 20, 100)}}
    got, _ = solve(case, MESHES[0])
    METALS.update(kept)
    low, up = (METALS[m] for m in ("aluminium", "steel"))
    pairs = [(got["compliance"][2, 2], LOAD * l / (up["E"] * area)), (got["ends"][0, 2], LOAD * l / (low["E"] * area)),
             (got["sag"][0, 2], -up["density"] * GRAVITY * l * l / (2 * up["E"])),
             (got["sag"][1, 2], -(low["density"] / 2 + up["density"]) * GRAVITY * l * l / low["E"])]
    return max(abs(a / b - 1) for a, b in pairs)


def verify():
    """Print each value beside solid-heldout.yaml's; return the worst relative difference from it and of the pillar."""
    given = {c["id"]: c for c in yaml.safe_load((HERE / "solid-heldout.yaml").read_text())["cases"]}
    worst = 0.0
    for name in VERIFY:
        first, *others = given[name]["results"]
        # The work is on a held face, which does not move.
        found, _ = answer(given[name] | {"tool": first["at"][0], "work": given[name]["fixed"][0],
                                         "ends": {r["patch"]: r["at"][0] for r in others}})
        values = [np.diag(found["compliance"][0]), *found["ends"][0]]
        doubts = [np.diag(found["compliance"][1]), *found["ends"][1]]
        for r, value, doubt in zip([first] + others, values, doubts):
            for a, axis in enumerate("xyz"):
                want = r[axis + "_mm_per_kN"]
                worst = max(worst, abs(value[a] / want - 1))
                print(f"{name} {r['patch']:16} {axis} {value[a]:.5g} given {want:.5g}: "
                      f"{100 * value[a] / want - 100:+.2f} %, doubt {100 * doubt[a]:.2f} % here, "
                      f"{100 * r[axis + '_error_rel']:.2f} % there")
    closed = pillar()
    print(f"worst {100 * worst:.2f} %; pillar {closed:.1e}", flush=True)
    return worst, closed


HEADER = """\
# Fourth set of reference answers from 3D linear elasticity: whole small mills, all parts bonded where they touch.
# Made by solid_machines.py: 20-node hexahedra (15-node wedges along a gusset's slope) on CHOLMOD, three meshes graded
# toward the edges of held faces, of bonds and of patches, extrapolated. Coordinates in mm: x right, y back, z up.
# `fixed` faces do not move at all.
# compliance: row by row the mean movement in x, y, z of the patch `tool` less that of the patch `work`, mm, under
#   1000 N spread evenly over the tool's patch in x (first column), y, z (last column), and its opposite on the work's.
# ends: mean movement of the patch in x, y, z under 1000 N on that patch in the same direction, mm.
# sag: mean movement of the tool less that of the work, and of the ends, under own weight (9.81 m/s2 down), mm.
# *_error_rel: remaining uncertainty, relative to the value itself, but off the diagonal to the largest compliance of
#   the machine, and of a sag to its largest component. Less than 0.0003 of these is written as 0.
# Recomputed values, no publication: the source is the method. Check of the method: H1, H3 and H5 of solid-heldout.yaml,
# worst difference WORST; a pillar of two metals, nu = 0, pulled and under own weight: CLOSED off its closed forms.
"""


def row(v, size):
    """YAML of a row; what a symmetric machine's grid leaves of a zero, too small beside size to count, is one."""
    return "[" + ", ".join(f"{w:.5g}" if abs(w) > grid.ERROR_FLOOR / 10 * size else "0" for w in v) + "]"


def doubts(v):
    return "[" + ", ".join(f"{w:.2g}" for w in v) + "]"


def text(case, found, dof):
    out = f"- id: {case['id']}\n  title: \"{case['title']}\"\n"
    for key in ("blocks", "gussets", "fixed"):
        if key in case:
            out += f"  {key}:\n" + "".join(f"  - {flow(b)}\n" for b in case[key])
    out += f"  tool: {flow(case['tool'])}\n  work: {flow(case['work'])}\n"
    value, error = found["compliance"]
    for key, rows in (("", [row(v, np.abs(value).max()) for v in value]), ("_error_rel", map(doubts, error))):
        out += f"  compliance{key}:\n" + "".join(f"  - {r}\n" for r in rows)
    value, error = found["sag"]
    out += f"  sag: {row(value[0], np.abs(value[0]).max())}\n  sag_error_rel: {doubts(error[0])}\n  ends:\n"
    for (name, at), moved, doubt, sag, sag_doubt in zip(case["ends"].items(), *found["ends"], value[1:], error[1:]):
        out += f"  - patch: {name}\n    at: {flow(at)}\n"
        out += f"    moved: {row(moved, 0)}\n    moved_error_rel: {doubts(doubt)}\n"
        out += f"    sag: {row(sag, np.abs(sag).max())}\n    sag_error_rel: {doubts(sag_doubt)}\n"
    return out + f"  finest_mesh_dof: {dof}\n"


def write():
    worst, closed = verify()
    out = HEADER.replace("WORST", f"{100 * worst:.2f} %").replace("CLOSED", f"{closed:.0e}")
    out += "metals:\n" + "".join(f"  {name}: {flow(m)}\n" for name, m in METALS.items()) + "cases:\n"
    for case in CASES:
        out += text(case, *answer(case))
    (HERE / "solid-machines.yaml").write_text(out)


def finer(name):
    """Print each error_rel beside how far the same moved with meshes of half the cells, in percent."""
    (case,) = [c for c in CASES if c["id"] == name]
    found, _ = answer(case)
    half = tuple(h / 2 for h in MESHES[-1][:3]) + tuple(h / 1.25 for h in MESHES[-1][3:])
    again, _ = answer(case, [*MESHES[1:], half])
    for what, (value, error) in found.items():
        print(what, "claimed", np.round(100 * error, 2), "moved",
              np.round(100 * (again[what][0] - value) / scale(what, value), 2), sep="\n")


if __name__ == "__main__":
    {"verify": verify, "write": write, "finer": finer}[sys.argv[1]](*sys.argv[2:])
