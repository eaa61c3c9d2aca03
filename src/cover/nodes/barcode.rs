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

use crate::assets::{Font, Glyph};
use crate::cover::barcode::{SCALES, Setting, Symbol};
use crate::cover::{Bench, Context, Draw, Natural, Node, Open, Pen, Role, read_ink};
use crate::ground::{FillRule, Ink, MM_PER_PT, Rect, Severity, Vec2, number, rect_path};
use crate::scene::Kind;
use crate::source::{Datum, Reader, Unit, Value};
use crate::typeset::{Align, Copy, Hyphenation, Room, Size, Style};
use std::sync::Arc;

pub const NODE: Node = Node { name: "barcode", source: include_str!("barcode.rs"), role: Role::Element(read) };

pub struct BarCode {
    pub setting: Setting,
    pub symbol: Symbol,
    pub add_on: Option<String>,
    pub ink: Ink,
    pub ground: Option<Ink>,
    font: Arc<Font>,
    number: String,
}

/// The ground reaches this far beyond figures and quiet zones, in modules, so that nothing touches its edge.
const MARGIN: f64 = 3.0;
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

impl BarCode {
    fn margin(&self) -> f64 {
        MARGIN * self.setting.module()
    }

    /// The quiet zone in a frame.
    pub fn quiet(&self, frame: Rect) -> Rect {
        self.symbol.quiet + self.corner(frame)
    }

    /// Where the symbol's own corner lies in a frame: the middle of a frame larger than it needs.
    fn corner(&self, frame: Rect) -> Vec2 {
        Vec2::new(
            frame.x0 + (frame.width() - self.symbol.width) / 2.0,
            frame.y0 + (frame.height() - self.symbol.height) / 2.0,
        )
    }

    fn figures(&self, corner: Vec2, pen: &mut Pen<'_>) {
        let mut row: Vec<(char, Rect)> = Vec::new();
        for figure in &self.symbol.figures {
            let cell = figure.cell + corner;
            let breaks = row.last().is_some_and(|(_, last)| (last.y0 - cell.y0).abs() > 1e-6);
            if breaks || figure.letter == '>' {
                self.row(&std::mem::take(&mut row), pen);
            }
            row.push((figure.letter, cell));
        }
        self.row(&row, pen);
    }

    /// Figures on one line, each in the middle of its cell and as high.
    fn row(&self, row: &[(char, Rect)], pen: &mut Pen<'_>) {
        let Some((_, first)) = row.first() else { return };
        let size = first.height() / self.font.metrics().cap_height;
        let mut text = String::new();
        let mut glyphs: Vec<Glyph> = Vec::new();
        for (letter, cell) in row {
            let id = self.font.glyph(*letter).unwrap_or(0);
            let x = cell.center().x - self.font.advance(id) * size / 2.0 - first.x0;
            let start = text.len();
            text.push(*letter);
            glyphs.push(Glyph { id, x, y: 0.0, advance: self.font.advance(id) * size, text: start..text.len() });
        }
        for at in 1..glyphs.len() {
            glyphs[at - 1].advance = glyphs[at].x - glyphs[at - 1].x;
        }
        pen.run(&self.font, size, glyphs, &text, (first.x0, first.y1), &self.ink);
    }

    fn heading(&self, cell: Rect, pen: &mut Pen<'_>) {
        let size = cell.height() / self.font.metrics().cap_height / MM_PER_PT;
        let style = Style {
            family: self.font.family().to_owned(),
            size: Size::Between(size / 2.0, size),
            align: Align::Centre,
            language: "en".to_owned(),
            hyphenation: Hyphenation { on: false, ..Style::default().hyphenation },
            ..Style::default()
        };
        let room = Room { width: cell.width(), height: None, lines: Some(1) };
        let number = self.number.replace(' ', "\u{a0}");
        if let Ok(block) = pen.bench.typesetter.set(&Copy::plain(&number), &style, room) {
            pen.block(&block, cell.x0, cell.y1 - block.first_baseline, &self.ink);
        }
    }
}

impl Draw for BarCode {
    fn kind(&self) -> Kind {
        Kind::BarCode
    }

    fn natural(&self, _room: Open, _bench: &Bench<'_>) -> Natural {
        let around = 2.0 * self.margin();
        Natural { width: Some(self.symbol.width + around), height: Some(self.symbol.height + around) }
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let corner = self.corner(frame);
        if frame.width() < self.symbol.width - 1e-6 || frame.height() < self.symbol.height - 1e-6 {
            let message = format!(
                "a frame of {} × {} mm is too small for this bar code, which is {} × {} mm",
                number(frame.width()),
                number(frame.height()),
                number(self.symbol.width),
                number(self.symbol.height)
            );
            pen.report(
                Severity::Error,
                "language",
                message,
                "say one edge in each direction; `scale` and `bar-height` rule its size",
            );
        }
        let all = Rect::new(0.0, 0.0, self.symbol.width, self.symbol.height).inflate(self.margin(), self.margin());
        if let Some(ground) = &self.ground {
            pen.fill(&rect_path(all + corner), FillRule::NonZero, ground.clone());
        }
        for bar in &self.symbol.bars {
            pen.fill(&rect_path(*bar + corner), FillRule::NonZero, self.ink.clone());
        }
        self.figures(corner, pen);
        if let Some(cell) = self.symbol.heading {
            self.heading(cell + corner, pen);
        }
    }

    fn bar_code(&self) -> Option<&BarCode> {
        Some(self)
    }
}
