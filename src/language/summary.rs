//! Summary: what words declare, as lines of the manual.

use crate::ground::number;
use crate::language::fillings::FILLINGS;
use crate::language::headword::{Headword, Role};
use crate::language::look::LOOK;
use crate::language::nodes::style::STYLE_WORDS;
use crate::language::place::PLACE;
use crate::source::{Slot, Takes, Times, Unit, Word, manual};

/// So many choices stand in the line itself.
const FEW: usize = 6;
/// Ranges that end here, or begin this close to nothing, have no end worth a word.
const FAR: f64 = 10_000.0;
const NEAR: f64 = 0.001;

/// The manual page of a headword: the head of its file, and all that it declares. `deliver` holds the words of outputs,
/// which stand above this room.
pub fn page(headword: &Headword, outputs: &[&Word]) -> String {
    manual(headword.source) + &summary(headword, outputs)
}

fn summary(headword: &Headword, outputs: &[&Word]) -> String {
    let page = headword.word.name;
    let own: String = headword.words().map(|word| entry(word, page)).collect();
    let held: String = outputs.iter().map(|word| entry(word, page)).collect();
    let lines = indented(own, &held);
    let more = if page == "panel" {
        format!("\n## Place\n\n{}\n## Look\n\n{}", inside(PLACE, page), inside(LOOK, page))
    } else if matches!(headword.role, Role::Element(..)) {
        "\nWords of place and look may stand in every element: see `jaconet explain panel`.\n".to_owned()
    } else {
        String::new()
    };
    format!("\n# Words\n\n{lines}{more}")
}

/// A word and all that it holds; sets of words that belong to another page are named.
pub fn entry(word: &Word, page: &str) -> String {
    let held: String =
        word.children.iter().map(|set| elsewhere(set, page).unwrap_or_else(|| inside(set, page))).collect();
    let parts: String = word.properties.iter().map(|property| line(property, "=")).chain([held]).collect();
    indented(line(word, ""), &parts)
}

fn indented(head: String, parts: &str) -> String {
    parts.lines().fold(head, |out, line| out + "  " + line + "\n")
}

fn inside(set: &[Word], page: &str) -> String {
    set.iter().map(|word| entry(word, page)).collect()
}

/// What stands for a set on a page that is not its own.
fn elsewhere(set: &[Word], page: &str) -> Option<String> {
    if is_set(set, PLACE) || is_set(set, LOOK) {
        return Some(String::new());
    }
    if is_set(set, STYLE_WORDS) && page != "type" {
        return Some("- every word of style: see `jaconet explain type`\n".to_owned());
    }
    (is_set(set, FILLINGS) && page != "band")
        .then(|| "- `swatch`, `gradient` and `stroke`: see `jaconet explain band`\n".to_owned())
}

fn is_set(one: &[Word], other: &[Word]) -> bool {
    one.len() == other.len() && one.iter().zip(other).all(|(one, other)| one.name == other.name)
}

/// `` - `bleed LENGTH`: how far colour runs beyond the trim. Millimetres, 0 to 50; 3 by default. ``
fn line(word: &Word, sign: &str) -> String {
    let form = |slots: &[Slot]| slots.iter().fold(String::new(), |out, slot| out + " " + &shown(slot));
    let mut forms = vec![form(word.takes)];
    if !word.or.is_empty() {
        forms.push(form(word.or));
    }
    // By name or by number: both stand for one thing.
    forms.dedup();
    let named = |form: &String| match sign {
        "" => format!("`{}{form}`", word.name),
        _ => format!("`{}={}`", word.name, form.trim_start()),
    };
    let heads: Vec<String> = forms.iter().map(named).collect();
    let mut facts: Vec<String> = Vec::new();
    for fact in word.takes.iter().chain(word.or).filter_map(range) {
        if !facts.contains(&fact) {
            facts.push(fact);
        }
    }
    facts.extend(word.default.map(|default| format!("`{default}` by default")));
    facts.extend(word.many.then(|| "may be repeated".to_owned()));
    let facts = if facts.is_empty() { String::new() } else { format!(" ({})", facts.join("; ")) };
    format!("- {}: {}{facts}\n", heads.join(" or "), word.says)
}

/// A place for a value, as it stands in a line: `WIDTH`, `down|across`, `[OFFSET]`.
fn shown(slot: &Slot) -> String {
    let shown = match slot.takes {
        Takes::Choice(words) if words.len() <= FEW => words.join("|"),
        Takes::Flag => "#true|#false".to_owned(),
        Takes::Text => format!("\"{}\"", placeholder(slot.what)),
        _ => placeholder(slot.what),
    };
    match slot.times {
        Times::Once => shown,
        Times::Perhaps => format!("[{shown}]"),
        Times::Any => format!("{shown} …"),
    }
}

/// `a size in points` is `SIZE`.
fn placeholder(what: &str) -> String {
    let words =
        what.split([' ', ',']).filter(|word| !["", "a", "an", "the", "its", "what", "may", "be"].contains(word));
    let words = words.take_while(|word| !["in", "such", "or", "of"].contains(word));
    words
        .map(|word| word.trim_end_matches("'s").trim_end_matches('\'').to_uppercase())
        .collect::<Vec<String>>()
        .join("-")
}

fn range(slot: &Slot) -> Option<String> {
    let (what, least, most) = match slot.takes {
        Takes::Choice(words) if words.len() > FEW => return Some(words.join(", ")),
        Takes::Number(least, most) => ("", least, most),
        Takes::Whole(least, most) => ("whole, ", least, most),
        Takes::Percent(least, most) => ("percent, ", least, most),
        Takes::Length(Unit::Mm, least, most) => ("millimetres, ", least, most),
        Takes::Length(Unit::Pt, least, most) => ("points, ", least, most),
        Takes::Text | Takes::Name | Takes::Flag | Takes::Choice(_) => return None,
    };
    Some(match (least > 0.0 && least <= NEAR, most >= FAR) {
        (true, true) => what.trim_end_matches(", ").to_owned(),
        (true, false) => format!("{what}up to {}", number(most)),
        (false, true) if least <= -FAR => what.trim_end_matches(", ").to_owned(),
        _ => format!("{what}{} to {}", number(least), number(most)),
    })
}
