//! Reply: what one cover has to say, for each of the two streams, and how it ends.

use crate::assets::ShelfFault;
use crate::cli::exit::Exit;
use crate::cli::present::texts;
use crate::cli::repeats::{FindingText, Repeats};
use crate::cli::say;
use crate::record::Built;
use crate::targets::Target;

pub struct Reply {
    pub out: String,
    /// What was found, before the other words of the error stream.
    pub found: Vec<FindingText>,
    /// Visible already: it may have colours.
    pub error: String,
    pub exit: Exit,
}

impl Reply {
    /// Nothing to say.
    pub fn silent(exit: Exit) -> Reply {
        Reply { out: String::new(), found: Vec::new(), error: String::new(), exit }
    }

    pub fn stopped(why: &str) -> Reply {
        Reply { error: format!("jaconet: {}\n", say::visible(why)), ..Reply::silent(Exit::Stopped) }
    }

    pub fn say(self) {
        self.say_once("", &mut Repeats::default());
    }

    /// What earlier titles of a catalogue have said already is only counted.
    pub fn say_once(self, name: &str, repeats: &mut Repeats) {
        say::error(&repeats.fresh(name, self.found));
        say::error(&self.error);
        say::out(&self.out);
    }
}

/// The findings of a cover with their lines.
pub fn findings(target: &Target, built: &Built) -> Vec<FindingText> {
    texts(&target.shown, built, say::colourful())
}

/// Why a cover file cannot be read.
pub fn unread(target: &Target, fault: &ShelfFault) -> String {
    let near = match fault {
        ShelfFault::Missing { nearest: Some(near) } => {
            format!("; did you mean {}?", target.folder.join(near).display())
        }
        _ => String::new(),
    };
    format!("{}: {fault}{near}", target.name)
}
