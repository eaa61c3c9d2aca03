//! Apart: lines cut where a style sets letters and words otherwise than the rest.

use crate::typeset::{
    itemise::Passage,
    shape::{ScriptRun, Shaped},
};
use std::ops::Range;

/// Pieces of a line, their glyphs, and to which of the style's letters and words they belong. A ligature stays with its
/// first letter.
pub fn parted(pieces: Vec<(ScriptRun, Vec<Shaped>)>, passage: &Passage) -> Vec<(ScriptRun, Vec<Shaped>, u16)> {
    let mut parted = Vec::with_capacity(pieces.len());
    for (run, glyphs) in pieces {
        let mut parts: Vec<(Range<usize>, u16)> = Vec::new();
        let mut at = run.range.start;
        for (range, owner) in &passage.apart {
            let (start, end) = (range.start.max(at), range.end.min(run.range.end));
            if start < end {
                if at < start {
                    parts.push((at..start, 0));
                }
                parts.push((start..end, *owner));
                at = end;
            }
        }
        if at < run.range.end || parts.is_empty() {
            parts.push((at..run.range.end, 0));
        }
        let holds = |range: &Range<usize>, glyph: &Shaped| {
            range.contains(&glyph.cluster) || glyph.cluster == run.range.end && range.end == run.range.end
        };
        let mut kept: Vec<(Range<usize>, u16)> = Vec::new();
        for (range, owner) in parts {
            match kept.last_mut() {
                Some(last) if !glyphs.iter().any(|glyph| holds(&range, glyph)) => last.0.end = range.end,
                _ => kept.push((range, owner)),
            }
        }
        if run.rtl() {
            kept.reverse();
        }
        for (range, owner) in kept {
            let own = glyphs.iter().filter(|glyph| holds(&range, glyph)).copied().collect();
            parted.push((ScriptRun { range, ..run.clone() }, own, owner));
        }
    }
    parted
}

#[cfg(test)]
mod tests {
    use crate::ground::MM_PER_PT;
    use crate::typeset::laws::{WIDE, set, spoken};
    use crate::typeset::{Case, SetApart, Style};

    fn apart(words: &str) -> SetApart {
        SetApart { words: words.to_owned(), ..SetApart::default() }
    }

    fn styled(apart: Vec<SetApart>) -> Style {
        Style { apart, size: crate::typeset::Size::Fixed(20.0), ..Style::default() }
    }

    /// What is set apart in ink alone keeps its kerning, and nothing is lost of the words.
    #[test]
    fn an_ink_of_its_own_moves_no_letter() {
        let plain = set("AVATAR and Salt", &styled(Vec::new()), WIDE);
        let inked = set("AVATAR and Salt", &styled(vec![apart("V"), SetApart { whole: true, ..apart("and") }]), WIDE);
        assert!((plain.width - inked.width).abs() < 1e-9);
        let runs = &inked.lines[0].runs;
        let parts: Vec<(&str, u16)> = runs.iter().map(|run| (&*run.text, run.apart)).collect();
        assert_eq!(parts, [("A", 0), ("V", 1), ("ATAR ", 0), ("and", 2), (" Salt", 0)]);
        assert_eq!(spoken(&inked.lines[0], false), "AVATAR and Salt");
        let places = |block: &crate::typeset::Block| -> Vec<f64> {
            block.lines[0].runs.iter().flat_map(|run| run.glyphs.iter().map(|glyph| glyph.x)).collect()
        };
        assert!(places(&plain).iter().zip(places(&inked)).all(|(a, b)| (a - b).abs() < 1e-9));
    }

    #[test]
    fn sizes_heights_and_counts() {
        let large = SetApart { scale: 1.5, raise: 0.2, only: Some(2), ..apart("a") };
        let block = set("a salt and", &styled(vec![large]), WIDE);
        let run = block.lines[0].runs.iter().find(|run| run.apart == 1).expect("set apart");
        assert_eq!(&*run.text, "a");
        assert!((run.size - 30.0 * MM_PER_PT).abs() < 1e-9 && (run.glyphs[0].y + 4.0 * MM_PER_PT).abs() < 1e-9);
        assert_eq!(block.lines[0].runs.iter().filter(|run| run.apart > 0).count(), 1);
        // Capitals are found as they are shown, and part of a word is no word.
        let upper = Style { case: Case::Upper, ..styled(vec![SetApart { whole: true, ..apart("and") }]) };
        let block = set("sand and", &upper, WIDE);
        let found: Vec<&str> = block.lines[0].runs.iter().filter(|run| run.apart > 0).map(|run| &*run.text).collect();
        assert_eq!(found, ["AND"]);
    }
}
