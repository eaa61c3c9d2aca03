//! Drawings read back by what they must cover, and files that would do harm.

use super::*;
use crate::ground::{Course, FillRule, Path, Point, Shape};

const TOLERANCE: f64 = 1e-4;

#[test]
fn pixels_become_millimetres() {
    // CSS 2.1, 4.3.2: 96 px are an inch; 10 mm wide over 20 units is half a millimetre a unit.
    let drawing = svg("width='10mm' height='5mm' viewBox='0 0 20 10'", "<rect x='2' y='4' width='6' height='2'/>");
    assert!((drawing.width - 10.0).abs() < TOLERANCE && (drawing.height - 5.0).abs() < TOLERANCE);
    let [DrawingPart::Fill { path, colour, .. }] = &drawing.parts[..] else { panic!("{:?}", drawing.parts) };
    boxed(path, [1.0, 2.0, 4.0, 3.0]);
    assert_eq!(*colour, Tint { rgb: [0, 0, 0], opacity: 1.0 });
    assert!((svg("width='96' height='192'", RECT).height - 50.8).abs() < TOLERANCE);
}

#[test]
fn opacity_stays_where_it_was_stated() {
    let body = "<g opacity='.5' style='mix-blend-mode:multiply'><rect width='9' height='9' fill='#204060' fill-opacity='.25'/>\
                <rect width='9' height='9' fill='red'/></g>";
    let drawing = svg(SIZE, body);
    let [DrawingPart::Group { clip: None, opacity, multiply: true, parts: nodes }] = &drawing.parts[..] else {
        panic!()
    };
    assert!((opacity - 0.5).abs() < TOLERANCE);
    let [DrawingPart::Fill { colour, .. }, DrawingPart::Fill { .. }] = &nodes[..] else { panic!() };
    assert_eq!(colour.rgb, [0x20, 0x40, 0x60]);
    assert!((colour.opacity - 0.25).abs() < TOLERANCE);
}

#[test]
fn lines_scale_with_their_transform_or_become_shapes() {
    let line = "stroke='blue' fill='none' stroke-width='2' stroke-dasharray='4 1' stroke-linecap='round' d='M9 9H20'";
    let even = svg(SIZE, &format!("<path transform='scale(3)' {line}/>"));
    let [DrawingPart::Stroke { line: drawn, colour, .. }] = &even.parts[..] else { panic!("{:?}", even.parts) };
    let px = 25.4 / 96.0;
    assert!((drawn.width - 6.0 * px).abs() < TOLERANCE && (drawn.dashes[0] - 12.0 * px).abs() < TOLERANCE);
    assert_eq!((drawn.cap, colour.rgb), (crate::ground::Cap::Round, [0, 0, 255]));

    // Two units wide, drawn twice as high as wide: four pixels from edge to edge.
    let askew = svg(SIZE, "<path transform='scale(1 2)' fill='none' stroke='blue' stroke-width='2' d='M10 10H20'/>");
    let [DrawingPart::Fill { path, .. }] = &askew.parts[..] else { panic!("{:?}", askew.parts) };
    boxed(path, [10.0 * px, 18.0 * px, 20.0 * px, 22.0 * px]);
}

#[test]
fn clips_nest_turn_and_unite() {
    let defs = "<defs><clipPath id='outer'><rect x='10' width='80' height='100'/></clipPath>\
        <clipPath id='two' clip-path='url(#outer)' transform='translate(5)'>\
        <rect width='30' height='20'/><path d='M20 0V20H60V0Z'/>\
        <path clip-rule='evenodd' d='M0 40H60V80H0ZM20 50H40V70H20Z'/></clipPath></defs>";
    let drawing = svg(SIZE, &format!("{defs}<g transform='scale(.5)' clip-path='url(#two)'>{RECT}</g>"));
    let px = 25.4 / 96.0;
    let covered = |x: f64, y: f64| covers(&drawing.parts, Point::new(x * 0.5 * px, y * 0.5 * px));
    assert!(covered(15.0, 10.0), "the first shape");
    assert!(covered(30.0, 10.0), "where two shapes, wound against each other, overlap");
    assert!(covered(60.0, 10.0), "the second shape");
    assert!(!covered(7.0, 10.0), "outside the outer clip");
    assert!(covered(15.0, 60.0) && !covered(35.0, 60.0), "the third shape has a hole");
    assert!(!covered(20.0, 30.0), "between them");
    assert!(drawing.left_out.is_empty());
}

#[test]
fn an_empty_clip_leaves_nothing() {
    let other = "<rect x='50' width='9' height='9'/>";
    let drawing = svg(SIZE, &format!("<clipPath id='none'/><g clip-path='url(#none)'>{RECT}</g>{other}"));
    assert!(!covers(&drawing.parts, Point::new(1.0, 1.0)) && covers(&drawing.parts, Point::new(14.0, 1.0)));
}

#[test]
fn what_is_used_is_drawn_where_it_is_used() {
    let body = "<defs><rect id='r' width='4' height='4'/></defs><use href='#r' x='10'/><use href='#r' x='20' y='5'/>";
    let drawing = svg(SIZE, body);
    let px = 25.4 / 96.0;
    assert!(covers(&drawing.parts, Point::new(12.0 * px, 2.0 * px)));
    assert!(covers(&drawing.parts, Point::new(22.0 * px, 7.0 * px)));
    assert!(!covers(&drawing.parts, Point::new(2.0 * px, 2.0 * px)));
}

#[test]
fn gradients_follow_their_transform() {
    // The lines of equal colour, upright at first, lean after the skew; the course stands square on them: half of the
    // run of 96 px at 45 degrees.
    let body = "<linearGradient id='g' gradientUnits='userSpaceOnUse' x1='0' y1='0' x2='96' y2='0' \
        gradientTransform='matrix(1 0 1 1 0 0)'><stop stop-color='#000'/><stop offset='1' stop-color='#f00'/>\
        </linearGradient><rect width='96' height='96' fill='url(#g)' fill-opacity='.5'/>";
    let drawing = svg(SIZE, body);
    let [DrawingPart::Wash { course: Course::Linear { from, to }, stops, opacity, .. }] = &drawing.parts[..] else {
        panic!()
    };
    assert!(from.distance(Point::ZERO) < TOLERANCE && to.distance(Point::new(12.7, -12.7)) < TOLERANCE, "{to:?}");
    assert!((opacity - 0.5).abs() < TOLERANCE);
    assert_eq!(stops, &[(0.0, [0; 3]), (1.0, [255, 0, 0])]);
}

/// CSS Cascading and Inheritance 3, section 6: important before usual; then `style` before style sheets, the more
/// particular selector before the less, the later before the earlier.
#[test]
fn what_is_important_goes_before_what_is_not() {
    for (sheet, attributes, wanted) in [
        ("rect{fill:red}", "id='a' style='fill:blue'", [0, 0, 255]),
        ("rect{fill:red!important} #a{fill:blue}", "id='a'", [255, 0, 0]),
        (".k{fill:red !important}", "class='k' style='fill:blue'", [255, 0, 0]),
        ("rect{fill:red ! important} rect{fill:blue}", "fill='lime'", [255, 0, 0]),
        ("rect{fill:red !important} rect{fill:blue !important}", "", [0, 0, 255]),
        ("#a{fill:red !important} rect{fill:blue !important}", "id='a'", [255, 0, 0]),
        ("rect{fill:red !important}", "style='fill:blue !important'", [0, 0, 255]),
        ("rect{fill:red !important}", "style=\"stroke:none;fill:blue !important\"", [0, 0, 255]),
        ("rect{fill:red !important}", "style='' fill='blue'", [255, 0, 0]),
        ("g{fill:red !important}", "fill='blue'", [0, 0, 255]),
        ("/* rect{fill:red !important} */ rect{fill:blue}", "", [0, 0, 255]),
    ] {
        let body = format!("<style>{sheet}</style><g><rect width='9' height='9' {attributes}/></g>");
        let drawing = svg(SIZE, &body);
        let [DrawingPart::Fill { colour, .. }] = &drawing.parts[..] else { panic!("{sheet}: {:?}", drawing.parts) };
        assert_eq!(colour.rgb, wanted, "{sheet} {attributes}");
    }
}

#[test]
fn what_is_not_drawn_is_named() {
    let body = "<image href='/etc/hostname' width='5' height='5'/><rect width='9' height='9'/>";
    assert_eq!(svg(SIZE, body).left_out, ["a picture that lies elsewhere (/etc/hostname)"]);
}

/// SVG 2 and CSS Masking 1 know all of these; a drawing that has them prints otherwise than it says.
#[test]
fn what_the_reader_passes_over_is_named() {
    let rect = |more: &str| svg(SIZE, &format!("{RECT}<rect width='9' height='9' {more}/>")).left_out;
    for (more, named) in [
        ("clip-path='circle(40%)'", "a clip by a CSS shape"),
        ("style='clip-path:inset(5px)'", "a clip by a CSS shape"),
        ("stroke='red' vector-effect='non-scaling-stroke'", "lines that do not scale (`vector-effect`)"),
        ("fill='var(--gold)'", "a `var()` of CSS"),
        ("fill='red' opacity='var(--o)'", "a `var()` of CSS"),
        ("style='stroke:red;stroke-width:calc(2px + 1px)'", "a `calc()` of CSS"),
        ("rx='calc(1px + 1px)'", "a `calc()` of CSS"),
        ("clip-path='var(--c)'", "a `var()` of CSS"),
        ("fill='url(more.svg#a)'", "what lies in another file"),
        ("style='mask-image:linear-gradient(#000,transparent)'", "a mask that is a picture"),
    ] {
        assert_eq!(rect(more), [named], "{more}");
    }
    let gone = svg(SIZE, &format!("{RECT}<rect width='9' height='9' mask='url(#gone)'/>"));
    assert_eq!((gone.left_out, gone.missing), (Vec::new(), vec!["`#gone`".to_owned()]));
    let stop = "<linearGradient id='g'><stop stop-color='var(--gold)'/><stop offset='1'/></linearGradient>";
    assert_eq!(svg(SIZE, &format!("{stop}{RECT}")).left_out, ["a `var()` of CSS"]);
    let sheet = "<style>@media print{rect{fill:red}}</style>";
    assert_eq!(svg(SIZE, &format!("{sheet}{RECT}")).left_out, ["`@media` or `@import` in a style sheet"]);
    assert_eq!(svg(SIZE, &format!("{RECT}<use href='b.svg#a'/>")).left_out, ["what lies in another file"]);
    let gradient = "<linearGradient id='g' color-interpolation='linearRGB'><stop/><stop offset='1'/></linearGradient>";
    assert_eq!(svg(SIZE, &format!("{gradient}{RECT}")).left_out, ["colours mixed in linear light"]);
    // Right drawings that only look so.
    let remark = "<style>/* no @media */ rect{fill:red} /* nor @import, nor var(--a) */</style>";
    assert!(svg(SIZE, &format!("{remark}{RECT}")).left_out.is_empty());
    let names = "data-look='var(--a)' id='calc(' style='font-family:var(--f);--a:calc(1px)'";
    for more in
        ["fill='url(#gone) red'", "clip-path='none'", "vector-effect='none'", "color-interpolation='sRGB'", names]
    {
        assert!(rect(more).is_empty(), "{more}");
    }
    for value in ["none", "inherit", "initial", "unset", "revert"] {
        assert!(rect(&format!("style='clip-path:{value};mask-image:{value}'")).is_empty(), "{value}");
    }
}

/// CSS Masking 1, 7.10.1: red counts 0.2125 of white. A mask of a mask lets through what both do.
#[test]
fn masks_are_veils_of_their_light() {
    let body = "<mask id='o'><rect width='50' height='99' fill='#fff'/></mask>\
        <mask id='m' mask='url(#o)'><rect width='99' height='99' fill='#f00' fill-opacity='.5'/></mask>\
        <g mask='url(#m)'><rect width='20' height='20'/></g>";
    let drawing = svg(SIZE, body);
    let [DrawingPart::Veiled { veil: outer, clips: false, parts }] = &drawing.parts[..] else {
        panic!("{:?}", drawing.parts)
    };
    let [DrawingPart::Veiled { veil, .. }] = &parts[..] else { panic!("{parts:?}") };
    let light = |veil: &[DrawingPart]| match veil {
        [DrawingPart::Group { parts, .. }] => match &parts[..] {
            [DrawingPart::Fill { colour, .. }] => (colour.rgb, colour.opacity),
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    };
    assert_eq!(light(outer), ([255; 3], 1.0));
    assert!(light(veil).0 == [54; 3] && (light(veil).1 - 0.5).abs() < 1e-2, "{:?}", light(veil));
}

#[test]
fn copies_of_a_tile_are_one_path() {
    let body = "<pattern id='p' width='10' height='10' patternUnits='userSpaceOnUse'><rect width='4' height='10'/></pattern>\
        <rect width='40' height='20' fill='url(#p)'/>";
    let drawing = svg(SIZE, body);
    let [DrawingPart::Group { clip: Some(_), parts, .. }] = &drawing.parts[..] else { panic!("{:?}", drawing.parts) };
    let [DrawingPart::Fill { path, .. }] = &parts[..] else { panic!("{parts:?}") };
    // 40 x 20 units in tiles of 10 x 10, two fifths of each: 8 copies.
    let px = 25.4 / 96.0;
    assert!((path.area() - 8.0 * 40.0 * px * px).abs() < 1e-3, "{}", path.area());
}

#[test]
fn faults_say_where() {
    let fault = open("a.svg", b"<svg xmlns='http://www.w3.org/2000/svg'>\n<g>\n<rect></g></svg>").expect_err("bad");
    assert!(fault.message.starts_with("the SVG is malformed in line 3"), "{}", fault.message);
    let fault = open("a.svg", b"<svg xmlns='http://www.w3.org/2000/svg'>\n\xff</svg>").expect_err("bad");
    assert_eq!(fault.message, "the SVG is not UTF-8 text (line 2)");
    let fault = open("a.png", b"<svg/>").expect_err("misnamed");
    assert_eq!(fault.message, "the name says PNG, but the file is SVG");
    assert!(open("a.svg", b"<html><body/></html>").is_err());
    let fault = open("a.svg", b"<svg xmlns='http://www.w3.org/2000/svg'><text>A</text></svg>").expect_err("bare");
    assert_eq!(fault.message, "nothing in the SVG can be drawn: it has text that is left out: it names no font");
}

#[test]
fn bombs_do_not_go_off() {
    let mut entities = "<!DOCTYPE svg [<!ENTITY a '<rect/>'>".to_owned();
    for (name, of) in "bcdefghijk".chars().zip("abcdefghij".chars()) {
        entities.extend([format!("<!ENTITY {name} '{}'>", format!("&{of};").repeat(10))]);
    }
    let head = "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'>";
    assert!(open("a.svg", format!("{entities}]>{head}&k;</svg>").as_bytes()).is_err());

    let external = format!("<!DOCTYPE svg [<!ENTITY x SYSTEM '/etc/hostname'>]>{head}<g id='&x;'/></svg>");
    assert!(open("a.svg", external.as_bytes()).is_err());

    let deep = format!("{head}{}{}</svg>", "<g>".repeat(100_000), "</g>".repeat(100_000));
    assert!(open("a.svg", deep.as_bytes()).expect_err("deep").message.contains("more than 200 deep"));

    let mut uses = format!("{head}<g id='u0'><rect width='1' height='1'/></g>");
    let mut clips = format!("{head}<clipPath id='c0'><rect width='9' height='9'/></clipPath>");
    for level in 1..60 {
        let below = level - 1;
        uses.extend([format!("<g id='u{level}'><use href='#u{below}'/><use href='#u{below}'/></g>")]);
        let shape = format!("<rect width='9' height='9' clip-path='url(#c{below})'/>");
        clips.extend([format!("<clipPath id='c{level}'>{shape}{shape}</clipPath>")]);
    }
    for bomb in [uses, clips + "<rect width='9' height='9' clip-path='url(#c59)'/>"] {
        let fault = open("a.svg", format!("{bomb}</svg>").as_bytes()).expect_err("a bomb");
        assert!(fault.message.contains("100000 elements"), "{}", fault.message);
    }
    for far in [
        "<path d='M0 0a1e40 7.9 0 0 0 -2.8-6.5z'/>",
        "<rect style='fill:#91e63f;stroke-width:1e10' width='9' height='9'/>",
    ] {
        let fault = open("a.svg", format!("{head}\n{far}</svg>").as_bytes()).expect_err("far");
        assert!(fault.message.starts_with("the SVG has a number beyond all measure in line 2"), "{}", fault.message);
    }
    let colour = format!("{head}<rect fill='#91e63f' width='9.5e0' height='9'/></svg>");
    assert!(open("a.svg", colour.as_bytes()).is_ok());

    let itself = format!("{head}<g id='a'><use href='#a'/></g></svg>");
    assert!(open("a.svg", itself.as_bytes()).is_err());
}

const SIZE: &str = "width='100' height='100'";
const RECT: &str = "<rect width='100' height='100'/>";

fn svg(head: &str, body: &str) -> Drawing {
    let text = format!("<svg xmlns='http://www.w3.org/2000/svg' {head}>{body}</svg>");
    assert!(Drawing::is_drawing(text.as_bytes()));
    open("a.svg", text.as_bytes()).expect("reads")
}

fn boxed(path: &Path, [x0, y0, x1, y1]: [f64; 4]) {
    let found = path.bounding_box();
    let off = (found.x0 - x0).abs().max((found.y0 - y0).abs()).max((found.x1 - x1).abs()).max((found.y1 - y1).abs());
    assert!(off < 1e-3, "{found:?}");
}

/// Whether any ink lies at a point.
fn covers(nodes: &[DrawingPart], at: Point) -> bool {
    let inside = |path: &Path, rule: FillRule| match rule {
        FillRule::NonZero => path.winding(at) != 0,
        FillRule::EvenOdd => path.winding(at) % 2 != 0,
    };
    nodes.iter().any(|node| match node {
        DrawingPart::Fill { path, rule, .. } | DrawingPart::Wash { path, rule, .. } => inside(path, *rule),
        DrawingPart::Stroke { .. } => false,
        DrawingPart::Group { clip, parts: nodes, .. } => {
            clip.as_ref().is_none_or(|(path, rule)| inside(path, *rule)) && covers(nodes, at)
        }
        DrawingPart::Veiled { veil, parts, .. } => covers(veil, at) && covers(parts, at),
        DrawingPart::Picture { unit, .. } => part::UNIT.contains(unit.inverse() * at),
        DrawingPart::Pixels(view) => view.place.contains(at),
    })
}
