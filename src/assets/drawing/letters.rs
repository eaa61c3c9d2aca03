//! Letters: what it takes to set the text of a drawing, counted before it is set. The reader shapes a text once for each of its
//! runs, looks letters up one by one, and follows a path once for each of its pieces.

use crate::assets::PictureFault;
use crate::assets::drawing::bounds::{self, SVG, refused};
use crate::assets::drawing::style::Styles;
use crate::assets::drawing::taken::TakenLetters;
use simplecss::DeclarationTokenizer;
use std::collections::{BTreeMap, BTreeSet};
use usvg::roxmltree::{Document, Node};

/// Adds what each text counts for beyond itself, by its number.
pub fn bounded(
    document: &Document<'_>,
    taken: &TakenLetters<'_>,
    extras: &mut BTreeMap<usize, u64>,
) -> Result<(), PictureFault> {
    let outlines = outlines(document);
    let mut all = 0;
    for text in document.descendants().filter(|node| node.has_tag_name((SVG, "text"))) {
        let (letters, runs) = taken.counted(text);
        all += letters;
        if all > bounds::LETTERS_SET {
            return Err(refused(format!("the SVG has more than {} letters of text", bounds::LETTERS_SET)));
        }
        let shaped = letters.saturating_mul(runs);
        if shaped > bounds::SHAPED {
            let message = format!("a text of the SVG has {letters} letters in {runs} pieces");
            return Err(refused(format!("{message}; letters times pieces may be at most {}", bounds::SHAPED)));
        }
        let followed = followed(&outlines, text).saturating_mul(letters);
        if followed > bounds::FOLLOWED {
            return Err(refused("text of the SVG runs along a path of too many pieces"));
        }
        let cost = letters + (letters * letters + shaped) / LOOKED_UP + (followed + taken.searched(text)) / STEPPED;
        *extras.entry(text.id().get_usize()).or_default() += cost;
    }
    Ok(())
}

/// Letters that are looked up, and pieces of a path that are stepped along, while another element is read.
const LOOKED_UP: u64 = 500;
const STEPPED: u64 = 500;

/// Letters of the outlines that text may run along, by name.
fn outlines<'a>(document: &'a Document<'_>) -> BTreeMap<&'a str, u64> {
    let mut outlines = BTreeMap::new();
    if !document.descendants().any(|node| node.has_tag_name((SVG, "textPath"))) {
        return outlines;
    }
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            let lengths = ["d", "points"].map(|name| node.attribute(name).map_or(0, str::len) as u64);
            *outlines.entry(id).or_default() += lengths.iter().sum::<u64>();
        }
    }
    outlines
}

/// Letters of the outlines along which a text runs.
fn followed(outlines: &BTreeMap<&str, u64>, text: Node<'_, '_>) -> u64 {
    let paths = text.descendants().filter(|node| node.has_tag_name((SVG, "textPath")));
    let hrefs = paths.flat_map(|path| path.attributes().filter(|attribute| attribute.name() == "href"));
    let names: BTreeSet<&str> = hrefs.filter_map(|href| href.value().trim().strip_prefix('#')).collect();
    names.iter().filter_map(|name| outlines.get(name)).sum()
}

/// The size that letters have at the most, in units: the largest that is stated, as often as relative sizes enlarge it.
pub fn largest(document: &Document<'_>, styles: &Styles<'_>) -> f64 {
    let mut sizes = TypeSizes { stated: USUAL, factor: 1.0 };
    let mut deepest = 0;
    for stated in styles.declarations() {
        sizes.take(stated.name, stated.value);
    }
    for node in document.descendants().filter(Node::is_element) {
        for attribute in node.attributes() {
            sizes.take(attribute.name(), attribute.value());
        }
        for stated in DeclarationTokenizer::from(node.attribute("style").unwrap_or_default()) {
            sizes.take(stated.name, stated.value);
        }
        if node.has_tag_name((SVG, "text")) || node.has_tag_name((SVG, "tspan")) {
            deepest = deepest.max(node.ancestors().count());
        }
    }
    sizes.stated * sizes.factor.powi(i32::try_from(deepest).unwrap_or(i32::MAX))
}

/// CSS: `medium`, in all browsers.
const USUAL: f64 = 16.0;
/// Pixels that a unit of length has, an inch aside.
const UNIT: f64 = 40.0;
const INCH: f64 = 96.0;
/// What `larger` stands for.
const LARGER: f64 = 1.2;

struct TypeSizes {
    stated: f64,
    factor: f64,
}

impl TypeSizes {
    fn take(&mut self, name: &str, value: &str) {
        if !matches!(name, "font-size" | "font") {
            return;
        }
        // What follows the size in `font` is a height of lines and families.
        let tokens = value.split_ascii_whitespace().map(|token| token.split('/').next().unwrap_or_default());
        let numeric =
            |token: &&str| token.starts_with(|letter: char| letter.is_ascii_digit() || "+-.".contains(letter));
        for token in tokens {
            if token == "larger" {
                self.factor = self.factor.max(LARGER);
                return;
            }
            if !numeric(&token) {
                continue;
            }
            let largest = bounds::numbers(token).fold(0.0, f64::max);
            let unit = &token[token.trim_end_matches(|letter: char| letter.is_alphabetic() || letter == '%').len()..];
            match unit {
                "%" => self.factor = self.factor.max(largest / 100.0),
                "in" => self.stated = self.stated.max(largest * INCH),
                "mm" | "cm" | "pt" | "pc" => self.stated = self.stated.max(largest * UNIT),
                "" | "px" => self.stated = self.stated.max(largest),
                // `em`, `ex`, and what is not known.
                _ => self.factor = self.factor.max(largest).max(LARGER),
            }
            if !unit.is_empty() {
                return;
            }
        }
    }
}
