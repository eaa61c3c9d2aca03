//! A foil, varnish or embossing with lines or gaps too fine for it.
//!
//! The finisher's block presses a film or a relief onto the sheet, or a varnish flows from a screen. A line thinner than it
//! holds comes out broken, and a gap thinner than it keeps open fills in: the eyes of letters close, neighbours join.
//!
//! - a line, a stem of a letter or a part of a drawing under 0.3 mm: warning.
//! - a gap under 0.3 mm between two parts of one finish, whether of one element or of two: warning.
//!
//! Both are common practice, 0.3 to 0.5 mm. They are measured on the drawn plate, without what other elements take out of
//! it, to a twentieth of a millimetre, where such a part is a millimetre long or more. Corners come to a point, however
//! acute, and that is fine. A tint, which `finishing-plate` reports, counts as full. A die line and a white underprint are not
//! looked at.
//!
//! ```kdl
//! swatches { spot gold ink="Gold foil" c=20 m=30 y=70 finishing=foil; }
//! panel front {
//!     band one { swatch gold; left 30; width 20; top 40; height 6 }
//!     band two { swatch gold; left 30; width 20; top 46.2; height 6 }
//! }
//! ```
//!
//! Way out: more room between them; a larger size or a bolder face; heavier lines.

use crate::check::exam::{Exam, outlines};
use crate::check::fine_parts::fine_parts;
use crate::check::full_plate::in_full;
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::proof::{DrawnElements, OUTLINE, Patience};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::under::overlap;
use crate::check::visible::VisibleMark;
use crate::ground::{Colour, Finish, MM_PER_INCH, Rect, Severity, Spot};
use crate::raster::plates;
use crate::scene::{Item, Media, Scene};
use std::collections::BTreeMap;
use std::sync::Arc;

pub const RULE: CheckRule = CheckRule {
    name: "finishing-detail",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[LINE, GAP],
    source: include_str!("finishing_detail.rs"),
    run,
};

const LINE: RuleLimit = in_mm("line", "thinner lines of a finish are a warning", "0.3", PRACTICE);
const GAP: RuleLimit = in_mm("gap", "narrower gaps in a finish are a warning", "0.3", PRACTICE);

/// A limit has so many pixels, and a pixel so many millimetres at the least and the most.
const PIXELS: f64 = 6.0;
const PIXEL: (f64, f64) = (0.02, 0.1);
/// Millimetres from which a fine part counts.
const LONG: f64 = 1.0;
/// The sheet is looked at in squares of so many millimetres, which lap over each other by a part's length.
const SQUARE: f64 = 40.0;
const LAP: f64 = 2.0;

/// What is looked for.
#[derive(Clone, Copy)]
struct FineLimits {
    line: f64,
    gap: f64,
    /// Millimetres of a pixel.
    pixel: f64,
}

/// An element by its place, and whether it is a gap: the narrowest part, and where.
type Narrowest = BTreeMap<(usize, bool), (f64, Rect)>;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let (line, gap) = (findings.limit(&LINE), findings.limit(&GAP));
    let pixel = (line.min(gap) / PIXELS).clamp(PIXEL.0, PIXEL.1);
    let (measure, mut patience) = (FineLimits { line, gap, pixel }, Patience::default());
    for spot in exam.scene.spots().into_iter().filter(|spot| is_looked_at(spot)) {
        let mut found = Narrowest::new();
        let whole = look(exam, &spot, measure, &mut found, &mut patience);
        for ((element, is_gap), (across, place)) in found {
            let element = &exam.elements[element];
            let finish =
                Finish::WORDS.iter().find(|(_, finish)| Some(*finish) == spot.finish).map_or("finish", |of| of.0);
            let (limit, message, help) = if is_gap {
                let message =
                    format!("the {finish} of {} leaves a gap of about {}, which fills in", element.name(), mm(across));
                (GAP, message, format!("leave {} open: more room, or a larger size", mm(gap)))
            } else {
                let message = format!(
                    "the {finish} of {} has parts only about {} wide, which may not come out",
                    element.name(),
                    mm(across)
                );
                (LINE, message, format!("make it {} or more: heavier lines, a bolder face, or a larger size", mm(line)))
            };
            findings.place(Severity::Warning, element.origin.span, place, message, help);
            findings.measured(across, &limit);
        }
        if !whole {
            let message = format!("not all of the plate {:?} was looked at: {}", spot.name, Patience::LIMIT);
            findings.fact(Severity::Note, exam.facts().press.span, message, "compare its lines and gaps yourself");
        }
    }
}

fn is_looked_at(spot: &Spot) -> bool {
    spot.finish.is_some_and(|finish| !matches!(finish, Finish::DieLine | Finish::White))
}

/// Square by square. Whether all of them were looked at.
fn look(
    exam: &Exam<'_>,
    spot: &Arc<Spot>,
    measure: FineLimits,
    found: &mut Narrowest,
    patience: &mut Patience,
) -> bool {
    let all = exam.elements.iter().enumerate();
    let all = all.flat_map(|(at, element)| element.marks.iter().map(move |mark| (at, mark)));
    // What lies under the plate takes nothing from it.
    let marks: Vec<(usize, &VisibleMark<'_>)> = all.skip_while(|(_, mark)| !is_of(mark.item, spot)).collect();
    let own: Vec<_> = marks.iter().filter(|(_, mark)| is_of(mark.item, spot)).collect();
    let bleed = exam.sheet().bleed;
    let count = |length: f64| (length / SQUARE).ceil().max(1.0) as usize;
    let squares = (0..count(bleed.height())).flat_map(|row| (0..count(bleed.width())).map(move |column| (column, row)));
    for (column, row) in squares {
        let (x, y) = (bleed.x0 + column as f64 * SQUARE, bleed.y0 + row as f64 * SQUARE);
        let square = Rect::new(x - LAP, y - LAP, x + SQUARE + LAP, y + SQUARE + LAP).intersect(bleed);
        let there: Vec<_> = own.iter().filter(|(_, mark)| overlap(mark.bounds, square)).collect();
        if there.is_empty() {
            continue;
        }
        let drawn = marks.iter().filter(|(_, mark)| overlap(mark.bounds, square));
        let outlines = drawn.map(|(_, mark)| outlines(mark.item));
        if !patience.spend(square.area() / (measure.pixel * measure.pixel) + OUTLINE * outlines.sum::<usize>() as f64) {
            return false;
        }
        for (is_gap, across, place) in parts(&upwards(exam, square, spot), spot, square, measure, exam) {
            let near = place.inflate(measure.pixel * 2.0, measure.pixel * 2.0);
            // Of those that reach there the one that holds most of it; of equal ones the topmost.
            let tenths =
                |mark: &VisibleMark<'_>| (near.intersect(mark.bounds).area() / near.area() * 10.0).round() as usize;
            let reaching = there.iter().filter(|(_, mark)| overlap(mark.bounds, near));
            let Some((element, _)) = reaching.max_by_key(|entry| tenths(entry.1)) else { continue };
            let narrowest = found.entry((*element, is_gap)).or_insert((across, place));
            if across < narrowest.0 {
                *narrowest = (across, place);
            }
        }
    }
    true
}

/// The fine parts of a square, in millimetres.
fn parts(
    scene: &Scene,
    spot: &Spot,
    square: Rect,
    FineLimits { line, gap, pixel }: FineLimits,
    exam: &Exam<'_>,
) -> Vec<(bool, f64, Rect)> {
    const HALF: u8 = 128;
    let drawn = plates(scene, square, MM_PER_INCH / pixel, exam.darkroom);
    let Some((_, plane)) = drawn.spots.iter().find(|(own, _)| own.name == spot.name) else { return Vec::new() };
    let on: Vec<bool> = plane.iter().map(|ink| *ink >= HALF).collect();
    // What falls short by less than a pixel may be right.
    let narrow = line.max(gap) / pixel - 1.0;
    let all = fine_parts(&on, drawn.width, narrow, LONG / pixel).into_iter().map(|part| {
        let [x0, y0, x1, y1] = part.place.map(|pixels| pixels as f64 * pixel);
        let place = Rect::new(square.x0 + x0, square.y0 + y0, square.x0 + x1, square.y0 + y1);
        (part.is_gap, part.across * pixel, place)
    });
    all.filter(|(is_gap, across, _)| *across < if *is_gap { gap } else { line } - pixel).collect()
}

fn is_of(item: &Item, spot: &Spot) -> bool {
    let mut found = false;
    item.inks(&mut |ink| found |= matches!(&ink.colour, Colour::Spot(own, _) if own.name == spot.name));
    found
}

/// All that is drawn in a square from the first mark of a plate upwards.
fn upwards(exam: &Exam<'_>, square: Rect, spot: &Spot) -> Scene {
    let mut scene = exam.near(square, DrawnElements::All);
    let first = scene.items.iter().position(|item| is_of(item, spot)).unwrap_or(0);
    scene.items.drain(..first);
    scene.items.iter_mut().for_each(|item| in_full(item, spot));
    scene
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn said(marks: &str) -> Vec<String> {
        let cover = format!(
            "swatches {{ spot gold ink=\"Gold foil\" c=20 m=30 y=70 finishing=foil; spot gloss ink=\"Gloss\" k=10 finishing=varnish; \
             spot cut ink=\"Cut\" m=100 finishing=die-line }}
            type {{ style fine {{ font \"Alegreya\"; size 8; swatch gold }}; style large {{ font \"Alegreya\" weight=black; size 60; swatch gold }} }}
            panel front {{ {marks} }}"
        );
        reported(&RULE, &cover).into_iter().map(|finding| finding.message).collect()
    }

    #[test]
    fn bars_too_near_and_lines_too_thin() {
        let stated = example(&RULE);
        assert_eq!(stated.len(), 1, "{stated:?}");
        assert!(stated[0].message.starts_with("the foil of `two` leaves a gap of about 0.2 mm"), "{stated:?}");
        let line = |weight: f64, ink: &str| {
            said(&format!("rule a {{ swatch {ink}; weight {weight}; left 30; width 40; top 60 }}"))
        };
        // 0.3 mm are 0.85 pt.
        assert_eq!(line(0.5, "gold"), ["the foil of `a` has parts only about 0.2 mm wide, which may not come out"]);
        assert_eq!(line(0.5, "gloss").len(), 1);
        assert_eq!(line(0.86, "gold"), Vec::<String>::new());
        assert_eq!(line(0.3, "cut"), Vec::<String>::new());
        // In a tint and thinned it is as thin.
        for tint in ["gold percent=40", "gold; opacity 30"] {
            assert_eq!(line(0.5, tint).len(), 1, "{tint}");
            assert_eq!(line(0.86, tint), Vec::<String>::new(), "{tint}");
        }
    }

    #[test]
    fn small_letters_close_up_and_large_ones_stay_open() {
        assert!(!said("text a words=\"Salt and Lanterns\" style=fine { left 30; width 80; top 60 }").is_empty());
        assert_eq!(said("text a words=\"SALT\" style=large { left 10; width 110; top 60 }"), Vec::<String>::new());
    }

    /// What lies on a finish takes it away, unless it overprints.
    #[test]
    fn what_lies_on_it_counts() {
        let band = |name: &str, ink: &str, top: f64, height: f64| {
            format!("band {name} {{ swatch {ink}; left 30; width 20; top {top}; height {height} }}\n")
        };
        let foil = band("one", "gold", 40.0, 6.0);
        let gap = "the foil of `one` leaves a gap of about 0.1 mm, which fills in";
        for ink in ["unprinted", "black overprint=#false"] {
            assert_eq!(said(&(foil.clone() + &band("two", ink, 43.0, 0.1))), [gap], "{ink}");
        }
        // So narrow, black overprints of itself.
        assert_eq!(said(&(foil.clone() + &band("two", "black", 43.0, 0.1))), Vec::<String>::new());
        assert_eq!(said(&(foil.clone() + &band("two", "unprinted", 43.0, 0.5))), Vec::<String>::new());
        assert_eq!(
            said(&(band("two", "unprinted", 43.0, 0.1) + &foil)),
            Vec::<String>::new(),
            "it lies under the foil"
        );
        let thin = "the foil of `one` has parts only about 0.1 mm wide, which may not come out";
        assert_eq!(said(&(foil.clone() + &band("two", "black", 40.1, 8.0))), [thin], "what is left of it");
        let line = "rule a { swatch gold; weight 0.5; left 30; width 20; top 60 }\n";
        assert_eq!(
            said(&(line.to_owned() + &band("two", "black", 58.0, 4.0))),
            Vec::<String>::new(),
            "nothing is left"
        );
        assert_eq!(said(&(line.to_owned() + &band("two", "\"black\" overprint=#true", 58.0, 4.0))).len(), 1);
        // A varnish on it takes nothing away; black letters and lines overprint by themselves.
        let glossy = said(&(foil.clone() + &band("two", "gloss", 43.0, 0.1)));
        assert!(glossy.iter().all(|said| said.starts_with("the varnish of `two`")), "{glossy:?}");
        assert_eq!(
            said(&(foil + "rule b { swatch black; weight 0.3; left 30; width 20; top 43 }")),
            Vec::<String>::new()
        );
    }

    #[test]
    fn a_thin_part_is_of_the_element_that_holds_it() {
        let hair = "band hair { swatch gold; left 50; width 0.18; top 20; height 70 }\n";
        let broad = "band broad { swatch gold; left 30; width 20; top 40; height 10 }";
        assert_eq!(
            said(&(hair.to_owned() + broad)),
            ["the foil of `hair` has parts only about 0.2 mm wide, which may not come out"]
        );
    }

    #[test]
    fn right_designs_pass() {
        let bands = |gap: f64, other: &str| {
            said(&format!(
                "band one {{ swatch gold; left 30; width 20; top 40; height 6 }}
                 band two {{ swatch {other}; left 30; width 20; top {}; height 6 }}",
                46.0 + gap
            ))
        };
        assert_eq!(bands(0.3, "gold"), Vec::<String>::new(), "just as much as is asked");
        assert_eq!(bands(0.0, "gold"), Vec::<String>::new(), "one shape of two");
        assert_eq!(bands(0.1, "gloss"), Vec::<String>::new(), "two plates");
        assert_eq!(said("oval a { swatch gold; left 30; width 1; top 40; height 1 }"), Vec::<String>::new());
        // A star comes to points.
        let star = "path a data=\"M50 0 L61 35 L98 35 L68 57 L79 91 L50 70 L21 91 L32 57 L2 35 L39 35 Z\" { swatch gold; left 30; width 30; top 40; height 30 }";
        assert_eq!(said(star), Vec::<String>::new());
    }
}
