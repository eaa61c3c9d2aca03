//! Drawn: a page as a scene of inks, and what of it could not be drawn.

use crate::assets::Profile;
use crate::ground::{Affine, Blend, FillRule, Ink, Line, MM_PER_PT, Paint, Path, Rect, Span, TOLERANCE};
use crate::printed::open_page;
use crate::returned::clips::{Clipped, grouped};
use crate::returned::colours::PageSpots;
use crate::returned::masks::SoftMask;
use crate::returned::photos::{PagePhoto, key, stencil, whole};
use crate::returned::runs::ReadFont;
use crate::returned::state::{PagePaint, PageState};
use crate::scene::{Group, Item, Job, Kind, Mark, Origin, Scene, Sheet, Surface};
use hayro_syntax::object::{ObjectIdentifier, Stream};
use hayro_syntax::page::Resources;
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
    pub fonts: BTreeMap<ObjectIdentifier, Result<Arc<ReadFont>, String>>,
    pub instructions: usize,
    spots: PageSpots,
    layers: Vec<Vec<Clipped>>,
    origin: Arc<Origin>,
    corners: usize,
    /// How many times the page is covered by all that is laid on it.
    laid: f64,
    /// Pixels of all pictures.
    pixels: u64,
    /// Bytes of pictures within the content.
    inside: usize,
    undrawn: &'p mut BTreeSet<String>,
}

/// Corners of all paths of a page together.
const CORNERS: usize = 6_000_000;
/// How often a page may be covered, all marks together, and what a mark without size counts.
const LAID: f64 = 2000.0;
const SMALL: f64 = 1e-3;
/// Pixels of all pictures of a page, each counted where it is placed.
const PIXELS: u64 = 400_000_000;
/// Bytes of all pictures within the content; no deflated byte becomes more than 1032.
const INSIDE: usize = 256 << 10;
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
            spots: PageSpots::named(spots),
            layers: vec![Vec::new()],
            origin: Arc::new(origin),
            corners: 0,
            laid: 0.0,
            pixels: 0,
            inside: 0,
            undrawn: &mut undrawn,
        };
        if page.is_turned {
            painter.undrawn("a page that asks to be turned");
        }
        if page.hides_layers {
            painter.undrawn("layers that are switched off");
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

    fn items(&mut self) -> Vec<Item> {
        grouped(self.layers.pop().unwrap_or_default(), &self.origin)
    }

    pub fn begin_group(&mut self) {
        self.layers.push(Vec::new());
    }

    pub fn end_group(&mut self, opacity: f64, blend: Blend) {
        let items = self.items();
        self.push(Mark::Group(Group { clip: None, opacity, blend, items }));
    }

    fn push(&mut self, mark: Mark) {
        let item = Item { origin: self.origin.clone(), mark };
        let bounds = item.bounds().unwrap_or_default();
        let clip = self.state.clip.clone().filter(|clip| !clip.leaves_whole(bounds));
        // A group is composed apart, and a clip is a mask: each counts again.
        let times =
            1.0 + f64::from(u8::from(clip.is_some())) + f64::from(u8::from(matches!(item.mark, Mark::Group(_))));
        self.laid += times * (bounds.intersect(self.page).area() / self.page.area().max(1.0) + SMALL);
        if self.laid > LAID {
            return self.undrawn("more marks over each other than are drawn");
        }
        let mark = item.mark;
        if let Some(layer) = self.layers.last_mut() {
            layer.push(Clipped { clip, mark });
        }
    }

    /// Marks that are laid one over the other for one thing painted.
    fn lay(&mut self, marks: Vec<Mark>, opacity: f64) {
        let blend = self.state.blend;
        if opacity >= 1.0 && blend == Blend::Normal {
            for mark in marks {
                self.push(mark);
            }
        } else if !marks.is_empty() {
            let item = |mark| Item { origin: self.origin.clone(), mark };
            let items = marks.into_iter().map(item).collect();
            self.push(Mark::Group(Group { clip: None, opacity: opacity.max(0.0), blend, items }));
        }
    }

    /// What is laid for a colour, or for a shading in its place.
    fn paints(&mut self, paint: &PagePaint) -> Vec<Paint> {
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

    fn is_sound(&mut self, path: &Path) -> bool {
        self.corners += path.elements().len();
        if self.corners > CORNERS {
            self.undrawn("more corners than are followed");
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
        let marks = match self.state.mask.clone() {
            None => paints.into_iter().map(|paint| Mark::Fill { path: path.clone(), rule, paint }).collect(),
            Some(mask) => self.masked(&mask, (path, rule), paints),
        };
        self.lay(marks, paint.opacity);
    }

    /// Inks as a mask lets them through, cut to what is filled.
    fn masked(&mut self, mask: &SoftMask, clip: (&Path, FillRule), paints: Vec<Paint>) -> Vec<Mark> {
        let mut items = Vec::new();
        for paint in paints {
            if let Paint::Ink(ink) = paint {
                items.push(Item { origin: self.origin.clone(), mark: Mark::Picture(mask.inked(ink)) });
            } else {
                self.undrawn("shadings behind a soft mask");
            }
        }
        let clip = Some((clip.0.clone(), clip.1));
        vec![Mark::Group(Group { clip, opacity: 1.0, blend: Blend::Normal, items })]
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
        if self.state.mask.is_some() {
            self.undrawn("lines behind a soft mask");
        }
        let paint = self.state.stroke.clone();
        let fill = |paint| Mark::Fill { path: outline.clone(), rule: FillRule::NonZero, paint };
        let marks = self.paints(&paint).into_iter().map(fill).collect();
        self.lay(marks, paint.opacity);
    }

    /// A picture that stands in the content itself; nobody has counted what it inflates to.
    pub fn photo_inside(&mut self, stream: &Stream<'_>, resources: &Resources<'_>) {
        self.inside += stream.raw_data().len();
        if self.inside > INSIDE {
            return self.undrawn("large pictures within the page's content");
        }
        self.photo(stream, resources);
    }

    pub fn photo(&mut self, stream: &Stream<'_>, resources: &Resources<'_>) {
        let place = self.state.to_sheet;
        let side = |name| u64::from(whole(stream.dict(), name).unwrap_or(0));
        self.pixels = self.pixels.saturating_add(side("Width").saturating_mul(side("Height")));
        if self.pixels > PIXELS {
            return self.undrawn("pictures of more pixels than are read");
        }
        let paint = self.state.fill.clone();
        let found = if stream.dict().get::<bool>(key(stream.dict(), "ImageMask")).unwrap_or(false) {
            let paints = self.paints(&paint);
            let inks: Vec<Ink> = paints
                .into_iter()
                .filter_map(|paint| if let Paint::Ink(ink) = paint { Some(ink) } else { None })
                .collect();
            stencil(stream, place, &inks)
        } else if paint.overprint || self.state.mask.is_some() {
            Err("pictures that overprint, or lie behind a soft mask".to_owned())
        } else {
            PagePhoto::read(stream, resources).map(|photo| {
                let spots = &mut self.spots;
                photo.layers(place, &mut |name| spots.solid(name))
            })
        };
        match found {
            Ok(placed) => self.lay(placed.into_iter().map(Mark::Picture).collect(), paint.opacity),
            Err(why) => self.undrawn(&why),
        }
    }
}
