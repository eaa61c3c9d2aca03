//! Fonts whose licence bits forbid what a press file must do.
//!
//! A press file contains its fonts. If a font is marked as not to be embedded, the printer may refuse the file and the
//! maker of the font may object.
//!
//! Read from the font, OpenType `OS/2.fsType` (the bits from memory):
//!
//! - bit 1 alone, restricted: error. Bit 9, bitmaps only: error. Bit 8, not to be subset: note; see the licence.
//!
//! The bundled fonts are free to embed; this is about fonts of your own, in the folder `fonts` beside the cover:
//!
//! ```kdl
//! panel front {
//!     text title words="{title}" { font "A Font of Your Own"; left safe; right safe; top safe 20 }
//! }
//! ```
//!
//! Way out: ask the maker for a licence and a file that allow it, or choose another font.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "font-embedding",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[],
    source: include_str!("font_embedding.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let mut seen: Vec<&str> = Vec::new();
    for element in &exam.elements {
        for (run, _) in element.runs() {
            let name = run.font.name();
            if seen.contains(&name) {
                continue;
            }
            seen.push(name);
            let embedding = run.font.embedding();
            let (severity, says) = if embedding.restricted {
                (Severity::Error, "is marked as not to be embedded")
            } else if embedding.bitmap_only {
                (Severity::Error, "is marked as to be embedded as bitmaps only")
            } else if embedding.no_subset {
                (Severity::Note, "is marked as to be embedded whole, not as a subset")
            } else {
                continue;
            };
            let message = format!("the font {name} of {} {says} (OS/2 fsType)", element.name());
            findings.element(severity, element, message, "see its licence, ask its maker, or choose another font");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::{Glyph, Library, Sequence};
    use crate::check::testing::{origin, reported_with};
    use crate::ground::{Affine, Ink, Rect};
    use crate::scene::{GlyphRun, Item, Kind, Mark};

    const FONT: &[u8] = include_bytes!("../../../fonts-open/LeagueGothic/LeagueGothic-Regular.ttf");

    /// The font with another word in its table OS/2, 8 bytes in (OpenType, OS/2: version, xAvgCharWidth,
    /// usWeightClass, usWidthClass, fsType).
    fn marked(bits: u16) -> Vec<Severity> {
        let mut bytes = FONT.to_vec();
        let record =
            (0..40).map(|at| 12 + 16 * at).find(|at| &FONT[*at..*at + 4] == b"OS/2").expect("it has a table OS/2");
        let offset = u32::from_be_bytes(FONT[record + 8..record + 12].try_into().expect("four bytes")) as usize;
        bytes[offset + 8..offset + 10].copy_from_slice(&bits.to_be_bytes());
        let (library, faults) = Library::open(&[("fonts/own.ttf".to_owned(), bytes.into())]);
        assert!(faults.is_empty());
        let run = GlyphRun {
            font: library.find("League Gothic", 400, false).expect("it is there"),
            size: 10.0,
            stretch: 1.0,
            transform: Affine::translate((20.0, 50.0)),
            glyphs: vec![Glyph { id: 40, x: 0.0, y: 0.0, advance: 4.0, text: 0..1 }],
            turns: Vec::new(),
            text: "E".into(),
            sequence: Sequence::default(),
            paint: Ink::black(1.0).into(),
        };
        let item =
            Item { origin: origin("own", Kind::Text, Rect::new(20.0, 40.0, 60.0, 50.0)), mark: Mark::Glyphs(run) };
        reported_with(&RULE, "", vec![item]).iter().map(|found| found.severity).collect()
    }

    #[test]
    fn each_bit() {
        assert_eq!(marked(0x0002), [Severity::Error]);
        assert_eq!(marked(0x0200), [Severity::Error]);
        assert_eq!(marked(0x0100), [Severity::Note]);
        // Preview and print, editable, installable: all may be embedded.
        assert_eq!(marked(0x0004), []);
        assert_eq!(marked(0x0008), []);
        assert_eq!(marked(0x0000), []);
    }
}
