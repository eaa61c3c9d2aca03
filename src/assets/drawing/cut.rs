//! Cut: letters that the first font of a list lacks, cut out as pieces of their own. The reader sets all of a text in the font
//! that stands in for one letter of it; a piece in a font of its own leaves the others alone.

use crate::assets::Library;
use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::edited::{Edit, edited, escaped};
use crate::assets::drawing::families::{AskedFamilies, KnownLists, ListedFonts};
use crate::assets::drawing::style::Styles;
use crate::assets::drawing::{cost, markup};
use unicode_normalization::char::is_combining_mark;
use usvg::roxmltree::{Document, Node};

/// The text with such pieces; `None` where there are none, or where they would change more than their letters.
pub fn cut(document: &Document<'_>, library: &Library) -> Option<String> {
    let text = document.input_text();
    let styles = Styles::read(document).ok()?;
    // Rules for pieces, or for elements among others, are meant for those of the file.
    if styles.look_at_pieces() {
        return None;
    }
    let families = AskedFamilies::of(document, &styles);
    let (mut edits, mut lists) = (Vec::<Edit>::new(), KnownLists::default());
    for run in document.descendants().filter(|node| node.is_text() && is_cut(*node)) {
        let Some(parent) = run.parent() else { continue };
        let Some(list) = families.at(parent) else { continue };
        let name = text[parent.range().start + 1..].split([' ', '\t', '\r', '\n', '>']).next().unwrap_or_default();
        let prefix = name.split_once(':').map_or("", |(prefix, _)| prefix);
        let new = pieces(run.text().unwrap_or_default(), prefix, lists.of(list, library));
        edits.extend(new.map(|new| (run.range(), new)));
    }
    if edits.is_empty() {
        return None;
    }
    let new = edited(text, edits);
    let again = markup::parsed(&new).ok()?;
    let is_whole = words(&again).eq(words(document));
    (is_whole && cost::bounded(&again, &Styles::read(&again).ok()?).is_ok()).then_some(new)
}

/// A text that is stretched is stretched by pieces.
fn is_cut(run: Node<'_, '_>) -> bool {
    let mut around = run.ancestors().skip(1).take_while(Node::is_element);
    let stretched = around.clone().any(|above| above.has_attribute("textLength"));
    !stretched && around.any(|above| above.has_tag_name((SVG, "text")))
}

/// All letters of a file in their order.
fn words<'a>(document: &'a Document<'_>) -> impl Iterator<Item = char> + use<'a> {
    document.descendants().filter(Node::is_text).flat_map(|run| run.text().unwrap_or_default().chars())
}

/// `None` where the first font has all letters or no other has more, and where letters cannot be cut out.
fn pieces(text: &str, prefix: &str, fonts: &ListedFonts) -> Option<String> {
    let mut all: Vec<(usize, String)> = Vec::new();
    for letter in text.chars() {
        // What is no letter by itself stays with the one before it.
        let joined = all.last().filter(|_| is_combining_mark(letter) || JOINERS.contains(&letter));
        let place = joined.map_or_else(|| fonts.place(letter), |(place, _)| *place);
        // Of a letter with marks, the reader may leave some in the font in which a text begins.
        if joined.is_some() && all.first().is_some_and(|(first, _)| *first != place) {
            return None;
        }
        match all.last_mut().filter(|(last, _)| *last == place) {
            Some((_, piece)) => piece.push(letter),
            None => all.push((place, letter.to_string())),
        }
    }
    if all.iter().all(|(place, _)| *place == 0) {
        return None;
    }
    let tag = if prefix.is_empty() { "tspan".to_owned() } else { format!("{prefix}:tspan") };
    let written = all.into_iter().map(|(place, piece)| match place {
        0 => escaped(&piece),
        _ => format!("<{tag} style=\"font-family:{}\">{}</{tag}>", escaped(&fonts.list(place)), escaped(&piece)),
    });
    Some(written.collect())
}

/// U+200C and U+200D: how the letters around them join.
const JOINERS: [char; 2] = ['\u{200c}', '\u{200d}'];
