//! Copy in Markdown: what is read, what is reported, what is never lost.

use crate::ground::{FileId, Findings};
use crate::typeset::Copy;
use crate::typeset::markdown::{mark_in, markdown};

fn read(text: &str) -> (Copy, Vec<String>) {
    let mut findings = Findings::default();
    let copy = markdown(&mut findings, FileId(3), text, &mut |_, words, _| words.to_owned());
    let stated = findings.iter().map(|finding| {
        assert_eq!(finding.span.file, FileId(3));
        text[finding.span.start..finding.span.end].to_owned()
    });
    (copy, stated.collect())
}

#[test]
fn looks_and_breaks() {
    let (copy, stated) = read("A *very **bold*** move\\\nby <sc>bbc</sc> &amp; co.\n\nTwo\nlines &NoBreak;here");
    assert!(stated.is_empty(), "{stated:?}");
    assert_eq!(copy.text(), "A very bold move\nby bbc & co.\n\nTwo lines \u{2060}here");
    let looks: Vec<_> = copy.paragraphs[0]
        .phrases
        .iter()
        .map(|phrase| (phrase.text.trim(), phrase.emphasis, phrase.strong, phrase.small_caps))
        .collect();
    assert_eq!(
        looks,
        [
            ("A", false, false, false),
            ("very", true, false, false),
            ("bold", true, true, false),
            ("move\nby", false, false, false),
            ("bbc", false, false, true),
            ("& co.", false, false, false),
        ]
    );
}

#[test]
fn what_is_no_copy_is_reported_and_kept() {
    let (copy, stated) =
        read("# Head\n\n- one\n- two\n\nSee [this](x.html) `code`.\n\n| a | b |\n|---|---|\n| c | d |\n");
    assert_eq!(copy.text(), "Head\n\n- one\n\n- two\n\nSee this code.\n\na b\n\nc d");
    assert_eq!(stated.len(), 5, "{stated:?}");
    assert_eq!(stated[2], "[this](x.html)");
}

#[test]
fn numbers_of_lists_are_words() {
    for (text, words) in [
        ("1952. Two brothers\nleave home.", "1952. Two brothers leave home."),
        ("1952.", "1952."),
        ("1) one\n\n7) *two*\n\n   more", "1) one\n\n7) two\n\nmore"),
    ] {
        let (copy, stated) = read(text);
        assert_eq!(copy.text(), words);
        assert_eq!(stated.len(), 1, "{stated:?}");
    }
}

#[test]
fn comments_are_not_printed_and_nothing_else_is_lost() {
    for (text, words, remarks) in [
        ("<!-- for the\n editor -->\n\nSalt", "Salt", 0),
        ("Salt <!-- for the\n editor --> and tar", "Salt  and tar", 0),
        ("<!-- one --> Salt\n\nand", "Salt\n\nand", 1),
        ("Salt\n\n<!-- no end\n\nof it", "Salt", 1),
        ("<div>\n5 < 6 <b>so</b>\n</div>\n\nTar", "5 < 6 so\n\nTar", 1),
        ("Salt\n\n[note]: words-to-go", "Salt", 1),
    ] {
        let (copy, stated) = read(text);
        assert_eq!(copy.text(), words, "{text}");
        assert_eq!(stated.len(), remarks, "{text} {stated:?}");
    }
}

#[test]
fn words_are_filled_in_after_marks_are_read() {
    let mut findings = Findings::default();
    let text = "Read *&amp; {title}*, {price}1_2.";
    let copy = markdown(&mut findings, FileId(3), text, &mut |findings, words, span| {
        let Some(at) = words.find('{') else { return words.to_owned() };
        let end = words.find('}').expect("the fact ends") + 1;
        findings.error(span(at..end), "seen", "");
        words.replace(&words[at..end], "*_<sc>_*")
    });
    assert_eq!(copy.text(), "Read & *_<sc>_*, *_<sc>_*1_2.");
    assert_eq!(copy.paragraphs[0].phrases.len(), 3);
    let places: Vec<&str> = findings.iter().map(|finding| &text[finding.span.start..finding.span.end]).collect();
    assert_eq!(places, ["{title}", "{price}"]);
}

#[test]
fn hidden_letters_are_reported_where_they_stand() {
    for text in ["Salt \u{202e}and tar", "Salt &#x2066;and tar", "Salt \u{7}and tar"] {
        let (_, stated) = read(text);
        assert_eq!(stated.len(), 1, "{text:?}");
        assert!(text.find(&stated[0]) == Some(5), "{stated:?}");
    }
}

#[test]
fn marks_in_plain_words_are_seen() {
    for (words, mark) in [
        ("Salt *and* tar", Some("*and*")),
        ("5 * 3, snake_case_name, A&B < C", None),
        ("a&nbsp;b", Some("&nbsp;")),
        ("<sc>bbc</sc> **news**", Some("<sc>")),
        ("1952. Two", None),
    ] {
        assert_eq!(mark_in(words), mark, "{words}");
    }
}
