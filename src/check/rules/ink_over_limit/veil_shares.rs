//! Veil shares: how much of what lies in a veil it leaves where it leaves most.

use crate::check::visible::visible_marks;
use crate::scene::{Item, Mark};

/// Remembers the last one, which many marks share.
#[derive(Default)]
pub struct VeilShares<'a>(Option<(&'a [Item], f64)>);

impl<'a> VeilShares<'a> {
    /// All of it where the veil is a picture: it may be solid anywhere.
    pub fn most(&mut self, veil: &'a [Item]) -> f64 {
        if let Some((_, known)) = self.0.filter(|(last, _)| std::ptr::eq(*last, veil)) {
            return known;
        }
        let mut most = 0.0_f64;
        for shown in visible_marks(veil) {
            if matches!(&shown.item.mark, Mark::Picture(placed) if placed.paint.is_none()) {
                most = 1.0;
            }
            shown.item.inks(&mut |ink| most = most.max(ink.total().min(1.0)));
        }
        self.0 = Some((veil, most));
        most
    }
}

#[cfg(test)]
mod tests {
    use crate::check::rules::ink_over_limit::RULE;
    use crate::check::testing::{drawn, reported, reported_with};
    use crate::ground::Blend;
    use crate::scene::{Group, Item, Mark};

    // Letters never are as large as the patches that are measured on the sheet: 99 % of 345 % are 342 %.
    #[test]
    fn thinned_words_count_as_they_print() {
        let words = |look: &str| {
            let cover = format!(
                "swatches {{ swatch pitch c=90 m=80 y=80 k=95 }}
                panel front {{ text t words=\"Some lights are lit to be followed.\" {{
                    left 20; width 80; top 20; size 24; swatch pitch; {look} }} }}"
            );
            reported(&RULE, &cover).into_iter().map(|found| found.message).collect::<Vec<_>>()
        };
        assert_eq!(words("opacity 99"), ["`t` is printed with 342 % of ink; the limit is 300 %"]);
        assert_eq!(words("opacity 80"), [""; 0]);
    }

    #[test]
    fn a_veil_that_may_hide_nothing_leaves_all_of_it() {
        let dark = "swatches { swatch pitch c=90 m=80 y=80 k=95 }
            panel front { band a { swatch pitch; left 20; width 60; top 20; height 1 } }";
        let veiled = |percent: u32| {
            let veil = format!(
                "panel front {{ band v {{ swatch black percent={percent}; left 10; width 80; top 10; height 80 }} }}"
            );
            let (veil, items) = (Some(drawn(&veil).1.items.into()), drawn(dark).1.items);
            let origin = items[0].origin.clone();
            let group = Group { clip: None, opacity: 1.0, blend: Blend::Normal, veil, items };
            let found = reported_with(&RULE, "", vec![Item { origin, mark: Mark::Group(group) }]);
            found.into_iter().map(|found| found.message).collect::<Vec<_>>()
        };
        assert_eq!(veiled(100), ["`a` is printed with 345 % of ink; the limit is 300 %"]);
        assert_eq!(veiled(50), [""; 0]);
    }
}
