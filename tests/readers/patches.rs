//! Patches: a sheet of small fields, each with the ink that every plate must carry in its middle.

/// A field of the sheet: what is drawn there, and what plates must read, in percent. A plate not named reads 0.
pub struct Patch {
    pub name: &'static str,
    /// Elements as the language writes them; `@` stands for the field's place.
    pub words: &'static str,
    pub plates: &'static [(&'static str, f64)],
}

const fn patch(name: &'static str, words: &'static str, plates: &'static [(&'static str, f64)]) -> Patch {
    Patch { name, words, plates }
}

const C: &str = "Cyan";
const M: &str = "Magenta";
const Y: &str = "Yellow";
const K: &str = "Black";
const RED: &str = "House red";
const FOIL: &str = "Silver foil";
const HAZE_AND_BLACK: &[(&str, f64)] = &[(C, 36.8), (M, 29.6), (Y, 15.2), (K, 100.0)];

/// Opacity and multiply follow ISO 32000's formulae (from memory), plate by plate, for inks that take light away:
/// `(1 − a) below + a above`, and `below + above − below × above`.
pub const PATCHES: &[Patch] = &[
    patch("process", "band a { swatch night; @ }", &[(C, 92.0), (M, 74.0), (Y, 38.0), (K, 42.0)]),
    patch("one ink", "band a { swatch lemon; @ }", &[(Y, 88.0)]),
    patch("solid black", "band a { swatch black; @ }", &[(K, 100.0)]),
    patch("hair of ink", "band a { swatch breath; @ }", &[(C, 1.0), (M, 2.0), (Y, 3.0)]),
    patch("tint", "band a { swatch haze; @ }", &[(C, 36.8), (M, 29.6), (Y, 15.2), (K, 16.8)]),
    patch("tint in place", "band a { swatch night percent=25; @ }", &[(C, 23.0), (M, 18.5), (Y, 9.5), (K, 10.5)]),
    patch("spot", "band a { swatch red; @ }", &[(RED, 100.0)]),
    patch("spot at 60", "band a { swatch red percent=60; @ }", &[(RED, 60.0)]),
    patch("spot at 35", "band a { swatch blush; @ }", &[(RED, 35.0)]),
    patch("spot at 7", "band a { swatch red percent=7; @ }", &[(RED, 7.0)]),
    patch("oval", "oval a { swatch red percent=80; @ }", &[(RED, 80.0)]),
    patch("path", "path a data=\"M0 0 L10 0 L10 10 L0 10 Z\" { swatch lemon percent=50; @ }", &[(Y, 44.0)]),
    // What lies over what.
    patch("process knocks out process", "band a { swatch night; @ }\nband b { swatch lemon; @ }", &[(Y, 88.0)]),
    patch("spot knocks out process", "band a { swatch night; @ }\nband b { swatch red; @ }", &[(RED, 100.0)]),
    patch("process knocks out spot", "band a { swatch red; @ }\nband b { swatch lemon; @ }", &[(Y, 88.0)]),
    patch("paper knocks out all", "band a { swatch red; @ }\nband b { swatch unprinted; @ }", &[]),
    patch(
        "black over a tint keeps it",
        "band a { swatch haze; @ }\nband b { swatch black overprint=#true; @ }",
        &[(C, 36.8), (M, 29.6), (Y, 15.2), (K, 100.0)],
    ),
    patch(
        "black over a spot keeps it",
        "band a { swatch red; @ }\nband b { swatch black overprint=#true; @ }",
        &[(RED, 100.0), (K, 100.0)],
    ),
    patch(
        "foil keeps what lies under",
        "band a { swatch night; @ }\nband b { swatch foil; @ }",
        &[(C, 92.0), (M, 74.0), (Y, 38.0), (K, 42.0), (FOIL, 100.0)],
    ),
    patch("spot over spot", "band a { swatch red; @ }\nband b { swatch foil; @ }", &[(RED, 100.0), (FOIL, 100.0)]),
    patch(
        "spot may overprint",
        "band a { swatch lemon; @ }\nband b { swatch red percent=60 overprint=#true; @ }",
        &[(Y, 88.0), (RED, 60.0)],
    ),
    // Thin solid black: `~` stands for a place 0.8 mm high across the field's middle.
    patch("thin band keeps a tint", "band a { swatch haze; @ }\nband b { swatch black; ~ }", HAZE_AND_BLACK),
    patch("told to knock out", "band a { swatch haze; @ }\nband b { swatch black overprint=#false; ~ }", &[(K, 100.0)]),
    patch(
        "thin shape of one's own",
        "band a { swatch haze; @ }\npath b data=\"M0 4L10 5.1V5.9L0 4.8Z\" { swatch black; @ }",
        HAZE_AND_BLACK,
    ),
    patch(
        "thin line of a drawing",
        "band a { swatch haze; @ }\nimage b file=\"line.svg\" { fit filling; @ }",
        HAZE_AND_BLACK,
    ),
    patch(
        "thin line in one ink",
        "band a { swatch haze; @ }\nimage b file=\"line.svg\" { paint black; fit filling; @ }",
        HAZE_AND_BLACK,
    ),
    patch(
        "thin line pulled askew",
        "band a { swatch haze; @ }\nimage b file=\"askew.svg\" { fit filling; @ }",
        HAZE_AND_BLACK,
    ),
    patch(
        "thin line of a drawing told to knock out",
        "band a { swatch haze; @ }\nimage b file=\"line.svg\" { colour black \"#000000\" overprint=#false; fit filling; @ }",
        &[(K, 100.0)],
    ),
    patch(
        "thick line of a drawing",
        "band a { swatch haze; @ }\nimage b file=\"thick.svg\" { fit filling; @ }",
        &[(K, 100.0)],
    ),
    patch(
        "thin line at half opacity",
        "band a { swatch haze; @ }\nimage b file=\"half.svg\" { fit filling; @ }",
        &[(C, 18.4), (M, 14.8), (Y, 7.6), (K, 58.4)],
    ),
    // Mixing.
    patch(
        "opacity",
        "band a { swatch night; @ }\nband b { swatch lemon; opacity 30; @ }",
        &[(C, 64.4), (M, 51.8), (Y, 53.0), (K, 29.4)],
    ),
    patch("opacity on paper", "band a { swatch night; opacity 50; @ }", &[(C, 46.0), (M, 37.0), (Y, 19.0), (K, 21.0)]),
    patch("opacity of a spot", "band a { swatch red; opacity 40; @ }", &[(RED, 40.0)]),
    patch(
        "opacity over a spot",
        "band a { swatch red; @ }\nband b { swatch lemon; opacity 25; @ }",
        &[(RED, 75.0), (Y, 22.0)],
    ),
    patch(
        "multiply",
        "band a { swatch night; @ }\nband b { swatch rose; blend multiply; @ }",
        &[(C, 92.8), (M, 89.6), (Y, 50.4), (K, 42.0)],
    ),
    patch(
        "multiply at half opacity",
        "band a { swatch haze; @ }\nband b { swatch rose; blend multiply; opacity 50; @ }",
        &[(C, 39.96), (M, 50.72), (Y, 23.68), (K, 16.8)],
    ),
    // Pictures: the files are made by the test.
    patch("grey picture", "image a file=\"grey.png\" { fit filling; @ }", &[(K, 40.0)]),
    patch("grey picture in one ink", "image a file=\"grey.png\" { paint red; fit filling; @ }", &[(RED, 40.0)]),
    patch(
        "its darkness in two inks",
        "image a file=\"grey.png\" { paint rose; fit filling; @ }",
        &[(C, 4.0), (M, 24.0), (Y, 8.0)],
    ),
    patch("its alpha in one ink", "image a file=\"veil.png\" { paint red; fit filling; @ }", &[(RED, 60.0)]),
    patch(
        "inks as they came",
        "image a file=\"inks.tif\" { fit filling; @ }",
        &[(C, 20.0), (M, 40.0), (Y, 60.0), (K, 80.0)],
    ),
    patch(
        "drawing in one ink",
        "band a { swatch lemon; @ }\nimage b file=\"field.svg\" { paint red percent=90; fit filling; @ }",
        &[(RED, 90.0)],
    ),
    patch("black of a drawing", "image b file=\"field.svg\" { fit filling; @ }", &[(K, 100.0)]),
];

const SWATCHES: &str = "
    swatch night c=92 m=74 y=38 k=42
    swatch lemon y=88
    swatch breath c=1 m=2 y=3
    swatch rose c=10 m=60 y=20
    tint haze of=night percent=40
    spot red ink=\"House red\" c=10 m=95 y=80 k=2
    tint blush of=red percent=35
    spot foil ink=\"Silver foil\" c=10 m=8 y=8 k=30 finishing=foil
    rgb sea \"#2f6f7e\"
    rgb clay \"#b0623c\"";

const COLUMNS: usize = 7;
/// Millimetres from field to field, and a field's own size.
const STEP: f64 = 14.0;
const FIELD: f64 = 10.0;

/// The middle of a field, in millimetres from the sheet's upper left corner.
pub fn middle(at: usize) -> (f64, f64) {
    let (x, y) = corner(at);
    (x + FIELD / 2.0, y + FIELD / 2.0)
}

fn corner(at: usize) -> (f64, f64) {
    (6.0 + (at % COLUMNS) as f64 * STEP, 6.0 + (at / COLUMNS) as f64 * STEP)
}

/// The sheet's text; `more` is drawn besides.
pub fn text(more: &str) -> String {
    let fields = PATCHES.iter().enumerate().map(|(at, patch)| {
        let (x, y) = corner(at);
        let place = format!("left {x}; top {y}; width {FIELD}; height {FIELD}");
        let thin = format!("left {x}; top {}; width {FIELD}; height 0.8", y + 4.6);
        // Every element needs a name of its own.
        ["a", "b"].iter().fold(patch.words.replace('@', &place).replace('~', &thin), |words, name| {
            ["band", "oval", "image", "path"]
                .iter()
                .fold(words, |words, kind| words.replace(&format!("{kind} {name} "), &format!("{kind} {name}{at} ")))
        })
    });
    let fields: Vec<String> = fields.collect();
    format!(
        "book {{ title \"Patches\"; author \"A. Reader\"; language en-GB; pages 40 state=confirmed }}
format stapled {{ trim 105 148; paper caliper=0.1; bleed 3; safe 5 }}
press coated ink-limit=400
swatches {{{SWATCHES}
}}
panel back {{
{}
{more}
}}
",
        fields.join("\n")
    )
}

/// The files that the sheet finds beside it.
pub fn files() -> Vec<(&'static str, Vec<u8>)> {
    let png = |picture: image::DynamicImage| {
        let mut bytes = std::io::Cursor::new(Vec::new());
        picture.write_to(&mut bytes, image::ImageFormat::Png).expect("a picture becomes a PNG");
        bytes.into_inner()
    };
    // Six tenths of 255 are 153.
    let grey = image::GrayImage::from_pixel(120, 120, image::Luma([153]));
    let veil = image::GrayAlphaImage::from_pixel(120, 120, image::LumaA([0, 153]));
    let mut inks = std::io::Cursor::new(Vec::new());
    let pixels: Vec<u8> = [51, 102, 153, 204].repeat(120 * 120);
    let mut writer = tiff::encoder::TiffEncoder::new(&mut inks).expect("a TIFF begins");
    writer.write_image::<tiff::encoder::colortype::CMYK8>(120, 120, &pixels).expect("its pixels are written");
    let field = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 10 10\"><path d=\"M0 0H10V10H0Z\"/></svg>";
    let line = |said: &str| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 10 10\"><path d=\"M0 5H10\" stroke=\"black\" {said}/></svg>"
        )
    };
    vec![
        ("line.svg", line("stroke-width=\".8\"").into_bytes()),
        ("thick.svg", line("stroke-width=\"1.2\"").into_bytes()),
        ("askew.svg", line("stroke-width=\".4\" transform=\"translate(0 -5) scale(1 2)\"").into_bytes()),
        ("half.svg", line("stroke-width=\".8\" stroke-opacity=\".5\"").into_bytes()),
        ("grey.png", png(grey.into())),
        ("veil.png", png(veil.into())),
        ("inks.tif", inks.into_inner()),
        ("field.svg", field.as_bytes().to_vec()),
    ]
}
