//! Words: how a stray is reported, with its millimetres.

use crate::check::series::appearance::SeenElement;
use crate::check::series::common::{CommonLine, Direction, End};
use crate::ground::number;
use crate::scene::{Kind, Surface};

/// `` `number` on the spine stands 2.4 mm lower than the common line (14.00 mm from the foot) ``
pub fn moved(name: &str, face: Surface, element: &SeenElement, line: &CommonLine, by: f64) -> String {
    let way = match (line.axis, by > 0.0) {
        (Direction::Down, true) => "lower",
        (Direction::Down, false) => "higher",
        (Direction::Across, true) => "further right",
        (Direction::Across, false) => "further left",
    };
    let by = short(by.abs());
    format!("`{name}` on the {} stands {by} mm {way} than the common line ({})", face.word(), place(element, line))
}

/// `` `title` on the front is set in 17 pt, the others in 19 pt ``
pub fn set(name: &str, face: Surface, size: f64, common: f64, others: &str) -> String {
    format!("`{name}` on the {} is set in {} pt, {others} in {} pt", face.word(), short(size), short(common))
}

/// `` `mark` on the spine is 9.00 mm wide, the others 11.20 mm ``
pub fn sized(name: &str, face: Surface, way: &str, own: f64, common: f64, others: &str) -> String {
    format!("`{name}` on the {} is {own:.2} mm {way}, {others} {common:.2} mm", face.word())
}

/// `` `number` is missing on the spine; 3 of 4 covers have it ``
pub fn missing(name: &str, face: Surface, have: usize, of: usize) -> String {
    format!("`{name}` is missing on the {}; {have} of {of} covers have it", face.word())
}

/// At most two decimals, none for show.
fn short(value: f64) -> String {
    number((value * 100.0).round() / 100.0)
}

/// Which end stands where: `baseline 14.00 mm from the foot`, `the middle`.
fn place(element: &SeenElement, line: &CommonLine) -> String {
    let value = line.value.abs();
    let upright = element.kind == Kind::Text && !element.turned && line.axis == Direction::Down;
    let end = match (line.axis, line.place) {
        _ if upright && line.place == End::Near => "cap-top ",
        _ if upright && line.place == End::Far => "baseline ",
        // The end that is next to its edge needs no name.
        (_, place) if place == line.from => "",
        (_, End::Middle) => "middle ",
        (Direction::Down, End::Near) => "upper end ",
        (Direction::Down, End::Far) => "lower end ",
        (Direction::Across, End::Near) => "left end ",
        (Direction::Across, End::Far) => "right end ",
    };
    let edge = match (line.axis, line.from) {
        (_, End::Middle) => return middle(end, line),
        (Direction::Down, End::Near) => "from the head",
        (Direction::Down, End::Far) => "from the foot",
        (Direction::Across, End::Near) => "from the left",
        (Direction::Across, End::Far) => "from the right",
    };
    // Inward is the rule; what reaches out over its edge says so.
    let beyond = if line.value < -HALF { ", outside" } else { "" };
    format!("{end}{value:.2} mm {edge}{beyond}")
}

/// Half of the last decimal that is reported.
const HALF: f64 = 0.005;

fn middle(end: &str, line: &CommonLine) -> String {
    if line.value.abs() < HALF {
        return if end.is_empty() { "the middle".to_owned() } else { format!("{end}in the middle") };
    }
    let way = match (line.axis, line.value > 0.0) {
        (Direction::Down, true) => "below",
        (Direction::Down, false) => "above",
        (Direction::Across, true) => "right of",
        (Direction::Across, false) => "left of",
    };
    format!("{end}{:.2} mm {way} the middle", line.value.abs())
}
