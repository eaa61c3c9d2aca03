//! Drawings: each feature of SVG, as a browser draws it and as our own panels show it.
//!
//! The browser's pixels are placed as a picture with alpha in a second cover: so both take the same way into ink, and are mixed with
//! paper in ink. `multiply` is compared where one of the two colours is white, since inks multiply otherwise than light elsewhere.

use crate::kit::{ask, cover, room, shown};

/// What is drawn in 100 units square, and how far the mean of its fields may be off, of 255.
const FEATURES: [Feature<'static>; 26] = [
    (
        "fades-along",
        1.0,
        "<linearGradient id='g'><stop stop-color='#d62828'/><stop offset='1' stop-color='#1d3557' stop-opacity='0'/></linearGradient><rect x='10' y='10' width='80' height='80' fill='url(#g)'/>",
    ),
    (
        "fades-around",
        1.0,
        "<radialGradient id='g'><stop stop-color='#f4a261'/><stop offset='.6' stop-color='#f4a261' stop-opacity='.5'/><stop offset='1' stop-color='#264653' stop-opacity='0'/></radialGradient><circle cx='50' cy='50' r='45' fill='url(#g)'/>",
    ),
    (
        "focus",
        1.0,
        "<radialGradient id='g' cx='.5' cy='.5' r='.5' fx='.3' fy='.35' fr='.05'><stop stop-color='#fff'/><stop offset='.4' stop-color='#e9c46a'/><stop offset='1' stop-color='#264653'/></radialGradient><circle cx='50' cy='50' r='45' fill='url(#g)'/>",
    ),
    (
        "oval",
        1.0,
        "<radialGradient id='g'><stop stop-color='#fff'/><stop offset='1' stop-color='#2a9d8f'/></radialGradient><rect x='5' y='30' width='90' height='40' fill='url(#g)'/>",
    ),
    (
        "reflected",
        1.5,
        "<linearGradient id='g' gradientUnits='userSpaceOnUse' x1='30' y1='30' x2='42' y2='36' spreadMethod='reflect'><stop stop-color='#d62828'/><stop offset='1' stop-color='#003049'/></linearGradient><rect x='5' y='5' width='90' height='90' fill='url(#g)'/>",
    ),
    (
        "repeated",
        2.0,
        "<linearGradient id='g' gradientUnits='userSpaceOnUse' x1='30' y1='30' x2='50' y2='30' spreadMethod='repeat'><stop stop-color='#d62828'/><stop offset='1' stop-color='#003049'/></linearGradient><rect x='5' y='5' width='90' height='90' fill='url(#g)'/>",
    ),
    (
        "repeated-around",
        1.5,
        "<radialGradient id='g' gradientUnits='userSpaceOnUse' cx='50' cy='50' r='20' fx='45' fy='45' spreadMethod='reflect'><stop stop-color='#d62828'/><stop offset='1' stop-color='#fcbf49'/></radialGradient><rect x='5' y='5' width='90' height='90' fill='url(#g)'/>",
    ),
    (
        "leaning",
        1.0,
        "<linearGradient id='g' gradientTransform='rotate(30 .5 .5) skewX(20)'><stop stop-color='#606c38'/><stop offset='1' stop-color='#dda15e'/></linearGradient><rect x='5' y='5' width='90' height='60' fill='url(#g)'/>",
    ),
    (
        "fading-line",
        1.0,
        "<linearGradient id='g' gradientUnits='userSpaceOnUse' x1='10' x2='90'><stop stop-color='#d62828'/><stop offset='1' stop-color='#d62828' stop-opacity='0'/></linearGradient><path d='M10 50C30 10 70 90 90 50' fill='none' stroke='url(#g)' stroke-width='10'/>",
    ),
    (
        "mask-of-light",
        1.0,
        "<mask id='m'><rect width='100' height='100' fill='#444'/><circle cx='50' cy='50' r='35' fill='#fff'/><rect x='40' y='40' width='30' height='30' fill='#d62828' opacity='.7'/></mask><rect x='5' y='5' width='90' height='90' fill='#1d3557' mask='url(#m)'/>",
    ),
    (
        "mask-of-alpha",
        1.0,
        "<mask id='m' style='mask-type:alpha'><circle cx='40' cy='50' r='35' fill='#000'/><rect x='60' y='30' width='35' height='40' fill='#fff' opacity='.4'/></mask><rect x='5' y='5' width='90' height='90' fill='#d62828' mask='url(#m)'/>",
    ),
    (
        "mask-of-a-gradient",
        1.0,
        "<linearGradient id='g'><stop stop-color='#fff'/><stop offset='1' stop-color='#000'/></linearGradient><mask id='m' maskContentUnits='objectBoundingBox'><rect width='1' height='1' fill='url(#g)'/></mask><g mask='url(#m)'><rect x='5' y='5' width='90' height='90' fill='#2a9d8f'/><circle cx='60' cy='50' r='30' fill='#e76f51'/></g>",
    ),
    (
        "mask-of-a-blur",
        1.0,
        "<filter id='f'><feGaussianBlur stdDeviation='6'/></filter><mask id='m'><circle cx='50' cy='50' r='30' fill='#fff' filter='url(#f)'/></mask><rect x='5' y='5' width='90' height='90' fill='#1d3557' mask='url(#m)'/>",
    ),
    (
        "clips-of-clipped-shapes",
        1.0,
        "<clipPath id='i'><circle cx='30' cy='30' r='20'/></clipPath><clipPath id='c'><rect x='10' y='10' width='40' height='40' clip-path='url(#i)'/><rect x='55' y='40' width='30' height='50'/></clipPath><rect width='100' height='100' fill='#d62828' clip-path='url(#c)'/>",
    ),
    (
        "clips-in-clips",
        1.0,
        "<clipPath id='i'><circle cx='50' cy='50' r='40'/></clipPath><clipPath id='c' clip-path='url(#i)'><path clip-rule='evenodd' d='M0 0H100V100H0ZM30 30H70V70H30Z'/></clipPath><rect width='100' height='100' fill='#2a9d8f' clip-path='url(#c)'/>",
    ),
    (
        "group",
        1.0,
        "<g opacity='.5'><rect x='10' y='10' width='50' height='50' fill='#d62828'/><rect x='40' y='40' width='50' height='50' fill='#1d3557'/></g>",
    ),
    (
        "screen",
        1.0,
        "<rect x='10' y='10' width='50' height='50' fill='#e76f51'/><g style='mix-blend-mode:screen'><rect x='40' y='40' width='50' height='50' fill='#2a9d8f'/></g>",
    ),
    (
        "multiply",
        1.0,
        "<rect x='5' y='5' width='60' height='60' fill='#2a9d8f'/><rect x='65' y='5' width='30' height='60' fill='#fff'/><g style='mix-blend-mode:multiply'><rect x='20' y='20' width='30' height='70' fill='#fff'/><rect x='70' y='20' width='20' height='70' fill='#e76f51'/></g>",
    ),
    (
        "pattern",
        2.0,
        "<pattern id='p' width='10' height='10' patternUnits='userSpaceOnUse'><rect width='10' height='10' fill='#fefae0'/><circle cx='5' cy='5' r='3' fill='#bc6c25'/></pattern><rect x='5' y='5' width='90' height='90' rx='20' fill='url(#p)'/>",
    ),
    (
        "pattern-turned",
        2.0,
        "<pattern id='p' width='12' height='8' patternUnits='userSpaceOnUse' patternTransform='rotate(30)'><path d='M0 4H12' stroke='#1d3557' stroke-width='2'/></pattern><circle cx='50' cy='50' r='45' fill='url(#p)' fill-opacity='.6'/>",
    ),
    (
        "pattern-that-spills",
        2.0,
        "<pattern id='p' width='.2' height='.2'><circle cx='0' cy='0' r='7' fill='#bc6c25'/><circle cx='18' cy='18' r='7' fill='#606c38'/></pattern><rect x='5' y='5' width='90' height='90' fill='url(#p)'/>",
    ),
    (
        "pattern-of-a-line",
        1.0,
        "<pattern id='p' width='10' height='10' patternUnits='userSpaceOnUse'><rect width='5' height='10' fill='#d62828'/></pattern><circle cx='50' cy='50' r='35' fill='none' stroke='url(#p)' stroke-width='15'/>",
    ),
    (
        "blur",
        1.0,
        "<filter id='f' x='-.5' y='-.5' width='2' height='2'><feGaussianBlur stdDeviation='5'/></filter><rect x='30' y='30' width='40' height='40' fill='#d62828' filter='url(#f)'/>",
    ),
    (
        "shadow",
        1.0,
        "<filter id='f'><feDropShadow dx='4' dy='4' stdDeviation='3' flood-color='#000' flood-opacity='.5'/></filter><g filter='url(#f)'><circle cx='50' cy='50' r='30' fill='#e9c46a'/></g><rect x='2' y='2' width='20' height='10' fill='#1d3557'/>",
    ),
    (
        "blur-in-a-clip",
        1.0,
        "<filter id='f'><feGaussianBlur stdDeviation='6'/></filter><clipPath id='c'><circle cx='50' cy='50' r='40'/></clipPath><g transform='translate(10 10) scale(.8)' clip-path='url(#c)' opacity='.8'><rect x='20' y='20' width='70' height='70' fill='#2a9d8f' filter='url(#f)'/></g>",
    ),
    ("over-the-edge", 1.0, "<circle cx='0' cy='50' r='40' fill='#d62828'/>"),
];

/// Pixels of a drawing's side and from one to the next, and the millimetres of a pixel: panels are drawn at 200 ppi.
const SIDE: usize = 320;
const NEXT: usize = 380;
const ACROSS: usize = 6;
const MM: f64 = 25.4 / 200.0;
const FIELD: usize = 8;

#[test]
fn every_feature_is_drawn_as_a_browser_draws_it() {
    agree("drawings", &FEATURES, &|body| body.to_owned(), &[]);
}

/// What is drawn, how far the mean of its fields may be off, and how.
pub type Feature<'a> = (&'a str, f64, &'a str);

/// Each feature drawn by us and by a browser, which is handed `theirs` of it.
pub fn agree(cover_name: &str, features: &[Feature<'_>], theirs: &dyn Fn(&str) -> String, beside: &[(&str, &[u8])]) {
    let head = "<svg xmlns='http://www.w3.org/2000/svg' width='100' height='100' viewBox='0 0 100 100'>";
    let mut files: Vec<(String, Vec<u8>)> = Vec::new();
    for (name, _, body) in features {
        files.push((format!("{name}.svg"), format!("{head}{body}</svg>").into_bytes()));
        files.push((format!("{name}-seen.svg"), format!("{head}{}</svg>", theirs(body)).into_bytes()));
    }
    let mut files: Vec<(&str, &[u8])> = files.iter().map(|(name, text)| (name.as_str(), &text[..])).collect();
    files.extend(beside);
    let place = |at: usize| (at % ACROSS * NEXT, at / ACROSS * NEXT);
    let image = |(at, (name, ..)): (usize, &Feature<'_>)| {
        let (x, y) = place(at);
        let [left, top, side] = [x, y, SIDE].map(|pixels| pixels as f64 * MM);
        format!("image {name} file=\"{name}.svg\" {{ left {}; top {}; width {side} }}", left + CORNER, top + CORNER)
    };
    let images: Vec<String> = features.iter().enumerate().map(image).collect();
    let ours = cover(cover_name, &text(&images.join("\n")), &files, &["--only", "panels"]);

    let tags = features.iter().enumerate().map(|(at, (name, ..))| {
        let (x, y) = place(at);
        format!(
            "<img src='{name}-seen.svg' style='position:absolute;left:{x}px;top:{y}px;width:{SIDE}px;height:{SIDE}px'>"
        )
    });
    let page = ours.source.join("page.html");
    std::fs::write(&page, format!("<!doctype html><body>{}", tags.collect::<String>())).expect("writes the page");
    let seen = room().join(format!("{cover_name}-browser.png"));
    let size = ACROSS * NEXT;
    ask(
        "chromium",
        &[
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--hide-scrollbars",
            "--force-device-scale-factor=1",
            "--default-background-color=00000000",
            &format!("--window-size={size},{size}"),
            &format!("--screenshot={}", shown(&seen)),
            &format!("file://{}", shown(&page)),
        ],
    );
    let seen = std::fs::read(seen).expect("the browser wrote it");
    let whole = size as f64 * MM;
    let one = format!("image seen file=\"seen.png\" {{ left {CORNER}; top {CORNER}; width {whole}; height {whole} }}");
    let theirs = cover(&format!("{cover_name}-seen"), &text(&one), &[("seen.png", &seen)], &["--only", "panels"]);

    let [ours, theirs] =
        [ours, theirs].map(|built| image::open(built.file("front.png")).expect("the panel is a picture").into_rgb8());
    let corner = (CORNER / MM).round() as usize;
    let mut far = Vec::new();
    for (at, (name, most, _)) in features.iter().enumerate() {
        let (x, y) = place(at);
        let off = fields(&ours, &theirs, (x + corner, y + corner));
        if off > *most {
            far.push(format!("{name}: {off:.2} of 255"));
        }
    }
    assert!(far.is_empty(), "{far:?}");
}

/// Of the grid, on whole pixels from the corner of the trim.
const CORNER: f64 = 80.0 * MM;

fn text(images: &str) -> String {
    format!(
        "book {{ title \"Proof\"; pages 320 }}\nformat paperback {{ trim 320 320; spine 20 }}\npanel front {{\n{images}\n}}\n"
    )
}

/// How far the means of fields are apart, in the channel in which they are most, on average.
fn fields(ours: &image::RgbImage, theirs: &image::RgbImage, (left, top): (usize, usize)) -> f64 {
    let mean = |picture: &image::RgbImage, x: usize, y: usize, channel: usize| {
        let pixels = (0..FIELD * FIELD).map(|at| (x + at % FIELD, y + at / FIELD));
        let sum: f64 = pixels.map(|(x, y)| f64::from(picture.get_pixel(x as u32, y as u32).0[channel])).sum();
        sum / (FIELD * FIELD) as f64
    };
    let (mut off, mut count) = (0.0, 0.0);
    for y in (top..top + SIDE).step_by(FIELD) {
        for x in (left..left + SIDE).step_by(FIELD) {
            off += (0..3).map(|at| (mean(ours, x, y, at) - mean(theirs, x, y, at)).abs()).fold(0.0, f64::max);
            count += 1.0;
        }
    }
    off / count
}
