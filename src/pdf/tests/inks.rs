//! Every swatch on its plates, as an outside rasteriser separates them.

use super::{OnDisk, block, font, item, near, press, scene, spot, words};
use crate::ground::{Blend, Course, FillRule, Gradient, Ink, Line, Paint, Path, Point, Rect};
use crate::pdf::Surround;
use crate::scene::{Group, Item, Mark};

fn square(column: f64) -> Rect {
    Rect::new(column * 20.0, 0.0, column * 20.0 + 20.0, 20.0)
}

/// A tint of cyan under everything.
fn over_cyan(items: impl IntoIterator<Item = Item>) -> super::ReadPlates {
    let ground = block(Rect::new(0.0, 0.0, 200.0, 20.0), Ink::process(0.2, 0.0, 0.0, 0.0));
    let scene = scene(90.0, 20.0, 100.0, [ground].into_iter().chain(items).collect());
    OnDisk::new(&press(&scene, Surround::Trim)).plates(72)
}

/// A thinned group is a form with a box of its own, which must hold the tips of its lines.
#[test]
fn thinned_groups_keep_the_tips_of_their_miters() {
    let spike = |x: f64| {
        let path = Path::from_svg(&format!("M{} 90L{x} 60L{} 90", x - 2.0, x + 2.0)).expect("a path");
        let line = Line { miter_limit: 40.0, ..Line::new(4.0) };
        item(Mark::Stroke { path, line, paint: Ink::black(1.0).into() })
    };
    let thin = Group { veil: None, clip: None, opacity: 0.5, blend: Blend::Normal, items: vec![spike(60.0)] };
    let items = vec![spike(20.0), item(Mark::Group(thin))];
    let plates = OnDisk::new(&press(&scene(90.0, 20.0, 100.0, items), Surround::Trim)).plates(72);
    // The corner lies at 60, the tip 2 / sin(atan(2 / 30)) = 30 mm above it; between them the line is 2 mm wide.
    near([plates.at("Black", 20.0, 45.0), plates.at("Black", 60.0, 45.0)], [255, 128]);
}

#[test]
fn swatches_knock_out_or_overprint() {
    let orange = spot("Warm orange", [0.0, 0.5, 0.9, 0.0], false);
    let varnish = spot("Spot varnish", [0.0, 0.0, 0.0, 0.1], true);
    let plates = over_cyan([
        block(square(0.0), Ink::process(0.0, 0.4, 0.6, 0.1)),
        block(square(1.0), Ink::black(1.0).overprinting()),
        block(square(2.0), Ink::black(1.0)),
        block(square(3.0), Ink::spot(orange.clone(), 1.0)),
        block(square(4.0), Ink::spot(orange.clone(), 0.35)),
        block(square(5.0), Ink::spot(orange, 1.0).overprinting()),
        block(square(6.0), Ink::spot(varnish, 1.0)),
        block(square(7.0), Ink::PAPER.overprinting()),
    ]);
    assert_eq!(plates.spots(), ["Spot varnish", "Warm orange"]);
    let process = |column: f64| plates.process(column * 20.0 + 10.0, 10.0);
    let orange = |column: f64| [plates.at("Warm orange", column * 20.0 + 10.0, 10.0)];
    near(process(0.0), [0, 102, 153, 26]);
    near(process(1.0), [51, 0, 0, 255]);
    near(process(2.0), [0, 0, 0, 255]);
    near(process(3.0), [0, 0, 0, 0]);
    near(orange(3.0), [255]);
    near(orange(4.0), [89]);
    near(process(5.0), [51, 0, 0, 0]);
    near(orange(5.0), [255]);
    near(process(6.0), [51, 0, 0, 0]);
    near([plates.at("Spot varnish", 130.0, 10.0)], [255]);
    near(process(7.0), [0, 0, 0, 0]);
}

fn across(column: f64, stops: Vec<(f64, Ink)>) -> Item {
    let (from, to) = (Point::new(column * 20.0, 0.0), Point::new(column * 20.0 + 20.0, 0.0));
    block(square(column), Paint::Gradient(Gradient { course: Course::Linear { from, to }, stops }))
}

#[test]
fn gradients_run_on_their_plates() {
    let orange = spot("Warm orange", [0.0, 0.5, 0.9, 0.0], false);
    let half = |column: f64| (column * 20.0 + 10.0, 10.0);
    let around = |centre: Point| Course::Radial { centre, radius: 10.0 };
    let stops = vec![(0.0, Ink::black(1.0)), (1.0, Ink::PAPER)];
    let plates = over_cyan([
        across(0.0, vec![(0.0, Ink::process(1.0, 0.0, 0.0, 0.0)), (1.0, Ink::process(0.0, 0.5, 0.0, 0.0))]),
        across(1.0, vec![(0.0, Ink::spot(orange.clone(), 0.0)), (1.0, Ink::spot(orange.clone(), 1.0))]),
        across(2.0, vec![(0.0, Ink::spot(orange, 1.0)), (1.0, Ink::process(0.0, 1.0, 0.0, 0.0))]),
        across(3.0, vec![(0.0, Ink::black(1.0).overprinting()), (1.0, Ink::black(0.2).overprinting())]),
        across(4.0, vec![(0.5, Ink::black(0.2)), (0.5, Ink::black(0.8))]),
        across(5.0, vec![(0.3, Ink::black(0.4))]),
        block(square(6.0), Paint::Gradient(Gradient { course: around(Point::new(130.0, 10.0)), stops })),
    ]);
    // A step of a run 57 pixels wide is more than 1/255: half a pixel off is allowed for.
    let like = |found: i32, wanted: i32| assert!((found - wanted).abs() <= 4, "found {found}, wanted {wanted}");
    let at = |plate: &str, (x, y): (f64, f64)| plates.at(plate, x, y);
    like(at("Cyan", half(0.0)), 128);
    like(at("Magenta", half(0.0)), 64);
    like(at("Warm orange", half(1.0)), 128);
    like(at("Cyan", half(1.0)), 0);
    like(at("Warm orange", half(2.0)), 128);
    like(at("Magenta", half(2.0)), 128);
    like(at("Cyan", half(2.0)), 0);
    like(at("Black", half(3.0)), 153);
    like(at("Cyan", half(3.0)), 51);
    like(at("Black", (85.0, 10.0)), 51);
    like(at("Black", (95.0, 10.0)), 204);
    like(at("Black", half(5.0)), 102);
    like(at("Black", (125.0, 10.0)), 128);
    like(at("Cyan", (125.0, 10.0)), 0);
}

#[test]
fn lines_and_letters_take_gradients_too() {
    let run = |column: f64| {
        let (from, to) = (Point::new(column * 20.0, 0.0), Point::new(column * 20.0 + 20.0, 0.0));
        let stops = vec![(0.0, Ink::black(1.0).overprinting()), (1.0, Ink::black(0.2).overprinting())];
        Paint::Gradient(Gradient { course: Course::Linear { from, to }, stops })
    };
    let mut path = Path::new();
    path.move_to((0.0, 10.0));
    path.line_to((20.0, 10.0));
    // A stem in the middle of the second square.
    let inter = font("Inter", 900, false);
    let bounds = inter.glyph('I').and_then(|glyph| inter.glyph_bounds(glyph)).expect("a drawn letter");
    let size = 16.0;
    let mut letter = words(&inter, size, Point::new(30.0 - bounds.center().x * size, 17.0), "I");
    letter.paint = run(1.0);
    let plates = over_cyan([
        item(Mark::Stroke { path, line: Line::new(4.0), paint: run(0.0) }),
        item(Mark::Glyphs(letter)),
        block(square(2.0), Ink::process(0.0, 1.0, 0.0, 0.0)),
    ]);
    for x in [10.0, 30.0] {
        let found = plates.process(x, 10.0);
        assert!((found[3] - 153).abs() <= 4 && found[0] == 51, "{found:?} at {x}");
    }
    near(plates.process(10.0, 15.0), [51, 0, 0, 0]);
    // The clip and the pattern end with what they belong to.
    near(plates.process(50.0, 10.0), [0, 255, 0, 0]);
}

#[test]
fn groups_mix_ink_with_ink() {
    let group = |column: f64, opacity, blend, ink| {
        item(Mark::Group(Group { veil: None, clip: None, opacity, blend, items: vec![block(square(column), ink)] }))
    };
    let orange = spot("Warm orange", [0.0, 0.5, 0.9, 0.0], false);
    let varnish = spot("Spot varnish", [0.0, 0.0, 0.0, 0.1], true);
    let plates = over_cyan([
        group(0.0, 0.5, Blend::Normal, Ink::process(0.0, 0.8, 0.0, 0.0)),
        group(1.0, 1.0, Blend::Multiply, Ink::process(0.5, 0.8, 0.0, 0.0)),
        group(2.0, 0.5, Blend::Normal, Ink::spot(orange, 1.0)),
        item(Mark::Group(Group::cut(
            (crate::ground::rect_path(square(3.0)), FillRule::NonZero),
            vec![block(square(3.5), Ink::black(1.0))],
        ))),
        group(6.0, 0.5, Blend::Normal, Ink::black(1.0).overprinting()),
        group(7.0, 0.5, Blend::Normal, Ink::spot(varnish, 1.0)),
    ]);
    near(plates.process(10.0, 10.0), [26, 102, 0, 0]);
    // Multiplied light: 1 − (1 − 0.2)(1 − 0.5) = 0.6.
    near(plates.process(30.0, 10.0), [153, 204, 0, 0]);
    near([plates.at("Warm orange", 50.0, 10.0), plates.at("Cyan", 50.0, 10.0)], [128, 26]);
    near(plates.process(65.0, 10.0), [51, 0, 0, 0]);
    near(plates.process(75.0, 10.0), [0, 0, 0, 255]);
    near(plates.process(85.0, 10.0), [51, 0, 0, 0]);
    // What overprints goes on doing so when it is thinned.
    near(plates.process(130.0, 10.0), [51, 0, 0, 128]);
    near(plates.process(150.0, 10.0), [51, 0, 0, 0]);
    near([plates.at("Spot varnish", 150.0, 10.0)], [128]);
}
