//! A step test: one screen, a mask moved from strip to strip.

use super::TIME;
use crate::error::{Code, Error};
use crate::quantity::{Rank, Rules, Time, reaches, units};
use crate::source::Source;
use crate::wire::{At, Choice, Remarks, answer, calculation, one_of, request};

const STEPS: Rules = Rules::range(units::ONE, 2.0, 30.0).usual(3.0, 10.0);
const RATIO: Rules = Rules::range(units::ONE, 1.01, 4.0)
    .usual(1.1, 2.0)
    .or(core::f64::consts::SQRT_2, Source::physics("equal steps of density: two steps double the light"));

request! {
    /// A test to plan, by its longest or its middle exposure.
    pub struct SeriesRequest {
        /// The longest exposure; or give the middle one.
        longest "Longest exposure": Option<Time> where TIME.rank(Rank::First),
        /// The exposure in the middle, where the right one is expected; or give the longest.
        middle "Middle exposure": Option<Time> where TIME.rank(Rank::First),
        /// Number of strips.
        steps "Number of strips": u32 where STEPS,
        /// Time of a strip over that of the strip before.
        ratio "Ratio of strips": f64 where RATIO,
    }
    chooses(Choice::One(&[&["longest"], &["middle"]]))
}

answer! {
    /// The exposures of the strips.
    pub struct Series {
        /// What each strip gets in all, ascending.
        times "Time per strip": Vec<Time>,
        /// Time to expose between two moves of the mask, which covers one more strip each time; all add up to the
        /// longest.
        uncover "Time per move": Vec<Time>,
    }
}

calculation! {
    pub const SERIES: SeriesRequest => Series = series;
    id: "exposure.series",
    title: "Exposure step test",
    question: "How do I step-test?",
    asked: ["Which times do I try first?", "How do I find my exposure time?"],
    headline: ["times"],
    formula: "times t_i = longest / ratio^(steps - i), or middle x ratio^(i - (steps + 1) / 2), i = 1 to steps; between moves of the mask t_1, t_2 - t_1, ...",
    sources: &[Source::physics("a geometric series reads evenly on a step scale")],
    example: r#"{"middle": "90 s", "steps": 5}"#,
}

/// The exposures of a step test and the moves of its mask.
///
/// # Errors
/// `missing_field` without a time, `impossible` with two, `out_of_range` where a strip lies beyond 0.01 s to a day.
pub(crate) fn series(request: &SeriesRequest, remarks: &mut Remarks) -> Result<Series, Error> {
    let top = f64::from(request.steps) - 1.0;
    let (anchor, place) = match (request.longest, request.middle) {
        (Some(longest), None) => (longest, top),
        (None, Some(middle)) => (middle, top / 2.0),
        (Some(_), Some(_)) => {
            return Err(Error::new(
                Code::Impossible,
                "/middle",
                "longest and middle fix the same series: give one of them",
            ));
        }
        (None, None) => return Err(one_of::<SeriesRequest>(At::ROOT)),
    };
    let times: Vec<Time> =
        (0..request.steps).map(|i| anchor * libm::pow(request.ratio, f64::from(i) - place)).collect();
    let (least, most) = (units::S.of(TIME.range.shown.0), units::S.of(TIME.range.shown.1));
    if times.first().is_some_and(|time| !reaches(*time, least))
        || times.last().is_some_and(|time| !reaches(most, *time))
    {
        return Err(Error::new(
            Code::OutOfRange,
            "/steps",
            "the series reaches beyond any exposure: fewer steps or a smaller ratio",
        )
        .allowed([format!("strips of {}", TIME.range_text())]));
    }
    let mut before = units::S.of(0.0);
    let uncover = times
        .iter()
        .map(|time| {
            let between = *time - before;
            before = *time;
            between
        })
        .collect();
    remarks.info(
        "mask",
        "/steps",
        "start with every strip open; after each of these exposures cover one more strip, shortest first. Choose the shortest strip whose stencil is as hard as the longer ones",
    );
    super::about_post_exposure(remarks);
    Ok(Series { times, uncover })
}
