//! Matter: the words, faces, inks and pictures of elements that both designs have, and the plates of the whole sheet.

use crate::compare::alike::ElementPair;
use crate::compare::change::{Changes, Topic, sides};
use crate::compare::hunks::{hunks, reported_together, stretch};
use crate::compare::text::list;
use crate::record::{CoverOutline, ReportedElement, ReportedFont, ReportedPicture, ReportedSpot, Tone};
use crate::scene::Kind;
use std::collections::BTreeMap;

/// Places reported of one text; the rest is counted.
const PLACES: usize = 6;
/// Inks reported of one element, and what stands between them.
const INKS: usize = 4;
const BESIDE: &str = " + ";

pub fn compare(old: &CoverOutline, new: &CoverOutline, pairs: &[ElementPair<'_>], changes: &mut Changes) {
    plates(old, new, changes);
    let mut tones: BTreeMap<(String, String), Vec<String>> = BTreeMap::new();
    for (pair, (was, now)) in pairs.iter().filter_map(|pair| Some((pair, (pair.old?, pair.new?)))) {
        let place = pair.place();
        words(&place, was, now, changes);
        let (before, after) = (faces(was), faces(now));
        if before != after {
            let says = format!("{before} → {after}");
            changes.push(Topic::Type, &place, sides(before, after), says);
        }
        let (before, after) = (inks(was), inks(now));
        if before != after {
            tones.entry((before, after)).or_default().push(place.clone());
        }
        pictures(&place, was, now, changes);
    }
    // A swatch that changed changes in many places and is reported once.
    for ((was, now), mut places) in tones {
        places.sort();
        let says = format!("{} → {}", few(&was), few(&now));
        changes.push(Topic::Ink, places.join(", "), sides(was, now), says);
    }
    for (pair, (was, now)) in pairs.iter().filter_map(|pair| Some((pair, (pair.old?, pair.new?)))) {
        drawing(&pair.place(), was, now, changes);
    }
}

fn words(place: &str, was: &ReportedElement, now: &ReportedElement, changes: &mut Changes) {
    let [old, new]: [Vec<&str>; 2] = [was, now].map(|element| element.words.split_whitespace().collect());
    let hunks = reported_together(hunks(&old, &new));
    for hunk in hunks.iter().take(PLACES) {
        let (before, after) = (stretch(&old, &hunk.old), stretch(&new, &hunk.new));
        let says = format!("{before} → {after}");
        changes.push(Topic::Words, place, sides(before, after), says);
    }
    if hunks.len() > PLACES {
        let says = format!("and {} more places", hunks.len() - PLACES);
        changes.push(Topic::Words, place, (None, None), says);
    }
}

fn faces(element: &ReportedElement) -> String {
    list(element.faces.iter().map(|ReportedFont { font, size }| format!("{font} {size} pt")))
}

fn inks(element: &ReportedElement) -> String {
    if element.inks.is_empty() {
        return "inks of its own".to_owned();
    }
    element.inks.iter().map(Tone::to_string).collect::<Vec<String>>().join(BESIDE)
}

/// The first of many inks: a drawing may have a hundred.
fn few(inks: &str) -> String {
    let all: Vec<&str> = inks.split(BESIDE).collect();
    if all.len() <= INKS {
        return inks.to_owned();
    }
    format!("{}{BESIDE}{} more", all[..INKS].join(BESIDE), all.len() - INKS)
}

fn pictures(place: &str, was: &ReportedElement, now: &ReportedElement, changes: &mut Changes) {
    let file = |print: &ReportedPicture| print.file.clone();
    let [before, after] = [was, now].map(|element| list(element.pictures.iter().map(file)));
    if before == after {
        for (old, new) in was.pictures.iter().zip(&now.pictures).filter(|(old, new)| old.sha256 != new.sha256) {
            let says = format!("{} is another file of the same name", new.file);
            changes.push(Topic::Picture, place, sides(&old.sha256, &new.sha256), says);
        }
    } else {
        let says = format!("{} → {}", named(&before), named(&after));
        changes.push(Topic::Picture, place, sides(&before, &after), says);
    }
    for (old, new) in was.pictures.iter().zip(&now.pictures) {
        let (before, after) = (old.ppi.round(), new.ppi.round());
        if (before - after).abs() >= 1.0 {
            let says = format!("prints at {after} pixels per inch, {before} before");
            changes.push(Topic::Picture, place, sides(format!("{before} ppi"), format!("{after} ppi")), says);
        }
    }
}

fn named(files: &str) -> &str {
    if files.is_empty() { "no picture" } else { files }
}

/// What none of the others tells of an element that kept its size.
fn drawing(place: &str, was: &ReportedElement, now: &ReportedElement, changes: &mut Changes) {
    let size = |element: &ReportedElement| [element.area.width, element.area.height];
    let same_size = size(was).iter().zip(size(now)).all(|(a, b)| (a - b).abs() < 0.005);
    let reported = changes.tells(place)
        || changes
            .0
            .iter()
            .any(|change| change.topic == Topic::Ink && change.place.split(", ").any(|one| one == place));
    if was.drawn == now.drawn || !same_size || reported {
        return;
    }
    let says = match now.kind {
        Kind::Text => "is set otherwise in the same frame: other line breaks, spacing or effects",
        Kind::Picture if now.pictures.is_empty() => "shows another drawing, or cuts or places it otherwise",
        Kind::Picture => "is cut or placed otherwise in the same frame",
        Kind::Shape | Kind::BarCode | Kind::QrCode => "is drawn otherwise in the same frame",
    };
    changes.push(Topic::Drawing, place, sides(&was.drawn, &now.drawn), says);
}

/// Plates of the press that come and go.
fn plates(old: &CoverOutline, new: &CoverOutline, changes: &mut Changes) {
    let names = |outline: &CoverOutline| -> Vec<String> {
        let spots = outline.inks.spots.iter().map(|plate| plate.name.clone());
        outline.inks.process.iter().cloned().chain(spots).collect()
    };
    let (was, now) = (names(old), names(new));
    for name in was.iter().filter(|name| !now.contains(name)) {
        changes.push(Topic::Ink, "sheet", (Some(name.clone()), None), format!("the plate {name} is gone"));
    }
    for name in now.iter().filter(|name| !was.contains(name)) {
        changes.push(Topic::Ink, "sheet", (None, Some(name.clone())), format!("the plate {name} is new"));
    }
    for plate in &new.inks.spots {
        let Some(before) = old.inks.spots.iter().find(|known| known.name == plate.name) else { continue };
        let (was, now) = (shown(before), shown(plate));
        if was != now {
            let says = format!("the plate {} is shown otherwise: {was} → {now}", plate.name);
            changes.push(Topic::Ink, "sheet", sides(was, now), says);
        }
    }
}

fn shown(plate: &ReportedSpot) -> String {
    let process = plate.look.map(|ink| (ink * 1000.0).round() / 10.0);
    let look = Tone::Process { process, overprint: false };
    if plate.finishing { format!("{look}, finishing") } else { look.to_string() }
}
