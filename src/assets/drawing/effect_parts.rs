//! Parts of effects: where a frame shows some of a drawing, that is drawn, as it is in the whole and more finely.

use super::*;
use crate::assets::Picture;
use crate::assets::drawing::effects::{WHOLE, kept, sized};
use crate::ground::{Point, Rect};

/// What shows of an effect is drawn, pixel by pixel as in the whole, and takes what it takes alone.
#[test]
fn a_part_has_the_pixels_of_the_whole() {
    let filter = |inside: &str| format!("<filter id='f' x='-.2' y='-.2' width='1.4' height='1.4'>{inside}</filter>");
    let shapes = "<rect x='60' y='60' width='280' height='280' rx='90' fill='#d62828'/>\
        <path d='M80 90L330 300L100 320Z' fill='#1d3557' fill-opacity='.7'/>";
    let drawn = |inside: &str| format!("{}<g filter='url(#f)'>{shapes}</g>", filter(inside));
    for (what, body, far) in [
        ("blur", drawn("<feGaussianBlur stdDeviation='3'/>"), false),
        ("shadow", drawn("<feDropShadow dx='9' dy='-7' stdDeviation='4'/>"), false),
        ("brush", drawn("<feMorphology radius='3'/><feOffset dx='5'/>"), false),
        ("blur of a group", drawn("<feGaussianBlur stdDeviation='3'/>").replace("fill-opacity", "opacity"), true),
        ("wide blur", drawn("<feGaussianBlur stdDeviation='60'/>"), true),
        (
            "noise",
            drawn("<feTurbulence baseFrequency='.05' numOctaves='3'/><feComposite in2='SourceGraphic' operator='in'/>"),
            true,
        ),
        ("tile", drawn("<feOffset x='150' y='150' width='30' height='30'/><feTile/>"), true),
        (
            "turned blur",
            format!("<g transform='rotate(30 200 200)'>{}</g>", drawn("<feGaussianBlur stdDeviation='3'/>")),
            false,
        ),
        (
            "screen",
            format!(
                "<g opacity='.9'>{shapes}<circle cx='200' cy='200' r='99' fill='#2a9d8f' style='mix-blend-mode:screen'/></g>"
            ),
            true,
        ),
        (
            "blur in a mask",
            format!(
                "<mask id='m'><circle cx='200' cy='200' r='120' fill='#fff' filter='blur(9px)'/></mask><g mask='url(#m)'>{}</g>",
                drawn("<feGaussianBlur stdDeviation='2'/>")
            ),
            true,
        ),
    ] {
        let drawing = sized("400", "400", &body);
        for view in drawing.pictured() {
            let (whole, around) = view.picture(view.place, 6.0, &kept()).expect("it is drawn");
            for shown in [
                Rect::new(38.0, 41.0, 52.0, 56.0),
                Rect::new(-9.0, 60.3, 31.0, 71.0),
                Rect::new(70.0, 20.0, 75.0, 99.0),
            ] {
                let part = view.part(shown).expect("it shows");
                let least = view.place.intersect(shown);
                assert!(part.contains_rect(least) && (far || part == least), "{what}: {part:?}");
                // A third of its width and height.
                let pixels = [part.union(least), view.place].map(|part| view.effort(part, 6.0).pixels);
                assert!(pixels[0] < pixels[1] / 4.0 || shown.area() > 250.0, "{what}: {pixels:?}");
                let (picture, place) = view.picture(part, 6.0, &kept()).expect("it is drawn");
                let corner = [place.x0 - around.x0, place.y0 - around.y0].map(|side| side * 6.0);
                assert!(corner.iter().all(|side| (side - side.round()).abs() < 1e-6), "{what}: {corner:?}");
                let [left, top] = corner.map(|side| side.round() as usize);
                let off = furthest(&picture, &whole, (left, top), least, place);
                // An outline is stepped along again where a picture cuts it (of a hundred pixels at its edge, one is off by 25), and
                // what is turned is mixed from pixels of another grid (by 4 at the most, 0.26 on average); measured.
                assert!(off.0 <= 32 && off.1 < 0.5, "{what}, {shown:?}: {off:?} of 255");
            }
        }
    }
}

/// How far the samples of a part are from those of the whole where it shows, light on black: at the most, and on average.
fn furthest(part: &Picture, whole: &Picture, (left, top): (usize, usize), shown: Rect, place: Rect) -> (u8, f64) {
    let at = |picture: &Picture, x: usize, y: usize, channel: usize| {
        let pixel = y * picture.width() as usize + x;
        let alpha = picture.alpha().map_or(255, |alpha| alpha[pixel]);
        let sample = picture.pixels().samples[pixel * 3 + channel];
        (u32::from(sample) * u32::from(alpha) / 255) as u8
    };
    let (mut most, mut sum, mut count) = (0, 0.0, 0.0);
    for y in 0..part.height() as usize {
        for x in 0..part.width() as usize {
            let middle = Point::new(place.x0 + (x as f64 + 0.5) / 6.0, place.y0 + (y as f64 + 0.5) / 6.0);
            let alike = |channel| at(part, x, y, channel).abs_diff(at(whole, x + left, y + top, channel));
            if shown.contains(middle) {
                let off = (0..3).map(alike).fold(0, u8::max);
                (most, sum, count) = (off.max(most), sum + f64::from(off), count + 1.0);
            }
        }
    }
    (most, sum / count)
}

/// 600 by 900 mm at 450 ppi are 169 million pixels; a hundredth of it has room at a finer resolution than all of it.
#[test]
fn what_shows_of_a_large_drawing_is_drawn_more_finely() {
    let text = "<svg xmlns='http://www.w3.org/2000/svg' width='600mm' height='900mm' viewBox='0 0 600 900'>\
        <filter id='f' x='0' y='0' width='1' height='1'><feGaussianBlur stdDeviation='2'/></filter><rect width='600' height='900' filter='url(#f)'/></svg>";
    let drawing = open("a.svg", text.as_bytes()).expect("reads");
    let ppi = |shown: Rect| drawing.plan_effects(1.0, shown, &mut EffectBudget::default()).ppi;
    let (whole, part) = (ppi(WHOLE), ppi(Rect::new(200.0, 300.0, 260.0, 390.0)));
    assert!(whole <= 220.0 && part >= 220.0 && part > whole, "{whole} {part}");
    // A brush that is too heavy for the whole, even coarsely, is drawn where a frame shows little of it.
    let brush = text.replace("<feGaussianBlur stdDeviation='2'/>", "<feMorphology operator='dilate' radius='2'/>");
    let drawing = open("a.svg", brush.as_bytes()).expect("reads");
    let plan = |shown: Rect| drawing.plan_effects(1.0, shown, &mut EffectBudget::default());
    let (whole, part) = (plan(WHOLE), plan(Rect::new(200.0, 300.0, 260.0, 340.0)));
    assert_eq!((whole.left_out.len(), part.left_out.len()), (1, 0), "{}", part.ppi);
    assert!(part.ppi >= 72.0 && drawing.left_out.is_empty(), "{} {:?}", part.ppi, drawing.left_out);
    // What does not show takes nothing.
    assert!(ppi(Rect::new(700.0, 0.0, 800.0, 9.0)) < 1.0);
}
