//! Reads a statement out of a JSON value.
//!
//! serde_json can do that too, but takes a list wherever a set of named fields is expected, for which
//! every type carries a second reader of its own. A book never holds one; the phone does without them.

use serde::de::value::{MapAccessDeserializer, MapDeserializer, SeqDeserializer};
use serde::de::{Error as _, IntoDeserializer, Visitor};
use serde::{Deserializer, forward_to_deserialize_any};
use serde_json::{Error, Value};

/// A value to read from.
pub(super) struct Told(pub(super) Value);

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
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
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
