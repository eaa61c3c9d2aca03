//! Words, rights and approvals that a house has stated, and a cover that does not keep to them.

use crate::copy::either;
use crate::list::{Fault, NONE, Spot};

/// The grey picture states no colour space.
const ASSUMED: (&str, &str) = ("note", "colour-space-assumed");

pub const FACTS: [Fault; 8] = [
    Fault {
        name: "two-spellings",
        beyond: &[("note", "two-spellings")],
        measure: "says Sorholm",
        marks: |spot| either(spot, "From Sørholm to Sorholm", "From Sørholm to Sørholm"),
        ..NONE
    },
    Fault {
        name: "unknown-word",
        beyond: &[("note", "unknown-word")],
        measure: "says lihgts",
        top: |_| "word-list en file=\"fault/words.txt\"".to_owned(),
        marks: |spot| either(spot, "The lihgts of Osselby", "The lights of Osselby"),
        ..NONE
    },
    Fault {
        name: "approved-words",
        // Both examples ask for pictures of the book.
        beyond: &[("warning", "changed-since-approval"), ("warning", "shown-not-approved")],
        measure: "digest",
        marks: |spot| {
            let text = either(spot, "Lights and salt", "Lights of Osselby");
            let held = format!("{{ approved by=\"M. Anand\" words=\"{APPROVED}\"; font");
            text.replacen("{ font", &held, 1)
        },
        ..NONE
    },
    Fault {
        name: "long-alt-text",
        beyond: &[("note", "alt-text-missing")],
        limit: 250.5,
        aside: (0.5, 40.0),
        step: 1.0,
        measure: "alt",
        facts: |spot| format!("alt-text \"{}\"", "é".repeat(spot.value as usize)),
        top: |_| "deliver { shop 1290 1980 ratio=crop }\nlimit thumbnail title=1 author=1 contrast=1".to_owned(),
        ..NONE
    },
    Fault {
        name: "line-missing",
        beyond: &[("warning", "line-missing")],
        measure: "lacks Printed in Sarlo",
        top: |_| "must-say \"Printed in Sarlo\"".to_owned(),
        marks: |spot| either(spot, "Printed far away", "Printed in Sarlo"),
        ..NONE
    },
    Fault {
        name: "licence-ended",
        beyond: &[ASSUMED, ("error", "rights-missing")],
        within: &[ASSUMED],
        limit: 0.0,
        over: false,
        aside: (1.0, 3.0),
        step: 1.0,
        measure: "licence",
        top: |spot| {
            let year = 2026.0 + spot.value;
            format!("rights {{ picture \"fault/busy.jpg\" licence=\"a letter\" until=\"{year}-04-30\" }}")
        },
        marks: |spot| {
            let Spot { x, y, number, .. } = spot;
            format!("image f{number} file=\"fault/busy.jpg\" {{ left {x}; width 8; top {y} }}")
        },
        ..NONE
    },
    Fault {
        name: "praise-without-a-name",
        beyond: &[("warning", "quote-attribution")],
        measure: "lacks Una Feld",
        facts: |_| "quote \"Nine tides in one sitting.\" by=\"Una Feld\" source=\"The Sarlo Gazette\"".to_owned(),
        marks: |spot| either(spot, "Nine tides in one sitting.", "Nine tides in one sitting. Una Feld"),
        ..NONE
    },
    Fault {
        name: "price-left-out",
        beyond: &[("note", "price-missing")],
        measure: "lacks €12.50",
        facts: |_| "price EUR \"12.50\"".to_owned(),
        marks: |spot| either(spot, "Fiction", "{price.EUR}"),
        ..NONE
    },
];

/// The first eight digits of the SHA-256 of `Lights of Osselby`, with its length in eight bytes before it.
const APPROVED: &str = "4eea84f1";
