//! Bar codes: EAN-13 and its five-digit add-on, as bars, figures and the space they need.

use crate::ground::Rect;

/// The width of a module at 100 %, in millimetres (GS1 General Specifications).
pub const MODULE: f64 = 0.33;
/// Sizes that the specification allows, 1 being 100 %.
pub const SCALES: std::ops::RangeInclusive<f64> = 0.8..=2.0;
/// The height of the bars at 100 %, in millimetres.
pub const BAR_HEIGHT: f64 = 22.85;

/// How a symbol is to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct BarCodeSetting {
    /// 1 is 100 %.
    pub scale: f64,
    /// Bars shorter than the specification's, in millimetres; the guards reach on below.
    pub bar_height: Option<f64>,
    /// How much narrower each bar is drawn, in millimetres, for ink that spreads.
    pub reduction: f64,
    /// Room above the bars for the number as people read it.
    pub heading: bool,
}

/// A symbol laid out in millimetres, from its own top left corner, y down.
#[derive(Clone, Debug, PartialEq)]
pub struct Symbol {
    /// All of it: quiet zones, bars, figures, heading.
    pub width: f64,
    pub height: f64,
    pub bars: Vec<Rect>,
    /// What must stay light: as high as the bars, the quiet zones beside them included.
    pub quiet: Rect,
    pub figures: Vec<Figure>,
    pub heading: Option<Rect>,
}

/// A figure below or above the bars: centred in its cell, as high as the cell.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    pub letter: char,
    pub cell: Rect,
}

// All in modules.
const LEFT_QUIET: f64 = 11.0;
const RIGHT_QUIET: f64 = 7.0;
/// Seven to twelve are allowed; readers part the symbols worst below six and above ten.
const ADD_ON_GAP: f64 = 9.0;
const ADD_ON_QUIET: f64 = 5.0;
const GUARD_DROP: f64 = 5.0;
const FIGURE_WIDTH: f64 = 7.0;
/// 2.75 mm at 100 %.
const FIGURE_HEIGHT: f64 = 25.0 / 3.0;
const FIGURE_GAP: f64 = 1.0;
const MARK_WIDTH: f64 = 5.0;
const HEADING_HEIGHT: f64 = 6.0;
const HEADING_GAP: f64 = 3.0;

impl BarCodeSetting {
    pub fn new(scale: f64) -> BarCodeSetting {
        BarCodeSetting { scale, bar_height: None, reduction: 0.0, heading: true }
    }

    /// A module's width, in millimetres.
    pub fn module(&self) -> f64 {
        self.scale * MODULE
    }
}

impl Symbol {
    /// `None` unless `code` is thirteen digits that check, and `add_on`, where there is one, five.
    pub fn new(code: &str, add_on: Option<&str>, setting: &BarCodeSetting) -> Option<Symbol> {
        let main = ean13(code)?;
        let extra = match add_on {
            Some(digits) => Some((digits, ean5(digits)?)),
            None => None,
        };
        let module = setting.module();
        let top = if setting.heading { HEADING_HEIGHT + HEADING_GAP } else { 0.0 };
        let foot = top + setting.bar_height.unwrap_or(BAR_HEIGHT * setting.scale) / module;
        let mut draft = SymbolDraft { module, reduction: setting.reduction, bars: Vec::new(), figures: Vec::new() };

        draft.bars(&main, LEFT_QUIET, top, |at| if is_guard(at) { foot + GUARD_DROP } else { foot });
        let line = foot + FIGURE_GAP;
        for (at, letter) in code.chars().enumerate() {
            draft.figure(letter, figure_place(at), line, FIGURE_WIDTH);
        }
        let end = LEFT_QUIET + MAIN_MODULES as f64;
        let width = if let Some((digits, modules)) = &extra {
            let start = end + ADD_ON_GAP;
            draft.bars(modules, start, top + FIGURE_HEIGHT + FIGURE_GAP, |_| foot + GUARD_DROP);
            for (at, letter) in digits.chars().enumerate() {
                draft.figure(letter, start + 4.0 + 9.0 * at as f64, top, FIGURE_WIDTH);
            }
            start + ADD_ON_MODULES as f64 + ADD_ON_QUIET
        } else {
            // The mark that keeps the quiet zone open stands at its outer end.
            draft.figure('>', end + RIGHT_QUIET - MARK_WIDTH, line, MARK_WIDTH);
            end + RIGHT_QUIET
        };
        let heading = Rect::new(0.0, 0.0, (end + RIGHT_QUIET) * module, HEADING_HEIGHT * module);
        Some(Symbol {
            width: width * module,
            height: (line + FIGURE_HEIGHT) * module,
            quiet: Rect::new(0.0, top * module, width * module, (foot + GUARD_DROP) * module),
            heading: setting.heading.then_some(heading),
            bars: draft.bars,
            figures: draft.figures,
        })
    }
}

const MAIN_MODULES: usize = 95;
const ADD_ON_MODULES: usize = 47;

/// The three pairs of bars that reach lower: left, middle, right.
fn is_guard(module: usize) -> bool {
    module < 3 || (45..50).contains(&module) || module >= MAIN_MODULES - 3
}

/// The first figure stands alone at the outer end of the left quiet zone, six below each half.
fn figure_place(at: usize) -> f64 {
    match at {
        0 => 0.0,
        1..=6 => LEFT_QUIET + 3.0 + 7.0 * (at - 1) as f64,
        _ => LEFT_QUIET + 50.0 + 7.0 * (at - 7) as f64,
    }
}

struct SymbolDraft {
    module: f64,
    reduction: f64,
    bars: Vec<Rect>,
    figures: Vec<Figure>,
}

impl SymbolDraft {
    fn bars(&mut self, modules: &Modules, left: f64, top: f64, foot: impl Fn(usize) -> f64) {
        for (start, end) in modules.bars() {
            let (x0, x1) = ((left + start as f64) * self.module, (left + end as f64) * self.module);
            // Half a module is the most that readers bear; the spaces gain what the bar loses.
            let slim = self.reduction.clamp(0.0, self.module / 2.0) / 2.0;
            self.bars.push(Rect::new(x0 + slim, top * self.module, x1 - slim, foot(start) * self.module));
        }
    }

    fn figure(&mut self, letter: char, left: f64, top: f64, width: f64) {
        let cell = Rect::new(left, top, left + width, top + FIGURE_HEIGHT).scale_from_origin(self.module);
        self.figures.push(Figure { letter, cell });
    }
}

mod draw;
mod element;
mod encode;

pub use element::BarCode;
pub use encode::read_bars;
use encode::{Modules, ean5, ean13};

#[cfg(test)]
mod tests;
