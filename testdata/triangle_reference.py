"""Makes triangle-reference.yaml: how far right-angled triangular plates give way, held along one leg.

Legs a along x and b along y from the corner at the origin, thickness t. The edge x = 0 does not move (and, across the
plate, does not tilt). A force of 1 N in all is spread evenly along the edge y = 0; the answer is the mean movement of that
edge in the direction of the force, mm/N: in the plane as plane stress, across it as a thin (Kirchhoff) plate.

Method: Ritz with u = x·p(x, y), v = x·q(x, y), w = x²·r(x, y), p, q and r complete polynomials of degree N, products of
Legendre polynomials, integrated by Gauss's rule on the collapsed square. A Ritz compliance grows with N towards the true
one. The last two degrees are extrapolated (error ~ N^-s, s from three), and the step that makes is the error given.
Checked against cubic triangles in the plane and Argyris's across it, on four meshes each, with a general PDE toolkit: the
extrapolated values differ by less than 1e-4.
Needs NumPy only. Run: python3 triangle_reference.py > triangle-reference.yaml
"""

import numpy as np
from numpy.polynomial import legendre

E, NU = 70000.0, 0.33
SHAPES = [(100, 100, 20), (100, 60, 20), (60, 100, 20), (90, 40, 8)]
DEGREES = (10, 14, 20)


def basis(degree, x, y):
    """Values and derivatives up to the second of all products of degree <= N, at unit coordinates: f, fx, fy, fxx, fxy, fyy."""
    def table(s):
        rows = []
        for k in range(degree + 1):
            c = np.zeros(k + 1)
            c[k] = 1
            rows.append([legendre.legval(2 * s - 1, legendre.legder(c, d)) * 2.0**d for d in range(3)])
        return np.array(rows)  # degree, derivative, point

    tx, ty = table(x), table(y)
    pairs = [(i, j) for i in range(degree + 1) for j in range(degree + 1 - i)]
    orders = [(0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2)]
    return [np.array([tx[i, p] * ty[j, q] for i, j in pairs]) for p, q in orders]


def compliances(a, b, t, degree):
    g, wg = np.polynomial.legendre.leggauss(degree + 4)
    g, wg = (g + 1) / 2, wg / 2
    x, l = (m.ravel() for m in np.meshgrid(g, g))
    weight = np.outer(wg, wg).ravel() * (1 - x) * a * b
    y = (1 - x) * l
    f, fx, fy, fxx, fxy, fyy = basis(degree, x, y)
    edge = basis(degree, g, 0 * g)[0]

    # In the plane: u = x·p.
    ux, uy = (f + x * fx) / a, x * fy / b
    plane = E * t / (1 - NU**2)
    shear = E * t / (2 * (1 + NU))
    inner = lambda p, q: (p * weight) @ q.T
    k = np.block([
        [plane * inner(ux, ux) + shear * inner(uy, uy), plane * NU * inner(ux, uy) + shear * inner(uy, ux)],
        [plane * NU * inner(uy, ux) + shear * inner(ux, uy), plane * inner(uy, uy) + shear * inner(ux, ux)],
    ])
    load = edge @ (g * wg)
    zero = np.zeros_like(load)
    along, square = (quadratic(k, np.concatenate(p)) for p in ((load, zero), (zero, load)))

    # Across it: w = x²·r.
    cxx = (2 * f + 4 * x * fx + x**2 * fxx) / a**2
    cxy = (2 * x * fy + x**2 * fxy) / (a * b)
    cyy = x**2 * fyy / b**2
    d = E * t**3 / (12 * (1 - NU**2))
    k = d * (inner(cxx, cxx) + inner(cyy, cyy) + NU * (inner(cxx, cyy) + inner(cyy, cxx)) + 2 * (1 - NU) * inner(cxy, cxy))
    return np.array([along, square, quadratic(k, edge @ (g**2 * wg))])


def quadratic(k, f):
    """f·K⁻¹·f, with K's rows scaled to a unit diagonal."""
    s = 1 / np.sqrt(np.diag(k))
    return (f * s) @ np.linalg.solve(k * np.outer(s, s), f * s)


def extrapolated(shape):
    n = np.array(DEGREES, float)
    c = np.array([compliances(*shape, d) for d in DEGREES])
    best, step = [], []
    for col in c.T:
        # c = limit − k·N^−s
        lo, hi = 0.5, 20.0
        ratio = (col[1] - col[0]) / (col[2] - col[1])
        drop = lambda s: (n[0]**-s - n[1]**-s) / (n[1]**-s - n[2]**-s)
        for _ in range(80):
            mid = (lo + hi) / 2
            lo, hi = (mid, hi) if drop(mid) < ratio else (lo, mid)
        r = n[2]**-lo / (n[1]**-lo - n[2]**-lo)
        best.append(col[2] + (col[2] - col[1]) * r)
        step.append((col[2] - col[1]) * r)
    return np.array(best), np.array(step)


print("# Right-angled triangular plates held along one leg, loaded along the other. Made by triangle_reference.py, which says")
print("# what and how. error_rel is the uncertainty of a value.")
print("E_MPa: %g\npoisson: %g" % (E, NU))
print("cases:")
for shape in SHAPES:
    best, step = extrapolated(shape)
    print("- id: triangle-%d-%d-%d" % shape)
    print("  source: recomputed by Ritz's method with polynomials up to degree %d, extrapolated; no publication" % DEGREES[-1])
    print("  leg_held_to_tip_mm: %d\n  leg_held_mm: %d\n  thickness_mm: %d" % shape)
    for name, v, e in zip(("along_loaded_leg", "in_plane_square_to_loaded_leg", "across_the_plate"), best, step):
        print("  %s_mm_per_N: %.6e\n  %s_error_rel: %.1e" % (name, v, name, abs(e) / v))
