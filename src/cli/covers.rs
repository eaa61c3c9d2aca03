//! Covers: the targets that the typed names stand for, and what is wrong with catalogues as a whole.

use crate::cli::exit::Exit;
use crate::cli::present::{summary, text};
use crate::cli::say;
use crate::targets::{Selection, TargetList, find_targets};

/// The covers that are meant. `None` when nothing can be done; why has been said.
pub fn called(selection: &Selection) -> Option<(TargetList, Exit)> {
    match find_targets(selection) {
        Ok(list) => {
            let exit = tell(&list);
            Some((list, exit))
        }
        Err((why, help)) => {
            say::stopped(&why, &help);
            None
        }
    }
}

/// Says what is wrong with catalogues as a whole.
pub fn tell(list: &TargetList) -> Exit {
    let mut exit = Exit::Clean;
    for (shown, built) in list.catalogues.iter().filter(|(_, built)| !built.findings.is_empty()) {
        say::error(&text(shown, built, say::colourful()));
        say::error(&summary(shown, built));
        exit = exit.max(Exit::from(&built.findings));
    }
    exit
}
