//! Sight: what the eye sees on the spine and the front of one cover, element by element, without a bar code.

use crate::check::visible::{VisibleElement, elements, visible_marks};
use crate::ground::{MM_PER_PT, Rect};
use crate::scene::{GlyphRun, Kind, Panel, PanelName, Scene, Surface};
use std::collections::BTreeMap;

/// One cover as it is compared with its neighbours.
#[derive(Clone, Debug, Default)]
pub struct Appearance {
    pub surfaces: BTreeMap<Surface, BTreeMap<String, SeenElement>>,
}

#[derive(Clone, Debug)]
pub struct SeenElement {
    pub kind: Kind,
    /// Shapes: what shows of them on their face. Pictures: their frame there, for a silhouette has white of its own. Words: from the top of the first line's capitals to the last baseline, from
    /// where the pen begins to where it ends; so that a descender or a letter's own white is no stray.
    pub seen: Rect,
    /// The face around it.
    pub face: Rect,
    /// The largest type, in points.
    pub size: Option<f64>,
    /// Words along the spine rather than across it.
    pub turned: bool,
}

/// A mark of the wrap belongs to the spine it is centred on, when it is no wider than so many spines.
const SPINES: f64 = 2.0;

pub fn appearance(scene: &Scene) -> Appearance {
    let mut appearance = Appearance::default();
    let trim = scene.sheet.trim;
    for name in [PanelName::Spine, PanelName::Front] {
        if scene.sheet.panel(name).is_some() {
            appearance.surfaces.insert(Surface::Panel(name), BTreeMap::new());
        }
    }
    appearance.surfaces.insert(Surface::Wrap, BTreeMap::new());
    let marks = visible_marks(&scene.items);
    for element in elements(&marks).iter().filter(|element| !element.is(Kind::BarCode) && !element.is(Kind::QrCode)) {
        let Some((surface, around)) = surface_of(element, scene, trim) else { continue };
        let Some(seen) = seen(element, around) else { continue };
        let known = appearance.surfaces.entry(surface).or_default().entry(element.origin.element.clone());
        known.and_modify(|known| known.join(&seen)).or_insert(seen);
    }
    appearance
}

fn surface_of(element: &VisibleElement<'_>, scene: &Scene, trim: Rect) -> Option<(Surface, Rect)> {
    let panel = |name: PanelName| scene.sheet.panel(name).map(|Panel { rect, .. }| *rect);
    match element.origin.panel {
        Surface::SPINE => Some((Surface::SPINE, panel(PanelName::Spine)?)),
        Surface::FRONT => Some((Surface::FRONT, panel(PanelName::Front)?)),
        Surface::Wrap => {
            let (middle, wide) = (element.bounds.center().x, element.bounds.width());
            let holds = |face: Rect| (face.x0..=face.x1).contains(&middle);
            let bleed = scene.sheet.bleed.x1 - trim.x1;
            if let Some(spine) = panel(PanelName::Spine).filter(|face| holds(*face) && wide <= face.width() * SPINES) {
                return Some((Surface::SPINE, spine));
            }
            let front = panel(PanelName::Front).filter(|face| holds(*face) && wide <= face.width() + bleed);
            Some(front.map_or((Surface::Wrap, trim), |front| (Surface::FRONT, front)))
        }
        Surface::Panel(_) => None,
    }
}

fn seen(element: &VisibleElement<'_>, face: Rect) -> Option<SeenElement> {
    let kind = element.origin.kind;
    let runs: Vec<&GlyphRun> = element.runs().map(|(run, _)| run).collect();
    let words = runs.iter().filter_map(|run| penned(run)).reduce(|a, b| a.union(b));
    let (seen, size) = match words.filter(|_| kind == Kind::Text) {
        Some(words) => (words, runs.iter().map(|run| run.size / MM_PER_PT).reduce(f64::max)),
        None if kind == Kind::Picture => (element.origin.frame.intersect(face), None),
        // Beyond the trim nothing is seen; a mark wider than its spine is seen on the spine as far as that reaches.
        None => (element.bounds.intersect(face), None),
    };
    let turned = runs.first().is_some_and(|run| {
        let [a, b, ..] = run.transform.as_coeffs();
        b.abs() > a.abs()
    });
    let flat = seen.width() <= 0.0 || seen.height() <= 0.0;
    (seen.is_finite() && !flat).then_some(SeenElement { kind, seen, face, size, turned })
}

/// From the first letter's origin to the last one's advance, from baseline to the top of capitals.
fn penned(run: &GlyphRun) -> Option<Rect> {
    let prints = |id: u16| run.font.glyph_bounds(id).is_some();
    let mut letters = run.glyphs.iter().filter(|glyph| prints(glyph.id));
    let first = letters.next()?;
    let last = letters.next_back().unwrap_or(first);
    let top = first.y - run.font.metrics().cap_height * run.size;
    let pen = Rect::new(first.x, top, last.x + last.advance, first.y);
    Some(run.transform.transform_rect_bbox(pen))
}

impl SeenElement {
    /// Several elements of one name are seen as one.
    fn join(&mut self, other: &SeenElement) {
        self.seen = self.seen.union(other.seen);
        self.size = match (self.size, other.size) {
            (Some(one), Some(other)) => Some(one.max(other)),
            (one, other) => one.or(other),
        };
    }
}
