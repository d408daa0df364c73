//! The keypad on which readings are typed.
