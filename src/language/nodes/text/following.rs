//! Following: words along an arc, an oval or a path.

use crate::cover::{Along, Bench, Natural, Open, WordLine};
use crate::ground::{Length, Path, PathEl, Rect, Shape as _};
use crate::language::nodes::text::settings::{Settings, TextSetting};
use crate::language::path_data::path_data;
use crate::source::{Reader, Word, choice, mm, text, words_of};
use crate::typeset::Block;
use std::sync::Arc;

const LINES: [&str; 3] = ["arc", "oval", "path"];
const ENDS: [(&str, bool); 2] = [("head", false), ("foot", true)];
const RISE: Word = Word::new("rise", "how far the middle of an arc stands over its ends, or under them, below 0")
    .takes(&[mm("millimetres", -1000.0, 1000.0)])
    .default("10");
const AT: Word =
    Word::new("at", "where on an oval the words stand").takes(&[choice("a place", &words_of(&ENDS))]).default("head");
const DATA: Word = Word::new("data", "path data of SVG, in millimetres from the frame's upper left corner")
    .takes(&[text("path data")]);
pub const ALONG: Word = Word::new("along", "a line that the words follow: an arc, the oval in the frame, or a path")
    .takes(&[choice("a line", &LINES)])
    .properties(&[RISE, AT, DATA]);

/// How often a line's length and the size of words on it are found from each other.
const ROUNDS: usize = 4;

/// Parts of a path and millimetres from its frame's corner; the path is measured closely, and several times.
const MOST_PARTS: usize = 2000;
const MOST_REACH: f64 = 5000.0;

pub fn along(word: &Reader<'_>) -> Option<Along> {
    let rise = word.length_property(&RISE).map_or(10.0, Length::mm);
    let foot = word.choose_property(&AT, &ENDS).unwrap_or(false);
    let data = word.text_property(&DATA);
    match word.choice()?.value {
        "arc" => Some(Along::Arc { rise }),
        "oval" => Some(Along::Oval { foot }),
        _ => {
            let Some(data) = data else {
                word.error(word.span(), "a path lacks its data", "write `along path data=\"M0 20 C20 0 40 0 60 20\"`");
                return None;
            };
            let path = path_data(word, &data)?;
            if path.elements().len() > MOST_PARTS || reach(&path) > MOST_REACH {
                let message =
                    format!("this path is too long for words: {MOST_PARTS} parts within {MOST_REACH} mm are the most");
                word.error(data.span, message, "draw the part of it that the words stand on");
                return None;
            }
            Some(Along::Path(path))
        }
    }
}

/// How far a path and its handles lie from its corner.
fn reach(path: &Path) -> f64 {
    let points = path.elements().iter().filter_map(|part| match part {
        PathEl::MoveTo(to) | PathEl::LineTo(to) => Some([*to, *to, *to]),
        PathEl::QuadTo(a, to) => Some([*a, *to, *to]),
        PathEl::CurveTo(a, b, to) => Some([*a, *b, *to]),
        PathEl::ClosePath => None,
    });
    points.flatten().fold(0.0, |all, point| all.max(point.x.abs()).max(point.y.abs()))
}

/// The words as set for the line in a frame.
pub fn set<'a>(
    settings: &'a Settings,
    along: &Along,
    frame: Rect,
    bench: &Bench<'_>,
) -> Option<(&'a TextSetting, Arc<Block>, WordLine)> {
    let mut line = along.line(frame, 0.0, 0.0);
    for _ in 0..ROUNDS {
        let (_, block) = settings.on_line(line.length(), bench)?;
        line = along.line(frame, block.first_baseline - block.cap_top, block.first_baseline);
    }
    let (setting, block) = settings.on_line(line.length(), bench)?;
    Some((setting, block, line))
}

pub fn natural(settings: &Settings, along: &Along, room: Open, bench: &Bench<'_>) -> Natural {
    match along {
        Along::Oval { .. } => Natural { width: room.height.fixed(), height: room.width.fixed() },
        Along::Path(path) => {
            let bounds = path.bounding_box();
            Natural { width: Some(bounds.x1.max(0.1)), height: Some(bounds.y1.max(0.1)) }
        }
        Along::Arc { .. } => {
            let width = room.width.most().max(0.0);
            let frame = Rect::new(0.0, 0.0, width, 0.0);
            let set = width.is_finite().then(|| set(settings, along, frame, bench)).flatten();
            Natural { width: room.width.fixed(), height: set.map(|(_, block, _)| block.height + along.rises(width)) }
        }
    }
}
