//! The parser against slips, wild bytes, and trees of its own making.

use crate::ground::kept::kept;
use crate::ground::{FileId, Findings};
use crate::source::{Datum, Node, Tree, parse};
use proptest::prelude::*;
use std::fmt::Write as _;

fn read(text: &str) -> (Tree, Findings) {
    let mut findings = Findings::default();
    let tree = parse(&mut findings, FileId(0), text);
    (tree, findings)
}

/// The one finding of a text: what it points at, and its words.
fn reported(text: &str) -> (String, String) {
    let (tree, findings) = read(text);
    let all: Vec<_> = findings.iter().collect();
    assert_eq!(all.len(), 1, "{text}: {all:?}");
    assert!(tree.nodes.is_empty());
    let finding = all[0];
    let pointed = text[finding.span.start..finding.span.end].to_owned();
    (pointed, format!("{} / {}", finding.message, finding.help.as_deref().unwrap_or_default()))
}

#[test]
fn slips_are_reported_where_they_stand() {
    let cases = [
        ("book {\n  size 10pt\n}\n", "10pt", "(pt)10"),
        ("trim 10mm 20mm", "10mm", "write 10 where millimetres"),
        ("tint percent=40%", "40%", "write 40"),
        ("leading 120%", "120%", "`leading percent=120`"),
        ("opacity 40%", "40%", "write 40: percent"),
        ("swatch night c=40%", "40%", "write 40: percent"),
        ("paper grammage=80gsm", "80gsm", "write 80"),
        ("title The 2nd True Ridge", "The 2nd True Ridge", "\"The 2nd True Ridge\""),
        ("title The Cold Ridge\"", "\"", "closes nothing"),
        ("title: \"Salt\"", ":", "`title …`"),
        ("font \"EB Garamond\", weight=bold", ",", "no commas"),
        ("bleed .5", ".5", "0.5"),
        ("bleed -.5", "-.5", "-0.5"),
        ("bleed 5.", "5.", "5"),
        ("hyphenate true", "true", "#true"),
        ("font italic=false", "false", "#false"),
        ("isbn null", "null", "#null"),
        ("rgb sea #2f6f7e", "#2f6f7e", "\"#2f6f7e\""),
        ("swatch sea #2f6f7e", "#2f6f7e", "`rgb sea \"#2f6f7e\"`"),
        ("band a { swatch #25a }", "#25a", "`swatches { rgb NAME \"#2255aa\" }`"),
        ("swatch sea rgb(32, 48, 80)", "rgb(32, 48, 80)", "`rgb sea \"#203050\"`"),
        ("swatch sea cmyk(80,60,20,10)", "cmyk(80,60,20,10)", "`swatch sea c=80 m=60 y=20 k=10`"),
        ("paint cmyk(80 60 20 10)", "cmyk(80 60 20 10)", "`swatches { swatch NAME c=80 m=60 y=20 k=10 }`"),
        ("isbn 978-1-83742-615-7", "978-1-83742-615-7", "an ISBN goes in quotes"),
        ("bleed 12,5", "12,5", "12.5"),
        ("trim 129, 198", "129,", "no commas: values stand apart by spaces: `trim 129 198`"),
        ("trim 129x198", "129x198", "129 198"),
        ("version date=2026-04-02", "2026-04-02", "quotes"),
        ("title \"Salt\nauthor \"Mirela\"", "\"", "not closed on its line"),
        ("title \"Salt\" \"and", "\"", "not closed on its line"),
        ("title \"\"\"\nSalt", "\"", "not closed before the end"),
        ("book {\n  title \"a\"\n", "{", "never closed"),
        ("book {\n}\n}\n", "}", "closes nothing"),
        ("title = \"Salt\"", "=", "after a space"),
        ("size=12", "=", "after a space"),
        ("paper grammage=", "=", "nothing follows"),
        ("# a comment", "#", "comments begin with //"),
        ("/* a comment", "/*", "not closed"),
        ("book \\/* a comment", "/*", "not closed"),
        ("title “Salt and Lanterns”", "“Salt", "straight double quotes: \"Salt and Lanterns\""),
        ("title 'Salt and Lanterns'", "'Salt", "straight double quotes: \"Salt and Lanterns\""),
        ("image file=art/key.png", "art/key.png", "a path goes in quotes"),
        ("image file=\"art\\key.png\"", "\\k", "stand apart by /"),
        ("text words=\"he said \"no\" twice\"", "no", "\\\""),
        ("panel front\n{\n}", "{", "end of the line"),
        ("a { b } c", "c", "new line"),
        ("size 12(pt)", "(pt)", "(pt)12"),
        ("size (pt 12", "(", "not closed"),
        ("trim [129 198]", "[129", "without brackets"),
        ("title \u{1}", "\u{1}", "U+0001"),
        ("copy \"\"\"Salt\n\"\"\"", "\"\"\"", "line of its own"),
    ];
    for (text, pointed, words) in cases {
        let (found, stated) = reported(text);
        assert_eq!(found, pointed, "{text}: {stated}");
        assert!(stated.contains(words), "{text}: {stated}");
    }
}

#[test]
fn slips_of_several_lines_come_together() {
    let text = "book {\n  title “Salt”; pages 10pt\n  bleed .5\n}\n}\n";
    let (_, findings) = read(text);
    let lines: Vec<usize> = findings.iter().map(|finding| text[..finding.span.start].lines().count()).collect();
    assert_eq!(lines, [2, 3], "one a line, and braces wait for the rest");
}

/// Comments that the parser would read by calling itself until its stack is used up, and pieces that took long.
#[test]
fn no_text_takes_the_stack_or_the_day() {
    let nested = |deep: usize| format!("{} {}", "/*".repeat(deep), "*/".repeat(deep));
    let texts = [
        nested(1_000),
        nested(100_000),
        format!("/*{}*/", "*".repeat(4_335)),
        format!("/*{}*/", "*".repeat(1 << 19)),
        format!("/*\n{}*/", "//\n".repeat(1_445)),
        format!("/*\n{}*/", "// x\n".repeat(100_000)),
        "// x\n".repeat(100_000),
        "/* x */ ".repeat(100_000),
        format!("a {}1", "/* x */".repeat(100_000)),
        format!("a {}1", "\\ /* x */ // y\n".repeat(10_000)),
        format!("a (pt{})1", nested(1_000)),
        format!("a ({}pt)1", nested(1_000)),
        " ".repeat(1_000_000),
        "\n".repeat(1_000_000),
        ";".repeat(1_000_000),
        "#\"\n".repeat(100_000),
        "a{}".repeat(100_000),
        "a{};".repeat(100_000),
        "a 1 ".repeat(100_000),
        "/-a;".repeat(100_000),
        "a\"".repeat(100_000),
    ];
    for text in texts {
        read(&text);
    }
    let (tree, findings) = read(&format!("a 1 {} b=2 // c\nd", nested(1_000)));
    assert!(findings.is_empty() && tree.nodes.len() == 2 && tree.nodes[0].properties.len() == 1);
}

#[test]
fn an_unclosed_block_is_reported_by_its_own_brace() {
    let text = "book {\n    title \"a\" {\n        short \"b\"\n    pages 3\n}\npanel front {\n}\n";
    let (_, findings) = read(text);
    let finding = findings.iter().next().expect("a brace is missing");
    assert_eq!(text[..finding.span.start].lines().count(), 2, "{finding:?}");
}

#[test]
fn depth_and_size_have_limits() {
    for text in ["a{".repeat(100_000), format!("{}{}", "a{".repeat(100_000), "}".repeat(100_000)), "{".repeat(100_000)]
    {
        assert_eq!(read(&text).1.len(), 1);
    }
    let deep = format!("{}{}", "a{".repeat(48), "}".repeat(48));
    assert!(read(&deep).1.is_empty());
    let slashed = format!("{}{}", "a /-{".repeat(40), "}".repeat(40));
    assert_eq!(read(&slashed).1.len(), 1);
    assert_eq!(read(&" ".repeat((1 << 20) + 1)).1.len(), 1);
    assert!(read(&"a \"b\" c=1\n".repeat(10_000)).1.is_empty());
}

#[test]
fn plain_kdl_passes() {
    let text = "\u{feff}// a cover\nbook { title \"Salt\" { short \"S\"; }; pages 312 state = confirmed }\n\
        /- band x { swatch y }\nsize (pt)9 /-10 +1.5e2 0x1f\nquote #\"raw \\ \"text\"#\ncopy \"\"\"\n  two\n  lines\n  \"\"\"\n\
        long a \\\n  b /* c /* d */ */ c\nhyphenate #false\nempty \"\"\nd'Arc\n";
    let (tree, findings) = read(text);
    assert!(findings.is_empty(), "{findings:?}");
    let names: Vec<&str> = tree.nodes.iter().map(|node| node.name.value.as_str()).collect();
    assert_eq!(names, ["book", "size", "quote", "copy", "long", "hyphenate", "empty", "d'Arc"]);
    assert_eq!(tree.nodes[3].values[0].datum, Datum::Text("two\nlines".to_owned()));
    assert_eq!(tree.nodes[1].values[0].unit.as_deref(), Some("pt"));
    let span = tree.nodes[0].span;
    assert!(text[span.start..span.end].ends_with("confirmed }"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1_000, failure_persistence: kept("tests/lots/source-parse.txt"), ..ProptestConfig::default() })]

    #[test]
    fn wild_text_never_panics(text in any::<String>()) {
        read(&text);
    }

    #[test]
    fn wild_tokens_give_a_tree_or_one_finding(
        tokens in prop::collection::vec(prop::sample::select(vec![
            "a", "b=", "=", "\"t\"", "\"", "\"\"\"", "#\"", "\"#", "{", "}", "\n", ";", "/-", "/*", "*/", "//", "(pt)", "(", ")",
            "1", "-1.5", "#true", "true", "\\", " ", "  ", "é", "\r\n", "\u{2028}", "/", "#", ".", "\\u{41}", "1.e", "“",
        ]), 0..40),
    ) {
        let text = tokens.concat();
        let (tree, findings) = read(&text);
        prop_assert!(tree.nodes.is_empty() || findings.iter().all(|finding| finding.message.contains("`(pt)`")));
        for finding in findings.iter() {
            prop_assert!(text.get(finding.span.start..finding.span.end).is_some());
        }
        // What the parser takes, we take: our slips must not forbid any KDL but quotes that do not quote.
        if kdl::KdlDocument::parse_v2(&text).is_ok() {
            prop_assert!(
                findings.iter().all(|finding| finding.message.contains("quote here") || finding.message.contains("`(pt)`")),
                "{text:?} {findings:?}"
            );
        }
    }

    #[test]
    fn trees_come_back_with_their_places(nodes in prop::collection::vec(planted(), 0..5)) {
        let mut text = String::new();
        for node in &nodes {
            node.write(&mut text, 0);
        }
        let (tree, findings) = read(&text);
        prop_assert!(findings.is_empty(), "{text}\n{findings:?}");
        prop_assert_eq!(tree.nodes.len(), nodes.len());
        for (found, planted) in tree.nodes.iter().zip(&nodes) {
            planted.compare(found, &text);
        }
    }
}

#[derive(Clone, Debug)]
struct Planted {
    name: String,
    /// A property's name, the unit, and the value as written and as meant.
    entries: Vec<(Option<String>, Option<&'static str>, String, Datum)>,
    children: Vec<Planted>,
}

fn planted() -> impl Strategy<Value = Planted> {
    let name = "[a-zé][a-z-]{0,6}[0-9]";
    let number = (-9999..9999_i32).prop_map(|number| {
        let value = f64::from(number) / 8.0;
        (value.to_string(), Datum::Number(value))
    });
    let text = "[a-z é“”{}#=;/]{0,9}".prop_map(|text| (format!("\"{text}\""), Datum::Text(text)));
    let flag = any::<bool>().prop_map(|flag| (format!("#{flag}"), Datum::Flag(flag)));
    let unit = prop::option::of(Just("pt"));
    let value = prop_oneof![
        (unit, number).prop_map(|(unit, (stated, meant))| (unit, stated, meant)),
        prop_oneof![text, flag].prop_map(|(stated, meant)| (None, stated, meant)),
    ];
    let entry = (prop::option::of(name), value).prop_map(|(key, (unit, stated, meant))| (key, unit, stated, meant));
    let leaf = (name, prop::collection::vec(entry, 0..4));
    let leaf = leaf.prop_map(|(name, entries)| Planted { name, entries, children: Vec::new() });
    leaf.prop_recursive(3, 12, 3, |inner| {
        (inner.clone(), prop::collection::vec(inner, 0..3)).prop_map(|(node, children)| Planted { children, ..node })
    })
}

impl Planted {
    fn write(&self, text: &mut String, depth: usize) {
        write!(text, "{}{}", "    ".repeat(depth), self.name).expect("a string takes all");
        for (key, unit, stated, _) in &self.entries {
            let key = key.as_ref().map_or(String::new(), |key| format!("{key}="));
            let unit = unit.map_or(String::new(), |unit| format!("({unit})"));
            write!(text, " {key}{unit}{stated}").expect("a string takes all");
        }
        if !self.children.is_empty() {
            text.push_str(" {\n");
            self.children.iter().for_each(|child| child.write(text, depth + 1));
            text.push_str(&"    ".repeat(depth));
            text.push('}');
        }
        text.push('\n');
    }

    fn compare(&self, found: &Node, text: &str) {
        let slice = |span: crate::ground::Span| &text[span.start..span.end];
        assert_eq!(found.name.value, self.name);
        assert_eq!(slice(found.name.span), self.name);
        let (mut values, mut properties) = (found.values.iter(), found.properties.iter());
        for (key, unit, stated, meant) in &self.entries {
            let value = match key {
                Some(key) => {
                    let (name, value) = properties.next().expect("as many as planted");
                    assert_eq!((name.value.as_str(), slice(name.span)), (key.as_str(), key.as_str()));
                    value
                }
                None => values.next().expect("as many as planted"),
            };
            assert_eq!((&value.datum, value.unit.as_deref()), (meant, *unit));
            assert_eq!(slice(value.span), unit.map_or(stated.clone(), |unit| format!("({unit}){stated}")));
        }
        let whole = slice(found.span);
        assert!(whole.starts_with(&self.name) && whole.trim_end() == whole);
        assert_eq!(whole.ends_with('}'), !self.children.is_empty() || whole.lines().count() > 1);
        assert_eq!(found.children.len(), self.children.len());
        found.children.iter().zip(&self.children).for_each(|(found, planted)| planted.compare(found, text));
    }
}
