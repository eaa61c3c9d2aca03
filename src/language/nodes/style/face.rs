//! Face: the family, weight and posture that a style asks for.

use crate::assets::nearest;
use crate::ground::{Finding, Severity};
use crate::language::context::Desk;
use crate::language::nodes::style::words::{FONT, ITALIC, WEIGHT, WEIGHTS};
use crate::source::{Datum, Reader, meant};
use crate::typeset::Style;

pub fn read(reader: &Reader<'_>, style: &mut Style, desk: &Desk<'_>) {
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
