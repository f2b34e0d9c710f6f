//! Wiring, and the one driver that performs effects.

mod book;
mod check;
mod converse;
mod face;
mod keep;
mod learn;
mod measure;
mod plain_search;
mod run;
mod score;
mod score_search;

pub use face::{Answer, Face, replay};
pub use keep::saved_lines;
pub use run::run;
pub use score::score_lines;
