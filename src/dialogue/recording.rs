//! From where a conversation stands to its record.

use super::bench::Bench;
use super::kit::kit;
use super::known::worn_out;
use super::next;
use super::record::{Record, RecordedDue, RecordedReading, RecordedRide, RecordedSetting};
use super::state::{DangerStatus, Outcome, State, Thread, WearRead};
use crate::belief::{What, in_words};
use crate::domain::{DangerLevel, Urgency};
use crate::trial::{Plan, SOURCE};
use crate::units;

/// Causes less likely than this are left out of the record's beliefs.
const WORTH_RECORDING: f64 = 0.02;

impl Record {
    /// Makes the record of where a conversation stands.
    #[must_use]
    pub fn of(state: &State, bench: &Bench, lines: &[String]) -> Self {
        let mut r = Record { lines: lines.to_vec(), ..Record::default() };
        for o in &state.shared.facts {
            if let What::Is(f, a) = o.evidence.what {
                let f = &bench.library.findings[f.0];
                r.bike.push(format!("{}: {}", f.title, f.answers[a.0].says));
            }
        }
        r.rider =
            state.shared.inputs.iter().map(|(name, text)| format!("{}: {text}", name.replace('-', " "))).collect();
        let mut at = state.clone();
        for i in 0..state.threads.len() {
            at.at = i;
            let t = &state.threads[i];
            if !t.said.is_empty() || !t.works.is_empty() || !t.settings.is_empty() {
                add_thread(&mut r, &at, bench, t);
            }
        }
        r.bike_name = state.shared.bike.clone().unwrap_or_default();
        r.rider_name = state.shared.rider.clone().unwrap_or_default();
        r.trials = state.trials.iter().map(super::trying::Trying::recorded).collect();
        if let super::state::Focus::Trying(t) = &state.focus {
            r.trials.push(t.recorded());
        }
        r.date.clone_from(&state.shared.today);
        over_time(&mut r, state);
        rechecks(&mut r, state, bench);
        r
    }
}

/// Settings and wear over time: what the book holds, and what was read here.
fn over_time(r: &mut Record, state: &State) {
    let shared = &state.shared;
    let reading = |what: &str, si: f64, symbol: &str, on: &str| {
        let unit = units::by_symbol(symbol);
        RecordedReading {
            what: what.to_owned(),
            when: on.to_owned(),
            value: unit.map_or(si, |u| u.value_of(si)),
            unit: symbol.to_owned(),
            ..RecordedReading::default()
        }
    };
    let now = |what: &str| state.threads.iter().flat_map(|t| &t.settings).find(|s| s.what == what).cloned();
    for s in &shared.settings {
        let here = now(&s.what).and_then(|n| Some((n.si?, n.unit)));
        // One unit for the whole line, the one used last.
        let unit = here.as_ref().map_or(&s.now.unit, |h| &h.1);
        r.readings.extend(s.past.iter().filter_map(|p| Some(reading(&s.what, p.si?, unit, &p.on))));
        if let Some((si, _)) = &here {
            r.readings.push(reading(&s.what, *si, unit, &shared.today));
        }
    }
    let read: Vec<&WearRead> = state.threads.iter().flat_map(|t| &t.wear).collect();
    let mut wear: Vec<RecordedReading> = Vec::new();
    let mut put = |what: &str, si: f64, unit: &str, on: &str, limit: Option<f64>| {
        let factor = units::by_symbol(unit);
        wear.push(RecordedReading {
            wear: true,
            limit: limit.map(|l| factor.map_or(l, |u| u.value_of(l))),
            out: limit.is_some_and(|l| worn_out(what, si, l)),
            ..reading(what, si, unit, on)
        });
    };
    for w in &shared.wear {
        let limit = read.iter().find(|n| n.what == w.what).and_then(|n| n.limit).or(w.limit);
        let unit = w.past.last().map(|p| p.unit.as_str()).unwrap_or_default();
        for p in &w.past {
            if let Some(si) = p.si {
                put(&w.what, si, unit, &p.on, limit);
            }
        }
    }
    for w in read {
        let held = shared.wear.iter().find(|h| h.what == w.what).and_then(|h| h.past.last());
        put(&w.what, w.si, held.map_or(&w.unit, |h| &h.unit), &shared.today, w.limit);
    }
    r.readings.extend(wear);
    r.rides.extend(shared.rides.iter().map(|(when, what)| RecordedRide { when: when.clone(), what: what.clone() }));
}

/// What to look at again: as the book has it, or for a bike set up here without a book the plan of its first season.
fn rechecks(r: &mut Record, state: &State, bench: &Bench) {
    let shared = &state.shared;
    r.due.extend(shared.due.iter().map(|d| RecordedDue {
        what: d.what.clone(),
        how: d.why.trim_end_matches(&format!(" ({SOURCE})")).to_owned(),
        on: d.on.clone(),
        after: d.after.clone(),
        done: String::new(),
        now: d.now,
    }));
    if shared.due.is_empty() && shared.set_up {
        let fact = |id: &str| {
            let f = bench.library.finding(id)?;
            Some(bench.library.findings[f.0].answers[state.known(f)?.0.0].id.as_str())
        };
        let plan = Plan { start: 0, metres: 0.0, kit: kit(fact) };
        r.due.extend(plan.schedule().iter().map(|p| RecordedDue {
            what: p.recheck.what.into(),
            how: p.recheck.why.trim_end_matches('.').into(),
            after: format!("{} days or {:.0} km", p.recheck.days, p.recheck.kilometres),
            ..RecordedDue::default()
        }));
    }
}

fn add_thread(r: &mut Record, at: &State, bench: &Bench, t: &Thread) {
    let lib = &bench.library;
    r.complaints.extend(t.said.first().cloned());
    r.findings.extend(next::told(&State { shared: Default::default(), ..at.clone() }, bench));
    let belief = at.belief(bench);
    let solved: Vec<usize> =
        t.works.iter().filter(|(_, o)| matches!(o, Outcome::Helped | Outcome::Partly)).map(|(c, _)| *c).collect();
    for c in &solved {
        let partly = t.works.iter().any(|(w, o)| w == c && *o == Outcome::Partly);
        r.causes.push(format!("{} ({})", lib.causes[*c].title, if partly { "helped in part" } else { "put right" }));
        r.work.push(lib.causes[*c].short.clone());
    }
    let leading = |p: &[f64]| -> Vec<(String, f64)> {
        let mut list: Vec<(usize, f64)> =
            p.iter().copied().enumerate().filter(|(c, p)| *c != bench.model.leak() && *p >= WORTH_RECORDING).collect();
        list.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        list.into_iter().take(6).map(|(c, p)| (lib.causes[c].title.clone(), p)).collect()
    };
    if r.beliefs_after.is_empty() && at.setup.is_none() && !t.first.is_empty() {
        r.beliefs_before = leading(&t.first);
        r.beliefs_after = leading(&belief.p);
    }
    if solved.is_empty() {
        for (c, p) in belief.ranked().into_iter().filter(|(c, p)| *c != bench.model.leak() && *p >= 0.1).take(3) {
            r.causes.push(format!("{} ({})", lib.causes[c].title, in_words(p)));
        }
        let open = next::questions(at, bench, &belief, 3);
        r.open.extend(open.into_iter().map(|f| lib.findings[f.0].ask.clone()));
    }
    for (c, o) in &t.works {
        match o {
            Outcome::No => r.excluded.push(format!("{}: worked on, did not help", lib.causes[*c].title)),
            Outcome::NotDone => r.checks.push(format!("Still to do: {}", lib.causes[*c].short)),
            Outcome::Helped | Outcome::Partly => {
                if let Some(s) = lib.causes[*c].section("Prove it") {
                    let proof = crate::library::steps(&s.markdown);
                    if let Some(first) = proof.first() {
                        r.checks.push(format!("After the next ride: {}", first.text));
                        r.due.push(RecordedDue {
                            what: lib.causes[*c].title.clone(),
                            how: first.text.clone(),
                            after: "the next ride".into(),
                            ..RecordedDue::default()
                        });
                    }
                }
            }
        }
    }
    r.excluded.extend(t.declined.iter().map(|c| format!("{}: not it, as told", lib.causes[*c].title)));
    r.settings.extend(t.settings.iter().map(|s| RecordedSetting {
        what: s.what.clone(),
        before: s.before.clone(),
        after: s.after.clone(),
        how: s.how.clone(),
        measured: String::new(),
        compared: s.compared.clone(),
    }));
    for (d, s) in &t.dangers {
        if matches!(s, DangerStatus::Warned | DangerStatus::Unsure) {
            let danger = &lib.dangers[*d];
            let list = if danger.level == DangerLevel::SeeClinician { &mut r.cautions } else { &mut r.stop };
            list.push(danger.warn.clone());
        }
    }
    let open_urgent =
        t.warned.iter().filter(|c| bench.model.urgency[**c] == Urgency::StopRiding && !solved.contains(c));
    r.stop
        .extend(open_urgent.map(|c| format!("Not to be ridden before this is cleared up: {}.", lib.causes[*c].title)));
    r.cautions.extend(t.cautions.iter().cloned());
    r.figures.extend(t.figures.iter().cloned());
    r.curves.extend(t.curves.iter().cloned());
    r.ladders.extend(t.ladders.iter().cloned());
    r.methods.extend(t.methods.iter().cloned());
}
