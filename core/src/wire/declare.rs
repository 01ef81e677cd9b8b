//! Declares records and lists of words: each field is written down once, with its label, meaning, type and rules.
//!
//! ```text
//! request! {                                    // asked for; answered too where a step hands one out
//!     /// What the record is.
//!     pub struct Name {
//!         /// What the field means.
//!         field "Label": Type as Show where RULES,
//!     }
//!     stock("kind", "file.json")                // it may come from stock
//!     text(FORM)                                // it may be a text
//!     chooses(Choice::One(&[&["a"], &["b"]]))  // fields in the place of one another, or together
//!     fits(function)                            // what the fields cannot say one by one
//!     varied(function)                          // what follows where an operator varies a field
//!     ignores("notes", "basis")                 // members that are taken and not looked at
//!     inside("stock")                           // it stands in stock rows, and has members that may be left out: what is given in its
//!                                               // place takes nothing over from the row's
//! }
//! ```
//!
//! `as` (how an answer shows it) and `where` (its [`Rules`](crate::quantity::Rules)) may be left out, as may each of the
//! lines after the braces. An `answer!` has the same fields, public and without rules.

/// Declares what is asked for: a builder whose fields are read through [`Deref`](core::ops::Deref), so that what was given is known.
macro_rules! request {
    ($(#[doc = $doc:literal])* pub struct $name:ident {
        $($(#[doc = $field_doc:literal])* $field:ident $label:literal: $type:ty $(as $show:ident)? $(where $rules:expr)?,)*
    }
    $(stock($what:literal, $file:literal))?
    $(text($text:expr))?
    $(chooses($($choice:expr),*))?
    $(fits($fits:path))?
    $(varied($varied:path))?
    $(ignores($($ignored:literal),*))?
    $(inside($inside:literal))?
    ) => {
        $(#[doc = $doc])*
        // Written from its table by tests/rust/manual.rs.
        #[cfg_attr(any(doc, doctest), doc = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/docs/records/", stringify!($name), ".md")))]
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            values: <Self as $crate::wire::Valued>::Values,
            given: $crate::wire::Given,
        }

        const _: () = {
            /// The values of the fields: as given, from stock, or by default.
            #[derive(Debug, Clone, PartialEq)]
            pub struct FieldValues { $($(#[doc = $field_doc])* pub $field: $type,)* }

            #[allow(non_camel_case_types, reason = "named as the fields")]
            enum FieldIndex { $($field,)* }

            impl $crate::wire::Valued for $name {
                type Values = FieldValues;
            }

            impl $name {
                /// With nothing given yet.
                #[allow(clippy::new_without_default, reason = "a request without its fields is no usual value")]
                #[must_use]
                pub fn new() -> Self {
                    <Self as $crate::wire::Declared>::new_blank()
                }

                /// Reads it from a document, as strictly as every layer does; `units` and `explain` may stand at its root.
                ///
                /// # Errors
                /// Those of the wire; `impossible` for a doubt, which has no place in the record.
                pub fn from_json(document: &serde_json::Value) -> Result<Self, $crate::error::Error> {
                    let mut read = Self::new();
                    $crate::wire::from_json(&mut read, document)?;
                    Ok(read)
                }

                $(
                    $(#[doc = $field_doc])*
                    ///
                    /// What it may be, and what it is unless given, stands in the table of [its record](Self).
                    #[must_use]
                    pub fn $field<V>(mut self, $field: V) -> Self
                    where
                        $type: $crate::wire::Takes<V>,
                    {
                        self.values.$field =
                            $crate::wire::Field::tidy(<$type as $crate::wire::Takes<V>>::take($field));
                        let absent = matches!($crate::wire::Field::view(&self.values.$field), $crate::wire::View::Absent);
                        // What is taken out of a stock row was changed too.
                        let given = !absent || self.given.row().is_some();
                        self.given.mark(FieldIndex::$field as usize, given);
                        self
                    }
                )*
            }

            impl core::ops::Deref for $name {
                type Target = FieldValues;
                fn deref(&self) -> &FieldValues {
                    &self.values
                }
            }

            impl $crate::wire::Record for $name {
                fn table(&self) -> &'static $crate::wire::Table {
                    <Self as $crate::wire::Declared>::TABLE
                }
                fn view(&self, index: usize) -> $crate::wire::View<'_> {
                    $(if index == FieldIndex::$field as usize {
                        return $crate::wire::Field::view(&self.values.$field);
                    })*
                    $crate::wire::View::Absent
                }
                fn slot(&mut self, index: usize) -> Option<$crate::wire::Slot<'_>> {
                    $(if index == FieldIndex::$field as usize {
                        return Some($crate::wire::Field::slot(&mut self.values.$field));
                    })*
                    None
                }
                fn any(&self) -> Option<&dyn core::any::Any> {
                    Some(self)
                }
                fn given(&self) -> Option<&$crate::wire::Given> {
                    Some(&self.given)
                }
                fn given_mut(&mut self) -> Option<&mut $crate::wire::Given> {
                    Some(&mut self.given)
                }
                $crate::wire::declare::become_copy!($($what)? $($text)? $($inside)?);
            }

            const FIELDS: &[$crate::wire::FieldTable] = &[$($crate::wire::FieldTable {
                        name: $crate::wire::declare::plain(stringify!($field)),
                        #[cfg(feature = "schema")]
                        label: $label,
                        #[cfg(feature = "schema")]
                        meaning: concat!($($field_doc),*),
                        kind: <$type as $crate::wire::Field>::KIND,
                        rules: &$crate::wire::declare::rules!($($rules)?),
                        show: $crate::wire::declare::show!($($show)?),
                    },)*];

            impl $crate::wire::Declared for $name {
                const TABLE: &'static $crate::wire::Table = &$crate::wire::Table {
                    name: stringify!($name),
                    module: module_path!(),
                    #[cfg(feature = "schema")]
                    meaning: concat!($($doc),*),
                    fields: FIELDS,
                    required: $crate::wire::needs(FIELDS).0,
                    defaulted: $crate::wire::needs(FIELDS).1,
                    names: &[$($crate::wire::declare::plain(stringify!($field))),*],
                    stock: $crate::wire::declare::stock!($name $($what, $file)?),
                    text: $crate::wire::declare::option!($($text)?),
                    choices: &[$($($choice),*)?],
                    fits: $crate::wire::declare::option!($($fits)?),
                    varied: $crate::wire::declare::option!($($varied)?),
                    ignored: &[$($($ignored),*)?],
                    asked: true,
                };
                fn new_blank() -> Self {
                    Self {
                        values: FieldValues {
                            $($field: <$type as $crate::wire::Field>::start(&$crate::wire::declare::rules!($($rules)?)),)*
                        },
                        given: $crate::wire::Given::NONE,
                    }
                }
            }

            $crate::wire::record_field!($name);
        };

        $crate::wire::declare::from_stock!($name $($what)?);
    };
}

/// Declares what is answered: a plain structure.
macro_rules! answer {
    ($(#[doc = $doc:literal])* pub struct $name:ident {
        $($(#[doc = $field_doc:literal])* $field:ident $label:literal: $type:ty $(as $show:ident)?,)*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq)]
        #[non_exhaustive]
        pub struct $name { $($(#[doc = $field_doc])* pub $field: $type,)* }

        const _: () = {
            #[allow(non_camel_case_types, reason = "named as the fields")]
            enum FieldIndex { $($field,)* }

            impl $crate::wire::Record for $name {
                fn table(&self) -> &'static $crate::wire::Table {
                    <Self as $crate::wire::Declared>::TABLE
                }
                fn view(&self, index: usize) -> $crate::wire::View<'_> {
                    $(if index == FieldIndex::$field as usize {
                        return $crate::wire::Field::view(&self.$field);
                    })*
                    $crate::wire::View::Absent
                }
                fn slot(&mut self, _index: usize) -> Option<$crate::wire::Slot<'_>> {
                    None
                }
                fn magnitude(&self) -> f64 {
                    0.0 $(+ $crate::wire::Field::magnitude(&self.$field))*
                }
            }

            impl $crate::wire::Declared for $name {
                const TABLE: &'static $crate::wire::Table = &$crate::wire::Table {
                    name: stringify!($name),
                    module: module_path!(),
                    #[cfg(feature = "schema")]
                    meaning: concat!($($doc),*),
                    fields: &[$($crate::wire::FieldTable {
                        name: $crate::wire::declare::plain(stringify!($field)),
                        #[cfg(feature = "schema")]
                        label: $label,
                        #[cfg(feature = "schema")]
                        meaning: concat!($($field_doc),*),
                        kind: <$type as $crate::wire::Field>::KIND,
                        rules: &$crate::quantity::Rules::NONE,
                        show: $crate::wire::declare::show!($($show)?),
                    },)*],
                    names: &[$($crate::wire::declare::plain(stringify!($field))),*],
                    required: 0,
                    defaulted: 0,
                    stock: None,
                    text: None,
                    choices: &[],
                    fits: None,
                    varied: None,
                    ignored: &[],
                    asked: false,
                };
                fn new_blank() -> Self {
                    Self { $($field: <$type as $crate::wire::Field>::blank(),)* }
                }
            }

            $crate::wire::record_field!($name);
        };
    };
}

/// Declares a list of words of the wire.
macro_rules! words {
    ($(#[doc = $doc:literal])* pub enum $name:ident ($what:literal) {
        $(#[doc = $first_doc:literal])* $first:ident = $first_word:literal,
        $($(#[doc = $word_doc:literal])* $variant:ident = $word:literal,)*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        #[non_exhaustive]
        pub enum $name { $(#[doc = $first_doc])* $first, $($(#[doc = $word_doc])* $variant,)* }

        impl $name {
            const ALL: &'static [Self] = &[Self::$first, $(Self::$variant),*];
            const WORDS: &'static [&'static str] = &[$first_word, $($word),*];

            /// The word on the wire.
            #[must_use]
            pub const fn text(self) -> &'static str {
                match self { Self::$first => $first_word, $(Self::$variant => $word),* }
            }
        }

        impl $crate::wire::Word for $name {
            fn words(&self) -> &'static [&'static str] {
                Self::WORDS
            }
            fn what(&self) -> &'static str {
                $what
            }
            fn choose(&mut self, index: usize) {
                if let Some(word) = Self::ALL.get(index) {
                    *self = *word;
                }
            }
        }

        impl $crate::wire::Field for $name {
            const KIND: $crate::wire::Kind = $crate::wire::Kind::Word($what, Self::WORDS);
            fn blank() -> Self {
                Self::$first
            }
            fn view(&self) -> $crate::wire::View<'_> {
                $crate::wire::View::Text(self.text())
            }
            fn slot(&mut self) -> $crate::wire::Slot<'_> {
                $crate::wire::Slot::Word(self)
            }
            fn magnitude(&self) -> f64 {
                0.0
            }
        }
    };
}

/// The name of a field on the wire, where Rust has the word for itself: `r#as` is `as`.
pub(crate) const fn plain(name: &'static str) -> &'static str {
    match name.as_bytes() {
        [b'r', b'#', ..] => name.split_at(2).1,
        _ => name,
    }
}

macro_rules! rules {
    () => {
        $crate::quantity::Rules::NONE
    };
    ($rules:expr) => {
        $rules
    };
}

macro_rules! show {
    () => {
        $crate::quantity::Show::Usual
    };
    ($show:ident) => {
        $crate::quantity::Show::$show
    };
}

macro_rules! option {
    () => {
        None
    };
    ($value:expr) => {
        Some($value)
    };
}

/// For what comes from stock or from a text, and so from another record. The rest is copied by the project's own tests only, and the
/// code of it is left out otherwise.
macro_rules! become_copy {
    () => {
        #[cfg(feature = "internals")]
        $crate::wire::declare::become_copy!(true);
    };
    ($of:expr) => {
        fn become_copy(&mut self, of: Option<&dyn $crate::wire::Record>) -> bool {
            let copy = match of {
                Some(of) => of.to::<Self>().cloned(),
                None => Some(Self::new()),
            };
            copy.map(|copy| *self = copy).is_some()
        }
    };
}

macro_rules! stock {
    ($name:ident) => {
        None
    };
    ($name:ident $what:literal, $file:literal) => {
        Some($crate::wire::Stocked {
            what: $what,
            shelf: || {
                static SHELF: std::sync::LazyLock<$crate::wire::Shelf> = std::sync::LazyLock::new(|| {
                    $crate::wire::Shelf::read(include_str!($file), || Box::new($name::new()))
                });
                &SHELF
            },
        })
    };
}

macro_rules! from_stock {
    ($name:ident) => {};
    ($name:ident $what:literal) => {
        impl $name {
            #[doc = concat!("The ", $what, " of that name in stock. Its methods change values; `basis` then says so.")]
            ///
            /// # Errors
            /// `out_of_range` for a name that is not in stock.
            pub fn in_stock(name: &str) -> Result<Self, $crate::error::Error> {
                let mut found = Self::new();
                $crate::wire::from_stock(&mut found, name)?;
                Ok(found)
            }

            /// What it is called: its stock name, with a word where values were changed, or `own` for the caller's own.
            #[must_use]
            pub fn called(&self, own: &str) -> String {
                $crate::wire::called(self, own)
            }

            /// Says where the values of these fields came from.
            pub(crate) fn cite(&self, fields: &[&'static str], remarks: &mut $crate::wire::Remarks) {
                if remarks.explains() {
                    $crate::wire::cite(self, fields, remarks);
                }
            }
        }
    };
}

pub(crate) use {answer, become_copy, from_stock, option, request, rules, show, stock, words};
