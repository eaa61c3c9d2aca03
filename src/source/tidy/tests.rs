//! Tests of the layout: each text beside what becomes of it.

use super::*;

#[test]
fn first() {
    for text in ["a { b }\nc\n", "a 1; b 2\n", "a {\n b\n}\n", "a { b 1; c 2 }\nd", "a {\n  b 1; c 2\n}\n"] {
        let laid = laid_out(text);
        println!("{text:?}\n{laid:?}\n{:?} {:?}", words(text), words(&laid));
    }
}
