//! Features of SVG, one after another, as a browser draws them and as our own panels show them; or named where we draw them otherwise.

use crate::drawings::{Feature, agree};
use crate::lettering::faces;

/// Features that one page holds.
const PAGE: usize = 36;

/// Of a list with a feature a line: its name, how far the mean of its fields may be off, of 255, and how it is drawn.
fn features(list: &str) -> Vec<Feature<'_>> {
    let feature = |line| {
        let mut parts = str::splitn(line, 3, ' ');
        let (name, most, body) = (parts.next()?, parts.next()?.parse().ok()?, parts.next()?);
        Some((name, most, body))
    };
    list.lines().map(|line| feature(line).unwrap_or_else(|| panic!("{line:?} is no feature"))).collect()
}

fn all_agree(name: &str, list: &str) {
    for (at, page) in features(list).chunks(PAGE).enumerate() {
        agree(&format!("features-{name}-{at}"), page, &faces, &[]);
    }
}

#[test]
fn frames_are_those_of_a_browser() {
    all_agree("frames", include_str!("features/frames.txt"));
}

#[test]
fn lines_and_clips_are_those_of_a_browser() {
    all_agree("lines", include_str!("features/lines.txt"));
}

#[test]
fn colours_are_those_of_a_browser() {
    all_agree("colours", include_str!("features/colours.txt"));
}
