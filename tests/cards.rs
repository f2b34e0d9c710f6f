//! Golden cards, and what must hold for any card whatever people write into it.
//!
//! A folder of `tests/cards/` is a story: `record.json` is the record (and the golden JSON card), every other file is a
//! card of it, named by kind and form. A new story is a new folder with empty files; with `SHAKEDOWN_REWRITE_CARDS=1` in
//! the environment the test writes them instead of comparing.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails by panicking")]

use std::fs;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use shakedown::dialogue::*;
use shakedown::report::{Form, Kind, PAGE_LIMIT, by_ending, read_json, render, text};

fn stories() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cards");
    let mut list: Vec<PathBuf> =
        fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).filter(|p| p.is_dir()).collect();
    list.sort();
    list
}

fn record(story: &Path) -> Record {
    let text = fs::read_to_string(story.join("record.json")).unwrap();
    read_json(&text).unwrap_or_else(|e| panic!("{}: {e}", story.display()))
}

#[test]
fn golden_cards() {
    let rewrite = std::env::var_os("SHAKEDOWN_REWRITE_CARDS").is_some();
    let mut wrong = Vec::new();
    let mut seen = Vec::new();
    for story in stories() {
        let record = record(&story);
        let mut cards = 0;
        for file in fs::read_dir(&story).unwrap().map(|e| e.unwrap().path()) {
            let stem = file.file_stem().unwrap().to_str().unwrap();
            let form = Form::by_ending(file.to_str().unwrap()).unwrap_or_else(|| panic!("no card: {}", file.display()));
            let kind = if stem == "record" { Some(Kind::Work) } else { Kind::named(stem) };
            let kind = kind.unwrap_or_else(|| panic!("no kind of card: {}", file.display()));
            cards += usize::from(stem != "record");
            seen.push((kind.name(), form.ending()));
            let now = render(kind, form, &record);
            if rewrite {
                fs::write(&file, now).unwrap();
            } else if let Some(at) = first_difference(&fs::read_to_string(&file).unwrap(), &now) {
                wrong.push(format!("{}: {at}", file.display()));
            }
        }
        assert!(cards > 0, "{} has no card", story.display());
    }
    for kind in Kind::ALL {
        for form in ["txt", "md", "html"] {
            assert!(seen.contains(&(kind.name(), form)), "no golden card of kind {} as {form}", kind.name());
        }
    }
    assert!(wrong.is_empty(), "cards differ (SHAKEDOWN_REWRITE_CARDS=1 rewrites them):\n{}", wrong.join("\n"));
}

fn first_difference(old: &str, new: &str) -> Option<String> {
    if old == new {
        return None;
    }
    let (mut o, mut n) = (old.lines(), new.lines());
    for line in 1.. {
        match (o.next(), n.next()) {
            (a, b) if a != b => return Some(format!("line {line}\n  was: {a:?}\n  is:  {b:?}")),
            (None, _) => break,
            _ => {}
        }
    }
    Some("line ends".into())
}

#[test]
fn the_screen_s_card_and_files_by_ending_are_the_work_card() {
    let r = record(&stories()[0]);
    assert_eq!(text(&r), render(Kind::Work, Form::Text, &r));
    assert_eq!(by_ending("visit.TXT", &r).unwrap(), text(&r));
    assert_eq!(by_ending("visit.html", &r).unwrap(), render(Kind::Work, Form::Html, &r));
    assert!(by_ending("visit.pdf", &r).unwrap_err().contains(".html"));
}

/// Words that people, or somebody who wants to do harm, may type as a name.
fn hostile() -> Vec<String> {
    vec![
        "<script>alert(1)</script>".into(),
        "</style></svg></title><img src=x onerror=alert(1)>".into(),
        "\"' onload='x' style=\"color:red\" \"".into(),
        "&lt;b&gt; &amp; &#x3c;script&#x3e;".into(),
        "--> ]]> <!-- <![CDATA[".into(),
        "javascript:alert(1) http://x.example/a www.x.example a@x.example".into(),
        "![a](http://x.example/p.png) [b](javascript:x) <http://x.example> `c` **d** ~~e~~ | f | # g".into(),
        "```\n</code>\n---\n# heading\n- item\n1. one".into(),
        "1. one".into(),
        "- [ ] x".into(),
        "\u{202e}gnp.exe\u{202c} \u{2066}x\u{2069} \u{200f}\u{61c}".into(),
        "אופניים של דנה ודראגה سريعة".into(),
        "a\u{0}b\u{7}c\u{1b}[2J\u{1b}]0;t\u{7}d\u{9b}31m\r\ne\u{2028}f\u{85}g".into(),
        "z\u{336}\u{336}\u{336}\u{336}\u{336}\u{336}\u{336}\u{336}\u{336}\u{336}\u{336}\u{336}algo".into(),
        "\u{fffe}\u{feff}\u{200b}".into(),
        "車輪が左右に振れている".into(),
        "x".repeat(10_000),
        "\"".repeat(10_000),
        "<b>".repeat(3_400),
        "\u{202e}".repeat(10_000),
        "🚲\u{200d}".repeat(2_500),
        String::new(),
    ]
}

/// A record with this text wherever a text can stand, and `n` items wherever a list can.
fn filled(t: &str, n: usize) -> Record {
    let s = || t.to_owned();
    let many = |i: usize| format!("{i}{t}");
    let list = || (0..n).map(many).collect::<Vec<_>>();
    let figure = |id: &str, si: f64| RecordedFigure {
        calculator: "measured".into(),
        id: id.into(),
        label: s(),
        shown: s(),
        si,
        unit: s(),
        lo: Some(si * 0.9),
        hi: Some(si * 1.1),
    };
    let rungs = || {
        (0..n)
            .map(|i| RecordedRung { label: s(), value: 1.0 + i as f64, shown: s(), lo: Some(1.0), hi: Some(2.0) })
            .collect()
    };
    let ladder = || RecordedLadder { title: s(), unit: s(), rungs: rungs() };
    let places = [
        ("saddle-height", 0.7),
        ("saddle-setback", 0.06),
        ("saddle-to-bar", 0.5),
        ("bar-drop", 0.02),
        ("bar-roll", 0.02),
        ("crank", 0.17),
        ("wheelbase", 1.1),
        ("tyre-front", 2e5),
        ("tyre-rear", 2e5),
        ("sag-fork", 0.2),
        ("sag-rear", 0.3),
        ("knee-bend", 0.6),
        ("thigh", 0.43),
        ("pad-gap-left", 2e-4),
        ("pad-gap-right", 3e-4),
        ("rotor", 1.8e-3),
        ("pad-left", 2e-3),
        ("pad-right", 2e-3),
        ("rotor-runout", 1e-4),
    ];
    Record {
        rider: list(),
        bike: list(),
        complaints: list(),
        findings: list(),
        causes: list(),
        excluded: list(),
        settings: (0..n)
            .map(|i| RecordedSetting {
                what: many(i),
                before: Some(s()),
                after: s(),
                how: s(),
                measured: s(),
                compared: s(),
            })
            .collect(),
        cautions: list(),
        checks: list(),
        lines: list(),
        title: s(),
        date: s(),
        rider_name: s(),
        bike_name: s(),
        by: s(),
        stop: list(),
        work: list(),
        open: list(),
        beliefs_before: (0..n).map(|i| (many(i), 0.3)).collect(),
        beliefs_after: (0..n).map(|i| (many(i), 0.4)).collect(),
        figures: places.iter().map(|(id, si)| figure(id, *si)).chain((0..n).map(|i| figure(&many(i), 1.0))).collect(),
        curves: (0..n)
            .map(|_| RecordedCurve {
                title: s(),
                x: s(),
                y: s(),
                points: (0..n * 9).map(|i| (i as f64, (i * i) as f64)).collect(),
                marks: (0..n)
                    .map(|i| RecordedMark { x: i as f64, y: 1.0, label: s(), role: "reading".into() })
                    .collect(),
            })
            .collect(),
        ladders: (0..n).map(|_| ladder()).collect(),
        methods: (0..n).map(|_| ladder()).collect(),
        readings: (0..n.max(2))
            .map(|i| RecordedReading {
                what: s(),
                when: format!("2026-03-{:02}", i % 28 + 1),
                value: i as f64,
                unit: s(),
                wear: i % 2 == 0,
                limit: Some(3.0),
                out: i == 0,
            })
            .collect(),
        rides: (0..n).map(|i| RecordedRide { when: format!("2026-03-{:02}", i % 28 + 1), what: s() }).collect(),
        trials: (0..n)
            .map(|i| RecordedTrial {
                setting: many(i),
                baseline: s(),
                change: s(),
                ride: s(),
                feel: list(),
                stop: list(),
                blind: false,
                planned: list(),
                runs: vec![RecordedRun { setting: s(), when: s(), verdict: s() }; n],
                verdict: s(),
            })
            .collect(),
        due: (0..n)
            .map(|i| RecordedDue {
                what: many(i),
                how: s(),
                on: "2026-03-01".into(),
                after: s(),
                done: String::new(),
                now: i == 0,
            })
            .collect(),
    }
}

/// Everything that may stand in a page: the tags and attributes that the room itself writes.
fn check_page(page: &str) {
    const TAGS: &[&str] = &[
        "!DOCTYPE",
        "html",
        "head",
        "meta",
        "title",
        "style",
        "body",
        "header",
        "h1",
        "h2",
        "p",
        "dl",
        "div",
        "dt",
        "dd",
        "main",
        "section",
        "ul",
        "li",
        "table",
        "thead",
        "tbody",
        "tr",
        "th",
        "td",
        "span",
        "strong",
        "figure",
        "figcaption",
        "footer",
        "bdi",
        "svg",
        "desc",
        "defs",
        "pattern",
        "rect",
        "path",
        "circle",
        "text",
    ];
    const VOID: &[&str] = &["meta", "!DOCTYPE"];
    const ATTRIBUTES: &[&str] = &[
        "html",
        "lang",
        "charset",
        "http-equiv",
        "content",
        "name",
        "class",
        "role",
        "scope",
        "data-head",
        "xmlns",
        "viewBox",
        "aria-labelledby",
        "font-family",
        "font-size",
        "fill",
        "stroke",
        "stroke-linecap",
        "stroke-linejoin",
        "stroke-width",
        "stroke-dasharray",
        "id",
        "width",
        "height",
        "patternUnits",
        "patternTransform",
        "d",
        "x",
        "y",
        "cx",
        "cy",
        "r",
        "text-anchor",
        "paint-order",
    ];
    assert!(page.len() <= PAGE_LIMIT, "{} bytes", page.len());
    let style = (page.find("<style>").unwrap() + 7)..page.find("</style>").unwrap();
    let rest = page[..style.start].to_owned() + &page[style.end..];
    let mut open: Vec<&str> = Vec::new();
    let mut ids: Vec<&str> = Vec::new();
    for piece in rest.split('<').skip(1) {
        let (tag, words) = piece.split_once('>').expect("every tag ends");
        assert!(!words.contains('>') && !words.contains('"') && !words.contains('\''), "not escaped: {words:.80}");
        for entity in words.split('&').skip(1) {
            let (name, _) = entity.split_once(';').unwrap_or_else(|| panic!("a bare &: {words:.80}"));
            assert!(["amp", "lt", "gt", "quot", "#39"].contains(&name), "&{name};");
        }
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name), "tags nest");
            continue;
        }
        let (name, mut attributes) = tag.split_once(' ').unwrap_or((tag, ""));
        let name = name.trim_end_matches('/');
        assert!(TAGS.contains(&name), "unknown tag {name:.40}");
        if !tag.ends_with('/') && !VOID.contains(&name) {
            open.push(name);
        }
        while let Some((attribute, value)) = attributes.split_once("=\"") {
            assert!(ATTRIBUTES.contains(&attribute.trim()), "unknown attribute {attribute:.40}");
            let (value, after) = value.split_once('"').expect("quotes close");
            if attribute.trim() == "id" {
                assert!(!ids.contains(&value), "id {value} twice");
                ids.push(value);
            }
            assert!(attribute.trim() == "xmlns" || !value.contains("http:"), "an address in {name} {attribute}");
            assert!(!value.contains("NaN") && !value.contains("inf"), "{name} {attribute}={value}");
            attributes = after;
        }
    }
    assert!(open.is_empty(), "{open:?}");
    assert!(page.contains("default-src 'none'") && !page.contains("unsafe") && page.contains("<html lang=\"en\">"));
}

fn no_unseen(card: &str) {
    for c in card.chars() {
        let hidden = matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{61c}' | '\u{feff}' | '\u{200b}' | '\u{2028}');
        assert!(!hidden && (c == '\n' || !c.is_control()), "{c:?} on a card");
    }
}

fn check_markdown(card: &str) {
    use pulldown_cmark::{Event, Options, Parser, Tag};
    let options =
        Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH | Options::ENABLE_TASKLISTS | Options::ENABLE_FOOTNOTES;
    let mut headings = 0;
    for event in Parser::new_ext(card, options) {
        match event {
            Event::Html(h) | Event::InlineHtml(h) => panic!("markup came through: {h:.60}"),
            Event::Start(Tag::Link { dest_url, .. } | Tag::Image { dest_url, .. }) => panic!("a link: {dest_url:.60}"),
            Event::Start(Tag::Strikethrough | Tag::Emphasis | Tag::FootnoteDefinition(_))
            | Event::TaskListMarker(_) => panic!("a mark came through"),
            Event::Code(c) => panic!("code came through: {c:.60}"),
            Event::Start(Tag::Heading { .. }) => headings += 1,
            _ => {}
        }
    }
    assert_eq!(headings, card.lines().filter(|l| l.starts_with("# ") || l.starts_with("## ")).count());
}

#[test]
fn hostile_names_do_nothing_in_any_card() {
    for name in hostile() {
        let r = filled(&name, if name.len() > 1_000 { 1 } else { 2 });
        for kind in Kind::ALL {
            let page = render(kind, Form::Html, &r);
            check_page(&page);
            no_unseen(&page);
            let card = render(kind, Form::Text, &r);
            no_unseen(&card);
            let wide = card.lines().find(|l| unicode_width::UnicodeWidthStr::width(*l) > 78);
            assert_eq!(wide, None, "{name:.20}");
            let card = render(kind, Form::Markdown, &r);
            no_unseen(&card);
            check_markdown(&card);
        }
        let json = render(Kind::Work, Form::Json, &r);
        no_unseen(&json);
        assert_eq!(read_json(&json).unwrap(), r, "{name:.20}");
    }
}

#[test]
fn the_words_themselves_come_through() {
    let r = Record { complaints: vec!["it says <clonk> & \"tick\" | 2*3_4".into()], ..Record::default() };
    assert!(render(Kind::Work, Form::Text, &r).contains("- it says <clonk> & \"tick\" | 2*3_4\n"));
    assert!(
        render(Kind::Work, Form::Html, &r).contains("<li>it says &lt;clonk&gt; &amp; &quot;tick&quot; | 2*3_4</li>")
    );
    let card = render(Kind::Work, Form::Markdown, &r);
    let words: String = pulldown_cmark::Parser::new(&card)
        .filter_map(|e| if let pulldown_cmark::Event::Text(t) = e { Some(t.to_string()) } else { None })
        .collect();
    assert!(words.contains("it says <clonk> & \"tick\" | 2*3_4"), "{words}");
}

#[test]
fn no_page_is_heavier_than_its_limit_and_a_cut_one_says_so() {
    for (text, n) in [("\"".repeat(700), 12), ("<&>".repeat(400), 12), ("x".repeat(10_000), 6), ("車".repeat(900), 14)]
    {
        let r = filled(&text, n);
        for kind in Kind::ALL {
            let page = render(kind, Form::Html, &r);
            check_page(&page);
            if text.len() > 1_000 {
                assert!(page.contains("Shortened to fit a card"), "{kind:?}");
            }
        }
    }
    for story in stories() {
        let r = record(&story);
        for kind in Kind::ALL {
            let page = render(kind, Form::Html, &r);
            check_page(&page);
            assert!(!page.contains("Shortened"), "{} {kind:?}", story.display());
        }
    }
}

#[test]
fn numbers_that_are_none_or_absurd_draw_nothing_wild() {
    for v in [f64::NAN, f64::INFINITY, -f64::INFINITY, 1e300, -1e300, 1e12, 0.0, -0.0, 1e-300] {
        let mut r = filled("a", 3);
        r.figures.iter_mut().for_each(|f| (f.si, f.lo, f.hi) = (v, Some(v), Some(v)));
        r.curves.iter_mut().for_each(|c| {
            c.points = vec![(v, v), (1.0, 1.0), (v, -v)];
            c.marks.iter_mut().for_each(|m| m.y = v);
        });
        r.ladders.iter_mut().chain(&mut r.methods).for_each(|l| l.rungs.iter_mut().for_each(|g| g.value = v));
        r.readings.iter_mut().for_each(|s| s.value = v);
        r.beliefs_after.iter_mut().for_each(|b| b.1 = v);
        for kind in Kind::ALL {
            check_page(&render(kind, Form::Html, &r));
            assert!(!render(kind, Form::Text, &r).contains("NaN"));
        }
        assert!(read_json(&render(Kind::Work, Form::Json, &r)).is_ok(), "{v}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_text_is_safe_and_comes_back_from_json(name in "\\PC{0,40}|[\\x00-\\u{2fff}]{0,40}|[-#>*_`~|<&!\\[\\]()0-9.+= \n]{0,30}", p in 0.0f64..1.0) {
        let mut r = filled(&name, 1);
        r.beliefs_after[0].1 = p;
        for kind in Kind::ALL {
            let page = render(kind, Form::Html, &r);
            check_page(&page);
            check_markdown(&render(kind, Form::Markdown, &r));
            no_unseen(&render(kind, Form::Text, &r));
        }
        prop_assert_eq!(read_json(&render(Kind::Work, Form::Json, &r)).unwrap(), r);
    }

    #[test]
    fn a_damaged_card_is_refused_or_whole(at in 0usize..4_000, with in "\\PC") {
        let good = fs::read_to_string(stories()[0].join("record.json")).unwrap();
        let at = (at..good.len()).find(|i| good.is_char_boundary(*i)).unwrap_or(0);
        let _ = read_json(&format!("{}{with}{}", &good[..at], &good[at..]));
        let cut = &good[..at];
        prop_assert!(read_json(cut).is_err());
    }
}
