//! Pen: draws into a scene and signs each mark with its origin.

use crate::assets::{Font, Glyph, Picture, RunEnd, Separation, Sequence};
use crate::cover::{ArtRefused, Bench, Open, Region};
use crate::ground::{
    Affine, Blend, FillRule, Finding, Gradient, GradientInks, Ink, Line, MM_PER_INCH, Paint, Path, Rect, Severity,
    Shape as _, covering, rect_path,
};
use crate::scene::{GlyphRun, Group, Item, Mark, Origin, PlacedPicture};
use crate::typeset::{Block, TextRun};
use std::sync::Arc;

/// Pixels per inch that show all that a press prints.
const FINE: f64 = 450.0;

pub struct Pen<'a> {
    pub bench: Bench<'a>,
    pub region: &'a Region,
    /// In which the element found its size.
    pub room: Open,
    origin: Arc<Origin>,
    /// From the pen's own space to the sheet.
    transform: Affine,
    /// What of the sheet may show what it draws.
    view: Rect,
    items: Vec<Item>,
    /// Runs of glyphs so far.
    runs: u32,
}

impl<'a> Pen<'a> {
    pub fn new(bench: Bench<'a>, region: &'a Region, room: Open, origin: Arc<Origin>, transform: Affine) -> Pen<'a> {
        Pen { bench, region, room, origin, transform, view: bench.sheet.bleed, items: Vec::new(), runs: 0 }
    }

    pub fn origin(&self) -> &Origin {
        &self.origin
    }

    pub fn transform(&self) -> Affine {
        self.transform
    }

    pub fn fill(&mut self, path: &Path, rule: FillRule, paint: impl Into<Paint>) {
        let path = covering(path);
        if path.elements().is_empty() {
            return;
        }
        let paint = self.carried(paint.into());
        self.mark(Mark::Fill { path: self.transform * path, rule, paint });
    }

    /// Fills a path with a run of inks across a box.
    pub fn wash(&mut self, path: &Path, rule: FillRule, wash: &GradientInks, across: Rect) {
        let Some(gradient) = wash.across(across) else { return };
        self.fading(wash.shows(across), path.bounding_box(), |pen| pen.fill(path, rule, Paint::Gradient(gradient)));
    }

    /// What `draw` leaves within a box, as far as a gradient to nothing shows it.
    pub fn fading(&mut self, shows: Option<Gradient>, bounds: Rect, draw: impl FnOnce(&mut Pen<'_>)) {
        let Some(shows) = shows else { return draw(self) };
        // The veil is larger than what it shows, whose edge is smoothed once.
        let room = bounds.width().max(bounds.height()) * 0.05;
        let around = rect_path(bounds.inflate(room, room));
        self.veiled(|pen| pen.fill(&around, FillRule::NonZero, Paint::Gradient(shows)), draw);
    }

    pub fn stroke(&mut self, path: &Path, line: Line, paint: impl Into<Paint>) {
        if path.elements().is_empty() {
            return;
        }
        let paint = self.carried(paint.into());
        // A line keeps its weight: the pen's space is turned and moved, never stretched.
        self.mark(Mark::Stroke { path: self.transform * path.clone(), line, paint });
    }

    /// The runs of a block of words with its upper left corner at a point, on the sheet.
    pub fn runs_of(&mut self, block: &Block, (x, y): (f64, f64), paint: &dyn Fn(&TextRun) -> Paint) -> Vec<GlyphRun> {
        let mut runs = Vec::new();
        for line in &block.lines {
            let transform = self.transform * Affine::translate((x, y + line.baseline));
            runs.extend(line.runs.iter().map(|run| GlyphRun {
                font: run.font.clone(),
                size: run.size,
                stretch: run.stretch,
                transform,
                glyphs: run.glyphs.clone(),
                turns: run.turns.clone(),
                text: run.text.clone(),
                sequence: Sequence { place: self.runs + run.sequence.place, ..run.sequence },
                paint: paint(run),
            }));
        }
        self.runs += runs.len() as u32;
        runs
    }

    /// A block of words with its upper left corner at a point.
    pub fn block(&mut self, block: &Block, x: f64, y: f64, ink: &Ink) {
        let runs = self.runs_of(block, (x, y), &|_| ink.clone().into());
        for run in runs {
            self.mark(Mark::Glyphs(run));
        }
    }

    /// Glyphs of one font on one line, from a point of the pen's space on the baseline.
    pub fn run(&mut self, font: &Arc<Font>, size: f64, glyphs: Vec<Glyph>, text: &str, at: (f64, f64), ink: &Ink) {
        let transform = self.transform * Affine::translate(at);
        let paint = ink.clone().into();
        self.mark(Mark::Glyphs(GlyphRun {
            font: font.clone(),
            size,
            stretch: 1.0,
            transform,
            glyphs,
            turns: Vec::new(),
            text: text.into(),
            sequence: Sequence { place: self.runs, end: RunEnd::Paragraph },
            paint,
        }));
        self.runs += 1;
    }

    /// A picture whose corners are those of the unit square under a transform of the pen's space.
    pub fn picture(&mut self, picture: Arc<Picture>, place: Affine, paint: Option<Ink>, separation: Separation) {
        let placed = PlacedPicture { picture, transform: self.transform * place, paint, separation };
        let bounds = placed.bounds();
        let shown = bounds.intersect(self.view).area() / bounds.area();
        let pixels = f64::from(placed.picture.width()) * f64::from(placed.picture.height());
        let shown = if shown.is_finite() { shown } else { 0.0 };
        let taken = self.bench.art.borrow_mut().picture(&placed.picture, placed.transform, shown);
        match taken {
            Ok(()) => self.mark(Mark::Picture(placed)),
            Err(ArtRefused::Told) => {}
            Err(ArtRefused::Over(message)) => {
                let finest = |side: f64| (side * FINE / MM_PER_INCH).ceil().max(1.0);
                let (width, height) = (finest(bounds.width()), finest(bounds.height()));
                self.over(
                    message,
                    if width * height < pixels {
                        format!("save it with fewer pixels: {width} × {height} are {FINE} to the inch here")
                    } else {
                        "place it fewer times, or put what repeats into one picture".to_owned()
                    },
                );
            }
        }
    }

    /// A bound of what the whole cover draws is reached.
    pub fn over(&self, message: String, help: impl Into<String>) {
        self.bench.findings.borrow_mut().error(self.origin.span, message, help);
    }

    /// What `draw` leaves.
    fn apart(&mut self, view: Rect, draw: impl FnOnce(&mut Pen<'_>)) -> Vec<Item> {
        let mut inner = Pen::new(self.bench, self.region, self.room, self.origin.clone(), self.transform);
        inner.runs = self.runs;
        inner.view = view;
        draw(&mut inner);
        self.runs = inner.runs;
        inner.items
    }

    /// What `draw` leaves, as far as what `veil` leaves is black.
    pub fn veiled(&mut self, veil: impl FnOnce(&mut Pen<'_>), draw: impl FnOnce(&mut Pen<'_>)) {
        let veil = Some(self.apart(self.view, veil).into());
        let items = self.apart(self.view, draw);
        self.mark(Mark::Group(Group { clip: None, opacity: 1.0, blend: Blend::Normal, veil, items }));
    }

    /// What `draw` leaves, as one group.
    pub fn group(
        &mut self,
        clip: Option<(Path, FillRule)>,
        opacity: f64,
        blend: Blend,
        draw: impl FnOnce(&mut Pen<'_>),
    ) {
        let clip = clip.map(|(path, rule)| (self.transform * covering(&path), rule));
        let view = clip.as_ref().map_or(self.view, |(path, _)| self.view.intersect(path.bounding_box()));
        let items = self.apart(view, draw);
        self.mark(Mark::Group(Group { clip, opacity, blend, veil: None, items }));
    }

    /// Marks that stand on the sheet already, cut to a path of the sheet.
    pub fn marks_in(&mut self, clip: (Path, FillRule), marks: Vec<Mark>) {
        let items = marks.into_iter().map(|mark| Item { origin: self.origin.clone(), mark }).collect();
        self.mark(Mark::Group(Group::cut(clip, items)));
    }

    /// What elements inside it have left.
    pub fn add(&mut self, items: Vec<Item>) {
        self.items.extend(items);
    }

    pub fn into_items(self) -> Vec<Item> {
        self.items
    }

    /// Something is wrong with what is being drawn.
    pub fn report(&self, severity: Severity, rule: &'static str, message: impl Into<String>, help: impl Into<String>) {
        let finding = Finding::new(severity, rule, self.origin.span, message).help(help).at(self.origin.frame);
        self.bench.findings.borrow_mut().push(finding);
    }

    /// A mark that stands on the sheet already.
    pub fn mark(&mut self, mark: Mark) {
        self.items.push(Item { origin: self.origin.clone(), mark });
    }

    /// A gradient runs in the pen's space; on the sheet it is turned with it.
    pub fn carried(&self, paint: Paint) -> Paint {
        match paint {
            Paint::Gradient(gradient) => {
                let course = gradient.course.carried(self.transform, 1.0);
                Paint::Gradient(Gradient { course, ..gradient })
            }
            Paint::None | Paint::Ink(_) => paint,
        }
    }
}
