"""Compares the half-widths of answers with the Python library uncertainties: doubt_peers.py LIBRARY

It knows the derivatives of each formula, which is written out here as the calculation's page has it; ours are differences between
both ends of a standard uncertainty. They part by the third order, as the square of the relative doubt: doubts of 0.01 % of a
value leave 1e-8 of it times the third derivative, and 1e-6 is asked of every half-width and every share. A temperature has less, a
hundredth of a kelvin: it stands in differences of some ten kelvin. Needs what requirements.txt lists; cases are drawn from fixed
seeds. Prints what differs, then the counts.
"""

import sys

import numpy as np
from scipy import stats
from uncertainties import ufloat, umath

from shared import SECONDS, cases, run

# Half-width of 95 % over the standard uncertainty, and half-widths over values.
COVERAGE = stats.norm.ppf(0.975)
DOUBT = 1e-4
WITHIN = 1e-6
ZERO, GAS = 273.15, 8.314462618
# To the units in which the formulas below are written: um, cm2, g, ml, s, K.
UNITS = {"um": 1.0, "g": 1.0, "kg": 1e3, "ml": 1.0, "l": 1e3, "cm3/m2": 1.0, "m2/kg": 1.0, "/kg": 1.0, "degC": 1.0, "kJ/mol": 1.0, **SECONDS}


class Doubted:
    """Numbers of a request that carry doubts: as the request has them, and as uncertainties knows them."""

    def __init__(self, draw):
        self.draw = draw
        self.known = {}

    def _put(self, pointer, value, half):
        self.known[pointer] = ufloat(value, half / COVERAGE)
        return self.known[pointer]

    def quantity(self, pointer, least, most, unit):
        """A quantity between two ends: its JSON and its number in that unit."""
        value = self.draw.uniform(least, most)
        half = DOUBT * value * self.draw.uniform(0.5, 2.0)
        return {"value": value, "unit": unit, "plus_minus": half}, self._put(pointer, value, half)

    def number(self, pointer, least, most):
        told, known = self.quantity(pointer, least, most, "")
        del told["unit"]
        return told, known

    def temperature(self, pointer, least, most):
        """A temperature: its JSON in degC and its number in K."""
        value = self.draw.uniform(least, most)
        half = self.draw.uniform(0.005, 0.02)
        return {"value": value, "unit": "degC", "plus_minus": half}, self._put(pointer, value + ZERO, half)

    def judge(self, judge, kind, answer, wanted):
        """Each member: its value, its half-width beside it and in the list, who contributes most and how much."""
        listed = {doubt["at"]: doubt for doubt in answer["doubt"]}
        for pointer, known in wanted.items():
            member = answer
            for step in pointer.strip("/").split("/"):
                member = member[int(step)] if isinstance(member, list) else member[step]
            scale = UNITS[member["unit"]] if isinstance(member, dict) else 1.0
            value = member["value"] if isinstance(member, dict) else member
            shift = ZERO if isinstance(member, dict) and member["unit"] == "degC" else 0.0
            judge.near(value * scale + shift, known.nominal_value, 1e-9, kind, pointer)
            half = COVERAGE * known.std_dev
            doubt = listed[pointer]
            judge.near(doubt["plus_minus"] * scale, half, WITHIN, pointer, kind=kind)
            if isinstance(member, dict):
                judge.holds(member["plus_minus"] == doubt["plus_minus"], kind, pointer, member, doubt)
            parts = {
                name: (known.derivatives.get(one, 0.0) * one.std_dev / known.std_dev) ** 2 for name, one in self.known.items()
            }
            judge.near(doubt["share_fraction"], max(parts.values()), WITHIN, pointer, "share", kind=kind + ", share")
            judge.near(parts[doubt["contributor"]], max(parts.values()), WITHIN, kind, pointer, doubt, parts)


def a_mesh(of, thickness_told):
    """A mesh of parts: its JSON, pitch, opening, open area, ink volume, thickness (um)."""
    count, n = of.quantity("/mesh/count", 30, 90, "/cm")
    thread, d = of.quantity("/mesh/thread", 30, 50, "um")
    mesh = {"count": count, "thread": thread, "weave": "plain"}
    thickness = 1.5 * d
    if thickness_told:
        mesh["thickness"], thickness = of.quantity("/mesh/thickness", 50, 80, "um")
    pitch = 1e4 / n
    opening = pitch - d
    area = (opening / pitch) ** 2
    return mesh, pitch, opening, area, area * thickness, thickness


def an_ink(of):
    """An ink of one's own: its JSON, density, release, stroke gain, solids."""
    density, rho = of.quantity("/ink/density", 1.0, 1.5, "g/cm3")
    release, r = of.number("/ink/release_fraction", 0.2, 0.5)
    gain, g = of.number("/ink/stroke_gain_fraction", 0.1, 0.4)
    solids, s = of.number("/ink/solids_by_volume_fraction", 0.3, 0.9)
    ink = {
        "from": "plastisol", "density": density, "release_fraction": release, "stroke_gain_fraction": gain,
        "solids_by_volume_fraction": solids,
    }  # fmt: skip
    return ink, rho, r, g, s


def check_mesh(floodbar, judge):
    """mesh.geometry: pitch 1 / n, opening p - d, open area (w / p)^2, volume of the thickness (1.5 d where it is not told)."""
    draw = np.random.default_rng(20240601)
    for case in range(cases(40, 1000)):
        of = Doubted(draw)
        mesh, pitch, opening, area, volume, _ = a_mesh(of, case % 2)
        answer = floodbar.calculate("mesh.geometry", mesh=mesh)
        wanted = {"/pitch": pitch, "/opening": opening, "/open_area_fraction": area, "/ink_volume": volume}
        of.judge(judge, "mesh.geometry", answer, wanted)


def check_deposit(floodbar, judge):
    """ink.deposit: hits (1 + gain (strokes - 1)) release (volume + over_mesh e), e = -(2 L / W) expm1(-W / (2 L)); dry by solids."""
    draw = np.random.default_rng(20240602)
    for case in range(cases(40, 1000)):
        of = Doubted(draw)
        mesh, _, _, _, volume, _ = a_mesh(of, case % 2)
        ink, _, release, gain, solids = an_ink(of)
        over_mesh, over = of.quantity("/over_mesh", 5, 30, "um")
        width, across = of.quantity("/feature_width", 100, 2000, "um")
        scale, reach = of.quantity("/edge_length_scale", 100, 400, "um")
        hits, strokes = int(draw.integers(1, 4)), int(draw.integers(1, 4))
        answer = floodbar.calculate(
            "ink.deposit", mesh=mesh, ink=ink, over_mesh=over_mesh, feature_width=width, edge_length_scale=scale, hits=hits, strokes=strokes
        )
        ratio = across / (2 * reach)
        share = -umath.expm1(-ratio) / ratio
        wet = hits * (1 + gain * (strokes - 1)) * release * (volume + over * share)
        wanted = {"/wet_film": wet, "/dry_film": wet * solids, "/edge_share_fraction": share}
        of.judge(judge, "ink.deposit", answer, wanted)


def check_usage(floodbar, judge):
    """ink.usage: area (film + surface take) density; prints times it, waste and the screen; e = s L / A of an edge."""
    draw = np.random.default_rng(20240603)
    for case in range(cases(40, 1000)):
        of = Doubted(draw)
        mesh, _, _, _, volume, _ = a_mesh(of, case % 2)
        ink, density, release, gain, _ = an_ink(of)
        over_mesh, over = of.quantity("/over_mesh", 5, 30, "um")
        width, w = of.quantity("/width", 10, 40, "cm")
        height, h = of.quantity("/height", 10, 40, "cm")
        coverage, c = of.number("/coverage_fraction", 0.3, 0.99)
        edge, s = of.quantity("/edge_length", 100, 500, "cm")
        scale, reach = of.quantity("/edge_length_scale", 100, 400, "um")
        take, surface = of.quantity("/surface_take", 1, 20, "cm3/m2")
        waste, lost = of.number("/waste_fraction", 0.05, 0.3)
        left, stays = of.quantity("/left_in_screen", 50, 200, "g")
        prints, strokes = int(draw.integers(1, 2000)), int(draw.integers(1, 3))
        answer = floodbar.calculate(
            "ink.usage", mesh=mesh, ink=ink, over_mesh=over_mesh, width=width, height=height, coverage_fraction=coverage, edge_length=edge,
            edge_length_scale=scale, surface_take=take, waste_fraction=waste, left_in_screen=left, prints=prints, strokes=strokes,
        )  # fmt: skip
        area = w * h * c
        film = (1 + gain * (strokes - 1)) * release * (volume + over * (s * reach * 1e-4 / area))
        mass = area * (film + surface) * 1e-4 * density
        mixed = prints * mass * (1 + lost) + stays
        # Area per mass is that of the ink on the print, surface and all.
        wanted = {
            "/wet_film": film, "/mass_per_print": mass, "/mass_printed": prints * mass, "/mass_to_mix": mixed,
            "/volume_to_mix": mixed / density, "/area_per_mass": area / mass / 10, "/prints_per_mass": 1000 / mass,
        }  # fmt: skip
        of.judge(judge, "ink.usage", answer, wanted)


def check_step(floodbar, judge):
    """exposure.step: time 10^(density (wanted - solid))."""
    draw = np.random.default_rng(20240604)
    for _ in range(cases(40, 1000)):
        of = Doubted(draw)
        time, t = of.quantity("/time", 20, 300, "s")
        solid, step = of.number("/solid_step", 3, 9)
        wanted_step, aim = of.number("/wanted_step", 6, 8)
        per_step, density = of.number("/density_per_step", 0.1, 0.3)
        answer = floodbar.calculate("exposure.step", time=time, solid_step=solid, wanted_step=wanted_step, density_per_step=per_step)
        factor = 10 ** (density * (aim - step))
        of.judge(judge, "exposure.step", answer, {"/factor": factor, "/time": t * factor})


def check_rescale(floodbar, judge):
    """exposure.rescale: (to / from)^(2 / p) of a distance or (from / to)^(1 / p) of an irradiance, a mesh factor, exp((to - from) / Dp)."""
    draw = np.random.default_rng(20240605)
    for case in range(cases(40, 1000)):
        of = Doubted(draw)
        time, t = of.quantity("/time", 20, 300, "s")
        exponent, p = of.number("/reciprocity_exponent", 0.7, 1.0)
        request = {"time": time, "reciprocity_exponent": exponent}
        if case % 2:
            (before, a), (now, b) = (of.quantity(f"/distance/{end}", 50, 120, "cm") for end in ("from", "to"))
            request["distance"] = {"from": before, "to": now}
            light = (b / a) ** (2 / p)
        else:
            (before, a), (now, b) = (of.quantity(f"/irradiance/{end}", 3, 12, "mW/cm2") for end in ("from", "to"))
            request["irradiance"] = {"from": before, "to": now}
            light = (a / b) ** (1 / p)
        (before, a), (now, b) = (of.number(f"/mesh_factor/{end}", 1, 2) for end in ("from", "to"))
        request["mesh_factor"] = {"from": before, "to": now}
        mesh = b / a
        (before, a), (now, b) = (of.quantity(f"/stencil/{end}", 80, 200, "um") for end in ("from", "to"))
        depth, dp = of.quantity("/stencil/penetration_depth", 50, 150, "um")
        request["stencil"] = {"from": before, "to": now, "penetration_depth": depth}
        stencil = umath.exp((b - a) / dp)
        answer = floodbar.calculate("exposure.rescale", **request)
        factor = light * mesh * stencil
        wanted = {"/factor": factor, "/time": t * factor, "/causes/0/factor": light, "/causes/1/factor": mesh, "/causes/2/factor": stencil}
        of.judge(judge, "exposure.rescale", answer, wanted)


def check_equivalent(floodbar, judge):
    """cure.equivalent: hold exp((Ea / R) (1 / T' - 1 / T)), the temperature of another hold, and Ea of two pairs."""
    draw = np.random.default_rng(20240606)
    for case in range(cases(60, 1200)):
        of = Doubted(draw)
        known, t = of.temperature("/from/temperature", 150, 165)
        hold, held = of.quantity("/from/hold", 50, 70, "s")
        request = {"from": {"temperature": known, "hold": hold}}
        if case % 3:
            energy, e = of.quantity("/activation_energy", 60, 120, "kJ/mol")
            request["activation_energy"] = energy
        else:
            other, t2 = of.temperature("/second/temperature", 130, 140)
            longer, held2 = of.quantity("/second/hold", 120, 240, "s")
            request["second"] = {"temperature": other, "hold": longer}
            e = GAS * 1e-3 * umath.log(held / held2) / (1 / t - 1 / t2)
        if case % 2:
            to, t_to = of.temperature("/to/temperature", 140, 175)
            request["to"] = {"temperature": to}
            wanted = {"/hold": held * umath.exp(e * 1e3 / GAS * (1 / t_to - 1 / t))}
        else:
            to, held_to = of.quantity("/to/hold", 30, 120, "s")
            request["to"] = {"hold": to}
            wanted = {"/temperature": 1 / (1 / t + GAS / (e * 1e3) * umath.log(held_to / held))}
        wanted["/activation_energy"] = e
        of.judge(judge, "cure.equivalent", floodbar.calculate("cure.equivalent", **request), wanted)


CHECKS = {
    "mesh.geometry": check_mesh,
    "ink.deposit": check_deposit,
    "ink.usage": check_usage,
    "exposure.step": check_step,
    "exposure.rescale": check_rescale,
    "cure.equivalent": check_equivalent,
}

if __name__ == "__main__":
    sys.exit(run(sys.argv[1], CHECKS))
