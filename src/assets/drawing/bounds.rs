//! Bounds: how much a drawing may ask for, so that no file exhausts stack, memory or patience.

use crate::assets::shelf::SVG_LIMIT;
use crate::assets::{PictureFault, decode};
use usvg::roxmltree::{Attribute, Document, Node};

/// Bytes of a file.
pub const TEXT: usize = SVG_LIMIT as usize;
/// Pieces of XML in a file: elements, texts, comments.
pub const PIECES: u32 = 1_000_000;
/// Attributes of an element; the reader compares each with each.
pub const ATTRIBUTES: usize = 500;
pub const NAMESPACES: usize = 32;
/// Bytes that the references to XML entities may stand for, and how deep they stand for one another.
pub const ENTITIES: usize = 4 << 20;
pub const NAMED: usize = 16;
/// Elements in elements, references followed; the readers walk them by recursion.
pub const DEPTH: usize = 200;
/// Elements that the file holds, long attributes counting as several.
pub const ELEMENTS: u64 = 300_000;
/// Elements that references stand for beyond those that the file holds.
pub const REFERRED: u64 = 100_000;
/// Attributes of the elements around an element, summed over all elements; inheritance looks through them.
pub const INHERITED: u64 = 30_000_000;
/// Bytes of the style sheets together.
pub const STYLES: usize = 64 << 10;
/// Selectors times declarations, added up over the rules of the style sheets.
pub const DECLARATIONS: usize = 100_000;
/// Simple selectors in a selector: `g > path` has two.
pub const SELECTORS: usize = 16;
/// Selectors times elements, as far as they must be compared.
pub const COMPARED: u64 = 50_000_000;
/// Bytes of a dash pattern and of a list of classes, which are read again for every element or rule.
pub const LETTERS: usize = 1000;
/// Units from the origin in any attribute.
pub const NUMBER: f64 = 1e9;
/// How far outside it a drawing may go on: so many times its own size.
pub const REACH: f64 = 1e4;
/// Millimetres of a side, as the file states it.
pub const SIDES: [f64; 2] = [1e-3, 1e6];
/// Steps of all outlines; a step costs more than a kilobyte until it is printed, measured with 480,000 of them.
pub const STEPS: usize = 300_000;
/// Steps that a curve counts for, times the root of how often it is as long as the drawing.
pub const SWEPT: f64 = 4.0;
/// Dashes of all lines.
pub const DASHED: f64 = 100_000.0;
/// Tiles that a pattern lays in one shape, and the corners and curves of all of them; a pattern of more is drawn as a picture.
pub const TILES: f64 = 4000.0;
pub const TILED: usize = 60_000;
/// Letters of all text.
pub const LETTERS_SET: u64 = 10_000;
/// Letters of a text times the runs that it comes in.
pub const SHAPED: u64 = 500_000;
/// Letters of a text times those of the outline that it runs along.
pub const FOLLOWED: u64 = 20_000_000;
/// Different pictures in a drawing, and pixels of all of them.
pub const PICTURES: usize = 200;
pub const PIXELS: u64 = 100_000_000;
/// Steps that a picture counts for wherever it is shown.
pub const SHOWN: usize = 100;
/// Comparisons of contours where shapes make one clip.
pub const CONTOURS: usize = 4_000_000;

pub const SVG: &str = "http://www.w3.org/2000/svg";

pub fn refused(message: impl Into<String>) -> PictureFault {
    decode::fault(message, "simplify it, or place it as a picture")
}

/// The line in which a byte of a text stands.
pub fn line(text: &str, at: usize) -> usize {
    text.as_bytes()[..at].split(|byte| *byte == b'\n').count()
}

/// No number in any attribute or style is beyond measure.
pub fn near<'a>(document: &Document<'_>, styled: impl Iterator<Item = (&'a str, &'a str)>) -> Result<(), PictureFault> {
    let beyond = |text: &str| numbers(text).any(|number| number > NUMBER);
    for (node, attribute) in document.descendants().flat_map(|node| node.attributes().map(move |found| (node, found))) {
        let line = || document.text_pos_at(attribute.range().start).row;
        if !named(node, &attribute) && beyond(attribute.value()) {
            return Err(far(&format!("line {}, in `{}`", line(), attribute.name())));
        }
        let again = matches!(attribute.name(), "stroke-dasharray" | "class")
            || attribute.name() == "style" && attribute.value().contains("stroke-dasharray");
        if again && attribute.value().len() > LETTERS {
            let message = format!("the SVG has more than {LETTERS} letters in line {}", line());
            return Err(refused(format!("{message}, in `{}`", attribute.name())));
        }
    }
    for (name, value) in styled {
        if beyond(value) {
            return Err(far(&format!("its style sheet, in `{name}`")));
        }
        if name == "stroke-dasharray" && value.len() > LETTERS {
            return Err(refused(format!(
                "the style sheet of the SVG has a dash pattern of more than {LETTERS} letters"
            )));
        }
    }
    Ok(())
}

fn far(place: &str) -> PictureFault {
    decode::fault(format!("the SVG has a number beyond all measure in {place}"), "draw it nearer to the origin")
}

/// Attributes whose digits are part of a name, or that nothing is drawn by.
fn named(node: Node<'_, '_>, attribute: &Attribute<'_, '_>) -> bool {
    let foreign = attribute.namespace().is_some_and(|space| space != SVG);
    let name = attribute.name();
    foreign || matches!(name, "id" | "class" | "href") || name.starts_with("data-") || !node.is_element()
}

/// The numbers in a text, without their signs. A colour such as #91e63f is not a number, and `url(#e99)` neither.
pub fn numbers(text: &str) -> impl Iterator<Item = f64> {
    let bytes = text.as_bytes();
    let digits = move |mut at: usize| {
        while bytes.get(at).is_some_and(u8::is_ascii_digit) {
            at += 1;
        }
        at
    };
    let mut at = 0;
    std::iter::from_fn(move || {
        loop {
            at += bytes.get(at..)?.iter().position(|byte| byte.is_ascii_digit() || *byte == b'#')?;
            if bytes[at] != b'#' {
                break;
            }
            at += 1;
            while bytes.get(at).is_some_and(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_')) {
                at += 1;
            }
        }
        let start = at;
        at = digits(at);
        if bytes.get(at) == Some(&b'.') {
            at = digits(at + 1);
        }
        if let Some(b'e' | b'E') = bytes.get(at) {
            let sign = usize::from(matches!(bytes.get(at + 1), Some(b'+' | b'-')));
            let end = digits(at + 1 + sign);
            at = if end > at + 1 + sign { end } else { at };
        }
        text[start..at].parse().ok()
    })
}
