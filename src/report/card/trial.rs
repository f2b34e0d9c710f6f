//! The trial card: one setting, to be ridden in small steps and filled in by pencil.

use super::super::doc::{Body, Cell, Part, Table, list, pictures};
use super::super::picture;
use crate::dialogue::{Record, RecordedTrial};

/// Rides on an empty form: three pairs, as many as fit a ride out and home with stops. (Our own choice.)
const RIDES: usize = 6;
const VERDICT: Cell = Cell::Boxes(&["better", "same", "worse"]);

/// Its parts; without a trial on the record an empty form that serves for any setting.
pub(super) fn parts(r: &Record) -> Vec<Part> {
    let mut p = Vec::new();
    list(&mut p, "Cautions", &r.cautions);
    if r.trials.is_empty() {
        empty(&mut p, r);
    }
    for t in &r.trials {
        trial(&mut p, r, t);
    }
    p.push(Part { title: "Notes".into(), body: Body::Lines(3) });
    p
}

fn empty(p: &mut Vec<Part>, r: &Record) {
    let blank = |head: Vec<&'static str>| Table { rows: vec![vec![Cell::Write; head.len()]], head, pencil: true };
    p.push(Part {
        title: "One thing at a time".into(),
        body: Body::Table(blank(vec!["What changes", "From", "By steps of", "Never beyond"])),
    });
    let start: Vec<String> = r.settings.iter().map(|s| format!("{}: {}", s.what, s.after)).collect();
    list(p, "Set now", &start);
    let rows = (1..=RIDES).map(|n| vec![Cell::of(n.to_string()), Cell::Write, Cell::Write, VERDICT, Cell::Write]);
    p.push(Part {
        title: "Rides".into(),
        body: Body::Table(Table {
            head: vec!["Ride", "Setting", "Date", "Than the one before", "Felt"],
            rows: rows.collect(),
            pencil: true,
        }),
    });
}

fn trial(p: &mut Vec<Part>, r: &Record, t: &RecordedTrial) {
    let letters = Letters::of(t);
    let mut plan = vec![format!("Only this changes: {}.", t.setting)];
    if !t.baseline.is_empty() && !t.blind {
        plan.push(format!("Starts from: {}.", t.baseline));
    }
    if !t.change.is_empty() && !t.blind {
        plan.push(format!("Steps: {}.", t.change));
    }
    if t.blind {
        plan.push("Blind: somebody else sets the bike and keeps the key to the letters until the last ride.".into());
    }
    if !t.ride.is_empty() {
        plan.push(format!("Ride: {}.", t.ride.trim_end_matches('.')));
    }
    list(p, &format!("Trial: {}", t.setting), &plan);
    list(p, "Limits, and when to go back to the start", &t.stop);
    list(p, "Feel for", &t.feel);
    p.push(Part { title: "Rides".into(), body: Body::Table(rides(t, &letters)) });
    // Words on how the trial stands name the settings; a blind rider reads them after the last ride.
    if !t.verdict.is_empty() && (!t.blind || t.runs.len() >= t.planned.len()) {
        p.push(Part { title: "So far".into(), body: Body::Say(t.verdict.clone()) });
    }
    if !t.blind {
        // The picture names the settings, which a blind rider must not know.
        pictures(p, picture::history_of(r, &t.setting));
    }
}

fn rides(t: &RecordedTrial, letters: &Letters<'_>) -> Table {
    let mut rows = Vec::new();
    for n in 0..t.runs.len().max(t.planned.len()).max(if t.planned.is_empty() { RIDES } else { 0 }) {
        let run = t.runs.get(n);
        let setting = run.map(|r| &r.setting).filter(|s| !s.is_empty()).or(t.planned.get(n));
        let given = |text: Option<&String>| text.filter(|s| !s.is_empty()).map_or(Cell::Write, Cell::of);
        rows.push(vec![
            Cell::of((n + 1).to_string()),
            setting.map_or(Cell::Write, |s| Cell::of(letters.name(s))),
            given(run.map(|r| &r.when)),
            run.map(|r| &r.verdict).filter(|v| !v.is_empty()).map_or(VERDICT, Cell::of),
            Cell::Write,
        ]);
    }
    Table { head: vec!["Ride", "Setting", "Date", "Than the one before", "Felt"], rows, pencil: true }
}

/// What stands for a setting on the card: the setting, or a letter where the rider must not know it.
struct Letters<'a> {
    hidden: Option<Vec<&'a str>>,
}

impl<'a> Letters<'a> {
    fn of(t: &'a RecordedTrial) -> Self {
        let mut seen: Vec<&str> = Vec::new();
        for s in t.planned.iter().chain(t.runs.iter().map(|r| &r.setting)) {
            if !seen.contains(&s.as_str()) {
                seen.push(s);
            }
        }
        Letters { hidden: t.blind.then_some(seen) }
    }

    fn name(&self, setting: &str) -> String {
        let Some(seen) = &self.hidden else { return setting.to_owned() };
        match seen.iter().position(|s| *s == setting) {
            Some(i) if i < 26 => char::from(b'A' + i as u8).to_string(),
            Some(i) => format!("no. {}", i + 1),
            None => String::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dialogue::RecordedRun;

    #[test]
    fn a_blind_card_does_not_betray_the_settings() {
        let t = RecordedTrial {
            setting: "Rebound".into(),
            baseline: "6 clicks".into(),
            change: "2 clicks".into(),
            blind: true,
            planned: vec!["8 clicks".into(), "6 clicks".into(), "8 clicks".into()],
            verdict: "8 clicks was better.".into(),
            runs: vec![RecordedRun { setting: "8 clicks".into(), verdict: "better".into(), ..Default::default() }],
            ..Default::default()
        };
        let shown = format!("{:?}", parts(&Record { trials: vec![t], ..Record::default() }));
        assert!(!shown.contains("clicks"), "{shown}");
        assert!(shown.contains("Text(\"A\")") && shown.contains("Text(\"B\")"));
    }
}
