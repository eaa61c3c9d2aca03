//! Pages: two ways, one picture. What we draw for screens, against the press PDF drawn by ghostscript.
#![expect(clippy::disallowed_methods, reason = "it plays the author and the printer, who have files")]
#![expect(clippy::print_stdout, reason = "how large the edges' share is belongs to the result")]

#[path = "readers/agreement.rs"]
mod agreement;
#[path = "readers/kit.rs"]
mod kit;
#[path = "readers/patches.rs"]
mod patches;
#[path = "readers/plates.rs"]
mod plates;

use agreement::{Agreement, Pair};
use jaconet::testing::DrawnPlates;
use kit::{Built, ask, cover, examples, shown};
use patches::{PATCHES, files, middle, text};
use plates::{MIDDLE, Separated, ghostscript, separated};

const PIXELS_PER_MM: u32 = 12;
const PPI: f64 = PIXELS_PER_MM as f64 * 25.4;
/// Each pixel of the other reader is the mean of so many by so many: it draws without smooth edges.
const FINE: u32 = 4;
/// What panels are drawn at where a cover says nothing else.
const PANEL_PPI: f64 = 200.0;
/// A field of a picture, in millimetres.
const FIELD: f64 = 1.6;

/// Flat colour within 2 of 255 everywhere but on edges, and edges few where words and shapes are drawn.
///
/// A picture of pixels may be edges all over, as the cut-paper and lino art of the examples is, and the other reader
/// takes samples of it where we take means. So the share of edges is asked of the rest of the sheets alone, and pictures
/// are compared besides by the means of fields, which come closer the finer the other reader looks.
#[test]
fn the_plates_are_those_of_the_press_file() {
    let (mut plain, mut edges) = (0, 0);
    for built in examples() {
        for agreement in compared(built) {
            println!("{}: {agreement:?}", built.stem);
            assert!(agreement.worst <= 2, "{}: {agreement:?}", built.stem);
            assert!(agreement.fields_off < 0.02 && agreement.worst_field < 8.0, "{}: {agreement:?}", built.stem);
            plain += agreement.plain;
            edges += agreement.plain_edges;
        }
    }
    assert!(edges * 10 < plain, "{edges} of {plain} pixels are near an edge");
}

#[test]
fn every_patch_is_drawn_as_it_is_printed() {
    let files = files();
    let files: Vec<(&str, &[u8])> = files.iter().map(|(name, bytes)| (*name, bytes.as_slice())).collect();
    let built = cover("patches", &text(""), &files, &["--only", "press,report"]);
    for agreement in compared(&built) {
        assert!(agreement.worst <= 2 && agreement.plain_edges * 10 < agreement.plain, "{agreement:?}");
    }
    let ours = jaconet::testing::draw_plates(&built.source, PPI).expect("the cover is read");
    for (at, patch) in PATCHES.iter().enumerate() {
        let (x, y) = middle(at);
        let pixel = (y * f64::from(PIXELS_PER_MM)) as usize * ours.width + (x * f64::from(PIXELS_PER_MM)) as usize;
        for (name, plane) in &ours.plates {
            let wanted =
                patch.plates.iter().find(|(plate, _)| plate == name).map_or(0.0, |(_, percent)| percent * 2.55);
            let off = (f64::from(plane[pixel]) - wanted).abs();
            assert!(off <= 1.0 + 1e-6, "{}: {name} is {} of 255, not {wanted:.1}", patch.name, plane[pixel]);
        }
    }
}

/// Ghostscript writes another file that prints the same: its pictures are JPEGs of less colour than light, its shadings
/// patterns, its numbers rounded.
#[test]
fn a_file_that_was_written_again_prints_the_same() {
    for built in examples() {
        let again = built.beside("again.pdf");
        let words = ["-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", &format!("-sOutputFile={again}")];
        let press = shown(&built.press());
        ask("gs", &[&words[..], &[&press]].concat());
        let said = ask(env!("CARGO_BIN_EXE_jaconet"), &["compare", &press, &again]);
        assert!(said.contains("and its plates, drawn") && !said.contains("(plates)"), "{}: {said}", built.stem);
    }
}

/// A font whose outlines stand in the press file without the tables around them; ghostscript brings it along.
#[test]
fn letters_of_bare_outlines_are_drawn() {
    const COVER: &str = "book { title \"Salt\"; pages 320 }
format paperback { trim 129 198; spine 20 }
waive facts-disagree reason=\"whole millimetres\"
panel front {
    text title words=\"Salt & Lanterns\" { font \"C059\"; size 48; left safe; right safe; top 40 }
    text line words=\"A novel of the sea, of those who live on it and of those who wait.\" { font \"C059\"; size 12; left safe; right safe; top 120 }
}";
    let font =
        std::fs::read(ask("fc-match", &["--format=%{file}", "C059:style=Roman"])).expect("it comes with ghostscript");
    let folder = kit::room().join("covers/bare/fonts");
    std::fs::create_dir_all(folder).expect("makes a folder");
    let built = cover("bare", COVER, &[("fonts/C059-Roman.otf", &font)], &["--only", "press,report"]);
    for agreement in compared(&built) {
        assert!(agreement.worst <= 2 && agreement.plain_edges * 10 < agreement.plain, "{agreement:?}");
    }
}

/// What fades, is masked, or runs out from a focus off the centre; lines and groups behind masks.
#[test]
fn veils_and_ovals_are_drawn() {
    const DRAWING: &str = "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' width='400' height='400'>
<linearGradient id='fade'><stop offset='0' stop-color='#103050'/><stop offset='1' stop-color='#103050' stop-opacity='0'/></linearGradient>
<radialGradient id='ball' cx='.5' cy='.5' r='.5' fx='.3' fy='.35'><stop offset='0' stop-color='#fff0c0'/><stop offset='1' stop-color='#a03010'/></radialGradient>
<radialGradient id='ring' gradientTransform='rotate(20 200 100) scale(1 .5)' gradientUnits='userSpaceOnUse' cx='200' cy='200' r='90' fx='180' fy='200'><stop offset='0' stop-color='#fff'/><stop offset='1' stop-color='#000'/></radialGradient>
<mask id='m' maskUnits='userSpaceOnUse' x='0' y='0' width='400' height='400'><rect width='400' height='400' fill='url(#ring)'/></mask>
<mask id='n'><g opacity='.6'><circle cx='300' cy='300' r='70' fill='#fff'/></g><rect x='250' y='280' width='90' height='40' fill='#888'/></mask>
<rect width='400' height='400' fill='#e0e8d0'/>
<rect x='20' y='20' width='160' height='120' fill='url(#fade)'/>
<circle cx='290' cy='90' r='70' fill='url(#ball)'/>
<path d='M60 60L340 160L80 180Z' fill='none' stroke='#206040' stroke-width='30' mask='url(#m)'/>
<g mask='url(#n)'><rect x='200' y='200' width='200' height='200' fill='#c02060'/><rect x='240' y='240' width='80' height='80' fill='#2040a0'/></g>
</svg>";
    const COVER: &str = "book { title \"Veils\"; pages 320 }
format paperback { trim 129 198; spine 20 }
swatches { spot copper ink=\"Copper\" c=10 m=50 y=60 }
panel front {
    band sky { swatch copper percent=50; left 10; right bleed; top 120; height 40 }
    image all file=\"veils.svg\" { left 20; width 90; top 20 }
    image less file=\"veils.svg\" { left 20; width 60; top 120; fade right from=20 to=90; mirror across }
    oval sun { swatch copper; left 84; width 30; top 124; height 30; opacity 60 }
}";
    let built = cover("veils", COVER, &[("veils.svg", DRAWING.as_bytes())], &["--only", "press,report"]);
    for agreement in compared(&built) {
        println!("{agreement:?}");
        assert!(agreement.worst <= 3 && agreement.plain_edges * 10 < agreement.plain, "{agreement:?}");
    }
}

/// The cover as we draw it, and the press file as we read and draw it again, each against the other program's plates.
fn compared(built: &Built) -> [Agreement; 2] {
    let theirs = separated(built, PIXELS_PER_MM, FINE);
    let cover = jaconet::testing::draw_plates(&built.source, PPI).expect("the cover is read");
    let press = std::fs::read(built.press()).expect("it was built");
    let press = jaconet::testing::draw_pdf(&press, PPI).unwrap_or_else(|undrawn| panic!("{}: {undrawn:?}", built.stem));
    [cover, press].map(|ours| against(&ours, &theirs, built))
}

fn against(ours: &DrawnPlates, theirs: &Separated, built: &Built) -> Agreement {
    assert_eq!(ours.plates.len(), theirs.planes.len(), "the plates of {}", built.stem);
    let pairs: Vec<Pair<'_>> = ours
        .plates
        .iter()
        .map(|(name, plane)| {
            let other = theirs.planes.get(name).unwrap_or_else(|| panic!("{}: no plate {name}", built.stem));
            Pair { ours: plane, our_width: ours.width, theirs: other, their_width: theirs.width }
        })
        .collect();
    // A pixel that the trim's edge runs through may be counted or not.
    assert!(ours.width.abs_diff(theirs.width) <= 1 && ours.height.abs_diff(theirs.height) <= 1);
    let size = (ours.width.min(theirs.width), ours.height.min(theirs.height));
    Agreement::of(&pairs, size, &pictures(built, PPI, 0.0), (FIELD * f64::from(PIXELS_PER_MM)) as usize)
}

/// The panels' pictures, converted by our colour engine from our plates; and the press file in colour, by another
/// reader from its own, through the same profile with the same intent.
///
/// Edges are not compared, in pictures neither: we mix in ink and then convert, the other reader the other way round.
/// Foil is left out: on our pictures it hides what lies under it, as on the book; the other reader lets both through.
#[test]
fn the_panels_are_the_press_file_in_colour() {
    let profile = format!("-sDefaultCMYKProfile={}/src/assets/profiles/coated-fogra39.icc", env!("CARGO_MANIFEST_DIR"));
    let mut worst = (0, String::new());
    for built in examples() {
        let sheet = built.beside("colour.tif");
        let output = format!("-sOutputFile={sheet}");
        let intent = ["-dRenderIntent=1", "-dBlackPtComp=0", &profile];
        let size = ["-sDEVICE=tiffscaled24", "-r800", "-dDownScaleFactor=4", &output];
        ghostscript(MIDDLE, built, &[&intent[..], &size].concat());
        let theirs = picture(&sheet);
        let drawn = jaconet::testing::draw_plates(&built.source, PANEL_PPI).expect("the cover is read");
        let foil = drawn.plates.iter().find(|(name, _)| name.contains("foil")).map(|(_, plane)| plane);
        for panel in report(built)["sheet"]["panels"].as_array().expect("panels") {
            let (name, left) = (panel["name"].as_str().expect("a name"), millimetres(panel, "left"));
            let ours = picture(&shown(&built.file(&format!("{name}.png"))));
            let first = (left * PANEL_PPI / 25.4 - 1e-6).ceil();
            let mut theirs =
                image::imageops::crop_imm(&theirs, first as u32, 0, ours.width(), ours.height()).to_image();
            for (x, y, pixel) in theirs.enumerate_pixels_mut() {
                let at = y as usize * drawn.width + first as usize + x as usize;
                if foil.is_some_and(|plane| plane[at] > 0) {
                    *pixel = *ours.get_pixel(x, y);
                }
            }
            let agreement = in_colour(&ours, &theirs, &pictures(built, PANEL_PPI, first));
            println!("{} {name}: {agreement:?}", built.stem);
            // Our pictures are averaged as light, the other program's as numbers of sRGB: a texture may be a step apart.
            worst = worst.max((agreement.worst, format!("{} {name}: {agreement:?}", built.stem)));
            // A fifth at least of the busiest picture is compared.
            assert!(agreement.edges < 0.8, "{} {name}: {agreement:?}", built.stem);
        }
    }
    assert!(worst.0 <= 3, "{}", worst.1);
}

fn in_colour(ours: &image::RgbImage, theirs: &image::RgbImage, pictures: &[[f64; 4]]) -> Agreement {
    let channel =
        |picture: &image::RgbImage, channel| picture.as_raw().iter().skip(channel).step_by(3).copied().collect();
    let channels: Vec<[Vec<u8>; 2]> = (0..3).map(|at| [channel(ours, at), channel(theirs, at)]).collect();
    let (our_width, their_width) = (ours.width() as usize, theirs.width() as usize);
    let pairs: Vec<Pair<'_>> =
        channels.iter().map(|[ours, theirs]| Pair { ours, our_width, theirs, their_width }).collect();
    let size = (our_width.min(their_width), ours.height().min(theirs.height()) as usize);
    Agreement::of(&pairs, size, pictures, (FIELD * PANEL_PPI / 25.4) as usize)
}

fn picture(path: &str) -> image::RgbImage {
    image::open(path).unwrap_or_else(|fault| panic!("{path}: {fault}")).into_rgb8()
}

/// Where pictures of pixels lie, in pixels from the left of what is looked at: left, top, right, bottom.
fn pictures(built: &Built, ppi: f64, left: f64) -> Vec<[f64; 4]> {
    let report = report(built);
    let sides = |picture| ["left", "top", "width", "height"].map(|side| millimetres(picture, side) * ppi / 25.4);
    let pictures = report["pictures"].as_array().expect("a list").iter();
    pictures.map(sides).map(|[x, y, width, height]| [x - left, y, x + width - left, y + height]).collect()
}

fn report(built: &Built) -> serde_json::Value {
    let bytes = std::fs::read(built.file("report.json")).expect("the report is there");
    serde_json::from_slice(&bytes).expect("the report is JSON")
}

fn millimetres(area: &serde_json::Value, side: &str) -> f64 {
    area[side].as_f64().expect("a number of millimetres")
}
