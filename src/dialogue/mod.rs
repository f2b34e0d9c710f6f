//! The conversation: a turn comes in, effects go out as data.
//!
//! Owns what is said and asked, and in which order. Must not know of terminals, files, clocks or colours: the same turns
//! give the same effects everywhere, so a saved conversation is the list of its lines.

mod answer;
mod apart;
mod bench;
pub mod command;
mod figures;
mod held;
mod kit;
mod known;
mod listen;
mod next;
mod reading;
mod record;
mod recording;
mod reply;
mod session;
mod setup;
mod state;
mod told;
mod trying;
mod turn;
mod work;

pub use apart::day_in_words;
pub use bench::Bench;
pub use held::{KnownBike, KnownDue, KnownPair, KnownRepair, KnownSetting, KnownTrial, KnownWear, Noted};
pub use kit::kit;
pub use known::{Asked, Recalled};
pub use record::{
    Record, RecordedCurve, RecordedDue, RecordedFigure, RecordedLadder, RecordedMark, RecordedReading, RecordedRide,
    RecordedRun, RecordedRung, RecordedSetting, RecordedTrial,
};
pub use reply::{Bar, Block, Choice, Figure, Found, Likely, Reply, Understood};
pub use session::Session;
pub use state::{DangerStatus, Focus, Observation, Outcome, Passed, Setting, Shared, State, Thread, WearRead};
pub use trying::{TrialRows, Trying};
pub use turn::{Effect, Turn};
