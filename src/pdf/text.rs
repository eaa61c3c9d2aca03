//! Glyph runs as text: every glyph where the scene has it, every word there to be read back.

use crate::ground::{Affine, FillRule, Paint};
use crate::pdf::actual_text::{actual_text, stated};
use crate::pdf::boxes::SCALE;
use crate::pdf::content::{Content, PaintOp, Resource, write_number};
use crate::pdf::forme::Forme;
use crate::pdf::gradients::GradientFill;
use crate::pdf::page_font::PageFont;
use crate::scene::GlyphRun;

/// Thousandths of an em that are left unmended.
const SLACK: f64 = 0.005;
/// Millimetres within which glyphs share a baseline.
const SAME_LINE: f64 = 1e-9;

impl Forme<'_> {
    pub fn glyphs(&mut self, content: &mut Content, run: &GlyphRun) {
        self.set_glyphs(content, run, Speech::Own);
    }

    /// Glyphs of a word that a span around them says already: readers take an inner span for all of it.
    pub fn spoken_glyphs(&mut self, content: &mut Content, run: &GlyphRun) {
        self.set_glyphs(content, run, Speech::Said);
    }

    fn set_glyphs(&mut self, content: &mut Content, run: &GlyphRun, speech: Speech) {
        if run.glyphs.is_empty() || run.size <= 0.0 || run.stretch <= 0.0 {
            return;
        }
        let font = self.font(&run.font);
        let id = font.id;
        if !font.embeds() {
            return self.fill(content, &run.outline(), FillRule::NonZero, &run.paint);
        }
        let shading = match &run.paint {
            Paint::None => None,
            Paint::Ink(ink) => {
                self.ink(content, PaintOp::Fill, ink);
                None
            }
            Paint::Gradient(gradient) => match self.gradient(content, gradient) {
                GradientFill::Nothing => return,
                GradientFill::Flat(ink) => {
                    self.ink(content, PaintOp::Fill, &ink);
                    None
                }
                GradientFill::Shading(shading) => {
                    content.save();
                    Some(shading)
                }
            },
        };
        content.word("BT");
        // 7 cuts what follows to the letters.
        if shading.is_some() {
            content.op(&[7.0], "Tr");
        }
        let unseen = run.paint == Paint::None;
        if unseen {
            content.op(&[3.0], "Tr");
        }
        content.name(Resource::Font, id);
        content.op(&[run.size * SCALE], "Tf");
        content.op(&[run.stretch * 100.0], "Tz");
        set(content, self.font(&run.font), run, speech);
        if unseen {
            content.op(&[0.0], "Tr");
        }
        content.word("ET");
        if let Some(shading) = shading {
            self.fill_shading(content, &shading);
            content.restore();
        }
    }
}

/// Who says what glyphs mean.
#[derive(Clone, Copy, PartialEq)]
enum Speech {
    /// Spans of their own, where their letters do not say it.
    Own,
    /// A span that is open already.
    Said,
}

fn set(content: &mut Content, font: &mut PageFont, run: &GlyphRun, speech: Speech) {
    let em = run.size * run.stretch / 1000.0;
    let mut shown = ShownGlyphs { open: false, string: false };
    let (mut start, mut pen, mut height, mut turn) = (0.0, 0.0, f64::INFINITY, 0.0);
    let mut next = 0;
    while next < run.glyphs.len() {
        let word = actual_text(font, run, next);
        let glyphs = &run.glyphs[next..word.end];
        let mut plain = glyphs.len() == 1;
        for (at, glyph) in glyphs.iter().enumerate() {
            // Its own letters, for readers that look no further than the font.
            plain &= font.says(glyph.id, stated(font, run, next + at).unwrap_or_default());
        }
        plain |= speech == Speech::Said;
        let first = next;
        next = word.end;
        if !plain {
            shown.close(content);
            open_span(content, &word.text);
        }
        for (at, glyph) in glyphs.iter().enumerate() {
            let turned = run.turn(first + at);
            if (glyph.y - height).abs() > SAME_LINE || turned != 0.0 || turn != 0.0 {
                shown.close(content);
                (start, pen, height, turn) = (glyph.x, 0.0, glyph.y, turned);
                let origin =
                    content.place * run.transform * Affine::translate((glyph.x, glyph.y)) * Affine::rotate(turned);
                content.matrix(origin * Affine::scale_non_uniform(1.0 / SCALE, -1.0 / SCALE), "Tm");
            }
            let back = pen - (glyph.x - start) / em;
            if back.abs() > SLACK {
                let back = (back * 100.0).round() / 100.0;
                shown.adjust(content, back);
                pen -= back;
            }
            shown.show(content, font.cid(glyph.id));
            pen += font.width(glyph.id);
        }
        if !plain {
            shown.close(content);
            content.word("EMC");
        }
    }
    shown.close(content);
}

/// A TJ array under way.
struct ShownGlyphs {
    open: bool,
    string: bool,
}

impl ShownGlyphs {
    fn open(&mut self, content: &mut Content) {
        if !std::mem::replace(&mut self.open, true) {
            content.bytes.push(b'[');
        }
    }

    fn end_string(&mut self, content: &mut Content) {
        if std::mem::replace(&mut self.string, false) {
            content.bytes.push(b'>');
        }
    }

    fn show(&mut self, content: &mut Content, cid: u16) {
        self.open(content);
        if !std::mem::replace(&mut self.string, true) {
            content.bytes.push(b'<');
        }
        hex(&mut content.bytes, cid);
    }

    fn adjust(&mut self, content: &mut Content, back: f64) {
        self.open(content);
        self.end_string(content);
        write_number(&mut content.bytes, back, 2);
    }

    fn close(&mut self, content: &mut Content) {
        self.end_string(content);
        if std::mem::replace(&mut self.open, false) {
            content.word("]TJ");
        }
    }
}

pub fn open_span(content: &mut Content, text: &str) {
    content.bytes.extend_from_slice(b"/Span<</ActualText<FEFF");
    text.encode_utf16().for_each(|unit| hex(&mut content.bytes, unit));
    content.word(">>>BDC");
}

fn hex(bytes: &mut Vec<u8>, value: u16) {
    const DIGITS: &[u8; 16] = b"0123456789ABCDEF";
    bytes.extend((0..4).rev().map(|place| DIGITS[usize::from(value >> (4 * place) & 15)]));
}
