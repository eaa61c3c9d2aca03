//! Plates: which of them have to be made again.

use crate::compare::change::{Changes, Topic, sides};
use crate::compare::text::list;
use crate::record::ReportedPlate;

/// Nothing is said where one of the two reports says nothing of its plates, or where nothing that is drawn differs. Where
/// something does and no plate, that is the news.
pub fn compare(old: &[ReportedPlate], new: &[ReportedPlate], changes: &mut Changes) {
    if old.is_empty() || new.is_empty() {
        return;
    }
    let known = |plate: &ReportedPlate| old.iter().find(|other| other.name == plate.name);
    let differing: Vec<&ReportedPlate> =
        new.iter().filter(|plate| known(plate).is_none_or(|other| other.sha256 != plate.sha256)).collect();
    let gone: Vec<String> = old
        .iter()
        .map(|plate| &plate.name)
        .filter(|name| new.iter().all(|other| other.name != **name))
        .cloned()
        .collect();
    let made_anyway = |name: &str| differing.iter().any(|plate| plate.name == name);
    let [was, now] = [old, new].map(job_line);
    // Where it moves from one plate to another, both differ.
    let mut beside: Vec<&str> = match (was, now) {
        (Some(was), Some(now)) if was != now => vec![now.0, was.0],
        _ => Vec::new(),
    };
    beside.dedup();
    beside.retain(|name| !made_anyway(name) && new.iter().any(|plate| plate.name == *name));
    let carriers = list(beside.iter().map(|name| (*name).to_owned()));
    if differing.is_empty() && gone.is_empty() {
        if let (false, Some(was), Some(now)) = (beside.is_empty(), was, now) {
            let says = format!("none differs within the bleed; beside it, the job line does, on {carriers}");
            changes.push(Topic::Plates, "sheet", sides(was.1, now.1), says);
        } else if changes.0.iter().any(|change| !matches!(change.topic, Topic::Sheet | Topic::Finding)) {
            changes.push(Topic::Plates, "sheet", (None, None), "no plate has to be made again");
        }
        return;
    }
    let names = list(differing.iter().map(|plate| plate.name.clone()));
    let says = match (differing.len(), new.len()) {
        (0, _) => "none has to be made again".to_owned(),
        (1, 1) => format!("{names} differs, the only plate"),
        (1, all) => format!("only {names} differs: one plate of {all}"),
        (some, all) if some == all => format!("all {all} plates differ"),
        (some, all) => format!("{names} differ: {some} plates of {all}"),
    };
    let is = if gone.len() == 1 { "is" } else { "are" };
    let says =
        if gone.is_empty() { says } else { format!("{says}; {} {is} no longer printed", list(gone.into_iter())) };
    let says =
        if beside.is_empty() { says } else { format!("{says}; beside the sheet, the job line differs on {carriers}") };
    let inks = |plates: &[ReportedPlate]| list(plates.iter().map(|plate| format!("{} {} cm²", plate.name, plate.cm2)));
    changes.push(Topic::Plates, "sheet", sides(inks(old), inks(new)), says);
}

/// The plate that carries the job line, and what it says. Older reports do not say.
fn job_line(plates: &[ReportedPlate]) -> Option<(&str, &str)> {
    plates.iter().find_map(|plate| Some((&*plate.name, plate.job_line.as_deref()?)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plates(all: &[(&str, &str)], line: &str) -> Vec<ReportedPlate> {
        let plate = |(name, sha256): &(&str, &str)| ReportedPlate {
            name: (*name).to_owned(),
            percent: 1.0,
            cm2: 2.0,
            sha256: (*sha256).to_owned(),
            job_line: (*name == "Black").then(|| line.to_owned()),
        };
        all.iter().map(plate).collect()
    }

    fn said(old: &[(&str, &str)], new: &[(&str, &str)]) -> Vec<String> {
        retitled((old, "Salt"), (new, "Salt"))
    }

    /// Plates, and what their job line says.
    fn retitled(old: (&[(&str, &str)], &str), new: (&[(&str, &str)], &str)) -> Vec<String> {
        let mut changes = Changes::default();
        compare(&plates(old.0, old.1), &plates(new.0, new.1), &mut changes);
        changes.0.into_iter().map(|change| change.says).collect()
    }

    #[test]
    fn plates_are_counted_as_a_press_orders_them() {
        let was = [("Cyan", "a"), ("Black", "b"), ("Gold", "c")];
        assert_eq!(said(&was, &was), [""; 0]);
        let black = [("Cyan", "a"), ("Black", "x"), ("Gold", "c")];
        assert_eq!(said(&was, &black), ["only Black differs: one plate of 3"]);
        let two = [("Cyan", "a"), ("Black", "x"), ("Gold", "y")];
        assert_eq!(said(&was, &two), ["Black and Gold differ: 2 plates of 3"]);
        assert_eq!(said(&was, &[("Cyan", "z"), ("Black", "x"), ("Gold", "y")]), ["all 3 plates differ"]);
        assert_eq!(said(&was, &was[..2]), ["none has to be made again; Gold is no longer printed"]);
        assert_eq!(said(&[], &was), [""; 0], "an older report does not say");
    }

    /// It stands on one plate; where that is made again anyway, nothing more is said of it.
    #[test]
    fn a_job_line_that_differs_is_told_where_its_plate_does_not() {
        let was = [("Cyan", "a"), ("Black", "b"), ("Blue", "c")];
        let black = [("Cyan", "a"), ("Black", "x"), ("Blue", "c")];
        assert_eq!(retitled((&was, "Salt"), (&black, "Sel")), ["only Black differs: one plate of 3"]);
        let blue = [("Cyan", "a"), ("Black", "b"), ("Blue", "y")];
        let says = "only Blue differs: one plate of 3; beside the sheet, the job line differs on Black";
        assert_eq!(retitled((&was, "Salt"), (&blue, "Sel")), [says]);
        let says = "none differs within the bleed; beside it, the job line does, on Black";
        assert_eq!(retitled((&was, "Salt"), (&was, "Salt, version 2")), [says]);
        let mut moved = plates(&was, "Salt");
        moved[2].job_line = moved[1].job_line.take();
        let mut changes = Changes::default();
        compare(&plates(&was, "Salt"), &moved, &mut changes);
        let says = "none differs within the bleed; beside it, the job line does, on Blue and Black";
        assert_eq!(changes.0[0].says, says, "it was on Black and is on Blue");
    }

    #[test]
    fn what_changes_no_plate_is_told_as_such() {
        let same = plates(&[("Gold", "a")], "Salt");
        let mut changes = Changes::default();
        changes.push(Topic::Ink, "sheet", (None, None), "the plate Gold is shown otherwise");
        compare(&same, &same, &mut changes);
        assert_eq!(changes.0.last().expect("told").says, "no plate has to be made again");
    }
}
