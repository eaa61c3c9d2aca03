//! Guides: named lines across the sheet, and the edges that a panel offers to measure from.

use crate::ground::{Rect, Spanned};
use crate::scene::{PanelName, Sheet, Surface};
use std::collections::BTreeMap;

/// Named levels: `top eye`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Guides {
    pub levels: BTreeMap<String, Spanned<Level>>,
}

/// Millimetres from the head or from the foot of the trim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Level {
    FromHead(f64),
    FromFoot(f64),
}

impl Level {
    pub fn y(self, sheet: &Sheet) -> f64 {
        match self {
            Level::FromHead(mm) => sheet.trim.y0 + mm,
            Level::FromFoot(mm) => sheet.trim.y1 - mm,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Guide {
    Trim,
    Bleed,
    Safe,
    Fold,
    Centre,
}

impl Guide {
    pub const WORDS: [(&'static str, Guide); 5] = [
        ("trim", Guide::Trim),
        ("bleed", Guide::Bleed),
        ("safe", Guide::Safe),
        ("fold", Guide::Fold),
        ("centre", Guide::Centre),
    ];
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    X,
    Y,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Start,
    End,
}

/// Where an element may measure from: a panel, the whole wrap, or a group's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    pub name: Surface,
    pub rect: Rect,
    pub bleed: Rect,
    pub safe: Rect,
    /// Whether left and right edge are folds.
    pub folds: [bool; 2],
    /// A spine: its axes are head to foot, and across.
    pub spine: bool,
    /// A group within a panel: all its guides are its frame.
    pub inner: bool,
    /// On a screen nothing is cut or folded, so an edge may be measured as either.
    pub on_screen: bool,
    pub baselines: Option<Baselines>,
}

/// Type keeps this far from the folds of a spine, and on thin spines this far. Common practice: 1/16 in, and 1 mm on
/// spines under 10 mm.
pub const SPINE_CLEARANCE: f64 = 1.5;
pub const THIN_SPINE_CLEARANCE: f64 = 1.0;
pub const THIN_SPINE: f64 = 10.0;

pub fn spine_clearance(width: f64) -> f64 {
    if width < THIN_SPINE { THIN_SPINE_CLEARANCE } else { SPINE_CLEARANCE }
}

/// Lines that words of a panel stand on, so that texts side by side line up. Millimetres from the head of the trim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Baselines {
    pub first: f64,
    pub step: f64,
}

impl Baselines {
    /// The first of them at a height, or under it.
    pub fn next(self, y: f64) -> f64 {
        // A hair above a line is on it.
        self.first + ((y - self.first) / self.step - 1e-6).ceil() * self.step
    }
}

impl Region {
    pub fn panel(sheet: &Sheet, name: PanelName, safe: f64) -> Option<Region> {
        let panel = sheet.panel(name)?;
        let rect = panel.rect;
        let at_left = (rect.x0 - sheet.trim.x0).abs() < 1e-9;
        let at_right = (rect.x1 - sheet.trim.x1).abs() < 1e-9;
        let bleed = Rect::new(
            if at_left { sheet.bleed.x0 } else { rect.x0 },
            sheet.bleed.y0,
            if at_right { sheet.bleed.x1 } else { rect.x1 },
            sheet.bleed.y1,
        );
        let spine = name == PanelName::Spine;
        let across = if spine { spine_clearance(rect.width()).min(rect.width() / 2.0) } else { safe };
        Some(Region {
            name: Surface::Panel(name),
            rect,
            bleed,
            safe: rect.inflate(-across, -safe),
            folds: [!at_left, !at_right],
            spine,
            inner: false,
            on_screen: sheet.pixels.is_some(),
            baselines: None,
        })
    }

    pub fn wrap(sheet: &Sheet, safe: f64) -> Region {
        Region {
            name: Surface::Wrap,
            rect: sheet.trim,
            bleed: sheet.bleed,
            safe: sheet.trim.inflate(-safe, -safe),
            folds: [false, false],
            spine: false,
            inner: false,
            on_screen: sheet.pixels.is_some(),
            baselines: None,
        }
    }

    /// The room inside a group.
    pub fn inside(&self, rect: Rect) -> Region {
        Region { rect, bleed: rect, safe: rect, folds: [false, false], inner: true, ..self.clone() }
    }

    /// Where a guide runs on one side; `Err` says why there is none.
    pub fn edge(&self, axis: Axis, side: Side, guide: Guide) -> Result<f64, String> {
        let pick = |rect: Rect| match (axis, side) {
            (Axis::X, Side::Start) => rect.x0,
            (Axis::X, Side::End) => rect.x1,
            (Axis::Y, Side::Start) => rect.y0,
            (Axis::Y, Side::End) => rect.y1,
        };
        let folded = axis == Axis::X && self.folds[usize::from(side == Side::End)];
        match guide {
            Guide::Trim => Ok(pick(self.rect)),
            Guide::Safe => Ok(pick(self.safe)),
            Guide::Centre if axis == Axis::X => Ok(self.rect.center().x),
            Guide::Centre => Ok(self.rect.center().y),
            Guide::Bleed if folded && !self.on_screen => {
                Err(format!("this edge of `{}` is a fold, where nothing bleeds; measure from `fold`", self.name))
            }
            Guide::Bleed => Ok(pick(self.bleed)),
            Guide::Fold if folded || self.inner || (self.on_screen && self.name != Surface::Wrap) => {
                Ok(pick(self.rect))
            }
            Guide::Fold if self.name == Surface::Wrap => {
                Err("a wrap has several folds; say which panel's with `of=`, such as `of=spine`".to_owned())
            }
            Guide::Fold => Err(format!("this edge of `{}` is cut, not folded; measure from `trim`", self.name)),
        }
    }
}
