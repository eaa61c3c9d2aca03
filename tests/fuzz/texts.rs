//! Texts: copy, tables and arguments as hands and programs spoil them.

use crate::chance::Chance;

const PIECES: [&str; 26] = [
    "*",
    "**",
    "_",
    "> ",
    "[",
    "](",
    "`",
    "# ",
    "- ",
    "1. ",
    "<b>",
    "&amp;",
    "\\",
    "\n\n",
    "\n",
    "| ",
    "~~",
    "---",
    "\u{200b}",
    "\u{202e}",
    "\u{301}",
    "\u{0}",
    "שלום",
    "a\u{ad}",
    "\u{1f468}\u{200d}",
    "word ",
];

/// Markdown, and whatever else a text may hold.
pub fn copy(text: &[u8], chance: &mut Chance) -> Vec<u8> {
    let mut text = String::from_utf8_lossy(text).into_owned();
    for _ in 0..=chance.below(4) {
        let at = text.floor_char_boundary(chance.below(text.len() + 1));
        let times = *chance.one(&[1, 1, 2, 9, 300, 5000]);
        text.insert_str(at, &chance.one(&PIECES).repeat(times));
    }
    let mut bytes = text.into_bytes();
    if chance.below(6) == 0 {
        crate::bytes::spoil(&mut bytes, chance);
    }
    bytes
}

/// A table with few rows, some of its cells gone wild.
pub fn table(text: &str, chance: &mut Chance) -> Vec<u8> {
    const CELLS: [&str; 16] = [
        "",
        "\"",
        "\"\"",
        "\"a\nb\"",
        ",",
        ";",
        "\t",
        "-1",
        "1e99",
        "978-0-00-000000-0",
        "../x.kdl",
        "{title}",
        "\u{202e}a",
        "a/b",
        "\u{0}",
        "ａ",
    ];
    let mut lines: Vec<String> = text.lines().take(2 + chance.below(3)).map(str::to_owned).collect();
    for _ in 0..=chance.below(4) {
        let at = chance.below(lines.len());
        let mut cells: Vec<String> = lines[at].split(',').map(str::to_owned).collect();
        let (one, other) = (chance.below(cells.len()), chance.below(cells.len()));
        match chance.below(6) {
            0 => cells.swap(one, other),
            1 => drop(cells.remove(one)),
            2 => cells.insert(one, (*chance.one(&CELLS)).to_owned()),
            3 => (*chance.one(&CELLS)).clone_into(&mut cells[one]),
            4 => cells[one] = "salt ".repeat(*chance.one(&[9, 5000])),
            _ => lines.swap(at, 0),
        }
        if chance.below(5) > 0 && at < lines.len() {
            lines[at] = cells.join(",");
        }
    }
    let mut bytes = lines.join(*chance.one(&["\n", "\n", "\r\n", "\r"])).into_bytes();
    if chance.below(4) == 0 {
        crate::bytes::spoil(&mut bytes, chance);
    }
    bytes
}

/// The same as objects, one for each row.
pub fn objects(table: &[u8]) -> Vec<u8> {
    let text = String::from_utf8_lossy(table);
    let mut lines = text.lines();
    let heads: Vec<&str> = lines.next().unwrap_or_default().split(',').collect();
    let row = |line: &str| {
        let cells = heads.iter().zip(line.split(',')).map(|(head, cell)| ((*head).to_owned(), cell.into()));
        serde_json::Value::Object(cells.collect())
    };
    let rows: Vec<serde_json::Value> = lines.map(row).collect();
    serde_json::to_vec(&rows).expect("strings")
}

/// What might be typed.
pub fn typed(chance: &mut Chance) -> Vec<String> {
    const WORDS: [&str; 12] = [
        "build",
        "check",
        "measure",
        "inputs",
        "compare",
        "tidy",
        "shelf",
        "explain",
        "new",
        "--help",
        "--version",
        "biuld",
    ];
    const REST: [&str; 46] = [
        "book",
        "book/cover.kdl",
        "nowhere",
        "",
        ".",
        "--out",
        "out2",
        "--only",
        "press",
        "flat,report",
        "proof,marked",
        "view",
        "screen,shop",
        "--range",
        "--surround",
        "marks",
        "--try",
        "pages=9",
        "trim=1 2",
        "paper.grammage=1e99",
        "=",
        "a=b=c",
        "--report",
        "json",
        "sarif",
        "--jobs",
        "1",
        "0",
        "99999999999",
        "--no-store",
        "--store",
        "store",
        "--edition",
        "us",
        "--title",
        "a,b",
        "--shard",
        "1/2",
        "0/0",
        "--picture",
        "p.png",
        "--rev",
        "HEAD",
        "--check",
        "--json",
        "\u{202e}\u{0301}",
    ];
    let mut words = vec![(*chance.one(&WORDS)).to_owned()];
    for _ in 0..chance.below(6) {
        let word = *chance.one(&REST);
        words.push(if chance.below(12) == 0 { word.repeat(5000) } else { word.to_owned() });
    }
    words.retain(|word| !word.contains('\0'));
    words
}
