"""Fits a dryer to probe logs that an independent model made: probe_peers.py LIBRARY

The logs come from finite volumes of film and cloth in air and under panels, solved by SciPy, with factors on transfer and
panels that dryer.fit must find back: closely where the readings are exact, within its own stated errors where they are
noisy. Needs what requirements.txt lists. Prints what differs, then the counts.
"""

import math
import sys

import numpy as np
from scipy import constants
from scipy.integrate import solve_ivp

from shared import quantity, run

ZERO = constants.zero_Celsius
FILM, INK_CELLS, CLOTH_CELLS = 40e-6, 6, 60
# Conductivity, density, specific heat of the film: those of the design.
INK = (0.17, 1150.0, 1500.0)
# Mass per area, thickness, conductivity, specific heat, bound water as a share.
JERSEY = (0.180, 0.55e-3, 0.055, 1340.0, 0.075)
DRY_JERSEY = (*JERSEY[:4], 0.0)
# Length m, air degC, transfer above and below W/(m2.K), panel degC, share of exchange.
AIR = [(2.0, 175.0, 20.0, 12.0, None, None)]
INFRARED = [(1.2, 120.0, 10.0, 8.0, 430.0, 0.16)]
TWO_ZONES = [(0.6, 90.0, 12.0, 10.0, 450.0, 0.15), (1.0, 170.0, 22.0, 14.0, None, None)]
NOISE = 0.5


def probe(zones, cloth, speed, factors, distances):
    """What a probe between film and cloth reads at these distances, degC; the belt's speed in m/min.

    Method of lines: cells of one size in each layer, faces without capacity, bound water as a heat capacity between 60 and
    120 degC (2.6 MJ/kg), which it is as long as nothing cools.
    """
    mass, thickness, conductivity, heat, regain = cloth
    per_cell = lambda ink, cloth: np.concatenate([np.full(INK_CELLS, ink), np.full(CLOTH_CELLS, cloth)])  # noqa: E731
    size = per_cell(FILM / INK_CELLS, thickness / CLOTH_CELLS)
    half = size / (2 * per_cell(INK[0], conductivity))
    capacity = size * per_cell(INK[1] * INK[2], mass / thickness * heat)
    bound = size * per_cell(0.0, regain * mass / thickness * 2.6e6 / 60)
    conductance = 1 / (half[:-1] + half[1:])

    def stage(air, top, bottom, panel, exchange):
        def into(face, resistance, transfer, exchange):
            """Heat through a face, whose own temperature follows from its balance by a few Newton steps."""
            surface = face
            for _ in range(3):
                gain = transfer * (air - surface) + exchange * constants.sigma * (panel**4 - surface**4)
                slope = transfer + 4 * exchange * constants.sigma * surface**3 + 1 / resistance
                surface += (gain - (surface - face) / resistance) / slope
            return (surface - face) / resistance

        def rates(_, cells):
            flux = np.empty(len(cells) + 1)
            flux[0] = into(cells[0], half[0], top, exchange)
            flux[1:-1] = conductance * (cells[:-1] - cells[1:])
            flux[-1] = -into(cells[-1], half[-1], bottom, 0.0)
            leaving = (cells > 60 + ZERO) & (cells < 120 + ZERO)
            return (flux[:-1] - flux[1:]) / (capacity + bound * leaving)

        return rates

    state, begin, told = np.full(len(size), 25 + ZERO), 0.0, []
    wanted = np.asarray(distances) * 60 / speed
    for length, air, top, bottom, panel, exchange in zones:
        end = begin + length * 60 / speed
        # A reading at a joint belongs to the zone before it, whatever the last digit says.
        inside = np.minimum(wanted[(wanted > begin * (1 + 1e-12)) & (wanted <= end * (1 + 1e-12))], end)
        panel, exchange = (panel + ZERO, exchange * factors[1]) if panel else (0.0, 0.0)
        rates = stage(air + ZERO, top * factors[0], bottom * factors[0], panel, exchange)
        solved = solve_ivp(
            rates, (begin, end), state, "LSODA", dense_output=True, rtol=1e-6, atol=1e-4, max_step=0.5, lband=1, uband=1
        )
        cells = solved.sol(inside)
        # The joint lies between the last cell of the film and the first of the cloth, by their resistances.
        above, below = half[INK_CELLS - 1], half[INK_CELLS]
        told.extend((cells[INK_CELLS - 1] * below + cells[INK_CELLS] * above) / (above + below) - ZERO)
        state, begin = solved.y[:, -1], end
    assert len(told) == len(distances)
    return np.array(told)


def request(zones, cloth, runs):
    """The request for dryer.fit: zones as believed, and runs of a speed, distances and readings."""
    mass, thickness, conductivity, heat, regain = cloth
    written = []
    for length, air, top, bottom, panel, exchange in zones:
        zone = {"length": quantity(length, "m"), "air": quantity(air, "degC")}
        zone |= {"transfer_top": quantity(top, "W/(m2.K)"), "transfer_bottom": quantity(bottom, "W/(m2.K)")}
        if panel:
            zone |= {"panel": quantity(panel, "degC"), "exchange_fraction": exchange}
        written.append(zone)
    return {
        "dryer": {"zones": written, "belt_least": "0.3 m/min", "belt_most": "6 m/min"},
        "ink": {"from": "plastisol", "density": "1.15 g/cm3"},
        "film": quantity(FILM, "m"),
        "cloth": {
            "mass_per_area": quantity(mass, "kg/m2"), "thickness": quantity(thickness, "m"), "regain_fraction": regain,
            "conductivity": quantity(conductivity, "W/(m.K)"), "specific_heat": quantity(heat, "J/(kg.K)"),
            "never_above": "180 degC", "shade": "light",
        },
        "runs": [
            {
                "belt_speed": quantity(speed, "m/min"),
                "readings": [{"at": quantity(d, "m"), "temperature": quantity(t, "degC")} for d, t in zip(distances, told)],
            }
            for speed, distances, told in runs
        ],
    }  # fmt: skip


def logs(zones, cloth, speeds, factors, spacing):
    """Exact readings of one trip a speed, every so many metres."""
    length = sum(zone[0] for zone in zones)
    distances = np.arange(1, round(length / spacing) + 1) * spacing
    return [(speed, distances, probe(zones, cloth, speed, factors, distances)) for speed in speeds]


# Name, zones, cloth, belt speeds, true factors.
CASES = [
    ("air, dry cloth, one belt", AIR, DRY_JERSEY, [2.0], (1.30, 1.0)),
    ("air, damp cloth, one belt", AIR, JERSEY, [2.5], (0.75, 1.0)),
    ("infrared, dry cloth, two belts", INFRARED, DRY_JERSEY, [1.2, 3.0], (1.25, 0.85)),
    ("infrared, damp cloth, two belts", INFRARED, JERSEY, [1.5, 3.0], (0.80, 1.15)),
    ("panel, then air, dry cloth, two belts", TWO_ZONES, DRY_JERSEY, [1.5, 3.0], (1.20, 0.90)),
]


def check_case(floodbar, judge, draw, name, zones, cloth, speeds, factors):
    runs = logs(zones, cloth, speeds, factors, 0.05)
    panel = any(zone[4] for zone in zones)
    names = ["transfer_factor", "panel_factor"][: 1 + panel]

    fit = floodbar.calculate("dryer.fit", **request(zones, cloth, runs))
    for factor, true in zip(names, factors):
        judge.holds(abs(fit[factor] / true - 1) < 0.01, name, "exact:", factor, fit[factor], "is", true)
    judge.holds(fit["rms"]["value"] < 0.3, name, "exact: rms", fit["rms"])
    judge.holds(fit["distinguishable"], name, "exact: cannot tell the factors apart")
    judge.holds(fit["dryer"]["fitted"] is True, name, "exact: not called fitted")
    disagree = [note for note in fit["notes"] if note["code"] == "reading_disagrees"]
    judge.holds(not disagree, name, "exact:", disagree)
    if not panel:
        judge.holds(fit["panel_factor"] == 1 and "panel_factor_error" not in fit, name, "a panel where there is none")

    noisy = [(speed, at, told + draw.normal(0, NOISE, len(told))) for speed, at, told in runs]
    fit = floodbar.calculate("dryer.fit", **request(zones, cloth, noisy))
    for factor, true in zip(names, factors):
        got, error = fit[factor], fit[factor + "_error"]
        judge.holds(abs(got - true) < 3 * error, name, "noisy:", factor, got, "+-", error, "is", true)
        judge.holds(abs(got / true - 1) < 0.05, name, "noisy:", factor, got, "is", true)
        # The error is neither nothing nor as wide as the world.
        judge.holds(1e-4 < error < 0.05, name, "noisy: error of", factor, error)
    readings = sum(len(told) for _, _, told in noisy)
    slack = 4 / math.sqrt(2 * readings)
    judge.holds(abs(fit["rms"]["value"] / NOISE - 1) < slack, name, "noisy: rms", fit["rms"], "of", NOISE, "K")

    speed, at, told = noisy[-1]
    spoiled = len(told) // 2
    told = told.copy()
    told[spoiled] -= 15
    fit = floodbar.calculate("dryer.fit", **request(zones, cloth, [*noisy[:-1], (speed, at, told)]))
    named = [note["field"] for note in fit["notes"] if note["code"] == "reading_disagrees"]
    judge.holds(named == [f"/runs/{len(noisy) - 1}/readings/{spoiled}"], name, "spoiled:", spoiled, "named:", named)


def check_coverage(floodbar, judge, draw):
    """The stated error is the scatter of many fits: a chi-squared sum of 60 has its mean within 4 of its own errors."""
    factors = (1.2, 1.0)
    runs = logs(AIR, DRY_JERSEY, [2.0], factors, 0.1)
    off = []
    for _ in range(60):
        noisy = [(speed, at, told + draw.normal(0, NOISE, len(told))) for speed, at, told in runs]
        fit = floodbar.calculate("dryer.fit", **request(AIR, DRY_JERSEY, noisy))
        off.append((fit["transfer_factor"] - factors[0]) / fit["transfer_factor_error"])
    # Student's t of 19 degrees of freedom: variance 19/17.
    spread = np.mean(np.square(off)) * 17 / 19
    judge.holds(abs(spread - 1) < 4 * math.sqrt(2 / 60), "errors are off by a factor of", math.sqrt(spread))


def check_alike(floodbar, judge):
    """Two readings side by side cannot tell air from panel; spread over a trip in which both matter they can."""
    runs = logs(INFRARED, DRY_JERSEY, [2.0], (1.1, 0.9), 0.05)
    speed, at, told = runs[0]
    for places, wanted in [([2, 3], False), (range(0, len(at)), True)]:
        some = [(speed, at[list(places)], told[list(places)])]
        fit = floodbar.calculate("dryer.fit", **request(INFRARED, DRY_JERSEY, some))
        said = any(note["code"] == "not_distinguishable" for note in fit["notes"])
        judge.holds(fit["distinguishable"] is wanted and said is not wanted, places, fit["distinguishable"], said)


def main(library):
    draw = np.random.default_rng(20240508)
    checks = {case[0]: lambda floodbar, judge, case=case: check_case(floodbar, judge, draw, *case) for case in CASES}
    checks["stated errors"] = lambda floodbar, judge: check_coverage(floodbar, judge, draw)
    checks["alike"] = check_alike
    return run(library, checks)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
