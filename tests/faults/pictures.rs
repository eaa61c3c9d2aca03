//! Pictures that print badly or hold what they should not.

use crate::list::{Fault, NONE, Spot};

/// The grey pictures state no colour space.
const ASSUMED: (&str, &str) = ("note", "colour-space-assumed");

pub const PICTURES: [Fault; 7] = [
    Fault {
        name: "picture",
        beyond: &[ASSUMED, ("note", "effective-resolution")],
        within: &[ASSUMED],
        limit: 300.0,
        over: false,
        aside: (3.0, 12.0),
        measure: "ppi",
        marks: |spot| image(spot, "busy.jpg", 3048.0 / spot.value),
        ..NONE
    },
    Fault {
        name: "coarse-picture",
        beyond: &[ASSUMED, ("warning", "effective-resolution")],
        within: &[ASSUMED, ("note", "effective-resolution")],
        limit: 225.0,
        over: false,
        aside: (3.0, 12.0),
        measure: "ppi",
        marks: |spot| image(spot, "busy.jpg", 3048.0 / spot.value),
        ..NONE
    },
    Fault {
        name: "coarsest-picture",
        beyond: &[ASSUMED, ("error", "effective-resolution")],
        within: &[ASSUMED, ("warning", "effective-resolution")],
        limit: 150.0,
        over: false,
        aside: (3.0, 12.0),
        measure: "ppi",
        marks: |spot| image(spot, "busy.jpg", 3048.0 / spot.value),
        ..NONE
    },
    Fault {
        name: "bars-as-a-picture",
        beyond: &[ASSUMED, ("error", "bar-code-picture")],
        within: &[ASSUMED],
        measure: "bars",
        marks: |spot| image(spot, if spot.value > 0.5 { "bars.png" } else { "stripes.png" }, 24.0),
        ..NONE
    },
    Fault {
        name: "soft-edge",
        beyond: &[("note", "soft-edge-cut")],
        limit: 4.5,
        aside: (0.5, 3.5),
        step: 1.0,
        measure: "soft",
        marks: |spot| image(spot, &format!("soft-{}.png", spot.value), 4.0),
        ..NONE
    },
    Fault {
        name: "jpeg",
        beyond: &[ASSUMED, ("note", "jpeg-quality")],
        within: &[ASSUMED],
        limit: 60.0,
        over: false,
        aside: (1.0, 9.0),
        step: 1.0,
        measure: "jpeg",
        marks: |spot| image(spot, &format!("quality-{}.jpg", spot.value), 4.0),
        ..NONE
    },
    Fault {
        name: "gamut",
        beyond: &[("note", "out-of-gamut")],
        limit: 3.5,
        aside: (0.5, 1.5),
        step: 1.0,
        measure: "bright",
        marks: |spot| image(spot, &format!("bright-{}.png", spot.value), 8.0),
        ..NONE
    },
];

fn image(spot: &Spot<'_>, file: &str, width: f64) -> String {
    let Spot { x, y, number, .. } = spot;
    format!("image f{number} file=\"fault/{file}\" {{ left {x}; width {width}; top {y} }}")
}
