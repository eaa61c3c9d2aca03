//! Pictures in drawings: opened like any other, placed as SVG places them, and named where they cannot be.

use super::*;
use crate::assets::{Art, Darkroom, Library, Picture};
use crate::ground::{Affine, Digest, Rect, Severity};
use std::sync::Arc;

const QUARTERS: &[u8] = include_bytes!("../../../tests/covers/art/quarters.png");
const TURNED: &[u8] = include_bytes!("../../../tests/pictures/rgb-turned.jpg");
const CMYK: &[u8] = include_bytes!("../../../tests/pictures/cmyk-plain.jpg");
const HEAD: &str = "<svg xmlns='http://www.w3.org/2000/svg' xmlns:svg='http://www.w3.org/2000/svg' \
    xmlns:xlink='http://www.w3.org/1999/xlink' width='200' height='200'>";
const OTHER: &str = "<rect width='1' height='1'/>";
const MM_PER_PX: f64 = 25.4 / 96.0;

/// RFC 4648, 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let four = |three: &[u8]| {
        let number = (0..3).fold(0_u32, |sum, at| sum << 8 | u32::from(three.get(at).copied().unwrap_or(0)));
        let letter = |at: usize| {
            if at > three.len() { '=' } else { char::from(LETTERS[(number >> (18 - 6 * at)) as usize & 63]) }
        };
        [0, 1, 2, 3].map(letter)
    };
    bytes.chunks(3).flat_map(four).collect()
}

fn held(bytes: &[u8]) -> String {
    format!("href='data:image/png;base64,{}'", base64(bytes))
}

/// `None` for a file that does not come.
fn drawn(body: &str, files: &[(&str, Option<&[u8]>)]) -> Drawing {
    let library = Library::open(&[]).0;
    let came = |(href, file): &(&str, Option<&[u8]>)| {
        ((*href).to_owned(), file.map(Arc::from).ok_or_else(|| format!("shows {href}, which is gone")))
    };
    let files = files.iter().map(came).collect();
    let text = format!("{HEAD}{OTHER}{body}</svg>");
    let opened = Drawing::open("art/a.svg", text.as_bytes(), DrawnFrom { library: &library, files: &files });
    opened.unwrap_or_else(|fault| panic!("{}: {body:.200}", fault.message))
}

/// Pictures and where they lie, in pixels of the drawing.
fn placed(parts: &[DrawingPart]) -> Vec<(Arc<Picture>, Rect)> {
    parts
        .iter()
        .flat_map(|part| match part {
            DrawingPart::Picture { picture, unit } => {
                let place = (Affine::scale(1.0 / MM_PER_PX) * *unit).transform_rect_bbox(part::UNIT);
                vec![(picture.clone(), place)]
            }
            DrawingPart::Group { parts, .. } | DrawingPart::Veiled { parts, .. } => placed(parts),
            _ => Vec::new(),
        })
        .collect()
}

fn only(drawing: &Drawing) -> Rect {
    let [(_, place)] = &placed(&drawing.parts)[..] else { panic!("{:?}", drawing.parts) };
    *place
}

fn near(found: Rect, [x0, y0, x1, y1]: [f64; 4]) {
    let off = [found.x0 - x0, found.y0 - y0, found.x1 - x1, found.y1 - y1];
    assert!(off.iter().all(|off| off.abs() < 1e-3), "{found:?} for {:?}", [x0, y0, x1, y1]);
}

/// SVG 2, 12.3 and 8.2 (`preserveAspectRatio`), of a picture twice as wide as high.
#[test]
fn a_picture_lies_where_it_is_placed() {
    let held = held(QUARTERS);
    let at = |said: &str| drawn(&format!("<image {held} {said}/>"), &[]);
    near(only(&at("x='10' y='20' width='60' height='60'")), [10.0, 35.0, 70.0, 65.0]);
    near(only(&at("x='10' y='20' width='90' height='30' preserveAspectRatio='xMaxYMid'")), [40.0, 20.0, 100.0, 50.0]);
    near(only(&at("x='10' y='20' width='60' height='60' preserveAspectRatio='none'")), [10.0, 20.0, 70.0, 80.0]);
    near(only(&at("x='10' y='20' width='60'")), [10.0, 20.0, 70.0, 50.0]);
    near(only(&at("")), [0.0, 0.0, 300.0, 150.0]);
    let cut = at("x='10' y='20' width='30' height='30' preserveAspectRatio='xMidYMid slice'");
    near(only(&cut), [-5.0, 20.0, 55.0, 50.0]);
    let shown = cut.parts.iter().filter_map(DrawingPart::bounds).next_back().expect("it shows");
    near(Affine::scale(1.0 / MM_PER_PX).transform_rect_bbox(shown), [10.0, 20.0, 40.0, 50.0]);
    let turned = at("width='60' transform='translate(100 0) scale(2) rotate(90)' opacity='.5'");
    near(only(&turned), [40.0, 0.0, 100.0, 120.0]);
    assert!(turned.remarks.is_empty() && turned.left_out.is_empty(), "{:?} {:?}", turned.remarks, turned.left_out);
    assert!(turned.weight() > turned.pictures[0].weight());
    assert!(placed(&at("width='9' height='9' visibility='hidden'").parts).is_empty());
}

/// EXIF 2.3, orientation: a picture that is held upright by its file is placed upright.
#[test]
fn a_turned_picture_has_its_own_proportions() {
    let upright = Picture::open("a.jpg", TURNED.into()).map(|picture| (picture.width(), picture.height()));
    let Ok((width, height)) = upright else { panic!("it opens") };
    assert_ne!(width, height);
    let drawing = drawn(&format!("<image {} width='90'/>", held(TURNED)), &[]);
    near(only(&drawing), [0.0, 0.0, 90.0, 90.0 * f64::from(height) / f64::from(width)]);
}

#[test]
fn files_beside_a_drawing_are_shown() {
    let body =
        "<image href='pics/a.png' width='9' height='9'/><image xlink:href='pics/a.png' y='20' width='9' height='9'/>";
    let text = format!(
        "{HEAD}{body}<svg:image href = \"b%20c.jpg\"/><image href='http://x.example/a.png'/><use href='#a'/>\
        <image href='/etc/hostname'/><image href='data:image/png;base64,xx'/><a href='d.png'><image/></a></svg>"
    );
    let wanted: Vec<String> = Drawing::linked(text.as_bytes()).into_iter().collect();
    assert_eq!(wanted, ["b%20c.jpg", "pics/a.png"]);
    let drawing = drawn(body, &[("pics/a.png", Some(QUARTERS))]);
    assert_eq!((placed(&drawing.parts).len(), drawing.pictures.len()), (2, 1));
    assert_eq!(drawing.pictures[0].name(), "art/a.svg, pics/a.png");
    // The same picture by two names is one of each name.
    let twins =
        drawn(&body.replacen("pics/a", "pics/b", 1), &[("pics/a.png", Some(QUARTERS)), ("pics/b.png", Some(QUARTERS))]);
    let names: Vec<String> = placed(&twins.parts).iter().map(|(picture, _)| picture.name().to_owned()).collect();
    assert_eq!(names, ["art/a.svg, pics/b.png", "art/a.svg, pics/a.png"]);
    // One that did not come is reported once, by what whoever asked for it says.
    let gone = drawn(body, &[("pics/a.png", None)]);
    assert!(placed(&gone.parts).is_empty() && gone.left_out.is_empty());
    let [remark] = &gone.remarks[..] else { panic!("{:?}", gone.remarks) };
    assert_eq!((remark.severity, &remark.message[..]), (Severity::Error, "shows pics/a.png, which is gone"));
    let away = drawn("<image href='https://x.example/a.png' width='9' height='9'/><image href='/etc/hostname'/>", &[]);
    let wanted =
        ["a picture that lies elsewhere (/etc/hostname)", "a picture that lies elsewhere (https://x.example/a.png)"];
    assert_eq!(away.left_out, wanted);
}

/// The library asks for what it draws, and for nothing else.
#[test]
fn a_picture_that_is_not_drawn_is_not_missed() {
    let of = |body: &str| Drawing::linked(format!("{HEAD}{body}</svg>").as_bytes());
    assert!(of("<!-- <image href='old.png'/> --><text>&lt;image href='old.png'/></text>").is_empty());
    for hidden in [
        "<defs><image href='old.png' width='9' height='9'/></defs>",
        "<g style='display:none'><image href='old.png' width='9' height='9'/></g>",
    ] {
        assert_eq!(of(hidden).len(), 1);
        let drawing = drawn(hidden, &[("old.png", None)]);
        assert!(drawing.remarks.is_empty() && drawing.left_out.is_empty(), "{:?}", drawing.remarks);
    }
    let alone = format!("{HEAD}<image href='old.png' width='9' height='9'/></svg>");
    let files = FilesBeside::from([("old.png".to_owned(), Err("shows old.png, which is gone".to_owned()))]);
    let opened = Drawing::open("a.svg", alone.as_bytes(), DrawnFrom { library: &Library::open(&[]).0, files: &files });
    let Err(fault) = opened else { panic!("nothing is drawn") };
    assert!(fault.message.ends_with("it shows old.png, which is gone"), "{}", fault.message);
}

#[test]
fn a_file_that_is_empty_is_not_one_that_does_not_come() {
    let (darkroom, library) = (Darkroom::default(), Library::open(&[]).0);
    let text = format!("{HEAD}{OTHER}<image href='p.png' width='9' height='9'/></svg>");
    let said = |file: Result<Arc<[u8]>, String>| {
        let files = FilesBeside::from([("p.png".to_owned(), file)]);
        let file = (text.as_bytes().into(), Digest::of_file(text.as_bytes()));
        let opened = darkroom.open("a.svg", file, DrawnFrom { library: &library, files: &files });
        let Ok(Art::Drawing(drawing)) = opened else { panic!("it opens") };
        drawing.remarks[0].message.clone()
    };
    assert_eq!(said(Err(String::new())), "");
    assert_eq!(said(Ok(Arc::default())), "shows p.png that is left out: the file is empty");
}

#[test]
fn attributes_are_read_as_xml_has_them() {
    let of = |body: &str| Drawing::linked(format!("{HEAD}{body}</svg>").as_bytes()).into_iter().collect::<Vec<_>>();
    assert_eq!(of("<image id='href-1' href='a.png'/><image data-href='x' href='b.png'/>"), ["a.png", "b.png"]);
    assert_eq!(of("<image href='a&amp;b.png'/><image title='>' href='c.png'/>"), ["a&b.png", "c.png"]);
    // The same one is one, and those beyond the limit lie beside the drawing, too.
    let often = "<image href='a.png'/>".repeat(300);
    assert_eq!(of(&format!("{often}<image href='b.png'/>")), ["a.png", "b.png"]);
    let many: Vec<String> = (0..=bounds::PICTURES).map(|at| format!("<image href='{at:03}.png' width='9'/>")).collect();
    let many = many.concat();
    let wanted = of(&many);
    assert_eq!(wanted.len(), bounds::PICTURES);
    let files: Vec<_> = wanted.iter().map(|href| (&href[..], Some(QUARTERS))).collect();
    let drawing = drawn(&many, &files);
    assert!(drawing.left_out.is_empty(), "{:?}", drawing.left_out);
    let [remark] = &drawing.remarks[..] else { panic!("{:?}", drawing.remarks) };
    assert!(remark.message.ends_with("200.png that is left out: it has more than 200 pictures"), "{}", remark.message);
}

#[test]
fn what_cannot_be_shown_is_named() {
    let said = |bytes: &[u8]| {
        let drawing = drawn(&format!("<image {} width='9' height='9'/>", held(bytes)), &[]);
        assert!(placed(&drawing.parts).is_empty());
        let remarks = drawing.remarks.iter().map(|remark| (remark.severity, remark.message.clone()));
        (remarks.collect::<Vec<_>>(), drawing.left_out)
    };
    let mut huge = QUARTERS.to_vec();
    // A head that is whole: width, height, and the sum after it (PNG 3, 5.5).
    huge[16..24].copy_from_slice(&[0, 0, 200, 0, 0, 0, 200, 0]);
    huge[29..33].copy_from_slice(&0x5071_f79c_u32.to_be_bytes());
    for (bytes, why) in [
        (&QUARTERS[..60], "the PNG file is damaged or cut short"),
        (b"GIF89a and more", "this is not a picture we read"),
        (b"", "the file is empty"),
        (&huge[..], "it has 51200 x 51200 pixels"),
    ] {
        let (remarks, left_out) = said(bytes);
        let [(Severity::Error, message)] = &remarks[..] else { panic!("{why}: {remarks:?} {left_out:?}") };
        assert!(message.starts_with(&format!("shows a picture that is left out: {why}")), "{message}");
    }
    let svg = b"<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><rect width='9' height='9'/></svg>";
    assert_eq!(said(svg), (Vec::new(), vec!["a drawing in the drawing".to_owned()]));
    // A drawing that shows itself.
    let itself = drawn("<image href='a.svg' width='9' height='9'/>", &[("a.svg", Some(svg))]);
    assert_eq!(itself.left_out, ["a drawing in the drawing"]);
    let blurred = format!("<g style='filter:blur(2px)'><image {} width='9' height='9'/></g>", held(QUARTERS));
    let behind = |why: &str| vec![format!("{why} with a picture behind it, and all that is drawn with it")];
    assert_eq!(drawn(&blurred, &[]).left_out, behind("a filter"));
    let screened = format!("<image {} width='9' height='9' style='mix-blend-mode:screen'/>", held(QUARTERS));
    let group = format!("<g style='isolation:isolate'>{OTHER}{screened}</g>");
    assert_eq!(drawn(&group, &[]).left_out, behind("the blend mode screen"));
}

/// CSS Masking 1, 7.10.1: red counts 0.2125 of white; what is not there counts nothing.
#[test]
fn a_picture_in_a_mask_says_how_much_shows() {
    let masked = |kind: &str, bytes: &[u8]| {
        let body = format!(
            "<mask id='m' style='mask-type:{kind}'><image {} width='99' height='99'/></mask>\
            <rect width='99' height='99' mask='url(#m)'/>",
            held(bytes)
        );
        drawn(&body, &[])
    };
    let shows = |kind: &str| {
        let drawing = masked(kind, QUARTERS);
        let Some(DrawingPart::Veiled { veil, .. }) = drawing.parts.last() else { panic!("{:?}", drawing.parts) };
        let alpha = placed(veil)[0].0.alpha().map(<[u8]>::to_vec);
        alpha.expect("it has alpha")
    };
    let Ok(whole) = Picture::open("a.png", QUARTERS.into()) else { panic!("it opens") };
    let alpha = |at: usize| f64::from(whole.alpha().map_or(255, |alpha| alpha[at]));
    let pixels = whole.pixels().samples.chunks_exact(whole.model().channels());
    let light = |pixel: &[u8]| match *pixel {
        [grey] => f64::from(grey),
        [red, green, blue] => 0.2125 * f64::from(red) + 0.7154 * f64::from(green) + 0.0721 * f64::from(blue),
        _ => panic!("{pixel:?}"),
    };
    let (by_light, by_alpha) = (shows("luminance"), shows("alpha"));
    for (at, pixel) in pixels.enumerate() {
        assert!((f64::from(by_light[at]) - light(pixel) * alpha(at) / 255.0).abs() <= 1.0);
        assert!((f64::from(by_alpha[at]) - alpha(at)).abs() < 1.0);
    }
    // Inks have no light of their own.
    assert_eq!(
        masked("luminance", CMYK).left_out,
        ["a mask with `multiply` or a CMYK picture in it with a picture behind it, and all that is drawn with it"]
    );
    assert!(masked("alpha", CMYK).left_out.is_empty());
}

/// What is decoded, and what is placed, again and again.
#[test]
fn pictures_have_bounds() {
    let refused = |body: &str, expected: &str| {
        let text = format!("<svg xmlns='http://www.w3.org/2000/svg' width='99' height='99'>{body}</svg>");
        match open("a.svg", text.as_bytes()) {
            Err(fault) => assert!(fault.message.contains(expected), "{}", fault.message),
            Ok(drawing) => panic!("{expected}: {} parts", drawing.parts.len()),
        }
    };
    let mut large = QUARTERS.to_vec();
    large.resize(3_000_000, 0);
    let image = |bytes: &[u8]| format!("<image id='i' {} width='9' height='9'/>", held(bytes));
    refused(&format!("{}{}", image(&large), "<use href='#i'/>".repeat(40)), "100000 elements");
    refused(&format!("{}{}", image(QUARTERS), "<use href='#i'/>".repeat(4000)), "corners and curves");
    let many: String = (0..210)
        .map(|at| {
            let mut other = QUARTERS.to_vec();
            other.extend([at as u8, 1]);
            image(&other)
        })
        .collect();
    let drawing = drawn(&many, &[]);
    assert_eq!(drawing.pictures.len(), bounds::PICTURES);
    assert!(drawing.remarks[0].message.contains("more than 200 pictures"), "{:?}", drawing.remarks);
}
