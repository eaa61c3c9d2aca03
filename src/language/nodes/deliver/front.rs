//! What is chosen of a picture of the front: its pixels, its weight, and what becomes of another ratio.

use crate::assets::JpegWeight;
use crate::cover::Palette;
use crate::language::nodes::format::unfit;
use crate::scene::{OtherRatio, OutputSettings, PixelSize};
use crate::source::{Reader, Word};

/// The property that every such output has.
pub const QUALITY: &str = "quality";

const RATIO: &str = "ratio";

/// Reads the properties that an output declares.
pub fn read(word: &Reader<'_>, output: &'static Word, settings: &mut OutputSettings, palette: &Palette) {
    settings.front.span = word.span();
    weight(word, output, settings);
    let ratio = output.property(RATIO).and_then(|ratio| word.choice_property(ratio));
    let swatch = output.property("swatch").and_then(|swatch| word.text_property(swatch));
    let inks = swatch.as_ref().map(|name| palette.ink(&mut word.findings().borrow_mut(), name).look());
    settings.front.ratio = match ratio.as_ref().map_or("refuse", |ratio| ratio.value) {
        "crop" => OtherRatio::Cropped,
        "extend" => OtherRatio::Extended(inks),
        _ => OtherRatio::Refused,
    };
    let idle = ratio.is_some() || !word.attempts(RATIO);
    if let Some(name) = swatch.filter(|_| idle && !matches!(settings.front.ratio, OtherRatio::Extended(_))) {
        word.error(name.span, "nothing is extended, so `swatch=` says nothing", "write `ratio=extend` beside it");
    }
}

/// The pixels that were stated, within the limits of a picture.
pub fn size(word: &Reader<'_>, sides: &[u32]) -> Option<PixelSize> {
    let [width, height] = *sides else { return None };
    let size = PixelSize { width, height };
    if let Some((message, help)) = unfit(size) {
        word.error(word.span(), message, help);
        return None;
    }
    Some(size)
}

fn weight(word: &Reader<'_>, output: &'static Word, settings: &mut OutputSettings) {
    let quality = output.property(QUALITY).and_then(|quality| word.number_property(quality));
    let at_most = output.property("at-most").and_then(|at_most| bytes(word, at_most));
    let stated = [quality.is_some().then_some(QUALITY), at_most.is_some().then_some("at-most")];
    if let Some(name) = stated.into_iter().flatten().next().filter(|_| settings.word == "png") {
        let message = format!("a PNG keeps every pixel, so `{name}=` says nothing");
        return word.error(word.span(), message, "take it away, or write `jpeg`");
    }
    settings.front.weight = match (quality, at_most) {
        (Some(_), Some(_)) => {
            let message = "`quality=` and `at-most=` both say how heavy the file is";
            return word.error(word.span(), message, "keep one of the two");
        }
        (Some(quality), None) => JpegWeight::Quality(quality.value as u8),
        (None, Some(most)) => JpegWeight::AtMost(most),
        (None, None) => return,
    };
}

/// A number of bytes, bare or with its unit in quotes. Units are decimal, the smaller reading of each.
fn bytes(word: &Reader<'_>, of: &'static Word) -> Option<u64> {
    const UNITS: [(&str, f64); 2] = [("kb", 1e3), ("mb", 1e6)];
    let (value, slot, what) = word.property_slot(of)?;
    let Some(said) = value.text() else {
        return word.as_number(value, slot, &what).map(|number| number.value as u64);
    };
    let small = said.trim().to_lowercase();
    let known = UNITS.iter().find_map(|(unit, bytes)| {
        let number: f64 = small.strip_suffix(unit)?.trim().parse().ok()?;
        (number * bytes >= 1.0 && number * bytes <= 1e9).then_some((number * bytes) as u64)
    });
    if known.is_none() {
        let help = "write `at-most=\"2 MB\"`, `at-most=\"500 kB\"` or a bare number of bytes, up to 1000 MB";
        word.error(value.span, format!("{said:?} is not a number of bytes"), help);
    }
    known
}
