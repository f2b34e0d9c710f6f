//! Belief over causes, and what to ask or try next.
//!
//! Owns the arithmetic: prior, likelihood, posterior, information, cost, safety mass, explanation. Knows nothing of text,
//! files or screens: causes and findings are numbers here. Everything is deterministic; ties resolve by position, which is
//! the order of ids.
//!
//! Literature: single-fault Bayes with a leak; repair order by p/C and question choice by expected cost after Kalagnanam
//! & Henrion (1990), Heckerman, Breese & Rommelse (1995), Breese & Heckerman (1996), Jensen et al. (2001), as named in
//! DEVELOPERS.md.

mod ahead;
mod choose;
mod evidence;
mod explain;
mod model;
mod policy;
mod posterior;
mod repair;
mod rival;
pub mod simulate;

pub use ahead::{Prospect, look_ahead, minutes_to_be_sure};
pub use choose::{
    Answering, Candidate, Circumstances, information, information_about, minutes_of_question, rank_questions,
};
pub use evidence::{Evidence, Origin, RepairOutcome, What};
pub use explain::{AnswerEffect, Weight, answer_effects, weights};
pub use model::{Model, Table};
pub use policy::{Act, Situation};
pub use posterior::{Belief, in_words};
pub use repair::{cost_of_repair, repair_order};
pub use rival::{Pair, best_pair};
