//! Navigation, saving, and what goes wrong.

use crate::state::SaveError;

/// Closes a message or a panel.
pub const CLOSE: &str = "Close";

/// Something said was not saved.
pub fn not_saved(error: &SaveError) -> String {
    format!("Not saved: {error}. What you typed is still here; try again.")
}
