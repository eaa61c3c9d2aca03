//! `barcode`: the EAN-13 bar code of the book's ISBN, with its number above and an optional five-digit add-on.
//!
//! ```kdl
//! barcode barcode { right safe; bottom safe; scale 90 }
//! barcode trade { left safe; top safe; scale 100; add-on "51299"; bar-height 18.5; swatch black }
//! ```
//!
//! Sizes, quiet zones (11 modules left, 7 right) and bars are those of GS1's General Specifications. The nominal size is
//! 37.29 × 25.93 mm with quiet zones and figures; trade practice asks for 90 percent of it and more. One edge in each direction
//! fixes its place; the size is the symbol's own. Bars that are lower than specified are often accepted by readers, and
//! reported.
//!
//! The add-on states, in North America, the price: `5` for US dollars or `6` for Canadian ones, then four digits for dollars
//! and cents; `90000` for no price (from memory of the trade's custom). `add-on price` makes it from the book's price.

use crate::cover::{BarCode, BarCodeSetting, Book, Draw, SCALES, Symbol};
use crate::ground::{Ink, Span};
use crate::language::context::Context;
use crate::language::fillings::{GROUND, SWATCH, read_ground, read_ink};
use crate::language::headword::{Headword, Role, element};
use crate::language::look::LOOK;
use crate::language::nodes::book::PRICE;
use crate::language::place::PLACE;
use crate::scene::Kind;
use crate::source::{Reader, Slot, Word, flag, mm, percent, text};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("barcode", "the bar code of the book's ISBN").holds(&[
        &[SCALE, BAR_HEIGHT, ADD_ON, SWATCH, GROUND, FIGURES, NUMBER_ABOVE, BAR_REDUCTION],
        PLACE,
        LOOK,
    ]),
    include_str!("barcode.rs"),
    Role::Element(Kind::BarCode, read),
);

const SCALE: Word = Word::new("scale", "percent of the nominal size").takes(PERCENT).default("100");
const PERCENT: &[Slot] = &[percent(*SCALES.start() * 100.0, *SCALES.end() * 100.0)];
const BAR_HEIGHT: Word =
    Word::new("bar-height", "lower bars than the size asks for").takes(&[mm("a height", 5.0, 100.0)]);
const ADD_ON: Word = Word::new("add-on", "five digits beside it, or `price`: the book's price in dollars")
    .takes(&[text("five digits in quotes, or price")]);
const DOLLARS: [(&str, char); 2] = [("USD", '5'), ("CAD", '6')];
const FIGURES: Word =
    Word::new("figures", "the family of its figures").takes(&[text("a family")]).default("\"Libre Franklin\"");
const NUMBER_ABOVE: Word =
    Word::new("number-above", "whether the ISBN stands above the bars").takes(&[flag()]).default("#true");
const BAR_REDUCTION: Word = Word::new("bar-reduction", "how much narrower each bar is drawn, for ink that spreads")
    .takes(&[mm("a reduction", 0.0, 0.1)])
    .default("0");

const FAMILY: &str = "Libre Franklin";

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let setting = setting(reader);
    let ink = read_ink(reader, &SWATCH, context).unwrap_or(Ink::black(1.0));
    let ground = read_ground(reader, context);
    let add_on = reader.child(&ADD_ON).and_then(|word| {
        let digits = word.text()?;
        if digits.value == PRICE.name {
            return of_price(&word, digits.span, &context.facts.book);
        }
        if digits.value.len() == 5 && digits.value.chars().all(|c| c.is_ascii_digit()) {
            return Some(digits.value);
        }
        word.error(
            digits.span,
            format!("{:?} is not an add-on", digits.value),
            "write five digits: \"51299\", or \"90000\" for no price; or `add-on price`",
        );
        None
    });
    let family = reader.child(&FIGURES).and_then(|word| word.text());
    let wanted = family.as_ref().map_or(FAMILY, |family| &family.value);
    let Some(font) = context.desk.library.find(wanted, 400, false) else {
        let at = family.as_ref().map_or(reader.span(), |family| family.span);
        reader.error(at, format!("there is no font {wanted:?}"), "leave `figures` out, or name a family of the cover");
        return None;
    };
    let Some(isbn) = &context.facts.book.isbn else {
        // A number with a wrong check digit has been reported where it stands.
        if !context.facts.book.words.contains_key("isbn") {
            reader.error(
                reader.span(),
                "the bar code needs an ISBN",
                "state it in `book`, `isbn \"978-…\"`, or write `when=isbn` behind the bar code's name",
            );
        }
        return None;
    };
    let symbol = Symbol::new(isbn.value.digits(), add_on.as_deref(), &setting)?;
    let number = format!("ISBN {}", isbn.value.shown());
    Some(Arc::new(BarCode { setting, symbol, ink, ground, font, number }))
}

/// The add-on that states the first price in dollars.
fn of_price(word: &Reader<'_>, span: Span, book: &Book) -> Option<String> {
    let digit = |currency: &String| DOLLARS.iter().find(|(known, _)| known == currency).map(|(_, digit)| *digit);
    let priced = book.currencies.iter().find_map(|currency| Some((digit(currency)?, book.amounts.get(currency)?)));
    let Some((digit, amount)) = priced else {
        let help = "state it in `book`: `price USD \"18.00\"`; the add-on of a book without a price is \"90000\"";
        word.error(span, "the book states no price in US or Canadian dollars", help);
        return None;
    };
    let (dollars, cents) = amount.split_once(['.', ',']).unwrap_or((amount, ""));
    let dollars = dollars.trim_start_matches('0');
    if dollars.len() > 2 {
        let help = "write the digits that your trade uses for it, such as \"90000\" for no price";
        word.error(span, format!("{amount} does not fit into an add-on, which ends at 99.99"), help);
        return None;
    }
    Some(format!("{digit}{dollars:0>2}{cents:0<2}"))
}

fn setting(reader: &Reader<'_>) -> BarCodeSetting {
    let mut setting = BarCodeSetting::new(1.0);
    setting.scale = reader.child(&SCALE).and_then(|word| word.percent()).unwrap_or(setting.scale);
    setting.bar_height = reader.child(&BAR_HEIGHT).and_then(|word| word.mm());
    setting.reduction = reader.child(&BAR_REDUCTION).and_then(|word| word.mm()).unwrap_or(setting.reduction);
    setting.heading = reader.child(&NUMBER_ABOVE).and_then(|word| word.flag()).unwrap_or(true);
    setting
}
