//! PDFs of printers: what was lost on the way, and a keyline against the sheet.
#![expect(clippy::disallowed_methods, reason = "it plays the author and the printer, who have files")]

#[path = "kit/spoken.rs"]
mod spoken;

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
    assert!(out.contains("its trim is 280 mm wide; ours is 278 mm"), "{out}");
    assert!(out.contains("from the left of the trim; ours folds at 149 mm"), "{out}");
    assert!(!out.contains("ours folds at 129 mm"), "{out}");
}
