//! Kinetics: how much cure a temperature, and a log of temperatures, is worth.
//!
//! Between two readings the temperature is a straight line. What lies at or above a threshold is cut out of each line
//! exactly, and the rate is integrated over it by Gauss-Legendre quadrature.

use crate::quantity::{Dimensioned, MolarEnergy, Rules, Temperature, Time, reaches, units};
use crate::wire::request;

/// The molar gas constant in J/(mol K), exact by the SI of 2019.
pub(super) const R: f64 = crate::quantity::GAS_CONSTANT;

/// Positive nodes and their weights of the eight-point Gauss-Legendre rule (Abramowitz and Stegun, table 25.4).
const GAUSS: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];
/// Most that the logarithm of the rate changes over one panel, on average. At 2 the rule is good to 1e-17; at 5, which
/// the cold end of a long line can come to, to 1e-11.
const PANEL_FOLDS: f64 = 2.0;
/// Widest panel, in kelvin: far from the pole of 1/T at absolute zero.
const PANEL_KELVIN: f64 = 50.0;
/// More panels than any line within the ranges of the wire takes.
const MOST_PANELS: f64 = 1000.0;

// No usual range: ten thousand odd readings shall not make ten thousand cautions. `cure.assess` says it once.
const CLOCK: Rules = Rules::range(units::S, 0.0, 604_800.0);
const PROBE: Rules = Rules::range(units::DEG_C, -40.0, 1500.0);

request! {
    /// One reading of a log.
    pub struct LogReading {
        /// When it was read, on the logger's clock.
        time "Logger time": Time where CLOCK,
        /// What the probe read.
        temperature "Probe reading": Temperature where PROBE,
    }
}

/// The rate of a cure at one temperature over that at another: `exp(-(Ea/R) (1/T - 1/T_ref))`, T in kelvin.
///
/// 1 at the reference, above 1 where it is hotter.
#[must_use]
pub fn rate(energy: MolarEnergy, at: Temperature, reference: Temperature) -> f64 {
    libm::exp(ln_rate(energy.si(), at.si(), reference.si()))
}

/// The logarithm of [`rate`], in J/mol and kelvin.
fn ln_rate(energy: f64, at: f64, reference: f64) -> f64 {
    energy / R * ((at - reference) / (at * reference))
}

/// The time that a log, straight between its readings, is at or above `from`; the points of crossing are exact.
///
/// The readings must stand in order of time.
#[must_use]
pub fn time_at_or_above(log: &[LogReading], from: Temperature) -> Time {
    Time::from_si(hot_parts(log, from).fold(0.0, |sum, part| sum + part.seconds))
}

/// The hold at `reference` that a log is worth: the integral of [`rate`] over the time at or above `from`.
///
/// Good to 1e-9 of itself, and in practice to the rounding of its sums. The readings must stand in order of time.
#[must_use]
pub fn equivalent_time(log: &[LogReading], from: Temperature, energy: MolarEnergy, reference: Temperature) -> Time {
    integral(log, from, |kelvin| ln_rate(energy.si(), kelvin, reference.si()))
}

/// Whether two values are one, the rounding of unit conversions aside.
pub(super) fn same<Q: Dimensioned>(a: Q, b: Q) -> bool {
    reaches(a, b) && reaches(b, a)
}

/// The part of a straight line that is at or above a threshold: how long it lasts, and between which temperatures.
struct HotPart {
    seconds: f64,
    foot: f64,
    top: f64,
}

fn hot_parts(log: &[LogReading], from: Temperature) -> impl Iterator<Item = HotPart> {
    // 320 degF is at 160 degC, whichever way the conversion rounded.
    let kelvin = move |reading: &LogReading| {
        if same(reading.temperature, from) { from.si() } else { reading.temperature.si() }
    };
    log.iter().zip(log.iter().skip(1)).filter_map(move |(a, b)| {
        let (foot, top) = (kelvin(a).min(kelvin(b)), kelvin(a).max(kelvin(b)));
        let seconds = (b.time - a.time).si();
        let from = from.si();
        if top < from {
            None
        } else if foot < from {
            Some(HotPart { seconds: seconds * ((top - from) / (top - foot)), foot: from, top })
        } else {
            Some(HotPart { seconds, foot, top })
        }
    })
}

/// The integral over time of exp(ln_rate(kelvin)), at or above `from`.
fn integral(log: &[LogReading], from: Temperature, ln_rate: impl Fn(f64) -> f64) -> Time {
    let worth = |part: HotPart| part.seconds * mean_rate(part.foot, part.top, &ln_rate);
    Time::from_si(hot_parts(log, from).fold(0.0, |sum, part| sum + worth(part)))
}

/// In how many panels a straight line between two temperatures is looked at.
fn panels(foot: f64, top: f64, ln_rate: impl Fn(f64) -> f64) -> f64 {
    let folds = (ln_rate(top) - ln_rate(foot)).abs();
    (folds / PANEL_FOLDS).max((top - foot) / PANEL_KELVIN).ceil().clamp(1.0, MOST_PANELS)
}

/// The work of [`equivalent_time`], in rows: eight rates a panel.
pub(super) fn work(log: &[LogReading], from: Temperature, energy: MolarEnergy, reference: Temperature) -> f64 {
    let rate = |kelvin: f64| ln_rate(energy.si(), kelvin, reference.si());
    16.0 * hot_parts(log, from).fold(0.0, |sum, part| sum + panels(part.foot, part.top, rate))
}

/// The mean of exp(ln_rate) over a straight line between two temperatures: eight Gauss-Legendre points a panel, in as
/// many equal panels as the line's height and the rate's change over it ask for.
fn mean_rate(foot: f64, top: f64, ln_rate: impl Fn(f64) -> f64) -> f64 {
    let panels = panels(foot, top, &ln_rate);
    let half = (top - foot) / (2.0 * panels);
    let panel = |index: u32| {
        let middle = foot + half * (2.0 * f64::from(index) + 1.0);
        let pair = |x: f64| libm::exp(ln_rate(middle - half * x)) + libm::exp(ln_rate(middle + half * x));
        GAUSS.iter().fold(0.0, |sum, (x, weight)| sum + weight * pair(*x))
    };
    (0..panels as u32).fold(0.0, |sum, index| sum + panel(index)) / (2.0 * panels)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    const LETHAL_RATES: &str = include_str!("../../../tests/published/lethal_rate_z10.csv");
    const GEANKOPLIS: &str = include_str!("../../../tests/published/f0_profile_geankoplis.csv");

    /// The rows of a table of numbers, without the source line and the column heads.
    fn rows(text: &str) -> Vec<Vec<f64>> {
        let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
        lines.map(|line| line.split(',').map(|cell| cell.parse().unwrap()).collect()).collect()
    }

    fn celsius(value: f64) -> Temperature {
        units::DEG_C.of(value)
    }

    fn log(readings: &[(f64, f64)]) -> Vec<LogReading> {
        let reading = |(time, temperature): &(f64, f64)| {
            LogReading::new().time(units::S.of(*time)).temperature(celsius(*temperature))
        };
        readings.iter().map(reading).collect()
    }

    /// The thermobacteriologist's rate 10^((T - T_ref) / z), as a logarithm.
    fn log_linear(reference: Temperature, z: f64) -> impl Fn(f64) -> f64 {
        move |kelvin| core::f64::consts::LN_10 * (kelvin - reference.si()) / z
    }

    /// A second at one temperature is worth its lethal rate: the table to its last printed digit.
    #[test]
    fn lethal_rates_of_the_table() {
        for row in rows(LETHAL_RATES) {
            for (reference, printed) in [(121.1, row[1]), (121.11, row[2])] {
                let second = log(&[(0.0, row[0]), (1.0, row[0])]);
                let worth = integral(&second, celsius(0.0), log_linear(celsius(reference), 10.0));
                assert!((worth.si() - printed).abs() <= 0.51e-8, "{row:?}: {worth:?}");
            }
        }
        // The published anchor: L = 0.077 at 110 degC, reference 121.11 degC.
        let worth = integral(&log(&[(0.0, 110.0), (1.0, 110.0)]), celsius(0.0), log_linear(celsius(121.11), 10.0));
        assert!((worth.si() - 0.077).abs() <= 0.0005);
    }

    /// Geankoplis, example 9.12-2. The book's 2.50 min is the trapezoid on the rates, which reads a convex rate too high.
    /// Ours is the integral of the rate of a straight temperature: 2.384516546942932 min by scipy.integrate.quad to
    /// 1e-13 on each of the six lines.
    #[test]
    fn lethality_of_the_geankoplis_profile() {
        let profile: Vec<LogReading> = rows(GEANKOPLIS)
            .iter()
            .map(|row| LogReading::new().time(units::MIN.of(row[0])).temperature(units::DEG_F.of(row[1])))
            .collect();
        let kernel = log_linear(units::DEG_F.of(250.0), 10.0);
        let trapezoid: f64 = profile
            .windows(2)
            .map(|pair| {
                let rate = |reading: &LogReading| libm::exp(kernel(reading.temperature.si()));
                units::MIN.value(pair[1].time - pair[0].time) * (rate(&pair[0]) + rate(&pair[1])) / 2.0
            })
            .sum();
        assert!((trapezoid - 2.50273).abs() <= 0.5e-5, "the book's rule on the same rates: {trapezoid}");
        let exact = units::MIN.value(integral(&profile, celsius(0.0), kernel));
        assert_relative_eq!(exact, 2.384_516_546_942_932, epsilon = 0.0, max_relative = 1e-12);
    }

    /// The panel rule at its worst: the closed form of a log-linear rate, (k1 - k0) / ln(k1/k0), up to 450 e-folds, the
    /// most that the ranges of the wire allow.
    #[test]
    fn the_mean_rate_meets_its_closed_form() {
        for (height, z) in [(1e-3, 10.0), (0.1, 200.0), (49.9, 57.6), (300.0, 25.0), (1540.0, 7.9), (1540.0, 500.0)] {
            let kernel = log_linear(celsius(200.0), z);
            let top = celsius(200.0).si();
            let folds = core::f64::consts::LN_10 * height / z;
            assert_relative_eq!(
                mean_rate(top - height, top, kernel),
                -libm::expm1(-folds) / folds,
                epsilon = 0.0,
                max_relative = 1e-12
            );
        }
    }

    #[test]
    fn crossing_points_are_exact() {
        // Up from 100 to 200 degC in 10 s, down in 20 s: above 160 degC for 40 % of each.
        let up_and_down = log(&[(5.0, 100.0), (15.0, 200.0), (35.0, 100.0)]);
        assert_relative_eq!(
            time_at_or_above(&up_and_down, celsius(160.0)).si(),
            12.0,
            epsilon = 0.0,
            max_relative = 1e-13
        );
        // A peak that touches the temperature is at it for no time; a plateau at it counts in full, whatever the unit.
        assert!(time_at_or_above(&up_and_down, celsius(200.0)).si().abs() < 1e-13);
        let plateau: Vec<LogReading> = [(0.0, 320.0), (7.0, 320.0)]
            .map(|(time, f)| LogReading::new().time(units::S.of(time)).temperature(units::DEG_F.of(f)))
            .into();
        assert_relative_eq!(time_at_or_above(&plateau, celsius(160.0)).si(), 7.0, epsilon = 0.0);
        let nothing = time_at_or_above(&log(&[(0.0, 20.0), (9.0, 30.0)]), celsius(160.0)).si();
        assert_eq!(nothing.to_bits(), 0.0_f64.to_bits());
    }

    fn readings() -> impl Strategy<Value = Vec<(f64, f64)>> {
        prop::collection::vec((0.1..20.0_f64, 20.0..230.0_f64), 2..20).prop_map(|steps| {
            let mut clock = 0.0;
            let at = |(step, temperature)| {
                clock += step;
                (clock, temperature)
            };
            steps.into_iter().map(at).collect()
        })
    }

    fn hold(readings: &[(f64, f64)], gel: f64, energy: f64) -> f64 {
        equivalent_time(&log(readings), celsius(gel), units::KJ_PER_MOL.of(energy), celsius(160.0)).si()
    }

    /// What a second at this temperature is worth.
    fn second_at(temperature: f64, energy: f64) -> f64 {
        rate(units::KJ_PER_MOL.of(energy), celsius(temperature), celsius(160.0))
    }

    proptest! {
        #[test]
        fn hotter_is_never_worth_less(
            cool in readings(), rise in 0.0..50.0_f64, gel in 80.0..130.0_f64, energy in 1.0..1000.0_f64,
        ) {
            let hot: Vec<_> = cool.iter().map(|(time, temperature)| (*time, temperature + rise)).collect();
            prop_assert!(hold(&hot, gel, energy) >= hold(&cool, gel, energy) * (1.0 - 1e-12));
            let above = |readings: &[(f64, f64)]| time_at_or_above(&log(readings), celsius(160.0)).si();
            prop_assert!(above(&hot) >= above(&cool) * (1.0 - 1e-12));
        }

        #[test]
        fn a_reading_on_the_line_changes_nothing(
            whole in readings(), cut in 0..20_usize, share in 0.05..0.95_f64, gel in 80.0..130.0_f64, energy in 1.0..1000.0_f64,
        ) {
            let before = cut.rem_euclid(whole.len().saturating_sub(1));
            let after = before.saturating_add(1);
            let ((t0, c0), (t1, c1)) = (whole[before], whole[after]);
            let mut split = whole.clone();
            split.insert(after, (t0 + share * (t1 - t0), c0 + share * (c1 - c0)));
            let (one, two) = (hold(&whole, gel, energy), hold(&split, gel, energy));
            // Where the log only grazes the gel temperature a rounding of the joint moves the crossing: to a second there.
            prop_assert!((one - two).abs() <= 1e-12 * one.max(second_at(gel, energy)), "{one} {two}");
        }

        #[test]
        fn a_cold_head_and_tail_change_nothing(
            whole in readings(), gel in 80.0..130.0_f64, energy in 1.0..1000.0_f64,
        ) {
            let end = whole.last().unwrap().0;
            let middle = whole.iter().map(|(time, temperature)| (time + 100.0, *temperature));
            // Down to the gel temperature in no time to speak of, then cold.
            let framed: Vec<_> = [(0.0, 20.0), (100.0, 79.0)].into_iter()
                .chain([(100.0, whole[0].1)])
                .chain(middle)
                .chain([(end + 100.0, 79.0), (end + 200.0, 20.0)])
                .collect();
            let plain: Vec<_> = core::iter::once((0.0, whole[0].1)).chain(whole.iter().copied()).collect();
            let (one, two) = (hold(&plain, gel, energy), hold(&framed, gel, energy));
            prop_assert!((one - two).abs() <= 1e-11 * one.max(1e-3 * second_at(gel, energy)), "{one} {two}");
        }

        #[test]
        fn a_flat_log_is_worth_its_time_at_its_rate(
            seconds in 1.0..900.0_f64, temperature in 100.0..230.0_f64, energy in 1.0..1000.0_f64,
        ) {
            let worth = hold(&[(0.0, temperature), (seconds, temperature)], 80.0, energy);
            let wanted = seconds * second_at(temperature, energy);
            prop_assert!((worth / wanted - 1.0).abs() < 1e-13);
        }
    }
}
