//! What a calculation leaves behind: settings for the card, and all of it for the pictures.
//!
//! Must not show anything.

use super::CalcRun;
use super::worn::worn;
use crate::calc::{Chart, Outcome};
use crate::dialogue::apart::apart;
use crate::dialogue::record::{RecordedCurve, RecordedFigure, RecordedLadder, RecordedMark, RecordedRung};
use crate::dialogue::state::{Setting, State};

/// Keeps the first figures as settings for the card, and all of it for the pictures.
pub(super) fn keep(state: &mut State, run: &CalcRun, outcome: &Outcome) {
    let preference = run.values.preference();
    let id = run.calc.id;
    let known = state.shared.settings.clone();
    let t = state.thread();
    t.figures.retain(|f| f.calculator != id);
    for f in &outcome.figures {
        let end = match (id, f.id) {
            // The side view knows the height from the crank axle only, and sag by its end.
            ("saddle-height", "start") if run.values.choice("end").is_some_and(|e| e != "bottom-bracket") => {
                "start-from-pedal"
            }
            ("sag", "sag") if run.values.choice("place") == Some("fork") => "sag-fork",
            ("sag", "sag") => "sag-rear",
            (_, other) => other,
        };
        t.figures.push(RecordedFigure {
            calculator: id.into(),
            id: end.into(),
            label: f.label.into(),
            // Beside a drawing there is no room for the second unit.
            shown: f.say(preference).split(" (").next().unwrap_or_default().to_owned(),
            si: f.quantity.si,
            unit: f.shown.metric.symbol.into(),
            lo: f.band.map(|b| b.0),
            hi: f.band.map(|b| b.1),
        });
    }
    let title = run.calc.title;
    match &outcome.chart {
        Some(Chart::Curve { across, up, points, marks }) => {
            t.curves.retain(|c| c.title != title);
            t.curves.push(RecordedCurve {
                title: title.into(),
                x: format!("{} {}", across.0, across.1),
                y: format!("{} {}", up.0, up.1),
                points: points.clone(),
                marks: marks
                    .iter()
                    .map(|(label, x, y)| RecordedMark { x: *x, y: *y, label: label.clone(), role: String::new() })
                    .collect(),
            });
        }
        Some(Chart::Ladder { unit, rungs }) => {
            let rungs = rungs.iter().map(|r| RecordedRung {
                label: r.label.clone(),
                value: r.value,
                ..RecordedRung::default()
            });
            t.ladders.retain(|l| l.title != title);
            t.ladders.push(RecordedLadder { title: title.into(), unit: (*unit).into(), rungs: rungs.collect() });
        }
        Some(Chart::Bars { unit, bars }) => {
            let rungs = bars.iter().map(|b| RecordedRung {
                label: b.label.clone(),
                value: b.value,
                shown: String::new(),
                lo: Some(b.low),
                hi: Some(b.high),
            });
            t.methods.retain(|l| l.title != title);
            t.methods.push(RecordedLadder { title: title.into(), unit: (*unit).into(), rungs: rungs.collect() });
        }
        None => {}
    }
    if let Some(read) = worn(run, outcome) {
        let wear = &mut state.thread().wear;
        wear.retain(|w| w.what != read.what);
        wear.push(read);
        // Wear is no setting: it has a table of its own.
        return;
    }
    for f in outcome.figures.iter().take(3) {
        let what = format!("{}: {}", run.calc.title, f.label.to_lowercase());
        let band = f.say_band(preference).map(|b| format!(" ({b})")).unwrap_or_default();
        let after = format!("{}{band}", f.say(preference));
        let card = known.iter().find(|k| k.what == what);
        let (si, unit) = (f.quantity.si, f.shown.metric.symbol);
        let settings = &mut state.thread().settings;
        let earlier = settings.iter().find(|s| s.what == what).map(|s| s.after.clone());
        let before = earlier.or_else(|| card.map(|k| k.now.text.clone()));
        settings.retain(|s| s.what != what);
        settings.push(Setting {
            compared: card.and_then(|k| apart(&what, si, unit, &k.card)).unwrap_or_default(),
            what,
            before,
            after,
            how: "computed".into(),
            si: Some(si),
            unit: unit.into(),
            baseline: card.is_none(),
        });
    }
}
