//! The sheet: pages, spine, panels, bleed, folds, printing condition; the numbers that `measure` tells.

use crate::compare::change::{Changes, Topic, sides};
use crate::compare::text::{decimal, list};
use crate::record::{CoverOutline, ReportedMeasure};

pub fn compare(old: &CoverOutline, new: &CoverOutline, changes: &mut Changes) {
    match (&old.sheet, &new.sheet) {
        (None, Some(_)) => changes.push(Topic::Sheet, "sheet", (None, Some("drawn".to_owned())), "can be drawn now"),
        (Some(_), None) => {
            changes.push(Topic::Sheet, "sheet", (Some("drawn".to_owned()), None), "cannot be drawn any more");
        }
        _ => {}
    }
    if old.sheet.is_none() || new.sheet.is_none() {
        return;
    }
    let panels = [old, new].map(|outline| {
        let panels = outline.sheet.iter().flat_map(|sheet| &sheet.panels);
        list(panels.map(|panel| panel.name.clone()))
    });
    if panels[0] != panels[1] {
        let says = format!("{} → {}", panels[0], panels[1]);
        changes.push(Topic::Sheet, "panels", sides(&panels[0], &panels[1]), says);
    }
    let (was, now) = (reported(old), reported(new));
    // Told on one side alone it may be known on the other: there it is the spine itself.
    let all = [old, new].map(|outline| outline.measures.iter().collect::<Vec<_>>());
    for amount in &now {
        amounts(find(&all[0], &amount.name), Some(amount), changes);
    }
    for amount in was.iter().filter(|amount| find(&now, &amount.name).is_none()) {
        amounts(Some(amount), find(&all[1], &amount.name), changes);
    }
    folds(old, new, changes);
    if old.press != new.press {
        let says = format!("{} → {}", old.press, new.press);
        changes.push(Topic::Sheet, "printing condition", sides(&old.press, &new.press), says);
    }
}

fn reported(outline: &CoverOutline) -> Vec<&ReportedMeasure> {
    outline.measures.iter().filter(|measure| !stated_elsewhere(&measure.name, outline)).collect()
}

fn find<'a>(list: &[&'a ReportedMeasure], name: &str) -> Option<&'a ReportedMeasure> {
    list.iter().copied().find(|known| known.name == name)
}

/// Folds follow the panels; a computed spine is the spine unless the printer states another.
fn stated_elsewhere(name: &str, outline: &CoverOutline) -> bool {
    let value = |name: &str| outline.measures.iter().find(|known| known.name == name).map(|known| known.value);
    name.starts_with("fold ")
        || name.starts_with("score ")
        || (name == "spine computed" && value(name) == value("spine"))
        || name == "spine width"
}

fn amounts(old: Option<&ReportedMeasure>, new: Option<&ReportedMeasure>, changes: &mut Changes) {
    let shown = |amount: &ReportedMeasure| match amount.unit.as_str() {
        "mm" => format!("{} mm", decimal(amount.value)),
        "°" => format!("{}°", amount.value),
        unit => format!("{} {unit}", amount.value),
    };
    let both = (old.map(shown), new.map(shown));
    let Some(name) = new.or(old).map(|amount| amount.name.clone()) else { return };
    if both.0 == both.1 {
        return;
    }
    let says = match (old, new) {
        (Some(old), Some(new)) => {
            let by = new.value - old.value;
            let by = match new.unit.as_str() {
                "mm" => format!(", {} mm {}", decimal(by.abs()), if by > 0.0 { "more" } else { "less" }),
                "pages" => format!(", {} {}", by.abs(), if by > 0.0 { "more" } else { "fewer" }),
                _ => String::new(),
            };
            format!("{} → {}{by}", shown(old), shown(new))
        }
        (Some(old), None) => format!("{} before, none now", shown(old)),
        (None, Some(new)) => format!("none before, {} now", shown(new)),
        (None, None) => return,
    };
    changes.push(Topic::Sheet, name, both, says);
}

/// Folds that stand on no panel's edge: relief scores.
fn folds(old: &CoverOutline, new: &CoverOutline, changes: &mut Changes) {
    let scores = |outline: &CoverOutline| -> Vec<String> {
        let Some(sheet) = &outline.sheet else { return Vec::new() };
        let spine = sheet.panels.iter().find(|panel| panel.name == "spine");
        let Some(spine) = spine.map(|panel| panel.area) else { return Vec::new() };
        let on_edge = |x: f64| sheet.panels.iter().any(|panel| (panel.area.left - x).abs() < CRUMB);
        let loose = sheet.folds.iter().filter(|fold| !on_edge(**fold));
        loose.map(|fold| decimal((spine.left - fold).max(fold - spine.right()))).collect()
    };
    let shown = |scores: Vec<String>| match scores.first() {
        Some(away) => format!("{} scores {away} mm from the spine", scores.len()),
        None => "no scores".to_owned(),
    };
    let (was, now) = (shown(scores(old)), shown(scores(new)));
    if was != now {
        let says = format!("{was} → {now}");
        changes.push(Topic::Sheet, "scores", sides(was, now), says);
    }
}

/// Millimetres that come of rounding.
const CRUMB: f64 = 0.003;
