//! `jaconet new`: a small cover that builds, to start from. It never overwrites.

use crate::cli::exit::Exit;
use crate::cli::say;
use crate::disk::write_new;
use crate::targets::COVER;
use clap::Args;
use std::path::PathBuf;

#[derive(Args)]
pub struct NewArgs {
    /// The folder of the new cover; it is made if it is not there
    pub dir: PathBuf,
}

/// What a new folder holds, in the order of writing: the cover file comes last, when all it names is there.
const STARTER: &[(&str, &str)] =
    &[("blurb.md", include_str!("starter/blurb.md")), (COVER, include_str!("starter/cover.kdl"))];

pub fn run(args: &NewArgs) -> Exit {
    let taken = STARTER.iter().map(|(name, _)| args.dir.join(name)).find(|path| path.symlink_metadata().is_ok());
    if let Some(path) = taken {
        say::stopped(&format!("{} is there already", path.display()), "choose another folder; nothing was written");
        return Exit::Stopped;
    }
    for (name, text) in STARTER {
        let path = args.dir.join(name);
        if let Err(fault) = write_new(&path, text.as_bytes()) {
            say::stopped(&fault.to_string(), "choose another folder");
            return Exit::Stopped;
        }
        say::out(&format!("{}\n", path.display()));
    }
    let folder = args.dir.display().to_string();
    let folder = if folder.contains(char::is_whitespace) { format!("\"{folder}\"") } else { folder };
    say::out(&format!("now: jaconet build {folder}\n"));
    Exit::Clean
}
