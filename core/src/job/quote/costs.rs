//! What an order costs the shop, line by line.

use super::rates::{ExtraAs, Rates};
use super::sheet::{CostLine, DryingHeat, PressHours, Supplied};
use super::{Blanks, BlanksCharged, QuoteRequest, drying};
use crate::chance::{at_most, summed};
use crate::error::{Code, Error};
use crate::ink::{Ink, mass_to_mix};
use crate::job::machines::{self, flashes};
use crate::job::order::{Order, SizeOrder};
use crate::job::settled::{Batch, Settled};
use crate::job::sheet::{BlanksSheet, FlashSheet, InkTotal};
use crate::job::{proof, screens};
use crate::money::{Amount, Currency, InkRate, Per, Price as Each, Rate, Ratio};
use crate::press::PressKind;
use crate::quantity::{Dimension, Dimensioned, Energy, Mass, Power, Time, decimal, room, to_places, units};
use crate::root::first;
use crate::unit::InUnit;
use crate::wire::{Given, Record, Remarks, Row};
use core::fmt::Display;
use rust_decimal::prelude::ToPrimitive;

/// What the lines of one number of pieces are worth in rows of equations.
const LINES: u64 = 4_000;

/// What an order of so many pieces costs, and what that stands on.
pub(super) struct Costed {
    pub pieces: u32,
    pub sizes: Vec<SizeOrder>,
    pub blanks: Option<BlanksSheet>,
    pub supplied: Option<Supplied>,
    pub ink_totals: Vec<InkTotal>,
    pub pieces_per_hour: f64,
    pub held_up_by: String,
    pub hours: PressHours,
    pub drying: DryingHeat,
    pub lines: Vec<CostLine>,
    /// What the blanks cost, and all else.
    pub blanks_cost: Amount,
    pub other_cost: Amount,
    pub cost: Amount,
}

/// What is the same for any number of pieces.
pub(super) struct Costing<'a> {
    pub request: &'a QuoteRequest,
    pub order: &'a Order,
    pub settled: Settled<'a>,
    pub flash: Vec<FlashSheet>,
}

impl<'a> Costing<'a> {
    /// Settles what does not hang on the number of pieces.
    ///
    /// # Errors
    /// What the steps refuse.
    pub fn new(request: &'a QuoteRequest, order: &'a Order, remarks: &mut Remarks) -> Result<Self, Error> {
        let settled = Settled::of(order, remarks)?;
        // The cold dwell sets the pace, as on the run sheet: that of the first turn, which no number of pieces changes.
        let turn = settled.shop.press.stations;
        let flash = machines::flash(order, &settled.shop, &settled.placed, &settled.screens, turn, remarks)?;
        Ok(Self { request, order, settled, flash })
    }

    /// Costs so many pieces; where it is not told line by line nothing is put into words.
    ///
    /// # Errors
    /// What the steps refuse; `missing_field` for the cost of a blank; `out_of_range` for more money than can be reckoned with.
    pub fn of(&self, pieces: u32, sizes: &[SizeOrder], told: bool, remarks: &mut Remarks) -> Result<Costed, Error> {
        let Self { request, settled, .. } = self;
        let (rates, shop) = (&request.rates, &settled.shop);
        remarks.work().count(LINES);
        let supplied_by_customer = request.blanks == Some(Blanks::Supplied);
        // Doubts move amounts, not the number of shirts.
        let blanks = remarks.held(pieces, |remarks| proof::blanks(pieces, sizes, shop, remarks))?;
        let supplied = supplied_by_customer.then(|| {
            remarks.work().spend(libm::log2(f64::from(pieces) + 2.0) * summed(pieces, shop.spoilage_fraction));
            supplied(pieces, &blanks, shop.spoilage_fraction, shop.confidence)
        });
        let prints = if supplied_by_customer { pieces } else { blanks.prints() };
        let batch = settled.batch(&self.flash, prints, remarks)?;
        let hours = self.hours(&batch);
        let mut lines = Lines { currency: request.currency, told, list: Vec::new() };
        self.people(&batch, &hours, &mut lines)?;
        let overhead = Amount::sum(request.currency, lines.list.iter().map(|line| &line.amount))?;
        self.screens(&mut lines)?;
        let totals = screens::totals(&batch.screens);
        self.inks(&totals, &mut lines)?;
        let ink_totals = totals.into_iter().map(|(_, total)| total).collect();
        let (drying, load) = self.drying(&batch, prints, remarks);
        self.energy(&drying, &load, &hours, &mut lines)?;
        lines.add("packing", &rates.packing, f64::from(pieces), || counted(pieces, "piece"))?;
        self.extras(pieces, &mut lines)?;
        let amount = Ratio::of(rates.overhead_fraction)?.on(&overhead)?;
        if rates.overhead_fraction > 0.0 {
            let why = format!("{} of labour and press, {overhead}", decimal(rates.overhead_fraction));
            lines.list.push(CostLine { what: "overhead".into(), quantity: None, rate: None, amount, why });
        }
        let other_cost = lines.sum()?;
        let first_blank = lines.list.len();
        if !supplied_by_customer {
            self.blanks(pieces, sizes, &blanks, &mut lines)?;
        }
        let of_blanks = lines.list.iter().skip(first_blank).map(|line| &line.amount);
        let blanks_cost = Amount::sum(request.currency, of_blanks)?;
        Ok(Costed {
            pieces,
            sizes: sizes.to_vec(),
            blanks: (!supplied_by_customer).then_some(blanks),
            supplied,
            ink_totals,
            pieces_per_hour: batch.press.pieces_per_hour,
            held_up_by: batch.press.bottleneck,
            hours,
            drying,
            cost: other_cost.plus(&blanks_cost)?,
            blanks_cost,
            other_cost,
            lines: lines.list,
        })
    }

    fn hours(&self, batch: &Batch) -> PressHours {
        let setup = batch.hours.setup + batch.hours.clearing;
        let run = batch.hours.run / self.request.rates.productive_fraction;
        PressHours { setup, run, total: setup + run }
    }

    /// Labour and press.
    fn people(&self, batch: &Batch, hours: &PressHours, lines: &mut Lines) -> Result<(), Error> {
        let Self { request, settled, .. } = self;
        let rates = &request.rates;
        let usual = match settled.shop.press.kind {
            PressKind::Manual => 1.0,
            PressKind::Automatic => 2.0,
        };
        let (setup, run) = rates.crew.as_ref().map_or((1.0, usual), |crew| (crew.setup, crew.run));
        let all = u32::try_from(settled.placed.len()).unwrap_or(u32::MAX);
        let h = |time: Time| to_places(units::H.value(time), 2);
        let (ready, clear) = (settled.shop.setup_per_screen, settled.shop.teardown_per_screen);
        let minutes = |time: Time| decimal(units::MIN.value(time));
        lines.add("labour: setting up and clearing", &rates.labour, (hours.setup * setup).si(), || {
            format!(
                "{}, {} and {} min each, by {}",
                counted(all, "screen"),
                minutes(ready),
                minutes(clear),
                persons(setup)
            )
        })?;
        lines.add("labour: printing", &rates.labour, (hours.run * run).si(), || {
            format!(
                "{} h printing, which is {} of the hours at the press, by {}",
                h(batch.hours.run),
                decimal(rates.productive_fraction),
                persons(run)
            )
        })?;
        let made = f64::from(self.made());
        let why = |each: Time| format!("{} made, {} min each", counted(self.made(), "screen"), minutes(each));
        let (art, screen) = (rates.art.minutes, rates.screen.minutes);
        lines.add("labour: art", &rates.labour, (made * art).si(), || why(art))?;
        lines.add("labour: screens", &rates.labour, (made * screen).si(), || why(screen))?;
        lines.add("press", &rates.press, hours.total.si(), || {
            format!("{} h to set up and clear, {} h to print", h(hours.setup), h(hours.run))
        })
    }

    /// Screens that are made for this order.
    fn made(&self) -> u32 {
        let made = self.settled.placed.iter().filter(|placed| placed.screen.stored != Some(true)).count();
        u32::try_from(made).unwrap_or(u32::MAX)
    }

    fn screens(&self, lines: &mut Lines) -> Result<(), Error> {
        let rates = &self.request.rates;
        let made = self.settled.placed.iter().filter(|placed| placed.screen.stored != Some(true));
        let stored = self.settled.placed.len().saturating_sub(self.made() as usize);
        let why = || match stored {
            0 => "one for each screen".to_owned(),
            _ => format!("one for each screen, but for the {stored} that are kept from before"),
        };
        let films = match rates.film.per() {
            None => f64::from(self.made()),
            Some(_) => made.map(|placed| (placed.placement.width * placed.placement.height).si()).sum(),
        };
        lines.add("film", &rates.film, films, why)?;
        lines.add("screens: materials", &rates.screen.materials, f64::from(self.made()), why)
    }

    /// Ink that is used up: what is ready, less what goes back to the tub.
    fn inks(&self, totals: &[(&Ink, InkTotal)], lines: &mut Lines) -> Result<(), Error> {
        let rates = &self.request.rates;
        for (ink, total) in totals {
            // What is mixed to be used within hours is lost with what the screens hold at the end.
            let keeps = ink.pot_life.is_none();
            let used = match keeps {
                true => mass_to_mix(total.mass_printed, self.settled.shop.waste_fraction, units::G.of(0.0)),
                false => total.mass_to_mix,
            };
            let rate = rates.ink_rate(&total.colour, stock_name(ink));
            let si = match rate.per().map(|unit| unit.dimension) {
                Some(Dimension::Volume) => (used / ink.density).si(),
                _ => used.si(),
            };
            lines.add(format_args!("ink: {} ({})", total.colour, total.ink), rate, si, || {
                let grams = |mass: Mass| to_places(units::G.value(mass), 0);
                let ready = total.mass_to_mix;
                match keeps {
                    true => format!("{} g to have ready, {} g go back to the tub", grams(ready), grams(ready - used)),
                    false => format!("{} g to have ready: once mixed it does not keep", grams(ready)),
                }
            })?;
        }
        Ok(())
    }

    /// The heat of the dryer, and what takes it up.
    fn drying(&self, batch: &Batch, prints: u32, remarks: &mut Remarks) -> (DryingHeat, drying::Load) {
        let Self { request, order, settled, .. } = self;
        let rates = &request.rates;
        let cloth = &order.cloth;
        let each: Mass = cloth.mass_per_area * rates.cloth_per_piece;
        let in_ink = batch.screens.iter().zip(&settled.placed).fold(units::G.of(0.0), |sum, (screen, placed)| {
            sum + screen.sheet.mass_per_print * placed.screen.ink.water_fraction
        });
        let prints = f64::from(prints);
        let passes = order.placements.len() as f64;
        let load = drying::Load {
            // Each print sends the shirt through again; the water of the cloth leaves once.
            cloth: prints * passes * each,
            specific_heat: cloth.specific_heat,
            water: prints * (cloth.regain_fraction * each + in_ink),
            reaches: settled.dryer.probe_readings.last().map_or(room(), |reading| reading.expect),
        };
        cloth.cite(&["mass_per_area", "specific_heat", "regain_fraction"], remarks);
        let heat = drying::heat(&settled.shop.dryer, &load, rates.dryer_efficiency_fraction, remarks);
        (heat, load)
    }

    fn energy(
        &self,
        drying: &DryingHeat,
        load: &drying::Load,
        hours: &PressHours,
        lines: &mut Lines,
    ) -> Result<(), Error> {
        let rates = &self.request.rates;
        lines.add("energy: heat in the dryer", &rates.energy, drying.drawn.si(), || {
            let mj = |energy: Energy| to_places(units::MJ.value(energy), 1);
            format!(
                "{} kg of cloth {} MJ, {} kg of water {} MJ, the air that carries it off {} MJ, over an efficiency of {}",
                to_places(load.cloth.si(), 1),
                mj(drying.cloth),
                to_places(load.water.si(), 2),
                mj(drying.water),
                mj(drying.air),
                decimal(rates.dryer_efficiency_fraction)
            )
        })?;
        let on = |power: Power| {
            format!(
                "{} kW for {} h of printing",
                decimal(units::KW.value(power)),
                to_places(units::H.value(hours.run), 2)
            )
        };
        if let Some(power) = rates.dryer_power {
            let energy: Energy = power * hours.run;
            lines.add("energy: dryer held on", &rates.energy, energy.si(), || on(power))?;
        }
        let flashed = self.order.placements.iter().flat_map(|placement| &placement.screens).any(flashes);
        if let Some(power) = rates.flash_power.filter(|_| flashed) {
            let energy: Energy = power * hours.run;
            lines.add("energy: flash held on", &rates.energy, energy.si(), || on(power))?;
        }
        Ok(())
    }

    fn extras(&self, pieces: u32, lines: &mut Lines) -> Result<(), Error> {
        for extra in self.request.rates.extras.iter().flatten().filter(|extra| extra.r#as == ExtraAs::Cost) {
            if let Some(each) = &extra.each {
                lines.add(&extra.name, each, f64::from(pieces), || counted(pieces, "piece"))?;
            }
            if let Some(once) = &extra.once {
                lines.add(&extra.name, once, 1.0, || "once for the order".to_owned())?;
            }
        }
        Ok(())
    }

    /// Blanks by what they cost; those of the wash test are of any size, and so of the one that costs least.
    fn blanks(&self, pieces: u32, sizes: &[SizeOrder], sheet: &BlanksSheet, lines: &mut Lines) -> Result<(), Error> {
        let Self { request, settled, .. } = self;
        let all = request.price.blanks_charged == Some(BlanksCharged::All);
        let spoilage = settled.shop.spoilage_fraction;
        let charged = |pieces: u32, start_with: u32| {
            if all { f64::from(start_with) } else { f64::from(pieces) / (1.0 - spoilage) }
        };
        let mut groups: Vec<(Each, f64, u32, Vec<&str>)> = Vec::new();
        if sizes.is_empty() {
            groups.push((request.rates.blank_of(None)?, charged(pieces, sheet.start_with), pieces, Vec::new()));
        }
        for (size, begun) in sizes.iter().zip(&sheet.sizes).filter(|(size, _)| size.pieces > 0) {
            let rate = request.rates.blank_of(Some(&size.size))?;
            let count = charged(size.pieces, begun.start_with);
            match groups.iter_mut().find(|(known, ..)| known.value() == rate.value()) {
                Some((_, sum, ordered, names)) => {
                    *sum += count;
                    *ordered = ordered.saturating_add(size.pieces);
                    names.push(&size.size);
                }
                None => groups.push((rate, count, size.pieces, vec![&size.size])),
            }
        }
        let cheapest = groups.iter().map(|(rate, ..)| rate.value()).min();
        let mut washed = sheet.for_wash_test;
        for (rate, count, ordered, names) in groups {
            // Once, should two cost the same.
            let wash = if Some(rate.value()) == cheapest { core::mem::take(&mut washed) } else { 0 };
            let what = if names.is_empty() { "blanks".to_owned() } else { format!("blanks: {}", names.join(", ")) };
            lines.add(&what, &rate, count + f64::from(wash), || {
                let how = if all {
                    "all that are started with".to_owned()
                } else {
                    format!("{ordered} good ones at a spoilage of {}", decimal(spoilage))
                };
                if wash > 0 { format!("{how}, and {wash} for the wash test") } else { how }
            })?;
        }
        Ok(())
    }
}

/// What becomes of blanks that cannot be made good.
fn supplied(pieces: u32, blanks: &BlanksSheet, spoilage: f64, confidence: f64) -> Supplied {
    let for_wash_test = blanks.for_wash_test.min(pieces);
    let printed = pieces.saturating_sub(for_wash_test);
    // The fewest spoiled ones that are not exceeded with the chance wanted.
    let chance = |spoiled: u32| at_most(spoiled, printed, spoilage);
    let spoiled = if chance(0) >= confidence { 0 } else { first(0, printed, |spoiled| chance(spoiled) >= confidence) };
    Supplied {
        pieces,
        for_wash_test,
        expected_good: f64::from(printed) * (1.0 - spoilage),
        least_good: printed.saturating_sub(spoiled),
        probability: chance(spoiled),
    }
}

/// The name of the stock row that an ink comes from; empty for a shop's own.
fn stock_name(ink: &Ink) -> &'static str {
    ink.given().and_then(Given::row).map_or("", Row::name)
}

/// So many things in words.
fn counted(count: u32, thing: &str) -> String {
    format!("{count} {thing}{}", if count == 1 { "" } else { "s" })
}

fn persons(count: f64) -> String {
    let one = (count - 1.0).abs() < 1e-9;
    format!("{} {}", decimal(count), if one { "person" } else { "persons" })
}

/// Cost lines as they are put together.
struct Lines {
    currency: Currency,
    /// Whether they are put into words.
    told: bool,
    list: Vec<CostLine>,
}

impl Lines {
    /// Adds a line of so much, in SI base units or in pieces; nothing of nothing.
    fn add<P: Per>(
        &mut self,
        what: impl Display,
        rate: &Rate<P>,
        si: f64,
        why: impl FnOnce() -> String,
    ) -> Result<(), Error> {
        if si.abs() <= 0.0 {
            return Ok(());
        }
        let unit = rate.per().unwrap_or(&units::ONE);
        let count = unit.from_si(si);
        let known = rate.times(count, self.currency);
        let rounded = known.map(|(rounded, _)| rounded.to_f64().unwrap_or(count));
        let amount = Amount::new(known.map(|(_, money)| money), count * rate.number())?;
        self.list.push(CostLine {
            what: if self.told { what.to_string() } else { String::new() },
            quantity: Some(InUnit::of(rounded.unwrap_or(count), unit)),
            rate: Some(rate.any().or_in(self.currency)),
            amount,
            why: if self.told { why() } else { String::new() },
        });
        Ok(())
    }

    fn sum(&self) -> Result<Amount, Error> {
        Amount::sum(self.currency, self.list.iter().map(|line| &line.amount))
    }
}

impl Rates {
    /// What an ink costs, by its colour in the order or else by its stock name.
    fn ink_rate(&self, colour: &str, name: &str) -> &InkRate {
        let by_name = self.ink_by_name.as_deref().unwrap_or_default();
        let found = |wanted: &str| by_name.iter().find(|price| price.ink == wanted);
        found(colour).or_else(|| found(name)).map_or(&self.ink, |price| &price.rate)
    }

    /// What a blank of this size costs.
    ///
    /// # Errors
    /// `missing_field` where neither its size nor blanks at all have a price.
    pub(super) fn blank_of(&self, size: Option<&str>) -> Result<Each, Error> {
        let by_size = self.blank_by_size.as_deref().unwrap_or_default();
        let of_size = by_size.iter().find(|price| Some(price.size.as_str()) == size).map(|price| price.each);
        of_size.or(self.blank).ok_or_else(|| {
            let message = size.map_or_else(
                || "the quote needs the cost of a blank, unless the customer supplies them".to_owned(),
                |size| format!("the quote needs the cost of a blank of size {size}, unless the customer supplies them"),
            );
            Error::new(Code::MissingField, "/rates/blank", message).allowed(["blank", "blank_by_size"])
        })
    }
}
