//! Colours of a drawing that are printed in swatches.

use crate::assets::Art;
use crate::ground::{Finding, Severity, listed};
use crate::language::context::Context;
use crate::language::fillings::INK;
use crate::language::named_ink::NamedInk;
use crate::language::nodes::swatches::hexadecimal;
use crate::source::{KnownBy, Reader, Word, name, text};
use std::collections::BTreeSet;

pub const COLOUR: Word = Word::new("colour", "prints a colour of a drawing in a swatch")
    .takes(&[name("a swatch"), text("a colour, such as \"#2f6f7e\"")])
    .properties(INK)
    .known_by(KnownBy::Second)
    .many();

/// An sRGB colour of the file, and what it is printed in.
pub struct SwatchedColour {
    pub rgb: [u8; 3],
    pub ink: NamedInk,
}

/// Colours that a message names.
const NAMED: usize = 6;

pub fn swatched(reader: &Reader<'_>, context: &Context<'_>, art: &Art, painted: bool) -> Vec<SwatchedColour> {
    let words = reader.children(&COLOUR);
    let (mut colours, mut pictured) = (BTreeSet::new(), Vec::new());
    if let Art::Drawing(drawing) = art
        && !words.is_empty()
    {
        colours = drawing.colours();
        pictured.extend(drawing.pictured().into_iter().map(|view| (view, view.colours())));
    }
    let mut all: Vec<SwatchedColour> = Vec::new();
    for word in words {
        let Some(ink) = NamedInk::read(&word, &context.facts.palette) else { continue };
        let Some(code) = word.text() else { continue };
        let Some(rgb) = hexadecimal(&code.value) else {
            let message = format!("{:?} is not a colour", code.value);
            word.error(code.span, message, "write six hexadecimal digits: \"#2f6f7e\"");
            continue;
        };
        let Art::Drawing(_) = art else {
            let help = "`paint` prints all of a picture in one swatch";
            word.error(word.span(), "only colours of a drawing are printed in swatches", help);
            continue;
        };
        if painted {
            word.error(word.span(), "`paint` prints all of it in one swatch already", "take one of them out");
            continue;
        }
        if all.iter().any(|known| known.rgb == rgb) {
            let message = format!("{:?} has a swatch already", code.value);
            word.error(code.span, message, "write `colour` once for a colour");
            continue;
        }
        let keeping = pictured.iter().filter(|(_, colours)| colours.contains(&rgb));
        let keeping: Vec<String> = keeping.map(|(view, _)| view.to_string()).collect();
        let warning = |message: String, help: String| {
            let finding = Finding::new(Severity::Warning, "language", code.span, message).help(help);
            word.findings().borrow_mut().push(finding);
        };
        if !keeping.is_empty() {
            let message = format!("these keep {:?} in process inks: {}", code.value, listed(&keeping, NAMED));
            warning(
                message,
                "effects are printed as pictures; remove them from what is to be in the swatch".to_owned(),
            );
        } else if !colours.contains(&rgb) {
            warning(format!("the drawing has no {:?}", code.value), other(&colours));
        }
        all.push(SwatchedColour { rgb, ink });
    }
    all
}

fn other(colours: &BTreeSet<[u8; 3]>) -> String {
    let code = |[red, green, blue]: &[u8; 3]| format!("#{red:02x}{green:02x}{blue:02x}");
    if colours.is_empty() {
        return "all of it is drawn as a picture; take the effect out of the drawing".to_owned();
    }
    let codes: Vec<String> = colours.iter().map(code).collect();
    format!("its colours are {}", listed(&codes, NAMED))
}
