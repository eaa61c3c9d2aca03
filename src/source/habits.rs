//! Habits: words of style sheets, of other trades and of other places in a cover, and what to write instead here.

/// Words that people type, our word for them, and one sentence that shows it.
#[derive(Clone, Copy, Debug)]
pub struct Habit {
    pub typed: &'static str,
    pub ours: &'static str,
    pub says: &'static str,
}

/// What to write instead of a word that is unknown where it stands. Capitals, `_` and `-` do not count.
pub fn habit(word: &str) -> Option<Habit> {
    let bare = |word: &str| word.to_lowercase().replace(['_', '-'], "");
    let word = bare(word);
    habits().find(|habit| habit.typed.split(' ').any(|typed| bare(typed) == word))
}

/// All of them.
pub fn habits() -> impl Iterator<Item = Habit> {
    include_str!("habits.txt").lines().filter(|line| !line.starts_with('#')).filter_map(|line| {
        let (typed, rest) = line.split_once(" = ")?;
        let (ours, says) = rest.split_once(": ")?;
        Some(Habit { typed, ours, says })
    })
}

// The parser stands below the language, whose words declare all this; the laws of the language compare the two.

/// Words, as nodes or properties, that take text of the author's.
pub const TEXTS: &[&str] = &[
    "title",
    "subtitle",
    "author",
    "translator",
    "illustrator",
    "publisher",
    "fact",
    "quote",
    "alt-text",
    "short",
    "lines",
    "in-series",
    "font",
    "keep-whole",
    "hold",
    "letter",
    "word",
    "words",
    "by",
    "source",
    "reason",
    "licence",
    "credit",
];

/// Words, as nodes or properties, that take percent.
pub const IN_PERCENT: &[&str] = &[
    "percent",
    "c",
    "m",
    "y",
    "k",
    "opacity",
    "scale",
    "focus",
    "word-space",
    "letter-width",
    "ink-limit",
    "limit-inks",
    "tone",
    "shadow",
    "mirror",
    "from",
    "to",
];

/// What to write where a percent sign would turn into points or millimetres.
pub const NOT_IN_PERCENT: &[(&str, &str)] = &[
    ("leading", "a bare number there is points; of the size, write `leading percent=120`"),
    ("size", "it is points: `size 12`, or `size between 9 12`"),
    ("tracking", "it is thousandths of an em: for 5 % write `tracking 50`"),
    ("letter-space", "it is thousandths of an em: for 2 % either way write `letter-space -20 20`"),
    ("width", "it is millimetres: `width 60`; or say both edges: `left safe; right safe`"),
    ("height", "it is millimetres: `height 60`; or say both edges: `top safe; bottom safe`"),
    ("left", "it is millimetres from a guide: `left 12`, `left safe 4`; the middle is `centre-x centre`"),
    ("right", "it is millimetres from a guide: `right 12`, `right safe 4`; the middle is `centre-x centre`"),
    ("top", "it is millimetres from a guide: `top 40`, `top safe 4`; the middle is `centre-y centre`"),
    ("bottom", "it is millimetres from a guide: `bottom 40`, `bottom safe 4`; the middle is `centre-y centre`"),
    ("radius", "it is millimetres: `radius 3`; an ellipse is an `oval`"),
    ("trim", "it is millimetres: `trim 129 198`"),
    ("bleed", "it is millimetres: `bleed 3`"),
    ("safe", "it is millimetres: `safe 5`"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{FileId, Findings};
    use crate::source::parse;
    use std::collections::BTreeSet;

    #[test]
    fn every_line_is_a_habit_and_no_word_leads_two_ways() {
        let lines = include_str!("habits.txt").lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
        assert_eq!(lines.count(), habits().count());
        let mut known = BTreeSet::new();
        for habit in habits() {
            for typed in habit.typed.split(' ') {
                assert!(known.insert(typed), "{typed} stands twice");
                assert_ne!((typed, habit.says), ("", ""));
            }
        }
    }

    #[test]
    fn what_is_shown_is_sound() {
        for shown in habits().flat_map(|habit| habit.says.split('`').skip(1).step_by(2)) {
            let property = shown.split(' ').next().is_some_and(|first| first.contains('='));
            let text = if property || shown == "/-" { format!("text {shown} a") } else { shown.to_owned() };
            let mut findings = Findings::default();
            parse(&mut findings, FileId(0), &text);
            assert!(findings.is_empty(), "{shown}: {findings:?}");
        }
    }

    #[test]
    fn signs_and_capitals_do_not_count() {
        for word in ["font-size", "fontSize", "FONT_SIZE"] {
            assert_eq!(habit(word).map(|habit| habit.ours), Some("size"), "{word}");
        }
        assert!(habit("salt").is_none());
    }
}
