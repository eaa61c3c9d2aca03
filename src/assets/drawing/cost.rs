//! Cost: how many elements a drawing stands for once styles are applied and references are followed. Few may stand for
//! very many: `use` of groups of `use`, clips of clipped shapes, a marker at every corner.

use crate::assets::PictureFault;
use crate::assets::drawing::bounds::{self, refused};
use crate::assets::drawing::style::Styles;
use crate::assets::drawing::taken::TakenLetters;
use crate::assets::drawing::{letters, sweep};
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node};

/// Properties that shapes take from the elements around them, and that may refer to an element.
const HANDED_DOWN: [&str; 5] = ["fill", "stroke", "marker-start", "marker-mid", "marker-end"];
const MARKERS: std::ops::Range<usize> = 2..5;

/// What an element stands for, it and all in it.
#[derive(Clone, Copy, Default)]
struct Cost {
    elements: u64,
    /// Attributes that inheritance looks through.
    inherited: u64,
    /// Elements in elements, references followed.
    depth: usize,
    /// How often it would take each property from above.
    taken: [u64; HANDED_DOWN.len()],
}

/// Refuses a drawing that is expensive to read.
pub fn bounded(document: &Document<'_>, styles: &Styles<'_>) -> Result<(), PictureFault> {
    let mut named: BTreeMap<&str, Vec<Node<'_, '_>>> = BTreeMap::new();
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            named.entry(id).or_default().push(node);
        }
    }
    let elements = || document.descendants().filter(Node::is_element);
    // What follows looks at the same elements once for each text around them.
    let held = |extras: &BTreeMap<usize, u64>| elements().map(|node| pieces(node, extras)).sum::<u64>();
    few(held(&BTreeMap::new()), "")?;
    let deepest = elements().map(|node| node.ancestors().take(bounds::DEPTH + 2).count()).max().unwrap_or(0);
    if deepest > bounds::DEPTH {
        return Err(refused(format!("the SVG nests elements more than {} deep", bounds::DEPTH)));
    }
    let taken = TakenLetters::of(document);
    let mut extras = sweep::extras(document, styles, &taken);
    let why = if extras.is_empty() { "" } else { " (curves that reach very far count as several)" };
    letters::bounded(document, &taken, &mut extras)?;
    let held = held(&extras);
    few(held, why)?;
    compared(styles, deepest, held)?;
    let servers = elements().filter(|node| matches!(node.tag_name().name(), "linearGradient" | "radialGradient"));
    let dearest = servers.map(|node| node.children().count() as u64).max().unwrap_or(0);
    let has_patterns = elements().any(|node| node.has_tag_name("pattern"));
    let context = if has_patterns { held } else { dearest };
    let properties = styles.properties();
    let (known, closed) = (BTreeMap::new(), BTreeMap::new());
    let mut count = Counting { styles, named, extras, context, properties, known, closed };
    let Some(cost) = count.of(document.root_element(), 0) else {
        let message = format!("the SVG follows references more than {} deep", bounds::DEPTH);
        return Err(refused(format!("{message}, or has an element that refers to itself")));
    };
    if cost.elements.saturating_sub(held) > bounds::REFERRED {
        let message = format!("references in the SVG stand for more than {} elements", bounds::REFERRED);
        return Err(refused(message));
    }
    if cost.inherited > bounds::INHERITED {
        return Err(refused("too many elements of the SVG lie in elements with too many attributes"));
    }
    compared(styles, cost.depth, cost.elements)
}

fn few(held: u64, why: &str) -> Result<(), PictureFault> {
    if held > bounds::ELEMENTS {
        return Err(refused(format!("the SVG holds {held} elements{why}; the limit is {}", bounds::ELEMENTS)));
    }
    Ok(())
}

fn compared(styles: &Styles<'_>, depth: usize, elements: u64) -> Result<(), PictureFault> {
    if styles.comparisons(depth).saturating_mul(elements) > bounds::COMPARED {
        return Err(refused("the style sheets of the SVG have too many rules for so many elements"));
    }
    Ok(())
}

/// An element, and more for attributes that are long and curves that reach far. What it refers to by `href` is not compared.
fn pieces(node: Node<'_, '_>, extras: &BTreeMap<usize, u64>) -> u64 {
    const LONG: usize = 64;
    const DECODED: usize = 1000;
    let read = node.attributes().filter(|attribute| attribute.name() != "href");
    // A picture in the file is decoded wherever it is used.
    let held =
        node.attributes().filter(|attribute| attribute.name() == "href" && attribute.value().starts_with("data:"));
    let held: u64 = held.map(|attribute| (attribute.value().len() / DECODED) as u64).sum();
    let long: u64 = read.map(|attribute| (attribute.value().len() / LONG) as u64).sum();
    1 + long + held + extras.get(&node.id().get_usize()).copied().unwrap_or_default()
}

struct Counting<'a, 'input> {
    styles: &'a Styles<'a>,
    named: BTreeMap<&'a str, Vec<Node<'a, 'input>>>,
    /// What far-reaching curves count for, by element.
    extras: BTreeMap<usize, u64>,
    /// What `context-fill` may stand for.
    context: u64,
    /// What style sheets may add to an element.
    properties: u64,
    known: BTreeMap<usize, Cost>,
    closed: BTreeMap<usize, Cost>,
}

impl<'a, 'input> Counting<'a, 'input> {
    /// `None` beyond counting.
    fn of(&mut self, node: Node<'a, 'input>, deep: usize) -> Option<Cost> {
        if let Some(cost) = self.known.get(&node.id().get_usize()) {
            return Some(*cost);
        }
        if deep > bounds::DEPTH {
            return None;
        }
        let mut cost = Cost { elements: pieces(node, &self.extras), taken: shape(node), ..Cost::default() };
        for child in node.children().filter(Node::is_element) {
            cost = cost.with(self.of(child, deep + 1)?);
        }
        let href = node.attributes().filter(|attribute| attribute.name() == "href");
        for name in href.filter_map(|attribute| attribute.value().trim().strip_prefix('#')) {
            match node.tag_name().name() {
                "a" => {}
                // It takes from the elements around the place where it is used.
                "use" => {
                    let targets = self.named.get(name).cloned().unwrap_or_default();
                    for target in targets {
                        cost = cost.with(self.of(target, deep + 1)?);
                    }
                }
                _ => cost = cost.with(self.definition(name, node, deep)?),
            }
        }
        let mut cost = self.settled(cost, node, node, deep)?;
        let attributes = node.attributes().count() as u64 + self.properties;
        cost.inherited = cost.inherited.saturating_add(cost.elements.saturating_mul(attributes));
        cost.depth += 1;
        if cost.depth > bounds::DEPTH {
            return None;
        }
        self.known.insert(node.id().get_usize(), cost);
        Some(cost)
    }

    /// With all that an element says of itself and of what is in it. `inside` is the definition that is asked for, or the
    /// element itself.
    fn settled(
        &mut self,
        mut cost: Cost,
        node: Node<'a, 'input>,
        inside: Node<'a, 'input>,
        deep: usize,
    ) -> Option<Cost> {
        let attributes = node.attributes().map(|attribute| (attribute.name(), attribute.value()));
        let styled = self.styles.of(node).into_iter().map(|stated| (stated.name, stated.value));
        let all: Vec<(&str, &str)> =
            attributes.chain(styled).filter(|(_, value)| value.contains('(') || value.contains("context-")).collect();
        let handed = |name: &str| HANDED_DOWN.iter().position(|known| *known == name);
        for (at, name) in HANDED_DOWN.into_iter().enumerate() {
            let shorthand = if MARKERS.contains(&at) { "marker" } else { name };
            // Which of them holds is not asked: the dearest counts, and none ends what comes from above.
            let mut dearest = Cost::default();
            for (_, value) in all.iter().filter(|(stated, _)| *stated == name || *stated == shorthand) {
                let context = if value.contains("context-") { self.context } else { 0 };
                let one = self.referred(value, inside, deep)?;
                dearest = dearest.or(Cost { elements: one.elements.saturating_add(context), ..one });
            }
            cost = cost.with(dearest.times(cost.taken[at]));
        }
        // A definition asked for by itself is not clipped or veiled by what lies around it.
        if node == inside {
            for (_, value) in all.iter().filter(|(stated, _)| handed(stated).is_none() && *stated != "marker") {
                let one = self.referred(value, inside, deep)?;
                cost = cost.with(one);
            }
        }
        Some(cost)
    }

    /// What a value refers to, all of it.
    fn referred(&mut self, value: &str, inside: Node<'a, 'input>, deep: usize) -> Option<Cost> {
        let mut cost = Cost::default();
        for part in value.split("url(").skip(1) {
            let name = part.split(')').next().unwrap_or_default();
            let name = name.trim_matches(|letter: char| letter.is_whitespace() || matches!(letter, '"' | '\''));
            if let Some(name) = name.strip_prefix('#') {
                cost = cost.with(self.definition(name, inside, deep)?);
            }
        }
        Some(cost)
    }

    /// What a definition stands for: what it takes from above it takes from where it stands.
    fn definition(&mut self, name: &str, inside: Node<'a, 'input>, deep: usize) -> Option<Cost> {
        let mut dearest = Cost::default();
        for target in self.named.get(name).cloned().unwrap_or_default() {
            // A marker is not drawn on its own lines: a style of all lines may well name it.
            let marker = inside.ancestors().find(|above| above.tag_name().name() == "marker");
            if marker == Some(target) {
                continue;
            }
            let cost = if let Some(cost) = self.closed.get(&target.id().get_usize()) {
                *cost
            } else {
                let mut cost = self.of(target, deep + 1)?;
                for above in target.ancestors().skip(1).filter(Node::is_element) {
                    cost = self.settled(cost, above, target, deep + 1)?;
                }
                cost.taken = Default::default();
                self.closed.insert(target.id().get_usize(), cost);
                cost
            };
            dearest = dearest.or(cost);
        }
        Some(dearest)
    }
}

impl Cost {
    /// One within or beside another.
    fn with(self, other: Cost) -> Cost {
        let mut taken = self.taken;
        taken.iter_mut().zip(other.taken).for_each(|(sum, more)| *sum = sum.saturating_add(more));
        Cost {
            elements: self.elements.saturating_add(other.elements),
            inherited: self.inherited.saturating_add(other.inherited),
            depth: self.depth.max(other.depth),
            taken,
        }
    }

    /// One or the other, whichever is dearer.
    fn or(self, other: Cost) -> Cost {
        Cost {
            elements: self.elements.max(other.elements),
            inherited: self.inherited.max(other.inherited),
            depth: self.depth.max(other.depth),
            taken: self.taken,
        }
    }

    fn times(self, times: u64) -> Cost {
        Cost {
            elements: self.elements.saturating_mul(times),
            inherited: self.inherited.saturating_mul(times),
            depth: if times == 0 { 0 } else { self.depth },
            taken: self.taken,
        }
    }
}

/// How often a shape takes each property that is handed down: markers stand at its corners.
fn shape(node: Node<'_, '_>) -> [u64; HANDED_DOWN.len()] {
    let corners = match node.tag_name().name() {
        "rect" | "circle" | "ellipse" | "line" => 32,
        "path" | "polyline" | "polygon" => {
            let length = |name: &str| node.attribute(name).map_or(0, str::len) as u64;
            // Every other letter may be a corner; an arc has many, but takes ten letters.
            length("d").max(length("points"))
        }
        // It hands its own paint to what it uses.
        "use" => return [1, 1, 0, 0, 0],
        _ => return [0; HANDED_DOWN.len()],
    };
    [1, 1, 1, corners, 1]
}
