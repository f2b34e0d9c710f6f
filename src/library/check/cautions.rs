//! Notes that can hurt somebody carry a caution, and a brake is tested before it is ridden.

use super::{Known, Problem, Rule};
use crate::domain::{CauseKind, Urgency};
use crate::library::Library;

pub(super) static RULE: Rule = Rule { id: "cautions", why: "a wrong word can hurt someone", run };

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    for c in &library.causes {
        let whole: String = c.sections.iter().map(|s| s.markdown.as_str()).collect();
        let cautioned = whole.contains("Caution:");
        if !cautioned && c.kind == CauseKind::Cause && matches!(c.urgency, Urgency::StopRiding | Urgency::SeeClinician)
        {
            out.push(Problem::new(
                &c.path,
                0,
                "is urgent but has no caution",
                "put \"> Caution: ...\" under the step where it matters",
            ));
        }
        if c.system == "brakes" && !c.normal {
            let proof = c.section("Prove it").map(|s| s.markdown.to_lowercase()).unwrap_or_default();
            if !["brake", "lever", "squeeze", "stop"].iter().any(|w| proof.contains(w)) {
                out.push(Problem::new(
                    &c.path,
                    0,
                    "does not have the brake tested before riding",
                    "say so under \"Prove it\"",
                ));
            }
        }
    }
    out
}
