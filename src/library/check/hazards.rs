//! Work that can hurt carries its own caution: brakes, steering, wheels, springs under pressure, carbon, solvents, motors.

use regex::Regex;

use super::{Known, Problem, Rule};
use crate::domain::Cause;
use crate::library::{Library, prose};

pub(super) static RULE: Rule = Rule { id: "hazards", why: "the caution for one danger does not cover another", run };

/// A danger of the work: what in the steps shows that it is there, and what must be said then.
struct Hazard {
    name: &'static str,
    /// Looked for in the steps.
    sign: &'static str,
    /// Wanted in the note.
    said: &'static str,
    /// Where it is wanted: in a caution, or anywhere in the note where the proof or a step says it as well.
    place: Place,
}

#[derive(Clone, Copy, PartialEq)]
enum Place {
    Caution,
    CautionOrProof,
    Note,
}

const HAZARDS: &[Hazard] = &[
    Hazard {
        name: "a turning or hot rotor",
        sign: r"\bspin\w*\b[^.]*\brotors?\b|\brotors?\b[^.]*\b(spin|hot)",
        said: r"finger|hand|hot|cool|burn|sharp|edge|cut",
        place: Place::Caution,
    },
    Hazard {
        name: "a wheel taken out and put back",
        sign: r"\b(take|lift)\b[^.]{0,30}\bwheel out\b|\bput\b[^.]{0,20}\bwheel\b[^.]{0,20}\b(in|back)\b|\b(close|tighten|clamp)\b[^.]{0,20}\b(quick release|wheel nuts?|through-axle)\b",
        said: r"wheel|axle|nut|lever|clamp|tight|brake",
        place: Place::CautionOrProof,
    },
    Hazard {
        name: "a stem or bar that is loosened or tightened",
        sign: r"\b(loosen|tighten|undo)\w*\b[^.]*\b(stem|top cap|bar clamp|face ?plate)\b",
        said: r"stem|bar|steer|twist|headset|side bolts",
        place: Place::CautionOrProof,
    },
    Hazard {
        name: "a spring under air pressure",
        sign: r"\b(unscrew|open|remove|undo)\w*\b[^.]*\b(air cap|air chamber|air spring|air can)\b|\bfork\b[^.]*\blet (all |the )*air out\b",
        said: r"air|pressure",
        place: Place::Caution,
    },
    Hazard {
        name: "carbon that is clamped",
        sign: r"\bcarbon\b",
        said: r"printed|torque|crush|crack|workshop|grease|paste|gentl|never|sand|maker|break",
        place: Place::Note,
    },
    Hazard {
        name: "a solvent",
        sign: r"\b(degreas\w*|solvents?|alcohol|brake cleaner|paraffin|acetone)\b",
        said: r"flame|fire|burn|eye|skin|glove|window|fresh air|bearing|seal|rotor|evaporate|dry|gone|wet",
        place: Place::Caution,
    },
    Hazard {
        name: "electrical assistance",
        sign: r"\bmotor\b[^.]*\b(wire|cable|plug|off|nut)|\b(unplug|battery (out|off))",
        said: r"motor|battery|switch|wire|plug|power|electr",
        place: Place::Note,
    },
    Hazard {
        name: "a child seat or trailer",
        sign: r"\b(fit|mount|screw|tighten|clamp)\w*\b[^.]*\b(child seat|trailer)\b",
        said: r"child|trailer|nobody",
        place: Place::Caution,
    },
];

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    for h in HAZARDS {
        let (Ok(sign), Ok(said)) = (Regex::new(&format!("(?i){}", h.sign)), Regex::new(&format!("(?i){}", h.said)))
        else {
            continue;
        };
        for c in library.causes.iter().filter(|c| !c.normal) {
            if sign.is_match(&steps_of(c)) && !said.is_match(&spoken(c, h.place)) {
                out.push(Problem::new(
                    &c.path,
                    0,
                    format!("its steps deal with {}, its cautions do not", h.name),
                    "put \"> Caution: ...\" under the step where it matters",
                ));
            }
        }
    }
    out
}

/// What is to be done, without the cautions.
fn steps_of(c: &Cause) -> String {
    let text: Vec<&str> = c
        .sections
        .iter()
        .filter(|s| ["What to do", "Before you start"].contains(&s.heading.as_str()))
        .flat_map(|s| s.markdown.lines())
        .filter(|l| !l.trim_start().starts_with('>'))
        .collect();
    prose(&text.join("\n"))
}

/// The text in which the caution is looked for.
fn spoken(c: &Cause, place: Place) -> String {
    let mut out = String::new();
    for s in c.sections.iter().filter(|s| s.heading != "Riders say") {
        let proof = place == Place::CautionOrProof && s.heading == "Prove it";
        for l in s.markdown.lines() {
            if place == Place::Note || proof || l.trim_start().starts_with('>') {
                out.push_str(l);
                out.push('\n');
            }
        }
    }
    out
}
