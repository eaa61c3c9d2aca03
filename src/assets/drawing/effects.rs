//! Effects of drawings: what is drawn as a picture, and how finely, so that a cover costs no more than it may.

use super::*;
use crate::assets::Picture;
use crate::assets::drawing::effort::{COVER, Effort};
use crate::assets::drawing::hostile::{BOX, chain};
use crate::ground::{Memo, Rect};

pub fn sized(width: &str, height: &str, body: &str) -> Drawing {
    let head = format!("<svg xmlns='http://www.w3.org/2000/svg' width='{width}' height='{height}'>");
    open("a.svg", format!("{head}{body}</svg>").as_bytes()).expect("reads")
}

fn opened(body: &str) -> Drawing {
    sized("99", "99", body)
}

pub const WHOLE: Rect = Rect { x0: -1e6, y0: -1e6, x1: 1e6, y1: 1e6 };

pub fn kept() -> Memo<Picture> {
    Memo::bounded(1 << 30, Picture::weight)
}

/// A filter takes its element alone, a blend mode all of the group in which it mixes.
#[test]
fn an_effect_is_a_picture_and_nothing_else() {
    let body = "<filter id='f' x='0' y='0' width='1' height='1'><feGaussianBlur stdDeviation='2'/></filter>\
        <rect width='9' height='9'/><g id='around' opacity='.5'><rect width='9' height='9'/>\
        <g style='mix-blend-mode:screen'><rect width='9' height='9'/></g></g>\
        <g transform='translate(20 30) scale(2)'><rect id='soft' width='10' height='5' filter='url(#f)'/></g>";
    let drawing = sized("100px", "100px", body);
    let [DrawingPart::Fill { .. }, DrawingPart::Pixels(around), DrawingPart::Pixels(soft)] = &drawing.parts[..] else {
        panic!("{:?}", drawing.parts)
    };
    assert_eq!((around.name.as_str(), around.why.as_str()), ("`around`", "the blend mode screen"));
    assert_eq!((soft.name.as_str(), soft.why.as_str()), ("`soft`", "a filter"));
    assert_eq!(soft.colours(), [[0; 3]].into());
    let nameless = sized(
        "100px",
        "100px",
        "<g transform='translate(96 48)'><rect width='9' height='9' style='filter:opacity(.5)'/></g>",
    );
    let [DrawingPart::Pixels(nameless)] = &nameless.parts[..] else { panic!("{:?}", nameless.parts) };
    // 96 and 48 px are 25.4 and 12.7 mm, and a filter reaches 0.24 mm farther (a tenth of its shape).
    assert_eq!(nameless.name, "a shape without an id, 25 mm from the left and 12 mm from the top");
    let px = 25.4 / 96.0;
    let Rect { x0, y0, x1, y1 } = soft.place;
    let off = [x0 - 20.0 * px, y0 - 30.0 * px, x1 - 40.0 * px, y1 - 40.0 * px];
    assert!(off.iter().all(|off| off.abs() < 1e-3), "{:?}", soft.place);
    let (picture, place) = soft.picture(soft.place, 10.0, &kept()).expect("it is drawn");
    assert!(off.iter().all(|off| off.abs() < 1e-3) && (place.width() * 10.0 - f64::from(picture.width())).abs() < 1e-6);
    let alpha = picture.alpha().expect("it is soft");
    let middle = picture.width() as usize * (picture.height() as usize / 2);
    assert!(alpha[middle] < 60 && alpha[middle + picture.width() as usize / 2] > 150, "it is blurred");
}

/// Effects that would cost minutes or gigabytes: each is named and left out, or drawn coarsely; unbounded, this test
/// would not end.
#[test]
fn effects_are_bounded() {
    let filter = |inside: &str| {
        format!(
            "<filter id='f' x='-50' y='-50' width='101' height='101'>{inside}</filter>\
             <rect width='99' height='99' filter='url(#f)'/>"
        )
    };
    let pattern = |side: &str, inside: &str| {
        format!(
            "<pattern id='p' width='{side}' height='{side}' patternUnits='userSpaceOnUse'>{inside}</pattern>\
             <rect width='99' height='99' fill='url(#p)'/>"
        )
    };
    let many = "<feGaussianBlur stdDeviation='9'/>".repeat(5000);
    let nested = chain(60, |at, below| {
        let veiled = if at == 1 { String::new() } else { format!(" mask='url(#c{below})'") };
        format!("<mask id='c{at}'><rect width='9' height='9'{veiled}/></mask>")
    });
    for (what, body) in [
        ("a blur of many units", filter("<feGaussianBlur stdDeviation='1e8'/>")),
        ("very many blurs", filter(&many)),
        ("a wide brush", filter("<feMorphology radius='5000'/>")),
        ("much noise", filter("<feTurbulence baseFrequency='.1' numOctaves='1000000'/>")),
        (
            "a large tile",
            pattern("1e8", &format!("{BOX}<rect filter='blur(2px)' width='9' height='9'/>")),
        ),
        ("coarse: very many tiles", pattern("1e-6", BOX)),
        ("in paths: masks of masked shapes", format!("{nested}<rect width='99' height='99' mask='url(#c60)'/>")),
        (
            "coarse: a gradient of very many rounds",
            "<linearGradient id='g' x2='1e-7' spreadMethod='repeat'><stop/><stop offset='1' stop-color='red'/></linearGradient>\
             <rect width='99' height='99' fill='url(#g)'/>"
                .to_owned(),
        ),
    ] {
        // Each lies beside something that is drawn.
        let drawing = opened(&format!("{body}<path d='M0 0H9V9'/>"));
        let plan = drawing.plan_effects(1.0, WHOLE, &mut EffectBudget::default());
        let share = COVER.next_share(Effort::default());
        let (mut finest, mut coarsest, mut drawn) = (Vec::new(), Vec::new(), 0);
        for view in drawing.pictured() {
            finest.push(view.effort(view.place, 450.0 / 25.4));
            coarsest.push(view.effort(view.place, 72.0 / 25.4));
            if !plan.left_out.contains(&view.key) {
                let (picture, _) = view.picture(view.place, plan.ppi / 25.4, &kept()).expect("is drawn");
                drawn += u64::from(picture.width()) * u64::from(picture.height());
            }
        }
        if what.starts_with("coarse") {
            assert!(plan.left_out.is_empty() && (plan.ppi > 449.0) == finest[0].is_within(share), "{what}: {}", plan.ppi);
            // 99 px are 26.2 mm: 75 pixels of 72 to the inch, 465 of 450.
            assert!((75 * 75..=466 * 466).contains(&drawn), "{what}: {drawn}");
        } else if what.starts_with("in paths") {
            assert!(drawing.left_out.is_empty() && coarsest.is_empty() && drawing.parts.len() > 1, "{what}: {drawing:?}");
        } else {
            // By the drawing, or where all of it shows by the plan of the cover.
            let by_drawing = drawing.left_out.iter().any(|left| left.contains("takes too long"));
            assert!(by_drawing == coarsest.is_empty() && by_drawing == plan.left_out.is_empty(), "{what}: {drawing:?}");
            assert_eq!(drawn, 0, "{what}: {coarsest:?}");
        }
    }
}

/// A blur over all of the drawing: 26.19 mm (99 px) at 450 ppi are 464 pixels a side. Its estimate must be neither less than
/// what is known of the library (a picture, a layer and the results of a filter) nor so much that small ones are refused.
#[test]
fn the_estimate_of_a_blur_is_that_of_its_pixels() {
    let body = "<filter id='f' x='0' y='0' width='1' height='1'><feGaussianBlur stdDeviation='2'/></filter>\
        <rect width='99' height='99' filter='url(#f)'/>";
    let drawing = opened(body);
    for view in drawing.pictured() {
        let effort = view.effort(view.place, 450.0 / 25.4);
        let side = 99.0 / 96.0 * 450.0_f64;
        assert!((effort.pixels / (side * side) - 1.0).abs() < 0.02, "{effort:?}");
        assert!((3.0..8.0).contains(&(effort.layers / effort.pixels)), "{effort:?}");
        assert!((20.0..80.0).contains(&(effort.work / effort.pixels)), "{effort:?}");
    }
}

/// Twelve blurs of 150 by 200 mm would have 113 million pixels at 450 ppi: 450 MB, without what is made of them.
#[test]
fn drawings_of_a_cover_share_what_their_effects_may_take() {
    let mut budget = EffectBudget::default();
    let (mut pixels, mut before, mut all) = (0.0, f64::INFINITY, Vec::new());
    for at in 0..12 {
        let text = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='150mm' height='200mm' viewBox='0 0 150 200'><filter id='f' x='0' y='0' \
             width='1' height='1'><feGaussianBlur stdDeviation='{}'/></filter><rect width='150' height='200' filter='url(#f)'/></svg>",
            2 + at
        );
        let drawing = open("a.svg", text.as_bytes()).expect("reads");
        let plan = drawing.plan_effects(1.0, WHOLE, &mut budget);
        let again = drawing.plan_effects(1.0, WHOLE, &mut budget);
        assert!((again.ppi - plan.ppi).abs() < 1e-9, "placed twice, it is drawn once");
        assert!(plan.ppi <= before, "{} after {before}", plan.ppi);
        before = plan.ppi;
        all.push(plan.ppi);
        if plan.left_out.is_empty() {
            pixels += 150.0 * 200.0 * (plan.ppi / 25.4).powi(2);
        }
    }
    assert!(all[0] >= 360.0 && all[4] >= 72.0 && pixels <= 40e6, "{all:?}, {pixels}");
    // One as small as a seal still finds room after two of them.
    let mut budget = EffectBudget::default();
    let blurred = |side: usize| {
        let text = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='{side}mm' height='{side}mm' viewBox='0 0 9 9'>\
             <rect width='9' height='9' style='filter:blur(1px)'/></svg>"
        );
        open("a.svg", text.as_bytes()).expect("reads")
    };
    let found = [150, 151, 20].map(|side| blurred(side).plan_effects(1.0, WHOLE, &mut budget).ppi);
    assert!(found[0] > found[1] && found[2] > 449.0, "{found:?}");
}

/// 10 m by 100 mm at 450 ppi are 177,000 pixels: drawn as 30,000, most of it would be missing.
#[test]
fn a_long_picture_has_as_many_pixels_as_a_picture_may_have() {
    let text = "<svg xmlns='http://www.w3.org/2000/svg' width='10000mm' height='100mm' viewBox='0 0 10000 100'>\
        <filter id='f' x='0' y='0' width='1' height='1'><feOffset dx='1'/></filter><rect width='10000' height='100' filter='url(#f)'/></svg>";
    let drawing = open("a.svg", text.as_bytes()).expect("reads");
    let mut seen = 0;
    for (scale, ppi) in [(0.6, 100.0), (1.0, 72.0), (1.2, 0.0)] {
        let plan = drawing.plan_effects(scale, WHOLE, &mut EffectBudget::default());
        assert_eq!((plan.ppi, plan.left_out.len()), (ppi, usize::from(ppi == 0.0)), "{scale}");
        for view in drawing.pictured() {
            if ppi > 0.0 {
                let (picture, place) = view.picture(view.place, ppi / 25.4 * scale, &kept()).expect("is drawn");
                assert!(place.x1 > 9999.0 && picture.width() <= 30_000, "{place:?}");
                let alpha = picture.alpha().map_or(255, |alpha| alpha[picture.width() as usize - 3]);
                assert!(alpha > 200, "it is there to its right end");
                seen += 1;
            }
        }
    }
    assert_eq!(seen, 2);
}

/// Of two effects the one that takes too long is left out, not both.
#[test]
fn the_heaviest_effect_is_left_out_first() {
    let text = "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='100mm' viewBox='0 0 100 100'>\
        <filter id='m'><feMorphology operator='dilate' radius='2'/></filter>\
        <rect id='light' width='5' height='5' style='filter:blur(1px)'/><rect id='heavy' width='99' height='99' filter='url(#m)'/></svg>";
    let drawing = open("a.svg", text.as_bytes()).expect("reads");
    let plan = drawing.plan_effects(8.0, WHOLE, &mut EffectBudget::default());
    let left_out = drawing.pictured().into_iter().filter(|view| plan.left_out.contains(&view.key));
    let left_out: Vec<String> = left_out.map(|view| view.name.clone()).collect();
    assert_eq!((left_out, plan.ppi), (vec!["`heavy`".to_owned()], 450.0));
}
