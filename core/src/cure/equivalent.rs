//! The same cure at another temperature.

use super::kinetics::{R, rate, same};
use super::{ARRHENIUS, GAS_CONSTANT};
use crate::error::{Code, Error};
use crate::quantity::{
    Dimensioned, ENERGY, HEAT, MolarEnergy, Rank, Rules, Show, Temperature, Time, decimal, reaches, units,
};
use crate::wire::{At, Choice, Remarks, Say, answer, calculation, one_of, request};
use serde_json::Value;

/// Holds that can be compared: something, however short.
const COMPARED: Rules = Rules::range(units::S, 1e-3, 86_400.0).usual(1.0, 900.0);
/// Kelvin beyond the known pairs at which an answer is a guess.
const FAR: f64 = 30.0;
/// Kelvin between two pairs below which they say little about the activation energy.
const CLOSE: f64 = 5.0;

request! {
    /// A cure: so hot for so long.
    pub struct Held {
        /// The temperature of the film.
        temperature "Held at": Temperature where HEAT,
        /// How long the film is held at that temperature.
        hold "Held for": Time where COMPARED,
    }
}

request! {
    /// The other cure, by one of its two sides.
    pub struct HeldTo {
        /// The other temperature; or give the hold.
        temperature "Held at": Option<Temperature> where HEAT.rank(Rank::First),
        /// The other hold; or give the temperature.
        hold "Held for": Option<Time> where COMPARED.rank(Rank::First),
    }
    chooses(Choice::One(&[&["temperature"], &["hold"]]))
}

request! {
    /// A known cure, how it depends on temperature, and where it is wanted.
    pub struct EquivalentRequest {
        /// The known cure.
        from "Known cure": Held,
        /// Activation energy of the cure; or give a second cure.
        activation_energy "Activation energy": Option<MolarEnergy> where ENERGY.rank(Rank::First),
        /// Another cure known to be worth the same; or give the activation energy.
        second "Second known cure": Option<Held> where Rules::NONE.rank(Rank::First),
        /// The cure that is asked for: its temperature or its hold.
        to "Wanted cure": HeldTo,
    }
    chooses(Choice::One(&[&["activation_energy"], &["second"]]))
}

answer! {
    /// The same cure elsewhere.
    pub struct Equivalent {
        /// The hold at the temperature asked for.
        hold "Held for": Option<Time>,
        /// The temperature for the hold asked for.
        temperature "Held at": Option<Temperature>,
        /// The activation energy that was used.
        activation_energy "Activation energy": MolarEnergy,
    }
}

calculation! {
    pub const EQUIVALENT: EquivalentRequest => Equivalent = equivalent;
    id: "cure.equivalent",
    title: "The same cure at another temperature",
    question: "How long must it be at another temperature, or how hot for another time?",
    asked: ["How long at a lower temperature?", "How hot for a shorter time?"],
    headline: ["hold", "temperature"],
    formula: "hold' = hold x exp((Ea/R) (1/T' - 1/T)); 1/T' = 1/T + (R/Ea) ln(hold'/hold); from two pairs Ea = R ln(hold_1/hold_2) / (1/T_1 - 1/T_2); T in kelvin",
    sources: &[ARRHENIUS, GAS_CONSTANT],
    example: r#"{"from": {"temperature": "160 degC", "hold": "60 s"}, "second": {"temperature": "150 degC", "hold": "105 s"}, "to": {"temperature": "145 degC"}}"#,
}

/// The hold at `to` that is worth `hold` at `from`: `hold x exp((Ea/R) (1/T_to - 1/T_from))`, T in kelvin.
#[must_use]
pub fn equivalent_hold(from: &Held, to: Temperature, energy: MolarEnergy) -> Time {
    from.hold * rate(energy, from.temperature, to)
}

/// The temperature at which `hold` is worth `from`: `1/T = 1/T_from + (R/Ea) ln(hold/hold_from)`, T in kelvin.
///
/// None where the hold is so short that no temperature, however high, is enough.
#[must_use]
pub fn equivalent_temperature(from: &Held, hold: Time, energy: MolarEnergy) -> Option<Temperature> {
    let known = from.temperature.si();
    let stretch = 1.0 + known * (R / energy.si()) * libm::log(hold.si() / from.hold.si());
    (stretch > 0.0).then(|| Temperature::from_si(known / stretch))
}

/// The activation energy by which two cures are worth the same: `Ea = R ln(hold_1/hold_2) / (1/T_1 - 1/T_2)`, T in kelvin.
///
/// Negative where the hotter pair is the longer one. Not a number, or infinite, where both are at one temperature.
#[must_use]
pub fn activation_energy(first: &Held, second: &Held) -> MolarEnergy {
    let (one, two) = (first.temperature.si(), second.temperature.si());
    MolarEnergy::from_si(R * libm::log(first.hold.si() / second.hold.si()) * (one * two / (two - one)))
}

/// The hold or the temperature at which the cure is worth the same as the known one.
///
/// Good near the known pairs and for one reaction; temperatures -40 to 1500 degC, holds 1 ms to 1 day, activation
/// energies 1 to 1000 kJ/mol. A cure that melts or fuses rather than reacts has no such trade of time for heat.
///
/// # Errors
/// `missing_field` and `impossible` where not exactly one of a pair of alternatives is given; `impossible` for two
/// pairs at one temperature or whose hotter one is not the shorter one; `no_solution` where no temperature does it in
/// that time.
pub(crate) fn equivalent(request: &EquivalentRequest, remarks: &mut Remarks) -> Result<Equivalent, Error> {
    let (from, second, to) = (&request.from, &request.second, &request.to);
    let energy = match (request.activation_energy, second) {
        (Some(energy), None) => energy,
        (None, Some(second)) => energy_of_pairs(from, second, remarks)?,
        (Some(_), Some(_)) => {
            return Err(Error::new(
                Code::Impossible,
                "/second",
                "a second cure fixes the activation energy: give one or the other",
            ));
        }
        (None, None) => return Err(one_of::<EquivalentRequest>(At::ROOT)),
    };
    let (hold, temperature) = match (to.temperature, to.hold) {
        (Some(temperature), None) => (Some(equivalent_hold(from, temperature, energy)), None),
        (None, Some(hold)) => (None, Some(temperature_in_range(from, hold, energy, remarks)?)),
        (Some(_), Some(_)) => {
            return Err(Error::new(
                Code::Impossible,
                "/to",
                "temperature and hold follow from each other: give one of them",
            ));
        }
        (None, None) => return Err(one_of::<HeldTo>(At::ROOT.key("to"))),
    };
    if let Some(asked) = temperature.or(to.temperature) {
        caution_if_far(asked, from, second.as_ref(), remarks);
    }
    remarks.basis("gas_constant", GAS_CONSTANT);
    remarks.caution(
        "heat_limits_not_checked",
        "/to",
        "whether ink and cloth bear that heat is not looked at here: stay below never_above of both. Heat and fumes: the ink maker's sheet and local rules on exhaust come first, and a wash test proves the cure",
    );
    Ok(Equivalent { hold, temperature, activation_energy: energy })
}

fn energy_of_pairs(from: &Held, second: &Held, remarks: &mut Remarks) -> Result<MolarEnergy, Error> {
    let energy = activation_energy(from, second);
    let kj_per_mol = units::KJ_PER_MOL.value(energy);
    let why = if same(from.temperature, second.temperature) {
        "both pairs are at one temperature: they say nothing about another"
    } else if kj_per_mol <= 0.0 {
        "the hotter pair must be the shorter one: these two are not worth the same"
    } else if !ENERGY.range.holds(energy.si()) {
        "no cure depends on temperature as these two pairs say: check both"
    } else {
        if ENERGY.usual.is_some_and(|usual| !usual.holds(energy.si())) {
            let usual = ENERGY.usual_text().unwrap_or_default();
            remarks.caution("unusual_value", "/second", |say: Say| {
                format!(
                    "the pairs give {}, which can exist but is unusual: usual is {usual}; check both",
                    say.say(energy, Show::Usual)
                )
            });
        }
        if (second.temperature.si() - from.temperature.si()).abs() < CLOSE {
            remarks.caution(
                "pairs_close",
                "/second",
                "the pairs are less than 5 K apart: a small error in either is a large one in the activation energy",
            );
        }
        return Ok(energy);
    };
    Err(Error::new(Code::Impossible, "/second", why)
        .got(&Value::from(format!("{} s at {} K", decimal(second.hold.si()), decimal(second.temperature.si()))))
        .allowed([format!("a pair worth the same, with an activation energy of {}", ENERGY.range_text())]))
}

fn temperature_in_range(from: &Held, hold: Time, energy: MolarEnergy, remarks: &Remarks) -> Result<Temperature, Error> {
    let [coldest, hottest] = [HEAT.range.shown.0, HEAT.range.shown.1].map(|end| units::DEG_C.of(end));
    equivalent_temperature(from, hold, energy)
        .filter(|found| reaches(*found, coldest) && reaches(hottest, *found))
        .ok_or_else(|| {
            let [shortest, longest] =
                [hottest, coldest].map(|end| remarks.say(equivalent_hold(from, end, energy), Show::Usual));
            Error::new(
                Code::NoSolution,
                "/to/hold",
                format!("no temperature ({}) does the same cure in that time", HEAT.range_text()),
            )
            .got(&Value::from(format!("{} s", decimal(hold.si()))))
            .allowed([format!("{shortest} to {longest}")])
        })
}

/// Cautions where the answer lies far outside the temperatures of the known pairs.
fn caution_if_far(asked: Temperature, from: &Held, second: Option<&Held>, remarks: &mut Remarks) {
    let away = |held: &Held| asked.si() - held.temperature.si();
    let known = || [Some(from), second].into_iter().flatten();
    if known().all(|held| away(held) > FAR) || known().all(|held| away(held) < -FAR) {
        remarks.caution(
            "extrapolated",
            "/to",
            |say: Say| format!(
                "{} is more than 30 K from any cure that is known: another reaction may rule there; prove it with a wash test",
                say.say(asked, Show::Usual)
            ),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn held(celsius: f64, seconds: f64) -> Held {
        Held::new().temperature(units::DEG_C.of(celsius)).hold(units::S.of(seconds))
    }

    proptest! {
        #[test]
        fn there_and_back_is_the_identity(
            from in 20.0..300.0_f64, hold in 1.0..900.0_f64, to in 20.0..300.0_f64, energy in 30.0..300.0_f64,
        ) {
            let (from, to, energy) = (held(from, hold), units::DEG_C.of(to), units::KJ_PER_MOL.of(energy));
            let there = equivalent_hold(&from, to, energy);
            let back = equivalent_hold(&Held::new().temperature(to).hold(there), from.temperature, energy);
            prop_assert!((back.si() / from.hold.si() - 1.0).abs() < 1e-12);
            let found = equivalent_temperature(&from, there, energy).unwrap();
            prop_assert!((found.si() / to.si() - 1.0).abs() < 1e-12);
        }

        #[test]
        fn hotter_is_shorter(
            from in 20.0..300.0_f64, hold in 1.0..900.0_f64, step in 0.01..200.0_f64, energy in 1.0..1000.0_f64,
        ) {
            let known = held(from, hold);
            let hotter = units::DEG_C.of(from + step);
            prop_assert!(equivalent_hold(&known, hotter, units::KJ_PER_MOL.of(energy)) < known.hold);
        }

        #[test]
        fn two_pairs_give_back_the_energy_they_were_made_with(
            from in 20.0..300.0_f64, hold in 1.0..900.0_f64, step in 1.0..100.0_f64, energy in 30.0..300.0_f64,
        ) {
            let first = held(from, hold);
            let to = units::DEG_C.of(from + step);
            let second = Held::new().temperature(to).hold(equivalent_hold(&first, to, units::KJ_PER_MOL.of(energy)));
            for found in [activation_energy(&first, &second), activation_energy(&second, &first)] {
                prop_assert!((units::KJ_PER_MOL.value(found) / energy - 1.0).abs() < 1e-11);
            }
        }
    }

    #[test]
    fn a_hold_too_short_for_any_heat_has_no_temperature() {
        // At infinite temperature the hold is 60 s x exp(-Ea / (R T)): with 30 kJ/mol at 433.15 K, 60 x exp(-8.33) = 14.4 ms.
        let (from, energy) = (held(160.0, 60.0), units::KJ_PER_MOL.of(30.0));
        assert!(equivalent_temperature(&from, units::MS.of(14.0), energy).is_none());
        assert!(equivalent_temperature(&from, units::MS.of(15.0), energy).is_some());
    }

    #[test]
    fn ten_kelvin_that_double_the_rate() {
        // Common knowledge of chemistry: near room temperature a rate that doubles over 10 K has 52.9 kJ/mol.
        let energy = activation_energy(&held(25.0, 2.0), &held(35.0, 1.0));
        assert_relative_eq!(units::KJ_PER_MOL.value(energy), 52.949, epsilon = 0.0, max_relative = 1e-5);
    }
}
