//! Handed: the text of a drawing as the SVG reader is handed it. What it would not understand is written as it does, and what
//! means nothing for the drawing and would trouble it is taken out.

use crate::assets::PictureFault;
use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::edited::{Edit, edited};
use crate::assets::drawing::shown::ShownElements;
use crate::assets::drawing::style::Styles;
use crate::assets::drawing::{important, line_height, markup, spaces, spelled};
use std::collections::BTreeSet;
use usvg::roxmltree::{Document, Node};

/// `None` where it is handed as it is.
pub fn handed(text: &str, document: &Document<'_>, styles: &Styles<'_>) -> Result<Option<String>, PictureFault> {
    // What stands in an entity has no one place in the text.
    if text.contains("<!ENTITY") {
        return important::settled(text, document, styles);
    }
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

/// What stands in texts of which nothing is seen; the reader would ask for their fonts. In a text of which something shows, what is hidden
/// takes its room.
fn hidden(text: &str, document: &Document<'_>, styles: &Styles<'_>) -> Vec<Edit> {
    if !text.contains("visibility") {
        return Vec::new();
    }
    let shown = ShownElements::of(document, styles);
    let hrefs = document.descendants().flat_map(|node| node.attributes());
    let hrefs = hrefs.filter(|attribute| attribute.name() == "href").map(|attribute| attribute.value().trim());
    let asked: BTreeSet<&str> = hrefs.filter_map(|href| href.strip_prefix('#')).collect();
    let is_asked = |node: Node<'_, '_>| node.attribute("id").is_some_and(|id| asked.contains(id));
    let is_hidden = |text: &Node<'_, '_>| {
        // Above the element that hides it, nothing can show it.
        let above = text.ancestors().take_while(|above| !shown.says(*above));
        let mut inside = text.descendants().filter(Node::is_element);
        inside.all(|node| !shown.is_seen(node) && !is_asked(node)) && !above.into_iter().any(is_asked)
    };
    let texts = document.descendants().filter(|node| node.has_tag_name((SVG, "text")));
    // The element stays: style sheets and a `switch` look at what stands beside others.
    let within = |text: Node<'_, '_>| Some(text.first_child()?.range().start..text.last_child()?.range().end);
    texts.filter(is_hidden).filter_map(within).map(|within| (within, String::new())).collect()
}
