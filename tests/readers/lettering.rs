//! Lettering: text in drawings, as a browser sets it in the same fonts and as our own panels show it; and what other programs
//! find of it in the press file.

use crate::drawings::{Feature, agree};
use crate::kit::{ask, cover, shown};
use std::path::{Path, PathBuf};

const FEATURES: [Feature<'static>; 25] = [
    (
        "words",
        1.5,
        "<g fill='#1d3557'><text x='5' y='40' font-family='EB Garamond' font-size='22'>Salt &amp; fish</text><text x='5' y='80' font-family='EB Garamond' font-size='22'>AVATAR To.</text></g>",
    ),
    (
        "anchors",
        1.5,
        "<g fill='#1d3557'><g font-family='League Gothic' font-size='24'><text x='5' y='25'>Start</text><text x='50' y='55' text-anchor='middle'>Middle</text><text x='95' y='85' text-anchor='end'>End</text></g></g>",
    ),
    (
        "places",
        1.5,
        "<g fill='#1d3557'><text font-family='EB Garamond' font-size='20' x='5 20 45' y='30'>ABC<tspan x='10' y='60' dx='0 4 8' dy='0 3 -6' fill='#d62828'>moved</tspan><tspan x='5' y='90' rotate='0 20 40'>turned</tspan></text></g>",
    ),
    (
        "spaced",
        1.5,
        "<g fill='#1d3557'><g font-family='League Gothic' font-size='20'><text x='5' y='30' letter-spacing='3'>WIDE SET</text><text x='5' y='60' word-spacing='12'>a few words</text><text x='5' y='90' letter-spacing='.2em'>MID</text></g></g>",
    ),
    (
        "weights",
        2.0,
        "<g fill='#1d3557'><g font-family='EB Garamond' font-size='22'><text x='5' y='25'>Regular</text><text x='5' y='50' font-weight='bold'>Bold</text><text x='5' y='75' font-style='italic'>Italic fish</text><text x='5' y='97' style='font:italic bold 22px &quot;EB Garamond&quot;'>Both</text></g></g>",
    ),
    (
        "variable",
        2.0,
        "<g fill='#1d3557'><g font-family='Inter' font-size='20'><text x='5' y='25' font-weight='300'>Light</text><text x='5' y='50'>Regular</text><text x='5' y='75' font-weight='700'>Bold</text><text x='5' y='97' font-weight='900'>Black</text></g></g>",
    ),
    (
        "along-a-path",
        2.0,
        "<path id='p' d='M5 70C20 0 80 0 95 70' fill='none'/><text font-family='EB Garamond' font-size='16' fill='#1d3557'><textPath href='#p' startOffset='10%'>Round the harbour</textPath></text>",
    ),
    (
        "middle-of-a-path",
        2.0,
        "<g fill='#1d3557'><path id='p' d='M10 60A40 40 0 0 1 90 60' fill='none'/><text font-family='League Gothic' font-size='18' text-anchor='middle'><textPath href='#p' startOffset='50%'>ESTABLISHED</textPath></text></g>",
    ),
    (
        "filled",
        1.5,
        "<linearGradient id='g'><stop stop-color='#d62828'/><stop offset='1' stop-color='#1d3557'/></linearGradient><text x='5' y='65' font-family='League Gothic' font-size='60' fill='url(#g)'>Salt</text>",
    ),
    (
        "outlined",
        2.0,
        "<text x='5' y='65' font-family='League Gothic' font-size='60' fill='#e9c46a' stroke='#264653' stroke-width='3' stroke-linejoin='round' paint-order='stroke'>Salt</text>",
    ),
    (
        "in-a-pattern",
        2.0,
        "<pattern id='p' width='6' height='6' patternUnits='userSpaceOnUse'><rect width='6' height='6' fill='#e9c46a'/><circle cx='3' cy='3' r='2' fill='#264653'/></pattern><text x='5' y='70' font-family='League Gothic' font-size='70' fill='url(#p)'>Salt</text>",
    ),
    (
        "lines",
        // A browser draws lines no thinner than a pixel.
        3.5,
        "<g fill='#1d3557'><g font-family='EB Garamond' font-size='20'><text x='5' y='25' text-decoration='underline' style='text-decoration-thickness:from-font'>Under</text><text x='5' y='55' text-decoration='line-through' style='text-decoration-thickness:from-font'>Through</text><text x='5' y='85' style='text-decoration:overline;text-decoration-thickness:from-font'>Over</text></g></g>",
    ),
    (
        "raised",
        2.0,
        "<g fill='#1d3557'><g font-family='EB Garamond' font-size='20'><text x='5' y='30'>a<tspan baseline-shift='super' font-size='12'>2</tspan>b<tspan baseline-shift='-6'>low</tspan></text><text x='5' y='60' dominant-baseline='middle'>Middle</text><text x='5' y='80' dominant-baseline='central'>Central</text></g></g>",
    ),
    (
        "hebrew",
        1.5,
        "<g fill='#1d3557'><text x='95' y='40' text-anchor='end' font-family='Frank Ruhl Libre' font-size='24'>שלום רב</text><text x='5' y='80' font-family='Frank Ruhl Libre' font-size='24' font-weight='700'>Shalom שלום</text></g>",
    ),
    (
        "clip",
        1.5,
        "<clipPath id='c'><text x='5' y='65' font-family='League Gothic' font-size='60'>Salt</text></clipPath><g clip-path='url(#c)'><rect width='50' height='100' fill='#d62828'/><rect x='50' width='50' height='100' fill='#2a9d8f'/></g>",
    ),
    (
        "mask",
        1.5,
        "<mask id='m'><rect width='100' height='100' fill='#fff'/><text x='5' y='65' font-family='League Gothic' font-size='60'>Salt</text></mask><rect width='100' height='100' fill='#1d3557' mask='url(#m)'/>",
    ),
    (
        "stretched",
        2.0,
        "<g fill='#1d3557'><g font-family='League Gothic' font-size='24'><text x='5' y='30' textLength='90'>Spread</text><text x='5' y='70' textLength='90' lengthAdjust='spacingAndGlyphs'>Pulled</text></g></g>",
    ),
    (
        "styled",
        1.5,
        "<style>.a{font:700 18px 'EB Garamond';fill:#d62828}.b{font-size:1.5em;fill:#1d3557}</style><text class='a' x='5' y='30'>Eins <tspan class='b'>Zwei</tspan></text><g transform='rotate(-20 50 60)' opacity='.6'><text class='a' x='10' y='80'>Turned</text></g>",
    ),
    (
        "blurred",
        1.5,
        "<g fill='#1d3557'><filter id='f'><feGaussianBlur stdDeviation='1.5'/></filter><text x='5' y='65' font-family='League Gothic' font-size='60' filter='url(#f)'>Salt</text></g>",
    ),
    (
        "small",
        1.5,
        "<g fill='#1d3557'><text x='5' y='30' font-family='EB Garamond' font-size='20' font-variant='small-caps'>Small Caps</text><text y='60' x='5' font-family='EB Garamond'>no size is said</text><text x='5' y='85' font-family='Nowhere, League Gothic' font-size='18'>second choice</text></g>",
    ),
    (
        "letters-of-a-second-font",
        1.5,
        "<g fill='#1d3557' font-size='24'><text x='5' y='30' font-family='EB Garamond, Frank Ruhl Libre'>fish שלום רב, fine</text><text x='50' y='60' text-anchor='middle' style='font-family:\"League Gothic\",\"Frank Ruhl Libre\"'>A א B<tspan fill='#d62828'> ב</tspan></text><text x='95' y='90' text-anchor='end' font-family='EB Garamond, Frank Ruhl Libre' font-weight='700'>Salt אבג</text></g>",
    ),
    (
        "height-of-lines",
        1.5,
        "<style>.b{font:italic 700 20px/normal 'EB Garamond'}</style><g fill='#1d3557'><text x='5' y='30' style='font:24px/1.5 League Gothic'>Salt</text><text class='b' x='5' y='60'>and Sea</text><text x='5' y='90' font-family='EB Garamond' font='30px/2 League Gothic' font-size='20'>alone</text></g>",
    ),
    (
        "hidden",
        1.5,
        "<g fill='#1d3557' font-family='League Gothic' font-size='24'><text x='5' y='30' visibility='hidden'>Salt<tspan visibility='visible'>Sea</tspan></text><g visibility='hidden'><text x='5' y='60'>No</text><text x='50' y='60' visibility='visible'>Yes</text></g><text x='5' y='90'>a<tspan visibility='hidden'>bcd</tspan>e</text></g>",
    ),
    (
        "marks-of-a-second-font",
        1.5,
        "<g fill='#1d3557' font-size='30'><text x='5' y='40' font-family='League Gothic, EB Garamond'>xǭy ʒ</text><text x='5' y='85' font-family='Frank Ruhl Libre, EB Garamond'>b שָׁ ʒ</text></g>",
    ),
    (
        "spaces-between-pieces",
        1.5,
        "<g fill='#1d3557' font-size='22' font-family='League Gothic'><text x='5' y='20'>Salt<tspan fill='#d62828'> Sea</tspan><tspan> </tspan>Sun<tspan> </tspan></text><text x='95' y='45' text-anchor='end'> <tspan> Salt</tspan> <tspan> Sea </tspan> </text><text x='5' y='70'><tspan>Salt<tspan> Sea</tspan></tspan><tspan>\n Sun</tspan></text><text x='5' y='95' xml:space='preserve'>a<tspan>  b</tspan> c</text></g>",
    ),
];

/// The bundled fonts as a browser is handed them: families, weights, postures and files.
const FACES: [(&str, &str, &str, &str); 8] = [
    ("EB Garamond", "400", "normal", "EBGaramond/EBGaramond-Regular.ttf"),
    ("EB Garamond", "700", "normal", "EBGaramond/EBGaramond-Bold.ttf"),
    ("EB Garamond", "400", "italic", "EBGaramond/EBGaramond-Italic.ttf"),
    ("EB Garamond", "700", "italic", "EBGaramond/EBGaramond-BoldItalic.ttf"),
    ("League Gothic", "400", "normal", "LeagueGothic/LeagueGothic-Regular.ttf"),
    ("Inter", "100 900", "normal", "Inter/InterVariable.ttf"),
    ("Frank Ruhl Libre", "400", "normal", "FrankRuhlLibre/FrankRuhlLibre-Regular.ttf"),
    ("Frank Ruhl Libre", "700", "normal", "FrankRuhlLibre/FrankRuhlLibre-Bold.ttf"),
];

fn fonts(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-open").join(path)
}

/// Style sheets of the faces that a drawing names; a drawing that is placed as a picture may fetch no others.
pub fn faces(body: &str) -> String {
    let named = FACES.iter().filter(|(family, ..)| body.contains(family));
    let rules = named.map(|(family, weight, style, path)| {
        let bytes = ask("base64", &["-w0", &shown(&fonts(path))]);
        format!(
            "@font-face{{font-family:'{family}';font-weight:{weight};font-style:{style};src:url(data:font/ttf;base64,{})}}",
            bytes.trim()
        )
    });
    format!("<style>{}</style>{body}", rules.collect::<String>())
}

#[test]
fn text_is_set_as_a_browser_sets_it() {
    agree("lettering", &FEATURES, &faces, &[]);
}

/// Its letters are outlines: no font, no word and no picture is in the press file, and it is the same at every size.
#[test]
fn a_press_file_has_the_outlines_of_it_alone() {
    let drawing = "<svg xmlns='http://www.w3.org/2000/svg' width='100' height='100'><text x='5' y='65' font-family='League Gothic' font-size='60'>Salt</text></svg>";
    let text = "book { title \"Proof\"; pages 320 }\nformat paperback { trim 129 198; spine 20 }\npanel front { image a file=\"a.svg\" { left 20; top 20; width 60 } }\n";
    let built = cover("lettering-press", text, &[("a.svg", drawing.as_bytes())], &["--only", "press"]);
    let press = shown(&built.press());
    assert_eq!(ask("pdffonts", &[&press]).lines().count(), 2, "a head of two lines, and no font");
    assert_eq!(ask("pdfimages", &["-list", &press]).lines().count(), 2, "a head of two lines, and no picture");
    assert!(!ask("pdftotext", &[&press, "-"]).contains("Salt"));
    let content = ask("qpdf", &["--qdf", "--object-streams=disable", &press, "-"]);
    // A box or a picture would have four; the letters' curves are drawn as they are.
    let curves = content.lines().filter(|line| line.ends_with(" c") || line.ends_with(" l")).count();
    assert!(curves > 40, "{curves}");
}
