//! The run sheet as text, at most 100 columns wide: what stops the job, what to watch, then what is set, in the order in which the work
//! is done. One page holds an order of three screens. Sources stand on a page of their own.

use crate::art::Warning;
use comfy_table::{Cell, CellAlignment, ColumnConstraint, ContentArrangement, Table, Width, presets};
use core::fmt::Display;
use floodbar::artwork::{ArtworkMeasure, PicturePoint};
use floodbar::dryer::Rule;
use floodbar::job::{HeadRole, KeyTone, Order, Plan, ScreenSheet};
use floodbar::mesh::Geometry;
use floodbar::note::Level;
use floodbar::quantity::{Length, System, Time, UNITS, units};
use floodbar::source::{Basis, SourceKind};
use floodbar::wire::Answered;
use floodbar_examples::{Said, Say, number};
use textwrap::{Options, WordSeparator, WordSplitter};

const COLUMNS: u16 = 100;

fn laid_out<const N: usize>(head: [&str; N], rows: impl IntoIterator<Item = [String; N]>) -> Table {
    let mut table = Table::new();
    table
        .load_preset(presets::NOTHING)
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
    table
}

/// A table of texts.
fn table<const N: usize>(head: [&str; N], rows: impl IntoIterator<Item = [String; N]>) -> String {
    laid_out(head, rows).trim_fmt()
}

/// A table whose columns of these numbers hold amounts, right under one another.
pub fn table_of_amounts<const N: usize>(
    head: [&str; N],
    amounts: &[usize],
    rows: impl IntoIterator<Item = [String; N]>,
) -> String {
    let mut table = laid_out(head, rows);
    for column in amounts {
        if let Some(column) = table.column_mut(*column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table.trim_fmt()
}

/// Cautions that hold of every order: they stand together, after what is particular to this one.
const SAFETY: [&str; 4] = ["heat_and_fumes", "moving_press", "discharge_agent", "cured_again"];

/// A line folded at the page's width.
pub fn folded(line: &str) -> String {
    let options = Options::new(usize::from(COLUMNS))
        .subsequent_indent("  ")
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation);
    textwrap::fill(line, options)
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

/// What a sheet is made from. The order shows what was measured on its artwork.
pub struct Sheet<'a> {
    pub plan: &'a Answered<Plan>,
    pub order: &'a Order,
    pub warnings: &'a [Warning],
    pub say: Say,
}

impl Sheet<'_> {
    /// What hangs at the press: what must not be printed, what to watch, what is set, and the totals of the order.
    pub fn text(&self) -> String {
        let parts = [
            self.head(),
            self.notes(),
            self.screens(),
            self.register(),
            self.on_press(),
            self.ink(),
            self.flash(),
            self.dryer(),
            self.wash(),
            self.sign_off(),
            self.totals(),
        ];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("\n\n")
    }

    /// A page of its own, for the desk: where the numbers come from, the artwork as it was measured, and the bonds of the inks.
    pub fn sources(&self) -> String {
        let title = self.plan.title.as_deref().unwrap_or("Untitled order");
        let parts = [
            format!("SOURCES    {title}"),
            self.artwork(),
            self.exposures(),
            self.hiding(),
            self.bonds(),
            self.remembered(),
        ];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("\n\n")
    }

    /// The basis of the numbers that rest on memory.
    fn memory_basis(&self) -> impl Iterator<Item = &Basis> {
        self.plan.basis().iter().filter(|basis| basis.source.kind == SourceKind::Memory)
    }

    /// A star where a default from memory stands behind one of these fields of `owner`; of any owner where none is named.
    fn star(&self, owner: &str, fields: &[&str]) -> &'static str {
        let remembered = self.memory_basis().any(|basis| {
            let of = basis.of.to_string();
            let (of_owner, field) = of.rsplit_once('.').unwrap_or(("", &of));
            fields.contains(&field) && (owner.is_empty() || owner == of_owner)
        });
        if remembered { "*" } else { "" }
    }

    /// A value with how far it may be off, where the order has doubts that it hangs on: `404 g +/- 80`.
    fn doubted(&self, said: Said, pointer: &str) -> String {
        let name = said.unit.replace('°', "deg");
        let unit = UNITS.iter().find(|unit| unit.name == name);
        match self.plan.half_width(pointer).zip(unit) {
            Some((half_width, unit)) => {
                format!("{said} +/- {}", floodbar_examples::half_width(unit.span_from_si(half_width)))
            }
            None => said.to_string(),
        }
    }

    /// A value of the shop or its machines, with its star.
    fn of_shop(&self, value: impl Display, field: &str) -> String {
        format!("{value}{}", self.star("", &[field]))
    }

    /// A value that hangs on an ink, with its star.
    fn of_ink(&self, value: impl Display, ink: &str, fields: &[&str]) -> String {
        format!("{value}{}", self.star(ink.split(" (").next().unwrap_or_default(), fields))
    }

    /// Every screen with its number, placement by placement, in print order.
    fn numbered(&self) -> impl Iterator<Item = (String, &ScreenSheet)> {
        (1..).zip(&self.plan.screens).map(|(number, screen)| (format!("{number} {}", screen.name), screen))
    }

    fn head(&self) -> String {
        let (plan, say) = (self.plan, self.say);
        let title = plan.title.as_deref().unwrap_or("Untitled order");
        let due = plan.due.as_ref().map(|due| format!("    due {due}")).unwrap_or_default();
        let star = self.star("", &["spoilage_fraction", "confidence"]);
        let sizes = plan.blanks.sizes.iter().map(|size| format!("{} {}", size.start_with, size.size));
        let sizes: Vec<_> = sizes.collect();
        let sizes = if sizes.is_empty() { String::new() } else { format!(" ({})", sizes.join(", ")) };
        let first = [format!("RUN SHEET    {title}{due}"), format!("{} good pieces on {}", plan.pieces, plan.cloth)];
        let blanks = format!(
            "blanks: start with {}{star}{sizes}, and {} more for the wash test",
            plan.blanks.start_with, plan.blanks.for_wash_test
        );
        let placements = plan.placements.iter().map(|placement| {
            let below = placement.below_collar.map(|below| format!(", {} below the collar seam", say.blade(below)));
            let size = format!("{} wide, {} high", say.blade(placement.width), say.blade(placement.height));
            format!("{}: {size}{}", placement.name, below.unwrap_or_default())
        });
        first.into_iter().chain([blanks]).chain(placements).map(|line| folded(&line)).collect::<Vec<_>>().join("\n")
    }

    /// First what stops the job, then what is particular to this order, then what holds of all.
    fn notes(&self) -> String {
        let of_art = self.warnings.iter().map(|of| (of.level, "", &of.message, Some(of.screen.as_str())));
        let of_plan =
            self.plan.notes().iter().map(|note| (note.level, note.code, &note.message, self.place(&note.field)));
        // One note may concern several screens: say it once, and name them.
        let mut said: Vec<(Level, &str, &str, Vec<&str>)> = Vec::new();
        for (level, code, message, place) in of_art.chain(of_plan).filter(|(level, ..)| *level > Level::Info) {
            match said.iter_mut().find(|(_, _, known, _)| known == message) {
                Some((_, _, _, places)) => {
                    if let Some(place) = place.filter(|place| !places.contains(place)) {
                        places.push(place);
                    }
                }
                None => said.push((level, code, message, place.into_iter().collect())),
            }
        }
        let section = |head: &str, of: &dyn Fn(Level, &str) -> bool| {
            let rows: Vec<_> = said
                .iter()
                .filter(|(level, code, ..)| of(*level, code))
                .map(|(_, _, message, places)| {
                    let places = if places.is_empty() { String::new() } else { format!("{}: ", places.join(", ")) };
                    ["-".to_owned(), format!("{places}{message}")]
                })
                .collect();
            if rows.is_empty() { None } else { Some(format!("{head}\n{}", wrapped(rows))) }
        };
        let safety = |code: &str| SAFETY.contains(&code);
        let sections = [
            section("STOP: this cannot work, or breaks something", &|level, _| level == Level::Limit),
            section("WATCH", &|level, code| level == Level::Caution && !safety(code)),
            section("SAFETY", &|level, code| level == Level::Caution && safety(code)),
        ];
        sections.into_iter().flatten().collect::<Vec<_>>().join("\n")
    }

    /// The screen or print that a note is about.
    fn place(&self, field: &str) -> Option<&str> {
        let mut steps = field.split('/').skip(1);
        let (Some("placements"), Some(p)) = (steps.next(), steps.next()) else { return None };
        let placement = self.order.placements.get(p.parse::<usize>().ok()?)?;
        let (Some("screens"), Some(s)) = (steps.next(), steps.next()) else { return Some(&placement.name) };
        let screen = s.parse::<usize>().ok().and_then(|s| placement.screens.get(s));
        Some(screen.map_or(&placement.name, |screen| &screen.name))
    }

    fn artwork(&self) -> String {
        let say = self.say;
        let screens = self.order.placements.iter().flat_map(|placement| placement.screens.iter());
        let measured = self.numbered().zip(screens).filter_map(|((name, _), screen)| {
            let art: &ArtworkMeasure = screen.artwork.as_ref()?;
            let size = art.width.zip(art.height);
            Some([
                name,
                say.usual(art.printed_area).to_string(),
                size.map(|(w, h)| format!("{} x {}", say.print(w).number, say.print(h))).unwrap_or_default(),
                art.coverage_fraction.map(|covers| format!("{:.1} %", 100.0 * covers)).unwrap_or_default(),
                self.finest(art.finest_line, art.finest_line_at.as_ref()),
                self.finest(art.finest_gap, art.finest_gap_at.as_ref()),
                match &art.halftone {
                    None => "no".into(),
                    Some(halftone) => format!("{}\nat {}", say.usual(halftone.ruling), say.usual(halftone.angle)),
                },
            ])
        });
        let rows: Vec<_> = measured.collect();
        if rows.is_empty() {
            return String::new();
        }
        let unit = say.print(units::MM.of(0.0)).unit;
        let head = ["Screen", "Printed", "In a box of", "Covers", "Finest line", "Finest gap", "Halftone"];
        format!(
            "ARTWORK AS MEASURED (is the box the size of the art? if not, the resolution is wrong; of a halftone\n\
             the finest line is its smallest dot, the finest gap its smallest hole; at: {unit}, from left x from top)\n{}",
            table(head, rows)
        )
    }

    /// The width of the finest line or gap, and where to look for it.
    fn finest(&self, width: Option<Length>, at: Option<&PicturePoint>) -> String {
        let say = |length| self.say.print(length);
        match (width, at) {
            (None, _) => "none".into(),
            (Some(width), None) => say(width).to_string(),
            (Some(width), Some(at)) => {
                format!("{}\nat {} x {}", say(width), say(at.from_left).number, say(at.from_top).number)
            }
        }
    }

    fn screens(&self) -> String {
        let say = self.say;
        let rows = self.numbered().enumerate().map(|(index, (name, screen))| {
            let (stencil, frame) = (&screen.stencil, &screen.frame_least);
            let verdict = stencil.verdict.map(|verdict| format!("; {}", verdict.text())).unwrap_or_default();
            // The build that they make stands in the gauge.
            let coats = stencil.coats.rsplit_once(':').map_or(&*stencil.coats, |(coats, _)| coats);
            let coats = coats.trim_end_matches(" edge");
            [
                name,
                self.mesh(&screen.mesh),
                say.usual(screen.target_tension).to_string(),
                format!("{} x {}", say.blade(frame.width).number, say.blade(frame.length).number),
                self.of_shop(coats, "coats"),
                format!("{} to {}{verdict}", say.film(stencil.gauge_low).number, say.film(stencil.gauge_high).number),
                stencil.exposure_time.map_or_else(
                    || "step-test".into(),
                    |time| self.doubted(say.usual(time), &format!("/screens/{index}/stencil/exposure_time")),
                ),
                self.holds(screen),
            ]
        });
        let inside = format!("Frame, {}", say.print(units::MM.of(0.0)).unit);
        let mesh = if say.0 == System::Us { "Mesh (tpi)" } else { "Mesh" };
        let head = ["Screen", mesh, "Tension", &*inside, "Coats", "Gauge um", "Expose", "Line / gap"];
        format!(
            "SCREENS TO MAKE (coats: print : squeegee side; gauge: with mesh; line / gap: finest held, um)\n{}{}",
            table(head, rows),
            self.tones()
        )
    }

    /// What tones of the film print as, said once for all screens that print them alike.
    fn tones(&self) -> String {
        let tones = self.numbered().filter_map(|(name, screen)| {
            let tones: Vec<_> = screen.halftone.as_ref()?.tones.iter().filter(|tone| tone.held).collect();
            if tones.is_empty() {
                return None;
            }
            let shares =
                |of: fn(&KeyTone) -> f64| tones.iter().map(|tone| percent(of(tone))).collect::<Vec<_>>().join(", ");
            Some((
                format!(
                    "{} of the film print as {}",
                    shares(|tone| tone.film_fraction),
                    shares(|tone| tone.printed_fraction)
                ),
                name,
            ))
        });
        shared(tones)
    }

    /// The trade's own designation, and the count in threads per inch where the sheet is in inches.
    fn mesh(&self, mesh: &Geometry) -> String {
        let name = format!("{:.0}-{:.0}", units::PER_CM.value(mesh.count), units::UM.value(mesh.thread));
        match self.say.0 {
            System::Metric => name,
            System::Us => format!("{name} ({:.0})", units::PER_IN.value(mesh.count)),
        }
    }

    /// What each exposure is the tested time multiplied by.
    fn exposures(&self) -> String {
        let rows = self.numbered().filter_map(|(name, screen)| {
            let time = screen.stencil.exposure_time?;
            let causes = screen.stencil.exposure_causes.iter();
            let factors: Vec<_> = causes.map(|cause| format!("{} x {}", cause.cause, number(cause.factor))).collect();
            Some([name, format!("{}: {}", self.say.usual(time), factors.join(", "))])
        });
        let rows: Vec<_> = rows.collect();
        if rows.is_empty() {
            String::new()
        } else {
            format!("EXPOSURES (the tested time, multiplied)\n{}", wrapped(rows))
        }
    }

    /// What the screen holds: tones, or its finest line and gap. Art that is finer is warned of.
    fn holds(&self, screen: &ScreenSheet) -> String {
        let say = self.say;
        if let Some(halftone) = &screen.halftone {
            let tones = match (halftone.tone_min_fraction, halftone.tone_max_fraction) {
                (Some(light), Some(dark)) => format!("{:.0} to {} open", 100.0 * light, percent(dark)),
                _ => "no tones".into(),
            };
            return format!("{} at {}: {tones}", say.usual(halftone.ruling), say.usual(halftone.angle));
        }
        let detail = &screen.detail;
        format!(
            "{} / {}",
            self.of_shop(say.film(detail.finest_line).number, "finest_line"),
            say.film(detail.finest_gap).number
        )
    }

    /// How the screens are set to one another, and how often their colours will meet.
    fn register(&self) -> String {
        let (plan, say) = (self.plan, self.say);
        let Some(judged) = &plan.register else { return String::new() };
        let orders = plan.placements.iter().filter_map(|placement| {
            let mut screens: Vec<_> = plan.screens.iter().filter(|screen| screen.placement == placement.name).collect();
            screens.sort_by_key(|screen| screen.set);
            let names: Vec<_> = screens.iter().map(|screen| screen.name.as_str()).collect();
            (names.len() > 1).then(|| format!("set {}: {}", placement.name, names.join(", then ")))
        });
        let [trap, needed] = say.apart(judged.trap, judged.trap_needed);
        let rows = [
            format!(
                "first set-up: {} colours of the {} meet with a chance of {}; for {} a trap of {needed}",
                if judged.colours == 2 { "both".to_owned() } else { format!("all {}", judged.colours) },
                judged.placement,
                often(judged.setup_within_probability),
                percent(judged.wanted_probability)
            ),
            format!("once adjusted: they meet on {} of the prints", often(judged.adjusted_within_probability)),
        ];
        format!(
            "REGISTER (by {}{}, trap {} where colours meet)\n{}",
            judged.method,
            self.star("", &["half_width", "register"]),
            self.of_shop(trap, "trap"),
            orders.chain(rows).map(|line| folded(&line)).collect::<Vec<_>>().join("\n")
        )
    }

    fn on_press(&self) -> String {
        let say = self.say;
        let rows = self.numbered().map(|(name, screen)| {
            let (blade, strokes) = (&screen.blade, &screen.strokes);
            let hits = if screen.hits == 1 { String::new() } else { format!(", {} hits", screen.hits) };
            [
                name,
                screen.station.to_string(),
                screen.ink.clone(),
                format!(
                    "{}, {}, {}",
                    say.blade(blade.length),
                    number(blade.hardness),
                    self.of_shop(say.usual(blade.angle), "blade_angle")
                ),
                say.gap(screen.off_contact).to_string(),
                format!("{} flood, {} print{hits}", strokes.flood, strokes.print),
            ]
        });
        let same = self.plan.screens.first().map(|screen| {
            format!(
                ", {} strokes, pressure {}",
                self.of_shop(say.stroke(screen.stroke_speed), "stroke_speed"),
                screen.blade.pressure
            )
        });
        let head = ["Screen", "Station", "Ink", "Blade, shore A, angle", "Off-contact", "Strokes"];
        format!(
            "ON THE PRESS (off-contact to the garment{})\n{}\n{}{}",
            same.unwrap_or_default(),
            table(head, rows),
            self.places(),
            self.rounds()
        )
    }

    /// What is done at each station, a line a print.
    fn places(&self) -> String {
        let lines = self.plan.placements.iter().map(|placement| {
            let heads = self.plan.heads.iter().filter(|head| head.placement == placement.name);
            let places: Vec<_> = heads
                .map(|head| {
                    let screen = head.screen.as_ref().filter(|_| head.role == HeadRole::Print);
                    format!("{} {}", head.station, screen.map_or(head.role.text(), |screen| screen))
                })
                .collect();
            folded(&format!("{}: {}", placement.name, places.join(", ")))
        });
        lines.collect::<Vec<_>>().join("\n")
    }

    fn ink(&self) -> String {
        let say = self.say;
        let rows = self.numbered().enumerate().map(|(index, (name, screen))| {
            let ink = &screen.ink;
            let doubted = |said, field: &str| self.doubted(said, &format!("/screens/{index}/{field}"));
            let per_pot = if screen.pots.len() > 1 { " a pot" } else { "" };
            let additives = screen.additives.iter();
            let stir_in: Vec<_> = additives
                .map(|additive| {
                    let text = format!("{} {}{per_pot}", say.mass(additive.mass_per_pot), additive.name);
                    self.of_ink(text, ink, &["additives"])
                })
                .collect();
            let ready = doubted(say.mass(screen.mass_to_mix), "mass_to_mix");
            let ready = match self.star("", &["waste_fraction", "left_in_screen"]) {
                "" => self.of_ink(ready, ink, &["release_fraction", "density"]),
                star => format!("{ready}{star}"),
            };
            [
                name,
                ready,
                if stir_in.is_empty() { "nothing".into() } else { stir_in.join(", ") },
                match screen.mix_again_after {
                    None => "keeps".into(),
                    Some(again) => {
                        format!("{} {}", self.of_ink(say.usual(again), ink, &["pot_life"]), self.pots(screen))
                    }
                },
                self.of_ink(
                    doubted(say.mass(screen.mass_per_print), "mass_per_print"),
                    ink,
                    &["release_fraction", "density"],
                ),
                format!(
                    "{} / {}",
                    say.film(screen.wet_film).number,
                    self.of_ink(say.film(screen.dry_film), ink, &["release_fraction", "solids_by_volume_fraction"])
                ),
            ]
        });
        let head = ["Screen", "Have ready", "Stir in", "Lasts", "On a print", "Wet / dry"];
        format!("INK (have ready: printed, waste, and what stays in the screen)\n{}{}", table(head, rows), self.stops())
    }

    /// What the inks that hide make of a dark cloth; where it shows through, the sheet itself warns.
    fn hiding(&self) -> String {
        let lightness = self.numbered().filter_map(|(name, screen)| {
            let hiding = screen.hiding.as_ref()?;
            let [reached, wanted] = [hiding.lightness, hiding.covers_from].map(number);
            let reached = self.of_ink(reached, &screen.ink, &["scattering", "absorption"]);
            Some((format!("L* {reached} on the dark cloth, which is covered from {wanted}"), name))
        });
        let lines = shared(lightness);
        if lines.is_empty() { lines } else { format!("LIGHTNESS{lines}") }
    }

    /// How long the press may stand.
    fn stops(&self) -> String {
        let open = self.numbered().filter_map(|(name, screen)| {
            let open = screen.open_time?;
            let lowered = self.of_shop(self.say.usual(open), "most_loss_fraction");
            Some((
                format!("flooded, open for {lowered} lowered, half of it lifted: in a longer stop wipe it out"),
                name,
            ))
        });
        shared(open)
    }

    /// The pots of an ink that does not keep: how many, how much in each, and when to mix them.
    fn pots(&self, screen: &ScreenSheet) -> String {
        match screen.pots.as_slice() {
            [] => String::new(),
            [_] => "(one pot)".into(),
            pots @ [first, ..] => {
                let times: Vec<_> = pots.iter().map(|pot| self.say.usual(pot.mix_at).to_string()).collect();
                format!("({} of {}, at {})", pots.len(), self.say.mass(first.mass), times.join(", "))
            }
        }
    }

    fn flash(&self) -> String {
        let (flashes, say) = (&self.plan.flash, self.say);
        if flashes.is_empty() {
            return String::new();
        }
        let rows = flashes.iter().enumerate().map(|(index, flash)| {
            let doubted = |said, field: &str| self.doubted(said, &format!("/flash/{index}/{field}"));
            [
                flash.screen.clone(),
                self.of_shop(doubted(say.usual(flash.dwell_cold), "dwell_cold"), "exchange_fraction"),
                format!(
                    "{} at {}",
                    self.of_shop(doubted(say.usual(flash.dwell_warm), "dwell_warm"), "exchange_fraction"),
                    say.setting(flash.platen_warm)
                ),
                flash.gel.map_or_else(|| "dry".into(), |gel| self.of_shop(say.least(gel), "gel")),
                format!("{}{}", say.most(flash.gun_most), self.star("", &["flash_never_above", "never_above"])),
            ]
        });
        // One unit serves all.
        let unit = flashes.first().map(|flash| {
            let panel = flash.panel.map(|panel| format!(" at {}", self.of_shop(say.setting(panel), "panel")));
            let (low, high) = (say.blade(flash.height_low), say.blade(flash.height_high));
            format!("{}{}, {} to {high} over the print", flash.flash, panel.unwrap_or_default(), low.number)
        });
        let kept = flashes.iter().filter_map(|flash| {
            let (screen, turn) = (&flash.screen, flash.overheats_at?);
            Some(format!("\n{screen}: the cold dwell, kept, overheats from turn {turn} of the carousel on"))
        });
        let head = ["After", "Cold platens", "Warm platens", "Print at least", "Gun at most"];
        let kept: String = kept.collect();
        format!("FLASH ({}; shorten it as the platens warm up)\n{}{kept}", unit.unwrap_or_default(), table(head, rows))
    }

    fn dryer(&self) -> String {
        let (dryer, say) = (&self.plan.dryer, self.say);
        let star = self.star("", &["zones"]);
        let belt = |speed, field: &str| self.doubted(say.belt(speed), &format!("/dryer/{field}"));
        let end =
            |speed, field: &str, rule: Rule| format!("{} ({})", belt(speed, field), rule.text().replace('_', " "));
        let zones = dryer.zones.iter().map(|zone| {
            let panel = zone.panel.map(|panel| format!(", panel {}", say.setting(panel))).unwrap_or_default();
            format!("{} of air at {}{panel}", say.machine(zone.length), say.setting(zone.air))
        });
        let probes = dryer.probe_readings.iter().map(|reading| {
            let least = reading.least.map(|least| format!(", at least {}", say.least(least))).unwrap_or_default();
            format!("{} {}{least}", say.machine(reading.at), say.setting(reading.expect))
        });
        let most = dryer
            .probe_readings
            .last()
            .map(|reading| format!("; never over {}", self.of_shop(say.most(reading.most), "never_above")));
        let lines = [
            format!("Set{star}: {}", zones.collect::<Vec<_>>().join("; ")),
            format!(
                "Belt {}{star}: {}, for {}; {} to {}",
                belt(dryer.recommended, "recommended"),
                self.of_ink(
                    self.doubted(say.usual(dryer.dwell), "/dryer/dwell"),
                    &dryer.hardest_ink,
                    &["customary_dwell"]
                ),
                dryer.hardest_ink,
                end(dryer.slowest, "slowest", dryer.limits.slowest),
                end(dryer.fastest, "fastest", dryer.limits.fastest)
            ),
            format!("Probe: {}{}", probes.collect::<Vec<_>>().join("; "), most.unwrap_or_default()),
        ];
        format!("DRYER\n{}", lines.map(|line| folded(&line)).join("\n"))
    }

    /// Which heads are up and down where a shirt goes round more than once.
    fn rounds(&self) -> String {
        let runs = self.plan.press.runs.iter().filter(|run| run.rounds > 1);
        let lines = runs.map(|run| {
            let rounds = run.by_round.iter().map(|round| {
                let up = if round.up.is_empty() { "none".into() } else { round.up.join(", ") };
                format!("round {}: down {}, up {up}", round.round, round.down.join(", "))
            });
            let rounds = rounds.collect::<Vec<_>>().join("; ");
            format!("\n{}", folded(&format!("{} goes round {} times: {rounds}", run.placement, run.rounds)))
        });
        lines.collect()
    }

    fn wash(&self) -> String {
        let test = &self.plan.wash_test;
        let prints = if test.prints == 1 { "1 print".to_owned() } else { format!("{} prints", test.prints) };
        let first =
            format!("Wash {prints} of each stack ({}) {} times: {}", test.take.join(", "), test.washes, test.proves);
        let stacks =
            test.stacks.iter().map(|stack| folded(&format!("{}: {}", stack.placement, stack.inks.join(", then "))));
        format!("WASH TEST\n{}\n{}", folded(&first), stacks.collect::<Vec<_>>().join("\n"))
    }

    /// How inks that lie on one another bond.
    fn bonds(&self) -> String {
        let rows = self.plan.wash_test.stacks.iter().flat_map(|stack| {
            stack.bonds.iter().map(|bond| {
                [
                    format!("{} risk", bond.risk.text()),
                    format!("{}: {} on {}: {}", stack.placement, bond.upper, bond.lower, bond.why),
                ]
            })
        });
        let rows: Vec<_> = rows.collect();
        if rows.is_empty() { String::new() } else { format!("BONDS\n{}", wrapped(rows)) }
    }

    fn sign_off(&self) -> String {
        let rows = self.plan.sign_off.iter().map(|item| {
            let blanks = item.fill_in.iter().filter(|blank| *blank != "initials").map(|blank| format!("{blank} ____"));
            let blanks: Vec<_> = blanks.collect();
            [format!("____ {}", item.what), format!("{}: {}", item.check, blanks.join("  "))]
        });
        format!("SIGN OFF (initials before each)\n{}", wrapped(rows))
    }

    /// The order as a whole: hours, pace, and ink by colour.
    fn totals(&self) -> String {
        let (plan, say) = (self.plan, self.say);
        let star = self.star("", &["index", "stroke_speed", "load", "unload", "teardown_per_screen"]);
        let hours = &plan.hours;
        let hour = |time: Time| format!("{} h{star}", number((units::H.value(time) * 10.0).round() / 10.0));
        let first = format!(
            "Hours: {} in all: set up {}, print {}, clear {}",
            hour(hours.total),
            hour(hours.setup),
            hour(hours.run),
            hour(hours.clearing)
        );
        let runs = plan.press.runs.iter().map(|run| {
            format!(
                "{}: {} s a piece, {} an hour while running, held up by {}, then by {}",
                run.placement,
                number(units::S.value(run.time_per_piece)),
                (run.pieces_per_hour + 0.5).floor(),
                run.bottleneck,
                run.next_bottleneck
            )
        });
        let ink = plan.ink_totals.iter().enumerate().map(|(index, total)| {
            let mass = self.doubted(say.mass(total.mass_to_mix), &format!("/ink_totals/{index}/mass_to_mix"));
            let ready = self.of_ink(mass, &total.ink, &["release_fraction", "density"]);
            format!("{} {ready} {}", total.colour, total.ink)
        });
        let ink = format!("Ink to have ready: {}", ink.collect::<Vec<_>>().join("; "));
        let lines: Vec<_> = std::iter::once(first).chain(runs).chain([ink]).map(|line| folded(&line)).collect();
        let remembered = self.memory_basis().next().is_some();
        let legend = if remembered { " (* rests on a default from memory: --sources)" } else { "" };
        format!("THE WHOLE ORDER{legend}\n{}", lines.join("\n"))
    }

    fn remembered(&self) -> String {
        let rows: Vec<_> = self
            .memory_basis()
            .map(|basis| [basis.of.to_string().replace('.', ": ").replace('_', " "), basis.source.text.to_owned()])
            .collect();
        if rows.is_empty() {
            return String::new();
        }
        format!("* RESTS ON A DEFAULT FROM MEMORY: put your own measurement in its place\n{}", wrapped(rows))
    }
}

/// Lines of what is said of each screen; what holds of several is said once.
fn shared(said: impl Iterator<Item = (String, String)>) -> String {
    let mut lines: Vec<(String, Vec<String>)> = Vec::new();
    for (text, screen) in said {
        match lines.iter_mut().find(|(other, _)| *other == text) {
            Some((_, screens)) => screens.push(screen),
            None => lines.push((text, vec![screen])),
        }
    }
    lines.iter().map(|(text, screens)| format!("\n{}", folded(&format!("{}: {text}", screens.join(", "))))).collect()
}

/// How often something goes well: what fails one time in a thousand does not go well every time.
fn often(share: f64) -> String {
    match share {
        share if share >= 0.9995 => "more than 99.9 %".to_owned(),
        share if share >= 0.985 => format!("{:.1} %", 100.0 * share),
        share => percent(share),
    }
}

/// A share, as a sheet says it.
fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}
