"""What heat.layers costs beside general-purpose solvers of stiff equations, at the same error: heat_speed.py LIBRARY

By hand, not part of tests/run. Needs numpy, scipy, numba and scikit-sundae from PyPI, and cargo: for the time of the solver
without JSON and its grid, both from the benchmark `heat`, and for the program in tests/speed.

The peers are given our own finite volumes, with the heat content of the cells as unknowns, which keeps the right-hand side
continuous where bound water leaves:

- SciPy's BDF, with NumPy for the right-hand side and the tridiagonal Jacobian written out, dense or sparse, whichever is faster;
- CVODE of SUNDIALS, the compiled library inside the wheel of scikit-sundae, called as C calls it: band solver, right-hand side,
  Jacobian and loop over the moments compiled by numba, so that no Python runs between the first step and the last;
- the Rust crate diffsol: BDF, TR-BDF2 and ESDIRK34 with its dense or sparse solver or a tridiagonal one of tests/speed, whichever
  is fastest.

Each runs with bound water that leaves along a sharp ramp, and along the ramp with rounded corners that is our model. Each runs on
our grid at the default tolerance and on others: ours with fewer cells, and cells that grow away from both sides of each layer, or
do not. Bound water is not taken back in any of it: both problems only heat.

The absolute tolerance of heat contents is the relative one times a rise by 100 K, of the mean cell or of each cell for itself.

The truth, of either ramp, is CVODE on our grid with each cell cut in 8 and a relative tolerance of 1e-9. Errors are the largest
over all joints, faces and moments; ours is held against the truth of the rounded ramp. Times are the shortest of many; the
quickest settings of each peer are timed again, for longer. The benchmark runs before, between and after them.

Printed are all points of work and precision, then for each problem, ramp and peer its quickest point within 0.05 K, on our grid
and on the grid that suits it best, over our solver at the default tolerance, alone and through JSON.
"""

import ctypes
import json
import os
import re
import subprocess
import sys
import time
from dataclasses import dataclass
from itertools import product
from pathlib import Path

import numpy as np
import sksundae
from numba import carray, cfunc, njit, types
from scipy import sparse
from scipy.integrate import solve_ivp

from shared import ROOT, Floodbar

ICE = 273.15
START = 25 + ICE
SIGMA = 5.670374419e-8
BOUND_HEAT = 2.6e6
LEAVES, LEFT = 60 + ICE, 120 + ICE
# How far the corners of the release of bound water are rounded, and how much slower each peer should be.
RAMPS = {"sharp": 0.0, "rounded": 0.01}
AIMS = {
    "SciPy BDF": {"sharp": 300, "rounded": 150},
    "CVODE": {"sharp": 8, "rounded": 4},
    "diffsol": {"sharp": 8, "rounded": 4},
}
TARGET = 0.05
TOLERANCES = [1, 0.3, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005]
RELATIVE = [5e-3, 2e-3, 1e-3, 7e-4, 5e-4, 3e-4, 2e-4, 1e-4, 5e-5, 2e-5]
# Whose kelvin the absolute tolerance is a share of: that of the mean cell, or each cell's own.
ABSOLUTE = ["mean", "own"]
# How long a setting is timed at first, and how long when it is among the quickest, s.
BRIEFLY, LONG = 0.01, 0.4
OURS = "ours"


@dataclass
class Layer:
    """SI units."""

    thickness: float
    conductivity: float
    density: float
    specific_heat: float
    bound_water: float = 0.0


@dataclass
class Case:
    """A stack, what its faces meet (air, transfer, panel, exchange fraction), and the moments to look at."""

    name: str
    layers: list
    top: tuple
    bottom: tuple
    moments: np.ndarray

    def request(self, tolerance):
        """The request of heat.layers, as bytes."""

        def face(air, transfer, panel, exchange):
            met = {"air": f"{air} K", "transfer": f"{transfer} W/(m2.K)"}
            return met | ({"panel": f"{panel} K", "exchange_fraction": exchange} if exchange else {})

        units = {
            "thickness": "m", "conductivity": "W/(m.K)", "density": "kg/m3", "specific_heat": "J/(kg.K)",
            "bound_water": "kg/m2",
        }  # fmt: skip
        layers = [{"name": "layer"} | {key: f"{getattr(layer, key)} {unit}" for key, unit in units.items()}
                  for layer in self.layers]  # fmt: skip
        stage = {"duration": f"{self.moments[-1]} s", "top": face(*self.top), "bottom": face(*self.bottom)}
        return json.dumps({
            "start": f"{START} K", "layers": layers, "stages": [stage], "tolerance": f"{tolerance} K",
            "report_at": [f"{moment} s" for moment in self.moments],
        }).encode()  # fmt: skip


FILM = Layer(40e-6, 0.17, 1150, 1500)
CLOTH = Layer(0.55e-3, 0.055, 327.27, 1340, 13.5e-3)
RUBBER = Layer(1.5e-3, 0.16, 1150, 1700)
ALUMINIUM = Layer(6e-3, 160, 2750, 880)
CASES = [
    Case("dryer", [FILM, CLOTH], (175 + ICE, 20, 0, 0), (175 + ICE, 12, 0, 0), np.arange(1.0, 61.0)),
    Case("flash", [FILM, CLOTH, RUBBER, ALUMINIUM], (60 + ICE, 8, 550 + ICE, 0.40), (25 + ICE, 10, 0, 0),
         np.arange(1.0, 7.0)),
]  # fmt: skip


def stretched(sizes, count):
    """As many cells of the same layer that grow and shrink as these do."""
    depths = np.concatenate([[0], np.cumsum(sizes)])
    return np.diff(np.interp(np.linspace(0, len(sizes), count + 1), np.arange(len(sizes) + 1), depths))


def graded(thickness, count, growth):
    """Cells of a layer that grow from both sides to the middle."""
    sizes = growth ** np.minimum(np.arange(count), np.arange(count)[::-1]).astype(float)
    return sizes * thickness / sizes.sum()


def our_cells(case, half):
    """Sizes of our cells, layer by layer, from the conductances of half cells from the top down."""
    left, cells = list(half), []
    for layer in case.layers:
        sizes = []
        while sum(sizes) < layer.thickness * (1 - 1e-6):
            sizes.append(2 * layer.conductivity / left.pop(0))
        assert abs(sum(sizes) / layer.thickness - 1) < 1e-6, "a cell lies in two layers"
        cells.append(np.array(sizes))
    assert not left
    return cells


def choices(case, ours):
    """Sizes of cells, layer by layer, by the name of the grid."""
    found = {OURS: ours}
    for factor in [0.5, 0.6, 0.7, 0.85]:
        found[f"ours x {factor}"] = [stretched(sizes, max(round(factor * len(sizes)), 1)) for sizes in ours]
    # As many cells in each layer as heat takes to pass it.
    lengths = [layer.thickness * (layer.density * layer.specific_heat / layer.conductivity) ** 0.5 for layer in case.layers]
    for total in [12, 20, 32]:
        counts = [max(round(total * length / sum(lengths)), 1) for length in lengths]
        for growth in [1.0, 1.2]:
            found[f"{total} cells, growth {growth}"] = [
                graded(layer.thickness, count, growth) for layer, count in zip(case.layers, counts)
            ]
    return found


class Grid:
    """Finite volumes: the heat content of cells (J/m2 above the start) as unknowns."""

    def __init__(self, case, cells, corner):
        self.corner = corner
        self.counts = [len(sizes) for sizes in cells]
        each = [(layer, size) for layer, sizes in zip(case.layers, cells) for size in sizes]
        self.capacity = np.array([layer.density * layer.specific_heat * size for layer, size in each])
        self.bound = np.array([BOUND_HEAT * layer.bound_water * size / layer.thickness for layer, size in each])
        self.half = np.array([2 * layer.conductivity / size for layer, size in each])
        self.between = self.half[:-1] * self.half[1:] / (self.half[:-1] + self.half[1:])
        # Heat at which bound water begins to leave, and heat that it takes until all has left.
        self.begins = self.capacity * (LEAVES - START)
        self.takes = self.capacity * (LEFT - LEAVES) + self.bound
        self.faces = np.array([case.top, case.bottom])
        self.size = len(each)

    def tolerances(self, absolute, relative):
        """Relative, and absolute for each cell: what the share is of a rise by 100 K."""
        kelvin = self.capacity if absolute == "own" else np.full(self.size, np.mean(self.capacity))
        return relative, relative * 100 * kelvin

    def turns(self, way):
        """How far both corners have been turned: 0 to twice as far as they are rounded."""
        most = 2 * self.corner
        above, below = way + self.corner, way - (1 - self.corner)
        return np.minimum(np.maximum(above, 0), most), np.minimum(np.maximum(below, 0), most)

    def temperatures(self, heat):
        """Temperatures of the cells; heat may have one column for each moment."""
        begins, takes, bound, capacity = (
            values if heat.ndim == 1 else values[:, None]
            for values in (self.begins, self.takes, self.bound, self.capacity)
        )
        way = (heat - begins) / takes
        share = np.minimum(np.maximum(way - self.corner, 0), 1)
        if self.corner:
            first, second = self.turns(way)
            share += (first - second) * (first + second) * (0.25 / self.corner)
        return START + (heat - bound * share) / capacity

    def rates(self, _, heat):
        """Heat into each cell, W/m2."""
        cells = self.temperatures(heat)
        flux = np.empty(self.size + 1)
        flux[1:-1] = self.between * (cells[1:] - cells[:-1])
        flux[0] = -face_heat(*self.faces[0], self.half[0], cells[0])[0]
        flux[-1] = face_heat(*self.faces[1], self.half[-1], cells[-1])[0]
        return flux[1:] - flux[:-1]

    def bands(self, heat):
        """The Jacobian: below, on and above the diagonal."""
        way = (heat - self.begins) / self.takes
        if self.corner:
            first, second = self.turns(way)
            steepness = (first - second) * (0.5 / self.corner)
        else:
            steepness = (way > 0) & (way < 1)
        slope = (1 - self.bound / self.takes * steepness) / self.capacity
        cells = self.temperatures(heat)
        diagonal = np.zeros(self.size)
        diagonal[:-1] -= self.between
        diagonal[1:] -= self.between
        diagonal[0] += face_heat(*self.faces[0], self.half[0], cells[0])[1]
        diagonal[-1] += face_heat(*self.faces[1], self.half[-1], cells[-1])[1]
        return self.between * slope[:-1], diagonal * slope, self.between * slope[1:]

    def seen(self, heat):
        """Temperatures of the top, the joints and the bottom, from the heat content of all cells at all moments."""
        cells = self.temperatures(heat)
        joints = np.cumsum(self.counts)[:-1]
        rows = [[face_heat(*self.faces[0], self.half[0], cell)[2] for cell in cells[0]]]
        for joint in joints:
            above, below = self.half[joint - 1], self.half[joint]
            rows.append((above * cells[joint - 1] + below * cells[joint]) / (above + below))
        rows.append([face_heat(*self.faces[1], self.half[-1], cell)[2] for cell in cells[-1]])
        return np.array(rows)


@njit
def face_heat(air, transfer, panel, exchange, half, cell):
    """Heat through a face into its cell, its slope with the cell's temperature, and the face's own temperature.

    The face has no heat capacity: convection and radiation onto it are conducted into the cell.
    """
    face = cell
    slope = 0.0
    for _ in range(20):
        slope = transfer + 4 * exchange * SIGMA * face**3 + half
        change = (transfer * (air - face) + exchange * SIGMA * (panel**4 - face**4) + half * (cell - face)) / slope
        face += change
        if exchange == 0 or abs(change) < 1e-9:
            break
    return half * (face - cell), half * (half / slope - 1), face


# CVODE, from the shared libraries that the wheel brings.
LIBRARIES = Path(sksundae.__file__).parents[1] / "scikit_sundae.libs"


def shared(name):
    """A library of the wheel by the name that SUNDIALS gives it."""
    return ctypes.CDLL(str(next(LIBRARIES.glob(f"libsundials_{name}-*"))), mode=ctypes.RTLD_GLOBAL)


def function(library, name, result, *arguments):
    """A C function with its types."""
    found = getattr(library, name)
    found.restype, found.argtypes = result, arguments
    return found


P, D, I, L = ctypes.c_void_p, ctypes.c_double, ctypes.c_int, ctypes.c_int64
core, vectors, matrices, solvers, cvode = map(shared, ["core", "nvecserial", "sunmatrixband", "sunlinsolband", "cvode"])
context_create = function(core, "SUNContext_Create", I, I, P)
data_of = function(core, "N_VGetArrayPointer", ctypes.POINTER(D), P)
make_vector = function(vectors, "N_VMake_Serial", P, L, P, P)
make_matrix = function(matrices, "SUNBandMatrix", P, L, L, L, P)
make_solver = function(solvers, "SUNLinSol_Band", P, P, P, P)
cv_create = function(cvode, "CVodeCreate", P, I, P)
cv_init = function(cvode, "CVodeInit", I, P, P, D, P)
cv_again = function(cvode, "CVodeReInit", I, P, D, P)
cv_tolerances = function(cvode, "CVodeSVtolerances", I, P, D, P)
band_of = function(matrices, "SUNBandMatrix_Data", ctypes.POINTER(D), P)
cv_solver = function(cvode, "CVodeSetLinearSolver", I, P, P, P)
cv_jacobian = function(cvode, "CVodeSetJacFn", I, P, P)
cv_data = function(cvode, "CVodeSetUserData", I, P, P)
cv_most = function(cvode, "CVodeSetMaxNumSteps", I, P, ctypes.c_long)
cv_steps = function(cvode, "CVodeGetNumSteps", I, P, P)
cv_march = function(cvode, "CVode", I, P, D, P, P, I)
CV_BDF, CV_NORMAL = 2, 1


@njit
def temperature(heat, corner, capacity, bound, begins, takes):
    """Temperature of a cell, and its slope with the heat content."""
    way = (heat - begins) / takes
    share = min(max(way - corner, 0.0), 1.0)
    if corner == 0.0:
        steepness = 1.0 if 0.0 < way < 1.0 else 0.0
    else:
        first = min(max(way + corner, 0.0), 2 * corner)
        second = min(max(way - 1 + corner, 0.0), 2 * corner)
        share += (first - second) * (first + second) * (0.25 / corner)
        steepness = (first - second) * (0.5 / corner)
    return START + (heat - bound * share) / capacity, (1 - bound / takes * steepness) / capacity


@njit
def unpacked(data):
    """Size, corner, faces, and a column for each cell: capacity, bound, begins, takes, conductances between and of halves."""
    size = int(carray(data, 1, np.float64)[0])
    values = carray(data, 10 + 6 * size, np.float64)
    return size, values[1], values[2:10], values[10:].reshape((6, size))


@cfunc(types.int32(types.double, types.voidptr, types.voidptr, types.voidptr))
def cv_rates(_, heat_vector, rate_vector, data):
    """Grid.rates for CVODE."""
    size, corner, faces, cells = unpacked(data)
    heat, rate = carray(data_of(heat_vector), size), carray(data_of(rate_vector), size)
    above, before = 0.0, 0.0
    for i in range(size):
        cell = temperature(heat[i], corner, cells[0, i], cells[1, i], cells[2, i], cells[3, i])[0]
        if i == 0:
            above = face_heat(faces[0], faces[1], faces[2], faces[3], cells[5, 0], cell)[0]
        else:
            flux = cells[4, i - 1] * (before - cell)
            rate[i - 1] = above - flux
            above = flux
        before = cell
    rate[size - 1] = above + face_heat(faces[4], faces[5], faces[6], faces[7], cells[5, size - 1], before)[0]
    return 0


@cfunc(types.int32(types.double, *[types.voidptr] * 7))
def cv_bands(_, heat_vector, rate_vector, matrix, data, first, second, third):
    """Grid.bands for CVODE: columns of four, of which the first is left to the fill-in of pivots."""
    size, corner, faces, cells = unpacked(data)
    heat, band = carray(data_of(heat_vector), size), carray(band_of(matrix), (size, 4))
    for i in range(size):
        cell, slope = temperature(heat[i], corner, cells[0, i], cells[1, i], cells[2, i], cells[3, i])
        diagonal = 0.0
        if i > 0:
            band[i, 1] = cells[4, i - 1] * slope
            diagonal -= cells[4, i - 1]
        else:
            diagonal += face_heat(faces[0], faces[1], faces[2], faces[3], cells[5, i], cell)[1]
        if i < size - 1:
            band[i, 3] = cells[4, i] * slope
            diagonal -= cells[4, i]
        else:
            diagonal += face_heat(faces[4], faces[5], faces[6], faces[7], cells[5, i], cell)[1]
        band[i, 2] = diagonal * slope
    return 0


@njit
def cv_run(memory, vector, heat, moments, seen, reached):
    """From the start through all moments: their heat contents into the columns of seen."""
    heat[:] = 0
    status = cv_again(memory, 0.0, vector)
    for column in range(len(moments)):
        status = min(status, cv_march(memory, moments[column], vector, reached.ctypes.data, CV_NORMAL))
        seen[:, column] = heat
    return status


def timed(call, seconds):
    """What a call returns and the shortest time that it took, called again until so long has passed."""
    least, begin = np.inf, time.perf_counter()
    while True:
        start = time.perf_counter()
        found = call()
        end = time.perf_counter()
        least = min(least, end - start)
        if end - begin > seconds:
            return found, least


class Cvode:
    """CVODE on a grid: BDF, Newton, band matrix."""

    kinds = ["band"]

    def __init__(self, grid, moments):
        context = ctypes.c_void_p()
        assert context_create(0, ctypes.byref(context)) == 0
        self.grid = grid
        self.heat = np.zeros(grid.size)
        self.moments = moments
        self.seen = np.empty((grid.size, len(moments)))
        self.reached = np.zeros(1)
        self.data = np.concatenate([
            [grid.size, grid.corner], grid.faces.ravel(), grid.capacity, grid.bound, grid.begins, grid.takes,
            grid.between, [0], grid.half,
        ])  # fmt: skip
        self.vector = make_vector(grid.size, self.heat.ctypes.data, context)
        self.absolute = np.zeros(grid.size)
        self.tolerances = make_vector(grid.size, self.absolute.ctypes.data, context)
        self.memory = cv_create(CV_BDF, context)
        matrix = make_matrix(grid.size, 1, 1, context)
        for status in [
            cv_init(self.memory, cv_rates.address, 0.0, self.vector),
            cv_data(self.memory, self.data.ctypes.data),
            cv_solver(self.memory, make_solver(self.vector, matrix, context), matrix),
            cv_jacobian(self.memory, cv_bands.address),
            cv_most(self.memory, 10_000_000),
        ]:
            assert status == 0

    def run(self, relative, absolute):
        """Heat contents at the moments."""
        self.absolute[:] = absolute
        cv_tolerances(self.memory, relative, self.tolerances)
        assert cv_run(self.memory, self.vector, self.heat, self.moments, self.seen, self.reached) == 0
        return self.seen

    def measure(self, settings, seconds):
        """Heat contents and time of each setting."""
        for _, *tolerances in settings:
            heat, least = timed(lambda both=self.grid.tolerances(*tolerances): self.run(*both), seconds)
            yield heat.copy(), least


class Scipy:
    """SciPy's BDF on a grid."""

    kinds = ["dense", "sparse"]

    def __init__(self, grid, moments):
        self.grid = grid
        self.moments = moments

    def dense(self, _, heat):
        """The Jacobian as a matrix."""
        below, on, above = self.grid.bands(heat)
        return np.diag(below, -1) + np.diag(on) + np.diag(above, 1)

    def sparse(self, _, heat):
        """The Jacobian as its bands."""
        return sparse.diags(self.grid.bands(heat), offsets=(-1, 0, 1), format="csc")

    def run(self, jacobian, relative, absolute):
        """Heat contents at the moments."""
        found = solve_ivp(self.grid.rates, (0, self.moments[-1]), np.zeros(self.grid.size), "BDF", self.moments,
                          jac=jacobian, rtol=relative, atol=absolute)  # fmt: skip
        assert found.success, found.message
        return found.y

    def measure(self, settings, seconds):
        """Heat contents and time of each setting."""
        for kind, *tolerances in settings:
            both = self.grid.tolerances(*tolerances)
            yield timed(lambda both=both, kind=kind: self.run(getattr(self, kind), *both), seconds)


class Diffsol:
    """The program of tests/speed on a grid."""

    kinds = ["BDF, dense", "BDF, sparse", "BDF, tridiagonal", "TR-BDF2, tridiagonal", "ESDIRK34, tridiagonal"]
    target = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")) / "speed"

    def __init__(self, grid, moments):
        self.grid = grid
        faces = [dict(zip(["air", "transfer", "panel", "exchange"], face)) for face in grid.faces.tolist()]
        columns = {name: getattr(grid, name).tolist() for name in
                   ["capacity", "bound", "begins", "takes", "half", "between"]}  # fmt: skip
        cells = {"start": START, "corner": grid.corner, "faces": faces} | columns
        self.asked = {"cells": cells, "moments": moments.tolist()}

    @classmethod
    def build(cls):
        """Compiles the program."""
        manifest = ROOT / "tests" / "speed" / "Cargo.toml"
        command = ["cargo", "build", "--release", "--locked", "--manifest-path", manifest, "--target-dir", cls.target]
        subprocess.run(command, check=True)

    def measure(self, settings, seconds):
        """Heat contents and time of each setting; where diffsol gives up, none and infinite."""
        each = []
        for kind, *tolerances in settings:
            relative, absolute = self.grid.tolerances(*tolerances)
            each.append({"kind": kind, "relative": relative, "absolute": absolute.tolist()})
        text = json.dumps(self.asked | {"settings": each, "seconds": seconds})
        program = self.target / "release" / "floodbar-speed"
        answer = subprocess.run([program], input=text, stdout=subprocess.PIPE, check=True, text=True).stdout
        for found in json.loads(answer):
            yield (np.array(found["heat"]).T, found["time"]) if found else (np.full((self.grid.size, 1), np.nan), np.inf)


PEERS = {"SciPy BDF": Scipy, "CVODE": Cvode, "diffsol": Diffsol}


@dataclass
class Point:
    """One setting of one solver on one grid: what it costs (s) and how far it is off (K)."""

    ramp: str
    solver: str
    grid: str
    cells: int
    setting: tuple
    error: float
    time: float

    def shown(self):
        """The setting in words."""
        *kind, number = self.setting
        return f"{kind[0]}, rtol {number:g}, kelvin {kind[1]}" if kind else f"{number:g} K"


def benchmark():
    """Of our solver alone: time and cells for each problem and tolerance, and the half cells' conductances of each problem."""
    command = ["cargo", "bench", "-p", "floodbar", "--bench", "heat", "--features", "internals", "--", "no-such-benchmark"]
    text = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    row = r"^(\S.*?) +([\d.]+) K +[\d.]+ K +\d+ +\d+ +(\d+) +([\d.]+) us$"
    rows = re.findall(row, text, re.MULTILINE)
    times = {(name, float(tolerance)): (float(micros) * 1e-6, int(cells)) for name, tolerance, cells, micros in rows}
    grids = re.findall(r"^(.+), conductances of half cells: (\[.+\])$", text, re.MULTILINE)
    return times, {name: json.loads(half) for name, half in grids}


def ours(floodbar, case, tolerance):
    """Temperatures of the top, the joints and the bottom at the moments."""
    answer = json.loads(floodbar.calculate_text("heat.layers", case.request(tolerance))[1])

    def kelvin(row):
        return [cell["value"] + ICE for cell in row]

    return np.array([kelvin(answer["top"]), *map(kelvin, answer["interfaces"]), kelvin(answer["bottom"])])


def our_points(floodbar, case, truth, alone):
    """Our work and precision: through JSON, and alone, of which only the times differ."""
    for tolerance in TOLERANCES:
        error = np.abs(ours(floodbar, case, tolerance) - truth).max()
        request = case.request(tolerance)
        _, through = timed(lambda request=request: floodbar.calculate_text("heat.layers", request), LONG)
        runs = [run[case.name, tolerance] for run in alone]
        for solver, least in [("floodbar", min(runs)[0]), ("floodbar, JSON", through)]:
            yield Point("rounded", solver, OURS, runs[0][1], (tolerance,), error, least)


def quickest(found, ramp, solver, grid=None):
    """The settings of a peer that err by no more than the target, on a grid or on any, the quickest first."""
    return sorted((point for point in found if (point.ramp, point.solver) == (ramp, solver) and point.error <= TARGET
                   and grid in (None, point.grid)), key=lambda point: point.time)  # fmt: skip


def peer_points(case, cells, ramp):
    """The truth of a ramp, and the work and the precision of every peer on every grid."""
    fine = Grid(case, [np.repeat(sizes / 8, 8) for sizes in cells], RAMPS[ramp])
    truth = fine.seen(Cvode(fine, case.moments).run(1e-9, 1e-6))
    found, peers = [], {}
    for name, sizes in choices(case, cells).items():
        grid = Grid(case, sizes, RAMPS[ramp])
        for solver, kind in PEERS.items():
            peer = peers[solver, name] = kind(grid, case.moments)
            settings = list(product(peer.kinds, ABSOLUTE, RELATIVE))
            for setting, (heat, least) in zip(settings, peer.measure(settings, BRIEFLY)):
                error = np.abs(grid.seen(heat) - truth).max()
                found.append(Point(ramp, solver, name, grid.size, setting, error, least))
    for solver in PEERS:
        for point in quickest(found, ramp, solver, OURS)[:3] + quickest(found, ramp, solver)[:5]:
            for _, least in peers[solver, point.grid].measure([point.setting], LONG):
                point.time = min(point.time, least)
    return truth, found


def main(library):
    """Prints the points, then the ratios."""
    floodbar = Floodbar(library)
    Diffsol.build()
    alone = [benchmark()]
    table = []
    for case in CASES:
        cells = our_cells(case, alone[0][1][case.name])
        found = []
        for ramp in RAMPS:
            truth, points = peer_points(case, cells, ramp)
            found += points
        alone.append(benchmark())
        table.append((case, truth, found))
    print("| problem | ramp | solver | grid | cells | setting | error, K | time, us |\n|---|---|---|---|---|---|---|---|")
    verdicts = []
    for case, truth, found in table:
        mine = list(our_points(floodbar, case, truth, [times for times, _ in alone]))
        for point in sorted(mine + found, key=lambda point: (point.ramp, point.solver, point.grid, point.setting)):
            print(f"| {case.name} | {point.ramp} | {point.solver} | {point.grid} | {point.cells} | {point.shown()} | "
                  f"{point.error:.4f} | {point.time * 1e6:.0f} |")  # fmt: skip
        default = [point for point in mine if point.setting == (TARGET,)]
        for point in default:
            verdicts.append(f"{case.name}: {point.solver} at {point.shown()}, {point.cells} cells: {point.error:.3f} K, "
                            f"{point.time * 1e6:.0f} us")  # fmt: skip
        for solver, aims in AIMS.items():
            for ramp, aim in aims.items():
                for where, grid in [("our grid", OURS), ("its best grid", None)]:
                    points = quickest(found, ramp, solver, grid)
                    if not points:
                        verdicts.append(f"{case.name}, {ramp} ramp: {solver} on {where}: never within {TARGET} K")
                        continue
                    peer = points[0]
                    over = ", ".join(f"{peer.time / point.time:.1f} times {point.solver}" for point in default)
                    verdicts.append(
                        f"{case.name}, {ramp} ramp: {solver} on {where} ({peer.grid}: {peer.cells} cells; {peer.shown()}; "
                        f"{peer.error:.3f} K, {peer.time * 1e6:.0f} us): {over} (aim {aim})"
                    )
    print(*verdicts, sep="\n")


if __name__ == "__main__":
    main(*sys.argv[1:2])
