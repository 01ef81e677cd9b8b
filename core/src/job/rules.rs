//! Prints that cannot work, or often fail, whatever the numbers say: one rule a line of [`RULES`], with its level, reason and basis.
//!
//! A rule asks members of ink, cloth, stencil and machine, never names. Where a member that it needs is not known it stays silent, and
//! one note says which.

use super::order::{Order, Placement};
use super::screens::Screen;
use super::shop::{Shop, StencilResists};
use super::{Placed, machines::flashes};
use crate::cloth::{Cloth, Fibres, Shade};
use crate::ink::{AdditiveRole, Chemistry, Covers, Ink};
use crate::note::Level;
use crate::quantity::{Length, units};
use crate::source::Source;
use crate::wire::Remarks;

/// Thinnest wet film of an opaque ink on dark cloth that often covers: a third of the volume of a 77-55 and finer.
const COVERS_FROM: f64 = 10.0;
/// A print smaller than this both ways was perhaps meant in another unit.
const TINY: f64 = 25.0;
/// A fibre with this share makes the cloth, one with less than the other leaves no mark.
const MOST_OF_IT: f64 = 0.9;
const SOME_OF_IT: f64 = 0.1;

/// A screen and what it meets.
struct Case<'a> {
    cloth: &'a Cloth,
    shop: &'a Shop,
    placement: &'a Placement,
    ink: &'a Ink,
    /// What was printed on the same place before, bottom to top.
    below: Vec<&'a Ink>,
    /// All that its own ink lays down, wet.
    film: Length,
    flashed: bool,
}

/// What a rule says of a screen.
enum Judged {
    Fine,
    Broken,
    /// A member that it needs is not known.
    NotKnown(&'static str),
}
use Judged::{Broken, Fine, NotKnown};

/// Where a rule points.
#[derive(Clone, Copy, PartialEq)]
enum Points {
    /// Into the screen.
    Screen(&'static str),
    /// Into its placement.
    Placement(&'static str),
    /// Into the order.
    Order(&'static str),
}

struct Rule {
    code: &'static str,
    level: Level,
    points: Points,
    judge: fn(&Case<'_>) -> Judged,
    says: &'static str,
    source: Source,
}

/// The rules.
const RULES: &[Rule] = &[
    Rule {
        code: "transparent_on_dark",
        level: Level::Limit,
        points: Points::Screen("/ink"),
        judge: |case| match (case.cloth.shade, case.chemistry(), case.ink.covers) {
            (Shade::Light, ..) | (_, Chemistry::Discharge, _) | (_, _, Some(Covers::Opaque)) => Fine,
            _ if case.below.iter().any(|ink| is_base(ink)) => Fine,
            (_, Chemistry::WaterBased, _) | (_, _, Some(Covers::Transparent)) => Broken,
            _ => NotKnown("covers of an ink"),
        },
        says: "this ink lets the cloth show through and the cloth is dark: without an opaque or discharged base under it there is next to nothing to see",
        source: Source::common("transparent inks on dark cloth need a base"),
    },
    Rule {
        code: "thin_on_dark",
        level: Level::Caution,
        points: Points::Screen("/mesh"),
        judge: |case| {
            let first = !case.below.iter().any(|ink| is_base(ink));
            let opaque = case.ink.covers == Some(Covers::Opaque);
            // Where its optics are known they tell it better (job/hiding.rs).
            let thin = case.ink.scattering.is_none() && units::UM.value(case.film) < COVERS_FROM;
            if case.cloth.shade == Shade::Dark && first && opaque && thin { Broken } else { Fine }
        },
        says: "so thin a film of opaque ink seldom covers a dark shirt: a coarser mesh (43 to 62 threads a centimetre is usual for a base), or another hit after a flash",
        source: Source::common("bases on dark cloth are printed through 43-62 /cm, halftones of them through 90"),
    },
    Rule {
        code: "nothing_to_discharge",
        level: Level::Caution,
        points: Points::Order("/cloth"),
        judge: |case| broken_if(case.chemistry() == Chemistry::Discharge && case.cloth.shade == Shade::Light),
        says: "a light cloth has no dye to take out: a water-based ink prints the same without the agent and its fumes",
        source: Source::common("discharge is for dyed cloth"),
    },
    Rule {
        code: "does_not_discharge",
        level: Level::Limit,
        points: Points::Order("/cloth"),
        judge: |case| {
            if case.chemistry() != Chemistry::Discharge || case.cloth.shade == Shade::Light {
                return Fine;
            }
            match (case.cloth.dischargeable, &case.cloth.fibres) {
                (Some(false), _) => Broken,
                (_, Some(fibres)) if synthetic(fibres) >= MOST_OF_IT => Broken,
                (Some(true), _) => Fine,
                (None, _) => NotKnown("dischargeable of the cloth"),
            }
        },
        says: "the dye of this cloth does not come out: polyester, nylon and many dyes of cotton do not discharge; take an opaque base, or a cloth that is sold as dischargeable",
        source: Source::common("only some reactive dyes of cotton discharge; disperse dyes of polyester do not"),
    },
    Rule {
        code: "discharges_unevenly",
        level: Level::Caution,
        points: Points::Order("/cloth"),
        judge: |case| match &case.cloth.fibres {
            _ if case.chemistry() != Chemistry::Discharge || case.cloth.shade == Shade::Light => Fine,
            Some(fibres) => broken_if((SOME_OF_IT..MOST_OF_IT).contains(&synthetic(fibres))),
            None => NotKnown("fibres of the cloth"),
        },
        says: "only the cotton of this blend gives up its dye: the print goes heathered and duller than on cotton",
        source: Source::common("a half-cotton cloth discharges to a heather"),
    },
    Rule {
        code: "no_bond_on_nylon",
        level: Level::Limit,
        points: Points::Screen("/ink"),
        judge: |case| match &case.cloth.fibres {
            _ if case.chemistry() != Chemistry::Plastisol || case.bonds() || !case.below.is_empty() => Fine,
            Some(fibres) => broken_if(fibres.nylon_fraction.unwrap_or(0.0) >= 0.5 || case.cloth.coated == Some(true)),
            None => NotKnown("fibres of the cloth"),
        },
        says: "plastisol does not hold on nylon or on a coated cloth by itself: stir in a bonding additive (an additive with the role `bonding`), and test a print after washing",
        source: Source::memory("bonding additives for nylon, 5-10 %"),
    },
    Rule {
        code: "stencil_dissolves",
        level: Level::Limit,
        points: Points::Order("/shop/stencil_resists"),
        judge: |case| match case.shop.stencil_resists {
            _ if !case.ink.is_water_based() => Fine,
            Some(resists) => broken_if(resists == StencilResists::Solvent),
            None => NotKnown("stencil_resists of the shop"),
        },
        says: "this stencil does not resist water, and a water-based ink breaks it down in mid run: take an emulsion that is sold for water-based ink",
        source: Source::common("water-based inks need a water-resistant stencil"),
    },
    Rule {
        code: "larger_than_platen",
        level: Level::Limit,
        points: Points::Placement(""),
        judge: |case| match (case.shop.platen.width, case.shop.platen.length) {
            (None, None) => NotKnown("width and length of the platen"),
            (width, length) => broken_if(
                width.is_some_and(|width| case.placement.width > width)
                    || length.is_some_and(|length| case.placement.height > length),
            ),
        },
        says: "the print is larger than the platen: what hangs over cannot be printed",
        source: Source::physics("a print needs something to lie on"),
    },
    Rule {
        code: "tiny_print",
        level: Level::Caution,
        points: Points::Placement(""),
        judge: |case| {
            let tiny = |length: Length| units::MM.value(length) < TINY;
            broken_if(tiny(case.placement.width) && tiny(case.placement.height))
        },
        says: "this is smaller than an inch both ways: were centimetres or inches meant?",
        source: Source::memory("prints on garments are seldom smaller than an inch"),
    },
    Rule {
        code: "base_not_flashed",
        level: Level::Caution,
        points: Points::Placement("/screens"),
        judge: |case| {
            broken_if(
                case.cloth.shade == Shade::Dark
                    && case.below.is_empty()
                    && !case.flashed
                    && case.placement.screens.len() > 1,
            )
        },
        says: "colours on dark cloth without a flashed base sink in and mix: is a base with a flash missing?",
        source: Source::common("bases on dark cloth are flashed"),
    },
];

fn broken_if(broken: bool) -> Judged {
    if broken { Broken } else { Fine }
}

/// Whether an ink makes a ground for others: it hides the cloth, or takes its dye out.
pub(super) fn is_base(ink: &Ink) -> bool {
    ink.covers == Some(Covers::Opaque) || Chemistry::of(ink) == Chemistry::Discharge
}

/// The share of fibres that do not discharge.
fn synthetic(fibres: &Fibres) -> f64 {
    fibres.polyester_fraction.unwrap_or(0.0) + fibres.nylon_fraction.unwrap_or(0.0)
}

impl Case<'_> {
    fn chemistry(&self) -> Chemistry {
        Chemistry::of(self.ink)
    }

    fn bonds(&self) -> bool {
        self.ink.additives.iter().flatten().any(|additive| additive.role == Some(AdditiveRole::Bonding))
    }
}

/// Holds every screen against the rules.
pub(super) fn judge(order: &Order, shop: &Shop, placed: &[Placed<'_>], screens: &[Screen], remarks: &mut Remarks) {
    let mut silent: Vec<&'static str> = Vec::new();
    for (of, printed) in placed.iter().zip(screens) {
        let same_place = of.placement.screens.iter().take_while(|screen| !core::ptr::eq(*screen, of.screen));
        let case = Case {
            cloth: &order.cloth,
            shop,
            placement: of.placement,
            ink: &of.screen.ink,
            below: same_place.map(|screen| &screen.ink).collect(),
            film: printed.sheet.wet_film,
            flashed: of.placement.screens.iter().any(flashes),
        };
        for rule in RULES {
            match (rule.judge)(&case) {
                Fine => {}
                NotKnown(member) if silent.contains(&member) => {}
                NotKnown(member) => silent.push(member),
                Broken => {
                    remarks.basis(rule.code, rule.source);
                    let (place, rest) = match rule.points {
                        Points::Screen(rest) => (of.at.as_str(), rest),
                        Points::Placement(rest) => (of.in_placement.as_str(), rest),
                        Points::Order(rest) => ("", rest),
                    };
                    remarks.note(rule.level, rule.code, format_args!("{place}{rest}"), rule.says);
                }
            }
        }
    }
    if !silent.is_empty() {
        remarks.info("rules_silent", "", |_| format!("not judged, since it is not known: {}", silent.join(", ")));
    }
}
