//! Heat: published tables, closed forms, and what must hold for any stack. The head of each table names its source.

use cpu_time::ThreadTime;
use floodbar::heat::internals::{
    Energy, Face, Place, Problem, Refusal, Slab, Solver, Stage, WATER_SPECIFIC_HEAT, Work, latent_heat,
    saturation_pressure,
};
use floodbar::{Code, calculate};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{at, near, noted, relative};
use floodbar_tests::published::{Row, number, table};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{RngAlgorithm, RngSeed, TestRng, TestRunner};
use serde_json::{Value, json};
use std::f64::consts::{E, PI};
use std::ops::ControlFlow;
use std::time::Duration;

/// What the solver promises at its default tolerance, K.
const PROMISE: f64 = 0.05;
/// CODATA 2018, W/(m2.K4).
const SIGMA: f64 = 5.670_374_419e-8;
const ZERO: f64 = 273.15;

// ---- tables ----

/// Keeps the largest difference of a group of comparisons, and tells it.
struct Worst {
    of: &'static str,
    so_far: f64,
}

impl Worst {
    fn new(of: &'static str) -> Self {
        Self { of, so_far: 0.0 }
    }

    fn near(&mut self, got: f64, wanted: f64, within: f64, what: impl std::fmt::Debug) {
        near(got, wanted, within, what);
        self.so_far = self.so_far.max((got - wanted).abs());
    }
}

impl Drop for Worst {
    fn drop(&mut self) {
        println!("{}: largest difference {:.3e}", self.of, self.so_far);
    }
}

// ---- mathematics of the tests ----

/// Simpson's rule over an odd number of values at even steps.
fn simpson(step: f64, values: &[f64]) -> f64 {
    let weight = |i: usize| if i == 0 || i + 1 == values.len() { 1.0 } else { [2.0, 4.0][i % 2] };
    step / 3.0 * values.iter().enumerate().map(|(i, value)| weight(i) * value).sum::<f64>()
}

fn integral(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    let pieces = 4000;
    let h = (to - from) / f64::from(pieces);
    simpson(h, &(0..=pieces).map(|i| f(from + h * f64::from(i))).collect::<Vec<_>>())
}

fn erf(x: f64) -> f64 {
    2.0 / PI.sqrt() * integral(0.0, x, |t| (-t * t).exp())
}

/// exp(x^2) erfc(x), which is an integral without large numbers.
fn scaled_erfc(x: f64) -> f64 {
    2.0 / PI.sqrt() * integral(0.0, 8.0, |t| (-t * t - 2.0 * x * t).exp())
}

fn erfc(x: f64) -> f64 {
    1.0 - erf(x)
}

/// The root of a function that changes sign between two places.
fn root(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let rising = f(high) > 0.0;
    assert!(rising != (f(low) > 0.0), "no change of sign from {low} to {high}");
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if (f(middle) > 0.0) == rising {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}

#[test]
fn erf_of_these_tests() {
    let mut worst = Worst::new("erf by integration");
    for row in table("erf_table") {
        worst.near(erf(number(&row, "x")), number(&row, "erf"), 1e-11, &row);
        let x = number(&row, "x");
        worst.near(erfc(x), number(&row, "erfc"), 1e-11, &row);
        // A share of what is small; 1e-10 of it at 3 is what the rule errs by.
        relative((-x * x).exp() * scaled_erfc(x), number(&row, "erfc"), 2e-10, &row);
    }
}

// ---- stacks ----

/// A stack and what happens to it, in SI units.
#[derive(Debug, Clone)]
struct Case {
    slabs: Vec<Slab>,
    water: f64,
    start: f64,
    stages: Vec<Stage>,
    report: Vec<f64>,
    tolerance: f64,
    refinement: u32,
}

impl Case {
    /// One stage, reported at its end.
    fn new(slabs: &[Slab], start: f64, duration: f64, top: Face, bottom: Face) -> Self {
        let stages = vec![Stage { duration, top, bottom }];
        let slabs = slabs.to_vec();
        Self { slabs, water: 0.0, start, stages, report: vec![duration], tolerance: PROMISE, refinement: 1 }
    }
}

#[derive(Debug, Clone)]
struct Seen {
    /// Top face, joints, bottom face at each moment, K.
    heat: Vec<Vec<f64>>,
    /// Water left in the film at each moment, kg/m2.
    water: Vec<f64>,
    energy: Energy,
    steps: u64,
}

impl Seen {
    fn top(&self) -> f64 {
        self.heat.last().unwrap()[0]
    }

    fn joint(&self) -> f64 {
        self.heat.last().unwrap()[1]
    }

    fn bottom(&self) -> f64 {
        *self.heat.last().unwrap().last().unwrap()
    }
}

/// As `heat.layers` asks the solver; convergence needs its `refinement`.
fn march(case: &Case) -> Result<Seen, Refusal> {
    let total: f64 = case.stages.iter().map(|stage| stage.duration).sum();
    let mut ends = vec![0.0];
    for stage in &case.stages {
        ends.push(ends.last().unwrap() + stage.duration);
    }
    let stages = case.stages.iter().map(|stage| stage.duration);
    let gaps = case.report.iter().map(|report| {
        let before = ends.iter().chain(&case.report).filter(|moment| **moment < report * (1.0 - 1e-9));
        report - before.copied().fold(0.0, f64::max)
    });
    let shortest = stages.chain(gaps).filter(|gap| *gap > 0.0).fold(f64::INFINITY, f64::min);
    let mut solver = Solver::new();
    let mut waiting = case.report.iter().copied().peekable();
    let (mut heat, mut water) = (Vec::new(), Vec::new());
    let problem = Problem {
        slabs: &case.slabs,
        below: 0,
        film_water: case.water,
        start: (case.start, case.start),
        stages: &case.stages,
        shortest,
        tolerance: case.tolerance,
        step: 0.5 * case.tolerance,
        cell: 2.0 * case.tolerance,
        refinement: case.refinement,
    };
    let energy = solver.march(&problem, &mut Work::of_one_evaluation(), |span| {
        while let Some(moment) = waiting.next_if(|moment| *moment <= span.end || span.end >= total) {
            let joints = (0..case.slabs.len() - 1).map(Place::Joint);
            let places = [Place::Top].into_iter().chain(joints).chain([Place::Bottom]);
            heat.push(places.map(|place| span.at(place, moment)).collect());
            water.push(span.water().at(moment));
        }
        ControlFlow::Continue(())
    })?;
    assert_eq!(heat.len(), case.report.len(), "every moment is seen");
    Ok(Seen { heat, water, energy, steps: solver.steps.0 })
}

fn seen(case: &Case) -> Seen {
    march(case).unwrap_or_else(|refusal| panic!("{refusal:?}: {case:?}"))
}

/// Thickness (m), conductivity (W/(m.K)), heat per volume (J/(m3.K)).
fn slab(thickness: f64, conductivity: f64, heat_per_volume: f64) -> Slab {
    Slab { thickness, conductivity, heat_per_volume, bound_water: 0.0 }
}

fn air(air: f64, transfer: f64) -> Face {
    Face { air, transfer, humidity_ratio: 0.010, ..Face::default() }
}

fn held(temperature: f64) -> Face {
    Face { held: Some(temperature), ..Face::default() }
}

fn flux(flux: f64) -> Face {
    Face { flux, ..Face::default() }
}

const INSULATED: Face =
    Face { air: 0.0, transfer: 0.0, humidity_ratio: 0.0, panel: 0.0, exchange: 0.0, flux: 0.0, held: None };

// ---- worked examples ----

/// A body so thin and conductive that it has one temperature: only its heat capacity per area counts, J/(m2.K).
fn lump(capacity: f64) -> Slab {
    slab(1e-4, 5000.0, capacity / 1e-4)
}

/// Number after a label, as in "beta=...=0.1, xi=...".
fn after(text: &str, label: &str) -> f64 {
    let rest = &text[text.find(label).unwrap() + label.len()..];
    rest.split([',', ' ']).next().unwrap().parse().unwrap()
}

/// Every row that one dimension can express, against the exact value of the book's own formula, and against the printed
/// value to its digits. The books take 273 K for 0 degC: so does this test.
#[test]
fn worked_examples() {
    const BOOK: f64 = 273.0;
    let mut worst = Worst::new("worked examples, K");
    let (mut known, mut skipped) = (0, Vec::new());
    let coating = |transfer: f64| {
        let face = Face { panel: 30.0 + BOOK, exchange: 0.5, flux: 0.8 * 2000.0, ..air(20.0 + BOOK, transfer) };
        seen(&Case::new(&[lump(1000.0)], 20.0 + BOOK, 5000.0, face, INSULATED)).top() - BOOK
    };
    // A sphere as one lump: volume over area is D / 6, so the time constant of 1 s is 8500 x 400 x D / 6 / 400.
    let junction = lump(8500.0 * 400.0 * 0.000_705_882 / 6.0);
    let gas = air(200.0 + BOOK, 400.0);
    let duct = Face { panel: 400.0 + BOOK, exchange: 0.9, ..gas };
    let pipe = || {
        let wall = slab(0.040, 63.9, 7832.0 * 434.0);
        seen(&Case::new(&[wall], -20.0 + BOOK, 480.0, air(60.0 + BOOK, 500.0), INSULATED))
    };
    let soil = |depth: f64| {
        let ground = |thickness: f64| slab(thickness, 0.4, 0.4 / 0.15e-6);
        let days = 90.0 * 86_400.0;
        seen(&Case::new(&[ground(depth), ground(9.9 - depth)], 15.0 + BOOK, days, held(-10.0 + BOOK), INSULATED))
    };
    for row in table("heat_worked_examples") {
        let wanted = row["recomputed"].parse::<f64>();
        let mut kelvins = |got: f64, wanted: f64| worst.near(got, wanted, PROMISE, &row);
        // The book rounds the constant of Stefan and Boltzmann to 5.67e-8.
        let exact = |got: f64| near(got, number(&row, "recomputed"), 1e-4 * got.abs(), &row);
        match (row["source"].as_str(), row["quantity"].as_str()) {
            ("Incropera 6e Ex1.2", "E W/m2") => exact(-Face { exchange: 0.8, ..INSULATED }.heat(200.0 + BOOK)),
            ("Incropera 6e Ex1.2", "G W/m2") => exact(Face { panel: 298.0, exchange: 1.0, ..INSULATED }.heat(0.0)),
            ("Incropera 6e Ex1.2", "q' W/m") => {
                let face = Face { panel: 25.0 + BOOK, exchange: 0.8, ..air(25.0 + BOOK, 15.0) };
                exact(-PI * 0.07 * face.heat(200.0 + BOOK));
            }
            (_, "T plate C") => kelvins(coating(15.0), wanted.unwrap()),
            (_, "h W/m2K") => kelvins(coating(wanted.unwrap()), 50.0),
            // After one time constant 1/e of the difference is left.
            ("Incropera 6e Ex5.1", "D m") => {
                let lump = lump(8500.0 * 400.0 * wanted.unwrap() / 6.0);
                let got = seen(&Case::new(&[lump], 25.0 + BOOK, 1.0, gas, INSULATED)).top() - BOOK;
                kelvins(got, 200.0 - 175.0 / E);
            }
            ("Incropera 6e Ex5.1", "t s") => {
                let case = Case::new(&[junction], 25.0 + BOOK, wanted.unwrap(), gas, INSULATED);
                kelvins(seen(&case).top() - BOOK, 199.0);
            }
            ("Incropera 6e Ex5.2", "Tss C") => {
                let case = Case::new(&[junction], 25.0 + BOOK, 100.0, duct, INSULATED);
                kelvins(seen(&case).top() - BOOK, wanted.unwrap());
            }
            ("Incropera 6e Ex5.2", "t s") => {
                let case = Case::new(&[junction], 25.0 + BOOK, wanted.unwrap(), duct, INSULATED);
                kelvins(seen(&case).top() - BOOK, 218.713 - 1.0);
            }
            ("Incropera 6e Ex5.4", "T C") => kelvins(pipe().bottom() - BOOK, wanted.unwrap()),
            ("Incropera 6e Ex5.4", "Q J/m") => {
                let got = -PI * pipe().energy.in_top;
                relative(got, wanted.unwrap(), 5e-4, &row);
            }
            ("Incropera 6e Ex5.6 (semi-infinite, step)", "xm m") => {
                let depth = wanted.unwrap();
                let ground = |thickness: f64| slab(thickness, 0.52, 2050.0 * 1840.0);
                let layers = [ground(depth), ground(9.9 - depth)];
                let case = Case::new(&layers, 20.0 + BOOK, 60.0 * 86_400.0, held(-15.0 + BOOK), INSULATED);
                kelvins(seen(&case).joint() - BOOK, 0.0);
            }
            ("Incropera 6e Ex5.10(c) (semi-infinite, constant flux)", "T C") => {
                let case = Case::new(&[slab(1.5, 401.0, 401.0 / 117e-6)], 20.0 + BOOK, 120.0, flux(3e5), INSULATED);
                kelvins(seen(&case).top() - BOOK, wanted.unwrap());
            }
            // At a held face the heat so far is twice the flux now times the time.
            ("Cengel&Ghajar 6e Ex4-6 via pychemengg", "q W/m2") => {
                let got = soil(1.0).energy.in_top / (2.0 * 90.0 * 86_400.0);
                relative(got, wanted.unwrap(), 5e-4, &row);
            }
            // The depth belongs to 0.36, as read from a chart: -10 + 25 erf(0.36), nearly the 0 degC of the question.
            ("Cengel&Ghajar 6e Ex4-6", "burial depth m") => {
                kelvins(soil(wanted.unwrap()).joint() - BOOK, -10.0 + 25.0 * erf(0.36));
            }
            ("same", "T C") => {
                let face = air(500.0 + BOOK, 120.0);
                let case = Case::new(&[slab(0.040, 110.0, 8530.0 * 380.0)], 20.0 + BOOK, 420.0, face, face);
                kelvins(seen(&case).top() - BOOK, wanted.unwrap());
            }
            ("Carslaw&Jaeger 2.7 semi-infinite convection", "theta") => {
                // A diffusivity and a time that make sqrt(a t) one metre, in ten of them.
                let (beta, xi) = (after(&row["inputs"], "/k="), after(&row["inputs"], "sqrt(alpha t))="));
                let body = |thickness: f64| slab(thickness, 1.0, 1e6);
                let depth = 2.0 * xi;
                let layers = if depth > 0.0 { vec![body(depth), body(9.0)] } else { vec![body(10.0)] };
                let got = seen(&Case::new(&layers, 300.0, 1e6, air(400.0, beta), INSULATED));
                kelvins(got.heat[0][usize::from(depth > 0.0)] - 300.0, 100.0 * wanted.unwrap());
            }
            (source, quantity) => {
                skipped.push(format!("{source}: {quantity}"));
                continue;
            }
        }
        known += 1;
    }
    // Numbers that go in or stand between (Bi, Fo, zeta), and the values of a coarse explicit scheme, 5 K from the truth.
    let wanted = [
        "Incropera 6e Ex5.4 (plane wall one side insulated): Bi",
        "Incropera 6e Ex5.4: Fo",
        "Incropera 6e Ex5.10(a) explicit FD: T0 C",
        "Incropera 6e Ex5.10(a): T2 C",
        "Incropera 6e Ex5.10(a): T0 C",
        "Incropera 6e Ex5.10(a): T2 C",
        "Cengel&Ghajar 6e Ex4-4 (brass plate) via pychemengg: Bi",
        "same: Fo",
        "same: zeta1..3",
    ];
    assert_eq!(skipped, wanted, "all others are known");
    assert_eq!(known, 20);
}

/// The plane wall with convection: the table's first root and coefficient, then the solver against the series.
#[test]
fn plane_wall() {
    let mut worst = Worst::new("plane wall, K of 100");
    for row in table("plane_wall_one_term") {
        let biot = number(&row, "Bi");
        let roots: Vec<f64> = (0..12)
            .map(|n| {
                let low = f64::from(n) * PI;
                root(low + 1e-9, low + PI / 2.0 - 1e-9, |z| z * z.sin() - biot * z.cos())
            })
            .collect();
        let coefficient = |z: f64| 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin());
        near(roots[0], number(&row, "zeta1_exact"), 1e-9, &row);
        near(coefficient(roots[0]), number(&row, "C1_exact"), 1e-9, &row);
        if row["flag"].is_empty() {
            near(roots[0], number(&row, "zeta1_tab"), 1e-4, &row);
            near(coefficient(roots[0]), number(&row, "C1_tab"), 1e-4, &row);
        }
        let (thickness, conductivity, volumetric) = (0.010, 0.5, 2e6);
        let unit = thickness * thickness * volumetric / conductivity;
        let fourier = [0.25, 0.5, 1.0, 2.0];
        let wall = slab(thickness, conductivity, volumetric);
        let face = air(400.0, biot * conductivity / thickness);
        let mut case = Case::new(&[wall], 300.0, 2.0 * unit, face, INSULATED);
        case.report = fourier.iter().map(|fo| fo * unit).collect();
        for (fo, heat) in fourier.iter().zip(&seen(&case).heat) {
            let left = |z: f64| coefficient(z) * (-z * z * fo).exp();
            let middle: f64 = roots.iter().map(|z| left(*z)).sum();
            let surface: f64 = roots.iter().map(|z| left(*z) * z.cos()).sum();
            worst.near(heat[1], 400.0 - 100.0 * middle, PROMISE, (&row, fo, "middle"));
            worst.near(heat[0], 400.0 - 100.0 * surface, PROMISE, (&row, fo, "surface"));
            if *fo >= 1.0 {
                // The table by itself: one term is all there is.
                let term = number(&row, "C1_exact") * (-number(&row, "zeta1_exact").powi(2) * fo).exp();
                worst.near(heat[1], 400.0 - 100.0 * term, PROMISE, (&row, fo, "one term"));
            }
        }
    }
}

/// IAPWS-95 through the table; ours are the auxiliary equations of 1992, good to some parts in 1e5 of it.
#[test]
fn saturated_water() {
    let mut pressure = Worst::new("saturation pressure, relative");
    let mut latent = Worst::new("latent heat, relative");
    for row in table("water_saturation") {
        let kelvin = number(&row, "T_K");
        pressure.near(saturation_pressure(kelvin) / (1000.0 * number(&row, "psat_kPa")), 1.0, 1e-4, &row);
        latent.near(latent_heat(kelvin) / (1000.0 * number(&row, "hfg_kJ_kg")), 1.0, 1e-3, &row);
        if !row["hfg_incropera"].is_empty() {
            latent.near(latent_heat(kelvin) / (1000.0 * number(&row, "hfg_incropera")), 1.0, 1e-3, &row);
        }
    }
}

// ---- closed forms ----

/// Carslaw and Jaeger, 2nd ed., 2.4, 2.7 and 2.9: a deep body whose face is held, convects, or takes a flux. From felt to
/// copper, from a second to an hour, at the face and inside.
#[test]
fn deep_bodies() {
    let mut worst = Worst::new("deep bodies, K of about 100");
    let bodies =
        [("felt", 0.04, 3e5), ("rubber", 0.16, 1.955e6), ("aluminium", 160.0, 2.42e6), ("copper", 401.0, 3.43e6)];
    for (name, k, volumetric) in bodies {
        let diffusivity: f64 = k / volumetric;
        for time in [1.0, 60.0, 3600.0] {
            let reach = (diffusivity * time).sqrt();
            for depth in [0.3 * reach, reach, 2.0 * reach] {
                let layers = [slab(depth, k, volumetric), slab(9.0 * reach, k, volumetric)];
                let xi = depth / (2.0 * reach);
                let see = |top: Face| seen(&Case::new(&layers, 300.0, time, top, INSULATED));

                let got = see(held(400.0));
                worst.near(got.joint(), 300.0 + 100.0 * erfc(xi), PROMISE, (name, time, depth, "held"));
                let heat = 2.0 * k * 100.0 * (time / (PI * diffusivity)).sqrt();
                near(got.energy.in_top, heat, 2e-3 * heat, (name, time, depth, "heat into a held face"));

                for beta in [0.2_f64, 1.0, 5.0] {
                    let got = see(air(400.0, beta * k / reach));
                    // exp(2 xi beta + beta^2) erfc(xi + beta), kept from overflowing.
                    let theta = |xi: f64| erfc(xi) - (-xi * xi).exp() * scaled_erfc(xi + beta);
                    worst.near(got.joint(), 300.0 + 100.0 * theta(xi), PROMISE, (name, time, depth, beta));
                    worst.near(got.top(), 300.0 + 100.0 * theta(0.0), PROMISE, (name, time, depth, beta, "face"));
                }

                let rise = 100.0;
                let into = rise * k / (2.0 * reach) * PI.sqrt();
                let got = see(flux(into));
                let inside = rise * (-xi * xi).exp() - into * depth / k * erfc(xi);
                worst.near(got.top(), 300.0 + rise, PROMISE, (name, time, depth, "flux, face"));
                worst.near(got.joint(), 300.0 + inside, PROMISE, (name, time, depth, "flux"));
                near(got.energy.in_top, into * time, 1e-9 * into * time, (name, "a flux times its time"));
            }
        }
    }
}

/// Film, cloth, rubber and aluminium under a panel and over room air, when all is settled: one heat flux through resistances
/// in series, balanced by bisection.
#[test]
fn steady_composite_wall_under_a_panel() {
    let mut worst = Worst::new("steady composite wall, K");
    let layers =
        [slab(50e-6, 0.17, 1.7e6), slab(0.55e-3, 0.055, 4.4e5), slab(1.5e-3, 0.16, 1.96e6), slab(6e-3, 160.0, 2.42e6)];
    for (panel, exchange, h_top, h_bottom) in
        [(823.15, 0.4, 8.0, 10.0), (703.15, 0.16, 10.0, 8.0), (500.0, 1.0, 0.0, 100.0), (303.15, 0.9, 30.0, 5.0)]
    {
        let top = Face { panel, exchange, ..air(333.15, h_top) };
        let bottom = air(298.15, h_bottom);
        let through = |surface: f64| h_top * (333.15 - surface) + exchange * SIGMA * (panel.powi(4) - surface.powi(4));
        let resistance: f64 = layers.iter().map(|layer| layer.thickness / layer.conductivity).sum();
        let surface = root(250.0, 1500.0, |surface| {
            let q = through(surface);
            q - h_bottom * (surface - q * resistance - 298.15)
        });
        let got = seen(&Case::new(&layers, 298.15, 40_000.0, top, bottom));
        let q = through(surface);
        let mut wanted = surface;
        for (column, heat) in got.heat[0].iter().enumerate() {
            worst.near(*heat, wanted, PROMISE, (panel, column));
            wanted -= layers.get(column).map_or(0.0, |layer| q * layer.thickness / layer.conductivity);
        }
    }
}

/// A lump that cools by radiation alone. Into nothing: T = (T0^-3 + 3 e sigma t / C)^(-1/3). Into a room: Incropera, 6th ed.,
/// equation 5.18.
#[test]
fn cooling_by_radiation_alone() {
    let mut worst = Worst::new("cooling by radiation, K");
    let capacity = 500.0;
    for (start, exchange) in [(1000.0_f64, 1.0), (900.0, 0.4), (450.0, 0.9)] {
        for time in [0.1, 3.0, 100.0] {
            let wanted = (start.powi(-3) + 3.0 * exchange * SIGMA * time / capacity).powf(-1.0 / 3.0);
            let face = Face { exchange, ..INSULATED };
            let got = seen(&Case::new(&[lump(capacity)], start, time, face, INSULATED)).top();
            worst.near(got, wanted, PROMISE, (start, exchange, time));
        }
        let room = 298.15_f64;
        let part = |t: f64| ((room + t) / (t - room)).ln() + 2.0 * (t / room).atan();
        for share in [0.9, 0.5, 0.1] {
            let end = room + share * (start - room);
            let time = capacity / (4.0 * exchange * SIGMA * room.powi(3)) * (part(end) - part(start));
            let face = Face { exchange, panel: room, ..INSULATED };
            let got = seen(&Case::new(&[lump(capacity)], start, time, face, INSULATED)).top();
            worst.near(got, end, PROMISE, (start, exchange, share));
        }
    }
}

// ---- water ----

/// Saturation pressure, Pa, after Hyland and Wexler (ASHRAE Handbook, Fundamentals, chapter 1, equation 6): not ours.
fn hyland_wexler(t: f64) -> f64 {
    (-5.800_220_6e3 / t + 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t * t - 1.445_209_3e-8 * t * t * t
        + 6.545_967_3 * t.ln())
    .exp()
}

/// Latent heat, J/kg, read between the lines of the table.
fn latent_by_table(rows: &[Row], t: f64) -> f64 {
    let points: Vec<(f64, f64)> = rows.iter().map(|r| (number(r, "T_K"), 1000.0 * number(r, "hfg_kJ_kg"))).collect();
    let pair = points.windows(2).find(|pair| pair[1].0 >= t).unwrap();
    pair[0].1 + (pair[1].1 - pair[0].1) * (t - pair[0].0) / (pair[1].0 - pair[0].0)
}

/// Water that leaves a wet face, kg/(m2.s): design section 6 (Chilton and Colburn, Stefan flow), written anew. Gases at the
/// mean temperature: conductivity of the U.S. Standard Atmosphere 1976, diffusion of Marrero and Mason (1972).
fn leaving(face: &Face, t: f64) -> f64 {
    let mean = (face.air + t) / 2.0;
    let molar = 101_325.0 / (8.314_462_618 * mean);
    let warmth = molar * 0.028_965_46 * 1007.0;
    let conductivity = 2.646_38e-3 * mean.powf(1.5) / (mean + 245.4 * 10_f64.powf(-12.0 / mean));
    let lewis = conductivity / warmth / (1.87e-10 * mean.powf(2.072));
    let share = face.humidity_ratio / (face.humidity_ratio + 0.018_015_268 / 0.028_965_46);
    let stefan = ((1.0 - share) / (1.0 - hyland_wexler(t) / 101_325.0)).ln();
    face.transfer / warmth * lewis.powf(-2.0 / 3.0) * molar * 0.018_015_268 * stefan
}

/// The temperature at which a wet face on an insulated back takes just the heat that its drying needs.
fn wet_face(rows: &[Row], face: &Face) -> f64 {
    root(274.0, 372.9, |t| {
        let dry = face.transfer * (face.air - t) + face.exchange * SIGMA * (face.panel.powi(4) - t.powi(4)) + face.flux;
        dry - leaving(face, t) * latent_by_table(rows, t)
    })
}

/// A millimetre of wet film with most of its heat in water.
const WET_FILM: Slab = Slab { thickness: 1e-3, conductivity: 0.6, heat_per_volume: 4.2e6, bound_water: 0.0 };
const MUCH_WATER: f64 = 0.95;

#[test]
fn wet_faces_settle_where_drying_takes_all_heat() {
    let rows = table("water_saturation");
    for row in rows.iter().filter(|row| number(row, "T_K") < 375.0) {
        let (t, p) = (number(row, "T_K"), 1000.0 * number(row, "psat_kPa"));
        near(hyland_wexler(t), p, 5e-4 * p, row);
    }
    let mut worst = Worst::new("wet faces, K");
    for celsius in [25.0, 60.0, 100.0, 175.0, 250.0] {
        for humidity_ratio in [0.0, 0.005, 0.020, 0.150] {
            for (panel, exchange, flux) in
                [(0.0, 0.0, 0.0), (703.15, 0.16, 0.0), (823.15, 0.4, 0.0), (0.0, 0.0, 3000.0)]
            {
                for transfer in [8.0, 40.0] {
                    let face = Face { humidity_ratio, panel, exchange, flux, ..air(celsius + ZERO, transfer) };
                    let wanted = wet_face(&rows, &face);
                    if leaving(&face, wanted) <= 0.0 {
                        continue;
                    }
                    // From 5 K beside it, as long as it takes to forget them, or until half the water is gone.
                    let time = (0.5 * MUCH_WATER / leaving(&face, wanted)).min(3000.0);
                    let mut case = Case::new(&[WET_FILM], wanted - 5.0, time, face, INSULATED);
                    case.water = MUCH_WATER;
                    let got = seen(&case);
                    assert!(got.water[0] > 0.3 * MUCH_WATER, "still wet: {face:?}");
                    worst.near(got.top(), wanted, PROMISE, face);
                }
            }
        }
    }
}

/// From its wet-bulb temperature on a film dries at one temperature, so all its latent heat is water lost times one value.
#[test]
fn latent_heat_is_water_lost_times_its_heat() {
    let rows = table("water_saturation");
    let mut worst = Worst::new("latent heat of the water lost, relative");
    for (celsius, transfer) in [(40.0, 25.0), (60.0, 8.0), (175.0, 20.0), (250.0, 60.0)] {
        let face = air(celsius + ZERO, transfer);
        let bulb = wet_face(&rows, &face);
        for share in [0.1, 0.6] {
            let time = share * MUCH_WATER / leaving(&face, bulb);
            let mut case = Case::new(&[WET_FILM], bulb, time, face, INSULATED);
            case.water = MUCH_WATER;
            let got = seen(&case);
            let lost = MUCH_WATER - got.water[0];
            near(lost, share * MUCH_WATER, 1e-3 * MUCH_WATER, (celsius, share, "water lost"));
            worst.near(got.energy.latent / (lost * latent_by_table(&rows, bulb)), 1.0, 1e-3, (celsius, share));
        }
    }
}

// ---- what must hold for any stack ----

fn log_range(low: f64, high: f64) -> impl Strategy<Value = f64> {
    (low.ln()..high.ln()).prop_map(f64::exp)
}

fn a_slab() -> impl Strategy<Value = Slab> {
    let any = (log_range(1e-5, 5e-3), log_range(0.03, 200.0), log_range(1e5, 4e6));
    // Cloth holds up to a tenth of its mass in water.
    let cloth = (log_range(1e-4, 2e-3), 0.03..0.2, 150.0..600.0, 0.0..0.1);
    prop_oneof![
        3 => any.prop_map(|(thickness, k, volumetric)| slab(thickness, k, volumetric)),
        2 => cloth.prop_map(|(thickness, k, density, bound): (f64, f64, f64, f64)| Slab {
            bound_water: bound * thickness * density,
            ..slab(thickness, k, 1500.0 * density)
        }),
    ]
}

fn a_face() -> impl Strategy<Value = Face> {
    let panel = prop_oneof![Just((0.0, 0.0)), (500.0..950.0, 0.05..0.5)];
    let flux = prop_oneof![Just(0.0), -500.0..8000.0];
    (290.0..500.0, 2.0..60.0, 0.0..0.05, panel, flux).prop_map(|(t, h, humidity_ratio, (panel, exchange), flux)| Face {
        humidity_ratio,
        panel,
        exchange,
        flux,
        ..air(t, h)
    })
}

fn any_face() -> impl Strategy<Value = Face> {
    prop_oneof![4 => a_face(), 1 => Just(INSULATED), 1 => (285.0..450.0).prop_map(held)]
}

fn a_case() -> impl Strategy<Value = Case> {
    let stage = (log_range(1.0, 200.0), a_face(), any_face());
    let stages = prop::collection::vec(stage.prop_map(|(duration, top, bottom)| Stage { duration, top, bottom }), 1..3);
    (prop::collection::vec(a_slab(), 1..6), stages, 283.0..320.0, prop_oneof![Just(0.0), 0.05..0.9]).prop_map(
        |(slabs, stages, start, wet)| {
            let total: f64 = stages.iter().map(|stage| stage.duration).sum();
            let water = wet * slabs[0].thickness * slabs[0].heat_per_volume / WATER_SPECIFIC_HEAT;
            let report = (1..=6).map(|i| total * f64::from(i) / 6.0).collect();
            Case { slabs, water, start, stages, report, tolerance: PROMISE, refinement: 1 }
        },
    )
}

/// Every moment and place of two answers, side by side.
fn pairs<'a>(a: &'a Seen, b: &'a Seen) -> impl Iterator<Item = (f64, f64)> + 'a {
    a.heat.iter().flatten().copied().zip(b.heat.iter().flatten().copied())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: cases(96, 960),
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(4),
        ..ProptestConfig::default()
    })]

    #[test]
    fn energy_closes(case in a_case()) {
        let got = seen(&case);
        prop_assert!(got.energy.imbalance.abs() <= 1e-6, "{} {case:?}", got.energy.imbalance);
        let energy = got.energy;
        let open = energy.in_top + energy.in_bottom - energy.stored - energy.evaporated;
        let most = energy.in_top.abs() + energy.in_bottom.abs() + energy.latent.abs();
        prop_assert!(open.abs() <= 2e-6 * most.max(energy.evaporated), "{energy:?} {case:?}");
    }

    /// Hotter air, a hotter panel, more flux, a warmer start: no place is ever cooler for it, whatever dries.
    #[test]
    fn more_heat_never_cools(case in a_case(), which in 0..4, more in 1.0..60.0) {
        let mut hotter = case.clone();
        for stage in &mut hotter.stages {
            match which {
                0 => stage.top.air += more,
                1 => stage.top.flux += 50.0 * more,
                2 if stage.top.exchange > 0.0 => stage.top.panel += more,
                2 => stage.bottom.air += more,
                _ => {}
            }
        }
        if which == 3 {
            hotter.start += more;
        }
        let (cool, hot) = (seen(&case), seen(&hotter));
        for (cool, hot) in pairs(&cool, &hot) {
            prop_assert!(hot >= cool - 2.0 * PROMISE, "{hot} < {cool}: {which} {more} {case:?}");
        }
    }

    /// More transfer from air that is hotter than all else never cools a dry stack.
    #[test]
    fn more_transfer_from_hot_air_never_cools(case in a_case(), factor in 1.0..5.0) {
        let mut slow = case;
        slow.water = 0.0;
        for stage in &mut slow.stages {
            stage.top = air(450.0, stage.top.transfer);
            stage.bottom = air(450.0, 10.0);
        }
        let mut fast = slow.clone();
        for stage in &mut fast.stages {
            stage.top.transfer *= factor;
        }
        for (slow, fast) in pairs(&seen(&slow), &seen(&fast)) {
            prop_assert!(fast >= slow - 2.0 * PROMISE && fast <= 450.0 + PROMISE, "{fast} {slow}");
        }
    }

    #[test]
    fn two_halves_equal_the_whole(case in a_case(), at in 0..6_usize) {
        // Not the film where it is wet: its water is the top layer's alone.
        let first = usize::from(case.water > 0.0);
        prop_assume!(case.slabs.len() > first);
        let at = first + at % (case.slabs.len() - first);
        let mut halved = case.clone();
        let half = &mut halved.slabs[at];
        half.thickness /= 2.0;
        half.bound_water /= 2.0;
        let half = *half;
        halved.slabs.insert(at, half);
        let (whole, mut halves) = (seen(&case), seen(&halved));
        for heat in &mut halves.heat {
            heat.remove(at + 1);
        }
        for (whole, halves) in pairs(&whole, &halves) {
            prop_assert!((whole - halves).abs() <= 2.0 * PROMISE, "{whole} {halves}: {at} {case:?}");
        }
    }

    #[test]
    fn mirrored_stacks_give_mirrored_answers(case in a_case()) {
        let mut case = case;
        case.water = 0.0;
        let mut mirrored = case.clone();
        mirrored.slabs.reverse();
        for stage in &mut mirrored.stages {
            std::mem::swap(&mut stage.top, &mut stage.bottom);
        }
        let (straight, mut back) = (seen(&case), seen(&mirrored));
        for heat in &mut back.heat {
            heat.reverse();
        }
        for (straight, back) in pairs(&straight, &back) {
            prop_assert!((straight - back).abs() <= PROMISE, "{straight} {back} {case:?}");
        }
        let (a, b) = (straight.energy, back.energy);
        let most = a.in_top.abs() + a.in_bottom.abs() + 1.0;
        prop_assert!((a.in_top - b.in_bottom).abs() <= 1e-4 * most && (a.in_bottom - b.in_top).abs() <= 1e-4 * most);
    }

    /// Air below saturation at every temperature the film has: water only leaves, and never more than there was. A moment is
    /// read from the polynomial of its step, to a millionth of the water; a ten-thousandth counts as none.
    #[test]
    fn film_water_only_leaves(case in a_case(), celsius in 40.0..250.0, humidity_ratio in 0.0..0.007) {
        let mut case = case;
        prop_assume!(case.water > 0.0);
        // The dew point of 0.007 is 9 degC, and nothing here is as cold.
        for stage in &mut case.stages {
            stage.top = Face { humidity_ratio, flux: stage.top.flux.max(0.0), ..air(celsius + ZERO, stage.top.transfer) };
            stage.bottom = air(celsius + ZERO, 5.0);
        }
        case.start = 300.0;
        let got = seen(&case);
        let mut before = case.water;
        for water in &got.water {
            prop_assert!(*water >= 0.0 && *water <= before + 1e-6 * case.water, "{:?} of {}", got.water, case.water);
            before = *water;
        }
    }
}

/// A march fifty times tighter, on some seven times as many cells, says the same at every moment and place: within the promise for 97
/// of 100 stacks, within twice the promise for 995 of 1000. Of 4,000 nine were off by more, 0.3 K at most; why has not been looked into.
#[test]
fn a_tighter_march_agrees() {
    let seed = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
    let mut runner = TestRunner::new_with_rng(ProptestConfig::default(), seed);
    let mut off: Vec<f64> = Vec::new();
    for _ in 0..cases(200, 4000) {
        let case = a_case().new_tree(&mut runner).unwrap().current();
        let (usual, tight) = (seen(&case), seen(&Case { tolerance: PROMISE / 50.0, ..case.clone() }));
        let worst = pairs(&usual, &tight).fold(0.0_f64, |worst, (a, b)| worst.max((a - b).abs()));
        // A thousandth of the film's water, of which condensation may add much, weighs as much as the promise.
        let most = tight.water.iter().fold(case.water, |most, water| most.max(*water)).max(f64::MIN_POSITIVE);
        let water = usual.water.iter().zip(&tight.water).map(|(usual, tight)| (usual - tight).abs() / most);
        off.push(water.fold(worst, |worst, share| worst.max(share * 1e3 * PROMISE)));
    }
    off.sort_by(f64::total_cmp);
    let all = off.len();
    let [median, most, last] = [all / 2, all * 97 / 100, all - 1].map(|place| off[place]);
    println!("a tighter march: median {median}, 97 % within {most}, worst {last} K");
    assert!(off[all * 97 / 100] <= PROMISE, "{:?}", &off[all * 95 / 100..]);
    assert!(off[all * 995 / 1000] <= 2.0 * PROMISE, "{:?}", &off[all * 99 / 100..]);
}

// ---- convergence ----

/// Two layers under a steady flux, long after its start: all warm at one rate, each temperature is a parabola, and the heat
/// that went in fixes the mean. The steps then have no error of their own, so what is left is that of the cells.
#[test]
fn cells_converge_at_second_order() {
    let (one, two) = (slab(2e-3, 0.2, 1.5e6), slab(3e-3, 0.6, 2e6));
    let (into, time, start) = (20_000.0, 1000.0, 300.0);
    let held = |layer: Slab| layer.heat_per_volume * layer.thickness;
    let rate = into / (held(one) + held(two));
    // Fall of temperature below the upper side of a layer that `q` enters: at its lower side, and in the mean.
    let fall = |layer: Slab, q: f64| {
        let (length, bend) = (layer.thickness, rate * layer.heat_per_volume);
        (
            (q * length - bend * length.powi(2) / 2.0) / layer.conductivity,
            (q * length / 2.0 - bend * length.powi(2) / 6.0) / layer.conductivity,
        )
    };
    let (first, second) = (fall(one, into), fall(two, into - rate * held(one)));
    let mean_fall = (held(one) * first.1 + held(two) * (first.0 + second.1)) / (held(one) + held(two));
    let top = start + rate * time + mean_fall;
    let wanted = [top, top - first.0, top - first.0 - second.0];

    let case = Case::new(&[one, two], start, time, flux(into), INSULATED);
    let errors: Vec<Vec<f64>> = [1, 2, 4, 8]
        .iter()
        .map(|refinement| {
            let got = seen(&Case { refinement: *refinement, ..case.clone() });
            got.heat[0].iter().zip(wanted).map(|(got, wanted)| (got - wanted).abs()).collect()
        })
        .collect();
    for place in 0..3 {
        for pair in errors.windows(2) {
            let order = (pair[0][place] / pair[1][place]).log2();
            println!("order in cells, place {place}: {order:.3} (error {:.2e} K)", pair[1][place]);
            assert!((order - 2.0).abs() < 0.1, "{errors:?}");
        }
    }
}

/// A lump has no error but that of the steps: it falls with the fourth power of their number, where it is not yet that of the rounding.
#[test]
fn steps_converge_at_fourth_order() {
    let capacity = 500.0;
    let face = Face { exchange: 1.0, ..INSULATED };
    let (start, time) = (1200.0_f64, 60.0);
    let wanted = (start.powi(-3) + 3.0 * SIGMA * time / capacity).powf(-1.0 / 3.0);
    let points: Vec<(f64, f64)> = [1.0, 1e-1, 1e-2, 1e-3]
        .iter()
        .map(|tolerance| {
            let case = Case { tolerance: *tolerance, ..Case::new(&[lump(capacity)], start, time, face, INSULATED) };
            let got = seen(&case);
            ((got.top() - wanted).abs(), got.steps as f64)
        })
        .collect();
    for pair in points.windows(2) {
        let order = (pair[0].0 / pair[1].0).ln() / (pair[1].1 / pair[0].1).ln();
        println!("order in time: {order:.2} ({} to {} steps, error {:.2e})", pair[0].1, pair[1].1, pair[1].0);
        assert!(order > 3.0, "{points:?}");
    }
}

// ---- extremes ----

/// Asks `heat.layers`, and gives an answer or an error of the wire; either comes soon.
fn reply(request: &Value) -> Result<Value, Code> {
    let begin = ThreadTime::now();
    let reply = calculate("heat.layers", request);
    let took = begin.elapsed();
    let name = &request["layers"][0]["name"];
    println!("{name}: {took:?}");
    // The thread's own time on the processor, whatever runs beside it. An evaluation is about a second's work at most; with checks of
    // arithmetic, and with the counters of tests/parts/coverage, that takes many times as long.
    assert!(took < Duration::from_secs(60), "{name}: {took:?}");
    match reply {
        Ok(answer) => {
            let moments = request["report_at"].as_array().unwrap().len();
            let rows = answer["interfaces"].as_array().unwrap().iter();
            for row in rows.chain([&answer["top"], &answer["bottom"]]) {
                let row = row.as_array().unwrap();
                assert_eq!(row.len(), moments);
                assert!(row.iter().all(|cell| cell["value"].as_f64().is_some_and(|t| t > -ZERO && t < 1e7)), "{row:?}");
            }
            assert!(answer["energy"]["imbalance_fraction"].as_f64().unwrap().abs() <= 1e-6, "{}", answer["energy"]);
            Ok(answer)
        }
        Err(error) => {
            assert!(error.code != Code::Internal && error.field.starts_with('/'), "{error}");
            Err(error.code)
        }
    }
}

fn layer(name: &str, thickness: &str, conductivity: &str) -> Value {
    json!({"name": name, "thickness": thickness, "conductivity": conductivity, "density": "1000 kg/m3", "specific_heat": "1500 J/(kg.K)"})
}

fn stack(layers: &[Value], duration: &str, top: &Value) -> Value {
    json!({"layers": layers, "start": "25 degC", "stages": [{"duration": duration, "top": top, "bottom": {}}], "report_at": [duration]})
}

#[test]
fn extremes_are_answered() {
    let oven = json!({"air": "175 degC", "transfer": "20 W/(m2.K)", "humidity_ratio": 0.02});

    // A micrometre on a metre of metal: the metal is a deep body (Carslaw and Jaeger 2.9), 2 q sqrt(t / (pi k c)).
    let thin = [layer("film", "1 um", "0.2 W/(m.K)"), layer("metal", "1 m", "200 W/(m.K)")];
    let answer = reply(&stack(&thin, "60 s", &json!({"flux": "20 kW/m2"}))).unwrap();
    let metal = 25.0 + 2.0 * 20e3 * (60.0 / (PI * 200.0 * 1.5e6)).sqrt();
    near(at(&answer, "/interfaces/0/0/value"), metal, PROMISE, "film on metal");
    near(at(&answer, "/top/0/value"), metal + 20e3 * 1e-6 / 0.2, PROMISE, "film on metal");

    // Conductivities 1e6 apart, over ten minutes and at rest.
    let apart = [layer("aerogel", "1 mm", "0.001 W/(m.K)"), layer("diamond", "1 mm", "1000 W/(m.K)")];
    reply(&stack(&apart, "10 min", &oven)).unwrap();
    let mut held = stack(&apart, "10 h", &json!({"temperature": "100 degC"}));
    held["stages"][0]["bottom"] = json!({"temperature": "20 degC"});
    near(at(&reply(&held).unwrap(), "/interfaces/0/0/value"), 20.0 + 80e-6, PROMISE, "steady, 1e6 apart");

    // A megawatt on a square metre: 1 s into a deep body.
    let deep = [layer("steel", "0.5 m", "50 W/(m.K)")];
    let answer = reply(&stack(&deep, "1 s", &json!({"flux": "1000 kW/m2"}))).unwrap();
    let wanted = 2.0 * 1e6 * (1.0 / (PI * 50.0 * 1.5e6)).sqrt();
    // 130 K in a second: PROMISE of it as on the listed checks, which rise by 100 K.
    near(at(&answer, "/top/0/value"), 25.0 + wanted, PROMISE * wanted / 100.0, "a megawatt");
    let film = [layer("film under a megawatt", "30 um", "0.2 W/(m.K)"), layer("cloth", "0.5 mm", "0.05 W/(m.K)")];
    reply(&stack(&film, "1 s", &json!({"flux": "1000 kW/m2"}))).unwrap();

    // A microsecond and ten hours, by themselves and after each other.
    let film = [layer("film", "30 um", "0.2 W/(m.K)"), layer("cloth", "0.5 mm", "0.05 W/(m.K)")];
    let answer = reply(&stack(&film, "1 us", &oven)).unwrap();
    near(at(&answer, "/bottom/0/value"), 25.0, 1e-6, "a microsecond");
    let answer = reply(&stack(&film, "10 h", &oven)).unwrap();
    near(at(&answer, "/bottom/0/value"), 175.0, PROMISE, "ten hours");
    let mut both = stack(&film, "1 us", &oven);
    both["stages"] = json!([{"duration": "1 us", "top": {"flux": "1000 kW/m2"}, "bottom": {}}, {"duration": "10 h", "top": oven, "bottom": {}}]);
    both["report_at"] = json!(["1 us", "1 s", "10 h"]);
    near(at(&reply(&both).unwrap(), "/bottom/2/value"), 175.0, PROMISE, "a microsecond and ten hours");

    // Water on a freezing face: humid air may leave water there, and no number breaks.
    for (air, humidity) in [("-30 degC", 0.0), ("-30 degC", 0.010), ("5 degC", 0.5), ("175 degC", 0.02)] {
        let mut ice = stack(&film, "60 s", &json!({"air": air, "transfer": "50 W/(m2.K)", "humidity_ratio": humidity}));
        ice["film_water"] = json!("9 g/m2");
        ice["start"] = json!("-35 degC");
        ice["stages"][0]["bottom"] = json!({"temperature": "-40 degC"});
        let answer = reply(&ice).unwrap();
        let water = at(&answer, "/film_water/0/value");
        assert!(water.is_finite() && water >= 0.0, "{answer}");
    }

    // Water that is driven to boil.
    let mut boil = stack(&film, "5 s", &json!({"air": "400 degC", "transfer": "5 W/(m2.K)", "flux": "200 kW/m2"}));
    boil["film_water"] = json!("9 g/m2");
    let answer = reply(&boil).unwrap();
    near(at(&answer, "/film_water/0/value"), 0.0, 0.01, "boiled off");

    // Two hundred layers: as one, of the same thickness.
    let many: Vec<Value> = (0..200).map(|_| layer("one of 200", "50 um", "0.1 W/(m.K)")).collect();
    let answer = reply(&stack(&many, "60 s", &oven)).unwrap();
    let one = reply(&stack(&[layer("one of one", "10 mm", "0.1 W/(m.K)")], "60 s", &oven)).unwrap();
    for pointer in ["/top/0/value", "/bottom/0/value"] {
        near(at(&answer, pointer), at(&one, pointer), 2.0 * PROMISE, pointer);
    }
}

#[test]
fn limits_end_in_too_long() {
    let oven = json!({"air": "175 degC", "transfer": "20 W/(m2.K)"});
    let many: Vec<Value> = (0..200).map(|_| layer("too many cells", "50 um", "0.1 W/(m.K)")).collect();
    let mut cells = stack(&many, "60 s", &json!({"temperature": "180 degC"}));
    cells["tolerance"] = json!("1e-5 K");
    cells["report_at"] = json!(["1 us", "60 s"]);
    assert_eq!(reply(&cells), Err(Code::TooLong));

    // Ten thousand changes of face, each of which needs steps of its own, are no more than an evaluation may be.
    let mut steps = stack(&[layer("many steps", "0.1 mm", "0.1 W/(m.K)")], "10000 s", &oven);
    let stage = |i: u32| json!({"duration": "1 s", "top": {"temperature": if i.is_multiple_of(2) { "20 degC" } else { "180 degC" }}, "bottom": {}});
    steps["stages"] = (0..10_000).map(stage).collect();
    assert!(reply(&steps).is_ok());

    // Many cells in many steps.
    let some: Vec<Value> = (0..20).map(|_| layer("too much of both", "1 mm", "0.1 W/(m.K)")).collect();
    let mut both = stack(&some, "10000 s", &oven);
    both["stages"] = steps["stages"].clone();
    both["tolerance"] = json!("0.001 K");
    assert_eq!(reply(&both), Err(Code::TooLong));
}

/// Cotton chars and burns from some 300 degC (common practice, no source): what gets that hot is said, and nothing else.
#[test]
fn what_burns_is_said() {
    for (top, bottom, said) in [(295.0, 20.0, false), (305.0, 20.0, true), (20.0, 305.0, true), (160.0, 25.0, false)] {
        let face = |celsius: f64| json!({ "temperature": format!("{celsius} degC") });
        let answer = calculate(
            "heat.layers",
            &json!({
                "layers": [{ "name": "cloth", "thickness": "1 mm", "conductivity": "0.1 W/(m.K)", "density": "100 kg/m3", "specific_heat": "1000 J/(kg.K)" }],
                "start": "20 degC", "stages": [{ "duration": "100 s", "top": face(top), "bottom": face(bottom) }], "report_at": ["100 s"],
            }),
        )
        .unwrap();
        assert_eq!(noted(&answer, "beyond_the_model"), said, "{top} {bottom}");
    }
}

/// A wait at rest before the heat comes on changes nothing, though the moment asked for is then a small part of the whole: a half-space
/// in hot air, Carslaw and Jaeger 1959, section 2.7.
#[test]
fn a_moment_after_a_change_is_as_exact_as_one_after_the_begin() {
    let (conductivity, heat, transfer): (f64, f64, f64) = (0.05, 4e5, 200.0);
    let hot = json!({ "air": "200 degC", "transfer": { "value": transfer, "unit": "W/(m2.K)" } });
    let (cold, below) = (json!({ "air": "25 degC", "transfer": "5 W/(m2.K)" }), json!({ "temperature": "25 degC" }));
    for wait in [0.0, 30.0, 600.0] {
        for after in [0.02, 0.1, 1.0] {
            let mut stages = vec![json!({ "duration": "5 s", "top": hot, "bottom": below })];
            if wait > 0.0 {
                stages.insert(0, json!({ "duration": { "value": wait, "unit": "s" }, "top": cold, "bottom": below }));
            }
            let request = json!({
                "layers": [{ "name": "felt", "thickness": "20 mm", "conductivity": { "value": conductivity, "unit": "W/(m.K)" },
                    "density": "400 kg/m3", "specific_heat": "1000 J/(kg.K)" }],
                "start": "25 degC", "stages": stages, "report_at": [{ "value": wait + after, "unit": "s" }],
            });
            let answer = calculate("heat.layers", &request).unwrap();
            // h sqrt(a t) / k, a = k / (rho c).
            let wanted = 25.0 + 175.0 * (1.0 - scaled_erfc(transfer * (after / (conductivity * heat)).sqrt()));
            near(at(&answer, "/top/0/value"), wanted, PROMISE, (wait, after));
        }
    }
}

/// The latent heat of a film that dries is that of the water which left, each part of it at the temperature that the surface had then; and
/// what a face takes in is what the air gives it, transfer times how much hotter the air is, by Simpson's rule.
#[test]
fn heat_of_a_drying_film_is_what_air_gives_and_water_takes() {
    for (thickness, water, until) in [("30 um", 20.0, 40.0), ("0.2 mm", 150.0, 60.0)] {
        let moments: Vec<Value> =
            (0..=1_200).map(|step| json!({ "value": until * f64::from(step) / 1_200.0, "unit": "s" })).collect();
        let request = json!({
            "layers": [
                { "name": "ink", "thickness": thickness, "conductivity": "0.5 W/(m.K)", "density": "1050 kg/m3", "specific_heat": "3600 J/(kg.K)" },
                { "name": "jersey", "thickness": "0.55 mm", "conductivity": "0.055 W/(m.K)", "density": "327 kg/m3", "specific_heat": "1340 J/(kg.K)" },
            ],
            "start": "25 degC", "film_water": { "value": water, "unit": "g/m2" },
            "stages": [{ "duration": { "value": until, "unit": "s" }, "top": { "air": "160 degC", "transfer": "40 W/(m2.K)", "humidity_ratio": 0.01 },
                "bottom": { "air": "160 degC", "transfer": "15 W/(m2.K)" } }],
            "report_at": moments,
        });
        let answer = calculate("heat.layers", &request).unwrap();
        let of = |name: &str, index: usize| at(&answer, &format!("/{name}/{index}/value"));
        let wanted: f64 = (0..1_200)
            .map(|index| {
                let left = (of("film_water", index) - of("film_water", index + 1)) / 1e3;
                left * latent_heat(ZERO + 0.5 * (of("top", index) + of("top", index + 1)))
            })
            .sum();
        assert!(of("film_water", 1_200) < 0.5 * water);
        // 1 mJ/cm2 is 10 J/m2.
        relative(10.0 * at(&answer, "/energy/latent/value"), wanted, 2e-4, thickness);
        for (face, transfer) in [("top", 40.0), ("bottom", 15.0)] {
            let given: Vec<f64> = (0..=1_200).map(|index| transfer * (160.0 - of(face, index))).collect();
            let given = simpson(until / 1_200.0, &given);
            relative(10.0 * at(&answer, &format!("/energy/in_{face}/value")), given, 4e-5, (thickness, face));
        }
    }
}
