//! List: faults that a cover may have, each with the limit that it is tried on both sides of.

use crate::bases::Base;
use crate::copy::COPY;
use crate::facts::FACTS;
use crate::inks::INKS;
use crate::lines::LINES;
use crate::pictures::PICTURES;

/// A place on the cover, and the value that is tried there.
pub struct Spot<'a> {
    pub x: f64,
    pub y: f64,
    pub value: f64,
    /// Tells the names of two faults of one cover apart.
    pub number: usize,
    pub base: &'a Base,
}

pub struct Fault {
    pub name: &'static str,
    /// What is found beyond the limit, and within it: severity and rule.
    pub beyond: &'static [(&'static str, &'static str)],
    pub within: &'static [(&'static str, &'static str)],
    pub limit: f64,
    /// A fault lies over the limit; else under it.
    pub over: bool,
    /// How far from the limit values are drawn: least and most.
    pub aside: (f64, f64),
    /// The smallest step of a value.
    pub step: f64,
    /// What `tests/readers/faults.py` measures of the press file or of a picture.
    pub measure: &'static str,
    pub inks: fn(&Spot<'_>) -> String,
    /// What is stated in `book`, and what stands at the top of the cover.
    pub facts: fn(&Spot<'_>) -> String,
    pub top: fn(&Spot<'_>) -> String,
    pub marks: fn(&Spot<'_>) -> String,
}

/// What a fault says that says nothing of it.
pub const NONE: Fault = Fault {
    name: "",
    beyond: &[],
    within: &[],
    limit: 0.5,
    over: true,
    aside: (0.5, 0.5),
    step: 0.001,
    measure: "",
    inks: |_| String::new(),
    facts: |_| String::new(),
    top: |_| String::new(),
    marks: |_| String::new(),
};

pub fn band(spot: &Spot<'_>, name: &str, ink: &str, place: [f64; 4]) -> String {
    let [left, top, width, height] = place;
    let (left, top, number) = (spot.x + left, spot.y + top, spot.number);
    format!("band f{number}{name} {{ swatch {ink}; left {left}; width {width}; top {top}; height {height} }}\n")
}

pub fn words(spot: &Spot<'_>, words: &str, size: f64, ink: &str) -> String {
    let Spot { x, y, number, .. } = spot;
    format!(
        "text f{number} words=\"{words}\" {{ font Inter; size {size}; swatch {ink}; left {x}; width 39; top {y}; align left; hyphenate #false }}"
    )
}

/// All of them.
pub fn faults() -> Vec<&'static Fault> {
    const ALL: [&[Fault]; 5] = [&LINES, &INKS, &PICTURES, &COPY, &FACTS];
    ALL.into_iter().flatten().collect()
}
