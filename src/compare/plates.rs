//! Plates: which of them have to be made again.

use crate::compare::change::{Changes, Topic, sides};
use crate::compare::text::list;
use crate::record::ReportedPlate;

/// Nothing is said where one of the two reports says nothing of its plates, or where they are all the same.
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
    if differing.is_empty() && gone.is_empty() {
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
    let inks = |plates: &[ReportedPlate]| list(plates.iter().map(|plate| format!("{} {} cm²", plate.name, plate.cm2)));
    changes.push(Topic::Plates, "sheet", sides(inks(old), inks(new)), says);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(old: &[(&str, &str)], new: &[(&str, &str)]) -> Vec<String> {
        let plates = |all: &[(&str, &str)]| -> Vec<ReportedPlate> {
            let plate = |(name, sha256): &(&str, &str)| ReportedPlate {
                name: (*name).to_owned(),
                percent: 1.0,
                cm2: 2.0,
                sha256: (*sha256).to_owned(),
            };
            all.iter().map(plate).collect()
        };
        let mut changes = Changes::default();
        compare(&plates(old), &plates(new), &mut changes);
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
}
