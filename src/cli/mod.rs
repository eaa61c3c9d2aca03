//! Arguments in, words and an exit code out.

mod args;
mod build;
mod check;
mod compare;
mod covers;
mod design;
mod exit;
mod explain;
mod inputs;
mod listed;
mod manual;
mod measure;
mod new;
mod outcome;
mod pairs;
mod present;
mod progress;
mod sarif;
mod say;
mod shelf;
mod store;
mod tidy;
mod tries;
mod watch;

pub use args::command;
