//! Stored: a set block as bytes and back, numbers to their last bit; fonts by name, and only the very same font will do.

use crate::assets::{Font, Glyph, Library, RunEnd, Sequence};
use crate::typeset::block::{Block, BlockLine, Lack, Overmatter, TextRun, Touch};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

#[derive(Serialize, Deserialize)]
struct StoredBlock {
    fonts: Vec<StoredFont>,
    lines: Vec<StoredLine>,
    /// Size, height, width, top of capitals, first baseline, how far it is too wide.
    measures: [f64; 6],
    overmatter: Option<(usize, f64)>,
    unreached: i32,
    missing: Vec<char>,
    loose: Vec<usize>,
    /// Which, and the tag of a feature.
    lacks: Vec<(u8, [u8; 4])>,
    touching: Vec<(char, char, f64)>,
    initial: bool,
}

#[derive(PartialEq, Serialize, Deserialize)]
struct StoredFont {
    family: String,
    weight: u16,
    /// Its place on its axes.
    place: Vec<([u8; 4], f32)>,
    digest: [u8; 32],
}

#[derive(Serialize, Deserialize)]
struct StoredLine {
    baseline: f64,
    runs: Vec<StoredRun>,
    hyphenated: bool,
    end: RunEnd,
}

#[derive(Serialize, Deserialize)]
struct StoredRun {
    font: usize,
    size: f64,
    stretch: f64,
    glyphs: Vec<StoredGlyph>,
    text: String,
    sequence: Sequence,
    apart: u16,
    turns: Vec<f64>,
}

/// Number, x, y, advance, and the bytes of text it speaks for.
type StoredGlyph = (u16, [f64; 3], usize, usize);

/// `None` when it cannot be written down.
pub fn encode(block: &Block) -> Option<Vec<u8>> {
    let mut fonts = Vec::new();
    let lines = block.lines.iter().map(|line| StoredLine {
        baseline: line.baseline,
        runs: line.runs.iter().map(|run| encode_run(run, &mut fonts)).collect(),
        hyphenated: line.hyphenated,
        end: line.end,
    });
    let lines = lines.collect();
    let Block { size, height, width, cap_top, first_baseline, overwide, .. } = *block;
    let stored = StoredBlock {
        fonts,
        lines,
        measures: [size, height, width, cap_top, first_baseline, overwide],
        overmatter: block.overmatter.map(|over| (over.lines, over.mm)),
        unreached: block.unreached,
        missing: block.missing.clone(),
        loose: block.loose.clone(),
        lacks: block.lacks.iter().copied().map(encode_lack).collect(),
        touching: block.touching.iter().map(|touch| (touch.pair.0, touch.pair.1, touch.kern)).collect(),
        initial: block.initial,
    };
    postcard::to_stdvec(&stored).ok()
}

/// `None` when the bytes are no block, or one of its fonts is not in the library.
pub fn decode(bytes: &[u8], library: &Library) -> Option<Block> {
    let stored: StoredBlock = postcard::from_bytes(bytes).ok()?;
    let fonts = stored.fonts.iter().map(|font| library.same(&font.family, font.weight, &font.place, &font.digest));
    let fonts: Vec<Arc<Font>> = fonts.collect::<Option<_>>()?;
    let lines = stored.lines.into_iter().map(|line| {
        let runs = line.runs.into_iter().map(|run| decode_run(run, &fonts)).collect::<Option<_>>()?;
        Some(BlockLine { baseline: line.baseline, runs, hyphenated: line.hyphenated, end: line.end })
    });
    let [size, height, width, cap_top, first_baseline, overwide] = stored.measures;
    Some(Block {
        lines: lines.collect::<Option<_>>()?,
        size,
        height,
        width,
        cap_top,
        first_baseline,
        overmatter: stored.overmatter.map(|(lines, mm)| Overmatter { lines, mm }),
        overwide,
        unreached: stored.unreached,
        missing: stored.missing,
        loose: stored.loose,
        lacks: stored.lacks.into_iter().map(decode_lack).collect::<Option<_>>()?,
        touching: stored.touching.into_iter().map(|(left, right, kern)| Touch { pair: (left, right), kern }).collect(),
        initial: stored.initial,
    })
}

fn encode_lack(lack: Lack) -> (u8, [u8; 4]) {
    match lack {
        Lack::Emphasis => (0, [0; 4]),
        Lack::Strong => (1, [0; 4]),
        Lack::SmallCaps => (2, [0; 4]),
        Lack::Feature(tag) => (3, tag),
        Lack::Axis(tag) => (4, tag),
    }
}

fn decode_lack((which, tag): (u8, [u8; 4])) -> Option<Lack> {
    [Lack::Emphasis, Lack::Strong, Lack::SmallCaps, Lack::Feature(tag), Lack::Axis(tag)]
        .get(usize::from(which))
        .copied()
}

fn encode_run(run: &TextRun, fonts: &mut Vec<StoredFont>) -> StoredRun {
    let font = &run.font;
    let named = StoredFont {
        family: font.family().to_owned(),
        weight: font.weight(),
        place: font.coordinates().to_vec(),
        digest: *font.digest().bytes(),
    };
    let place = fonts.iter().position(|known| *known == named).unwrap_or_else(|| {
        fonts.push(named);
        fonts.len() - 1
    });
    let glyph = |glyph: &Glyph| (glyph.id, [glyph.x, glyph.y, glyph.advance], glyph.text.start, glyph.text.end);
    StoredRun {
        font: place,
        size: run.size,
        stretch: run.stretch,
        glyphs: run.glyphs.iter().map(glyph).collect(),
        text: run.text.to_string(),
        sequence: run.sequence,
        apart: run.apart,
        turns: run.turns.clone(),
    }
}

fn decode_run(stored: StoredRun, fonts: &[Arc<Font>]) -> Option<TextRun> {
    let glyphs = stored.glyphs.into_iter().map(|(id, [x, y, advance], start, end)| {
        // Whoever reads the scene cuts the text here.
        stored.text.get(start..end).map(|_| Glyph { id, x, y, advance, text: start..end })
    });
    Some(TextRun {
        font: fonts.get(stored.font)?.clone(),
        size: stored.size,
        stretch: stored.stretch,
        glyphs: glyphs.collect::<Option<_>>()?,
        text: stored.text.into(),
        sequence: stored.sequence,
        apart: stored.apart,
        turns: stored.turns,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::typeset::laws::{BLURB, HEBREW, TYPESETTER, WIDE, set, styled};
    use crate::typeset::{Align, DropCap, Style};

    #[test]
    fn a_block_comes_back_to_the_last_bit() {
        let cap = DropCap { lines: 3, letters: 1, snug: false };
        let justified = Style { align: Align::Justify, drop_cap: Some(cap), ..Style::default() };
        for (text, style) in [
            (BLURB, justified),
            (HEBREW, styled("Frank Ruhl Libre", "he", Align::Start)),
            ("Variable \u{1F996}", Style { weight: 650, ..styled("Inter", "en", Align::Centre) }),
            ("", Style::default()),
        ] {
            let block = set(text, &style, WIDE);
            let bytes = encode(&block).expect("a block can be written down");
            let back = decode(&bytes, TYPESETTER.library()).expect("the fonts are there");
            // Debug output says every field, and numbers to their last bit.
            assert_eq!(format!("{back:?}"), format!("{block:?}"));
            let fonts = |block: &Block| -> Vec<_> {
                block.lines.iter().flat_map(|line| &line.runs).map(|run| run.font.digest()).collect()
            };
            assert_eq!(fonts(&back), fonts(&block));
        }
    }

    #[test]
    fn another_font_of_the_name_will_not_do_and_nonsense_is_none() {
        let block = set("Some words, ﬁrst of all.", &Style::default(), WIDE);
        let bytes = encode(&block).expect("a block can be written down");
        let digest = *block.lines[0].runs[0].font.digest().bytes();
        let at = bytes.windows(32).position(|window| window == digest).expect("the digest is in it");
        let mut other = bytes.clone();
        other[at] ^= 1;
        assert!(decode(&other, TYPESETTER.library()).is_none());
        for length in 0..bytes.len() {
            assert!(decode(&bytes[..length], TYPESETTER.library()).is_none(), "{length}");
        }
        // Whatever is knocked out of it, it is a block or none, and every glyph speaks for text that is there.
        for at in 0..bytes.len() {
            let mut spoiled = bytes.clone();
            spoiled[at] = spoiled[at].wrapping_add(101);
            let lines = decode(&spoiled, TYPESETTER.library()).map(|block| block.lines);
            for run in lines.iter().flatten().flat_map(|line| &line.runs) {
                run.glyphs.iter().for_each(|glyph| assert!(run.text.get(glyph.text.clone()).is_some()));
            }
        }
    }
}
