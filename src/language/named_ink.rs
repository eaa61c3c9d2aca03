//! NamedInk: an ink as a word of a cover names it. Whether it overprints may depend on the mark that it prints.

use crate::cover::Palette;
use crate::ground::{FillRule, Ink, Path, breadth};
use crate::source::{Reader, Word, flag, percent};

pub const PERCENT: Word = Word::new("percent", "a thinner tint of it").takes(&[percent(0.0, 100.0)]).default("100");
pub const OVERPRINT: Word = Word::new("overprint", "whether it leaves what lies under it printed").takes(&[flag()]);
/// What every ink may say of itself.
pub const INK: &[Word] = &[PERCENT, OVERPRINT];

/// A mark narrower than so many millimetres is thin: about the strokes of letters of 24 pt, under which black overprints as well.
/// Common practice.
const THIN: f64 = 1.0;

#[derive(Clone, Debug)]
pub struct NamedInk {
    /// As it prints broad areas.
    pub ink: Ink,
    /// Whether the cover says if it overprints.
    is_stated: bool,
}

impl NamedInk {
    /// An ink of which nothing is said.
    pub fn new(ink: Ink) -> NamedInk {
        NamedInk { ink, is_stated: false }
    }

    pub fn read(word: &Reader<'_>, palette: &Palette) -> Option<NamedInk> {
        let name = word.text()?;
        let ink = palette.ink(&mut word.findings().borrow_mut(), &name);
        let ink = ink.tinted(word.percent_property(&PERCENT).unwrap_or(1.0));
        let stated = word.flag_property(&OVERPRINT);
        Some(NamedInk { ink: Ink { overprint: stated.unwrap_or(ink.overprint), ..ink }, is_stated: stated.is_some() })
    }

    /// For a line of this breadth. Thin lines in solid black need overprint as small black letters do: left out of a colour, they
    /// would show the paper on either side.
    pub fn line(&self, breadth: f64) -> Ink {
        let mut ink = self.ink.clone();
        ink.overprint |= self.is_solid_black() && breadth < THIN;
        ink
    }

    /// For a filled shape.
    pub fn shape(&self, path: &Path, rule: FillRule) -> Ink {
        let mut ink = self.ink.clone();
        ink.overprint |= self.is_solid_black() && breadth(path, rule, THIN) < THIN;
        ink
    }

    /// And nothing is said of overprint.
    fn is_solid_black(&self) -> bool {
        !self.is_stated && self.ink.is_black() && self.ink.total() >= 1.0
    }
}
