//! A job in two parts: what does not hang on the number of pieces, through heat and all, and what does, which is soon done again for
//! another number.

use super::order::Order;
use super::screens::{self, Screen};
use super::sheet::{DryerSheet, FlashSheet, HeadSheet, HoursSheet, PressSheet};
use super::shop::Shop;
use super::{Placed, machines, placed, registering, rules};
use crate::error::Error;
use crate::source::Source;
use crate::wire::Remarks;

/// The shop of an order that names none.
const USUAL_SHOP: &str = "starter-shop";

/// What is the same for any number of pieces.
pub(super) struct Settled<'a> {
    order: &'a Order,
    pub shop: Shop,
    pub heads: Vec<HeadSheet>,
    pub placed: Vec<Placed<'a>>,
    /// Without the ink that a run needs.
    pub screens: Vec<Screen>,
    pub dryer: DryerSheet,
}

/// A run of so many prints.
pub(super) struct Batch {
    /// With the ink for them.
    pub screens: Vec<Screen>,
    pub press: PressSheet,
    pub hours: HoursSheet,
}

impl<'a> Settled<'a> {
    /// Settles what can be, and judges the order by the rules of the trade.
    ///
    /// # Errors
    /// What [`Order::check`] and the steps refuse.
    pub fn of(order: &'a Order, remarks: &mut Remarks) -> Result<Self, Error> {
        order.check()?;
        let shop = match &order.shop {
            Some(shop) => shop.clone(),
            None => {
                remarks.basis("shop", Source::memory("the starter shop: describe your own"));
                Shop::in_stock(USUAL_SHOP)?
            }
        };
        machines::check_cure(order, remarks)?;
        let heads = machines::heads(order, &shop)?;
        shop.cite(
            &["waste_fraction", "left_in_screen", "blade_overlap", "free_mesh", "off_contact", "blade_angle"],
            remarks,
        );
        let set = registering::setting_order(order, &shop, remarks);
        let placed = placed(order, &heads, set, remarks)?;
        let screens = screens::screens(&placed, &order.cloth, &shop, remarks)?;
        rules::judge(order, &shop, &placed, &screens, remarks);
        let dryer = machines::dryer(order, &shop, &placed, &screens, remarks)?;
        Ok(Self { order, shop, heads, placed, screens, dryer })
    }

    /// The run of so many prints, with the dwells of these flashes.
    ///
    /// # Errors
    /// What the steps refuse.
    pub fn batch(&self, flash: &[FlashSheet], prints: u32, remarks: &mut Remarks) -> Result<Batch, Error> {
        let press = machines::press(self.order, &self.shop, &self.dryer, flash, prints, remarks)?;
        let mut screens = self.screens.clone();
        screens::fill_ink(&mut screens, &self.shop, prints);
        screens::fill_pots(&self.placed, &mut screens, &press)?;
        let hours = machines::hours(&self.shop, &self.placed, &press);
        Ok(Batch { screens, press, hours })
    }
}
