//! Handed: the text of a drawing as the SVG reader is handed it. What it would not understand is written as it does, and what
//! means nothing for the drawing and would trouble it is taken out.

use crate::assets::PictureFault;
use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::edited::{Edit, edited};
use crate::assets::drawing::shown::{ShownElements, is_kept};
use crate::assets::drawing::style::Styles;
use crate::assets::drawing::{important, line_height, markup, spaces, spelled};
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node};

/// `None` where it is handed as it is.
pub fn handed(text: &str, document: &Document<'_>, styles: &Styles<'_>) -> Result<Option<String>, PictureFault> {
    let mut edits = spelled::edits(text, document);
    if text.contains("<text") || text.contains(":text") {
        edits.extend(line_height::edits(text, document));
        edits.extend(spaces::edits(text, document));
        edits.extend(hidden(text, document, styles));
    }
    if edits.is_empty() {
        return important::settled(text, document, styles);
    }
    let text = edited(text, edits);
    let document = markup::parsed(&text)?;
    let settled = important::settled(&text, &document, &Styles::read(&document)?)?;
    Ok(Some(settled.unwrap_or(text)))
}

/// What stands in texts of which nothing is seen; the reader would ask for their fonts. In a text of which something shows, what
/// is hidden takes its room.
fn hidden(text: &str, document: &Document<'_>, styles: &Styles<'_>) -> Vec<Edit> {
    if !text.contains("visibility") {
        return Vec::new();
    }
    let hidden = HiddenTexts { shown: ShownElements::of(document, styles), askers: askers(document) };
    let texts = document.descendants().filter(|node| node.has_tag_name((SVG, "text")));
    // The element stays: style sheets and a `switch` look at what stands beside others.
    let within = |text: Node<'_, '_>| Some(text.first_child()?.range().start..text.last_child()?.range().end);
    texts.filter(|text| hidden.has(*text)).filter_map(within).map(|within| (within, String::new())).collect()
}

/// The elements that refer to others as a whole, by the names that they ask for.
fn askers<'a, 'input>(document: &'a Document<'input>) -> BTreeMap<&'a str, Vec<Node<'a, 'input>>> {
    let mut all: BTreeMap<&str, Vec<Node<'_, '_>>> = BTreeMap::new();
    for node in document.descendants() {
        let hrefs = node.attributes().filter(|attribute| attribute.name() == "href");
        for name in hrefs.filter_map(|attribute| attribute.value().trim().strip_prefix('#')) {
            all.entry(name).or_default().push(node);
        }
    }
    all
}

struct HiddenTexts<'a, 'input> {
    shown: ShownElements,
    askers: BTreeMap<&'a str, Vec<Node<'a, 'input>>>,
}

impl<'a, 'input> HiddenTexts<'a, 'input> {
    fn has(&self, text: Node<'a, 'input>) -> bool {
        // In `defs` it is drawn where it is used alone.
        let mut kept = text.ancestors().filter(|above| is_kept(above.tag_name().name())).peekable();
        let is_defined = kept.peek().is_some() && kept.all(|above| above.has_tag_name((SVG, "defs")));
        let mut inside = text.descendants().filter(|node| node.is_element() && *node != text);
        inside.all(|node| !(self.shown.is_seen(node) && self.shown.says(node)) && self.of(node).is_empty())
            && (!self.shown.is_seen(text) || is_defined && !text.ancestors().any(|above| self.shown.says(above)))
            // Above the element that hides it, nothing can show it.
            && text.ancestors().take_while(|above| !self.shown.says(*above)).all(|above| self.is_asked_unseen(above))
    }

    fn of(&self, node: Node<'_, '_>) -> &[Node<'a, 'input>] {
        let id = node.attribute("id").and_then(|id| self.askers.get(id));
        id.map_or(&[], Vec::as_slice)
    }

    /// Whether it is used nowhere, or where nothing of it is seen; what uses it may itself be used.
    fn is_asked_unseen(&self, node: Node<'_, '_>) -> bool {
        self.of(node).iter().all(|asker| {
            let mut around = asker.ancestors().take_while(|above| !self.shown.says(*above));
            asker.has_tag_name((SVG, "use"))
                && !self.shown.is_seen(*asker)
                && around.all(|above| self.of(above).is_empty())
        })
    }
}
