//! Reads the record's types out of a JSON value: what `#[derive(Told)]` calls.
//!
//! One value is taken apart here; a type only names its fields. serde_json's own reader of values would
//! do, but takes a list wherever a set of named fields is expected, for which every type would carry a
//! second reader. A book never holds one; the phone does without them.

use litemap::LiteMap;
use serde::de::value::{MapAccessDeserializer, MapDeserializer, SeqDeserializer};
use serde::de::{DeserializeOwned, Error as _, IntoDeserializer, Visitor};
use serde::{Deserialize, Deserializer, forward_to_deserialize_any};
use serde_json::{Error, Map, Value};
use std::cell::Cell;

/// Named fields, taken out one by one. What is left is of a newer version and no error.
pub(crate) struct Fields(Map<String, Value>);

impl Fields {
    fn of(value: Value) -> Result<Self, Error> {
        match value {
            Value::Object(named) => Ok(Self(named)),
            _ => Err(Error::custom("named fields were expected")),
        }
    }

    /// A field that must be there, unless it is an option.
    pub(crate) fn take<T: DeserializeOwned>(&mut self, name: &str) -> Result<T, Error> {
        match self.0.remove(name) {
            Some(value) => read(name, value),
            None => T::deserialize(Told(Value::Null)).map_err(|_| missing(name)),
        }
    }

    /// A field that may be absent, read in a way of its own.
    pub(crate) fn maybe_by<T>(
        &mut self,
        name: &str,
        by: fn(Value) -> Result<T, Error>,
    ) -> Result<Option<T>, Error> {
        let value = self.0.remove(name);
        value.map(|value| by(value).map_err(|error| within(name, &error))).transpose()
    }

    /// A field that may be absent.
    pub(crate) fn maybe<T: DeserializeOwned>(&mut self, name: &str) -> Result<Option<T>, Error> {
        self.0.remove(name).map(|value| read(name, value)).transpose()
    }
}

fn read<T: DeserializeOwned>(name: &str, value: Value) -> Result<T, Error> {
    T::deserialize(Told(value)).map_err(|error| within(name, &error))
}

fn missing(name: &str) -> Error {
    Error::custom(say!("missing field `{name}`"))
}

fn within(name: &str, error: &Error) -> Error {
    Error::custom(format!("{name}: {error}"))
}

/// Values by their names. (The map's own reader sorts, and a sort of its own is 4 kB.)
pub(crate) fn named<T: DeserializeOwned>(value: Value) -> Result<LiteMap<String, T>, Error> {
    let mut all = LiteMap::new();
    for (name, value) in Fields::of(value)?.0 {
        let one = read(&name, value)?;
        all.insert(name, one);
    }
    Ok(all)
}

/// What belongs to the name of a choice.
pub(crate) struct With(Value);

impl With {
    /// All of it.
    pub(crate) fn whole<T: DeserializeOwned>(self) -> Result<T, Error> {
        T::deserialize(Told(self.0))
    }

    /// Its named fields.
    pub(crate) fn fields(self) -> Result<Fields, Error> {
        Fields::of(self.0)
    }
}

/// Reads a struct.
pub(crate) fn fields<'de, D: Deserializer<'de>, T>(
    from: D,
    make: fn(&mut Fields) -> Result<T, Error>,
) -> Result<T, D::Error> {
    let told = kept(from)?;
    Fields::of(told).and_then(|mut fields| make(&mut fields)).map_err(D::Error::custom)
}

/// Reads an enum: a name alone, or a name with what belongs to it. `make` answers none for a name it
/// does not know.
pub(crate) fn choice<'de, D: Deserializer<'de>, T>(
    from: D,
    make: fn(&str, With) -> Result<Option<T>, Error>,
) -> Result<T, D::Error> {
    let (name, with) = chosen(kept(from)?).map_err(D::Error::custom)?;
    match make(&name, With(with)) {
        Ok(Some(made)) => Ok(made),
        Ok(None) => Err(D::Error::custom(format_args!("unknown variant `{name}`"))),
        Err(error) => Err(D::Error::custom(error)),
    }
}

fn chosen(told: Value) -> Result<(String, Value), Error> {
    match told {
        Value::String(name) => Ok((name, Value::Null)),
        Value::Object(named) if named.len() == 1 => named.into_iter().next().ok_or_else(no_choice),
        _ => Err(no_choice()),
    }
}

fn no_choice() -> Error {
    Error::custom("a name, alone or with what belongs to it, was expected")
}

/// The name under which [`kept`] asks for a value.
const WHOLE: &str = "a JSON value as it is";

thread_local! {
    /// What [`Told`] hands over: set and taken within one call.
    static HANDED: Cell<Option<Value>> = const { Cell::new(None) };
}

/// A JSON value as it was written. Where it comes from one it is handed over: serde would have it walked through and put
/// together anew at every level.
pub(crate) fn kept<'de, D: Deserializer<'de>>(from: D) -> Result<Value, D::Error> {
    from.deserialize_newtype_struct(WHOLE, Taker)
}

/// The same of a list.
pub(crate) fn kept_list<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Value>, D::Error> {
    match kept(from)? {
        Value::Array(list) => Ok(list),
        _ => Err(D::Error::custom("a list was expected")),
    }
}

struct Taker;

impl<'de> Visitor<'de> for Taker {
    type Value = Value;

    fn expecting(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        to.write_str("a JSON value")
    }

    fn visit_unit<E: serde::de::Error>(self) -> Result<Value, E> {
        HANDED.take().ok_or_else(|| E::custom("nothing was handed over"))
    }

    fn visit_newtype_struct<D: Deserializer<'de>>(self, from: D) -> Result<Value, D::Error> {
        Value::deserialize(from)
    }
}

/// A value to read from.
pub(crate) struct Told(pub(crate) Value);

impl IntoDeserializer<'_, Error> for Told {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl Told {
    /// Its named fields.
    fn fields<'de>(self) -> Result<MapDeserializer<'de, impl Iterator<Item = (String, Self)>, Error>, Error> {
        let Value::Object(named) = self.0 else { return Err(Error::custom("named fields were expected")) };
        Ok(MapDeserializer::new(named.into_iter().map(|(name, value)| (name, Self(value)))))
    }
}

impl<'de> Deserializer<'de> for Told {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.0 {
            Value::Null => visitor.visit_unit(),
            Value::Bool(yes) => visitor.visit_bool(yes),
            Value::Number(number) => number.deserialize_any(visitor),
            Value::String(text) => visitor.visit_string(text),
            Value::Array(_) => self.deserialize_seq(visitor),
            Value::Object(_) => self.deserialize_map(visitor),
        }
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_map(self.fields()?)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        self.deserialize_map(visitor)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        let Value::Array(list) = self.0 else { return Err(Error::custom("a list was expected")) };
        let mut list = SeqDeserializer::new(list.into_iter().map(Self));
        let read = visitor.visit_seq(&mut list)?;
        list.end()?;
        Ok(read)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Error> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        if self.0.is_null() { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        if name == WHOLE {
            HANDED.set(Some(self.0));
            return visitor.visit_unit();
        }
        visitor.visit_newtype_struct(self)
    }

    /// A name alone, or a name with what belongs to it.
    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        match self.0 {
            Value::String(name) => visitor.visit_enum(name.into_deserializer()),
            Value::Object(ref named) if named.len() == 1 => {
                visitor.visit_enum(MapAccessDeserializer::new(self.fields()?))
            }
            _ => Err(Error::custom("a name, alone or with what belongs to it, was expected")),
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf
        unit unit_struct tuple_struct identifier ignored_any
    }
}
