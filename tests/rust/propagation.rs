//! How doubts are carried, against published examples: their measurement models through the code that the operator runs.

use floodbar::propagation::{COVERAGE, Combined, Draws, Spread, Uncertain, differences, draws, moments, shortest};
use floodbar_tests::budget::cases;
use floodbar_tests::compare::{near, relative};
use floodbar_tests::published::{Row, number, table};
use proptest::prelude::*;
use std::ops::ControlFlow::{Break, Continue};

/// Draws that the operator makes of a closed form.
const DRAWN: u32 = 200_000;

/// A normal input by its standard uncertainty.
fn normal(value: f64, standard: f64) -> Uncertain {
    Uncertain { value, standard, spread: Spread::Normal }
}

/// An even input between two ends: a half-width a has u = a / sqrt(3) (JCGM 100, 4.3.7).
fn even(least: f64, most: f64) -> Uncertain {
    Uncertain { value: 0.5 * (least + most), standard: 0.5 * (most - least) / 3f64.sqrt(), spread: Spread::Uniform }
}

/// One model by differences.
fn by_differences(inputs: &[Uncertain], model: impl Fn(&[f64]) -> f64) -> Combined {
    let middle: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    let mut all = differences(inputs, &[model(&middle)], &mut |index, value| {
        let mut at = middle.clone();
        at[index] = value;
        vec![model(&at)]
    });
    all.pop().unwrap()
}

/// By differences at a thousandth of the uncertainties, times a thousand: what derivatives give, to a millionth or so.
fn by_derivatives(inputs: &[Uncertain], model: impl Fn(&[f64]) -> f64) -> f64 {
    let small: Vec<_> = inputs.iter().map(|input| Uncertain { standard: 1e-3 * input.standard, ..*input }).collect();
    1e3 * by_differences(&small, model).standard
}

/// One model by draws, ascending.
fn by_draws(inputs: &[Uncertain], count: u32, model: impl Fn(&[f64]) -> f64) -> Vec<f64> {
    let mut drawn = draws(inputs, count, 1, &|_, _| true, &mut |values, found| {
        found[0] = model(values);
        Continue(())
    });
    drawn.outputs.pop().unwrap()
}

/// The numbers of a cell such as `1.2340; 0.0539; 1.1285 to 1.3395`.
fn parts(row: &Row, column: &str) -> Vec<f64> {
    let text = row[column].split_once(" (").map_or(row[column].as_str(), |(before, _)| before);
    text.split([';', ' ']).filter_map(|part| part.trim_matches(['(', ')', ',']).parse().ok()).collect()
}

/// The row whose column starts so.
fn row<'a>(rows: &'a [Row], column: &str, starts: &str) -> &'a Row {
    rows.iter().find(|row| row[column].starts_with(starts)).unwrap_or_else(|| panic!("no {starts}"))
}

/// Holds an interval of draws: each end within so much.
fn holds(drawn: &[f64], wanted: [f64; 2], within: f64, what: &str) {
    let (least, most) = shortest(drawn).unwrap();
    near(least, wanted[0], within, what);
    near(most, wanted[1], within, what);
}

// ---- JCGM 100 (GUM), annex H ----

/// H.1, an end gauge: `l = l_s + d - l_s (d_alpha theta + alpha_s d_theta)`. The book's u_c is of first order; what it adds of second
/// order (H.1.7) draws see by themselves. The arcsine part of theta is drawn as a normal one: its variance alone counts.
#[test]
fn gum_h1_end_gauge() {
    let rows = table("gum_h1");
    let cell = |item: &str| row(&rows, "item", item)["value"].clone();
    let first = |item: &str| cell(item).split(';').next().unwrap().trim().parse::<f64>().unwrap();
    let half_width = |item: &str| {
        let text = cell(item);
        let after = text.split("+-").last().unwrap();
        after.split(';').next().unwrap().trim().parse::<f64>().unwrap()
    };
    let theta: Vec<f64> =
        cell("theta").split(';').map(|part| part.rsplit([' ', '-']).next().unwrap().parse().unwrap()).collect();
    let (alpha, d_alpha, d_theta) = (half_width("alpha_s"), half_width("d_alpha"), half_width("d_theta"));
    let inputs = [
        normal(first("l_s nm"), first("u(l_s)")),
        normal(first("d nm"), first("u(d) combined")),
        even(-d_alpha, d_alpha),
        // Its mean has u 0.2; half a degree about it, arcsine, has 0.5 / sqrt(2).
        normal(-theta[0], theta[1].hypot(theta[2] / 2f64.sqrt())),
        even(11.5e-6 - alpha, 11.5e-6 + alpha),
        even(-d_theta, d_theta),
    ];
    let model = |x: &[f64]| x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5]);
    let middle: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    near(1e-6 * model(&middle), first("l mm"), 0.5e-6, "length, printed to the nanometre");
    let combined = by_differences(&inputs, model);
    // Printed as 31.7, of parts rounded to 25, 5.8, 3.9, 6.7, 2.9 and 16.6.
    near(combined.standard, parts(row(&rows, "item", "u_c nm"), "value")[0], 0.1, &combined);
    assert_eq!(combined.contributor, Some(0), "the standard itself");
    // Of second order: printed as 34.
    let (_, standard) = moments(&by_draws(&inputs, DRAWN, model));
    near(standard, first("u_c with 2nd order"), 0.5, "draws");
    assert!(standard > combined.standard + 1.5);
}

/// H.2, resistance and reactance of five observed triples of V, I, phi, whose means are correlated. A request cannot say so: what the
/// operator gives are the rows that ignore it. With the correlations of the table they become what the five R, X and Z of the
/// triples scatter (H.2.4, approach 2), which shows that nothing else is missing.
#[test]
fn gum_h2_impedance() {
    let data = table("gum_h2");
    let columns = ["V_V", "I_mA", "phi_rad"].map(|name| data.iter().map(|row| number(row, name)).collect::<Vec<_>>());
    let mean = |list: &[f64]| list.iter().sum::<f64>() / list.len() as f64;
    let of_mean = |list: &[f64]| moments(list).1 / (list.len() as f64).sqrt();
    let correlation = |one: &[f64], other: &[f64]| {
        let (a, b) = (mean(one), mean(other));
        let sum: f64 = one.iter().zip(other).map(|(x, y)| (x - a) * (y - b)).sum();
        sum / (one.len() as f64 - 1.0) / (moments(one).1 * moments(other).1)
    };
    let results = table("gum_h2_results");
    let recomputed = |item: &str| parts(row(&results, "item", item), "recomputed");
    let inputs = [0, 1, 2].map(|i| normal(mean(&columns[i]), of_mean(&columns[i])));
    for (input, item) in inputs.iter().zip(["mean V", "mean I", "mean phi"]) {
        let row = recomputed(item);
        relative(input.value, row[0], 1e-9, item);
        relative(input.standard, row[1], 5e-6, item);
    }
    for (pair, item) in [((0, 2), "r(V,phi)"), ((1, 2), "r(I,phi)")] {
        near(correlation(&columns[pair.0], &columns[pair.1]), recomputed(item)[0], 1e-6, item);
    }
    // I in mA, so that V / I is in kilohms.
    type Model = fn(&[f64]) -> f64;
    let models: [(&str, Model); 3] = [
        ("R", |x| 1e3 * x[0] / x[1] * x[2].cos()),
        ("X", |x| 1e3 * x[0] / x[1] * x[2].sin()),
        ("Z", |x| 1e3 * x[0] / x[1]),
    ];
    for (name, model) in models {
        let combined = by_differences(&inputs, model);
        relative(combined.standard, recomputed(&format!("u({name}) with correlations ignored"))[0], 1e-5, name);
        // What each input adds, with its sign.
        let middle: Vec<f64> = inputs.iter().map(|input| input.value).collect();
        let parts: Vec<f64> = (0..3)
            .map(|i| {
                let end = |sign: f64| {
                    let mut at = middle.clone();
                    at[i] += sign * inputs[i].standard;
                    model(&at)
                };
                0.5 * (end(1.0) - end(-1.0))
            })
            .collect();
        relative(parts.iter().map(|part| part * part).sum::<f64>().sqrt(), combined.standard, 1e-12, name);
        let correlated: f64 = [(0, 1), (0, 2), (1, 2)]
            .map(|(i, j)| 2.0 * correlation(&columns[i], &columns[j]) * parts[i] * parts[j])
            .iter()
            .sum();
        let with_correlation = (combined.standard * combined.standard + correlated).sqrt();
        let triples: Vec<f64> = (0..5).map(|k| model(&[columns[0][k], columns[1][k], columns[2][k]])).collect();
        // To first order; R is a small difference of large parts.
        relative(with_correlation, of_mean(&triples), 5e-3, name);
    }
    for (item, model) in [("X (ohm)", models[1].1), ("Z (ohm)", models[2].1)] {
        near(model(&inputs.map(|input| input.value)), recomputed(item)[0], 6e-5, item);
    }
}

/// H.3, a thermometer calibrated by a straight line. Intercept and slope are correlated; but both are sums over the eleven corrections
/// observed, which are not, and so the operator that is given those finds what the book finds. Given the two as if they were
/// independent it does not: the difference is the covariance.
#[test]
fn gum_h3_thermometer() {
    let rows = table("gum_h3");
    let data = row(&rows, "item", "data");
    let list = |column: &str| data[column].split(';').map(|part| part.parse().unwrap()).collect::<Vec<f64>>();
    let (theta, corrections) = (list("published").iter().map(|t| t - 20.0).collect::<Vec<_>>(), list("recomputed"));
    let n = theta.len() as f64;
    let (sum, squares): (f64, f64) = (theta.iter().sum(), theta.iter().map(|t| t * t).sum());
    let determinant = n * squares - sum * sum;
    // Least squares: y1 and y2 of the corrections.
    let line = |b: &[f64]| {
        let (total, cross): (f64, f64) = (b.iter().sum(), b.iter().zip(&theta).map(|(b, t)| b * t).sum());
        [(total * squares - cross * sum) / determinant, (n * cross - total * sum) / determinant]
    };
    let [y1, y2] = line(&corrections);
    let left: f64 = corrections.iter().zip(&theta).map(|(b, t)| (b - y1 - y2 * t).powi(2)).sum();
    let recomputed = |item: &str| parts(row(&rows, "item", item), "recomputed");
    relative(left, recomputed("sum of squared residuals")[0], 1e-9, "residuals");
    let observed: Vec<_> = corrections.iter().map(|b| normal(*b, (left / (n - 2.0)).sqrt())).collect();
    let found = [("y1", 0.0, 1.0), ("y2", 1.0, 0.0), ("b(30 C)", 10.0, 1.0)].map(|(item, slope, intercept)| {
        let wanted = recomputed(item);
        let value = intercept * y1 + slope * y2;
        relative(value, wanted[0], 1e-6, item);
        let combined = by_differences(&observed, |b| {
            let [y1, y2] = line(b);
            intercept * y1 + slope * y2
        });
        relative(combined.standard, wanted[1], 2e-5, item);
        combined.standard
    });
    let apart = by_differences(&[normal(y1, found[0]), normal(y2, found[1])], |y| y[0] + 10.0 * y[1]).standard;
    // r(y1, y2) = -sum t / sqrt(n sum t^2), printed as -0.930.
    let r = -sum / (n * squares).sqrt();
    near(r, -0.930, 5e-4, "correlation");
    relative(apart * apart + 20.0 * r * found[0] * found[1], found[2] * found[2], 1e-9, "covariance");
    assert!(apart > 1.7 * found[2]);
}

// ---- NIST TN 1900, and other published examples ----

/// Reads `name value u0.5` cells of TN 1900 into normal inputs, in the order of the names.
fn inputs_of(row: &Row, names: &[&str]) -> Vec<Uncertain> {
    let find = |name: &&str| {
        let text = row["input"]
            .split(';')
            .find(|part| part.trim().starts_with(&format!("{name} ")))
            .unwrap_or_else(|| panic!("{name}: {row:?}"));
        let numbers: Vec<f64> =
            text.split_whitespace().filter_map(|word| word.trim_start_matches('u').parse().ok()).collect();
        normal(numbers[0], numbers[1])
    };
    // Data of E13 stand in the second column, as those of the others.
    names.iter().map(find).collect()
}

/// E3: `mu_m = mu_c t_m (rho_b - rho_m) / (t_c (rho_b - rho_c))`. The interval printed has 2.5 % on both sides.
#[test]
fn nist_e3_viscometer() {
    let rows = table("nist_tn1900_examples");
    let found = row(&rows, "example", "E3");
    let inputs = inputs_of(found, &["mu_c", "t_m", "rho_m", "rho_c", "t_c", "rho_b"]);
    let model = |x: &[f64]| x[0] * x[1] * (x[5] - x[2]) / (x[4] * (x[5] - x[3]));
    let combined = by_differences(&inputs, model);
    // GUM 5.69 with u 1.11, approximate: the row allows 0.1.
    near(model(&inputs.iter().map(|input| input.value).collect::<Vec<_>>()), 5.69, 0.01, found);
    near(combined.standard, 1.11, 0.1, &combined);
    assert_eq!(combined.contributor, Some(4), "t_c, 15 %");
    // Monte Carlo 5.82, u 1.11, (4.05, 8.39); t_c has 15 %, so the mean is higher. Sampling: 1.11 / sqrt(200 000) = 0.0025 of the
    // mean; an end of the tail about 0.02.
    let drawn = by_draws(&inputs, DRAWN, model);
    let (mean, standard) = moments(&drawn);
    near(mean, 5.82, 0.0125, "mean");
    near(standard, 1.11, 0.02, "standard deviation");
    let at = |share: f64| drawn[(share * f64::from(DRAWN)) as usize];
    near(at(0.025), 4.05, 0.02, "2.5 %");
    near(at(0.975), 8.39, 0.06, "97.5 %");
    let (least, most) = shortest(&drawn).unwrap();
    assert!(most - least < 8.39 - 4.05 && least < 4.05, "{least} {most}");
}

/// E13: `(L1 - L0) / (L0 (T1 - T0))`. The printed inputs have three degrees of freedom; their standard uncertainties are what counts
/// for u.
#[test]
fn nist_e13_thermal_expansion() {
    let rows = table("nist_tn1900_examples");
    let found = row(&rows, "example", "E13");
    let inputs = inputs_of(found, &["L0", "T0", "L1", "T1"]);
    let model = |x: &[f64]| (x[2] - x[0]) / (x[0] * (x[3] - x[1]));
    let combined = by_differences(&inputs, model);
    near(model(&inputs.iter().map(|input| input.value).collect::<Vec<_>>()), 1.7266e-5, 1e-9, found);
    near(combined.standard, 1.76e-6, 0.005e-6, &combined);
    // Monte Carlo 1.7268e-5, u 1.74e-6 of other distributions of the same spread.
    let (mean, standard) = moments(&by_draws(&inputs, DRAWN, model));
    near(mean, 1.7268e-5, 5.0 * 1.76e-6 / f64::from(DRAWN).sqrt(), "mean");
    near(standard, 1.75e-6, 0.02e-6, "standard deviation");
}

/// The Stefan-Boltzmann constant of CODATA 2010: relative uncertainties from 5e-12 to 1e-6.
#[test]
fn nist_stefan_boltzmann() {
    let rows = table("nist_tn1900_examples");
    let found = row(&rows, "example", "Stefan-Boltzmann");
    let inputs = inputs_of(found, &["h", "R", "Rinf", "e", "alpha"]);
    let model = |x: &[f64]| {
        let (molar, light) = (1e-3_f64, 299_792_458_f64);
        32.0 * std::f64::consts::PI.powi(5) * x[0] * x[1].powi(4) * x[2].powi(4)
            / (15.0 * (x[3] * molar).powi(4) * light.powi(6) * x[4].powi(8))
    };
    let combined = by_differences(&inputs, model);
    near(model(&inputs.iter().map(|input| input.value).collect::<Vec<_>>()), 5.67037e-8, 5e-14, found);
    near(combined.standard, 2.05e-13, 5e-16, &combined);
    assert_eq!(combined.contributor, Some(1), "the molar gas constant");
    // 68 % between 5.67035e-8 and 5.67039e-8.
    let drawn = by_draws(&inputs, DRAWN, model);
    for (share, wanted) in [(0.16, 5.67035e-8), (0.84, 5.67039e-8)] {
        near(drawn[(share * f64::from(DRAWN)) as usize], wanted, 0.6e-13, "68 %");
    }
}

/// `ln x` of an even x between 0.1 and 1.1. The derivative gives 0.481, the exact standard deviation is 0.606; differences at both ends
/// of u see a part of the curve, `ln((x + u) / (x - u)) / 2` = 0.525. Draws see it all.
#[test]
fn logarithm_of_an_even_input() {
    let rows = table("uncertainty_more_examples");
    let found = row(&rows, "example", "National laboratory");
    let recomputed = parts(found, "recomputed");
    let [value, first_order, mean, standard] = [0, 1, 2, 3].map(|i| recomputed[i]);
    let inputs = [even(0.1, 1.1)];
    let (x, u) = (inputs[0].value, inputs[0].standard);
    let model = |x: &[f64]| x[0].ln();
    near(model(&[x]), value, 1e-6, found);
    relative(by_derivatives(&inputs, model), first_order, 2e-6, found);
    let combined = by_differences(&inputs, model);
    relative(combined.standard, 0.5 * ((x + u) / (x - u)).ln(), 1e-12, &combined);
    assert!(first_order < combined.standard && combined.standard < standard);
    let drawn = by_draws(&inputs, DRAWN, model);
    let (got_mean, got_standard) = moments(&drawn);
    near(got_mean, mean, 5.0 * standard / f64::from(DRAWN).sqrt(), "mean");
    near(got_standard, standard, 0.005, "standard deviation");
    // Chance per unit is e^y: 0.15 at the lower end, sqrt(0.05 x 0.95 / 200 000) of it is 0.0033.
    holds(&drawn, [recomputed[5], recomputed[6]], 0.015, "shortest interval");
}

/// `X1 / X2 Yu`. Degrees of freedom are not carried: a half-width of 95 % is taken for that of a normal distribution, and so the table's
/// row on Welch and Satterthwaite has no counterpart here.
#[test]
fn ratio_times_a_third() {
    let rows = table("uncertainty_more_examples");
    let found = row(&rows, "example", "Ratio");
    let inputs: Vec<_> = found["inputs"]
        .split(';')
        .map(|part| {
            let numbers: Vec<f64> = part.split_whitespace().filter_map(|word| word.parse().ok()).collect();
            normal(numbers[0], numbers[1])
        })
        .collect();
    let model = |x: &[f64]| x[0] / x[1] * x[2];
    let combined = by_differences(&inputs, model);
    let wanted = parts(found, "recomputed");
    relative(model(&[0.1820, 0.1823, 0.6978]), wanted[0], 1e-6, found);
    relative(combined.standard, wanted[1], 2e-5, &combined);
    assert_eq!(combined.contributor, Some(0));
    relative(combined.share, (0.00093 / 0.1820 * wanted[0] / wanted[1]).powi(2), 1e-4, &combined);
}

// ---- JCGM 101 and 102 ----

/// 9.2, sums of four: differences give the "GUM framework" for whichever distribution, draws the interval.
#[test]
fn additive_models() {
    let one = |spread: Spread, standard: f64| Uncertain { value: 0.0, standard, spread };
    let model = |x: &[f64]| x.iter().sum::<f64>();
    let mut seen = 0;
    for row in table("jcgm101_9_2_additive") {
        let inputs: Vec<Uncertain> = match (row["inputs"].contains("N(0,1)"), row["inputs"].contains("sd 10")) {
            (true, _) => vec![one(Spread::Normal, 1.0); 4],
            (_, false) => vec![one(Spread::Uniform, 1.0); 4],
            (_, true) => [1.0, 1.0, 1.0, 10.0].map(|standard| one(Spread::Uniform, standard)).to_vec(),
        };
        let [standard, half_width] = <[f64; 2]>::try_from(parts(&row, "recomputed")).unwrap();
        let combined = by_differences(&inputs, model);
        relative(combined.standard, standard, 1e-9, &row);
        let drawn = by_draws(&inputs, DRAWN, model);
        let (mean, scatter) = moments(&drawn);
        // Five standard errors: of the mean sd / sqrt(n), of the standard deviation at most sd / sqrt(2 n).
        near(mean, 0.0, 5.0 * standard / f64::from(DRAWN).sqrt(), &row);
        relative(scatter, standard, 5.0 / (2.0 * f64::from(DRAWN)).sqrt(), &row);
        if row["method"].starts_with("GUM") {
            relative(COVERAGE * combined.standard, half_width, 1e-9, &row);
            seen += 1;
        } else {
            holds(&drawn, [-half_width, half_width], 0.1, "9.2.4: the tails of the wide one fall off steeply");
            // A normal distribution of that u would be held to 19.9.
            let (least, most) = shortest(&drawn).unwrap();
            assert!(most - least < 2.0 * 0.9 * COVERAGE * combined.standard);
            seen += 10;
        }
    }
    assert_eq!(seen, 13, "three rows of the framework, one of draws");
}

/// 9.3, a weight in air. The densities do nothing to first order, and four tenths of u.
#[test]
fn mass_calibration() {
    let rows = table("jcgm101_9_3_mass");
    let inputs =
        [normal(100_000.0, 0.050), normal(1.234, 0.020), even(1.10, 1.30), even(7000.0, 9000.0), even(7950.0, 8050.0)];
    // In mg; conventional density of air 1.2 kg/m3, nominal mass 100 g.
    let model = |x: &[f64]| (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100_000.0;
    let first_order = parts(row(&rows, "item", "GUM"), "recomputed_mg");
    let combined = by_differences(&inputs, model);
    near(model(&inputs.map(|input| input.value)), first_order[0], 1e-9, "estimate");
    relative(combined.standard, first_order[1], 2e-6, &combined);
    for (end, sign) in [(2, -1.0), (3, 1.0)] {
        near(first_order[0] + sign * COVERAGE * combined.standard, first_order[end], 6e-6, "95 %");
    }
    let wanted = parts(row(&rows, "item", "Monte Carlo"), "recomputed_mg");
    let cell = &row(&rows, "item", "Monte Carlo")["recomputed_mg"];
    let interval: Vec<f64> =
        cell.rsplit(';').next().unwrap().split_whitespace().filter_map(|word| word.parse().ok()).collect();
    let drawn = by_draws(&inputs, 1_000_000, model);
    let (mean, standard) = moments(&drawn);
    near(mean, wanted[0], 5.0 * wanted[1] / 1000.0, "mean");
    relative(standard, wanted[1], 0.005, "standard deviation");
    // Printed to 0.001 of 2e6 draws; ends of the shortest interval of 1e6 are known to 0.015 u.
    holds(&drawn, [interval[0], interval[1]], 0.004, "shortest interval");
    assert!(standard > 1.39 * combined.standard);
}

/// 9.4, the loss of a comparison: `X1^2 + X2^2` about x2 = 0, where X2 does nothing to first order and X1 at x1 = 0 neither. Correlation
/// does not show to first order, so those rows hold all the same; draws get it by a model of independent inputs.
#[test]
fn comparison_loss() {
    let u = 0.005;
    let rows = table("jcgm101_9_4_comparison_loss");
    for row in &rows {
        let (x1, r) = (number(row, "x1"), number(row, "r"));
        let inputs = [normal(x1, u), normal(0.0, u)];
        let wanted = parts(row, "recomputed_1e-6");
        match row["method"].as_str() {
            "GUM framework, first order" => {
                let combined = by_differences(&inputs, |x| x[0] * x[0] + x[1] * x[1]);
                // A square has no more than its first order in a central difference.
                near(1e6 * combined.standard, wanted[1], 1e-9, row);
                if x1 > 0.0 {
                    for (end, sign) in [(2, -1.0), (3, 1.0)] {
                        near(wanted[0] + sign * COVERAGE * 1e6 * combined.standard, wanted[end], 0.1, row);
                    }
                } else {
                    // It stands at its least: no doubt to first order, and both inputs are said to be uneven.
                    assert_eq!(
                        (combined.standard, combined.contributor, &combined.uneven[..]),
                        (0.0, None, &[0, 1][..])
                    );
                }
            }
            "Monte Carlo / analytic, shortest interval" => {
                let drawn = by_draws(&[normal(0.0, u), normal(0.0, u)], 1_000_000, |x| {
                    let (one, two) = (x1 + x[0], r * x[0] + (1.0 - r * r).sqrt() * x[1]);
                    1e6 * (one * one + two * two)
                });
                let (mean, standard) = moments(&drawn);
                near(mean, wanted[0], 5.0 * wanted[1] / 1000.0, row);
                relative(standard, wanted[1], 0.01, row);
                // As the table says: end points carry sampling noise, 6e-6.
                holds(&drawn, [wanted[2], wanted[3]], 6.0, "shortest interval");
            }
            other => assert_eq!(other, "GUM framework with second-order terms", "neither of ours"),
        }
    }
    // Without correlation at x1 = 0 it is exponential with mean 2 u^2 = 50: shortest from 0 to 50 ln 20.
    let drawn = by_draws(&[normal(0.0, u), normal(0.0, u)], DRAWN, |x| 1e6 * (x[0] * x[0] + x[1] * x[1]));
    let (mean, standard) = moments(&drawn);
    near(mean, 50.0, 0.6, "mean");
    near(standard, 50.0, 1.0, "standard deviation");
    holds(&drawn, [0.0, 50.0 * 20f64.ln()], 2.5, "exponential");
}

/// JCGM 102, Cartesian to polar. Near the origin the framework's derivatives give a phase of 10 rad; differences at both ends of u stay
/// within half a turn, jump by half a turn where the sign of the real part is in doubt, and call it uneven; draws are what the
/// supplement asks for.
#[test]
fn polar_coordinates() {
    let u = 0.010;
    let magnitude = |x: &[f64]| x[0].hypot(x[1]);
    let phase = |x: &[f64]| x[1].atan2(x[0]);
    for row in table("jcgm102_polar") {
        let (re, r) = (number(&row, "re"), number(&row, "r"));
        let inputs = [normal(re, u), normal(0.0, u)];
        let wanted = parts(&row, "recomputed");
        let [of_magnitude, of_phase] = [1, 3].map(|i| wanted[i]);
        if row["method"] == "GUM framework" {
            // Derivatives along each axis: correlation does not show, since each has one input alone.
            relative(by_derivatives(&inputs, magnitude), of_magnitude, 1e-4, &row);
            relative(by_derivatives(&inputs, phase), of_phase, 1e-4, &row);
            let (length, turn) = (by_differences(&inputs, magnitude), by_differences(&inputs, phase));
            near(length.standard, 0.5 * ((re + u).abs() - (re - u).abs()), 1e-15, &length);
            let jump = if re < u { std::f64::consts::FRAC_PI_2 } else { 0.0 };
            relative(turn.standard, (u / re).atan().hypot(jump), 1e-12, &turn);
            // The magnitude turns about an imaginary part of 0, and about a real part within its doubt.
            assert_eq!(length.uneven, if re < u { vec![0, 1] } else { vec![1] }, "{length:?}");
        } else {
            let correlated = |x: &[f64]| [x[0], r * (x[0] - re) + (1.0 - r * r).sqrt() * x[1]];
            let count = 1_000_000;
            for (model, [mean, standard], within) in [
                (&magnitude as &dyn Fn(&[f64]) -> f64, [wanted[0], of_magnitude], 1e-4),
                (&phase, [wanted[2], of_phase], 0.01),
            ] {
                let (got_mean, got_standard) = moments(&by_draws(&inputs, count, |x| model(&correlated(x))));
                near(got_mean, mean, within, &row);
                near(got_standard, standard, within, &row);
            }
        }
    }
}

// ---- properties ----

/// Inputs of a sum with weights.
fn weighted() -> impl Strategy<Value = Vec<(Uncertain, f64)>> {
    let one = (-100.0..100.0_f64, 0.01..10.0_f64, prop_oneof![0.1..10.0_f64, -10.0..-0.1_f64]);
    prop::collection::vec(one.prop_map(|(value, standard, weight)| (normal(value, standard), weight)), 1..12)
}

fn sum_of(weighted: &[(Uncertain, f64)]) -> (Vec<Uncertain>, impl Fn(&[f64]) -> f64 + use<>) {
    let (inputs, weights): (Vec<_>, Vec<f64>) = weighted.iter().copied().unzip();
    (inputs, move |x: &[f64]| x.iter().zip(&weights).map(|(x, weight)| x * weight).sum::<f64>())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(100, 4000), failure_persistence: None, ..ProptestConfig::default() })]

    /// Exact but for the roundings of differences of sums up to 1e4.
    #[test]
    fn the_doubt_of_a_linear_formula_is_exact(weighted in weighted()) {
        let (inputs, model) = sum_of(&weighted);
        let combined = by_differences(&inputs, model);
        let parts = || weighted.iter().map(|(input, weight)| (input.standard * weight).powi(2));
        let exact = parts().sum::<f64>().sqrt();
        prop_assert!((combined.standard / exact - 1.0).abs() < 1e-8, "{combined:?} {exact}");
        let largest = parts().fold(0.0, f64::max);
        prop_assert!((combined.share - largest / (exact * exact)).abs() < 1e-8);
        prop_assert!(combined.uneven.is_empty());
    }

    #[test]
    fn doubling_half_widths_doubles_the_doubt_of_a_linear_formula(weighted in weighted()) {
        let (inputs, model) = sum_of(&weighted);
        let doubled: Vec<_> = inputs.iter().map(|input| Uncertain { standard: 2.0 * input.standard, ..*input }).collect();
        let (once, twice) = (by_differences(&inputs, &model), by_differences(&doubled, &model));
        prop_assert!((twice.standard / once.standard - 2.0).abs() < 1e-8);
    }

    #[test]
    fn the_order_of_inputs_changes_nothing(weighted in weighted(), turn in 0_usize..12) {
        let mut turned = weighted.clone();
        turned.rotate_left(turn % weighted.len());
        let (inputs, model) = sum_of(&weighted);
        let (turned_inputs, turned_model) = sum_of(&turned);
        let (one, other) = (by_differences(&inputs, model), by_differences(&turned_inputs, turned_model));
        prop_assert!((one.standard / other.standard - 1.0).abs() < 1e-8);
        let name = |combined: &Combined, list: &[Uncertain]| list[combined.contributor.unwrap()];
        let (first, second) = (name(&one, &inputs), name(&other, &turned_inputs));
        prop_assert!(first == second || (one.share - other.share).abs() < 1e-8);
    }

    #[test]
    fn an_input_without_influence_contributes_nothing(weighted in weighted(), idle in 0.01..1e3_f64) {
        let (mut inputs, model) = sum_of(&weighted);
        let without = by_differences(&inputs, &model);
        let last = inputs.len();
        inputs.push(normal(5.0, idle));
        let with = by_differences(&inputs, |x| model(&x[..last]));
        prop_assert_eq!(without, with);
        let alone = by_differences(&[normal(5.0, idle)], |_| 7.0);
        prop_assert_eq!(alone, Combined::default());
    }

    /// It holds 95 % and is no longer than the interval that leaves as many out at both ends.
    #[test]
    fn the_shortest_interval_is_the_shortest(mut list in prop::collection::vec(-1e3..1e3_f64, 1..400)) {
        list.sort_unstable_by(f64::total_cmp);
        let (least, most) = shortest(&list).unwrap();
        let inside = list.iter().filter(|draw| (least..=most).contains(*draw)).count();
        prop_assert!(inside as f64 >= (0.95 * list.len() as f64).round());
        let out = list.len() - (0.95 * list.len() as f64).round() as usize;
        for below in 0..out {
            let (low, high) = (list[below], list[list.len() - out + below]);
            prop_assert!(most - least <= high - low, "{least} to {most}, {low} to {high}");
        }
    }
}

#[test]
fn draws_are_the_same_bits_twice() {
    let inputs = [normal(1.0, 0.3), even(-1.0, 2.0), normal(-5.0, 1e-3)];
    let once = || {
        let Draws { outputs, drawn, redrawn, .. } =
            draws(&inputs, 5_000, 2, &|index, value| index != 0 || value > 0.5, &mut |x, found| {
                found[0] = x[0] * x[1];
                found[1] = x[1] + x[2];
                Continue(())
            });
        let bits: Vec<Vec<u64>> = outputs.iter().map(|list| list.iter().map(|draw| draw.to_bits()).collect()).collect();
        (bits, drawn, redrawn)
    };
    let (bits, drawn, redrawn) = once();
    assert_eq!((&bits, drawn, redrawn), (&once().0, drawn, redrawn));
    assert_eq!(bits.iter().map(Vec::len).collect::<Vec<_>>(), [5_000, 5_000]);
    // A twentieth of the first falls below 0.5 (1.67 standard deviations, 4.8 %) and is drawn again.
    assert_eq!(drawn - redrawn, 15_000);
    near(redrawn as f64 / (5_000 + redrawn) as f64, 0.0478, 0.015, "drawn again");
    // More draws begin with the same.
    let few = by_draws(&inputs, 10, |x| x[0]);
    let many = by_draws(&inputs, 1_000, |x| x[0]);
    assert!(few.iter().all(|draw| many.contains(draw)));
}

/// Where it breaks off, that draw and those after it do not count; those before it are the same.
#[test]
fn draws_break_off() {
    let inputs = [normal(1.0, 0.3), even(-1.0, 2.0)];
    let mut left = 40;
    let drawn = draws(&inputs, 1_000, 1, &|_, _| true, &mut |x, found| {
        found[0] = x[0] * x[1];
        left -= 1;
        if left < 0 { Break(()) } else { Continue(()) }
    });
    assert_eq!((drawn.count, drawn.outputs[0].len(), left), (40, 40, -1));
    assert_eq!(drawn.outputs[0], by_draws(&inputs, 40, |x| x[0] * x[1]));
}

/// What is no number does not count, and no draw at all has no interval.
#[test]
fn draws_without_an_answer_do_not_count() {
    let drawn = by_draws(&[normal(0.0, 1.0)], 10_000, |x| if x[0] > 0.0 { x[0] } else { f64::NAN });
    near(drawn.len() as f64, 5_000.0, 250.0, "five standard deviations of half");
    assert!(shortest(&[]).is_none() && shortest(&[3.0]) == Some((3.0, 3.0)) && moments(&[]).0.is_nan());
    // Half a normal distribution: mean sqrt(2 / pi), shortest from 0 to its 95 % point 1.96.
    let (mean, _) = moments(&drawn);
    near(mean, (2.0 / std::f64::consts::PI).sqrt(), 0.045, "mean");
    holds(&drawn, [0.0, COVERAGE], 0.15, "half a normal distribution");
}
