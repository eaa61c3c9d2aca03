//! Words: what the runs of an element say, whichever way they run and however their lines are broken.

use crate::assets::RunEnd;
use crate::scene::GlyphRun;

/// What only breaks lines: an added hyphen, a soft one, a word joiner, a blank of no width.
const UNSEEN: [char; 4] = ['\u{AD}', '\u{2060}', '\u{200B}', '\u{FEFF}'];

/// Line by line. A line that was broken at a blank ends with it, one that parts a word with a soft hyphen; one that writes the
/// hyphen of the line before again begins with a soft one.
pub fn lines_of<'a>(runs: impl Iterator<Item = &'a GlyphRun>) -> Vec<(String, RunEnd)> {
    let mut runs: Vec<&GlyphRun> = runs.collect();
    runs.sort_by_key(|run| run.sequence.place);
    let mut lines = Vec::new();
    let mut line = String::new();
    for run in runs {
        line.push_str(&run.text);
        if run.sequence.end != RunEnd::Within {
            lines.push((std::mem::take(&mut line), run.sequence.end));
        }
    }
    if !line.is_empty() {
        lines.push((line, RunEnd::Paragraph));
    }
    lines
}

/// All in one, as the author wrote them: a chosen break or a new paragraph is a line feed.
pub fn words_of<'a>(runs: impl Iterator<Item = &'a GlyphRun>) -> String {
    let mut words = String::new();
    for (line, end) in lines_of(runs) {
        words.extend(line.chars().filter(|letter| !UNSEEN.contains(letter)));
        if end != RunEnd::Line {
            words.push('\n');
        }
    }
    words.truncate(words.trim_end_matches('\n').len());
    words
}
