//! Drawn: a page as a scene of inks, and what of it could not be drawn.

use crate::assets::Profile;
use crate::ground::{Affine, Blend, Digest, FillRule, Line, MM_PER_PT, Paint, Path, Rect, Span, TOLERANCE};
use crate::printed::open_page;
use crate::returned::byte_budget::ByteBudget;
use crate::returned::clips::{ClipChain, Clipped, grouped, same_clip};
use crate::returned::colours::PageSpots;
use crate::returned::runs::ReadFont;
use crate::returned::state::{PagePaint, PageState, PaintedMask};
use crate::scene::{Group, Item, Job, Kind, Mark, Origin, Scene, Sheet, Surface};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A page as it is painted, on a sheet whose trim begins at its corner.
pub struct DrawnPage {
    pub scene: Scene,
    /// What cannot be drawn, in words.
    pub undrawn: BTreeSet<String>,
}

/// Paints one page.
pub struct PagePainter<'p> {
    pub state: PageState,
    pub saved: Vec<PageState>,
    pub path: Path,
    pub next_clip: Option<FillRule>,
    /// The page on the sheet: nothing is painted beyond it.
    pub page: Rect,
    /// By what their dictionaries say: one that stands within another object has no name of its own.
    pub fonts: BTreeMap<Digest, Result<Arc<ReadFont>, String>>,
    pub instructions: usize,
    pub budget: ByteBudget,
    pub spots: PageSpots,
    pub last_mask: Option<PaintedMask>,
    layers: Vec<Vec<Clipped>>,
    origin: Arc<Origin>,
    pub corners: usize,
    /// How many times the page is covered by all that is laid on it.
    pub laid: f64,
    /// Bytes of pictures within the content.
    pub inside: usize,
    undrawn: &'p mut BTreeSet<String>,
}

/// Corners of all paths of a page together, each counted as often as it is laid; and clips within each other.
pub const CORNERS: usize = 6_000_000;
const CLIPS: usize = 32;
/// How often a page may be covered, all marks together, and what a mark without size counts.
const LAID: f64 = 2000.0;
const SMALL: f64 = 1e-3;
/// Different things that are named as not drawn.
const NAMED: usize = 40;
/// A line of no width is the thinnest that a press makes; we draw this, in millimetres.
const THINNEST: f64 = 0.05;

/// Draws the first page of a file; spot inks that others have may be named, for what prints on all plates.
pub fn drawn_page(bytes: &[u8], spots: impl IntoIterator<Item = String>) -> Result<DrawnPage, String> {
    let mut undrawn = BTreeSet::new();
    let scene = open_page(bytes, |page| {
        let [media, trim, bleed] = page.boxes;
        let to_sheet = Affine::new([MM_PER_PT, 0.0, 0.0, -MM_PER_PT, -trim.x0 * MM_PER_PT, trim.y1 * MM_PER_PT]);
        let on_sheet = |rect: Rect| to_sheet.transform_rect_bbox(rect);
        let frame = on_sheet(trim);
        let origin = Origin {
            span: Span::default(),
            panel: Surface::Wrap,
            element: "page".to_owned(),
            kind: Kind::Shape,
            frame,
        };
        let mut painter = PagePainter {
            state: PageState::new(to_sheet),
            saved: Vec::new(),
            path: Path::new(),
            next_clip: None,
            page: on_sheet(media).inflate(1.0, 1.0),
            fonts: BTreeMap::new(),
            instructions: 0,
            budget: ByteBudget::default(),
            spots: PageSpots::named(spots),
            last_mask: None,
            layers: vec![Vec::new()],
            origin: Arc::new(origin),
            corners: 0,
            laid: 0.0,
            inside: 0,
            undrawn: &mut undrawn,
        };
        for what in &page.unread {
            painter.undrawn(what);
        }
        painter.stream(page.content, page.resources, 0);
        let items = painter.items();
        let (trim, bleed) = (on_sheet(trim), on_sheet(bleed));
        let sheet = Sheet { trim, bleed, panels: Vec::new(), folds: Vec::new(), bound_right: false, pixels: None };
        let profile = Arc::new(Profile::bundled("coated").expect("it is bundled"));
        Scene { sheet, job: Job::default(), profile, items, views: None }
    })?;
    Ok(DrawnPage { scene, undrawn })
}

impl PagePainter<'_> {
    pub fn undrawn(&mut self, what: &str) {
        if self.undrawn.len() < NAMED {
            self.undrawn.insert(what.to_owned());
        }
    }

    pub fn items(&mut self) -> Vec<Item> {
        grouped(self.layers.pop().unwrap_or_default(), &self.origin)
    }

    pub fn begin_group(&mut self) {
        self.layers.push(Vec::new());
    }

    pub fn end_group(&mut self, opacity: f64, blend: Blend) {
        let items = self.items();
        self.push_apart(items, opacity, blend);
    }

    /// Pushes what is composed by itself, and veiled if a mask is set.
    fn push_apart(&mut self, items: Vec<Item>, opacity: f64, blend: Blend) {
        let mask = self.state.mask.clone();
        let corners = mask.as_ref().map_or(0, |mask| mask.corners);
        if items.is_empty() || !self.room(corners) {
            return;
        }
        self.laid += mask.as_ref().map_or(0.0, |mask| mask.laid);
        let veil = mask.map(|mask| mask.items.clone());
        self.push(Mark::Group(Group { veil, clip: None, opacity, blend, items }));
    }

    fn push(&mut self, mark: Mark) {
        let item = Item { origin: self.origin.clone(), mark };
        let bounds = item.bounds().unwrap_or_default();
        let clip = self.state.clip.clone().filter(|clip| !clip.leaves_whole(bounds));
        // A group is composed apart, and a clip is a mask: each counts again.
        let depth = clip.as_ref().map_or(0, |clip| clip.depth);
        let times = 1.0 + depth as f64 + f64::from(u8::from(matches!(item.mark, Mark::Group(_))));
        self.laid += times * (bounds.intersect(self.page).area() / self.page.area().max(1.0) + SMALL);
        if self.laid > LAID {
            return self.undrawn("more marks over each other than are drawn");
        }
        let mark = item.mark;
        let last = self.layers.last().and_then(|layer| layer.last());
        let again = !last.is_some_and(|last| same_clip(last.clip.as_ref(), clip.as_ref()));
        if !self.room(clip.as_ref().filter(|_| again).map_or(0, |clip| clip.corners)) {
            return;
        }
        if let Some(layer) = self.layers.last_mut() {
            layer.push(Clipped { clip, mark });
        }
    }

    /// Marks that are laid one over the other for one thing painted.
    pub fn lay(&mut self, marks: Vec<Mark>, opacity: f64) {
        let blend = self.state.blend;
        if opacity >= 1.0 && blend == Blend::Normal && self.state.mask.is_none() {
            for mark in marks {
                self.push(mark);
            }
        } else {
            let item = |mark| Item { origin: self.origin.clone(), mark };
            let items = marks.into_iter().map(item).collect();
            self.push_apart(items, opacity.max(0.0), blend);
        }
    }

    /// What is laid for a colour, or for a shading in its place.
    pub fn paints(&mut self, paint: &PagePaint) -> Vec<Paint> {
        let overprint = self.state.overprint(paint);
        let found = match &paint.pattern {
            Some(Ok(shading)) => shading.layers(&mut self.spots, overprint),
            Some(Err(why)) => Err(why.clone()),
            None => {
                let inks = self.spots.layers(&paint.colour.space, &paint.colour.values, overprint);
                inks.map(|inks| inks.into_iter().map(Paint::Ink).collect())
            }
        };
        found.unwrap_or_else(|why| {
            self.undrawn(&why);
            Vec::new()
        })
    }

    /// Counts corners; whether there is room for them.
    pub fn room(&mut self, corners: usize) -> bool {
        self.corners = self.corners.saturating_add(corners);
        if self.corners > CORNERS {
            self.undrawn("more corners than are followed");
        }
        self.corners <= CORNERS
    }

    /// Counts a path again for every ink but the first, and the stops of gradients.
    fn room_to_lay(&mut self, path: &Path, paints: &[Paint]) -> bool {
        let stops = |paint: &Paint| if let Paint::Gradient(gradient) = paint { gradient.stops.len() } else { 0 };
        self.room(path.elements().len() * paints.len().saturating_sub(1) + paints.iter().map(stops).sum::<usize>())
    }

    /// Cuts what follows.
    pub fn cut(&mut self, path: Path, rule: FillRule) {
        if self.state.clip.as_ref().is_some_and(|clip| clip.depth >= CLIPS) {
            return self.undrawn("clips within clips, deeper than they are followed");
        }
        if self.room(path.elements().len()) {
            self.state.clip = ClipChain::within(self.state.clip.take(), path, rule, self.page);
        }
    }

    fn is_sound(&mut self, path: &Path) -> bool {
        if !self.room(path.elements().len()) {
            return false;
        }
        let bounds = path.control_box();
        !path.elements().is_empty() && bounds.is_finite() && bounds.overlaps(self.page)
    }

    pub fn fill(&mut self, path: &Path, rule: FillRule) {
        if !self.is_sound(path) {
            return;
        }
        let paint = self.state.fill.clone();
        let paints = self.paints(&paint);
        if !self.room_to_lay(path, &paints) {
            return;
        }
        let marks = paints.into_iter().map(|paint| Mark::Fill { path: path.clone(), rule, paint }).collect();
        self.lay(marks, paint.opacity);
    }

    /// A line is as wide as its space stretches it, this way and that.
    pub fn stroke(&mut self, path: &Path) {
        let to_sheet = self.state.to_sheet;
        let scale = to_sheet.determinant().abs().sqrt();
        if !self.is_sound(path) || scale <= 0.0 || !scale.is_finite() {
            return;
        }
        let own = &self.state.line;
        let line = Line { width: own.width.max(THINNEST / scale), ..own.clone() };
        let outline = to_sheet * line.outline(&(to_sheet.inverse() * path.clone()), TOLERANCE / scale);
        if !self.is_sound(&outline) {
            return;
        }
        let paint = self.state.stroke.clone();
        let paints = self.paints(&paint);
        if !self.room_to_lay(&outline, &paints) {
            return;
        }
        let fill = |paint| Mark::Fill { path: outline.clone(), rule: FillRule::NonZero, paint };
        let marks = paints.into_iter().map(fill).collect();
        self.lay(marks, paint.opacity);
    }
}
