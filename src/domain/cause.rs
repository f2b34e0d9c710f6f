//! A cause: something that can be wrong, wrongly set, or normal; and a guide, which is led through in the same way.

use super::{AnswerIx, FindingIx, Frequency};

/// Position of a cause in the library's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CauseIx(pub usize);

/// Whether the note is about a fault (or a normal thing) or about setting something up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CauseKind {
    /// Something that can be wrong, wrongly set, or normal.
    Cause,
    /// How to set something up, or an explanation.
    Guide,
}

/// How often a workshop meets it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Commonness {
    /// A few times in a working life.
    Rare,
    /// Some times a year.
    Occasional,
    /// Every month.
    Common,
    /// Every week.
    VeryCommon,
}

impl Commonness {
    /// Relative weight in the prior (not normalised).
    #[must_use]
    pub fn weight(self) -> f64 {
        match self {
            Commonness::Rare => 0.25,
            Commonness::Occasional => 0.55,
            Commonness::Common => 1.0,
            Commonness::VeryCommon => 1.6,
        }
    }

    /// The words used in notes.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Commonness::Rare => "rare",
            Commonness::Occasional => "occasional",
            Commonness::Common => "common",
            Commonness::VeryCommon => "very common",
        }
    }
}

/// What a cause means for riding on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Urgency {
    /// Harmless.
    None,
    /// Ride gently or put right soon.
    Caution,
    /// A sign in the body that belongs before a clinician.
    SeeClinician,
    /// The bike must not be ridden until it is put right.
    StopRiding,
}

impl Urgency {
    /// The word used in notes and in machine output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Urgency::None => "none",
            Urgency::Caution => "caution",
            Urgency::SeeClinician => "see-clinician",
            Urgency::StopRiding => "stop-riding",
        }
    }
}

/// Who can do a check or a repair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Skill {
    /// Anybody.
    Beginner,
    /// Somebody used to tools.
    Handy,
    /// Workshop tools or training.
    Workshop,
}

impl Skill {
    /// The word used in notes.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Skill::Beginner => "beginner",
            Skill::Handy => "handy",
            Skill::Workshop => "workshop",
        }
    }
}

/// A bike fact that must hold: the finding and the answers allowed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// The bike-fact finding.
    pub finding: FindingIx,
    /// Answers under which the note applies.
    pub allowed: Vec<AnswerIx>,
}

/// How often a cause shows each named answer of one finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Show {
    /// The finding.
    pub finding: FindingIx,
    /// Named answers and their words of frequency.
    pub answers: Vec<(AnswerIx, Frequency)>,
}

/// A part of a note's body under one heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// The heading; empty for what stands before the first.
    pub heading: String,
    /// The Markdown below it.
    pub markdown: String,
}

/// A cause or a guide, as read from its note.
#[derive(Clone, Debug)]
pub struct Cause {
    /// Unique kebab-case id.
    pub id: String,
    /// Cause or guide.
    pub kind: CauseKind,
    /// Folder it stands in: brakes, drivetrain, ...
    pub system: String,
    /// Title in plain words.
    pub title: String,
    /// The mechanic's short form.
    pub short: String,
    /// Other names for it.
    pub also: Vec<String>,
    /// How common it is.
    pub common: Commonness,
    /// What it means for riding on.
    pub urgency: Urgency,
    /// True when nothing is wrong.
    pub normal: bool,
    /// Minutes to put right.
    pub minutes: f64,
    /// Who can put it right.
    pub skill: Skill,
    /// Tools wanted.
    pub tools: Vec<String>,
    /// Calculator ids that serve it.
    pub calculators: Vec<String>,
    /// Related guide ids.
    pub guides: Vec<String>,
    /// Source ids.
    pub sources: Vec<String>,
    /// Phrases of attempts that would have cured it.
    pub repairs: Vec<String>,
    /// Bike facts that must hold.
    pub needs: Vec<Need>,
    /// How often it shows each finding's answers.
    pub shows: Vec<Show>,
    /// Body by headings.
    pub sections: Vec<Section>,
    /// Whole sentences as riders would say them.
    pub says: Vec<String>,
    /// File the note came from, for messages.
    pub path: String,
}

impl Cause {
    /// The section whose heading is `heading`, if the note has it.
    #[must_use]
    pub fn section(&self, heading: &str) -> Option<&Section> {
        self.sections.iter().find(|s| s.heading.eq_ignore_ascii_case(heading))
    }

    /// What stands before the first heading: what it is, in plain words.
    #[must_use]
    pub fn summary(&self) -> &str {
        self.sections.first().map_or("", |s| if s.heading.is_empty() { s.markdown.trim() } else { "" })
    }
}
