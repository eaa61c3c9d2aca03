//! `barcode`: the EAN-13 bar code of the book's ISBN, with its number above and an optional five-digit add-on.
//!
//! ```kdl
//! barcode barcode { right safe; bottom safe; scale 90 }
//! barcode trade { left safe; top safe; scale 100; add-on "51299"; bar-height 18.5; swatch black }
//! ```
//!
//! - `scale N`: percent of the nominal size (37.29 × 25.93 mm with its quiet zones and figures), 80 to 200. Trade practice
//!   asks for 90 and more.
//! - `bar-height N`: shorter bars, in millimetres. The specification wants them whole; readers bear less, and it is reported.
//! - `add-on "51299"`: five digits, in North America the price: `5` for US dollars, then cents; `90000` for no price.
//! - `swatch NAME`: the bars, in one dark ink: black without a word.
//! - `ground SWATCH`, or `ground none`: what lies under bars and quiet zones: paper without a word.
//! - `figures "Libre Franklin"`: the family of the figures. `number-above #false` leaves out the ISBN line.
//! - `bar-reduction 0.02`: millimetres that each bar is drawn narrower, for ink that spreads.
//!
//! Sizes, quiet zones (11 modules left, 7 right) and bars are those of GS1's General Specifications. The place is said
//! by one edge in each direction; the size is the symbol's own.

use crate::cover::BarCode;

use crate::cover::Draw;
use crate::cover::{SCALES, Setting, Symbol};
use crate::ground::{Ink, number};
use crate::language::{Context, Node, Role, read_ink};

use crate::source::{Datum, Reader, Unit, Value};

use std::sync::Arc;

pub const NODE: Node = Node { name: "barcode", source: include_str!("barcode.rs"), role: Role::Element(read) };

const FAMILY: &str = "Libre Franklin";

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let setting = setting(reader);
    let ink = read_ink(reader, "swatch", context).unwrap_or(Ink::black(1.0));
    let ground = ground(reader, context);
    let add_on = reader.child("add-on").and_then(|word| {
        let digits = word.text("five digits in quotes")?;
        if digits.value.len() == 5 && digits.value.chars().all(|c| c.is_ascii_digit()) {
            return Some(digits.value);
        }
        word.error(
            digits.span,
            format!("{:?} is no add-on", digits.value),
            "write five digits: \"51299\", or \"90000\" for no price",
        );
        None
    });
    let family = reader.child("figures").and_then(|word| word.text("a family"));
    let wanted = family.as_ref().map_or(FAMILY, |family| &family.value);
    let Some(font) = context.desk.library.find(wanted, 400, false) else {
        let at = family.as_ref().map_or(reader.span(), |family| family.span);
        reader.error(at, format!("there is no font {wanted:?}"), "leave `figures` out, or name a family of the cover");
        return None;
    };
    let Some(isbn) = &context.facts.book.isbn else {
        // A number that does not check has been told where it stands.
        if !context.facts.book.words.contains_key("isbn") {
            reader.error(reader.span(), "there is no ISBN to put in bars", "state it in `book`: isbn \"978-…\"");
        }
        return None;
    };
    let symbol = Symbol::new(isbn.value.digits(), add_on.as_deref(), &setting)?;
    let number = format!("ISBN {}", isbn.value.shown());
    Some(Arc::new(BarCode { setting, symbol, add_on, ink, ground, font, number }))
}

/// Paper without a word, nothing for `none`.
fn ground(reader: &Reader<'_>, context: &Context<'_>) -> Option<Ink> {
    let nothing = |value: &Value| matches!(&value.datum, Datum::Text(text) if text == "none");
    let Some(word) = reader.node.children.iter().find(|child| child.name.value == "ground") else {
        return Some(Ink::PAPER);
    };
    if word.values.first().is_some_and(nothing) {
        reader.child("ground")?.value();
        return None;
    }
    read_ink(reader, "ground", context)
}

fn setting(reader: &Reader<'_>) -> Setting {
    let mut setting = Setting::new(1.0);
    if let Some(word) = reader.child("scale")
        && let Some(scale) = word.number("percent")
    {
        if SCALES.contains(&(scale.value / 100.0)) {
            setting.scale = scale.value / 100.0;
        } else {
            let message = format!("a bar code at {} % is not allowed", number(scale.value));
            word.error(scale.span, message, "write a number from 80 to 200");
        }
    }
    if let Some(word) = reader.child("bar-height")
        && let Some(height) = word.length("a height", Unit::Mm)
    {
        if (5.0..=100.0).contains(&height.value.mm()) {
            setting.bar_height = Some(height.value.mm());
        } else {
            word.error(height.span, format!("bars of {} are no bars", height.value), "write millimetres from 5 to 100");
        }
    }
    if let Some(word) = reader.child("bar-reduction")
        && let Some(reduction) = word.length("a reduction", Unit::Mm)
    {
        if (0.0..=0.1).contains(&reduction.value.mm()) {
            setting.reduction = reduction.value.mm();
        } else {
            let message = format!("{} is no bar width reduction", reduction.value);
            word.error(reduction.span, message, "write millimetres from 0 to 0.1");
        }
    }
    setting.heading = reader.child("number-above").and_then(|word| word.flag("#true or #false")).unwrap_or(true);
    setting
}
