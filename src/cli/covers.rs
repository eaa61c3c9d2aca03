//! Covers: the roster that the typed names stand for, and what is wrong with catalogues as a whole.

use crate::cli::exit::Exit;
use crate::cli::present::{summary, text};
use crate::cli::say;
use crate::targets::{Roster, Selection, roster};

/// The covers that are meant. `None` when nothing can be done; why has been said.
pub fn called(selection: &Selection) -> Option<(Roster, Exit)> {
    match roster(selection) {
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
    for (shown, built) in roster.catalogues.iter().filter(|(_, built)| !built.findings.is_empty()) {
        say::error(&text(shown, built, say::colourful()));
        say::error(&summary(shown, built));
        exit = exit.max(Exit::from(&built.findings));
    }
    exit
}
