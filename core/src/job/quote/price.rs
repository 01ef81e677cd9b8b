//! What the customer is charged: the price is made from the costs in one order, each step rounded once.

use super::costs::Costed;
use super::rates::ExtraAs;
use super::sheet::{Earned, PriceBreak, PriceLine, SizeUnitPrice};
use super::{BlanksCharged, QuoteRequest};
use crate::error::{Code, Error};
use crate::money::{Amount, Currency, Price as Each, in_decimals};
use crate::quantity::{Rules, Time, units};
use crate::wire::{At, Choice, Record, Remarks, one_of, request};
use rust_decimal::Decimal;
use serde_json::Value;

/// Profit over price: a price is never all profit.
const MARGIN: Rules = Rules::range(units::ONE, 0.0, 0.99).usual(0.05, 0.7);
const MARKUP: Rules = Rules::range(units::ONE, 0.0, 99.0).usual(0.05, 2.5);
const RUSH: Rules = Rules::range(units::ONE, 0.0, 10.0).usual(0.0, 1.0);
const DISCOUNT: Rules = Rules::range(units::ONE, 0.0, 1.0).usual(0.0, 0.5);
const TAX: Rules = Rules::range(units::ONE, 0.0, 1.0).usual(0.0, 0.3);

request! {
    /// How a price is made.
    pub struct Price {
        /// Profit as a share of the price; or give markup_fraction.
        margin_fraction "Margin": Option<f64> where MARGIN.group("Profit"),
        /// Profit as a share of the cost; or give margin_fraction.
        markup_fraction "Mark-up": Option<f64> where MARKUP.group("Profit"),
        /// Profit on the blanks, as a share of what they cost; the other profit is then not on them.
        blank_markup_fraction "Mark-up on blanks": Option<f64>
            where MARKUP.group("Profit").unless_given("that of all else"),
        /// What the work costs more where it is wanted soon.
        rush_fraction "Rush": Option<f64> where RUSH.group("More or less"),
        /// What is taken off.
        discount_fraction "Discount": Option<f64> where DISCOUNT.group("More or less"),
        /// No order is charged less, before freight and tax.
        least_order "Least order": Option<Each> where Rules::NONE.group("More or less"),
        /// Unit prices are whole multiples of this.
        round_unit_price_to "Round unit price to": Option<Each>
            where Rules::NONE.group("More or less").unless_given("the minor unit of the currency"),
        /// The tax on the price.
        tax_fraction "Tax": Option<f64> where TAX.group("Tax and payment"),
        /// Whether the prices are told with the tax in them.
        prices_include_tax "Prices include tax": Option<bool> where Rules::NONE.group("Tax and payment").unless_given("no"),
        /// What is paid before the work begins, as a share of the total.
        deposit_fraction "Deposit": Option<f64> where Rules::FRACTION.group("Tax and payment"),
        /// Which blanks are charged.
        blanks_charged "Blanks charged": Option<BlanksCharged>
            where Rules::NONE.group("Profit").unless_given("expected"),
    }
    chooses(Choice::One(&[&["margin_fraction"], &["markup_fraction"]]))
    fits(is_price)
}

/// What the fields of a price cannot say one by one.
fn is_price(price: &dyn Record, at: At<'_>, _value: &Value, _remarks: &mut Remarks) -> Result<(), Error> {
    let Some(price) = price.to::<Price>() else { return Ok(()) };
    match (price.margin_fraction, price.markup_fraction) {
        // What profit to take is for the shop to say.
        (None, None) => return Err(one_of::<Price>(at)),
        (Some(_), Some(_)) => {
            return Err(Error::new(
                Code::Impossible,
                at.key("markup_fraction"),
                "the profit is given twice: give margin_fraction or markup_fraction",
            ));
        }
        _ => {}
    }
    if price.round_unit_price_to.is_some_and(|step| step.number() <= 0.0) {
        return Err(Error::new(Code::OutOfRange, at.key("round_unit_price_to"), "nothing can be rounded to nothing")
            .allowed(["more than 0"]));
    }
    if price.prices_include_tax == Some(true) && price.tax_fraction.is_none() {
        return Err(crate::wire::lacks(at, "tax_fraction"));
    }
    Ok(())
}

/// A priced order.
pub(super) struct Priced {
    pub lines: Vec<PriceLine>,
    pub price_before_tax: Amount,
    pub unit_price: Amount,
    pub unit_prices: Vec<SizeUnitPrice>,
    pub once: Amount,
    pub tax: Option<Amount>,
    pub total: Amount,
    pub deposit: Option<Amount>,
    pub profit: Amount,
    pub margin_fraction: Option<f64>,
    pub profit_per_press_hour: Option<Amount>,
    /// All that is charged before freight and tax.
    charged: Amount,
}

/// A share, in decimals and in binary.
#[derive(Clone, Copy)]
struct Share(Decimal, f64);

impl Share {
    const NONE: Self = Self(Decimal::ZERO, 0.0);

    fn of(share: Option<f64>) -> Self {
        share.map_or(Self::NONE, |share| Self(in_decimals(share), share))
    }

    /// 1 + it.
    fn over_one(self) -> Result<Self, Error> {
        Ok(Self(self.0.checked_add(Decimal::ONE).ok_or_else(beyond)?, 1.0 + self.1))
    }

    /// 1 - it.
    fn from_one(self) -> Result<Self, Error> {
        Ok(Self(Decimal::ONE.checked_sub(self.0).ok_or_else(beyond)?, 1.0 - self.1))
    }

    fn times(self, other: Self) -> Result<Self, Error> {
        Ok(Self(self.0.checked_mul(other.0).ok_or_else(beyond)?, self.1 * other.1))
    }

    fn over(self, other: Self) -> Result<Self, Error> {
        Ok(Self(self.0.checked_div(other.0).ok_or_else(beyond)?, self.1 / other.1))
    }

    fn on(self, amount: &Amount) -> Result<Amount, Error> {
        amount.times(self.0, self.1)
    }
}

fn beyond() -> Error {
    Error::new(Code::OutOfRange, "/price", "these shares come to more than can be reckoned with")
}

/// How the price of an order is made.
pub(super) struct Pricing<'a> {
    request: &'a QuoteRequest,
    currency: Currency,
    spoilage: f64,
    /// What an amount of cost is multiplied with for its profit.
    profit: Profit,
    blank_markup: Option<Share>,
    rush: Share,
    discount: Share,
    tax: Option<Share>,
    step: Decimal,
}

/// Profit on a cost.
#[derive(Clone, Copy)]
enum Profit {
    /// The cost over this.
    Margin(Share),
    /// The cost times this.
    Markup(Share),
}

impl Profit {
    /// A cost with its profit.
    fn on(self, cost: &Amount) -> Result<Amount, Error> {
        match self {
            Self::Margin(rest) => {
                Amount::rounding(cost.amount().checked_div(rest.0), cost.unrounded() / rest.1, cost.currency())
            }
            Self::Markup(whole) => whole.on(cost),
        }
    }

    /// What a unit of cost is multiplied with.
    fn factor(self) -> Result<Share, Error> {
        match self {
            Self::Margin(rest) => Share(Decimal::ONE, 1.0).over(rest),
            Self::Markup(whole) => Ok(whole),
        }
    }
}

impl<'a> Pricing<'a> {
    pub fn new(request: &'a QuoteRequest, spoilage: f64) -> Result<Self, Error> {
        let price = &request.price;
        let profit = match (price.margin_fraction, price.markup_fraction) {
            (Some(margin), _) => Profit::Margin(Share::of(Some(margin)).from_one()?),
            (None, markup) => Profit::Markup(Share::of(markup).over_one()?),
        };
        let minor = Decimal::new(1, request.currency.minor_units());
        Ok(Self {
            request,
            currency: request.currency,
            spoilage,
            profit,
            blank_markup: price.blank_markup_fraction.map(|markup| Share::of(Some(markup)).over_one()).transpose()?,
            rush: Share::of(price.rush_fraction),
            discount: Share::of(price.discount_fraction),
            tax: price.tax_fraction.map(|tax| Share::of(Some(tax))),
            step: price.round_unit_price_to.map_or(minor, |step| step.value()),
        })
    }

    /// The price of what costs this.
    ///
    /// # Errors
    /// `out_of_range` for more money than can be reckoned with.
    pub fn of(&self, costed: &Costed) -> Result<Priced, Error> {
        let mut lines = PriceLines { list: Vec::new(), sum: Amount::nothing(self.currency) };
        let work = match &self.blank_markup {
            Some(markup) => {
                let work = self.profit.on(&costed.other_cost)?;
                lines.add("printing", work)?;
                lines.add_some("blanks", markup.on(&costed.blanks_cost)?)?;
                work
            }
            None => {
                let work = self.profit.on(&costed.cost)?;
                lines.add(if costed.supplied.is_some() { "printing" } else { "printed pieces" }, work)?;
                work
            }
        };
        let mut once = self.extras(costed.pieces, &mut lines)?;
        lines.add_some("rush", self.rush.on(&work)?)?;
        let off = self.discount.on(&lines.sum)?;
        lines.add_some("discount", Amount::nothing(self.currency).less(&off)?)?;
        once = once.less(&self.discount.on(&once)?)?;
        if let Some(least) = self.least()? {
            lines.add_some("up to the least order", least.less(&lines.sum)?.or_nothing())?;
        }
        let rest = lines.sum.less(&once)?;
        let (unit_price, unit_prices, pieces) = self.unit_prices(costed, &rest)?;
        lines.add_some("rounding of the unit price", pieces.less(&rest)?)?;
        let charged = lines.sum;
        let ended = self.ended(&charged, costed)?;
        if let Some(freight) = self.freight()? {
            lines.add_some("freight", freight)?;
        }
        if let Some(tax) = ended.tax.filter(|_| !self.includes_tax()) {
            lines.add_some("tax", tax)?;
        }
        let deposit = self.request.price.deposit_fraction.map(|share| Share::of(Some(share)).on(&ended.total));
        Ok(Priced {
            lines: lines.list,
            price_before_tax: ended.before_tax,
            unit_price,
            unit_prices,
            once,
            tax: ended.tax,
            total: ended.total,
            deposit: deposit.transpose()?,
            profit: ended.profit,
            margin_fraction: ended.margin_fraction,
            profit_per_press_hour: ended.profit_per_press_hour,
            charged,
        })
    }

    /// What another unit price earns: all sizes move by as much.
    ///
    /// # Errors
    /// As [`Self::of`].
    pub fn at(&self, unit_price: &Each, priced: &Priced, costed: &Costed) -> Result<Earned, Error> {
        let unit_price = Amount::rounding(Some(unit_price.value()), unit_price.number(), self.currency)?;
        let pieces = costed.pieces;
        let moved = unit_price.less(&priced.unit_price)?.times(Decimal::from(pieces), f64::from(pieces))?;
        let ended = self.ended(&priced.charged.plus(&moved)?, costed)?;
        Ok(Earned {
            unit_price,
            total: ended.total,
            profit: ended.profit,
            margin_fraction: ended.margin_fraction,
            profit_per_press_hour: ended.profit_per_press_hour,
        })
    }

    fn includes_tax(&self) -> bool {
        self.request.price.prices_include_tax == Some(true)
    }

    fn amount(&self, each: Option<&Each>) -> Result<Option<Amount>, Error> {
        each.map(|each| Amount::rounding(Some(each.value()), each.number(), self.currency)).transpose()
    }

    fn least(&self) -> Result<Option<Amount>, Error> {
        self.amount(self.request.price.least_order.as_ref())
    }

    fn freight(&self) -> Result<Option<Amount>, Error> {
        self.amount(self.request.rates.freight.as_ref())
    }

    /// Extras that the customer is charged for; how much of them once.
    fn extras(&self, pieces: u32, lines: &mut PriceLines) -> Result<Amount, Error> {
        let mut charged_once = Amount::nothing(self.currency);
        for extra in self.request.rates.extras.iter().flatten().filter(|extra| extra.r#as == ExtraAs::Price) {
            if let Some(each) = self.amount(extra.each.as_ref())? {
                lines.add(&extra.name, each.times(Decimal::from(pieces), f64::from(pieces))?)?;
            }
            if let Some(once) = self.amount(extra.once.as_ref())? {
                lines.add(&extra.name, once)?;
                charged_once = charged_once.plus(&once)?;
            }
        }
        Ok(charged_once)
    }

    /// The unit price of the size that costs least, those of all sizes, and what all pieces come to: each price is rounded up, and sizes
    /// whose blanks cost more are dearer by that, with its profit.
    fn unit_prices(&self, costed: &Costed, rest: &Amount) -> Result<(Amount, Vec<SizeUnitPrice>, Amount), Error> {
        let dearer = self.dearer(costed)?;
        let pieces = Decimal::from(costed.pieces);
        let mut common = Share(rest.amount(), rest.unrounded());
        for (share, size) in dearer.iter().zip(&costed.sizes) {
            let all = share.times(Share(Decimal::from(size.pieces), f64::from(size.pieces)))?;
            common = Share(common.0.checked_sub(all.0).ok_or_else(beyond)?, common.1 - all.1);
        }
        let up = |number: Decimal, unrounded: f64| {
            let steps = number.checked_div(self.step).map(|steps| steps.ceil());
            Amount::rounding(steps.and_then(|steps| steps.checked_mul(self.step)), unrounded, self.currency)
        };
        // Divided once, so that what comes out even is not rounded up.
        let all_steps = pieces.checked_mul(self.step).ok_or_else(beyond)?;
        let steps = common.0.checked_div(all_steps).map(|steps| steps.ceil());
        let each = common.1 / f64::from(costed.pieces);
        let unit_price = Amount::rounding(steps.and_then(|steps| steps.checked_mul(self.step)), each, self.currency)?;
        let mut unit_prices = Vec::new();
        let mut all = Amount::nothing(self.currency);
        for (share, size) in dearer.iter().zip(&costed.sizes) {
            let price = up(unit_price.amount().checked_add(share.0).ok_or_else(beyond)?, each + share.1)?;
            all = all.plus(&price.times(Decimal::from(size.pieces), f64::from(size.pieces))?)?;
            unit_prices.push(SizeUnitPrice { size: size.size.clone(), pieces: size.pieces, unit_price: price });
        }
        if costed.sizes.is_empty() {
            all = unit_price.times(pieces, f64::from(costed.pieces))?;
        }
        // Without rounding it is the same as before.
        Ok((unit_price, unit_prices, Amount::rounding(Some(all.amount()), rest.unrounded(), self.currency)?))
    }

    /// By how much a piece of each size is dearer than one of the size whose blanks cost least.
    fn dearer(&self, costed: &Costed) -> Result<Vec<Share>, Error> {
        let rates = &self.request.rates;
        let costs: Vec<Share> = match costed.supplied {
            Some(_) => costed.sizes.iter().map(|_| Share::NONE).collect(),
            None => {
                let cost = |size: &crate::job::SizeOrder| rates.blank_of(Some(&size.size));
                let costs = costed.sizes.iter().map(cost).collect::<Result<Vec<_>, _>>()?;
                costs.iter().map(|each| Share(each.value(), each.number())).collect()
            }
        };
        let Some(least) = costs.iter().copied().min_by(|a, b| a.0.cmp(&b.0)) else { return Ok(Vec::new()) };
        let good = Share::of(Some(self.spoilage)).from_one()?;
        let profit = match self.blank_markup {
            Some(markup) => markup,
            None => self.profit.factor()?.times(self.rush.over_one()?)?,
        };
        let factor = profit.times(self.discount.from_one()?)?.over(good)?;
        let more = |cost: &Share| Share(cost.0.saturating_sub(least.0), cost.1 - least.1).times(factor);
        costs.iter().map(more).collect()
    }

    /// Freight, tax and what is left, of what is charged for the order.
    fn ended(&self, charged: &Amount, costed: &Costed) -> Result<Ended, Error> {
        let freight = self.freight()?.unwrap_or_else(|| Amount::nothing(self.currency));
        let told = charged.plus(&freight)?;
        let (before_tax, tax, total, freight) = match self.tax {
            None => (told, None, told, freight),
            Some(share) if self.includes_tax() => {
                let within = share.over(share.over_one()?)?;
                let tax = within.on(&told)?;
                let freight = freight.less(&within.on(&freight)?)?;
                (told.less(&tax)?, Some(tax), told, freight)
            }
            Some(share) => {
                let tax = share.on(&told)?;
                (told, Some(tax), told.plus(&tax)?, freight)
            }
        };
        let own = before_tax.less(&freight)?;
        let profit = own.less(&costed.cost)?;
        Ok(Ended {
            before_tax,
            tax,
            total,
            profit,
            margin_fraction: profit.over(&own),
            profit_per_press_hour: per_hour(&profit, costed.hours.total)?,
        })
    }
}

/// What is left in the end.
struct Ended {
    before_tax: Amount,
    tax: Option<Amount>,
    total: Amount,
    profit: Amount,
    margin_fraction: Option<f64>,
    profit_per_press_hour: Option<Amount>,
}

/// A profit for each hour; none of no time.
fn per_hour(profit: &Amount, time: Time) -> Result<Option<Amount>, Error> {
    let hours = units::H.value(time);
    if hours <= 0.0 {
        return Ok(None);
    }
    let share = Share(Decimal::ONE, 1.0).over(Share(in_decimals(hours), hours));
    share.and_then(|share| share.on(profit)).map(Some)
}

/// Price lines as they are put together.
struct PriceLines {
    list: Vec<PriceLine>,
    sum: Amount,
}

impl PriceLines {
    fn add(&mut self, what: &str, amount: Amount) -> Result<(), Error> {
        self.sum = self.sum.plus(&amount)?;
        self.list.push(PriceLine { what: what.to_owned(), amount });
        Ok(())
    }

    /// Adds a line, unless it is of nothing.
    fn add_some(&mut self, what: &str, amount: Amount) -> Result<(), Error> {
        if amount.amount().is_zero() {
            // What rounding left out is not lost to doubts.
            self.sum = self.sum.plus(&amount)?;
            return Ok(());
        }
        self.add(what, amount)
    }
}

/// The quote for another number of pieces, in short.
pub(super) fn price_break(costed: &Costed, priced: &Priced) -> PriceBreak {
    PriceBreak {
        pieces: costed.pieces,
        unit_price: priced.unit_price,
        total: priced.total,
        cost: costed.cost,
        profit: priced.profit,
        hours: costed.hours.total,
        held_up_by: costed.held_up_by.clone(),
    }
}
