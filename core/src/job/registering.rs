//! Whether the colours of an order will meet, and in which order to set their screens.

use super::halftones::halftone;
use super::moved;
use super::order::{Order, Placement, ScreenOrder};
use super::sheet::RegisterSheet;
use super::shop::Shop;
use crate::error::Error;
use crate::quantity::{Dimensioned, Length, to_places};
use crate::register::{BUDGET, BudgetRequest, Cause};
use crate::sorted;
use crate::source::Source;
use crate::wire::Remarks;

/// The register of the print with the most colours; none where no print has two, or the shop does not say how it sets them.
pub(super) fn register(order: &Order, shop: &Shop, remarks: &mut Remarks) -> Result<Option<RegisterSheet>, Error> {
    // The first of those with the most.
    let largest = order.placements.iter().rev().max_by_key(|placement| placement.screens.len());
    let Some(placement) = largest.filter(|placement| placement.screens.len() > 1) else { return Ok(None) };
    let Some(habit) = &shop.register else {
        remarks.info(
            "register_not_judged",
            "/shop/register",
            "the shop does not say how it sets its screens: check the overlap of the colours on the first print",
        );
        return Ok(None);
    };
    shop.cite(&["register"], remarks);
    let colours = u32::try_from(placement.screens.len()).unwrap_or(u32::MAX);
    let request = BudgetRequest::new()
        .sources(habit.sources.clone())
        .colours(colours)
        .trap(order.trap)
        .wanted_probability(habit.wanted_probability)
        .methods([habit.method.clone()]);
    let in_order = [
        ("/trap", "/trap"),
        ("/methods/0", "/shop/register/method"),
        ("/sources", "/shop/register/sources"),
        ("/wanted_probability", "/shop/register/wanted_probability"),
        ("", "/shop/register"),
    ];
    let judged = remarks.ask(&BUDGET, &request, |asked| moved(asked.field, &in_order))?;
    let out = 1.0 - judged.adjusted_within_probability;
    if out > shop.spoilage_fraction {
        remarks.caution("register_beyond_spoilage", "/trap", |_| {
            let [out, planned] = [out, shop.spoilage_fraction].map(|share| to_places(100.0 * share, 1));
            format!(
                "once the screens are adjusted, {out} % of the prints still leave the trap, and the blanks allow for {planned} % spoiled pieces: widen the trap, hold the shirts better, or plan for more"
            )
        });
    }
    Ok(Some(RegisterSheet {
        placement: placement.name.clone(),
        colours,
        method: habit.method.name.clone(),
        trap: order.trap,
        wanted_probability: habit.wanted_probability,
        trap_needed: judged.trap_needed,
        pair_within_probability: judged.pair_within_probability,
        all_within_probability: judged.all_within_probability,
        leaves_trap_at: judged.leaves_trap_at,
        setup_within_probability: judged.setup_within_probability,
        adjusted_within_probability: judged.adjusted_within_probability,
    }))
}

/// The order in which to set the screens of each print, counted from 1, in print order.
///
/// Screens set to one film may be set as they print. Where each is set to the print before it, errors add up: the base, to
/// which all others are trapped, comes first, then the finest art, while little has added up; art of unknown fineness last.
pub(super) fn setting_order(order: &Order, shop: &Shop, remarks: &mut Remarks) -> Vec<u32> {
    let accumulates = shop
        .register
        .as_ref()
        .is_some_and(|habit| habit.method.sources.iter().chain(&habit.sources).any(Cause::is_accumulating));
    if accumulates {
        remarks.basis("set", Source::memory("the base first, then the finest art, while little error has added up"));
    }
    order.placements.iter().flat_map(|placement| ranks(placement, accumulates)).collect()
}

fn ranks(placement: &Placement, accumulates: bool) -> Vec<u32> {
    let mut by_turn: Vec<usize> = (0..placement.screens.len()).collect();
    if accumulates {
        let fineness = |index: &usize| match index {
            0 => f64::NEG_INFINITY,
            _ => placement.screens.get(*index).and_then(finest).map_or(f64::INFINITY, Dimensioned::si),
        };
        sorted::by_number(&mut by_turn, fineness);
    }
    let mut ranks = vec![0; by_turn.len()];
    for (turn, index) in (1..).zip(by_turn) {
        if let Some(rank) = ranks.get_mut(index) {
            *rank = turn;
        }
    }
    ranks
}

/// The finest line of a screen's art, where it is known: the finer of the ordered one and that of the artwork, whose dots,
/// where it is a halftone, are no lines.
pub(super) fn finest(screen: &ScreenOrder) -> Option<Length> {
    // In a chain of options the optimiser looks for a halftone before it knows whether there is artwork: harmless, but valgrind reports it.
    let drawn = match &screen.artwork {
        Some(art) if halftone(screen).is_none() => art.finest_line,
        _ => None,
    };
    let lines = screen.finest_line.into_iter().chain(drawn);
    lines.reduce(|one, other| if other < one { other } else { one })
}
