//! The kinds of card and the forms they come in.
//!
//! Owns their names. Must not know what stands on a card.

/// A kind of card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// For the customer: what was told, found, done and set, and what to look at next.
    Work,
    /// All settings with how each is measured, so that any mechanic can restore them.
    Setup,
    /// One setting, to be tried on the ride and filled in by pencil.
    Trial,
    /// For the bench: what is known so far, what to check first.
    Triage,
    /// What to recheck, and when.
    Shakedown,
}

impl Kind {
    /// Every kind, in the order of a bike's stay: in, set, tried, out.
    pub const ALL: [Kind; 5] = [Kind::Work, Kind::Setup, Kind::Trial, Kind::Triage, Kind::Shakedown];

    /// The word by which it is asked for, and the stem of a file name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Kind::Work => "work",
            Kind::Setup => "setup",
            Kind::Trial => "trial",
            Kind::Triage => "triage",
            Kind::Shakedown => "shakedown",
        }
    }

    /// Its title on the card.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Kind::Work => "Work card",
            Kind::Setup => "Set-up card",
            Kind::Trial => "Trial card",
            Kind::Triage => "Triage slip",
            Kind::Shakedown => "Shakedown list",
        }
    }

    /// The kind of this name, in any case, with or without a hyphen.
    #[must_use]
    pub fn named(name: &str) -> Option<Kind> {
        let name: String = name.chars().filter(|c| *c != '-').collect::<String>().to_lowercase();
        Kind::ALL.into_iter().find(|k| k.name() == name)
    }
}

/// A form of a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Plain text, 78 columns.
    Text,
    /// Markdown with tables.
    Markdown,
    /// The record itself, to be read again.
    Json,
    /// One page with pictures, for a phone and for paper.
    Html,
}

impl Form {
    /// Every form.
    pub const ALL: [Form; 4] = [Form::Text, Form::Markdown, Form::Json, Form::Html];

    /// The ending of its files.
    #[must_use]
    pub fn ending(self) -> &'static str {
        match self {
            Form::Text => "txt",
            Form::Markdown => "md",
            Form::Json => "json",
            Form::Html => "html",
        }
    }

    /// The form that a file name's ending asks for.
    #[must_use]
    pub fn by_ending(file: &str) -> Option<Form> {
        let ending = file.rsplit_once('.')?.1.to_lowercase();
        let ending = match ending.as_str() {
            "markdown" => "md",
            "htm" => "html",
            other => other,
        };
        Form::ALL.into_iter().find(|f| f.ending() == ending)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_leads_back_to_its_kind_and_form() {
        for k in Kind::ALL {
            assert_eq!(Kind::named(&k.name().to_uppercase()), Some(k));
        }
        assert_eq!(Kind::named("set-up"), Some(Kind::Setup));
        assert_eq!(Kind::named("bill"), None);
        for f in Form::ALL {
            assert_eq!(Form::by_ending(&format!("a.b.{}", f.ending())), Some(f));
        }
        assert_eq!(Form::by_ending("CARD.HTM"), Some(Form::Html));
        assert_eq!(Form::by_ending("html"), None);
    }
}
