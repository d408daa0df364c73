//! The field book's format for other programs: a JSON Schema of one line, made of the types that are written.

use super::entry::Whole;
use crate::record::Statement;
use schemars::Schema;
use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use serde_json::Value;

/// JSON Schema (draft 2020-12) of an entry, one line of a book. What a newer version adds passes: more fields
/// anywhere, and statements and marks on photos of kinds not known here.
///
/// # Errors
/// When it cannot be written as JSON.
pub fn schema() -> Result<String, serde_json::Error> {
    let settings = SchemaSettings::draft2020_12().with_transform(RecursiveTransform(plain));
    let schema = settings.into_generator().into_root_schema_for::<Whole<Statement>>();
    Ok(serde_json::to_string_pretty(&schema)? + "\n")
}

/// Descriptions in one line, without links into this program.
fn plain(schema: &mut Schema) {
    if let Some(Value::String(words)) = schema.get_mut("description") {
        *words = words.replace('\n', " ").replace("[`", "`").replace("`]", "`").replace("super::", "");
    }
}
