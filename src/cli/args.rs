//! What may be typed, and who answers it.

use crate::cli::covers::CoverArgs;
use crate::cli::exit::Exit;
use crate::cli::store::{StoreArgs, WorkArgs};
use crate::cli::{build, check, compare, explain, inputs, measure, new, say, shelf, tidy, watch};
use crate::scene::Surround;
use clap::builder::styling::Styles;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::io::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

/// Compiles a text description of a book cover to a press-ready PDF, pictures and a report.
#[derive(Parser)]
#[command(name = "jaconet", version, styles = Styles::plain(), arg_required_else_help = true)]
#[command(after_help = "Exit code: 0 clean or warnings, 1 errors found, 2 could not run.")]
struct Typed {
    #[command(subcommand)]
    word: Word,
}

#[derive(Subcommand)]
enum Word {
    /// Write a small cover that builds, to start from
    New(NewArgs),
    /// Write the press file, the pictures and the report
    Build(BuildArgs),
    /// Say what is wrong, and write nothing
    Check(CheckArgs),
    /// Build, and build again whenever a file of the cover changes
    Watch(WatchArgs),
    /// Tell every width, fold and sheet size, with the sum it came from
    Measure(MeasureArgs),
    /// List every file that covers read, with its SHA-256
    Inputs(inputs::InputsArgs),
    /// Tell what changed between two designs of a cover
    Compare(compare::CompareArgs),
    /// Rewrite files in one layout: the same cover, every comment
    Tidy(tidy::TidyArgs),
    /// Show the covers of a series side by side in one picture, and say what strays among them
    Shelf(shelf::ShelfArgs),
    /// Print the manual page of a word of the language or of a rule
    Explain(ExplainArgs),
}

#[derive(Args)]
pub struct NewArgs {
    /// The folder of the new cover; made when it is not there
    pub dir: PathBuf,
}

#[derive(Args)]
pub struct BuildArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// Where to write [default: the folder `out` beside the cover file]
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// Write these alone, parted by commas
    #[arg(long, value_delimiter = ',', value_parser = ["press", "flat", "panels", "report"])]
    pub only: Vec<String>,
    /// What stands around the trim of the press file [default: what the cover says]
    #[arg(long)]
    pub surround: Option<SurroundArg>,
    /// Try a fact of `book` or `format`: tell what it would change, and write nothing;
    /// pages=328, paper.grammage=90, "trim=135 216". May be said several times
    #[arg(long = "try", value_name = "FACT=VALUE")]
    pub tries: Vec<String>,
    /// For eyes, or for programs: one JSON object with all covers, what came of them, and sums
    #[arg(long, value_name = "FORM", default_value = "text")]
    pub report: Summary,
    #[command(flatten)]
    pub work: WorkArgs,
}

#[derive(Args)]
pub struct CheckArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// For eyes, or for programs: one JSON object a cover, each on a line of its own, or one
    /// SARIF log
    #[arg(long, value_name = "FORM", default_value = "text")]
    pub report: Form,
    /// Try a fact of `book` or `format` and tell what it would change: pages=328,
    /// paper.grammage=90, "trim=135 216". May be said several times
    #[arg(long = "try", value_name = "FACT=VALUE")]
    pub tries: Vec<String>,
    #[command(flatten)]
    pub work: WorkArgs,
}

#[derive(Args)]
pub struct WatchArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// Where to write [default: the folder `out` beside the cover file]
    #[arg(long)]
    pub out: Option<PathBuf>,
    #[command(flatten)]
    pub store: StoreArgs,
}

#[derive(Args)]
pub struct MeasureArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// For programs: the measures of one cover, or of several an object each, with its name
    #[arg(long)]
    pub json: bool,
}

#[derive(Args)]
pub struct ExplainArgs {
    /// Without a word: the list of all
    pub word: Option<String>,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Summary {
    Text,
    Json,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    Text,
    Json,
    Sarif,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum SurroundArg {
    /// Bleed, then crop, fold and registration marks
    Marks,
    /// Bleed alone
    Bleed,
    /// Neither: the page is the trim
    Trim,
}

impl From<SurroundArg> for Surround {
    fn from(typed: SurroundArg) -> Surround {
        match typed {
            SurroundArg::Marks => Surround::Marks,
            SurroundArg::Bleed => Surround::Bleed,
            SurroundArg::Trim => Surround::Trim,
        }
    }
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
    let exit = match typed.word {
        Word::New(args) => new::run(&args),
        Word::Build(args) => build::run(&args),
        Word::Check(args) => check::run(&args),
        Word::Watch(args) => watch::run(&args),
        Word::Measure(args) => measure::run(&args),
        Word::Inputs(args) => inputs::run(&args),
        Word::Compare(args) => compare::run(&args),
        Word::Tidy(args) => tidy::run(&args),
        Word::Shelf(args) => shelf::run(&args),
        Word::Explain(args) => explain::run(&args),
    };
    ended(exit)
}

/// A command whose words did not come out could not run.
fn ended(exit: Exit) -> ExitCode {
    if say::came_out() { exit.into() } else { Exit::Stopped.into() }
}
