"""Compares answers with general-purpose libraries that have the formula too: peers.py LIBRARY

Needs what requirements.txt lists. Every check_... function below is one group of comparisons; cases are drawn from a
fixed seed. Prints what differs, then the counts.
"""

import itertools
import math
import sys
import warnings

import numpy as np
import pint
from scipy import integrate, stats

from shared import FloodbarError, quantity, run, seconds

with warnings.catch_warnings():
    # It says on import which plotting packages it does without.
    warnings.simplefilter("ignore")
    import colour

# How pint spells the units of the wire. Written out, so that a unit neither of us knows is noticed.
PINT = {
    "um": "micrometer", "mm": "millimeter", "cm": "centimeter", "m": "meter",
    "in": "inch", "ft": "foot", "yd": "yard", "mil": "thou", "cm3/m2": "centimeter**3 / meter**2",
    "m2": "meter**2", "cm2": "centimeter**2", "mm2": "millimeter**2", "in2": "inch**2", "ft2": "foot**2",
    "m3": "meter**3", "cm3": "centimeter**3", "ml": "milliliter", "l": "liter",
    "gal": "US_liquid_gallon", "floz": "US_fluid_ounce",
    "g": "gram", "mg": "milligram", "kg": "kilogram", "oz": "avoirdupois_ounce", "lb": "avoirdupois_pound",
    "s": "second", "ms": "millisecond", "us": "microsecond", "min": "minute", "h": "hour", "d": "day",
    "m/min": "meter / minute", "m/s": "meter / second", "cm/s": "centimeter / second", "mm/s": "millimeter / second",
    "ft/min": "foot / minute", "in/s": "inch / second",
    "/s": "1 / second", "/min": "1 / minute", "/h": "1 / hour",
    "/cm": "1 / centimeter", "/mm": "1 / millimeter", "/in": "1 / inch", "/m": "1 / meter",
    "N": "newton", "lbf": "force_pound",
    "N/cm": "newton / centimeter", "N/m": "newton / meter", "lbf/in": "force_pound / inch",
    "g/m2": "gram / meter**2", "kg/m2": "kilogram / meter**2", "oz/yd2": "avoirdupois_ounce / yard**2",
    "g/min": "gram / minute", "g/h": "gram / hour", "kg/h": "kilogram / hour", "kg/s": "kilogram / second",
    "oz/min": "avoirdupois_ounce / minute", "lb/h": "avoirdupois_pound / hour",
    "m2/kg": "meter**2 / kilogram", "ft2/lb": "foot**2 / avoirdupois_pound",
    "/kg": "1 / kilogram", "/lb": "1 / avoirdupois_pound",
    "mJ/cm2": "millijoule / centimeter**2", "J/m2": "joule / meter**2", "kJ/m2": "kilojoule / meter**2",
    "mW/cm2": "milliwatt / centimeter**2", "W/cm2": "watt / centimeter**2", "W/m2": "watt / meter**2",
    "kW/m2": "kilowatt / meter**2", "W/in2": "watt / inch**2",
    "W/(m2.K)": "watt / meter**2 / kelvin", "W/(m.K)": "watt / meter / kelvin",
    "J/(kg.K)": "joule / kilogram / kelvin", "kJ/(kg.K)": "kilojoule / kilogram / kelvin",
    "kJ/mol": "kilojoule / mole", "J/mol": "joule / mole",
    "J": "joule", "kJ": "kilojoule", "MJ": "megajoule", "Wh": "watt_hour", "kWh": "kilowatt_hour", "W": "watt", "kW": "kilowatt",
    "g/cm3": "gram / centimeter**3", "kg/m3": "kilogram / meter**3", "kg/l": "kilogram / liter",
    "lb/gal": "avoirdupois_pound / US_liquid_gallon",
    "degC": "degree_Celsius", "degF": "degree_Fahrenheit", "K": "kelvin",
    "delta_degC": "delta_degree_Celsius", "delta_degF": "delta_degree_Fahrenheit",
    "deg": "degree", "rad": "radian", "1": "dimensionless", "%": "percent",
}  # fmt: skip
# The differences of temperature: pint keeps them apart from temperatures by their own units, the wire by the field.
DIFFERENCES = {"delta_degC", "delta_degF"}
# What the wire keeps apart though pint has one dimension for both: an angle is no fraction, a tension no exposure.
APART = [({"deg", "rad"}, {"1", "%"}), ({"N/cm", "N/m", "lbf/in"}, {"mJ/cm2", "J/m2", "kJ/m2"})]


def units_named(part):
    """The units of all fields of the catalogue's schemas."""
    quantity = part.get("x-quantity") if isinstance(part, dict) else None
    # Among the keywords explained its name stands beside a text.
    yield from quantity["units"] if isinstance(quantity, dict) else []
    for inner in part.values() if isinstance(part, dict) else part if isinstance(part, list) else []:
        yield from units_named(inner)


def check_units(floodbar, judge):
    """unit.convert against pint: every unit into every other of its dimension, so both directions."""
    registry = pint.UnitRegistry()
    named = set(units_named(floodbar.catalogue()))
    judge.holds(named and named <= PINT.keys(), "units that the map above lacks:", sorted(named - PINT.keys()))
    groups = {}
    for name, theirs in PINT.items():
        key = (str(registry.Quantity(1, theirs).dimensionality), name in DIFFERENCES)
        groups.setdefault(key, []).append(name)
    temperatures = groups["[temperature]", False]
    groups["[temperature]", True].append("K")
    for source, target in (pair for group in groups.values() for pair in itertools.product(group, repeat=2)):
        pair = {source, target}
        apart = any(pair & one and pair & other for one, other in APART)
        difference = bool(pair & DIFFERENCES)
        ours_to_theirs = {**PINT, "K": "delta_degree_Celsius"} if difference else PINT
        # Beside absolute zero a temperature has the last digit of its distance from it.
        slack = 5e-11 if not difference and source in temperatures else 0.0
        for value in [1.0, 37.5, 1234.5678, 1e-6, 0.0]:
            wanted = registry.Quantity(value, ours_to_theirs[source]).to(ours_to_theirs[target]).magnitude
            try:
                got = floodbar.calculate("unit.convert", quantity=quantity(value, source), to=target)["quantity"]["value"]
                close = abs(got - wanted) <= 1e-12 * abs(wanted) + slack
                judge.holds(close and not apart, value, source, "to", target, "is", got, "and by pint", wanted)
            except FloodbarError as error:
                judge.holds(apart and error.code == "wrong_dimension", value, source, "to", target, error)


def check_overs(floodbar, judge):
    """press.overs against the binomial distribution, up to ten million pieces."""
    draw = np.random.default_rng(20240501)
    cases = [(1, 0.5, 0.5), (240, 0.025, 0.9), (10_000_000, 0.5, 0.999), (10_000_000, 0.001, 1e-6), (7, 1e-9, 1 - 1e-9)]
    cases += [
        (int(10 ** draw.uniform(0, 7)), float(10 ** draw.uniform(-5, math.log10(0.5))), float(draw.uniform(0.01, 0.9999)))
        for _ in range(400)
    ]
    for pieces, spoilage, confidence in cases:
        request = {"pieces": pieces, "spoilage_fraction": spoilage, "confidence": confidence}
        answer = floodbar.calculate("press.overs", **request)
        start = answer["start_with"]
        # Enough good ones is at most so many spoiled ones: the small side, where the digits are.
        enough = stats.binom.cdf(start - pieces, start, spoilage)
        fewer = stats.binom.cdf(start - 1 - pieces, start - 1, spoilage)
        # A sum of millions of terms keeps fewer digits.
        slack = 1e-10 if start < 100_000 else 2e-9
        judge.holds(enough >= confidence - slack and fewer < confidence + slack, request, "start", start, enough, fewer)
        judge.holds(abs(answer["probability"] - enough) <= slack, "probability", request, answer["probability"], enough)
        judge.near(answer["expected_good"], start * (1 - spoilage), 1e-12, "expected", request)


def fieller(x, y, level):
    """Where a line through x and y reaches a level, by the roots of (level - line)^2 = t^2 times its variance."""
    n = len(x)
    slope, offset = np.polynomial.polynomial.polyfit(x - x.mean(), y, 1)[::-1]
    variance = ((y - offset - slope * (x - x.mean())) ** 2).sum() / (n - 2)
    slack = stats.t.ppf(0.975, n - 2) ** 2 * variance
    off, spread = level - offset, ((x - x.mean()) ** 2).sum()
    square = slope**2 - slack / spread
    if square <= 0:
        return None
    roots = np.roots([square, -2 * slope * off, off**2 - slack / n])
    return sorted(float(x.mean() + root.real) for root in roots)


def check_curve(floodbar, judge):
    """exposure.curve against scipy's regression, and its interval against the roots of Fieller's quadratic."""
    draw = np.random.default_rng(20240502)
    bounded = open_ended = falling = 0
    for case in range(600):
        depth, critical = draw.uniform(30, 250), draw.uniform(2, 200)
        exposures = critical * np.exp(draw.uniform(0.05, 3, draw.integers(3, 13)))
        scatter = draw.choice([0.1, 3.0, 120.0])
        depths = np.abs(depth * np.log(exposures / critical) + draw.normal(0, scatter, len(exposures))) + 0.2
        wanted = draw.uniform(20, 300)
        points = [{"exposure": quantity(e, "mJ/cm2"), "depth": quantity(d, "um")} for e, d in zip(exposures, depths)]
        line = stats.linregress(np.log(exposures), depths)
        request = {"points": points, "stencil_thickness": quantity(wanted, "um"), "irradiance": "5 mW/cm2"}
        logs = [(level - line.intercept) / line.slope for level in (wanted, 0.0)]
        if line.slope <= 0 or max(map(abs, logs)) > 100:
            falling += 1
            try:
                answer = floodbar.calculate("exposure.curve", **request)
                judge.holds(False, "case", case, "has slope", line.slope, "and yet", answer)
            except FloodbarError as error:
                judge.holds(error.code == "no_solution", "case", case, error)
            continue
        answer = floodbar.calculate("exposure.curve", **request)
        # Where the slope is small against its error, it and what follows from it keep fewer digits.
        within = 1e-11 * (1 + abs(line.stderr / line.slope)) * (1 + max(map(abs, logs)))
        judge.near(answer["penetration_depth"]["value"], line.slope, within, "case", case, "Dp")
        # Theirs comes from 1 - r^2, which keeps few digits of a small scatter.
        digits = 1e-9 + 1e-14 / max(1 - line.rvalue**2, 1e-16)
        judge.near(answer["penetration_depth_error"]["value"], line.stderr, digits, "case", case, "error of Dp")
        judge.near(answer["critical_exposure"]["value"], math.exp(logs[1]), 10 * within, "case", case, "Ec")
        judge.near(answer["exposure"]["value"], math.exp(logs[0]), 10 * within, "case", case, "exposure")
        judge.holds(abs(answer["r_squared"] - line.rvalue**2) < 1e-11, "case", case, "r squared", answer["r_squared"], line)
        judge.near(seconds(answer["time"]), answer["exposure"]["value"] / 5, 1e-12, "case", case, "time")
        judge.holds(answer["brackets"] == (depths.min() <= wanted <= depths.max()), "case", case, "brackets")
        interval = fieller(np.log(exposures), depths, wanted)
        if interval is None or max(map(abs, interval)) > 100:
            open_ended += 1
            told = any(note["code"] == "no_interval" for note in answer["notes"])
            judge.holds(interval is not None or (told and "exposure_low" not in answer), "case", case, "no interval", answer)
        else:
            bounded += 1
            for name, log in zip(["exposure_low", "exposure_high"], interval):
                judge.near(answer.get(name, {}).get("value"), math.exp(log), 1e-7, "case", case, name)
    judge.holds(min(bounded, open_ended, falling) > 5, "kinds of cases:", bounded, open_ended, falling)


def check_colour(floodbar, judge):
    """wash.colour against colour-science: CIE 1976 and CIEDE2000."""
    draw = np.random.default_rng(20240503)
    for case in range(600):
        before = draw.uniform([0, -100, -100], [100, 100, 100])
        # Small steps as in a wash, large ones, and greys.
        after = before + draw.normal(0, draw.choice([0.5, 5.0, 60.0]), 3)
        if case % 7 == 0:
            after[1:] = 0.0
        before, after = (np.clip(lab, [0, -128, -128], [100, 127, 127]) for lab in (before, after))
        answer = floodbar.calculate("wash.colour", before=before.tolist(), after=after.tolist())
        judge.near(answer["de_ab"], float(colour.delta_E(before, after, method="CIE 1976")), 1e-11, "de_ab", before, after)
        judge.near(answer["de_2000"], float(colour.delta_E(before, after, method="CIE 2000")), 1e-9, "de_2000", before, after)


def check_samples(floodbar, judge):
    """wash.samples against the binomial distribution."""
    draw = np.random.default_rng(20240504)
    for _ in range(400):
        reliability, confidence = float(draw.uniform(0.3, 0.999)), float(draw.uniform(0.05, 0.999))
        request = {"reliability_fraction": reliability, "confidence": confidence, "failures": int(draw.integers(0, 12))}
        samples = floodbar.calculate("wash.samples", **request)["samples"]
        least, fewer = (stats.binom.cdf(request["failures"], n, 1 - reliability) for n in (samples, samples - 1))
        judge.holds(least <= 1 - confidence + 1e-11 and fewer > 1 - confidence - 1e-11, request, samples, least, fewer)


def check_verdict(floodbar, judge):
    """wash.verdict against scipy's exact interval of a proportion."""
    draw = np.random.default_rng(20240505)
    seen = set()
    for _ in range(600):
        washed = int(10 ** draw.uniform(0, 4))
        failed = int(draw.choice([0, washed, draw.integers(0, washed + 1), draw.binomial(washed, 0.05)]))
        confidence, reliability = float(draw.uniform(0.5, 0.999)), float(draw.uniform(0.5, 0.99))
        request = {"washed": washed, "failed": failed, "confidence": confidence, "reliability_fraction": reliability, "cycles": 5}
        answer = floodbar.calculate("wash.verdict", **request)
        test = {side: stats.binomtest(washed - failed, washed, alternative=side) for side in ("greater", "less")}
        low = test["greater"].proportion_ci(confidence, "exact").low
        high = test["less"].proportion_ci(confidence, "exact").high
        judge.near(answer["survival_lower_bound_fraction"], low, 1e-9, "lower bound", request)
        wanted = "fail" if high < reliability else "pass" if low >= reliability else "not_proven"
        seen.add(wanted)
        judge.holds(answer["verdict"] == wanted, "verdict", request, answer, low, high)
    judge.holds(len(seen) == 3, "verdicts seen:", seen)


def check_equivalent(floodbar, judge):
    """cure.equivalent against scipy's gas constant and the Arrhenius formula, all three ways round."""
    from scipy.constants import R, convert_temperature

    draw = np.random.default_rng(20240506)
    for _ in range(200):
        cool, hot = sorted(draw.uniform(100, 200, 2))
        energy, hold = float(draw.uniform(40, 200)), float(draw.uniform(5, 600))
        if hot - cool < 1:
            continue
        kelvin = convert_temperature(np.array([cool, hot]), "Celsius", "Kelvin")
        shorter = hold * math.exp(energy * 1000 / R * (1 / kelvin[1] - 1 / kelvin[0]))
        if shorter < 0.01:
            continue
        known = {"temperature": quantity(cool, "degC"), "hold": quantity(hold, "s")}
        at_hot = {"temperature": quantity(hot, "degC"), "hold": quantity(shorter, "s")}
        given = {"from": known, "activation_energy": quantity(energy, "kJ/mol")}
        forth = floodbar.calculate("cure.equivalent", **given, to={"temperature": at_hot["temperature"]})
        judge.near(forth["hold"]["value"], shorter, 1e-10, "hold", given, at_hot)
        back = floodbar.calculate("cure.equivalent", **given, to={"hold": at_hot["hold"]})
        judge.near(back["temperature"]["value"], hot, 1e-10, "temperature", given, at_hot)
        pairs = floodbar.calculate("cure.equivalent", **{"from": known}, second=at_hot, to={"temperature": known["temperature"]})
        judge.near(pairs["activation_energy"]["value"], energy, 1e-9, "activation energy", given, at_hot)


def check_assess(floodbar, judge):
    """cure.assess against scipy's adaptive quadrature of the Arrhenius rate over a log that is straight by pieces."""
    from scipy.constants import R

    draw = np.random.default_rng(20240507)
    for case in range(150):
        times = np.cumsum(draw.uniform(1, 30, draw.integers(2, 12)))
        heat = draw.uniform(30, 190, len(times))
        energy, gel, cure = float(draw.uniform(40, 250)), float(draw.uniform(80, 130)), float(draw.uniform(140, 170))
        ink = {
            "from": "plastisol", "activation_energy": quantity(energy, "kJ/mol"), "gel": quantity(gel, "degC"),
            "cure": {"temperature": quantity(cure, "degC"), "hold": "1 h", "after_dry": False},
        }  # fmt: skip
        log = [{"time": quantity(t, "s"), "temperature": quantity(c, "degC")} for t, c in zip(times, heat)]
        answer = floodbar.calculate("cure.assess", ink=ink, log=log, measured="in_ink")

        def over(threshold, rate):
            """The integral of the rate over the time at or above the threshold."""
            total = 0.0
            for (t0, c0), (t1, c1) in itertools.pairwise(zip(times, heat)):
                if max(c0, c1) <= threshold:
                    continue
                ends = sorted(np.interp([c0, c1], [threshold, 1000.0], [threshold, 1000.0]))
                length = (t1 - t0) * (ends[1] - ends[0]) / abs(c1 - c0)
                share, _ = integrate.quad(lambda u: rate(ends[0] + u * (ends[1] - ends[0])), 0, 1, epsabs=0, epsrel=1e-12)
                total += length * share
            return total

        arrhenius = over(gel, lambda c: math.exp(-energy * 1000 / R * (1 / (c + 273.15) - 1 / (cure + 273.15))))
        for name, wanted in [("equivalent_hold", arrhenius), ("time_above", over(cure, lambda _: 1.0))]:
            got = seconds(answer[name])
            judge.holds(abs(got - wanted) <= 1e-9 * wanted + 1e-12, "case", case, name, got, "wanted", wanted)
        judge.near(answer["peak"]["value"], heat.max(), 1e-12, "case", case, "peak")


CHECKS = {
    "unit.convert": check_units,
    "press.overs": check_overs,
    "exposure.curve": check_curve,
    "wash.colour": check_colour,
    "wash.samples": check_samples,
    "wash.verdict": check_verdict,
    "cure.equivalent": check_equivalent,
    "cure.assess": check_assess,
}


if __name__ == "__main__":
    sys.exit(run(sys.argv[1], CHECKS))
