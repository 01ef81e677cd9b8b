//! The shop: what its own records teach of its numbers.
//!
//! [`LEARN`]: each number between the built-in value and the records, by a conjugate rule ([`Belief`], [`ShareBelief`]): the release
//! normal, times and factors log-normal, the spoiled share beta-binomial.

mod conjugate;
mod record;
mod series;

pub use conjugate::{Belief, ShareBelief, far, pooled};
pub use record::{RecordKind, ShopRecord};

use crate::dryer::{self, FitRequest};
use crate::error::{Code, Error};
use crate::exposure::{STEP, STEP_SCALE, StepRequest};
use crate::flash::{self, FlashFitRequest};
use crate::ink::{Ink, RELEASE, WEIGH, WeighRequest};
use crate::job::{ExposureTest, Shop, moved};
use crate::mesh::{Mesh, designated};
use crate::press::KNOWN_FROM;
use crate::propagation::COVERAGE;
use crate::quantity::{Rules, Show, Time, units};
use crate::sorted;
use crate::source::{Source, SourceKind};
use crate::unit::InUnit;
use crate::wire::{At, Remarks, Say, answer, calculation, lacks, request};
use series::{FAR, Series, Settled, Told, settle};

const MOST_RECORDS: usize = 1_000;
/// Of probes and flashes, each of which is a fit.
const MOST_FITS: usize = 12;
/// The shop where none is named.
const USUAL_SHOP: &str = "starter-shop";

/// Ends between which shares of release were seen, and what single weighings are off.
const RELEASE_SEEN: (f64, f64) = (0.30, 0.55);
const RELEASE_OFF: f64 = 0.03;
/// A factor of heat: half to twice what a maker's setting makes of it; single fits are off by a sixth.
const HEAT_SEEN: f64 = 2.0;
const HEAT_OFF: f64 = 0.15;
/// Factors of heat whose half-widths are no more than this share of them tell of a machine as a fit does.
const WELL_KNOWN: f64 = 0.1;
/// A factor of heat, or a time, that differs from the records' own by more than this is on their unsafe side.
const BESIDE: f64 = 0.02;
/// An exposure of the tested mesh: a step of 0.15 up or down; of another: half to twice. Scales are read to half a step.
const EXPOSURE_SEEN: f64 = 1.412_537_544_622_754_4;
const OTHER_MESH_SEEN: f64 = 2.0;
const EXPOSURE_OFF: f64 = 0.17;
/// Set-up from 2 to 20 min a screen, about ten times from end to end; single jobs are off by a third.
const SETUP_SEEN: f64 = 3.162_277_660_168_379_5;
const SETUP_OFF: f64 = 0.3;
/// Ends between which spoiled shares were seen.
const SPOILED_SEEN: (f64, f64) = (0.015, 0.10);
/// A share below this is judged as this where a record is far off, and known no better.
const LEAST_SHARE: f64 = 0.01;
/// Beyond a half no one starts a run.
const MOST_SPOILED: f64 = 0.5;
/// Small counts are skewed: many spoiled are far off only where so many, or more, have less than this chance, that of three standard
/// deviations to one side.
const IMPROBABLE: f64 = 0.001_35;
/// Spoiled pieces whose chance is summed, a term each; beyond them counts are no longer skewed.
const MOST_TERMS: u32 = 1_000;
/// The work of comparing two meshes, in rows.
const COMPARED: f64 = 20.0;

/// What is learned.
const LEARNED: Source = Source::new(SourceKind::User, "learned from the shop's own records");

request! {
    /// What a shop wrote down of its jobs.
    pub struct LearnRequest {
        /// The records that the shop has not learned from yet, in any order: what is sent again with the shop that learned it counts twice.
        /// Of probes and flashes at most 12, of all at most 1,000.
        records "Records": Vec<ShopRecord>,
        /// The shop as it is believed to be: the built-in values, and the dryer, flash and platen of the records.
        shop "Shop": Option<Shop> where Rules::NONE.unless_given("the starter shop"),
    }
}

answer! {
    /// What records teach of one number.
    pub struct LearnedRow {
        /// The kind of the records.
        kind "Kind of record": RecordKind,
        /// What the number is of: an ink on a mesh, a mesh, a machine, the shop.
        name "Of what": String,
        /// The number.
        field "Number learned": String,
        /// Its value without the records, where there is one.
        built_in "Built-in value": Option<InUnit>,
        /// Its value from now on.
        value "Learned value": InUnit,
        /// Half of the width within which it lies with 95 %.
        half_width "Half of its width": InUnit,
        /// The records that count.
        records "Records counted": u32,
        /// Of a spoiled share: the pieces that it is known from, the built-in value's own among them.
        known_from "Pieces behind it": Option<f64>,
        /// Of a release: the ink with it, for this mesh.
        ink "Ink with it": Option<Ink>,
    }
}

answer! {
    /// A record that does not count, because it disagrees.
    pub struct Outlier {
        /// Which of the records, counted from 0.
        record "Record number": u32,
        /// The kind of the record.
        kind "Kind of record": RecordKind,
        /// What its number is of.
        name "Of what": String,
        /// The number.
        field "Number told": String,
        /// What the record says of it.
        value "Value told": InUnit,
        /// What was to be expected.
        expected "Value expected": InUnit,
        /// Why it does not count.
        why "Why left out": String,
    }
}

answer! {
    /// What a shop's records teach.
    pub struct Learned {
        /// The numbers that were learned.
        rows "Learned numbers": Vec<LearnedRow>,
        /// The records that were left out, and why.
        outliers "Records left out": Vec<Outlier>,
        /// The shop with what was learned in place.
        shop "Shop as learned": Shop,
    }
}

calculation! {
    pub const LEARN: LearnRequest => Learned = learn;
    id: "shop.learn",
    title: "The shop's own numbers",
    question: "What do my own records say?",
    asked: ["How do my weigh-ins become my release?", "How much do we really spoil?", "What is my own set-up time?"],
    headline: ["rows"],
    formula: "normal with normal (of logarithms for times and factors): 1/s'^2 = 1/s^2 + n/sd^2, mean' = s'^2 (mean/s^2 + n records/sd^2), s from the seen range / (2 x 1.96), sd^2 = (4 own^2 + squares about the means)/(4 + records - means), taken as known; half-widths 1.96 s'; spoilage beta: (a + spoiled)/(a + b + pieces), at most a half; a record off by more than 3 standard deviations is left out: of three or more by 1.4826 x the median deviation, at least own, else by sqrt(s^2 + own^2) off the built-in value; many spoiled only where the beta-binomial chance of so many, or more, is below 0.00135, too; a dryer or flash is fitted once every half-width is within 10 %",
    sources: &[
        Source::published("Gelman and others, Bayesian Data Analysis, 2013, chapter 2: conjugate updates (from memory)"),
        Source::common("seen ranges of the trade, read as 95 %"),
        Source::memory("how far single records are off"),
    ],
    example: r#"{"shop": "starter-shop", "records": [
        {"kind": "weigh", "mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": 12, "mass_before": "1890.0 g", "mass_after": "1902.6 g"},
        {"kind": "weigh", "mesh": "55-64", "ink": "plastisol-white", "printed_area": "460 cm2", "prints": 24, "mass_before": "3780.0 g", "mass_after": "3806.4 g"},
        {"kind": "step_scale", "mesh": "77-55", "time": "95 s", "solid_step": 6},
        {"kind": "setup", "setup_time": "48 min", "screens": 4},
        {"kind": "spoilage", "pieces": 240, "spoiled": 5},
        {"kind": "spoilage", "pieces": 96, "spoiled": 1}]}"#,
}

/// What a shop's records make of its numbers.
///
/// Each number lies between the built-in value and the mean of the records that count, nearer to the records the more there are; without
/// records everything stays as it is. A record that is far off is named and does not count: with three that agree the built-in value has
/// no say in that.
///
/// # Errors
/// `too_long` for more than 1,000 records or 12 probes and flashes; what `ink.weigh`, `dryer.fit`, `flash.fit` and `exposure.step` refuse,
/// with the field of the record.
pub(crate) fn learn(request: &LearnRequest, remarks: &mut Remarks) -> Result<Learned, Error> {
    let fits = request.records.iter().filter(|record| matches!(record.kind, RecordKind::Probe | RecordKind::Flash));
    let fits = fits.count();
    if request.records.len() > MOST_RECORDS || fits > MOST_FITS {
        let message = format!("{} records, {fits} of them probes and flashes", request.records.len());
        return Err(Error::new(Code::TooLong, "/records", message)
            .allowed([format!("at most {MOST_RECORDS} records, {MOST_FITS} of them probes and flashes")]));
    }
    let shop = request.shop.clone().map_or_else(|| Shop::in_stock(USUAL_SHOP), Ok)?;
    let mut learning = Learning { request, shop, rows: Vec::new(), outliers: Vec::new() };
    learning.release(remarks)?;
    learning.dryer(remarks)?;
    learning.flash(remarks)?;
    learning.exposure(remarks)?;
    learning.setup(remarks)?;
    learning.spoilage(remarks)?;
    let Learning { shop, rows, mut outliers, .. } = learning;
    sorted::by_number(&mut outliers, |outlier| f64::from(outlier.record));
    for outlier in &outliers {
        remarks.caution("record_left_out", format_args!("/records/{}", outlier.record), |_| {
            format!("this record is left out: {}; look at it again, and give more of its kind", outlier.why)
        });
    }
    for row in &rows {
        remarks.basis(|| format!("{}.{}", row.name, row.field), LEARNED);
    }
    if fits > 0 {
        remarks.info(
            "hot_work",
            "",
            "probing means hot belts, panels and air: keep to the maker's sheet, with gloves and exhaust as it says",
        );
    }
    Ok(Learned { rows, outliers, shop })
}

/// The shop on its way.
struct Learning<'a> {
    request: &'a LearnRequest,
    shop: Shop,
    rows: Vec<LearnedRow>,
    outliers: Vec<Outlier>,
}

/// A field that a record of its kind has: it was read so.
fn given<T: Clone>(field: &Option<T>, record: usize, name: &str) -> Result<T, Error> {
    field.clone().ok_or_else(|| lacks(At::ROOT, name).under(&format!("/records/{record}")))
}

impl<'a> Learning<'a> {
    /// The records of a kind, each with its place.
    fn of(&self, kind: RecordKind) -> impl Iterator<Item = (usize, &'a ShopRecord)> + use<'a> {
        self.request.records.iter().enumerate().filter(move |(_, record)| record.kind == kind)
    }

    fn settle(&mut self, series: Vec<Series>) -> Vec<Settled> {
        let settled = settle(series, self.request.records.len(), &mut self.outliers);
        self.rows.extend(settled.iter().filter_map(Settled::row));
        settled
    }

    /// The release of each ink on each mesh.
    fn release(&mut self, remarks: &mut Remarks) -> Result<(), Error> {
        let (least, most) = RELEASE_SEEN;
        let mut all: Vec<Series> = Vec::new();
        for (index, record) in self.of(RecordKind::Weigh) {
            let (ink, mesh) = (given(&record.ink, index, "ink")?, given(&record.mesh, index, "mesh")?);
            let request = WeighRequest::new()
                .mesh(mesh.clone())
                .over_mesh(record.over_mesh)
                .ink(ink.clone())
                .strokes(record.strokes)
                .hits(record.hits)
                .printed_area(given(&record.printed_area, index, "printed_area")?)
                .edge_length(record.edge_length)
                .edge_length_scale(record.edge_length_scale)
                .surface_take(record.surface_take)
                .prints(given(&record.prints, index, "prints")?)
                .mass_before(given(&record.mass_before, index, "mass_before")?)
                .mass_after(given(&record.mass_after, index, "mass_after")?);
            let value = remarks
                .ask(&WEIGH, &request, |asked| Some(format!("/records/{index}{}", asked.field)))?
                .release_fraction;
            let barred = (!RELEASE.range.holds(value)).then_some("no ink releases such a share of what the mesh holds");
            let told = Told { record: index, value, barred };
            let name = format!("{} on {}", ink.called("own ink"), designated(&mesh));
            remarks.work().spend(COMPARED * all.len() as f64);
            if let Some(series) = all.iter_mut().find(|series| series.ink.as_ref() == Some(&ink) && series.is_of(&mesh))
            {
                series.told.push(told);
                // One cloth has several names: the first in the alphabet, whatever the order.
                series.name = core::mem::take(&mut series.name).min(name);
                continue;
            }
            ink.cite(&["release_fraction"], remarks);
            remarks.basis("release_fraction.range", Source::common("0.30-0.55 seen, read as the width of 95 %"));
            remarks.basis("release_fraction.records", Source::memory("single weighings are off by 0.03"));
            let series = Series {
                kind: RecordKind::Weigh,
                name,
                field: "release_fraction",
                unit: units::ONE.unit(),
                log: false,
                built_in: Some(ink.release_fraction),
                prior: Some(Belief::seen(ink.release_fraction, least, most)),
                own: RELEASE_OFF,
                told: vec![told],
                ink: Some(ink),
                mesh: Some(mesh),
            };
            all.push(series);
        }
        self.settle(all);
        Ok(())
    }

    /// The factors of the shop's dryer.
    fn dryer(&mut self, remarks: &mut Remarks) -> Result<(), Error> {
        let dryer = self.shop.dryer.clone();
        let name = dryer.called("own dryer");
        let mut transfer = factor(RecordKind::Probe, &name, "transfer_factor");
        let mut panel = factor(RecordKind::Probe, &name, "panel_factor");
        let has_panel = dryer.tunnel().iter().any(|zone| zone.panel.is_some());
        for (index, record) in self.of(RecordKind::Probe) {
            let mut request = FitRequest::new()
                .dryer(dryer.clone())
                .ink(given(&record.ink, index, "ink")?)
                .cloth(given(&record.cloth, index, "cloth")?)
                .runs(given(&record.runs, index, "runs")?);
            if let Some(film) = record.film {
                request = request.film(film);
            }
            let place = |field: &str| moved(field, &[("/dryer", "/shop/dryer")]);
            let fit = remarks.ask(&dryer::FIT, &request, |asked| {
                place(asked.field).or_else(|| Some(format!("/records/{index}{}", asked.field)))
            })?;
            let barred = (!fit.distinguishable)
                .then_some("its readings cannot tell air from panel: run it at another belt speed too");
            transfer.told.push(Told { record: index, value: fit.transfer_factor, barred });
            if has_panel {
                panel.told.push(Told { record: index, value: fit.panel_factor, barred });
            }
        }
        if let Some(learned) = self.factors([transfer, panel], "/shop/dryer", remarks) {
            let scaled = dryer::scaled(&dryer, learned.by);
            self.shop = self.shop.clone().dryer(if learned.well_known { scaled.fitted(true) } else { scaled });
        }
        Ok(())
    }

    /// The factors of the shop's flash.
    fn flash(&mut self, remarks: &mut Remarks) -> Result<(), Error> {
        let flash = self.shop.flash.clone();
        let name = flash.called("own flash");
        let mut transfer = factor(RecordKind::Flash, &name, "transfer_factor");
        let heats_by = if flash.panel.is_some() { "panel_factor" } else { "flux_factor" };
        let mut heat = factor(RecordKind::Flash, &name, heats_by);
        for (index, record) in self.of(RecordKind::Flash) {
            let mut request = FlashFitRequest::new()
                .flash(flash.clone())
                .platen(self.shop.platen.clone())
                .ink(given(&record.ink, index, "ink")?)
                .cloth(given(&record.cloth, index, "cloth")?)
                .runs(given(&record.flashes, index, "flashes")?);
            if let Some(film) = record.film {
                request = request.film(film);
            }
            let flashes = format!("/records/{index}/flashes");
            let places = [("/flash", "/shop/flash"), ("/platen", "/shop/platen"), ("/runs", &flashes)];
            let fit = remarks.ask(&flash::FIT, &request, |asked| {
                moved(asked.field, &places).or_else(|| Some(format!("/records/{index}{}", asked.field)))
            })?;
            if let Some(value) = fit.panel_factor.or(fit.flux_factor) {
                heat.told.push(Told { record: index, value, barred: None });
            }
            // Where it was not told apart it was left as it was: that is no record of it.
            if flash.transfer.is_some() && fit.distinguishable {
                transfer.told.push(Told { record: index, value: fit.transfer_factor, barred: None });
            }
        }
        if let Some(learned) = self.factors([transfer, heat], "/shop/flash", remarks) {
            let scaled = flash::scaled(&flash, learned.by);
            self.shop = self.shop.clone().flash(if learned.well_known { scaled.fitted(true) } else { scaled });
        }
        Ok(())
    }

    /// What two series of factors, about 1, of the machine at that place come to; nothing where no record counts.
    ///
    /// Between the built-in value and the records a factor may be above theirs. A machine that is taken for hotter than it is leaves ink
    /// uncured, so that is told, and it is not called fitted until the records are many.
    fn factors(&mut self, series: [Series; 2], at: &'static str, remarks: &mut Remarks) -> Option<Factors> {
        let [first, second] = series.clone().map(|series| series.field);
        let told: Vec<Series> = series.into_iter().filter(|series| !series.told.is_empty()).collect();
        if let Some(of) = told.first() {
            let name = of.name.clone();
            remarks.basis(
                move || format!("{name}.range"),
                Source::memory("factors of heat from half to twice, as the width of 95 %; single fits are off by 15 %"),
            );
        }
        let settled = self.settle(told);
        let mut learned = settled.iter().filter(|one| one.value.is_some()).peekable();
        learned.peek()?;
        let hotter = |one: &Settled| one.value.is_some_and(|value| value > (1.0 + BESIDE) * one.by_records);
        if settled.iter().any(hotter) {
            remarks.caution(
                "hotter_than_probed",
                at,
                "what is learned heats more than the few records say: prints may stay undercured; go by their fit (dryer.fit, flash.fit), or give more",
            );
        }
        let of = |field: &str| settled.iter().find(|one| one.series.field == field).and_then(|one| one.value);
        Some(Factors {
            by: [first, second].map(|field| libm::log(of(field).unwrap_or(1.0))),
            well_known: learned.all(|one| one.known_within(WELL_KNOWN)),
        })
    }

    /// The exposure of each mesh.
    fn exposure(&mut self, remarks: &mut Remarks) -> Result<(), Error> {
        if self.of(RecordKind::StepScale).next().is_none() {
            return Ok(());
        }
        let test = self.shop.exposure.clone();
        let read = test.as_ref().map(|test| {
            let request = StepRequest::new()
                .time(test.time)
                .solid_step(test.solid_step)
                .wanted_step(test.wanted_step)
                .density_per_step(test.density_per_step);
            remarks.ask(&STEP_SCALE, &request, |asked| Some(format!("/shop/exposure{}", asked.field)))
        });
        let built_in = read.transpose()?.map(|read| units::S.value(read.time));
        let mut all: Vec<Series> = Vec::new();
        for (index, record) in self.of(RecordKind::StepScale) {
            let mesh = given(&record.mesh, index, "mesh")?;
            let mut request = StepRequest::new().time(given(&record.time, index, "time")?).solid_step(given(
                &record.solid_step,
                index,
                "solid_step",
            )?);
            if let Some(wanted) = record.wanted_step.or(test.as_ref().map(|test| test.wanted_step)) {
                request = request.wanted_step(wanted);
            }
            if let Some(density) = record.density_per_step.or(test.as_ref().map(|test| test.density_per_step)) {
                request = request.density_per_step(density);
            }
            let time =
                remarks.ask(&STEP_SCALE, &request, |asked| Some(format!("/records/{index}{}", asked.field)))?.time;
            let told = Told { record: index, value: units::S.value(time), barred: None };
            let name = designated(&mesh);
            remarks.work().spend(COMPARED * all.len() as f64);
            if let Some(series) = all.iter_mut().find(|series| series.is_of(&mesh)) {
                series.told.push(told);
                series.name = core::mem::take(&mut series.name).min(name);
                continue;
            }
            let tested = test.as_ref().is_some_and(|test| test.tested_on.same_cloth(&mesh));
            let seen = if tested { EXPOSURE_SEEN } else { OTHER_MESH_SEEN };
            let series = Series {
                kind: RecordKind::StepScale,
                name,
                field: "exposure_time",
                unit: units::S.unit(),
                log: true,
                built_in,
                prior: built_in.map(|time| Belief::of_factor(time, seen)),
                own: EXPOSURE_OFF,
                told: vec![told],
                ink: None,
                mesh: Some(mesh),
            };
            all.push(series);
        }
        remarks.basis(
            "exposure_time.range",
            Source::memory("the tested mesh within a step of 0.15, another within half and twice, as the width of 95 %; scales are read to half a step"),
        );
        let settled = self.settle(all);
        self.expose(test, &settled, remarks);
        Ok(())
    }

    /// Puts an exposure into the shop: of the mesh that it was tested on, else of that with the most records.
    fn expose(&mut self, test: Option<ExposureTest>, settled: &[Settled], remarks: &mut Remarks) {
        let known = settled.iter().filter_map(|one| Some((one, units::S.of(one.value?), one.series.mesh.as_ref()?)));
        let known: Vec<(&Settled, Time, &Mesh)> = known.collect();
        let learned = match &test {
            Some(test) => {
                known.iter().find(|(.., mesh)| test.tested_on.same_cloth(mesh)).map(|(_, time, _)| reread(test, *time))
            }
            None => {
                let most = known.iter().map(|(one, ..)| one.counted.len()).max();
                known
                    .iter()
                    .find(|(one, ..)| Some(one.counted.len()) == most)
                    .map(|(one, time, mesh)| self.tested(one, *time, mesh))
            }
        };
        for (one, time, _) in &known {
            let told = units::S.of(one.by_records);
            if *time < (1.0 - BESIDE) * told {
                remarks.caution("shorter_than_the_records", "/shop/exposure", |say: Say| {
                    format!(
                        "{}: {} is learned, and the records themselves say {}, since few of them stand against the shop's test: expose a step scale before relying on it",
                        one.series.name,
                        say.say(*time, Show::Usual),
                        say.say(told, Show::Usual)
                    )
                });
            }
        }
        if known.len() > usize::from(learned.is_some()) {
            remarks.info(
                "exposure_of_other_meshes",
                "/shop/exposure",
                "the shop's record holds one exposure test: the times of the other meshes stand in the rows alone",
            );
        }
        if let Some(learned) = learned {
            self.shop = self.shop.clone().exposure(learned);
        }
    }

    /// A test of a shop that had none: at the learned time the step that the records want is the last solid one; of several the highest.
    fn tested(&self, one: &Settled, time: Time, mesh: &Mesh) -> ExposureTest {
        let test = ExposureTest::new().time(time).tested_on(mesh.clone());
        let of = |given: fn(&ShopRecord) -> Option<f64>, usual: f64| {
            let records = one.counted.iter().filter_map(|record| self.request.records.get(*record));
            records.map(|record| given(record).unwrap_or(usual)).reduce(f64::max).unwrap_or(usual)
        };
        let wanted = of(|record| record.wanted_step, test.wanted_step);
        let density = of(|record| record.density_per_step, test.density_per_step);
        test.wanted_step(wanted).solid_step(wanted).density_per_step(density)
    }

    /// The time of setting up a screen.
    fn setup(&mut self, remarks: &mut Remarks) -> Result<(), Error> {
        let built_in = units::MIN.value(self.shop.setup_per_screen);
        let mut series = Series {
            kind: RecordKind::Setup,
            name: self.shop.called("own shop"),
            field: "setup_per_screen",
            unit: units::MIN.unit(),
            log: true,
            built_in: Some(built_in),
            prior: (built_in > 0.0).then(|| Belief::of_factor(built_in, SETUP_SEEN)),
            own: SETUP_OFF,
            told: Vec::new(),
            ink: None,
            mesh: None,
        };
        for (index, record) in self.of(RecordKind::Setup) {
            let time = units::MIN.value(given(&record.setup_time, index, "setup_time")?);
            let value = time / f64::from(given(&record.screens, index, "screens")?.max(1));
            series.told.push(Told { record: index, value, barred: None });
        }
        if series.told.is_empty() {
            return Ok(());
        }
        self.shop.cite(&["setup_per_screen"], remarks);
        remarks.basis(
            "setup_per_screen.range",
            Source::memory(
                "2 min with pins to 20 min with cross-hairs, as the width of 95 %; single jobs are off by 30 %",
            ),
        );
        let settled = self.settle(vec![series]);
        if let Some(value) = settled.first().and_then(|one| one.value) {
            self.shop = self.shop.clone().setup_per_screen(units::MIN.of(value));
        }
        Ok(())
    }

    /// The share of pieces that are spoiled.
    fn spoilage(&mut self, remarks: &mut Remarks) -> Result<(), Error> {
        let mut jobs = Vec::new();
        for (index, record) in self.of(RecordKind::Spoilage) {
            let pieces = given(&record.pieces, index, "pieces")?;
            jobs.push(Job { record: index, pieces, spoiled: given(&record.spoiled, index, "spoiled")? });
        }
        if jobs.is_empty() {
            return Ok(());
        }
        self.shop.cite(&["spoilage_fraction"], remarks);
        let (share, name) = (self.shop.spoilage_fraction, self.shop.called("own shop"));
        let (least, most) = SPOILED_SEEN;
        let seen = ShareBelief::pieces_of(share.max(LEAST_SHARE), Belief::seen(share, least, most).sd);
        let known_from = self.shop.spoilage_known_from.unwrap_or_else(|| {
            remarks.basis(
                "spoilage_fraction.range",
                Source::common(
                    "2-3 % usual, 1.5 to 10 % seen, read as the width of 95 %: so many pieces is it known from",
                ),
            );
            seen
        });
        // None spoiled is no certainty that none will be: half a piece of those that it is known from.
        let prior = ShareBelief::of(if share > 0.0 { share } else { 0.5 / known_from }, known_from);
        let terms: f64 = jobs.iter().map(|job| f64::from(job.spoiled.min(MOST_TERMS))).sum();
        remarks.work().spend(terms);
        let (faults, expected) = batch_faults(&jobs, share, known_from.min(seen));
        for (job, why) in &faults {
            self.outliers.push(Outlier {
                record: u32::try_from(job.record).unwrap_or(u32::MAX),
                kind: RecordKind::Spoilage,
                name: name.clone(),
                field: "spoilage_fraction".to_owned(),
                value: InUnit::of(job.share(), &units::ONE),
                expected: InUnit::of(expected, &units::ONE),
                why: (*why).to_owned(),
            });
        }
        let sum = |of: fn(&Job) -> u32| {
            let faulty: f64 = faults.iter().map(|(job, _)| f64::from(of(job))).sum();
            jobs.iter().map(|job| f64::from(of(job))).sum::<f64>() - faulty
        };
        let count = u32::try_from(jobs.len().saturating_sub(faults.len())).unwrap_or(u32::MAX);
        if count == 0 {
            return Ok(());
        }
        let learned = prior.after(sum(|job| job.spoiled), sum(|job| job.pieces));
        // No more than a shop may say of itself.
        let (share_now, known_now) = (learned.mean().min(MOST_SPOILED), learned.pieces().min(KNOWN_FROM.range.si.1));
        self.rows.push(LearnedRow {
            kind: RecordKind::Spoilage,
            name,
            field: "spoilage_fraction".to_owned(),
            built_in: Some(InUnit::of(share, &units::ONE)),
            value: InUnit::of(share_now, &units::ONE),
            half_width: InUnit::of(COVERAGE * learned.sd(), &units::ONE),
            records: count,
            known_from: Some(known_now),
            ink: None,
        });
        remarks.info(
            "spoiled_one_by_one",
            "",
            "counted as pieces spoiled one by one: jobs differ by more than that, and a fault that spoils a whole batch is not in it",
        );
        self.shop = self.shop.clone().spoilage_fraction(share_now).spoilage_known_from(known_now);
        Ok(())
    }
}

/// The records of a factor of heat, about 1.
fn factor(kind: RecordKind, name: &str, field: &'static str) -> Series {
    Series {
        kind,
        name: name.to_owned(),
        field,
        unit: units::ONE.unit(),
        log: true,
        built_in: Some(1.0),
        prior: Some(Belief::of_factor(1.0, HEAT_SEEN)),
        own: HEAT_OFF,
        told: Vec::new(),
        ink: None,
        mesh: None,
    }
}

/// What records say of the heat of a machine: the logarithms of its two factors, and whether they tell of it as a fit does.
struct Factors {
    by: [f64; 2],
    well_known: bool,
}

/// A test whose scale is read anew, so that it leads to that time: what was tried stays, unless no scale has such a step.
fn reread(test: &ExposureTest, time: Time) -> ExposureTest {
    let factor: f64 = (time / test.time).into();
    let solid = test.wanted_step - libm::log10(factor) / test.density_per_step;
    if STEP.range.holds(solid) {
        test.clone().solid_step(solid)
    } else {
        test.clone().time(time).solid_step(test.wanted_step)
    }
}

/// What a job spoiled.
#[derive(Debug, Clone, Copy)]
struct Job {
    record: usize,
    pieces: u32,
    spoiled: u32,
}

impl Job {
    fn share(self) -> f64 {
        f64::from(self.spoiled) / f64::from(self.pieces)
    }

    /// Whether single pieces spoil so often only by rare chance.
    fn is_improbable(self, by: ShareBelief) -> bool {
        self.spoiled > MOST_TERMS || by.next_reach(self.spoiled, self.pieces) < IMPROBABLE
    }
}

/// The jobs that do not count, each with why, and the share that was expected of them.
///
/// `believed` is the shop's share and `alike` the pieces that tell how far jobs differ from it: not how well their mean is known.
fn batch_faults(jobs: &[Job], believed: f64, alike: f64) -> (Vec<(Job, &'static str)>, f64) {
    let about = |share: f64| ShareBelief::of(share.max(LEAST_SHARE), alike);
    let (barred, free): (Vec<Job>, Vec<Job>) =
        jobs.iter().partition(|job| job.share() > MOST_SPOILED && job.is_improbable(about(believed)));
    let shares: Vec<f64> = free.iter().map(|job| job.share()).collect();
    let expected = if shares.len() < 3 { believed } else { conjugate::median(&shares) };
    let judge = about(expected.max(believed).min(MOST_SPOILED));
    let next_sd = |index: usize| free.get(index).map_or(0.0, |job| judge.next_sd(f64::from(job.pieces)));
    let far = far(&shares, FAR, next_sd, |index| Some(Belief { mean: believed, sd: next_sd(index) }));
    let far =
        free.into_iter().zip(far).filter(|(job, far)| *far && (job.share() < expected || job.is_improbable(judge)));
    let barred = barred
        .into_iter()
        .map(|job| (job, "more than half was spoiled: a fault of the batch, which no share foretells"));
    let far = far.map(|(job, _)| {
        (job, "more than three standard deviations off: a fault of the batch, not of single pieces, or a mistake in writing")
    });
    (barred.chain(far).collect(), expected)
}
