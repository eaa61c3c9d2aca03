//! Entry: what the rest of the program has to know of an output. Whatever is in the list of outputs is delivered, offered
//! by `--only`, reported, listed in the manual and taken away when it is out of date.

use crate::assets::Darkroom;
use crate::ground::{Findings, Pieces};
use crate::output::particulars::Particulars;
use crate::scene::{Media, OutputSettings, Scene};
use crate::source::{Word, number};

/// A kind of file that a cover can be delivered as. A scene is always printable, so writing cannot fail.
pub struct Output {
    /// What `--only` and `deliver` call it, its line in the manual, and what a cover may choose of it.
    pub word: Word,
    /// What its files may be called, after the cover's name and a hyphen: `front.png`. In `view-NAME.png`, `NAME` stands
    /// for any name. A file that a cover has no longer is taken away.
    pub files: &'static [&'static str],
    /// It goes to the printer: a cover with errors has none.
    pub for_press: bool,
    /// It is made where `--only` or the cover's `deliver` names it, and not otherwise.
    pub on_request: bool,
    /// Which covers have it.
    pub media: Media,
    pub write: fn(&OutputJob<'_>) -> Vec<OutputFile>,
}

/// What an output is made of.
pub struct OutputJob<'a> {
    pub scene: &'a Scene,
    pub findings: &'a Findings,
    /// What is to be said of the cover in words.
    pub particulars: &'a Particulars,
    pub settings: &'a OutputSettings,
    pub darkroom: &'a Darkroom,
}

/// In a file's name, the part that a cover chooses.
const CHOSEN: &str = "NAME";

impl Output {
    /// Names of files that are always the same.
    pub fn fixed_files(&self) -> impl Iterator<Item = &'static str> {
        self.files.iter().copied().filter(|file| !file.contains(CHOSEN))
    }

    /// Whether a file's name, after the cover's name and a hyphen, is one of those that covers choose.
    pub fn chosen_file(&self, name: &str) -> bool {
        let parts = self.files.iter().filter_map(|file| file.split_once(CHOSEN));
        let inner = |(head, tail)| name.strip_prefix(head)?.strip_suffix(tail);
        parts.filter_map(inner).any(|chosen| !chosen.is_empty())
    }
}

/// The resolution of pictures.
pub const PPI: Word =
    Word::new("ppi", "pixels per inch").takes(&[number("pixels per inch", 20.0, 600.0)]).default("200");

/// One file, not yet on a disk.
pub struct OutputFile {
    /// As `Output::files` has it, with the name that the cover chose.
    pub name: String,
    pub bytes: Pieces,
}
