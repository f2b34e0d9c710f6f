//! Any bytes as a card, a saved conversation or lines typed.

#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| shakedown_fuzz::conversation(bytes));
