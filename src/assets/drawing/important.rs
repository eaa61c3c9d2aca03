//! Declarations marked `!important`. The SVG reader lets the first of several win; by CSS (Cascading and Inheritance 3,
//! section 6) the one of the most particular selector wins, and of those the last. So every element is given its winners in
//! its own `style`, where nothing overrides them, and the marks are taken away.

use crate::assets::drawing::edited::{Edit, edited, escaped};
use crate::assets::drawing::style::Styles;
use crate::assets::{PictureFault, decode};
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node};

/// Bytes that the winners may add to a drawing.
const MOST: usize = 64 << 20;

/// The text with its marks settled; `None` where it has none.
pub fn settled(text: &str, document: &Document<'_>, styles: &Styles<'_>) -> Result<Option<String>, PictureFault> {
    let own = |node: Node<'_, '_>| node.attribute("style").is_some_and(|style| style.contains('!'));
    if !(styles.has_important() || document.descendants().any(own)) {
        return Ok(None);
    }
    let mut edits: Vec<Edit> = Vec::new();
    let mut added = 0;
    for node in document.descendants().filter(Node::is_element) {
        if node.has_tag_name("style") {
            edits.push((node.range(), unmarked(&text[node.range()])));
            continue;
        }
        let winners: BTreeMap<&str, &str> =
            styles.important(node).into_iter().map(|stated| (stated.name, stated.value)).collect();
        let winners: String =
            winners.into_iter().flat_map(|(name, value)| [name, ":", value, ";"]).map(escaped).collect();
        added += winners.len();
        if added > MOST {
            let message =
                format!("the style sheets of the SVG mark too much as important; the limit is {} MB", MOST >> 20);
            return Err(decode::fault(message, "save it with presentation attributes instead of style sheets"));
        }
        if let Some(style) = node.attribute_node("style") {
            let place = style.range_value();
            let own = unmarked(&text[place.clone()]);
            // The reader wants no empty declaration at the beginning.
            let between = if own.trim().is_empty() || winners.is_empty() { "" } else { ";" };
            edits.push((place, format!("{own}{between}{winners}")));
        } else if !winners.is_empty() {
            let start = node.range().start + 1;
            let name = text[start..].find([' ', '\t', '\r', '\n', '/', '>']).unwrap_or_default();
            edits.push((start + name..start + name, format!(" style=\"{winners}\"")));
        }
    }
    // A style sheet within an element that was edited as a whole has gone with it.
    Ok(Some(edited(text, edits)))
}

/// A style without its marks.
fn unmarked(style: &str) -> String {
    const WORD: &str = "important";
    let mut plain = String::with_capacity(style.len());
    let mut rest = style;
    while let Some((before, after)) = rest.split_once('!') {
        plain.push_str(before);
        let word = after.trim_start();
        match word.get(..WORD.len()) {
            Some(stated) if stated.eq_ignore_ascii_case(WORD) => rest = &word[WORD.len()..],
            _ => {
                plain.push('!');
                rest = after;
            }
        }
    }
    plain + rest
}
