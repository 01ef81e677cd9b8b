//! The run sheet as text, at most 100 columns wide, in the order in which the work is done.

use crate::art::Warning;
use comfy_table::{Cell, ColumnConstraint, ContentArrangement, Table, Width, presets};
use core::fmt::Display;
use floodbar::artwork::{ArtworkMeasure, PicturePoint};
use floodbar::dryer::Rule;
use floodbar::job::{Order, Plan, ScreenSheet, StencilSheet};
use floodbar::mesh::Geometry;
use floodbar::quantity::{Length, System, units};
use floodbar::source::{Basis, SourceKind};
use floodbar::wire::Answered;
use floodbar_examples::{Say, number};

const COLUMNS: u16 = 100;

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

/// What a sheet is made from. The order shows what was measured on its artwork.
pub struct Sheet<'a> {
    pub plan: &'a Answered<Plan>,
    pub order: &'a Order,
    pub warnings: &'a [Warning],
    pub say: Say,
}

impl Sheet<'_> {
    /// The whole sheet.
    pub fn text(&self) -> String {
        let parts = [
            self.head(),
            self.cautions(),
            self.artwork(),
            self.screens(),
            self.register(),
            self.on_press(),
            self.ink(),
            self.places(),
            self.flash(),
            self.dryer(),
            self.pace(),
            self.blanks(),
            self.wash(),
            self.sign_off(),
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
        let first = format!("RUN SHEET    {title}{due}\n{} good pieces on {}", plan.pieces, plan.cloth);
        let placements = plan.placements.iter().map(|placement| {
            let below = placement.below_collar.map(|below| format!(", {} below the collar seam", say.print(below)));
            format!(
                "{}: {} wide, {} high{}",
                placement.name,
                say.print(placement.width),
                say.print(placement.height),
                below.unwrap_or_default()
            )
        });
        std::iter::once(first).chain(placements).collect::<Vec<_>>().join("\n")
    }

    fn cautions(&self) -> String {
        let of_art = self.warnings.iter().map(|of| (of.level, &of.message, Some(of.screen.as_str())));
        let of_plan = self.plan.notes().iter().map(|note| (note.level, &note.message, self.place(&note.field)));
        // One caution may concern several screens: say it once, and name them.
        let mut said: Vec<(_, &str, Vec<&str>)> = Vec::new();
        for (level, message, place) in of_art.chain(of_plan) {
            match said.iter_mut().find(|(_, known, _)| known == message) {
                Some((_, _, places)) => places.extend(place),
                None => said.push((level, message, place.into_iter().collect())),
            }
        }
        let rows = said.into_iter().map(|(level, message, places)| {
            let places = if places.is_empty() { String::new() } else { format!("{}: ", places.join(", ")) };
            [level.text().to_owned(), format!("{places}{message}")]
        });
        format!("READ BEFORE YOU START\n{}", wrapped(rows))
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
        let rows = self.numbered().map(|(name, screen)| {
            let (stencil, frame) = (&screen.stencil, &screen.frame_least);
            let verdict = stencil.verdict.map(|verdict| format!("; {}", verdict.text())).unwrap_or_default();
            [
                name,
                self.mesh(&screen.mesh),
                say.usual(screen.target_tension).to_string(),
                format!(
                    "{} x {}{}",
                    say.print(frame.width).number,
                    say.print(frame.length),
                    self.star("", &["blade_overlap"])
                ),
                self.of_shop(&stencil.coats, "coats"),
                format!("{} to {}{verdict}", say.film(stencil.gauge_low).number, say.film(stencil.gauge_high)),
                self.exposure(stencil),
                self.holds(screen),
            ]
        });
        let head = ["Screen", "Mesh", "Tension", "Frame inside", "Coats", "Gauge reads", "Expose", "Finest it holds"];
        format!(
            "SCREENS TO MAKE (mesh: threads per cm - thread in um; coats: print side : squeegee side;\n\
             gauge: mesh and dry stencil together)\n{}",
            table(head, rows)
        )
    }

    /// The trade's own designation, and the count in threads per inch where the sheet is in inches.
    fn mesh(&self, mesh: &Geometry) -> String {
        let name = format!("{:.0}-{:.0}", units::PER_CM.value(mesh.count), units::UM.value(mesh.thread));
        match self.say.0 {
            System::Metric => name,
            System::Us => format!("{name} ({:.0} tpi)", units::PER_IN.value(mesh.count)),
        }
    }

    /// The time, and what it is the tested time multiplied by.
    fn exposure(&self, stencil: &StencilSheet) -> String {
        let Some(time) = stencil.exposure_time else { return "step-test".into() };
        let causes = stencil.exposure_causes.iter();
        let factors: Vec<_> = causes.map(|cause| format!("{} x {}", cause.cause, number(cause.factor))).collect();
        format!("{} ({})", self.say.usual(time), factors.join(", "))
    }

    /// What the screen holds of its art: its tones, or its finest line.
    fn holds(&self, screen: &ScreenSheet) -> String {
        let say = self.say;
        if let Some(halftone) = &screen.halftone {
            let tones = match (halftone.tone_min_fraction, halftone.tone_max_fraction) {
                (Some(light), Some(dark)) => format!("tones {} to {}", percent(light), percent(dark)),
                _ => "no tones".into(),
            };
            return format!("halftone {} at {}: {tones}", say.usual(halftone.ruling), say.usual(halftone.angle));
        }
        let detail = &screen.detail;
        let finest = self.of_shop(say.film(detail.finest_line), "finest_line");
        match (detail.wanted, detail.verdict) {
            (Some(art), Some(verdict)) => format!("{finest}; art {}: {}", say.film(art), verdict.text()),
            _ => finest,
        }
    }

    /// How the screens are set to one another, and how often their colours will meet.
    fn register(&self) -> String {
        let (plan, say) = (self.plan, self.say);
        let Some(judged) = &plan.register else { return String::new() };
        let orders = plan.placements.iter().filter_map(|placement| {
            let mut screens: Vec<_> = plan.screens.iter().filter(|screen| screen.placement == placement.name).collect();
            screens.sort_by_key(|screen| screen.set);
            let names: Vec<_> = screens.iter().map(|screen| screen.name.as_str()).collect();
            let order = format!("{}, in this order", names.join(", then "));
            (names.len() > 1).then(|| [format!("set {}", placement.name), order])
        });
        let rows = [
            ["method".to_owned(), format!("{}{}", judged.method, self.star("", &["half_width", "register"]))],
            ["trap".to_owned(), format!("{} where colours meet", self.of_shop(say.print(judged.trap), "trap"))],
            [
                "will they meet".to_owned(),
                format!(
                    "two colours on {} of the prints of the {}, all {} on {}",
                    percent(judged.pair_within_probability),
                    judged.placement,
                    judged.colours,
                    percent(judged.all_within_probability)
                ),
            ],
            [
                format!("for {}", percent(judged.wanted_probability)),
                format!("a trap of {}", say.print(judged.trap_needed)),
            ],
        ];
        format!("REGISTER (check the overlap of the colours on the first print)\n{}", wrapped(orders.chain(rows)))
    }

    fn on_press(&self) -> String {
        let say = self.say;
        let rows = self.numbered().map(|(name, screen)| {
            let blade = &screen.blade;
            [
                name,
                screen.station.to_string(),
                screen.ink.clone(),
                format!(
                    "{} of {} shore A at {}",
                    self.of_shop(say.print(blade.length), "blade_overlap"),
                    number(blade.hardness),
                    self.of_shop(say.usual(blade.angle), "blade_angle")
                ),
                blade.pressure.clone(),
                self.of_shop(say.print(screen.off_contact), "off_contact"),
                format!(
                    "{} flood, {} print at {}, {} hit{}",
                    screen.strokes.flood,
                    screen.strokes.print,
                    self.of_shop(say.stroke(screen.stroke_speed), "stroke_speed"),
                    screen.hits,
                    if screen.hits == 1 { "" } else { "s" }
                ),
            ]
        });
        let head = ["Screen", "Station", "Ink", "Blade", "Pressure", "Off-contact", "Strokes"];
        format!("ON THE PRESS (off-contact: from mesh to garment, not to platen)\n{}", table(head, rows))
    }

    fn ink(&self) -> String {
        let say = self.say;
        let rows = self.numbered().map(|(name, screen)| {
            let ink = &screen.ink;
            let per_pot = if screen.pots.len() > 1 { " a pot" } else { "" };
            let additives = screen.additives.iter();
            let stir_in: Vec<_> = additives
                .map(|additive| {
                    let text = format!("{} {}{per_pot}", say.usual(additive.mass_per_pot), additive.name);
                    self.of_ink(text, ink, &["additives"])
                })
                .collect();
            let ready = say.usual(screen.mass_to_mix);
            let ready = match self.star("", &["waste_fraction", "left_in_screen"]) {
                "" => self.of_ink(ready, ink, &["release_fraction", "density"]),
                star => format!("{ready}{star}"),
            };
            [
                name,
                self.of_ink(say.film(screen.wet_film), ink, &["release_fraction"]),
                self.of_ink(say.film(screen.dry_film), ink, &["release_fraction", "solids_by_volume_fraction"]),
                self.of_ink(say.usual(screen.mass_per_print), ink, &["release_fraction", "density"]),
                ready,
                if stir_in.is_empty() { "nothing".into() } else { stir_in.join(", ") },
                match screen.mix_again_after {
                    None => "keeps".into(),
                    Some(again) => format!("lasts {}", self.of_ink(say.usual(again), ink, &["pot_life"])),
                },
                self.pots(screen),
            ]
        });
        let head = ["Screen", "Wet film", "Dry film", "On a print", "Have ready", "Stir in", "Mixed", "Pots"];
        let each = table(head, rows);
        let rows = self.plan.ink_totals.iter().map(|total| {
            let ink = &total.ink;
            [
                ink.clone(),
                total.screens.join(", "),
                self.of_ink(say.usual(total.mass_printed), ink, &["release_fraction", "density"]),
                self.of_ink(say.usual(total.mass_to_mix), ink, &["release_fraction", "density"]),
                self.of_ink(say.usual(total.volume_to_mix), ink, &["release_fraction"]),
            ]
        });
        format!(
            "INK (have ready: printed, waste, and what stays in the screen)\n{each}\n{}",
            table(["Ink", "For", "Printed", "Have ready", "By volume"], rows)
        )
    }

    /// The pots of an ink that does not keep: how many, how much in each, and when to mix them.
    fn pots(&self, screen: &ScreenSheet) -> String {
        match screen.pots.as_slice() {
            [] => String::new(),
            [_] => "one, at the start".into(),
            pots @ [first, ..] => {
                let times: Vec<_> = pots.iter().map(|pot| self.say.usual(pot.mix_at).to_string()).collect();
                format!("{} of {}, at {}", pots.len(), self.say.usual(first.mass), times.join(", "))
            }
        }
    }

    fn places(&self) -> String {
        let rows = self.plan.heads.iter().map(|head| {
            [
                head.placement.clone(),
                head.station.to_string(),
                head.role.text().to_owned(),
                head.screen.clone().unwrap_or_default(),
            ]
        });
        format!("PLACES ON THE PRESS\n{}", table(["Print", "Station", "Does", "Screen"], rows))
    }

    fn flash(&self) -> String {
        let (flashes, say) = (&self.plan.flash, self.say);
        if flashes.is_empty() {
            return String::new();
        }
        let rows = flashes.iter().map(|flash| {
            let name = &flash.flash;
            [
                flash.screen.clone(),
                match flash.panel {
                    None => name.clone(),
                    Some(panel) => format!("{name} at {}", self.of_shop(say.usual(panel), "panel")),
                },
                self.of_shop(say.usual(flash.dwell_cold), "exchange_fraction"),
                format!(
                    "{} at {}",
                    self.of_shop(say.usual(flash.dwell_warm), "exchange_fraction"),
                    say.usual(flash.platen_warm)
                ),
                format!("{} to {}", say.print(flash.height_low).number, say.print(flash.height_high)),
                flash.gel.map_or_else(|| "dry".into(), |gel| self.of_shop(say.usual(gel), "gel")),
                format!("{}{}", say.usual(flash.gun_most), self.star("", &["flash_never_above", "never_above"])),
            ]
        });
        let kept = flashes.iter().filter_map(|flash| {
            let (screen, turn) = (&flash.screen, flash.overheats_at?);
            Some(format!("\n{screen}: the cold dwell, kept, overheats from turn {turn} of the carousel on"))
        });
        let head = ["After", "Flash", "Cold platens", "Warm platens", "Height", "Print at least", "Gun at most"];
        let kept: String = kept.collect();
        format!("FLASH (shorten it turn by turn as the platens warm up)\n{}{kept}", table(head, rows))
    }

    fn dryer(&self) -> String {
        let (dryer, say) = (&self.plan.dryer, self.say);
        let end = |speed, rule: Rule| format!("{} ({})", say.usual(speed), rule.text().replace('_', " "));
        let rows = dryer.probe_readings.iter().map(|reading| {
            [
                say.machine(reading.at).to_string(),
                say.usual(reading.time).to_string(),
                say.usual(reading.expect).to_string(),
                reading.least.map(|least| say.usual(least).to_string()).unwrap_or_default(),
                self.of_shop(say.usual(reading.most), "never_above"),
                "____ / ____ / ____".into(),
            ]
        });
        let zones = dryer.zones.iter().map(|zone| {
            let panel = zone.panel.map(|panel| format!(", panel {}", say.usual(panel))).unwrap_or_default();
            format!("{} of air at {}{panel}", say.machine(zone.length), say.usual(zone.air))
        });
        format!(
            "DRYER\nSet{star}: {}.\nBelt {}{star}: {} under heat, for {}.\nSlowest belt: {}. Fastest belt: {}.\n{}",
            zones.collect::<Vec<_>>().join("; "),
            say.usual(dryer.recommended),
            self.of_ink(say.usual(dryer.dwell), &dryer.hardest_ink, &["customary_dwell"]),
            dryer.hardest_ink,
            end(dryer.slowest, dryer.limits.slowest),
            end(dryer.fastest, dryer.limits.fastest),
            table(["Probe at", "After", "Expect", "At least", "Never over", "Read: left / middle / right"], rows),
            star = self.star("", &["zones"]),
        )
    }

    fn pace(&self) -> String {
        let say = self.say;
        let star = self.star("", &["index", "stroke_speed", "load", "unload"]);
        let rows = self.plan.press.runs.iter().map(|run| {
            [
                run.placement.clone(),
                format!("{}{star}", say.usual(run.cycle)),
                format!("{}{star}", number(run.pieces_per_hour)),
                run.bottleneck.clone(),
                run.next_bottleneck.clone(),
                self.of_shop(say.usual(run.setup_time), "teardown_per_screen"),
                format!("{}{star}", say.usual(run.run_time)),
            ]
        });
        let head = ["Print", "Cycle", "Pieces an hour", "Held up by", "Next", "Set up and clear", "Run"];
        format!("PACE (while running; the run with rest and stops)\n{}{}", table(head, rows), self.rounds())
    }

    /// Which heads are up and down where a shirt goes round more than once.
    fn rounds(&self) -> String {
        let runs = self.plan.press.runs.iter().filter(|run| run.rounds > 1);
        let lines = runs.map(|run| {
            let rounds = run.by_round.iter().map(|round| {
                let up = if round.up.is_empty() { "none".into() } else { round.up.join(", ") };
                format!("round {}: down {}, up {up}", round.round, round.down.join(", "))
            });
            format!("\n{} goes round {} times. {}.", run.placement, run.rounds, rounds.collect::<Vec<_>>().join("; "))
        });
        lines.collect()
    }

    fn blanks(&self) -> String {
        let blanks = &self.plan.blanks;
        let star = self.star("", &["spoilage_fraction", "confidence"]);
        let sizes = blanks
            .sizes
            .iter()
            .map(|size| [size.size.clone(), size.pieces.to_string(), format!("{}{star}", size.start_with)]);
        let all = ["all".to_owned(), self.plan.pieces.to_string(), format!("{}{star}", blanks.start_with)];
        format!(
            "BLANKS (the order comes out complete with a chance of {})\n{}\nand {} more of the same cloth, any size, for the wash test",
            percent(blanks.probability),
            table(["Size", "Ordered", "Start with"], sizes.chain(std::iter::once(all))),
            blanks.for_wash_test
        )
    }

    fn wash(&self) -> String {
        let test = &self.plan.wash_test;
        let stacks = test.stacks.iter().flat_map(|stack| {
            let first = [format!("{}, from the cloth up:", stack.placement), stack.inks.join(", then ")];
            let bonds = stack.bonds.iter().map(|bond| {
                [format!("- risk {}:", bond.risk.text()), format!("{} on {}: {}", bond.upper, bond.lower, bond.why)]
            });
            std::iter::once(first).chain(bonds)
        });
        let proves = ["that proves:".to_owned(), test.proves.clone()];
        format!(
            "WASH TEST\nTake {} prints of each stack ({}) and wash them {} times.\n{}",
            test.prints,
            test.take.join(", "),
            test.washes,
            wrapped(stacks.chain(std::iter::once(proves)))
        )
    }

    fn sign_off(&self) -> String {
        let rows = self.plan.sign_off.iter().map(|item| {
            let blanks: Vec<_> = item.fill_in.iter().map(|blank| format!("{blank} ________")).collect();
            [item.what.clone(), item.check.clone(), blanks.join("\n")]
        });
        format!("SIGN OFF\n{}", table(["What", "It must show", "Fill in"], rows))
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

/// A share, as a sheet says it.
fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}
