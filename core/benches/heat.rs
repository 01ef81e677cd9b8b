//! What a march through a stack of layers costs: the solver by itself, reused, and `calculate("heat.layers")`.
//!
//! Printed first: the error of each problem at several tolerances, against a run of a far tighter one, beside its steps, cells
//! and time; the grid; and what a reused solver asks of the allocator. `tests/python/heat_speed.py` sets these beside other solvers.

#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    reason = "a benchmark, not the library"
)]
#![allow(unsafe_code, reason = "an allocator that counts can only be written so")]

use criterion::{Criterion, criterion_group, criterion_main};
use floodbar::heat::internals::{Face, Place, Problem, Slab, Solver, Stage, Work};
use serde_json::{Value, json};
use std::alloc::{GlobalAlloc, Layout, System};
use std::hint::black_box;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

/// The system's allocator, and how often it was asked.
struct Counting;

static ASKED: AtomicU64 = AtomicU64::new(0);

// SAFETY: every call is handed to the system's allocator as it is.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        ASKED.fetch_add(1, Ordering::Relaxed);
        unsafe { System.alloc(layout) }
    }

    unsafe fn realloc(&self, at: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        ASKED.fetch_add(1, Ordering::Relaxed);
        unsafe { System.realloc(at, layout, size) }
    }

    unsafe fn dealloc(&self, at: *mut u8, layout: Layout) {
        unsafe { System.dealloc(at, layout) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;

const ICE: f64 = 273.15;
const TOLERANCE: f64 = 0.05;
/// Tolerance of the run that counts as the truth, K.
const TIGHT: f64 = 5e-4;

/// A layer's thickness, conductivity, density, specific heat and bound water: m, W/(m.K), kg/m3, J/(kg.K), kg/m2.
type Matter = [f64; 5];

const PLASTISOL: Matter = [40e-6, 0.17, 1150.0, 1500.0, 0.0];
const WATER_BASED: Matter = [40e-6, 0.5, 1050.0, 3600.0, 0.0];
const CLOTH: Matter = [0.55e-3, 0.055, 327.27, 1340.0, 13.5e-3];
const RUBBER: Matter = [1.5e-3, 0.16, 1150.0, 1700.0, 0.0];
const ALUMINIUM: Matter = [6e-3, 160.0, 2750.0, 880.0, 0.0];

/// A stack, what happens to it, and the moments at which it is looked at, s.
struct Case {
    name: &'static str,
    layers: Vec<Matter>,
    film_water: f64,
    stage: Stage,
    moments: Vec<f64>,
}

fn cases() -> [Case; 3] {
    let air =
        |celsius: f64, transfer: f64| Face { air: celsius + ICE, transfer, humidity_ratio: 0.020, ..Face::default() };
    let seconds = |duration: f64, top: Face, bottom: Face| Stage { duration, top, bottom };
    let every_second = |last: u32| (1..=last).map(f64::from).collect::<Vec<_>>();
    let panel = Face { panel: 550.0 + ICE, exchange: 0.40, ..air(60.0, 8.0) };
    let dryer = seconds(60.0, air(175.0, 20.0), air(175.0, 12.0));
    [
        Case {
            name: "dryer",
            layers: vec![PLASTISOL, CLOTH],
            film_water: 0.0,
            stage: dryer,
            moments: every_second(60),
        },
        Case {
            name: "dryer, wet film",
            layers: vec![WATER_BASED, CLOTH],
            film_water: 12e-3,
            stage: dryer,
            moments: every_second(60),
        },
        Case {
            name: "flash",
            layers: vec![PLASTISOL, CLOTH, RUBBER, ALUMINIUM],
            film_water: 0.0,
            stage: seconds(6.0, panel, air(25.0, 10.0)),
            moments: every_second(6),
        },
    ]
}

impl Case {
    fn slabs(&self) -> Vec<Slab> {
        let slab = |&[thickness, conductivity, density, specific_heat, bound_water]: &Matter| Slab {
            thickness,
            conductivity,
            heat_per_volume: density * specific_heat,
            bound_water,
        };
        self.layers.iter().map(slab).collect()
    }

    fn problem<'a>(&'a self, slabs: &'a [Slab], tolerance: f64) -> Problem<'a> {
        Problem {
            slabs,
            below: 0,
            film_water: self.film_water,
            start: (25.0 + ICE, 25.0 + ICE),
            stages: std::slice::from_ref(&self.stage),
            shortest: 1.0,
            tolerance,
            step: 0.5 * tolerance,
            cell: 2.0 * tolerance,
            refinement: 1,
        }
    }

    /// The same as a request of `heat.layers`.
    fn request(&self) -> Value {
        let of = |value: f64, unit: &str| format!("{value} {unit}");
        let layer = |&[thickness, conductivity, density, specific_heat, bound_water]: &Matter| {
            json!({
                "name": "layer", "thickness": of(thickness, "m"), "conductivity": of(conductivity, "W/(m.K)"),
                "density": of(density, "kg/m3"), "specific_heat": of(specific_heat, "J/(kg.K)"),
                "bound_water": of(bound_water, "kg/m2"),
            })
        };
        let face = |face: &Face| {
            let mut met = json!({
                "air": of(face.air, "K"), "transfer": of(face.transfer, "W/(m2.K)"), "humidity_ratio": face.humidity_ratio,
            });
            if face.exchange > 0.0 {
                met["panel"] = of(face.panel, "K").into();
                met["exchange_fraction"] = face.exchange.into();
            }
            met
        };
        json!({
            "layers": self.layers.iter().map(layer).collect::<Vec<_>>(),
            "film_water": of(self.film_water, "kg/m2"), "start": "25 degC",
            "stages": [{
                "duration": of(self.stage.duration, "s"), "top": face(&self.stage.top), "bottom": face(&self.stage.bottom),
            }],
            "report_at": self.moments.iter().map(|moment| of(*moment, "s")).collect::<Vec<_>>(),
        })
    }

    /// Marches; into `seen` go the top, the joints and the bottom of each moment.
    fn march(&self, solver: &mut Solver, problem: &Problem<'_>, seen: &mut Vec<f64>) {
        seen.clear();
        let mut waiting = self.moments.iter().peekable();
        solver
            .march(problem, &mut Work::of_one_evaluation(), |span| {
                while let Some(moment) = waiting.next_if(|moment| **moment <= span.end) {
                    seen.extend([Place::Top, Place::Bottom].map(|place| span.at(place, *moment)));
                    seen.extend((1..problem.slabs.len()).map(|below| span.at(Place::Joint(below - 1), *moment)));
                }
                ControlFlow::Continue(())
            })
            .unwrap();
    }
}

/// The shortest time that a call took out of many, in microseconds.
fn shortest(mut call: impl FnMut()) -> f64 {
    let mut shortest = f64::INFINITY;
    let all = Instant::now();
    for _ in 0..500 {
        let start = Instant::now();
        call();
        shortest = shortest.min(start.elapsed().as_secs_f64() * 1e6);
        if all.elapsed().as_secs_f64() > 1.0 {
            break;
        }
    }
    shortest
}

/// One row for each tolerance: what is asked for, what is reached, and at what price.
fn precision(case: &Case) {
    let (slabs, mut solver) = (case.slabs(), Solver::new());
    let (mut truth, mut seen) = (Vec::new(), Vec::new());
    case.march(&mut solver, &case.problem(&slabs, TIGHT), &mut truth);
    for tolerance in [1.0, 0.3, 0.2, 0.1, TOLERANCE, 0.02, 0.01, 0.005] {
        let problem = case.problem(&slabs, tolerance);
        let time = shortest(|| case.march(&mut solver, &problem, &mut seen));
        let error = seen.iter().zip(&truth).fold(0.0_f64, |worst, (a, b)| worst.max((a - b).abs()));
        let ((taken, refused), cells) = (solver.steps, solver.cells());
        println!("{:16} {tolerance:9} K {error:9.5} K {taken:6} {refused:7} {cells:5} {time:10.1} us", case.name);
    }
}

/// How often a solver's second march of a problem asks the allocator: in all, and from the first step to the last.
fn asked(case: &Case) -> (u64, u64) {
    let (slabs, mut solver) = (case.slabs(), Solver::new());
    let problem = case.problem(&slabs, TOLERANCE);
    let mut work = Work::of_one_evaluation();
    solver.march(&problem, &mut work, |_| ControlFlow::Continue(())).unwrap();
    let count = || ASKED.load(Ordering::Relaxed);
    let before = count();
    let (mut first, mut last) = (None, 0);
    solver
        .march(&problem, &mut work, |_| {
            last = count();
            first.get_or_insert(last);
            ControlFlow::Continue(())
        })
        .unwrap();
    (count() - before, last - first.unwrap_or(last))
}

fn marches(c: &mut Criterion) {
    let cases = cases();
    println!("problem            tolerance       error  steps refused cells       time");
    for case in &cases {
        precision(case);
    }
    for case in &cases {
        let mut solver = Solver::new();
        solver.lay_out(&case.problem(&case.slabs(), TOLERANCE)).unwrap();
        println!("{}, conductances of half cells: {:?}", case.name, solver.half_conductances());
    }
    for case in &cases {
        let (march, steps) = asked(case);
        println!("{}: a second march allocates {march} times, {steps} of them from step to step (aim: 0)", case.name);
        assert_eq!(march, 0, "a second march allocates");
    }
    for case in &cases {
        let (slabs, mut solver, mut seen) = (case.slabs(), Solver::new(), Vec::new());
        let problem = case.problem(&slabs, TOLERANCE);
        c.bench_function(&format!("{}, a reused solver", case.name), |b| {
            b.iter(|| case.march(&mut solver, black_box(&problem), &mut seen));
        });
        let request = case.request();
        c.bench_function(&format!("{}, calculate heat.layers", case.name), |b| {
            b.iter(|| floodbar::calculate("heat.layers", black_box(&request)).unwrap());
        });
    }
}

criterion_group!(benches, marches);
criterion_main!(benches);
