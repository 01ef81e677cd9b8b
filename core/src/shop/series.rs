//! Records of one number: which of them count, and what they make of it.

use super::conjugate::{Belief, far, median, pooled};
use super::{LearnedRow, Outlier, RecordKind};
use crate::ink::Ink;
use crate::mesh::Mesh;
use crate::quantity::Unit;
use crate::sorted;
use crate::unit::InUnit;

/// A record further off than so many standard deviations is left out.
pub(super) const FAR: f64 = 3.0;
/// The standard deviation that is believed of single records counts as so many of them beyond the first.
const BELIEVED_FROM: f64 = 4.0;

/// The number that one record tells, in the unit of its series.
#[derive(Debug, Clone, Copy)]
pub(super) struct Told {
    /// Which record, counted from 0.
    pub record: usize,
    pub value: f64,
    /// Why it cannot count, whatever the others say.
    pub barred: Option<&'static str>,
}

/// The records of one number.
#[derive(Debug, Clone)]
pub(super) struct Series {
    pub kind: RecordKind,
    pub name: String,
    pub field: &'static str,
    pub unit: Unit,
    /// Whether it is the logarithm that is normal.
    pub log: bool,
    /// The built-in value, in the unit.
    pub built_in: Option<f64>,
    /// The belief without records, of the value or of its logarithm.
    pub prior: Option<Belief>,
    /// Standard deviation of single records, as it is believed without them.
    pub own: f64,
    pub told: Vec<Told>,
    pub ink: Option<Ink>,
    /// The mesh that the number is of, where it is of one.
    pub mesh: Option<Mesh>,
}

/// What a series made of its number.
#[derive(Debug, Clone)]
pub(super) struct Settled {
    pub series: Series,
    /// The records that count.
    pub counted: Vec<usize>,
    /// In the unit; none where no record counts.
    pub value: Option<f64>,
    /// The mean of the records that count, by themselves, in the unit; of logarithms the geometric one.
    pub by_records: f64,
    half_width: f64,
}

impl Series {
    /// Whether it is of this mesh.
    pub fn is_of(&self, mesh: &Mesh) -> bool {
        self.mesh.as_ref().is_some_and(|own| own.same_cloth(mesh))
    }

    fn scaled(&self, value: f64) -> f64 {
        if self.log { libm::log(value) } else { value }
    }

    fn unscaled(&self, value: f64) -> f64 {
        if self.log { libm::exp(value) } else { value }
    }

    /// What is expected of a record, where others are not barred: the built-in value, or the median of three or more.
    fn expected(&self) -> f64 {
        let free = |told: &&Told| told.barred.is_none();
        let values: Vec<f64> = self.told.iter().filter(free).map(|told| told.value).collect();
        self.built_in.filter(|_| values.len() < 3).unwrap_or_else(|| median(&values))
    }

    /// The records that do not count, each with why. Those that are barred have no say in the others.
    fn left_out(&self) -> Vec<(Told, String)> {
        let (barred, free): (Vec<Told>, Vec<Told>) = self.told.iter().partition(|told| told.barred.is_some());
        let values: Vec<f64> = free.iter().map(|told| self.scaled(told.value)).collect();
        let next = self.prior.map(|prior| prior.next(self.own));
        let far = far(&values, FAR, |_| self.own, |_| next);
        let about = if values.len() < 3 { "the built-in value" } else { "the median of the others" };
        let barred = barred.into_iter().filter_map(|told| Some((told, told.barred?.to_owned())));
        let far = free.into_iter().zip(far).filter(|(_, far)| *far);
        barred.chain(far.map(|(told, _)| (told, format!("more than three standard deviations off {about}")))).collect()
    }

    /// The least that was told of it.
    fn least(&self) -> f64 {
        self.told.iter().map(|told| told.value).fold(f64::INFINITY, f64::min)
    }
}

/// What all series of one kind say, of so many records: what is left out, and what the rest makes of each number.
///
/// A record that is left out of one series is so of all of its kind: a fit's factors go together.
pub(super) fn settle(all: Vec<Series>, records: usize, outliers: &mut Vec<Outlier>) -> Vec<Settled> {
    let mut all = all;
    // By name; two of one name, such as two inks of one's own, by what was told of them, not by the order of the records.
    sorted::by_number(&mut all, Series::least);
    sorted::by_text(&mut all, |series| series.field);
    sorted::by_text(&mut all, |series| &series.name);
    let mut out = vec![false; records];
    for series in &all {
        let left_out = series.left_out();
        let expected = if left_out.is_empty() { 0.0 } else { series.expected() };
        for (told, why) in left_out {
            if let Some(out) = out.get_mut(told.record).filter(|out| !**out) {
                *out = true;
                outliers.push(Outlier {
                    record: u32::try_from(told.record).unwrap_or(u32::MAX),
                    kind: series.kind,
                    name: series.name.clone(),
                    field: series.field.to_owned(),
                    value: InUnit::of(told.value, &series.unit),
                    expected: InUnit::of(expected, &series.unit),
                    why,
                });
            }
        }
    }
    // Of all series of a field, each about its own mean: squares and degrees of freedom.
    let mut spread: Vec<(&str, f64, f64)> = Vec::new();
    let mut kept = Vec::with_capacity(all.len());
    for series in &all {
        let counted = series.told.iter().filter(|told| out.get(told.record) == Some(&false));
        let (counted, mut values): (Vec<usize>, Vec<f64>) =
            counted.map(|told| (told.record, series.scaled(told.value))).unzip();
        // So that sums do not hang on the order of the records.
        sorted::numbers(&mut values);
        let mean = mean(&values);
        let squares: f64 = values.iter().map(|value| (value - mean) * (value - mean)).sum();
        let freedom = values.len().saturating_sub(1) as f64;
        match spread.iter_mut().find(|(field, ..)| *field == series.field) {
            Some((_, all, free)) => (*all, *free) = (*all + squares, *free + freedom),
            None => spread.push((series.field, squares, freedom)),
        }
        kept.push((counted, mean));
    }
    let settled = all.iter().zip(kept).map(|(series, (counted, mean))| {
        let of = spread.iter().find(|(field, ..)| *field == series.field);
        let (squares, freedom) = of.map_or((0.0, 0.0), |(_, squares, freedom)| (*squares, *freedom));
        let sd = pooled(series.own, BELIEVED_FROM, squares, freedom);
        let count = u32::try_from(counted.len()).unwrap_or(u32::MAX);
        let belief = match series.prior {
            Some(prior) => prior.after(mean, count, sd),
            None => Belief { mean, sd: sd / f64::from(count.max(1)).sqrt() },
        };
        let half_width = if series.log { belief.half_width_of_log() } else { belief.half_width() };
        let value = (count > 0).then(|| series.unscaled(belief.mean));
        Settled { series: series.clone(), counted, value, by_records: series.unscaled(mean), half_width }
    });
    settled.collect()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

impl Settled {
    /// Whether the number is so well known that half of its width is no more than such a share of it.
    pub fn known_within(&self, share: f64) -> bool {
        self.value.is_some_and(|value| self.half_width <= share * value)
    }

    /// As it is told, where any record counts.
    pub fn row(&self) -> Option<LearnedRow> {
        let Series { kind, name, field, unit, built_in, ink, .. } = &self.series;
        let value = self.value?;
        Some(LearnedRow {
            kind: *kind,
            name: name.clone(),
            field: (*field).to_owned(),
            built_in: built_in.map(|built_in| InUnit::of(built_in, unit)),
            value: InUnit::of(value, unit),
            half_width: InUnit::of(self.half_width, unit),
            records: u32::try_from(self.counted.len()).unwrap_or(u32::MAX),
            known_from: None,
            ink: ink.clone().map(|ink| ink.release_fraction(value)),
        })
    }
}
