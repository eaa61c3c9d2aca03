//! Tests of the layout: each text beside what becomes of it.

use crate::ground::{FileId, Findings};
use crate::source::parse;
use crate::source::parse::TEXT_LIMIT;
use crate::source::tidy::tidied::{Untidied, laid_out, says_the_same, tidied};

fn lay(text: &str) -> String {
    let mut findings = Findings::default();
    let laid = tidied(&mut findings, FileId(0), text);
    laid.unwrap_or_else(|why| panic!("{why:?}: {text}\n{}", laid_out(text)))
}

/// Lays out every text as expected, and what was expected as it is.
fn becomes(cases: &[(&str, &str)]) {
    for (text, awaited) in cases {
        assert_eq!(lay(text), *awaited, "{text}");
        assert_eq!(lay(awaited), *awaited, "the second time");
    }
}

#[test]
fn blanks_and_levels() {
    becomes(&[
        ("", ""),
        ("\n\n  \n", ""),
        ("a   1\tb  =  ( in ) 5.5", "a 1 b=(in)5.5\n"),
        ("a{b}", "a { b }\n"),
        ("a {\n}", "a {}\n"),
        ("\n\na {\n\n\tb {\n c;\n\n\n\n d\n\n}\n}\n\n\n", "a {\n    b {\n        c\n\n        d\n    }\n}\n"),
        ("\u{feff}a 1\r\nb\u{a0}2;\r\n\r\n", "a 1\nb 2\n"),
        ("a 1; b 2; c { d 1; e }; f", "a 1; b 2\nc { d 1; e }\nf\n"),
        ("a {\n left 1 ;right 2; b {c}\n}", "a {\n    left 1; right 2\n    b { c }\n}\n"),
    ]);
}

#[test]
fn text_keeps_its_bytes() {
    let long = "a \"\"\"\n  one\n\n    two\t\n  \"\"\" b=#\"\\\"#";
    becomes(&[
        ("a   \"x  y\"  #\"\\ // \"#  1_000  0x1F", "a \"x  y\" #\"\\ // \"# 1_000 0x1F\n"),
        (long, &format!("{long}\n")),
        (&format!("c {{\n{long} {{ d }}\n}}"), &format!("c {{\n    {long} {{ d }}\n}}\n")),
        ("a \"\"\"\r\n  x\r\n  \"\"\"\r\n", "a \"\"\"\n  x\n  \"\"\"\n"),
        ("a \"one \\\n      two\"", "a \"one \\\n      two\"\n"),
    ]);
}

#[test]
fn comments_keep_their_place() {
    becomes(&[
        ("// a  \n\n\n  // b\nc", "// a  \n\n// b\nc\n"),
        ("a {// b\n// c\nd// e\n// f\n}// g", "a {  // b\n    // c\n    d  // e\n    // f\n}  // g\n"),
        ("a/*b*/1  /* c\n  d */ 2 /* e /* f */ */", "a /*b*/ 1 /* c\n  d */ 2 /* e /* f */ */\n"),
        ("/* a */ b; /* c */", "/* a */ b; /* c */\n"),
        ("a { /* b */ }", "a { /* b */ }\n"),
        ("  //^^ error: points\n", "  //^^ error: points\n"),
        ("a b=/*c*/1", "a b=/*c*/ 1\n"),
        ("a /- b /-c=1 /- { d } {e}\n/-\nf 1 {\n}", "a /- b /-c=1 /- { d } { e }\n/- f 1 {}\n"),
        ("/- kdl-version 2\na", "/- kdl-version 2\na\n"),
        ("/- // a\nb 1", "/- // a\n    b 1\n"),
    ]);
}

#[test]
fn comments_behind_neighbours_stand_in_one_column() {
    becomes(&[
        ("a 1 // x\nlonger 2 // y\n\nb // z", "a 1       // x\nlonger 2  // y\n\nb  // z\n"),
        ("a 1   2 // x", "a 1 2  // x\n"),
        ("a 1      // x\nb 2 // y\n", "a 1      // x\nb 2      // y\n"),
        ("a 1          // x\nb           // y\n", "a 1         // x\nb           // y\n"),
        ("a 1     // x\n        // goes on\n  // not\n", "a 1     // x\n        // goes on\n// not\n"),
    ]);
    let long = format!("a {}", "b ".repeat(60).trim());
    becomes(&[(&format!("c // x\n{long} // y\nd // z"), &format!("c  // x\n{long}  // y\nd  // z\n"))]);
}

#[test]
fn lines_that_go_on() {
    becomes(&[
        ("a 1 \\\n2 \\ // b\n  3\\\n\n c", "a 1 \\\n    2 \\ // b\n    3\nc\n"),
        ("a \\\n  \\\n  b", "a \\\n    b\n"),
        ("\\\na; \\\nb \\ // c\n", "a; b  // c\n"),
        ("a {\n b \\\n  1 {\n c\n}\n}", "a {\n    b \\\n        1 {\n        c\n    }\n}\n"),
    ]);
}

#[test]
fn what_does_not_fit_is_broken_at_semicolons() {
    let node = |name: &str| format!("{name} \"{}\"", "x".repeat(30));
    let (b, c, d, e) = (node("b"), node("c"), node("d"), node("e"));
    becomes(&[
        (&format!("a {{ {b}; {c} }}"), &format!("a {{ {b}; {c} }}\n")),
        (&format!("a {{ {b}; {c}; {d}; {e} }}"), &format!("a {{\n    {b}; {c}\n    {d}; {e}\n}}\n")),
        (&format!("{b}; {c}; {d}; {e}"), &format!("{b}; {c}\n{d}; {e}\n")),
        (
            &format!("a {{ b {{ {b} }}; c {{ {c}; {d} }} }}"),
            &format!("a {{\n    b {{ {b} }}\n    c {{ {c}; {d} }}\n}}\n"),
        ),
    ]);
    // What cannot be broken stays.
    let wide = format!("a \"{}\"\n", "x".repeat(200));
    becomes(&[(&wide, &wide)]);
}

#[test]
fn faults_are_reported_and_nothing_is_laid_out() {
    for text in ["a {", "a 10pt", "(pt)a 1", "a \"b", "}"] {
        let mut findings = Findings::default();
        assert_eq!(tidied(&mut findings, FileId(0), text), Err(Untidied::Faulty), "{text}");
        assert!(findings.has_errors());
    }
}

#[test]
fn indents_do_not_carry_a_file_beyond_the_limit() {
    let deep = format!("{}b{}\n", "a { ".repeat(40), " }".repeat(40)).repeat(250);
    assert!(deep.len() < TEXT_LIMIT);
    assert_eq!(tidied(&mut Findings::default(), FileId(0), &deep), Err(Untidied::TooLarge));
}

/// The comparison that stands between a fault of the layout and the author's file.
#[test]
fn a_text_that_says_something_else_is_noticed() {
    let same = |old: &str, new: &str| {
        let before = parse(&mut Findings::default(), FileId(0), old);
        says_the_same(FileId(0), &before, old, new)
    };
    assert!(same("a 1 // b\n", "a   1 // b"));
    for new in ["a 1 // c", "a 1", "a 2 // b", "a 1; a // b", "a 1 /- c // b", "a { 1 // b", "a \"1\" // b"] {
        assert!(!same("a 1 // b\n", new), "{new}");
    }
    assert!(!same("a /-1 2", "a /-3 2"));
    assert!(same("a #nan 0.1", "a #nan  0.1"));
}
