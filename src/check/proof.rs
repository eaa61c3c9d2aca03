//! Proof: part of the sheet composed with an element and without it, to see what the element adds.

use crate::check::exam::Exam;
use crate::check::visible::VisibleElement;
use crate::ground::{Ink, MM_PER_INCH, Paint, Rect};
use crate::raster::{plates, screen};
use crate::scene::{Item, Job, Mark, Origin, Scene};

/// Pixels per inch for shapes and pictures; letters get as many as their strokes need.
const PPI: f64 = 100.0;
const FINEST: f64 = 220.0;
/// Pixels along the em of the smallest letters.
const PER_EM: f64 = 24.0;
/// Steps of 255 by which composing may round.
const ROUNDING: u8 = 2;
/// The share of a letter's fullest pixel from which on a pixel is ink of the letter.
const FULL: f64 = 0.75;

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
    /// Whether the printed sheet would be another one without an element.
    pub fn shows(&self, element: &VisibleElement<'_>) -> bool {
        let area = element.bounds.intersect(self.sheet().bleed);
        if area.width() <= 0.0 || area.height() <= 0.0 {
            return false;
        }
        let drawn = |scene: &Scene| plates(scene, area, PPI, self.darkroom);
        let (with, without) = (drawn(self.scene), drawn(&self.without(element)));
        let differ = |a: &[u8], b: &[u8]| a.iter().zip(b).any(|(a, b)| a.abs_diff(*b) > ROUNDING);
        let spot = |name: &str| without.spots.iter().find(|(spot, _)| spot.name == name);
        with.process.iter().zip(&without.process).any(|(a, b)| differ(a, b))
            || with.spots.iter().any(|(name, plane)| match spot(&name.name) {
                Some((_, other)) => differ(plane, other),
                None => plane.iter().any(|ink| *ink > ROUNDING),
            })
    }

    /// Every letter of an element whose ink can be judged by the eye: foil and varnish cannot.
    pub fn letters(&self, element: &VisibleElement<'_>) -> Vec<LetterContrast> {
        let runs: Vec<_> = element
            .runs()
            .filter(|(run, _)| !matches!(&run.paint, Paint::Ink(ink) if ink.is_finishing()))
            .map(|(run, _)| run)
            .collect();
        let smallest = runs.iter().map(|run| run.size).fold(f64::INFINITY, f64::min);
        let area = element.bounds.inflate(1.0, 1.0).intersect(self.sheet().bleed);
        if !smallest.is_finite() || area.width() <= 0.0 || area.height() <= 0.0 {
            return Vec::new();
        }
        let ppi = (PER_EM * MM_PER_INCH / smallest).clamp(PPI / 2.0, FINEST);
        let masked = runs.iter().map(|run| {
            let paint = Ink::black(1.0).into();
            let run = crate::scene::GlyphRun { paint, ..(*run).clone() };
            Item { origin: origin_of(element), mark: Mark::Glyphs(run) }
        });
        let mask = plates(&self.holding(masked.collect()), area, ppi, self.darkroom);
        let lit = |scene: &Scene| -> Vec<f64> {
            let pixels = screen(scene, area, ppi, self.darkroom);
            pixels.rgb.chunks_exact(3).map(luminance).collect()
        };
        let (with, without) = (lit(self.scene), lit(&self.without(element)));
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
        letters
    }

    /// The scene as if an element had never been drawn.
    fn without(&self, element: &VisibleElement<'_>) -> Scene {
        self.holding(all_but(&self.scene.items, element.origin))
    }

    fn holding(&self, items: Vec<Item>) -> Scene {
        Scene { sheet: self.sheet().clone(), job: Job::default(), profile: self.scene.profile.clone(), items }
    }
}

fn origin_of(element: &VisibleElement<'_>) -> std::sync::Arc<Origin> {
    element.marks.first().map_or_else(|| std::sync::Arc::new(element.origin.clone()), |mark| mark.item.origin.clone())
}

fn all_but(items: &[Item], origin: &Origin) -> Vec<Item> {
    let others = items.iter().filter_map(|item| match &item.mark {
        Mark::Group(group) => {
            let group = crate::scene::Group {
                clip: group.clip.clone(),
                opacity: group.opacity,
                blend: group.blend,
                items: all_but(&group.items, origin),
            };
            Some(Item { origin: item.origin.clone(), mark: Mark::Group(group) })
        }
        _ => (!std::ptr::eq(&raw const *item.origin, origin)).then(|| item.clone()),
    });
    others.collect()
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
    let share = f64::from(sample) / 255.0;
    if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
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
