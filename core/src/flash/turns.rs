//! Turn after turn of the carousel, without marching each.
//!
//! What a print and a flash do in a turn hangs on how warm the platen's top is when the shirt goes on, and changes little from one
//! turn to the next; how heat spreads in the platen is plain conduction. So a turn takes a platen to where the bare platen would get
//! in the room, which is cheap to march, plus a rest that is interpolated over the top's temperature between turns that were marched
//! in full. The turns to march are chosen where the top is furthest from all that were, as far as is known by then, so first near the
//! end of the run; until one more changes nothing. Where that takes too many, where something other than before comes to limit the
//! dwell, or where the platen itself holds water that can leave, every turn is marched.

use super::dwell::Ends;
use super::round::{Hottest, Platen, PlatenCycle};
use crate::error::Error;
use crate::work::Work;

/// Runs of fewer turns are marched in full.
const FEW: usize = 9;
/// Turns that are marched before any is interpolated. The first is none to go by: its platen is as warm all through.
const BEGIN: usize = 4;
/// The most turns that are marched for the map, beside those that begin the run.
const MOST_SAMPLES: usize = 9;
/// Turns marched between which one is interpolated: a cubic.
const NEAREST: usize = 4;
/// Platens nearer to one another than this are the same, K.
const APART: f64 = 0.05;
/// A platen that warms by less in a turn is settled, K: where turns are interpolated, and where each carries the error of a march.
const SETTLED: f64 = 0.001;
const SETTLED_MARCHED: f64 = 0.005;
/// By how much one more turn marched may change the platen and the hottest of the print, K, the dwell, s, and the longest dwell, as a
/// share: near the limit the print hardly warms.
const CLOSE: Close = Close { platen: 0.01, hottest: 0.1, dwell: 0.003, most: 0.002 };
/// By how much the dwell before a turn may differ from what it was marched with, s.
const STALE: f64 = 0.1;

struct Close {
    platen: f64,
    hottest: f64,
    dwell: f64,
    most: f64,
}

/// What happened in a turn.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Turn {
    /// Temperature of the platen's top when the shirt went on, K.
    pub platen: f64,
    /// Shortest and longest dwell, s.
    pub ends: Ends,
    /// The dwell in force, s.
    pub dwell: f64,
    /// Hottest film and cloth under its flashes, K.
    pub hottest: Hottest,
}

impl Turn {
    /// Whether both are limited by the same, and dry under as many flashes.
    fn like(&self, other: &Self) -> bool {
        let limits = |turn: &Self| {
            let cut = turn.ends.recommended().zip(turn.ends.most).is_some_and(|(dwell, (most, _))| dwell >= most);
            let Ends { least, most, .. } = turn.ends;
            (least.is_some(), most.map(|(_, limit)| limit), turn.ends.recommended().is_some(), cut, turn.hottest.wet)
        };
        limits(self) == limits(other)
    }

    /// Whether in both, or in neither, custom asks for more than gels. There the dwell stops falling as the platen warms, and what it
    /// does to platen and print has a corner that no polynomial follows.
    fn is_alike(&self, other: &Self) -> bool {
        self.ends.is_customary() == other.ends.is_customary()
    }

    fn close(&self, other: &Self, accuracy: f64) -> bool {
        let within = |a: f64, b: f64, by: f64| (a - b).abs() <= by * accuracy;
        let both = |a: Option<f64>, b: Option<f64>, by: f64| a.zip(b).is_none_or(|(a, b)| within(a, b, by));
        let most = |turn: &Self| turn.ends.most.map(|(most, _)| most);
        within(self.platen, other.platen, CLOSE.platen)
            && within(self.hottest.film, other.hottest.film, CLOSE.hottest)
            && within(self.hottest.cloth, other.hottest.cloth, CLOSE.hottest)
            && within(self.dwell, other.dwell, CLOSE.dwell)
            && both(self.ends.least, other.ends.least, CLOSE.dwell)
            && both(most(self), most(other), CLOSE.most * self.ends.most.map_or(0.0, |(most, _)| most))
    }
}

/// How a turn is marched: at the dwell that is found or kept, from where the platen is, which came to it in the cycle of a dwell.
pub(super) trait March {
    /// Marches it.
    fn march(&self, platen: &mut PlatenCycle<'_>, in_force: f64, work: &mut Work) -> Result<Turn, Error>;

    /// The dwell of a turn with these ends, s.
    fn dwell(&self, ends: &Ends) -> f64;
}

/// A turn that was marched in full.
#[derive(Debug, Clone)]
pub(super) struct Sample {
    pub turn: Turn,
    /// The dwell before it, s, and which turn of the map it was taken for.
    in_force: f64,
    index: Option<usize>,
    /// Where it leaves the platen, and how far from where the bare platen would be, K.
    after: Platen,
    rest: Vec<f64>,
}

impl Sample {
    /// The same, told of a dwell that is kept.
    pub fn kept(mut self) -> Self {
        self.turn.ends = Ends::default();
        self
    }
}

/// Turns one after the other, each with the platen at its load.
type Way = Vec<(Platen, Turn)>;

/// The turns of a run, and the top of the platen after the last of them, K.
pub(super) struct Run {
    pub turns: Vec<Turn>,
    pub last: f64,
}

/// A run in the making.
pub(super) struct Turns<'a, 'b> {
    pub platen: &'a mut PlatenCycle<'b>,
    pub how: &'a dyn March,
    pub work: &'a mut Work,
}

impl Turns<'_, '_> {
    /// So many turns, of which this is the first, or fewer where all further ones are like the last.
    pub fn run(&mut self, first: Sample, count: usize) -> Result<Run, Error> {
        let mut turns = vec![first.turn];
        let mut now = first;
        let mut samples = Vec::new();
        loop {
            let Sample { turn, after, .. } = &now;
            let warmed = top(after) - turn.platen;
            if turns.len() >= count || (turns.len() > 1 && warmed.abs() < SETTLED_MARCHED) {
                return Ok(Run { turns, last: top(after) });
            }
            if turns.len() == BEGIN
                && count >= FEW
                && !self.platen.binds_water()
                && let Some((way, last)) = self.map(&mut samples, &now, count.saturating_sub(BEGIN))?
            {
                turns.extend(way.into_iter().map(|(_, turn)| turn));
                return Ok(Run { turns, last });
            }
            now = self.sample(&now.after, now.turn.dwell)?;
            turns.push(now.turn);
            if turns.len() <= BEGIN {
                samples.push(now.clone());
            }
        }
    }

    /// Marches a turn of a platen, which came to it in the cycle of a dwell.
    pub fn sample(&mut self, platen: &Platen, in_force: f64) -> Result<Sample, Error> {
        self.platen.place(platen);
        let turn = self.how.march(self.platen, in_force, self.work)?;
        let after = self.platen.states();
        let bare = self.platen.bare_round(platen, turn.dwell, self.work)?;
        let rest = after.iter().zip(&bare).map(|((after, _), (bare, _))| after - bare).collect();
        Ok(Sample { turn, in_force, index: None, after, rest })
    }

    /// The turns after one that was marched, by a map between that and further ones; nothing where it does not hold.
    fn map(
        &mut self,
        samples: &mut Vec<Sample>,
        last_marched: &Sample,
        count: usize,
    ) -> Result<Option<(Way, f64)>, Error> {
        let (from, in_force) = (&last_marched.after, last_marched.turn.dwell);
        let Some((mut way, mut last)) = self.way(samples, from, count)? else { return Ok(None) };
        // A film that is not dry yet warms unevenly with the platen: there one agreement may be chance.
        let (mut agreed, enough) = (0_u32, if self.platen.dries() { 2 } else { 1 });
        let accuracy = self.work.accuracy();
        for _ in 0..MOST_SAMPLES {
            let came = |way: &Way, index: usize| {
                let before = index.checked_sub(1).and_then(|index| way.get(index));
                before.map_or(in_force, |(_, turn)| turn.dwell)
            };
            // A turn that was marched when too little was known, where it came from another dwell than it does by now, is marched again.
            let stale = samples.iter().position(|sample| {
                sample
                    .index
                    .is_some_and(|index| index < way.len() && (came(&way, index) - sample.in_force).abs() > STALE)
            });
            let index = match stale.map(|place| samples.swap_remove(place)).and_then(|sample| sample.index) {
                Some(index) => index,
                None => {
                    // Where the top is furthest from all that were marched.
                    let distance = |(_, turn): &(Platen, Turn)| {
                        let among = |alike: bool| {
                            let these = samples.iter().filter(|sample| !alike || sample.turn.is_alike(turn));
                            these.map(|sample| (sample.turn.platen - turn.platen).abs()).fold(f64::INFINITY, f64::min)
                        };
                        if among(false) < APART { 0.0 } else { among(true) }
                    };
                    let furthest = way.iter().map(distance).enumerate().max_by(|a, b| a.1.total_cmp(&b.1));
                    match furthest {
                        Some((index, distance)) if distance >= APART => index,
                        _ => return Ok(Some((way, last))),
                    }
                }
            };
            let Some((platen, _)) = way.get(index) else { return Ok(None) };
            let sample = self.sample(platen, came(&way, index))?;
            samples.push(Sample { index: Some(index), ..sample });
            let Some((better, end)) = self.way(samples, from, count)? else { return Ok(None) };
            let both = |index: usize| better.get(index).or(better.last()).zip(way.get(index).or(way.last()));
            let longer = way.len().max(better.len());
            let close = (0..longer).all(|index| both(index).is_some_and(|((_, a), (_, b))| a.close(b, accuracy)));
            (way, last) = (better, end);
            agreed = if close { agreed.saturating_add(1) } else { 0 };
            if agreed >= enough {
                return Ok(Some((way, last)));
            }
        }
        Ok(None)
    }

    /// The turns from here as they are interpolated between these, until the platen is settled; nothing where they are not alike.
    fn way(&mut self, samples: &[Sample], from: &Platen, count: usize) -> Result<Option<(Way, f64)>, Error> {
        let Some(first) = samples.first() else { return Ok(None) };
        if !samples.iter().all(|sample| sample.turn.like(&first.turn)) {
            return Ok(None);
        }
        let mut way = Way::new();
        let mut platen = from.clone();
        while way.len() < count {
            let turn = self.between(samples, top(&platen));
            if !turn.like(&first.turn) {
                return Ok(None);
            }
            let mut after = self.platen.bare_round(&platen, turn.dwell, self.work)?;
            for (weight, sample) in weights(samples, turn.platen, Some(&turn)) {
                for ((after, _), rest) in after.iter_mut().zip(&sample.rest) {
                    *after += weight * rest;
                }
            }
            way.push((core::mem::replace(&mut platen, after), turn));
            if (top(&platen) - turn.platen).abs() < SETTLED {
                break;
            }
        }
        let last = top(&platen);
        Ok(Some((way, last)))
    }

    /// The turn of a platen whose top is so warm.
    fn between(&self, samples: &[Sample], platen: f64) -> Turn {
        let mut turn = Turn { platen, ..Turn::default() };
        for (weight, Sample { turn: other, .. }) in weights(samples, platen, None) {
            let add = |sum: Option<f64>, value: Option<f64>| value.map(|value| sum.unwrap_or(0.0) + weight * value);
            turn.ends.least = add(turn.ends.least, other.ends.least);
            let most = add(turn.ends.most.map(|(most, _)| most), other.ends.most.map(|(most, _)| most));
            turn.ends.most = most.zip(other.ends.most.map(|(_, limit)| limit));
            turn.ends.floor = other.ends.floor;
        }
        turn.dwell = self.how.dwell(&turn.ends);
        let mut hottest = Hottest::default();
        for (weight, Sample { turn: other, .. }) in weights(samples, platen, Some(&turn)) {
            hottest.wet = other.hottest.wet;
            hottest.film += weight * other.hottest.film;
            hottest.cloth += weight * other.hottest.cloth;
        }
        Turn { hottest, ..turn }
    }
}

fn top(platen: &Platen) -> f64 {
    platen.first().map_or(0.0, |(top, _)| *top)
}

/// The samples nearest to this temperature of the top, those alike where there are any, with their weights in the polynomial through
/// them (Lagrange).
fn weights<'a>(samples: &'a [Sample], at: f64, alike: Option<&Turn>) -> Vec<(f64, &'a Sample)> {
    let mut near: Vec<&Sample> = samples.iter().collect();
    if let Some(turn) = alike
        && near.iter().any(|sample| sample.turn.is_alike(turn))
    {
        near.retain(|sample| sample.turn.is_alike(turn));
    }
    crate::sorted::by_number(&mut near, |sample| (sample.turn.platen - at).abs());
    near.truncate(NEAREST);
    near.iter()
        .map(|one| {
            let others = near.iter().filter(|other| !core::ptr::eq(**other, *one));
            let weight = others
                .fold(1.0, |weight, other| weight * (at - other.turn.platen) / (one.turn.platen - other.turn.platen));
            (weight, *one)
        })
        .collect()
}
