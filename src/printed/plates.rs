//! Plates: what is painted in which colour, and the pictures by their samples, on a page that was sent and on the one that
//! came back. It stands for a comparison of rendered plates: no page is rendered.

use crate::ground::{Rect, Severity, number};
use crate::printed::difference::Tell;
use crate::printed::page::PrintedPage;
use crate::printed::painted::{PaintedArea, PrintedPicture};

/// Areas that differ by this share, and by so many square millimetres, are other ones.
const SHARE: f64 = 0.02;
const LEAST: f64 = 5.0;
/// Millimetres that something may move.
const STILL: f64 = 0.5;
/// Means of a picture that differ by less are those of a file that was saved again.
const SAME_MEAN: f64 = 0.01;
/// Colours that are reported, one by one.
const MOST_REPORTED: usize = 20;

pub fn plates(ours: &PrintedPage, returned: &PrintedPage, tell: &mut Tell<'_>) {
    colours(ours, returned, tell);
    pictures(ours, returned, tell);
}

fn colours(ours: &PrintedPage, returned: &PrintedPage, tell: &mut Tell<'_>) {
    let shift = shift(ours, returned);
    let gone = ours.colours.iter().filter(|(name, _)| !returned.colours.contains_key(*name));
    let mut new: Vec<(&String, &PaintedArea)> =
        returned.colours.iter().filter(|(name, _)| !ours.colours.contains_key(*name)).collect();
    let mut all: Vec<(Severity, String)> = Vec::new();
    for (name, area) in gone {
        let turned = new.iter().position(|(_, other)| same_place(area, other, shift));
        match turned.map(|at| new.remove(at).0) {
            Some(other) => all.push((Severity::Error, format!("what ours paints in {name} is painted in {other}"))),
            None => {
                all.push((Severity::Error, format!("{name} is gone; ours paints {} in it", much(area))));
            }
        }
    }
    for (name, area) in new {
        all.push((Severity::Error, format!("{} painted in {name}, which is not in ours", much(area))));
    }
    for (name, area) in &ours.colours {
        let Some(other) = returned.colours.get(name) else { continue };
        if area.words > 0 && other.words == 0 && returned.texts > 0 {
            all.push((Severity::Error, format!("the words in {name} are gone")));
        }
        if other_area(area.area, other.area) {
            let message = format!("{} painted in {name}; ours has {}", much(other), much(area));
            all.push((Severity::Warning, message));
        } else if let (Some(own), Some(place)) = (area.bounds, other.bounds)
            && moved(own, place, shift)
        {
            all.push((Severity::Warning, format!("what is painted in {name} lies elsewhere on the trim")));
        }
    }
    all.extend(overprint(ours, returned));
    let more = all.len().saturating_sub(MOST_REPORTED);
    all.into_iter().take(MOST_REPORTED).for_each(|(severity, message)| tell(severity, "inks", message));
    if more > 0 {
        tell(Severity::Note, "inks", format!("{more} more colours differ"));
    }
}

/// Colours that lost their overprint, or got one, while others kept theirs; whether all is lost is reported elsewhere.
fn overprint(ours: &PrintedPage, returned: &PrintedPage) -> Vec<(Severity, String)> {
    let mut all = Vec::new();
    if (ours.overprinted == 0) == (returned.overprinted == 0) {
        let both = ours.colours.iter().filter_map(|(name, own)| Some((name, own, returned.colours.get(name)?)));
        for (name, own, other) in both {
            let words = format!("the words in {name}");
            // Shares, because programs break words into other runs; where some knock out in ours too, that alone may change them.
            let (before, now) = (own.words_over * other.words, other.words_over * own.words);
            if own.words_over > 0 && other.words_over == 0 && other.words > 0 {
                all.push((Severity::Error, format!("{words} no longer overprint")));
            } else if own.words_over > 0 && now < before {
                let (over, all_words) = (other.words_over, other.words);
                let [own_over, own_words] = [own.words_over, own.words];
                let message = format!(
                    "{over} of {all_words} runs of words in {name} overprint; in ours {own_over} of {own_words}"
                );
                let is_lost = own.words_over == own.words || own.words == other.words;
                all.push((if is_lost { Severity::Error } else { Severity::Warning }, message));
            } else if own.words_over == 0 && own.words > 0 && other.words_over > 0 {
                all.push((Severity::Warning, format!("{words} overprint; in ours they knock out")));
            }
            // As much of it knocks out as before: another size is reported as such.
            let same = !other_area(own.area, other.area) && other_area(own.area_over, other.area_over);
            let message = || {
                let [other, own] = [other, own].map(|area| surface(area.area_over));
                format!("{other} painted in {name} overprint; in ours {own}")
            };
            if same && other.area_over < own.area_over {
                all.push((Severity::Error, message()));
            } else if same {
                all.push((Severity::Warning, message()));
            }
        }
    }
    all
}

/// How far the trim lies from ours on its page; unknown where only one of the two says where it is.
fn shift(ours: &PrintedPage, returned: &PrintedPage) -> Option<(f64, f64)> {
    let corner = |page: &PrintedPage, name: &str| page.boxes.get(name).map(|rect| (rect.x0, rect.y0));
    let corners = |name: &str| (corner(ours, name), corner(returned, name));
    let (own, other) = match corners("TrimBox") {
        (Some(own), Some(other)) => (own, other),
        (None, None) => (corner(ours, "MediaBox")?, corner(returned, "MediaBox")?),
        _ => return None,
    };
    Some((other.0 - own.0, other.1 - own.1))
}

fn moved(own: Rect, other: Rect, shift: Option<(f64, f64)>) -> bool {
    let Some((x, y)) = shift else { return false };
    let gaps = [other.x0 - own.x0 - x, other.x1 - own.x1 - x, other.y0 - own.y0 - y, other.y1 - own.y1 - y];
    gaps.into_iter().any(|gap| gap.abs() > STILL)
}

fn other_area(own: f64, other: f64) -> bool {
    (own - other).abs() > LEAST.max(SHARE * own.max(other))
}

/// Whether two colours cover the same: then one was turned into the other.
fn same_place(own: &PaintedArea, other: &PaintedArea, shift: Option<(f64, f64)>) -> bool {
    let still = match (own.bounds, other.bounds) {
        (Some(own), Some(other)) => !moved(own, other, shift),
        (None, None) => own.words == other.words,
        _ => false,
    };
    still && !other_area(own.area, other.area)
}

/// `12.5 cm² and 3 runs of words`
fn much(area: &PaintedArea) -> String {
    let surface = surface(area.area);
    match area.words {
        0 => surface,
        1 if area.area <= 0.0 => "a run of words".to_owned(),
        words if area.area <= 0.0 => format!("{words} runs of words"),
        1 => format!("{surface} and a run of words"),
        words => format!("{surface} and {words} runs of words"),
    }
}

fn surface(mm2: f64) -> String {
    if mm2 >= 100.0 {
        format!("{} cm²", number((mm2 / 10.0).round() / 10.0))
    } else {
        format!("{} mm²", number((mm2 * 10.0).round() / 10.0))
    }
}

fn pictures(ours: &PrintedPage, returned: &PrintedPage, tell: &mut Tell<'_>) {
    let shift = shift(ours, returned);
    let mut left: Vec<&PrintedPicture> = returned.pictures.iter().collect();
    for own in &ours.pictures {
        let alike =
            |other: &&PrintedPicture| (own.width, own.height, &own.kind) == (other.width, other.height, &other.kind);
        let rank =
            |other: &PrintedPicture| (own.samples.digest != other.samples.digest, moved(own.place, other.place, shift));
        let nearest = left.iter().enumerate().filter(|(_, other)| alike(other)).min_by_key(|(_, other)| rank(other));
        let Some(other) = nearest.map(|(at, _)| at).map(|at| left.remove(at)) else {
            tell(Severity::Warning, "pictures", format!("{} is gone or was changed", shown(own)));
            continue;
        };
        if moved(own.place, other.place, shift) {
            tell(Severity::Warning, "pictures", format!("{} lies elsewhere on the trim", shown(own)));
        }
        if own.samples.digest != other.samples.digest {
            let (severity, what) = samples(own, other);
            tell(severity, "pictures", format!("{} {what}", shown(own)));
        }
    }
    for picture in left {
        tell(Severity::Warning, "pictures", format!("{} is new", shown(picture)));
    }
}

/// What is other in the samples of a picture.
fn samples(own: &PrintedPicture, other: &PrintedPicture) -> (Severity, String) {
    let (ours, theirs) = (&own.samples.means, &other.samples.means);
    if ours.is_empty() || theirs.len() != ours.len() {
        return (Severity::Warning, "was changed, in a way that is not read".to_owned());
    }
    let percent = |mean: f64| number((mean * 1000.0).round() / 10.0);
    let far = |(own, other): &(&(String, f64), &(String, f64))| (own.1 - other.1).abs() > SAME_MEAN;
    let changed: Vec<String> = ours
        .iter()
        .zip(theirs)
        .filter(far)
        .map(|(own, other)| format!("{} {} % in place of {} %", own.0, percent(other.1), percent(own.1)))
        .collect();
    if changed.is_empty() {
        return (Severity::Note, "was saved again, with the same means in all its channels".to_owned());
    }
    (Severity::Error, format!("has other colours, in the mean {}", changed.join(", ")))
}

fn shown(picture: &PrintedPicture) -> String {
    format!("a picture of {} × {} pixels, {}", picture.width, picture.height, picture.kind)
}
