//! Reply: what one cover has to say, for each of the two streams, and how it ends.

use crate::assets::ShelfFault;
use crate::cli::exit::Exit;
use crate::cli::present::text;
use crate::cli::say;
use crate::record::Built;
use crate::targets::Target;

pub struct Reply {
    pub out: String,
    /// Visible already: it may have colours.
    pub error: String,
    pub exit: Exit,
}

impl Reply {
    /// Nothing to say.
    pub fn silent(exit: Exit) -> Reply {
        Reply { out: String::new(), error: String::new(), exit }
    }

    pub fn stopped(why: &str) -> Reply {
        Reply { error: format!("jaconet: {}\n", say::visible(why)), ..Reply::silent(Exit::Stopped) }
    }

    pub fn say(&self) {
        say::error(&self.error);
        say::out(&self.out);
    }
}

/// The findings of a cover with their lines.
pub fn findings(target: &Target, built: &Built) -> String {
    text(&target.shown, built, say::colourful())
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
