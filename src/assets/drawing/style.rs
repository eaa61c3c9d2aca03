//! Style: the style sheets of a drawing, and what they say of an element. The reader applies them by itself; here they
//! are only asked what they will cost, and which references they add.

use crate::assets::PictureFault;
use crate::assets::drawing::bounds::{self, refused};
use simplecss::{AttributeOperator, Declaration, DeclarationTokenizer, Element, PseudoClass, Selector, StyleSheet};
use std::collections::BTreeSet;
use usvg::roxmltree::{Document, Node};

#[derive(Default)]
pub struct Styles<'a> {
    sheet: StyleSheet<'a>,
    /// Whether any declaration refers to another element.
    refers: bool,
}

impl<'a> Styles<'a> {
    pub fn read(document: &'a Document<'_>) -> Result<Styles<'a>, PictureFault> {
        let mut styles = Styles::default();
        let is_sheet = |node: &Node<'_, '_>| {
            node.has_tag_name("style") && matches!(node.attribute("type"), None | Some("text/css"))
        };
        let texts: Vec<&str> = document.descendants().filter(is_sheet).filter_map(|node| node.text()).collect();
        let bytes: usize = texts.iter().map(|text| text.len()).sum();
        if bytes > bounds::STYLES {
            let message = format!("the style sheets of the SVG have {} KB", bytes >> 10);
            return Err(refused(format!("{message}; the limit is {} KB", bounds::STYLES >> 10)));
        }
        if texts.iter().map(|text| declared(text)).sum::<usize>() > bounds::DECLARATIONS {
            return Err(refused("the style sheets of the SVG have too many selectors, declarations or remarks"));
        }
        for text in texts {
            styles.sheet.parse_more(text);
        }
        if styles.sheet.rules.iter().any(|rule| SelectorSize::of(&rule.selector).parts > bounds::SELECTORS) {
            let message = "a selector in a style sheet of the SVG looks at more than";
            return Err(refused(format!("{message} {} elements", bounds::SELECTORS)));
        }
        let refers = styles.declarations().any(|declaration| refers(&declaration));
        styles.refers = refers;
        Ok(styles)
    }

    pub fn declarations(&self) -> impl Iterator<Item = Declaration<'a>> + use<'_, 'a> {
        self.sheet.rules.iter().flat_map(|rule| rule.declarations.iter().copied())
    }

    /// How many properties the sheets may set of one element, at the most.
    pub fn properties(&self) -> u64 {
        self.declarations().map(|declaration| declaration.name).collect::<BTreeSet<_>>().len() as u64
    }

    /// How often an element of a drawing so deep is compared with a selector, at the most.
    pub fn comparisons(&self, depth: usize) -> u64 {
        let one = |selector: &Selector<'_>| {
            let size = SelectorSize::of(selector);
            let paths = (depth as u64).saturating_pow(size.descents);
            paths.saturating_mul(size.parts as u64)
        };
        self.sheet.rules.iter().map(|rule| one(&rule.selector)).fold(0, u64::saturating_add)
    }

    /// What the style sheets and its own `style` say of an element, as far as it refers to others.
    pub fn of(&self, node: Node<'a, '_>) -> Vec<Declaration<'a>> {
        let own = DeclarationTokenizer::from(node.attribute("style").unwrap_or_default());
        let rules = self.sheet.rules.iter().filter(|rule| self.refers && rule.selector.matches(&Styled(node)));
        rules.flat_map(|rule| rule.declarations.iter().copied()).chain(own).collect()
    }
}

/// What is marked as important.
impl<'a> Styles<'a> {
    pub fn has_important(&self) -> bool {
        self.declarations().any(|declaration| declaration.important)
    }

    /// Of an element, the weakest first.
    pub fn important(&self, node: Node<'a, '_>) -> Vec<Declaration<'a>> {
        let own = DeclarationTokenizer::from(node.attribute("style").unwrap_or_default());
        let rules = self.sheet.rules.iter().filter(|rule| rule.declarations.iter().any(|stated| stated.important));
        let rules = rules.filter(|rule| rule.selector.matches(&Styled(node)));
        let all = rules.flat_map(|rule| rule.declarations.iter().copied()).chain(own);
        all.filter(|declaration| declaration.important).collect()
    }

    /// Whether any rule is for pieces of text, or for elements by those before them.
    pub fn look_at_pieces(&self) -> bool {
        let selectors = self.sheet.rules.iter().map(|rule| rule.selector.to_string());
        selectors.into_iter().any(|selector| ["tspan", "first-child", "+"].iter().any(|part| selector.contains(part)))
    }

    /// Which of some properties a style sheet or its own `style` states of an element.
    pub fn sets(&self, node: Node<'a, '_>, properties: &[&str], by_sheet: bool) -> Option<&'a str> {
        let known = |stated: Declaration<'a>| Some(stated.name).filter(|name| properties.contains(name));
        let own = || DeclarationTokenizer::from(node.attribute("style").unwrap_or_default()).find_map(known);
        let rules = self.sheet.rules.iter().filter(|_| by_sheet);
        let mut all = rules.filter_map(|rule| Some((rule, rule.declarations.iter().copied().find_map(known)?)));
        own().or_else(|| all.find(|(rule, _)| rule.selector.matches(&Styled(node))).map(|(_, name)| name))
    }

    /// What an element states of a property itself.
    pub fn stated(&self, node: Node<'a, '_>, property: &str) -> Option<&'a str> {
        let own = DeclarationTokenizer::from(node.attribute("style").unwrap_or_default());
        let rules = self.sheet.rules.iter().rev();
        let mut rules = rules.filter(|rule| rule.declarations.iter().any(|stated| stated.name == property));
        let of =
            |all: &[Declaration<'a>]| all.iter().rfind(|stated| stated.name == property).map(|stated| stated.value);
        of(&own.collect::<Vec<_>>())
            .or_else(|| rules.find(|rule| rule.selector.matches(&Styled(node))).and_then(|rule| of(&rule.declarations)))
            .or_else(|| node.attribute(property))
            .map(str::trim)
    }
}

fn refers(declaration: &Declaration<'_>) -> bool {
    declaration.value.contains("url(") || declaration.value.contains("context-")
}

/// Every rule is kept once for each of its selectors, so their product counts.
fn declared(text: &str) -> usize {
    // Each remark is one step of the reader's recursion.
    if text.matches("/*").count() > REMARKS {
        return usize::MAX;
    }
    let (mut total, mut selectors, mut declarations, mut rest) = (0_usize, 1, 0_usize, text);
    while let Some(at) = rest.find(['{', '}', ',', ';', '"', '\'', '/']) {
        let (letter, tail) = rest[at..].split_at(1);
        rest = tail;
        match letter {
            // What is quoted or remarked on may hold any letter.
            "\"" | "'" => rest = tail.split_once(letter).map_or("", |(_, after)| after),
            "/" if tail.starts_with('*') => rest = tail.split_once("*/").map_or("", |(_, after)| after),
            "," if declarations == 0 => selectors += 1,
            "{" | ";" => declarations += 1,
            "}" => {
                total = total.saturating_add(selectors * declarations);
                (selectors, declarations) = (1, 0);
            }
            _ => {}
        }
    }
    total.saturating_add(selectors * declarations)
}

const REMARKS: usize = 500;

/// Of a selector: the elements that it looks at, and the steps from one to any other above it.
struct SelectorSize {
    parts: usize,
    descents: u32,
}

impl SelectorSize {
    fn of(selector: &Selector<'_>) -> SelectorSize {
        let text = selector.to_string();
        let near = text.replace(" > ", ">").replace(" + ", "+");
        let descents = near.matches(' ').count() as u32;
        SelectorSize { parts: 1 + near.matches([' ', '>', '+', '[', ':']).count(), descents }
    }
}

struct Styled<'a, 'input>(Node<'a, 'input>);

impl Element for Styled<'_, '_> {
    fn parent_element(&self) -> Option<Self> {
        self.0.parent_element().map(Styled)
    }

    fn prev_sibling_element(&self) -> Option<Self> {
        self.0.prev_sibling_element().map(Styled)
    }

    fn has_local_name(&self, name: &str) -> bool {
        self.0.tag_name().name() == name
    }

    fn attribute_matches(&self, name: &str, operator: AttributeOperator<'_>) -> bool {
        self.0.attribute(name).is_some_and(|value| operator.matches(value))
    }

    fn pseudo_class_matches(&self, class: PseudoClass<'_>) -> bool {
        class == PseudoClass::FirstChild && self.prev_sibling_element().is_none()
    }
}
