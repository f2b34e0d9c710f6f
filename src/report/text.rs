//! The card as plain text.

use crate::dialogue::Record;

/// The card as plain text; empty parts are left out.
#[must_use]
pub fn text(r: &Record) -> String {
    let mut out = String::from("SHAKEDOWN CARD\n");
    let mut part = |title: &str, items: &[String]| {
        let mut seen: Vec<&str> = Vec::new();
        for i in items {
            if !seen.contains(&i.as_str()) {
                seen.push(i);
            }
        }
        if !seen.is_empty() {
            out.push_str(&format!("\n{title}\n"));
            for i in seen {
                out.push_str(&format!("  - {i}\n"));
            }
        }
    };
    part("Cautions", &r.cautions);
    part("Rider", &r.rider);
    part("Bike", &r.bike);
    part("Complaint", &r.complaints);
    part("Findings", &r.findings);
    part("Cause", &r.causes);
    part("Excluded", &r.excluded);
    let settings: Vec<String> = r
        .settings
        .iter()
        .map(|s| {
            let before = s.before.as_deref().map(|b| format!("{b} -> ")).unwrap_or_default();
            format!("{}: {before}{} ({})", s.what, s.after, s.how)
        })
        .collect();
    part("Settings", &settings);
    part("Next checks", &r.checks);
    if r.complaints.is_empty() && r.settings.is_empty() {
        out.push_str("\nNothing has been told yet.\n");
    }
    out.push_str("\nThe maker's instructions, local law and a qualified mechanic (or clinician) come first.\n");
    out
}
