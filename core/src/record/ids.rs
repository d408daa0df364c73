//! Names of things: short texts handed in from outside, never made here.

use serde::{Deserialize, Serialize};
use std::fmt;

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(!transparent))]
        #[serde(transparent)]
        pub struct $name(pub String);

        impl $name {
            /// The id as text.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }
        impl From<&str> for $name {
            fn from(text: &str) -> Self {
                Self(text.to_owned())
            }
        }
        impl crate::language::Told for $name {
            fn tell(&self, to: &mut String) {
                to.push_str(&self.0);
            }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
    };
}

id! {
    /// Names one entry of a book for ever; unique over all phones.
    EntryId
}
id! {
    /// Names a point: the id of the entry that first spoke of it. Its label may change, this does not.
    PointId
}
id! {
    /// Names who wrote an entry (a person on a device).
    AuthorId
}
