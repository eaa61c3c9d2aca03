//! Elements that appear, that vanish, and that come to lie above or under others.

use crate::compare::alike::ElementPair;
use crate::compare::change::{Changes, Topic, sides};
use crate::compare::hunks::quoted;
use crate::record::ReportedElement;
use crate::scene::Kind;

pub fn compare(pairs: &[ElementPair<'_>], changes: &mut Changes) {
    for pair in pairs {
        let (was, now) = (pair.old.map(about), pair.new.map(about));
        let says = match (&was, &now) {
            (None, Some(now)) => format!("is new: {now}"),
            (Some(was), None) => format!("is gone: {was}"),
            _ => continue,
        };
        changes.push(Topic::Element, pair.place(), (was, now), says);
    }
    order(pairs, changes);
}

/// `text, “Salt and Lanterns”`.
fn about(element: &ReportedElement) -> String {
    let kind = match element.kind {
        Kind::Text => "text",
        Kind::Shape => "shape",
        Kind::Picture => "picture",
        Kind::BarCode => "bar code",
        Kind::QrCode => "QR code",
    };
    match (&element.pictures[..], element.words.as_str()) {
        ([print, ..], _) => format!("{kind}, {}", print.file),
        (_, "") => kind.to_owned(),
        (_, words) => format!("{kind}, {}", quoted(words)),
    }
}

/// From the first element that lies otherwise to the last, of those that both designs have.
fn order(pairs: &[ElementPair<'_>], changes: &mut Changes) {
    let common: Vec<&ElementPair<'_>> = pairs.iter().filter(|pair| pair.old.is_some() && pair.new.is_some()).collect();
    let mut before = common.clone();
    before.sort_by_key(|pair| pair.rank);
    let differs: Vec<bool> = before.iter().zip(&common).map(|(one, other)| one.rank != other.rank).collect();
    let ends = (differs.iter().position(|differs| *differs), differs.iter().rposition(|differs| *differs));
    let (Some(first), Some(last)) = ends else { return };
    let names =
        |pairs: &[&ElementPair<'_>]| pairs[first..=last].iter().map(|pair| pair.place()).collect::<Vec<_>>().join(", ");
    let (was, now) = (names(&before), names(&common));
    let says = format!("is printed in another order, bottom to top: {was} → {now}");
    changes.push(Topic::Element, "sheet", sides(was, now), says);
}
