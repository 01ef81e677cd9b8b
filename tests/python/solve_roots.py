"""Makes tests/published/solve_roots.csv anew: solve_roots.py [FILE]

Which input gives a wanted answer, by SciPy's brentq on formulas written out here as the calculations' pages have them, brackets by
eye. Nothing of the library is asked. tests/rust/solve.rs holds its own solutions against the table. Needs what requirements.txt
lists.
"""

import csv
import json
import math
import sys
from pathlib import Path

import scipy
from scipy import optimize, stats

GAS = 8.314462618


def volume(count, thread, thickness=None):
    """What a mesh holds, um: count in /cm, thread in um."""
    return (1 - count * thread * 1e-4) ** 2 * (thickness or 1.5 * thread)


def edge_share(width, reach):
    return -2 * reach / width * math.expm1(-width / (2 * reach))


def held(temperature, hold, energy, to):
    """The hold at another temperature: degC, s, kJ/mol."""
    return hold * math.exp(energy * 1e3 / GAS * (1 / (to + 273.15) - 1 / (temperature + 273.15)))


def within_both_axes(trap, standard):
    return (2 * stats.norm.cdf(trap / standard) - 1) ** 2


DEPOSIT = {"mesh": "55-64", "ink": "plastisol", "over_mesh": "15 um", "edge_length_scale": "0.2 mm"}
USAGE = {"mesh": {"count": "77 /cm", "thread": "55 um"}, "ink": "plastisol", "printed_area": "460 cm2", "prints": 1200}
UNDERCUT = {"film_gap": "50 um", "half_angle": "15 deg", "stencil_thickness": "90 um", "line": "300 um"}
CURVE = {
    "points": [{"exposure": "40 mJ/cm2", "depth": "70 um"}, {"exposure": "80 mJ/cm2", "depth": "113 um"}],
    "stencil_thickness": "100 um",
}
FRAME = {"span_length": "500 mm", "span_width": "450 mm", "gap": "3 mm", "image_length": "380 mm"}
CURE = {"from": {"temperature": "160 degC", "hold": "60 s"}, "activation_energy": "90 kJ/mol", "to": {"temperature": "150 degC"}}
SOURCES = {"sources": [{"name": "a", "half_width": "0.2 mm", "shape": "normal"}], "colours": 2, "trap": "0.4 mm"}

# Calculation, request, what is varied, from, to, its unit, what is wanted, its value and unit; the formula in words; the answer as a
# function of what is varied, in those units; a bracket for each root; how close the library promises to be.
CASES = [
    ("mesh.geometry", {"mesh": "77-55"}, "/mesh/thread", 5, 110, "um", "/ink_volume", 15, "cm3/m2",
     "(1 - n d)^2 1.5 d",
     lambda d: volume(77, d), [(5, 43), (44, 110)], 1e-10),
    ("mesh.geometry", {"mesh": {"count": "77 /cm", "thread": "55 um", "thickness": "90 um"}},
     "/mesh/count", 20, 130, "/cm", "/ink_volume", 30, "cm3/m2",
     "(1 - n d)^2 D",
     lambda n: volume(n, 55, 90), [(20, 130)], 1e-10),
    ("ink.deposit", {**DEPOSIT, "feature_width": "1 mm"}, "/feature_width", 20, 5000, "um", "/wet_film", 18, "um",
     "release (volume + over e(W)), e = -(2 L / W) expm1(-W / (2 L))",
     lambda width: 0.4 * (volume(55, 64) + 15 * edge_share(width, 200)), [(20, 5000)], 1e-10),
    ("ink.deposit", {**DEPOSIT, "feature_width": "0.4 mm"}, "/edge_length_scale", 10, 3000, "um", "/wet_film", 20, "um",
     "as before, of L",
     lambda reach: 0.4 * (volume(55, 64) + 15 * edge_share(400, reach)), [(10, 3000)], 1e-10),
    ("ink.usage", USAGE, "/mesh/thread", 5, 95, "um", "/mass_to_mix", 0.6, "kg",
     "prints A release (1 - n d)^2 1.5 d density (1 + waste) + 100 g",
     lambda d: 1200 * 460e-4 * 0.4 * volume(77, d) * 1e-6 * 1150 * 1.1 + 0.1, [(5, 43), (44, 95)], 1e-10),
    ("exposure.step", {"time": "95 s", "solid_step": 5}, "/density_per_step", 0.05, 0.5, "1", "/time", 180, "s",
     "95 s x 10^(2 density)",
     lambda density: 95 * 10 ** (2 * density), [(0.05, 0.5)], 1e-10),
    ("exposure.rescale", {"time": "90 s", "distance": {"from": "60 cm", "to": "75 cm"}, "reciprocity_exponent": 0.86},
     "/distance/to", 20, 200, "cm", "/time", 200, "s",
     "90 s (to / 60)^(2 / 0.86)",
     lambda to: 90 * (to / 60) ** (2 / 0.86), [(20, 200)], 1e-10),
    ("exposure.curve", CURVE, "/points/1/depth", 75, 200, "um", "/exposure", 90, "mJ/cm2",
     "40 exp(30 / Dp), Dp = (depth - 70) / ln 2",
     lambda depth: 40 * math.exp(30 * math.log(2) / (depth - 70)), [(75, 200)], 1e-10),
    ("exposure.undercut", UNDERCUT, "/half_angle", 0, 60, "deg", "/line_left", 250, "um",
     "300 - 100 tan(angle)",
     lambda angle: 300 - 100 * math.tan(math.radians(angle)), [(0, 60)], 1e-10),
    ("tension.off_contact", FRAME, "/gap", 0.5, 20, "mm", "/image_growth", 0.1, "mm",
     "380 (2 sqrt(250^2 + g^2) / 500 - 1)",
     lambda gap: 380 * (2 * math.hypot(250, gap) / 500 - 1), [(0.5, 20)], 1e-10),
    ("cure.equivalent", CURE, "/to/temperature", 100, 200, "degC", "/hold", 300, "s",
     "60 s exp((Ea / R) (1 / T' - 1 / T))",
     lambda to: held(160, 60, 90, to), [(100, 200)], 1e-10),
    ("cure.equivalent", CURE, "/activation_energy", 10, 300, "kJ/mol", "/hold", 130, "s",
     "as before, of Ea",
     lambda energy: held(160, 60, energy, 150), [(10, 300)], 1e-10),
    # Its chances are promised to 1e-6; where they fall by some tenths a millimetre, half-widths follow to 1e-5.
    ("register.budget", SOURCES, "/sources/0/half_width", 0.05, 1, "mm", "/pair_within_probability", 0.9, "1",
     "(2 phi(t / s) - 1)^2, s = sqrt(2) a / 1.959964",
     lambda a: within_both_axes(0.4, math.sqrt(2) * a / stats.norm.ppf(0.975)), [(0.05, 1)], 1e-5),
]  # fmt: skip


def main(path):
    with open(path, "w", encoding="utf-8", newline="") as file:
        made = f"scipy.optimize.brentq of SciPy {scipy.__version__} of the formulas in tests/python/solve_roots.py, which makes this file"
        file.write(f"# Roots by {made}.\n")
        rows = csv.writer(file, lineterminator="\n")
        rows.writerow("calculation,request,vary,from,to,unit,want,equals,equals_unit,formula,roots,within".split(","))
        for id, request, vary, start, end, unit, want, equals, equals_unit, formula, answer, brackets, within in CASES:
            found = [optimize.brentq(lambda x: answer(x) - equals, *bracket, xtol=1e-14, rtol=1e-15) for bracket in brackets]
            roots = ";".join(f"{root:.15g}" for root in found)
            rows.writerow([id, json.dumps(request), vary, start, end, unit, want, equals, equals_unit, formula, roots, within])


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).resolve().parents[1] / "published" / "solve_roots.csv")
