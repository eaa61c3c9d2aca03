//! Around: neighbours that the lines of a text run round.

use crate::cover::{Bench, RunsRound};
use crate::ground::Length;
use crate::language::context::Context;
use crate::language::nodes::text::settings::Settings;
use crate::source::{KnownBy, Reader, Word, choice, flag, mm, name, words_of};
use crate::typeset::{Beside, Size};

pub const AROUND: Word = Word::new("around", "a neighbour that its lines run round")
    .takes(&[name("a neighbour's name")])
    .properties(&[GAP, SIDE, CONTOUR])
    .known_by(KnownBy::Name)
    .many();
const GAP: Word = Word::new("gap", "millimetres between them").takes(&[mm("millimetres", 0.0, 50.0)]).default("3");
const SIDE: Word =
    Word::new("side", "where words stand beside it: where there is more room, or on one side, or on both")
        .takes(&[choice("a side", &words_of(&SIDES))])
        .default("wider");
const CONTOUR: Word =
    Word::new("contour", "whether its contour counts, or its frame").takes(&[flag()]).default("#true");
const SIDES: [(&str, Option<Beside>); 4] =
    [("wider", None), ("left", Some(Beside::Left)), ("right", Some(Beside::Right)), ("both", Some(Beside::Both))];

/// Neighbours that one text runs round.
const MOST: usize = 12;

/// None where something else that the text asks for hinders it.
pub fn around(
    reader: &Reader<'_>,
    settings: &Settings,
    hindrances: [(&'static str, bool); 3],
    context: &Context<'_>,
) -> Vec<RunsRound> {
    let (mut all, mut told) = (Vec::new(), false);
    for word in reader.children(&AROUND) {
        let Some(name) = word.text() else { continue };
        let runs = RunsRound {
            gap: word.length_property(&GAP).map_or(3.0, Length::mm),
            beside: word.choose_property(&SIDE, &SIDES).flatten(),
            contour: word.flag_property(&CONTOUR).unwrap_or(true),
            span: word.span(),
            name,
        };
        // Those beyond the limit are understood, and one of them reported.
        if all.len() < MOST && context.counts_round(word.span()) {
            all.push(runs);
        } else if all.len() == MOST && !std::mem::replace(&mut told, true) {
            let message = format!("a text runs round {MOST} neighbours at the most");
            word.error(word.span(), message, "put several of them into a `group`, and run round that");
        }
    }
    let of_style = settings.styles().find_map(|style| match style.size {
        _ if style.columns.count > 1 => Some("columns"),
        _ if style.more_lines != 0 => Some("lines"),
        Size::EachLine(..) => Some("size each-line"),
        _ => None,
    });
    let hinders = hindrances.into_iter().find(|(_, there)| *there).map(|(word, _)| word).or(of_style);
    if let (Some(first), Some(other)) = (all.first(), hinders) {
        let message = format!("`around` and `{other}` do not go together");
        let help = format!("leave one of them out: with `{other}` lines keep the whole width");
        reader.error(first.span, message, help);
        all.clear();
    }
    all
}

/// Reports words that nobody has shown the place of their neighbours.
pub fn unplaced(around: &[RunsRound], bench: &Bench<'_>) {
    if let (Some(first), None) = (around.first(), bench.holes) {
        let message = "words in a stack run round nothing";
        let help = "take the text out of the stack, and place it by `below`";
        bench.findings.borrow_mut().error(first.span, message, help);
    }
}
