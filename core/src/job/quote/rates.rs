//! What things cost the shop.

use crate::error::{Code, Error};
use crate::money::{EnergyRate, InkRate, Price as Each, SheetRate, TimeRate};
use crate::quantity::{Area, Power, Rules, Time, units};
use crate::source::Source;
use crate::wire::{At, Choice, Record, Remarks, request, words};
use serde_json::Value;

const PERSONS: Rules = Rules::range(units::ONE, 0.0, 100.0).usual(0.5, 6.0);
const MINUTES: Rules = Rules::range(units::MIN, 0.0, 10_000.0).usual(0.0, 240.0);
const PRODUCTIVE: Rules = Rules::range(units::ONE, 0.01, 1.0).usual(0.25, 0.95);
const EFFICIENT: Rules = Rules::range(units::ONE, 0.01, 1.0).usual(0.1, 0.9);
const OVERHEAD: Rules = Rules::range(units::ONE, 0.0, 10.0).usual(0.0, 2.0);
const HELD_ON: Rules = Rules::range(units::KW, 0.0, 1_000.0).usual(0.1, 60.0);
const PIECE: Rules = Rules::range(units::M2, 0.001, 100.0).usual(0.1, 5.0);

request! {
    /// How many persons work on an order.
    pub struct Crew {
        /// Persons who set up and clear the press.
        setup "Persons setting up": f64 where PERSONS,
        /// Persons at the press while it runs.
        run "Persons printing": f64 where PERSONS,
    }
    inside("stock")
}

request! {
    /// Work by the clock.
    pub struct Work {
        /// How long it takes.
        minutes "Time it takes": Time where MINUTES,
    }
    inside("stock")
}

request! {
    /// Making a screen: degreased, coated, exposed, washed out, taped; reclaimed after it.
    pub struct ScreenWork {
        /// What a screen uses up: emulsion, tape, cleaners.
        materials "Materials per screen": Each,
        /// Work on a screen away from the press.
        minutes "Work per screen": Time where MINUTES,
    }
    inside("stock")
}

request! {
    /// What a blank of one size costs.
    pub struct SizePrice {
        /// The size on the label.
        size "Size": String,
        /// Cost of a blank of that size.
        each "Cost of a blank": Each,
    }
}

request! {
    /// What one ink costs.
    pub struct InkPrice {
        /// The ink: its colour in the order, or its stock name.
        ink "Ink or colour": String,
        /// Its cost by mass or volume.
        rate "Cost of the ink": InkRate,
    }
    inside("stock")
}

words! {
    /// On which side of the quote something stands.
    pub enum ExtraAs ("side of a quote") {
        /// The shop pays it; profit comes on top.
        Cost = "cost",
        /// The customer is charged this.
        Price = "price",
    }
}

request! {
    /// Something beside the print: folding, a colour match, a neck label.
    pub struct Extra {
        /// What it is.
        name "What it is": String,
        /// Money for each piece ordered; or give once.
        each "For each piece": Option<Each>,
        /// Money for the whole order; or give each.
        once "Once": Option<Each>,
        /// Whether it is what the shop pays, or what the customer is charged.
        r#as "Pays or is charged": ExtraAs,
    }
    chooses(Choice::One(&[&["each"], &["once"]]))
    fits(once_or_each)
}

/// Refuses an extra without a price, or with two.
fn once_or_each(extra: &dyn Record, at: At<'_>, _value: &Value, _remarks: &mut Remarks) -> Result<(), Error> {
    let Some(extra) = extra.to::<Extra>() else { return Ok(()) };
    match (&extra.each, &extra.once) {
        (None, None) => Err(crate::wire::one_of::<Extra>(at)),
        (Some(_), Some(_)) => {
            Err(Error::new(Code::Impossible, at.key("once"), "this is given twice: give each or once"))
        }
        _ => Ok(()),
    }
}

request! {
    /// What things cost a shop.
    pub struct Rates {
        /// A person's paid hour, with all that the shop pays on top of the wage.
        labour "Labour": TimeRate where Rules::NONE.group("People"),
        /// How many persons work on it.
        crew "Crew": Option<Crew> where Rules::NONE.group("People").unless_given("1 to set up; to print 1 by hand, 2 on an automatic"),
        /// Share of the paid hours at the press in which it prints.
        productive_fraction "Share spent printing": f64 where PRODUCTIVE.group("People"),
        /// An hour of the press, without people: what it cost, its repairs, its room.
        press "Press": TimeRate where Rules::NONE.group("The press"),
        /// Work on the art of each screen that is made.
        art "Art": Work where Rules::NONE.group("Screens"),
        /// A film, each or by its area, that of the print's box.
        film "Film": SheetRate where Rules::NONE.group("Screens"),
        /// Making a screen.
        screen "Screen": ScreenWork where Rules::NONE.group("Screens"),
        /// A blank of any size that blank_by_size does not name.
        blank "Blank": Option<Each> where Rules::NONE.group("Materials"),
        /// Blanks of sizes that cost something else.
        blank_by_size "Blanks by size": Option<Vec<SizePrice>> where Rules::NONE.group("Materials"),
        /// An ink that ink_by_name does not name.
        ink "Ink": InkRate where Rules::NONE.group("Materials"),
        /// Inks that cost something else; the first that fits counts.
        ink_by_name "Inks by name": Option<Vec<InkPrice>> where Rules::NONE.group("Materials"),
        /// Energy for dryer and flash.
        energy "Energy": EnergyRate where Rules::NONE.group("Energy"),
        /// What keeps the dryer hot, beside the heat that passes into the shirts, as long as it runs.
        dryer_power "Dryer held on": Option<Power> where HELD_ON.group("Energy").unless_given("left out of the reckoning"),
        /// What keeps all flashes hot as long as they run.
        flash_power "Flash held on": Option<Power> where HELD_ON.group("Energy").unless_given("left out of the reckoning"),
        /// Heat taken up in the dryer, over the energy that it draws for it.
        dryer_efficiency_fraction "Dryer efficiency": f64 where EFFICIENT.group("Energy"),
        /// Cloth of one piece, both layers and the sleeves.
        cloth_per_piece "Cloth per piece": Area
            where PIECE.or(0.85, Source::memory("a shirt of 180 g/m2 weighs about 150 g")).group("Energy"),
        /// Packing, for each piece.
        packing "Packing": Each where Rules::NONE.group("Materials"),
        /// Rent, light, office: on what labour and press cost.
        overhead_fraction "Overhead": f64 where OVERHEAD.group("People"),
        /// What comes on top.
        extras "Extras": Option<Vec<Extra>> where Rules::NONE.group("Beside the print"),
        /// Freight, passed on as it is.
        freight "Freight": Option<Each> where Rules::NONE.group("Beside the print"),
    }
    stock("rates", "../../stock/rates.json")
    fits(are_rates)
}

/// Refuses a size whose blanks have two prices.
fn are_rates(rates: &dyn Record, at: At<'_>, _value: &Value, _remarks: &mut Remarks) -> Result<(), Error> {
    let Some(rates) = rates.to::<Rates>() else { return Ok(()) };
    let sizes = rates.blank_by_size.as_deref().unwrap_or_default();
    for (index, price) in sizes.iter().enumerate() {
        if sizes.iter().take(index).any(|other| other.size == price.size) {
            let (list, size) = (at.key("blank_by_size"), Value::from(price.size.as_str()));
            return Err(
                Error::new(Code::Impossible, list.index(index).key("size"), "this size has a price already").got(&size)
            );
        }
    }
    Ok(())
}
