//! `jaconet tidy`: files of ours rewritten in one layout.

use crate::cli::exit::Exit;
use crate::cli::present::{summary, text};
use crate::cli::say;
use crate::cli::typed_files::typed_files;
use crate::compile::{TidyResult, tidy};
use crate::disk::{Disk, rewrite};
use crate::ground::count;
use crate::source::Untidied;
use clap::Args;
use std::path::{Path, PathBuf};

#[derive(Args)]
pub struct TidyArgs {
    /// KDL files: covers, series, catalogues; a folder stands for its cover.kdl, or, if it has none,
    /// for every .kdl file below it
    #[arg(default_value = ".", hide_default_value = true)]
    pub files: Vec<PathBuf>,
    /// Write nothing, name the files that are not tidy, and exit 1 if there are any
    #[arg(long)]
    pub check: bool,
}

pub fn run(args: &TidyArgs) -> Exit {
    let files = match typed_files(&args.files) {
        Ok(files) => files,
        Err((why, help)) => {
            say::stopped(&why, &help);
            return Exit::Stopped;
        }
    };
    let (mut exit, mut tidied) = (Exit::Clean, 0);
    for path in &files {
        let (one, changed) = file(path, args.check);
        exit = exit.max(one);
        tidied += usize::from(changed);
    }
    if exit == Exit::Clean {
        let tidied = if tidied > 0 { format!(", {tidied} of them rewritten") } else { String::new() };
        say::out(&format!("tidy: {}{tidied}\n", count(files.len(), "file")));
    }
    exit
}

/// Lays out one file, and says whether it had to be.
fn file(path: &Path, only_look: bool) -> (Exit, bool) {
    let shown = path.display().to_string();
    let folder = path.parent().unwrap_or(Path::new(""));
    let Some(name) = path.file_name().and_then(|name| name.to_str()) else {
        say::stopped(&format!("{shown} is not a name that can be read"), "use letters");
        return (Exit::Stopped, false);
    };
    let done = match tidy(&Disk::new(folder), name) {
        Ok(done) => done,
        Err(fault) => {
            say::stopped(&format!("{shown}: {fault}"), "");
            return (Exit::Stopped, false);
        }
    };
    match done.layout {
        TidyResult::Kept => (Exit::Clean, false),
        TidyResult::New(_) if only_look => {
            say::out(&format!("{shown}: not tidy\n"));
            (Exit::Errors, true)
        }
        TidyResult::New(new) => match rewrite(path, new.as_bytes()) {
            Ok(()) => {
                say::out(&format!("{shown}: rewritten\n"));
                (Exit::Clean, true)
            }
            Err(fault) => {
                say::stopped(&fault.to_string(), "");
                (Exit::Stopped, false)
            }
        },
        TidyResult::None(Untidied::Faulty) => {
            say::error(&text(&shown, &done.built, say::colourful()));
            say::out(&summary(&shown, &done.built));
            (Exit::Errors, false)
        }
        TidyResult::None(Untidied::TooLarge) => {
            say::stopped(
                &format!("{shown} is left as it is: laid out, it would be too large"),
                "part it into several files",
            );
            (Exit::Stopped, false)
        }
        TidyResult::None(Untidied::Changed) => {
            let why = format!("{shown} is left as it is: laid out, it would not say the same");
            say::stopped(&why, "this is a fault of the program itself; lay out this file by hand");
            (Exit::Stopped, false)
        }
    }
}
