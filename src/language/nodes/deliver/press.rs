//! What is chosen of the press file: its standard, the resolution of its pictures, and how hard it is compressed.

use crate::ground::Packing;
use crate::scene::{PressSettings, PressStandard};
use crate::source::{Reader, Word, meant};

/// The property that only the press file has.
pub const FINEST: &str = "finest";

/// Reads the properties that an output declares.
pub fn read(word: &Reader<'_>, output: &'static Word, settings: &mut PressSettings) {
    if let Some((value, slot, what)) = output.property(FINEST).and_then(|finest| word.property_slot(finest)) {
        if value.text().is_some() {
            if word.as_choice(value, slot, &what).is_some() {
                settings.finest = None;
            }
        } else if let Some(finest) = word.as_number(value, slot, &what) {
            settings.finest = Some(finest.value);
        }
    }
    let standard = output.property("standard").and_then(|standard| word.choice_property(standard));
    if let Some(standard) = standard.and_then(|standard| PressStandard::called(standard.value)) {
        settings.standard = standard;
    }
    if let Some(quality) = output.property("jpeg").and_then(|quality| word.number_property(quality)) {
        settings.jpeg = Some(quality.value as u8);
    }
    let packing = output.property("packing").and_then(|packing| word.choice_property(packing));
    if let Some(packing) = packing.and_then(|packing| meant(&Packing::WORDS, packing.value)) {
        settings.packing = packing;
    }
}
