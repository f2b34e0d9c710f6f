//! Tests of the book as a whole; what one file can show alone stands in that file.

mod damage;
mod erase;
mod exchange;
mod fixture;
mod history;
mod migration;
mod place;
mod recall;
