//! What the schema of a field book says of values that newer versions may add to.

use super::{Note, PhotoMark, PhotoMarks, WrittenNote};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::Value;
use std::borrow::Cow;

/// Adds a branch for what a newer version may say: one key that none of the known branches has. A known key with
/// other contents stays refused.
pub(super) fn open(schema: &mut Schema) {
    let Some(Value::Array(branches)) = schema.get_mut("oneOf") else { return };
    let known = branches.iter().filter_map(|branch| branch.get("properties")?.as_object()?.keys().next());
    let known: Vec<Value> = known.cloned().map(Value::String).collect();
    let newer = json_schema!({
        "description": "Of a newer version: kept as written and passed on, though not understood.",
        "type": "object",
        "minProperties": 1,
        "maxProperties": 1,
        "propertyNames": { "not": { "enum": known } },
    });
    branches.push(newer.to_value());
}

/// The schema of what is held, though it is read only when it is looked at.
macro_rules! holds {
    ($written:ident, $held:ty) => {
        impl JsonSchema for $written {
            fn inline_schema() -> bool {
                true
            }
            fn schema_name() -> Cow<'static, str> {
                stringify!($written).into()
            }
            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                generator.subschema_for::<$held>()
            }
        }
    };
}

holds!(WrittenNote, Note);
holds!(PhotoMarks, Vec<PhotoMark>);
