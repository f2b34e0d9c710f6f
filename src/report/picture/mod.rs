//! Pictures of a record, each with a text chart of the same information.
//!
//! Owns which pictures there are; each is one file here and is drawn only when its data is on the record. May use the
//! record only. Drawn by own small templates: the pictures are few and particular, and a page may weigh little.

mod axis;
mod belief;
mod caliper;
mod chart;
mod curve;
mod history;
mod ink;
mod ladder;
mod leg;
mod method;
mod place;
mod side;

pub(super) use axis::number;
pub(super) use belief::belief;
pub(super) use caliper::caliper;
pub(super) use curve::curves;
pub(super) use history::{histories, history_of, settings_over_time};
pub(super) use ladder::ladders;
pub(super) use leg::leg;
pub(super) use method::methods;
pub(super) use place::{Entry, place_of};
pub use place::{Place, places};
pub(super) use side::side;

/// A picture.
#[derive(Clone, Debug)]
pub(super) struct Picture {
    /// Its title.
    pub(super) title: String,
    /// What stands below it on paper; may be empty.
    pub(super) caption: String,
    /// What is measured where; text forms find it in the chart.
    pub(super) legend: Vec<Entry>,
    /// The drawing, with title and description inside.
    pub(super) svg: String,
    /// Height of the drawing; its width is always 360.
    pub(super) height: f64,
    /// The same in characters.
    pub(super) chart: Vec<String>,
}
