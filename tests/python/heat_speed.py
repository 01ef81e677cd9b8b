"""What heat.layers costs beside general-purpose solvers of stiff equations, at the same error: heat_speed.py LIBRARY

By hand, not part of tests/run. Needs numpy, scipy, numba and scikit-sundae from PyPI, and cargo for the time of the solver
without JSON.

The peers are given our own finite volumes on our own grid, with the heat content of the cells as unknowns, which keeps the
right-hand side continuous where bound water leaves:

- SciPy's BDF, with NumPy for the right-hand side and the tridiagonal Jacobian written out, dense or sparse, whichever is faster;
- CVODE of SUNDIALS, the compiled library inside the wheel of scikit-sundae, called as C calls it: band solver, right-hand side
  and loop over the moments compiled by numba, so that no Python runs between the first step and the last.

The truth is CVODE on a grid 8 times finer with a relative tolerance of 1e-9. Errors are the largest over all joints, faces and
moments. Times are the shortest of many, the solvers timed in turn; the benchmark, which times our solver without JSON, runs
before, between and after them.

Printed are all points of work and precision, then for each peer its quickest point within 0.05 K, over ours at the default
tolerance and over our own quickest point within 0.05 K.
"""

import ctypes
import json
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import sksundae
from numba import carray, cfunc, njit, types
from scipy import sparse
from scipy.integrate import solve_ivp

from shared import ROOT, Floodbar, shortest

ICE = 273.15
START = 25 + ICE
SIGMA = 5.670374419e-8
BOUND_HEAT = 2.6e6
LEAVES, LEFT = 60 + ICE, 120 + ICE
AIMS = {"SciPy BDF": 300, "CVODE": 5}
TARGET = 0.05


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


def grid_constant(name):
    """A constant of our grid."""
    source = (ROOT / "core" / "src" / "heat" / "grid.rs").read_text()
    return float(re.search(rf"^const {name}: f64 = (.+);$", source, re.MULTILINE)[1])


def layer_cells(layer):
    """The cells of core/src/heat/grid.rs at the default tolerance, for moments a second apart."""
    growth, share, least = 1 + grid_constant("GROWTH"), grid_constant("FINE"), grid_constant("LEAST")
    half = layer.thickness / 2
    reach = np.sqrt(layer.conductivity / (layer.density * layer.specific_heat))
    fine = np.clip(share * reach, layer.thickness * 1e-6, layer.thickness / least)
    count = int(max(np.ceil(np.log1p(half * (growth - 1) / fine) / np.log(growth)), least / 2))
    if half / fine <= count:
        return np.full(2 * count, half / count)
    low, high = 1.0, growth
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if (middle**count - 1) / (middle - 1) < half / fine else (low, middle)
    sizes = low ** np.arange(count)
    sizes *= half / sizes.sum()
    return np.concatenate([sizes, sizes[::-1]])


class Grid:
    """Finite volumes: the heat content of cells (J/m2 above the start) as unknowns."""

    def __init__(self, case, refinement=1):
        cells = [np.repeat(layer_cells(layer) / refinement, refinement) for layer in case.layers]
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

    def temperatures(self, heat):
        """Temperatures of the cells; heat may have one column for each moment."""
        column = (slice(None),) + (None,) * (heat.ndim - 1)
        share = np.clip((heat - self.begins[column]) / self.takes[column], 0, 1)
        return START + (heat - self.bound[column] * share) / self.capacity[column]

    def rates(self, _, heat):
        """Heat into each cell, W/m2."""
        cells = (
            START
            + (heat - self.bound * np.minimum(np.maximum((heat - self.begins) / self.takes, 0), 1)) / self.capacity
        )
        flux = np.empty(self.size + 1)
        flux[1:-1] = self.between * (cells[1:] - cells[:-1])
        flux[0] = -face_heat(*self.faces[0], self.half[0], cells[0])[0]
        flux[-1] = face_heat(*self.faces[1], self.half[-1], cells[-1])[0]
        return flux[1:] - flux[:-1]

    def bands(self, heat):
        """The Jacobian: below, on and above the diagonal."""
        within = (heat > self.begins) & (heat < self.begins + self.takes)
        slope = np.where(within, (LEFT - LEAVES) / self.takes, 1 / self.capacity)
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
cv_tolerances = function(cvode, "CVodeSStolerances", I, P, D, D)
cv_solver = function(cvode, "CVodeSetLinearSolver", I, P, P, P)
cv_data = function(cvode, "CVodeSetUserData", I, P, P)
cv_most = function(cvode, "CVodeSetMaxNumSteps", I, P, ctypes.c_long)
cv_steps = function(cvode, "CVodeGetNumSteps", I, P, P)
cv_march = function(cvode, "CVode", I, P, D, P, P, I)
CV_BDF, CV_NORMAL = 2, 1


@cfunc(types.int32(types.double, types.voidptr, types.voidptr, types.voidptr))
def cv_rates(_, heat_vector, rate_vector, data):
    """Grid.rates for CVODE; data: size, both faces, then capacity, bound, begins, takes and conductances of the cells."""
    size = int(carray(data, 1, np.float64)[0])
    data = carray(data, 9 + 6 * size, np.float64)
    capacity, bound = data[9 : 9 + size], data[9 + size : 9 + 2 * size]
    begins, takes = data[9 + 2 * size : 9 + 3 * size], data[9 + 3 * size : 9 + 4 * size]
    between, half = data[9 + 4 * size : 9 + 5 * size], data[9 + 5 * size :]
    heat, rate = carray(data_of(heat_vector), size), carray(data_of(rate_vector), size)
    above, before = 0.0, 0.0
    for i in range(size):
        share = min(max((heat[i] - begins[i]) / takes[i], 0.0), 1.0)
        cell = START + (heat[i] - bound[i] * share) / capacity[i]
        if i == 0:
            above = face_heat(data[1], data[2], data[3], data[4], half[0], cell)[0]
        else:
            flux = between[i - 1] * (before - cell)
            rate[i - 1] = above - flux
            above = flux
        before = cell
    rate[size - 1] = above + face_heat(data[5], data[6], data[7], data[8], half[size - 1], before)[0]
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


class Cvode:
    """CVODE on a grid: BDF, Newton, band matrix filled by differences (three calls of the right-hand side)."""

    def __init__(self, grid, moments):
        context = ctypes.c_void_p()
        assert context_create(0, ctypes.byref(context)) == 0
        self.heat = np.zeros(grid.size)
        self.moments = moments
        self.seen = np.empty((grid.size, len(moments)))
        self.reached = np.zeros(1)
        self.data = np.concatenate([
            [grid.size], grid.faces.ravel(), grid.capacity, grid.bound, grid.begins, grid.takes, grid.between, [0],
            grid.half,
        ])  # fmt: skip
        self.vector = make_vector(grid.size, self.heat.ctypes.data, context)
        self.memory = cv_create(CV_BDF, context)
        matrix = make_matrix(grid.size, 1, 1, context)
        for status in [
            cv_init(self.memory, cv_rates.address, 0.0, self.vector),
            cv_tolerances(self.memory, 1e-6, 1e-6),
            cv_data(self.memory, self.data.ctypes.data),
            cv_solver(self.memory, make_solver(self.vector, matrix, context), matrix),
            cv_most(self.memory, 10_000_000),
        ]:
            assert status == 0

    def run(self, relative, absolute):
        """Heat contents at the moments."""
        cv_tolerances(self.memory, relative, absolute)
        assert cv_run(self.memory, self.vector, self.heat, self.moments, self.seen, self.reached) == 0
        return self.seen

    def steps(self):
        """Steps of the last run."""
        count = ctypes.c_long()
        cv_steps(self.memory, ctypes.byref(count))
        return count.value


class Scipy:
    """SciPy's BDF on a grid."""

    def __init__(self, grid, moments):
        self.grid = grid
        self.moments = moments

    def dense(self, _, heat):
        """The Jacobian as a matrix."""
        below, on, above = self.grid.bands(heat)
        return np.diag(below, -1) + np.diag(on) + np.diag(above, 1)

    def sparse(self, _, heat):
        """The Jacobian as its bands."""
        return sparse.diags(self.grid.bands(heat), (-1, 0, 1), format="csc")

    def run(self, jacobian, relative, absolute):
        """Heat contents at the moments."""
        found = solve_ivp(self.grid.rates, (0, self.moments[-1]), np.zeros(self.grid.size), "BDF", self.moments,
                          jac=jacobian, rtol=relative, atol=absolute)  # fmt: skip
        assert found.success, found.message
        return found.y


@dataclass
class Point:
    """One setting of one solver: what it costs (s) and how far it is off (K)."""

    solver: str
    setting: str
    error: float
    time: float


def ours_without_json():
    """Time of the solver alone for each problem and tolerance, from the benchmark."""
    command = ["cargo", "bench", "-p", "floodbar", "--bench", "heat", "--", "no-such-benchmark"]
    text = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    rows = re.findall(r"^(\S.*?) +([\d.]+) K +[\d.]+ K +\d+ +\d+ +\d+ +([\d.]+) us$", text, re.MULTILINE)
    return {(name, float(tolerance)): float(micros) * 1e-6 for name, tolerance, micros in rows}


def ours(floodbar, case, tolerance):
    """Temperatures of the top, the joints and the bottom at the moments."""
    answer = json.loads(floodbar.calculate_text("heat.layers", case.request(tolerance))[1])

    def kelvin(row):
        return [cell["value"] + ICE for cell in row]

    return np.array([kelvin(answer["top"]), *map(kelvin, answer["interfaces"]), kelvin(answer["bottom"])])


def points(floodbar, case):
    """The work and the precision of every solver on a case."""
    fine = Grid(case, 8)
    truth = fine.seen(Cvode(fine, case.moments).run(1e-9, 1e-6))
    grid = Grid(case)
    compiled, python = Cvode(grid, case.moments), Scipy(grid, case.moments)
    # What a kelvin is worth in the mean cell, so that both tolerances mean a share of the same rise.
    kelvin = np.mean(grid.capacity)
    found, calls = [], []

    def add(solver, setting, seen, call):
        found.append(Point(solver, setting, np.abs(seen - truth).max(), np.inf))
        calls.append(call)

    for tolerance in [1, 0.3, 0.1, 0.05, 0.02, 0.01, 0.003, 0.001]:
        request = case.request(tolerance)
        seen = ours(floodbar, case, tolerance)
        add(
            "floodbar, JSON",
            f"{tolerance} K",
            seen,
            lambda request=request: floodbar.calculate_text("heat.layers", request),
        )
    for relative in [3e-3, 1e-3, 3e-4, 2e-4, 1e-4, 7e-5, 5e-5, 3e-5, 1e-5, 1e-6]:
        both = (relative, relative * 100 * kelvin)
        add("CVODE", f"rtol {relative:g}", grid.seen(compiled.run(*both)), lambda both=both: compiled.run(*both))
    for relative in [3e-3, 1e-3, 3e-4, 2e-4, 1e-4, 7e-5, 5e-5, 3e-5, 1e-5]:
        both = (relative, relative * 100 * kelvin)
        for kind in [python.dense, python.sparse]:
            add("SciPy BDF", f"rtol {relative:g}, {kind.__name__}", grid.seen(python.run(kind, *both)),
                lambda both=both, kind=kind: python.run(kind, *both))  # fmt: skip
    for point, least in zip(found, shortest(calls, 5)):
        point.time = least
    # The short ones again, many times.
    quick = [index for index, point in enumerate(found) if point.time < 5e-3]
    for index, least in zip(quick, shortest([calls[index] for index in quick], 100)):
        found[index].time = least
    return found, grid.size


def quickest(found, solver, error):
    """The quickest setting of a solver that errs by no more than this."""
    return min((point for point in found if point.solver == solver and point.error <= error), key=lambda p: p.time,
               default=None)  # fmt: skip


def main(library):
    """Prints the points, then the ratios."""
    floodbar = Floodbar(library)
    alone, table = [ours_without_json()], []
    for case in CASES:
        table.append((case, *points(floodbar, case)))
        alone.append(ours_without_json())
    print("| problem | solver | setting | error, K | time, us |\n|---|---|---|---|---|")
    verdicts = []
    for case, found, size in table:
        for point in [point for point in found if point.solver == "floodbar, JSON"]:
            times = [run[key] for run in alone if (key := (case.name, float(point.setting.split()[0]))) in run]
            if times:
                found.append(Point("floodbar", point.setting, point.error, min(times)))
        for point in sorted(found, key=lambda point: (point.solver, -point.error)):
            print(f"| {case.name} | {point.solver} | {point.setting} | {point.error:.4f} | {point.time * 1e6:.0f} |")
        default = [point for point in found if point.setting == f"{TARGET} K"]
        best = [quickest(found, point.solver, TARGET) for point in default]
        for solver, aim in AIMS.items():
            peer = quickest(found, solver, TARGET)
            for mine in default + [point for point in best if point not in default]:
                verdicts.append(
                    f"{case.name}, {size} cells: {solver} ({peer.setting}, {peer.error:.3f} K) over {mine.solver} "
                    f"(at {mine.setting}, {mine.error:.3f} K): {peer.time / mine.time:.1f} (aim {aim})"
                )
    print(*verdicts, sep="\n")


if __name__ == "__main__":
    main(*sys.argv[1:2])
