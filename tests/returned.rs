//! PDFs of printers: what was lost on the way, and a keyline against the sheet.
#![expect(clippy::disallowed_methods, reason = "it plays the author and the printer, who have files")]

#[path = "kit/objects.rs"]
mod objects;
#[path = "kit/spoken.rs"]
mod spoken;

use objects::pdf;
use spoken::jaconet;

const COVER: &str = "book { title \"Salt and Lanterns\"; pages 320; isbn \"978-1-83742-615-7\" }
format paperback { trim 129 198; spine 20 }
swatches { spot copper ink=\"Copper\" c=10 m=50 y=60 }
panel front {
    band sky { swatch copper; left fold -1.5; right bleed; top bleed; height 80 }
    text title words=\"{title}\" { size 20; left safe; right safe; top 90 }
}
panel back { barcode code { right safe; bottom safe; scale 100 } }
";

/// The spine is the printer's own, and the drawing has no bars.
const WAIVED: &str = "waive facts-disagree reason=\"the printer said so\"
";

#[test]
fn what_came_back_is_held_against_what_was_sent() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let built = |name: &str, text: &str| {
        std::fs::write(home.path().join(format!("{name}.kdl")), text).expect("is written");
        let file = format!("{name}.kdl");
        let (exit, _, error) = jaconet(home.path(), &["build", &file, "--only", "press", "--out", "out"]);
        assert_eq!(exit, 0, "{error}");
        format!("out/{name}-press.pdf")
    };
    let sent = built("sent", COVER);
    let (exit, out, error) = jaconet(home.path(), &["compare", &sent, &sent]);
    assert_eq!((exit, out.contains("nothing was lost or changed")), (0, true), "{out}{error}");
    let back = COVER.replace("spot copper ink=\"Copper\"", "swatch copper").replace("spine 20", "spine 21");
    let back = format!("{back}{WAIVED}");
    let (exit, out, _) = jaconet(home.path(), &["compare", &sent, &built("back", &back)]);
    assert_eq!(exit, 1);
    assert!(out.contains("error: nothing is printed in the spot ink \"Copper\" any more"), "{out}");
    assert!(out.contains("error: its TrimBox is 279 × 198 mm; ours is 278 × 198 mm"), "{out}");
    // The black of the words was mixed on the way.
    let mixed =
        COVER.replace("size 20;", "size 20; swatch deep;").replace("swatches {", "swatches { swatch deep c=60 k=100;");
    let (exit, out, _) = jaconet(home.path(), &["compare", &sent, &built("mixed", &mixed)]);
    assert_eq!(exit, 1);
    assert!(out.contains("Cyan 60 %, Black 100 %"), "{out}");
    let (exit, _, error) = jaconet(home.path(), &["compare", &sent, "sent.kdl.pdf"]);
    assert_eq!((exit, error.contains("sent.kdl.pdf")), (2, true), "{error}");
}

#[test]
fn a_cover_is_held_against_the_printers_keyline() {
    let home = tempfile::tempdir().expect("a temporary folder");
    // The printer's own spine is 22 mm wide. Its folds are drawn as thin upright lines over the whole height.
    std::fs::write(home.path().join("cover.kdl"), COVER).expect("is written");
    let bands = "wrap {
    band one { swatch black; left trim 128.95; width 0.1; top trim 0; height 198 }
    band two { swatch black; left trim 150.95; width 0.1; top trim 0; height 198 }
}
";
    let keyline =
        format!("book {{ title \"K\"; pages 320 }}\nformat paperback {{ trim 129 198; spine 22 }}\n{bands}{WAIVED}");
    std::fs::write(home.path().join("keyline.kdl"), keyline).expect("is written");
    let (_, _, error) = jaconet(home.path(), &["build", "keyline.kdl", "--only", "press", "--out", "out"]);
    let (exit, out, more) = jaconet(home.path(), &["compare", "cover.kdl", "out/keyline-press.pdf"]);
    assert_eq!(exit, 1, "{error}{more}");
    assert!(out.contains("the keyline's trim is 280 mm wide; ours is 278 mm"), "{out}");
    assert!(out.contains("from the left of the trim; ours folds at 149 mm"), "{out}");
    assert!(!out.contains("ours folds at 129 mm"), "{out}");
}

/// The file is named by the cover: what differs is found at every check, and its lines lie over the proof. What cannot be read
/// is an error at the line.
#[test]
fn a_cover_names_its_keyline() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let write = |name: &str, bytes: &[u8]| std::fs::write(home.path().join(name), bytes).expect("is written");
    let paper = "paper grammage=80 bulk=1.5; cover-stock caliper=0.3";
    let cover = |line: &str, spine: &str| format!("{}{line}\n", COVER.replace("spine 20", &format!("{paper}{spine}")));
    // Drawn for a spine of 19.8 mm.
    write("keyline.pdf", include_bytes!("pictures/keyline.pdf"));
    write("fits.kdl", cover("keyline \"keyline.pdf\"", "").as_bytes());
    write("wide.kdl", cover("keyline \"keyline.pdf\"", "; spine 20.5").as_bytes());
    let (exit, _, error) = jaconet(home.path(), &["build", "fits.kdl", "--only", "proof", "--out", "out"]);
    assert_eq!((exit, error.contains("keyline-differs")), (0, false), "{error}");
    let (exit, _, error) = jaconet(home.path(), &["check", "wide.kdl"]);
    assert_eq!(exit, 1, "{error}");
    assert!(error.contains("the keyline folds 148.8 mm from the left of the trim; ours folds at 149.5 mm"), "{error}");
    // The proof has several pages, one of them with the layer.
    let proof = std::fs::read(home.path().join("out/fits-proof.pdf")).expect("it was built");
    write("many.pdf", &proof);
    write("cut.pdf", &proof[..proof.len() / 3]);
    let locked = String::from_utf8_lossy(include_bytes!("pictures/keyline.pdf")).replace(
        "/Root 1 0 R",
        "/Root 1 0 R /Encrypt << /Filter /Standard /V 1 /R 2 /P -4 /O (01234567890123456789012345678901) \
         /U (01234567890123456789012345678901) >> /ID [(a) (a)]",
    );
    write("locked.pdf", locked.as_bytes());
    for (line, told) in [
        ("keyline \"none.pdf\"", "there is no such file"),
        ("keyline \"cut.pdf\"", "cannot be read"),
        ("keyline \"fits.kdl\"", "it is not a PDF, or a damaged one"),
        ("keyline \"locked.pdf\"", "it is locked by a password"),
        ("keyline \"many.pdf\"", "say which one shows the outside of the cover: `page=1`"),
        ("keyline \"many.pdf\" page=90", "and no page 90"),
    ] {
        write("faulty.kdl", cover(line, "").as_bytes());
        let (exit, _, error) = jaconet(home.path(), &["check", "faulty.kdl"]);
        assert_eq!((exit, error.contains(told), error.contains(line)), (1, true, true), "{line}: {error}");
    }
    write("one.kdl", cover("keyline \"many.pdf\" page=1", "").as_bytes());
    let (_, _, error) = jaconet(home.path(), &["check", "one.kdl"]);
    assert!(!error.contains("cannot be read") && !error.contains("say which one"), "{error}");
}

/// Inside and outside of a cover as two pages, as printers send them for a printed inside; only one is held against the sheet.
#[test]
fn the_page_of_a_keyline_that_is_named_is_measured() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let cover = |line: &str| {
        let paper = "paper grammage=80 bulk=1.5; cover-stock caliper=0.3";
        format!("{}{line}\n", COVER.replace("spine 20", paper))
    };
    // The inside is drawn for a spine of 30 mm, the outside for one of 19.8 mm: 320 pages of 0.12 mm a leaf and 0.6 mm of stock.
    std::fs::write(home.path().join("both.pdf"), two_pages([30.0, 19.8])).expect("is written");
    let check = |line: &str| {
        std::fs::write(home.path().join("cover.kdl"), cover(line)).expect("is written");
        jaconet(home.path(), &["check", "cover.kdl"]).2
    };
    let outside = check("keyline \"both.pdf\" page=2");
    assert!(!outside.contains("keyline"), "{outside}");
    let inside = check("keyline \"both.pdf\" page=1");
    assert!(inside.contains("the keyline's trim is 288 mm wide; ours is 277.8 mm"), "{inside}");
    assert!(inside.contains("the keyline folds 159 mm from the left of the trim; ours folds at 148.8 mm"), "{inside}");
    let either = check("keyline \"both.pdf\"");
    assert!(either.contains("\"both.pdf\" has 2 pages") && either.contains("page=1"), "{either}");
    let neither = check("keyline \"both.pdf\" page=3");
    assert!(neither.contains("2 pages, and no page 3"), "{neither}");
}

/// Pages of 129 mm, a spine each, and 129 mm, with their folds.
fn two_pages(spines: [f64; 2]) -> Vec<u8> {
    let pt = |mm: f64| mm * 72.0 / 25.4;
    let mut objects = vec![
        "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
        "<< /Type /Pages /Kids [3 0 R 5 0 R] /Count 2 >>".to_owned(),
    ];
    for (at, spine) in spines.into_iter().enumerate() {
        let (left, foot, right, head) = (pt(20.0), pt(20.0), pt(20.0 + 258.0 + spine), pt(218.0));
        objects.push(format!(
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {} {}] /TrimBox [{left} {foot} {right} {head}] /Contents {} 0 R /Resources << >> >>",
            right + left,
            head + foot,
            4 + 2 * at
        ));
        let fold = |x: f64| format!("{0} {foot} m {0} {head} l S", pt(20.0 + x));
        let content = format!("0.35 w {} {}", fold(129.0), fold(129.0 + spine));
        objects.push(format!("<< /Length {} >>\nstream\n{content}\nendstream", content.len()));
    }
    pdf(&objects)
}

/// Everything that plates are drawn of: tints, a spot ink, a gradient, groups, overprint, words, a picture, bars.
const PLATES: &str = "book { title \"Salt and Lanterns\"; pages 320; isbn \"978-1-83742-615-7\" }
format paperback { trim 129 198; spine 20 }
waive low-contrast reason=\"of no account here\"
waive effective-resolution reason=\"of no account here\"
swatches {
    swatch night c=90 m=70 y=30 k=40
    swatch sea c=60 m=20
    swatch haze k=30
    spot copper ink=\"Copper\" c=10 m=50 y=60
    tint pale of=copper percent=40
}
wrap { band ground { gradient night sea angle=80; left bleed; right bleed; top bleed; bottom bleed } }
panel front {
    band sky { swatch copper; left fold; right bleed; top bleed; height 60 }
    oval sun { swatch pale; left 40; width 40; top 80; height 40; opacity 60 }
    band shade { swatch sea; blend multiply; left 20; width 60; top 40; height 60 }
    band box { swatch haze; left 20; width 80; top 150; height 20 }
    text title words=\"{title}\" { font \"Playfair Display\" weight=black; size 30; left safe; right safe; top 120 }
    text note words=\"A tale of seven tides\" { size 14; left 24; width 70; top 154 }
    image grey file=\"grey.jpg\" { left 100; width 12; top 174 }
    image haze file=\"haze.svg\" { left 20; width 24; top 174 }
    image toned file=\"grey.jpg\" { left 84; width 12; top 174; tone black 20 0 100 90; tone copper 0 0 60 80 }
}
panel back {
    text praise words=\"A novel of the sea\" { size 12; left safe; right safe; top 20 }
    barcode code { right safe; bottom safe; scale 100 }
}
";

const HAZE: &str = "<svg xmlns='http://www.w3.org/2000/svg' width='240' height='100'>
<linearGradient id='g'><stop offset='0' stop-color='LIGHT'/><stop offset='1' stop-color='#000'/></linearGradient>
<mask id='m' maskUnits='userSpaceOnUse' x='0' y='0' width='240' height='100'><rect width='240' height='100' fill='url(#g)'/></mask>
<g mask='url(#m)'><rect width='240' height='100' fill='#000'/><path d='M0 50H240' stroke='#fff' stroke-width='20'/></g></svg>";

/// A file that went through ghostscript and came back the same in print says nothing false; one that did not says which
/// plate differs, how much of it and where.
#[test]
fn plates_are_drawn_and_held_against_each_other() {
    let home = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(home.path().join("grey.jpg"), include_bytes!("pictures/grey.jpg")).expect("is written");
    let haze = |name: &str, light: &str| {
        std::fs::write(home.path().join(name), HAZE.replace("LIGHT", light)).expect("is written");
    };
    haze("haze.svg", "#fff");
    haze("dim.svg", "#ccc");
    let built = |name: &str, text: &str| {
        std::fs::write(home.path().join(format!("{name}.kdl")), text).expect("is written");
        let (exit, _, error) =
            jaconet(home.path(), &["build", &format!("{name}.kdl"), "--only", "press", "--out", "out"]);
        assert_eq!(exit, 0, "{error}");
        format!("out/{name}-press.pdf")
    };
    let sent = built("sent", PLATES);
    let through = |file: &str| {
        let words = ["-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-sOutputFile=through.pdf", file];
        let run = std::process::Command::new("gs").args(words).current_dir(home.path()).output();
        assert!(run.is_ok_and(|run| run.status.success()), "ghostscript is installed by tests/run");
        "through.pdf"
    };
    let of_print = ["(plates)", "(inks)", "(pictures)", "(overprint)", "(fonts)", "(text)", "(spots)", "(boxes)"];
    let compared = |returned: &str| {
        let (_, out, error) = jaconet(home.path(), &["compare", &sent, returned]);
        assert!(out.contains("and its plates, drawn within the bleed"), "{out}{error}");
        let lines = out.lines().filter(|line| of_print.iter().any(|about| line.contains(about)));
        lines.map(str::to_owned).collect::<Vec<String>>()
    };
    assert_eq!(compared(&sent), Vec::<String>::new());
    assert_eq!(compared(through(&sent)), Vec::<String>::new(), "unchanged in print");
    // 80 × 20 mm from 149 + 20 mm from the left and 150 mm from the head are 16 cm².
    let tint = compared(through(&built("tint", &PLATES.replace("haze k=30", "haze k=36"))));
    let told = |found: &[String], plate: &str, what: &str| {
        found.iter().any(|line| line.contains(&format!("the plate {plate:?} differ")) && line.contains(what))
    };
    assert!(told(&tint, "Black", "169 to 249 mm from the left and 150 to 170 mm from the head"), "{tint:#?}");
    assert!(told(&tint, "Black", "36 % in the mean, in ours 30 %"), "{tint:#?}");
    assert!(!told(&tint, "Cyan", "") && !told(&tint, "Copper", ""), "{tint:#?}");
    // Black words that no longer overprint leave their shapes in what lies under them.
    let knocked = built("knocked", &PLATES.replace("size 30;", "size 30; swatch black overprint=#false;"));
    let knocked = compared(through(&knocked));
    assert!(told(&knocked, "Cyan", "120 to 128.") && !told(&knocked, "Black", ""), "{knocked:#?}");
    // A toned picture is a table of mixtures, and a weaker curve of one ink another table.
    let toned = compared(through(&built("toned", &PLATES.replace("tone black 20 0 100 90", "tone black 20 0 100 40"))));
    assert!(told(&toned, "Black", "233 to 245 mm from the left") && !told(&toned, "Copper", ""), "{toned:#?}");
    // What is behind a mask prints weaker where the mask is darker.
    let dim = compared(through(&built("dim", &PLATES.replace("haze.svg", "dim.svg"))));
    assert!(told(&dim, "Black", "169 to 188.2 mm from the left") && !told(&dim, "Copper", ""), "{dim:#?}");
    let word = compared(through(&built("word", &PLATES.replace("seven tides", "tides"))));
    assert!(told(&word, "Black", "154 to 157.") && !told(&word, "Cyan", ""), "{word:#?}");
    let moved =
        compared(through(&built("moved", &PLATES.replace("left 40; width 40; top 80", "left 42; width 40; top 80"))));
    assert!(told(&moved, "Copper", "189 to 231 mm from the left and 80 to 120 mm"), "{moved:#?}");
}
