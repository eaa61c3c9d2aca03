//! Lists of words: the words of the language are declared once, as data. No file lists some of them again.

use crate::house::code_of;
use crate::sources;
use std::collections::BTreeSet;

/// So many words of the language in one expression are a list of them.
const LIST: usize = 3;

/// Lists that have to be: the file, the first words of the list, and the reason.
const LISTED: [(&str, [&str; LIST], &str); 32] = [
    ("assets/drawing/spelled.rs", ["y", "width", "height"], "attributes of SVG"),
    ("assets/drawing/unheard.rs", ["y", "width", "height"], "attributes of SVG"),
    ("assets/drawing/unheard.rs", ["use", "image", "y"], "elements of SVG and what CSS may say of them"),
    ("assets/drawing/unread.rs", ["height", "mask", "opacity"], "properties of SVG"),
    ("source/habits.rs", ["title", "subtitle", "author"], "the parser stands below the language; a law compares"),
    ("source/habits.rs", ["percent", "c", "m"], "the parser stands below the language; a law compares"),
    ("source/habits.rs", ["leading", "size", "tracking"], "what to write instead, a sentence a word; a law compares"),
    ("cover/guides.rs", ["trim", "bleed", "safe"], "names of guides, declared here"),
    ("record/outline/element.rs", ["c", "m", "y"], "letters of the process inks in a report"),
    ("record/book_facts.rs", ["title", "subtitle", "author"], "facts and what people call them, declared here"),
    ("compare/change.rs", ["place", "words", "type"], "topics of a comparison, declared here"),
    ("check/approved.rs", ["words", "place", "look"], "the check stands below the words; a test writes what it offers"),
    ("check/rules/facts_disagree/names.rs", ["author", "translator", "illustrator"], "which facts name people"),
    ("check/rules/unknown_word.rs", ["title", "subtitle", "author"], "which facts are names"),
    ("check/rules/line_breaks.rs", ["title", "author", "translator"], "which facts are names"),
    ("cover/rights.rs", ["picture", "font", "quote"], "kinds of works, declared here"),
    ("cover/rights.rs", ["source", "licence", "credit"], "parts of a right, declared here"),
    ("language/look.rs", ["top", "left", "right"], "corners and sides that a turn may leave in place, declared here"),
    ("language/nodes/image/veil.rs", ["left", "right", "top"], "edges towards which a picture fades, declared here"),
    ("check/exam.rs", ["left", "right", "head"], "sides of a panel, in messages"),
    ("check/pages/mod.rs", ["copy", "file", "language"], "names of rules, declared here"),
    ("compare/movement.rs", ["left", "right", "down"], "ways in which an element has moved, in messages"),
    ("check/rules/copy_marks.rs", ["of", "to", "from"], "words of English, French and Spanish before a number"),
    ("output/drifted.rs", ["left", "right", "head"], "ways in which a cut may be off, in names of pictures"),
    ("output/proof/wrap_page.rs", ["trim", "bleed", "keyline"], "lines on the proof, in its legend"),
    ("preview/reading.rs", ["y", "inks", "over"], "names in an answer to the page"),
    ("cli/outcome.rs", ["text", "picture", "view"], "what a run made, in its summary"),
    ("cli/sarif.rs", ["rule", "level", "text"], "names in a report, of the SARIF standard"),
    ("cli/shelf.rs", ["title", "number", "spine"], "names in a report for programs"),
    ("compare/sheet.rs", ["more", "pages", "more"], "words of a sentence"),
    ("cover/reading.rs", ["down", "upright", "across"], "ways in which a spine reads, declared here"),
    ("language/nodes/text/copy.rs", ["words", "of", "copy"], "English words of copy that is still to come"),
];

#[test]
fn words_are_listed_once() {
    let words = words();
    let mut left: BTreeSet<String> =
        LISTED.iter().map(|(path, start, _)| format!("{path}: {}", start.join(", "))).collect();
    let mut faults = Vec::new();
    for (path, text) in sources() {
        for list in lists(&code_of(&text), &words) {
            if !left.remove(&format!("{path}: {}", list[..LIST].join(", "))) {
                faults.push(format!("src/{path} lists {}", list.join(", ")));
            }
        }
    }
    assert!(faults.is_empty(), "take these from the words as they are declared: {faults:#?}");
    assert!(left.is_empty(), "these lists are no more: {left:?}");
}

#[test]
fn a_list_is_seen_in_every_form() {
    let words = words();
    for list in [
        "const A: [&str; 3] = [\"left\", \"width\", \"barcode\"];",
        "matches!(name, \"left\" | \"width\" | \"barcode\")",
        "match name {\n    \"left\" => 1,\n    \"width\" => { 2 }\n    \"barcode\" => 3,\n}",
        "[(\"left\", \"it is a length\"), (\"width\", \"so is it\"), (\"barcode\", \"it is none\")]",
    ] {
        assert_eq!(lists(list, &words), [["left", "width", "barcode"]], "{list}");
    }
    for none in [
        "let a = [\"left\", \"width\"]; let b = [\"barcode\"];",
        "Word::new(\"left\", \"a\"), Word::new(\"width\", \"b\"), Word::new(\"barcode\", \"c\")",
        "// \"left\", \"width\", \"barcode\"",
    ] {
        assert!(lists(none, &words).is_empty(), "{none}");
    }
}

/// The names of all words and properties of the language.
fn words() -> BTreeSet<&'static str> {
    let all = jaconet::vocabulary().into_iter().filter_map(|path| path.last().copied());
    all.flat_map(|word| std::iter::once(word).chain(word.properties)).map(|word| word.name).collect()
}

/// The words of each expression that holds several of them as strings. What stands right behind `name(` is passed on to a
/// function, such as the one that declares a word, and counts for nothing.
fn lists(code: &str, words: &BTreeSet<&str>) -> Vec<Vec<String>> {
    let mut all: Vec<Vec<String>> = vec![Vec::new()];
    for line in code.lines().map(|line| line.split("//").next().unwrap_or_default().replace("\\\"", "")) {
        let ends = |outside: &str| outside.contains(';') || outside.starts_with('}') || outside.starts_with("fn ");
        for (at, part) in line.split('"').enumerate() {
            let before = || line[..part.as_ptr() as usize - line.as_ptr() as usize - 1].chars().rev();
            let passed = || before().next() == Some('(') && before().nth(1).is_some_and(char::is_alphanumeric);
            if at % 2 == 0 && ends(part) {
                all.push(Vec::new());
            } else if at % 2 == 1 && words.contains(part) && !passed() {
                all.last_mut().expect("there is one to begin with").push(part.to_owned());
            }
        }
    }
    all.retain(|list| list.iter().collect::<BTreeSet<_>>().len() >= LIST);
    all
}
