//! What is read of PDFs that another library writes, and hostile ones.

use crate::ground::{Severity, deflate_fast};
use crate::printed::painted::PaintedArea;
use crate::printed::{PrintedPage, differences, read_pdf};

/// A PDF of one page: 300 by 200 points, with these entries of the page, resources and content.
fn pdf(page: &str, resources: &str, content: &str) -> Vec<u8> {
    pdf_with(page, resources, content, &[])
}

/// The same, with further objects, numbered from 5.
fn pdf_with(page: &str, resources: &str, content: &str, more: &[String]) -> Vec<u8> {
    let mut objects = vec![
        "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_owned(),
        format!(
            "<< /Type /Page /Parent 2 0 R /MediaBox [10 10 310 210] /Contents 4 0 R /Resources << {resources} >> {page} >>"
        ),
        format!("<< /Length {} >>\nstream\n{content}\nendstream", content.len()),
    ];
    objects.extend_from_slice(more);
    let mut file = b"%PDF-1.6\n".to_vec();
    let mut places = Vec::new();
    for (at, object) in objects.iter().enumerate() {
        places.push(file.len());
        file.extend(format!("{} 0 obj\n{object}\nendobj\n", at + 1).bytes());
    }
    let start = file.len();
    file.extend(format!("xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1).bytes());
    for place in places {
        file.extend(format!("{place:010} 00000 n \n").bytes());
    }
    file.extend(format!("trailer << /Size {} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n", objects.len() + 1).bytes());
    file
}

const SPOT: &str = "/ColorSpace << /S [/Separation /Gold#20foil /DeviceCMYK << /FunctionType 2 /Domain [0 1] /N 1 /C0 [0 0 0 0] \
                    /C1 [0 0 1 0] >>] >> /ExtGState << /O << /OP true >> /N << /OP false >> >>";

#[test]
fn boxes_inks_overprint_and_lines() {
    let trim = "/TrimBox [38.3465 38.3465 281.6535 181.6535] /BleedBox [30 30 290 190]";
    let content = "q /O gs /S cs 1 scn 38.3465 10 m 38.3465 210 l S f Q 20 20 50 60 re f";
    let page = read_pdf(&pdf(trim, SPOT, content)).expect("it can be read");
    // 28.3465 pt are 10 mm.
    let trim = page.boxes["TrimBox"];
    assert!((trim.x0 - 10.0).abs() < 1e-3 && (trim.y0 - 10.0).abs() < 1e-3, "{trim:?}");
    assert_eq!(page.spots.iter().map(String::as_str).collect::<Vec<_>>(), ["Gold foil"]);
    assert_eq!((page.overprinted, page.painted), (2, 3));
    let upright: Vec<f64> = page.lines.iter().filter(|line| line.upright).map(|line| line.at).collect();
    assert!((upright[0] - 10.0).abs() < 1e-3 && upright.len() == 3, "{upright:?}");
}

/// A page that asks to be shown turned is read as it is shown: the Rotate entry turns clockwise (ISO 32000-1, 7.7.3.3).
#[test]
fn a_turned_page_is_read_as_it_is_shown() {
    let (trim, line) = ("/TrimBox [20 40 300 200]", "30 20 m 30 120 l S");
    let page = |turn: u32| read_pdf(&pdf(&format!("{trim} /Rotate {turn}"), "", line)).expect("it can be read");
    let pt = 72.0 / 25.4;
    let read = |page: &PrintedPage| {
        let (trim, line) = (page.boxes["TrimBox"], page.lines[0]);
        let sides = [trim.x0, trim.y0, trim.x1, trim.y1, line.at, line.from, line.to];
        (line.upright, sides.map(|side| (side * pt).round() as i32))
    };
    // The media box is 300 by 200 and begins at 10 10.
    assert_eq!(read(&page(0)), (true, [10, 30, 290, 190, 20, 10, 110]));
    assert_eq!(read(&page(90)), (false, [30, 10, 190, 290, 280, 10, 110]));
    assert_eq!(read(&page(180)), (true, [10, 10, 290, 170, 280, 90, 190]));
    assert_eq!(read(&page(270)), (false, [10, 10, 170, 290, 20, 90, 190]));
}

#[test]
fn what_was_lost_on_the_way() {
    let ours = "/TrimBox [20 20 300 200] /BleedBox [15 15 305 205]";
    let all = "q /O gs /S cs 1 scn 20 20 50 60 re f Q";
    let sent = read_pdf(&pdf(ours, SPOT, all)).expect("it can be read");
    let told = |page: &str, content: &str| -> Vec<(Severity, &str)> {
        let back = read_pdf(&pdf(page, SPOT, content)).expect("it can be read");
        differences(&sent, &back).into_iter().map(|difference| (difference.severity, difference.about)).collect()
    };
    assert_eq!(told(ours, all), []);
    assert_eq!(told(ours, &all.replace("/O gs", "")), [(Severity::Error, "overprint")]);
    assert_eq!(
        told(ours, &all.replace("/S cs 1 scn", "0 0 1 0 k")),
        [(Severity::Error, "spots"), (Severity::Error, "inks")]
    );
    assert_eq!(told(&ours.replace("300", "299"), all), [(Severity::Error, "boxes")]);
    assert_eq!(told("/BleedBox [15 15 305 205]", all), [(Severity::Error, "boxes")]);
    // Within the rounding of a point to hundredths.
    assert_eq!(told(&ours.replace("300", "300.1"), all), []);
}

/// What is painted, by its colour: areas in square millimetres, one point 25.4 / 72 mm.
#[test]
fn colours_are_told_by_their_inks_and_areas() {
    let colours = |content: &str| read_pdf(&pdf("", SPOT, content)).expect("it can be read").colours;
    let of = |content: &str| -> Vec<(String, f64)> {
        let shown = |(name, area): (&String, &PaintedArea)| (name.clone(), (area.area * 10.0).round() / 10.0);
        colours(content).iter().map(shown).collect()
    };
    // 50 by 60 points: 373.4 mm². A quarter of a circle of 72 pt: 506.7 mm²; by one Bézier curve, 0.03 % more.
    assert_eq!(of("20 20 50 60 re f"), [("Black 100 %".to_owned(), 373.4)]);
    let pie = "0 0 m 72 0 l 72 39.7645 39.7645 72 0 72 c h f";
    assert!((of(pie)[0].1 - 506.7).abs() < 0.3, "{:?}", of(pie));
    // 100 points long and 2 wide, twice as large.
    assert_eq!(of("q 2 0 0 2 0 0 cm 0 0 0 1 K 2 w 0 0 m 100 0 l S Q"), [("Black 100 %".to_owned(), 99.6)]);
    for (content, name) in [
        ("0.4 g 0 0 9 9 re f", "Black 60 %"),
        ("0.5 0.4 0 1 k 0 0 9 9 re f", "Cyan 50 %, Magenta 40 %, Black 100 %"),
        ("1 0 0 rg 0 0 9 9 re f", "RGB 100 0 0 %"),
        ("/S cs 0.5 scn 0 0 9 9 re f", "Gold foil 50 %"),
        ("/S cs 0 0 9 9 re f", "Gold foil 100 %"),
        ("0 0 0 0 k 0 0 9 9 re f", "paper white"),
        ("1 0 0 0 k q 0 1 0 0 k Q 0 0 9 9 re f", "Cyan 100 %"),
    ] {
        assert_eq!(of(content)[0].0, name, "{content}");
    }
    let words = colours("BT 0 0 0 0.5 k /F 12 Tf (Salt) Tj ET");
    assert_eq!(words["Black 50 %"].words, 1);
}

/// What lost its overprint while something else kept it: fewer things overprint, and it is reported which.
#[test]
fn overprint_is_compared_colour_by_colour() {
    let told = |ours: &str, back: &str| -> Vec<(Severity, String)> {
        let [ours, back] = [ours, back].map(|content| read_pdf(&pdf("", SPOT, content)).expect("it can be read"));
        differences(&ours, &back).into_iter().map(|one| (one.severity, one.message)).collect()
    };
    let content = "/O gs BT 0 0 0 1 k /F 12 Tf (Salt) Tj (Lamp) Tj ET /S cs 1 scn 20 20 50 60 re f";
    assert_eq!(told(content, content), []);
    let fewer = |count: usize| {
        let things = if count == 1 { "1 thing overprints".to_owned() } else { format!("{count} things overprint") };
        (Severity::Warning, format!("{things}; in ours 3"))
    };
    let error = |message: &str| (Severity::Error, message.to_owned());
    let words = content.replace("/O gs BT", "/N gs BT").replace("ET", "ET /O gs");
    assert_eq!(told(content, &words), [fewer(1), error("the words in Black 100 % no longer overprint")]);
    let area = content.replace("ET", "ET /N gs");
    // 50 by 60 points are 373.4 mm².
    let message = "0 mm² painted in Gold foil 100 % overprint; in ours 3.7 cm²";
    assert_eq!(told(content, &area), [fewer(2), error(message)]);
    // One run of words in two, as programs do that break words otherwise.
    let split = content.replace("(Lamp) Tj", "(La) Tj (mp) Tj");
    assert_eq!(told(content, &split), [fewer(4)]);
    let most = content.replace("(Lamp) Tj", "/N gs (Lamp) Tj").replace("ET", "ET /O gs");
    let message = "1 of 2 runs of words in Black 100 % overprint; in ours 2 of 2";
    assert_eq!(told(content, &most), [fewer(2), error(message)]);
    // What knocks out already may be what was split.
    let split = most.replace("(Lamp) Tj", "(La) Tj (mp) Tj");
    let message = "1 of 3 runs of words in Black 100 % overprint; in ours 1 of 2";
    assert_eq!(told(&most, &split), [(Severity::Warning, message.to_owned())]);
    let back = told(&words, content);
    assert_eq!(back[1], (Severity::Warning, "the words in Black 100 % overprint; in ours they knock out".to_owned()));
}

/// A picture of 2 × 2 pixels, whose samples are these bytes.
fn with_picture(space: &str, samples: &str) -> PrintedPage {
    let picture = format!(
        "<< /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /{space} /Length {} >>\nstream\n{samples}\nendstream",
        samples.len()
    );
    let page = pdf_with("", "/XObject << /P 5 0 R >>", "q 72 0 0 72 10 10 cm /P Do Q", &[picture]);
    read_pdf(&page).expect("it can be read")
}

#[test]
fn plates_are_compared_colour_by_colour_and_picture_by_picture() {
    let told = |ours: &str, back: &str| -> Vec<(Severity, String)> {
        let [ours, back] = [ours, back].map(|content| read_pdf(&pdf("", SPOT, content)).expect("it can be read"));
        differences(&ours, &back).into_iter().map(|one| (one.severity, one.message)).collect()
    };
    let fill = |colour: &str, place: &str| format!("{colour} {place} re f");
    let black = fill("0 0 0 1 k", "20 20 50 60");
    assert_eq!(told(&black, &fill("0.004 0 0 1 k", "20 20 50.2 60")), []);
    let error = |message: &str| vec![(Severity::Error, message.to_owned())];
    let warning = |message: &str| vec![(Severity::Warning, message.to_owned())];
    assert_eq!(
        told(&black, &fill("0.6 0.4 0.4 1 k", "20 20 50 60")),
        error("what ours paints in Black 100 % is painted in Cyan 60 %, Magenta 40 %, Yellow 40 %, Black 100 %")
    );
    assert_eq!(told(&black, &fill("0 g", "20 20 50 60")), []);
    assert_eq!(
        told(&black, &fill("0 0 0 1 k", "24 20 50 60")),
        warning("what is painted in Black 100 % lies elsewhere on the trim")
    );
    assert_eq!(
        told(&black, &fill("0 0 0 1 k", "20 20 60 60")),
        warning("4.5 cm² painted in Black 100 %; ours has 3.7 cm²")
    );
    assert_eq!(told(&black, "n"), error("Black 100 % is gone; ours paints 3.7 cm² in it"));

    let picture = |ours: &PrintedPage, back: &PrintedPage| -> Vec<(Severity, String)> {
        differences(ours, back).into_iter().map(|one| (one.severity, one.message)).collect()
    };
    // 0 is 48 of 255, 18.8 %, and P 80, 31.4 %. In the last one a pixel changes places with its neighbour.
    let ours = with_picture("DeviceCMYK", "P000000000000000");
    assert_eq!(picture(&ours, &with_picture("DeviceCMYK", "P000000000000000")), []);
    let moved = picture(&ours, &with_picture("DeviceCMYK", "0000P00000000000"));
    assert_eq!(moved[0].0, Severity::Note, "{moved:?}");
    let other = picture(&ours, &with_picture("DeviceCMYK", "P0P0P0P0P0P0P0P0"));
    let message = "a picture of 2 × 2 pixels, DeviceCMYK has other colours, in the mean Cyan 31.4 % in place of 22 %, \
                   Yellow 31.4 % in place of 18.8 %";
    assert_eq!(other, error(message));
    assert_eq!(picture(&ours, &with_picture("DeviceRGB", "P00000000000")).len(), 2);
}

#[test]
fn hostile_files_are_refused_or_read_in_bounds() {
    for bytes in [&b""[..], b"%PDF-1.7", b"%PDF-1.7\n1 0 obj << /Type /Catalog /Pages 1 0 R >>", &[0xff; 4096]] {
        assert!(read_pdf(bytes).is_err());
    }
    // A form that places itself.
    let round = "/XObject << /F 4 0 R >>";
    let page = read_pdf(&pdf("", round, "/F Do 0 0 9 9 re f"));
    assert!(page.is_ok_and(|page| page.painted >= 1));
    // A form that turns out damaged only behind a filter that takes long, placed again and again.
    let digits = "0".repeat(1 << 20);
    let form = format!(
        "<< /Subtype /Form /Filter [/ASCIIHexDecode /Crypt] /Length {} >>\nstream\n{digits}\nendstream",
        digits.len()
    );
    let again = pdf_with("", "/XObject << /F 5 0 R >>", &"/F Do ".repeat(2000), &[form]);
    assert!(read_pdf(&again).is_ok_and(|page| page.is_cut_short));
    // States saved without end.
    assert!(read_pdf(&pdf("", "", &"q ".repeat(100_000))).is_ok());
    let twice = b"%PDF-1.7\n4 0 obj << /Filter [/FlateDecode /FlateDecode] /Length 9 >>\nstream\n\x78\x9c".to_vec();
    assert!(read_pdf(&twice).is_err_and(|why| why.contains("compressed twice")));
    // 600 MB of nothing in 600 kB.
    let packed = deflate_fast(&vec![0; 600 << 20]);
    let mut bomb = b"%PDF-1.7\n4 0 obj << /Filter /FlateDecode >>\nstream\n".to_vec();
    bomb.extend(packed);
    assert!(read_pdf(&bomb).is_err_and(|why| why.contains("inflate to more than 512 MB")));
}
