//! Families: the fonts that each element of a drawing asks for, as far as its own file says it where it stands.

use crate::assets::drawing::faces::FAMILIES;
use crate::assets::drawing::style::Styles;
use crate::assets::{Font, Library};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use std::sync::Arc;
use unicode_normalization::char::decompose_canonical;
use usvg::roxmltree::{Document, Node};

/// Lists by the numbers of elements.
pub struct AskedFamilies(BTreeMap<usize, Option<Rc<[String]>>>);

impl AskedFamilies {
    pub fn of(document: &Document<'_>, styles: &Styles<'_>) -> AskedFamilies {
        let used = document.descendants().filter(|node| node.tag_name().name() == "use");
        let hrefs = used.flat_map(|node| node.attributes().filter(|attribute| attribute.name() == "href"));
        let used: BTreeSet<&str> = hrefs.filter_map(|href| href.value().trim().strip_prefix('#')).collect();
        let mut all = BTreeMap::new();
        // Parents stand before their children.
        for node in document.descendants().filter(Node::is_element) {
            let list = match said(node, styles) {
                Said::List(list) => Some(Rc::from(list)),
                Said::Unclear => None,
                // What is used elsewhere takes its fonts from there.
                Said::Nothing if node.attribute("id").is_some_and(|id| used.contains(id)) => None,
                Said::Nothing => {
                    node.parent_element().and_then(|parent| all.get(&parent.id().get_usize()).cloned()).flatten()
                }
            };
            all.insert(node.id().get_usize(), list);
        }
        AskedFamilies(all)
    }

    /// `None` where it is not known, or there is none.
    pub fn at(&self, node: Node<'_, '_>) -> Option<Rc<[String]>> {
        self.0.get(&node.id().get_usize()).cloned().flatten()
    }
}

enum Said {
    List(Vec<String>),
    Nothing,
    Unclear,
}

fn said(node: Node<'_, '_>, styles: &Styles<'_>) -> Said {
    // As an attribute it means nothing (SVG 2, 6.6).
    let font = styles.stated(node, "font").filter(|font| node.attribute("font").map(str::trim) != Some(*font));
    let list = match (styles.stated(node, "font-family"), font) {
        (None, None) => return Said::Nothing,
        (Some(list), None) => list,
        (None, Some(font)) => match after_size(font) {
            Some(list) => list,
            None => return Said::Unclear,
        },
        // Which of them comes last is not asked.
        (Some(_), Some(_)) => return Said::Unclear,
    };
    if list == "inherit" {
        return Said::Nothing;
    }
    let names = list.split(',').map(|name| name.trim().trim_matches(['"', '\'']));
    Said::List(names.filter(|name| !name.is_empty()).map(str::to_owned).collect())
}

/// The families of a `font`: they follow its size.
fn after_size(font: &str) -> Option<&str> {
    let mut rest = font;
    loop {
        let (word, after) = rest.trim_start().split_once(char::is_whitespace)?;
        rest = after;
        let is_weight = word.len() == 3 && word.bytes().all(|byte| byte.is_ascii_digit());
        let is_number = word.starts_with(|letter: char| letter.is_ascii_digit() || letter == '.');
        let is_angle = ["deg", "rad", "turn"].iter().any(|unit| word.ends_with(unit));
        if is_number && !is_weight && !is_angle
            || word.ends_with("small")
            || word.ends_with("large")
            || word == "medium"
        {
            return Some(rest.trim());
        }
    }
}

/// The fonts that a list names.
pub struct ListedFonts {
    /// The first family, where it is not there.
    missing: Option<String>,
    found: Vec<Arc<Font>>,
}

/// All weights of a family have about the same letters.
const USUAL: u16 = 400;

/// By their lists, each looked for once.
#[derive(Default)]
pub struct KnownLists(BTreeMap<Rc<[String]>, ListedFonts>);

impl KnownLists {
    pub fn of(&mut self, list: Rc<[String]>, library: &Library) -> &ListedFonts {
        self.0.entry(list).or_insert_with_key(|list| ListedFonts::of(list, library))
    }
}

impl ListedFonts {
    fn of(list: &[String], library: &Library) -> ListedFonts {
        let mut all = list.iter().take(FAMILIES).map(|family| (family, library.find(family, USUAL, false))).peekable();
        let missing = all.next_if(|(_, font)| font.is_none()).map(|(family, _)| family.clone());
        ListedFonts { missing, found: all.filter_map(|(_, font)| font).collect() }
    }

    /// Those that are there, in their order.
    pub fn fonts(&self) -> &[Arc<Font>] {
        &self.found
    }

    /// The place of the font that sets a letter: the first one where none has it.
    pub fn place(&self, letter: char) -> usize {
        self.found.iter().position(|font| has(font, letter)).unwrap_or_default()
    }

    /// As a list of CSS; a family that is missing is missed in it, too.
    pub fn list(&self, place: usize) -> String {
        let names = self.missing.as_deref().into_iter().chain(self.found.get(place).map(|font| font.family()));
        let quoted = |name: &str| if name.contains('\'') { format!("\"{name}\"") } else { format!("'{name}'") };
        names.map(quoted).collect::<Vec<_>>().join(",")
    }
}

/// Whether a font has a letter, or the parts that it is made of.
pub fn has(font: &Font, letter: char) -> bool {
    let mut has_parts = true;
    decompose_canonical(letter, |part| has_parts &= part != letter && font.glyph(part).is_some());
    has_parts || font.glyph(letter).is_some()
}
