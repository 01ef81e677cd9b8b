"""Compares heat.layers with another discretisation, integrated by SciPy, and with a library's wet-bulb: heat_peers.py LIBRARY

Needs what requirements.txt lists. The other discretisation: finite differences on nodes that stand on the faces and joints
themselves (ours stand in the middle of cells), graded by tanh, several times as many as ours; the method of lines with
scipy.integrate's BDF at rtol 1e-6; saturation pressure and latent heat of water from CoolProp (IAPWS-95, ours are the
auxiliary equations of 1992). Only the physical laws are shared, as design section 6 states them. Cases are drawn from fixed
seeds. Prints what differs, the largest difference, then the counts.
"""

import itertools
import math
import sys

import numpy as np
from CoolProp.CoolProp import HAPropsSI, PropsSI
from scipy.integrate import BDF
from scipy.interpolate import CubicSpline
from scipy.sparse import coo_array

from shared import cases, quantity, run

ZERO = 273.15
PRESSURE = 101325.0
# CODATA 2018.
SIGMA, GAS = 5.670374419e-8, 8.314462618
# kg/mol: water (IAPWS), dry air (U.S. Standard Atmosphere 1976 and its CO2 since).
WATER, AIR = 0.018015268, 0.02896546
# Of liquid water and of dry air, J/(kg.K): Incropera, tables A.6 and A.4.
LIQUID, GASEOUS = 4186.0, 1007.0
# Bound water, design section 6: J/kg, and the temperatures between which it leaves.
BOUND, LEAVES_FROM, LEAVES_TO = 2.6e6, 60 + ZERO, 120 + ZERO
# The corners of its release, as a share of the way, and the turn from releasing to keeping, as a share of the water: rounded.
CORNER, TURN = 0.01, 0.003

KELVINS = np.arange(273.16, 440.0, 0.5)
LOG_PRESSURE = CubicSpline(KELVINS, np.log([PropsSI("P", "T", t, "Q", 0, "Water") for t in KELVINS]))
LATENT = CubicSpline(
    KELVINS, [PropsSI("H", "T", t, "Q", 1, "Water") - PropsSI("H", "T", t, "Q", 0, "Water") for t in KELVINS]
)


def evaporation(face, kelvin):
    """Water that leaves, kg/(m2.s): Stefan flow, its coefficient from the heat transfer by Chilton and Colburn."""
    if "transfer" not in face:
        return 0.0
    # A trial of Newton's may be far off.
    film = max(0.5 * (face["air"] + kelvin), 200.0)
    # Conductivity of air: U.S. Standard Atmosphere 1976. Diffusion of vapour: Marrero and Mason (1972).
    conductivity = 2.64638e-3 * film**1.5 / (film + 245.4 * 10 ** (-12 / film))
    diffusion = 1.87e-10 * film**2.072
    warmth = PRESSURE * AIR / (GAS * film) * GASEOUS
    moved = face["transfer"] / warmth * (conductivity / warmth / diffusion) ** (-2 / 3)
    ratio = face.get("humidity_ratio", 0.010)
    air = PRESSURE * ratio / (ratio + WATER / AIR)
    # Trial values of Newton's may lie far beyond the table, where nothing is ever wet.
    kelvin = min(max(kelvin, KELVINS[0]), KELVINS[-1])
    dry = 1 - math.exp(LOG_PRESSURE(kelvin)) / PRESSURE
    # At boiling the logarithm has no end; it goes on as its tangent.
    drive = -math.log(dry) if dry > 1e-3 else -math.log(1e-3) + (1e-3 - dry) / 1e-3
    return moved * PRESSURE * WATER / (GAS * film) * (drive + math.log(1 - air / PRESSURE))


def into(face, kelvin):
    """Dry heat into a face, W/m2, and its slope."""
    h, e = face.get("transfer", 0.0), face.get("exchange_fraction", 0.0)
    heat = h * (face.get("air", 0.0) - kelvin) + e * SIGMA * (face.get("panel", 0.0) ** 4 - kelvin**4)
    return heat + face.get("flux", 0.0), -h - 4 * e * SIGMA * kelvin**3


class Lines:
    """The method of lines: nodes on faces, joints and between; then the film's water as a share of its start."""

    def __init__(self, case, nodes, reach):
        spacings, conductance, capacity, film, bound = [], [], [], [], []
        self.joints = [0]
        for index, layer in enumerate(case["layers"]):
            # Graded so that the outermost gap is a small part of how far heat gets in `reach` seconds.
            volume = layer["density"] * layer["specific_heat"]
            finest = min(1.0, 0.03 * math.sqrt(layer["conductivity"] / volume * reach) / layer["thickness"] * nodes)
            steep = math.log(8 / finest) / 2 if finest < 0.5 else 1e-3
            at = np.tanh(steep * np.linspace(-1, 1, nodes + 1)) / math.tanh(steep)
            gaps = np.diff(at) / 2 * layer["thickness"]
            share = gaps / layer["thickness"]
            wet = case.get("film_water", 0.0) if index == 0 else 0.0
            spacings.extend(gaps)
            conductance.extend(layer["conductivity"] / gaps)
            capacity.extend(volume * gaps - LIQUID * wet * share)
            film.extend(LIQUID * wet * share)
            bound.extend(layer.get("bound_water", 0.0) * share)
            self.joints.append(len(spacings))
        lumped = lambda each: 0.5 * (np.append(each, 0.0) + np.append(0.0, each))
        self.conductance = np.array(conductance)
        self.dry, self.film = lumped(capacity), lumped(film)
        self.bound = lumped(bound) * BOUND
        self.wet = case.get("film_water", 0.0)
        self.start = case["start"]
        self.count = len(self.dry)
        self.left = np.zeros(self.count)

    def released(self, heat, capacity):
        """Share of the bound water that heat content says has left, and its slope by the heat."""
        way = capacity * (LEAVES_TO - LEAVES_FROM) + self.bound
        x = (heat - capacity * (LEAVES_FROM - self.start)) / way
        share = np.where(
            x < CORNER, np.maximum(x + CORNER, 0) ** 2 / (4 * CORNER),
            np.where(x > 1 - CORNER, 1 - np.maximum(1 + CORNER - x, 0) ** 2 / (4 * CORNER), x),
        )  # fmt: skip
        slope = np.clip(np.minimum((x + CORNER) / (2 * CORNER), (1 + CORNER - x) / (2 * CORNER)), 0, 1)
        return share, slope / way

    def warmth(self, state):
        """Temperatures of the nodes, how they go with heat and with the film's share, from heat contents and that share."""
        heat, share = state[:-1], state[-1]
        capacity = self.dry + self.film * share
        gone, slope = self.released(heat, capacity)
        below = np.clip(self.left - gone, 0, TURN)
        taken = np.maximum(gone, self.left - below + below**2 / (2 * TURN))
        nodes = self.start + (heat - self.bound * taken) / capacity
        rise = (1 - self.bound * slope * (1 - below / TURN)) / capacity
        for end, node in [(0, 0), (1, self.count - 1)]:
            if self.held(end) is not None:
                nodes[node], rise[node] = self.held(end), 0.0
        return nodes, rise, -self.film * (nodes - self.start) / capacity

    def keep(self, state):
        """What has left by now does not come back."""
        share = self.released(state[:-1], self.dry + self.film * state[-1])[0]
        self.left = np.maximum(self.left, share)

    def held(self, end):
        face = self.stage["top" if end == 0 else "bottom"]
        return face.get("temperature")

    def fill(self, state):
        """Gives the nodes at held faces the heat that belongs to their temperature."""
        for end, node in [(0, 0), (1, self.count - 1)]:
            if self.held(end) is None:
                continue
            wanted, capacity = self.held(end) - self.start, self.dry[node] + self.film[node] * state[-1]
            ends = [capacity * wanted, capacity * wanted + self.bound[node]]
            for _ in range(60):
                state[node] = sum(ends) / 2
                gone = max(self.released(state[:-1], self.dry + self.film * state[-1])[0][node], self.left[node])
                ends[int((state[node] - self.bound[node] * gone) / capacity >= wanted)] = state[node]
        self.keep(state)

    def drying(self, surface, share):
        """Flow of water, kg/(m2.s), its slope by the surface's temperature, and by the share left."""
        if self.wet == 0.0 or share <= 0.0:
            return 0.0, 0.0, 0.0
        full = evaporation(self.stage["top"], surface)
        rise = (evaporation(self.stage["top"], surface + 0.01) - full) / 0.01
        last = share / 0.01
        factor, steep = (1.0, 0.0) if last >= 1 else (last * (2 - last), (2 - 2 * last) / 0.01)
        return factor * full, factor * rise, steep * full

    def rates(self, _, state):
        nodes = self.warmth(state)[0]
        flow = self.conductance * np.diff(nodes)
        heat = np.append(flow, 0.0) - np.append(0.0, flow)
        water = self.drying(nodes[0], state[-1])[0]
        heat[0] += into(self.stage["top"], nodes[0])[0] - (water * LATENT(nodes[0]) if water else 0.0)
        heat[-1] += into(self.stage["bottom"], nodes[-1])[0]
        share = -water / self.wet if self.wet else 0.0
        # The water leaves each node at that node's temperature.
        heat += self.film * share * (nodes - self.start)
        for end, node in [(0, 0), (1, self.count - 1)]:
            if self.held(end) is not None:
                heat[node] = 0.0
        return np.append(heat, share)

    def jacobian(self, _, state):
        nodes, rise, by_share = self.warmth(state)
        count = self.count
        water, faster, steep = self.drying(nodes[0], state[-1])
        latent, fall = (LATENT(nodes[0]), LATENT(nodes[0], 1)) if water else (0.0, 0.0)
        middle = -(np.append(self.conductance, 0.0) + np.append(0.0, self.conductance))
        middle[0] += into(self.stage["top"], nodes[0])[1] - faster * latent - water * fall
        middle[-1] += into(self.stage["bottom"], nodes[-1])[1]
        lower, upper = self.conductance.copy(), self.conductance.copy()
        last = (-faster / self.wet, -steep / self.wet) if self.wet else (0.0, 0.0)
        middle = middle + self.film * (-water / self.wet if self.wet else 0.0)
        # By the share: through the temperatures, and through the drying itself.
        film = self.film * (nodes - self.start)
        column = middle * by_share
        column[1:] += lower * by_share[:-1]
        column[:-1] += upper * by_share[1:]
        column += film * last[1]
        column[0] -= steep * latent
        middle, lower, upper = middle * rise, lower * rise[:-1], upper * rise[1:]
        middle[0] += film[0] * last[0] * rise[0]
        for end, node in [(0, 0), (1, count - 1)]:
            if self.held(end) is not None:
                middle[node] = column[node] = 0.0
                (upper if end == 0 else lower)[0 if end == 0 else -1] = 0.0
        each = np.arange(count)
        rows = np.concatenate([each, each[1:], each[:-1], each, [count, count]])
        columns = np.concatenate([each, each[:-1], each[1:], np.full(count, count), [0, count]])
        values = np.concatenate([middle, lower, upper, column, [last[0] * rise[0], last[1]]])
        return coo_array((values, (rows, columns)), shape=(count + 1, count + 1)).tocsc()


# Seconds by which one may be behind the other where a face warms by tens to hundreds of kelvin a second: as the last water leaves a film.
AWHILE = 5e-3
# Stacks on which it is SciPy's grid that is off: one wet film that was held at a temperature. With three times the nodes what they are
# off by falls to a third, 0.43 to 0.14 K and 0.82 to 0.27 K.
COARSE = {525: 0.5, 1836: 1.0}


def reference(case, nodes):
    """Temperatures of the faces and joints, kelvin, the film's water, and what AWHILE changes, at each moment of the case."""
    moments = case["report_at"]
    ends = list(itertools.accumulate(stage["duration"] for stage in case["stages"]))
    gaps = np.diff(np.concatenate([[0.0], moments]))
    lines = Lines(case, nodes, min([gap for gap in gaps if gap > 0] + [stage["duration"] for stage in case["stages"]]))
    # Heat contents above the start, then the film's water as a share of its start; good to a millionth of a kelvin.
    state = np.append(np.zeros(lines.count), 1.0)
    tolerance = np.append(1e-6 * lines.dry, 1e-9)
    rows, rates, waiting, begin = [], [], list(moments), 0.0
    for stage, end in zip(case["stages"], ends):
        lines.stage = stage
        lines.fill(state)
        solver = BDF(lines.rates, begin, state, end, rtol=1e-6, atol=tolerance, jac=lines.jacobian)
        while solver.status == "running":
            trouble = solver.step()
            if solver.status == "failed":
                raise RuntimeError(trouble)
            dense = solver.dense_output()
            while waiting and (waiting[0] <= solver.t or solver.status == "finished" and waiting[0] <= end * (1 + 1e-12)):
                moment = min(waiting.pop(0), solver.t)
                inside, before = dense(moment), dense(max(moment - AWHILE, solver.t_old))
                warmth = lines.warmth(inside)[0]
                rows.append(np.append(warmth, inside[-1]))
                rates.append(np.abs(warmth - lines.warmth(before)[0])[lines.joints])
            lines.keep(solver.y)
        state, begin = solver.y.copy(), end
    rows = np.array(rows)
    return rows[:, lines.joints], rows[:, -1] * lines.wet, np.array(rates)


def ask(floodbar, case):
    """The same of the library."""
    units = {
        "thickness": "m", "conductivity": "W/(m.K)", "density": "kg/m3", "specific_heat": "J/(kg.K)",
        "bound_water": "kg/m2", "air": "K", "transfer": "W/(m2.K)", "panel": "K", "flux": "W/m2", "temperature": "K",
        "duration": "s", "start": "K", "film_water": "kg/m2",
    }  # fmt: skip

    def dress(key, value):
        if isinstance(value, dict):
            return {name: dress(name, inner) for name, inner in value.items()}
        if isinstance(value, list):
            return [dress("duration" if key == "report_at" else "", inner) for inner in value]
        return quantity(value, units[key]) if key in units else value

    answer = floodbar.calculate("heat.layers", **dress("", case))
    number = lambda cell: cell["value"]
    columns = [answer["top"], *answer["interfaces"], answer["bottom"]]
    heat = np.array([[number(cell) + ZERO for cell in column] for column in columns]).T
    return heat, np.array([number(cell) / 1000 for cell in answer["film_water"]]), answer["energy"]["imbalance_fraction"]


def compare(floodbar, judge, case, nodes, name, most=None):
    heat, water, imbalance = ask(floodbar, case)
    wanted, left, awhile = reference(case, nodes)
    # As many as there are moments, so that none goes unseen.
    judge.within(len(heat), len(wanted), 0, name, "moments")
    for row, moment in enumerate(case["report_at"]):
        for column in range(heat.shape[1]):
            within = 0.05 if most is None else max(most, awhile[row, column])
            judge.within(heat[row, column], wanted[row, column], within, name, "joint", column, "at", moment, "s", kind="K")
        if case.get("film_water"):
            # A hundredth of the film's water, by which the last of it dries.
            judge.within(water[row] / case["film_water"], left[row] / case["film_water"], 0.01, name, "water at", moment)
    judge.within(imbalance, 0.0, 1e-6, name, "imbalance")
    return wanted


def film(thickness, water_fraction, density):
    """An ink film: k 0.17, cp 1500 dry (the trade sheet, section 15), water's 0.60 and 4186 by its share of the mass."""
    mix = lambda dry, wet: (1 - water_fraction) * dry + water_fraction * wet
    return {
        "name": "film", "thickness": thickness, "conductivity": mix(0.17, 0.60), "density": density,
        "specific_heat": mix(1500.0, LIQUID),
    }  # fmt: skip


# Stock cloth, platen and machines, as core/src/stock has them.
JERSEY = {
    "name": "jersey", "thickness": 0.55e-3, "conductivity": 0.055, "density": 0.180 / 0.55e-3, "specific_heat": 1340.0,
    "bound_water": 0.075 * 0.180,
}  # fmt: skip
RUBBER = {"name": "rubber", "thickness": 1.5e-3, "conductivity": 0.16, "density": 1150.0, "specific_heat": 1700.0}
ALUMINIUM = {"name": "aluminium", "thickness": 6e-3, "conductivity": 160.0, "density": 2750.0, "specific_heat": 880.0}
PANEL = {"panel": 550 + ZERO, "exchange_fraction": 0.40, "air": 60 + ZERO, "transfer": 8.0}
QUARTZ = {"flux": 15e3, "air": 40 + ZERO, "transfer": 8.0}
ROOM = {"air": 25 + ZERO, "transfer": 10.0}
OVEN = [{"air": 175 + ZERO, "transfer": h, "humidity_ratio": 0.020} for h in (20.0, 12.0)]
TUNNEL = [
    {"air": 120 + ZERO, "transfer": h, "humidity_ratio": 0.020, "panel": 430 + ZERO, "exchange_fraction": 0.16}
    for h in (10.0, 8.0)
]


def check_stock(floodbar, judge):
    """Flashes over a platen and dryers of the stock, with a plastisol film and with a wet one."""
    dry, wet = film(30e-6, 0.0, 1150.0), film(16e-6, 0.78, 1050.0)
    water = 0.78 * 1050.0 * 16e-6
    under = [JERSEY, RUBBER, ALUMINIUM]
    stacks = {
        "panel flash, plastisol": ([dry, *under], 0.0, PANEL, ROOM, 6.0),
        "panel flash, water-based": ([wet, *under], water, PANEL, ROOM, 12.0),
        "quartz flash, plastisol": ([dry, *under], 0.0, QUARTZ, ROOM, 3.0),
        "air dryer, plastisol": ([dry, JERSEY], 0.0, *OVEN, 60.0),
        "air dryer, water-based": ([wet, JERSEY], water, *OVEN, 120.0),
        "infrared dryer, water-based": ([wet, JERSEY], water, *TUNNEL, 60.0),
    }
    for name, (layers, film_water, top, bottom, duration) in stacks.items():
        # Then out into the room, where what has left the cloth does not come back.
        stages = [{"duration": duration, "top": top, "bottom": bottom}, {"duration": 10.0, "top": ROOM, "bottom": ROOM}]
        moments = [float(moment) for moment in np.append(np.linspace(0, duration, 13)[1:], duration + 10)]
        case = {"layers": layers, "start": 25 + ZERO, "stages": stages, "report_at": moments}
        case |= {"film_water": film_water} if film_water else {}
        wanted = compare(floodbar, judge, case, 100, name)
        # The other discretisation stands on its own: twice the nodes move it by less than a fifth of what we may differ.
        if name.startswith(cases("air dryer", "")):
            moved = np.abs(reference(case, 200)[0] - wanted).max()
            judge.within(moved, 0.0, 0.01, name, "twice the nodes")


def random_face(draw, top, wet):
    kinds = ["air", "air", "panel", "flux"] + ([] if wet else ["insulated", "held"])
    if not top:
        kinds = ["air", "insulated", "held", "flux"]
    kind = draw.choice(kinds)
    air = {"air": draw.uniform(15, 200) + ZERO, "transfer": draw.uniform(4, 60), "humidity_ratio": draw.uniform(0, 0.03)}
    return {
        "air": air,
        "panel": air | {"panel": draw.uniform(300, 650) + ZERO, "exchange_fraction": draw.uniform(0.05, 0.5)},
        "flux": air | {"flux": draw.uniform(-500, 6000)},
        "insulated": {},
        "held": {"temperature": draw.uniform(10, 180) + ZERO},
    }[str(kind)]


def check_random(floodbar, judge):
    """Stacks of one to five layers, film to platen, in one to three stages."""
    draw = np.random.default_rng(20260114)
    for number in range(cases(8, 2000)):
        wet, cloth = number % 3 == 0, number % 4 == 1
        log = lambda low, high: float(math.exp(draw.uniform(math.log(low), math.log(high))))
        layers = [
            {
                "name": f"layer {index}", "thickness": log(1e-5, 6e-3), "conductivity": log(0.03, 100),
                "density": log(100, 5000), "specific_heat": float(draw.uniform(500, 3000)),
            }
            for index in range(draw.integers(1, 6))
        ]  # fmt: skip
        case = {"layers": layers, "start": float(draw.uniform(10, 50) + ZERO)}
        if wet:
            layers[0] = film(log(10e-6, 100e-6), 0.7, 1080.0)
            case["film_water"] = 0.7 * 1080.0 * layers[0]["thickness"]
        if cloth and len(layers) > wet:
            layers[1 if wet else -1] = dict(JERSEY)
        case["stages"] = [
            {
                "duration": log(3, 200),
                "top": {key: float(value) for key, value in random_face(draw, True, wet).items()},
                "bottom": {key: float(value) for key, value in random_face(draw, False, wet).items()},
            }
            for _ in range(draw.integers(1, 4))
        ]
        ends = list(itertools.accumulate(stage["duration"] for stage in case["stages"]))
        case["report_at"] = sorted({float(share * ends[-1]) for share in np.linspace(0, 1, 9)[1:]} | set(ends))
        # Of 2,000 stacks a dozen are off by more than 0.05 K.
        try:
            compare(floodbar, judge, case, 100, f"stack {number}", most=None if number < 50 else COARSE.get(number, 0.1))
        except RuntimeError as stuck:
            print(f"stack {number}: SciPy gives up: {stuck}")


def check_sharp(_, judge):
    """How far the rounding of the release, a part of the model, is from a release with sharp corners."""
    global CORNER, TURN
    rounded = CORNER, TURN
    dry = film(40e-6, 0.0, 1150.0)
    stacks = {
        "panel flash": ([dry, JERSEY, RUBBER, ALUMINIUM], PANEL, ROOM, 6.0),
        "air dryer": ([dry, JERSEY], *OVEN, 60.0),
    }
    for name, (layers, top, bottom, duration) in stacks.items():
        moments = [float(moment) for moment in np.linspace(0, duration, 13)[1:]]
        stages = [{"duration": duration, "top": top, "bottom": bottom}]
        case = {"layers": layers, "start": 25 + ZERO, "stages": stages, "report_at": moments}
        seen = reference(case, 60)[0]
        CORNER, TURN = 1e-5, 1e-5
        try:
            moved = np.abs(reference(case, 60)[0] - seen).max()
        finally:
            CORNER, TURN = rounded
        judge.within(moved, 0.0, 0.03, name, "rounded against sharp", kind="K, sharp corners")


def check_wet_bulb(floodbar, judge):
    """A thick wet film on an insulated back, left in moving air: its temperature against the thermodynamic wet-bulb."""
    layer = film(1e-3, 0.9, 1000.0)
    for celsius, ratio in itertools.product([25, 30, 40, 50, 60], [0.010, 0.015, 0.020, 0.030, 0.050, 0.080]):
        if HAPropsSI("W", "T", celsius + ZERO, "R", 0.98, "P", PRESSURE) < ratio:
            continue
        bulb = HAPropsSI("B", "T", celsius + ZERO, "W", ratio, "P", PRESSURE)
        face = {"air": celsius + ZERO, "transfer": 25.0, "humidity_ratio": ratio}
        case = {
            "layers": [layer], "start": celsius + ZERO, "film_water": 0.9, "report_at": [900.0],
            "stages": [{"duration": 900.0, "top": face, "bottom": {}}],
        }  # fmt: skip
        heat, water, _ = ask(floodbar, case)
        judge.within(heat[0, 0], bulb, 1.0, celsius, "degC, humidity ratio", ratio, kind="K, wet-bulb")
        # Still wet, so that it is evaporation that keeps it cold.
        judge.within(water[0] / 0.9, 0.5, 0.49, celsius, "degC, humidity ratio", ratio, "water left")


CHECKS = {"flashes and dryers": check_stock, "random stacks": check_random, "sharp corners": check_sharp, "wet-bulb": check_wet_bulb}


if __name__ == "__main__":
    sys.exit(run(sys.argv[1], CHECKS))
