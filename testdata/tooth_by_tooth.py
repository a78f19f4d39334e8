#!/usr/bin/python3
"""Forces of milling summed tooth by tooth and slice by slice, for testdata/tooth-by-tooth.yaml.

Written from the linear edge-force law alone (dF = (Kc h + Ke) dz; Altintas, Manufacturing Automation, ch. 2, from
memory): every flute is cut into discs along the tool, every disc's tooth angle is followed through a revolution. No
integral in closed form and no search for peaks, so nothing is shared with the program. 720 discs and 3600 angles put
the peaks within a thousandth. Coefficients in MPa and N/mm, lengths in mm, angles in degrees clockwise from the normal
direction, forces of the work on the tool along feed, normal and axis.

    python3 testdata/tooth_by_tooth.py > testdata/tooth-by-tooth.yaml
"""
import numpy as np

BRASS = dict(kt=750, kr=225, ka=150, kte=10, kre=10, kae=1)
ALLOY = dict(kt=631, kr=99, ka=273, kte=13, kre=10, kae=2.8)
STEEL = dict(kt=1900, kr=760, ka=380, kte=30, kre=37.5, kae=2)
CUTS = [
    ("slot, straight flutes", "slot", 6, 2, 0, 0, 1.5, 0.03, BRASS),
    ("slot, helix", "slot", 6, 2, 30, 0, 3, 0.02, BRASS),
    ("deep slot, three flutes", "slot", 6, 3, 35, 0, 6, 0.02, ALLOY),
    ("one flute", "slot", 4, 1, 25, 0, 2, 0.04, ALLOY),
    ("shoulder, down", "down", 10, 4, 30, 2, 12, 0.03, ALLOY),
    ("finishing, down", "down", 6, 2, 30, 0.2, 3, 0.03, BRASS),
    ("half the width, down", "down", 8, 3, 38, 4, 5, 0.025, STEEL),
    ("shoulder, up", "up", 8, 2, 45, 3, 16, 0.02, STEEL),
    ("nearly a slot, up", "up", 6, 4, 30, 5.5, 2, 0.015, BRASS),
    ("centred strip", "centred", 16, 3, 20, 10, 3, 0.05, ALLOY),
]
DISCS, ANGLES = 720, 3600


def engagement(mode, width, diameter):
    side = np.arccos(1 - 2 * width / diameter)
    half = np.arcsin(min(width / diameter, 1))
    return {"slot": (0, np.pi), "up": (0, side), "down": (np.pi - side, np.pi),
            "centred": (np.pi / 2 - half, np.pi / 2 + half)}[mode]


def forces(mode, diameter, flutes, helix, width, depth, feed, k):
    entry, exit = engagement(mode, width, diameter)
    z = (np.arange(DISCS) + 0.5) * depth / DISCS
    dz = depth / DISCS
    lag = 2 * z * np.tan(np.radians(helix)) / diameter
    turn = (np.arange(ANGLES) + 0.5) * 2 * np.pi / ANGLES
    sums = np.zeros((4, ANGLES))
    for tooth in range(flutes):
        phi = (turn[:, None] + tooth * 2 * np.pi / flutes - lag[None, :]) % (2 * np.pi)
        cutting = (phi >= entry) & (phi <= exit)
        h = feed * np.sin(phi)
        ft, fr, fa = (np.where(cutting, (k["k" + n] * h + k["k" + n + "e"]) * dz, 0) for n in "tra")
        sums += [(-ft * np.cos(phi) - fr * np.sin(phi)).sum(1), (ft * np.sin(phi) - fr * np.cos(phi)).sum(1),
                 -fa.sum(1), ft.sum(1) * diameter / 2]
    return sums


print("# Written by tooth_by_tooth.py, which says how. N, N·mm, mm.")
print("cuts:")
for name, mode, diameter, flutes, helix, width, depth, feed, k in CUTS:
    s = forces(mode, diameter, flutes, helix, width, depth, feed, k)
    law = ", ".join(f"{n}: {v}" for n, v in k.items())
    print(f"- {{name: \"{name}\", mode: {mode}, diameter: {diameter}, flutes: {flutes}, helix: {helix}, "
          f"radial: {width},\n   axial: {depth}, feed_per_tooth: {feed}, law: {{{law}}},")
    mean = ", ".join(f"{v:.5g}" for v in s.mean(1))
    print(f"   mean: [{mean}], peak: {np.sqrt((s[:3] ** 2).sum(0)).max():.5g}, "
          f"peak_across: {np.sqrt((s[:2] ** 2).sum(0)).max():.5g}, peak_torque: {s[3].max():.5g}}}")
