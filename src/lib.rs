//! Shakedown: an offline assistant that finds what is wrong with a bicycle, computes its settings and leads through the work.
//!
//! The rooms of the house and what each may import stand in DEVELOPERS.md; a test keeps the table true.

pub mod app;
pub mod belief;
pub mod calc;
pub mod cli;
pub mod dialogue;
pub mod domain;
pub mod hearing;
pub mod library;
pub mod render;
pub mod report;
pub mod shell;
pub mod store;
pub mod trial;
pub mod units;
