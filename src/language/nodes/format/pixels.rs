//! The pixels of a front for screens, within limits.

use crate::cover::Binding;
use crate::ground::number;
use crate::language::nodes::format::words::PIXELS;
use crate::scene::PixelSize;
use crate::source::Reader;

/// Pixels of the largest picture: it takes 150 MB while it is drawn, and as much again while it is written.
pub const MOST_PIXELS: u64 = 50_000_000;
/// So many times a front may be as long as the other way.
const LONGEST: f64 = 4.0;

/// The binding with its pixels, where it has any.
pub fn read(reader: &Reader<'_>, binding: Binding) -> Binding {
    let word = reader.child(&PIXELS);
    let stated = word.as_ref().and_then(|word| {
        let side = || word.number().map(|side| side.value as u32);
        let (width, height) = (side(), side());
        Some(PixelSize { width: width?, height: height? })
    });
    if binding.pixels().is_none() {
        return binding;
    }
    match (word, stated) {
        (None, _) => {
            let help = "write `pixels 1600 2560`: width and height";
            reader.lacks(reader.span(), "the screen lacks its pixels", help);
        }
        (Some(word), Some(pixels)) => {
            if let Some((message, help)) = unfit(pixels) {
                word.error(word.span(), message, help);
                return binding;
            }
        }
        (Some(_), None) => {}
    }
    stated.map_or(binding, Binding::Screen)
}

/// Why a picture of so many pixels cannot be made, and what to do.
pub fn unfit(pixels: PixelSize) -> Option<(String, String)> {
    let ratio = pixels.ratio().max(1.0 / pixels.ratio());
    if ratio > LONGEST {
        let times = number((ratio * 10.0).round() / 10.0);
        let (longer, other) = if pixels.ratio() > 1.0 { ("wide", "high") } else { ("high", "wide") };
        let message = format!("{pixels} pixels are {times} times as {longer} as {other}; {LONGEST} times is the limit");
        return Some((message, "choose a ratio between 1 to 4 and 4 to 1".to_owned()));
    }
    if pixels.count() > MOST_PIXELS {
        let [count, most] = [pixels.count(), MOST_PIXELS].map(|count| number(count as f64 / 1e6));
        let message = format!("{pixels} are {count} million pixels; the largest picture has {most} million");
        return Some((message, "write fewer: screens show no more".to_owned()));
    }
    None
}
