//! What the customer is charged: the price is made from the costs in one order, each step rounded once.

use super::costs::Costed;
use super::rates::ExtraAs;
use super::sheet::{Earned, PriceBreak, PriceLine, SizeUnitPrice};
use super::{BlanksCharged, QuoteRequest};
use crate::error::{Code, Error};
use crate::job::SizeOrder;
use crate::money::{Amount, Currency, Price as Each, Ratio, Share};
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
    if price.round_unit_price_to.is_some_and(|step| step.value().is_zero()) {
        return Err(Error::new(Code::OutOfRange, at.key("round_unit_price_to"), "no price is a multiple of nothing")
            .allowed(["more than 0"]));
    }
    if price.prices_include_tax == Some(true) && price.tax_fraction.is_none() {
        let message = "a price with the tax in it needs to know the tax";
        return Err(Error::new(Code::MissingField, at.key("tax_fraction"), message).allowed(["tax_fraction"]));
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
    pub margin_fraction: Option<Share>,
    pub profit_per_press_hour: Option<Amount>,
    /// All that is charged before freight and tax.
    charged: Amount,
}

/// How the price of an order is made.
pub(super) struct Pricing<'a> {
    request: &'a QuoteRequest,
    currency: Currency,
    spoilage: f64,
    /// What an amount of cost is multiplied with for its profit.
    profit: Ratio,
    blank_markup: Option<Ratio>,
    rush: Ratio,
    discount: Ratio,
    tax: Option<Ratio>,
    step: Decimal,
}

impl<'a> Pricing<'a> {
    /// The shares of a price, ready to be reckoned with.
    ///
    /// # Errors
    /// `out_of_range` for unit prices that are rounded to less than the currency has.
    pub fn new(request: &'a QuoteRequest, spoilage: f64) -> Result<Self, Error> {
        let price = &request.price;
        let profit = match (price.margin_fraction, price.markup_fraction) {
            (Some(margin), _) => Ratio::ONE.over(Ratio::of(margin)?.one_less()?)?,
            (None, markup) => Ratio::of(markup.unwrap_or(0.0))?.one_more()?,
        };
        let currency = request.currency;
        let minor = Decimal::new(1, currency.minor_units());
        let step = price.round_unit_price_to.map_or(minor, |step| step.value()).normalize();
        if step.scale() > currency.minor_units() {
            let message = format!("{currency} has no money as small as that");
            return Err(Error::new(Code::OutOfRange, "/price/round_unit_price_to", message)
                .got(&Value::from(step.to_string()))
                .allowed([format!("whole multiples of {minor} {currency}")]));
        }
        Ok(Self {
            request,
            currency,
            spoilage,
            profit,
            blank_markup: price.blank_markup_fraction.map(|markup| Ratio::of(markup)?.one_more()).transpose()?,
            rush: Ratio::of(price.rush_fraction.unwrap_or(0.0))?,
            discount: Ratio::of(price.discount_fraction.unwrap_or(0.0))?,
            tax: price.tax_fraction.map(Ratio::of).transpose()?,
            step,
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
                lines.add_some("printing", work)?;
                lines.add_some("blanks", markup.on(&costed.blanks_cost)?)?;
                work
            }
            None => {
                let work = self.profit.on(&costed.cost)?;
                lines.add_some(if costed.supplied.is_some() { "printing" } else { "printed pieces" }, work)?;
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
        let deposit = self.request.price.deposit_fraction.map(|share| Ratio::of(share)?.on(&ended.total));
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
        let moved = Ratio::of(f64::from(pieces))?.on(&unit_price.less(&priced.unit_price)?)?;
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
            if let Some(each) = &extra.each {
                let all = each.times(f64::from(pieces), self.currency).map(|(_, money)| money);
                lines.add(&extra.name, Amount::new(all, each.number() * f64::from(pieces))?)?;
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
        let factor = self.on_blanks()?;
        // Divided once, so that what comes out even is not rounded up.
        let part = |size: &SizeOrder, more: &(Decimal, f64)| more.0.checked_mul(Decimal::from(size.pieces));
        let sizes = || costed.sizes.iter().zip(&dearer);
        let more = sizes().try_fold(Decimal::ZERO, |sum, (size, more)| sum.checked_add(part(size, more)?));
        let common = more.and_then(|more| {
            let (all, more) = (rest.amount().checked_mul(factor.below)?, more.checked_mul(factor.above)?);
            let below = factor.below.checked_mul(Decimal::from(costed.pieces))?;
            self.steps(all.checked_sub(more)?, below)
        });
        let unrounded: f64 = sizes().map(|(size, more)| f64::from(size.pieces) * more.1 * factor.number).sum();
        let each = (rest.unrounded() - unrounded) / f64::from(costed.pieces);
        let unit_price = Amount::rounding(common, each, self.currency)?;
        let mut unit_prices = Vec::new();
        let mut all = Amount::nothing(self.currency);
        for (size, more) in sizes() {
            let price = (|| {
                let (base, more) = (unit_price.amount().checked_mul(factor.below)?, more.0.checked_mul(factor.above)?);
                self.steps(base.checked_add(more)?, factor.below)
            })();
            let price = Amount::rounding(price, each + more.1 * factor.number, self.currency)?;
            all = all.plus(&Ratio::of(f64::from(size.pieces))?.on(&price)?)?;
            unit_prices.push(SizeUnitPrice { size: size.size.clone(), pieces: size.pieces, unit_price: price });
        }
        if costed.sizes.is_empty() {
            all = Ratio::of(f64::from(costed.pieces))?.on(&unit_price)?;
        }
        // Without rounding it is the same as before.
        Ok((unit_price, unit_prices, Amount::rounding(Some(all.amount()), rest.unrounded(), self.currency)?))
    }

    /// A fraction, rounded up to a whole number of steps of a unit price.
    fn steps(&self, above: Decimal, below: Decimal) -> Option<Decimal> {
        above.checked_div(below.checked_mul(self.step)?)?.ceil().checked_mul(self.step)
    }

    /// What the cost of a blank is multiplied with in the price of a good piece.
    fn on_blanks(&self) -> Result<Ratio, Error> {
        let profit = match self.blank_markup {
            Some(markup) => markup,
            None => self.profit.times(self.rush.one_more()?)?,
        };
        let good = Ratio::of(self.spoilage)?.one_less()?;
        profit.times(self.discount.one_less()?)?.over(good)
    }

    /// By how much a blank of each size costs more than one of the size that costs least, as a decimal and unrounded.
    fn dearer(&self, costed: &Costed) -> Result<Vec<(Decimal, f64)>, Error> {
        if costed.supplied.is_some() {
            return Ok(costed.sizes.iter().map(|_| (Decimal::ZERO, 0.0)).collect());
        }
        let cost = |size: &SizeOrder| self.request.rates.blank_of(Some(&size.size));
        let costs = costed.sizes.iter().map(cost).collect::<Result<Vec<_>, _>>()?;
        // Of the sizes that were ordered.
        let ordered = costs.iter().zip(&costed.sizes).filter(|(_, size)| size.pieces > 0);
        let Some((least, _)) = ordered.min_by_key(|(cost, _)| cost.value()) else { return Ok(Vec::new()) };
        let more = |each: &Each| (each.value().saturating_sub(least.value()), each.number() - least.number());
        Ok(costs.iter().map(more).collect())
    }

    /// Freight, tax and what is left, of what is charged for the order.
    fn ended(&self, charged: &Amount, costed: &Costed) -> Result<Ended, Error> {
        let freight = self.freight()?.unwrap_or_else(|| Amount::nothing(self.currency));
        let told = charged.plus(&freight)?;
        let (before_tax, tax, total, freight) = match self.tax {
            None => (told, None, told, freight),
            Some(share) if self.includes_tax() => {
                let within = share.over(share.one_more()?)?;
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
            profit_per_press_hour: Some(per_hour(&profit, costed.hours.total)?),
        })
    }
}

/// What is left in the end.
struct Ended {
    before_tax: Amount,
    tax: Option<Amount>,
    total: Amount,
    profit: Amount,
    margin_fraction: Option<Share>,
    profit_per_press_hour: Option<Amount>,
}

/// A profit for each hour of a run, which takes some time.
fn per_hour(profit: &Amount, time: Time) -> Result<Amount, Error> {
    Ratio::ONE.over(Ratio::of(units::H.value(time))?)?.on(profit)
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
