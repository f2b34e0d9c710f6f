//! The command for authors of notes: every problem, file and line, in one run.

use crate::library::check::{Known, run_all};
use crate::library::{Library, Problem};

/// All problems of loading and of the rules, as text, and how many there are.
pub(super) fn check(library: &Library, mut problems: Vec<Problem>) -> (String, usize) {
    let calculators: Vec<&str> = crate::calc::ALL.iter().map(|c| c.id).collect();
    problems.extend(run_all(library, &Known { calculators: &calculators }));
    problems.sort();
    let mut out = String::new();
    for p in &problems {
        out.push_str(&format!("{p}\n"));
    }
    let guides = library.causes.iter().filter(|c| c.kind == crate::domain::CauseKind::Guide).count();
    let normal = library.causes.iter().filter(|c| c.normal).count();
    out.push_str(&format!(
        "{} causes ({normal} normal), {guides} guides, {} findings, {} dangers, {} sources: {} problem{}\n",
        library.causes.len() - guides,
        library.findings.len(),
        library.dangers.len(),
        library.sources.len(),
        problems.len(),
        if problems.len() == 1 { "" } else { "s" }
    ));
    (out, problems.len())
}
