//! Entry: what the rest of the program has to know of an output. Whatever is in the list of outputs is delivered, offered
//! by `--only`, reported, listed in the manual and taken away when it is out of date.

use crate::assets::Darkroom;
use crate::scene::{OutputSettings, Scene};
use crate::source::{Word, number};

/// A kind of file that a cover can be delivered as. A scene is always printable, so writing cannot fail.
pub struct Output {
    /// What `--only` and `deliver` call it, its line in the manual, and what a cover may choose of it.
    pub word: Word,
    /// What its files may be called, after the cover's name and a hyphen: `front.png`. A file that a cover has no longer
    /// is taken away.
    pub files: &'static [&'static str],
    /// It goes to the printer: a cover with errors has none.
    pub for_press: bool,
    pub write: fn(&Scene, &OutputSettings, &Darkroom) -> Vec<OutputFile>,
}

/// The resolution of pictures.
pub const PPI: Word =
    Word::new("ppi", "pixels per inch").takes(&[number("pixels per inch", 20.0, 600.0)]).default("200");

/// One file, not yet on a disk.
pub struct OutputFile {
    /// One of the names that the output's files may have.
    pub name: String,
    pub bytes: Vec<u8>,
}
