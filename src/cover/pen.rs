//! Pen: draws into a scene and signs each mark with its origin.

use crate::assets::{Font, Glyph, Picture, RunEnd, Sequence};
use crate::cover::{Bench, Element, Layout, Open, Region};
use crate::ground::{Affine, FillRule, Finding, Gradient, Ink, Line, Paint, Path, Rect, Severity};
use crate::scene::{GlyphRun, Group, Item, Mark, Origin, Placed};
use crate::typeset::Block;
use std::sync::Arc;

pub struct Pen<'a> {
    pub bench: Bench<'a>,
    pub region: &'a Region,
    /// In which the element found its size.
    pub room: Open,
    origin: Arc<Origin>,
    /// From the pen's own space to the sheet.
    transform: Affine,
    items: Vec<Item>,
    /// Runs of glyphs so far.
    runs: u32,
}

/// Lays and draws elements of a region, in the order of printing.
pub fn draw_all(bench: Bench<'_>, region: &Region, elements: &[Element], transform: Affine, items: &mut Vec<Item>) {
    let layout = Layout::new(bench, region, elements);
    for (index, element) in elements.iter().enumerate().filter(|(_, element)| !element.body.absent()) {
        draw_one(bench, region, element, (layout.frame(index), layout.room(index)), transform, items);
    }
}

/// Draws one element into a frame, whose size was found in a room.
pub fn draw_one(
    bench: Bench<'_>,
    region: &Region,
    element: &Element,
    (frame, room): (Rect, Open),
    transform: Affine,
    items: &mut Vec<Item>,
) {
    let room = if element.look.quarter() { room.turned() } else { room };
    let (local, turn) = element.look.turned(frame);
    let transform = transform * turn;
    let origin = Arc::new(Origin {
        span: element.name.span,
        panel: element.panel.clone(),
        element: element.name.value.clone(),
        kind: element.body.kind(),
        frame: transform.transform_rect_bbox(local),
    });
    let mut pen = Pen { bench, region, room, origin: origin.clone(), transform, items: Vec::new(), runs: 0 };
    element.body.draw(local, &mut pen);
    let drawn = pen.items;
    bench.findings.borrow_mut().show(element.span, origin.frame);
    if !element.look.grouped() {
        items.extend(drawn);
        return;
    }
    let clip = element.look.clip_path(local).map(|path| (transform * path, FillRule::NonZero));
    let group = Group { clip, opacity: element.look.opacity, blend: element.look.blend, items: drawn };
    items.push(Item { origin, mark: Mark::Group(group) });
}

impl Pen<'_> {
    pub fn origin(&self) -> &Origin {
        &self.origin
    }

    pub fn transform(&self) -> Affine {
        self.transform
    }

    pub fn fill(&mut self, path: &Path, rule: FillRule, paint: impl Into<Paint>) {
        if path.elements().is_empty() {
            return;
        }
        let paint = self.carried(paint.into());
        self.push(Mark::Fill { path: self.transform * path.clone(), rule, paint });
    }

    pub fn stroke(&mut self, path: &Path, line: Line, paint: impl Into<Paint>) {
        if path.elements().is_empty() {
            return;
        }
        let paint = self.carried(paint.into());
        // A line keeps its weight: the pen's space is turned and moved, never stretched.
        self.push(Mark::Stroke { path: self.transform * path.clone(), line, paint });
    }

    /// A block of words with its upper left corner at a point.
    pub fn block(&mut self, block: &Block, x: f64, y: f64, ink: &Ink) {
        for line in &block.lines {
            for run in &line.runs {
                let transform = self.transform * Affine::translate((x, y + line.baseline));
                let glyphs = GlyphRun {
                    font: run.font.clone(),
                    size: run.size,
                    stretch: run.stretch,
                    transform,
                    glyphs: run.glyphs.clone(),
                    text: run.text.clone(),
                    sequence: Sequence { place: self.runs + run.sequence.place, ..run.sequence },
                    paint: ink.clone().into(),
                };
                self.push(Mark::Glyphs(glyphs));
            }
        }
        self.runs += block.lines.iter().map(|line| line.runs.len() as u32).sum::<u32>();
    }

    /// Glyphs of one font on one line, from a point of the pen's space on the baseline.
    pub fn run(&mut self, font: &Arc<Font>, size: f64, glyphs: Vec<Glyph>, text: &str, at: (f64, f64), ink: &Ink) {
        let transform = self.transform * Affine::translate(at);
        let paint = ink.clone().into();
        self.push(Mark::Glyphs(GlyphRun {
            font: font.clone(),
            size,
            stretch: 1.0,
            transform,
            glyphs,
            text: text.into(),
            sequence: Sequence { place: self.runs, end: RunEnd::Paragraph },
            paint,
        }));
        self.runs += 1;
    }

    /// A picture whose corners are those of the unit square under a transform of the pen's space.
    pub fn picture(&mut self, picture: Arc<Picture>, place: Affine, paint: Option<Ink>) {
        self.push(Mark::Picture(Placed { picture, transform: self.transform * place, paint }));
    }

    /// What `draw` leaves, as one group.
    pub fn group(
        &mut self,
        clip: Option<(Path, FillRule)>,
        opacity: f64,
        blend: crate::ground::Blend,
        draw: impl FnOnce(&mut Pen<'_>),
    ) {
        let mut inner = Pen {
            bench: self.bench,
            region: self.region,
            room: self.room,
            origin: self.origin.clone(),
            transform: self.transform,
            items: Vec::new(),
            runs: self.runs,
        };
        draw(&mut inner);
        self.runs = inner.runs;
        let items = inner.items;
        let clip = clip.map(|(path, rule)| (self.transform * path, rule));
        self.push(Mark::Group(Group { clip, opacity, blend, items }));
    }

    /// Elements of a group, laid in a region of their own.
    pub fn elements(&mut self, region: &Region, elements: &[Element]) {
        draw_all(self.bench, region, elements, self.transform, &mut self.items);
    }

    /// One element of a group, in a frame of the pen's space.
    pub fn element(&mut self, region: &Region, element: &Element, frame: Rect, room: Open) {
        draw_one(self.bench, region, element, (frame, room), self.transform, &mut self.items);
    }

    /// Something is wrong with what is being drawn.
    pub fn report(&self, severity: Severity, rule: &'static str, message: impl Into<String>, help: impl Into<String>) {
        let finding = Finding::new(severity, rule, self.origin.span, message).help(help).at(self.origin.frame);
        self.bench.findings.borrow_mut().push(finding);
    }

    fn push(&mut self, mark: Mark) {
        self.items.push(Item { origin: self.origin.clone(), mark });
    }

    /// A gradient runs in the pen's space; on the sheet it is turned with it.
    fn carried(&self, paint: Paint) -> Paint {
        match paint {
            Paint::Gradient(gradient) => {
                let course = gradient.course.carried(self.transform, 1.0);
                Paint::Gradient(Gradient { course, ..gradient })
            }
            Paint::Ink(_) => paint,
        }
    }
}
