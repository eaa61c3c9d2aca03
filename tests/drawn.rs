//! Returned PDFs: what of a page is drawn, what is named in place of that, and what stops at a bound.
#![expect(clippy::disallowed_methods, reason = "it plays the printer, who has files")]

#[path = "kit/objects.rs"]
mod objects;
#[path = "kit/spoken.rs"]
mod spoken;

use objects::pdf;
use spoken::jaconet;
use std::fmt::Write as _;

/// What cannot be drawn is named, and no plate is called equal.
#[test]
fn what_cannot_be_drawn_is_named() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let page = |content: &str| {
        let objects = [
            "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_owned(),
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 300 300] /Contents 4 0 R /Resources << /Font << /F << /Type /Font \
             /Subtype /Type1 /BaseFont /Helvetica >> >> >> >>"
                .to_owned(),
            format!("<< /Length {} >>\nstream\n{content}\nendstream", content.len()),
        ];
        pdf(&objects)
    };
    let plain = "0 0 0 0.5 k 20 20 100 100 re f";
    std::fs::write(home.path().join("sent.pdf"), page(plain)).expect("is written");
    // A few kilobytes that would be drawn for minutes.
    let heap = "0 0 300 300 re f ".repeat(3000);
    for (content, told) in [
        (&heap[..], "more marks over each other than are drawn"),
        (plain, "and its plates, drawn within the bleed"),
        ("1 0 0 rg 20 20 100 100 re f", "these cannot be: colours in RGB"),
        ("0 0 0 0.5 k BT /F 20 Tf 40 40 Td (Salt) Tj ET", "words in the font Helvetica, whose letters are numbered"),
        ("q 50 0 0 50 20 20 cm BI /W 1 /H 1 /BPC 8 /CS /RGB ID xxx EI Q", "these cannot be: pictures in RGB"),
    ] {
        std::fs::write(home.path().join("back.pdf"), page(content)).expect("is written");
        let (_, out, error) = jaconet(home.path(), &["compare", "sent.pdf", "back.pdf"]);
        assert!(out.contains(told), "{content}: {out}{error}");
        assert_eq!(out.contains("its plates were not drawn"), content != plain, "{out}");
    }
}

/// A page with all that its resources may hold; objects from the sixth on are its own.
fn page_of(content: &str, resources: &str, others: &[&str]) -> Vec<u8> {
    let mut objects = vec![
        "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_owned(),
        "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 300 300] /Contents 4 0 R /Resources 5 0 R >>".to_owned(),
        stream("", content),
        format!("<< {resources} >>"),
    ];
    objects.extend(others.iter().map(|other| (*other).to_owned()));
    pdf(&objects)
}

fn stream(dict: &str, content: &str) -> String {
    format!("<< {dict} /Length {} >>\nstream\n{content}\nendstream", content.len())
}

/// A folder with what was sent.
fn home_of(content: &str) -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(home.path().join("sent.pdf"), page_of(content, "", &[])).expect("is written");
    home
}

/// What is said of a page that came back.
fn says(home: &tempfile::TempDir, content: &str, resources: &str, others: &[&str], told: &str) {
    std::fs::write(home.path().join("back.pdf"), page_of(content, resources, others)).expect("is written");
    let (_, out, error) = jaconet(home.path(), &["compare", "sent.pdf", "back.pdf"]);
    let (content, others): (String, String) =
        (content.chars().take(80).collect(), others.concat().chars().take(200).collect());
    assert!(out.contains(told), "{content} {resources:.200} {others}: {out}{error}");
}

/// What would print otherwise than it is drawn is named; what would take memory or time without bound stops at a bound.
#[test]
fn what_would_be_drawn_wrong_or_without_end_is_named() {
    let stencil = "q 50 0 0 50 20 20 cm BI /W 8 /H 1 /IM true ID x EI Q";
    let black = "0 0 0 1 k 20 20 100 100 re f";
    let run = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 1] /N 1 >>";
    let shading = |function: &str| {
        format!(
            "<< /PatternType 2 /Shading << /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [0 0 300 0] /Extend [true true] \
             /Function {function} >> >>"
        )
    };
    let (plain, heavy) = (shading(run), shading("6 0 R"));
    // Four objects that would be 256 × 256 × 256 functions.
    let many = |to: &str| {
        let bounds: Vec<String> = (1..256).map(|at| format!("{}", f64::from(at) / 256.0)).collect();
        format!(
            "<< /FunctionType 3 /Domain [0 1] /Functions [{}] /Bounds [{}] /Encode [{}] >>",
            to.repeat(256),
            bounds.join(" "),
            "0 1 ".repeat(256)
        )
    };
    let (outer, middle) = (many("7 0 R "), many("8 0 R "));
    let inner = many("9 0 R ");
    // 16 MB that a function of two samples stands in, opened 70 times.
    let long = stream(
        "/FunctionType 0 /Domain [0 1] /Range [0 1 0 1 0 1 0 1] /Size [2] /BitsPerSample 8",
        &"0".repeat(16 << 20),
    );
    let profile = stream("/N 4 /Alternate /DeviceCMYK", "profile");
    let state = |entry: &str| format!("/ExtGState << /M << {entry} >> >>");
    let pattern = |one: &str| format!("/Pattern << /P {one} >>");
    let of_stencil = format!("/Pattern cs /P scn {stencil}");
    let of_mask = format!("/M gs {black}");
    let nested = "10 10 50 50 re W n ".repeat(60_000);
    let again = format!("/Pattern cs {}", "/P scn ".repeat(70));
    // A million bends, laid for each of many shapes.
    let samples = "/FunctionType 0 /Domain [0 1] /Range [0 1 0 1 0 1 0 1] /Size [4096] /BitsPerSample 8";
    let (bent, samples) = (many("7 0 R "), stream(samples, &"abcdefgh".repeat(2048)));
    let shapes = format!("/Pattern cs /P scn {}", "20 20 9 9 re f ".repeat(500));
    let cases: [(&str, String, &[&str], &str); 13] = [
        (black, String::new(), &[], "and its plates, drawn"),
        (stencil, String::new(), &[], "and its plates, drawn"),
        ("/Pattern cs /P scn 20 20 100 100 re f", pattern(&plain), &[], "and its plates, drawn"),
        (&of_mask, state("/LC 1 /LJ 1 /ML 4 /D [[3 2] 0] /TR2 /Default"), &[], "and its plates, drawn"),
        (&nested, String::new(), &[], "clips within clips, deeper than they are followed"),
        (&of_stencil, pattern(&plain), &[], "pictures of one bit that a shading is laid through"),
        ("/M gs 0 g 20 20 100 100 re f", state("/OP true /OPM 1"), &[], "grey that overprints spot inks alone"),
        (
            "/C cs 0 0 0 1 sc 20 20 100 100 re f",
            "/ColorSpace << /C [/ICCBased 6 0 R] >>".to_owned(),
            &[&profile],
            "of the kind ICCBased",
        ),
        (
            "/Pattern cs /P scn 20 20 100 100 re f",
            pattern(&heavy),
            &[&outer, &middle, &inner, run],
            "a shading whose colours are not read",
        ),
        (&shapes, pattern(&heavy), &[&bent, &samples], "a shading of very many colours"),
        (&again, pattern(&heavy), &[&long], "more than 1 GB of streams and pictures"),
        (&of_mask, state("/TR2 /Other"), &[], "transfer curves of a graphics state"),
        (&of_mask, state("/Font [6 0 R 12]"), &["<< >>"], "a font that a graphics state sets"),
    ];
    let home = home_of(black);
    for (content, resources, others, told) in cases {
        says(&home, content, &resources, others, told);
    }
    // Of notes on a page, those print that ask for it (ISO 32000-1, table 165).
    let noted = |entry: &str| {
        let page = String::from_utf8(page_of(black, "", &[])).expect("text");
        std::fs::write(home.path().join("back.pdf"), page.replace("/MediaBox", &format!("{entry} /MediaBox")))
            .expect("is written");
        jaconet(home.path(), &["compare", "sent.pdf", "back.pdf"]).1
    };
    assert!(noted("/Annots [<< /Subtype /Stamp /F 4 >>]").contains("annotations that print"));
    assert!(noted("/Annots [<< /Subtype /Link >>]").contains("and its plates, drawn"));
    assert!(noted("/UserUnit 2").contains("a page in units of its own"));
}

/// A mask is painted like a page, as deep and as often as others are.
#[test]
fn what_is_behind_a_mask_is_drawn_or_named() {
    let black = "0 0 0 1 k 20 20 100 100 re f";
    let form = stream(
        "/Type /XObject /Subtype /Form /BBox [0 0 300 300] /Group << /S /Transparency /CS /DeviceGray >> \
         /Resources << /XObject << /I 7 0 R >> >>",
        "q 300 0 0 300 0 0 cm /I Do Q",
    );
    let light =
        stream("/Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8", "~");
    let masked = "/ExtGState << /M << /SMask << /S /Luminosity /G 6 0 R >> >> >>";
    let of_form = |resources: &str, content: &str| {
        stream(&format!("/Subtype /Form /BBox [0 0 300 300] /Group << /S /Transparency >> {resources}"), content)
    };
    let multiplied = of_form(
        "/Resources << /ExtGState << /M << /BM /Multiply >> >> >>",
        "0.5 g 0 0 300 300 re f /M gs 0 0 300 300 re f",
    );
    let coloured = of_form("", "0 0 0 1 k 0 0 300 300 re f");
    // Masks behind masks.
    let behind = |at: usize| {
        let next = masked.replace('6', &(at + 1).to_string());
        of_form(&format!("/Resources << {next} >>"), "/M gs 1 g 0 0 300 300 re f")
    };
    let within: Vec<String> = (6..20).map(behind).collect();
    let within: Vec<&str> = within.iter().map(String::as_str).collect();
    let full = of_form("", &"1 g 0 0 300 300 re f ".repeat(50));
    let fine = of_form("", &format!("1 g 0 0 m {} f", "9 9 l 0 9 l ".repeat(60_000)));
    let many_masked = format!("/M gs {}", "0 0 0 1 k 20 20 9 9 re f ".repeat(100));
    let stencil = "/M gs q 50 0 0 50 20 20 cm BI /W 8 /H 1 /IM true ID x EI Q";
    let one = format!("/M gs {black}");
    let home = home_of(black);
    let cases: [(&str, &[&str], &str); 7] = [
        (&one, &[&form, &light], "and its plates, drawn"),
        (stencil, &[&form, &light], "and its plates, drawn"),
        (&one, &[&multiplied], "a soft mask with the blend Multiply"),
        (&one, &[&coloured], "soft masks in other colours than grey"),
        (&one, &within, "forms within forms, deeper than they are followed"),
        (&many_masked, &[&full], "more marks over each other than are drawn"),
        (&many_masked, &[&fine], "more corners than are followed"),
    ];
    for (content, others, told) in cases {
        says(&home, content, masked, others, told);
    }
}

/// A mask that is set again is not painted again: its instructions, 600 times 4000, would be more than are followed. One that
/// is set elsewhere is.
#[test]
fn a_mask_is_painted_once_for_each_place() {
    let masked = "/ExtGState << /M << /SMask << /S /Luminosity /G 6 0 R >> >> >>";
    let half = |content: &str| {
        stream("/Subtype /Form /BBox [0 0 160 300] /Group << /S /Transparency >> /Resources << >>", content)
    };
    let (often, once) = (half(&"1 g ".repeat(4000)), half("1 g 0 0 160 300 re f"));
    let black = "0 0 0 1 k 0 0 300 300 re f";
    let home = home_of(black);
    let again = format!("{} {black} /N gs {black}", "/M gs ".repeat(600));
    let twice = format!("/M gs {black} 1 0 0 1 140 0 cm /M gs {black}");
    let bare = masked.replace(">> >> >>", ">> >> /N << /SMask /None >> >>");
    for told in ["nothing was lost or changed", "and its plates, drawn"] {
        says(&home, &again, &bare, &[&often], told);
        says(&home, &twice, masked, &[&once], told);
    }
    says(&home, &format!("/M gs {black} /M gs {black}"), masked, &[&once], "error: ");
}

/// A number beyond the highest that a table states is that one, whatever the table holds beyond it (ISO 32000-1, 8.6.6.3).
#[test]
fn a_table_ends_at_its_highest_number() {
    let page = |table: &str| {
        page_of(&format!("q 99 0 0 99 20 20 cm BI /W 1 /H 1 /BPC 8 /CS [/I /CMYK {table}] ID ~ EI Q"), "", &[])
    };
    let home = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(home.path().join("sent.pdf"), page("0 <000000ff>")).expect("is written");
    for (table, is_same) in [("0 <000000ff>", true), ("0 <000000ff00000000>", true), ("1 <000000ff00000000>", false)] {
        std::fs::write(home.path().join("back.pdf"), page(table)).expect("is written");
        let (_, out, error) = jaconet(home.path(), &["compare", "sent.pdf", "back.pdf"]);
        assert!(out.contains("and its plates, drawn"), "{table}: {out}{error}");
        assert_eq!(!out.contains("the plate \"Black\" differ"), is_same, "{table}: {out}");
    }
}

/// A page of words in a font of its own.
fn page_of_words(widths: &str, content: &str) -> Vec<u8> {
    let file = include_bytes!("../fonts-open/LeagueGothic/LeagueGothic-Regular.ttf");
    let hex = file.iter().fold(String::new(), |mut hex, byte| {
        write!(hex, "{byte:02x}").expect("a string takes every line");
        hex
    });
    let program = stream("/Filter /ASCIIHexDecode", &format!("{hex}>"));
    let font = format!(
        "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Own /CIDToGIDMap /Identity /DW 1000 /W [{widths}] /CIDSystemInfo << \
         /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor << /Type /FontDescriptor /FontName /Own \
         /FontFile2 6 0 R >> >>"
    );
    let resources = format!(
        "/Font << /F << /Type /Font /Subtype /Type0 /BaseFont /Own /Encoding /Identity-H /DescendantFonts [{font}] >> >>"
    );
    page_of(content, &resources, &[&program])
}

/// Glyphs without an outline count as well.
#[test]
fn words_of_too_many_corners_are_named() {
    let home = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(home.path().join("sent.pdf"), page_of("", "", &[])).expect("is written");
    let many = format!("BT /F 40 Tf 20 40 Td ({}) Tj ET", "~~".repeat(6_000_001));
    std::fs::write(home.path().join("back.pdf"), page_of_words("", &many)).expect("is written");
    let (_, out, error) = jaconet(home.path(), &["compare", "sent.pdf", "back.pdf"]);
    assert!(out.contains("more corners than are followed"), "{out}{error}");
}

/// `W` has two forms (ISO 32000-1, 9.7.4.3); in either, words stand where their widths put them.
#[test]
fn widths_are_read_in_both_their_forms() {
    let page = |widths: &str| page_of_words(widths, "BT /F 40 Tf 20 40 Td <002400250026> Tj ET");
    let home = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(home.path().join("sent.pdf"), page("36 [500 500 500]")).expect("is written");
    let plates = |widths: &str| {
        std::fs::write(home.path().join("back.pdf"), page(widths)).expect("is written");
        let (_, out, error) = jaconet(home.path(), &["compare", "sent.pdf", "back.pdf"]);
        assert!(out.contains("and its plates, drawn") || widths.starts_with("0 65535"), "{out}{error}");
        out
    };
    for same in ["36 [500 500 500]", "36 38 500", "36 36 500 37 [500] 38 38 500", "1 2 300 36 38 500"] {
        let out = plates(same);
        assert!(!out.contains("(plates)"), "{same}: {out}");
    }
    for other in ["36 38 700", "36 [500] 37 38 900", ""] {
        let out = plates(other);
        assert!(out.contains("the plate \"Black\" differ"), "{other}: {out}");
    }
    let out = plates("0 65535 500 0 65535 500");
    assert!(out.contains("whose widths are damaged, or more than there are glyphs"), "{out}");
}
