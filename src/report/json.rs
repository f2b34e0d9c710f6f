//! The record as a file that another conversation can open.
//!
//! Owns the envelope and what is refused. Must not change the record: what was written comes back.

use serde::Serialize;
use serde_json::value::RawValue;

use crate::dialogue::Record;

/// The version of the file's shape. A later one may only be read by a later program.
pub const VERSION: u64 = 1;

/// The most that is read, in bytes (our own bound: a long conversation is about a thousandth of it).
const MOST: usize = 64_000_000;

#[derive(Serialize)]
struct Envelope<'a> {
    shakedown: u64,
    record: &'a Record,
}

/// The record with its version. Numbers that are none (a division by zero somewhere) are left out, because JSON has no
/// word for them; characters that steer or hide text are written as escapes, so that the file can be looked at safely.
pub(super) fn write(record: &Record) -> String {
    let record = finite(record);
    match serde_json::to_string_pretty(&Envelope { shakedown: VERSION, record: &record }) {
        Ok(text) => visible(&text) + "\n",
        // The types hold nothing that can fail (no maps with odd keys, no numbers that are none).
        Err(e) => format!("{{\"shakedown\":{VERSION},\"problem\":{:?}}}\n", e.to_string()),
    }
}

/// Reads a record that [`super::render`] has written as JSON.
///
/// # Errors
/// A sentence with the reason: too large, no JSON (with line and column), not a card of this program, written by a later
/// version, or damaged (with line and column).
pub fn read_json(text: &str) -> Result<Record, String> {
    if text.len() > MOST {
        return Err(format!("The file is larger than a card can be ({} bytes; the most is {MOST}).", text.len()));
    }
    let text = text.trim_start_matches('\u{feff}');
    #[derive(serde::Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Full {
        shakedown: u64,
        record: Record,
    }
    #[derive(serde::Deserialize)]
    struct Head<'a> {
        #[serde(default, borrow)]
        shakedown: Option<&'a RawValue>,
    }
    let foreign = |why: &str| Err(format!("This is no card of Shakedown: {why}."));
    // serde would also read a list as a struct, field by field; a card is an object.
    let is_object = text.trim_start().starts_with('{');
    let damage = match serde_json::from_str::<Full>(text) {
        Ok(full) if is_object && full.shakedown == VERSION => return Ok(full.record),
        Ok(full) if is_object => return Err(version(&full.shakedown.to_string())),
        Ok(_) => return foreign("it is not an object"),
        Err(damage) => damage,
    };
    if let Err(e) = serde_json::from_str::<serde::de::IgnoredAny>(text) {
        return Err(format!("This is not whole JSON: {e}."));
    }
    if !is_object {
        return foreign("it is not an object");
    }
    match serde_json::from_str::<Head<'_>>(text) {
        Ok(Head { shakedown: Some(v) }) if v.get() == "1" => Err(format!("The card is damaged: {damage}.")),
        Ok(Head { shakedown: Some(v) }) => Err(version(v.get())),
        Ok(Head { shakedown: None }) => foreign("the \"shakedown\" version is missing"),
        Err(e) => Err(format!("The card is damaged: {e}.")),
    }
}

fn version(found: &str) -> String {
    let found: String = found.chars().take(20).collect();
    format!("The card has version {found}; this program reads version {VERSION}.")
}

/// The record without numbers that JSON cannot write.
fn finite(record: &Record) -> Record {
    let mut r = record.clone();
    r.beliefs_before.retain(|b| b.1.is_finite());
    r.beliefs_after.retain(|b| b.1.is_finite());
    r.readings.retain(|s| s.value.is_finite());
    r.readings.iter_mut().for_each(|s| s.limit = s.limit.filter(|v| v.is_finite()));
    r.figures.retain(|f| f.si.is_finite());
    let band = |v: &mut Option<f64>| *v = v.filter(|v| v.is_finite());
    for f in &mut r.figures {
        band(&mut f.lo);
        band(&mut f.hi);
    }
    for c in &mut r.curves {
        c.points.retain(|p| p.0.is_finite() && p.1.is_finite());
        c.marks.retain(|m| m.x.is_finite() && m.y.is_finite());
    }
    for l in r.ladders.iter_mut().chain(&mut r.methods) {
        l.rungs.retain(|g| g.value.is_finite());
        for g in &mut l.rungs {
            band(&mut g.lo);
            band(&mut g.hi);
        }
    }
    r
}

/// Writes what steers or hides text as escapes. Such characters can stand only inside JSON strings, so this changes the
/// writing and not the value.
fn visible(json: &str) -> String {
    let mut out = String::with_capacity(json.len());
    for c in json.chars() {
        if c != '\n' && super::clean::is_unseen(c) {
            let mut units = [0; 2];
            for u in c.encode_utf16(&mut units) {
                out.push_str(&format!("\\u{u:04x}"));
            }
        } else {
            out.push(c);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reason(text: &str) -> String {
        read_json(text).unwrap_err()
    }

    #[test]
    fn refuses_with_the_reason() {
        assert!(reason("").contains("not whole JSON"));
        assert!(reason("{\"shakedown\":1,").contains("not whole JSON"));
        assert!(reason("Dear diary").contains("line 1"));
        assert!(reason("[1,2]").contains("no card"));
        assert!(reason("{\"record\":{}}").contains("version is missing"));
        assert!(reason("{\"shakedown\":2,\"record\":{\"new\":1}}").contains("version 2"));
        assert!(reason("{\"shakedown\":\"one\",\"record\":{}}").contains("version \"one\""));
        assert!(reason("{\"shakedown\":1}").contains("damaged: missing field `record`"));
        assert!(reason("{\"shakedown\":1,\"record\":{\"rider\":7}}").contains("damaged"));
        let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
        assert!(reason(&deep).contains("not an object"));
        assert!(reason(&format!("{{\"shakedown\":1,\"record\":{{\"rider\":{deep}}}}}")).contains("damaged"));
        assert!(reason(&" ".repeat(MOST + 1)).contains("larger"));
    }

    #[test]
    fn refuses_an_unknown_field_and_trailing_text() {
        let good = write(&Record::default());
        assert!(read_json(&good).is_ok());
        assert!(reason(&good.replace("\"rider\": []", "\"rider\": [], \"colour\": 1")).contains("colour"));
        assert!(reason(&format!("{good}x")).contains("not whole JSON"));
    }

    #[test]
    fn writes_no_number_that_json_lacks_and_no_hidden_mark() {
        let r = Record {
            title: "a\u{202e}b\u{0}\u{85}\u{e0041}".into(),
            beliefs_after: vec![("x".into(), f64::NAN), ("y".into(), 0.1 + 0.2)],
            ..Record::default()
        };
        let text = write(&r);
        assert!(text.contains("a\\u202eb\\u0000\\u0085\\udb40\\udc41"));
        let back = read_json(&text).unwrap();
        assert_eq!(back.title, r.title);
        assert_eq!(back.beliefs_after, [("y".to_owned(), 0.1 + 0.2)]);
    }
}
