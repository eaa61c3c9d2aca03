//! What holds of every word: readers accept what it declares and nothing else, in its range and not beyond.

use crate::assets::{Darkroom, Library, MapShelf};
use crate::ground::{FileId, Finding, Severity};
use crate::language::nodes::{HEADWORDS, element_words};
use crate::language::{Desk, LAYER_WORDS, Role, read, vocabulary};
use crate::source::{Besides, Files, Slot, Takes, Times, Word, parse};
use samples::{needed, sample, values};
use std::cell::RefCell;
use std::collections::BTreeSet;

mod defaults;
mod habits;
mod samples;

/// What every text may take for granted; a section that is tried takes the place of its own.
const BASE: [(&str, &str); 5] = [
    ("book", "book { title \"Salt\"; pages 320; isbn \"978-1-83742-615-7\"; quote \"Fine\" }"),
    ("format", "format paperback { trim 129 198 }"),
    ("swatches", "swatches { swatch night c=9 }"),
    ("type", "type { style plain { size 9 } }"),
    ("part", "part device { width 9; oval o { swatch black; left 0; width 9; top 0 } }"),
];

/// The reader's desk, set once: fonts are slow to open.
struct Trial {
    shelf: MapShelf,
    darkroom: Darkroom,
    library: Library,
}

impl Trial {
    fn new() -> Trial {
        let kite = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\"><path d=\"M0 0L9 9\" stroke=\"#000\"/></svg>";
        let shelf = MapShelf::default().with("kite.svg", kite.as_bytes()).with("copy.md", &b"Words"[..]);
        Trial { shelf, darkroom: Darkroom::default(), library: Library::open(&[]).0 }
    }

    fn read(&self, text: &str) -> Vec<Finding> {
        let (files, findings) = (Files::default(), RefCell::default());
        let tree = parse(&mut findings.borrow_mut(), FileId(0), text);
        let Trial { shelf, darkroom, library } = self;
        let rules = [("x", Vec::new())];
        let desk = Desk { rules: &rules, ..Desk::new(shelf, darkroom, library, &files, &findings) };
        read(&desk, &tree);
        findings.into_inner().iter().cloned().collect()
    }
}

/// A word and the words that it stands in, from the top.
type Path = Vec<&'static Word>;

/// Every word in every place where it may stand, but for series and editions, which are laid before anything is read.
fn paths() -> Vec<Path> {
    vocabulary().into_iter().filter(|path| !LAYER_WORDS.contains(&path[0].name)).collect()
}

/// A text in which the last word of a path stands with these values, properties and children.
fn text(path: &Path, own: &str) -> (String, usize) {
    let top = path[0].name;
    let base = BASE.iter().filter(|(name, _)| *name != top);
    let mut text = base.fold(String::new(), |out, (_, text)| out + text + "\n");
    for pair in path.windows(2) {
        let [word, inside] = pair else { continue };
        text += &[word.name, &values(word), &needed(word, inside.name), "{ "].join(" ");
    }
    let at = text.len();
    text += own;
    text += &" }".repeat(path.len() - 1);
    // What stands in a part is read where it is used.
    text += if top == "part" { "\npanel spine { use x }\n" } else { "\n" };
    (text, at)
}

fn shown(path: &Path) -> String {
    path.iter().map(|word| word.name).collect::<Vec<_>>().join(" > ")
}

/// What a reader offers in place of a word that nobody knows, and what it does not take.
#[test]
fn readers_ask_for_what_is_declared() {
    let trial = Trial::new();
    let mut count = 0;
    for path in paths() {
        let word = path[path.len() - 1];
        let own = format!("{} {} {} zzz=1 {{ zzz }}", word.name, values(word), needed(word, ""));
        let (text, _) = text(&path, &own);
        let found = trial.read(&text);
        let offered = |of: &str| -> BTreeSet<String> {
            let finding = found.iter().find(|finding| finding.message == of);
            let help = finding.and_then(|finding| finding.help.as_deref());
            let help = help.unwrap_or_else(|| panic!("{}: no `{of}` in {found:#?}\n{text}", shown(&path)));
            let known = help.split_once("known here: ").map_or("", |(_, known)| known);
            known.split(", ").filter(|word| !word.is_empty()).map(str::to_owned).collect()
        };
        let named = |words: Vec<&Word>| -> BTreeSet<String> { words.iter().map(|word| word.name.to_owned()).collect() };
        if !matches!(word.name, "features" | "axis") {
            let of = format!("`{}` has no property `zzz`", word.name);
            assert_eq!(offered(&of), named(word.properties.iter().collect()), "{}", shown(&path));
        }
        let mut inside: Vec<&Word> = word.inside().collect();
        if word.besides == Besides::Elements {
            inside.extend(element_words());
        }
        // A part is read where it is used, as a group.
        if word.name != "part" {
            let of = format!("`zzz` is unknown inside `{}`", read_as(word));
            assert_eq!(offered(&of), named(inside), "{}", shown(&path));
        }
        count += 1;
    }
    assert!(count > 300, "{count}");
}

/// A `use` is read as the group that it stands for.
fn read_as(word: &Word) -> &str {
    if word.name == "use" { "group" } else { word.name }
}

/// A place for a value, with what stands before and after a value that is put into it.
struct ValuePlace {
    path: Path,
    slot: Slot,
    before: String,
    after: String,
}

fn places() -> Vec<ValuePlace> {
    let mut all = Vec::new();
    for path in paths() {
        let word = path[path.len() - 1];
        for form in [word.takes, word.or] {
            for (at, slot) in form.iter().enumerate() {
                let part = |slots: &[Slot]| slots.iter().map(|slot| sample(word, slot) + " ").collect::<String>();
                let before = format!("{} {}", word.name, part(&form[..at]));
                let after = format!(" {} {}", part(&form[at + 1..]), needed(word, ""));
                all.push(ValuePlace { path: path.clone(), slot: *slot, before, after });
            }
        }
        for property in word.properties {
            for slot in property.takes.iter().chain(property.or) {
                let before =
                    format!("{} {} {} {}=", word.name, values(word), needed(word, property.name), property.name);
                all.push(ValuePlace { path: path.clone(), slot: *slot, before, after: String::new() });
            }
        }
    }
    all
}

impl ValuePlace {
    /// What is wrong with a value in this place.
    fn refusals(&self, trial: &Trial, value: &str) -> Vec<Finding> {
        let (text, at) = text(&self.path, &format!("{}{value}{}", self.before, self.after));
        let start = at + self.before.len();
        let found = trial.read(&text);
        let here = |finding: &Finding| finding.span.start == start && finding.span.end == start + value.len();
        found.into_iter().filter(|finding| finding.severity == Severity::Error && here(finding)).collect()
    }

    fn name(&self, value: &str) -> String {
        format!("{}: {}{value}{}", shown(&self.path), self.before, self.after)
    }
}

#[test]
fn every_range_is_the_one_that_is_declared() {
    let trial = Trial::new();
    let mut count = 0;
    for place in places() {
        let (least, most, whole) = match place.slot.takes {
            Takes::Number(least, most) | Takes::Percent(least, most) | Takes::Length(_, least, most) => {
                (least, most, false)
            }
            Takes::Whole(least, most) => (least, most, true),
            _ => continue,
        };
        count += 1;
        for value in [least, most] {
            let value = value.to_string();
            assert!(place.refusals(&trial, &value).is_empty(), "{} is refused", place.name(&value));
        }
        let step = |end: f64| if whole { 1.0 } else { (end.abs() / 1000.0).max(1e-7) };
        let mut beyond = vec![least - step(least), most + step(most)];
        beyond.extend(whole.then_some(least + 0.5));
        for value in beyond {
            let value = format!("{value}");
            assert!(!place.refusals(&trial, &value).is_empty(), "{} is accepted", place.name(&value));
        }
    }
    assert!(count > 200, "{count}");
}

#[test]
fn every_choice_is_known_and_no_other_kind_of_value_passes() {
    let trial = Trial::new();
    for place in places() {
        let (good, bad) = match place.slot.takes {
            Takes::Choice(words) => (words.to_vec(), "\"zzz\""),
            Takes::Flag => (vec!["#true", "#false"], "1"),
            _ => (vec![], "#true"),
        };
        for value in good {
            assert!(place.refusals(&trial, value).is_empty(), "{} is refused", place.name(value));
        }
        assert!(!place.refusals(&trial, bad).is_empty(), "{} is accepted", place.name(bad));
    }
}

#[test]
fn no_word_takes_more_than_it_declares() {
    let trial = Trial::new();
    for path in paths() {
        let word = path[path.len() - 1];
        if word.takes.last().is_some_and(|slot| slot.times == Times::Any) {
            continue;
        }
        let own = format!("{} {} {} #null", word.name, values(word), needed(word, ""));
        let (text, at) = text(&path, &own);
        let end = at + own.len();
        let found = trial.read(&text);
        assert!(found.iter().any(|finding| finding.span.end == end), "{} takes more\n{text}{found:#?}", shown(&path));
    }
}

#[test]
fn names_are_reported_apart() {
    for path in paths() {
        let word = path[path.len() - 1];
        let words: Vec<&str> = word.inside().map(|word| word.name).collect();
        let names: BTreeSet<&str> = words.iter().copied().collect();
        assert_eq!(words.len(), names.len(), "{}", shown(&path));
        assert!(!word.says.is_empty() && !word.says.ends_with('.'), "{}", shown(&path));
    }
    assert!(HEADWORDS.iter().all(|headword| !matches!(headword.role, Role::Fact(_)) || !headword.word.many));
}
