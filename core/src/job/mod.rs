//! The job: an order becomes a run sheet, each part as in the step it belongs to: [`PLAN`]. Calls the steps; none but `shop` calls it.

mod halftones;
mod hiding;
mod machines;
mod meshes;
mod order;
mod proof;
mod quote;
mod registering;
mod rules;
mod screens;
mod settled;
mod sheet;
mod shop;

use order::{ORDER_TRAP, scale_sizes};
pub use order::{Order, Placement, ScreenOrder, SizeOrder};
pub use quote::{
    Blanks, BlanksCharged, CostLine, Crew, DryingHeat, Earned, Extra, ExtraAs, InkPrice, PressHours, Price, PriceBreak,
    PriceLine, QUOTE, Quote, QuoteRequest, Rates, ScreenWork, SizePrice, SizeUnitPrice, Supplied, Work, heat_of_air,
    heat_of_water,
};
pub use sheet::{
    AdditiveSheet, BladeSheet, BlanksSheet, DetailSheet, DryerSheet, ExpectedReading, FlashSheet, HalftoneSheet,
    HeadRole, HeadSheet, HidingSheet, HoursSheet, InkTotal, KeyTone, PlacementSheet, Plan, PressSheet, RegisterSheet,
    RunSheet, ScreenSheet, SignOff, SizeSheet, StackSheet, StencilSheet, Strokes, WashTest,
};
pub use shop::{ExposureTest, Registering, Shop, StencilResists};

use crate::error::Error;
use crate::mesh::Mesh;
use crate::source::Source;
use crate::wire::{Remarks, calculation};
use settled::{Batch, Settled};

calculation! {
    pub const PLAN: Order => Plan = plan;
    id: "job.plan",
    title: "Run sheet",
    question: "The whole order: what does everyone set, mix and prove?",
    asked: ["What do I set up for this order?", "What goes on the run sheet?"],
    headline: [],
    formula: "each part as in its own calculation: mesh.choose, mesh.geometry, stencil.thickness, exposure.step, press.squeegee, ink.deposit, ink.usage, ink.opacity, ink.open_time, artwork.tone, press.run, press.overs, flash.run, dryer.window, register.budget, mesh.moire; blanks by size at confidence^(1 / sizes), so that all sizes together reach the confidence; all prints proved by n good of n: survival at least (1 - confidence)^(1 / n)",
    sources: &[Source::common("what a shop writes on the sheet that goes with a job")],
    example: r#"{
        "title": "Harbour run tees", "pieces": 96, "due": "2027-04-02", "cloth": "cotton-jersey-180-dark",
        "sizes": [{"size": "M", "pieces": 48}, {"size": "L", "pieces": 48}],
        "placements": [{"name": "front", "width": "300 mm", "height": "340 mm", "below_collar": "75 mm", "screens": [
            {"name": "base white", "ink": "plastisol-white", "mesh": "55-64", "coverage_fraction": 0.30, "flash": true},
            {"name": "buoy orange", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.12}]}],
        "shop": {"from": "starter-shop", "exposure": {"time": "95 s", "solid_step": 6, "tested_on": "77-55"}}}"#,
}

/// The run sheet of an order.
///
/// The films, times and blanks are those of the steps' own calculations; where the order or the shop is silent, stock
/// values stand in and `basis` says so.
///
/// # Errors
/// `impossible` where sizes do not add up or the screens do not fit on the press, and what the steps refuse, with the
/// field of the order.
pub(crate) fn plan(order: &Order, remarks: &mut Remarks) -> Result<Plan, Error> {
    let settled = Settled::of(order, remarks)?;
    let Settled { shop, placed, screens, dryer, .. } = &settled;
    let sizes = order.sizes.as_deref().unwrap_or_default();
    let blanks = proof::blanks(order.pieces, sizes, shop, remarks)?;
    let flash = machines::flash(order, shop, placed, screens, blanks.prints(), remarks)?;
    let Batch { mut screens, press, hours } = settled.batch(&flash, blanks.prints(), remarks)?;
    for (placed, screen) in placed.iter().zip(&mut screens) {
        screen.sheet.halftone = halftones::sheet(placed, shop, remarks)?;
    }
    let register = registering::register(order, shop, remarks)?;
    halftones::between(order, remarks);
    let wash_test = proof::wash_test(order, remarks)?;
    let sign_off = proof::sign_off(order, placed, dryer, &flash, remarks);
    proof::cautions(order, placed, remarks);
    Ok(Plan {
        title: order.title.clone(),
        pieces: order.pieces,
        due: order.due.clone(),
        cloth: order.cloth.called("own cloth"),
        placements: order.placements.iter().map(Placement::sheet).collect(),
        ink_totals: screens::totals(&screens).into_iter().map(|(_, total)| total).collect(),
        screens: screens.into_iter().map(|screen| screen.sheet).collect(),
        flash,
        hours,
        press,
        register,
        blanks,
        wash_test,
        sign_off,
        heads: settled.heads,
        dryer: settled.dryer,
    })
}

/// A screen of the order, and what is settled about it before anything is worked out.
struct Placed<'a> {
    /// Which placement, counted from 0.
    index: usize,
    placement: &'a Placement,
    screen: &'a ScreenOrder,
    /// The mesh that was ordered, or the one proposed.
    mesh: Mesh,
    /// JSON pointer to the placement.
    in_placement: String,
    /// JSON pointer to the screen.
    at: String,
    /// Where it stands on the press.
    station: u32,
    /// When it is set to the others of its placement, counted from 1.
    set: u32,
}

impl Placed<'_> {
    /// Whether it is the first screen of its placement.
    fn is_first(&self) -> bool {
        self.placement.screens.first().is_some_and(|first| core::ptr::eq(first, self.screen))
    }
}

/// Every screen of the order, in print order.
///
/// # Errors
/// What [`meshes::proposed`] refuses of a screen without a mesh.
fn placed<'a>(
    order: &'a Order,
    heads: &[HeadSheet],
    set: Vec<u32>,
    remarks: &mut Remarks,
) -> Result<Vec<Placed<'a>>, Error> {
    let stations = heads.iter().filter(|head| head.role == HeadRole::Print).map(|head| head.station);
    let screens = order.placements.iter().enumerate().flat_map(|(index, placement)| {
        placement.screens.iter().enumerate().map(move |(s, screen)| (index, placement, s, screen))
    });
    screens
        .zip(stations.zip(set).zip(0_u32..))
        .map(|((index, placement, s, screen), ((station, set), place))| {
            let in_placement = format!("/placements/{index}");
            let at = format!("{in_placement}/screens/{s}");
            let mesh = meshes::of(order, placement, screen, (place, &at), remarks)?;
            Ok(Placed { index, placement, screen, mesh, in_placement, at, station, set })
        })
        .collect()
}

/// How an ink is called on the sheet.
fn ink_name(screen: &ScreenOrder) -> String {
    screen.ink.called(&format!("own ink of {}", screen.name))
}

/// Where a field of a step's request stands in the order: the first of `moves` that it is or lies under, its head put in
/// the place of the other; what none of them names goes to the empty one's place. None where there is none.
pub(crate) fn moved(field: &str, moves: &[(&str, &str)]) -> Option<String> {
    moves.iter().find_map(|(from, to)| {
        let rest = field.strip_prefix(from)?;
        match from.is_empty() {
            true => Some((*to).to_owned()),
            false => (rest.is_empty() || rest.starts_with('/')).then(|| format!("{to}{rest}")),
        }
    })
}
