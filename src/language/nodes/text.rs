//! `text`: words, set in a type style.
//!
//! ```kdl
//! text title words="{title}" style=title { left safe; right safe; top safe 20 }
//! text blurb copy="blurb.md" style=blurb {
//!     left safe 4; right safe 4; below title 8
//!     drop-cap lines=3 letters=1
//! }
//! text quote words="{quote}" when=quote style=quote { left safe; right safe; below blurb 4 }
//! ```
//!
//! - Words stand in line, with facts in braces, or in a Markdown file of paragraphs with *emphasis*, **strong**, line breaks
//!   and `<sc>small caps</sc>`; facts work there, too, and in the path: `copy="blurbs/{stem}.md"`.
//! - What stands in brackets with a fact is printed only where the book states it: `words="{quote.by}[, {quote.source}]"`.
//!   Brackets that are to be printed around a fact are doubled, `[[{year}]]`.
//! - Any word of style may stand in the braces of a text, for this text alone: see `jaconet explain type`.
//! - Two of `left right width centre-x`, and two of `top bottom height centre-y`, fix its place. Words need no height: they
//!   take what they need; nor a width, where they are short. `cap-top` hangs the capitals of the first line, and `baseline`
//!   stands the first line, on a guide. Words turned by a quarter hang from the side to which their letters' heads point:
//!   `turn 90; cap-top safe` hangs them from the right.
//! - `vertical middle` centres words by the heights of their letters, not by the line's box.
//! - On a spine the words run as the panel `reads`; lines that run along it are centred between the folds by their
//!   letters, not by their boxes. `size between` keeps their ink in the frame, tails and accents too. In a group on a spine
//!   they run as on any panel: turn the group.
//! - Words that do not fit are an error that counts the lines and millimetres; so is a word too long for its line.
//!
//! # In the letters
//!
//! ```kdl
//! text title words="{title}" style=title {
//!     left safe; right safe; top safe 20; size 90
//!     inside {
//!         image sea file="art/lantern.svg" { left 0; right 0; top 0; height 40 }
//!         band ground { gradient black unprinted; left 0; right 0; top 40; bottom 0 }
//!     }
//! }
//! ```
//!
//! What stands in `inside` shows in the letters alone: pictures, colours, patterns. `left 0` is the left edge of their ink,
//! `top 0` their upper edge. The words stay text, to be read and searched. See `jaconet explain type` for outlines, shadows
//! and gradients of letters.
//!
//! # Along a line
//!
//! ```kdl
//! text arched words="{title}" style=title { left safe; right safe; top safe; align centre; along arc rise=14 }
//! text seal words="First edition" { size 9; case upper; tracking 80; right safe; width 30; bottom safe; along oval }
//! text hill words="{author}" { left safe; top 90; along path data="M0 20 C20 0 40 0 60 20" }
//! ```
//!
//! - `along arc` bends words over the width of their frame; its middle rises so many millimetres, below 0 it hangs.
//!   `along oval` sets them round the oval in their frame, centred at its head or, with `at=foot`, at its foot, with the
//!   capitals inside the oval. `along path` follows path data of SVG, in millimetres.
//! - `align` says where on an arc or a path they stand. Lines that the author chose lie side by side.
//! - Words that are longer than their line are an error, as in a frame; `size between` finds a size.
//!
//! # Upright lines
//!
//! `upright #true` sets Japanese, Chinese and Korean in lines that run from head to foot and follow each other from right
//! to left: their letters stand upright, signs in the forms that the font draws for such lines. Words of other scripts are
//! turned with the line; one or two figures, and `!?`, stand side by side. On a spine that reads `upright` it is so by
//! default; words without such letters stand there one letter under the other.
//!
//! # Round a neighbour
//!
//! ```kdl
//! oval moon { swatch black percent=20; right trim; width 40; top 30; height 40 }
//! text blurb copy="blurb.md" style=blurb { left safe; right safe; top safe; around moon gap=4 }
//! ```
//!
//! - Lines run round a neighbour of the same panel, by the contour of ovals, paths, drawings and pictures with transparency,
//!   and by the frame of anything else; `contour=#false` goes by the frame in any case. No letter of usual height comes
//!   nearer than `gap`, 3 mm by default; an accent on a capital may, and signs hang into it as into a margin.
//! - Words stand on the side where the frame has more room, or on the one that `side` names. `side=both` sets lines on
//!   both sides of it, to be read across. No stretch is narrower than 5 em: such a line begins further down.
//! - The text says how wide it is and where it begins. Words that are turned, in a stack, in columns or along a line
//!   run round nothing, nor do those with a `vertical` place.
//!
//! # Long words
//!
//! ```kdl
//! text title words="{title}" style=title {
//!     left safe; right safe; top safe 20; height 40
//!     otherwise lines-over=2 { size 16 }
//!     otherwise style=blurb words="{title.short}" { size 14; align centre }
//! }
//! ```
//!
//! Settings are tried in their order. One is passed over for the next when its words do not fit their frame (lines stand
//! over, or a word is wider), run off the panel, or take more lines than the next one's `lines-over` allows. A style that
//! finds its size, `size between 16 24`, is made smaller first. When none fits the last is kept, and what is wrong with it
//! is reported.
//!
//! - It begins with the style of its `style=`, or with the text's own and its words of style. Words of style stand in the
//!   braces.
//! - Its `words=` or `copy=` are other words. Where the book lacks a fact that they name, or the one of its `when=`, that
//!   setting is passed over.

use crate::cover::{
    Along, Baselines, Bench, Draw, DrawInside, Element, FirstLine, Letters, Limit, Natural, Open, Pen, Reading,
    RunsRound, WordLine, draw_elements, draw_letters,
};
use crate::ground::{MM_PER_PT, Rect, right_to_left};
use crate::language::context::Context;
use crate::language::headword::{Headword, Role, UNLESS, WHEN, element};
use crate::language::look::LOOK;
use crate::language::nodes::group::inner;
use crate::language::nodes::style::STYLE_WORDS;
use crate::language::place::PLACE;
use crate::scene::Kind;
use crate::source::{Besides, Reader, Word};
use crate::typeset::{Block, letters_middle};
use around::AROUND;
use following::ALONG;
use settings::{Settings, TextSetting};
use std::sync::Arc;
use vertical::{UPRIGHT, VERTICAL, Vertical};

pub const HEADWORD: Headword = Headword::new(
    element("text", "words, set in a type style")
        .properties(&[words::WORDS, words::COPY, words::STYLE, WHEN, UNLESS])
        .holds(&[
            &[VERTICAL, UPRIGHT, BASELINES, INSIDE, ALONG, AROUND, words::OTHERWISE, words::STAND_IN],
            STYLE_WORDS,
            PLACE,
            LOOK,
        ]),
    include_str!("text.rs"),
    Role::Element(Kind::Text, read),
);

const BASELINES: Word = Word::new(
    "baselines",
    "stands the first line on the next of the panel's `baselines`, and all lines if their leading is the same",
);

pub const INSIDE: Word =
    Word::new("inside", "elements that show in the letters alone; their guides are the edges of the ink")
        .besides(Besides::Elements);

struct Text {
    settings: Settings,
    vertical: Vertical,
    baselines: Option<Baselines>,
    spine: bool,
    inside: Vec<Element>,
    along: Option<Along>,
    around: Vec<RunsRound>,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    // A group on a spine is a region of its own, as on any panel.
    let spine = context.region.spine && !context.region.inner;
    let upright = reader.child(&UPRIGHT).and_then(|word| word.flag());
    let settings = Settings::read(reader, context, upright, spine && context.reading == Reading::Upright);
    let down = settings.as_ref().is_some_and(|settings| settings.upright);
    let along = spine && (down || matches!(context.reading, Reading::Down | Reading::Up));
    let usual = if along { Vertical::Middle } else { Vertical::Head };
    let vertical = vertical::vertical(reader, usual);
    let baselines = reader.child(&BASELINES).and_then(|word| {
        if context.region.baselines.is_none() {
            word.error(word.span(), "the panel has no baselines", "write `baselines 14.5 top=20` in this panel");
        }
        context.region.baselines
    });
    let inside = reader.child(&INSIDE).map(|word| inner(&word, context)).unwrap_or_default();
    let mut settings = settings?;
    settings.ink_within = spine && vertical == Vertical::Middle;
    if inside.is_empty() && settings.shows_nothing() {
        reader.error(reader.span(), "these words show nothing", "give them an `outline`, a `shadow` or a `swatch`");
    }
    let along = reader.child(&ALONG).and_then(|word| following::along(&word));
    if let Some(along) = &along {
        if upright == Some(true) {
            reader.error(reader.span(), "words along a line have no upright lines", "keep `along` or `upright`");
        }
        settings.follow(matches!(along, Along::Oval { .. }));
    }
    let hindrances = [
        (ALONG.name, along.is_some()),
        (VERTICAL.name, vertical != Vertical::Head),
        (BASELINES.name, baselines.is_some()),
    ];
    let around = around::around(reader, &settings, hindrances, context);
    Some(Arc::new(Text { settings, vertical, baselines, spine, inside, along, around }))
}

impl Text {
    /// How far under the top of its frame the block begins.
    fn begins(&self, frame: Rect, block: &Block) -> f64 {
        let spare = frame.height() - block.height;
        let y = match self.vertical {
            Vertical::Head => 0.0,
            Vertical::Foot => spare,
            Vertical::Middle => frame.height() / 2.0 - letters_middle(block).unwrap_or(block.height / 2.0),
        };
        self.baselines.map_or(y, |lines| {
            let first = frame.y0 + y + block.first_baseline;
            y + lines.next(first) - first
        })
    }

    fn letters(
        &self,
        pen: &mut Pen<'_>,
        block: &Block,
        at: (f64, f64),
        TextSetting { style, ink, .. }: &TextSetting,
        line: Option<&WordLine>,
    ) {
        let draw = |bounds: Rect, pen: &mut Pen<'_>| {
            let region = pen.region.inside(bounds);
            draw_elements(pen, &region, &self.inside);
        };
        let inside: Option<&DrawInside<'_>> = if self.inside.is_empty() { None } else { Some(&draw) };
        let letters = Letters { block, at, ink, apart: &style.style.apart, inks: &style.apart, line, inside };
        draw_letters(pen, &letters, &style.lettering);
    }
}

impl Draw for Text {
    fn kind(&self) -> Kind {
        Kind::Text
    }

    fn natural(&self, room: Open, bench: &Bench<'_>) -> Natural {
        if let Some(along) = &self.along {
            return following::natural(&self.settings, along, room, bench);
        }
        around::unplaced(&self.around, bench);
        // Empty words keep the place of a letter.
        self.settings.choose(room, bench).map_or(Natural::default(), |(_, block)| Natural {
            width: Some(block.width.max(MM_PER_PT)),
            height: Some(block.height.max(MM_PER_PT)),
        })
    }

    fn first_line(&self, room: Open, bench: &Bench<'_>) -> Option<FirstLine> {
        let settings = self.along.is_none().then_some(&self.settings)?;
        let (_, block) = settings.choose(room, bench)?;
        Some(FirstLine { cap_top: block.cap_top, baseline: block.first_baseline })
    }

    fn first_line_in(&self, frame: Rect, room: Open, bench: &Bench<'_>) -> Option<FirstLine> {
        let settings = self.along.is_none().then_some(&self.settings)?;
        let (_, block) = settings.choose(room, bench)?;
        let begins = self.begins(frame, &block);
        Some(FirstLine { cap_top: begins + block.cap_top, baseline: begins + block.first_baseline })
    }

    fn runs_down(&self) -> bool {
        self.settings.upright
    }

    fn runs_round(&self) -> &[RunsRound] {
        &self.around
    }

    fn languages(&self) -> Vec<&str> {
        self.settings.styles().map(|style| style.language.as_str()).collect()
    }

    fn inner(&self) -> &[Element] {
        &self.inside
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        if let Some(along) = &self.along {
            let Some((setting, block, line)) = following::set(&self.settings, along, frame, &pen.bench) else { return };
            reports::of_fit(setting, &block, pen);
            reports::of_setting(&setting.style, &block, pen);
            return self.letters(pen, &block, (0.0, 0.0), setting, Some(&line));
        }
        let Some((setting, block)) = self.settings.choose(pen.room, &pen.bench) else { return };
        let style = &setting.style;
        reports::of_fit(setting, &block, pen);
        if !self.spine {
            reports::off_the_panel(frame, &block, style.style.size, pen);
        }
        reports::of_setting(style, &block, pen);
        self.baselines.iter().for_each(|lines| reports::leaves(*lines, &block, pen));
        // Lines that found their own width are aligned with each other; where they stand in the frame is still open.
        let x = match pen.room.width {
            Limit::Fixed(_) => 0.0,
            Limit::Most(_) => {
                (frame.width() - block.width) * style.style.align.share(right_to_left(&style.style.language))
            }
        };
        let at = (frame.x0 + x, frame.y0 + self.begins(frame, &block));
        self.letters(pen, &block, at, setting, None);
    }
}

mod around;
mod copy;
mod following;
mod reports;
mod settings;
mod vertical;
mod words;
