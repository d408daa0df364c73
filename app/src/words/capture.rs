//! What the Plan tab and the keypad say.
