//! Proof: part of the sheet composed with an element and without it, to see what the element adds.

use crate::check::exam::{Exam, MarkReach};
use crate::check::under::overlap;
use crate::check::visible::VisibleElement;
use crate::ground::{Ink, MM_PER_INCH, Paint, Rect};
use crate::raster::{plates, screen};
use crate::scene::{GlyphRun, Group, Item, Job, Mark, Origin, Scene};
use std::slice::Iter;
use std::sync::LazyLock;

/// Pixels per inch for shapes and pictures; letters get as many as their strokes need.
const PPI: f64 = 100.0;
const FINEST: f64 = 220.0;
/// Pixels along the em of the smallest letters.
const PER_EM: f64 = 24.0;
/// Steps of 255 by which composing may round.
const ROUNDING: u8 = 2;
/// The share of a letter's fullest pixel from which on a pixel is ink of the letter.
const FULL: f64 = 0.75;

/// Pixels that one rule may compose, each counted as often as a mark lies over it.
const PIXELS: f64 = 2e8;
/// Pixels that even the smallest outline costs, because it is laid out again. Measured with a thousand ovals; a small letter
/// costs nearly half of it (48,000 letters over one another, twenty times: 33 s).
pub(crate) const OUTLINE: f64 = 4000.0;
/// What a pixel of a scaled picture costs, and one of those it is scaled from. Measured with 195 places of one of 155,000, which
/// are looked at two by two: five seconds.
const SCALED: f64 = 10.0;
const READ: f64 = 2.0;
/// Millimetres around an area from which nothing reaches into it.
const MARGIN: f64 = 1.0;

/// What is left of the work that a rule may spend on composing parts of the sheet.
pub struct Patience(f64);

impl Default for Patience {
    fn default() -> Patience {
        Patience(PIXELS)
    }
}

impl Patience {
    /// The limit, for a message.
    pub const LIMIT: &str = "composing them takes more than 200 million pixels, the limit of a rule";

    /// Whether there is enough left for `pixels` more; if so, they are spent.
    pub fn spend(&mut self, pixels: f64) -> bool {
        let enough = pixels <= self.0;
        if enough {
            self.0 -= pixels;
        }
        enough
    }
}

/// How one letter stands out from what would be there without it.
pub struct LetterContrast {
    pub place: Rect,
    /// The median over its pixels, as WCAG 2 defines the contrast of two luminances; 1 is none.
    pub contrast: f64,
    /// The em, in millimetres, and the weight of its font.
    pub size: f64,
    pub weight: u16,
}

impl Exam<'_> {
    /// Whether the printed sheet would be another one without an element. `None` when it takes more than is left.
    pub fn shows(&self, element: &VisibleElement<'_>, patience: &mut Patience) -> Option<bool> {
        self.differ(element, [DrawnElements::All, DrawnElements::But(element.origin)], patience)
    }

    /// Whether it changes anything of what was drawn before it.
    pub fn adds(&self, element: &VisibleElement<'_>, patience: &mut Patience) -> Option<bool> {
        self.differ(element, [DrawnElements::UpTo(element.origin), DrawnElements::Before(element.origin)], patience)
    }

    /// Whether two sheets differ where an element lies.
    fn differ(
        &self,
        element: &VisibleElement<'_>,
        drawn: [DrawnElements<'_>; 2],
        patience: &mut Patience,
    ) -> Option<bool> {
        let area = element.bounds.intersect(self.sheet().bleed);
        if area.width() <= 0.0 || area.height() <= 0.0 {
            return Some(false);
        }
        if !patience.spend(self.pixels(area, PPI)) {
            return None;
        }
        let [with, without] = drawn.map(|kept| plates(&self.near(area, kept), area, PPI, self.darkroom));
        let differ = |a: &[u8], b: &[u8]| a.iter().zip(b).any(|(a, b)| a.abs_diff(*b) > ROUNDING);
        let spot = |name: &str| without.spots.iter().find(|(spot, _)| spot.name == name);
        let differs = with.process.iter().zip(&without.process).any(|(a, b)| differ(a, b))
            || with.spots.iter().any(|(name, plane)| match spot(&name.name) {
                Some((_, other)) => differ(plane, other),
                None => plane.iter().any(|ink| *ink > ROUNDING),
            });
        Some(differs)
    }

    /// Every letter of an element whose ink can be judged by the eye: foil and varnish cannot. `None` when it takes more
    /// than is left.
    pub fn letters(&self, element: &VisibleElement<'_>, patience: &mut Patience) -> Option<Vec<LetterContrast>> {
        let smallest = plain_runs(element).map(|run| run.size).fold(f64::INFINITY, f64::min);
        let ppi = (PER_EM * MM_PER_INCH / smallest).clamp(PPI / 2.0, FINEST);
        self.letters_at(element, ppi, patience)
    }

    /// The same in so many pixels per inch.
    pub fn letters_at(
        &self,
        element: &VisibleElement<'_>,
        ppi: f64,
        patience: &mut Patience,
    ) -> Option<Vec<LetterContrast>> {
        let runs: Vec<_> = plain_runs(element).collect();
        let area = element.bounds.inflate(1.0, 1.0).intersect(self.sheet().bleed);
        if runs.is_empty() || area.width() <= 0.0 || area.height() <= 0.0 {
            return Some(Vec::new());
        }
        if !patience.spend(self.pixels(area, ppi)) {
            return None;
        }
        let masked = runs.iter().map(|run| {
            let paint = Ink::black(1.0).into();
            let run = GlyphRun { paint, ..(*run).clone() };
            Item { origin: origin_of(element), mark: Mark::Glyphs(run) }
        });
        let mask = plates(&self.holding(masked.collect()), area, ppi, self.darkroom);
        let lit = |kept| -> Vec<f64> {
            let pixels = screen(&self.near(area, kept), area, ppi, self.darkroom);
            pixels.rgb.chunks_exact(3).map(luminance).collect()
        };
        let (with, without) = (lit(DrawnElements::All), lit(DrawnElements::But(element.origin)));
        let scale = ppi / MM_PER_INCH;
        let mut letters = Vec::new();
        for run in runs {
            for place in run.boxes() {
                let columns = pixels(place.x0 - area.x0, place.x1 - area.x0, scale, mask.width);
                let rows = pixels(place.y0 - area.y0, place.y1 - area.y0, scale, mask.height);
                let places = || rows.clone().flat_map(|row| columns.clone().map(move |column| (row, column)));
                let ink = |(row, column): (usize, usize)| mask.process[3][row * mask.width + column];
                let full = FULL * f64::from(places().map(ink).max().unwrap_or(0));
                let inked = places().filter(|place| full > 0.0 && f64::from(ink(*place)) >= full);
                let ratio = |(row, column): (usize, usize)| {
                    let at = row * mask.width + column;
                    contrast(with[at], without[at])
                };
                let mut ratios: Vec<f64> = inked.map(ratio).collect();
                ratios.sort_by(f64::total_cmp);
                if let Some(median) = ratios.get(ratios.len() / 2) {
                    letters.push(LetterContrast {
                        place,
                        contrast: *median,
                        size: run.size,
                        weight: run.font.weight(),
                    });
                }
            }
        }
        Some(letters)
    }

    /// What reaches into an area.
    pub fn near(&self, area: Rect, kept: DrawnElements<'_>) -> Scene {
        let mut wanted = DrawnSoFar { kept, met: false };
        let mut reaches = self.reaches.iter();
        self.holding(near(&self.scene.items, &mut reaches, area.inflate(MARGIN, MARGIN), &mut wanted))
    }

    /// What composing an area costs.
    pub fn pixels(&self, area: Rect, ppi: f64) -> f64 {
        let density = (ppi / MM_PER_INCH) * (ppi / MM_PER_INCH);
        let reaching = self.reaches.iter().flatten().filter(|reach| overlap(reach.bounds, area));
        let cost = |reach: &MarkReach| {
            let pixel = reach.samples.map_or(density, |samples| SCALED * density + READ * samples);
            OUTLINE * reach.outlines as f64 + reach.bounds.intersect(area).area() * pixel
        };
        area.area() * density + reaching.map(cost).sum::<f64>()
    }

    /// A scene of these marks on the same sheet.
    pub fn holding(&self, items: Vec<Item>) -> Scene {
        Scene {
            sheet: self.sheet().clone(),
            job: Job::default(),
            profile: self.scene.profile.clone(),
            items,
            views: None,
        }
    }
}

/// Words that are printed in ink: foil and varnish cannot be judged, nor letters that other marks show.
fn plain_runs<'a>(element: &VisibleElement<'a>) -> impl Iterator<Item = &'a GlyphRun> {
    let runs = element.runs().map(|(run, _)| run);
    runs.filter(|run| match &run.paint {
        Paint::None => false,
        Paint::Ink(ink) => !ink.is_finishing(),
        Paint::Gradient(_) => true,
    })
}

fn origin_of(element: &VisibleElement<'_>) -> std::sync::Arc<Origin> {
    element.marks.first().map_or_else(|| std::sync::Arc::new(element.origin.clone()), |mark| mark.item.origin.clone())
}

/// Which elements are drawn.
#[derive(Clone, Copy)]
pub enum DrawnElements<'a> {
    All,
    /// As if this one had never been drawn.
    But(&'a Origin),
    /// As it was when this one had been drawn.
    UpTo(&'a Origin),
    /// As it was before this one was drawn.
    Before(&'a Origin),
}

struct DrawnSoFar<'a> {
    kept: DrawnElements<'a>,
    met: bool,
}

impl DrawnSoFar<'_> {
    fn wants(&mut self, origin: &Origin) -> bool {
        match self.kept {
            DrawnElements::All => true,
            DrawnElements::But(one) => !std::ptr::eq(one, origin),
            DrawnElements::UpTo(one) | DrawnElements::Before(one) => {
                let is_it = std::ptr::eq(one, origin);
                self.met |= is_it;
                if is_it { matches!(self.kept, DrawnElements::UpTo(_)) } else { !self.met }
            }
        }
    }
}

fn near(
    items: &[Item],
    reaches: &mut Iter<'_, Option<MarkReach>>,
    area: Rect,
    wanted: &mut DrawnSoFar<'_>,
) -> Vec<Item> {
    let kept = items.iter().filter_map(|item| {
        if let Mark::Group(group) = &item.mark {
            let items = near(&group.items, reaches, area, wanted);
            let group = Group { clip: group.clip.clone(), veil: group.veil.clone(), items, ..*group };
            return (!group.items.is_empty()).then(|| Item { origin: item.origin.clone(), mark: Mark::Group(group) });
        }
        let reaches = reaches.next().copied().flatten().is_some_and(|reach| overlap(reach.bounds, area));
        (wanted.wants(&item.origin) && reaches).then(|| item.clone())
    });
    kept.collect()
}

fn pixels(from: f64, to: f64, scale: f64, end: usize) -> std::ops::Range<usize> {
    let at = |mm: f64| ((mm * scale).max(0.0) as usize).min(end);
    at(from)..at(to + 1.0 / scale)
}

/// Relative luminance of sRGB (WCAG 2).
pub fn luminance(rgb: &[u8]) -> f64 {
    rgb.iter().zip([0.2126, 0.7152, 0.0722]).map(|(sample, share)| share * linear(*sample)).sum()
}

fn linear(sample: u8) -> f64 {
    static LEVELS: LazyLock<[f64; 256]> = LazyLock::new(|| {
        std::array::from_fn(|level| {
            let share = level as f64 / 255.0;
            if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        })
    });
    LEVELS[usize::from(sample)]
}

/// The contrast of two luminances (WCAG 2).
pub fn contrast(a: f64, b: f64) -> f64 {
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[cfg(test)]
mod tests {
    use super::*;

    // White on black 21 to 1, #767676 on white 4.54 (both published with WCAG 2).
    #[test]
    fn ratios_as_published() {
        assert!((contrast(1.0, 0.0) - 21.0).abs() < 1e-9);
        assert!((contrast(luminance(&[0x76; 3]), luminance(&[255; 3])) - 4.54).abs() < 0.005);
    }
}
