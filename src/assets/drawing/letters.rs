//! Letters: what it takes to set the text of a drawing, counted before it is set. The reader shapes a text once for each of its
//! runs, looks letters up one by one, and follows a path once for each of its pieces.

use crate::assets::PictureFault;
use crate::assets::drawing::bounds::{self, SVG, refused};
use crate::assets::drawing::style::Styles;
use simplecss::DeclarationTokenizer;
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node};

/// Adds what each text counts for beyond itself, by its number.
pub fn bounded(document: &Document<'_>, extras: &mut BTreeMap<usize, u64>) -> Result<(), PictureFault> {
    let mut all = 0;
    for text in document.descendants().filter(|node| node.has_tag_name((SVG, "text"))) {
        let (letters, runs) = counted(text);
        all += letters;
        if all > bounds::LETTERS_SET {
            return Err(refused(format!("the SVG has more than {} letters of text", bounds::LETTERS_SET)));
        }
        let shaped = letters.saturating_mul(runs);
        if shaped > bounds::SHAPED {
            let message = format!("a text of the SVG has {letters} letters in {runs} pieces");
            return Err(refused(format!("{message}; the limit of one times the other is {}", bounds::SHAPED)));
        }
        let followed = followed(document, text).saturating_mul(letters);
        if followed > bounds::FOLLOWED {
            return Err(refused("text of the SVG runs along a path of too many pieces"));
        }
        let cost = letters + (letters * letters + shaped) / LOOKED_UP + followed / STEPPED;
        *extras.entry(text.id().get_usize()).or_default() += cost;
    }
    Ok(())
}

/// Letters that are looked up, and pieces of a path that are stepped along, while another element is read.
const LOOKED_UP: u64 = 500;
const STEPPED: u64 = 500;

/// Letters of a text, and the runs that they come in.
pub fn counted(text: Node<'_, '_>) -> (u64, u64) {
    let runs = text.descendants().filter(Node::is_text).filter_map(|run| run.text());
    runs.fold((0, 0), |(letters, runs), run| (letters + run.chars().count() as u64, runs + 1))
}

/// Letters of the outlines along which a text runs.
fn followed(document: &Document<'_>, text: Node<'_, '_>) -> u64 {
    let paths = text.descendants().filter(|node| node.has_tag_name((SVG, "textPath")));
    let hrefs = paths.flat_map(|path| path.attributes().filter(|attribute| attribute.name() == "href"));
    let names: Vec<&str> = hrefs.filter_map(|href| href.value().trim().strip_prefix('#')).collect();
    if names.is_empty() {
        return 0;
    }
    let targets = document.descendants().filter(|node| node.attribute("id").is_some_and(|id| names.contains(&id)));
    let outlines = targets.flat_map(|node| ["d", "points"].map(|name| node.attribute(name).map_or(0, str::len) as u64));
    outlines.sum()
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

struct TypeSizes {
    stated: f64,
    factor: f64,
}

impl TypeSizes {
    fn take(&mut self, name: &str, value: &str) {
        if !matches!(name, "font-size" | "font") {
            return;
        }
        let largest = bounds::numbers(value).fold(0.0, f64::max);
        let has = |unit: &str| value.contains(unit);
        if has("%") {
            self.factor = self.factor.max(largest / 100.0);
        } else if has("em") || has("ex") || has("larger") {
            self.factor = self.factor.max(largest).max(1.2);
        } else {
            let unit = if has("in") {
                INCH
            } else if has("mm") || has("cm") || has("pt") || has("pc") {
                UNIT
            } else {
                1.0
            };
            self.stated = self.stated.max(largest * unit);
        }
    }
}
