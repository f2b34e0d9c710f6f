//! Where on a bike, a leg or a brake a figure is measured.
//!
//! Owns the table from figures to places and what can be drawn there. Must not draw.

use crate::dialogue::{Record, RecordedFigure};

/// A place at which a figure is measured.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// Its id: a figure with the calculator `measured` or `said` and this id stands here.
    pub id: &'static str,
    /// What it is called in a picture.
    pub name: &'static str,
    /// From where to where it is measured.
    pub says: &'static str,
    /// Figures of calculators that stand here too: calculator and output.
    pub from: &'static [(&'static str, &'static str)],
    /// SI range that can be drawn; a figure outside is listed but not drawn. (Our own bounds, wider than any bike.)
    pub drawn: (f64, f64),
}

const fn place(
    id: &'static str,
    name: &'static str,
    says: &'static str,
    from: &'static [(&'static str, &'static str)],
    drawn: (f64, f64),
) -> Place {
    Place { id, name, says, from, drawn }
}

/// Every place that a picture knows.
static PLACES: &[Place] = &[
    place(
        "saddle-height",
        "saddle height",
        "centre of the crank axle to the middle of the saddle top, along the seat tube",
        &[("saddle-height", "start")],
        (0.3, 1.1),
    ),
    place(
        "saddle-setback",
        "setback",
        "tip of the saddle to a plumb line through the crank axle, level",
        &[],
        (-0.2, 0.3),
    ),
    place(
        "saddle-to-bar",
        "saddle to bar",
        "tip of the saddle to the middle of the bar at its clamp, level",
        &[],
        (0.2, 0.9),
    ),
    place(
        "bar-drop",
        "bar drop",
        "saddle top down to the middle of the grips, upright; a minus means that the grips are higher",
        &[],
        (-0.4, 0.4),
    ),
    place(
        "bar-roll",
        "bar roll",
        "turned in its clamp, back positive, bike at rest",
        &[("bar-roll", "roll")],
        (-0.6, 0.6),
    ),
    place("crank", "crank", "centre of the crank axle to the centre of the pedal axle", &[], (0.08, 0.25)),
    place("seat-angle", "seat angle", "seat tube against the ground", &[], (1.0, 1.6)),
    place("head-angle", "head angle", "steering axis against the ground", &[], (0.95, 1.4)),
    place("wheelbase", "wheelbase", "axle to axle", &[], (0.7, 1.6)),
    place("wheel-radius", "wheel radius", "axle to ground, rider aboard", &[], (0.15, 0.45)),
    place("tyre-front", "front tyre", "gauge on the front valve, tyre cold", &[("tyre-pressure", "front")], (0.0, 2e6)),
    place("tyre-rear", "rear tyre", "gauge on the rear valve, tyre cold", &[("tyre-pressure", "rear")], (0.0, 2e6)),
    place(
        "sag-fork",
        "fork sag",
        "ring on the fork leg, share of the travel, rider aboard",
        &[("sag", "sag-fork")],
        (0.0, 1.0),
    ),
    place(
        "sag-rear",
        "rear sag",
        "ring on the shock, share of the stroke, rider aboard",
        &[("sag", "sag-rear")],
        (0.0, 1.0),
    ),
    place(
        "knee-bend",
        "knee bend",
        "at the bottom of the stroke, between shank and the straight line of the thigh",
        &[("leg-model", "knee")],
        (0.0, 1.6),
    ),
    place("thigh", "thigh", "hip joint to knee joint", &[], (0.2, 0.7)),
    place("shank", "shank", "knee joint to ankle joint", &[], (0.2, 0.7)),
    place("pad-gap-left", "left gap", "pad to rotor, lever released", &[], (0.0, 0.003)),
    place("pad-gap-right", "right gap", "pad to rotor, lever released", &[], (0.0, 0.003)),
    place("rotor", "rotor", "thickness of the braking track", &[], (0.0005, 0.005)),
    place("pad-left", "left lining", "friction material without its plate", &[], (0.0, 0.006)),
    place("pad-right", "right lining", "friction material without its plate", &[], (0.0, 0.006)),
    place("rotor-runout", "run-out", "sideways travel of the rotor over one turn", &[], (0.0, 0.005)),
];

/// Every place that a picture knows, for whoever fills in a record's figures.
#[must_use]
pub fn places() -> &'static [Place] {
    PLACES
}

/// The figure that stands at a place and can be drawn there: measured before said before computed, the last of its kind.
pub(super) fn figure<'a>(record: &'a Record, id: &str) -> Option<&'a RecordedFigure> {
    let place = PLACES.iter().find(|p| p.id == id)?;
    let fits = |f: &&RecordedFigure| (place.drawn.0..=place.drawn.1).contains(&f.si);
    let told = |by: &str| record.figures.iter().rev().find(|f| f.calculator == by && f.id == id).filter(fits);
    let computed = || {
        let by = |f: &&RecordedFigure| place.from.iter().any(|(c, o)| f.calculator == *c && f.id == *o);
        record.figures.iter().rev().find(by).filter(fits)
    };
    told("measured").or_else(|| told("said")).or_else(computed)
}

/// Its SI value.
pub(super) fn value(record: &Record, id: &str) -> Option<f64> {
    figure(record, id).map(|f| f.si)
}

/// The place of a figure, when it has one and can be drawn there.
pub(in crate::report) fn place_of(f: &RecordedFigure) -> Option<&'static Place> {
    let told = matches!(f.calculator.as_str(), "measured" | "said");
    let here = |p: &&Place| told && p.id == f.id || p.from.iter().any(|(c, o)| f.calculator == *c && f.id == *o);
    PLACES.iter().find(here).filter(|p| (p.drawn.0..=p.drawn.1).contains(&f.si))
}

/// One line of a picture's legend.
#[derive(Clone, Debug)]
pub(in crate::report) struct Entry {
    /// Id of the place.
    pub(in crate::report) id: &'static str,
    /// What it is called.
    pub(in crate::report) name: &'static str,
    /// The value.
    pub(in crate::report) shown: String,
    /// From where to where it is measured.
    pub(in crate::report) says: &'static str,
}

impl Entry {
    /// The whole line.
    pub(in crate::report) fn line(&self) -> String {
        format!("{}: {} ({})", self.name, self.shown, self.says)
    }
}

/// The legend of a picture: its places that have a figure.
pub(super) fn legend(record: &Record, ids: &[&str]) -> Vec<Entry> {
    let entry = |id: &&str| {
        let place = PLACES.iter().find(|p| p.id == *id)?;
        let f = figure(record, id)?;
        Some(Entry { id: place.id, name: place.name, shown: f.shown.clone(), says: place.says })
    };
    ids.iter().filter_map(entry).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn places_are_distinct_and_no_figure_stands_at_two() {
        let ids: BTreeSet<&str> = PLACES.iter().map(|p| p.id).collect();
        assert_eq!(ids.len(), PLACES.len());
        let from: Vec<_> = PLACES.iter().flat_map(|p| p.from).collect();
        assert_eq!(from.iter().collect::<BTreeSet<_>>().len(), from.len());
    }

    #[test]
    fn measured_wins_over_computed_and_the_last_over_the_first() {
        let f = |by: &str, id: &str, si: f64| RecordedFigure {
            calculator: by.into(),
            id: id.into(),
            si,
            ..Default::default()
        };
        let mut r = Record { figures: vec![f("saddle-height", "start", 0.72)], ..Record::default() };
        assert_eq!(value(&r, "saddle-height"), Some(0.72));
        r.figures.push(f("measured", "saddle-height", 0.70));
        r.figures.push(f("measured", "saddle-height", 0.71));
        r.figures.push(f("saddle-height", "start", 0.73));
        assert_eq!(value(&r, "saddle-height"), Some(0.71));
        r.figures.push(f("measured", "saddle-height", 71.0));
        assert_eq!(value(&r, "saddle-height"), Some(0.73), "what cannot be drawn gives way");
    }
}
