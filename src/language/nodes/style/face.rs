//! Face: the family, weight and posture that a style asks for.

use crate::assets::nearest;
use crate::ground::{Finding, Severity, number};
use crate::language::context::Desk;
use crate::language::nodes::style::words::{AXIS, FONT, ITALIC, WEIGHT, WEIGHTS};
use crate::source::{Datum, Reader, meant};
use crate::typeset::{OPTICAL_SIZE, Style};

pub fn read(reader: &Reader<'_>, style: &mut Style, desk: &Desk<'_>) {
    family(reader, style, desk);
    if let Some(word) = reader.child(&AXIS) {
        axes(&word, style, desk);
    }
}

/// Places on axes, by their tags. What the font has not is found out where it is set.
fn axes(word: &Reader<'_>, style: &mut Style, desk: &Desk<'_>) {
    let font = desk.library.find(&style.family, style.weight, style.italic);
    let known = font.map(|font| font.axes()).unwrap_or_default();
    if word.free_properties().is_empty() {
        word.error(word.span(), "`axis` names no axis", "write `axis wght=620`, or `axis opsz=auto`");
    }
    for (key, value) in word.free_properties() {
        let Ok(tag) = <[u8; 4]>::try_from(key.value.as_bytes()) else {
            let message = format!("{:?} is not the tag of an axis", key.value);
            word.error(key.span, message, "OpenType tags have four letters: `axis wght=620`");
            continue;
        };
        match value.datum {
            Datum::Text(ref name) if name == AUTO && tag == OPTICAL_SIZE => style.axes.retain(|known| known.0 != tag),
            Datum::Number(at) if at.abs() <= FARTHEST => {
                style.axes.retain(|known| known.0 != tag);
                if style.axes.len() == MOST_AXES {
                    let message = format!("a style names {MOST_AXES} axes at the most");
                    word.error(word.span(), message, "leave out those that the font has not");
                    break;
                }
                style.axes.push((tag, at as f32));
                let axis = known.iter().find(|axis| axis.tag == tag);
                if let Some(axis) = axis.filter(|axis| !(axis.least..=axis.most).contains(&(at as f32))) {
                    let (least, most) = (number(f64::from(axis.least)), number(f64::from(axis.most)));
                    let message =
                        format!("{:?} has {} from {least} to {most}: the nearest is set", style.family, key.value);
                    let finding = Finding::new(Severity::Note, "language", value.span, message)
                        .help("name a place that the font has");
                    word.findings().borrow_mut().push(finding);
                }
            }
            _ => word.error(
                value.span,
                "a place on an axis is a number",
                "write `axis wght=620`; `opsz=auto` follows the size",
            ),
        }
    }
}

const AUTO: &str = "auto";
/// Coordinates are fixed-point numbers of 16 bits before the point (OpenType, `fvar`).
const FARTHEST: f64 = 32_767.0;
const MOST_AXES: usize = 16;

fn family(reader: &Reader<'_>, style: &mut Style, desk: &Desk<'_>) {
    let Some(word) = reader.child(&FONT) else { return };
    let family = word.text();
    style.weight = 400;
    if let Some(value) = word.property(&WEIGHT) {
        let stated = if matches!(value.datum, Datum::Number(_)) {
            word.number_property(&WEIGHT).map(|weight| weight.value as u16)
        } else {
            word.choice_property(&WEIGHT).and_then(|name| meant(&WEIGHTS, name.value))
        };
        style.weight = stated.unwrap_or(style.weight);
    }
    style.italic = word.flag_property(&ITALIC).unwrap_or(false);
    let Some(family) = family else { return };
    let Some(found) = desk.library.find(&family.value, style.weight, style.italic) else {
        let known = desk.library.families();
        let help = match nearest(&family.value, known.iter().copied()) {
            Some(near) => format!("did you mean {near:?}?"),
            None => format!("families are {}; add your own to the cover's `fonts` folder", known.join(", ")),
        };
        word.error(family.span, format!("there is no font {:?}", family.value), help);
        return;
    };
    if style.italic && !found.italic() {
        let help = "take another family, or leave italic out; letters are never slanted by force";
        word.error(family.span, format!("{:?} has no italic", family.value), help);
        style.italic = false;
    }
    if found.weight() != style.weight {
        let message = format!("{:?} has no weight {}: {} is set", family.value, style.weight, found.weight());
        let finding = Finding::new(Severity::Note, "language", family.span, message)
            .help("name the weight that you want to see, or take another family");
        reader.findings().borrow_mut().push(finding);
    }
    style.family = family.value;
}
