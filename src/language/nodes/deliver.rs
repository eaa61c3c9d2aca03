//! `deliver`: how the files are made.
//!
//! ```kdl
//! deliver {
//!     press marks                         // marks | bleed | trim: what stands around the trim
//!     flat ppi=200                        // the flat picture
//!     panels ppi=300                      // one picture per panel
//!     marked ppi=100                      // the flat picture with every error framed
//!     plates ppi=200                      // one grey picture per ink: only where it is named, here or by `--only`
//!     proof draft ppi=150                 // clean | draft | specimen | confidential: written faintly across the proof
//! }
//! ```
//!
//! `press standard=x-1a` makes PDF/X-1a:2003 instead of PDF/X-4, for printers who ask for it: based on PDF 1.4, without
//! layers and transparency. What is transparent is composed with all under it to a picture of its plates, 450 pixels per inch;
//! what lies over it stays as it is, and so does all that is transparent nowhere. `transparency-composed` says what is
//! composed and which words are in it. No open program certifies either standard, and neither do we. What was
//! asked of such files, and by which programs, is the page `press-files`.
//!
//! `press` keeps what a press can show: pictures with more than `finest` pixels per inch at their size (450) are scaled
//! down to so many, averaged as light, and `finer-than-printed` says which; `finest=none` keeps every pixel. Left as they
//! are: pictures of less than a million pixels, line art, pictures in one ink, and JPEGs in the press's own inks, whose bytes
//! are passed on. `jpeg=85` writes pictures as JPEGs of that quality, 60 to 100: a
//! fifth of the bytes or less, for printers and lines that need it; their pixels are no longer quite what they were, and
//! `pictures-in-jpeg` says so. `packing=small` tries several ways to compress each part of a picture: some per cent fewer
//! bytes, in several times the time. Nothing is lost by it.
//!
//! ```kdl
//! deliver { press marks finest=350 packing=small }
//! ```
//!
//! The pictures for shops are sRGB, and say so. `screen` is the front of a `format screen`, in the pixels of its format; it is
//! made of nothing else, and nothing else is made of that format. `shop` is the printed front in the pixels that are stated
//! here; without them there is none.
//!
//! ```kdl
//! panel front { text title words="{title}" { left safe; right safe; top safe 20 } }
//! deliver {
//!     screen jpeg quality=92              // jpeg | png
//!     shop 1600 2456 at-most="2 MB"       // the best quality that has no more bytes
//! }
//! ```
//!
//! A JPEG has the quality 90, or another one from 40 to 100. `at-most=` finds the best quality with no more bytes: a bare
//! number of them, or `"500 kB"`, `"2 MB"`, where 1 MB is 1,000,000 bytes. Where not even quality 40 is small enough, that is
//! an error, `too-many-bytes`.
//!
//! Where pictures of the cover have fewer pixels than a picture on it, its light is averaged, as an eye does it: single pixels
//! of black and white by turns come out as light as half of the paper. Edges of shapes and letters are averaged as ink, so
//! that the flat agrees with its plates, and letters keep the weight that they have in print. Lines finer than a pixel, drawn
//! as shapes, therefore look darker on a coarse picture than on paper: 158 where half of the light is 189, of 255. More `ppi`
//! shows them as they are.
//!
//! `plates` is for the production manager: of every plate that carries ink a picture of the sheet with its bleed, composed
//! with overprint and transparency as a press would print it, white where there is none. Where more ink lies together than
//! the `ink-limit` of the press, averaged over 1 mm, there is a map of the places: amber where it is over, purple where it is
//! over by more than 20 %, all else in pale grey; its title says how large both are. A build that is not asked for them takes
//! older ones away. What each ink covers, in percent of the sheet with its bleed and in square centimetres of a solid, is in
//! the report of every build, under `inks`; and under `over-limit` there what the press takes, the most that lies together,
//! and on how many square centimetres, in which rectangle.
//!
//! Pixels of `shop` in another ratio than the front are refused, as `shop-ratio` says, unless `ratio=crop` shows its middle or
//! `ratio=extend` adds bars: in the colour of the edge they lie at, or in a swatch, `ratio=extend swatch=night`. It never
//! shows frames around errors, because shops get it long before the cover is printed.
//!
//! Each word is an output; one that is left out is made by its defaults. `jaconet explain files` says which files they are.
//!
//! The proof is a PDF for whoever approves the cover, small enough to e-mail. Its first page shows the wrap at true size
//! with its dimensions and with the number of every finding that has a place. Trim, bleed, safe area, folds, hinges, panel
//! names, dimensions, findings and the word across it are layers that can be switched off in a PDF reader. Then come all
//! findings, with the reasons of waivers; the facts, the sums of the spine, fonts, pictures and inks, with the blocks that
//! foils and varnishes need; and a box to sign. The picture in it has 150 pixels per inch; it may have 36 to 300. It is made
//! of a cover with errors, too, and it is not for printing.

use crate::cover::Facts;
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::scene::OutputSettings;
use crate::source::{Laid, Reader, Takes, Word};

/// What stands inside it are the words of the outputs, which each output declares.
pub const HEADWORD: Headword = Headword::new(
    Word::new("deliver", "how the files are made").laid(Laid::Inside),
    include_str!("deliver.rs"),
    Role::Fact(read),
);

mod front;
mod press;

const PPI: &str = "ppi";

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    for output in desk.outputs.iter().filter(|word| !word.takes.is_empty() || !word.properties.is_empty()) {
        let Some(word) = reader.child(output) else { continue };
        let settings = facts.delivery.entry(output.name).or_insert_with(|| usual_settings(output));
        let mut sides = Vec::new();
        for slot in output.takes {
            if matches!(slot.takes, Takes::Whole(..)) {
                sides.extend(word.number().map(|side| side.value as u32));
            } else if (output.default.is_none() || word.peek().is_some())
                && let Some(chosen) = word.choice()
            {
                settings.word = chosen.value;
            }
        }
        if output.property(front::QUALITY).is_some() {
            settings.front.size = front::size(&word, &sides);
            front::read(&word, output, settings, &facts.palette);
        }
        if output.property(press::FINEST).is_some() {
            press::read(&word, output, &mut settings.press);
        }
        if let Some(ppi) = output.property(PPI).and_then(|resolution| word.number_property(resolution)) {
            settings.ppi = ppi.value;
        }
    }
}

/// How an output is made where no cover says otherwise: by the defaults of its word.
pub fn usual_settings(output: &Word) -> OutputSettings {
    let word = match output.takes.first().map(|slot| slot.takes) {
        Some(Takes::Choice(_)) => output.default.unwrap_or_default(),
        _ => "",
    };
    let ppi = output.property(PPI).and_then(|word| word.default?.parse().ok());
    OutputSettings { word, ppi: ppi.unwrap_or_default(), ..OutputSettings::default() }
}
