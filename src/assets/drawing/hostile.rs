//! Drawings that would exhaust stack, memory or patience: each is refused by a message that says why, where the reader
//! would need minutes or more memory than there is; and sound drawings that look like them are read.

use super::*;
use crate::assets::drawing::effort::COVER;
use std::fmt::Write as _;

const HEAD: &str =
    "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' width='99' height='99'>";
pub const BOX: &str = "<rect width='9' height='9'/>";

fn opened(body: &str) -> Result<Drawing, String> {
    open("a.svg", format!("{HEAD}{body}</svg>").as_bytes()).map_err(|fault| fault.message)
}

fn refused(body: &str, expected: &str) {
    match opened(body) {
        Err(message) => assert!(message.contains(expected), "expected `{expected}`, said `{message}`"),
        Ok(drawing) => panic!("expected `{expected}`, read {} parts", drawing.parts.len()),
    }
}

/// So many elements, each made from its number and the one before it.
pub fn chain(count: usize, one: impl Fn(usize, usize) -> String) -> String {
    (1..=count).map(|at| one(at, at - 1)).collect()
}

#[test]
fn clips_refer_by_style_sheets() {
    let clips = chain(2000, |at, before| {
        format!("<clipPath id='c{at}' class='k{before}'>{BOX}</clipPath><style>.k{at}{{clip-path:url(#c{at})}}</style>")
    });
    refused(&format!("{clips}<rect class='k2000' width='9' height='9'/>"), "deep");
    // The limit itself must not exhaust the stack of a thread.
    let fits = chain(90, |at, before| format!("<clipPath id='c{at}' clip-path='url(#c{before})'>{BOX}</clipPath>"));
    assert!(
        opened(&format!("<clipPath id='c0'>{BOX}</clipPath>{fits}<rect clip-path='url(#c90)' width='9' height='9'/>"))
            .is_ok()
    );
}

#[test]
fn masks_with_two_children_refer_by_style_sheets() {
    let masks = chain(18, |at, before| {
        let child = format!("<rect class='m{before}' width='9' height='9'/>");
        format!("<mask id='m{at}'>{child}{child}</mask>")
    });
    let style = chain(18, |at, _| format!(".m{at}{{mask:url(#m{at})}}"));
    refused(&format!("<style>{style}</style>{masks}<rect class='m18' width='9' height='9'/>"), "100000 elements");
}

#[test]
fn markers_in_markers_refer_however_it_is_stated() {
    let line = "M0 0".to_owned() + &"L1 1 2 0".repeat(20);
    let outline: [fn(usize) -> String; 4] = [
        |at| format!("class='n{at}'"),
        |at| format!("style='marker:url(#n{at})'"),
        |at| format!("marker-mid='url( \"#n{at}\" )'"),
        |at| format!("style='marker-mid : url(#n{at}) !important'"),
    ];
    for outline in outline {
        let markers =
            chain(6, |at, before| format!("<marker id='n{at}'><path {} d='{line}'/></marker>", outline(before)));
        let style = chain(6, |at, _| format!(".n{at}{{marker-mid:url(#n{at})}}"));
        refused(&format!("<style>{style}</style>{markers}<path {} d='{line}'/>", outline(6)), "100000 elements");
        // Handed down from a group.
        let groups =
            markers.replace("<path", "<g").replace(&format!(" d='{line}'/>"), &format!("><path d='{line}'/></g>"));
        refused(&format!("<style>{style}</style>{groups}<g {}><path d='{line}'/></g>", outline(6)), "100000 elements");
    }
}

#[test]
fn paints_are_made_again_for_every_shape() {
    let shapes = BOX.repeat(2000);
    let pattern = format!("<pattern id='p' width='1' height='1'>{}</pattern>", BOX.repeat(200));
    refused(&format!("{pattern}<g fill='url(#p)'>{shapes}</g>"), "100000 elements");
    let stops = "<stop/>".repeat(2000);
    refused(&format!("<linearGradient id='p'>{stops}</linearGradient><g stroke='url(#p)'>{shapes}</g>"), "100000");
    let marker = format!("<marker id='n'>{}</marker>", "<path fill='context-fill' d='M0 0H9'/>".repeat(99));
    refused(
        &format!("{pattern}{marker}<g style='marker-mid:url(#n)'><path fill='url(#p)' d='{}'/></g>", "L1 2".repeat(99)),
        "100000",
    );
}

#[test]
fn uses_hold_more_than_they_show() {
    let uses =
        chain(20, |at, before| format!("<g id='u{at}'><use href='#u{before}'/><use xlink:href='#u{before}'/></g>"));
    refused(&format!("<g id='u0'>{BOX}</g>{uses}<use href='#u20'/>"), "100000 elements");
    let long = format!("<path id='l' d='M0 0{}'/>", "h1v1".repeat(20_000));
    refused(&format!("{long}{}", "<use href='#l'/>".repeat(1000)), "100000 elements");
    refused("<g id='a'><use href='#b'/></g><g id='b'><use href='#a'/></g>", "refers to itself");
    refused(
        "<pattern id='a' width='9' height='9'><rect fill='url(#b)' width='9' height='9'/></pattern>\
             <pattern id='b' width='9' height='9'><rect fill='url(#a)' width='9' height='9'/></pattern>",
        "refers to itself",
    );
}

#[test]
fn entities_stand_for_more_than_the_file() {
    let open = |declared: &str, body: &str| {
        let text = format!("<!DOCTYPE svg [{declared}]>{HEAD}{body}</svg>");
        open("a.svg", text.as_bytes()).map_err(|fault| fault.message)
    };
    let long = format!("<!ENTITY a '{}'>", "x".repeat(300_000));
    let fault = open(&long, &"<g id='&a;'/>".repeat(12_000)).expect_err("3.6 GB");
    assert!(fault.contains("XML entities"), "{fault}");
    let again = open("<!ENTITY a 'x'><!ENTITY b '&a;&a;'>", &format!("<g id='&b;'/>{BOX}"));
    assert!(again.is_ok_and(|drawing| drawing.left_out.is_empty()), "an entity in an entity");
    let shape = "<!ENTITY a \"<rect width='9' height='9'/>\">";
    assert_eq!(open(shape, "&a;<g>&a;</g>").expect("an entity may hold elements").parts.len(), 2);
    let many = format!("<!ENTITY a '{}'><!ENTITY b '{}'>", "<g/>".repeat(300), "&a;".repeat(300));
    assert!(open(&many, &"&b;".repeat(10)).expect_err("elements are counted").contains("elements"));
    let half = open("<!ENTITY a \"<g>\">", &format!("&a;{BOX}</g>")).expect_err("half an element");
    assert!(half.contains("holds only part of an element, tag or comment"), "{half}");
    // A quote that the reader of XML passes over, and one that it does not.
    let hidden = open(&format!("<!ELEMENT ' ANY>{long}"), &"<g id='&a;'/>".repeat(8000)).expect_err("2.4 GB");
    assert!(hidden.contains("XML entities"), "{hidden}");
    let open_end = open(&format!("<!ATTLIST ' ANY>{long}"), &"<g id=\"&a;\"/>".repeat(8000)).expect_err("2.4 GB");
    assert!(open_end.contains("DOCTYPE"), "{open_end}");
    let space = "<!ENTITY ns_svg 'http://www.w3.org/2000/svg'>";
    assert!(open(space, &format!("<g xmlns='&ns_svg;'>{BOX}</g>")).is_ok());
}

#[test]
fn style_sheets_have_bounds() {
    let styled = |style: &str| format!("<style>{style}</style>{BOX}");
    refused(&styled(&".a{fill:red}".repeat(180_000)), "KB");
    let (many, all) = ("a,".repeat(12_000), "x:y;".repeat(8000));
    refused(&styled(&format!("{many}a{{{all}}}")), "selectors");
    refused(&styled(&format!("{many}a[b='{{;}}']{{{all}}}")), "selectors");
    refused(&styled(&format!("a{}{{x:y}}", "/**/".repeat(9000))), "remarks");
    refused(&styled(&format!("{}b{{x:y}}", "a+".repeat(9000))), "looks at more than 16");
    let deep = format!("{}{BOX}{}", "<g>".repeat(150), "</g>".repeat(150));
    refused(&format!("<style>x{}{{x:y}}</style>{deep}", " g".repeat(12)), "too many rules");
    refused(&format!("<style>{}</style>{}", "*{x:y}".repeat(9000), BOX.repeat(9000)), "too many rules");
    let plain: String = chain(200, |at, _| format!(".cls-{at}, .cls-{at}b {{ fill: #{at:06}; /* {at} */ }}"));
    assert!(opened(&format!("<style>{plain}</style>{}", BOX.repeat(5000))).is_ok());
    assert!(opened("<style>g > path:first-child .a, svg g rect { fill: none }</style><rect width='9' height='9'/><path d='M0 0H9V9'/>").is_ok());
}

/// By a step of recursion for each reference the first ended the program, measured.
#[test]
fn what_is_declared_often_is_gone_through_once() {
    let references = format!("<rect fill='{}' width='9' height='9'/>", "url()".repeat(8000));
    assert!(opened(&references).is_ok());
    // Each was looked for to the end of the file.
    for piece in ["&", "&lt", "&#", "&#38"] {
        assert!(open("a.svg", format!("{HEAD}{}</svg>", piece.repeat(1_000_000)).as_bytes()).is_err());
    }
    let declared = "a:b;".repeat(15_900);
    refused(&format!("<style>rect{{{declared}}}</style>{}", BOX.repeat(60_000)), "too many rules");
}

#[test]
fn tags_have_bounds() {
    let attributes: String = chain(9000, |at, _| format!(" a{at}=''"));
    refused(&format!("<g{attributes}/>{BOX}"), "attributes");
    let spaces: String = chain(90, |at, _| format!(" xmlns:a{at}='b{at}'"));
    refused(&format!("<g{spaces}/>{BOX}"), "namespaces");
    let deep = |count: usize, open: &str| format!("{}{BOX}{}", open.repeat(count), "</g>".repeat(count));
    refused(&deep(100_000, "<g a='/>'>"), "deep");
    refused(&deep(100_000, "<g><!--</g></g>-->"), "deep");
    assert!(opened(&deep(100, "<g>")).is_ok());
    let heavy = format!("<g{}>", chain(400, |at, _| format!(" a{at}=''")));
    refused(&deep(150, &heavy).replace(BOX, &BOX.repeat(9000)), "too many attributes");
    let dashes = format!("<g stroke-dasharray='{}' stroke='red'>{}</g>", "1 ".repeat(50_000), BOX.repeat(9000));
    refused(&dashes, "stroke-dasharray");
    refused(&dashes.replace("stroke-dasharray='", "style='stroke-dasharray:"), "style");
    refused(&BOX.repeat(400_000), "elements");
}

#[test]
fn nothing_lies_beyond_measure() {
    for far in [
        "<path d='M0 0a3e38 7.9 0 0 0 -2.8-6.5z'/>",
        "<path d='M0 0a3e38 7.9 0 0 0 -2.8-6.5z#'/>",
        "<path d='M0 0A.3e39 7.9 0 0 0 -2.8-6.5'/>",
        "<style>rect{stroke-width:1e30}</style><rect stroke='red' width='9' height='9'/>",
    ] {
        refused(far, "beyond all measure");
    }
    let stroked = "stroke='red' fill='none'";
    refused(&format!("<circle r='1e9' {stroked}/>"), "farther out than 10000 times");
    refused(&format!("<circle r='9e5' {stroked} stroke-dasharray='.1'/>"), "more than 100000 dashes");
    let scaled = format!("{}<circle r='9' {stroked}/>{}", "<g transform='scale(1000)'>".repeat(9), "</g>".repeat(9));
    refused(&scaled, "farther out");
    refused("<rect width='9' height='9' stroke='red' stroke-width='1e8'/>", "farther out");
    let wide = "<svg xmlns='http://www.w3.org/2000/svg' width='1e9' height='1e-3' viewBox='0 0 1 1'><rect width='9' height='9'/></svg>";
    let fault = open("a.svg", wide.as_bytes()).expect_err("wide").message;
    assert!(fault.contains("states a size"), "{fault}");
    // Names are no numbers.
    assert!(
        opened("<rect id='a1e99' class='x1e99' data-time='1699999999999' fill='#91e63f' width='9.5e0' height='9'/>")
            .is_ok()
    );
}

/// The reader follows a curve bit by bit, however far it reaches.
#[test]
fn curves_that_reach_far_count_as_several() {
    let stroked = |shape: &str, count: usize| format!("<g fill='none' stroke='red'>{}</g>", shape.repeat(count));
    let circle = "<circle r='900000'/>";
    refused(&stroked(circle, 2000), "curves that reach very far");
    refused(&format!("<style>circle{{stroke:red}}</style>{}", circle.repeat(2000)), "curves that reach very far");
    let scaled = format!("<g transform='scale(9000)'>{}</g>", stroked("<circle r='99'/>", 2000));
    refused(&scaled, "curves that reach very far");
    refused(&stroked("<path d='M0 0A900000 900000 0 0 1 9 9'/>", 2000), "curves that reach very far");
    let used = format!("<defs>{}</defs>{}", stroked("<circle id='c' r='900000'/>", 1), "<use href='#c'/>".repeat(2000));
    refused(&used, "100000 elements");
    // Without strokes the reader asks little, and drawing them is bounded instead.
    refused(&circle.repeat(2000), "corners and curves");
    // A horizon, rings of a target, and what tracing programs write are far within.
    assert!(opened(&stroked("<circle cy='9050' r='9000'/>", 20)).is_ok());
    assert!(opened(&stroked("<circle r='400'/>", 2000)).is_ok());
    let traced = format!("<path d='M0 0{}'/>", "c9000 0 9000 90 0 90".repeat(2000));
    assert!(opened(&format!("<g transform='scale(.01)' stroke='none'>{traced}</g>")).is_ok());
}

#[test]
fn contours_of_a_clip_have_bounds() {
    let mut rings = String::new();
    for at in 0..8000 {
        write!(rings, "M{at} 0h1v1h-1z").expect("a string takes it");
    }
    let clip = format!("<clipPath id='c'><path clip-rule='evenodd' d='{rings}'/><path d='M0 0H9V9'/></clipPath>");
    refused(&format!("{clip}<rect clip-path='url(#c)' width='9' height='9'/>"), "8000 contours");
    // Alone it is cut as it is.
    let alone = clip.replace("<path d='M0 0H9V9'/>", "");
    assert!(opened(&format!("{alone}<rect clip-path='url(#c)' width='9' height='9'/>")).is_ok());
}

/// Elements and style sheets as the drawing programs write them.
#[test]
fn what_is_common_is_read() {
    let markers = "<style>path{marker-end:url(#tip);fill:none;stroke:#333}</style>\
        <marker id='tip' viewBox='0 0 9 9' refX='5' markerWidth='6' orient='auto'><path d='M0 0L9 5 0 9z'/></marker>";
    let drawing = opened(&format!("{markers}{}", "<path d='M9 9L50 50'/>".repeat(2000))).expect("is read");
    assert!(drawing.parts.len() >= 4000);
    let gradient = "<linearGradient id='a'><stop stop-color='red'/><stop offset='1'/></linearGradient>\
        <linearGradient id='b' xlink:href='#a' x2='.5'/>";
    assert!(opened(&format!("{gradient}{}", "<rect fill='url(#b)' width='9' height='9'/>".repeat(5000))).is_ok());
    let clips: String =
        chain(3000, |at, _| format!("<clipPath id='c{at}'>{BOX}</clipPath><g clip-path='url(#c{at})'>{BOX}</g>"));
    assert!(opened(&clips).is_ok());
}

#[test]
fn the_manual_names_the_bounds() {
    let page = include_str!("../../cli/topics/bounds.txt");
    let spaced = |number: f64| {
        let digits = format!("{number}");
        let lead = digits.len() % 3;
        let groups = digits.as_bytes()[lead..].chunks(3).map(|three| String::from_utf8_lossy(three).into_owned());
        let first = (lead > 0).then(|| digits[..lead].to_owned());
        first.into_iter().chain(groups).collect::<Vec<_>>().join(",")
    };
    let bounds = [
        format!("{} MB, {} elements", bounds::TEXT >> 20, spaced(bounds::ELEMENTS as f64)),
        format!("{} attributes an element", bounds::ATTRIBUTES),
        format!("{} elements in elements", bounds::DEPTH),
        format!("{} elements beyond", spaced(bounds::REFERRED as f64)),
        format!("{} MB of text, {} deep", bounds::ENTITIES >> 20, bounds::NAMED),
        format!("{} KB, selectors of {} parts", bounds::STYLES >> 10, bounds::SELECTORS),
        format!("{} selectors times declarations", spaced(bounds::DECLARATIONS as f64)),
        format!("{}; what is drawn, {} times", spaced(bounds::NUMBER), spaced(bounds::REACH)),
        format!("{} corners and curves, {} dashes", spaced(bounds::STEPS as f64), spaced(bounds::DASHED)),
        format!("{} letters; in one text", spaced(bounds::LETTERS_SET as f64)),
        format!("letters times pieces {}", spaced(bounds::SHAPED as f64)),
        format!("as it is written, {}", spaced(bounds::FOLLOWED as f64)),
        format!("{} different ones of {} million", bounds::PICTURES, bounds::PIXELS / 1_000_000),
        format!("{} million pixels together and {} a side", COVER.pixels / 1e6, spaced(f64::from(decode::SIDE_LIMIT))),
        format!("{} million pixels passed over", COVER.work / 1e6),
        format!("{} MB meanwhile", COVER.layers * 4.0 / 1e6),
    ];
    for bound in bounds {
        assert!(page.contains(&bound), "{bound}");
    }
}
