//! Upright letters in lines that run from head to foot.
//!
//! A line is set as if it ran from left to right, and is turned by a quarter clockwise as a whole; upright letters are
//! turned back. What lies along the line is x, and y points down from the baseline of turned words, so to the left on paper.

use crate::assets::Font;
use crate::typeset::{
    marks::is_combining_mark,
    shaped::{ScriptRun, Shaped},
    stance::{Stance, short_figure, stand_of},
};
use std::f64::consts::FRAC_PI_2;

/// The middle of an ideograph over the baseline where a font has none, in ems: of a square from 0.88 to -0.12.
const USUAL_MIDDLE: f64 = 0.38;

/// Ideographs that fill their square evenly.
const SQUARES: [char; 3] = ['国', '口', '田'];

/// How far over the baseline the middle of a font's ideographs lies, in ems: there all letters of a line are centred.
pub fn middle_of(font: &Font) -> f64 {
    let square = SQUARES.iter().find_map(|letter| font.glyph_bounds(font.glyph(*letter)?));
    square.map_or(USUAL_MIDDLE, |bounds| -bounds.center().y)
}

/// Runs parted where letters stand otherwise.
pub fn stood(text: &str, runs: &[ScriptRun]) -> Vec<ScriptRun> {
    let mut parted: Vec<ScriptRun> = Vec::with_capacity(runs.len());
    for run in runs {
        let start = parted.len();
        for (at, letter) in text[run.range.clone()].char_indices() {
            let at = run.range.start + at;
            let end = at + letter.len_utf8();
            let figure = short_figure(text, at);
            let stance = if figure.is_some() { Stance::Across } else { stand_of(letter) };
            // Each short figure is a run of its own.
            let begins = figure.is_some_and(|figure| figure.start == at);
            let follows =
                is_combining_mark(letter) || matches!(letter, '\u{FE00}'..='\u{FE0F}' | '\u{E0100}'..='\u{E01EF}');
            let same = |last: &ScriptRun| follows || last.stance == stance && !begins;
            match parted[start..].last_mut() {
                Some(last) if same(last) => last.range.end = end,
                _ => parted.push(ScriptRun { range: at..end, stance, ..run.clone() }),
            }
        }
    }
    parted
}

/// Signs that a font should have another form of for such lines: they lie along them.
fn lies_along(letter: char) -> bool {
    matches!(
        letter,
        '\u{3008}'..='\u{3011}' | '\u{3014}'..='\u{301F}' | '〰' | '゠' | 'ー' | '（' | '）' | '：' | '；' | '［' | '］' | '＿'
            | '｛'..='～' | '｟' | '｠' | '￣' | '—' | '―' | '‥' | '…'
    )
}

/// Puts letters shaped from head to foot into the middle of their line. Where the font has no form of a sign for such
/// lines, the usual one is turned with the line, its ink in the middle.
pub fn stand_up(text: &str, font: &Font, scale: f64, middle: f64, glyphs: &mut [Shaped]) {
    for glyph in glyphs {
        glyph.y -= middle;
        let letter = text[glyph.cluster..].chars().next().filter(|letter| lies_along(*letter));
        let plain = letter.is_some_and(|letter| font.glyph(letter) == Some(glyph.id));
        if plain && let Some(bounds) = font.glyph_bounds(glyph.id) {
            (glyph.turn, glyph.x) = (0.0, 0.0);
            glyph.y = -middle - bounds.center().y * scale;
            glyph.advance = font.advance(glyph.id) * scale;
        }
    }
}

/// A short figure, shaped from left to right: across the line, in the room of one letter.
pub fn set_across(font: &Font, scale: f64, middle: f64, glyphs: &mut [Shaped]) {
    let width: f64 = glyphs.iter().map(|glyph| glyph.advance).sum();
    let foot = f64::midpoint(scale, font.metrics().cap_height * scale);
    let Some(first) = glyphs.first().map(|glyph| glyph.cluster) else { return };
    let last = glyphs.len() - 1;
    let mut pen = -width / 2.0;
    for (at, glyph) in glyphs.iter_mut().enumerate() {
        let across = pen + glyph.x;
        pen += glyph.advance;
        *glyph = Shaped {
            x: foot + glyph.y,
            y: -across - middle,
            advance: if at == last { scale } else { 0.0 },
            cluster: first,
            turn: -FRAC_PI_2,
            ..*glyph
        };
    }
}

#[cfg(test)]
mod tests {
    use crate::ground::{Affine, MM_PER_PT, Rect};
    use crate::typeset::laws::{WIDE, set, spoken, styled};
    use crate::typeset::{Align, Block, Leading, Size, Style};

    /// Ten points, in a face that has forms for upright lines.
    fn style() -> Style {
        Style { upright: true, size: Size::Fixed(10.0), ..styled("Shippori Mincho", "ja", Align::Start) }
    }

    /// The ink of every letter on paper, in ems: x to the right from the line's middle, y down from its head.
    fn inks(block: &Block) -> Vec<(String, Rect)> {
        let em = 10.0 * MM_PER_PT;
        let mut inks = Vec::new();
        for run in block.lines.iter().flat_map(|line| &line.runs) {
            let mut spoken = String::new();
            for (at, glyph) in run.glyphs.iter().enumerate() {
                if !glyph.text.is_empty() {
                    spoken = run.text[glyph.text.clone()].to_owned();
                }
                let Some(bounds) = run.font.glyph_bounds(glyph.id) else { continue };
                let turn = run.turns.get(at).copied().unwrap_or(0.0);
                let place = Affine::translate((glyph.x / em, glyph.y / em)) * Affine::rotate(turn);
                let laid = place.transform_rect_bbox(bounds);
                // Turned by a quarter clockwise as a whole; the middle of this face's squares is 0.38 over the baseline.
                let paper = Rect::new(-0.38 - laid.y1, laid.x0, -0.38 - laid.y0, laid.x1);
                inks.push((spoken.clone(), paper));
            }
        }
        inks
    }

    /// JLREQ 2.3.2 and 3.1.2 (from memory): letters stand solid at one em, in the middle of the line; the long-vowel mark, dashes
    /// and brackets run down the line; commas, full stops and small kana stand in the upper right of their squares.
    #[test]
    fn signs_stand_as_such_lines_have_them() {
        let block = set("猫ーゃ、国。「あ」—（", &style(), WIDE);
        let inks = inks(&block);
        assert_eq!(spoken(&block.lines[0], false), "猫ーゃ、国。「あ」—（");
        let of = |letter: &str| inks.iter().find(|ink| ink.0 == letter).expect("drawn").1;
        // Whole squares before any sign follows another.
        for (place, letter) in ["猫", "ー", "ゃ", "、", "国"].into_iter().enumerate() {
            let ink = of(letter);
            let (head, foot) = (place as f64, place as f64 + 1.0);
            assert!(ink.y0 >= head - 0.03 && ink.y1 <= foot + 0.03, "{letter} {ink:?}");
            assert!(ink.x0 >= -0.5 && ink.x1 <= 0.5, "{letter} {ink:?}");
        }
        assert!(of("国").center().x.abs() < 0.01 && (of("国").center().y - 4.5).abs() < 0.03, "{:?}", of("国"));
        for (letter, least) in [("ー", 0.6), ("—", 0.6)] {
            let ink = of(letter);
            assert!(ink.height() > least && ink.width() < 0.3 && ink.center().x.abs() < 0.12, "{letter} {ink:?}");
        }
        for letter in ["「", "」", "（"] {
            assert!(of(letter).width() > of(letter).height(), "{letter} {:?}", of(letter));
        }
        for (letter, place) in [("、", 3.0), ("。", 5.0)] {
            let ink = of(letter);
            assert!(ink.x0 > 0.0 && ink.y1 - place < 0.5, "{letter} {ink:?}");
        }
        // Farther to the right and higher than where lines run across: there it stands in the lower left.
        let small = of("ゃ");
        let font = &block.lines[0].runs[0].font;
        let plain = font.glyph_bounds(font.glyph('ゃ').expect("drawn")).expect("drawn").center();
        assert!(small.center().x > plain.x - 0.5 + 0.05, "{small:?} {plain:?}");
        assert!(small.center().y - 2.0 < 0.88 + plain.y - 0.05, "{small:?} {plain:?}");
    }

    /// JLREQ 3.2.5 and 3.2.6 (from memory): a short figure stands across, in one em; Latin words are turned, a quarter of an em from kana.
    #[test]
    fn figures_stand_across_and_words_lie() {
        let block = set("第12巻Salt猫", &style(), WIDE);
        let inks = inks(&block);
        assert_eq!(spoken(&block.lines[0], false), "第12巻Salt猫");
        let figures: Vec<Rect> = inks.iter().filter(|ink| ink.0 == "12").map(|ink| ink.1).collect();
        let [one, two] = figures[..] else { panic!("{figures:?}") };
        assert!(one.x1 < two.x0 && (one.center().y - two.center().y).abs() < 0.05, "{one:?} {two:?}");
        let both = one.union(two);
        assert!(both.center().x.abs() < 0.05 && (both.center().y - 1.5).abs() < 0.05, "{both:?}");
        let of = |letter: &str| inks.iter().find(|ink| ink.0 == letter).expect("drawn").1;
        assert!(of("巻").y0 > 1.95 && of("巻").y1 < 3.03);
        // Latin lies: an l is longer than broad, down the line; S begins a quarter of an em after.
        assert!(of("l").width() > of("l").height() && (of("S").y0 - 3.25).abs() < 0.12, "{:?}", of("S"));
        let plain = styled("Shippori Mincho", "ja", Align::Start);
        let latin = set("Salt", &Style { size: Size::Fixed(10.0), ..plain }, WIDE).width / (10.0 * MM_PER_PT);
        assert!((block.width / (10.0 * MM_PER_PT) - (4.0 + latin + 0.5)).abs() < 1e-6);
    }

    /// A second shaper chooses the same forms and places.
    #[test]
    fn another_shaper_agrees_on_upright_letters() {
        let text = "猫はーゃっ、。「」（）・国";
        let block = set(&text.replace("、。", "、国。").replace("」（", "」国（"), &style(), WIDE);
        let font = block.lines[0].runs[0].font.clone();
        let other = rustybuzz::Face::from_slice(font.bytes(), font.index()).expect("opens there too");
        for (letter, ink) in block.lines[0]
            .runs
            .iter()
            .flat_map(|run| run.glyphs.iter().map(|glyph| (&run.text[glyph.text.clone()], glyph.id)))
        {
            let mut buffer = rustybuzz::UnicodeBuffer::new();
            buffer.push_str(letter);
            buffer.set_direction(rustybuzz::Direction::TopToBottom);
            buffer.set_script(rustybuzz::script::HIRAGANA);
            let theirs = rustybuzz::shape(&other, &[], buffer);
            assert_eq!(theirs.glyph_infos()[0].glyph_id, u32::from(ink), "{letter}");
            assert_eq!((theirs.glyph_positions()[0].y_advance, theirs.glyph_positions()[0].x_offset), (-1000, -500));
        }
    }

    #[test]
    fn lines_follow_each_other() {
        let room = crate::typeset::Room { width: 30.0, ..WIDE };
        let block = set("吾輩は猫である。名前はまだ無い。どこで生れたかとんと見当がつかぬ。", &style(), room);
        assert!(block.lines.len() > 3 && block.overwide == 0.0);
        // One line is as broad as its letters.
        let one = set("猫", &style(), WIDE);
        assert!((one.height - 10.0 * MM_PER_PT).abs() < 1e-6, "{}", one.height);
    }

    /// Lines that each find their size stand beside each other: from square to square what leading has beyond the size.
    #[test]
    fn lines_of_their_own_sizes_stand_clear() {
        let each = Style { size: Size::EachLine(8.0, 80.0), leading: Leading::Times(1.15), ..style() };
        let block = set("春の夜\n夢の浮橋", &each, crate::typeset::Room { width: 60.0, ..WIDE });
        let [one, two] = &block.lines[..] else { panic!("two lines") };
        let [large, small] = [one, two].map(|line| line.runs[0].size);
        assert!((large - 20.0).abs() < 0.1 && (small - 15.0).abs() < 0.1, "{large} {small}");
        // The middle of this face's squares is 0.38 over the baseline.
        let [right, left] = [(one, large), (two, small)].map(|(line, em)| line.baseline - 0.38 * em);
        let white = left - small / 2.0 - (right + large / 2.0);
        assert!((white - 0.15 * f64::midpoint(large, small)).abs() < 0.05, "{white}");
        // Nothing stands before the first line or after the last, to a hundredth of an em.
        let (head, foot) = (right - large / 2.0, block.height - left - small / 2.0);
        assert!(head.abs() < 0.2 && foot.abs() < 0.2, "{head} {foot}");
    }
}
