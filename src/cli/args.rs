//! What may be typed, and which command answers it.

use crate::cli::exit::Exit;
use crate::cli::{
    build, check, compare, drift, explain, faces, inputs, measure, new, preview, say, shelf, tidy, watch,
};
use clap::builder::styling::Styles;
use clap::{Parser, Subcommand};
use std::io::Write as _;
use std::process::ExitCode;

/// Compiles a text description of a book cover to a press-ready PDF, pictures and a report.
#[derive(Parser)]
#[command(name = "jaconet", version, styles = Styles::plain(), arg_required_else_help = true)]
#[command(after_help = "Exit code: 0 clean or warnings, 1 errors found, 2 could not run.")]
struct Typed {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Write a small cover that builds, to start from
    New(new::NewArgs),
    /// Write the press PDF, the flat picture, one picture per panel, and the report
    Build(build::BuildArgs),
    /// Say what is wrong, and write nothing
    Check(check::CheckArgs),
    /// Build, and build again whenever a file of a cover changes
    Watch(watch::WatchArgs),
    /// Show the work on a page in the browser, live: inks, plates, findings, tried facts
    Preview(preview::PreviewArgs),
    /// Show every width, fold and sheet size, with the sum it came from
    Measure(measure::MeasureArgs),
    /// List every file that covers read, with its SHA-256
    Inputs(inputs::InputsArgs),
    /// Say what changed between two designs of a cover
    Compare(compare::CompareArgs),
    /// Rehearse the worst of cutting, folding and register: small pictures, and what drift exposes
    Drift(drift::DriftArgs),
    /// Rewrite files in one layout: the same cover, every comment
    Tidy(tidy::TidyArgs),
    /// Show the covers of a series side by side in one picture, and list what differs among them
    Shelf(shelf::ShelfArgs),
    /// List the fonts that a cover may use: weights, axes, features, languages; and draw a specimen
    Faces(faces::FacesArgs),
    /// Print the manual page of a word of the language or of a rule
    Explain(explain::ExplainArgs),
}

/// Runs the command line as it was typed.
pub fn command() -> ExitCode {
    let typed = match Typed::try_parse() {
        Ok(typed) => typed,
        Err(other) => {
            // Help and version are asked for; anything else could not run.
            let exit = if other.use_stderr() { Exit::Stopped } else { Exit::Clean };
            if let Err(why) = other.print().and_then(|()| std::io::stdout().flush()) {
                say::lost(&why);
            }
            return ended(exit);
        }
    };
    let exit = match typed.command {
        Command::New(args) => new::run(&args),
        Command::Build(args) => build::run(&args),
        Command::Check(args) => check::run(&args),
        Command::Watch(args) => watch::run(&args),
        Command::Preview(args) => preview::run(&args),
        Command::Measure(args) => measure::run(&args),
        Command::Inputs(args) => inputs::run(&args),
        Command::Compare(args) => compare::run(&args),
        Command::Drift(args) => drift::run(&args),
        Command::Tidy(args) => tidy::run(&args),
        Command::Shelf(args) => shelf::run(&args),
        Command::Faces(args) => faces::run(&args),
        Command::Explain(args) => explain::run(&args),
    };
    ended(exit)
}

/// A command whose words did not come out could not run.
fn ended(exit: Exit) -> ExitCode {
    if say::came_out() { exit.into() } else { Exit::Stopped.into() }
}
