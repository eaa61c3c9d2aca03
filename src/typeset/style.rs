//! Style: how words look, as a designer says it.

use crate::typeset::pattern_file::PatternFile;
use std::sync::Arc;

/// Type sizes, leading, indents and spaces in points; tracking in thousandths of an em.
#[expect(clippy::struct_excessive_bools, reason = "each is a setting by itself")]
#[derive(Clone, Debug, PartialEq)]
pub struct Style {
    pub family: String,
    /// Lines are to be turned by a quarter clockwise, and letters of East Asia stand upright in them.
    pub upright: bool,
    /// 100 to 900, as CSS and OpenType count.
    pub weight: u16,
    pub italic: bool,
    pub size: Size,
    /// A size that is found is no larger than this.
    pub at_most: Option<f64>,
    /// From baseline to baseline.
    pub leading: Leading,
    pub tracking: f64,
    pub case: Case,
    /// Places on the axes of a variable font. The optical size follows the points, unless it is named here.
    pub axes: Vec<([u8; 4], f32)>,
    /// OpenType features by tag, beside those always on.
    pub features: Vec<([u8; 4], u32)>,
    /// BCP 47.
    pub language: String,
    pub align: Align,
    pub hyphenation: Hyphenation,
    /// Where words part, in the place of the patterns of its language.
    pub patterns: Option<Arc<PatternFile>>,
    /// Titles: lines are even, and no small word is torn from the one it belongs to.
    pub even: bool,
    /// Least and most lines of a title.
    pub lines: Option<(usize, usize)>,
    /// So many lines more than the words take by themselves, or fewer, below 0.
    pub more_lines: i32,
    /// Words that stay on one line together.
    pub hold: Vec<String>,
    /// Word space: least, ideal and most, as shares of the font's own.
    pub word_space: [f64; 3],
    /// Tracking that justification may add or take, thousandths of an em: (-most taken, most added).
    pub letter_space: (f64, f64),
    /// Horizontal scale that justification may use: (least, most), 1 is as drawn.
    pub letter_width: (f64, f64),
    /// Of the first line of every paragraph but the first.
    pub indent: f64,
    pub space_between: f64,
    /// Punctuation and hyphens hang into the margin.
    pub hanging: bool,
    pub edges: Edges,
    /// Pairs of letters, and what is added between them in thousandths of an em.
    pub kerns: Vec<(char, char, f64)>,
    pub capitals: Capitals,
    pub drop_cap: Option<DropCap>,
    pub columns: Columns,
    /// Later ones win.
    pub apart: Vec<SetApart>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Leading {
    /// Beside a range of sizes it is meant for the largest, and shrinks with the type.
    Points(f64),
    /// So many times the size.
    Times(f64),
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    Fixed(f64),
    /// The largest that fits, between least and most, in steps of a quarter point. Leading, indent and space shrink
    /// along: as given, they belong to the largest.
    Between(f64, f64),
    /// Every line its own size, so that all are as wide as the room; between least and most. Leading is counted from a
    /// line's foot to the next one's capitals: what it has beyond the size, of the mean of all sizes.
    EachLine(f64, f64),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Case {
    #[default]
    AsWritten,
    Upper,
    SmallCaps,
}

/// `Start` and `End` follow the paragraph's direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Align {
    #[default]
    Start,
    End,
    Left,
    Right,
    Centre,
    Justify,
}

/// How capitals stand beside each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Capitals {
    /// As the font kerns them.
    #[default]
    AsDrawn,
    /// Evenly, whatever the font says of their pairs.
    Even,
}

/// What stands on a line's edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Edges {
    /// Letters with the room that their font gives them.
    #[default]
    Font,
    /// Their ink.
    Ink,
    /// What the eye takes for their edge: round and sloping letters stand out a little.
    Eye,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hyphenation {
    pub on: bool,
    /// Letters that stay before and after the hyphen.
    pub before: usize,
    pub after: usize,
    /// Hyphens in a row.
    pub in_row: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DropCap {
    pub lines: usize,
    pub letters: usize,
    /// Each line stands as near as the letter's contour lets it.
    pub snug: bool,
}

/// Columns side by side, and the millimetres between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Columns {
    pub count: usize,
    pub gap: f64,
}

/// Letters or words that are set otherwise than the rest.
#[derive(Clone, Debug, PartialEq)]
pub struct SetApart {
    pub words: String,
    /// Words; letters are found anywhere.
    pub whole: bool,
    /// The one of them that is meant, from 1; all by default.
    pub only: Option<usize>,
    /// Their size as a share of the text's.
    pub scale: f64,
    /// How much higher they stand, in ems of the text.
    pub raise: f64,
    /// Degrees clockwise.
    pub turn: f64,
    pub features: Vec<([u8; 4], u32)>,
}

impl Default for SetApart {
    fn default() -> SetApart {
        let (words, features) = (String::new(), Vec::new());
        SetApart { words, whole: false, only: None, scale: 1.0, raise: 0.0, turn: 0.0, features }
    }
}

impl Align {
    /// The share of the spare room that stands at the left of a line.
    pub fn share(self, rtl: bool) -> f64 {
        match self {
            Align::Centre => 0.5,
            Align::Left => 0.0,
            Align::Right => 1.0,
            Align::Start | Align::Justify => f64::from(u8::from(rtl)),
            Align::End => f64::from(u8::from(!rtl)),
        }
    }
}

impl Style {
    pub fn is_ragged(&self) -> bool {
        self.align != Align::Justify
    }

    /// The size, or the largest of its range.
    pub fn largest(&self) -> f64 {
        match self.size {
            Size::Fixed(size) => size,
            Size::Between(least, most) | Size::EachLine(least, most) => least.max(most),
        }
    }

    /// Least and largest of sizes between which one is found.
    pub fn range(&self) -> Option<(f64, f64)> {
        let Size::Between(one, other) = self.size else { return None };
        let (least, most) = (one.min(other), other.max(one));
        Some((least, self.at_most.map_or(most, |limit| limit.clamp(least, most))))
    }

    /// From baseline to baseline at a size, in points.
    pub fn leading_at(&self, size: f64) -> f64 {
        match (self.leading, self.size) {
            (Leading::Times(times), _) => size * times,
            (Leading::Points(leading), Size::Fixed(_)) => leading,
            (Leading::Points(leading), Size::Between(_, most) | Size::EachLine(_, most)) => {
                leading * size / most.max(f64::MIN_POSITIVE)
            }
        }
    }
}

impl Default for Style {
    fn default() -> Style {
        Style {
            family: "EB Garamond".to_owned(),
            upright: false,
            weight: 400,
            italic: false,
            size: Size::Fixed(11.0),
            at_most: None,
            leading: Leading::Times(1.2),
            tracking: 0.0,
            case: Case::AsWritten,
            axes: Vec::new(),
            features: Vec::new(),
            language: "en-GB".to_owned(),
            align: Align::Start,
            hyphenation: Hyphenation { on: true, before: 2, after: 3, in_row: 2 },
            patterns: None,
            even: false,
            lines: None,
            more_lines: 0,
            hold: Vec::new(),
            word_space: [0.8, 1.0, 1.4],
            letter_space: (0.0, 0.0),
            letter_width: (1.0, 1.0),
            indent: 0.0,
            space_between: 0.0,
            hanging: true,
            edges: Edges::Font,
            kerns: Vec::new(),
            capitals: Capitals::AsDrawn,
            drop_cap: None,
            columns: Columns { count: 1, gap: 0.0 },
            apart: Vec::new(),
        }
    }
}
