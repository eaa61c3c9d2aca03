//! Printed ink: how much of the ink that a mark states is left on the plates, by the veils around it and by what lies over it.

use crate::check::exam::{Exam, outlines};
use crate::check::ink_sums::{MeasuredPlates, PPI};
use crate::check::proof::{DrawnElements, OUTLINE, Patience};
use crate::check::rules::ink_over_limit::left_open::LeftOpen;
use crate::check::stated_ink::in_black;
use crate::check::visible::VisibleMark;
use crate::ground::{Blend, FillRule, Ink, Paint, Rect, rect_path};
use crate::raster::{Plates, plates};
use crate::scene::{Group, Item, Mark};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What looking at one mark costs, however small it is: pixels.
const LOOK: f64 = 20_000.0;
/// Levels of 255 from which on a pixel lies within a mark, and no edge of it.
const WITHIN: u8 = 254;
/// What plates of 8 bits and shares of 8 bits may be off together, 1 a solid.
const SLACK: f64 = 0.03;

/// The veils around a mark, the outermost first.
type Veils = Vec<Arc<[Item]>>;

pub struct PrintedInk<'a> {
    exam: &'a Exam<'a>,
    patience: Patience,
    /// By the places of items in memory.
    veils: Option<BTreeMap<*const Item, Veils>>,
}

/// The pixels of the measured sheet that hold a mark.
struct PixelBox {
    column: usize,
    row: usize,
    area: Rect,
}

impl<'a> PrintedInk<'a> {
    pub fn new(exam: &'a Exam<'a>) -> PrintedInk<'a> {
        PrintedInk { exam, patience: Patience::default(), veils: None }
    }

    /// Of `stated`, the most that lies anywhere in the mark, where it matters: over `limit`; 1 is one solid. All of it where
    /// looking takes too long.
    pub fn most(&mut self, mark: &VisibleMark<'_>, stated: f64, limit: f64) -> f64 {
        let exam = self.exam;
        let Some(measured) = exam.measured else { return stated };
        let Some(place) = PixelBox::of(mark.bounds, measured) else { return 0.0 };
        let veils = self.veils_of(mark.item);
        let veiling = veils.iter().flat_map(|veil| veil.iter()).map(outlines_within).sum::<usize>();
        let density = (1.0 / measured.sums.pixel).powi(2);
        let pixels = place.area.area() * density * (2 + veils.len()) as f64;
        if !self.patience.spend(LOOK + pixels + OUTLINE * (outlines(mark.item) + veiling) as f64) {
            return stated;
        }
        let Some(own) = in_black(mark, 1.0).map(|item| self.black(vec![item], place.area)) else { return stated };
        let left = self.left(mark, veils, place.area);
        let share =
            |at: usize| left.as_ref().map_or(1.0, |left| left.get(at).map_or(0.0, |ink| f64::from(*ink) / 255.0));
        let origin = &mark.item.origin;
        let open =
            |kept: DrawnElements<'_>, patience: &mut Patience| LeftOpen::of(exam, (origin, kept), place.area, patience);
        let most = own.iter().copied().max().unwrap_or(0);
        if most < WITHIN {
            // No pixel lies within letters so small: what they print is set against what they do with nothing over them.
            let open = [DrawnElements::UpTo(origin), DrawnElements::All].map(|kept| open(kept, &mut self.patience));
            let there = own.iter().enumerate().filter(|(_, ink)| most > 0 && **ink >= most / 2);
            let printed = there.map(|(at, _)| match &open {
                [Some(bare), Some(open)] => share(at) * open.share(at, bare.at(at)),
                _ => share(at),
            });
            return stated * printed.fold(0.0, f64::max);
        }
        let width = (place.area.width() / measured.sums.pixel).round().max(1.0) as usize;
        let gradient = self.gradient(mark, place.area);
        let within = own.iter().enumerate().filter(|(_, ink)| **ink >= WITHIN);
        let printed = within.map(|(at, _)| {
            let here = gradient.as_ref().and_then(|drawn| drawn.ink_at(at % width, at / width));
            let here = here.map_or(stated, |ink| stated.min(ink * mark.opacity)) * share(at);
            (at, here, measured.plates.ink_at(place.column + at % width, place.row + at / width).unwrap_or(here))
        });
        let printed: Vec<(usize, f64, f64)> = printed.filter(|(_, here, total)| here.min(*total) > limit).collect();
        // Where a gradient has the very ink of what covers it, sums do not tell them apart.
        let is_covered = |here: f64, total: f64| gradient.is_some() || total + SLACK < here;
        let doubtful = printed.iter().any(|(_, here, total)| is_covered(*here, *total));
        let open = if doubtful { open(DrawnElements::All, &mut self.patience) } else { None };
        let counted = printed.into_iter().map(|(at, here, total)| {
            // Under a thin lid its own ink is too much; under a thick one it is the ink of the lid that counts.
            let expected = 255.0 * mark.opacity * share(at);
            let shows = || open.as_ref().is_none_or(|open| here * open.share(at, expected) > limit);
            match is_covered(here, total) {
                false => here,
                true if shows() => here.min(total),
                true => 0.0,
            }
        });
        counted.fold(0.0, f64::max)
    }

    /// What a gradient states, pixel by pixel; nothing for what is in one ink.
    fn gradient(&self, mark: &VisibleMark<'_>, area: Rect) -> Option<Plates> {
        let Some(Paint::Gradient(_)) = mark.item.paint() else { return None };
        let clip = (rect_path(mark.bounds), FillRule::NonZero);
        let cut = Mark::Group(Group::cut(clip, vec![mark.item.clone()]));
        let items = vec![Item { origin: mark.item.origin.clone(), mark: cut }];
        Some(plates(&self.exam.holding(items), area, PPI, self.exam.darkroom))
    }

    /// How much of a solid the veils around a mark leave of it, pixel by pixel; nothing where there are none.
    fn left(&self, mark: &VisibleMark<'_>, veils: Veils, area: Rect) -> Option<Vec<u8>> {
        if veils.is_empty() {
            return None;
        }
        let origin = &mark.item.origin;
        let paint = Ink::black(1.0).into();
        let solid = Mark::Fill { path: rect_path(area), rule: FillRule::NonZero, paint };
        let veiled = veils.into_iter().rev().fold(solid, |mark, veil| {
            let items = vec![Item { origin: origin.clone(), mark }];
            Mark::Group(Group { clip: None, opacity: 1.0, blend: Blend::Normal, veil: Some(veil), items })
        });
        Some(self.black(vec![Item { origin: origin.clone(), mark: veiled }], area))
    }

    fn black(&self, items: Vec<Item>, area: Rect) -> Vec<u8> {
        let [_, _, _, black] = plates(&self.exam.holding(items), area, PPI, self.exam.darkroom).process;
        black
    }

    fn veils_of(&mut self, item: &Item) -> Veils {
        let exam = self.exam;
        let known = self.veils.get_or_insert_with(|| {
            let mut known = BTreeMap::new();
            collect(&exam.scene.items, &Vec::new(), &mut known);
            known
        });
        known.get(&std::ptr::from_ref(item)).cloned().unwrap_or_default()
    }
}

fn collect(items: &[Item], around: &Veils, known: &mut BTreeMap<*const Item, Veils>) {
    for item in items {
        if let Mark::Group(group) = &item.mark {
            let mut inside = around.clone();
            inside.extend(group.veil.clone());
            collect(&group.items, &inside, known);
        } else if !around.is_empty() {
            known.insert(std::ptr::from_ref(item), around.clone());
        }
    }
}

fn outlines_within(item: &Item) -> usize {
    match &item.mark {
        Mark::Group(group) => {
            let veil = group.veil.iter().flat_map(|veil| veil.iter());
            group.items.iter().chain(veil).map(outlines_within).sum()
        }
        _ => outlines(item),
    }
}

impl PixelBox {
    /// `None` where a mark lies beyond the sheet.
    fn of(bounds: Rect, MeasuredPlates { sums, .. }: &MeasuredPlates) -> Option<PixelBox> {
        let seen = bounds.intersect(sums.area);
        if seen.width() < 0.0 || seen.height() < 0.0 || !overlaps(bounds, sums.area) {
            return None;
        }
        let pixels = |from: f64, to: f64, start: f64| {
            let first = ((from - start) / sums.pixel).floor().max(0.0);
            (first, ((to - start) / sums.pixel).ceil().max(first + 1.0))
        };
        let (left, right) = pixels(seen.x0, seen.x1, sums.area.x0);
        let (head, foot) = pixels(seen.y0, seen.y1, sums.area.y0);
        let at = |x: f64, y: f64| (sums.area.x0 + x * sums.pixel, sums.area.y0 + y * sums.pixel);
        let ((x0, y0), (x1, y1)) = (at(left, head), at(right, foot));
        Some(PixelBox { column: left as usize, row: head as usize, area: Rect::new(x0, y0, x1, y1) })
    }
}

fn overlaps(one: Rect, other: Rect) -> bool {
    one.x0 <= other.x1 && other.x0 <= one.x1 && one.y0 <= other.y1 && other.y0 <= one.y1
}

#[cfg(test)]
mod tests {
    use crate::check::rules::ink_over_limit::RULE;
    use crate::check::testing::{drawn, reported, reported_with};
    use crate::ground::Blend;
    use crate::scene::{Group, Item, Mark};
    use std::sync::Arc;

    fn messages(cover: &str) -> Vec<String> {
        reported(&RULE, cover).into_iter().map(|found| found.message).collect()
    }

    // Letters never are as large as the patches that are measured on the sheet: 99 % of 345 % are 342 %.
    #[test]
    fn thinned_words_count_as_they_print() {
        let words = |look: &str| {
            messages(&format!(
                "swatches {{ swatch pitch c=90 m=80 y=80 k=95 }}
                panel front {{ text t words=\"Some lights are lit to be followed.\" {{
                    left 20; width 80; top 20; size 24; swatch pitch; {look} }} }}"
            ))
        };
        assert_eq!(words("opacity 99"), ["`t` is printed with 342 % of ink; the limit is 300 %"]);
        assert_eq!(words("opacity 80"), [""; 0]);
    }

    /// What is said of 345 % of ink within veils of these tints, the outermost first; each is laid twice where `twice`.
    fn veiled(percents: &[u32], twice: bool, more: &str) -> Vec<String> {
        let dark = "swatches { swatch pitch c=90 m=80 y=80 k=95 }
            panel front { band a { swatch pitch; left 20; width 60; top 20; height 30 } }";
        let veil = |percent: u32| -> Arc<[Item]> {
            let band = |name: &str| {
                format!(
                    "band {name} {{ swatch black percent={percent}; left 10; width 80; top 10; height 80; opacity 90 }}"
                )
            };
            let bands = if twice { band("v") + "\n" + &band("w") } else { band("v").replace("; opacity 90", "") };
            drawn(&format!("panel front {{ {bands} }}")).1.items.into()
        };
        let items = percents.iter().rev().fold(drawn(dark).1.items, |items, percent| {
            let origin = items[0].origin.clone();
            let group = Group { clip: None, opacity: 1.0, blend: Blend::Normal, veil: Some(veil(*percent)), items };
            vec![Item { origin, mark: Mark::Group(group) }]
        });
        let found = reported_with(&RULE, more, items);
        found.into_iter().map(|found| found.message).collect()
    }

    /// Percent, as `a` is reported to be printed with; a hundred of them are a solid.
    fn told(found: &[String]) -> Option<f64> {
        let found = found.first()?.strip_prefix("`a` is printed with ")?;
        found.split(' ').next()?.parse().ok()
    }

    // 0.9 of 0.9 of 345 % are 279.5 %; a veil of 0.9 laid at 0.9 twice leaves 0.9 × 0.99, 307.4 %. A plate of 8 bits holds them
    // to 0.2 % of each.
    #[test]
    fn veils_leave_what_the_plates_hold() {
        for (percents, twice, limit, wanted) in [
            (&[100][..], false, 300, Some(345.0)),
            (&[50], false, 300, None),
            (&[90, 90], false, 300, None),
            (&[90, 90], false, 200, Some(279.5)),
            (&[50, 100], false, 150, Some(172.5)),
            (&[90], true, 300, Some(307.4)),
        ] {
            let found = veiled(percents, twice, &format!("press coated ink-limit={limit}"));
            let near = |found: f64| wanted.is_some_and(|wanted: f64| (found - wanted).abs() <= 1.0);
            assert!(told(&found).map_or(wanted.is_none() && found.is_empty(), near), "{percents:?}: {found:?}");
        }
    }

    // Black of 50 % laid at 50 % over 345 %: 45 40 40 72.5, which is 198 %; at 10 %, 81 72 72 90.5, 315.5 %. What a lid
    // covers is not printed, and beside it all of it is.
    #[test]
    fn what_lies_over_ink_takes_from_it() {
        let under = |lid: &str| {
            messages(&format!(
                "swatches {{ swatch pitch c=90 m=80 y=80 k=95; swatch half k=50 }}
                panel front {{ band a {{ swatch pitch; left 20; width 60; top 20; height 60 }}
                    band b {{ {lid}; left 20; top 20; height 60 }} }}"
            ))
        };
        assert_eq!(under("swatch half; width 60; opacity 50"), [""; 0]);
        let thin = under("swatch half; width 60; opacity 10");
        assert!(thin.len() == 1 && told(&thin).is_some_and(|told| (told - 315.5).abs() <= 1.0), "{thin:?}");
        assert_eq!(under("swatch half; width 60"), [""; 0]);
        assert_eq!(told(&under("swatch half; width 58")), Some(345.0));
        assert_eq!(told(&under("swatch half; width 60; blend multiply")), Some(345.0));
    }

    #[test]
    fn a_gradient_counts_where_it_is_darkest() {
        let gradient = |lid: &str| {
            messages(&format!(
                "swatches {{ swatch pitch c=90 m=80 y=80 k=95 }}
                panel front {{ band a {{ gradient pitch none; left 20; width 60; top 20; height 60 }}
                {lid} }}"
            ))
        };
        let open = gradient("");
        assert!(open[0].starts_with("`a` is printed with 34"), "{open:?}");
        assert_eq!(gradient("band b { swatch unprinted; left 20; width 60; top 20; height 30 }"), [""; 0]);
    }
}
