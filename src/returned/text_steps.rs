//! Text steps: where words stand, in which font, and their outlines (ISO 32000-1, 9.4).

use crate::ground::{Affine, Digest, FillRule, Path};
use crate::printed::number_of;
use crate::returned::drawn::{CORNERS, PagePainter};
use crate::returned::operators::ContentAround;
use crate::returned::runs::ReadFont;
use crate::returned::state::TextState;
use hayro_syntax::object::{Dict, Object};
use std::sync::Arc;

impl PagePainter<'_> {
    pub fn text_step(&mut self, operator: &str, numbers: &[f64], operands: &[&Object<'_>], around: ContentAround<'_>) {
        let text = &mut self.state.text;
        match (operator, numbers) {
            ("BT", _) => (text.matrix, text.line) = (Affine::IDENTITY, Affine::IDENTITY),
            ("Tc", [space]) => text.letter_space = *space,
            ("Tz", [percent]) => text.stretch = percent / 100.0,
            ("TL", [leading]) => text.leading = *leading,
            ("Ts", [rise]) => text.rise = *rise,
            ("Tr", [mode]) => text.mode = *mode as u32,
            ("Td", [x, y]) => text.next_line(*x, *y),
            ("TD", [x, y]) => {
                text.leading = -y;
                text.next_line(*x, *y);
            }
            ("T*", _) => text.next_line(0.0, -text.leading),
            ("Tm", [a, b, c, d, e, f]) => {
                text.line = Affine::new([*a, *b, *c, *d, *e, *f]);
                text.matrix = text.line;
            }
            ("Tf", [size]) => {
                text.size = *size;
                let named = operands.iter().find_map(|operand| match operand {
                    Object::Name(name) => Some(name),
                    _ => None,
                });
                let font = named.and_then(|name| around.resources.get_font(name));
                let font = font.map(|font| self.font(&font));
                self.state.text.font = font;
            }
            ("Tj" | "TJ" | "'" | "\"", _) => {
                // A word space is for letters of one byte, and these have two (ISO 32000-1, 9.3.3).
                if let ("\"", [_, letter_space]) = (operator, numbers) {
                    text.letter_space = *letter_space;
                }
                if matches!(operator, "'" | "\"") {
                    text.next_line(0.0, -text.leading);
                }
                if let Some(shown) = operands.last() {
                    self.show(shown);
                }
            }
            _ => {}
        }
    }

    /// A font, read once a page.
    fn font(&mut self, dict: &Dict<'_>) -> Result<Arc<ReadFont>, String> {
        self.budget.take(dict.data().len() as u64)?;
        let (key, budget) = (Digest::of(dict.data()), &mut self.budget);
        self.fonts.entry(key).or_insert_with(|| ReadFont::read(dict, budget).map(Arc::new)).clone()
    }

    /// A string, or strings with steps between them.
    fn show(&mut self, shown: &Object<'_>) {
        let font = match self.state.text.font.clone() {
            Some(Ok(font)) => font,
            Some(Err(why)) => return self.undrawn(&why),
            None => return self.undrawn("words without a font"),
        };
        let (mut text, to_sheet) = (self.state.text.clone(), self.state.to_sheet);
        let mut path = Path::new();
        let mut left = CORNERS.saturating_sub(self.corners);
        let mut part = |object: &Object<'_>| match object {
            Object::String(string) => outlines(&font, string.as_bytes(), &mut text, to_sheet, (&mut path, &mut left)),
            other => {
                if let Some(step) = number_of(other) {
                    text.forward(-step / 1000.0 * text.size * text.stretch);
                }
            }
        };
        match shown {
            Object::Array(all) => all.iter::<Object<'_>>().for_each(|object| part(&object)),
            one => part(one),
        }
        self.state.text = text;
        if left == 0 {
            self.room(CORNERS + 1);
            return;
        }
        match self.state.text.mode {
            0 => self.fill(&path, FillRule::NonZero),
            1 => self.stroke(&path),
            2 => {
                self.fill(&path, FillRule::NonZero);
                self.stroke(&path);
            }
            3 => {}
            _ => self.undrawn("words that cut what follows"),
        }
    }
}

/// The outlines of a string, on the sheet, as long as corners are left; the text moves on behind it. A glyph without an
/// outline counts as well.
fn outlines(
    font: &ReadFont,
    string: &[u8],
    text: &mut TextState,
    to_sheet: Affine,
    (path, left): (&mut Path, &mut usize),
) {
    for pair in string.as_chunks::<2>().0 {
        let code = u16::from_be_bytes(*pair);
        let outline = font.outline(code);
        *left = left.saturating_sub(1 + outline.elements().len());
        if *left == 0 {
            return;
        }
        // Outlines come with y down; a page counts upwards.
        let scale = Affine::new([text.size * text.stretch, 0.0, 0.0, -text.size, 0.0, text.rise]);
        let place = to_sheet * text.matrix * scale;
        path.extend((place * outline.clone()).iter());
        text.forward((font.width(code) * text.size + text.letter_space) * text.stretch);
    }
}
