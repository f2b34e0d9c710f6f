//! The book: riders, bikes, visits, settings, trials, wear and due checks in one SQLite file.
//!
//! Owns the file. Knows nothing of the conversation, of what ids of causes and findings mean, of units beyond SI numbers with
//! the text beside them, of clocks (time comes in as unix seconds) and of networks. Nothing is overwritten: a correction is a
//! new row, and the book can be read as of any time. Erasing a rider is the one exception.
//!
//! ```
//! use shakedown::store::{Book, NewSetting, Source, Stamp, Value};
//!
//! let book = Book::in_memory()?;
//! let now = Stamp::now(1_700_000_000, "bench", Source::Measured);
//! let anna = book.add_rider("Anna", &now)?;
//! let bike = book.add_bike("red hardtail", Some(anna), &now)?;
//! let mut saddle = NewSetting::new(bike, "saddle-height", Value::quantity("742 mm", 0.742, "mm"));
//! saddle.baseline = true;
//! book.set(&saddle, &now)?;
//! let apart = book.now().compare(bike, "saddle-height", 0.733)?.expect("there is a baseline");
//! assert!((apart.by_si + 0.009).abs() < 1e-9); // 9 mm lower than on the card
//! # Ok::<(), shakedown::store::BookError>(())
//! ```

mod backup;
mod book;
mod correct;
mod due;
mod erase;
mod error;
mod export;
mod frequency;
mod id;
mod import;
mod migration;
mod place;
mod recall;
mod row;
mod setting;
mod shape;
mod stamp;
mod subject;
#[cfg(test)]
mod tests;
mod trial;
mod view;
mod visit;
mod wear;
mod word;

pub use book::Book;
pub use due::{Due, NewDue};
pub use erase::{ERASED, Erasure, PERSONAL};
pub use error::BookError;
pub use frequency::{dirichlet, dirichlet_with_floor};
pub use id::{BikeId, DueId, RiderId, Row, TrialId, VisitId};
pub use migration::FORM;
pub use recall::{DISTANCE, Done, Recall};
pub use row::Fact;
pub use setting::{Difference, NewSetting, Setting};
pub use stamp::{LONGEST_TEXT, Source, Stamp, Value};
pub use subject::NAME;
pub use trial::{Felt, NewTrial, NewVerdict, Trial, TrialEnd, Verdict};
pub use view::{Bike, Rider, View};
pub use visit::{Entry, EntryKind, NewEntry, Outcome, Visit};
pub use wear::Wear;
pub use word::{Found, Match};
