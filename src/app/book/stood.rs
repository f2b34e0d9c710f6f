//! How a bike stood on a day: its settings, facts and wear as the book had them at the end of it.

use super::day::end_of;
use super::{Shelf, Told};
use crate::dialogue::{Block, Reply, day_in_words};
use crate::store::{BikeId, BookError};

impl Shelf {
    /// The bike as of the end of a day, as `2026-05-03`.
    pub(super) fn stood(&self, bike: BikeId, on: &str) -> Result<Told, BookError> {
        let said = day_in_words(on);
        let Some(end) = end_of(on) else {
            return Ok(Told::Words(Reply::say(format!("{said} is no day of the calendar."))));
        };
        let view = self.book.as_of(end);
        let mut items = Vec::new();
        for s in view.settings(bike)? {
            let baseline = if s.baseline { ", the baseline" } else { "" };
            let since = day_in_words(&super::day::day(s.stamp.at));
            items.push(format!("{}: {} (since {since}, {}{baseline})", s.what, s.value.text, s.stamp.source.word()));
        }
        items.extend(view.wear(bike)?.into_iter().map(|w| format!("{}: {} (wear)", w.what, w.value.text)));
        items.extend(
            view.bike(bike)?.facts.into_iter().map(|f| format!("{}: {}", f.what.replace('-', " "), f.value.text)),
        );
        let mut reply = Reply::default();
        if items.is_empty() {
            reply.add(format!("On {said} the book held nothing of this bike."));
        } else {
            reply.add(format!("As the book had it at the end of {said}:"));
            reply.push(Block::List { items });
        }
        Ok(Told::Words(reply))
    }
}
