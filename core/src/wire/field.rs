//! What the fields of records hold, as the loops over a record see it: a few kinds of content, whatever the Rust type.

use super::record::{Record, Table};
use super::{At, Remarks};
use crate::error::Error;
use crate::quantity::{Dimension, Dimensioned, Rules, Unit};
use serde_json::Value;

/// What a field holds, to be looked at.
pub enum View<'a> {
    /// Nothing: an optional field that was not given.
    Absent,
    /// A quantity or a plain number, in SI base units.
    Number(Dimension, f64),
    /// A whole number of things.
    Count(u32),
    /// A whole number that may be negative.
    Integer(i32),
    /// True or false.
    Flag(bool),
    /// A text, or a word of a list.
    Text(&'a str),
    /// A quantity to be shown in this unit, in SI base units.
    InUnit(f64, Unit),
    /// A record.
    Record(&'a dyn Record),
    /// A list.
    List(&'a dyn List),
    /// A plain number of rounded amounts, and the same of what they are before any rounding, by which doubts are carried.
    Rounded(f64, f64),
    /// Money.
    Money(&'a dyn Priced),
    /// Something that has a form of its own on the wire.
    Own(&'a dyn OwnForm),
}

/// What a field holds, to be set.
pub enum Slot<'a> {
    /// A quantity or a plain number, in SI base units.
    Number(Dimension, &'a mut f64),
    /// A whole number of things.
    Count(&'a mut u32),
    /// True or false.
    Flag(&'a mut bool),
    /// A text.
    Text(&'a mut String),
    /// A word of a list.
    Word(&'a mut dyn Word),
    /// A record.
    Record(&'a mut dyn Record),
    /// A list, and its kind.
    List(&'a mut dyn List, &'static Kind),
    /// Something that has a form of its own on the wire.
    Own(&'a mut dyn OwnForm),
    /// What only answers hold: it is never read.
    AnswerOnly,
}

/// A list of contents, all of one kind.
pub trait List {
    /// How many there are.
    fn count(&self) -> usize;
    /// One of them.
    fn item(&self, index: usize) -> View<'_>;
    /// One of them, to be set; none of what only answers hold.
    fn item_mut(&mut self, _index: usize) -> Option<Slot<'_>> {
        None
    }
    /// Takes all out, where there may be any number of them.
    fn empty(&mut self) {}
    /// Puts one more at the end, to be set, where there may be any number of them.
    fn grow(&mut self) -> Option<Slot<'_>> {
        None
    }
}

/// A word of a list of words.
pub trait Word {
    /// The list.
    fn words(&self) -> &'static [&'static str];
    /// What the list is of, for messages: `weave`.
    fn what(&self) -> &'static str;
    /// Becomes the word at this place of the list.
    fn choose(&mut self, index: usize);
}

/// Content with a form of its own on the wire.
pub trait OwnForm {
    /// Reads it.
    ///
    /// # Errors
    /// The error of the wire.
    fn read(&mut self, value: &Value, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<(), Error>;
    /// Checks a value that was built in Rust.
    ///
    /// # Errors
    /// As for the same value read.
    fn check(&self, at: At<'_>, rules: &Rules, remarks: &mut Remarks) -> Result<(), Error>;
    /// How it is written.
    fn shown(&self) -> View<'_>;
    /// What it holds, to be set, with its rules: where that is a number, or numbers in a list.
    fn inside(&mut self) -> Option<(Slot<'_>, &'static Rules)> {
        None
    }
}

/// Money, or money per unit, as it is written; through this, so that what has no money carries no decimals.
pub trait Priced {
    /// Its number: a decimal.
    fn value(&self) -> String;
    /// Its unit: a currency, and what it is per.
    fn unit(&self) -> String;
    /// Its currency, if it names one.
    fn currency(&self) -> Option<&'static str>;
    /// Its number before any rounding, by which doubts are carried.
    fn unrounded(&self) -> f64;
}

/// The kinds of content, known without a value.
#[derive(Debug)]
pub enum Kind {
    /// A quantity of a dimension; a plain number is a fraction.
    Number(Dimension),
    /// A whole number of things.
    Count,
    /// A whole number that may be negative.
    Integer,
    /// True or false.
    Flag,
    /// A text.
    Text,
    /// A word of a list, and what the list is of.
    Word(&'static str, &'static [&'static str]),
    /// A quantity in the unit asked for.
    InUnit,
    /// A record.
    Record(&'static Table),
    /// A list; of so many where the number is fixed.
    List(&'static Kind, Option<usize>),
    /// It may be absent.
    Optional(&'static Kind),
    /// A form of its own: what belongs there in words, and what a document says of it.
    Own(&'static OwnKind),
}

/// A form of its own, described.
#[derive(Debug)]
pub struct OwnKind {
    /// What belongs there, for messages.
    pub wanted: &'static str,
    /// What a JSON Schema says of it: the kinds and literal forms that it may have.
    pub forms: &'static [Form],
}

impl OwnKind {
    /// What its number measures, where it may be one.
    pub(crate) fn number(&self) -> Option<Dimension> {
        self.forms.iter().find_map(|form| match form {
            Form::Kind(Kind::Number(dimension), _) => Some(*dimension),
            _ => None,
        })
    }
}

/// What money may be per, and what belongs there, for messages: `money per time, such as 28 EUR/h`.
#[derive(Debug)]
pub struct MoneyForm {
    /// Dimensions of the units that it may be per; none is an amount by itself.
    pub per: &'static [Option<Dimension>],
    /// In words.
    pub wanted: &'static str,
}

/// One of the ways in which content with a form of its own is written.
#[derive(Debug)]
pub enum Form {
    /// A word.
    Word(&'static str),
    /// A kind with its rules.
    Kind(Kind, &'static Rules),
    /// An array of as many numbers as there are rules.
    Numbers(&'static [&'static Rules]),
    /// A quantity of any dimension.
    AnyQuantity,
    /// Money.
    Money(&'static MoneyForm),
    /// A text of this form, as a regular expression.
    Text(&'static str),
    /// Anything at all.
    Anything,
}

impl Kind {
    /// Whether a request without it is complete.
    #[must_use]
    pub const fn is_optional(&self) -> bool {
        matches!(self, Self::Optional(_))
    }

    /// The kind behind an optional one.
    #[must_use]
    pub const fn content(&self) -> &Self {
        match self {
            Self::Optional(kind) => kind,
            other => other,
        }
    }

    /// What belongs there, for messages: `a length, such as 55 um`.
    #[must_use]
    pub fn wanted(&self) -> String {
        match self {
            Self::Number(Dimension::Fraction) => "a number".into(),
            Self::Number(dimension) => format!("{}, such as {}", dimension.text(), dimension.example()),
            Self::Count | Self::Integer => "a whole number".into(),
            Self::Flag => "true or false".into(),
            Self::Text => "a text".into(),
            Self::Word(_, words) => format!("one of: {}", words.join(", ")),
            Self::InUnit => "a quantity".into(),
            Self::Record(table) => table.wanted(),
            Self::List(item, _) => format!("an array of entries, each {}", item.wanted()),
            Self::Optional(kind) => kind.wanted(),
            Self::Own(own) => own.wanted.into(),
        }
    }
}

/// A type that a field of a record may have.
pub trait Field: Clone + Send + Sync + 'static {
    /// Its kind.
    const KIND: Kind;
    /// What a record holds before the field is given.
    fn blank() -> Self;
    /// What it holds before it is given, under its rules: the default where there is one.
    #[must_use]
    fn start(_rules: &Rules) -> Self {
        Self::blank()
    }
    /// A look at it.
    fn view(&self) -> View<'_>;
    /// A place to set it; none for what only answers hold.
    fn slot(&mut self) -> Slot<'_> {
        Slot::AnswerOnly
    }
    /// Its numbers in SI base units, their signs left out, added up; infinite where that is not known.
    fn magnitude(&self) -> f64 {
        f64::INFINITY
    }
    /// The value without the sign of a zero: a negative zero is a zero.
    #[must_use]
    fn tidy(self) -> Self {
        self
    }
}

impl<Q: Dimensioned + Send + Sync + 'static> Field for Q {
    const KIND: Kind = Kind::Number(Q::DIMENSION);
    fn blank() -> Self {
        Q::from_si(0.0)
    }
    fn start(rules: &Rules) -> Self {
        Q::from_si(rules.default.map_or(0.0, |(value, _)| rules.unit.to_si(value)))
    }
    fn view(&self) -> View<'_> {
        View::Number(Q::DIMENSION, self.si())
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Number(Q::DIMENSION, self.si_mut())
    }
    fn magnitude(&self) -> f64 {
        self.si().abs()
    }
    fn tidy(self) -> Self {
        Q::from_si(self.si() + 0.0)
    }
}

impl Field for u32 {
    const KIND: Kind = Kind::Count;
    fn blank() -> Self {
        0
    }
    fn start(rules: &Rules) -> Self {
        rules.default.map_or(0, |(value, _)| value as Self)
    }
    fn view(&self) -> View<'_> {
        View::Count(*self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Count(self)
    }
    fn magnitude(&self) -> f64 {
        0.0
    }
}

impl Field for i32 {
    const KIND: Kind = Kind::Integer;
    fn blank() -> Self {
        0
    }
    fn view(&self) -> View<'_> {
        View::Integer(*self)
    }
    fn magnitude(&self) -> f64 {
        0.0
    }
}

impl Field for bool {
    const KIND: Kind = Kind::Flag;
    fn blank() -> Self {
        false
    }
    fn view(&self) -> View<'_> {
        View::Flag(*self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Flag(self)
    }
    fn magnitude(&self) -> f64 {
        0.0
    }
}

impl Field for String {
    const KIND: Kind = Kind::Text;
    fn blank() -> Self {
        Self::new()
    }
    fn view(&self) -> View<'_> {
        View::Text(self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::Text(self)
    }
    fn magnitude(&self) -> f64 {
        0.0
    }
}

impl<T: Field> Field for Option<T> {
    const KIND: Kind = Kind::Optional(&T::KIND);
    fn blank() -> Self {
        None
    }
    fn view(&self) -> View<'_> {
        self.as_ref().map_or(View::Absent, T::view)
    }
    fn slot(&mut self) -> Slot<'_> {
        self.get_or_insert_with(T::blank).slot()
    }
    fn magnitude(&self) -> f64 {
        self.as_ref().map_or(0.0, T::magnitude)
    }
    fn tidy(self) -> Self {
        self.map(T::tidy)
    }
}

impl<T: Field> Field for Vec<T> {
    const KIND: Kind = Kind::List(&T::KIND, None);
    fn blank() -> Self {
        Self::new()
    }
    fn view(&self) -> View<'_> {
        View::List(self)
    }
    fn slot(&mut self) -> Slot<'_> {
        Slot::List(self, &Self::KIND)
    }
    fn tidy(self) -> Self {
        self.into_iter().map(T::tidy).collect()
    }
}

impl<T: Field> List for Vec<T> {
    fn count(&self) -> usize {
        self.len()
    }
    fn item(&self, index: usize) -> View<'_> {
        self.get(index).map_or(View::Absent, T::view)
    }
    fn item_mut(&mut self, index: usize) -> Option<Slot<'_>> {
        self.get_mut(index).map(T::slot)
    }
    fn empty(&mut self) {
        self.clear();
    }
    fn grow(&mut self) -> Option<Slot<'_>> {
        self.push(T::blank());
        self.last_mut().map(T::slot)
    }
}

/// So many of one kind; only answers hold them.
impl<T: Field + Copy, const N: usize> Field for [T; N] {
    const KIND: Kind = Kind::List(&T::KIND, Some(N));
    fn blank() -> Self {
        [T::blank(); N]
    }
    fn view(&self) -> View<'_> {
        View::List(self)
    }
}

impl<T: Field, const N: usize> List for [T; N] {
    fn count(&self) -> usize {
        N
    }
    fn item(&self, index: usize) -> View<'_> {
        self.get(index).map_or(View::Absent, T::view)
    }
}

/// A record is a field of another by its own table. A macro, since a blanket implementation would meet the one for quantities.
macro_rules! record_field {
    ($name:ty) => {
        impl $crate::wire::Field for $name {
            const KIND: $crate::wire::Kind = $crate::wire::Kind::Record(<$name as $crate::wire::Declared>::TABLE);
            fn blank() -> Self {
                <$name as $crate::wire::Declared>::new_blank()
            }
            fn view(&self) -> $crate::wire::View<'_> {
                $crate::wire::View::Record(self)
            }
            fn slot(&mut self) -> $crate::wire::Slot<'_> {
                $crate::wire::Slot::Record(self)
            }
            fn magnitude(&self) -> f64 {
                $crate::wire::Record::magnitude(self)
            }
        }
    };
}

/// What a builder method takes for a field of this type: the type itself; for an optional field the value or an option of
/// it; for a text anything borrowed; for a list an array too.
///
/// It is the field's type that takes, not the value that gives, so that a field of one form tells the type of its value:
/// `.mesh("55-64".parse()?)`.
pub trait Takes<V> {
    /// The value of the field.
    fn take(value: V) -> Self;
}

impl<T> Takes<T> for T {
    fn take(value: T) -> Self {
        value
    }
}

impl<T> Takes<T> for Option<T> {
    fn take(value: T) -> Self {
        Some(value)
    }
}

impl Takes<&str> for String {
    fn take(value: &str) -> Self {
        value.to_owned()
    }
}

impl Takes<&str> for Option<String> {
    fn take(value: &str) -> Self {
        Some(value.to_owned())
    }
}

impl<T, const N: usize> Takes<[T; N]> for Vec<T> {
    fn take(value: [T; N]) -> Self {
        value.into()
    }
}

impl<T, const N: usize> Takes<[T; N]> for Option<Vec<T>> {
    fn take(value: [T; N]) -> Self {
        Some(value.into())
    }
}

pub(crate) use record_field;
