//! Words that should have been others.

use crate::list::{Fault, NONE, Spot, words};

pub const COPY: [Fault; 9] = [
    Fault {
        name: "stand-in-words",
        beyond: &[("error", "placeholder-left")],
        measure: "says Quote TK",
        marks: |spot| either(spot, "Quote TK", "Quote taken"),
        ..NONE
    },
    Fault {
        name: "straight-quote",
        beyond: &[("warning", "copy-marks")],
        measure: "says Now it's late",
        marks: |spot| either(spot, "Now it's late", "Now it’s late"),
        ..NONE
    },
    Fault {
        name: "hyphen-for-a-dash",
        beyond: &[("warning", "copy-marks")],
        measure: "says Lights - and salt",
        marks: |spot| either(spot, "Lights - and salt", "Lights – and salt"),
        ..NONE
    },
    Fault {
        name: "word-twice",
        beyond: &[("warning", "copy-marks")],
        measure: "says of the the sea",
        marks: |spot| either(spot, "Tales of the the sea", "Tales of the sea"),
        ..NONE
    },
    Fault {
        name: "other-isbn",
        beyond: &[("error", "facts-disagree")],
        measure: "says 978-0-306-40615-7",
        marks: |spot| either(spot, "978-0-306-40615-7", "{isbn}"),
        ..NONE
    },
    Fault {
        name: "old-price",
        beyond: &[("error", "facts-disagree")],
        measure: "says £9.99",
        marks: |spot| either(spot, "£9.99", "{price}"),
        ..NONE
    },
    Fault {
        name: "name-misspelt",
        beyond: &[("error", "facts-disagree")],
        measure: "says wrong",
        marks: |spot| either(spot, spot.base.wrong_name, "{author}"),
        ..NONE
    },
    Fault {
        name: "announcement",
        beyond: &[("warning", "stale-year")],
        limit: 2025.5,
        over: false,
        aside: (0.5, 3.5),
        step: 1.0,
        measure: "year",
        marks: |spot| words(spot, &format!("The next part: coming in {}.", spot.value), 8.5, "black"),
        ..NONE
    },
    Fault {
        name: "language",
        beyond: &[("warning", "other-language")],
        measure: "says und von denen",
        marks: |spot| {
            either(
                spot,
                "Das ist ein Roman von der See und von denen, die auf ihr leben, und die auf dem Land warten.",
                "A novel of the sea and of those who live on it, and of those who wait for them on land.",
            )
        },
        ..NONE
    },
];

/// One of two sets of words, by the side of the limit.
pub fn either(spot: &Spot<'_>, beyond: &str, within: &str) -> String {
    words(spot, if spot.value > 0.5 { beyond } else { within }, 8.5, "black")
}
