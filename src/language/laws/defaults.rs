//! Defaults: a word written with its declared default gives the design that leaving it out gives.

use crate::cover::draw;
use crate::ground::{FileId, Findings};
use crate::language::laws::samples::{needed, values};
use crate::language::laws::{Path, Trial, paths, shown, text};
use crate::language::{Desk, read};
use crate::source::{Files, Slot, Takes, Word, parse};
use crate::typeset::Typesetter;
use std::cell::RefCell;
use std::sync::Arc;

/// What makes a word of an element visible, unless it is the word that is tried.
const SEEN: [(&str, &str); 6] =
    [("left", "0"), ("width", "6"), ("top", "20"), ("height", "60"), ("swatch", "black"), ("fit", "filling")];

/// Something of everything that facts and styles have a say in.
const COVER: &str = "panel front {
    text seen style=STYLE words=\"Salt {title}\" { left 10; width 30; top 10 }
    text long style=STYLE { stand-in words=80; left 10; width 40; top 60; height 100 }
    band colour { swatch SWATCH; left 60; width 10; top 10; height 10 }
    image kite file=\"kite.svg\" { left 80; width 20; top 10; height 30 }
    barcode code { right safe; bottom safe }
}
";

/// Everything that can be seen of a design: its measures, its marks, and what is wrong with it.
fn design(trial: &Trial, typesetter: &Typesetter, path: &Path, own: &str) -> String {
    let named = |top: &str, usual: &str| if path[0].name == top { "x".to_owned() } else { usual.to_owned() };
    let cover = COVER.replace("STYLE", &named("type", "plain")).replace("SWATCH", &named("swatches", "night"));
    let own = text(path, own).0;
    // A spine has customs of its own, and flaps are a matter of some bindings.
    let own = own.replace("panel \"spine\"", "panel front").replace("format paperback", "format flapped-paperback");
    let text = own + if path[0].name == "panel" { "" } else { &cover };
    let (files, findings) = (Files::default(), RefCell::<Findings>::default());
    let tree = parse(&mut findings.borrow_mut(), FileId(0), &text);
    let Trial { shelf, darkroom, library } = trial;
    let cover = read(&Desk::new(shelf, darkroom, library, &files, &findings), &tree);
    let scene = draw(&findings, &cover, typesetter);
    let wrong: Vec<String> = findings.into_inner().iter().map(|finding| finding.message.clone() + "\n").collect();
    format!(
        "{:?}\n{}{}{:?}",
        cover.flat.measures,
        wrong.concat(),
        scene.outline(),
        (scene.job, scene.profile.condition())
    )
}

/// A word with something after it, as a child or as a property, where it stands.
fn stated(path: &Path, word: &Word, after: &str, property: bool) -> (String, String) {
    let holder = path[path.len() - if property { 1 } else { 2 }];
    let own = if property { format!("{}={after}", word.name) } else { String::new() };
    let inside = if property { String::new() } else { format!("{} {after}", word.name) };
    let missing = needed(holder, word.name);
    let head = format!("{} {} {missing}", holder.name, values(holder));
    let is_element = path.len() == 2 + usize::from(!property) && path[0].name == "panel";
    let seen = SEEN
        .iter()
        .filter(|(name, _)| is_element && *name != word.name && holder.child(name).is_some())
        .fold(String::new(), |out, (name, value)| out + name + " " + value + "; ");
    let whole = |own: &str, inside: &str| {
        let inside = format!("{seen}{inside}");
        if inside.is_empty() { format!("{head} {own}") } else { format!("{head} {own} {{ {inside} }}") }
    };
    (whole(&own, &inside), whole("", ""))
}

/// Another value than the default, where the word takes a number, a flag or a choice.
fn another(word: &Word, default: &str) -> Option<String> {
    let Slot { takes, .. } = word.takes.first()?;
    match takes {
        Takes::Choice(words) => words.iter().find(|word| **word != default).map(|word| (*word).to_owned()),
        Takes::Flag => Some(if default == "#true" { "#false" } else { "#true" }.to_owned()),
        Takes::Number(least, most) | Takes::Percent(least, most) | Takes::Length(_, least, most) => {
            let value = default.parse::<f64>().ok()?;
            Some(((value + 7.5).min(*most).max(*least)).to_string())
        }
        Takes::Whole(_, most) => Some((default.parse::<f64>().ok()? + 2.0).min(*most).to_string()),
        Takes::Text | Takes::Name => None,
    }
}

#[test]
fn a_default_that_is_written_changes_nothing() {
    let trial = Trial::new();
    let typesetter = Typesetter::new(Arc::new(crate::assets::Library::open(&[]).0), Arc::default());
    let (mut tried, mut felt, mut wrong) = (0, 0, Vec::new());
    for path in paths() {
        let word = path[path.len() - 1];
        let own = (path.len() > 1 && !(path.len() == 2 && path[0].name == "panel")).then_some((word, false));
        let properties = word.properties.iter().map(|property| (property, true));
        for (word, property) in own.into_iter().chain(properties) {
            let Some(default) = word.default else { continue };
            let place = if property { path.clone() } else { path[..path.len() - 1].to_vec() };
            let design = |own: &str| design(&trial, &typesetter, &place, own);
            let (with, without) = stated(&path, word, default, property);
            let plain = design(&without);
            if design(&with) != plain {
                wrong.push(format!("{} {}: {with}", shown(&path), word.name));
            }
            tried += 1;
            let other = another(word, default).map(|other| stated(&path, word, &other, property).0);
            felt += usize::from(other.is_some_and(|other| design(&other) != plain));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    // Other values are seen, wherever this cover can show them.
    assert!(tried > 100 && felt > 50, "{tried} tried, {felt} felt");
}
