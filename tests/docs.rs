//! Docs: the manual in `docs/language/` is the words' own pages, whatever it shows builds, and so do the examples.
#![expect(clippy::disallowed_methods, reason = "it reads and blesses the manual")]

use jaconet::testing::{CoverTester, TestedCover, language, limits, read_table, rules, topics};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

#[path = "kit/blocks.rs"]
mod blocks;
#[path = "kit/files.rs"]
mod files;

/// What a block of the manual may take for granted.
const BASE: &str = r#"book { title "Salt and Lanterns" { short "Salt & Lanterns" }; author "Mirela Anand"; pages 320; isbn "978-1-83742-615-7"; quote "A marvel." by="E. Rowe" }
format paperback { trim 129 198 }
swatches { swatch night c=92 m=74 y=38 k=42; swatch lamp m=34 y=88; swatch sea c=70 m=20 }
type { style title { size 20 }; style blurb { size 10 }; style quote { size 10 } }
"#;

#[test]
fn the_manual_is_current() {
    let page = |(name, page): (&str, String)| (format!("{name}.md"), format!("# {name}\n\n{page}"));
    let mut words: BTreeMap<String, String> =
        language().into_iter().map(|(name, _, text)| page((name, text))).collect();
    words.extend(topics().iter().map(|(name, text)| page((name, text.clone()))));
    words.insert("README.md".to_owned(), index());
    let mut findings: BTreeMap<String, String> = rules().into_iter().map(page).collect();
    findings.insert("README.md".to_owned(), rule_index());
    findings.insert("limits.md".to_owned(), limit_table());
    let stale = [current("docs/language", &words), current("docs/rules", &findings)].concat();
    assert!(stale.is_empty(), "stale: {stale:?}; `BLESS=1 cargo test` writes the manual again");
}

/// The pages of a folder that are not what they should be; with `BLESS` they are written.
fn current(folder: &str, pages: &BTreeMap<String, String>) -> Vec<String> {
    let place = root().join(folder);
    let bless = std::env::var_os("BLESS").is_some();
    let mut stale = Vec::new();
    for (name, page) in pages {
        let path = place.join(name);
        if std::fs::read_to_string(&path).is_ok_and(|old| old == *page) {
            continue;
        }
        if bless {
            std::fs::create_dir_all(&place).expect("a folder");
            std::fs::write(path, page).expect("a page can be written");
        } else {
            stale.push(format!("{folder}/{name}"));
        }
    }
    let written = files::below(&place, &["."], &["md"]).into_iter().map(|path| file_name(&path));
    stale
        .extend(written.filter(|name| !pages.contains_key(name)).map(|name| format!("{folder}/{name} (no such word)")));
    stale
}

fn rule_index() -> String {
    let mut out =
        "# What a check may find\n\nEvery finding has a page. `jaconet explain NAME` prints it, too.\n\n".to_owned();
    for (name, page) in rules() {
        add(&mut out, format_args!("- [`{name}`]({name}.md): {}\n", page.lines().next().unwrap_or_default()));
    }
    out
}

/// Every limit of every rule in one table.
fn limit_table() -> String {
    let mut out = "# The limits of all rules\n\nA house, a printer or a cover may state others: see \
                   [`limit`](../language/limit.md) and [`printer`](../language/printer.md).\n\n\
                   | rule | limit | usual value | what it limits | where the value comes from |\n|---|---|---|---|---|\n"
        .to_owned();
    for [rule, name, usual, says, source] in limits() {
        add(&mut out, format_args!("| [`{rule}`]({rule}.md) | `{name}` | {usual} | {says} | {source} |\n"));
    }
    out
}

/// All words by kind, each with the first sentence of its page.
fn index() -> String {
    let mut out =
        "# The language of a cover\n\nEvery word has a page. `jaconet explain WORD` prints it, too.\n".to_owned();
    out += "\n## First\n\n";
    for (name, text) in topics() {
        add(&mut out, format_args!("- [{name}]({name}.md): {}\n", text.lines().next().unwrap_or_default()));
    }
    for (kind, title) in
        [("fact", "Facts of the whole cover"), ("holder", "Where elements stand"), ("element", "Elements")]
    {
        add(&mut out, format_args!("\n## {title}\n\n"));
        for (name, _, page) in language().into_iter().filter(|(_, of, _)| *of == kind) {
            let first = page.lines().next().unwrap_or_default();
            let about = first.split_once(": ").map_or(first, |(_, about)| about);
            add(&mut out, format_args!("- [`{name}`]({name}.md): {about}\n"));
        }
    }
    out
}

#[test]
fn whatever_the_manual_shows_builds() {
    let (trial, art) = (CoverTester::default(), art());
    let mut shown = 0;
    for (name, kind, page) in language() {
        let blocks = blocks::kdl(&page);
        assert!(!blocks.is_empty(), "the page of `{name}` shows nothing");
        let tops: BTreeSet<&str> =
            language().into_iter().filter(|(_, kind, _)| *kind != "element").map(|(name, ..)| name).collect();
        for block in blocks {
            shown += 1;
            let text = blocks::whole(BASE, &block, |word| word == "wrap" || tops.contains(word));
            assert!(blocks::mentions(&block, name), "a block on the page of `{name}` ({kind}) does not show it");
            sound(&trial.build(&text, art.iter().map(|(path, bytes)| (path.as_str(), &bytes[..]))), &text);
        }
    }
    assert!(shown >= language().len());
}

/// The page on tables shows one table twice, as CSV and as JSON: both are read, and say the same.
#[test]
fn the_tables_shown_are_read_and_say_the_same() {
    let (_, page) = topics().into_iter().find(|(name, _)| name == "tables").expect("there is a page on tables");
    let indented = |block: &&str| block.lines().all(|line| line.starts_with("    "));
    let blocks: Vec<String> = page.split("\n\n").filter(indented).map(|block| block.replace("\n    ", "\n")).collect();
    let begin = |first: &str| blocks.iter().find(|block| block.trim_start().starts_with(first));
    let (csv, json) = (begin("title,").expect("a CSV example"), begin("[").expect("a JSON example"));
    let (csv, json) = (read_table("titles.csv", csv.trim_start()), read_table("titles.json", json.trim_start()));
    assert_eq!((&csv.notes, &json.notes), (&Vec::new(), &Vec::new()));
    assert_eq!(csv.titles, json.titles);
    let (trial, mut built) = (CoverTester::default(), 0);
    for (stem, tree) in &csv.titles {
        assert!(!stem.is_empty());
        // What the template of the page says, under the row.
        let tree = tree.replace("\nformat\n", "\nformat paperback\n");
        let text = braced(&tree) + "panel front { text title words=\"{title}\" { left safe; top safe } }\n";
        sound(&trial.build(&text, []), &text);
        built += 1;
    }
    assert!(built >= 2, "{built}");
    for column in csv.rows.iter().flat_map(|(_, cells)| cells.iter().map(|(column, _)| column)) {
        assert!(page.matches(column.as_str()).count() > 1, "the page does not explain `{column}`");
    }
}

/// Nodes by their depth, four blanks each, as KDL with braces.
fn braced(tree: &str) -> String {
    let depth = |line: &str| (line.len() - line.trim_start().len()) / 4;
    let mut out = String::new();
    let mut lines = tree.lines().peekable();
    while let Some(line) = lines.next() {
        let next = lines.peek().map_or(0, |next| depth(next));
        out += line;
        out += if next > depth(line) { " {\n" } else { "\n" };
        out += &"}\n".repeat(depth(line).saturating_sub(next));
    }
    out
}

/// Every word that a reader offers stands in the manual: on the word's own page, or on those that speak for all elements.
#[test]
fn no_word_goes_unsaid() {
    let trial = CoverTester::default();
    let pages: BTreeMap<&str, String> = language().into_iter().map(|(name, _, page)| (name, page)).collect();
    let shared: String = ["panel", "group", "text", "type", "part"].iter().map(|name| pages[name].as_str()).collect();
    let mut asked = 0;
    let mut unsaid = BTreeSet::new();
    for (name, kind, page) in language() {
        let strange = match (kind, name) {
            ("element", "stack") => format!("{BASE}panel spine {{ stack a down zzz=1 {{ zzz }} }}"),
            ("element", _) => format!(
                "{BASE}panel spine {{ {name} a zzz=1 file=\"art/lantern.svg\" data=\"M0 0 L1 1\" words=\"x\" {{ zzz; swatch black }} }}"
            ),
            ("fact", "format") => blocks::whole(BASE, "format paperback { trim 9 9; zzz }\n", |_| true),
            ("fact", _) => blocks::whole(BASE, &format!("{name} {{ zzz }}\n"), |_| true),
            _ => continue,
        };
        let art = art();
        let tried = trial.build(&strange, art.iter().map(|(path, bytes)| (path.as_str(), &bytes[..])));
        for note in tried.notes.iter().filter(|note| note.message.contains("`zzz`")) {
            let (_, known) = note.help.split_once("known here: ").unwrap_or_default();
            for word in known.split(", ").filter(|word| !word.is_empty()) {
                asked += 1;
                let stated = |page: &str| {
                    let words = page.split(|letter: char| !letter.is_alphanumeric() && letter != '-');
                    words.into_iter().any(|stated| stated == word)
                };
                if !pages.contains_key(word) && !stated(&page) && !stated(&shared) {
                    unsaid.insert(format!("{name}: {word}"));
                }
            }
        }
    }
    assert!(unsaid.is_empty(), "the manual does not speak of {unsaid:?}");
    assert!(asked > 200, "the readers offered {asked} words");
}

/// Notes and warnings are for the author; errors are not for a manual.
fn sound(tried: &TestedCover, text: &str) {
    let faults: Vec<_> = tried.notes.iter().filter(|note| note.severity == "error").collect();
    assert!(faults.is_empty(), "{faults:#?}\n{text}");
}

/// What a rule shows offends it, and is well written all the same.
#[test]
fn whatever_the_rules_show_is_understood() {
    let (trial, art) = (CoverTester::default(), art());
    let tops: BTreeSet<&str> =
        language().into_iter().filter(|(_, kind, _)| *kind != "element").map(|(name, ..)| name).collect();
    let mut shown = 0;
    // The page on slips of the language shows one.
    for (name, page) in rules().into_iter().filter(|(name, _)| *name != "language") {
        for block in blocks::kdl(&page) {
            shown += 1;
            let text = blocks::whole(BASE, &block, |word| word == "wrap" || tops.contains(word));
            let tried = trial.build(&text, art.iter().map(|(path, bytes)| (path.as_str(), &bytes[..])));
            // Files and fonts that a page speaks of are the author's own.
            let missing = |message: &str| {
                message.contains("there is no such file") || message.contains("there is no font \"A Font of Your Own\"")
            };
            let faults: Vec<_> = tried
                .notes
                .iter()
                .filter(|note| note.rule == "language" && note.severity == "error" && !missing(&note.message))
                .collect();
            assert!(faults.is_empty(), "{name}: {faults:#?}\n{text}");
        }
    }
    assert!(shown > 20, "{shown}");
}

#[test]
fn every_example_builds_clean() {
    let trial = CoverTester::default();
    let covers: Vec<PathBuf> = files::below(&root(), &["examples"], &["kdl"])
        .into_iter()
        .filter(|path| file_name(path) == "cover.kdl")
        .collect();
    assert!(covers.len() >= 3);
    for cover in covers {
        let folder = cover.parent().expect("it stands in a folder");
        let kinds = ["kdl", "md", "svg", "png", "jpg", "tif", "webp", "icc", "ttf", "otf"];
        let read = |path: &Path| std::fs::read(path).expect("a file can be read");
        let named = |path: &Path, below: &Path| {
            path.strip_prefix(below).expect("it lies below").to_string_lossy().replace("./", "")
        };
        let mut files: Vec<(String, Vec<u8>)> =
            files::below(folder, &["."], &kinds).iter().map(|path| (named(path, folder), read(path))).collect();
        // A series lies above the folders of its books, and so does the art that they share.
        let above = folder.parent().expect("it stands among the examples");
        if above != root().join("examples") {
            let shared = files::below(above, &["."], &kinds);
            files.extend(shared.iter().map(|path| (format!("../{}", named(path, above)), read(path))));
        }
        let text = std::fs::read_to_string(&cover).expect("a cover can be read");
        let tried = trial.build(&text, files.iter().map(|(path, bytes)| (path.as_str(), &bytes[..])));
        let faults: Vec<_> = tried.notes.iter().filter(|note| note.severity != "note").collect();
        assert!(faults.is_empty(), "{}: {faults:#?}", cover.display());
    }
}

/// The files that blocks of the manual name.
fn art() -> Vec<(String, Vec<u8>)> {
    let drawing = include_bytes!("covers/art/kite.svg").to_vec();
    let photo = include_bytes!("../examples/salt-and-lanterns/art/harbour.jpg").to_vec();
    let copy = include_bytes!("covers/art/blurb.md").to_vec();
    let series = b"swatches { swatch quay c=60 }".to_vec();
    let printer = b"limit small-type warning=6.5".to_vec();
    let keyline = include_bytes!("pictures/keyline.pdf").to_vec();
    let files = [
        ("printers/quay.kdl", printer),
        ("printers/keyline.pdf", keyline),
        ("art/lantern.svg", drawing),
        ("art/harbour.jpg", photo),
        ("blurb.md", copy),
        ("series.kdl", series),
    ];
    files.map(|(path, bytes)| (path.to_owned(), bytes)).to_vec()
}

fn add(out: &mut String, words: std::fmt::Arguments<'_>) {
    std::fmt::Write::write_fmt(out, words).expect("a string takes every line");
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}
