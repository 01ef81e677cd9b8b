"""Compares prepared columns with the same formulas in NumPy, and how arrays go in and out: columns_peers.py LIBRARY

Random rows from a fixed seed, some of them beyond what can be. Prints what differs, then the counts.
"""

import math
import sys
import tracemalloc

import numpy as np

from shared import FloodbarError, cases, quantity, run

ROWS = 10_000
OUT_OF_RANGE = 7


class Usage:
    """ink.usage on a screen whose every number is given; the last inputs in their units and their ranges."""

    id = "ink.usage"
    count, thread, thickness, edge, reach = 77e2, 55e-6, 84e-6, 12.0, 0.4e-3
    density, release, gain, strokes, hits, left = 1180.0, 0.46, 0.2, 2, 2, 0.15
    request = {
        "mesh": {"count": "77 /cm", "thread": "55 um", "thickness": "84 um"},
        "ink": {"from": "plastisol", "density": "1.18 g/cm3", "release_fraction": release, "stroke_gain_fraction": gain},
        "strokes": strokes, "hits": hits, "left_in_screen": "150 g", "edge_length": "12 m", "edge_length_scale": "0.4 mm",
    }  # fmt: skip
    inputs = [{"at": "/printed_area", "unit": "cm2"}, {"at": "/over_mesh", "unit": "um"}, "/prints", "/waste_fraction"]
    outputs = [
        {"at": "/mass_to_mix", "unit": "g"}, {"at": "/mass_per_print", "unit": "g"}, {"at": "/wet_film", "unit": "um"},
        {"at": "/volume_to_mix", "unit": "ml"}, {"at": "/prints_per_mass", "unit": "/kg"},
    ]  # fmt: skip
    ranges = [(1e-4, 1e6), (0.0, 5000.0), (1.0, 1e7), (0.0, 10.0)]
    usual = [(0.5, 5000.0), (2.0, 500.0), (1.0, 1e7), (0.0, 0.5)]

    @classmethod
    def draw(cls, random, rows):
        return [random.uniform(1, 2000, rows), random.uniform(2, 150, rows), random.integers(1, 2000, rows).astype(float),
                random.uniform(0, 0.45, rows)]  # fmt: skip

    @classmethod
    def formula(cls, area, over_mesh, prints, waste):
        area, over_mesh = area * 1e-4, over_mesh * 1e-6
        opening = 1 / cls.count - cls.thread
        volume = (opening * cls.count) ** 2 * cls.thickness
        share = np.minimum(cls.edge * cls.reach / area, 1.0)
        wet = cls.hits * cls.release * (1 + cls.gain * (cls.strokes - 1)) * (volume + over_mesh * share)
        each = area * wet * cls.density
        mix = each * prints * (1 + waste) + cls.left
        return mix * 1e3, each * 1e3, wet * 1e6, mix / cls.density * 1e6, 1 / each

    @classmethod
    def asked(cls, row):
        area, over_mesh, prints, waste = row
        return cls.request | {"printed_area": quantity(area, "cm2"), "over_mesh": quantity(over_mesh, "um"), "prints": float(prints),
                              "waste_fraction": float(waste)}  # fmt: skip


class Step:
    """exposure.step, with all that it takes as an input."""

    id = "exposure.step"
    request = {}
    inputs = [{"at": "/time", "unit": "s"}, "/solid_step", "/wanted_step", "/density_per_step"]
    outputs = [{"at": "/time", "unit": "s"}, "/factor"]
    ranges = [(0.01, 86400.0), (1.0, 41.0), (1.0, 41.0), (0.01, 1.0)]
    usual = [(1.0, 5400.0), (1.0, 21.0), (1.0, 21.0), (0.05, 0.31)]

    @classmethod
    def draw(cls, random, rows):
        return [random.uniform(20, 400, rows), random.uniform(2, 12, rows), random.uniform(4, 9, rows), random.uniform(0.1, 0.3, rows)]

    @classmethod
    def formula(cls, time, solid, wanted, density):
        factor = 10.0 ** (density * (wanted - solid))
        return time * factor, factor

    @classmethod
    def asked(cls, row):
        time, *others = map(float, row)
        return cls.request | {"time": quantity(time, "s")} | dict(zip(["solid_step", "wanted_step", "density_per_step"], others))


KINDS = [Usage, Step]


def prepared(floodbar, kind):
    return floodbar.prepare(kind.id, kind.request, kind.inputs, kind.outputs)


def drawn(kind, seed, rows=ROWS):
    """Columns in range, and the same with some numbers beyond it."""
    random = np.random.default_rng(seed)
    good = kind.draw(random, rows)
    odd = [column.copy() for column in good]
    for column, (least, most) in zip(odd, kind.ranges):
        places = random.integers(0, rows, rows // 50)
        column[places] = random.choice([least - 0.5, -1e300, most * 1.01, np.nan, np.inf, -np.inf], len(places))
    return good, odd


def check_formulas(floodbar, judge):
    for kind in KINDS:
        for columns in drawn(kind, 20261127):
            before = [column.tobytes() for column in columns]
            done = prepared(floodbar, kind).run(columns)
            judge.holds([column.tobytes() for column in columns] == before, kind.id, "an input was written")
            judge.holds(all(type(column) is np.ndarray and column.dtype == np.float64 for column in done.columns), kind.id, "arrays from arrays")
            with np.errstate(all="ignore"):
                wanted = kind.formula(*columns)
                held = [(column >= least) & (column <= most) for column, (least, most) in zip(columns, kind.ranges)]
                unusual = [(column < least) | (column > most) for column, (least, most) in zip(columns, kind.usual)]
            good = np.logical_and.reduce(held)
            judge.holds(np.array_equal(done.status != 0, ~good) and set(done.status) <= {0, OUT_OF_RANGE}, kind.id, "statuses", set(done.status))
            for place, (found, column) in enumerate(zip(done.columns, wanted)):
                off = np.abs(found[good] / column[good] - 1).max()
                judge.within(off, 0.0, 1e-12, kind.id, place, kind="share")
                judge.holds(np.isnan(found[~good]).all(), kind.id, place, "a row that failed is not NaN")
            least = np.sum(unusual, axis=0)[good]
            judge.holds((done.cautions[good] >= least).all() and (done.cautions[good] <= least + 1).all(), kind.id, "cautions")
            judge.holds(not done.limits.any(), kind.id, "limits")


def check_bits(floodbar, judge):
    for kind in KINDS:
        columns = drawn(kind, 20261128, cases(200, 2000))[1]
        done = prepared(floodbar, kind).run(columns)
        factors = {"g": 1.0, "kg": 1e3, "s": 1.0, "min": 60.0, "h": 3600.0, "ml": 1.0, "l": 1e3}
        for index, row in enumerate(zip(*columns)):
            found = [column[index] for column in done.columns]
            if not all(map(math.isfinite, row)):
                judge.holds(done.status[index] == OUT_OF_RANGE and np.isnan(found).all(), kind.id, index, "no number has no answer")
                continue
            try:
                answer = floodbar.calculate(kind.id, **kind.asked(row))
            except FloodbarError as error:
                judge.holds(floodbar.status_text(done.status[index]) == error.code, kind.id, index, error.code)
                judge.holds(np.isnan(found).all(), kind.id, index, found)
                continue
            levels = [note["level"] for note in answer["notes"]]
            counts = done.cautions[index], done.limits[index]
            judge.holds(counts == (levels.count("caution"), levels.count("limit")), kind.id, index, "counts", counts, levels)
            for output, number in zip(kind.outputs, found):
                at, unit = (output, "1") if isinstance(output, str) else (output["at"], output["unit"])
                told = answer[at[1:]]
                value, told_in = (told, "1") if isinstance(told, float) else (told["value"], told["unit"])
                # A number that is told in another unit, by its size, is compared as nearly as units can be turned.
                if told_in == unit:
                    judge.holds(np.float64(value).tobytes() == number.tobytes(), kind.id, index, at, value, number)
                else:
                    judge.near(number, value * factors[told_in] / factors[unit], 1e-15, kind.id, index, at)


def check_memory(floodbar, judge):
    """What is of the right kind goes in and out where it lies; what is not is copied or refused."""
    usage = prepared(floodbar, Usage)
    rows = 200_000
    columns = Usage.draw(np.random.default_rng(3), rows)
    wanted = usage.run(columns)
    out = [np.zeros(rows) for _ in Usage.outputs]
    tracemalloc.start()
    done = usage.run(columns, out)
    # Twelve bytes a row: status, cautions, limits.
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    judge.holds(peak < 13 * rows, "bytes a row", peak / rows)
    judge.holds(all(one is other for one, other in zip(done.columns, out)), "columns that were given are given back")
    judge.holds(all(np.array_equal(one, other) for one, other in zip(out, wanted.columns)), "and written")
    table = np.zeros((len(Usage.outputs), rows))
    usage.run(columns, table)
    judge.holds(np.array_equal(table, np.array(wanted.columns)), "rows of a table are columns")
    locked = [column.copy() for column in columns]
    for column in locked:
        column.flags.writeable = False
    judge.holds(np.array_equal(usage.run(locked)[0], wanted[0]), "inputs may be locked")

    few = [column[:100] for column in columns]
    wanted = usage.run(few)
    spread = np.repeat(columns[0][:100], 3)
    bytes_off = np.frombuffer(b"\0" * 4 + few[0].tobytes(), dtype="u1")[4:].view("f8")
    for what, area in {
        "strided": spread[::3],
        "backwards": few[0][::-1].copy()[::-1],
        "byte-swapped": few[0].astype(">f8"),
        "not aligned": bytes_off,
        "a column of a table": np.stack([few[0], few[1]], axis=1)[:, 0],
        "long doubles": few[0].astype(np.longdouble),
        "a list among arrays": few[0].tolist(),
    }.items():
        done = usage.run([area, *few[1:]])
        judge.holds(np.array_equal(done[0], wanted[0]) and isinstance(done[0], np.ndarray), what)
    whole = [few[0].astype(np.float32), few[1].astype(np.int64), few[2].astype(np.uint16), np.zeros(100, bool)]
    done, floats = usage.run(whole), usage.run([column.astype(float) for column in whole])
    judge.holds(np.array_equal(done[0], floats[0]) and not done.status.any(), "whole numbers, float32 and truth values")

    for what, field, area, target in [
        ("a table", "/inputs/0", np.ones((100, 1)), None),
        ("a number alone", "/inputs/0", np.float64(5), None),
        ("complex numbers", "/inputs/0", few[0].astype(complex), None),
        ("objects", "/inputs/0", few[0].astype(object), None),
        ("texts", "/inputs/0", few[0].astype(str), None),
        ("times", "/inputs/0", few[0].astype("m8[s]"), None),
        ("a masked array", "/inputs/0", np.ma.masked_array(few[0]), None),
        ("float32 to be written to", "/outputs/0", few[0], np.zeros(100, np.float32)),
        ("a strided array to be written to", "/outputs/0", few[0], np.zeros(200)[::2]),
        ("a locked array to be written to", "/outputs/0", few[0], locked[0][:100]),
        ("a byte-swapped array to be written to", "/outputs/0", few[0], np.zeros(100, ">f8")),
    ]:
        room = [np.zeros(100) for _ in Usage.outputs]
        try:
            usage.run([area, *few[1:]], None if target is None else [target, *room[1:]])
            judge.holds(False, what, "is taken")
        except FloodbarError as error:
            judge.holds((error.code, error.field) == ("wrong_type", field), what, error.code, error.field, error)
    both = np.zeros(150)
    both[:100] = few[0]
    try:
        usage.run([both[:100], *few[1:]], [both[50:], *room[1:]])
        judge.holds(False, "an output upon an input is taken")
    except FloodbarError as error:
        judge.holds((error.code, error.field) == ("impossible", "/outputs/0") and np.array_equal(both[:100], few[0]), error)

    nothing = usage.run([np.zeros(0)] * 4)
    judge.holds([len(column) for column in nothing.columns] == [0] * 5 and len(nothing.status) == 0, "zero rows")
    nan = usage.run([np.full(10, np.nan), *(column[:10] for column in few[1:])])
    judge.holds(np.isnan(nan[0]).all() and (nan.status == OUT_OF_RANGE).all(), "a column of NaN")


def check_absent(floodbar, judge):
    """An output that some rows lack is NaN there, though the row has an answer."""
    request = {"mesh": "77-55", "ruling": "22 /cm", "angles": ["0 deg"]}
    moire = floodbar.prepare("mesh.moire", request, [{"at": "/angles/0", "unit": "deg"}], ["/per_angle/0/worst_period", "/per_angle/0/clear"])
    angles = np.linspace(0, 90, 61)
    done = moire.run([angles])
    answers = [floodbar.calculate("mesh.moire", **request | {"angles": [quantity(angle, "deg")]})["per_angle"][0] for angle in angles]
    absent = np.array(["worst_period" not in answer for answer in answers])
    judge.holds(absent.any() and not absent.all() and not done.status.any(), "some rows lack it")
    judge.holds(np.array_equal(np.isnan(done[0]), absent), "what is absent is NaN")
    judge.holds(np.array_equal(done[1], [answer["clear"] for answer in answers]), "a truth value is 0 or 1")


CHECKS = {"formulas": check_formulas, "bits": check_bits, "memory": check_memory, "absent": check_absent}


if __name__ == "__main__":
    sys.exit(run(sys.argv[1], CHECKS))
