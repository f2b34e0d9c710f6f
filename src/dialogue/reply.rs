//! A reply as data: what is said, before anybody decides how it looks.

use serde::Serialize;

/// One numbered thing that may be answered or picked.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Choice {
    /// Its number at the prompt.
    pub number: usize,
    /// Id of the answer, note or act.
    pub id: String,
    /// As the reader sees it.
    pub says: String,
}

/// One thing understood.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Understood {
    /// Id of the finding, or `quantity` or `tried`.
    pub id: String,
    /// What it is about.
    pub about: String,
    /// What was understood.
    pub value: String,
    /// True when it was denied.
    pub denied: bool,
}

/// One line of the list of what is likely.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Likely {
    /// Id of the cause or guide.
    pub id: String,
    /// Title.
    pub title: String,
    /// Probability, 0 to 1.
    pub p: f64,
    /// The same in words.
    pub words: String,
    /// Change since the last time it was shown.
    pub moved: f64,
}

/// A note found by words.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Found {
    /// Number by which it can be read.
    pub number: usize,
    /// Id of the note.
    pub id: String,
    /// Title.
    pub title: String,
    /// cause, guide, check, danger or word.
    pub kind: String,
    /// The passage that matches.
    pub passage: String,
    /// Byte ranges of the matching words in the passage.
    pub marks: Vec<(usize, usize)>,
}

/// A figure computed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// Id of the output.
    pub id: String,
    /// What it is.
    pub label: String,
    /// Value in the reader's units.
    pub shown: String,
    /// SI value.
    pub si: f64,
    /// Band in the reader's units.
    pub band: Option<String>,
    /// A remark.
    pub note: String,
}

/// A line of a bar chart.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Bar {
    /// Label.
    pub label: String,
    /// Value.
    pub value: f64,
    /// Lower end of its band.
    pub lo: f64,
    /// Upper end of its band.
    pub hi: f64,
    /// The value as text.
    pub shown: String,
}

/// A part of a reply.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "block", rename_all = "kebab-case")]
pub enum Block {
    /// A warning; stands before everything else.
    Warning {
        /// stop-riding, look-first, see-clinician, emergency or caution.
        level: String,
        /// What not to do, why, what first.
        text: String,
    },
    /// What was understood of the line.
    Understood {
        /// The items.
        items: Vec<Understood>,
        /// Words read as others: typed, read as.
        corrected: Vec<(String, String)>,
    },
    /// What is thought likely.
    Beliefs {
        /// The leading causes.
        list: Vec<Likely>,
        /// Share left to all others and to what is in no note.
        rest: f64,
    },
    /// The one next question.
    Question {
        /// Id of the finding.
        id: String,
        /// The question.
        text: String,
        /// Minutes it takes.
        minutes: f64,
        /// ask, look, feel, ride, swap or measure.
        how: String,
        /// Asked first because of safety.
        safety: bool,
        /// Numbered answers, "don't know" and "can't check now" among them.
        answers: Vec<Choice>,
    },
    /// A choice of what to do next.
    Choices {
        /// The prompt.
        text: String,
        /// Numbered choices.
        choices: Vec<Choice>,
    },
    /// A heading.
    Heading {
        /// Its text.
        text: String,
    },
    /// A plain paragraph.
    Say {
        /// Its text.
        text: String,
    },
    /// A remark by the way.
    Aside {
        /// Its text.
        text: String,
    },
    /// A list.
    List {
        /// Its items.
        items: Vec<String>,
    },
    /// One step of the work.
    Step {
        /// Number, from 1.
        number: usize,
        /// How many there are.
        of: usize,
        /// What to do.
        text: String,
        /// What to look out for, at this step.
        cautions: Vec<String>,
    },
    /// The result of a calculator.
    Result {
        /// Id of the calculator.
        id: String,
        /// Title.
        title: String,
        /// Figures with bands.
        figures: Vec<Figure>,
        /// What was taken as input.
        inputs: Vec<String>,
        /// Warnings.
        warnings: Vec<String>,
        /// Cautions.
        cautions: Vec<String>,
        /// What the method is worth.
        worth: String,
        /// Sources.
        sources: Vec<String>,
        /// What to try next.
        next: Vec<String>,
        /// Everything again as the calculator gives it, SI values beside the person's units.
        data: serde_json::Value,
    },
    /// A table.
    Table {
        /// Title.
        title: String,
        /// Heads of the columns.
        head: Vec<String>,
        /// Rows.
        rows: Vec<Vec<String>>,
    },
    /// A bar chart.
    Bars {
        /// Title.
        title: String,
        /// Bars.
        bars: Vec<Bar>,
    },
    /// A curve.
    Curve {
        /// Title.
        title: String,
        /// Label of the horizontal axis.
        x: String,
        /// Label of the vertical axis.
        y: String,
        /// Points.
        points: Vec<(f64, f64)>,
        /// Marked points.
        marks: Vec<(f64, f64, String)>,
    },
    /// Notes found.
    Notes {
        /// What was searched.
        query: String,
        /// Notes.
        found: Vec<Found>,
    },
    /// A whole note.
    Markdown {
        /// Id of the note.
        id: String,
        /// Title.
        title: String,
        /// Its text.
        text: String,
        /// Links that can be followed by number: number, id, text.
        links: Vec<(usize, String, String)>,
    },
    /// A card, ready to be kept.
    Card {
        /// The card as plain text.
        text: String,
    },
}

/// A reply.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Reply {
    /// Its parts, in order.
    pub blocks: Vec<Block>,
}

impl Reply {
    /// A reply of one paragraph.
    pub fn say(text: impl Into<String>) -> Self {
        Self { blocks: vec![Block::Say { text: text.into() }] }
    }

    /// Adds a block.
    pub fn push(&mut self, block: Block) {
        self.blocks.push(block);
    }

    /// Adds a paragraph.
    pub fn add(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Say { text: text.into() });
    }

    /// Adds a remark.
    pub fn aside(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Aside { text: text.into() });
    }

    /// Adds all blocks of another reply.
    pub fn extend(&mut self, other: Reply) {
        self.blocks.extend(other.blocks);
    }

    /// True when a warning of the given level, or a graver one, is in it.
    #[must_use]
    pub fn warns(&self, level: &str) -> bool {
        self.blocks.iter().any(|b| matches!(b, Block::Warning { level: l, .. } if l == level || l == "emergency"))
    }
}

/// A time as a person says it: "20 seconds", "1 minute", "15 minutes". `minutes` is above 0; seconds are rounded to tens.
pub(super) fn in_minutes(minutes: f64) -> String {
    if minutes < 0.9 {
        return format!("{:.0} seconds", (minutes * 6.0).round().max(1.0) * 10.0);
    }
    let plural = if minutes == 1.0 { "" } else { "s" };
    format!("{minutes} minute{plural}")
}

/// Numbers choices from 1.
pub(super) fn numbered<I, S>(items: I) -> Vec<Choice>
where
    I: IntoIterator<Item = (S, S)>,
    S: Into<String>,
{
    items
        .into_iter()
        .enumerate()
        .map(|(i, (id, says))| Choice { number: i + 1, id: id.into(), says: says.into() })
        .collect()
}
