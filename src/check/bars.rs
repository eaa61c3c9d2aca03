//! Bars: a bar code as it stands on the sheet, measured off its marks.

use crate::check::visible::VisibleElement;
use crate::ground::{Affine, Ink, Path, PathEl, Rect};
use crate::scene::{Kind, Mark};
use std::f64::consts::FRAC_PI_2;

/// An EAN-13 has 95 modules and 30 bars, a five-digit add-on 47 and 16 (GS1 General Specifications 5.2, from memory; the
/// counts follow from its tables of patterns).
const MODULES: f64 = 95.0;
const MAIN_BARS: usize = 30;
/// Quiet zones in modules: left, right, right of an add-on (GS1, a published size guide; the add-on's from memory).
pub const QUIET_LEFT: f64 = 11.0;
pub const QUIET_RIGHT: f64 = 7.0;
pub const QUIET_ADD_ON: f64 = 5.0;

pub struct Bars {
    /// From left to right as the code is read, or from the foot where it is turned by a quarter.
    pub all: Vec<Rect>,
    /// Bars run across the sheet: the code is turned by a quarter.
    pub turned: bool,
    /// Neither upright nor turned by a quarter.
    pub askew: bool,
    /// Width of a module.
    pub module: f64,
    /// Height of the bars that stand over digits.
    pub height: f64,
    /// Every ink of the bars, each once.
    pub inks: Vec<Ink>,
}

impl Bars {
    /// `None` when the element has no bars to be found.
    pub fn of(element: &VisibleElement<'_>) -> Option<Bars> {
        if !element.is(Kind::BarCode) {
            return None;
        }
        let mut bars: Vec<Bar> = Vec::new();
        let mut inks: Vec<Ink> = Vec::new();
        let fills = element.marks.iter().filter_map(|shown| match &shown.item.mark {
            Mark::Fill { path, .. } => Some(path),
            _ => None,
        });
        let angle = fills.map(angle).next().unwrap_or_default();
        for shown in &element.marks {
            let Mark::Fill { path, paint: crate::ground::Paint::Ink(ink), .. } = &shown.item.mark else { continue };
            let parts = rectangles(path, angle);
            // The ground of the symbol is as wide as the whole; no bar is.
            let is_bar = |bar: &Bar| ink.total() > 0.0 && bar.thickness() < element.origin.frame.width() / 8.0;
            let before = bars.len();
            bars.extend(parts.into_iter().filter(is_bar));
            if bars.len() == before {
                continue;
            }
            if !inks.contains(ink) {
                inks.push(ink.clone());
            }
        }
        let turned = bars.iter().filter(|bar| bar.straight.width() > bar.straight.height()).count() * 2 > bars.len();
        let start = |bar: &Bar| if turned { bar.straight.y0 } else { bar.straight.x0 };
        bars.sort_by(|a, b| start(a).total_cmp(&start(b)));
        let (first, last) = (bars.first()?.straight, bars.get(MAIN_BARS - 1).or(bars.last())?.straight);
        let whole = if turned { last.y1 - first.y0 } else { last.x1 - first.x0 };
        let narrowest = bars.iter().map(Bar::thickness).fold(f64::INFINITY, f64::min);
        let module = if bars.len() >= MAIN_BARS { whole / MODULES } else { narrowest };
        let long = |bar: &Bar| bar.straight.width().max(bar.straight.height());
        let mut heights: Vec<f64> = bars.iter().take(MAIN_BARS).map(long).collect();
        heights.sort_by(f64::total_cmp);
        let height = heights[heights.len() / 2];
        let all = bars.iter().map(|bar| bar.place).collect();
        Some(Bars { all, turned, askew: angle != 0.0, module, height, inks })
    }

    /// Bars, quiet zones and figures: the symbol without its ground.
    pub fn symbol(&self, element: &VisibleElement<'_>) -> Rect {
        element.runs().fold(self.with_quiet_zones(), |all, (_, shown)| all.union(shown.bounds))
    }

    /// All bars, and the quiet zones beside them.
    pub fn with_quiet_zones(&self) -> Rect {
        self.with_zones(QUIET_LEFT, QUIET_RIGHT, QUIET_ADD_ON)
    }

    /// All bars, and zones of so many modules: at the left, at the right, at the right of an add-on.
    pub fn with_zones(&self, left: f64, right: f64, add_on: f64) -> Rect {
        let all = self.all.iter().copied().reduce(|a, b| a.union(b)).unwrap_or_default();
        let right = if self.all.len() > MAIN_BARS { add_on } else { right };
        let (before, after) = (left * self.module, right * self.module);
        // Which end of a turned code is its left one cannot be seen from its bars; both may be as wide as the wider.
        // The box around an askew code reaches beyond its bars as it is.
        let (x, y) = match (self.askew, self.turned) {
            (true, _) => ((0.0, 0.0), (0.0, 0.0)),
            (false, true) => ((0.0, 0.0), (after, after)),
            (false, false) => ((before, after), (0.0, 0.0)),
        };
        Rect::new(all.x0 - x.0, all.y0 - y.0, all.x1 + x.1, all.y1 + y.1)
    }
}

/// One closed part of a path.
struct Bar {
    /// Its bounds on the sheet.
    place: Rect,
    /// Its bounds when the code is turned back.
    straight: Rect,
}

impl Bar {
    fn thickness(&self) -> f64 {
        self.straight.width().min(self.straight.height())
    }
}

/// By how much a path's first side is turned, beyond quarters; 0 where it runs along an axis.
fn angle(path: &Path) -> f64 {
    let points = path.elements().iter().filter_map(PathEl::end_point).collect::<Vec<_>>();
    let side = points.windows(2).map(|pair| pair[1] - pair[0]).find(|side| side.hypot() > 1e-6);
    let Some(side) = side.filter(|side| side.x.abs() > 1e-6 && side.y.abs() > 1e-6) else { return 0.0 };
    side.atan2().rem_euclid(FRAC_PI_2)
}

fn rectangles(path: &Path, angle: f64) -> Vec<Bar> {
    let back = if angle == 0.0 { Affine::IDENTITY } else { Affine::rotate(-angle) };
    let mut all: Vec<Bar> = Vec::new();
    for element in path.elements() {
        let Some(point) = element.end_point() else { continue };
        let straight = back * point;
        match (element, all.last_mut()) {
            (PathEl::MoveTo(_), _) | (_, None) => all
                .push(Bar { place: Rect::from_points(point, point), straight: Rect::from_points(straight, straight) }),
            (_, Some(bar)) => {
                bar.place = bar.place.union_pt(point);
                bar.straight = bar.straight.union_pt(straight);
            }
        }
    }
    all
}

/// Bar codes for the tests of the rules that ask about them.
#[cfg(test)]
pub mod trial {
    use super::{Kind, MAIN_BARS, MODULES, Rect};
    use crate::check::testing::{fill, origin};
    use crate::ground::Ink;
    use crate::scene::Item;

    pub struct SampleBars {
        pub left: f64,
        pub top: f64,
        pub module: f64,
        pub height: f64,
        pub ink: Ink,
        pub ground: Option<Ink>,
    }

    impl Default for SampleBars {
        /// At 100 %, in black on white, at the back's lower right.
        fn default() -> SampleBars {
            SampleBars {
                left: 84.0,
                top: 160.0,
                module: 0.33,
                height: 22.85,
                ink: Ink::black(1.0),
                ground: Some(Ink::PAPER),
            }
        }
    }

    impl SampleBars {
        /// Thirty bars over 95 modules, with 11 and 7 modules of ground beside them.
        pub fn items(&self) -> Vec<Item> {
            let left = self.left + 11.0 * self.module;
            let frame = Rect::new(self.left, self.top, self.left + 113.0 * self.module, self.top + self.height + 3.0);
            let origin = origin("barcode", Kind::BarCode, frame);
            let mut items: Vec<Item> = self.ground.iter().map(|ink| fill(&origin, frame, ink.clone())).collect();
            let step = (MODULES - 1.0) / (MAIN_BARS - 1) as f64;
            for bar in 0..MAIN_BARS {
                let x = left + bar as f64 * step * self.module;
                let guard = if !(2..=27).contains(&bar) || bar == 14 || bar == 15 { 5.0 * self.module } else { 0.0 };
                let rect = Rect::new(x, self.top, x + self.module, self.top + self.height + guard);
                items.push(fill(&origin, rect, self.ink.clone()));
            }
            items
        }
    }

    /// The language's own bar code: 80 % of 0.33 mm, and 80 % of 22.85 mm; turned, narrower by ink gain, with an add-on.
    #[test]
    fn measures_bars_of_a_cover() {
        use crate::check::visible::{elements, visible_marks};
        for more in ["", "turn 90;", "turn 45;", "turn -7;", "bar-reduction 0.02;", "add-on \"51299\";"] {
            let cover = format!("panel back {{ barcode barcode {{ left 40; top 60; scale 80; {more} }} }}");
            let (_, scene) = crate::check::testing::drawn(&cover);
            let marks = visible_marks(&scene.items);
            let bars = super::Bars::of(&elements(&marks)[0]).expect("a bar code has bars");
            assert!((bars.module - 0.264).abs() < 5e-4, "{more} {}", bars.module);
            assert!((bars.height - 18.28).abs() < 1e-6, "{more} {}", bars.height);
            assert_eq!(bars.askew, ["turn 45;", "turn -7;"].contains(&more), "{more}");
            assert_eq!(bars.turned && !bars.askew, more == "turn 90;", "{more}");
        }
    }

    #[test]
    fn measures_what_was_drawn() {
        use crate::check::visible::{elements, visible_marks};
        let items = SampleBars::default().items();
        let marks = visible_marks(&items);
        let bars = super::Bars::of(&elements(&marks)[0]).expect("thirty bars");
        assert!((bars.module - 0.33).abs() < 1e-9 && (bars.height - 22.85).abs() < 1e-9);
        // 113 modules of 0.33 mm: 37.29 mm (GS1, the nominal symbol with its quiet zones).
        assert!((bars.with_quiet_zones().width() - 37.29).abs() < 1e-9);
        assert!(!bars.turned && !bars.askew);
    }
}
