//! Covers: what may be typed for them, and the roster that it stands for.

use crate::cli::exit::Exit;
use crate::cli::present::{summary, text};
use crate::cli::say;
use crate::targets::{Roster, Shard, Wish, roster};
use std::path::{Path, PathBuf};

#[derive(clap::Args)]
pub struct CoverArgs {
    /// Cover files, series, catalogues, or folders that hold them; without one, this folder
    #[arg(default_value = ".", hide_default_value = true)]
    pub files: Vec<PathBuf>,
    /// These editions alone [default: the cover as it stands, and all its editions]
    #[arg(long, value_name = "NAME", num_args = 1.., value_delimiter = ',')]
    pub edition: Vec<String>,
    /// These titles of a catalogue alone, by slug [default: all]
    #[arg(long, value_name = "SLUG", num_args = 1.., value_delimiter = ',')]
    pub title: Vec<String>,
    /// One of N parts of the work, always the same: 2/5 is the second of five
    #[arg(long, value_name = "I/N", value_parser = shard)]
    pub shard: Option<Shard>,
}

impl CoverArgs {
    pub fn wish(&self, out: Option<&Path>) -> Wish {
        Wish {
            files: self.files.clone(),
            out: out.map(Path::to_owned),
            editions: self.edition.clone(),
            titles: self.title.clone(),
            shard: self.shard,
        }
    }
}

/// What a wish comes to; what is wrong with catalogues as a whole is said. `None` when nothing can be done, which has
/// been said, too.
pub fn called(wish: &Wish) -> Option<(Roster, Exit)> {
    match roster(wish) {
        Ok(roster) => {
            let exit = tell(&roster);
            Some((roster, exit))
        }
        Err((why, help)) => {
            say::stopped(&why, &help);
            None
        }
    }
}

/// Says what is wrong with catalogues as a whole.
pub fn tell(roster: &Roster) -> Exit {
    let mut exit = Exit::Clean;
    for (shown, told) in roster.told.iter().filter(|(_, told)| !told.findings.is_empty()) {
        say::error(&text(shown, told, say::colourful()));
        say::error(&summary(shown, told));
        exit = exit.max(Exit::from(&told.findings));
    }
    exit
}

fn shard(typed: &str) -> Result<Shard, String> {
    let said = typed.split_once('/').and_then(|(part, of)| Some((part.parse().ok()?, of.parse().ok()?)));
    match said {
        Some((part, of)) if (1..=of).contains(&part) => Ok(Shard { part, of }),
        _ => Err("write two whole numbers, such as 2/5: the second of five parts".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shards_are_counted_from_one() {
        assert_eq!(shard("2/5"), Ok(Shard { part: 2, of: 5 }));
        for slip in ["0/5", "6/5", "2", "a/b", "2/0", "-1/2", ""] {
            assert!(shard(slip).is_err(), "{slip}");
        }
    }
}
