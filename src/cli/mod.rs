//! Arguments in, words and an exit code out.

mod args;
mod build;
mod check;
mod covers;
mod exit;
mod explain;
mod listed;
mod manual;
mod measure;
mod new;
mod outcome;
mod present;
mod progress;
mod sarif;
mod say;
mod shelf;
mod store;
mod tidy;
mod watch;

pub use args::command;
