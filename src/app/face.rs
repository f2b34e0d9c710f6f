//! A face of the conversation: lines go in, text or JSON comes out. The shell, a pipe, the JSON-lines face and the tests all
//! use this one door.

use serde_json::json;

use super::book::{Shelf, Told};
use crate::dialogue::{Asked, Bench, Block, Effect, Focus, Recalled, Record, Reply, Session, Turn};
use crate::render::{Line, Look, lines, paint};
use crate::report::{self, Form, Kind};

/// What a line brought.
#[derive(Clone, Debug, Default)]
pub struct Answer {
    /// Text to print.
    pub text: String,
    /// Cards to be written: kind, file name and contents.
    pub cards: Vec<(Kind, String, String)>,
    /// The person leaves.
    pub leave: bool,
    /// A rider was erased: lines typed before must not be kept.
    pub forget: bool,
}

/// A conversation with a way of looking.
pub struct Face<'b> {
    bench: &'b Bench,
    /// The conversation.
    pub session: Session,
    look: Look,
    height: Option<usize>,
    json: bool,
    pending: Vec<Line>,
    shelf: Option<Shelf>,
    /// Lines are taken that were taken before: what they wrote into the book stands there.
    again: bool,
}

/// Rows kept free for the prompt and the remark that there is more.
const KEPT_FREE: usize = 2;
/// What is said when the book is asked and none is open.
const NO_BOOK: &str = "No book is open: start with --book FILE to keep riders, bikes and visits.";

impl<'b> Face<'b> {
    /// A face; with a height, replies longer than the screen stop there until more is asked for.
    #[must_use]
    pub fn new(bench: &'b Bench, look: Look, height: Option<usize>, json: bool) -> Self {
        Self { bench, session: Session::new(), look, height, json, pending: Vec::new(), shelf: None, again: false }
    }

    /// Lays a book beside the conversation.
    pub(super) fn with_book(mut self, shelf: Option<Shelf>) -> Self {
        self.shelf = shelf;
        self
    }

    /// Opens a book beside the conversation and goes by a fixed time (unix seconds) instead of the machine's; for tests.
    ///
    /// # Errors
    /// A sentence saying why the book cannot be used.
    pub fn with_book_at(mut self, path: &std::path::Path, time: i64) -> Result<Self, String> {
        self.shelf = Some(Shelf::open(path)?.at(time));
        Ok(self)
    }

    /// Takes over the size of a window that has changed.
    pub fn resize(&mut self, width: usize, height: usize) {
        self.look.width = width;
        self.height = Some(height);
    }

    /// Whether it speaks JSON.
    #[must_use]
    pub fn is_json(&self) -> bool {
        self.json
    }

    /// Takes a line of a saved conversation again: what it once wrote into the book is not written twice.
    pub fn feed_again(&mut self, line: &str) -> Answer {
        self.again = true;
        let answer = self.feed(line);
        self.again = false;
        answer
    }

    /// Takes a line.
    pub fn feed(&mut self, line: &str) -> Answer {
        let line = if self.json { json_line(line) } else { Ok(line.to_owned()) };
        let line = match line {
            Ok(line) => line,
            Err(problem) => {
                let text = self.show(&Reply::say(problem), "", false);
                return Answer { text, ..Answer::default() };
            }
        };
        let word = line.trim().to_lowercase();
        if !self.pending.is_empty() && (word == "more" || word.is_empty()) {
            let text = self.page();
            return Answer { text, ..Answer::default() };
        }
        if word == "more" {
            let text = self.show(&Reply::say("There is no more to show."), &line, false);
            return Answer { text, ..Answer::default() };
        }
        let mut answer = Answer::default();
        let mut reply = Reply::default();
        for effect in self.session.step(self.bench, Turn::Line(line.clone())) {
            match effect {
                Effect::Say(r) => reply.extend(r),
                Effect::Leave => {
                    answer.leave = true;
                    self.keep_visit(&mut reply);
                }
                Effect::Book(asked) => answer.forget |= self.ask_book(&asked, &mut reply),
                Effect::Card { kind, file, record } => {
                    let Some(kind) = card_kind(&kind, file.as_deref()) else {
                        let known: Vec<&str> = Kind::ALL.iter().map(|k| k.name()).collect();
                        reply.add(format!("There is no card \"{kind}\". Cards: {}.", known.join(", ")));
                        continue;
                    };
                    match file {
                        None => {
                            reply.push(Block::Card { text: report::render(kind, Form::Text, &record) });
                            reply.aside("card and a file name writes it, for example: card visit.html");
                        }
                        Some(file) => match report::kind_by_ending(kind, &file, &record) {
                            Ok(text) => answer.cards.push((kind, file, text)),
                            Err(problem) => reply.add(problem),
                        },
                    }
                }
            }
        }
        answer.text = self.show(&reply, &line, answer.leave);
        answer
    }

    /// Puts a question to the book, and its answer back into the conversation; true when a rider was erased.
    fn ask_book(&mut self, asked: &Asked, reply: &mut Reply) -> bool {
        let Some(shelf) = &mut self.shelf else {
            let (then, line) = match asked {
                Asked::Bike { then, line, .. } => (then.clone(), line.clone()),
                _ => Default::default(),
            };
            let told = Recalled { then, trouble: line.is_empty().then(|| NO_BOOK.into()), line, ..Recalled::default() };
            self.recalled(told, reply);
            return false;
        };
        let writes = matches!(asked, Asked::Done { .. } | Asked::Plan | Asked::Distance { .. } | Asked::Erase { .. });
        if self.again && writes {
            reply.aside("Done when this was said first; not done again.");
            return false;
        }
        match shelf.ask(asked) {
            Told::Words(r) => reply.extend(r),
            Told::Erased(r) => {
                reply.extend(r);
                self.session.state.shared.rider = None;
                return true;
            }
            Told::Turn(r) => self.recalled(*r, reply),
            Told::Due(r, due) => {
                reply.extend(r);
                self.session.step(self.bench, Turn::Due(due));
            }
        }
        false
    }

    fn recalled(&mut self, told: Recalled, reply: &mut Reply) {
        for effect in self.session.step(self.bench, Turn::Recalled(Box::new(told))) {
            if let Effect::Say(r) = effect {
                reply.extend(r);
            }
        }
    }

    fn keep_visit(&self, reply: &mut Reply) {
        let Some(shelf) = &self.shelf else { return };
        let record = Record::of(&self.session.state, self.bench, self.session.lines());
        match shelf.keep_visit(self.bench, &self.session.state, &record) {
            Ok(true) => reply.aside("The visit is in the book."),
            Ok(false) => {}
            Err(e) => reply.add(format!("The visit could not be written: {e}")),
        }
    }

    /// Shows a reply that did not come from a turn.
    pub fn tell(&mut self, text: impl Into<String>) -> String {
        self.show(&Reply::say(text), "", false)
    }

    fn show(&mut self, reply: &Reply, line: &str, leave: bool) -> String {
        if self.json {
            let open = match &self.session.state.focus {
                Focus::Open => "open",
                Focus::Danger(_) => "danger",
                Focus::Finding(_) => "question",
                Focus::Conflict { .. } => "conflict",
                Focus::Offer(_) => "offer",
                Focus::Work(_) => "work",
                Focus::Calc(_) => "figures",
                Focus::Setup => "setup",
                Focus::Trying(_) => "trial",
            };
            let object = json!({ "line": line, "blocks": reply.blocks, "prompt": open, "leave": leave });
            return format!("{object}\n");
        }
        self.pending = lines(reply, self.look);
        if self.height.is_some_and(|h| self.pending.len() > h.saturating_sub(KEPT_FREE)) {
            self.pending = lines(&shorter(reply), self.look);
        }
        self.page()
    }

    /// The next screenful of what is pending.
    fn page(&mut self) -> String {
        let room = self.height.map_or(usize::MAX, |h| h.saturating_sub(KEPT_FREE).max(4));
        let mut out = String::new();
        let all = self.pending.len() <= room;
        let take = if all { self.pending.len() } else { room - 1 };
        for l in self.pending.drain(..take) {
            out.push_str(paint(&l, self.look).trim_end());
            out.push('\n');
        }
        if !all {
            let n = self.pending.len();
            let full = format!("({n} more lines: more, or just press Enter)");
            let short = format!("({n} more: press Enter)");
            out.push_str(if full.len() <= self.look.width { &full } else { &short });
            out.push('\n');
        }
        out
    }
}

/// A reply that is too long for the screen keeps the leading cause only, so that the question stays in sight.
fn shorter(reply: &Reply) -> Reply {
    let asks = reply.blocks.iter().any(|b| matches!(b, Block::Question { .. } | Block::Choices { .. }));
    let mut out = reply.clone();
    for b in &mut out.blocks {
        if let (Block::Beliefs { list, .. }, true) = (b, asks) {
            list.truncate(1);
        }
    }
    out
}

/// The kind of card that a word names; none named: the work card.
/// The kind of card asked for by name, or by the name of its file ("setup.html"); the work card when neither says.
fn card_kind(word: &str, file: Option<&str>) -> Option<Kind> {
    let stem = file.and_then(|f| std::path::Path::new(f).file_stem()?.to_str());
    if word.is_empty() { Some(stem.and_then(Kind::named).unwrap_or(Kind::Work)) } else { Kind::named(word) }
}

/// A line of the JSON face: a string, or an object with `line`.
fn json_line(line: &str) -> Result<String, String> {
    match serde_json::from_str::<serde_json::Value>(line) {
        Ok(serde_json::Value::String(s)) => Ok(s),
        Ok(serde_json::Value::Object(o)) => match o.get("line") {
            Some(serde_json::Value::String(s)) => Ok(s.clone()),
            _ => Err("the object has no text under \"line\"; send {\"line\": \"...\"}".into()),
        },
        Ok(_) => Err("neither a string nor an object; send {\"line\": \"...\"}".into()),
        Err(e) => Err(format!("not JSON ({e}); send {{\"line\": \"...\"}}")),
    }
}

/// Replays lines and returns for each what came out; for tests and for taking up a conversation again.
#[must_use]
pub fn replay(bench: &Bench, typed: &[String], look: Look) -> Vec<String> {
    let mut face = Face::new(bench, look, None, false);
    typed.iter().map(|l| face.feed(l).text).collect()
}
