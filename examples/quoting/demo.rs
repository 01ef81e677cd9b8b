//! A shop and its orders to try the program with: invented, and the same ones for the same seed. About one order in a hundred is bad
//! on purpose.

use crate::failure::Failure;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};
use rusqlite::{Connection, Transaction, TransactionBehavior, params};
use serde_json::{Value, json};

const CUSTOMERS: [&str; 16] = [
    "rowing club",
    "school band",
    "village bakery",
    "chess club",
    "bicycle workshop",
    "summer camp",
    "fire brigade",
    "book shop",
    "running group",
    "harvest festival",
    "sailing school",
    "choir",
    "climbing hall",
    "ferry crew",
    "garden centre",
    "film society",
];

/// Name, shade, cloth, cost of a blank, of sizes that cost more.
const GARMENTS: [(&str, &str, &str, &str, [&str; 2]); 8] = [
    ("T-shirt, light", "light", r#""cotton-jersey-180""#, "2.85", ["3.60", "3.95"]),
    ("T-shirt, dark", "dark", r#""cotton-jersey-180-dark""#, "3.10", ["3.90", "4.30"]),
    (
        "Long-sleeved shirt, light",
        "light",
        r#"{"from": "cotton-jersey-180", "mass_per_area": "190 g/m2"}"#,
        "5.40",
        ["6.50", "6.90"],
    ),
    (
        "Long-sleeved shirt, dark",
        "dark",
        r#"{"from": "cotton-jersey-180-dark", "mass_per_area": "190 g/m2"}"#,
        "5.70",
        ["6.80", "7.25"],
    ),
    ("Blend T-shirt, dark", "dark", r#""blend-jersey-160""#, "3.40", ["4.20", "4.60"]),
    ("Blend T-shirt, light", "light", r#"{"from": "blend-jersey-160", "shade": "light"}"#, "4.60", ["5.60", "6.10"]),
    ("Hoodie, dark", "dark", r#"{"from": "cotton-fleece-280", "shade": "dark"}"#, "12.80", ["15.40", "16.20"]),
    ("Hoodie, light", "light", r#"{"from": "cotton-fleece-280", "shade": "light"}"#, "12.40", ["14.90", "15.70"]),
];
const LARGER: [&str; 2] = ["2XL", "3XL"];

/// Colours mixed into plastisol, after the whites.
const COLOURS: [&str; 22] = [
    "black",
    "pennant red",
    "brick red",
    "orange",
    "amber",
    "lemon",
    "leaf green",
    "bottle green",
    "mint",
    "river blue",
    "navy",
    "sky blue",
    "violet",
    "plum",
    "pink",
    "crust brown",
    "sand",
    "slate grey",
    "silver grey",
    "teal",
    "olive",
    "cream",
];
const WATER_COLOURS: [&str; 6] = ["soft black", "soft red", "soft green", "soft blue", "soft ochre", "soft grey"];

/// Stock presses, and what an hour of each costs.
const PRESSES: [(&str, &str); 3] = [("manual-4x4", "4.50"), ("automatic-8", "16"), ("automatic-14", "24")];

const BASE_MESHES: [&str; 3] = ["43-80", "48-70", "55-64"];
const MESHES: [&str; 7] = ["62-64", "77-55", "77-48", "90-48", "90-40", "100-40", "120-34"];

/// Random choices of one order.
struct Dice(Xoshiro256PlusPlus);

impl Dice {
    /// A whole number from 0, below a number.
    fn below(&mut self, most: usize) -> usize {
        let most = u64::try_from(most).unwrap_or(1).max(1);
        usize::try_from(self.0.next_u64().checked_rem(most).unwrap_or(0)).unwrap_or(0)
    }

    fn between(&mut self, least: usize, most: usize) -> usize {
        least.saturating_add(self.below(most.saturating_sub(least).saturating_add(1)))
    }

    fn hits(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    fn of<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        list.get(self.below(list.len()))
    }

    fn word(&mut self, list: &[&'static str]) -> &'static str {
        self.of(list).copied().unwrap_or_default()
    }

    /// A share in hundredths.
    fn share(&mut self, least: usize, most: usize) -> f64 {
        self.between(least, most) as f64 / 100.0
    }
}

/// Fills an empty database with a shop and so many orders; says so where there is something in it already.
///
/// # Errors
/// What the database refuses: then it holds nothing of it.
pub fn fill(database: &mut Connection, orders: u32, seed: u64) -> Result<(), Failure> {
    let transaction = database.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let known: i64 = transaction.query_row("SELECT count(*) FROM orders", [], |row| row.get(0))?;
    if known > 0 {
        crate::tell(&format!("the database has {known} orders: no demo orders are added"));
        return Ok(());
    }
    let inks = shop(&transaction)?;
    let mut insert = transaction.prepare(
        "INSERT INTO orders (customer, garment, press, rush, tax_exempt, request) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    )?;
    for number in 0..orders {
        // Each order has dice of its own: more orders do not change those before.
        let mut dice = Dice(Xoshiro256PlusPlus::seed_from_u64(seed.wrapping_mul(1 << 32).wrapping_add(number.into())));
        let order = order(&mut dice, &inks);
        insert.execute(params![
            order.customer,
            order.garment,
            order.press,
            order.rush,
            order.tax_exempt,
            order.request
        ])?;
    }
    drop(insert);
    transaction.commit()?;
    Ok(())
}

/// The invented shop; its inks by colour.
fn shop(transaction: &Transaction<'_>) -> rusqlite::Result<Vec<(&'static str, Value)>> {
    let shop = json!({
        "from": "starter-shop", "dryer": "long-air-dryer-4m", "spoilage_fraction": 0.02,
        "exposure": { "time": "95 s", "solid_step": 7, "tested_on": "77-55" },
    });
    let rates = json!({
        "labour": "29.50 EUR/h", "productive_fraction": 0.65, "art": { "minutes": "20 min" },
        "film": "24 EUR/m2", "screen": { "materials": "3.80 EUR", "minutes": "22 min" }, "ink": "26 EUR/kg",
        "energy": "0.31 EUR/kWh", "dryer_power": "18 kW", "flash_power": "4.5 kW", "dryer_efficiency_fraction": 0.45,
        "packing": "0.12 EUR", "overhead_fraction": 0.35,
        "extras": [{ "name": "carton and label", "once": "4.50 EUR", "as": "cost" }],
    });
    let price = json!({
        "margin_fraction": 0.3, "blank_markup_fraction": 0.35, "rush_fraction": 0.25, "tax_fraction": 0.19,
        "least_order": "90 EUR", "round_unit_price_to": "0.05 EUR", "deposit_fraction": 0.5,
    });
    transaction.execute("INSERT OR REPLACE INTO shop VALUES (1, ?1)", [shop.to_string()])?;
    transaction.execute(
        "INSERT OR REPLACE INTO rates VALUES (1, 'EUR', ?1, ?2, 30)",
        [rates.to_string(), price.to_string()],
    )?;
    for (name, rate) in PRESSES {
        transaction.execute(
            "INSERT OR REPLACE INTO presses VALUES (?1, json_quote(?1), ?2)",
            params![name, format!("{rate} EUR/h")],
        )?;
    }
    for (name, shade, cloth, blank, larger) in GARMENTS {
        let by_size =
            LARGER.iter().zip(larger).map(|(size, each)| json!({ "size": size, "each": format!("{each} EUR") }));
        transaction.execute(
            "INSERT OR REPLACE INTO garments VALUES (?1, ?2, ?3, ?4, ?5)",
            params![name, shade, cloth, format!("{blank} EUR"), by_size.collect::<Value>().to_string()],
        )?;
    }
    let mut inks =
        vec![("white", json!("plastisol-white"), 28), ("barrier white", json!("plastisol-low-bleed-white"), 33)];
    for (index, colour) in (0_u32..).zip(COLOURS) {
        let density = f64::from(index.checked_rem(5).unwrap_or(0)) * 0.02 + 1.1;
        let ink = json!({ "from": "plastisol", "density": format!("{density:.2} g/cm3") });
        inks.push((colour, ink, 24_u32.saturating_add(index.checked_rem(7).unwrap_or(0))));
    }
    for (index, colour) in (0_u32..).zip(WATER_COLOURS) {
        inks.push((colour, json!("water-based"), 19_u32.saturating_add(index)));
    }
    for (colour, ink, euros) in &inks {
        transaction.execute(
            "INSERT OR REPLACE INTO inks VALUES (?1, ?2, ?3)",
            params![colour, ink.to_string(), format!("{euros}.50 EUR/kg")],
        )?;
    }
    Ok(inks.into_iter().map(|(colour, ink, _)| (colour, ink)).collect())
}

/// A demo order.
struct Order {
    customer: &'static str,
    garment: Option<&'static str>,
    press: &'static str,
    rush: bool,
    tax_exempt: bool,
    request: String,
}

fn order(dice: &mut Dice, inks: &[(&'static str, Value)]) -> Order {
    let (garment, shade, cloth, ..) = dice.of(&GARMENTS).copied().unwrap_or_default();
    let (hoodie, dark) = (garment.starts_with("Hoodie"), shade == "dark");
    let customer = dice.word(&CUSTOMERS);
    let supplied = dice.hits(12);
    let stored = dice.hits(15);
    let soft = !dark && !hoodie && dice.hits(15);
    let fronts = dice.between(1, 6);
    let fronts = if hoodie || soft { fronts.min(3) } else { fronts };
    let mut placements = vec![placement(dice, "front", fronts, dark, soft, stored, inks)];
    if hoodie {
        placements.push(placement(dice, "back", 2, dark, soft, stored, inks));
        placements.push(placement(dice, "sleeve", 1, dark, soft, stored, inks));
    } else if dice.hits(25) {
        let colours = dice.between(1, 2);
        placements.push(placement(dice, "back", colours, dark, soft, stored, inks));
    }
    let most_screens =
        placements.iter().filter_map(|placement| placement.get("screens")?.as_array().map(Vec::len)).max();
    // A flash takes a head of its own on an automatic.
    let presses: &[&str] = match most_screens.unwrap_or(0) {
        ..=3 => &["manual-4x4", "automatic-8", "automatic-8", "automatic-14"],
        4 => &["automatic-8", "automatic-14"],
        _ => &["automatic-14"],
    };
    let pieces = *dice.of(&[12, 18, 24, 36, 48, 60, 72, 96, 120, 144, 200, 250, 300, 500, 800_u32]).unwrap_or(&24);
    let weights = [15, 30, 30, 15, 10_u64].map(|weight| weight.max(1));
    let split = floodbar::sharing::largest_remainders(pieces.into(), &weights);
    let sizes = ["S", "M", "L", "XL", "2XL"].iter().zip(split).filter(|(_, pieces)| *pieces > 0);
    let mut request = json!({
        "title": format!("{customer}, {}", garment.to_lowercase()),
        "pieces": pieces,
        "due": format!("2027-{:02}-{:02}", dice.between(1, 12), dice.between(1, 28)),
        "cloth": serde_json::from_str::<Value>(cloth).unwrap_or_default(),
        "sizes": sizes.map(|(size, pieces)| json!({ "size": size, "pieces": pieces })).collect::<Value>(),
        "placements": placements,
    });
    if supplied && let Some(members) = request.as_object_mut() {
        members.insert("blanks".into(), "supplied".into());
    }
    let press = dice.word(presses);
    let (rush, tax_exempt) = (dice.hits(10), dice.hits(6));
    let spoils = dice.hits(1).then(|| dice.below(8));
    let request = match spoils {
        Some(fault) => spoiled(request, fault),
        None => request.to_string(),
    };
    Order { customer, garment: (!supplied).then_some(garment), press, rush, tax_exempt, request }
}

fn placement(
    dice: &mut Dice,
    name: &str,
    colours: usize,
    dark: bool,
    soft: bool,
    stored: bool,
    inks: &[(&'static str, Value)],
) -> Value {
    let (wide, high) = match name {
        "sleeve" => (70, 250),
        "front" => *dice.of(&[(300, 340), (280, 200), (320, 380), (100, 100)]).unwrap_or(&(300, 340)),
        _ => *dice.of(&[(320, 360), (300, 120)]).unwrap_or(&(300, 120)),
    };
    let mut screens = Vec::new();
    if dark {
        // One colour alone is the white itself.
        let flash = colours > 1;
        screens.push(json!({
            "name": "base white", "colour": "white", "ink": "plastisol-white", "mesh": dice.word(&BASE_MESHES),
            "coverage_fraction": dice.share(15, 40), "flash": flash, "stored": stored,
        }));
    }
    let wanted = |colour: &str| if soft { WATER_COLOURS.contains(&colour) } else { COLOURS.contains(&colour) };
    let kinds: Vec<_> = inks.iter().filter(|(colour, _)| wanted(colour)).collect();
    let first = dice.below(kinds.len());
    let more = if dark { colours.saturating_sub(1) } else { colours };
    for (colour, ink) in kinds.iter().cycle().skip(first).take(more) {
        screens.push(json!({
            "name": colour, "ink": ink, "mesh": dice.word(&MESHES), "coverage_fraction": dice.share(4, 25), "stored": stored,
        }));
    }
    json!({ "name": name, "width": format!("{wide} mm"), "height": format!("{high} mm"), "screens": screens })
}

/// An order as it should not come in.
fn spoiled(mut request: Value, fault: usize) -> String {
    let mut set = |pointer: &str, value: Value| {
        if let Some(place) = request.pointer_mut(pointer) {
            *place = value;
        }
    };
    match fault {
        0 => set("/sizes/0/pieces", json!(999)),
        1 => set("/placements/0/width", json!("300 kg")),
        2 => set("/placements/0/screens/0/ink", json!("glitter-from-the-attic")),
        3 => set("/placements/0/screens/0/coverage_fraction", json!(1.4)),
        4 => set("/due", json!("2027-02-30")),
        5 => set("/placements/0/screens/0/mesh", json!("a fine one")),
        6 => set("/placements/0/screens", json!([])),
        _ => return request.to_string().chars().take(200).collect(),
    }
    request.to_string()
}
