//! What an order costs and what is charged for it, as text: a page for the shop with everything, and the customer's copy without costs.

use crate::sheet::{folded, table_of_amounts};
use floodbar::job::{Placement, Quote, QuoteRequest};
use floodbar::money::Amount;
use floodbar::note::Level;
use floodbar::quantity::{Time, units};
use floodbar::wire::Answered;
use floodbar_examples::{Say, number};
use std::collections::BTreeSet;

/// What both pages are made from.
pub struct Pages<'a> {
    pub quote: &'a Answered<Quote>,
    pub request: &'a QuoteRequest,
    pub say: Say,
}

fn hours(time: Time) -> String {
    format!("{:.2} h", units::H.value(time))
}

fn percent(share: f64) -> String {
    format!("{:.1} %", 100.0 * share)
}

/// Parts of a page, those that are empty left out.
fn page(parts: impl IntoIterator<Item = String>) -> String {
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("\n\n")
}

impl Pages<'_> {
    fn head(&self, what: &str) -> String {
        let quote = self.quote;
        let due = quote.due.as_ref().map(|due| format!("    due {due}")).unwrap_or_default();
        let whose = if quote.supplied.is_some() { " of the customer's own" } else { "" };
        let title = quote.title.as_deref().unwrap_or("Untitled order");
        format!("{what}    {title}    {} pieces{whose}{due}", quote.pieces)
    }

    /// An amount, and how far it may be off where the request has doubts that it hangs on.
    fn doubted(&self, amount: &Amount, pointer: &str) -> String {
        match self.quote.half_width(pointer) {
            Some(half_width) => format!("{amount} +/- {}", floodbar_examples::half_width(half_width)),
            None => amount.to_string(),
        }
    }

    /// The page for the shop: costs line by line, how the price is made of them, what is earned, and other quantities.
    pub fn costs(&self) -> String {
        let quote = self.quote;
        let lines = quote.cost_lines.iter().map(|line| {
            let quantity = line.quantity.map(|quantity| {
                let unit = if quantity.unit().name == "1" { "" } else { quantity.unit().name };
                format!("{} {unit}", number(quantity.value())).trim().to_owned()
            });
            [
                line.what.clone(),
                quantity.unwrap_or_default(),
                line.rate.map(|rate| rate.to_string()).unwrap_or_default(),
                line.amount.to_string(),
                line.why.clone(),
            ]
        });
        let cost = ["cost".into(), String::new(), String::new(), self.doubted(&quote.cost, "/cost"), String::new()];
        page([
            self.head("QUOTE"),
            self.notes(),
            format!(
                "COSTS\n{}",
                table_of_amounts(["for", "quantity", "at", "amount", "why"], &[1, 2, 3], lines.chain([cost]))
            ),
            format!("PRICE\n{}", self.price()),
            self.sizes(),
            self.earned(),
            self.breaks(),
        ])
    }

    /// The customer's copy: what is printed, what it costs them, and on what terms.
    pub fn offer(&self) -> String {
        let quote = self.quote;
        let once = (!quote.once.amount().is_zero()).then(|| format!("charged once: {}", quote.once));
        let each = quote.unit_prices.is_empty().then(|| format!("{} each", quote.unit_price));
        let deposit = quote.deposit.as_ref().map(|deposit| format!("{deposit} before the work begins"));
        let stands = quote.valid_days.map(|days| format!("This offer stands for {days} days."));
        let facts = [each, once, deposit].into_iter().flatten().collect::<Vec<_>>().join("\n");
        page([
            self.head("OFFER"),
            self.prints(),
            self.sizes(),
            format!("PRICE\n{}", self.price()),
            facts,
            self.offered_breaks(),
            stands.unwrap_or_default(),
            quote.terms.as_deref().map(folded).unwrap_or_default(),
        ])
    }

    fn notes(&self) -> String {
        let said = self.quote.notes().iter().filter(|note| note.level != Level::Info);
        let mut lines: Vec<(bool, String)> = said
            .map(|note| {
                let stop = note.level == Level::Limit;
                (!stop, folded(&format!("{} {}", if stop { "STOP:" } else { "!" }, note.message)))
            })
            .collect();
        // What cannot work comes first.
        lines.sort_by_key(|(later, _)| *later);
        let mut seen = BTreeSet::new();
        lines.retain(|(_, line)| seen.insert(line.clone()));
        lines.into_iter().map(|(_, line)| line).collect::<Vec<_>>().join("\n")
    }

    fn price(&self) -> String {
        let quote = self.quote;
        let mut rows: Vec<[String; 2]> =
            quote.price_lines.iter().map(|line| [line.what.clone(), line.amount.to_string()]).collect();
        rows.push(["total".into(), self.doubted(&quote.total, "/total")]);
        if let Some(tax) = quote.tax.filter(|_| self.request.price.prices_include_tax == Some(true)) {
            rows.push(["of which tax".into(), tax.to_string()]);
        }
        table_of_amounts(["for", "amount"], &[1], rows)
    }

    fn sizes(&self) -> String {
        if self.quote.unit_prices.is_empty() {
            return String::new();
        }
        let rows = self
            .quote
            .unit_prices
            .iter()
            .map(|size| [size.size.clone(), size.pieces.to_string(), size.unit_price.to_string()]);
        format!("SIZES\n{}", table_of_amounts(["size", "pieces", "each"], &[1, 2], rows))
    }

    /// What is printed, in the customer's words.
    fn prints(&self) -> String {
        let row = |placement: &Placement| {
            [
                placement.name.clone(),
                format!("{} x {}", self.say.print(placement.width), self.say.print(placement.height)),
                match placement.screens.len() {
                    1 => "1 colour".to_owned(),
                    count => format!("{count} colours"),
                },
            ]
        };
        format!(
            "PRINTS\n{}",
            table_of_amounts(["where", "size", "printed in"], &[], self.request.placements.iter().map(row))
        )
    }

    fn earned(&self) -> String {
        let quote = self.quote;
        let mut text = format!("EARNED\n{} of profit", self.doubted(&quote.profit, "/profit"));
        if let Some(margin) = quote.margin_fraction {
            text += &format!(", {} of the price before tax and freight", percent(margin.value()));
        }
        if let Some(hourly) = &quote.profit_per_press_hour {
            text += &format!("; {hourly} for each of {} at the press", hours(quote.hours.total));
        }
        text += &format!(
            "\n{} to set up and clear, {} to print at {} pieces an hour while it runs, held up by: {}",
            hours(quote.hours.setup),
            hours(quote.hours.run),
            number(quote.pieces_per_hour),
            quote.held_up_by
        );
        if let Some(supplied) = &quote.supplied {
            text += &format!(
                "\nof {} shirts supplied {} go to the wash test and at least {} come out good, with a chance of {}",
                supplied.pieces,
                supplied.for_wash_test,
                supplied.least_good,
                percent(supplied.probability)
            );
        }
        if let Some(earned) = &quote.at_unit_price {
            text += &format!("\nat {} each: {} in all, {} of profit", earned.unit_price, earned.total, earned.profit);
            if let Some(hourly) = &earned.profit_per_press_hour {
                text += &format!(", {hourly} an hour of the press");
            }
        }
        text.lines().map(folded).collect::<Vec<_>>().join("\n")
    }

    fn breaks(&self) -> String {
        if self.quote.price_breaks.is_empty() {
            return String::new();
        }
        let rows = self.quote.price_breaks.iter().map(|at| {
            [
                at.pieces.to_string(),
                at.unit_price.to_string(),
                at.total.to_string(),
                at.cost.to_string(),
                at.profit.to_string(),
                hours(at.hours),
                at.held_up_by.clone(),
            ]
        });
        format!(
            "OTHER QUANTITIES\n{}",
            table_of_amounts(
                ["pieces", "each", "total", "cost", "profit", "press", "held up by"],
                &[0, 1, 2, 3, 4, 5],
                rows
            )
        )
    }

    fn offered_breaks(&self) -> String {
        if self.quote.price_breaks.is_empty() {
            return String::new();
        }
        let rows = self
            .quote
            .price_breaks
            .iter()
            .map(|at| [at.pieces.to_string(), at.unit_price.to_string(), at.total.to_string()]);
        let sizes = if self.quote.unit_prices.is_empty() { "" } else { ", each of the size that costs least" };
        format!("OTHER QUANTITIES{sizes}\n{}", table_of_amounts(["pieces", "each", "total"], &[0, 1, 2], rows))
    }
}
