//! The program.

use std::process::ExitCode;

fn main() -> ExitCode {
    shakedown::app::run()
}
