//! The policy: ask which question, offer which cause, or give up. Conversation and simulation share it.
//!
//! Owns the thresholds and the order of precedence: safety, certainty, expected minutes. Knows nothing of prompts or text.

use super::ahead::{Prospect, look_ahead, minutes_to_be_sure};
use super::choose::{Answering, Candidate, Circumstances, information_about, rank_questions};
use super::model::Model;
use super::posterior::Belief;
use crate::domain::{AnswerIx, Finding, FindingIx, How, Urgency};

/// A cause this likely is offered without asking on.
const OFFER: f64 = 0.90;
/// A guide this likely is: nothing is lost by showing how a thing is done.
const OFFER_GUIDE: f64 = 0.5;
/// A question that tells less than this many bits is not worth asking.
const LEAST_BITS: f64 = 0.05;
/// A question must tell this share of the bits per minute that proposing tells, while nothing has been proposed yet: a wrong
/// first proposal costs trust, so asking has the start.
const START: f64 = 0.10;
/// The share once something has been proposed in vain.
const AFTER_WRONG: f64 = 0.70;
/// After this many questions the best guess is offered.
const MOST_QUESTIONS: usize = 24;
/// And so many more after each wrong offer.
const MORE_QUESTIONS: usize = 6;
/// Looking ahead is worth it when the hypotheses looked at one by one are together this likely.
const LOOK_AHEAD: f64 = 0.99;
/// Below this an offer is a guess, and what is nearly as likely but done much sooner is worth naming beside it.
const GUESS: f64 = 0.35;
/// What has at least this share of the likeliest one's probability is nearly as likely.
const NEARLY: f64 = 0.5;
/// Below this the notes have nothing to offer.
pub(super) const LEAST_OFFER: f64 = 0.06;
/// Stop-riding causes together within these bounds are asked about first: below they are remote, above they are warned of.
const ASK_SAFETY: std::ops::Range<f64> = 0.12..0.85;
/// Nobody is sent riding while stop-riding causes together are likelier than this.
const NO_RIDE: f64 = 0.25;
/// A question about safety must tell at least this many bits about it a minute.
const SAFETY_RATE: f64 = 0.05;
/// And so many bits about everything.
const SAFETY_BITS: f64 = 0.03;
/// Questions looked at for safety, the best by bits per minute.
const SAFETY_QUESTIONS: usize = 12;

/// All that the next act depends on.
#[derive(Clone, Debug)]
pub struct Situation<'a> {
    /// The numbers.
    pub model: &'a Model,
    /// The findings, in the model's order.
    pub findings: &'a [Finding],
    /// The belief now.
    pub belief: &'a Belief,
    /// What the person can do here and now.
    pub circumstances: &'a Circumstances,
    /// Findings heard, asked or passed: not to be asked again.
    pub closed: Vec<bool>,
    /// What is known of each finding, and how reliably (0 to 1).
    pub known: Vec<Option<(AnswerIx, f64)>>,
    /// Hypotheses declined or worked on in vain.
    pub out: Vec<bool>,
    /// A stop-riding warning has been given.
    pub warned: bool,
    /// How this person could answer so far.
    pub answering: Answering,
    /// Questions asked so far.
    pub asked: usize,
    /// The person wants to be asked more before anything is offered.
    pub more: bool,
}

/// What to do next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Act {
    /// Ask this.
    Ask(Candidate),
    /// Offer this hypothesis, so likely.
    Offer(usize, f64),
    /// Nothing is left worth asking or offering.
    GiveUp,
}

impl Situation<'_> {
    /// Whether a finding may be asked for: open, possible here and now, safe, and about parts that the bike has.
    #[must_use]
    pub fn may_ask(&self, f: FindingIx) -> bool {
        let finding = &self.findings[f.0];
        if self.closed[f.0] || !self.circumstances.allow(finding) {
            return false;
        }
        if finding.how == How::Ride && (self.warned || self.belief.mass(self.model, Urgency::StopRiding) > NO_RIDE) {
            return false;
        }
        finding.needs.iter().all(|n| match self.known[n.finding.0] {
            Some((a, sure)) if sure >= 0.5 => n.allowed.contains(&a),
            _ => self.share(n.finding, &n.allowed) >= 0.5,
        })
    }

    /// How likely one of these answers is the true one.
    fn share(&self, finding: FindingIx, answers: &[AnswerIx]) -> f64 {
        let table = &self.model.tables[finding.0];
        let of = |row: &[f64]| answers.iter().map(|a| row[a.0]).sum::<f64>();
        let listed: f64 = table.rows.iter().map(|(c, _)| self.belief.p[*c]).sum();
        table.rows.iter().map(|(c, row)| self.belief.p[*c] * of(row)).sum::<f64>() + (1.0 - listed) * of(&table.usual)
    }

    /// All questions that may be asked, by bits per minute, best first; ties by position.
    #[must_use]
    pub fn questions(&self) -> Vec<Candidate> {
        rank_questions(self.model, self.findings, self.belief, &self.answering, |f| self.may_ask(f))
    }

    /// The likeliest cause that has not been declined or worked on in vain; ties by position.
    #[must_use]
    pub fn offerable(&self) -> Option<(usize, f64)> {
        let leak = self.model.leak();
        let causes = self.belief.p[..leak].iter().copied().enumerate();
        causes.filter(|(c, _)| !self.out[*c]).max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
    }

    /// While a stop-riding cause is possible: the question that tells most about it.
    fn safety_question(&self, ranked: &[Candidate]) -> Option<Candidate> {
        if self.warned || !ASK_SAFETY.contains(&self.belief.mass(self.model, Urgency::StopRiding)) {
            return None;
        }
        let urgent = |h: usize| self.model.urgency[h] == Urgency::StopRiding;
        ranked
            .iter()
            .take(SAFETY_QUESTIONS)
            .map(|c| (c, information_about(self.model, self.belief, c.finding, urgent) / c.minutes))
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.finding.cmp(&a.0.finding)))
            .filter(|(c, rate)| *rate > SAFETY_RATE && c.bits >= SAFETY_BITS)
            .map(|(c, _)| *c)
    }

    /// The best question that may be asked now, whether or not it is worth it.
    #[must_use]
    pub fn best_question(&self) -> Option<Candidate> {
        let ranked = self.questions();
        self.safety_question(&ranked).or_else(|| self.cheapest(&ranked).0).or_else(|| ranked.first().copied())
    }

    /// The question with the fewest expected minutes, and whether it beats proposing now.
    fn cheapest(&self, ranked: &[Candidate]) -> (Option<Candidate>, bool) {
        let (least, rate) =
            if self.more { (1e-6, 0.0) } else { (LEAST_BITS, self.worth_asking() * self.proposing_tells()) };
        let telling: Vec<Candidate> = ranked.iter().copied().filter(|q| q.bits >= least && q.rate() >= rate).collect();
        // With nothing to ask, the search only says what proposing costs.
        let least = if telling.is_empty() { 0.0 } else { LOOK_AHEAD };
        match look_ahead(self.model, self.findings, self.belief, &telling, least, |c| self.out[c]) {
            // Too much is still hidden in the rest: what tells most per minute cuts deepest.
            None => (telling.first().copied(), true),
            Some(Prospect { propose, ask: Some((q, minutes)) }) => (Some(q), minutes < propose),
            Some(Prospect { ask: None, .. }) => (None, false),
        }
    }

    /// Bits per minute of proposing the likeliest hypothesis: right or wrong, it is a question too, which costs the minutes to
    /// be sure when it is wrong.
    fn proposing_tells(&self) -> f64 {
        let Some((c, p)) = self.offerable() else { return 0.0 };
        let wrong = 1.0 - p;
        if p <= 0.0 || wrong <= 0.0 {
            return 0.0;
        }
        (-p * p.log2() - wrong * wrong.log2()) / (wrong * minutes_to_be_sure(self.model, c))
    }

    /// The share of that which a question must tell per minute to be asked first.
    fn worth_asking(&self) -> f64 {
        if self.wrong_offers() > 0 { AFTER_WRONG } else { START }
    }

    /// Whether hypothesis `c` is likely enough at `p` to be offered without asking on.
    #[must_use]
    pub fn sure_enough(&self, c: usize, p: f64) -> bool {
        p >= if self.model.guide[c] { OFFER_GUIDE } else { OFFER }
    }

    /// The best guess, or giving up when the notes have nothing to offer.
    #[must_use]
    pub fn best_offer(&self) -> Act {
        match self.offerable() {
            Some((c, p)) if p >= LEAST_OFFER => Act::Offer(c, p),
            _ => Act::GiveUp,
        }
    }

    /// What to do next: be sure enough, settle safety, ask what saves minutes, offer the best guess, or give up.
    #[must_use]
    pub fn next_act(&self) -> Act {
        let sure = self.offerable().is_some_and(|(c, p)| self.sure_enough(c, p));
        let offer = self.best_offer();
        if !self.more && (sure || self.asked >= self.most_questions()) {
            return offer;
        }
        let ranked = self.questions();
        if let Some(q) = self.safety_question(&ranked) {
            return Act::Ask(q);
        }
        let (question, saves) = self.cheapest(&ranked);
        match question {
            Some(q) if saves || self.more => Act::Ask(q),
            _ => offer,
        }
    }

    /// What to try before `top` when that is but a guess: a mechanic greases the pedals before the frame's bearing is pressed
    /// out. The most probability per minute of the whole work (p/C) among what is nearly as likely and takes half the time.
    #[must_use]
    pub fn sooner(&self, top: (usize, f64)) -> Option<(usize, f64)> {
        let minutes = |c: usize| self.model.minutes[c];
        let near = self.belief.p[..self.model.leak()].iter().copied().enumerate();
        near.filter(|(c, p)| !self.out[*c] && !self.model.guide[*c] && *p >= LEAST_OFFER.max(NEARLY * top.1))
            .filter(|(c, _)| top.1 < GUESS && minutes(*c) <= 0.5 * minutes(top.0))
            .max_by(|a, b| (a.1 / minutes(a.0)).total_cmp(&(b.1 / minutes(b.0))).then(b.0.cmp(&a.0)))
    }

    /// Questions at most before something is offered; each wrong offer buys some more.
    pub(super) fn most_questions(&self) -> usize {
        MOST_QUESTIONS + MORE_QUESTIONS * self.wrong_offers()
    }

    /// Hypotheses declined or worked on in vain.
    fn wrong_offers(&self) -> usize {
        self.out.iter().filter(|o| **o).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::belief::simulate::{knowledge, situation};
    use crate::belief::{Evidence, Origin, Table, What};

    /// Two causes and the leak, with the findings' tables given as rows of the two causes.
    fn small(prior: [f64; 2], tables: &[[[f64; 2]; 2]]) -> (Model, Vec<Finding>) {
        let (mut model, mut findings) = knowledge(2, 1);
        findings.truncate(tables.len());
        for f in &mut findings {
            f.minutes = 0.5;
        }
        model.prior = vec![prior[0], prior[1], 1.0 - prior[0] - prior[1]];
        model.tables = tables
            .iter()
            .map(|t| Table::new(vec![0.5, 0.5], vec![(0, t[0].to_vec()), (1, t[1].to_vec())], 0.92))
            .collect();
        model.minutes = vec![10.0, 10.0, 60.0];
        model.urgency = vec![Urgency::None; 3];
        model.family = vec![None; tables.len()];
        (model, findings)
    }

    fn act(model: &Model, findings: &[Finding]) -> Act {
        let belief = Belief::new(model, &[]);
        situation(model, findings, &belief, &Circumstances::default()).next_act()
    }

    #[test]
    fn a_question_that_cannot_change_the_next_act_is_not_asked() {
        // It moves belief a little, but the first cause stays ahead whatever the answer: offering at once is cheaper.
        let (model, findings) = small([0.74, 0.24], &[[[0.6, 0.4], [0.4, 0.6]]]);
        assert!(matches!(act(&model, &findings), Act::Offer(0, _)));
        // One that turns the order is asked.
        let (model, findings) = small([0.54, 0.44], &[[[0.97, 0.03], [0.03, 0.97]]]);
        assert!(matches!(act(&model, &findings), Act::Ask(q) if q.finding == FindingIx(0)));
        // Certain enough: nothing is asked, however telling.
        let (model, findings) = small([0.93, 0.05], &[[[0.97, 0.03], [0.03, 0.97]]]);
        assert!(matches!(act(&model, &findings), Act::Offer(0, _)));
    }

    #[test]
    fn ties_resolve_by_position() {
        let twin = [[0.97, 0.03], [0.03, 0.97]];
        let (model, findings) = small([0.49, 0.49], &[twin, twin]);
        assert!(matches!(act(&model, &findings), Act::Ask(q) if q.finding == FindingIx(0)));
        let (model, _) = small([0.49, 0.49], &[]);
        assert!(matches!(act(&model, &[]), Act::Offer(0, _)));
    }

    #[test]
    fn nothing_known_is_asked_again() {
        let twin = [[0.97, 0.03], [0.03, 0.97]];
        let (model, findings) = small([0.49, 0.49], &[twin, twin]);
        let belief = Belief::new(&model, &[]);
        let circumstances = Circumstances::default();
        let mut s = situation(&model, &findings, &belief, &circumstances);
        s.closed[0] = true;
        assert!(matches!(s.next_act(), Act::Ask(q) if q.finding == FindingIx(1)));
        s.closed[1] = true;
        assert!(matches!(s.next_act(), Act::Offer(0, _)));
    }

    #[test]
    fn a_question_that_tells_less_a_minute_than_proposing_is_not_asked_after_a_wrong_proposal() {
        // Proposing at 0.55 costs 0.45 * 6 minutes for 0.99 bits; the question has 0.2 bits for half a minute and reading.
        let weak = [[0.75, 0.25], [0.25, 0.75]];
        let (mut model, findings) = small([0.54, 0.45], &[weak]);
        let belief = Belief::new(&model, &[]);
        let circumstances = Circumstances::default();
        let mut s = situation(&model, &findings, &belief, &circumstances);
        let wants = |s: &Situation<'_>| {
            let q = s.questions()[0];
            q.rate() >= s.worth_asking() * s.proposing_tells()
        };
        assert!(wants(&s));
        s.out[1] = true;
        assert!(!wants(&s), "{:?} {}", s.questions(), s.proposing_tells());
        // Proposing what takes long to rule out tells less a minute; proposing what takes a glance, more.
        let slow = s.proposing_tells();
        model.minutes[0] = 1.0;
        assert!(situation(&model, &findings, &belief, &circumstances).proposing_tells() > 5.0 * slow);
    }

    #[test]
    fn who_cannot_remember_is_shown_what_to_look_at() {
        let twin = [[0.97, 0.03], [0.03, 0.97]];
        let (model, mut findings) = small([0.49, 0.49], &[twin, twin]);
        findings[0].how = How::Ask;
        findings[1].how = How::Look;
        findings[1].minutes = 0.6;
        let belief = Belief::new(&model, &[]);
        let circumstances = Circumstances::default();
        let mut s = situation(&model, &findings, &belief, &circumstances);
        let first = |s: &Situation<'_>| s.questions()[0].finding;
        assert_eq!(first(&s), FindingIx(0));
        for _ in 0..4 {
            s.answering.note(&findings[0], false);
        }
        assert_eq!(first(&s), FindingIx(1));
        // A check passed over tells nothing of the memory, and answers bring the questions back.
        s.answering.note(&findings[1], false);
        assert_eq!((s.answering.told, s.answering.passed), (0, 4));
        for _ in 0..100 {
            s.answering.note(&findings[0], true);
        }
        assert_eq!(first(&s), FindingIx(0));
    }

    #[test]
    fn what_is_nearly_as_likely_and_sooner_done_is_named_beside_a_guess() {
        let (mut model, findings) = small([0.30, 0.20], &[]);
        model.minutes = vec![90.0, 10.0, 60.0];
        let belief = Belief::new(&model, &[]);
        let circumstances = Circumstances::default();
        let sooner = |m: &Model, p| situation(m, &findings, &belief, &circumstances).sooner((0, p)).map(|s| s.0);
        assert_eq!(sooner(&model, 0.30), Some(1));
        // Not when one is fairly sure, nor when it takes as long.
        assert_eq!(sooner(&model, 0.60), None);
        model.minutes[1] = 80.0;
        assert_eq!(sooner(&model, 0.30), None);
    }

    /// The same matter asked twice in other words: the second answer repeats the first. Counted as two it is far too sure;
    /// as one family it is nearer to the truth, which is the belief after one answer.
    #[test]
    fn a_family_is_nearer_to_calibrated_than_two_independent_findings() {
        let twin = [[0.8, 0.2], [0.3, 0.7]];
        let (mut model, _) = small([0.3, 0.68], &[twin, twin]);
        let answers = |n: usize, a: usize| -> Vec<Evidence> {
            (0..n)
                .map(|f| Evidence {
                    what: What::Is(FindingIx(f), AnswerIx(a)),
                    reliability: 1.0,
                    origin: Origin::Answered,
                })
                .collect()
        };
        for a in 0..2 {
            let truth = Belief::new(&model, &answers(1, a)).p[0];
            let apart = Belief::new(&model, &answers(2, a)).p[0];
            model.family = vec![Some(0); 2];
            let shared = Belief::new(&model, &answers(2, a)).p[0];
            model.family = vec![None; 2];
            assert!((shared - truth).abs() < 0.65 * (apart - truth).abs(), "{truth} {apart} {shared}");
        }
    }
}
