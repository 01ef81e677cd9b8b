//! Solvers of the crate diffsol on the finite volumes of `tests/python/heat_speed.py`, which gives the problem as JSON on standard
//! input and takes from standard output what each setting needs and finds: null where diffsol gives up.

use diffsol::{
    DiffsolError, FaerContext, FaerSparseLU, FaerSparseMat, FaerVec, LaError, Matrix, MatrixCommon, NalgebraLU,
    NalgebraMat, OdeBuilder, OdeEquationsImplicit, OdeSolverMethod, OdeSolverProblem, OdeSolverStopReason, Vector,
};
use diffsol_la::{LinearOp, LinearSolver};
use serde::{Deserialize, Serialize};
use std::error::Error;
use std::time::Instant;

const SIGMA: f64 = 5.670_374_419e-8;

/// What a face meets, SI units.
#[derive(Deserialize)]
struct Face {
    air: f64,
    transfer: f64,
    panel: f64,
    exchange: f64,
}

/// Finite volumes, with the heat content of the cells (J/m2 above the start) as unknowns.
#[derive(Deserialize)]
struct Cells {
    start: f64,
    /// How far the corners of the release of bound water are rounded, as a share of the way; 0 for a sharp ramp.
    corner: f64,
    faces: [Face; 2],
    capacity: Vec<f64>,
    bound: Vec<f64>,
    /// Heat at which bound water begins to leave, and that it takes until all has left.
    begins: Vec<f64>,
    takes: Vec<f64>,
    half: Vec<f64>,
    between: Vec<f64>,
}

/// A kind of solver with its tolerances.
#[derive(Debug, Deserialize)]
struct Setting {
    kind: String,
    relative: f64,
    /// For each cell, J/m2.
    absolute: Vec<f64>,
}

#[derive(Deserialize)]
struct Asked {
    cells: Cells,
    moments: Vec<f64>,
    settings: Vec<Setting>,
    /// How long each setting is repeated, s.
    seconds: f64,
}

/// The shortest time of a run, s, its steps, and the heat contents at the moments.
#[derive(Serialize)]
struct Found {
    time: f64,
    steps: usize,
    heat: Vec<Vec<f64>>,
}

impl Face {
    /// Heat through the face into its cell and its slope with the cell's temperature.
    ///
    /// The face has no heat capacity: convection and radiation onto it are conducted into the cell.
    fn heat(&self, half: f64, cell: f64) -> (f64, f64) {
        let mut face = cell;
        let mut slope = 0.0;
        for _ in 0..20 {
            let square = face * face;
            slope = self.transfer + 4.0 * self.exchange * SIGMA * square * face + half;
            let radiation = self.exchange * SIGMA * (self.panel.powi(4) - square * square);
            let change = (self.transfer * (self.air - face) + radiation + half * (cell - face)) / slope;
            face += change;
            if self.exchange == 0.0 || change.abs() < 1e-9 {
                break;
            }
        }
        (half * (face - cell), half * (half / slope - 1.0))
    }
}

impl Cells {
    fn size(&self) -> usize {
        self.capacity.len()
    }

    /// The share of a cell's bound water that has left, and its slope with how far the cell is on the way.
    fn released(&self, way: f64) -> (f64, f64) {
        if self.corner == 0.0 {
            return (way.clamp(0.0, 1.0), if way > 0.0 && way < 1.0 { 1.0 } else { 0.0 });
        }
        let corner = |way: f64| (way + self.corner).clamp(0.0, 2.0 * self.corner);
        let (first, second) = (corner(way), corner(way - 1.0));
        let share = (first * first - second * second) * 0.25 / self.corner + (way - self.corner).clamp(0.0, 1.0);
        (share, (first - second) * 0.5 / self.corner)
    }

    /// The temperature of a cell and its slope with its heat content.
    #[inline]
    fn temperature(&self, i: usize, heat: f64) -> (f64, f64) {
        let (share, slope) = self.released((heat - self.begins[i]) / self.takes[i]);
        let bound = self.bound[i];
        (
            self.start + (heat - bound * share) / self.capacity[i],
            (1.0 - bound * slope / self.takes[i]) / self.capacity[i],
        )
    }

    /// Heat into each cell, W/m2.
    fn rates(&self, heat: &[f64], rates: &mut [f64]) {
        let last = self.size() - 1;
        let mut cell = self.temperature(0, heat[0]).0;
        let mut above = self.faces[0].heat(self.half[0], cell).0;
        for i in 0..last {
            let next = self.temperature(i + 1, heat[i + 1]).0;
            let flux = self.between[i] * (cell - next);
            rates[i] = above - flux;
            (above, cell) = (flux, next);
        }
        rates[last] = above + self.faces[1].heat(self.half[last], cell).0;
    }

    /// The Jacobian of the rates times a vector.
    fn product(&self, heat: &[f64], vector: &[f64], product: &mut [f64]) {
        let last = self.size() - 1;
        let (mut cell, slope) = self.temperature(0, heat[0]);
        let mut change = slope * vector[0];
        let mut above = self.faces[0].heat(self.half[0], cell).1 * change;
        for i in 0..last {
            let (next, slope) = self.temperature(i + 1, heat[i + 1]);
            let after = slope * vector[i + 1];
            let flux = self.between[i] * (change - after);
            product[i] = above - flux;
            (above, cell, change) = (flux, next, after);
        }
        product[last] = above + self.faces[1].heat(self.half[last], cell).1 * change;
    }
}

/// A tridiagonal solver in place of diffsol's own: elimination without pivots, which diagonal dominance allows.
#[derive(Default)]
struct Tridiagonal {
    matrix: Option<FaerSparseMat<f64>>,
    /// Multipliers of the elimination, inverse pivots, and the band above the diagonal.
    below: Vec<f64>,
    on: Vec<f64>,
    above: Vec<f64>,
}

impl LinearSolver<FaerSparseMat<f64>> for Tridiagonal {
    fn set_linearisation<C>(&mut self, op: &C)
    where
        C: LinearOp<T = f64, V = FaerVec<f64>, M = FaerSparseMat<f64>, C = FaerContext>,
    {
        let Some(matrix) = self.matrix.as_mut() else { return };
        op.matrix_inplace(matrix);
        // By columns: above, on and below the diagonal.
        let values = matrix.inner()[0].val();
        let size = self.on.len();
        self.on[0] = 1.0 / values[0];
        for i in 1..size {
            self.below[i] = values[3 * i - 2] * self.on[i - 1];
            self.above[i] = values[3 * i - 1];
            self.on[i] = 1.0 / (values[3 * i] - self.below[i] * self.above[i]);
        }
    }

    fn set_sparsity<C>(&mut self, op: &C)
    where
        C: LinearOp<T = f64, V = FaerVec<f64>, M = FaerSparseMat<f64>, C = FaerContext>,
    {
        let size = op.nrows();
        self.matrix = Some(FaerSparseMat::new_from_sparsity(size, size, op.sparsity(), *op.context()));
        for band in [&mut self.below, &mut self.on, &mut self.above] {
            band.resize(size, 0.0);
        }
    }

    fn solve_in_place(&self, vector: &mut FaerVec<f64>) -> Result<(), LaError> {
        vector.for_each_batch_host([], |vector, [], _| {
            let size = vector.len();
            for i in 1..size {
                vector[i] -= self.below[i] * vector[i - 1];
            }
            vector[size - 1] *= self.on[size - 1];
            for i in (1..size).rev() {
                vector[i - 1] = (vector[i - 1] - self.above[i] * vector[i]) * self.on[i - 1];
            }
        });
        Ok(())
    }

    fn solve_transpose_in_place(&self, vector: &mut FaerVec<f64>) -> Result<(), LaError> {
        vector.for_each_batch_host([], |vector, [], _| {
            let size = vector.len();
            vector[0] *= self.on[0];
            for i in 1..size {
                vector[i] = (vector[i] - self.above[i] * vector[i - 1]) * self.on[i];
            }
            for i in (1..size).rev() {
                vector[i - 1] -= self.below[i] * vector[i];
            }
        });
        Ok(())
    }
}

/// The equations for matrices of a kind.
fn problem<'a, M>(
    cells: &'a Cells,
    setting: &Setting,
) -> Result<OdeSolverProblem<impl OdeEquationsImplicit<M = M, V = M::V, T = f64, C = M::C> + 'a>, Box<dyn Error>>
where
    M: Matrix<T = f64> + 'static,
{
    let mut problem = OdeBuilder::<M>::new()
        .rtol(setting.relative)
        .atol(setting.absolute.iter().copied())
        .use_coloring(true)
        .rhs_implicit(
            |heat, _, _, rates| cells.rates(heat, rates),
            |heat, _, _, vector, product| cells.product(heat, vector, product),
        )
        .init(|_, _, heat| heat.fill(0.0), cells.size())
        .build()?;
    // Corners cost failures that add up over a run.
    problem.ode_options.max_nonlinear_solver_failures = 1000;
    Ok(problem)
}

/// Runs a solver, which is made anew from the initial state, through all moments, again and again.
fn run<'a, Eqn, S>(make: impl Fn() -> Result<S, DiffsolError>, asked: &Asked) -> Result<Found, Box<dyn Error>>
where
    Eqn: OdeEquationsImplicit<T = f64> + 'a,
    S: OdeSolverMethod<'a, Eqn>,
{
    let mut found = Found { time: f64::INFINITY, steps: 0, heat: Vec::new() };
    let mut heat = vec![make()?.state().y.clone(); asked.moments.len()];
    let all = Instant::now();
    while found.steps == 0 || all.elapsed().as_secs_f64() < asked.seconds {
        let start = Instant::now();
        let mut solver = make()?;
        solver.set_stop_time(asked.moments.iter().copied().fold(0.0, f64::max))?;
        let mut waiting = asked.moments.iter().zip(&mut heat).peekable();
        loop {
            let stopped = solver.step()?;
            let reached = solver.state().t;
            while let Some((moment, heat)) = waiting.next_if(|(moment, _)| **moment <= reached) {
                solver.interpolate_inplace(*moment, heat)?;
            }
            if !matches!(stopped, OdeSolverStopReason::InternalTimestep) {
                break;
            }
        }
        found.time = found.time.min(start.elapsed().as_secs_f64());
        found.steps = solver.get_statistics().number_of_steps;
    }
    found.heat = heat.iter().map(Vector::clone_as_vec).collect();
    Ok(found)
}

fn solve(asked: &Asked, setting: &Setting) -> Result<Found, Box<dyn Error>> {
    macro_rules! solver {
        ($method:ident, $matrix:ty, $linear:ty) => {{
            let problem = problem::<$matrix>(&asked.cells, setting)?;
            run(|| problem.$method::<$linear>(), asked)
        }};
    }
    type Dense = NalgebraMat<f64>;
    type Sparse = FaerSparseMat<f64>;
    match setting.kind.as_str() {
        "BDF, dense" => solver!(bdf, Dense, NalgebraLU<f64>),
        "BDF, sparse" => solver!(bdf, Sparse, FaerSparseLU<f64>),
        "BDF, tridiagonal" => solver!(bdf, Sparse, Tridiagonal),
        "TR-BDF2, tridiagonal" => solver!(tr_bdf2, Sparse, Tridiagonal),
        "ESDIRK34, tridiagonal" => solver!(esdirk34, Sparse, Tridiagonal),
        other => Err(format!("no solver is called {other}").into()),
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    let asked: Asked = serde_json::from_reader(std::io::stdin())?;
    let tried = |setting| solve(&asked, setting).inspect_err(|error| eprintln!("diffsol, {setting:?}: {error}")).ok();
    let found: Vec<Option<Found>> = asked.settings.iter().map(tried).collect();
    println!("{}", serde_json::to_string(&found)?);
    Ok(())
}
