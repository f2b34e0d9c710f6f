//! The state of a conversation: threads, what is shared between them, and which prompt is open.

use std::collections::{BTreeMap, BTreeSet};

use super::bench::Bench;
use super::figures::CalcRun;
use super::held::{KnownDue, KnownSetting, KnownTrial, KnownWear};
use super::record::{RecordedCurve, RecordedFigure, RecordedLadder};
use super::setup::Setup;
use super::trying::Trying;
use super::work::Work;
use crate::belief::{Belief, Circumstances, Evidence, Origin, What};
use crate::domain::{AnswerIx, FindingIx};

/// A piece of evidence with the words that brought it.
#[derive(Clone, Debug, PartialEq)]
pub struct Observation {
    /// The evidence.
    pub evidence: Evidence,
    /// The words, or the answer as shown.
    pub words: String,
}

/// Why a question stays unanswered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passed {
    /// The person does not know.
    DontKnow,
    /// It cannot be checked now.
    CantNow,
}

/// How far a told danger has been dealt with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DangerStatus {
    /// To be asked.
    Open,
    /// To be asked; the person only wondered whether it might be so.
    Wondered,
    /// Warned.
    Warned,
    /// Denied when asked.
    Denied,
    /// Asked, and the person did not know.
    Unsure,
}

impl DangerStatus {
    /// Still to be asked.
    #[must_use]
    pub fn is_open(self) -> bool {
        matches!(self, Self::Open | Self::Wondered)
    }
}

/// What came of work that was led.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It helped.
    Helped,
    /// It helped in part.
    Partly,
    /// It did not help.
    No,
    /// It could not be done.
    NotDone,
}

/// A setting or measured value, for the card.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Setting {
    /// What it is.
    pub what: String,
    /// Value before, if known.
    pub before: Option<String>,
    /// Value after.
    pub after: String,
    /// Where it comes from.
    pub how: String,
    /// The value after in SI units, if it is a quantity.
    pub si: Option<f64>,
    /// Symbol of the unit of the value after.
    pub unit: String,
    /// How far it is from the card, in words; empty when the book holds nothing to compare with.
    pub compared: String,
    /// From now on others are compared with it.
    pub baseline: bool,
}

/// Wear that was read in this conversation.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WearRead {
    /// The part and what was read.
    pub what: String,
    /// The reading as a person reads it.
    pub shown: String,
    /// The reading in SI units.
    pub si: f64,
    /// Symbol of its unit.
    pub unit: String,
    /// Worn out at this reading, SI units, if known.
    pub limit: Option<f64>,
}

/// One complaint.
#[derive(Clone, Debug, Default)]
pub struct Thread {
    /// What the person typed about it.
    pub said: Vec<String>,
    /// Evidence.
    pub observations: Vec<Observation>,
    /// Questions asked, in order.
    pub asked: Vec<FindingIx>,
    /// Questions not answered.
    pub passed: BTreeMap<FindingIx, Passed>,
    /// Dangers told.
    pub dangers: BTreeMap<usize, DangerStatus>,
    /// The warning from belief has been given for these causes.
    pub warned: BTreeSet<usize>,
    /// What is urgent and possible has been named.
    pub look_first: bool,
    /// The clinician line has been given.
    pub clinician: bool,
    /// Causes offered and declined without work.
    pub declined: BTreeSet<usize>,
    /// Work led, and what came of it.
    pub works: Vec<(usize, Outcome)>,
    /// Settings computed or told.
    pub settings: Vec<Setting>,
    /// Cautions given at steps.
    pub cautions: Vec<String>,
    /// Ask more before offering again.
    pub ask_more: usize,
    /// Likeness of the words, as log-weights.
    pub likeness: Vec<(usize, f64)>,
    /// Belief as last shown, for what moved.
    pub shown: Vec<f64>,
    /// Belief when the complaint had just been told.
    pub first: Vec<f64>,
    /// Figures computed, for the record.
    pub figures: Vec<RecordedFigure>,
    /// Curves computed.
    pub curves: Vec<RecordedCurve>,
    /// Ladders computed.
    pub ladders: Vec<RecordedLadder>,
    /// Methods side by side.
    pub methods: Vec<RecordedLadder>,
    /// Wear read.
    pub wear: Vec<WearRead>,
    /// Minutes spent on checks.
    pub minutes: f64,
}

/// Facts about rider and bike that hold for every thread.
#[derive(Clone, Debug, Default)]
pub struct Shared {
    /// Bike facts.
    pub facts: Vec<Observation>,
    /// Everything typed, for calculators' inputs.
    pub said: Vec<String>,
    /// Name of the bike in the book.
    pub bike: Option<String>,
    /// Name of the rider in the book.
    pub rider: Option<String>,
    /// Settings that the book holds.
    pub settings: Vec<KnownSetting>,
    /// Wear that the book holds.
    pub wear: Vec<KnownWear>,
    /// Checks still to be done, by the book.
    pub due: Vec<KnownDue>,
    /// Trials that the book holds open.
    pub trials: Vec<KnownTrial>,
    /// Rides of trials in the book: the day and what was ridden.
    pub rides: Vec<(String, String)>,
    /// The day, as `2026-05-03`, as the book's answer told it; empty without a book.
    pub today: String,
    /// The set-up of a new bike was begun here.
    pub set_up: bool,
    /// Inputs known by name, as typed.
    pub inputs: BTreeMap<String, String>,
    /// What the person can do here and now.
    pub circumstances: Circumstances,
    /// Mechanic's short form.
    pub trade: bool,
    /// Notes last listed, by number: id.
    pub listed: Vec<String>,
}

/// The prompt that is open.
#[derive(Clone, Debug, Default)]
pub enum Focus {
    /// None: a complaint, a question or a command is awaited.
    #[default]
    Open,
    /// A danger's question.
    Danger(usize),
    /// A finding's question.
    Finding(FindingIx),
    /// Which of two answers holds.
    Conflict {
        /// The finding.
        finding: FindingIx,
        /// The answer before.
        old: AnswerIx,
        /// The answer now.
        new: AnswerIx,
    },
    /// A cause is offered.
    Offer(usize),
    /// Work is led.
    Work(Box<Work>),
    /// A calculator asks its inputs.
    Calc(Box<CalcRun>),
    /// The set-up asks facts or offers a stage.
    Setup,
    /// A trial asks what it needs, or how a ride felt.
    Trying(Box<Trying>),
}

/// All of it; cheap to clone, so that going back is exact.
#[derive(Clone, Debug, Default)]
pub struct State {
    /// Threads; the last opened need not be the current one.
    pub threads: Vec<Thread>,
    /// The current thread.
    pub at: usize,
    /// Shared facts.
    pub shared: Shared,
    /// The open prompt.
    pub focus: Focus,
    /// The set-up of a new bike, while it runs.
    pub setup: Option<Setup>,
    /// Trials so far.
    pub trials: Vec<Trying>,
    /// The last calculation, for comparing.
    pub last_run: Option<Box<CalcRun>>,
}

impl State {
    /// The current thread, opened if there is none.
    pub fn thread(&mut self) -> &mut Thread {
        if self.threads.is_empty() {
            self.threads.push(Thread::default());
            self.at = 0;
        }
        let at = self.at.min(self.threads.len() - 1);
        &mut self.threads[at]
    }

    /// The current thread, if any.
    #[must_use]
    pub fn current(&self) -> Option<&Thread> {
        self.threads.get(self.at)
    }

    /// All evidence of the current thread, the likeness of its words included.
    #[must_use]
    pub fn evidence(&self) -> Vec<Evidence> {
        let mut out: Vec<Evidence> = self.shared.facts.iter().map(|o| o.evidence.clone()).collect();
        if let Some(t) = self.current() {
            out.extend(t.observations.iter().map(|o| o.evidence.clone()));
            if !t.likeness.is_empty() {
                out.push(Evidence {
                    what: What::Likeness(t.likeness.clone()),
                    reliability: 1.0,
                    origin: Origin::Likeness,
                });
            }
        }
        out
    }

    /// Belief of the current thread.
    #[must_use]
    pub fn belief(&self, bench: &Bench) -> Belief {
        Belief::new(&bench.model, &self.evidence())
    }

    /// What is known of a finding: the answer and how far it can be relied on.
    #[must_use]
    pub fn known(&self, finding: FindingIx) -> Option<(AnswerIx, f64)> {
        let thread = self.current().map(|t| t.observations.as_slice()).unwrap_or_default();
        self.shared.facts.iter().chain(thread).find_map(|o| match o.evidence.what {
            What::Is(f, a) if f == finding => Some((a, o.evidence.reliability)),
            _ => None,
        })
    }

    /// Whether something has been said of a finding, a weak denial apart.
    #[must_use]
    pub fn heard(&self, finding: FindingIx) -> bool {
        let thread = self.current().map(|t| t.observations.as_slice()).unwrap_or_default();
        self.shared.facts.iter().chain(thread).any(|o| match &o.evidence.what {
            What::Is(f, _) => *f == finding && (o.evidence.reliability >= 0.45 || o.evidence.origin != Origin::Said),
            What::Among(f, _) => *f == finding,
            _ => false,
        })
    }

    /// Puts an observation in its place, instead of an earlier one on the same finding.
    pub fn observe(&mut self, bench: &Bench, o: Observation) {
        let fact = o.evidence.finding().is_some_and(|f| bench.library.findings[f.0].fact);
        let list = if fact { &mut self.shared.facts } else { &mut self.thread().observations };
        if let Some(f) = o.evidence.finding() {
            list.retain(|old| old.evidence.finding() != Some(f));
        }
        list.push(o);
    }
}
