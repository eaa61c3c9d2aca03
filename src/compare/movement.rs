//! Movement: elements whose edges moved, by themselves or with their panel.

use crate::compare::alike::ElementPair;
use crate::compare::axis::{ElementEdges, LEAST, Moved, of_its_own, on_sheet, still};
use crate::compare::change::{Changes, Topic, sides};
use crate::compare::text::{decimal, list};
use crate::ground::listed;
use crate::record::{Area, CoverOutline, ReportedElement};
use std::collections::BTreeMap;

/// What each direction calls its movements.
struct DirectionWords {
    less: &'static str,
    more: &'static str,
    edges: [&'static str; 2],
    sizes: [&'static str; 2],
    side: fn(&Area) -> (f64, f64),
}

const DIRECTIONS: [DirectionWords; 2] = [
    DirectionWords {
        less: "to the left",
        more: "to the right",
        edges: ["left", "right"],
        sizes: ["narrower", "wider"],
        side: |area| (area.left, area.width),
    },
    DirectionWords {
        less: "up",
        more: "down",
        edges: ["upper", "lower"],
        sizes: ["shorter", "taller"],
        side: |area| (area.top, area.height),
    },
];

pub fn compare(old: &CoverOutline, new: &CoverOutline, pairs: &[ElementPair<'_>], changes: &mut Changes) {
    // What a panel takes along, by panel, direction and distance; and how many elements the panel has.
    let mut taken: BTreeMap<(String, usize, [i64; 2]), Vec<String>> = BTreeMap::new();
    let mut on_panel: BTreeMap<String, usize> = BTreeMap::new();
    for (pair, (was, now)) in pairs.iter().filter_map(|pair| Some((pair, (pair.old?, pair.new?)))) {
        *on_panel.entry(now.panel.clone()).or_default() += 1;
        let mut stated = Vec::new();
        for (at, words) in DIRECTIONS.iter().enumerate() {
            let (before, after) = axes(old, new, was, now, words);
            let (own, whole) = (of_its_own(&before, &after), on_sheet(&before, &after));
            if !still(own) {
                stated.push(moves(own, words));
            } else if !still(whole) {
                let key = (now.panel.clone(), at, whole.map(|by| (by * 100.0).round() as i64));
                taken.entry(key).or_default().push(now.name.clone());
            }
        }
        if !stated.is_empty() {
            let both = sides(shown(was, old), shown(now, new));
            let says = format!("{}; now {}", stated.join("; "), shown(now, new));
            changes.push(Topic::Place, pair.place(), both, says);
        }
    }
    for ((panel, at, by), mut names) in taken {
        names.sort();
        let cause = if at == 0 && spine_alone(old, new) { "with the spine" } else { "with the sheet" };
        let words = &DIRECTIONS[at];
        let all = names.len() == on_panel.get(&panel).copied().unwrap_or_default();
        let subject = if all { "everything".to_owned() } else { some(&names) };
        let one = all || names.len() == 1;
        let moved = by.map(|by| by as f64 / 100.0);
        let says = format!("{subject} {} {cause}", carried(moved, words, one));
        changes.push(Topic::Place, panel, (None, None), says);
    }
}

/// Whether the spine is the one panel whose width changed.
fn spine_alone(old: &CoverOutline, new: &CoverOutline) -> bool {
    let widths = |outline: &CoverOutline| -> Vec<(String, i64)> {
        let panels = outline.sheet.iter().flat_map(|sheet| &sheet.panels);
        panels.map(|panel| (panel.name.clone(), (panel.area.width / LEAST).round() as i64)).collect()
    };
    let (was, now) = (widths(old), widths(new));
    was.len() == now.len() && was.iter().zip(&now).all(|(one, other)| (one == other) != (one.0 == "spine"))
}

/// Names, the first few of many.
fn some(names: &[String]) -> String {
    const FEW: usize = 3;
    if names.len() <= FEW + 1 {
        return list(names.iter().cloned());
    }
    listed(names, FEW)
}

/// An element's edges and the lines that hold it: the edges and the middle of its panel, on the wrap those of all panels;
/// and the edges of the bleed.
fn axes(
    old: &CoverOutline,
    new: &CoverOutline,
    was: &ReportedElement,
    now: &ReportedElement,
    words: &DirectionWords,
) -> (ElementEdges, ElementEdges) {
    let mut lines: (Vec<f64>, Vec<f64>) = Default::default();
    let mut add = |was: &Area, now: &Area| {
        for (area, list) in [(was, &mut lines.0), (now, &mut lines.1)] {
            let (low, size) = (words.side)(area);
            list.extend([low, low + size / 2.0, low + size]);
        }
    };
    if let (Some(before), Some(after)) = (&old.sheet, &new.sheet) {
        let mut own = false;
        for panel in &before.panels {
            let same = after.panels.iter().find(|other| other.name == panel.name);
            if let Some(same) = same.filter(|_| panel.name == now.panel) {
                add(&panel.area, &same.area);
                own = true;
            }
        }
        if !own {
            add(&before.trim, &after.trim);
            for panel in &before.panels {
                if let Some(same) = after.panels.iter().find(|other| other.name == panel.name) {
                    add(&panel.area, &same.area);
                }
            }
        }
        add(&before.bleed, &after.bleed);
    }
    let axis = |element: &ReportedElement, lines| {
        let (low, size) = (words.side)(&element.area);
        ElementEdges { low, high: low + size, lines }
    };
    (axis(was, lines.0), axis(now, lines.1))
}

/// `moves 2.00 mm to the right`, `its right edge moves 3.00 mm to the right, 3.00 mm wider`.
fn moves([low, high]: Moved, words: &DirectionWords) -> String {
    let direction = |by: f64| format!("{} mm {}", decimal(by.abs()), if by > 0.0 { words.more } else { words.less });
    let grown = high - low;
    if grown.abs() < LEAST {
        return format!("moves {}", direction(low));
    }
    let edges = [low, high].into_iter().zip(words.edges).filter(|(by, _)| by.abs() >= LEAST);
    let edges: Vec<String> = edges.map(|(by, name)| format!("its {name} edge moves {}", direction(by))).collect();
    let size = words.sizes[usize::from(grown > 0.0)];
    format!("{}, {} mm {size}", edges.join(", "), decimal(grown.abs()))
}

/// The same of what a panel takes along.
fn carried([low, high]: Moved, words: &DirectionWords, one: bool) -> String {
    let way = |by: f64| if by > 0.0 { words.more } else { words.less };
    let verb = |singular: &str, plural: &str| if one { singular.to_owned() } else { plural.to_owned() };
    if (high - low).abs() < LEAST {
        return format!("{} {} mm {}", verb("moves", "move"), decimal(low.abs()), way(low));
    }
    let grown = decimal((high - low).abs());
    let size = words.sizes[usize::from(high > low)];
    format!("{} {grown} mm {size}", verb("becomes", "become"))
}

/// `12.00 from the left and 30.00 from the top of the front, 80.00 × 20.00 mm`.
fn shown(element: &ReportedElement, outline: &CoverOutline) -> String {
    let panels = outline.sheet.iter().flat_map(|sheet| &sheet.panels);
    let panel = panels.into_iter().find(|panel| panel.name == element.panel);
    let (left, top) = panel.map_or((0.0, 0.0), |panel| (panel.area.left, panel.area.top));
    let Area { left: x, top: y, width, height } = element.area;
    format!(
        "{} from the left and {} from the top of the {}, {} × {} mm",
        decimal(x - left),
        decimal(y - top),
        panel.map_or("wrap", |panel| &panel.name),
        decimal(width),
        decimal(height)
    )
}
