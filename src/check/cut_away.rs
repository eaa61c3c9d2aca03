//! Cut away: what of words and codes the clips around them leave.

use crate::check::exam::{Exam, LINES, outlines};
use crate::check::proof::{OUTLINE, Patience};
use crate::check::stated_ink::printed_in;
use crate::check::under::contains;
use crate::check::visible::is_rectangle;
use crate::ground::{FillRule, Ink, MM_PER_INCH, Path, Rect, Shape as _};
use crate::raster::{Plates, plates};
use crate::scene::{Group, Item, Kind, Mark, Origin, Scene};
use std::sync::Arc;

/// Pixels along the em of the smallest letters, and pixels per inch at most and at least.
const PER_EM: f64 = 20.0;
const FINEST: f64 = 200.0;
const COARSEST: f64 = 50.0;

/// A text or a code in a clip that may cut it.
pub struct CutElement<'a> {
    pub origin: &'a Origin,
    /// Of each letter its box; of a code that of the whole.
    pub parts: Vec<Rect>,
    /// Around all its marks.
    bounds: Rect,
    clips: Vec<OuterClip<'a>>,
    marks: Vec<&'a Item>,
}

#[derive(Clone, Copy)]
struct OuterClip<'a> {
    of: &'a Origin,
    path: &'a (Path, FillRule),
    /// Where it is a rectangle.
    whole: Option<Rect>,
}

impl OuterClip<'_> {
    fn is(&self, other: &OuterClip<'_>) -> bool {
        std::ptr::eq(self.path, other.path)
    }

    fn holds(&self, bounds: Rect) -> bool {
        self.whole.is_some_and(|whole| contains(whole, bounds))
    }
}

/// All of them, in the order of printing.
pub fn cut_elements(scene: &Scene) -> Vec<CutElement<'_>> {
    let mut all = Vec::new();
    collect(&scene.items, &mut Vec::new(), &mut all);
    all.into_iter().filter_map(judged).collect()
}

/// Marks of one element in the same clips.
struct ClippedMarks<'a> {
    clips: Vec<OuterClip<'a>>,
    marks: Vec<&'a Item>,
}

fn collect<'a>(items: &'a [Item], clips: &mut Vec<OuterClip<'a>>, all: &mut Vec<ClippedMarks<'a>>) {
    for item in items {
        if let Mark::Group(group) = &item.mark {
            let depth = clips.len();
            clips.extend(group.clip.as_ref().map(|path| {
                let whole = is_rectangle(&path.0).then(|| path.0.bounding_box());
                OuterClip { of: &item.origin, path, whole }
            }));
            collect(&group.items, clips, all);
            clips.truncate(depth);
        } else if !clips.is_empty() && is_asked(item) {
            let together = |last: &&mut ClippedMarks<'_>| {
                let same =
                    last.clips.len() == clips.len() && last.clips.iter().zip(&*clips).all(|(one, own)| one.is(own));
                same && Arc::ptr_eq(&last.marks[0].origin, &item.origin)
            };
            let last = all.last_mut().filter(together);
            match last {
                Some(last) => last.marks.push(item),
                None => all.push(ClippedMarks { clips: clips.clone(), marks: vec![item] }),
            }
        }
    }
}

/// Letters of words, whatever is drawn around them; of codes bars, modules and figures.
fn is_asked(item: &Item) -> bool {
    match item.origin.kind {
        Kind::Text => matches!(item.mark, Mark::Glyphs(_)),
        Kind::BarCode | Kind::QrCode => matches!(item.mark, Mark::Glyphs(_) | Mark::Fill { .. }),
        Kind::Shape | Kind::Picture => false,
    }
}

fn judged(ClippedMarks { clips, mut marks }: ClippedMarks<'_>) -> Option<CutElement<'_>> {
    let origin = &*marks.first()?.origin;
    if origin.kind != Kind::Text {
        // The ground of a code is bare of it at the edges.
        let whole = marks.iter().filter_map(|mark| mark.bounds()).reduce(|a, b| a.union(b))?;
        marks.retain(|mark| !mark.bounds().is_some_and(|bounds| contains(bounds, whole)));
    }
    let bounds = marks.iter().filter_map(|mark| mark.bounds()).reduce(|a, b| a.union(b))?;
    clips.iter().find(|clip| !clip.holds(bounds))?;
    let letters = marks.iter().filter_map(|mark| match &mark.mark {
        Mark::Glyphs(run) => Some(run.boxes()),
        _ => None,
    });
    let parts = if origin.kind == Kind::Text { letters.flatten().collect() } else { vec![bounds] };
    Some(CutElement { origin, parts, bounds, clips, marks })
}

impl<'a> CutElement<'a> {
    /// Of each part the share that is cut away; `None` where there is none on the sheet. No answer when it takes more than is
    /// left.
    pub fn lost(&self, exam: &Exam<'_>, patience: &mut Patience) -> Option<Vec<Option<f64>>> {
        let area = self.area(exam);
        if area.width() <= 0.0 || area.height() <= 0.0 {
            return Some(vec![None; self.parts.len()]);
        }
        let ppi = self.ppi();
        if !patience.spend(self.cost(&self.clips, area, ppi)) {
            return None;
        }
        let [uncut, cut] = [&[][..], &self.clips].map(|clips| self.drawn(exam, clips, ppi));
        let scale = ppi / MM_PER_INCH;
        let share = |part: &Rect| {
            let at = |mm: f64, end: usize| ((mm * scale).max(0.0).round() as usize).min(end);
            let columns = at(part.x0 - area.x0, uncut.width)..at(part.x1 - area.x0, uncut.width);
            let rows = at(part.y0 - area.y0, uncut.height)..at(part.y1 - area.y0, uncut.height);
            let ink = |plane: &[u8]| -> f64 {
                let rows = rows.clone().flat_map(|row| &plane[row * uncut.width..][columns.clone()]);
                rows.map(|ink| f64::from(*ink)).sum()
            };
            let before = ink(&uncut.process[3]);
            (before > 0.0).then(|| (1.0 - ink(&cut.process[3]) / before).max(0.0))
        };
        Some(self.parts.iter().map(share).collect())
    }

    /// Whose clip it is: of several that which would leave the least by itself, the inner of two alike.
    pub fn by(&self, exam: &Exam<'_>, patience: &mut Patience) -> &'a Origin {
        let may: Vec<&OuterClip<'_>> = self.clips.iter().rev().filter(|clip| !clip.holds(self.bounds)).collect();
        let (area, ppi) = (self.area(exam), self.ppi());
        let left = |clip: &OuterClip<'_>| -> u64 {
            let cut = self.drawn(exam, &[*clip], ppi);
            cut.process[3].iter().map(|ink| u64::from(*ink)).sum()
        };
        let cost = may.iter().map(|clip| self.cost(&[**clip], area, ppi)).sum::<f64>();
        let cuts = if may.len() > 1 && patience.spend(cost) {
            may.iter().copied().min_by_key(|clip| left(clip))
        } else {
            may.first().copied()
        };
        cuts.map_or(self.origin, |clip| clip.of)
    }

    /// What is looked at of the sheet.
    fn area(&self, exam: &Exam<'_>) -> Rect {
        let whole = self.parts.iter().copied().reduce(|a, b| a.union(b)).unwrap_or_default();
        whole.inflate(0.5, 0.5).intersect(exam.sheet().bleed)
    }

    fn ppi(&self) -> f64 {
        let sizes = self.marks.iter().filter_map(|mark| match &mark.mark {
            Mark::Glyphs(run) if self.origin.kind == Kind::Text => Some(run.size),
            _ => None,
        });
        sizes.reduce(f64::min).map_or(FINEST, |size| (PER_EM * MM_PER_INCH / size).clamp(COARSEST, FINEST))
    }

    /// Its marks in black, in some of the clips.
    fn drawn(&self, exam: &Exam<'_>, clips: &[OuterClip<'_>], ppi: f64) -> Plates {
        let black = |item: &&Item| {
            let mark = printed_in(&item.mark, &Ink::black(1.0))?;
            Some(Item { origin: item.origin.clone(), mark })
        };
        let uncut: Vec<Item> = self.marks.iter().filter_map(black).collect();
        let cut = clips.iter().rev().fold(uncut, |items, clip| {
            let mark = Mark::Group(Group::cut(clip.path.clone(), items));
            vec![Item { origin: self.marks[0].origin.clone(), mark }]
        });
        plates(&exam.holding(cut), self.area(exam), ppi, exam.darkroom)
    }

    /// What drawing it whole and in these clips costs.
    fn cost(&self, clips: &[OuterClip<'_>], area: Rect, ppi: f64) -> f64 {
        let density = (ppi / MM_PER_INCH) * (ppi / MM_PER_INCH);
        let outline = |clip: &OuterClip<'_>| OUTLINE * clip.path.0.elements().len() as f64 / LINES as f64;
        let layers = (2 + clips.len()) as f64;
        let clips = clips.iter().map(outline).sum::<f64>();
        let marks = self.marks.iter().map(|mark| OUTLINE * outlines(mark) as f64).sum::<f64>();
        2.0 * marks + clips + layers * area.area() * density
    }
}
