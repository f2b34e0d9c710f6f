//! Any bytes as an export of a book.

#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| shakedown_fuzz::import(bytes));
