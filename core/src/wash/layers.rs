//! Which ink will peel off which.

use crate::cloth::Cloth;
use crate::error::{Code, Error};
use crate::ink::{Chemistry, Ink};
use crate::quantity::{Dimensioned, Rules, Show};
use crate::source::Source;
use crate::wire::{Remarks, Say, answer, calculation, request, words};

words! {
    /// How a layer stood when the next one was printed on it.
    pub enum Between ("state of a layer") {
        /// Wet, or not dried through.
        Wet = "wet",
        /// As it should be: plastisol and silicone gelled, water-based ink dried through.
        Set = "set",
        /// Cured right through, as under a flash that is too hot or too long.
        Cured = "cured",
    }
}

words! {
    /// How likely a bond is to fail in the wash.
    pub enum Risk ("risk") {
        /// It holds where the work is done well.
        Low = "low",
        /// It holds or fails with the day's work: wash before shipping.
        Medium = "medium",
        /// Expect it to peel.
        High = "high",
    }
}

request! {
    /// A stack of inks on a cloth.
    pub struct StackRequest {
        /// The cloth.
        cloth "Cloth": Cloth,
        /// The inks, bottom to top.
        layers "Ink layers": Vec<Ink>,
        /// How each layer but the top one stood when the next was printed on it, bottom to top.
        between "State when overprinted": Option<Vec<Between>> where Rules::NONE.unless_given("as if nobody checked"),
    }
}

answer! {
    /// Two inks of which one lies on the other.
    pub struct InkPair {
        /// The ink below the joint.
        lower "Lower ink": String,
        /// The ink on top of the joint.
        upper "Upper ink": String,
        /// How likely they are to part.
        risk "Risk of parting": Risk,
        /// Why the risk is what it is.
        why "Reason": String,
    }
}

answer! {
    /// The bonds of a stack.
    pub struct StackRisks {
        /// Neighbouring inks, bottom to top.
        pairs "Bonds": Vec<InkPair>,
    }
}

calculation! {
    pub const LAYERS: StackRequest => StackRisks = layers;
    id: "wash.layers",
    title: "Ink on ink in the wash",
    question: "Which of these inks on which will peel?",
    asked: ["Can I print plastisol on a discharge base?", "Which ink holds on which?"],
    headline: ["pairs"],
    formula: "a table of rules on neighbouring inks: what each is (its chemistry; where that is not given, water makes it water-based, else it is a plastisol), how the lower one stood, and whether the upper one cures 10 K or more below it",
    sources: &[
        Source::common("ink makers and trade journals: over-flashed and undried bases, silicone, low-cure tops"),
        Source::memory("plastisol over discharge, water-based over plastisol, like on like"),
    ],
    example: r#"{"cloth": "cotton-jersey-180-dark", "layers": ["discharge", "plastisol-white", "plastisol"]}"#,
}

/// The risk of each bond between neighbouring inks. A first layer on the cloth is no pair.
///
/// # Errors
/// `impossible` where `between` does not have one entry for each pair.
pub(crate) fn layers(request: &StackRequest, remarks: &mut Remarks) -> Result<StackRisks, Error> {
    let inks = &request.layers;
    let below_top = inks.len().saturating_sub(1);
    let between = request.between.as_deref();
    if let Some(states) = between.filter(|states| states.len() != below_top) {
        let message = format!("{} layers have {below_top} states between them, not {}", inks.len(), states.len());
        return Err(Error::new(Code::Impossible, "/between", message).allowed([format!("{below_top} entries")]));
    }
    let called = |index: usize, ink: &Ink| ink.called(&format!("own ink of layer {}", index.saturating_add(1)));
    let mut pairs = Vec::with_capacity(below_top);
    for (index, (lower, upper)) in inks.iter().zip(inks.iter().skip(1)).enumerate() {
        let state = between.and_then(|states| states.get(index)).copied();
        let bond = bond(lower, upper, state);
        remarks.basis(|| format!("pairs.{index}.risk"), bond.source);
        pairs.push(InkPair {
            lower: called(index, lower),
            upper: called(index.saturating_add(1), upper),
            risk: bond.risk,
            why: bond.why.to_owned(),
        });
    }
    for (index, ink) in inks.iter().enumerate() {
        ink.cite(&["water_fraction", "additives", "cure"], remarks);
        if ink.cure.temperature > request.cloth.never_above {
            request.cloth.cite(&["never_above"], remarks);
            remarks.caution("cloth_forbids_cure", format_args!("/layers/{index}"), |say: Say| format!(
                "{} cures at {}, and the cloth must stay below {}: an ink that this cloth can never let cure washes off",
                called(index, ink),
                say.say(ink.cure.temperature, Show::Usual),
                say.say(request.cloth.never_above, Show::Usual)
            ));
        }
    }
    if !pairs.is_empty() {
        let read: Vec<_> = inks.iter().map(|ink| Chemistry::of(ink).name()).collect();
        remarks
            .info("read_as", "/layers", |_| format!("by their data the inks are, bottom to top: {}", read.join(", ")));
    }
    remarks.info(
        "risk_not_promise",
        "",
        "a word of risk, never a guarantee: wash prints of this stack past three cycles before shipping, since a bad bond may hold for two",
    );
    Ok(StackRisks { pairs })
}

/// What is to be expected of one ink on another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bond {
    /// How likely they are to part.
    pub risk: Risk,
    /// Why.
    pub why: &'static str,
    /// How that is known.
    pub source: Source,
}

const MAKERS: Source = Source::common("ink makers and trade journals");
const MEMORY: Source = Source::memory("a rule of the trade without a source in print");

/// An upper ink that cures this much lower, in kelvin, is a low-cure top: the dryer is then set too cool for the ink below.
const LOW_CURE_STEP: f64 = 10.0;

/// The rule for `upper` printed on `lower`. The first row that fits counts.
#[must_use]
#[rustfmt::skip]
pub fn bond(lower: &Ink, upper: &Ink, between: Option<Between>) -> Bond {
    use Between::{Cured, Set, Wet};
    use Chemistry::{Discharge, Plastisol, Silicone, WaterBased};
    let low_cure = lower.cure.temperature.si() - upper.cure.temperature.si() >= LOW_CURE_STEP;
    let (risk, source, why) = match (Chemistry::of(lower), Chemistry::of(upper), between) {
        (Silicone, Plastisol | WaterBased | Discharge, _) | (Plastisol | WaterBased | Discharge, Silicone, _) =>
            (Risk::High, MAKERS, "silicone bonds to silicone alone: neither holds on the other"),
        (Plastisol, WaterBased | Discharge, _) =>
            (Risk::High, MEMORY, "water-based ink wants fibre to hold on to and finds none on plastisol: it flakes off"),
        (_, _, Some(Cured)) =>
            (Risk::High, MAKERS, "the base was fully cured before the next ink came on: the top flakes off it; gel or dry it only"),
        _ if low_cure =>
            (Risk::High, MEMORY, "a low-cure ink on one that cures hotter: where the dryer is set for the top, the base never reaches its own cure and takes the top with it; cure the stack for the hotter ink or print inks of one cure"),
        (Discharge, Plastisol, Some(Set)) =>
            (Risk::Medium, MEMORY, "plastisol on a discharge base that was dried through: it holds as long as no damp is left under it; wash past three cycles"),
        (Discharge, Plastisol, _) =>
            (Risk::High, MEMORY, "steam and agent under the film lift it at the second or third wash: dry the base through before printing on it"),
        (WaterBased, Plastisol, Some(Wet)) =>
            (Risk::High, MEMORY, "plastisol on a water-based base that was not dried through: steam under the film lifts it; dry the base through"),
        (WaterBased, Plastisol, _) =>
            (Risk::Medium, MEMORY, "plastisol on water-based ink holds where the base was dried through; wash past three cycles"),
        (Plastisol, Plastisol, _) =>
            (Risk::Low, MAKERS, "plastisol on plastisol that is wet or gelled, not cured, fuses into one film in the dryer"),
        (WaterBased | Discharge, WaterBased | Discharge, _) =>
            (Risk::Low, MEMORY, "water-based inks share their binder and cure into one another"),
        (Silicone, Silicone, _) =>
            (Risk::Low, MEMORY, "silicone on gelled silicone links into one film"),
    };
    Bond { risk, why, source }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wire::Declared;
    use serde_json::{Value, json};

    #[test]
    fn every_stock_ink_is_what_its_name_says() {
        let shelf = (Ink::TABLE.stock.unwrap().shelf)();
        for name in shelf.names() {
            let chemistry = Chemistry::of(&Ink::in_stock(name).unwrap()).name();
            assert!(name.starts_with(chemistry), "{name} is read as {chemistry}");
        }
        assert_eq!(shelf.names().count(), 8);
    }

    fn ask(request: &Value) -> Result<Value, (Code, String)> {
        LAYERS.answer_json(request).map_err(|e| (e.code, e.field)).map(|answer| answer.to_value().unwrap())
    }

    #[test]
    fn a_pair_is_two_neighbours() {
        let pairs = |inks: &[&str]| {
            let answer = ask(&json!({ "cloth": "cotton-jersey-180", "layers": inks })).unwrap();
            answer["pairs"].as_array().unwrap().len()
        };
        assert_eq!([pairs(&[]), pairs(&["plastisol"]), pairs(&["plastisol", "plastisol", "silicone"])], [0, 0, 2]);
    }

    #[test]
    fn states_belong_between_layers() {
        let of = |states: &[&str]| json!({ "cloth": "cotton-jersey-180", "layers": ["discharge", "plastisol"], "between": states });
        assert_eq!(ask(&of(&[])), Err((Code::Impossible, "/between".into())));
        assert_eq!(ask(&of(&["set", "set"])), Err((Code::Impossible, "/between".into())));
        for (state, risk) in [("wet", "high"), ("set", "medium"), ("cured", "high")] {
            assert_eq!(ask(&of(&[state])).unwrap()["pairs"][0]["risk"], risk, "{state}");
        }
    }

    #[test]
    fn a_cloth_that_forbids_the_cure_is_named() {
        let notes = |cloth: &str| {
            let answer = ask(&json!({ "cloth": cloth, "layers": ["plastisol-low-cure", "plastisol"] })).unwrap();
            let notes = answer["notes"].as_array().unwrap().clone();
            notes.iter().filter(|n| n["code"] == "cloth_forbids_cure").map(|n| n["field"].clone()).collect::<Vec<_>>()
        };
        assert_eq!(notes("polyester-jersey-150"), ["/layers/1"]);
        assert!(notes("cotton-jersey-180").is_empty());
    }
}
