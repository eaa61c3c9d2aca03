//! Lines, letters and edges that a press does not hold, or that something hides.

use crate::list::{Fault, NONE, Spot, band, words};

pub const LINES: [Fault; 12] = [
    Fault {
        name: "line",
        beyond: &[("warning", "hairline")],
        limit: 0.25,
        over: false,
        aside: (0.004, 0.03),
        measure: "line 0 0 0 1",
        marks: |spot| rule(spot, "black"),
        ..NONE
    },
    Fault {
        name: "thinnest-line",
        beyond: &[("error", "hairline")],
        within: &[("warning", "hairline")],
        limit: 0.125,
        over: false,
        aside: (0.004, 0.02),
        measure: "line 0 0 0 1",
        marks: |spot| rule(spot, "black"),
        ..NONE
    },
    Fault {
        name: "line-in-a-tint",
        beyond: &[("warning", "hairline")],
        limit: 0.5,
        over: false,
        aside: (0.006, 0.05),
        measure: "line 0 0 0 0.6",
        inks: |_| "swatch fault-tint k=60".to_owned(),
        marks: |spot| rule(spot, "fault-tint"),
        ..NONE
    },
    Fault {
        name: "open-line",
        beyond: &[("warning", "hairline")],
        limit: 0.5,
        over: false,
        aside: (0.006, 0.05),
        measure: "line 0 0 0 0",
        marks: |spot| {
            let inner = Spot { x: spot.x + 2.0, y: spot.y + 5.0, ..*spot };
            band(spot, "a", "fault-ground", [0.0, 0.0, 36.0, 12.0]) + &rule(&inner, "unprinted")
        },
        inks: |_| "swatch fault-ground k=50".to_owned(),
        ..NONE
    },
    Fault {
        name: "type",
        beyond: &[("warning", "small-type")],
        limit: 6.0,
        over: false,
        aside: (0.06, 0.3),
        measure: "type 0 0 0 1",
        marks: |spot| words(spot, "First published in Osselby", spot.value, "black"),
        ..NONE
    },
    Fault {
        name: "smallest-type",
        beyond: &[("error", "small-type")],
        within: &[("warning", "small-type")],
        limit: 5.0,
        over: false,
        aside: (0.06, 0.3),
        measure: "type 0 0 0 1",
        marks: |spot| words(spot, "First published in Osselby", spot.value, "black"),
        ..NONE
    },
    Fault {
        name: "type-in-two-inks",
        beyond: &[("warning", "small-type-in-several-inks")],
        limit: 9.0,
        over: false,
        aside: (0.06, 0.4),
        measure: "type 0 0.9 0.6 0",
        inks: |_| "swatch fault-red m=90 y=60".to_owned(),
        marks: |spot| words(spot, "Osselby tales", spot.value, "fault-red"),
        ..NONE
    },
    Fault {
        name: "seam",
        beyond: &[("warning", "white-seam")],
        limit: 0.1,
        over: false,
        aside: (0.006, 0.03),
        measure: "gap 0 0 0 0.7",
        inks: |_| "swatch fault-slate k=70".to_owned(),
        marks: |spot| {
            band(spot, "a", "fault-slate", [0.0, 0.0, 12.0, 20.0])
                + &band(spot, "b", "fault-slate", [12.0 + spot.value, 0.0, 12.0, 20.0])
        },
        ..NONE
    },
    Fault {
        name: "words-onto-a-box",
        beyond: &[("warning", "words-run-onto")],
        measure: "astride",
        inks: |_| "swatch fault-box k=24".to_owned(),
        marks: |spot| {
            let top = if spot.value > 0.5 { 6.0 } else { 36.0 };
            let blurb = "Three lights stand over the quay of the old town, and whoever keeps them keeps the tides.";
            band(spot, "a", "fault-box", [-1.0, top, 41.0, 8.0]) + &words(spot, blurb, 9.0, "black")
        },
        ..NONE
    },
    Fault {
        name: "fine-code",
        beyond: &[("warning", "qr-code-hard-to-read")],
        limit: 0.4,
        over: false,
        aside: (0.01, 0.08),
        measure: "module",
        marks: |spot| {
            let Spot { x, y, value, number, .. } = spot;
            // Version 2 of ISO/IEC 18004 has 25 modules a side and, at M, 26 bytes; the quiet zone is 4 modules wide.
            let width = value * 33.0;
            format!(
                "qr-code f{number} words=\"https://osselby.example/t{number}\" {{ left {x}; width {width:.3}; top {y} }}"
            )
        },
        ..NONE
    },
    Fault {
        name: "cut-letters",
        beyond: &[("warning", "words-covered")],
        limit: 20.0,
        aside: (4.0, 9.0),
        measure: "hidden",
        inks: posts_inks,
        marks: posts,
        ..NONE
    },
    Fault {
        name: "hidden-letters",
        // Of what is hidden nothing stands out either.
        beyond: &[("error", "words-covered"), ("warning", "low-contrast")],
        within: &[("warning", "words-covered")],
        limit: 50.0,
        aside: (5.0, 9.0),
        measure: "hidden",
        inks: posts_inks,
        marks: posts,
        ..NONE
    },
];

fn rule(spot: &Spot<'_>, ink: &str) -> String {
    let Spot { x, y, value, number, .. } = spot;
    format!("rule f{number} {{ swatch {ink}; weight {value}; left {x}; width 30; top {y} }}")
}

/// Letters like posts, and the same again uncovered; each on a plate by itself.
fn posts(spot: &Spot<'_>) -> String {
    let Spot { x, y, number, .. } = spot;
    let text = |name: &str, ink: &str, top: f64| {
        format!(
            "text f{number}{name} words=\"IIIIIIIIII\" {{ font Inter weight=bold; size 36; swatch {ink}; left {x}; width 39; cap-top {top}; align left }}\n"
        )
    };
    // Inter's capitals are 1490 of 2048 units high (its OS/2 table): 9.24 mm at 36 pt.
    let foot = 4.0 + 9.24 * (1.0 - spot.value / 100.0);
    text("a", "post", y + 4.0)
        + &text("b", "twin", y + 26.0)
        + &band(spot, "c", "fault-card", [-1.0, foot, 41.0, 9.24 * spot.value / 100.0 + 1.0])
}

fn posts_inks(_: &Spot<'_>) -> String {
    "spot post ink=\"Fault post\" k=100; spot twin ink=\"Fault twin\" k=100".to_owned()
}
