//! Pictures that print badly or hold what they should not.

use crate::list::{Fault, NONE, Spot};

pub const PICTURES: [Fault; 7] = [
    Fault {
        name: "picture",
        beyond: &[("note", "effective-resolution")],
        limit: 300.0,
        over: false,
        aside: (3.0, 12.0),
        measure: "ppi",
        marks: |spot| image(spot, "busy.jpg", 3048.0 / spot.value),
        ..NONE
    },
    Fault {
        name: "coarse-picture",
        beyond: &[("warning", "effective-resolution")],
        within: &[("note", "effective-resolution")],
        limit: 225.0,
        over: false,
        aside: (3.0, 12.0),
        measure: "ppi",
        marks: |spot| image(spot, "busy.jpg", 3048.0 / spot.value),
        ..NONE
    },
    Fault {
        name: "coarsest-picture",
        beyond: &[("error", "effective-resolution")],
        within: &[("warning", "effective-resolution")],
        limit: 150.0,
        over: false,
        aside: (3.0, 12.0),
        measure: "ppi",
        marks: |spot| image(spot, "busy.jpg", 3048.0 / spot.value),
        ..NONE
    },
    Fault {
        name: "bars-as-a-picture",
        beyond: &[("error", "bar-code-picture")],
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
        beyond: &[("note", "jpeg-quality")],
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
