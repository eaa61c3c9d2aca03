//! `keyline`: the PDF that the printer sent to design on, with its trim and folds as lines.
//!
//! ```kdl
//! keyline "printers/keyline.pdf"
//! format paperback { trim 129 198; paper grammage=80 bulk=1.5; cover-stock caliper=0.3 }
//! ```
//!
//! - Trim, bleed and folds of the file are held against the sheet at every check, in millimetres: see the rule
//!   `keyline-differs`.
//! - Its straight lines lie over the proof as a layer of its own, laid on the lower left corner of the trim. Its curves,
//!   words and pictures are not shown.
//! - Its trim is its `TrimBox`. Where it states none, or the whole page, two pairs of lines as far apart as the trim is wide and
//!   high are taken for it.
//! - A file of several pages needs the number of the one that shows the outside of the cover: `page=2`.
//!
//! It belongs to one book, for its spine has a width. An edition with another binding names its own. Facts may stand in the
//! path: `keyline "printers/{isbn}.pdf"`.

use crate::cover::{Facts, Keyline};
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::language::words::fill_path;
use crate::printed::known_page;
use crate::source::{Reader, Word, text, whole};

pub const HEADWORD: Headword = Headword::new(
    Word::new("keyline", "the PDF that the printer sent to design on").takes(&[text("a path")]).properties(&[PAGE]),
    include_str!("keyline.rs"),
    Role::Fact(read),
);

const PAGE: Word =
    Word::new("page", "which page of it shows the outside of the cover").takes(&[whole("its number", 1.0, 1000.0)]);

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    let stated = reader.number_property(&PAGE).map(|page| page.value as usize);
    let Some(path) = reader.text().and_then(|path| fill_path(desk.findings, &facts.book, &path)) else { return };
    let Some(bytes) = desk.bytes(&path) else { return };
    match known_page(&bytes, stated.unwrap_or(1)) {
        Ok(page) if page.pages > 1 && stated.is_none() => {
            let message = format!("{:?} has {} pages", path.value, page.pages);
            reader.error(path.span, message, "say which one shows the outside of the cover: `page=1`");
        }
        Ok(page) => facts.keyline = Some(Keyline { page, span: path.span }),
        Err(why) => {
            let help = "ask the printer for a PDF of one page that is neither locked nor damaged";
            reader.error(path.span, format!("{:?} cannot be read: {why}", path.value), help);
        }
    }
}
