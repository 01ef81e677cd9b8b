//! How the work is proved: blanks to lose, prints to wash, what to sign for, what to beware of.

use super::order::{Order, SizeOrder};
use super::sheet::{BlanksSheet, DryerSheet, FlashSheet, SignOff, SizeSheet, StackSheet, WashTest};
use super::shop::Shop;
use super::{Placed, ink_name};
use crate::error::Error;
use crate::ink::Chemistry;
use crate::press;
use crate::quantity::{Show, decimal};
use crate::source::Source;
use crate::wash::{LAYERS, Risk, StackRequest, survival_shown};
use crate::wire::{Remarks, Says};

/// When to take a print of each stack.
const TAKE: &[&str] = &["first off", "mid run", "last"];
/// Of an order of fewer pieces than these one print of each stack has to do: three would be an eighth of it and more.
const SMALL_ORDER: u32 = 24;
const TAKE_OF_FEW: &[&str] = &["mid run"];

/// When to take the prints of an order of so many pieces for the wash test.
fn take(pieces: u32) -> &'static [&'static str] {
    if pieces < SMALL_ORDER { TAKE_OF_FEW } else { TAKE }
}

fn count(of: &[&str]) -> u32 {
    u32::try_from(of.len()).unwrap_or(u32::MAX)
}

/// Washes of each print: past the third, since a bad bond may hold for two.
const WASHES: u32 = 5;
/// How sure the wash test's bound is.
const SURE: f64 = 0.90;

/// Blanks to start with. Each size is reckoned by itself, since a spoiled M is not made good by an S; each at
/// confidence^(1 / sizes), so that all of them together reach the confidence; a share that is in doubt is so for all sizes alike, which
/// makes the chance of all together only higher.
pub(super) fn blanks(
    pieces: u32,
    sizes: &[SizeOrder],
    shop: &Shop,
    remarks: &mut Remarks,
) -> Result<BlanksSheet, Error> {
    shop.cite(&["spoilage_fraction", "confidence"], remarks);
    let for_wash_test = count(take(pieces));
    let known_from = shop.spoilage_known_from;
    let start = |pieces: u32, confidence: f64| {
        press::blanks_known_from(pieces, shop.spoilage_fraction, known_from, confidence)
            .map_err(|error| error.under(if known_from.is_some() { "/shop/spoilage_known_from" } else { "" }))
    };
    if sizes.is_empty() {
        let (start_with, probability) = start(pieces, shop.confidence)?;
        return Ok(BlanksSheet { start_with, probability, sizes: Vec::new(), for_wash_test });
    }
    // Of a size that nobody ordered there is always enough.
    let ordered = sizes.iter().filter(|size| size.pieces > 0).count();
    let each = libm::pow(shop.confidence, 1.0 / ordered.max(1) as f64);
    let mut sheet = BlanksSheet { start_with: 0, probability: 1.0, sizes: Vec::new(), for_wash_test };
    for size in sizes {
        let (start_with, probability) = start(size.pieces, each)?;
        sheet.start_with = sheet.start_with.saturating_add(start_with);
        sheet.probability *= probability;
        sheet.sizes.push(SizeSheet { size: size.size.clone(), pieces: size.pieces, start_with });
    }
    Ok(sheet)
}

/// Three prints of each stack through five washes, and what that proves.
pub(super) fn wash_test(order: &Order, remarks: &mut Remarks) -> Result<WashTest, Error> {
    let mut stacks: Vec<StackSheet> = Vec::new();
    for (p, placement) in order.placements.iter().enumerate() {
        let inks: Vec<String> = placement.screens.iter().map(ink_name).collect();
        let layers: Vec<_> = placement.screens.iter().map(|screen| screen.ink.clone()).collect();
        let at = format!("/placements/{p}");
        let stack = StackRequest::new().cloth(order.cloth.clone()).layers(layers);
        // Risks are said below, in the words of the sheet.
        let bonds = remarks.ask(&LAYERS, &stack, |asked| (asked.of == Says::Error).then(|| at.clone()))?.pairs;
        for bond in bonds.iter().filter(|bond| bond.risk == Risk::High) {
            remarks.caution("bond_at_risk", &at, |_| format!("{} on {}: {}", bond.upper, bond.lower, bond.why));
        }
        if !stacks.iter().any(|stack| stack.inks == inks) {
            stacks.push(StackSheet { placement: placement.name.clone(), inks, bonds });
        }
    }
    let take = take(order.pieces);
    let prints = count(take);
    let shown = survival_shown(prints, SURE);
    Ok(WashTest {
        stacks,
        take: take.iter().map(|when| (*when).to_owned()).collect(),
        prints,
        washes: WASHES,
        survival_lower_bound_fraction: shown,
        confidence: SURE,
        proves: format!(
            "{prints} good of {prints} show that at least {} % survive, at {} % confidence: it finds a bad batch, and proves no good one",
            decimal((shown * 100.0).floor()),
            decimal(SURE * 100.0)
        ),
    })
}

/// What is signed for by hand.
pub(super) fn sign_off(
    order: &Order,
    placed: &[Placed<'_>],
    dryer: &DryerSheet,
    flash: &[FlashSheet],
    remarks: &Remarks,
) -> Vec<SignOff> {
    let item = |what: &str, check: String, fill_in: &[&str]| SignOff {
        what: what.to_owned(),
        check,
        fill_in: fill_in.iter().map(|blank| (*blank).to_owned()).collect(),
    };
    let mut list =
        vec![item("first print", "place, size, register, opacity, edges".into(), &["initials", "time", "remarks"])];
    for after in flash {
        let firm =
            after.gel.map_or_else(|| "dry".to_owned(), |gel| format!("at least {}", remarks.say(gel, Show::Usual)));
        let check = format!(
            "after {}: {firm}, no tack, gun at most {}",
            after.screen,
            remarks.say(after.gun_most, Show::Usual)
        );
        list.push(item("flash", check, &["gun", "dwell", "initials"]));
    }
    if let Some(exit) = dryer.probe_readings.last() {
        let least = exit.least.map(|least| format!("at least {}", remarks.say(least, Show::Usual))).unwrap_or_default();
        let check = format!("in the ink, loaded belt: {least}, never over {}", remarks.say(exit.most, Show::Usual));
        list.push(item("probe", check, &["left", "middle", "right", "belt", "initials"]));
    }
    let held = placed.iter().any(|placed| placed.screen.ink.cure.after_dry);
    if held {
        list.push(item(
            "dryness",
            "no steam at the exit; a second pass takes no weight".into(),
            &["first", "second", "initials"],
        ));
    }
    let blanks: Vec<&str> = take(order.pieces).iter().copied().chain(["initials"]).collect();
    list.push(item("wash", format!("after {WASHES} washes no peeling, cracking or fading"), &blanks));
    list
}

/// What the trade warns of, whatever the numbers say.
pub(super) fn cautions(order: &Order, placed: &[Placed<'_>], remarks: &mut Remarks) {
    remarks.caution(
        "heat_and_fumes",
        "",
        "hot panels, platens and belts burn, hot ink fumes: exhaust, guards as makers and code say",
    );
    remarks.basis(
        "heat_and_fumes",
        Source::memory("ISO 13732-1: bare metal at 65-70 degC burns in a second, at 55 in ten"),
    );
    remarks.caution(
        "moving_press",
        "",
        "keep hands, hair and sleeves off a moving press; stop and lock it out before reaching in",
    );
    if placed.iter().any(|placed| Chemistry::of(&placed.screen.ink) == Chemistry::Discharge) {
        remarks.caution(
            "discharge_agent",
            "",
            "discharge gives off formaldehyde: exhaust outdoors, protect as its sheet says, wash before wear",
        );
    }
    if order.placements.len() > 1 {
        remarks.caution(
            "cured_again",
            "/placements",
            "the first print is cured again with each later one: print the ink that bears heat best first",
        );
    }
}
