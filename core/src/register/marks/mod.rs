//! What do the marks say? How each colour lies against the reference, how far to move its screen, and what that leaves.

mod fit;
mod scatter;

use super::{TRAP, WANTED_WITHIN};
use crate::chance::student;
use crate::error::{Code, Error, clip};
use crate::propagation::{COVERAGE, moments};
use crate::quantity::{Angle, Dimensioned, Length, Rank, Rules, Show, to_places, units};
use crate::sorted;
use crate::source::Source;
use crate::wire::{At, Remarks, Say, answer, calculation, request, words};
use fit::{Places, Point, Pose, Resolvable, less, mean};
use scatter::Scatter;
use serde_json::Value;

const PLACE: Rules = Rules::range(units::MM, -10_000.0, 10_000.0).usual(-1_000.0, 1_000.0);
const OFFSET: Rules = Rules::range(units::MM, -100.0, 100.0).usual(-3.0, 3.0);
const MOST_COLOURS: usize = 32;
const MOST_MARKS: usize = 50;
const MOST_PRINTS: usize = 200;
/// Marks nearer than this are one, in m.
const APART: f64 = 1e-6;
/// What moves no mark by this much, in m, is none of what a loupe reads: from memory.
const RESOLVED: f64 = 2e-5;
/// The chance that a normal error stays within three standard errors.
const SURE: f64 = 0.997_300_203_936_74;
/// From fewer prints than this a standard error is itself known to a third at best.
const FEW: usize = 5;
/// A turn beyond this is more than a press is out of set: a sign or a place is wrong.
const LARGE_TURN: f64 = 2.0;

request! {
    /// How far a mark of one print lies off the same mark of the reference: print minus reference.
    pub struct MarkOffset {
        /// Across the stroke: positive where the colour lies to the right of the reference.
        x "Off across": Length where OFFSET,
        /// Along the stroke: positive where the colour lies beyond the reference, farther from the printer.
        y "Off along": Length where OFFSET,
    }
}

request! {
    /// The place about which screens are turned.
    pub struct Pivot {
        /// Across the stroke, to the right.
        x "Across": Length where PLACE,
        /// Along the stroke, away from the printer.
        y "Along": Length where PLACE,
    }
}

request! {
    /// A mark, and how far a colour lies off there.
    pub struct RegisterMark {
        /// Place of the mark across the stroke, to the right, from any point that all marks share.
        x "Across": Length where PLACE,
        /// Place of the mark along the stroke, away from the printer.
        y "Along": Length where PLACE,
        /// How far the colour lies off the reference at the mark, print by print: the same prints in the same order at each mark of the colour.
        offsets "Offsets": Vec<MarkOffset>,
    }
}

request! {
    /// A colour and its marks.
    pub struct ColourMarks {
        /// What the colour is called.
        name "Colour": String,
        /// Its marks: one shows the shift, two the turn as well, three not on a line all that is asked for.
        marks "Marks": Vec<RegisterMark>,
    }
}

request! {
    /// What was read off the marks of several prints.
    ///
    /// All as the printer sees it who stands before the platen and looks down on the print: x across the stroke to the right, y along it and
    /// away from him, turns positive anticlockwise.
    pub struct MarksRequest {
        /// The colour that the others are set to.
        reference "Reference colour": String,
        /// The place about which the screens turn; shifts are those of this place.
        pivot "Pivot": Option<Pivot> where Rules::NONE.unless_given("the middle of each colour's marks").rank(Rank::More),
        /// The other colours.
        colours "Colours": Vec<ColourMarks>,
        /// By how much neighbouring colours overlap; with it come the shares of prints within it.
        trap "Trap": Option<Length> where TRAP,
        /// The share wanted of prints with all marks within the trap.
        wanted_probability "Share wanted": f64 where WANTED_WITHIN.rank(Rank::More),
    }
}

words! {
    /// What moves a colour, as `register.budget` sorts its causes.
    pub enum MovedBy ("mover") {
        /// What acts once per set-up (film, tape, pins, frame): a shift or a turn on all prints alike, which adjusting takes out.
        Setup = "setup",
        /// What acts anew on every print (shirt creep, platen play): no adjusting takes it out.
        Print = "print",
        /// A stretch (growth of a film, tension, off-contact): no adjusting takes it out either.
        Stretch = "stretch",
    }
}

answer! {
    /// How a colour lies against the reference, and what to do.
    pub struct ColourRegister {
        /// The colour.
        name "Colour": String,
        /// How many prints were read.
        prints "Prints read": u32,
        /// How far the colour lies to the right, at the pivot.
        shift_x "Shift across": Length as Print,
        /// Standard error of the shift across, from two prints on.
        shift_x_error "Shift across error": Option<Length> as Print,
        /// How far the colour lies away from the printer, at the pivot.
        shift_y "Shift along": Length as Print,
        /// Standard error of the shift along, from two prints on.
        shift_y_error "Shift along error": Option<Length> as Print,
        /// How far the colour is turned anticlockwise, from two marks on.
        turn "Turn": Option<Angle>,
        /// Standard error of the turn, from two prints on.
        turn_error "Turn error": Option<Angle>,
        /// Growth across the stroke, as a share of the length; below nothing where it shrank. From three marks not on a line, or on a line across.
        stretch_x_fraction "Stretch across": Option<f64>,
        /// Standard error of the growth across, from two prints on.
        stretch_x_fraction_error "Stretch across error": Option<f64>,
        /// Growth along the stroke, likewise. From three marks not on a line, or on a line along the stroke.
        stretch_y_fraction "Stretch along": Option<f64>,
        /// Standard error of the growth along, from two prints on.
        stretch_y_fraction_error "Stretch along error": Option<f64>,
        /// Growth both ways, taken for alike: all that two marks, or marks on a line aslant, show.
        stretch_fraction "Stretch both ways": Option<f64>,
        /// Standard error of the growth both ways, from two prints on.
        stretch_fraction_error "Stretch error": Option<f64>,
        /// What shift, turn and stretch leave of the mean offsets: their standard error along one axis, by the offsets to spare, where there are
        /// more than these have numbers. Large where a mark was misread, or a print is bent.
        misfit "Unexplained": Option<Length> as Print,
        /// Standard deviation of a mark from print to print, along one axis, both axes taken together.
        spread_per_print "Spread per print": Option<Length> as Print,
        /// The same across the stroke alone.
        spread_x "Spread across": Option<Length> as Print,
        /// The same along the stroke alone.
        spread_y "Spread along": Option<Length> as Print,
        /// How far to move the screen to the right; to the left where it is below nothing.
        move_x "Move across": Length as Print,
        /// How far to move the screen away from the printer; towards him where it is below nothing.
        move_y "Move along": Length as Print,
        /// How far to turn the screen anticlockwise about the pivot, after it was moved; clockwise where it is below nothing.
        turn_by "Turn by": Option<Angle>,
        /// How far that turn moves the mark farthest from the pivot: what to look for while turning.
        turn_moves "Turn at outer mark": Option<Length> as Print,
        /// The most that a mark then still lies off along an axis, as a mean of the prints.
        remaining "Remaining at worst mark": Length as Print,
        /// Whether a stretch is beyond three standard errors: the film, the frame or the tension, which no adjusting of the screen cures.
        /// Absent where no stretch or no error is known, and where the marks do not fit one another.
        film_or_frame "Film or frame": Option<bool>,
        /// What moves the colour, as far as it is beyond three standard errors, the largest first.
        moved_by "Moved by": Vec<MovedBy>,
        /// The share of prints on which the colour lies within the trap at all its marks, as set now.
        within_trap_now "Within trap now": Option<f64>,
        /// The same once the screen is moved and turned so.
        within_trap_adjusted "Within trap, adjusted": Option<f64>,
    }
}

answer! {
    /// What the marks say.
    pub struct MarksRead {
        /// Colour by colour, in the order of the request.
        colours "Colours": Vec<ColourRegister>,
        /// The share of prints on which all colours lie within the trap at all marks, as set now; colours taken for independent.
        within_trap_now "Within trap now": Option<f64>,
        /// The same once all screens are moved and turned so.
        within_trap_adjusted "Within trap, adjusted": Option<f64>,
    }
}

calculation! {
    pub const MARKS: MarksRequest => MarksRead = marks;
    id: "register.marks",
    title: "Register marks",
    question: "What do the marks say?",
    asked: ["How far must I move this screen?", "Is it the set-up, the shirts or the film?", "Why does one corner not meet?"],
    headline: ["within_trap_adjusted"],
    formula: "a mark at r is printed at p + shift + R(turn) S (r - p), S = diag(1 + stretch_x, 1 + stretch_y), p the pivot: unweighted least squares on the mean offsets, exact in the turn; for small turns dx = shift_x + stretch_x X - turn Y, dy = shift_y + stretch_y Y + turn X, (X, Y) = r - p. Standard error = standard deviation of the fits of the single prints / sqrt(prints); a finding counts beyond three of them, wider by Student's t where prints are few. Two marks, or a line of them aslant: stretch_x = stretch_y. move = -mean offset + (R - 1)(middle of the marks - p), which is -shift at the middle, then turn_by = -turn about p. Within trap: |dx| and |dy| <= trap at every mark, each axis normal about its means with one error common to the marks of a print and one of each mark's own (analysis of variance), axes independent; adjusted: with the error of the mean, which the move takes over",
    sources: &[
        Source::published("C. D. Ghilani, P. R. Wolf, Adjustment Computations, coordinate transformations: least squares of a similarity, a turn and two scales"),
        Source::published("H. Scheffe, The Analysis of Variance (1959): components of variance (from memory)"),
        Source::memory("three standard errors as the bound beyond which a finding counts: judgement"),
    ],
    example: r#"{"reference": "black", "colours": [{"name": "red", "marks": [
        {"x": "0 mm", "y": "0 mm", "offsets": [{"x": "0.31 mm", "y": "-0.12 mm"}, {"x": "0.24 mm", "y": "-0.08 mm"}, {"x": "0.35 mm", "y": "-0.17 mm"}]},
        {"x": "300 mm", "y": "0 mm", "offsets": [{"x": "0.36 mm", "y": "0.16 mm"}, {"x": "0.27 mm", "y": "0.23 mm"}, {"x": "0.40 mm", "y": "0.13 mm"}]},
        {"x": "150 mm", "y": "400 mm", "offsets": [{"x": "-0.04 mm", "y": "0.03 mm"}, {"x": "-0.13 mm", "y": "0.08 mm"}, {"x": "0.01 mm", "y": "-0.02 mm"}]}]}],
        "trap": "0.3 mm"}"#,
}

/// Work of a mark's chance, in rows: up to seventy panels of five nodes, two tails each, for both axes, now, adjusted and moved.
const CHANCES: f64 = 6_000.0;
/// Work of one offset, in rows.
const SUMS: f64 = 10.0;

/// A colour's marks as numbers in m.
struct Marks {
    places: Vec<Point>,
    /// Print by print, the offset of each mark.
    prints: Vec<Vec<Point>>,
    /// The mean offset of each mark.
    means: Vec<Point>,
}

/// How the colours lie against the reference, and how far to move their screens.
///
/// # Errors
/// `out_of_range` for no colour, no mark or no offset, and for differing numbers of prints at the marks of a colour; `impossible` for a
/// colour that stands twice or is the reference, and for two marks of a colour at one place; `too_long` for more than 32 colours,
/// 50 marks a colour or 200 prints.
pub(crate) fn marks(request: &MarksRequest, remarks: &mut Remarks) -> Result<MarksRead, Error> {
    check(request)?;
    let mut colours = Vec::with_capacity(request.colours.len());
    for (index, colour) in request.colours.iter().enumerate() {
        let read = Marks::of(colour);
        let offsets = (read.places.len() as f64) * (read.prints.len() as f64);
        let chances = if request.trap.is_some() && read.prints.len() > 1 { CHANCES } else { 0.0 };
        remarks.work().spend(SUMS * offsets + chances * read.places.len() as f64);
        colours.push(judge(request, colour, &read, index, remarks));
    }
    let all = |of: fn(&ColourRegister) -> Option<f64>| {
        colours.iter().try_fold(1.0, |product, colour| of(colour).map(|chance| product * chance))
    };
    let within_trap_now = all(|colour| colour.within_trap_now);
    let within_trap_adjusted = all(|colour| colour.within_trap_adjusted);
    remark(request, &colours, within_trap_adjusted, remarks);
    Ok(MarksRead { colours, within_trap_now, within_trap_adjusted })
}

fn counted(count: usize, most: usize, at: At<'_>, what: &str) -> Result<(), Error> {
    if count == 0 {
        return Err(Error::new(Code::OutOfRange, at, format!("no {what}")).allowed([format!("1 to {most} {what}")]));
    }
    if count > most {
        return Err(
            Error::new(Code::TooLong, at, format!("{count} {what}")).allowed([format!("at most {most} {what}")])
        );
    }
    Ok(())
}

fn check(request: &MarksRequest) -> Result<(), Error> {
    let at_colours = At::ROOT.key("colours");
    counted(request.colours.len(), MOST_COLOURS, at_colours, "colours")?;
    for (index, colour) in request.colours.iter().enumerate() {
        let at = at_colours.index(index);
        let twice = request.colours.iter().take(index).any(|other| other.name == colour.name);
        if twice || colour.name == request.reference {
            let message = if twice { "this colour stands twice" } else { "the reference is not set to itself" };
            return Err(Error::new(Code::Impossible, at.key("name"), message)
                .got(&Value::from(colour.name.as_str()))
                .allowed(["each colour but the reference, once"]));
        }
        let at_marks = at.key("marks");
        counted(colour.marks.len(), MOST_MARKS, at_marks, "marks")?;
        let prints = colour.marks.first().map_or(0, |mark| mark.offsets.len());
        for (place, mark) in colour.marks.iter().enumerate() {
            let at_mark = at_marks.index(place);
            let at_offsets = at_mark.key("offsets");
            counted(mark.offsets.len(), MOST_PRINTS, at_offsets, "offsets")?;
            if mark.offsets.len() != prints {
                let count = mark.offsets.len();
                let message = format!(
                    "{count} prints where the first mark of the colour has {prints}: read the same prints at each mark"
                );
                return Err(Error::new(Code::OutOfRange, at_offsets, message)
                    .got(&Value::from(count))
                    .allowed([format!("{prints} offsets")]));
            }
            let near = |other: &&RegisterMark| libm::hypot((other.x - mark.x).si(), (other.y - mark.y).si()) < APART;
            if colour.marks.iter().take(place).any(|other| near(&other)) {
                return Err(Error::new(Code::Impossible, at_mark, "two marks of a colour at one place are one mark")
                    .allowed(["marks that lie apart"]));
            }
        }
    }
    Ok(())
}

impl Marks {
    fn of(colour: &ColourMarks) -> Self {
        let places = colour.marks.iter().map(|mark| [mark.x.si(), mark.y.si()]).collect();
        let count = colour.marks.first().map_or(0, |mark| mark.offsets.len());
        let of_print = |print: usize| -> Vec<Point> {
            let offsets = colour.marks.iter().filter_map(|mark| mark.offsets.get(print));
            offsets.map(|offset| [offset.x.si(), offset.y.si()]).collect()
        };
        let prints: Vec<Vec<Point>> = (0..count).map(of_print).collect();
        let of_mark =
            |mark: usize| -> Vec<Point> { prints.iter().filter_map(|print| print.get(mark)).copied().collect() };
        let means = (0..colour.marks.len()).map(|mark| mean(&of_mark(mark))).collect();
        Self { places, prints, means }
    }

    /// The spread along one axis.
    fn scatter(&self, axis: fn(Point) -> f64) -> Option<Scatter> {
        let of_mark = |mark: usize| -> Vec<f64> {
            self.prints.iter().filter_map(|print| print.get(mark)).map(|offset| axis(*offset)).collect()
        };
        let offsets: Vec<Vec<f64>> = (0..self.places.len()).map(of_mark).collect();
        Scatter::of(&offsets)
    }
}

const fn across([x, _]: Point) -> f64 {
    x
}

const fn along([_, y]: Point) -> f64 {
    y
}

/// The standard error of the mean of numbers; none of fewer than two.
fn error_of(numbers: &[f64]) -> Option<f64> {
    (numbers.len() > 1).then(|| moments(numbers).1 / (numbers.len() as f64).sqrt())
}

fn squares(points: &[Point]) -> f64 {
    points.iter().map(|[x, y]| x * x + y * y).sum()
}

/// Root mean square along one axis.
fn rms(points: &[Point]) -> f64 {
    (squares(points) / (2.0 * points.len().max(1) as f64)).sqrt()
}

/// What is reckoned of a colour beside its answer.
struct Found {
    pose: Pose,
    /// Standard errors of the same.
    errors: Option<Errors>,
    /// From the pivot to each mark.
    from_pivot: Vec<Point>,
    /// What is left of the mean offsets once the screen is moved and turned back.
    left: Vec<Point>,
    /// Standard errors beyond which something counts.
    sure: f64,
}

/// Standard errors.
struct Errors {
    shift: Point,
    turn: f64,
    stretch: Point,
    /// Of the mean offset of all marks.
    mean: Point,
}

impl Errors {
    /// From the fits of single prints.
    fn of(poses: &[Pose], means: &[Point]) -> Option<Self> {
        let each = |of: fn(&Pose) -> f64| error_of(&poses.iter().map(of).collect::<Vec<_>>());
        let mean = |of: fn(Point) -> f64| error_of(&means.iter().map(|mean| of(*mean)).collect::<Vec<_>>());
        Some(Self {
            shift: [each(|pose| across(pose.shift))?, each(|pose| along(pose.shift))?],
            turn: each(|pose| pose.turn)?,
            stretch: [each(|pose| across(pose.stretch))?, each(|pose| along(pose.stretch))?],
            mean: [mean(across)?, mean(along)?],
        })
    }
}

impl Found {
    fn of(read: &Marks, resolvable: Resolvable, places: &Places<'_>, pivot: Point) -> Self {
        let pose = places.fit(&read.means, pivot, resolvable);
        let poses: Vec<Pose> = read.prints.iter().map(|print| places.fit(print, pivot, resolvable)).collect();
        let middles: Vec<Point> = read.prints.iter().map(|print| mean(print)).collect();
        let from_pivot: Vec<Point> = read.places.iter().map(|place| less(*place, pivot)).collect();
        // One mark stands for the whole print: where the pivot is does not matter.
        let from_pivot = if resolvable == Resolvable::Shift { vec![[0.0, 0.0]; from_pivot.len()] } else { from_pivot };
        let left = from_pivot.iter().zip(&read.means).map(|(from, offset)| pose.left(*from, *offset)).collect();
        let sure = sure(read.prints.len().saturating_sub(1));
        Self { pose, errors: Errors::of(&poses, &middles), from_pivot, left, sure }
    }

    /// Whether the stretch along an axis moves the marks by more than anyone reads, and is beyond its error.
    fn is_stretched(&self, axis: fn(Point) -> f64, length: f64) -> Option<bool> {
        let stretch = axis(self.pose.stretch).abs();
        self.errors.as_ref().map(|errors| stretch * length > (self.sure * axis(errors.stretch) * length).max(RESOLVED))
    }

    /// Whether the shift of the marks' middle is beyond its error.
    fn is_shifted(&self, middle: Point) -> Option<bool> {
        let errors = self.errors.as_ref()?;
        let beyond = |axis: fn(Point) -> f64| axis(middle).abs() > (self.sure * axis(errors.mean)).max(RESOLVED);
        Some(beyond(across) || beyond(along))
    }

    /// Whether the turn is beyond its error.
    fn is_turned(&self, length: f64) -> Option<bool> {
        let turn = self.pose.turn.abs();
        self.errors.as_ref().map(|errors| turn * length > (self.sure * errors.turn * length).max(RESOLVED))
    }

    /// How far a turn moves the mark farthest from the pivot.
    fn moved_by_turn(&self) -> f64 {
        let farthest = self.from_pivot.iter().fold(0.0, |most: f64, [x, y]| most.max(libm::hypot(*x, *y)));
        2.0 * libm::sin(0.5 * self.pose.turn.abs()) * farthest
    }
}

/// Standard errors within which an error stays as surely as a normal one within three, from so many degrees of freedom.
fn sure(freedom: usize) -> f64 {
    student(SURE, u32::try_from(freedom).unwrap_or(u32::MAX))
}

/// The length over which marks lie along an axis.
fn extent(places: &[Point], axis: fn(Point) -> f64) -> f64 {
    let (least, most) = places.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), place| {
        (least.min(axis(*place)), most.max(axis(*place)))
    });
    (most - least).max(0.0)
}

fn judge(
    request: &MarksRequest,
    colour: &ColourMarks,
    read: &Marks,
    index: usize,
    remarks: &mut Remarks,
) -> ColourRegister {
    let places = Places::of(&read.places);
    let resolvable = places.resolvable();
    let pivot = request.pivot.as_ref().map_or(places.middle, |pivot| [pivot.x.si(), pivot.y.si()]);
    let found = Found::of(read, resolvable, &places, pivot);
    let (pose, errors) = (found.pose, found.errors.as_ref());
    let (wide, high) = (extent(&read.places, across), extent(&read.places, along));
    let scatter = read.scatter(across).zip(read.scatter(along));
    let both_axes = |x: f64, y: f64| libm::hypot(x, y) * core::f64::consts::FRAC_1_SQRT_2;
    let spread = scatter.map(|(x, y)| both_axes(x.total(), y.total()));

    let turns = resolvable != Resolvable::Shift;
    let (has_x, has_y) = match resolvable {
        Resolvable::Both => (true, true),
        Resolvable::Across => (true, false),
        Resolvable::Along => (false, true),
        Resolvable::Shift | Resolvable::Two | Resolvable::Aslant => (false, false),
    };
    let alike = matches!(resolvable, Resolvable::Two | Resolvable::Aslant);

    let unexplained: Vec<Point> =
        found.from_pivot.iter().zip(&read.means).map(|(from, offset)| less(*offset, pose.offset(*from))).collect();
    let to_spare = read.places.len().saturating_mul(2).saturating_sub(resolvable.parameters());
    let misfit = (to_spare > 0).then(|| (squares(&unexplained) / to_spare as f64).sqrt());
    // What marks scatter by themselves is all that may be left of their means.
    let repeats = read.prints.len().saturating_sub(1).saturating_mul(2);
    let degrees = repeats.saturating_mul(read.places.len().saturating_sub(1));
    let expected = scatter.map(|(x, y)| both_axes(x.own, y.own) / (read.prints.len() as f64).sqrt());
    let misread = misfit.zip(expected).is_some_and(|(misfit, one)| misfit > (sure(degrees) * one).max(RESOLVED));
    let film_or_frame = match (found.is_stretched(across, wide), found.is_stretched(along, high)) {
        _ if misread => None,
        (Some(_), Some(_)) if alike => found.is_stretched(across, libm::hypot(wide, high)),
        (Some(x), Some(y)) if turns => Some((has_x && x) || (has_y && y)),
        _ => None,
    };

    let middle = mean(&read.means);
    let shifted = found.is_shifted(middle);
    let turned = found.is_turned(libm::hypot(wide, high)).filter(|_| turns);
    // What a set-up moves is what the adjusting takes away.
    let taken: Vec<Point> = read.means.iter().zip(&found.left).map(|(offset, left)| less(*offset, *left)).collect();
    let mut movers = Vec::new();
    if shifted == Some(true) || turned == Some(true) {
        movers.push((MovedBy::Setup, rms(&taken)));
    }
    if film_or_frame == Some(true) {
        movers.push((MovedBy::Stretch, rms(&found.left)));
    }
    if let Some(spread) = spread.filter(|spread| *spread > RESOLVED) {
        movers.push((MovedBy::Print, spread));
    }
    sorted::by_number(&mut movers, |(_, size)| -size);

    let share = |(x, y): (Scatter, Scatter), offsets: &[Point]| {
        let trap = request.trap?.si();
        let axis = |of: fn(Point) -> f64| offsets.iter().map(|offset| of(*offset)).collect::<Vec<f64>>();
        Some(x.within(&axis(across), trap) * y.within(&axis(along), trap))
    };
    // A screen is moved by what the mean of a few prints says, and takes over its error.
    let settled = scatter.zip(errors).map(|((x, y), errors)| {
        let [error_x, error_y] = errors.mean;
        (x.moved_within(error_x), y.moved_within(error_y))
    });
    let length = Length::from_si;
    let [back_x, back_y] = pose.back();
    let register = ColourRegister {
        name: colour.name.clone(),
        prints: u32::try_from(read.prints.len()).unwrap_or(u32::MAX),
        shift_x: length(across(pose.shift)),
        shift_x_error: errors.map(|errors| length(across(errors.shift))),
        shift_y: length(along(pose.shift)),
        shift_y_error: errors.map(|errors| length(along(errors.shift))),
        turn: turns.then(|| Angle::from_si(pose.turn)),
        turn_error: errors.filter(|_| turns).map(|errors| Angle::from_si(errors.turn)),
        stretch_x_fraction: has_x.then(|| across(pose.stretch)),
        stretch_x_fraction_error: errors.filter(|_| has_x).map(|errors| across(errors.stretch)),
        stretch_y_fraction: has_y.then(|| along(pose.stretch)),
        stretch_y_fraction_error: errors.filter(|_| has_y).map(|errors| along(errors.stretch)),
        stretch_fraction: alike.then(|| across(pose.stretch)),
        stretch_fraction_error: errors.filter(|_| alike).map(|errors| across(errors.stretch)),
        misfit: misfit.map(length),
        spread_per_print: spread.map(length),
        spread_x: scatter.map(|(x, _)| length(x.total())),
        spread_y: scatter.map(|(_, y)| length(y.total())),
        move_x: length(back_x),
        move_y: length(back_y),
        turn_by: turns.then(|| Angle::from_si(-pose.turn)),
        turn_moves: turns.then(|| length(found.moved_by_turn())),
        remaining: length(found.left.iter().fold(0.0, |most: f64, [x, y]| most.max(x.abs()).max(y.abs()))),
        film_or_frame,
        moved_by: movers.into_iter().map(|(mover, _)| mover).collect(),
        within_trap_now: scatter.and_then(|scatter| share(scatter, &read.means)),
        within_trap_adjusted: settled.and_then(|scatter| share(scatter, &found.left)),
    };
    let seen = Seen { resolvable, shifted, turned, misread };
    about(index, seen, &register, remarks);
    register
}

/// What the notes of a colour hang on.
struct Seen {
    resolvable: Resolvable,
    /// Whether the shift is beyond its error; none where no error is known.
    shifted: Option<bool>,
    /// Whether the turn is, where one is told.
    turned: Option<bool>,
    /// Whether the marks leave more than they scatter by themselves.
    misread: bool,
}

/// What one colour's marks show and do not show.
fn about(index: usize, seen: Seen, register: &ColourRegister, remarks: &mut Remarks) {
    let at_colour = At::ROOT.key("colours");
    let at_colour = at_colour.index(index);
    let at = at_colour.key("marks");
    match seen.resolvable {
        Resolvable::Shift => remarks.caution(
            "one_mark",
            at,
            "one mark shows the shift alone: a turn or a stretch hides in it; read two corners more",
        ),
        Resolvable::Two => remarks.info(
            "two_marks",
            at,
            "two marks show a turn and one stretch, taken for alike both ways; a third mark off their line tells the stretches apart",
        ),
        Resolvable::Across | Resolvable::Along => remarks.caution(
            "marks_on_a_line",
            at,
            "these marks lie on a line: the stretch across that line stays unknown, and is taken for nothing where the pivot lies off it",
        ),
        Resolvable::Aslant => remarks.caution(
            "marks_on_a_line",
            at,
            "these marks lie on a line aslant: a turn and a difference of the two stretches move them alike and cannot be told apart; the turn told is that with both stretches alike. Read a mark off the line before you turn the screen",
        ),
        Resolvable::Both => {}
    }
    let at = at_colour.key("marks");
    let prints = register.prints;
    if prints < 2 {
        remarks.caution(
            "one_print",
            at,
            "one print shows no spread: neither the errors nor the share within the trap are known; read five prints or more",
        );
    } else if (prints as usize) < FEW {
        remarks.info("few_prints", at, |_: Say| {
            format!("from {prints} prints the standard errors are rough themselves, and three of them no firm bound: read five or more")
        });
    }
    if let Some(misfit) = register.misfit.filter(|_| seen.misread) {
        remarks.caution("marks_do_not_fit", at, |say: Say| {
            format!(
                "the marks of `{}` are off by {} beyond shift, turn and stretch, more than they scatter: one was misread, or the print is bent; read them again before you turn the screen or blame the film",
                clip(&register.name),
                say.say(misfit, Show::Print)
            )
        });
    }
    if register.film_or_frame == Some(true) {
        remarks.caution("film_or_frame", at, |say: Say| {
            format!(
                "`{}` is stretched beyond three standard errors, which leaves {} at the worst mark: film, frame, tension or off-contact; no adjusting of the screen takes it out",
                clip(&register.name),
                say.say(register.remaining, Show::Print)
            )
        });
    }
    if register.turn.is_some_and(|turn| units::DEG.value(turn).abs() > LARGE_TURN) {
        remarks.caution(
            "large_turn",
            at,
            "a turn beyond 2 degrees: check the signs of the offsets and the places of the marks",
        );
    }
    match (seen.shifted, seen.turned) {
        (Some(false), None | Some(false)) => remarks.info("leave_it", at, |_: Say| {
            format!("no shift or turn of `{}` is beyond its error: leave this screen as it is", clip(&register.name))
        }),
        (Some(true), Some(false)) => {
            remarks.info("leave_the_turn", at, "the turn is within its error: move the screen and leave its turn");
        }
        (Some(false), Some(true)) => {
            remarks.info("leave_the_shift", at, "the shift is within its error: turn the screen alone");
        }
        _ => {}
    }
    let [spread_x, spread_y] = [register.spread_x, register.spread_y].map(|spread| spread.map_or(0.0, Length::si));
    let worse = spread_x.max(spread_y);
    if worse > RESOLVED {
        // The difference of two colours has the variance of both; a budget takes one width for both axes.
        let half_width = Length::from_si(worse * COVERAGE * core::f64::consts::FRAC_1_SQRT_2);
        remarks.info("spread_as_cause", at, |say: Say| {
            format!(
                "the spread of `{}`, of the axis that spreads more, as a cause of `register.budget`: shape normal, per print, half-width {}, as far as both colours spread alike",
                clip(&register.name),
                say.say(half_width, Show::Print)
            )
        });
    }
}

/// What all colours together show, and how to go about it.
fn remark(request: &MarksRequest, colours: &[ColourRegister], adjusted: Option<f64>, remarks: &mut Remarks) {
    if let Some(adjusted) = adjusted.filter(|adjusted| *adjusted < request.wanted_probability) {
        remarks.caution("trap_too_small", "/trap", |_: Say| {
            format!(
                "even adjusted the colours meet at all marks on {} % of the prints only: a wider trap, or less of what moves them from print to print and stretches them",
                to_places(100.0 * adjusted, 1)
            )
        });
    }
    if request.trap.is_some() && colours.len() > 1 {
        remarks.info(
            "colours_independent",
            "/colours",
            "the shares of the colours are multiplied as if each moved by itself; where the reference itself moves, more prints are within the trap than that",
        );
    }
    let turns = colours.iter().any(|colour| colour.turn_by.is_some());
    remarks.info(
        "how_to_move",
        "",
        if turns {
            "as seen by the printer before the platen: x to the right, y away, turns anticlockwise. Move the screen first, then turn it about the pivot, and read the marks again"
        } else {
            "as seen by the printer before the platen: x to the right, y away. Move the screen, and read the marks again"
        },
    );
    remarks.info(
        "press_stopped",
        "",
        "stop the press and lock it by its maker's sheet before reaching in to move a screen",
    );
}
