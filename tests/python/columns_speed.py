"""What prepared columns cost beside pint and NumPy: columns_speed.py LIBRARY

By hand, not part of tests/run. Needs what requirements.txt lists.

The formulas of columns_peers.py on a million rows: ink.usage and exposure.step from NumPy arrays, every check made, against

- a Python loop with pint over the formula, without checks: 20,000 rows, scaled;
- NumPy doing the formula and the same checks: each input within its range and its usual range, counts whole, outputs finite; a status
  and a number of cautions for each row, NaN where it fails. It does so for the whole column at once, and in blocks that stay close to
  the processor.

Times are the shortest of several, taken in turn. Then what one row a call costs, from Python and alone.
"""

import ctypes
import sys

import numpy as np
import pint

from columns_peers import OUT_OF_RANGE, Step, Usage
from shared import Floodbar, shortest

ROWS, PINT_ROWS, BLOCK, TURNS = 1_000_000, 20_000, 4096, 5
INTERNAL = 11


class NearStep(Step):
    """exposure.step with scales that were read near the wanted step, so that no row meets a caution."""

    @classmethod
    def draw(cls, random, rows):
        return [random.uniform(20, 400, rows), random.uniform(5, 8, rows), random.uniform(6, 8, rows), random.uniform(0.12, 0.19, rows)]


def numpy_checked(kind, columns, outputs):
    """The formula with the checks, on whole columns."""
    status, cautions = np.zeros(len(columns[0]), np.int32), np.zeros(len(columns[0]), np.uint32)
    for column, (least, most), (low, high) in zip(columns, kind.ranges, kind.usual):
        status[~((column >= least) & (column <= most))] = OUT_OF_RANGE
        cautions += ~((column >= low) & (column <= high))
    if kind is Usage:
        status[columns[2] != np.floor(columns[2])] = OUT_OF_RANGE
    found = kind.formula(*columns)
    if issubclass(kind, Step):
        time, factor = found
        cautions += ~((factor >= 0.25) & (factor <= 4.0))
        status[~((time >= 0.01) & (time <= 86400.0))] = OUT_OF_RANGE
    found = found[:outputs]
    for column in found:
        status[~np.isfinite(column)] = INTERNAL
    bad = status != 0
    for column in found:
        column[bad] = np.nan
    return found, status, cautions


def in_blocks(kind, columns, outputs):
    """The same in blocks, into arrays that are made once."""
    rows = len(columns[0])
    found = [np.empty(rows) for _ in range(outputs)]
    status, cautions = np.empty(rows, np.int32), np.empty(rows, np.uint32)
    for begin in range(0, rows, BLOCK):
        part = slice(begin, begin + BLOCK)
        some, status[part], cautions[part] = numpy_checked(kind, [column[part] for column in columns], outputs)
        for whole, column in zip(found, some):
            whole[part] = column
    return found, status, cautions


def pint_usage(units):
    """ink.usage with units, the screen worked out beforehand."""
    q, k = units.Quantity, Usage
    opening = 1 / q(77, "1/cm") - q(55, "um")
    volume = ((opening * q(77, "1/cm")) ** 2 * q(84, "um")).to("m")
    laid, density, left, edge, reach = k.hits * k.release * (1 + k.gain * (k.strokes - 1)), q(1.18, "g/cm^3"), q(150, "g"), q(12, "m"), q(0.4, "mm")  # fmt: skip
    cm2, um = units("cm^2"), units("um")

    def row(area, over_mesh, prints, waste):
        area, over_mesh = area * cm2, over_mesh * um
        share = min((edge * reach / area).to("").magnitude, 1.0)
        each = area * (laid * (volume + over_mesh * share)) * density
        return (each * prints * (1 + waste) + left).to("g").magnitude

    return row


def pint_step(units):
    s = units("s")

    def row(time, solid, wanted, density):
        return (time * s * 10.0 ** (density * (wanted - solid))).to("s").magnitude

    return row


def single(floodbar, prepared, columns):
    """Seconds for a row a call: through run(), and the C function alone with its pointers at hand."""
    few = [column[:1].copy() for column in columns]
    out = [np.empty(1) for _ in prepared.outputs]
    pointers = [(ctypes.c_void_p * len(side))(*(column.ctypes.data for column in side)) for side in (few, out)]
    run = floodbar._library.floodbar_run

    def through():
        for _ in range(2000):
            prepared.run(few, out)

    def alone():
        for _ in range(2000):
            run(prepared._handle, 1, pointers[0], len(few), pointers[1], len(out), None, None, None)

    return [time / 2000 for time in shortest([through, alone], TURNS)]


def main(library):
    floodbar, units = Floodbar(library), pint.UnitRegistry()
    for kind, row in [(Usage, pint_usage(units)), (NearStep, pint_step(units)), (Step, pint_step(units))]:
        columns = kind.draw(np.random.default_rng(1), ROWS)
        some = list(zip(*(column[:PINT_ROWS].tolist() for column in columns)))
        for outputs in dict.fromkeys([1, len(kind.outputs)]):
            prepared = floodbar.prepare(kind.id, kind.request, kind.inputs, kind.outputs[:outputs])
            done = prepared.run(columns)
            found, status, cautions = numpy_checked(kind, columns, outputs)
            assert all(np.allclose(one, other, rtol=1e-12, atol=0) for one, other in zip(done.columns, found))
            assert np.array_equal(done.status, status) and np.array_equal(done.cautions, cautions)
            assert np.allclose([row(*values) for values in some[:100]], done[0][:100], rtol=1e-12, atol=0)
            ours, whole, blocks, slow = shortest(
                [lambda: prepared.run(columns), lambda: numpy_checked(kind, columns, outputs), lambda: in_blocks(kind, columns, outputs),
                 lambda: [row(*values) for values in some]], TURNS)  # fmt: skip
            slow *= ROWS / PINT_ROWS
            print(f"{kind.id}, {len(columns)} inputs, {outputs} of {len(kind.outputs)} outputs, a million rows, "
                  f"{np.mean(done.cautions > 0):.0%} with a caution: {ours * 1e3:.0f} ms; pint "
                  f"{slow:.1f} s, {slow / ours:.0f} times as long; NumPy with the checks {whole * 1e3:.0f} ms, in blocks {blocks * 1e3:.0f} ms: "
                  f"ours takes {ours / whole:.1f} and {ours / blocks:.1f} times as long")  # fmt: skip
        through, alone = single(floodbar, prepared, columns)
        print(f"  a row a call: {through * 1e6:.1f} us through run(), {alone * 1e6:.2f} us through ctypes alone")


if __name__ == "__main__":
    main(*sys.argv[1:2])
