//! The order: what is to be printed, on what, by whom.

use super::sheet::PlacementSheet;
use crate::artwork::{ArtworkMeasure, Halftone};
use crate::error::{Code, Error};
use crate::exposure::MESH_FACTOR;
use crate::ink::{COVERAGE, FLOODS, HITS, Ink, SIDE, STROKES};
use crate::mesh::Mesh;
use crate::quantity::{Length, Rank, Rules, reaches, units};
use crate::register::TRAP;
use crate::sharing::largest_remainders;
use crate::source::Source;
use crate::stencil::COATED;
use crate::wire::{Choice, Record, Slot, View, request};
use serde_json::Value;
use std::collections::BTreeSet;

const BELOW_COLLAR: Rules = Rules::range(units::MM, 0.0, 2_000.0).usual(20.0, 300.0);
const LINE: Rules = Rules::range(units::MM, 0.01, 1_000.0).usual(0.1, 20.0);

pub(super) const ORDER_TRAP: Rules = TRAP.or(0.5, Source::memory("0.35-0.7 mm on garments"));

/// What a sheet holds at the most.
const MOST_PLACEMENTS: usize = 12;
const MOST_SCREENS: usize = 24;
const MOST_SIZES: usize = 100;
/// Characters of a name and of a title.
const MOST_NAME: usize = 40;
const MOST_TITLE: usize = 70;

request! {
    /// Pieces of one size.
    pub struct SizeOrder {
        /// The size on the label.
        size "Size": String,
        /// Pieces of that size.
        pieces "Pieces ordered": u32 where Rules::count(0.0),
    }
}

request! {
    /// A screen of a placement, in print order.
    pub struct ScreenOrder {
        /// What the screen is called.
        name "Screen": String,
        /// The ink of the screen.
        ink "Ink": Ink,
        /// The colour of the ink; screens of one colour are mixed together.
        colour "Colour": Option<String> where Rules::NONE.unless_given("the screen's name"),
        /// The mesh of the screen.
        mesh "Mesh": Option<Mesh> where Rules::NONE.rank(Rank::First).unless_given("the one of mesh.choose that suits ink, art and cloth"),
        /// Covered share of the placement's box; or give the artwork.
        coverage_fraction "Covered share": Option<f64> where COVERAGE.rank(Rank::First).group("The printed area"),
        /// The answer of artwork.measure for the screen's separation; or give the covered share.
        artwork "Measured artwork": Option<ArtworkMeasure> where Rules::NONE.rank(Rank::First).group("The printed area"),
        /// The halftone of the screen.
        halftone "Halftone": Option<Halftone>
            where Rules::NONE.group("Fine detail").unless_given("as the artwork shows it"),
        /// Prints of the same screen with a flash between them.
        hits "Number of hits": Option<u32> where HITS.group("The strokes"),
        /// Whether the screen's print is flashed before the next colour.
        flash "Flash after it": Option<bool> where Rules::NONE.group("The strokes").unless_given("no"),
        /// Flood strokes before the print strokes.
        flood_strokes "Flood strokes": Option<u32> where FLOODS.group("The strokes").unless_given("the ink's own"),
        /// Print strokes of one hit.
        print_strokes "Print strokes": Option<u32> where STROKES.group("The strokes").unless_given("the ink's own"),
        /// The finest line of the art.
        finest_line "Finest line in art": Option<Length> where LINE.group("Fine detail"),
        /// Thickness of mesh and stencil together, by gauge.
        coated_thickness "Coated thickness": Option<Length> where COATED.group("The stencil"),
        /// The mesh's exposure factor against white mesh; 1.5 to 2 for dyed (from memory).
        mesh_factor "Mesh exposure factor": Option<f64> where MESH_FACTOR.group("The stencil"),
        /// Whether the screen is kept from an earlier order, its stencil on it: nothing is exposed, and it only has to be set up.
        stored "Kept from before": Option<bool> where Rules::NONE.group("The stencil").unless_given("no"),
    }
    chooses(Choice::One(&[&["coverage_fraction"], &["artwork"]]))
}

request! {
    /// A print on the shirt.
    pub struct Placement {
        /// Where the print is on the shirt.
        name "Placement": String,
        /// Width of the print, across the stroke.
        width "Print width": Length where SIDE,
        /// Height of the print, along the stroke.
        height "Print height": Length where SIDE,
        /// From the collar seam to the top of the print.
        below_collar "Below the collar": Option<Length> where BELOW_COLLAR,
        /// The screens, in print order.
        screens "Screens": Vec<ScreenOrder>,
    }
}

/// Declares an order, and what more a request has that is one: the fields of an order are written here and nowhere else.
macro_rules! order {
    ($(#[doc = $doc:literal])* pub struct $name:ident { $($more:tt)* } $($tail:tt)*) => {
        $crate::wire::request! {
            $(#[doc = $doc])*
            pub struct $name {
                /// What the order is called.
                title "Order name": Option<String> where $crate::quantity::Rules::NONE.group("The order"),
                /// Good pieces ordered; of blanks that the customer supplies, so many of these.
                pieces "Pieces ordered": u32 where $crate::quantity::Rules::count(1.0).group("The order"),
                /// When the order is due: a date, as 2027-05-14 (ISO 8601).
                due "Due date": Option<String> where $crate::quantity::Rules::NONE.group("The order"),
                /// The cloth of the shirts.
                cloth "Cloth": $crate::cloth::Cloth where $crate::quantity::Rules::NONE.group("The print"),
                /// Pieces by size; they add up to the pieces.
                sizes "Sizes": Option<Vec<$crate::job::SizeOrder>> where $crate::quantity::Rules::NONE.group("The order"),
                /// The prints on a shirt.
                placements "Placements": Vec<$crate::job::Placement> where $crate::quantity::Rules::NONE.group("The print"),
                /// By how much neighbouring colours overlap.
                trap "Trap": $crate::quantity::Length where $crate::job::ORDER_TRAP.group("The print"),
                /// The shop that prints it.
                shop "Shop": Option<$crate::job::Shop> where $crate::quantity::Rules::NONE.unless_given("the starter shop"),
                $($more)*
            }
            varied($crate::job::scale_sizes)
            $($tail)*
        }
    };
}
pub(super) use order;

order! {
    /// An order.
    pub struct Order {}
}

/// Where the pieces are varied the sizes go with them, by largest remainders.
pub(super) fn scale_sizes(order: &mut dyn Record, field: usize) {
    let place = |record: &dyn Record, name: &str| record.table().find(name);
    if place(order, "pieces") != Some(field) {
        return;
    }
    let (View::Count(pieces), Some(sizes)) = (order.view(field), place(order, "sizes")) else { return };
    let View::List(list) = order.view(sizes) else { return };
    let ordered = |item: &View<'_>| {
        if let View::Record(size) = item
            && let Some(index) = place(*size, "pieces")
            && let View::Count(count) = size.view(index)
        {
            return u64::from(count);
        }
        0
    };
    let counts: Vec<u64> = (0..list.count()).map(|index| ordered(&list.item(index))).collect();
    let scaled = largest_remainders(i64::from(pieces), &counts);
    let Some(Slot::List(list, _)) = order.slot(sizes) else { return };
    for (index, count) in scaled.into_iter().enumerate() {
        if let Some(Slot::Record(size)) = list.item_mut(index)
            && let Some(place) = place(size, "pieces")
            && let Some(Slot::Count(pieces)) = size.slot(place)
        {
            *pieces = u32::try_from(count).unwrap_or(u32::MAX);
        }
    }
}

/// A list short enough for a sheet.
fn counted(field: &str, count: usize, most: usize) -> Result<(), Error> {
    if count > most {
        return Err(
            Error::new(Code::TooLong, field, format!("{count} entries")).allowed([format!("at most {most} entries")])
        );
    }
    Ok(())
}

/// A name that can be printed on a sheet: some characters, not too many, none of them control characters.
fn named(field: &str, name: &str, most: usize) -> Result<(), Error> {
    let length = name.chars().count();
    if name.trim().is_empty() || length > most || name.chars().any(char::is_control) {
        return Err(Error::new(Code::OutOfRange, field, "this goes on the sheet: some text, short, on one line")
            .got(&Value::from(name))
            .allowed([format!("1 to {most} characters, none of them control characters")]));
    }
    Ok(())
}

/// Names that tell their things apart.
fn unlike<'a>(list: &str, member: &str, names: impl Iterator<Item = &'a str>) -> Result<(), Error> {
    let mut seen = BTreeSet::new();
    for (index, name) in names.enumerate() {
        let field = format!("{list}/{index}/{member}");
        named(&field, name, MOST_NAME)?;
        if !seen.insert(name) {
            return Err(Error::new(Code::Impossible, field, "this name stands twice: each needs its own")
                .got(&Value::from(name)));
        }
    }
    Ok(())
}

/// Whether this is a day of the Gregorian calendar, as year-month-day (ISO 8601).
fn is_date(text: &str) -> bool {
    let mut parts =
        text.splitn(3, '-').map(|part| part.parse::<u32>().ok().filter(|_| part.bytes().all(|b| b.is_ascii_digit())));
    let (Some(Some(year)), Some(Some(month)), Some(Some(day))) = (parts.next(), parts.next(), parts.next()) else {
        return false;
    };
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let days = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    text.len() == 10 && text.get(4..5) == Some("-") && text.get(7..8) == Some("-") && (1..=days).contains(&day)
}

impl Placement {
    /// Its part of the run sheet.
    pub(super) fn sheet(&self) -> PlacementSheet {
        PlacementSheet {
            name: self.name.clone(),
            width: self.width,
            height: self.height,
            below_collar: self.below_collar,
        }
    }
}

impl Order {
    /// What the fields cannot say one by one.
    ///
    /// # Errors
    /// `impossible` where the sizes do not add up; `out_of_range` for an empty list; the area of a screen given twice or not at all.
    pub fn check(&self) -> Result<(), Error> {
        if let Some(sizes) = &self.sizes {
            let sum = sizes.iter().fold(0_u64, |sum, size| sum.saturating_add(size.pieces.into()));
            if sum != u64::from(self.pieces) {
                return Err(Error::new(
                    Code::Impossible,
                    "/sizes",
                    format!("the sizes add up to {sum}, the order is for {}", self.pieces),
                )
                .got(&Value::from(sum))
                .allowed([format!("sizes that add up to {}", self.pieces)]));
            }
        }
        let empty = |field: String, what: &str| {
            Err(Error::new(Code::OutOfRange, field, format!("there is no {what}"))
                .allowed([format!("at least one {what}")]))
        };
        if self.placements.is_empty() {
            return empty("/placements".into(), "placement");
        }
        counted("/placements", self.placements.len(), MOST_PLACEMENTS)?;
        named("/title", self.title.as_deref().unwrap_or("-"), MOST_TITLE)?;
        if let Some(due) = self.due.as_deref().filter(|due| !is_date(due)) {
            return Err(Error::new(Code::OutOfRange, "/due", "there is no such day")
                .got(&Value::from(due))
                .allowed(["a date: year-month-day, such as 2027-05-14"]));
        }
        let sizes = self.sizes.as_deref().unwrap_or_default();
        counted("/sizes", sizes.len(), MOST_SIZES)?;
        unlike("/sizes", "size", sizes.iter().map(|size| size.size.as_str()))?;
        unlike("/placements", "name", self.placements.iter().map(|placement| placement.name.as_str()))?;
        for (p, placement) in self.placements.iter().enumerate() {
            if placement.screens.is_empty() {
                return empty(format!("/placements/{p}/screens"), "screen");
            }
            counted(&format!("/placements/{p}/screens"), placement.screens.len(), MOST_SCREENS)?;
            unlike(
                &format!("/placements/{p}/screens"),
                "name",
                placement.screens.iter().map(|screen| screen.name.as_str()),
            )?;
            for (s, screen) in placement.screens.iter().enumerate() {
                let at = format!("/placements/{p}/screens/{s}");
                match (screen.coverage_fraction, &screen.artwork) {
                    (None, None) => {
                        return Err(Error::new(
                            Code::MissingField,
                            format!("{at}/coverage_fraction"),
                            "how much does it cover? Give coverage_fraction or artwork",
                        )
                        .allowed(["coverage_fraction", "artwork"]));
                    }
                    (Some(_), Some(_)) => {
                        return Err(Error::new(
                            Code::Impossible,
                            format!("{at}/artwork"),
                            "the covered area is given twice: give coverage_fraction or artwork",
                        ));
                    }
                    (None, Some(artwork)) if !reaches(placement.width * placement.height, artwork.printed_area) => {
                        return Err(Error::new(
                            Code::Impossible,
                            format!("{at}/artwork/printed_area"),
                            "the artwork prints more than the whole box of its placement: check width, height and resolution",
                        ));
                    }
                    _ => {}
                }
            }
        }
        Ok(())
    }
}
