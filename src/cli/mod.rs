//! The command line: arguments in, words and an exit code out.

mod args;
mod build;
mod check;
mod compare;
mod compare_pdfs;
mod covers;
mod design;
mod drawn;
mod drift;
mod exit;
mod explain;
mod faces;
mod flags;
mod in_force;
mod inputs;
mod kin;
mod location;
mod manual;
mod measure;
mod new;
mod outcome;
mod pairs;
mod present;
mod preview;
mod progress;
mod repeats;
mod reply;
mod run;
mod sarif;
mod say;
mod shelf;
mod shelf_picture;
mod specimen;
mod store;
mod tidy;
mod timings;
mod trial;
mod typed_files;
mod vocabulary;
mod watch;

pub use args::command;
#[cfg(any(test, feature = "testing"))]
pub use manual::{topics, words};
pub use vocabulary::{vocabulary, words_at};
