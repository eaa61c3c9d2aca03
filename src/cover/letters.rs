//! Letters: words drawn large, with what their lettering shows beside them.
//!
//! Letters that lie over each other are joined first, so that no line shows where they meet. The letters themselves stay
//! text; all else is drawn beside them.

use crate::cover::{LetterOutline, LetterShadow, Lettering, Pen, WordLine};
use crate::ground::{
    Affine, Blend, FillRule, Ink, Join, Line, Paint, Path, PathEl, Point, Rect, Severity, Shape as _, TOLERANCE, Vec2,
    flatten, joined, rect_path,
};
use crate::scene::{GlyphRun, Mark};
use crate::typeset::{Block, SetApart, TextRun};

/// Sharp corners reach out so many times half the line's weight, then they are cut. Common practice.
const MITER: f64 = 4.0;

impl Lettering {
    fn draw_shadow(&self, whole: &Path, pen: &mut Pen<'_>) {
        let Some(shadow) = &self.shadow else { return };
        let by = shadow.way(pen);
        let paint = || Paint::Ink(shadow.ink.clone());
        let fill = |path: Path| Mark::Fill { path, rule: FillRule::NonZero, paint: paint() };
        let moved = Affine::translate(by) * whole.clone();
        let mut marks = vec![fill(moved.clone())];
        if shadow.block {
            marks.push(fill(swept(whole, by)));
        }
        if let Some(outline) = &self.outline {
            marks.push(Mark::Stroke { path: moved.clone(), line: outline.line(2.0), paint: paint() });
            if shadow.block {
                let rim = outline.line(2.0).outline(whole, TOLERANCE);
                marks.push(fill(swept(&rim, by)));
            }
        }
        if self.hollow {
            pen.marks_in((outside(whole, by), FillRule::EvenOdd), marks);
        } else {
            for mark in marks {
                pen.mark(mark);
            }
        }
    }

    fn draw_outline(&self, whole: &Path, pen: &mut Pen<'_>) {
        let Some(outline) = &self.outline else { return };
        let line = Mark::Stroke { path: whole.clone(), line: outline.line(2.0), paint: outline.ink.clone().into() };
        if self.hollow {
            pen.marks_in((outside(whole, Vec2::ZERO), FillRule::EvenOdd), vec![line]);
        } else {
            pen.mark(line);
        }
    }

    /// Over the edge of the letters, where an outline or a shadow lies against them: both print there, so that no paper
    /// shows between plates that are off.
    fn draw_traps(&self, whole: &Path, pen: &mut Pen<'_>) {
        if let Some(shadow) = self.shadow.as_ref().filter(|shadow| shadow.trap > 0.0 && !self.hollow) {
            let line = Line { join: Join::Round, ..Line::new(2.0 * shadow.trap) };
            let ink = Ink { overprint: true, ..shadow.ink.clone() };
            let rim = Mark::Stroke { path: whole.clone(), line, paint: ink.into() };
            let moved = Affine::translate(shadow.way(pen)) * whole.clone();
            pen.marks_in((moved, FillRule::NonZero), vec![rim]);
        }
        if let Some(outline) = self.outline.as_ref().filter(|outline| outline.trap > 0.0 && !self.hollow) {
            let line = Line { width: 2.0 * outline.trap, ..outline.line(1.0) };
            let ink = Ink { overprint: true, ..outline.ink.clone() };
            pen.mark(Mark::Stroke { path: whole.clone(), line, paint: ink.into() });
        }
    }

    fn draw_inline(&self, runs: &[GlyphRun], whole: &Path, pen: &mut Pen<'_>) {
        let Some(inline) = self.inline.as_ref().filter(|_| !self.hollow) else { return };
        let mut paints: Vec<&Paint> = Vec::new();
        for run in runs {
            if !paints.contains(&&run.paint) {
                paints.push(&run.paint);
            }
        }
        let single = paints.len() == 1;
        for paint in paints {
            let own = || outline_of(runs.iter().filter(|run| run.paint == *paint));
            let Some(path) = (if single { Some(whole.clone()) } else { own() }) else { continue };
            let stroke = |width: f64, paint: &Paint| {
                let line = Line { join: Join::Round, ..Line::new(2.0 * width) };
                Mark::Stroke { path: path.clone(), line, paint: paint.clone() }
            };
            let mut marks = vec![stroke(inline.depth + inline.weight, &inline.ink.clone().into())];
            if inline.depth > 0.0 {
                marks.push(stroke(inline.depth, paint));
            }
            pen.marks_in((path.clone(), FillRule::NonZero), marks);
        }
    }
}

impl LetterShadow {
    /// How far it stands aside on the sheet.
    fn way(&self, pen: &Pen<'_>) -> Vec2 {
        pen.transform() * Point::new(self.right, self.down) - pen.transform() * Point::ZERO
    }
}

impl LetterOutline {
    fn line(&self, times: f64) -> Line {
        Line { join: self.join, miter_limit: MITER, ..Line::new(self.weight * times) }
    }
}

/// Draws into a box of the pen's space.
pub type DrawInside<'a> = dyn Fn(Rect, &mut Pen<'_>) + 'a;

/// Words to be drawn, in the pen's space.
pub struct Letters<'a> {
    pub block: &'a Block,
    /// Where the block's upper left corner stands, unless its first line follows another.
    pub at: (f64, f64),
    pub ink: &'a Ink,
    /// Letters and words set apart, and their inks where they have their own.
    pub apart: &'a [SetApart],
    pub inks: &'a [Option<Ink>],
    pub line: Option<&'a WordLine>,
    /// Draws what shows in the letters alone, into the box of their ink.
    pub inside: Option<&'a DrawInside<'a>>,
}

pub fn draw_letters(pen: &mut Pen<'_>, letters: &Letters<'_>, lettering: &Lettering) {
    let Letters { block, at, inside, .. } = *letters;
    let own =
        |run: &TextRun| usize::from(run.apart).checked_sub(1).map(|at| (letters.inks.get(at), letters.apart.get(at)));
    let ink =
        |run: &TextRun| own(run).and_then(|(ink, _)| ink.cloned().flatten()).unwrap_or_else(|| letters.ink.clone());
    let mut runs = pen.runs_of(block, at, &|run| Paint::Ink(ink(run)));
    if let Some(line) = letters.line {
        let straight = pen.transform() * Affine::translate((at.0, at.1 + block.first_baseline));
        for run in &mut runs {
            line.bend(run, straight, pen.transform());
        }
    }
    let placed = block.lines.iter().flat_map(|line| &line.runs);
    for (run, placed) in runs.iter_mut().zip(placed) {
        let turn = own(placed).and_then(|(_, apart)| apart).map_or(0.0, |apart| apart.turn);
        if turn != 0.0 {
            turn_about_middle(run, turn.to_radians());
        }
    }
    if lettering.is_plain() && inside.is_none() {
        for run in runs {
            pen.mark(Mark::Glyphs(run));
        }
        return;
    }
    let lettering = &Lettering { hollow: lettering.hollow || inside.is_some(), ..lettering.clone() };
    let block_shadow = lettering.shadow.as_ref().is_some_and(|shadow| shadow.block);
    let small = |whole: &Path| !block_shadow || corners(whole) <= MOST_SWEPT;
    let Some(whole) = outline_of(runs.iter()).filter(small) else {
        let message = "these are too many letters for lettering: they are drawn in their ink alone";
        let help = "a few hundred letters may have an outline, a shadow or something inside; divide the text";
        pen.report(Severity::Error, "language", message, help);
        for run in runs {
            pen.mark(Mark::Glyphs(run));
        }
        return;
    };
    let own = pen.transform().inverse() * whole.clone();
    let bounds = own.bounding_box();
    if let Some(inside) = inside.filter(|_| bounds.width() > 0.0 && bounds.height() > 0.0) {
        pen.group(Some((own, FillRule::NonZero)), 1.0, Blend::Normal, |pen| inside(bounds, pen));
    }
    let face = match &lettering.gradient {
        _ if lettering.hollow => Some(Paint::None),
        Some(gradient) => gradient.across(bounds).map(|gradient| pen.carried(Paint::Gradient(gradient))),
        None => None,
    };
    if let Some(face) = face {
        for run in &mut runs {
            run.paint = face.clone();
        }
    }
    let fade = lettering.gradient.as_ref().filter(|_| !lettering.hollow).and_then(|gradient| gradient.shows(bounds));
    // Behind letters that fade nothing may come to light that they cover elsewhere.
    let beside = &Lettering { hollow: lettering.hollow || fade.is_some(), ..lettering.clone() };
    beside.draw_shadow(&whole, pen);
    beside.draw_outline(&whole, pen);
    pen.fading(fade, bounds, |pen| {
        for run in runs.iter().cloned() {
            pen.mark(Mark::Glyphs(run));
        }
        lettering.draw_inline(&runs, &whole, pen);
    });
    beside.draw_traps(&whole, pen);
}

/// Turns a run about the middle of its ink.
fn turn_about_middle(run: &mut GlyphRun, angle: f64) {
    let back = run.transform.inverse();
    let boxes = run.boxes().map(|bounds| back.transform_rect_bbox(bounds));
    let Some(middle) = boxes.reduce(|a, b| a.union(b)).map(|all| all.center()) else { return };
    let turn = Affine::rotate_about(angle, middle);
    run.turns = (0..run.glyphs.len()).map(|at| run.turn(at) + angle).collect();
    for glyph in &mut run.glyphs {
        let place = turn * Point::new(glyph.x, glyph.y);
        (glyph.x, glyph.y) = (place.x, place.y);
    }
}

/// The outline of runs together, on the sheet.
fn outline_of<'a>(runs: impl Iterator<Item = &'a GlyphRun>) -> Option<Path> {
    let mut all = Path::new();
    runs.for_each(|run| all.extend(run.outline().iter()));
    joined(&all)
}

/// All but what lies within a path: the path in a box far around it, filled by even and odd.
fn outside(path: &Path, by: Vec2) -> Path {
    let bounds = path.bounding_box();
    let room = bounds.width() + bounds.height() + by.hypot() + 100.0;
    let mut around = rect_path(bounds.inflate(room, room));
    around.extend(path.iter());
    around
}

/// Corners that the side of a solid letter is drawn from, at the most: a few hundred letters.
const MOST_SWEPT: usize = 60_000;

fn corners(path: &Path) -> usize {
    let mut corners = 0;
    flatten(path, TOLERANCE / 2.0, |_| corners += 1);
    corners
}

/// What the edge of a path sweeps over on its way, every part of it turned alike.
fn swept(path: &Path, by: Vec2) -> Path {
    let mut swept = Path::new();
    let mut last = Point::ZERO;
    let mut start = Point::ZERO;
    let mut side = |from: Point, to: Point| {
        let turned = (to - from).cross(by) > 0.0;
        let (from, to) = if turned { (from, to) } else { (to, from) };
        swept.extend([
            PathEl::MoveTo(from),
            PathEl::LineTo(to),
            PathEl::LineTo(to + by),
            PathEl::LineTo(from + by),
            PathEl::ClosePath,
        ]);
    };
    flatten(path, TOLERANCE / 2.0, |element| match element {
        PathEl::MoveTo(to) => (last, start) = (to, to),
        PathEl::LineTo(to) => {
            side(last, to);
            last = to;
        }
        PathEl::ClosePath => {
            side(last, start);
            last = start;
        }
        _ => {}
    });
    swept
}
