//! Draws a bar code with its ground, its figures and its number.

use crate::assets::Glyph;
use crate::cover::{BarCode, Bench, Draw, Natural, Open, Pen};
use crate::ground::{FillRule, MM_PER_PT, Rect, Severity, Vec2, number, rect_path};
use crate::scene::Kind;
use crate::typeset::{Align, Copy, Hyphenation, Room, Size, Style};

impl BarCode {
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
        let room = Room { width: cell.width(), close: false, height: None, lines: Some(1), holes: None };
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
}
