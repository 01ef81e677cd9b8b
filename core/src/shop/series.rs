//! Records of one number: which of them count, and what they make of it.

use super::conjugate::{Belief, far, median, pooled};
use super::{LearnedRow, Outlier, RecordKind};
use crate::ink::Ink;
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
}

/// What a series made of its number.
#[derive(Debug, Clone)]
pub(super) struct Settled {
    pub series: Series,
    /// In the unit; none where no record counts.
    pub value: Option<f64>,
    half_width: f64,
    count: u32,
}

impl Series {
    fn scaled(&self, value: f64) -> f64 {
        if self.log { libm::log(value) } else { value }
    }

    fn unscaled(&self, value: f64) -> f64 {
        if self.log { libm::exp(value) } else { value }
    }

    /// What is expected of a record: the built-in value, or the median of three or more.
    fn expected(&self) -> f64 {
        let values: Vec<f64> = self.told.iter().map(|told| told.value).collect();
        self.built_in.filter(|_| values.len() < 3).unwrap_or_else(|| median(&values))
    }

    /// The records that do not count, each with why.
    fn left_out(&self) -> Vec<(usize, String)> {
        let values: Vec<f64> = self.told.iter().map(|told| self.scaled(told.value)).collect();
        let next = self.prior.map(|prior| prior.next(self.own));
        let far = far(&values, FAR, |_| self.own, |_| next);
        let about = if values.len() < 3 { "the built-in value" } else { "the median of its fellows" };
        let why = |(told, far): (&Told, bool)| match told.barred {
            Some(barred) => Some((told.record, barred.to_owned())),
            None if far => Some((told.record, format!("more than three standard deviations off {about}"))),
            None => None,
        };
        self.told.iter().zip(far).filter_map(why).collect()
    }
}

/// What all series of one kind say: what is left out, and what the rest makes of each number.
///
/// A record that is left out of one series is so of all of its kind: a fit's factors go together.
pub(super) fn settle(all: Vec<Series>, outliers: &mut Vec<Outlier>) -> Vec<Settled> {
    let mut all = all;
    sorted::by_text(&mut all, |series| &series.name);
    let mut out: Vec<usize> = Vec::new();
    for series in &all {
        for (record, why) in series.left_out() {
            let told = series.told.iter().find(|told| told.record == record);
            if let (false, Some(told)) = (out.contains(&record), told) {
                out.push(record);
                outliers.push(Outlier {
                    record: u32::try_from(record).unwrap_or(u32::MAX),
                    kind: series.kind,
                    name: series.name.clone(),
                    field: series.field.to_owned(),
                    value: InUnit::of(told.value, &series.unit),
                    expected: InUnit::of(series.expected(), &series.unit),
                    why,
                });
            }
        }
    }
    let kept: Vec<Vec<f64>> = all
        .iter()
        .map(|series| {
            let kept = series.told.iter().filter(|told| !out.contains(&told.record));
            let mut values: Vec<f64> = kept.map(|told| series.scaled(told.value)).collect();
            // So that sums do not hang on the order of the records.
            sorted::numbers(&mut values);
            values
        })
        .collect();
    let settled = all.iter().zip(&kept).map(|(series, values)| {
        // Of all series of this field, each about its own mean.
        let (mut squares, mut freedom) = (0.0, 0.0);
        for (_, values) in all.iter().zip(&kept).filter(|(other, _)| other.field == series.field) {
            let mean = mean(values);
            squares += values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>();
            freedom += values.len().saturating_sub(1) as f64;
        }
        let sd = pooled(series.own, BELIEVED_FROM, squares, freedom);
        let (count, mean) = (u32::try_from(values.len()).unwrap_or(u32::MAX), mean(values));
        let belief = match series.prior {
            Some(prior) => prior.after(mean, count, sd),
            None => Belief { mean, sd: sd / f64::from(count.max(1)).sqrt() },
        };
        let half_width = if series.log { belief.half_width_of_log() } else { belief.half_width() };
        let value = (count > 0).then(|| series.unscaled(belief.mean));
        Settled { series: series.clone(), value, half_width, count }
    });
    settled.collect()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

impl Settled {
    /// How many records count.
    pub const fn count(&self) -> u32 {
        self.count
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
            records: self.count,
            known_from: None,
            ink: ink.clone().map(|ink| ink.release_fraction(value)),
        })
    }
}
