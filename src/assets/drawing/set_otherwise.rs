//! Text that is set otherwise than the file says: fonts that stand in for others, and text along paths that is lost.

use crate::assets::drawing::hostile::chain;
use crate::assets::drawing::lettering::{OTHER, near, outlines, reach, said, set};
use crate::ground::{Severity, Shape as _};

const HEBREW: &str = "\u{5d0}\u{5d1}";

/// A second font stands in only for what would be missing otherwise.
#[test]
fn a_piece_in_a_font_of_its_own_leaves_the_others_alone() {
    let salt = |list: &str, more: &str| format!("<text font-size='40' y='50' font-family='{list}'>Salt {more}</text>");
    let hebrew = format!("<tspan font-family='Frank Ruhl Libre'>{HEBREW}</tspan>");
    let alone = set(&salt("League Gothic", &hebrew));
    let listed = set(&salt("League Gothic, Frank Ruhl Libre", &hebrew));
    assert_eq!((said(&listed), listed.left_out.as_slice()), (vec![], &[][..]));
    near(reach(&listed), reach(&alone));
    assert!((outlines(&listed).area() - outlines(&alone).area()).abs() < 0.01);
}

/// Where one must stand in, the reader sets all of the piece in it.
#[test]
fn letters_in_a_font_that_only_stands_in_are_named() {
    let both = set("<text y='20' font-family='League Gothic, Frank Ruhl Libre'>A\u{5d0} B</text>");
    assert_eq!(said(&both), []);
    let wanted = "letters in \"Frank Ruhl Libre\", though \"League Gothic\" is named before it and has them";
    assert_eq!(both.left_out, [wanted]);
    let all = set(&format!("<text y='20' font-family='League Gothic, Frank Ruhl Libre'>{HEBREW} {HEBREW}</text>"));
    assert_eq!((said(&all), all.left_out.as_slice()), (vec![], &[][..]));
}

/// A letter that another text has in another font is not set for that.
#[test]
fn a_letter_is_missing_though_another_text_has_it() {
    let lost = "<text y='20' font-family='League Gothic'>\u{5d0}</text>";
    let found = "<text y='50' font-family='Frank Ruhl Libre'>\u{5d0}</text>";
    let wanted = "has text in LeagueGothic-Regular, which has no \u{5d0} (U+05D0)";
    for body in [format!("{lost}{found}"), format!("{found}{lost}")] {
        assert_eq!(said(&set(&body)), [(Severity::Error, "missing-glyph", wanted)]);
    }
}

/// Each list is its own, and all of it is tried.
#[test]
fn fonts_of_one_list_do_not_serve_another() {
    let text = |list: &str, words: &str| format!("<text y='20' font-family='{list}'>{words}</text>");
    let other = text("League Gothic, Frank Ruhl Libre", "\u{5d0}");
    let asked = text("League Gothic, Inter", "A\u{5d0}");
    let wanted = "has text in LeagueGothic-Regular, which has no \u{5d0} (U+05D0)";
    let drawing = set(&format!("{other}{asked}"));
    assert!(said(&drawing).contains(&(Severity::Error, "missing-glyph", wanted)), "{:?}", said(&drawing));
    // No font of the list has the first letter; the second has the other.
    let missing = set(&text("League Gothic, Frank Ruhl Libre", "A\u{92e}\u{5d0}"));
    let wanted = "has text in LeagueGothic-Regular, which has no \u{92e} (U+092E)";
    assert_eq!(said(&missing), [(Severity::Error, "missing-glyph", wanted)]);
}

/// A message stays short.
#[test]
fn many_missing_letters_are_counted() {
    let letters: String = ('\u{904}'..'\u{914}').collect();
    let drawing = set(&format!("<text y='20' font-family='League Gothic'>A{letters}</text>"));
    let [(_, _, message)] = said(&drawing)[..] else { panic!("{:?}", said(&drawing)) };
    assert!(message.ends_with("(U+090D) and 6 more"), "{message}");
}

#[test]
fn text_along_a_path_is_lost_by_its_place() {
    let text = |said: &str, words: &str| {
        format!("<text font-family='Inter'><textPath href='#p' {said}>{words}</textPath></text>")
    };
    let path = "<path id='p' d='M0 50H60' fill='none'/>";
    let far = text("startOffset='900'", "Salt");
    let left_out = |body: &str| set(&format!("{OTHER}{path}{body}")).left_out.join("; ");
    let lost = "text along a path that it does not fit on";
    assert_eq!(left_out(&format!("<g style='display:inline'>{far}</g>")), lost);
    // What is drawn twice makes up for nothing.
    let twice = format!("<g id='u'>{}</g><use href='#u' y='9'/>", text("", "Sea"));
    assert_eq!(left_out(&format!("{twice}{far}")), lost);
    let sheet = "<style>.off{display:none} .veiled{visibility:hidden}</style>";
    for unseen in [
        format!("<symbol>{far}</symbol>"),
        format!("<pattern id='q'>{far}</pattern>"),
        format!("<g style='display: none'>{far}</g>"),
        format!("{sheet}<g class='off'>{far}</g>"),
        format!("{sheet}<g class='veiled'>{far}</g>"),
    ] {
        assert_eq!(left_out(&unseen), "", "{unseen}");
    }
    let nowhere = far.replace("#p", "#q");
    assert_eq!(left_out(&nowhere), "text along a path that is not in the file (`#q`)");
}

#[test]
fn what_css_says_of_letters_and_spaces_is_named() {
    let left_out = |style: &str, words: &str| {
        set(&format!("<text y='20' font-family='Inter' style='{style}'>{words}</text>")).left_out.join("; ")
    };
    let variants =
        ["font-variant-caps:small-caps", "font-variant-numeric:oldstyle-nums", "font-variant-ligatures:none"];
    for style in variants {
        assert_eq!(left_out(style, "a"), "a `font-variant` of CSS", "{style}");
    }
    assert_eq!(left_out("font-size-adjust:0.5", "a"), "another size of letters by CSS (`font-size-adjust`)");
    assert_eq!(left_out("white-space:pre", "a  b"), "white space that CSS keeps (`white-space`)");
    assert_eq!(left_out("baseline-shift:var(--b)", "a"), "a `var()` of CSS");
    for quiet in
        ["font-variant-caps:normal", "font-variant-east-asian:inherit", "white-space:pre", "font-size-adjust:none"]
    {
        assert_eq!(left_out(quiet, "a b"), "", "{quiet}");
    }
    assert_eq!(left_out("white-space:pre' xml:space='preserve", "a  b"), "");
}

/// 20,000 letters are compared with no name of a font, and a message stays short.
#[test]
fn a_very_long_name_of_a_font_is_shortened() {
    let name = "q".repeat(20_000);
    let drawing = set(&format!("{OTHER}<text y='20' font-family='{name}'>a</text>"));
    let [(_, _, message)] = said(&drawing)[..] else { panic!("{:?}", said(&drawing)) };
    assert_eq!(message, format!("has text that is left out: there is no font \"{}…\"", "q".repeat(60)));
    let long = "a".repeat(1001);
    assert_eq!(crate::assets::nearest(&long, [&long[1..]].into_iter()), None);
}

/// However many fonts are missing.
#[test]
fn fonts_that_are_missing_are_named_up_to_a_number() {
    let texts = chain(60, |at, _| format!("<text y='20' font-family='&quot;Nowhere {at}&quot;'>a</text>"));
    assert_eq!(said(&set(&format!("{OTHER}{texts}"))).len(), 50);
}
