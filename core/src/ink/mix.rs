//! How much of each part goes into an ink, and in how many pots.

use super::{ADDITIVE, POT_LIFE};
use crate::error::{Code, Error};
use crate::quantity::{Dimensioned, Mass, MassRate, Rules, Time, decimal, to_places, units};
use crate::source::Source;
use crate::wire::{At, Choice, Remarks, answer, calculation, lacks, request};
use serde_json::Value;

const BATCH: Rules = Rules::range(units::G, 0.001, 1e7).usual(1.0, 100_000.0);
const PARTS: Rules = Rules::range(units::ONE, 1e-6, 1e9);
const RATE: Rules = Rules::range(units::G_PER_MIN, 1e-6, 1e6).usual(0.01, 1_000.0);
/// More pots than this is no plan.
const MOST_POTS: f64 = 1_000.0;

request! {
    /// A part of a mix.
    pub struct Part {
        /// What the part is.
        name "Part": String,
        /// How many parts of it, by mass; any scale.
        parts "Parts by mass": f64 where PARTS,
        /// At most this share of the batch, such as the most of a fixer or a reducer.
        most_fraction "Largest share": Option<f64> where ADDITIVE,
    }
}

request! {
    /// A batch of ink to mix.
    pub struct MixRequest {
        /// Mass of the batch, all parts together.
        batch "Batch": Mass where BATCH,
        /// The parts.
        parts "Parts": Vec<Part>,
        /// How long a mixed pot stays usable.
        pot_life "Pot life": Option<Time> where POT_LIFE,
        /// How fast the press uses the ink.
        use_rate "Ink use rate": Option<MassRate> where RATE,
    }
    chooses(Choice::All(&["pot_life", "use_rate"]))
}

answer! {
    /// A pot and when to mix it.
    pub struct Pot {
        /// Mass of the pot.
        mass "Ink in pot": Mass,
        /// When to mix it, from the start of the run.
        mix_at "Mix at": Time,
    }
}

answer! {
    /// What to weigh in, and when.
    pub struct Mix {
        /// How much of each part, for the whole batch; together they are the batch.
        masses "Mass per part": Vec<Mass>,
        /// Each part's share of the batch.
        fractions "Share per part": Vec<f64>,
        /// The pots, equal in mass; one where nothing limits it.
        pots "Pots": Vec<Pot>,
    }
}

calculation! {
    pub const MIX: MixRequest => Mix = mix;
    id: "ink.mix",
    title: "Mixing",
    question: "How much of each part, in how many pots?",
    asked: ["How much catalyst goes into the pot?", "How many pots do I mix, and when?"],
    headline: ["masses", "pots"],
    formula: "fraction = parts / sum of parts; mass = fraction x batch; pots = ceil(batch / (use rate x pot life)), each mixed when the one before it runs out",
    sources: &[Source::physics("shares of a whole; a pot must be used up within its life")],
    example: r#"{"batch": "1200 g", "parts": [{"name": "ink", "parts": 97}, {"name": "fixer", "parts": 3, "most_fraction": 0.04}], "pot_life": "6 h", "use_rate": "2 g/min"}"#,
}

/// Equal pots that are each used up within their life, and when to mix each.
///
/// # Errors
/// `too_long` for more than a thousand pots.
pub fn pots(batch: Mass, pot_life: Time, use_rate: MassRate) -> Result<Vec<Pot>, Error> {
    let lives: f64 = (batch / (use_rate * pot_life)).into();
    // A batch that just lasts a pot's life is one pot, whatever the rounding.
    let count = (lives * (1.0 - 1e-12)).ceil().max(1.0);
    if count > MOST_POTS {
        return Err(Error::new(
            Code::TooLong,
            "/pot_life",
            format!("that makes {} pots: the pot life is too short for so slow a use", to_places(count, 0)),
        )
        .allowed([format!("at most {} pots", decimal(MOST_POTS))]));
    }
    let lasts: Time = batch / count / use_rate;
    Ok((0..count as u32).map(|pot| Pot { mass: batch / count, mix_at: lasts * f64::from(pot) }).collect())
}

/// Masses that add up to the batch in any order, without a remainder.
///
/// Each is a whole number of the batch's last binary digit, so that no sum of them rounds; the largest takes what is left
/// over. What a mass differs from its share is less than one part in 10^15 of the batch.
fn exact_masses(batch: Mass, fractions: &[f64]) -> Vec<Mass> {
    let digit = batch.si().next_up() - batch.si();
    let mut digits: Vec<f64> = fractions.iter().map(|fraction| (fraction * batch.si() / digit).round()).collect();
    let left_over = batch.si() / digit - digits.iter().sum::<f64>();
    if let Some(largest) = digits.iter_mut().max_by(|a, b| a.total_cmp(b)) {
        *largest += left_over;
    }
    digits.into_iter().map(|count| Mass::from_si(count * digit)).collect()
}

/// What to weigh in and when.
///
/// # Errors
/// `out_of_range` without a part, `impossible` where a part is above its limit, `missing_field` where only one of pot
/// life and use rate is given.
pub(crate) fn mix(request: &MixRequest, remarks: &mut Remarks) -> Result<Mix, Error> {
    if request.parts.is_empty() {
        return Err(Error::new(Code::OutOfRange, "/parts", "a mix has at least one part").allowed(["1 part or more"]));
    }
    let sum: f64 = request.parts.iter().map(|part| part.parts).sum();
    let fractions: Vec<f64> = request.parts.iter().map(|part| part.parts / sum).collect();
    for (index, (part, fraction)) in request.parts.iter().zip(&fractions).enumerate() {
        if let Some(most) = part.most_fraction.filter(|most| *fraction > most * (1.0 + 1e-12)) {
            let message = format!(
                "`{}` would be {} % of the batch, its limit is {} %",
                part.name,
                to_places(fraction * 100.0, 3),
                to_places(most * 100.0, 3)
            );
            return Err(Error::new(Code::Impossible, format!("/parts/{index}/parts"), message)
                .got(&Value::from(part.parts))
                .allowed([format!("at most {} of the batch", decimal(most))]));
        }
    }
    let pots = match (request.pot_life, request.use_rate) {
        (Some(pot_life), Some(use_rate)) => pots(request.batch, pot_life, use_rate)?,
        (Some(_), None) => return Err(lacks(At::ROOT, "use_rate")),
        (None, Some(_)) => return Err(lacks(At::ROOT, "pot_life")),
        (None, None) => vec![Pot { mass: request.batch, mix_at: units::S.of(0.0) }],
    };
    if pots.len() > 1 {
        remarks.info(
            "pots",
            "/pot_life",
            "write the hour on each pot, and throw away what outlives it; every pot has the parts in the same shares",
        );
    }
    remarks.caution(
        "chemicals",
        "/parts",
        "fixers, catalysts and discharge agents: gloves, goggles and fresh air, as their safety sheets say",
    );
    Ok(Mix { masses: exact_masses(request.batch, &fractions), fractions, pots })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn masses_add_up_to_the_batch_to_the_last_digit(
            batch in 1e-6_f64..1e4, parts in proptest::collection::vec(1e-3_f64..1e3, 1..40),
        ) {
            let sum: f64 = parts.iter().sum();
            let fractions: Vec<f64> = parts.iter().map(|part| part / sum).collect();
            let masses = exact_masses(Mass::from_si(batch), &fractions);
            prop_assert_eq!(masses.iter().map(|mass| mass.si()).sum::<f64>().to_bits(), batch.to_bits());
            for (mass, fraction) in masses.iter().zip(&fractions) {
                approx::assert_abs_diff_eq!(mass.si(), fraction * batch, epsilon = 1e-14 * batch);
            }
        }

        #[test]
        fn every_pot_is_used_up_within_its_life(batch in 1.0_f64..1e4, life in 10.0_f64..600.0, rate in 0.1_f64..100.0) {
            let (batch, life, rate) = (units::G.of(batch), units::MIN.of(life), units::G_PER_MIN.of(rate));
            let Ok(list) = pots(batch, life, rate) else { return Ok(()) };
            let together: f64 = list.iter().map(|pot| pot.mass.si()).sum();
            approx::assert_relative_eq!(together, batch.si(), epsilon = 0.0, max_relative = 1e-12);
            for pot in &list {
                prop_assert!((pot.mass / rate).si() <= life.si() * (1.0 + 1e-9));
            }
            // One pot less would not do.
            let fewer = list.len() as f64 - 1.0;
            prop_assert!(fewer < 1.0 || (batch / fewer / rate).si() > life.si() * (1.0 - 1e-9));
        }
    }
}
