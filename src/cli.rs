//! Arguments and their help.

use std::path::PathBuf;

use clap::{Parser, ValueEnum};

/// Exit code after a mistake of the user's: a file that is not there, notes with problems, unknown options.
pub const USER_ERROR: u8 = 2;
/// Exit code after a fault of the program or the machine.
pub const INTERNAL_ERROR: u8 = 1;

/// Finds what is wrong with a bicycle, computes its settings and leads through the work. Offline.
///
/// Without arguments it opens the conversation. Exit codes: 0 success, 2 user error, 1 internal error.
#[derive(Debug, Parser)]
#[command(
    version,
    about,
    after_help = "Bodies and brakes: the maker's instructions, local law and a qualified mechanic (or clinician) come first."
)]
pub struct Args {
    /// The first complaint, in your own words
    pub complaint: Vec<String>,

    /// One JSON object a line in, one out (see DEVELOPERS.md)
    #[arg(long)]
    pub json: bool,

    /// For screen readers: no drawing characters, no meaning by colour alone
    #[arg(long)]
    pub spoken: bool,

    /// Columns to write in, instead of the terminal's
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(20..=400))]
    pub width: Option<u16>,

    /// A folder of your own notes, laid over the built-in ones
    #[arg(long, value_name = "FOLDER", env = "SHAKEDOWN_NOTES")]
    pub notes: Option<PathBuf>,

    /// The book of riders, bikes and visits, instead of the one in the platform's data folder
    #[arg(long, value_name = "FILE", env = "SHAKEDOWN_BOOK")]
    pub book: Option<PathBuf>,

    /// Copy the book to FILE, also while it is in use
    #[arg(long, value_name = "FILE")]
    pub backup_book: Option<PathBuf>,

    /// Write everything in the book to FILE as JSON lines
    #[arg(long, value_name = "FILE")]
    pub export_book: Option<PathBuf>,

    /// Take FILE, written by --export-book, into the book
    #[arg(long, value_name = "FILE")]
    pub import_book: Option<PathBuf>,

    /// Do not let this workshop's closed visits shift how common causes are held to be
    #[arg(long)]
    pub plain_frequencies: bool,

    /// Take up the conversation of a card written as JSON
    #[arg(long, value_name = "FILE")]
    pub take_up: Option<PathBuf>,

    /// Keep nothing: no saved conversation, no history
    #[arg(long)]
    pub keep_nothing: bool,

    /// Check the notes (the built-in ones, and those of --notes) and print every problem
    #[arg(long)]
    pub check_notes: bool,

    /// Score a list of complaints or of search queries (JSON lines with the program's own ids)
    #[arg(long, value_name = "FILE")]
    pub score: Option<PathBuf>,

    /// Measure the asking with simulated riders: questions, minutes, calibration, speed (some minutes)
    #[arg(long)]
    pub measure: bool,

    /// Riders simulated over all by --measure (and again for each system)
    #[arg(long, value_name = "N", default_value_t = 600, requires = "measure")]
    pub riders: usize,

    /// Work out one figure: the calculator's id, and what is known as the words after it (with --json: SI values too)
    #[arg(long, value_name = "ID")]
    pub figure: Option<String>,

    /// Print the page of all calculators with their sources and checks, as Markdown
    #[arg(long)]
    pub calculators: bool,

    /// Learn the likeness model from the built-in notes' sentences and write it to FILE
    #[arg(long, value_name = "FILE")]
    pub learn: Option<PathBuf>,

    /// Print completions for a command-line shell
    #[arg(long, value_name = "SHELL")]
    pub completions: Option<CompletionShell>,
}

/// Shells for which completions can be printed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum CompletionShell {
    /// bash
    Bash,
    /// fish
    Fish,
    /// zsh
    Zsh,
    /// PowerShell
    PowerShell,
    /// elvish
    Elvish,
}
