//! What to charge: the job with prices.
//!
//! Costs stand on the quantities of the plan ([`costs`]), prices on the costs, made in one order ([`price`]); amounts are decimals,
//! rounded once a line.

mod costs;
mod drying;
mod price;
mod rates;
mod sheet;

pub use drying::{heat_of_air, heat_of_water};
pub use price::Price;
pub use rates::{Crew, Extra, ExtraAs, InkPrice, Rates, ScreenWork, SizePrice, Work};
pub use sheet::{CostLine, DryingHeat, Earned, PressHours, PriceBreak, PriceLine, Quote, SizeUnitPrice, Supplied};

use super::order::{Order, SizeOrder, order};
use crate::error::{Code, Error};
use crate::money::{Currency, Price as Each};
use crate::quantity::{Rules, units};
use crate::sharing::largest_remainders;
use crate::source::Source;
use crate::wire::numbers::{Leaf, leaves};
use crate::wire::{Asked, Remarks, Says, View, calculation, words};
use costs::{Costed, Costing};
use price::{Priced, Pricing, price_break};
use serde_json::Value;

const VALID: Rules = Rules::range(units::ONE, 1.0, 3_650.0).usual(1.0, 90.0);

/// Most other numbers of pieces that a quote tells of.
const MOST_BREAKS: usize = 100;

words! {
    /// Whose blanks are printed.
    pub enum Blanks ("owner of the blanks") {
        /// The shop buys them.
        Bought = "bought",
        /// The customer supplies them.
        Supplied = "supplied",
    }
}

words! {
    /// Which blanks a price is made of.
    pub enum BlanksCharged ("way to charge blanks") {
        /// Those that are needed on average, and those of the wash test.
        Expected = "expected",
        /// All that are started with, and those of the wash test.
        All = "all",
    }
}

order! {
    /// An order to be priced.
    pub struct QuoteRequest {
        /// The currency of all amounts (ISO 4217).
        currency "Currency": Currency where Rules::NONE.group("The price"),
        /// What things cost the shop.
        rates "Rates": Rates where Rules::NONE.group("The price"),
        /// How the price is made.
        price "Price": Price where Rules::NONE.group("The price"),
        /// Whose blanks are printed; of the customer's own, pieces says how many there are.
        blanks "Blanks": Option<Blanks> where Rules::NONE.group("The order").unless_given("bought"),
        /// Other numbers of pieces to price as well.
        quantities "Other quantities": Option<Vec<u32>> where Rules::count(1.0).group("The price"),
        /// A unit price, to learn what it would earn.
        at_unit_price "Unit price asked": Option<Each> where Rules::NONE.group("The price"),
        /// For how many days the quote stands; told again as it is.
        valid_days "Stands for days": Option<u32> where VALID.group("The price"),
        /// Terms of the sale; told again as they are.
        terms "Terms": Option<String> where Rules::NONE.group("The price"),
    }
}

calculation! {
    /// A line is its quantity in the unit of the rate, rounded to 6 decimals and told so, times the rate, rounded once to the minor unit,
    /// half away from zero. Doubts are carried on amounts before any rounding, and the number of blanks stays as it is.
    pub const QUOTE: QuoteRequest => Quote = quote;
    id: "job.quote",
    title: "Price of an order",
    question: "What do I charge for this order?",
    asked: ["What does this job cost me?", "What is my price a shirt?", "Does this order pay?"],
    headline: ["total", "unit_price", "profit"],
    formula: "line = quantity x rate; overhead = overhead_fraction x (labour + press); cost = blanks B + all else D; D / (1 - margin) or D (1 + markup), B (1 + blank_markup) or B with D; + extras as price; + rush_fraction x D's price; - discount_fraction x all so far; up to least_order; (all - charged once) / pieces rounded up to round_unit_price_to; + freight; + tax_fraction x all, or out of it; deposit_fraction x total. Hours: screens x (setup + teardown) + pieces / rate / efficiency / productive_fraction. Energy: cloth m c (t - 25 degC), water m (2501 + 1.86 t_air - 4.186 x 25) kJ/kg, air m / (x_dryer - 0.007) x 1.019 kJ/(kg.K) (t_air - 25 degC), over the efficiency; power held on x printing hours",
    sources: &[
        Source::standard("ISO 4217: digits of the minor unit (list of 2026-01-01, by a general-purpose package)"),
        Source::memory("ASHRAE Fundamentals: enthalpies of moist air"),
        Source::common("a price is cost and profit, and the costs are what the job takes"),
    ],
    example: r#"{
        "title": "Harbour run tees", "pieces": 96, "due": "2027-04-02", "cloth": "cotton-jersey-180-dark",
        "sizes": [{"size": "M", "pieces": 48}, {"size": "L", "pieces": 48}],
        "placements": [{"name": "front", "width": "300 mm", "height": "340 mm", "below_collar": "75 mm", "screens": [
            {"name": "base white", "ink": "plastisol-white", "mesh": "55-64", "coverage_fraction": 0.30, "flash": true},
            {"name": "buoy orange", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.12}]}],
        "currency": "EUR",
        "rates": {"from": "starter-rates", "labour": "32 EUR/h"},
        "price": {"margin_fraction": 0.30, "blank_markup_fraction": 0.40, "tax_fraction": 0.19},
        "quantities": [24, 48, 144]}"#,
}

impl QuoteRequest {
    /// The order in it.
    fn order(&self) -> Order {
        Order::new()
            .title(self.title.clone())
            .pieces(self.pieces)
            .due(self.due.clone())
            .cloth(self.cloth.clone())
            .sizes(self.sizes.clone())
            .placements(self.placements.clone())
            .trap(self.trap)
            .shop(self.shop.clone())
    }
}

/// What an order costs, and what to charge.
///
/// # Errors
/// What the plan refuses; `impossible` for another currency than the request's; `missing_field` for the profit wanted, and for the cost
/// of a blank; `out_of_range` for more money than can be reckoned with.
pub(crate) fn quote(request: &QuoteRequest, remarks: &mut Remarks) -> Result<Quote, Error> {
    one_currency(request)?;
    let order = request.order();
    let costing = Costing::new(request, &order, remarks)?;
    let pricing = Pricing::new(request, costing.settled.shop.spoilage_fraction)?;
    cite(request, remarks);
    let sizes = order.sizes.as_deref().unwrap_or_default();
    let costed = costing.of(order.pieces, sizes, true, remarks)?;
    let priced = pricing.of(&costed)?;
    let breaks = breaks(&costing, &pricing, sizes, remarks)?;
    let earned = request.at_unit_price.as_ref().map(|each| pricing.at(each, &priced, &costed)).transpose()?;
    say(&costed, &priced, remarks);
    Ok(Quote {
        title: order.title.clone(),
        pieces: order.pieces,
        due: order.due.clone(),
        currency: request.currency,
        blanks: costed.blanks,
        supplied: costed.supplied,
        ink_totals: costed.ink_totals,
        pieces_per_hour: costed.pieces_per_hour,
        held_up_by: costed.held_up_by,
        hours: costed.hours,
        drying: costed.drying,
        cost_lines: costed.lines,
        cost: costed.cost,
        price_lines: priced.lines,
        price_before_tax: priced.price_before_tax,
        unit_price: priced.unit_price,
        unit_prices: priced.unit_prices,
        once: priced.once,
        tax: priced.tax,
        total: priced.total,
        deposit: priced.deposit,
        profit: priced.profit,
        margin_fraction: priced.margin_fraction,
        profit_per_press_hour: priced.profit_per_press_hour,
        price_breaks: breaks,
        at_unit_price: earned,
        valid_days: request.valid_days,
        terms: request.terms.clone(),
    })
}

/// Refuses money of another currency than the request's.
fn one_currency(request: &QuoteRequest) -> Result<(), Error> {
    let own = request.currency.code();
    let mut other = None;
    let mut look = |at: &str, leaf: &Leaf<'_>| {
        if let View::Money(money) = &leaf.view
            && other.is_none()
            && let Some(code) = money.currency().filter(|code| *code != own)
        {
            other = Some((format!("{at}{}", leaf.at), code));
        }
    };
    leaves(&request.rates, &mut |leaf| look("/rates", leaf));
    leaves(&request.price, &mut |leaf| look("/price", leaf));
    if let Some(code) =
        request.at_unit_price.and_then(|price| price.currency()).map(Currency::code).filter(|code| *code != own)
    {
        other = other.or_else(|| Some(("/at_unit_price".to_owned(), code)));
    }
    other.map_or(Ok(()), |(field, code)| {
        Err(Error::new(Code::Impossible, field, format!("this is in {code}, and the quote is in {own}: one currency"))
            .got(&Value::from(code))
            .allowed([own]))
    })
}

/// Where the rates come from.
fn cite(request: &QuoteRequest, remarks: &mut Remarks) {
    let rates = &request.rates;
    let table = crate::wire::Record::table(rates);
    rates.cite(table.names, remarks);
    if crate::wire::Record::given(rates).is_some_and(|given| given.row().is_some()) {
        remarks.caution(
            "starter_rates",
            "/rates",
            "some of these rates are invented to start with: put what your own shop pays in their place before a price goes out",
        );
    }
}

/// The quote for other numbers of pieces, the sizes by largest remainders.
fn breaks(
    costing: &Costing<'_>,
    pricing: &Pricing<'_>,
    sizes: &[SizeOrder],
    remarks: &mut Remarks,
) -> Result<Vec<sheet::PriceBreak>, Error> {
    let quantities = costing.request.quantities.as_deref().unwrap_or_default();
    if quantities.len() > MOST_BREAKS {
        return Err(Error::new(Code::TooLong, "/quantities", format!("{} quantities", quantities.len()))
            .allowed([format!("at most {MOST_BREAKS}")]));
    }
    let ordered: Vec<u64> = sizes.iter().map(|size| size.pieces.into()).collect();
    let mut list = Vec::new();
    for (index, pieces) in quantities.iter().enumerate() {
        let shares = largest_remainders(i64::from(*pieces), &ordered);
        let share = |(size, pieces): (&SizeOrder, i64)| size.clone().pieces(u32::try_from(pieces).unwrap_or(u32::MAX));
        let scaled: Vec<SizeOrder> = sizes.iter().zip(shares).map(share).collect();
        let at = format!("/quantities/{index}");
        // What is said of the pieces was said of the order; what cannot be is laid to the quantity.
        let place = |asked: &Asked<'_>| (asked.of == Says::Error).then(|| at.clone());
        list.push(remarks.within(place, |remarks| {
            let costed = costing.of(*pieces, &scaled, false, remarks)?;
            let priced = pricing.of(&costed)?;
            Ok((costed, priced))
        })?);
    }
    rises(&list, remarks);
    Ok(list.iter().map(|(costed, priced)| price_break(costed, priced)).collect())
}

/// Says where more pieces are dearer each, and why.
fn rises(list: &[(Costed, Priced)], remarks: &mut Remarks) {
    let mut order: Vec<usize> = (0..list.len()).collect();
    order.sort_by_key(|index| list.get(*index).map(|(costed, _)| costed.pieces));
    for pair in order.windows(2) {
        let [fewer, more] = pair else { continue };
        let (Some((few, few_price)), Some((many, many_price))) = (list.get(*fewer), list.get(*more)) else { continue };
        if many_price.unit_price.amount() <= few_price.unit_price.amount() {
            continue;
        }
        let washed = |costed: &Costed| costed.blanks.as_ref().map_or(0, |blanks| blanks.for_wash_test);
        let why = if washed(many) > washed(few) {
            "from here on more prints go to the wash test"
        } else if many.blanks.is_some() {
            "the spares come in whole shirts, and one more starts here"
        } else {
            "every line is rounded to the minor unit"
        };
        remarks.info("unit_price_rises", format_args!("/quantities/{more}"), |_| {
            format!("{} pieces cost more each than {}: {why}", many.pieces, few.pieces)
        });
    }
}

/// What to know of a price.
fn say(costed: &Costed, priced: &Priced, remarks: &mut Remarks) {
    if priced.profit.amount().is_sign_negative() && !priced.profit.amount().is_zero() {
        remarks.caution("sells_below_cost", "/price", "this price does not bring in what the order costs");
    }
    if costed.supplied.as_ref().is_some_and(|supplied| supplied.least_good < supplied.pieces) {
        remarks.caution(
            "spoilage_of_supplied",
            "/blanks",
            "spoiled shirts and those of the wash test are the customer's own: agree on how many may be missing before the run",
        );
    }
    remarks.info(
        "price_is_yours",
        "/price",
        "what a line is taxed with, and what a price must tell, is for local law and your accountant",
    );
}
