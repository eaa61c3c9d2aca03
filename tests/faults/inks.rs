//! Inks that a press does not print.

use crate::list::{Fault, NONE, Spot, band};

pub const INKS: [Fault; 12] = [
    Fault {
        name: "tint",
        beyond: &[("note", "faint-tint")],
        limit: 2.05,
        over: false,
        aside: (0.05, 0.9),
        step: 0.1,
        measure: "lightest",
        inks: |spot| format!("swatch fault-haze k={}", spot.value),
        marks: |spot| band(spot, "", "fault-haze", [0.0, 0.0, 25.0, 20.0]),
        ..NONE
    },
    Fault {
        name: "stated-ink",
        beyond: &[("warning", "ink-over-limit")],
        limit: 300.5,
        aside: (0.5, 9.0),
        step: 1.0,
        measure: "stated",
        inks: |spot| format!("swatch fault-pitch{} c=80 m=70 y=70 k={}", spot.number, spot.value - 220.0),
        marks: |spot| band(spot, "", &format!("fault-pitch{}", spot.number), [0.0, 0.0, 25.0, 20.0]),
        ..NONE
    },
    Fault {
        name: "gross-ink",
        beyond: &[("error", "ink-over-limit")],
        within: &[("warning", "ink-over-limit")],
        limit: 320.5,
        aside: (0.5, 9.0),
        step: 1.0,
        measure: "stated",
        inks: |spot| format!("swatch fault-pitch{} c=95 m=85 y=70 k={}", spot.number, spot.value - 250.0),
        marks: |spot| band(spot, "", &format!("fault-pitch{}", spot.number), [0.0, 0.0, 25.0, 20.0]),
        ..NONE
    },
    Fault {
        name: "ink-together",
        beyond: &[("warning", "ink-over-limit")],
        limit: 309.2,
        aside: (1.5, 6.0),
        measure: "printed",
        inks: |spot| format!("swatch fault-a c=90 m=90 y=80; swatch fault-b k={}", spot.value - 260.0),
        marks: |spot| {
            let upper = band(spot, "b", "fault-b", [4.0, 4.0, 16.0, 10.0]).replace(" }", "; blend multiply }");
            band(spot, "a", "fault-a", [0.0, 0.0, 25.0, 20.0]) + &upper
        },
        ..NONE
    },
    Fault {
        name: "gradient",
        beyond: &[("note", "gradient-steps")],
        limit: 38.4,
        aside: (0.2, 1.5),
        measure: "gradient",
        inks: |_| "swatch fault-dusk k=10; swatch fault-night k=30".to_owned(),
        marks: |spot| {
            band(spot, "", "X", [0.0, 0.0, 25.0, spot.value]).replace("swatch X", "gradient fault-dusk fault-night")
        },
        ..NONE
    },
    Fault {
        name: "plates",
        beyond: &[("warning", "many-plates")],
        limit: 6.5,
        step: 1.0,
        measure: "plates",
        inks: |_| {
            "spot spot-c ink=\"Fault C\" c=80; spot spot-m ink=\"Fault M\" m=80; spot spot-y ink=\"Fault Y\" y=80"
                .to_owned()
        },
        marks: |spot| {
            let third = if spot.value > 6.5 { "spot-y" } else { "spot-m" };
            let square = |at: usize, ink: &str| band(spot, &at.to_string(), ink, [at as f64 * 10.0, 0.0, 8.0, 8.0]);
            square(0, "spot-c") + &square(1, "spot-m") + &square(2, third)
        },
        ..NONE
    },
    Fault {
        name: "spot-look",
        beyond: &[("note", "spot-look")],
        limit: 5.0,
        aside: (0.8, 2.0),
        measure: "reach",
        inks: |spot| {
            // On coated paper redder ones are further from what process inks reach, as `faults.py` measures it.
            let red = 50.0 + (spot.value - 5.0) / 0.19;
            format!("spot fault-coral{0} ink=\"Fault coral {0}\" lab=\"66 {red:.1} 58\"", spot.number)
        },
        marks: |spot| band(spot, "", &format!("fault-coral{}", spot.number), [0.0, 0.0, 20.0, 10.0]),
        ..NONE
    },
    Fault {
        name: "plain-black",
        beyond: &[("note", "plain-black-area")],
        limit: 4.0,
        aside: (0.1, 0.8),
        measure: "black",
        top: |_| "limit plain-black-area area=4".to_owned(),
        marks: |spot| band(spot, "", "black", [0.0, 0.0, spot.value * 5.0, 20.0]),
        ..NONE
    },
    Fault {
        name: "foil-at-the-edge",
        beyond: &[("warning", "finishing-near-edge")],
        limit: 1.5,
        over: false,
        aside: (0.1, 0.9),
        measure: "foil",
        inks: foil,
        marks: |spot| {
            let Spot { x, value, number, .. } = spot;
            format!("band f{number} {{ swatch gold{number}; left {x}; width 12; top trim {value}; height 2.5 }}")
        },
        ..NONE
    },
    Fault {
        name: "foil-line",
        beyond: &[("warning", "finishing-detail")],
        limit: 0.25,
        over: false,
        aside: (0.05, 0.12),
        measure: "foil-line",
        inks: foil,
        marks: |spot| band(spot, "", &format!("gold{}", spot.number), [4.0, 4.0, 20.0, spot.value]),
        ..NONE
    },
    Fault {
        name: "foil-gap",
        beyond: &[("warning", "finishing-detail")],
        limit: 0.25,
        over: false,
        aside: (0.05, 0.12),
        measure: "foil-gap",
        inks: foil,
        marks: |spot| {
            let ink = format!("gold{}", spot.number);
            let bands = [("a", 3.0), ("b", 6.0 + spot.value)];
            bands.map(|(name, y)| band(spot, name, &ink, [4.0, y, 20.0, 3.0])).concat()
        },
        ..NONE
    },
    Fault {
        name: "finishing-tint",
        beyond: &[("warning", "finishing-plate")],
        limit: 99.5,
        over: false,
        aside: (0.5, 6.0),
        step: 1.0,
        measure: "gold",
        inks: foil,
        marks: |spot| {
            let value = spot.value.min(100.0);
            band(spot, "", &format!("gold{} percent={value}", spot.number), [0.0, 0.0, 20.0, 10.0])
        },
        ..NONE
    },
];

fn foil(spot: &Spot<'_>) -> String {
    format!("spot gold{} ink=\"Fault gold {}\" c=20 m=30 y=70 finishing=foil", spot.number, spot.number)
}
