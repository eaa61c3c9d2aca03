//! Pictures for shops, as Pillow and Little CMS read them: pixels, profile, weight, and the same front as in print.

use crate::kit::{cover, shown};
use crate::python::python;

/// 129 × 198 mm at 2 pixels a millimetre, behind a spine of whole millimetres, so that no pixel lies on a fold.
const COVER: &str = r#"
book { title "Salt"; author "Mirela Anand"; pages 320 }
format paperback { trim 129 198; paper caliper=0.12; spine 20 }
waive facts-disagree reason="whole millimetres"
waive thumbnail reason="a small picture"
waive few-pixels reason="a small picture"
swatches {
    spot foil ink="Gold foil" c=20 m=30 y=70 finishing=foil
    swatch night c=92 m=74 y=38 k=42
    swatch sea c=60 m=20 y=10 k=0
}
wrap {
    band ground { gradient night sea angle=80; left bleed; right bleed; top bleed; bottom bleed }
    band ribbon { swatch foil; left bleed; right bleed; top 60; height 8 }
}
panel front {
    text title words="HHH" { font Inter weight=bold; size 60; swatch unprinted; left safe 5; right safe; top 20 }
    text author words="{author}" { font Inter weight=bold; size 28; swatch unprinted; left safe 5; right safe; bottom safe 5 }
}
panel back { text praise words="A novel of the sea" { size 12; swatch unprinted; left safe; right safe; top 20 } }
deliver { panels ppi=50.8; screen png; shop 300 300 png ratio=extend swatch=night }
edition same { format screen { pixels 258 396 } }
edition ebook { format screen { pixels 1000 1600 }; deliver { screen jpeg quality=95 } }
edition square { format screen { pixels 396 396 } }
edition light { format screen { pixels 1000 1600 }; deliver { screen jpeg at-most="90 kB" } }
"#;

#[test]
fn fronts_for_screens_are_what_they_say() {
    let built = cover("screens", COVER, &[], &["--only", "panels,screen,shop"]);
    let files =
        ["front.png", "same-screen.png", "ebook-screen.jpg", "square-screen.png", "light-screen.jpg", "shop.png"];
    let files = files.map(|file| shown(&built.file(file)));
    let said = python("screens.py", &files.each_ref().map(String::as_str));
    assert_eq!(said.trim(), "well", "{said}");
    for none in ["same-press.pdf", "same-front.png", "same-flat.png", "screen.png", "same-shop.png"] {
        assert!(!built.file(none).exists(), "{none}");
    }
}

/// The cover with a picture of the book, an alternative text and words that somebody approved: by the first digits of the
/// SHA-256 of `A novel of the sea`, its length in eight bytes before it.
fn approved(praise: &str) -> String {
    COVER
        .replace(
            "pages 320 }",
            "pages 320; language en-GB; version 4 date=\"2026-04-02\"; alt-text \"HHH & <night>\" }",
        )
        .replace("{ size 12;", "{ approved by=\"M. Anand\" words=\"ce4b257c\"; size 12;")
        .replace("A novel of the sea", praise)
        .replace("deliver {", "view standing { pixels 200 160; layers #true }\ndeliver {")
}

#[test]
fn pictures_say_what_they_show_and_in_which_version() {
    for (name, praise, standing) in [
        ("approved", "A novel of the sea", "approved by M. Anand"),
        ("changed", "A novel of the sky", "changed since the approval by M. Anand"),
    ] {
        let built = cover(name, &approved(praise), &[], &["--only", "press,screen,shop,view"]);
        let files = ["press.pdf", "shop.png", "view-standing.png", "view-standing-shadow.png", "ebook-screen.jpg"];
        let files = files.map(|file| shown(&built.file(file)));
        let said = python("says.py", &[standing, &files[0], &files[1], &files[2], &files[3], &files[4]]);
        assert_eq!(said.trim(), "well", "{said}");
    }
}
