//! Measuring the asking: spreads simulated riders over the cores, takes the time, writes the figures.
//!
//! The riders and policies are `belief::simulate`; the figures are the same on every run, the times are not.

use std::io::{self, Write};
use std::time::Instant;

use crate::belief::simulate::{
    Asking, Calibration, Noise, Rider, Subset, Tally, fixed_order, knowledge, play, situation,
};
use crate::belief::{Belief, Circumstances, Evidence, Model, Origin, What};
use crate::domain::{AnswerIx, Finding, FindingIx};
use crate::library::Library;

/// Subsets on which the exact optimum is worked out.
const SUBSETS: u64 = 60;
/// Riders are dealt to the cores in this many lots, so that sums are the same whatever the number of cores.
const LOTS: usize = 32;

/// A question put to many riders.
struct Trial<'a> {
    model: &'a Model,
    findings: &'a [Finding],
    fixed: &'a [FindingIx],
    trouble: Option<FindingIx>,
    weight: &'a (dyn Fn(usize) -> f64 + Sync),
    riders: usize,
}

impl Trial<'_> {
    fn run(&self, asking: Asking, noise: Noise, tempered: bool) -> Tally {
        let lot = |l: usize| {
            let mut tally = Tally::default();
            for i in (l..self.riders).step_by(LOTS) {
                let rider = Rider::draw(self.model, self.findings, self.trouble, i as u64, self.weight);
                let game = play(self.model, self.findings, self.fixed, &rider, asking, noise, tempered);
                tally.add(&game, rider.cause != self.model.leak());
            }
            tally
        };
        let mut sum = Tally::default();
        for t in spread(LOTS, lot) {
            sum.merge(&t);
        }
        sum
    }
}

/// `f(0)`, `f(1)`, ... worked out on all cores, in order.
fn spread<T: Send>(n: usize, f: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from).min(n.max(1));
    let parts: Vec<Vec<T>> = std::thread::scope(|s| {
        let handles: Vec<_> = (0..cores)
            .map(|k| {
                s.spawn({
                    let f = &f;
                    move || (k..n).step_by(cores).map(f).collect()
                })
            })
            .collect();
        handles.into_iter().map(|h: std::thread::ScopedJoinHandle<'_, Vec<T>>| h.join().unwrap_or_default()).collect()
    });
    let mut iters: Vec<_> = parts.into_iter().map(Vec::into_iter).collect();
    (0..n).filter_map(|i| iters[i % cores].next()).collect()
}

/// Writes all figures of the asking over this library.
///
/// # Errors
/// When `out` cannot be written.
pub(super) fn measure(library: &Library, riders: usize, out: &mut impl Write) -> io::Result<()> {
    let started = Instant::now();
    let model = Model::new(&library.causes, &library.findings);
    let findings = &library.findings;
    let fixed = fixed_order(&model, findings);
    let trouble = library.finding("trouble");
    writeln!(out, "causes and guides {}, findings {}", library.causes.len(), findings.len())?;
    let answers = findings.iter().map(|f| f.answers.len()).sum::<usize>() as f64 / findings.len().max(1) as f64;

    writeln!(out, "\n1. Questions and minutes to the right cause ({riders} simulated riders over all)")?;
    writeln!(
        out,
        "A wrong proposal costs min(repair, 6) minutes, of a guide 3; when no cause is 6 % likely and nothing is left to ask, a mechanic's 60 minutes, for every way alike. Riders whose cause is in no note count in 2 only."
    )?;
    let prior = |c: usize| model.prior[c];
    let all = Trial { model: &model, findings, fixed: &fixed, trouble, weight: &prior, riders };
    let mut calibration = Vec::new();
    for (name, noise) in [("answers as in the model", Noise::NONE), ("10 % wrong, 20 % don't know", Noise::MUCH)] {
        let tallies: Vec<(Asking, Tally)> = Asking::ALL.iter().map(|a| (*a, all.run(*a, noise, true))).collect();
        table(out, name, &tallies, answers)?;
        if let Some((_, t)) = tallies.into_iter().next() {
            calibration.push((name, t));
        }
    }
    writeln!(out, "\nby system ({} riders each): questions / minutes / right at first proposal", riders)?;
    let mut systems: Vec<&str> = library.causes.iter().map(|c| c.system.as_str()).collect();
    systems.sort_unstable();
    systems.dedup();
    for s in systems {
        let weight = |c: usize| library.causes.get(c).filter(|c| c.system == s).map_or(0.0, |_| model.prior[c]);
        let trial = Trial { weight: &weight, riders, ..all };
        let cells: Vec<String> = [
            (Asking::Ours, Noise::NONE),
            (Asking::Ours, Noise::MUCH),
            (Asking::Fixed, Noise::NONE),
            (Asking::Probable, Noise::NONE),
        ]
        .into_iter()
        .map(|(a, n)| {
            let t = trial.run(a, n, true);
            let noisy = if n == Noise::NONE { "" } else { ", noisy" };
            format!("{}{noisy} {:.1}/{:.1}/{:.0} %", a.word(), t.questions(), t.minutes(), 100.0 * t.right_first())
        })
        .collect();
        writeln!(out, "  {s:<12} {}", cells.join("; "))?;
    }
    subsets(out, &model, findings)?;

    writeln!(out, "\n2. Calibration of the leading belief (aims: 0.05 without noise, 0.10 with)")?;
    for (name, t) in &calibration {
        reliability(out, &format!("{name}, at proposal"), &t.at_proposal)?;
        reliability(out, &format!("{name}, at all steps"), &t.at_steps)?;
    }
    for (name, noise) in [("answers as in the model", Noise::NONE), ("10 % wrong, 20 % don't know", Noise::MUCH)] {
        let t = all.run(Asking::Ours, noise, false);
        reliability(out, &format!("{name}, first message not tempered, at proposal"), &t.at_proposal)?;
        reliability(out, &format!("{name}, first message not tempered, at all steps"), &t.at_steps)?;
    }
    writeln!(out, "\n3. Published worked numbers: see tests/all/belief.rs")?;
    speed(out)?;
    writeln!(out, "\nall of it took {:.0} s", started.elapsed().as_secs_f64())
}

fn table(out: &mut impl Write, name: &str, tallies: &[(Asking, Tally)], answers: f64) -> io::Result<()> {
    writeln!(out, "{name}:")?;
    let ours = tallies.iter().find(|(a, _)| *a == Asking::Ours).map_or(f64::NAN, |(_, t)| t.minutes());
    for (a, t) in tallies {
        writeln!(
            out,
            "  {:<20} questions {:>5.2}  minutes {:>6.2}  right at first proposal {:>3.0} %  ours is {:>3.0} % of it  to a mechanic {:.0} %",
            a.word(),
            t.questions(),
            t.minutes(),
            100.0 * t.right_first(),
            100.0 * ours / t.minutes(),
            100.0 * t.mechanic()
        )?;
    }
    let entropy = tallies.first().map_or(0.0, |(_, t)| t.entropy());
    let ranks = tallies.first().map_or([0.0; 3], |(_, t)| t.ranks());
    let [first, three, ten] = ranks.map(|r| 100.0 * r);
    writeln!(out, "  after the first message: first {first:.0} %, in three {three:.0} %, in ten {ten:.0} %")?;
    writeln!(
        out,
        "  lower bound: {entropy:.2} bits after the first message / log2({answers:.2} answers) = {:.2} questions",
        entropy / answers.log2()
    )
}

fn subsets(out: &mut impl Write, model: &Model, findings: &[Finding]) -> io::Result<()> {
    let found = spread(SUBSETS as usize, |i| {
        let s = Subset::draw(model, findings, i as u64);
        (s.causes(), s.findings.len(), s.compare())
    });
    let sum = |f: &dyn Fn(&(usize, usize, crate::belief::simulate::Versus)) -> f64| found.iter().map(f).sum::<f64>();
    let (optimum, ours, silent) = (sum(&|v| v.2.optimum), sum(&|v| v.2.ours), sum(&|v| v.2.silent));
    let n = found.len().max(1) as f64;
    let mut over: Vec<f64> = found.iter().map(|v| 100.0 * (v.2.ours / v.2.optimum.max(1e-9) - 1.0)).collect();
    over.sort_by(f64::total_cmp);
    writeln!(
        out,
        "exact optimum on {} random subsets (4 to 10 causes, mean {:.1}; findings, mean {:.1}, at most {}): optimum {:.3} min, ours {:.3} min ({:+.1} %; median {:+.1} %, worst {:+.1} %), no question {:.3} min",
        found.len(),
        sum(&|v| v.0 as f64) / n,
        sum(&|v| v.1 as f64) / n,
        found.iter().map(|v| v.1).max().unwrap_or(0),
        optimum / n,
        ours / n,
        100.0 * (ours / optimum.max(1e-9) - 1.0),
        over.get(over.len() / 2).copied().unwrap_or(0.0),
        over.last().copied().unwrap_or(0.0),
        silent / n
    )
}

fn reliability(out: &mut impl Write, name: &str, c: &Calibration) -> io::Result<()> {
    writeln!(out, "{name}: expected calibration error {:.3}", c.error())?;
    let cells: Vec<String> =
        c.table().iter().map(|(n, p, right)| format!("{:.0}:{:.0} ({n})", 100.0 * p, 100.0 * right)).collect();
    writeln!(out, "  said : right, in % (count): {}", cells.join("  "))
}

fn speed(out: &mut impl Write) -> io::Result<()> {
    writeln!(out, "\n4. Time per step (belief, ranking, policy) on one core, synthetic causes (aims 1, 5, 50 ms)")?;
    let mut before: Option<(f64, usize)> = None;
    for causes in [100, 1_000, 10_000] {
        let (model, findings) = knowledge(causes, 1);
        let circumstances = Circumstances::default();
        // Five answers are in: a step in the middle of a conversation.
        let evidence: Vec<Evidence> = (0..5)
            .map(|i| Evidence {
                what: What::Is(FindingIx(i * findings.len() / 5), AnswerIx(i % 4)),
                reliability: 0.92,
                origin: Origin::Answered,
            })
            .collect();
        let rounds = (20_000 / causes).max(5);
        let mut times: Vec<f64> = (0..rounds)
            .map(|_| {
                let t = Instant::now();
                let belief = Belief::new(&model, &evidence);
                let act = situation(&model, &findings, &belief, &circumstances).next_act();
                std::hint::black_box(act);
                t.elapsed().as_secs_f64() * 1e3
            })
            .collect();
        times.sort_by(f64::total_cmp);
        let (ms, bytes) = (times[times.len() / 2], model.bytes());
        let growth = before
            .map(|(t, b)| format!("; times {:.1}, memory times {:.1}", ms / t, bytes as f64 / b as f64))
            .unwrap_or_default();
        writeln!(
            out,
            "  {causes:>6} causes: median {ms:.2} ms, slowest {:.2} ms, model {:.2} MB ({:.0} bytes a cause){growth}",
            times.last().copied().unwrap_or(0.0),
            bytes as f64 / 1e6,
            bytes as f64 / causes as f64
        )?;
        before = Some((ms, bytes));
    }
    Ok(())
}
