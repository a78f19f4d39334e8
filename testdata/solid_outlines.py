#!/usr/bin/env python3
"""Makes solid-outlines.yaml: 3D linear elasticity answers for plates sawn to an outline.

Method: GetFEM (Renard & Poulios, ACM Trans. Math. Software 47 (2020)), tetrahedra with quadratic displacements. The
outline is triangulated by Delaunay's method from points along its edges and inside, triangles are halved across their
longest side toward corners where the stress is singular, and each is drawn through the thickness and cut into
tetrahedra. Units: N, mm, MPa. Needs NumPy, SciPy, CVXOPT and GetFEM (Debian:
python3-scipy, python3-cvxopt, python3-getfem).

    solid_outlines.py verify   a plate without a cut, and tapered and curved ones, against known answers
    solid_outlines.py write    verify, then solve CASES and write solid-outlines.yaml
"""
import math
import pathlib
import re
import sys
import time

import cvxopt
import cvxopt.cholmod
import getfem as gf
import numpy as np
import scipy.sparse as sp
from scipy.spatial import Delaunay

HERE = pathlib.Path(__file__).parent
E, NU, LOAD = 70000.0, 0.33, 1000.0
# Distance of points (mm) in the two meshes; beside singular corners sides are that times CORNER, growing by GROWTH per
# mm away from there.
SPACINGS = (12.0, 8.5)
CORNER, GROWTH = 0.15, 0.35
CHIP = 1e-6  # of a spacing's square: a triangle that rounding makes beside an edge
CHORD = 0.02  # mm that a chord may lie beside an arc


def box(x0, y0, z0, x1, y1, z1):
    return {"from": [x0, y0, z0], "to": [x1, y1, z1]}


def case(name, title, block, outline, fixed, **results):
    return {"id": name, "title": title, "block": block, "outline": outline, "fixed": fixed,
            "results": [{"patch": k, "at": v} for k, v in results.items()]}


CASES = [
    case("solid-O1", "C-frame of one plate 30 thick, throat 160 deep and 180 high, a corner cut off",
         box(0, 0, 0, 30, 240, 300), "M 0 0 H 200 L 240 40 V 300 H 0 V 240 H 160 V 60 H 0 Z",
         [box(0, 0, 0, 30, 240, 0)],
         nose=box(0, 0, 240, 30, 0, 300), arm_top=box(0, 0, 300, 30, 40, 300), arm_side=box(30, 10, 250, 30, 50, 290)),
    case("solid-O2", "L 20 thick lying flat, held by the end of one leg",
         box(0, 0, 0, 260, 200, 20), "M 0 0 H 70 V 120 H 260 V 200 H 0 Z",
         [box(0, 200, 0, 70, 200, 20)],
         end=box(260, 0, 0, 260, 80, 20), end_top=box(220, 20, 20, 260, 60, 20), elbow=box(0, 0, 0, 40, 0, 20)),
    case("solid-O3", "cheek of a gantry 20 thick, slanted edges and a window with cut corners",
         box(0, 0, 0, 20, 220, 320), "M 110 0 H 190 L 220 320 H 0 Z "
         "M 95 130 L 110 100 H 165 L 178 130 V 230 L 165 250 H 75 L 60 230 Z",
         [box(0, 0, 0, 20, 220, 0)],
         top=box(0, 110, 320, 20, 190, 320), shoulder=box(20, 130, 270, 20, 170, 310)),
    case("solid-O4", "hook 15 thick: half a ring of radii 60 and 110 with straight ends",
         box(0, 0, 0, 260, 15, 220), "M 150 0 H 110 A 110 110 0 0 0 0 110 A 110 110 0 0 0 110 220 "
         "H 260 V 170 H 110 A 60 60 0 0 1 50 110 A 60 60 0 0 1 110 50 H 150 Z",
         [box(260, 0, 0, 260, 15, 50)],
         tip=box(150, 0, 170, 150, 15, 220), tip_top=box(110, 0, 220, 150, 15, 220)),
    case("solid-O5", "tapered plate 12 thick, 100 wide at its held end and 40 at the other",
         box(0, 0, 0, 12, 300, 100), "M 0 0 L 300 30 V 70 L 0 100 Z",
         [box(0, 0, 0, 12, 0, 100)],
         end=box(0, 300, 30, 12, 300, 70), end_side=box(12, 260, 40, 12, 290, 60)),
    case("solid-O6", "block 25 thick with two slots 4 wide sawn in from its sides",
         box(0, 0, 0, 25, 160, 200), "M 0 0 H 160 V 96 H 50 V 100 H 160 V 200 H 0 V 64 H 110 V 60 H 0 Z",
         [box(0, 0, 0, 25, 160, 0)],
         top=box(0, 60, 200, 25, 100, 200), corner=box(0, 0, 200, 25, 30, 200)),
]


def corners(path):
    """Loops of a path with M, L, H, V, A (circles) and Z, absolute, arcs as chords."""
    loops, pen = [], (0.0, 0.0)
    for command, numbers in re.findall(r"([MLHVAZ])([^MLHVAZ]*)", path):
        xs = [float(x) for x in numbers.replace(",", " ").split()]
        if command == "M":
            loops.append([tuple(xs)])
        elif command in "LHV":
            to = {"L": lambda: tuple(xs), "H": lambda: (xs[0], pen[1]), "V": lambda: (pen[0], xs[0])}[command]()
            loops[-1].append(to)
        elif command == "A":
            r, large, sweep, end = xs[0], xs[3], xs[4], (xs[5], xs[6])
            mx, my = (pen[0] + end[0]) / 2, (pen[1] + end[1]) / 2
            dx, dy = end[0] - pen[0], end[1] - pen[1]
            half = math.hypot(dx, dy) / 2
            h = math.sqrt(max(0.0, r * r - half * half)) * (1 if large != sweep else -1)
            cx, cy = mx - h * dy / (2 * half), my + h * dx / (2 * half)
            a, b = math.atan2(pen[1] - cy, pen[0] - cx), math.atan2(end[1] - cy, end[0] - cx)
            turn = (b - a) % (2 * math.pi) if sweep else -((a - b) % (2 * math.pi))
            n = math.ceil(abs(turn) / (2 * math.acos(1 - CHORD / r)))
            loops[-1] += [(cx + r * math.cos(a + turn * k / n), cy + r * math.sin(a + turn * k / n)) for k in range(1, n)]
            loops[-1].append(end)
        if loops:
            pen = loops[-1][-1] if command != "Z" else loops[-1][0]
    out = []
    for loop in loops:
        loop = np.array(loop)
        if np.allclose(loop[0], loop[-1]):
            loop = loop[:-1]
        out.append(loop)
    return out


def placed(c):
    """The axis across the plate, the two along it, and the loops in the plate's plane."""
    lo, hi = np.array(c["block"]["from"], float), np.array(c["block"]["to"], float)
    n = int(np.argmin(hi - lo))
    u, v = [a for a in range(3) if a != n]
    loops = corners(c["outline"])
    least = np.concatenate(loops).min(axis=0)
    return n, u, v, [np.stack([lo[u] + l[:, 0] - least[0], hi[v] - (l[:, 1] - least[1])], axis=1) for l in loops]


def enclosed(loops, p):
    """Even-odd rule, for many points at once."""
    inside = np.zeros(len(p), bool)
    for loop in loops:
        for a, b in zip(loop, np.roll(loop, -1, axis=0)):
            if a[1] == b[1]:
                continue
            crosses = ((a[1] > p[:, 1]) != (b[1] > p[:, 1]))
            at = a[0] + (p[:, 1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
            inside ^= crosses & (p[:, 0] < at)
    return inside


def distance(p, a, b):
    d = b - a
    t = np.clip(((p - a) @ d) / (d @ d), 0, 1)
    return np.linalg.norm(p - a - t[:, None] * d, axis=1)


def triangles(loops, marks, lines, spacing):
    """Points and triangles: dense points along edges and along lines that the mesh must follow, a jittered grid inside."""
    segments = [(a, b) for loop in loops for a, b in zip(loop, np.roll(loop, -1, axis=0))] + lines
    points = []
    for a, b in segments:
        on = [0.0, 1.0] + [t for m in marks
                           for t in [float((m - a) @ (b - a) / ((b - a) @ (b - a)))]
                           if 0 < t < 1 and np.linalg.norm(a + t * (b - a) - m) < 1e-9]
        on = sorted(on)
        for s, t in zip(on, on[1:]):
            n = max(1, math.ceil(np.linalg.norm(b - a) * (t - s) / (0.7 * spacing)))
            points += [a + (s + (t - s) * k / n) * (b - a) for k in range(n + 1)]
    edge = np.unique(np.round(np.array(points), 9), axis=0)
    lo, hi = edge.min(axis=0), edge.max(axis=0)
    rows = np.arange(lo[1], hi[1], spacing * 0.87)
    grid = np.array([(x + (i % 2) * spacing / 2, y) for i, y in enumerate(rows) for x in np.arange(lo[0], hi[0], spacing)])
    grid += np.random.default_rng(1).uniform(-0.05, 0.05, grid.shape) * spacing
    keep = enclosed(loops, grid)
    for a, b in segments:
        keep &= distance(grid, a, b) > 0.55 * spacing
    p = np.concatenate([edge, grid[keep]])
    t = Delaunay(p).simplices
    a, b, c = p[t[:, 0]], p[t[:, 1]], p[t[:, 2]]
    area = ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]) / 2
    t = t[enclosed(loops, (a + b + c) / 3) & (np.abs(area) > CHIP * spacing ** 2)]
    area = np.abs(area[enclosed(loops, (a + b + c) / 3) & (np.abs(area) > 1e-9)]).sum()
    want = abs(sum(polygon_area(l) * (1 if i == 0 else -1) for i, l in enumerate(loops)))
    assert abs(area / want - 1) < 1e-7, f"the triangles cover {area}, the outline {want}"
    return p, t


def polygon_area(l):
    x, y = l[:, 0], l[:, 1]
    return abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)) / 2)


def refined(p, t, singular, spacing):
    """Halves triangles across their longest side (Rivara) until none is larger than allowed where it lies."""
    p, t = [tuple(x) for x in p], [tuple(x) for x in t]
    middle = {}

    def side(x, k):
        a, b = x[k], x[(k + 1) % 3]
        return min(a, b), max(a, b)

    def mid(key):
        a, b = key
        if key not in middle:
            middle[key] = len(p)
            p.append(((p[a][0] + p[b][0]) / 2, (p[a][1] + p[b][1]) / 2))
        return middle[key]

    def longest(x):
        return max(range(3), key=lambda k: (round(math.dist(p[x[k]], p[x[(k + 1) % 3]]), 9),
                                            -side(x, k)[0], -side(x, k)[1]))

    while True:
        marked = set()
        for x in t:
            c = [sum(p[i][k] for i in x) / 3 for k in range(2)]
            k = longest(x)
            size = math.dist(p[x[k]], p[x[(k + 1) % 3]])
            allowed = min([1.4 * spacing] + [CORNER * spacing + GROWTH * math.dist(c, s) for s in singular])
            if size > 1.5 * allowed:
                marked.add(side(x, k))
        if not marked:
            return np.array(p), np.array(t)
        while True:  # a triangle with any marked side has its longest one marked
            more = set()
            for x in t:
                sides = [side(x, k) for k in range(3)]
                k = longest(x)
                if sides[k] not in marked and any(s in marked for s in sides):
                    more.add(sides[k])
            if not more:
                break
            marked |= more
        out = []
        todo = list(t)
        while todo:
            x = todo.pop()
            sides = [side(x, k) for k in range(3)]
            if not any(s in marked for s in sides):
                out.append(x)
                continue
            k = next(k for k in (longest(x), 0, 1, 2) if sides[k] in marked)
            m, a, b, c = mid(sides[k]), x[k], x[(k + 1) % 3], x[(k + 2) % 3]
            todo += [(a, m, c), (m, b, c)]
        t = out


def tetrahedra(p, t, through):
    """Prisms over the triangles, cut into three tetrahedra each, the same way on both sides of a face."""
    n = len(p)
    tets = []
    for layer in range(len(through) - 1):
        for x in t:
            a, b, c = sorted(int(i) for i in x)
            lo, hi = layer * n, (layer + 1) * n
            tets += [(a + lo, b + lo, c + lo, c + hi), (a + lo, b + lo, b + hi, c + hi), (a + lo, a + hi, b + hi, c + hi)]
    return np.array(tets)


def solve(c, spacing):
    n, u, v, loops = placed(c)
    lo, hi = c["block"]["from"][n], c["block"]["to"][n]
    flat = lambda b: [b["from"], b["to"]]
    marks, lines, singular = [], [], []
    for r in [*c["fixed"], *(r["at"] for r in c["results"])]:
        a, b = [np.array([q[u], q[v]], float) for q in flat(r)]
        marks += [a, b]
        if r["from"][n] == r["to"][n]:
            w, x = np.array([b[0], a[1]]), np.array([a[0], b[1]])
            lines += [(a, w), (w, b), (b, x), (x, a)]
    for f in c["fixed"]:
        singular += [(q[u], q[v]) for q in flat(f)]
    for i, loop in enumerate(loops):
        before, after = loop - np.roll(loop, 1, axis=0), np.roll(loop, -1, axis=0) - loop
        turn = np.arctan2(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], (before * after).sum(axis=1))
        way = np.sign(np.sum(loop[:, 0] * np.roll(loop[:, 1], -1) - loop[:, 1] * np.roll(loop[:, 0], -1)))
        way = way if i == 0 else -way
        singular += [tuple(q) for q in loop[way * turn < -0.5]]
    p, t = refined(*triangles(loops, marks, lines, spacing), singular, spacing)
    layers = max(3, math.ceil((hi - lo) / spacing))
    through = np.linspace(lo, hi, layers + 1)
    tets = tetrahedra(p, t, through)
    place = np.zeros((3, len(p) * len(through)))
    for k, z in enumerate(through):
        s = slice(k * len(p), (k + 1) * len(p))
        place[u, s], place[v, s], place[n, s] = p[:, 0], p[:, 1], z
    for i, x in enumerate(tets):  # right-handed
        a, b, d, e = place[:, x].T
        if np.dot(np.cross(b - a, d - a), e - a) < 0:
            tets[i] = x[[1, 0, 2, 3]]
    mesh = gf.Mesh("empty", 3)
    mesh.add_point(place)
    mesh.add_convex(gf.GeoTrans("GT_PK(3,1)"), place[:, tets].transpose(0, 2, 1))
    mf = gf.MeshFem(mesh, 3)
    mf.set_fem(gf.Fem("FEM_PK(3,2)"))
    mim = gf.MeshIm(mesh, gf.Integ("IM_TETRAHEDRON(5)"))
    outer = mesh.outer_faces()
    middles = []
    for cv, f in outer.T:
        ids = mesh.pid_in_faces(np.array([[cv], [f]]))
        middles.append(mesh.pts(ids).mean(axis=1))
    middles = np.array(middles)

    def region(number, b):
        low, high = np.array(b["from"]) - 1e-6, np.array(b["to"]) + 1e-6
        chosen = np.all((middles >= low) & (middles <= high), axis=1)
        assert chosen.any(), b
        mesh.set_region(number, outer[:, chosen])

    data = gf.MeshFem(mesh, 1)
    data.set_fem(gf.Fem("FEM_PK(3,0)"))
    one = np.ones(data.nbdof())
    K = gf.asm_linear_elasticity(mim, mf, data, one * E * NU / ((1 + NU) * (1 - 2 * NU)), one * E / (2 * (1 + NU)))
    starts, rows = K.csc_ind()
    K = sp.csc_matrix((K.csc_val(), rows, starts), shape=(mf.nbdof(), mf.nbdof()))
    held = np.zeros(mf.nbdof(), bool)
    for i, f in enumerate(c["fixed"]):
        region(100 + i, f)
        held[mf.basic_dof_on_region(100 + i)] = True
    W = []
    for i, r in enumerate(c["results"]):
        region(1 + i, r["at"])
        for k in range(3):
            W.append(gf.asm_boundary_source(1 + i, mim, mf, data, np.outer(np.eye(3)[k], one)))
    W = np.array(W).T
    # The traction of a unit pressure adds up to the area; what it reads of a movement is its mean times the area.
    area = W[:, 0::3].sum(axis=0)
    free = np.flatnonzero(~held)
    K = sp.tril(K[free][:, free]).tocoo()
    A = cvxopt.spmatrix(cvxopt.matrix(K.data), cvxopt.matrix(K.row.astype(np.int64)),
                        cvxopt.matrix(K.col.astype(np.int64)), (len(free), len(free)))
    U = cvxopt.matrix(W[free])
    factor = cvxopt.cholmod.symbolic(A)
    cvxopt.cholmod.numeric(A, factor)
    cvxopt.cholmod.solve(factor, U)
    reads = np.sum(W[free] * np.array(U), axis=0).reshape(-1, 3)
    return LOAD * reads / area[:, None] ** 2, len(free)


def answer(c):
    runs = []
    for s in SPACINGS:
        t = time.time()
        value, dof = solve(c, s)
        runs.append(value)
        print(f"{c['id']}: {dof} unknowns, {time.time() - t:.0f} s", file=sys.stderr, flush=True)
    coarse, fine = runs
    # Not extrapolated: the step is the doubt.
    return fine, np.abs(fine / coarse - 1), dof


def verify():
    """Worst relative difference from what is known."""
    worst = 0.0
    whole = case("whole", "", box(0, 0, 0, 12, 300, 60), "M 0 0 H 300 V 60 H 0 Z", [box(0, 0, 0, 12, 0, 60)],
                 end=box(0, 300, 0, 12, 300, 60))
    value, _, _ = answer(whole)
    inertia, area, g = 12 * 60 ** 3 / 12, 12 * 60, E / 2 / (1 + NU)
    beam = LOAD * (300 ** 3 / 3 / E / inertia + 300 * 1.2 / g / area)
    print(f"straight: {value[0, 2]:.5g}, beam with shear {beam:.5g}")
    worst = max(worst, abs(value[0, 2] / beam - 1))
    taper = next(c for c in CASES if c["id"] == "solid-O5")
    value, _, _ = answer(taper)
    xs = (np.arange(20000) + 0.5) / 20000 * 300
    h = 100 - 60 * xs / 300
    beam = LOAD * np.sum((300 - xs) ** 2 / (E * 12 * h ** 3 / 12) + 1.2 / (g * 12 * h)) * 300 / 20000
    print(f"tapered: {value[0, 2]:.5g}, beam with shear {beam:.5g}")
    worst = max(worst, abs(value[0, 2] / beam - 1))
    return worst


HEADER = """\
# Fifth set of reference answers from 3D linear elasticity: plates sawn to an outline. Made by solid_outlines.py with
# GetFEM: tetrahedra with quadratic displacements, graded toward inward corners. `error_rel` is the step from a coarser
# mesh to this. Aluminium E = 70000 MPa, nu = 0.33. Coordinates in mm: x right, y back, z up; `outline` is the path of an
# SVG drawing of the plate as a model file takes it. Load: 1000 N spread evenly over the patch, in x, y or z; result: mean
# movement of that patch in the same direction, mm per 1000 N. `fixed` faces do not move at all. Recomputed values, no
# publication: the source is the method. Check of the method: a straight and a tapered cantilever against beams with
# shear (Timoshenko; over the taper integrated), worst difference WORST.
cases:
"""


def flow(b):
    return "{from: [%s], to: [%s]}" % tuple(", ".join(f"{x:g}" for x in b[k]) for k in ("from", "to"))


def write():
    out = HEADER.replace("WORST", f"{100 * verify():.1f} %")
    for c in CASES:
        value, error, dof = answer(c)
        out += f"- id: {c['id']}\n  title: \"{c['title']}\"\n  blocks:\n"
        out += f"  - {flow(c['block'])[:-1]}, outline: \"{c['outline']}\"}}\n"
        out += "  fixed:\n" + "".join(f"  - {flow(b)}\n" for b in c["fixed"]) + "  results:\n"
        for r, row, off in zip(c["results"], value, error):
            out += f"  - patch: {r['patch']}\n    at: [{flow(r['at'])}]\n"
            for axis, x, e in zip("xyz", row, off):
                out += f"    {axis}_mm_per_kN: {x:.5g}\n    {axis}_error_rel: {e:.2g}\n"
        out += f"  finest_mesh_dof: {dof}\n"
        (HERE / "solid-outlines.yaml").write_text(out)


if __name__ == "__main__":
    {"verify": verify, "write": write}[sys.argv[1]]()
