//! Values with units: what people type, what the house computes with, and how it is written back.
//!
//! Owns [`Dimension`], [`Quantity`], the [`Unit`] table, [`read()`] for one expected value, [`find_all`] for values in free
//! text, and [`write()`]. Must not know calculators, bikes or any other room.

mod dimension;
mod find;
mod lex;
mod number;
mod read;
mod spelling;
mod table;
mod unit;
mod write;

pub use dimension::{Dimension, Quantity};
pub use find::{Found, find_all};
pub(crate) use lex::{Token, lex};
pub(crate) use number::plain_at as number_at;
pub use read::{Hint, ReadError, Reading, read};
pub(crate) use read::{Parsed, assume, quantity_at};
pub use table::*;
pub use unit::{System, Unit};
pub use write::{Preference, write, write_in};
