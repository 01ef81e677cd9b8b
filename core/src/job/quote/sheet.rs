//! What a quote says: costs for the shop, prices for the customer, and what is earned.

use crate::job::{BlanksSheet, InkTotal};
use crate::money::{Amount, AnyRate, Currency, Share};
use crate::quantity::{Energy, Time};
use crate::unit::InUnit;
use crate::wire::answer;

answer! {
    /// A line of what the order costs the shop.
    pub struct CostLine {
        /// What it is for.
        what "What for": String,
        /// How much of it, in the unit of the rate, to 6 decimals; none of a share of other lines.
        quantity "Quantity": Option<InUnit>,
        /// What a unit of it costs, as the request has it.
        rate "Rate": Option<AnyRate> as Effort,
        /// What it costs.
        amount "Amount": Amount,
        /// Where the quantity comes from.
        why "Why": String,
    }
}

answer! {
    /// A line of what the customer is charged.
    pub struct PriceLine {
        /// What it is for.
        what "What for": String,
        /// What is charged for it.
        amount "Amount": Amount,
    }
}

answer! {
    /// The hours of the press that an order takes.
    pub struct PressHours {
        /// Setting up and clearing all screens.
        setup "Setting up, clearing": Time,
        /// Printing, with all that keeps the press from printing in between.
        run "Printing": Time,
        /// Both.
        total "Press in all": Time,
    }
}

answer! {
    /// The price of a piece of one size.
    pub struct SizeUnitPrice {
        /// The size on the label.
        size "Size": String,
        /// Pieces of it.
        pieces "Pieces ordered": u32,
        /// Price of a piece of it.
        unit_price "Unit price": Amount,
    }
}

answer! {
    /// What becomes of the customer's own blanks.
    pub struct Supplied {
        /// Blanks that the customer supplies.
        pieces "Blanks supplied": u32,
        /// Of these, for the wash test.
        for_wash_test "For the wash test": u32,
        /// Good pieces to expect.
        expected_good "Good, expected": f64,
        /// Good pieces that there are with the chance that the shop wants.
        least_good "Good, at least": u32,
        /// The chance of so many.
        probability "Chance of that": f64,
    }
}

answer! {
    /// The heat that the dryer gives the whole run.
    pub struct DryingHeat {
        /// Into the cloth.
        cloth "Heat into cloth": Energy,
        /// Into the water of cloth and ink, till it leaves as vapour.
        water "Heat into water": Energy,
        /// Into the air that carries the vapour off.
        air "Heat into air": Energy,
        /// What the dryer draws for all of it, by its efficiency.
        drawn "Energy drawn": Energy,
    }
}

answer! {
    /// The quote for another number of pieces.
    pub struct PriceBreak {
        /// Number of pieces.
        pieces "Pieces ordered": u32,
        /// Price of a piece, of the size that costs least.
        unit_price "Unit price": Amount,
        /// All that is charged.
        total "Total": Amount,
        /// What it costs the shop.
        cost "Cost": Amount,
        /// What is left of it.
        profit "Profit": Amount,
        /// The hours of the press that it takes.
        hours "Press in all": Time,
        /// What holds the press up.
        held_up_by "Held up by": String,
    }
}

answer! {
    /// What another unit price earns.
    pub struct Earned {
        /// The unit price asked about.
        unit_price "Unit price": Amount,
        /// All that is charged.
        total "Total": Amount,
        /// What is left.
        profit "Profit": Amount,
        /// The profit as a share of the price before tax and freight.
        margin_fraction "Margin": Option<Share>,
        /// Profit for each hour of the press.
        profit_per_press_hour "Profit per press hour": Option<Amount>,
    }
}

answer! {
    /// A quote.
    pub struct Quote {
        /// What the order is called.
        title "Order name": Option<String>,
        /// Good pieces ordered, or blanks supplied.
        pieces "Pieces ordered": u32,
        /// When the order is due.
        due "Due date": Option<String>,
        /// The currency of all amounts.
        currency "Currency": Currency,
        /// Blanks to start with, where the shop buys them.
        blanks "Blanks": Option<BlanksSheet>,
        /// What becomes of the customer's own blanks.
        supplied "Supplied blanks": Option<Supplied>,
        /// Total of each kind of ink.
        ink_totals "Ink by colour": Vec<InkTotal>,
        /// Shirts an hour with all their prints, while running.
        pieces_per_hour "Pieces per hour": f64,
        /// What holds the press up.
        held_up_by "Held up by": String,
        /// The hours of the press.
        hours "Hours of the press": PressHours,
        /// The heat that the dryer gives.
        drying "Heat in the dryer": DryingHeat,
        /// What it costs the shop, line by line.
        cost_lines "Costs": Vec<CostLine>,
        /// What it costs the shop.
        cost "Cost": Amount,
        /// What the customer is charged, line by line.
        price_lines "Prices": Vec<PriceLine>,
        /// The price without tax.
        price_before_tax "Before tax": Amount,
        /// Price of a piece, of the size that costs least.
        unit_price "Unit price": Amount,
        /// Price of a piece by size, where the order names sizes.
        unit_prices "Unit prices by size": Vec<SizeUnitPrice>,
        /// What is charged once for the whole order, beside the pieces.
        once "Charged once": Amount,
        /// The tax, in or on the price.
        tax "Tax": Option<Amount>,
        /// All that is charged.
        total "Total": Amount,
        /// What is paid before the work begins.
        deposit "Deposit": Option<Amount>,
        /// What is left of the price after cost, tax and freight.
        profit "Profit": Amount,
        /// The profit as a share of the price before tax and freight.
        margin_fraction "Margin": Option<Share>,
        /// Profit for each hour of the press.
        profit_per_press_hour "Profit per press hour": Option<Amount>,
        /// The quote for other numbers of pieces.
        price_breaks "Price breaks": Vec<PriceBreak>,
        /// What the unit price asked about earns.
        at_unit_price "At that unit price": Option<Earned>,
        /// For how many days the quote stands.
        valid_days "Stands for days": Option<u32>,
        /// Terms of the sale, as they were given.
        terms "Terms": Option<String>,
    }
}
