//! Text that is set otherwise than the file says: fonts that stand in for others, and text along paths that is lost.

use crate::assets::Library;
use crate::assets::drawing::hostile::chain;
use crate::assets::drawing::lettering::{FONT, OTHER, near, outlines, own, reach, record, said, set, set_in};
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

#[test]
fn letters_of_one_font_alone_are_no_pieces() {
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

/// What is hidden asks for nothing; what a part that shows again stands behind still takes its room.
#[test]
fn hidden_text_asks_for_no_font() {
    let text = |said: &str, words: &str| format!("<text y='20' font-family='Nowhere' {said}>{words}</text>");
    let sheet = "<style>.veiled{visibility:hidden}</style>";
    for quiet in [
        text("visibility='hidden'", "Salt"),
        text("style='visibility:collapse'", "Salt<tspan>Sea</tspan>"),
        format!("<g visibility='hidden'>{}</g>", text("id='t'", "Salt")),
        format!("{sheet}<g class='veiled'>{}</g>", text("", "\u{92e}")),
        text("visibility='hidden' style='font-family:League Gothic'", "\u{92e}"),
        format!("<defs>{}</defs><use href='#t' visibility='hidden'/>", text("id='t'", "Salt")),
        format!("<defs><g id='t'>{}</g></defs>{sheet}<g class='veiled'><use href='#t'/></g>", text("", "Salt")),
        // The first one is chosen, though nothing of it is seen.
        format!("<switch>{}{}</switch>", text("visibility='hidden'", "Salt"), text("", "Sea")),
    ] {
        let drawing = set(&format!("{OTHER}{quiet}"));
        assert_eq!((said(&drawing), drawing.left_out.as_slice()), (vec![], &[][..]), "{quiet}");
    }
    let wanted = [(Severity::Error, "language", "has text that is left out: there is no font \"Nowhere\"")];
    for asking in [
        text("", "Salt"),
        text("visibility='visible'", "Salt"),
        format!("<g visibility='hidden'>{}</g>", text("visibility='visible'", "Salt")),
        text("visibility='hidden'", "Salt<tspan visibility='visible'>Sea</tspan>"),
        // It shows where it is used by itself.
        format!("<g visibility='hidden'>{}</g><use href='#t'/>", text("id='t'", "Salt")),
        format!("<g visibility='hidden'><g id='t'>{}</g></g><use href='#t'/>", text("", "Salt")),
        format!("<defs>{}</defs><use href='#t' visibility='hidden'/><use href='#t'/>", text("id='t'", "Salt")),
        format!("<defs>{}</defs><use href='#t' visibility='hidden'/>", text("id='t' visibility='visible'", "Salt")),
        format!("{}<use href='#t' visibility='hidden'/>", text("id='t'", "Salt")),
        format!(
            "<defs>{}<use id='u' href='#t'/></defs><use href='#u'/><g visibility='hidden'/>",
            text("id='t'", "Salt")
        ),
    ] {
        assert_eq!(said(&set(&format!("{OTHER}{asking}"))), wanted, "{asking}");
    }
    let again = "<text y='50' x='9' font-family='League Gothic' visibility='hidden'>Salt<tspan visibility='visible'>Sea</tspan></text>";
    let shown = again.replace("visibility='hidden'", "");
    assert!((reach(&set(again)).x1 - reach(&set(&shown)).x1).abs() < 0.01);
}

/// CSS Fonts 3, 3.7: a height of lines follows the size, and means nothing to a single line.
#[test]
fn the_height_of_lines_in_a_font_is_passed_over() {
    let plain = reach(&set("<text y='50' style='font:700 24px \"EB Garamond\"'>Salt</text>"));
    for size in
        ["24px/1.5", "24px / 1.5", "24px/normal", "24px/120%", "24px/30px", "24px/ .8em", "18pt/1.5", "24.0px/2"]
    {
        for body in [
            format!("<text y='50' style='fill:red;font:bold {size} \"EB Garamond\";stroke:none'>Salt</text>"),
            format!("<text y='50' style='font :  bold {size} &quot;EB Garamond&quot;'>Salt</text>"),
            format!(
                "<style>/* a/b */ .t{{font:bold {size} 'EB Garamond', serif}}</style><text class='t' y='50'>Salt</text>"
            ),
        ] {
            let drawing = set(&body);
            assert_eq!((said(&drawing), drawing.left_out.as_slice()), (vec![], &[][..]), "{body}");
            near(reach(&drawing), plain);
        }
    }
}

/// A letter that the first font lacks is set in the next one that has it; the letters around it stay what they are.
#[test]
fn a_font_stands_in_for_single_letters() {
    let text = |list: &str, words: &str| format!("<text y='50' font-size='40' {list}>{words}</text>");
    let one = "<tspan font-family='Frank Ruhl Libre'>\u{5d0}</tspan>";
    let wanted = set(&text("font-family='EB Garamond'", &format!("Salt {one} fish {one}")));
    let words = "Salt \u{5d0} fish &#x5d0;";
    let both = "EB Garamond, &apos;Frank Ruhl Libre&apos;";
    for body in [
        text(&format!("font-family='{both}'"), words),
        text(&format!("style='font:40px/1 {both}'"), words),
        text("style='font-family:Inter'", &format!("<tspan font-family='{both}'>{words}</tspan>")),
        format!("<style>g text{{font-family:'EB Garamond','Frank Ruhl Libre'}}</style><g>{}</g>", text("", words)),
        format!("<defs><text id='t' y='50' font-size='40' font-family='{both}'>{words}</text></defs><use href='#t'/>"),
    ] {
        let drawing = set(&body);
        assert_eq!((said(&drawing), drawing.left_out.as_slice()), (vec![], &[][..]), "{body}");
        near(reach(&drawing), reach(&wanted));
        assert!((outlines(&drawing).area() - outlines(&wanted).area()).abs() < 0.01, "{body}");
    }
    // Which fonts a text takes from where it is used is not followed, and rules for a `tspan` are for those of the file.
    let named = ["letters in \"Frank Ruhl Libre\", though \"EB Garamond\" is named before it and has them"];
    let used = format!("<defs><text id='t' y='50'>A\u{5d0}</text></defs><g font-family='{both}'><use href='#t'/></g>");
    assert_eq!(set(&used).left_out, named);
    let ruled = format!("<style>tspan{{font-size:9px}}</style>{}", text(&format!("font-family='{both}'"), "A\u{5d0}"));
    assert_eq!(set(&ruled).left_out, named);
    // Of a letter with marks, parts would stay in the first font; words of a text that is stretched are stretched as one.
    let marked = set(&text(&format!("font-family='{both}'"), "a \u{5d0}\u{5b8}"));
    assert_eq!((said(&marked), marked.left_out.as_slice()), (vec![], &named.map(str::to_owned)[..]));
    let stretched = set(&text(&format!("font-family='{both}' textLength='90'"), "A\u{5d0}"));
    assert_eq!(stretched.left_out, named);
    // Fonts that are not there are named as for any text.
    let gone = set(&text("font-family='Nowhere, EB Garamond, Frank Ruhl Libre'", "\u{5d0}"));
    let wanted = "has text in \"Nowhere\", a font that is not there: it is set in \"Frank Ruhl Libre\", which the file names next";
    assert_eq!(said(&gone), [(Severity::Note, "language", wanted)]);
}

/// OpenType, head and loca: the glyph for what a font lacks ends where the next one begins, so it may begin there, too.
fn without_a_sign_for_the_missing() -> Library {
    let mut bytes = FONT.to_vec();
    let offset = |tag: [u8; 4]| {
        let place = record(tag) + 8;
        u32::from_be_bytes(FONT[place..place + 4].try_into().expect("four bytes")) as usize
    };
    let (loca, width) = (offset(*b"loca"), if FONT[offset(*b"head") + 51] == 0 { 2 } else { 4 });
    bytes.copy_within(loca + width..loca + 2 * width, loca);
    own(bytes)
}

/// A text that shows nothing leaves no trace, though another with the same font has its letter in a piece of its own.
#[test]
fn a_letter_is_missing_though_a_piece_of_another_text_has_it() {
    let lost = "<text y='20' font-family='League Gothic'>\u{5d0}</text>";
    let found =
        "<text y='50' font-family='League Gothic'>A<tspan font-family='Frank Ruhl Libre'>\u{5d0}</tspan></text>";
    let wanted = "has text in LeagueGothic-Regular, which has no \u{5d0} (U+05D0)";
    let library = without_a_sign_for_the_missing();
    let set = |body: &str| set_in(&library, body);
    for body in [format!("{lost}{found}"), format!("{found}{lost}")] {
        assert_eq!(said(&set(&body)), [(Severity::Error, "missing-glyph", wanted)]);
    }
    assert_eq!(said(&set(&format!("{found}<g display='none'>{lost}</g>"))), []);
    // A second font of its list has it.
    let second = lost.replace("League Gothic", "League Gothic, Frank Ruhl Libre");
    let drawing = set(&format!("{found}{second}"));
    assert_eq!((said(&drawing), drawing.left_out.as_slice()), (vec![], &[][..]));
    assert!(reach(&drawing).y0 < 20.0, "it is set");
}

/// In Hebrew, a dot and a vowel at one letter: two glyphs in its own font, three in one that lacks them.
#[test]
fn marks_after_text_in_another_font_are_named() {
    let pointed = "<tspan font-family='Frank Ruhl Libre'>\u{5e9}\u{5b8}\u{5c1}</tspan>";
    let text = |words: &str| set(&format!("<text y='50' font-family='EB Garamond'>{words}</text>")).left_out;
    let named = "letters with marks after text in another font (\u{5e9}\u{5b8}), whose marks may be lost";
    assert_eq!(text(&format!("a {pointed}")), [named]);
    assert!(text(pointed).is_empty() && text("e\u{301}<tspan fill='red'>e\u{301}</tspan>").is_empty());
}

/// CSS Text 3, 4.1.1: a space is dropped after another one, at the beginning of a line and at its end.
#[test]
fn spaces_between_pieces_are_kept() {
    let wide = |words: &str| reach(&set(&format!("<text y='50' font-family='League Gothic'>{words}</text>"))).x1;
    let wanted = wide("Salt Sea Sun");
    for words in [
        "Salt<tspan> Sea</tspan> Sun",
        "<tspan>Salt<tspan>\n Sea</tspan></tspan> Sun",
        "Salt<tspan> </tspan>Sea<tspan> Sun </tspan> ",
        " <tspan> Salt</tspan> <tspan> Sea </tspan><tspan> Sun</tspan>",
        "Salt<tspan/><a> Sea</a><tspan> </tspan><tspan><tspan> Sun</tspan></tspan>",
        "Salt<tspan>&#32;&#x20; Sea</tspan> Sun",
        "Salt<tspan><![CDATA[  Sea]]></tspan><tspan>&#10;Sun</tspan>",
    ] {
        assert!((wide(words) - wanted).abs() < 0.01, "{words}: {} for {wanted}", wide(words));
    }
}
