//! Plain: what people read is English of today.

use crate::files::below;
use crate::{root, shown};

/// Turns of phrase that are out of use, and what is written instead. Ours: readers stumbled over each of them.
const OLD: &[(&str, &str)] = &[
    ("is told", "is reported"),
    ("are told", "are reported"),
    ("been told", "been reported"),
    ("was told", "was reported"),
    ("parted by", "separated by"),
    ("without a word", "by default, silently"),
    ("dear to", "slow, expensive"),
    ("said twice", "stated twice"),
    ("said once", "stated once"),
    ("anew", "again"),
    ("by lot", "at random"),
    ("ever after", "by every later run"),
    ("nought", "zero, nothing"),
    ("a picture a panel", "one picture per panel"),
    ("file a panel", "one file per panel"),
    ("upon", "on"),
    ("thereof", "of it"),
    ("hither", "here"),
    ("whence", "from where"),
    ("lest", "so that … not"),
    ("in vain", "without effect"),
    ("await", "expect"),
    ("awaits", "expects"),
    ("awaited", "expected"),
];

#[test]
fn people_read_english_of_today() {
    let mut faults = Vec::new();
    let mut lines = 0;
    let mut files = below(&root(), &["src", "tests", "docs"], &["rs", "md", "txt", "kdl", "py"]);
    files.extend(["README.md", "DEVELOPERS.md"].map(|name| root().join(name)));
    for path in files {
        let text = std::fs::read_to_string(&path).unwrap_or_default();
        let shown = shown(&path);
        if shown.ends_with("tidy/plain.rs") {
            continue;
        }
        for (at, line) in text.lines().enumerate() {
            lines += 1;
            let is_code = path.extension().is_some_and(|end| end == "rs");
            let read = if is_code { read_by_people(line) } else { line.to_owned() };
            let words = words(&read);
            for (old, new) in OLD.iter().filter(|(old, _)| words.contains(&format!(" {old} "))) {
                faults.push(format!("{shown}:{}: `{old}`; better: {new}", at + 1));
            }
        }
    }
    assert!(lines > 10_000, "the house has more lines than {lines}");
    assert!(faults.is_empty(), "{} old turns of phrase:\n{}", faults.len(), faults.join("\n"));
}

/// The comment and the strings of a line of code. Words of a cover, `words="…"`, are what authors write.
fn read_by_people(line: &str) -> String {
    let (code, comment) = line.find("//").map_or((line, ""), |at| line.split_at(at));
    let strings: Vec<&str> = code.split('"').skip(1).step_by(2).collect();
    if line.contains("words=") { String::new() } else { format!("{} {comment}", strings.join(" ")) }
}

/// In small letters, one blank around each.
fn words(text: &str) -> String {
    let text = text.replace("told apart", "");
    let plain: String = text.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { ' ' }).collect();
    format!(" {} ", plain.split_whitespace().collect::<Vec<_>>().join(" "))
}
