//! Gone: text of which no letter is in its font. The reader leaves no trace of it where the font draws nothing for what it lacks.

use crate::assets::Library;
use crate::assets::drawing::along;
use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::families::{AskedFamilies, KnownLists, ListedFonts, has};
use crate::assets::drawing::shown::ShownElements;
use crate::assets::drawing::style::Styles;
use std::collections::BTreeSet;
use usvg::roxmltree::{Document, Node};

/// Families and letters. Fonts that stand in for the first of a list have letters, too.
pub fn gone(document: &Document<'_>, library: &Library, stand_in: bool) -> BTreeSet<(String, char)> {
    let (mut gone, mut lists) = (BTreeSet::new(), KnownLists::default());
    let Ok(styles) = Styles::read(document) else { return gone };
    let (shown, families) = (ShownElements::of(document, &styles), AskedFamilies::of(document, &styles));
    for text in document.descendants().filter(|node| node.has_tag_name((SVG, "text"))) {
        let runs = text.descendants().filter(Node::is_text);
        let lacking: Option<Vec<(String, char)>> = runs
            .filter_map(|run| Some((run.parent().filter(|parent| shown.prints(*parent))?, run.text()?)))
            .flat_map(|(parent, words)| {
                let fonts = families.at(parent).map(|list| lists.of(list, library));
                along::printed(words).chars().map(|letter| lacks(fonts?, letter, stand_in)).collect::<Vec<_>>()
            })
            .collect();
        gone.extend(lacking.unwrap_or_default());
    }
    gone
}

/// `None` where it is set, or where that is not known.
fn lacks(fonts: &ListedFonts, letter: char, stand_in: bool) -> Option<(String, char)> {
    let first = fonts.fonts().first()?;
    let asked = if stand_in { fonts.fonts() } else { &fonts.fonts()[..1] };
    asked.iter().all(|font| !has(font, letter)).then(|| (first.family().to_owned(), letter))
}
