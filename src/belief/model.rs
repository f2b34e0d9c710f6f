//! The numbers behind the notes: priors, and for each finding how often each cause shows each answer.

use crate::domain::{AnswerIx, Cause, CauseKind, Finding, FindingIx, Frequency, Show, Urgency};

/// Prior share of "something that is not in these notes".
const LEAK: f64 = 0.03;
/// No answer is held to be less likely than this under any cause.
const FLOOR: f64 = 0.004;
/// What stays for answers that a bike fact excludes: riders misname parts.
const MISNAMED: f64 = 0.02;
/// Share of conversations that ask for a setting or a how-to, spread over the guides.
const GUIDES: f64 = 0.12;
/// What a mechanic's look costs when no cause in the notes is right, in minutes.
const WORKSHOP_MINUTES: f64 = 60.0;

/// One finding as a sparse table: only causes that change its answers have a row.
#[derive(Clone, Debug)]
pub struct Table {
    /// Shares among bikes where the finding plays no part; sums to 1.
    pub usual: Vec<f64>,
    /// Rows sorted by cause position; each sums to 1.
    pub rows: Vec<(usize, Vec<f64>)>,
    /// How far an answer can be relied on when it is asked for (0 to 1).
    pub reliability: f64,
    /// Sum of p log2 p over the answers as they are given, for each row: what makes expected information cheap.
    pub(super) sharp: Vec<f64>,
    /// The same for the usual shares.
    pub(super) sharp_usual: f64,
}

impl Table {
    /// A table of `rows`, sorted by cause position, beside the `usual` shares; answers are given with `reliability`.
    #[must_use]
    pub fn new(usual: Vec<f64>, rows: Vec<(usize, Vec<f64>)>, reliability: f64) -> Self {
        let sharp = |row: &[f64], r: f64| -> f64 {
            row.iter().zip(&usual).map(|(p, u)| r * p + (1.0 - r) * u).filter(|p| *p > 0.0).map(|p| p * p.log2()).sum()
        };
        let of_rows = rows.iter().map(|(_, row)| sharp(row, reliability)).collect();
        let sharp_usual = sharp(&usual, 1.0);
        Self { usual, rows, reliability, sharp: of_rows, sharp_usual }
    }

    /// How often cause `cause` shows answer `answer` (0 to 1).
    #[must_use]
    pub fn p(&self, cause: usize, answer: usize) -> f64 {
        match self.rows.binary_search_by_key(&cause, |r| r.0) {
            Ok(i) => self.rows[i].1[answer],
            Err(_) => self.usual[answer],
        }
    }
}

/// Priors and tables. Hypotheses are the causes in the library's order and, last, the leak.
#[derive(Clone, Debug)]
pub struct Model {
    /// Prior of each hypothesis; sums to 1. The last is the leak.
    pub prior: Vec<f64>,
    /// One table for each finding, in the library's order.
    pub tables: Vec<Table>,
    /// Minutes to put right, for each hypothesis.
    pub minutes: Vec<f64>,
    /// Urgency of each hypothesis (the leak: none).
    pub urgency: Vec<Urgency>,
    /// Whether each hypothesis is a guide rather than a fault.
    pub guide: Vec<bool>,
    /// Family of each finding, as a number, where it has one.
    pub family: Vec<Option<usize>>,
}

impl Model {
    /// Builds the model from causes and findings.
    #[must_use]
    pub fn new(causes: &[Cause], findings: &[Finding]) -> Self {
        let n = causes.len();
        let guide_total: f64 = causes.iter().filter(|c| c.kind == CauseKind::Guide).map(|c| c.common.weight()).sum();
        let cause_total: f64 = causes.iter().filter(|c| c.kind == CauseKind::Cause).map(|c| c.common.weight()).sum();
        let guides = if guide_total > 0.0 { GUIDES } else { 0.0 };
        let mut prior: Vec<f64> = causes
            .iter()
            .map(|c| match c.kind {
                CauseKind::Guide => guides * (1.0 - LEAK) * c.common.weight() / guide_total,
                CauseKind::Cause => (1.0 - guides) * (1.0 - LEAK) * c.common.weight() / cause_total,
            })
            .collect();
        prior.push(if n == 0 { 1.0 } else { LEAK });
        let mut tables: Vec<Sparse> = findings
            .iter()
            .map(|f| Sparse { usual: f.answers.iter().map(|a| a.usual).collect(), rows: Vec::new() })
            .collect();
        for (ci, c) in causes.iter().enumerate() {
            for show in &c.shows {
                let table = &mut tables[show.finding.0];
                let row = row(show, &table.usual);
                table.rows.push((ci, row));
            }
            for need in &c.needs {
                let table = &mut tables[need.finding.0];
                let base = match table.rows.last_mut() {
                    Some((last, row)) if *last == ci => row,
                    _ => {
                        let usual = table.usual.clone();
                        table.rows.push((ci, usual));
                        let Some((_, row)) = table.rows.last_mut() else { continue };
                        row
                    }
                };
                restrict(base, &need.allowed);
            }
        }
        for table in &mut tables {
            let marginal = marginal(table, &prior[..n]);
            if !table.rows.is_empty() {
                table.rows.push((n, marginal));
            }
        }
        let tables = tables
            .into_iter()
            .zip(findings)
            .map(|(t, f)| Table::new(t.usual, t.rows, f.reliability()))
            .collect::<Vec<_>>();
        let mut families: Vec<&str> = findings.iter().filter_map(|f| f.family.as_deref()).collect();
        families.sort_unstable();
        families.dedup();
        let family =
            findings.iter().map(|f| f.family.as_deref().and_then(|name| families.binary_search(&name).ok())).collect();
        Self {
            prior,
            tables,
            minutes: causes.iter().map(|c| c.minutes.max(1.0)).chain([WORKSHOP_MINUTES]).collect(),
            urgency: causes.iter().map(|c| c.urgency).chain([Urgency::None]).collect(),
            guide: causes.iter().map(|c| c.kind == CauseKind::Guide).chain([false]).collect(),
            family,
        }
    }

    /// Number of hypotheses, the leak included.
    #[must_use]
    pub fn len(&self) -> usize {
        self.prior.len()
    }

    /// True when there is nothing but the leak.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.prior.len() <= 1
    }

    /// Bytes held, without the allocator's own.
    #[must_use]
    pub fn bytes(&self) -> usize {
        let row = |r: &(usize, Vec<f64>)| size_of_val(r) + size_of_val(r.1.as_slice());
        let table = |t: &Table| {
            size_of_val(t)
                + size_of_val(t.usual.as_slice())
                + size_of_val(t.sharp.as_slice())
                + t.rows.iter().map(row).sum::<usize>()
        };
        let each = size_of::<f64>() * 2 + size_of::<Urgency>() + size_of::<bool>();
        self.tables.iter().map(table).sum::<usize>() + self.len() * each + size_of_val(self.family.as_slice())
    }

    /// Position of the leak.
    #[must_use]
    pub fn leak(&self) -> usize {
        self.prior.len() - 1
    }

    /// How often hypothesis `cause` shows `answer` of `finding`.
    #[must_use]
    pub fn p(&self, cause: usize, finding: FindingIx, answer: AnswerIx) -> f64 {
        self.tables[finding.0].p(cause, answer.0)
    }
}

/// A table in the making.
struct Sparse {
    usual: Vec<f64>,
    rows: Vec<(usize, Vec<f64>)>,
}

/// Turns named words into a distribution: what is left over goes to the unnamed answers by their usual shares. What is named
/// as usually or always, or often and nothing else, is shown at least as often as usual.
fn row(show: &Show, usual: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; usual.len()];
    for (a, f) in &show.answers {
        // "Usually", or "often" alone, of an answer that nearly every bike gives means no less than on others, or the other
        // answers would speak for the cause.
        let alone = show.answers.len() == 1 && *f >= Frequency::Often;
        let least = if alone || *f >= Frequency::Usually { usual[a.0] } else { 0.0 };
        out[a.0] = f.probability().max(least);
    }
    let named: f64 = out.iter().sum();
    let unnamed_usual: f64 = usual.iter().zip(&out).filter(|(_, o)| **o == 0.0).map(|(u, _)| u).sum();
    if unnamed_usual > 0.0 {
        let keep = if named > 0.97 { 0.97 / named } else { 1.0 };
        let left = 1.0 - named * keep;
        // What the note does not name it shows no oftener than others do, though the named leave more over.
        let share = (left / unnamed_usual).min(1.0);
        for (o, u) in out.iter_mut().zip(usual) {
            *o = if *o == 0.0 { share * u } else { *o * keep };
        }
    }
    normalise(&mut out);
    out
}

fn restrict(row: &mut [f64], allowed: &[AnswerIx]) {
    let inside: f64 = allowed.iter().map(|a| row[a.0]).sum();
    let outside = 1.0 - inside;
    if inside <= 0.0 || outside <= 0.0 {
        return;
    }
    for (i, p) in row.iter_mut().enumerate() {
        *p *= if allowed.contains(&AnswerIx(i)) { (1.0 - MISNAMED) / inside } else { MISNAMED / outside };
    }
}

fn normalise(row: &mut [f64]) {
    for p in row.iter_mut() {
        *p = p.max(FLOOR);
    }
    let total: f64 = row.iter().sum();
    for p in row.iter_mut() {
        *p /= total;
    }
}

/// What an unknown cause would show: the average over the known ones.
fn marginal(table: &Sparse, prior: &[f64]) -> Vec<f64> {
    let total: f64 = prior.iter().sum();
    let mut out = table.usual.clone();
    if total <= 0.0 {
        return out;
    }
    let listed: f64 = table.rows.iter().map(|(c, _)| prior[*c]).sum();
    for (a, o) in out.iter_mut().enumerate() {
        let from_rows: f64 = table.rows.iter().map(|(c, r)| prior[*c] * r[a]).sum();
        *o = (from_rows + (total - listed) * table.usual[a]) / total;
    }
    normalise(&mut out);
    out
}
