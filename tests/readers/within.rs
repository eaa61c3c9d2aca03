//! Within: pictures in drawings, as a browser shows them and as our own panels do; and what other programs find of them in the
//! press file.

use crate::drawings::{Feature, agree};
use crate::kit::{ask, cover, shown};
use std::path::{Path, PathBuf};

/// `HELD` stands for a picture in the file, `BESIDE` for one beside it.
const FEATURES: [Feature<'static>; 10] = [
    ("held", 1.5, "<image HELD x='10' y='10' width='80' height='80'/>"),
    ("stretched", 1.5, "<image BESIDE x='5' y='30' width='90' height='40' preserveAspectRatio='none'/>"),
    ("to-the-right", 1.5, "<image HELD x='5' y='30' width='90' height='40' preserveAspectRatio='xMaxYMid'/>"),
    ("sliced", 1.5, "<image BESIDE x='5' y='30' width='90' height='40' preserveAspectRatio='xMidYMin slice'/>"),
    (
        "turned",
        1.5,
        "<g transform='rotate(30 50 50) skewX(10)' opacity='.6'><image HELD x='20' y='20' width='60' height='60'/></g>",
    ),
    (
        "clipped",
        1.5,
        "<clipPath id='c'><circle cx='50' cy='50' r='40'/></clipPath><image HELD x='5' y='5' width='90' height='90' clip-path='url(#c)'/>",
    ),
    (
        "masked",
        1.5,
        "<linearGradient id='g'><stop stop-color='#fff'/><stop offset='1' stop-color='#000'/></linearGradient><mask id='m'><rect width='100' height='100' fill='url(#g)'/></mask><image BESIDE x='5' y='5' width='90' height='90' mask='url(#m)'/>",
    ),
    (
        "a-mask",
        1.5,
        "<mask id='m'><image HELD x='10' y='10' width='80' height='80'/></mask><rect width='100' height='100' fill='#1d3557' mask='url(#m)'/>",
    ),
    (
        "in-a-pattern",
        2.0,
        "<pattern id='p' width='25' height='25' patternUnits='userSpaceOnUse'><image HELD width='20' height='20'/></pattern><circle cx='50' cy='50' r='45' fill='url(#p)'/>",
    ),
    (
        "used",
        1.5,
        "<defs><image id='i' BESIDE width='40' height='40'/></defs><use href='#i'/><use href='#i' x='60' y='60'/>",
    ),
];

const PICTURE: &str = "tests/covers/art/quarters-150.png";

fn picture() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(PICTURE)
}

fn held() -> String {
    format!("href='data:image/png;base64,{}'", ask("base64", &["-w0", &shown(&picture())]).trim())
}

#[test]
fn pictures_are_shown_as_a_browser_shows_them() {
    let held = held();
    let features: Vec<(&str, f64, String)> = FEATURES
        .iter()
        .map(|(name, most, body)| (*name, *most, body.replace("HELD", &held).replace("BESIDE", "href='beside.png'")))
        .collect();
    let features: Vec<(&str, f64, &str)> =
        features.iter().map(|(name, most, body)| (*name, *most, &body[..])).collect();
    // A browser fetches nothing for a drawing that is itself a picture.
    let theirs = |body: &str| body.replace("href='beside.png'", &held);
    let bytes = std::fs::read(picture()).expect("it is there");
    agree("within", &features, &theirs, &[("beside.png", &bytes)]);
}

/// It is in the press file once, in the inks of the press.
#[test]
fn a_press_file_has_the_picture_once() {
    let image = format!("<image {} width='40' height='40'", held());
    let drawing = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='100' height='100'>{image}/>{image} x='50'/><rect y='60' width='9' height='9'/></svg>"
    );
    let text = "book { title \"Proof\"; pages 320 }\nformat paperback { trim 129 198; spine 20 }\npanel front { image a file=\"a.svg\" { left 20; top 20; width 60 } }\n";
    let built = cover("within-press", text, &[("a.svg", drawing.as_bytes())], &["--only", "press"]);
    let stated = ask("pdfimages", &["-list", &shown(&built.press())]);
    // Two lines of a head; columns of poppler's `pdfimages`: page, num, type, width, height, color, comp, bpc, enc, interp, object.
    let rows: Vec<Vec<&str>> = stated.lines().skip(2).map(|line| line.split_whitespace().collect()).collect();
    let images: Vec<&Vec<&str>> = rows.iter().filter(|row| row[2] == "image").collect();
    assert_eq!(images.len(), 2, "{stated}");
    assert!(images.iter().all(|row| row[5] == "cmyk" && row[10] == images[0][10]), "{stated}");
}
