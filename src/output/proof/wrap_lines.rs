//! The lines on the wrap, layer by layer: trim, bleed, safe area, folds, hinges, the printer's keyline.

use crate::ground::{Blend, Ink, Line, Path, Point, Rect, rect_path};
use crate::output::entry::OutputJob;
use crate::output::proof::pen::ProofPen;
use crate::pdf::DocumentLayer;
use crate::scene::{FoldKind, Group, Mark};

/// Lines stand on a wider one of paper, so that they show on any ground.
const LINE: f64 = 0.2;
const HALO: f64 = 0.5;
/// Folds run on beyond the bleed.
const BEYOND: f64 = 3.0;
/// A keyline shows this far beyond the bleed: its marks, not its words.
const AROUND: f64 = 4.0;
/// How much of what is cut off is veiled.
const VEIL: f64 = 0.5;

pub const TRIM: WrapLine = WrapLine { ink: Ink::process(0.0, 1.0, 0.1, 0.0), dashes: &[] };
pub const BLEED: WrapLine = WrapLine { ink: Ink::process(1.0, 0.35, 0.0, 0.0), dashes: &[] };
pub const SAFE: WrapLine = WrapLine { ink: Ink::process(0.85, 0.1, 0.9, 0.05), dashes: &[1.2, 0.8] };
pub const FOLD: WrapLine = WrapLine { ink: Ink::process(0.0, 0.6, 1.0, 0.0), dashes: &[3.0, 1.2] };
pub const HINGE: WrapLine = WrapLine { ink: Ink::process(0.6, 0.85, 0.0, 0.0), dashes: &[0.5, 0.9] };
/// It lies over the others, which show between its dots.
pub const KEYLINE: WrapLine = WrapLine { ink: Ink::black(1.0), dashes: &[0.4, 0.8] };

pub struct WrapLine {
    ink: Ink,
    dashes: &'static [f64],
}

impl WrapLine {
    pub fn draw(&self, pen: &mut ProofPen, path: &Path) {
        let line = |width: f64| Line { dashes: self.dashes.to_vec(), ..Line::new(width) };
        pen.stroke(path.clone(), line(HALO), Ink::PAPER);
        pen.stroke(path.clone(), line(LINE), self.ink.clone());
    }

    fn frame(&self, pen: &mut ProofPen, rect: Rect) {
        self.draw(pen, &rect_path(rect));
    }

    fn upright(&self, pen: &mut ProofPen, x: f64, rect: Rect, beyond: f64) {
        let mut path = Path::new();
        path.move_to((x, rect.y0 - beyond));
        path.line_to((x, rect.y1 + beyond));
        self.draw(pen, &path);
    }
}

/// A layer of what `draw` leaves; `None` when that is nothing.
pub fn layer(name: &'static str, draw: impl FnOnce(&mut ProofPen)) -> Option<DocumentLayer> {
    let mut pen = ProofPen::default();
    draw(&mut pen);
    (!pen.items.is_empty()).then_some(DocumentLayer { name: Some(name), items: pen.items })
}

pub fn layers(job: &OutputJob<'_>) -> Vec<DocumentLayer> {
    let sheet = &job.scene.sheet;
    let folds = |kind: FoldKind| sheet.folds.iter().filter(move |fold| fold.kind == kind).map(|fold| fold.x);
    let bleed = layer("bleed", |pen| {
        if sheet.bleed != sheet.trim {
            veil(pen, sheet.bleed, sheet.trim);
            BLEED.frame(pen, sheet.bleed);
        }
    });
    let safe = layer("safe area", |pen| job.particulars.safe.iter().for_each(|area| SAFE.frame(pen, *area)));
    let folded = layer("folds", |pen| folds(FoldKind::Fold).for_each(|x| FOLD.upright(pen, x, sheet.bleed, BEYOND)));
    let hinges = layer("hinges", |pen| {
        folds(FoldKind::Score).for_each(|x| HINGE.upright(pen, x, sheet.bleed, BEYOND));
        let joints = sheet.panels.iter().filter(|panel| panel.name.is_joint());
        joints.for_each(|joint| HINGE.upright(pen, joint.rect.center().x, sheet.trim, 0.0));
    });
    let trim = layer("trim", |pen| TRIM.frame(pen, sheet.trim));
    let room = sheet.bleed.inflate(AROUND, AROUND);
    let keyline = layer("keyline", |pen| {
        let mut path = Path::new();
        for [from, to] in job.particulars.keyline.iter().filter_map(|line| within(*line, room)) {
            path.move_to(from);
            path.line_to(to);
        }
        if !path.elements().is_empty() {
            KEYLINE.draw(pen, &path);
        }
    });
    [bleed, safe, hinges, folded, trim, keyline].into_iter().flatten().collect()
}

/// The part of an upright or level line that lies in a room.
fn within([from, to]: [Point; 2], room: Rect) -> Option<[Point; 2]> {
    let held = |point: Point| Point::new(point.x.clamp(room.x0, room.x1), point.y.clamp(room.y0, room.y1));
    let is_upright = (from.x - to.x).abs() < (from.y - to.y).abs();
    let crosses =
        if is_upright { room.x0 <= from.x && from.x <= room.x1 } else { room.y0 <= from.y && from.y <= room.y1 };
    let (from, to) = (held(from), held(to));
    (crosses && from != to).then_some([from, to])
}

/// Paper over what will be cut off.
fn veil(pen: &mut ProofPen, outer: Rect, inner: Rect) {
    let mut ring = ProofPen::default();
    let mut path = rect_path(outer);
    path.extend(rect_path(inner).elements().iter().copied());
    ring.fill(path, Ink::PAPER);
    pen.push(Mark::Group(Group { veil: None, clip: None, opacity: VEIL, blend: Blend::Normal, items: ring.items }));
}
