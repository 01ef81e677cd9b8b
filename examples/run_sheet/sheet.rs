//! The run sheet as text, at most 100 columns wide, in the order in which the work is done.

use comfy_table::{Cell, ColumnConstraint, ContentArrangement, Table, Width, presets};
use floodbar_examples::{at, list, say};
use serde_json::Value;

const COLUMNS: u16 = 100;

/// Says which numbers rest on memory: the `basis` of the answer.
struct Marks<'a>(&'a Value);

impl Marks<'_> {
    /// A star where a default from memory stands behind one of these fields of `owner`; of any owner where none is named.
    fn star(&self, owner: &str, fields: &[&str]) -> &'static str {
        let remembered = list(self.0, "/basis").filter(|basis| at(basis, "/kind") == "memory").any(|basis| {
            let of = say(at(basis, "/for"));
            let (of_owner, field) = of.rsplit_once('.').unwrap_or(("", &of));
            fields.contains(&field) && (owner.is_empty() || owner == of_owner)
        });
        if remembered { "*" } else { "" }
    }

    /// A value of the shop or its machines.
    fn shop(&self, value: &Value, field: &str) -> String {
        format!("{}{}", say(value), self.star("", &[field]))
    }

    /// A value that hangs on an ink.
    fn ink(&self, value: &Value, ink: &Value, fields: &[&str]) -> String {
        let name = say(ink);
        format!("{}{}", say(value), self.star(name.split(" (").next().unwrap_or_default(), fields))
    }
}

fn table<const N: usize>(head: [&str; N], rows: impl IntoIterator<Item = [String; N]>) -> String {
    let mut table = Table::new();
    table
        .load_preset(presets::UTF8_BORDERS_ONLY)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(COLUMNS)
        .set_header(head.map(Cell::new));
    let mut longest = head.map(longest_word);
    for row in rows {
        for (longest, cell) in longest.iter_mut().zip(&row) {
            *longest = longest_word(cell).max(*longest);
        }
        table.add_row(row);
    }
    // A broken word is hard to read at the press.
    for (column, longest) in table.column_iter_mut().zip(longest) {
        column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(longest.saturating_add(2))));
    }
    table.to_string()
}

fn longest_word(text: &str) -> u16 {
    text.split_whitespace().map(|word| word.chars().count()).max().and_then(|n| u16::try_from(n).ok()).unwrap_or(0)
}

/// A numbered or signed list, wrapped at the page's width.
fn wrapped(rows: impl IntoIterator<Item = [String; 2]>) -> String {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_content_arrangement(ContentArrangement::Dynamic).set_width(COLUMNS);
    for row in rows {
        table.add_row(row);
    }
    if let Some(first) = table.column_mut(0) {
        first.set_constraint(ColumnConstraint::UpperBoundary(Width::Fixed(38)));
    }
    table.trim_fmt()
}

/// The whole sheet. The order shows what was measured on its artwork.
pub fn text(plan: &Value, order: &Value) -> String {
    let marks = Marks(plan);
    let parts = [
        head(plan),
        cautions(plan, order),
        artwork(plan, order),
        screens(plan, &marks),
        register(plan, &marks),
        on_press(plan, &marks),
        ink(plan, &marks),
        places(plan),
        flash(plan, &marks),
        dryer(plan, &marks),
        pace(plan, &marks),
        blanks(plan, &marks),
        wash(plan),
        sign_off(plan),
        remembered(plan),
    ];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("\n\n")
}

fn head(plan: &Value) -> String {
    let title = at(plan, "/title").as_str().unwrap_or("Untitled order");
    let due = at(plan, "/due").as_str().map(|due| format!("    due {due}")).unwrap_or_default();
    let placements = list(plan, "/placements").map(|placement| {
        let below = at(placement, "/below_collar");
        let below = if below.is_null() { String::new() } else { format!(", {} below the collar seam", say(below)) };
        format!(
            "{}: {} wide, {} high{below}",
            say(at(placement, "/name")),
            say(at(placement, "/width")),
            say(at(placement, "/height"))
        )
    });
    let first =
        format!("RUN SHEET    {title}{due}\n{} good pieces on {}", say(at(plan, "/pieces")), say(at(plan, "/cloth")));
    std::iter::once(first).chain(placements).collect::<Vec<_>>().join("\n")
}

/// Every screen with its number, placement by placement, in print order.
fn numbered(plan: &Value) -> impl Iterator<Item = (String, &Value)> {
    (1..).zip(list(plan, "/screens")).map(|(number, screen)| (format!("{number} {}", say(at(screen, "/name"))), screen))
}

/// The artwork of every screen as `artwork.measure` answered it, null where none was given, in print order.
fn measured(order: &Value) -> impl Iterator<Item = &Value> {
    list(order, "/placements").flat_map(|placement| list(placement, "/screens")).map(|screen| at(screen, "/artwork"))
}

fn artwork(plan: &Value, order: &Value) -> String {
    let finest = |art: &Value, what: &str| match (at(art, &format!("/{what}")), at(art, &format!("/{what}_at"))) {
        (Value::Null, _) => "none".into(),
        (width, Value::Null) => say(width),
        (width, place) => {
            format!("{}\nat {} x {}", say(width), bare(at(place, "/from_left")), bare(at(place, "/from_top")))
        }
    };
    let rows = numbered(plan).zip(measured(order)).filter(|(_, art)| !art.is_null()).map(|((name, _), art)| {
        let halftone = at(art, "/halftone");
        [
            name,
            say(at(art, "/printed_area")),
            format!("{} x {}", bare(at(art, "/width")), say(at(art, "/height"))),
            format!("{:.1} %", 100.0 * number_of(at(art, "/coverage_fraction"))),
            finest(art, "finest_line"),
            finest(art, "finest_gap"),
            if halftone.is_null() {
                "no".into()
            } else {
                format!("{}\nat {}", say(at(halftone, "/ruling")), say(at(halftone, "/angle")))
            },
        ]
    });
    let Some(unit) = measured(order).find_map(|art| at(art, "/width/unit").as_str()) else { return String::new() };
    let head = ["Screen", "Printed", "In a box of", "Covers", "Finest line", "Finest gap", "Halftone"];
    format!(
        "ARTWORK AS MEASURED (is the box the size of the art? if not, the resolution is wrong; of a halftone\n\
         the finest line is its smallest dot, the finest gap its smallest hole; at: {unit}, from left x from top)\n{}",
        table(head, rows)
    )
}

fn screens(plan: &Value, marks: &Marks) -> String {
    let rows = numbered(plan).map(|(name, screen)| {
        let stencil = at(screen, "/stencil");
        let verdict = at(stencil, "/verdict").as_str().map_or(String::new(), |verdict| format!("; {verdict}"));
        let detail = at(screen, "/detail");
        let halftone = at(screen, "/halftone");
        let art = at(detail, "/wanted");
        let holds = if !halftone.is_null() {
            let (light, dark) = (at(halftone, "/tone_min_fraction"), at(halftone, "/tone_max_fraction"));
            format!(
                "halftone {} at {}: tones {} to {}",
                say(at(halftone, "/ruling")),
                say(at(halftone, "/angle")),
                percent(light),
                percent(dark)
            )
        } else if art.is_null() {
            format!("{}{}", say(at(detail, "/finest_line")), marks.star("", &["finest_line"]))
        } else {
            format!(
                "{}{}; art {}: {}",
                say(at(detail, "/finest_line")),
                marks.star("", &["finest_line"]),
                say(art),
                say(at(detail, "/verdict"))
            )
        };
        [
            name,
            mesh(at(screen, "/mesh")),
            say(at(screen, "/target_tension")),
            format!(
                "{} x {}{}",
                bare(at(screen, "/frame_least/width")),
                say(at(screen, "/frame_least/length")),
                marks.star("", &["blade_overlap"])
            ),
            format!("{}{}", say(at(stencil, "/coats")), marks.star("", &["coats"])),
            format!("{} to {}{verdict}", bare(at(stencil, "/gauge_low")), say(at(stencil, "/gauge_high"))),
            exposure(stencil),
            holds,
        ]
    });
    let head = ["Screen", "Mesh", "Tension", "Frame inside", "Coats", "Gauge reads", "Expose", "Finest it holds"];
    format!(
        "SCREENS TO MAKE (mesh: threads per cm - thread in um; coats: print side : squeegee side;\n\
         gauge: mesh and dry stencil together)\n{}",
        table(head, rows)
    )
}

/// A share, as a sheet says it.
fn percent(share: &Value) -> String {
    format!("{:.0} %", 100.0 * number_of(share))
}

/// How the screens are set to one another, and how often their colours will meet.
fn register(plan: &Value, marks: &Marks) -> String {
    let judged = at(plan, "/register");
    if judged.is_null() {
        return String::new();
    }
    let orders = list(plan, "/placements").filter_map(|placement| {
        let name = at(placement, "/name");
        let mut screens: Vec<_> = list(plan, "/screens").filter(|screen| at(screen, "/placement") == name).collect();
        screens.sort_by_key(|screen| at(screen, "/set").as_u64());
        let names: Vec<_> = screens.iter().map(|screen| say(at(screen, "/name"))).collect();
        (names.len() > 1).then(|| [format!("set {}", say(name)), format!("{}, in this order", names.join(", then "))])
    });
    let chance = |field: &str| percent(at(judged, field));
    let rows = [
        ["method".to_owned(), format!("{}{}", say(at(judged, "/method")), marks.star("", &["half_width", "register"]))],
        ["trap".to_owned(), format!("{} where colours meet", marks.shop(at(judged, "/trap"), "trap"))],
        [
            "will they meet".to_owned(),
            format!(
                "two colours on {} of the prints of the {}, all {} on {}",
                chance("/pair_within_probability"),
                say(at(judged, "/placement")),
                say(at(judged, "/colours")),
                chance("/all_within_probability")
            ),
        ],
        [format!("for {}", chance("/wanted_probability")), format!("a trap of {}", say(at(judged, "/trap_needed")))],
    ];
    format!("REGISTER (check the overlap of the colours on the first print)\n{}", wrapped(orders.chain(rows)))
}

/// The time, and what it is the tested time multiplied by.
fn exposure(stencil: &Value) -> String {
    let time = at(stencil, "/exposure_time");
    if time.is_null() {
        return "step-test".into();
    }
    let factors: Vec<String> = list(stencil, "/exposure_causes")
        .map(|cause| format!("{} x {}", say(at(cause, "/cause")), say(at(cause, "/factor"))))
        .collect();
    format!("{} ({})", say(time), factors.join(", "))
}

fn on_press(plan: &Value, marks: &Marks) -> String {
    let rows = numbered(plan).map(|(name, screen)| {
        [
            name,
            say(at(screen, "/station")),
            say(at(screen, "/ink")),
            format!(
                "{} of {} shore A at {}",
                marks.shop(at(screen, "/blade/length"), "blade_overlap"),
                say(at(screen, "/blade/hardness")),
                marks.shop(at(screen, "/blade/angle"), "blade_angle")
            ),
            say(at(screen, "/blade/pressure")),
            marks.shop(at(screen, "/off_contact"), "off_contact"),
            format!(
                "{} flood, {} print at {}, {} hit{}",
                say(at(screen, "/strokes/flood")),
                say(at(screen, "/strokes/print")),
                marks.shop(at(screen, "/stroke_speed"), "stroke_speed"),
                say(at(screen, "/hits")),
                if at(screen, "/hits") == 1 { "" } else { "s" }
            ),
        ]
    });
    let head = ["Screen", "Station", "Ink", "Blade", "Pressure", "Off-contact", "Strokes"];
    format!("ON THE PRESS (off-contact: from mesh to garment, not to platen)\n{}", table(head, rows))
}

fn ink(plan: &Value, marks: &Marks) -> String {
    let rows = numbered(plan).map(|(name, screen)| {
        let ink = at(screen, "/ink");
        let per_pot = if list(screen, "/pots").len() > 1 { " a pot" } else { "" };
        let stir_in: Vec<String> = list(screen, "/additives")
            .map(|a| {
                let text = format!("{} {}{per_pot}", say(at(a, "/mass_per_pot")), say(at(a, "/name")));
                marks.ink(&Value::from(text), ink, &["additives"])
            })
            .collect();
        let ready = match marks.star("", &["waste_fraction", "left_in_screen"]) {
            "" => marks.ink(at(screen, "/mass_to_mix"), ink, &["release_fraction", "density"]),
            star => format!("{}{star}", say(at(screen, "/mass_to_mix"))),
        };
        let again = at(screen, "/mix_again_after");
        [
            name,
            marks.ink(at(screen, "/wet_film"), ink, &["release_fraction"]),
            marks.ink(at(screen, "/dry_film"), ink, &["release_fraction", "solids_by_volume_fraction"]),
            marks.ink(at(screen, "/mass_per_print"), ink, &["release_fraction", "density"]),
            ready,
            if stir_in.is_empty() { "nothing".into() } else { stir_in.join(", ") },
            if again.is_null() { "keeps".into() } else { format!("lasts {}", marks.ink(again, ink, &["pot_life"])) },
            pots(screen),
        ]
    });
    let head = ["Screen", "Wet film", "Dry film", "On a print", "Have ready", "Stir in", "Mixed", "Pots"];
    let each = table(head, rows);
    let rows = list(plan, "/ink_totals").map(|total| {
        let ink = at(total, "/ink");
        let screens: Vec<String> = list(total, "/screens").map(say).collect();
        [
            say(ink),
            screens.join(", "),
            marks.ink(at(total, "/mass_printed"), ink, &["release_fraction", "density"]),
            marks.ink(at(total, "/mass_to_mix"), ink, &["release_fraction", "density"]),
            marks.ink(at(total, "/volume_to_mix"), ink, &["release_fraction"]),
        ]
    });
    format!(
        "INK (have ready: printed, waste, and what stays in the screen)\n{each}\n{}",
        table(["Ink", "For", "Printed", "Have ready", "By volume"], rows)
    )
}

/// The pots of an ink that does not keep: how many, how much in each, and when to mix them.
fn pots(screen: &Value) -> String {
    let times: Vec<String> = list(screen, "/pots").map(|pot| say(at(pot, "/mix_at"))).collect();
    match times.len() {
        0 => String::new(),
        1 => "one, at the start".into(),
        _ => format!("{} of {}, at {}", times.len(), say(at(screen, "/pots/0/mass")), times.join(", ")),
    }
}

fn places(plan: &Value) -> String {
    let rows = list(plan, "/heads").map(|head| {
        [say(at(head, "/placement")), say(at(head, "/station")), say(at(head, "/role")), say(at(head, "/screen"))]
    });
    format!("PLACES ON THE PRESS\n{}", table(["Print", "Station", "Does", "Screen"], rows))
}

fn flash(plan: &Value, marks: &Marks) -> String {
    let rows: Vec<_> = list(plan, "/flash")
        .map(|flash| {
            [
                say(at(flash, "/screen")),
                match at(flash, "/panel") {
                    Value::Null => say(at(flash, "/flash")),
                    panel => format!("{} at {}", say(at(flash, "/flash")), marks.shop(panel, "panel")),
                },
                marks.shop(at(flash, "/dwell_cold"), "exchange_fraction"),
                format!(
                    "{} at {}",
                    marks.shop(at(flash, "/dwell_warm"), "exchange_fraction"),
                    say(at(flash, "/platen_warm"))
                ),
                format!("{} to {}", bare(at(flash, "/height_low")), say(at(flash, "/height_high"))),
                match at(flash, "/gel") {
                    Value::Null => "dry".into(),
                    gel => marks.shop(gel, "gel"),
                },
                format!("{}{}", say(at(flash, "/gun_most")), marks.star("", &["flash_never_above", "never_above"])),
            ]
        })
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    let kept = list(plan, "/flash").filter_map(|flash| {
        let turn = at(flash, "/overheats_at").as_u64()?;
        Some(format!(
            "\n{}: the cold dwell, kept, overheats from turn {turn} of the carousel on",
            say(at(flash, "/screen"))
        ))
    });
    let head = ["After", "Flash", "Cold platens", "Warm platens", "Height", "Print at least", "Gun at most"];
    format!("FLASH (shorten it turn by turn as the platens warm up)\n{}{}", table(head, rows), kept.collect::<String>())
}

fn dryer(plan: &Value, marks: &Marks) -> String {
    let dryer = at(plan, "/dryer");
    let ink = at(dryer, "/hardest_ink");
    let range = ["/slowest", "/fastest"]
        .map(|end| (at(dryer, end), at(dryer, &format!("/limits{end}"))))
        .map(|(end, rule)| format!("{} ({})", say(end), say(rule).replace('_', " ")));
    let rows = list(dryer, "/probe_readings").map(|reading| {
        let least = at(reading, "/least");
        [
            say(at(reading, "/at")),
            say(at(reading, "/time")),
            say(at(reading, "/expect")),
            if least.is_null() { String::new() } else { say(least) },
            format!("{}{}", say(at(reading, "/most")), marks.star("", &["never_above"])),
            "____ / ____ / ____".into(),
        ]
    });
    let zones = list(dryer, "/zones").map(|zone| {
        let panel = at(zone, "/panel");
        let panel = if panel.is_null() { String::new() } else { format!(", panel {}", say(panel)) };
        format!("{} of air at {}{panel}", say(at(zone, "/length")), say(at(zone, "/air")))
    });
    format!(
        "DRYER\nSet{}: {}.\nBelt {}{}: {} under heat, for {ink}.\nSlowest belt: {}. Fastest belt: {}.\n{}",
        marks.star("", &["zones"]),
        zones.collect::<Vec<_>>().join("; "),
        say(at(dryer, "/recommended")),
        marks.star("", &["zones"]),
        marks.ink(at(dryer, "/dwell"), ink, &["customary_dwell"]),
        range[0],
        range[1],
        table(["Probe at", "After", "Expect", "At least", "Never over", "Read: left / middle / right"], rows),
        ink = say(ink),
    )
}

fn pace(plan: &Value, marks: &Marks) -> String {
    let star = marks.star("", &["index", "stroke_speed", "load", "unload"]);
    let rows = list(plan, "/press/runs").map(|run| {
        [
            say(at(run, "/placement")),
            format!("{}{star}", say(at(run, "/cycle"))),
            format!("{}{star}", say(at(run, "/pieces_per_hour"))),
            say(at(run, "/bottleneck")),
            say(at(run, "/next_bottleneck")),
            marks.shop(at(run, "/setup_time"), "teardown_per_screen"),
            format!("{}{star}", say(at(run, "/run_time"))),
        ]
    });
    let head = ["Print", "Cycle", "Pieces an hour", "Held up by", "Next", "Set up and clear", "Run"];
    format!("PACE (while running)\n{}", table(head, rows))
}

fn blanks(plan: &Value, marks: &Marks) -> String {
    let blanks = at(plan, "/blanks");
    let star = marks.star("", &["spoilage_fraction", "confidence"]);
    let sizes = list(blanks, "/sizes").map(|size| {
        [say(at(size, "/size")), say(at(size, "/pieces")), format!("{}{star}", say(at(size, "/start_with")))]
    });
    let all = ["all".to_owned(), say(at(plan, "/pieces")), format!("{}{star}", say(at(blanks, "/start_with")))];
    format!(
        "BLANKS (the order comes out complete with a chance of {:.0} %)\n{}\nand {} more of the same cloth, any size, for the wash test",
        100.0 * number_of(at(blanks, "/probability")),
        table(["Size", "Ordered", "Start with"], sizes.chain(std::iter::once(all))),
        say(at(blanks, "/for_wash_test"))
    )
}

fn wash(plan: &Value) -> String {
    let test = at(plan, "/wash_test");
    let take: Vec<String> = list(test, "/take").map(say).collect();
    let stacks = list(test, "/stacks").flat_map(|stack| {
        let inks: Vec<String> = list(stack, "/inks").map(say).collect();
        let first = [format!("{}, from the cloth up:", say(at(stack, "/placement"))), inks.join(", then ")];
        let bonds = list(stack, "/bonds").map(|bond| {
            let pair = format!("{} on {}", say(at(bond, "/upper")), say(at(bond, "/lower")));
            [format!("- risk {}:", say(at(bond, "/risk"))), format!("{pair}: {}", say(at(bond, "/why")))]
        });
        std::iter::once(first).chain(bonds).collect::<Vec<_>>()
    });
    let proves = [String::from("that proves:"), say(at(test, "/proves"))];
    format!(
        "WASH TEST\nTake {} prints of each stack ({}) and wash them {} times.\n{}",
        say(at(test, "/prints")),
        take.join(", "),
        say(at(test, "/washes")),
        wrapped(stacks.chain(std::iter::once(proves)))
    )
}

fn sign_off(plan: &Value) -> String {
    let rows = list(plan, "/sign_off").map(|item| {
        let blanks: Vec<String> = list(item, "/fill_in").map(|blank| format!("{} ________", say(blank))).collect();
        [say(at(item, "/what")), say(at(item, "/check")), blanks.join("\n")]
    });
    format!("SIGN OFF\n{}", table(["What", "It must show", "Fill in"], rows))
}

fn cautions(plan: &Value, order: &Value) -> String {
    let of_art = list(plan, "/screens").zip(measured(order)).flat_map(|(screen, art)| {
        let worth = list(art, "/notes").filter(|note| at(note, "/level") != "info");
        worth.map(|note| (note, Some(say(at(screen, "/name")))))
    });
    let of_plan = list(plan, "/notes").map(|note| (note, place(plan, &say(at(note, "/field")))));
    // One caution may concern several screens: say it once, and name them.
    let mut said: Vec<(String, String, Vec<String>)> = Vec::new();
    for (note, place) in of_art.chain(of_plan) {
        let (level, message) = (say(at(note, "/level")), say(at(note, "/message")));
        match said.iter_mut().find(|(_, known, _)| *known == message) {
            Some((_, _, places)) => places.extend(place),
            None => said.push((level, message, place.into_iter().collect())),
        }
    }
    let rows = said.into_iter().map(|(level, message, places)| {
        let places = if places.is_empty() { String::new() } else { format!("{}: ", places.join(", ")) };
        [level, format!("{places}{message}")]
    });
    format!("READ BEFORE YOU START\n{}", wrapped(rows))
}

/// The screen or print that a note is about.
fn place(plan: &Value, field: &str) -> Option<String> {
    let mut steps = field.split('/').skip(1);
    let (Some("placements"), Some(p)) = (steps.next(), steps.next()) else { return None };
    let placement = say(at(plan, &format!("/placements/{p}/name")));
    let (Some("screens"), Some(s)) = (steps.next(), steps.next()) else { return Some(placement) };
    let of_placement = list(plan, "/screens").filter(|screen| say(at(screen, "/placement")) == placement);
    let screen = s.parse().ok().and_then(|s| of_placement.map(|screen| say(at(screen, "/name"))).nth(s));
    screen.or(Some(placement))
}

fn remembered(plan: &Value) -> String {
    let rows: Vec<_> = list(plan, "/basis")
        .filter(|basis| at(basis, "/kind") == "memory")
        .map(|basis| [say(at(basis, "/for")).replace('.', ": ").replace('_', " "), say(at(basis, "/source"))])
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    format!("* RESTS ON A DEFAULT FROM MEMORY: put your own measurement in its place\n{}", wrapped(rows))
}

/// The trade's own designation, and the count in threads per inch where the sheet is in inches.
fn mesh(mesh: &Value) -> String {
    let count = number_of(at(mesh, "/count/value"));
    let thread = number_of(at(mesh, "/thread/value"));
    if at(mesh, "/count/unit") == "/in" {
        format!("{:.0}-{thread:.0} ({count:.0} tpi)", count / 2.54)
    } else {
        format!("{count:.0}-{thread:.0}")
    }
}

fn number_of(value: &Value) -> f64 {
    value.as_f64().unwrap_or_default()
}

/// A quantity without its unit, for a range whose end names it.
fn bare(value: &Value) -> String {
    say(value).split(' ').next().unwrap_or_default().to_owned()
}
