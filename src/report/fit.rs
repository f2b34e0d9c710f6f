//! A record made fit for a card: clean text, bounded lengths, finite numbers.
//!
//! Owns every bound on what a card takes in, so that no later step has to think of them. Must not know of forms; the JSON
//! form does not pass here and loses nothing.

use super::clean::{clean, clip};
use crate::dialogue::{
    Record, RecordedCurve, RecordedDue, RecordedFigure, RecordedLadder, RecordedMark, RecordedReading, RecordedRide,
    RecordedRun, RecordedRung, RecordedSetting, RecordedTrial,
};

/// How much of a record a card takes in. All bounds are our own.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// Characters of one text.
    pub(super) chars: usize,
    /// Items of one list.
    pub(super) items: usize,
    /// Points of one curve.
    pub(super) points: usize,
    /// Pictures, and trials: each trial is a table of its own.
    pub(super) pictures: usize,
}

/// For text and Markdown, which have no weight to keep.
pub(super) const ROOMY: Limits = Limits { chars: 2_000, items: 400, points: 400, pictures: 24 };

/// For a page: each is tried in turn until the page is light enough. The last one always is (a test fills it).
pub(super) const PAGE: [Limits; 4] = [
    Limits { chars: 600, items: 80, points: 200, pictures: 12 },
    Limits { chars: 300, items: 40, points: 100, pictures: 8 },
    Limits { chars: 120, items: 12, points: 60, pictures: 4 },
    Limits { chars: 40, items: 4, points: 0, pictures: 0 },
];

/// A number beyond this is a mistake in the data and would leave no room for any other in a chart.
const LARGEST: f64 = 1e12;

/// A record fit for a card.
#[derive(Clone, Debug)]
pub(super) struct Fitted {
    /// The record.
    pub(super) record: Record,
    /// Pictures that may be shown.
    pub(super) pictures: usize,
    /// Something was left out or cut short.
    pub(super) cut: bool,
}

/// Makes a record fit for a card.
pub(super) fn fitted(r: &Record, limits: &Limits) -> Fitted {
    let mut f = Fit { limits, cut: false };
    let record = Record {
        rider: f.texts(&r.rider),
        bike: f.texts(&r.bike),
        complaints: f.texts(&r.complaints),
        findings: f.texts(&r.findings),
        causes: f.texts(&r.causes),
        excluded: f.texts(&r.excluded),
        settings: f.each(&r.settings, Fit::setting),
        cautions: f.texts(&r.cautions),
        checks: f.texts(&r.checks),
        lines: Vec::new(),
        title: f.text(&r.title),
        date: f.text(&r.date),
        rider_name: f.text(&r.rider_name),
        bike_name: f.text(&r.bike_name),
        by: f.text(&r.by),
        stop: f.texts(&r.stop),
        work: f.texts(&r.work),
        open: f.texts(&r.open),
        beliefs_before: f.each(&r.beliefs_before, Fit::belief),
        beliefs_after: f.each(&r.beliefs_after, Fit::belief),
        figures: f.each(&r.figures, Fit::figure),
        curves: f.few(&r.curves, Fit::curve),
        ladders: f.few(&r.ladders, Fit::ladder),
        methods: f.few(&r.methods, Fit::ladder),
        readings: f.each(&r.readings, Fit::reading),
        rides: f.each(&r.rides, Fit::ride),
        trials: f.few(&r.trials, Fit::trial),
        due: f.each(&r.due, Fit::due),
    };
    Fitted { record, pictures: limits.pictures, cut: f.cut }
}

struct Fit<'a> {
    limits: &'a Limits,
    cut: bool,
}

fn usable(v: f64) -> bool {
    v.is_finite() && v.abs() <= LARGEST
}

impl Fit<'_> {
    fn text(&mut self, text: &str) -> String {
        // Cleaning only shortens, and the room for hidden marks is bounded: a text of megabytes is not walked through.
        let most = self.limits.chars;
        let (near, far) = clip(text, most.saturating_mul(3).max(64));
        let (text, cut) = clip(&clean(&near), most);
        self.cut |= cut || far;
        text
    }

    fn each<T, U>(&mut self, items: &[T], one: impl Fn(&mut Self, &T) -> Option<U>) -> Vec<U> {
        self.cut |= items.len() > self.limits.items;
        items.iter().take(self.limits.items).filter_map(|i| one(self, i)).collect()
    }

    /// As `each`, for what takes much room; at least one, because a trial card without its trial says nothing.
    fn few<T, U>(&mut self, items: &[T], one: impl Fn(&mut Self, &T) -> Option<U>) -> Vec<U> {
        let most = self.limits.pictures.max(1);
        self.cut |= items.len() > most;
        self.each(&items[..items.len().min(most)], one)
    }

    fn texts(&mut self, items: &[String]) -> Vec<String> {
        self.each(items, |f, t| Some(f.text(t)).filter(|t| !t.is_empty()))
    }

    fn setting(&mut self, s: &RecordedSetting) -> Option<RecordedSetting> {
        Some(RecordedSetting {
            what: self.text(&s.what),
            before: s.before.as_deref().map(|b| self.text(b)),
            after: self.text(&s.after),
            how: self.text(&s.how),
            measured: self.text(&s.measured),
            compared: self.text(&s.compared),
        })
    }

    fn belief(&mut self, (title, p): &(String, f64)) -> Option<(String, f64)> {
        usable(*p).then(|| (self.text(title), p.clamp(0.0, 1.0)))
    }

    fn figure(&mut self, s: &RecordedFigure) -> Option<RecordedFigure> {
        usable(s.si).then(|| RecordedFigure {
            calculator: self.text(&s.calculator),
            id: self.text(&s.id),
            label: self.text(&s.label),
            shown: self.text(&s.shown),
            si: s.si,
            unit: self.text(&s.unit),
            lo: s.lo.filter(|v| usable(*v)),
            hi: s.hi.filter(|v| usable(*v)),
        })
    }

    fn curve(&mut self, c: &RecordedCurve) -> Option<RecordedCurve> {
        let good: Vec<(f64, f64)> = c.points.iter().copied().filter(|(x, y)| usable(*x) && usable(*y)).collect();
        let points = match (good.len(), self.limits.points) {
            (n, most) if n <= most => good,
            (_, most) if most < 2 => Vec::new(),
            // Evenly thinned, both ends kept; no word of it on the card, as the line looks the same.
            (n, most) => (0..most).map(|i| good[i * (n - 1) / (most - 1)]).collect(),
        };
        let mark = |f: &mut Self, m: &RecordedMark| {
            (usable(m.x) && usable(m.y)).then(|| RecordedMark {
                x: m.x,
                y: m.y,
                label: f.text(&m.label),
                role: f.text(&m.role),
            })
        };
        Some(RecordedCurve {
            title: self.text(&c.title),
            x: self.text(&c.x),
            y: self.text(&c.y),
            points,
            marks: self.each(&c.marks, mark),
        })
    }

    fn ladder(&mut self, l: &RecordedLadder) -> Option<RecordedLadder> {
        let rung = |f: &mut Self, r: &RecordedRung| {
            usable(r.value).then(|| RecordedRung {
                label: f.text(&r.label),
                value: r.value,
                shown: f.text(&r.shown),
                lo: r.lo.filter(|v| usable(*v)),
                hi: r.hi.filter(|v| usable(*v)),
            })
        };
        Some(RecordedLadder { title: self.text(&l.title), unit: self.text(&l.unit), rungs: self.each(&l.rungs, rung) })
    }

    fn reading(&mut self, s: &RecordedReading) -> Option<RecordedReading> {
        usable(s.value).then(|| RecordedReading {
            what: self.text(&s.what),
            when: self.text(&s.when),
            value: s.value,
            unit: self.text(&s.unit),
            wear: s.wear,
            limit: s.limit.filter(|v| usable(*v)),
            out: s.out,
        })
    }

    fn ride(&mut self, s: &RecordedRide) -> Option<RecordedRide> {
        Some(RecordedRide { when: self.text(&s.when), what: self.text(&s.what) })
    }

    fn trial(&mut self, t: &RecordedTrial) -> Option<RecordedTrial> {
        let run = |f: &mut Self, r: &RecordedRun| {
            Some(RecordedRun { setting: f.text(&r.setting), when: f.text(&r.when), verdict: f.text(&r.verdict) })
        };
        Some(RecordedTrial {
            setting: self.text(&t.setting),
            baseline: self.text(&t.baseline),
            change: self.text(&t.change),
            ride: self.text(&t.ride),
            feel: self.texts(&t.feel),
            stop: self.texts(&t.stop),
            blind: t.blind,
            planned: self.texts(&t.planned),
            runs: self.each(&t.runs, run),
            verdict: self.text(&t.verdict),
        })
    }

    fn due(&mut self, d: &RecordedDue) -> Option<RecordedDue> {
        Some(RecordedDue {
            what: self.text(&d.what),
            how: self.text(&d.how),
            on: self.text(&d.on),
            after: self.text(&d.after),
            done: self.text(&d.done),
            now: d.now,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_both_ends_of_a_thinned_curve_and_drops_what_is_no_number() {
        let mut points: Vec<(f64, f64)> = (0..1000).map(|i| (f64::from(i), 1.0)).collect();
        points.insert(500, (f64::NAN, 2.0));
        points.insert(501, (1e300, 2.0));
        let r = Record { curves: vec![RecordedCurve { points, ..RecordedCurve::default() }], ..Record::default() };
        let f = fitted(&r, &PAGE[0]);
        let p = &f.record.curves[0].points;
        assert_eq!((p.len(), p[0].0, p[199].0), (200, 0.0, 999.0));
        assert!(p.iter().all(|q| q.1 == 1.0));
        assert!(!f.cut);
    }

    #[test]
    fn says_when_something_was_cut() {
        let long = Record { title: "x".repeat(10_000), ..Record::default() };
        assert!(fitted(&long, &PAGE[0]).cut);
        let many = Record { bike: vec!["x".to_owned(); 500], ..Record::default() };
        assert!(fitted(&many, &ROOMY).cut);
        assert!(!fitted(&Record { title: "x".into(), ..Record::default() }, &PAGE[3]).cut);
    }
}
