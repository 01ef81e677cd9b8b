//! Declares requests, answers and word lists, so that each field is written down once.

use super::read::wrong_type;
use super::{At, Input, Remarks};
use crate::error::{Code, Error, clip, nearest};
use crate::quantity::Rules;
use serde_json::{Map, Value};

/// An object whose members are all known names.
#[derive(Debug, Clone, Copy)]
pub struct Object<'a> {
    members: &'a Map<String, Value>,
    /// Where it stands.
    pub at: At<'a>,
}

impl<'a> Object<'a> {
    /// Opens an object that may have these members and no others. At the root, `units` is known too.
    ///
    /// # Errors
    /// `wrong_type` for anything else than an object; `unknown_field`, with the nearest known name.
    pub fn open(value: &'a Value, at: At<'a>, known: &[&'static str]) -> Result<Self, Error> {
        let Value::Object(members) = value else {
            return Err(wrong_type(at, value, format!("an object with {}", known.join(", "))));
        };
        let root = if at.is_root() { Some("units") } else { None };
        for (name, member) in members {
            if !known.contains(&name.as_str()) && Some(name.as_str()) != root {
                let names = known.iter().copied().chain(root);
                let hint = nearest(name, names.clone()).map(|n| format!("; did you mean `{n}`?")).unwrap_or_default();
                return Err(Error::new(
                    Code::UnknownField,
                    at.key(name),
                    format!("unknown field `{}`{hint}", clip(name)),
                )
                .got(member)
                .allowed(names));
            }
        }
        Ok(Self { members, at })
    }

    /// Reads a member; null counts as absent.
    ///
    /// # Errors
    /// As [`Input::read`] and [`Input::absent`].
    pub fn take<T: Input>(&self, name: &'static str, rules: &Rules, remarks: &mut Remarks) -> Result<T, Error> {
        let at = self.at.key(name);
        match self.members.get(name) {
            None | Some(Value::Null) => T::absent(at, rules, remarks),
            Some(value) => T::read(value, at, rules, remarks),
        }
    }
}

/// Declares what a calculation asks for. Each field has a type and, after `where`, its [`Rules`].
macro_rules! request {
    ($(#[doc = $doc:literal])* pub struct $name:ident {
        $($(#[doc = $field_doc:literal])* $field:ident: $type:ty $(where $rules:expr)?,)*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name { $($(#[doc = $field_doc])* pub $field: $type,)* }

        impl $name {
            /// The names of the fields, in order.
            pub const FIELDS: &'static [&'static str] = &[$(stringify!($field)),*];
        }

        impl $crate::wire::Input for $name {
            fn read(
                value: &serde_json::Value,
                at: $crate::wire::At<'_>,
                _rules: &$crate::quantity::Rules,
                remarks: &mut $crate::wire::Remarks,
            ) -> Result<Self, $crate::error::Error> {
                let object = $crate::wire::Object::open(value, at, Self::FIELDS)?;
                Ok(Self { $($field: object.take(stringify!($field), $crate::wire::object::rules!($($rules)?), remarks)?,)* })
            }
            fn wanted() -> String {
                format!("an object with {}", Self::FIELDS.join(", "))
            }
            #[cfg(feature = "schema")]
            fn schema(_rules: &$crate::quantity::Rules, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                generator.subschema_for::<Self>()
            }
        }

        #[cfg(feature = "schema")]
        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }
            fn schema_id() -> std::borrow::Cow<'static, str> {
                concat!(module_path!(), "::", stringify!($name)).into()
            }
            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                let mut object = $crate::wire::schema::Members::new(concat!($($doc),*));
                $({
                    let rules = $crate::wire::object::rules!($($rules)?);
                    let schema = <$type as $crate::wire::Input>::schema(rules, generator);
                    object.add(stringify!($field), concat!($($field_doc),*), schema, !<$type as $crate::wire::Input>::optional(rules));
                })*
                object.close()
            }
        }
    };
}

macro_rules! rules {
    () => {
        &$crate::quantity::Rules::NONE
    };
    ($rules:expr) => {
        &$rules
    };
}

/// Declares what a calculation answers. Each field has a type and, after `as`, how it is shown.
macro_rules! answer {
    ($(#[doc = $doc:literal])* pub struct $name:ident {
        $($(#[doc = $field_doc:literal])* $field:ident: $type:ty $(as $show:ident)?,)*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name { $($(#[doc = $field_doc])* pub $field: $type,)* }

        impl $crate::wire::Output for $name {
            fn write(&self, _show: $crate::quantity::Show, page: &mut $crate::wire::Page) -> Option<serde_json::Value> {
                let mut members = serde_json::Map::with_capacity([$(stringify!($field)),*].len());
                $(if let Some(value) = self.$field.write($crate::wire::object::show!($($show)?), page) {
                    members.insert(stringify!($field).to_owned(), value);
                })*
                Some(members.into())
            }
            #[cfg(feature = "schema")]
            fn schema(_show: $crate::quantity::Show, generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                generator.subschema_for::<Self>()
            }
        }

        #[cfg(feature = "schema")]
        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }
            fn schema_id() -> std::borrow::Cow<'static, str> {
                concat!(module_path!(), "::", stringify!($name)).into()
            }
            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                let mut object = $crate::wire::schema::Members::new(concat!($($doc),*));
                $({
                    let schema = <$type as $crate::wire::Output>::schema($crate::wire::object::show!($($show)?), generator);
                    object.add(stringify!($field), concat!($($field_doc),*), schema, !<$type as $crate::wire::Output>::OPTIONAL);
                })*
                object.close()
            }
        }
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

/// Declares a list of words of the wire.
macro_rules! words {
    ($(#[doc = $doc:literal])* pub enum $name:ident ($what:literal) {
        $($(#[doc = $word_doc:literal])* $variant:ident = $word:literal,)*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $name { $($(#[doc = $word_doc])* $variant,)* }

        impl $name {
            const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$variant)),*];

            /// The word on the wire.
            #[must_use]
            pub const fn text(self) -> &'static str {
                match self { $(Self::$variant => $word),* }
            }
        }

        impl $crate::wire::Input for $name {
            fn read(
                value: &serde_json::Value,
                at: $crate::wire::At<'_>,
                _rules: &$crate::quantity::Rules,
                _remarks: &mut $crate::wire::Remarks,
            ) -> Result<Self, $crate::error::Error> {
                $crate::wire::word(value, at, Self::WORDS, $what)
            }
            fn wanted() -> String {
                format!("one of: {}", [$($word),*].join(", "))
            }
            #[cfg(feature = "schema")]
            fn schema(_rules: &$crate::quantity::Rules, _generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "type": "string", "enum": [$($word),*] })
            }
        }

        impl $crate::wire::Output for $name {
            fn write(&self, _show: $crate::quantity::Show, _page: &mut $crate::wire::Page) -> Option<serde_json::Value> {
                Some(self.text().into())
            }
            #[cfg(feature = "schema")]
            fn schema(_show: $crate::quantity::Show, _generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "type": "string", "enum": [$($word),*] })
            }
        }
    };
}

pub(crate) use {answer, request, rules, show, words};
