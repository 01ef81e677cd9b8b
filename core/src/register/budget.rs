//! Will the colours meet?

use super::spread::variance;
use super::{Cause, Errors, FilmChange, film_growth};
use crate::error::{Code, Error};
use crate::quantity::{Dimensioned, Length, Rules, Show, to_places, units};
use crate::sorted;
use crate::source::Source;
use crate::wire::{At, Declared, Field, Remarks, Say, TextForm, answer, calculation, one_of, read_content, request};
use serde_json::Value;

const COLOURS: Rules = Rules::range(units::ONE, 1.0, 100.0).usual(1.0, 16.0);
/// Overlap of neighbouring colours.
pub(crate) const TRAP: Rules = Rules::range(units::MM, 0.0, 100.0).usual(0.1, 2.0);
/// The chance wanted that all colours lie within the trap.
pub(crate) const WANTED_WITHIN: Rules = Rules::range(units::ONE, 0.001, 0.9999)
    .usual(0.5, 0.999)
    .or(0.95, Source::common("19 prints of 20, the level at which doubts are usually stated"));
/// More methods than this are no comparison.
const MOST_METHODS: usize = 8;
/// More causes than this are no budget.
const MOST_CAUSES: usize = 100;

request! {
    /// A way of setting the colours to each other: a stock cause by its name, or one of the caller's own.
    pub struct Method {
        /// What the method is called.
        name "Method": String,
        /// What moves the colours with the method.
        sources "Causes": Vec<Cause>,
    }
    text(BY_STOCK_NAME)
}

/// A stock cause alone is a method, called as the cause is in stock.
const BY_STOCK_NAME: TextForm = TextForm {
    wanted: "the name of a stock cause of misregister, or an object with name, sources",
    #[cfg(feature = "schema")]
    pattern: String::new,
    examples: &[],
    shelf: match Cause::TABLE.stock {
        Some(stock) => Some(stock.shelf),
        None => None,
    },
    read: |method, text, at, value, remarks| {
        let mut cause = Cause::new();
        read_content(Field::slot(&mut cause), value, at, &Rules::NONE, remarks)?;
        method.become_copy(Some(&Method::new().name(text).sources([cause])));
        Ok(())
    },
};

request! {
    /// What moves the colours, and the trap that is to hide it.
    pub struct BudgetRequest {
        /// What moves the colours: stock names, changed stock, or causes of one's own; may be empty.
        sources "Causes": Vec<Cause>,
        /// How many colours, each on its own screen.
        colours "Number of colours": u32 where COLOURS,
        /// By how much neighbouring colours overlap.
        trap "Trap": Length where TRAP,
        /// The chance wanted that all colours lie within the trap.
        wanted_probability "Chance wanted": f64 where WANTED_WITHIN,
        /// Ways of setting the colours to each other, to be compared; the causes of the request are added to each.
        methods "Methods to compare": Option<Vec<Method>>,
        /// Growth of the films, as one more source.
        film "Film growth": Option<FilmChange>,
    }
}

answer! {
    /// A colour against the first.
    pub struct ColourWithin {
        /// Number of the colour, in the order in which the screens are set.
        colour "Colour": u32,
        /// Standard deviation of the colour against the first, along one axis.
        standard "Standard deviation": Length as Print,
        /// The chance that the colour lies within the trap of the first, along both axes.
        within_probability "Chance it meets": f64,
    }
}

answer! {
    /// What one cause adds.
    pub struct Contribution {
        /// What the cause is.
        name "Cause": String,
        /// Share of the cause in the variance of the last colour against the first.
        share_fraction "Share of variance": f64,
    }
}

answer! {
    /// One method beside the others.
    pub struct MethodCompared {
        /// What the method is called.
        name "Method": String,
        /// Standard deviation of colour 2 against colour 1, along one axis.
        standard "Standard deviation": Length as Print,
        /// The most that the half-widths together can set colour 2 off colour 1, along one axis.
        worst_case "Worst case": Length as Print,
        /// The chance that colour 2 lies within the trap of colour 1.
        pair_within_probability "Chance two meet": f64,
        /// The chance that all colours lie within the trap of colour 1.
        all_within_probability "Chance all meet": f64,
        /// The least trap in which all colours lie with the chance wanted.
        trap_needed "Trap needed": Length as Print,
        /// The first colour whose own chance within the trap is below the chance wanted.
        leaves_trap_at "First doubtful colour": Option<u32>,
        /// The share of the prints with all colours within the trap, once the set-up is adjusted on a test print.
        adjusted_within_probability "Prints that meet, adjusted": f64,
    }
}

answer! {
    /// Whether the colours meet. With methods, the first of them.
    pub struct Budget {
        /// Standard deviation of colour 2 against colour 1, along one axis.
        standard "Standard deviation": Length as Print,
        /// The most that the half-widths together can set colour 2 off colour 1, along one axis.
        worst_case "Worst case": Length as Print,
        /// The chance that colour 2 lies within the trap of colour 1.
        pair_within_probability "Chance two meet": f64,
        /// The chance that all colours lie within the trap of colour 1.
        all_within_probability "Chance all meet": f64,
        /// The least trap in which all colours lie with the chance wanted.
        trap_needed "Trap needed": Length as Print,
        /// The first colour whose own chance within the trap is below the chance wanted.
        leaves_trap_at "First doubtful colour": Option<u32>,
        /// Every further colour against the first.
        colours "Further colours": Vec<ColourWithin>,
        /// What each unshared cause adds, the largest first.
        contributions "Share per cause": Vec<Contribution>,
        /// The methods side by side, where there are any.
        compared "Methods compared": Option<Vec<MethodCompared>>,
        /// The chance that a set-up lands within the trap without being adjusted: that all colours of its first print do, by all causes.
        setup_within_probability "Chance unadjusted": f64,
        /// The share of the prints with all colours within the trap, once the set-up is adjusted on a test print: by the causes that act
        /// anew on every print, as far as the adjusting itself is exact.
        adjusted_within_probability "Prints that meet, adjusted": f64,
    }
}

calculation! {
    pub const BUDGET: BudgetRequest => Budget = budget;
    id: "register.budget",
    title: "Register",
    question: "Will the colours meet?",
    asked: ["How much trap do these colours need?", "How many prints will be out of register?"],
    headline: ["trap_needed", "all_within_probability"],
    formula: "u = a/1.959964 normal, a/sqrt 3 uniform, a/sqrt 6 triangular; colour k against the first: variance 2 sum u^2 + (k - 1) sum s^2 (s accumulating), shared causes cancel; chance for both axes = (chance for one)^2, P(all) = P(|x_k - x_1 + w_k| <= trap for every k): of the first print of a set-up by all causes, of the prints once it is adjusted by those that act on every print",
    sources: &[
        Source::standard("JCGM 100:2008 (GUM), 4.3.6-4.3.9: standard uncertainty from a half-width"),
        Source::standard("JCGM 101:2008, clause 9.2: distributions of sums are propagated, not taken for normal"),
        Source::physics("independent errors; colour 1 is common to all differences"),
    ],
    example: r#"{"sources": ["shirt-creep", {"name": "frame twist", "half_width": "0.1 mm", "shape": "triangular"}], "methods": ["film-on-platen", "printed-tape"], "colours": 6, "trap": "0.5 mm"}"#,
}

/// Work of a cause, and a quarter of that of a colour, in rows, half of one a place: the chances of a budget go over about eleven lines
/// of 1024 places, twice for a cause and eight times for a colour.
const LINES: f64 = 11_264.0;

/// Whether the colours meet, with each method in turn.
///
/// Half-widths are per axis and per colour. The model and its accuracy: [`Errors`].
///
/// # Errors
/// `impossible` for a cause that is shared and accumulates; `missing_field` for a film that is given neither a difference
/// of temperature nor of humidity; `out_of_range` for no method or more than eight; `too_long` for more than a hundred
/// causes.
pub(crate) fn budget(request: &BudgetRequest, remarks: &mut Remarks) -> Result<Budget, Error> {
    check(&request.sources, At::ROOT.key("sources"), remarks)?;
    let methods: Vec<&Method> = request.methods.iter().flatten().collect();
    let at_methods = At::ROOT.key("methods");
    if request.methods.is_some() && !(1..=MOST_METHODS).contains(&methods.len()) {
        return Err(Error::new(Code::OutOfRange, at_methods, format!("{} methods", methods.len()))
            .allowed([format!("1 to {MOST_METHODS} methods")]));
    }
    for (index, method) in methods.iter().enumerate() {
        check(&method.sources, at_methods.index(index).key("sources"), remarks)?;
    }
    let film = request.film.as_ref().map(|film| grown(film, remarks)).transpose()?;

    let common = || request.sources.iter().chain(&film);
    let with = |method: &Method| method.sources.iter().cloned().chain(common().cloned()).collect();
    let lists: Vec<Vec<Cause>> =
        if methods.is_empty() { vec![common().cloned().collect()] } else { methods.iter().map(|m| with(m)).collect() };
    let sums = lists.iter().map(|causes| (causes.len() as f64 + 4.0 * f64::from(request.colours)) * LINES);
    remarks.work().spend(sums.sum());
    let judged: Vec<MethodCompared> = lists
        .iter()
        .enumerate()
        .map(|(index, causes)| {
            judge(methods.get(index).map(|method| method.name.clone()).unwrap_or_default(), causes, request)
        })
        .collect();
    let (Some(first), Some(causes)) = (judged.first(), lists.first()) else {
        return Err(Error::new(Code::Internal, "", "nothing to judge"));
    };
    remark(request, &lists, &judged, remarks);
    let errors = Errors::of(causes.iter());
    let within = |colour| ColourWithin {
        colour,
        standard: errors.standard(colour),
        within_probability: errors.within(colour, request.trap),
    };
    Ok(Budget {
        standard: first.standard,
        worst_case: first.worst_case,
        pair_within_probability: first.pair_within_probability,
        all_within_probability: first.all_within_probability,
        trap_needed: first.trap_needed,
        leaves_trap_at: first.leaves_trap_at,
        colours: (2..=request.colours).map(within).collect(),
        contributions: contributions(causes, request.colours),
        setup_within_probability: first.all_within_probability,
        adjusted_within_probability: first.adjusted_within_probability,
        compared: (!methods.is_empty()).then_some(judged),
    })
}

/// Cites the causes and refuses what contradicts itself.
fn check(causes: &[Cause], at: At<'_>, remarks: &mut Remarks) -> Result<(), Error> {
    if causes.len() > MOST_CAUSES {
        return Err(Error::new(Code::TooLong, at, format!("{} causes", causes.len()))
            .allowed([format!("at most {MOST_CAUSES} causes")]));
    }
    for (index, cause) in causes.iter().enumerate() {
        cause.cite(&["half_width", "shape", "shared", "accumulates", "per"], remarks);
        if cause.is_shared() && cause.is_accumulating() {
            let message = "what moves all colours alike cannot add up from colour to colour";
            return Err(Error::new(Code::Impossible, at.index(index).key("accumulates"), message)
                .got(&Value::from(true))
                .allowed(["either `shared` or `accumulates`"]));
        }
    }
    Ok(())
}

fn grown(film: &FilmChange, remarks: &mut Remarks) -> Result<Cause, Error> {
    let at = At::ROOT.key("film");
    if film.temperature_difference.is_none() && film.humidity_difference_fraction.is_none() {
        return Err(one_of::<FilmChange>(at.key("temperature_difference")));
    }
    let cause = film_growth(film);
    remarks.info("film_growth", at, |say: Say| {
        format!("the films grow to either side by {}", say.say(cause.half_width, Show::Film))
    });
    Ok(cause)
}

fn judge(name: String, causes: &[Cause], request: &BudgetRequest) -> MethodCompared {
    let errors = Errors::of(causes.iter());
    let leaves = |colour: &u32| errors.within(*colour, request.trap) < request.wanted_probability;
    MethodCompared {
        name,
        standard: errors.standard(2),
        worst_case: errors.worst_case(2),
        pair_within_probability: errors.within(2, request.trap),
        all_within_probability: errors.all_within(request.colours, request.trap),
        trap_needed: errors.trap_needed(request.colours, request.wanted_probability),
        leaves_trap_at: (2..=request.colours).find(leaves),
        adjusted_within_probability: Errors::adjusted(causes.iter()).all_within(request.colours, request.trap),
    }
}

/// Shares of the variance of the last colour against the first, the largest first; none where nothing moves.
fn contributions(causes: &[Cause], colours: u32) -> Vec<Contribution> {
    let last = colours.max(2);
    let all = Errors::of(causes.iter()).variance(last);
    let share = |cause: &Cause| {
        let times = if cause.is_accumulating() { f64::from(last) - 1.0 } else { 2.0 };
        times * variance(cause.half_width.si(), cause.shape) / all
    };
    let moving = causes.iter().filter(|cause| all > 0.0 && !cause.is_shared());
    let mut list: Vec<_> =
        moving.map(|cause| Contribution { name: cause.name.clone(), share_fraction: share(cause) }).collect();
    sorted::by_text(&mut list, |contribution| &contribution.name);
    sorted::by_number(&mut list, |contribution| -contribution.share_fraction);
    list
}

fn remark(request: &BudgetRequest, lists: &[Vec<Cause>], judged: &[MethodCompared], remarks: &mut Remarks) {
    if request.colours == 1 {
        remarks.info(
            "one_colour",
            "/colours",
            "one colour has nothing to meet; the pair is what a second one would do",
        );
    }
    let any = |is: fn(&Cause) -> bool| lists.iter().flatten().any(is);
    if any(Cause::is_shared) {
        remarks.info(
            "shared_cancels",
            "",
            "what moves all colours alike does not part them: shared sources count nothing here",
        );
    }
    if any(Cause::is_accumulating) {
        remarks.caution(
            "accumulates",
            "",
            "each colour set to the print before it carries that one's error on: set all screens to one film, or to the first print",
        );
    }
    let falls_short = |method: &&MethodCompared| method.all_within_probability < request.wanted_probability;
    for (index, method) in judged.iter().enumerate().filter(|(_, method)| falls_short(method)) {
        // Of several methods each has a note of its own.
        let field = if judged.len() > 1 { format!("/methods/{index}") } else { "/trap".to_owned() };
        remarks.caution("trap_too_small", field, |say: Say| {
            let with = if method.name.is_empty() { String::new() } else { format!("with `{}` ", method.name) };
            let needed = say.say(method.trap_needed, Show::Print);
            let leaves = method.leaves_trap_at.map(|colour| format!("; colour {colour} alone leaves it too often"));
            let adjusted = method.adjusted_within_probability;
            let adjusted = (adjusted > method.all_within_probability).then(|| {
                format!("; adjusted on a test print they meet on {} % of the prints", to_places(100.0 * adjusted, 1))
            });
            format!(
                "{with}the colours meet less often than wanted: a trap of {needed} would do{}{}",
                leaves.unwrap_or_default(),
                adjusted.unwrap_or_default()
            )
        });
    }
    let worst = judged.iter().max_by(|a, b| a.trap_needed.si().total_cmp(&b.trap_needed.si()));
    let best = judged.iter().min_by(|a, b| a.trap_needed.si().total_cmp(&b.trap_needed.si()));
    if let (Some(worst), Some(best)) = (worst, best)
        && worst.trap_needed > best.trap_needed
    {
        let leaves = match worst.leaves_trap_at {
            Some(colour) => format!("leaves the trap at colour {colour}"),
            None => "stays within the trap, colour by colour".to_owned(),
        };
        remarks.info("methods_compared", "/methods", |say: Say| {
            format!(
                "`{}` needs {}, `{}` {}; `{}` {leaves}",
                best.name,
                say.say(best.trap_needed, Show::Print),
                worst.name,
                say.say(worst.trap_needed, Show::Print),
                worst.name
            )
        });
    }
}
