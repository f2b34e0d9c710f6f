//! Learning the likeness model from a library's sentences.

use crate::hearing::learn;
use crate::library::Library;

/// The model's bytes: every cause and guide is a class; its sentences, title and other names are the examples.
pub(super) fn learned(library: &Library) -> Vec<u8> {
    let classes: Vec<String> = library.causes.iter().map(|c| c.id.clone()).collect();
    let mut examples = Vec::new();
    for (i, c) in library.causes.iter().enumerate() {
        examples.extend(c.says.iter().chain([&c.title]).chain(&c.also).map(|s| (s.as_str(), i)));
    }
    learn(&classes, &examples)
}
