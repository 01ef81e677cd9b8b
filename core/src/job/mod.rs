//! The job: an order becomes a run sheet, each part as in the step it belongs to: [`PLAN`]. Calls the steps; no step calls it.

mod halftones;
mod machines;
mod order;
mod proof;
mod registering;
mod screens;
mod sheet;
mod shop;

pub use order::{Order, Placement, ScreenOrder, SizeOrder};
pub use sheet::{
    AdditiveSheet, BladeSheet, BlanksSheet, DetailSheet, DryerSheet, FlashSheet, HalftoneSheet, HeadSheet, InkTotal,
    LimitsSheet, Place, PlacementSheet, Plan, PressSheet, ProbeReading, RegisterSheet, RunSheet, ScreenSheet, SignOff,
    SizeSheet, StackSheet, StencilSheet, Strokes, WashTest, ZoneSheet,
};
pub use shop::{ExposureTest, Registering, Shop};

use crate::error::Error;
use crate::source::Source;
use crate::stock::Stock;
use crate::wire::{Calculation, Remarks, calculation};

/// The shop of an order that names none.
const USUAL_SHOP: &str = "starter-shop";

/// `job.plan`.
pub const PLAN: Calculation = calculation! {
    id: "job.plan",
    title: "Run sheet",
    question: "The whole order: what does everyone set, mix and prove?",
    formula: "each part as in its own calculation: mesh.geometry, stencil.thickness, exposure.step, press.squeegee, ink.deposit, ink.usage, press.run, press.overs, flash.run, dryer.window, register.budget, mesh.moire; blanks by size at confidence^(1 / sizes), so that all sizes together reach the confidence; all prints proved by n good of n: survival at least (1 - confidence)^(1 / n)",
    sources: &[Source::common("what a shop writes on the sheet that goes with a job")],
    example: r#"{
        "title": "Harbour run tees", "pieces": 96, "due": "2027-04-02", "cloth": "cotton-jersey-180-dark",
        "sizes": [{"size": "M", "pieces": 48}, {"size": "L", "pieces": 48}],
        "placements": [{"name": "front", "width": "300 mm", "height": "340 mm", "below_collar": "75 mm", "screens": [
            {"name": "base white", "ink": "plastisol-white", "mesh": "55-64", "coverage_fraction": 0.30, "flash": true},
            {"name": "buoy orange", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.12}]}],
        "shop": {"from": "starter-shop", "exposure": {"time": "95 s", "solid_step": 6, "tested_on": "77-55"}}}"#,
    run: plan as Order => Plan,
};

/// The run sheet of an order.
///
/// The films, times and blanks are those of the steps' own calculations; where the order or the shop is silent, stock
/// values stand in and `basis` says so.
///
/// # Errors
/// `impossible` where sizes do not add up or the screens do not fit on the press, and what the steps refuse, with the
/// field of the order.
pub fn plan(order: &Order, remarks: &mut Remarks) -> Result<Plan, Error> {
    order.check()?;
    let shop = match &order.shop {
        Some(shop) => shop.clone(),
        None => {
            remarks.basis("shop", Source::memory("the starter shop: describe your own"));
            Stock::find(USUAL_SHOP)?
        }
    };
    shop.dryer.check("/shop/dryer")?;
    machines::check_cure(order, remarks)?;
    let blanks = proof::blanks(order, &shop, remarks)?;
    // The prints for the wash test are printed too.
    let prints = blanks.start_with.saturating_add(blanks.for_wash_test);
    let heads = machines::heads(order, &shop)?;
    let mut screens = screens::screens(order, &shop, &heads, prints, remarks)?;
    let dryer = machines::dryer(order, &shop, &screens, remarks)?;
    let flash = machines::flash(order, &shop, &screens, prints, remarks)?;
    let press = machines::press(order, &shop, &dryer, &flash, prints, remarks)?;
    screens::fill_pots(order, &mut screens, &press)?;
    let register = registering::register(order, &shop, remarks)?;
    halftones::between(order, remarks)?;
    let wash_test = proof::wash_test(order, remarks)?;
    let sign_off = proof::sign_off(order, &dryer, &flash, remarks);
    proof::cautions(order, remarks);
    Ok(Plan {
        title: order.title.clone(),
        pieces: order.pieces,
        due: order.due.clone(),
        cloth: order.cloth.called("own cloth"),
        placements: order.placements.iter().map(Placement::sheet).collect(),
        ink_totals: screens::totals(&screens),
        screens: screens.into_iter().map(|screen| screen.sheet).collect(),
        heads,
        flash,
        dryer,
        press,
        register,
        blanks,
        wash_test,
        sign_off,
    })
}

/// A screen of the order and its place in it.
struct Placed<'a> {
    /// Which placement, counted from 0.
    index: usize,
    placement: &'a Placement,
    screen: &'a ScreenOrder,
    /// JSON pointer to the screen.
    at: String,
}

/// Every screen of the order, in print order.
fn every_screen(order: &Order) -> impl Iterator<Item = Placed<'_>> {
    order.placements.iter().enumerate().flat_map(|(index, placement)| {
        placement.screens.iter().enumerate().map(move |(s, screen)| Placed {
            index,
            placement,
            screen,
            at: format!("/placements/{index}/screens/{s}"),
        })
    })
}

/// How an ink is called on the sheet.
fn ink_name(screen: &ScreenOrder) -> String {
    screen.ink.called(&format!("own ink of {}", screen.name))
}
