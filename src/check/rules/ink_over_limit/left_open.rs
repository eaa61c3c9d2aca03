//! Left open: how much of the ink of an element shows on the plates under what lies over it. It is drawn in solids and in
//! none, all else as it is.

use crate::check::exam::Exam;
use crate::check::ink_sums::PPI;
use crate::check::proof::{DrawnElements, Patience};
use crate::check::stated_ink::printed_in;
use crate::ground::{Ink, Rect};
use crate::raster::plates;
use crate::scene::{Group, Item, Mark, Origin};
use std::sync::Arc;

/// Levels of 255 that a drawing may be off another.
const ROUNDING: f64 = 1.0;

pub struct LeftOpen {
    /// Pixel by pixel, of 255 levels; on the plate that keeps the most.
    shows: Vec<u8>,
}

impl LeftOpen {
    /// In a sheet of these elements. `None` when it takes more than is left.
    pub fn of(
        exam: &Exam<'_>,
        (origin, kept): (&Arc<Origin>, DrawnElements<'_>),
        area: Rect,
        patience: &mut Patience,
    ) -> Option<LeftOpen> {
        if !patience.spend(2.0 * exam.pixels(area, PPI)) {
            return None;
        }
        let near = exam.near(area, kept).items;
        let [solid, none] = [1.0, 0.0].map(|share| {
            let items = inked(&near, origin, &Ink::process(share, share, share, share));
            plates(&exam.holding(items), area, PPI, exam.darkroom).process
        });
        let mut shows = vec![0_u8; solid.iter().map(Vec::len).max().unwrap_or(0)];
        for (solid, none) in solid.iter().zip(&none) {
            let kept = solid.iter().zip(none).map(|(solid, none)| solid.saturating_sub(*none));
            shows.iter_mut().zip(kept).for_each(|(most, kept)| *most = kept.max(*most));
        }
        Some(LeftOpen { shows })
    }

    pub fn at(&self, at: usize) -> f64 {
        self.shows.get(at).map_or(0.0, |shows| f64::from(*shows))
    }

    /// The share that shows of what `expected` levels of 255 would print if nothing lay over it.
    pub fn share(&self, at: usize, expected: f64) -> f64 {
        let shows = self.at(at);
        if shows <= ROUNDING {
            0.0
        } else if shows + ROUNDING / 2.0 >= expected {
            1.0
        } else {
            shows / expected
        }
    }
}

fn inked(items: &[Item], origin: &Arc<Origin>, ink: &Ink) -> Vec<Item> {
    let inked = items.iter().map(|item| {
        let mark = match &item.mark {
            Mark::Group(group) => {
                let items = inked(&group.items, origin, ink);
                Mark::Group(Group { clip: group.clip.clone(), veil: group.veil.clone(), items, ..*group })
            }
            mark if Arc::ptr_eq(&item.origin, origin) => printed_in(mark, ink).unwrap_or_else(|| mark.clone()),
            mark => mark.clone(),
        };
        Item { origin: item.origin.clone(), mark }
    });
    inked.collect()
}

#[cfg(test)]
mod tests {
    use crate::check::rules::ink_over_limit::RULE;
    use crate::check::testing::reported;

    fn messages(cover: &str) -> Vec<String> {
        reported(&RULE, cover).into_iter().map(|found| found.message).collect()
    }

    /// Percent, as `a` is reported to be printed with.
    fn told(found: &[String]) -> Option<f64> {
        let found = found.first()?.strip_prefix("`a` is printed with ")?;
        found.split(' ').next()?.parse().ok()
    }

    // White of 2 % leaves 98 % of 345 %, 338.1 %, told to one level of a plate, which is 2 % of the thinnest letters; white of
    // 50 % leaves 172.5 %, and a solid nothing.
    #[test]
    fn words_and_rules_count_as_far_as_they_show() {
        let under = |size: &str, lid: &str| {
            messages(&format!(
                "swatches {{ swatch pitch c=90 m=80 y=80 k=95; swatch white k=0 }}
                panel front {{ {size}
                    band b {{ swatch white; left 10; width 90; top 10; height 60; {lid} }} }}"
            ))
        };
        let words = |size: u32| {
            format!(
                "text a words=\"Some lights are lit to be followed.\" {{ left 20; width 70; top 20; size {size}; swatch pitch }}"
            )
        };
        let rule = "band a { swatch pitch; left 20; width 60; top 20.1; height 0.5 }".to_owned();
        for (name, mark, near) in [("24 pt", words(24), 1.0), ("6 pt", words(6), 7.0), ("0.5 mm", rule, 4.0)] {
            let thin = under(&mark, "opacity 2");
            assert!(told(&thin).is_some_and(|told| (told - 338.1).abs() <= near), "{name}: {thin:?}");
            assert_eq!(under(&mark, "opacity 50"), [""; 0], "{name}");
            assert_eq!(under(&mark, ""), [""; 0], "{name}");
            assert_eq!(told(&under(&mark, "blend multiply")), Some(345.0), "{name}");
        }
    }

    // The dark half lies under 310 % of another element; of its own, from the middle on, at most 197.5 % show.
    #[test]
    fn a_gradient_is_not_told_the_ink_of_what_covers_it() {
        let found = messages(
            "swatches { swatch pitch c=90 m=80 y=80 k=95; swatch half k=50; swatch lid c=80 m=70 y=70 k=90 }
            panel front { band a { gradient pitch half; left 20; width 60; top 20; height 60 }
                band b { swatch lid; left 20; width 60; top 20; height 30 } }",
        );
        assert_eq!(found, ["`b` is printed with 310 % of ink; the limit is 300 %"]);
    }
}
