//! Style: the style sheets of a drawing, and what they say of an element. The reader applies them by itself; here they
//! are only asked what they will cost, and which references they add.

use crate::assets::PictureFault;
use crate::assets::drawing::bounds::{self, refused};
use simplecss::{AttributeOperator, Declaration, DeclarationTokenizer, Element, PseudoClass, Selector, StyleSheet};
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node};

#[derive(Default)]
pub struct Styles<'a> {
    sheet: StyleSheet<'a>,
    /// By its name, the rules that state a property, by number, and what each says last: an element asks no others.
    stating: BTreeMap<&'a str, Vec<(usize, &'a str)>>,
    /// What refers to other elements, and what is marked as important, by the number of its rule.
    referring: Vec<(usize, Declaration<'a>)>,
    important: Vec<(usize, Declaration<'a>)>,
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
        styles.gather();
        Ok(styles)
    }

    fn gather(&mut self) {
        let all = self.sheet.rules.iter().enumerate();
        for (rule, stated) in all.flat_map(|(at, rule)| rule.declarations.iter().map(move |stated| (at, *stated))) {
            let stating = self.stating.entry(stated.name).or_default();
            match stating.last_mut() {
                Some((last, value)) if *last == rule => *value = stated.value,
                _ => stating.push((rule, stated.value)),
            }
            if refers(&stated) {
                self.referring.push((rule, stated));
            }
            if stated.important {
                self.important.push((rule, stated));
            }
        }
    }

    fn applies(&self, rule: usize, node: Node<'a, '_>) -> bool {
        self.sheet.rules[rule].selector.matches(&Styled(node))
    }

    /// Of gathered declarations those that hold for an element; each rule is compared once.
    fn applied(&self, gathered: &[(usize, Declaration<'a>)], node: Node<'a, '_>) -> Vec<Declaration<'a>> {
        let rules = gathered.chunk_by(|(one, _), (other, _)| one == other);
        let rules = rules.filter(|rule| rule.first().is_some_and(|(at, _)| self.applies(*at, node)));
        rules.flatten().map(|(_, stated)| *stated).collect()
    }

    pub fn declarations(&self) -> impl Iterator<Item = Declaration<'a>> + use<'_, 'a> {
        self.sheet.rules.iter().flat_map(|rule| rule.declarations.iter().copied())
    }

    /// How many properties the sheets may set of one element, at the most.
    pub fn properties(&self) -> u64 {
        self.stating.len() as u64
    }

    /// How often an element of a drawing so deep is compared with a selector, at the most. What a rule declares is gone
    /// through for each element that it is for, so a long one counts as several.
    pub fn comparisons(&self, depth: usize) -> u64 {
        let one = |selector: &Selector<'_>| {
            let size = SelectorSize::of(selector);
            let paths = (depth as u64).saturating_pow(size.descents);
            paths.saturating_mul(size.parts as u64)
        };
        let rules = self.sheet.rules.iter();
        let costs = rules.map(|rule| one(&rule.selector).saturating_add((rule.declarations.len() / DECLARED) as u64));
        costs.fold(0, u64::saturating_add)
    }

    /// What the style sheets and its own `style` say of an element, as far as it refers to others.
    pub fn of(&self, node: Node<'a, '_>) -> Vec<Declaration<'a>> {
        let own = DeclarationTokenizer::from(node.attribute("style").unwrap_or_default());
        self.applied(&self.referring, node).into_iter().chain(own).collect()
    }
}

/// What is marked as important.
impl<'a> Styles<'a> {
    pub fn has_important(&self) -> bool {
        !self.important.is_empty()
    }

    /// Of an element, the weakest first.
    pub fn important(&self, node: Node<'a, '_>) -> Vec<Declaration<'a>> {
        let own = DeclarationTokenizer::from(node.attribute("style").unwrap_or_default());
        let own = own.filter(|declaration| declaration.important);
        self.applied(&self.important, node).into_iter().chain(own).collect()
    }

    /// Whether any rule is for pieces of text, or for elements by those before them.
    pub fn look_at_pieces(&self) -> bool {
        let selectors = self.sheet.rules.iter().map(|rule| rule.selector.to_string());
        selectors.into_iter().any(|selector| ["tspan", "first-child", "+"].iter().any(|part| selector.contains(part)))
    }

    /// Which of some properties a style sheet or its own `style` states of an element.
    pub fn sets(&self, node: Node<'a, '_>, properties: &[&'a str]) -> Option<&'a str> {
        let known = |stated: Declaration<'a>| Some(stated.name).filter(|name| properties.contains(name));
        let own = DeclarationTokenizer::from(node.attribute("style").unwrap_or_default()).find_map(known);
        let mut stating = properties.iter().filter_map(|name| self.stating.get_key_value(name));
        let mut set = || stating.find(|(_, rules)| rules.iter().any(|(rule, _)| self.applies(*rule, node)));
        own.or_else(|| set().map(|(name, _)| *name))
    }

    /// What an element states of a property itself.
    pub fn stated(&self, node: Node<'a, '_>, property: &str) -> Option<&'a str> {
        let own = DeclarationTokenizer::from(node.attribute("style").unwrap_or_default());
        let own = own.filter(|stated| stated.name == property).last().map(|stated| stated.value);
        let mut rules = self.stating.get(property).into_iter().flatten().rev();
        let by_rule = || rules.find(|(rule, _)| self.applies(*rule, node)).map(|(_, value)| *value);
        own.or_else(by_rule).or_else(|| node.attribute(property)).map(str::trim)
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
/// Declarations of a rule that cost as much as one more part of its selector.
const DECLARED: usize = 16;

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

#[cfg(test)]
mod tests {
    use super::*;

    /// Counted, not timed: 15,900 declarations cost each of 200,000 rectangles nothing but for the one that is asked for.
    #[test]
    fn an_element_asks_only_the_rules_that_state_a_property() {
        let sheet = format!("q{{{}x:1;x:2}}r{{a:url(#b);a:b}}s{{a:b!important}}", "a:b;".repeat(15_900));
        let text = format!("<svg><style>{sheet}</style><q/><r/></svg>");
        let document = Document::parse(&text).expect("XML");
        let styles = Styles::read(&document).unwrap_or_else(|fault| panic!("{}", fault.message));
        assert_eq!(styles.stating["x"], [(0, "2")]);
        assert_eq!(styles.stating["a"].len(), 3, "a rule is asked once");
        assert!(!styles.stating.contains_key("marker"));
        assert_eq!([styles.referring.len(), styles.important.len(), styles.properties() as usize], [1, 1, 2]);
        let node = |name: &str| document.descendants().find(|node| node.has_tag_name(name)).expect("is there");
        assert_eq!([styles.stated(node("q"), "x"), styles.stated(node("r"), "x")], [Some("2"), None]);
        assert_eq!([styles.sets(node("q"), &["y", "x"]), styles.sets(node("r"), &["x"])], [Some("x"), None]);
        assert_eq!([styles.of(node("q")).len(), styles.of(node("r")).len()], [0, 1]);
        // A rule as long as that counts by what it declares.
        assert!(styles.comparisons(2) > 900);
        let usual = format!("<svg><style>.a{{{}}}</style></svg>", "a:b;".repeat(15));
        let usual = Document::parse(&usual).expect("XML");
        assert_eq!(Styles::read(&usual).map(|styles| styles.comparisons(2)).ok(), Some(2));
    }
}
