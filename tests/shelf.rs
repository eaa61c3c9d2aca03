//! The shelf: five plain covers by hand, the picture measured by another decoder, and what strays word by word.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::path::Path;
use std::process::{Command, Stdio};

/// A picture as the `png` crate reads it.
struct Shown {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
    /// Pixels to the metre.
    density: u32,
}

impl Shown {
    fn open(path: &Path) -> Shown {
        let file = std::io::BufReader::new(std::fs::File::open(path).expect("the picture is there"));
        let mut reader = png::Decoder::new(file).read_info().expect("a PNG");
        let mut rgb = vec![0; reader.output_buffer_size().expect("a size")];
        reader.next_frame(&mut rgb).expect("a whole picture");
        let info = reader.info();
        let density = info.pixel_dims.expect("says its resolution").xppu;
        Shown { width: info.width as usize, height: info.height as usize, rgb, density }
    }

    fn at(&self, x: usize, y: usize) -> [u8; 3] {
        let at = (y * self.width + x) * 3;
        [self.rgb[at], self.rgb[at + 1], self.rgb[at + 2]]
    }

    /// Of a row of pixels, from where to where each lasting hue goes.
    fn hues(&self, row: usize) -> Vec<(char, usize, usize)> {
        let mut found: Vec<(char, usize, usize)> = Vec::new();
        for (x, hue) in (0..self.width).filter_map(|x| Some((x, hue(self.at(x, row))?))) {
            match found.last_mut().filter(|(last, _, end)| *last == hue && *end == x) {
                Some((_, _, end)) => *end = x + 1,
                None => found.push((hue, x, x + 1)),
            }
        }
        found
    }

    /// The first and the last row above `end` that shows a hue in a column.
    fn reach(&self, x: usize, wanted: char, end: usize) -> (usize, usize) {
        let rows = (0..end).filter(|y| hue(self.at(x, *y)) == Some(wanted));
        let rows: Vec<usize> = rows.collect();
        (rows[0], *rows.last().expect("it shows"))
    }
}

/// Which of the plain inks a pixel shows; the ground is grey and shows none.
fn hue([red, green, blue]: [u8; 3]) -> Option<char> {
    let [red, green, blue] = [red, green, blue].map(i32::from);
    match () {
        () if red > 160 && green < 90 && blue < 190 => Some('m'),
        () if green > 90 && blue > 160 && red < 90 => Some('c'),
        () if red > 180 && green > 160 && blue < 90 => Some('y'),
        () => None,
    }
}

/// A paperback whose spine is stated, all in one ink; `number` stands on its spine.
fn cover(folder: &Path, name: &str, order: &str, spine: &str, height: u32, ink: &str, number: &str) {
    // Two pages a leaf of 0.12 mm, and the cover's two of 0.3: about the spine that is stated.
    let pages = ((spine.parse::<f64>().expect("a number") - 0.6) / 0.06).round();
    let text = format!(
        r#"
book {{ title "{name}"; author "A"; language en-GB; pages {pages}; in-series "Inks"{order} }}
format paperback {{ trim 120 {height}; paper grammage=80 bulk=1.5; cover-stock caliper=0.3; spine {spine} }}
swatches {{ swatch ink {ink}; swatch black k=100 }}
type {{ style title {{ font "EB Garamond"; size 30; swatch black; align centre }} }}
wrap {{ band ground {{ swatch ink; left bleed; right bleed; top bleed; bottom bleed }} }}
panel front {{ text title words="{{title}}" style=title {{ left safe; right safe; top safe }} }}
panel spine {{ {number} }}
"#
    );
    std::fs::write(folder.join(format!("{name}.kdl")), text).expect("writes");
}

/// Three millimetres high, so far from the foot.
fn number(foot: &str) -> String {
    format!("band number {{ swatch black; foot {foot}; height 3; across 4 }}")
}

/// Three covers, one in a taller trim, its number 2.4 mm lower than the others'.
fn series() -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    cover(home.path(), "first", " number=1", "19.32", 198, "c=100", &number("14"));
    cover(home.path(), "second", " number=2", "16", 198, "m=100", &number("14"));
    cover(home.path(), "third", " number=3", "22.5", 210, "y=100", &number("11.6"));
    home
}

fn shelf(folder: &Path, words: &[&str]) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    let output = command.current_dir(folder).arg("shelf").args(words).stdin(Stdio::null()).output();
    let output = output.expect("the binary runs");
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("words are UTF-8");
    (output.status.code().expect("it ends by itself"), text(&output.stdout), text(&output.stderr))
}

#[test]
fn spines_stand_at_true_scale_in_series_order_on_one_line() {
    let home = series();
    // Typed out of order. 254 pixels an inch are ten a millimetre, and 10000 a metre.
    let stated = shelf(home.path(), &["third.kdl", "first.kdl", "second.kdl", "--ppi", "254"]);
    let lines = "shelf.png  3 covers\n\
        third: `number` on the spine stands 2.4 mm lower than the common line (14.00 mm from the foot)\n\
        1 stray from the common lines\n";
    assert_eq!(stated, (0, lines.to_owned(), String::new()));
    let shown = Shown::open(&home.path().join("shelf.png"));
    // Spines of 193.2, 160 and 225 pixels with gaps of 0.4 mm, margins of 15 mm; 210 mm, board and fronts between them.
    assert_eq!((shown.width, shown.height, shown.density), (886, 2722, 10_000));
    assert_eq!(shown.hues(2000), [('c', 150, 343), ('m', 347, 507), ('y', 511, 736)]);
    // Books of 198 and 210 mm end on one row.
    let board = 2282;
    assert_eq!(shown.reach(160, 'c', board), (270, 2249));
    assert_eq!(shown.reach(400, 'm', board), (270, 2249));
    assert_eq!(shown.reach(700, 'y', board), (150, 2249));
    // The numbers: 14 to 17 mm above the line, on the third 11.6 to 14.6.
    let hues = |x: usize| [2075, 2095, 2107, 2120, 2140].map(|y| hue(shown.at(x, y)));
    assert_eq!(hues(246), [Some('c'), None, None, Some('c'), Some('c')]);
    assert_eq!(hues(623), [Some('y'), Some('y'), None, None, Some('y')]);
    // Fronts are 160 high and as wide as their trim: 97, 97 and 91.4, with gaps of 28, in the middle below.
    assert_eq!(shown.hues(2492), [('c', 272, 369), ('m', 397, 494), ('y', 522, 613)]);
    assert_eq!((hue(shown.at(300, 2411)), hue(shown.at(300, 2412))), (None, Some('c')));
    assert_eq!((hue(shown.at(300, 2571)), hue(shown.at(300, 2572))), (Some('c'), None));
    // Process inks as another engine shows them (LittleCMS through Pillow, from the bundled profile), where no edge is near.
    assert_eq!(
        [shown.at(246, 1000), shown.at(427, 1000), shown.at(623, 1000)],
        [[0, 160, 228], [230, 12, 128], [255, 238, 0]]
    );
}

#[test]
fn programs_are_reported_the_same() {
    let home = series();
    let typed = ["first.kdl", "second.kdl", "third.kdl", "--report", "json", "--ppi", "50", "--out", "a/b.png"];
    let (exit, out, error) = shelf(home.path(), &typed);
    assert_eq!((exit, error.as_str()), (0, ""));
    let reported: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(reported["picture"], "a/b.png");
    assert_eq!(
        reported["covers"][0],
        serde_json::json!({
            "cover": "first", "title": "first", "number": 1.0, "spine": [19.32, 198.0], "errors": false
        })
    );
    assert_eq!(
        reported["strays"],
        serde_json::json!([{
            "cover": "third", "face": "spine", "element": "number", "what": "down", "by": 2.4, "common": 14.0,
            "message": "`number` on the spine stands 2.4 mm lower than the common line (14.00 mm from the foot)"
        }])
    );
    let first = std::fs::read(home.path().join("a/b.png")).expect("is there");
    assert_eq!(shelf(home.path(), &typed).0, 0);
    assert!(first == std::fs::read(home.path().join("a/b.png")).expect("is there"), "same covers, same bytes");
}

#[test]
fn a_lone_cover_and_a_stapled_one_are_shown() {
    let home = series();
    let alone = shelf(home.path(), &["second.kdl"]);
    let lines = "shelf.png  1 cover\nat least three covers are needed to find what differs\n";
    assert_eq!(alone, (0, lines.to_owned(), String::new()));
    // By default 150 pixels an inch: 16 mm are 94.5, which is 5906 to the metre.
    let shown = Shown::open(&home.path().join("shelf.png"));
    let spine = shown.hues(700);
    assert!(matches!(spine[..], [('m', from, to)] if to - from == 94 || to - from == 95), "{spine:?}");
    assert_eq!(shown.density, 5906);
    let stapled = r#"
book { title "Stapled"; author "A"; language en-GB; pages 32 }
format stapled { trim 120 160 }
swatches { swatch ink y=100 }
wrap { band ground { swatch ink; left bleed; right bleed; top bleed; bottom bleed } }
"#;
    std::fs::write(home.path().join("stapled.kdl"), stapled).expect("writes");
    let (exit, out, _) = shelf(home.path(), &["stapled.kdl"]);
    assert_eq!((exit, out.lines().nth(1)), (0, Some("stapled: has no spine; its front stands alone")));
    let shown = Shown::open(&home.path().join("shelf.png"));
    // 160 high and 120 wide, with the margins of a shelf: 15 mm are 88.6 pixels.
    assert_eq!((shown.width, shown.height), (120 + 2 * 89, 160 + 2 * 89));
    assert_eq!(shown.hues(150), [('y', 89, 209)]);
}

#[test]
fn faulty_covers_are_reported_and_shown_where_they_can_be() {
    let home = series();
    let text = std::fs::read_to_string(home.path().join("second.kdl")).expect("is there");
    let faulty = text.replace("swatch ink; left bleed", "swatch ink; swotch; left bleed");
    std::fs::write(home.path().join("second.kdl"), faulty).expect("writes");
    std::fs::write(home.path().join("torn.kdl"), "book {").expect("writes");
    let (exit, out, error) = shelf(home.path(), &["first.kdl", "second.kdl", "torn.kdl"]);
    assert_eq!((exit, out.lines().next()), (1, Some("shelf.png  2 covers")));
    assert!(error.contains("swotch") && error.contains("torn.kdl: 1 error"), "{error}");
    let (exit, out, error) = shelf(home.path(), &["first.kdl", "none.kdl"]);
    assert_eq!((exit, out.lines().next()), (2, Some("shelf.png  1 cover")));
    assert!(error.contains("none.kdl"), "{error}");
    let (exit, _, error) = shelf(home.path(), &["torn.kdl"]);
    assert_eq!(exit, 2);
    assert!(error.contains("there is no cover to show"), "{error}");
    // A picture never takes the place of a cover.
    let (exit, _, error) = shelf(home.path(), &["first.kdl", "--out", "second.kdl"]);
    assert_eq!(exit, 2);
    assert!(error.contains("end its name in .png"), "{error}");
}

#[test]
fn what_is_too_much_is_refused_with_a_way_out() {
    let home = series();
    let text = std::fs::read_to_string(home.path().join("first.kdl")).expect("is there");
    let many: Vec<String> = (0..201).map(|at| format!("{at}.kdl")).collect();
    for name in &many {
        std::fs::write(home.path().join(name), &text).expect("writes");
    }
    let (exit, _, error) = shelf(home.path(), &many.iter().map(String::as_str).collect::<Vec<_>>());
    assert_eq!(exit, 2);
    assert!(error.contains("201 covers are more than the 200 that one picture holds"), "{error}");
    assert!(error.contains("show them in parts") && !home.path().join("shelf.png").exists(), "{error}");
}

/// The share of the picture's pixels that show a hue.
fn shares(shown: &Shown) -> [f64; 3] {
    let pixels = (shown.width * shown.height) as f64;
    let all: Vec<char> = shown.rgb.chunks_exact(3).filter_map(|rgb| hue([rgb[0], rgb[1], rgb[2]])).collect();
    ['c', 'm', 'y'].map(|wanted| all.iter().filter(|hue| **hue == wanted).count() as f64 / pixels)
}

#[test]
fn books_stand_in_a_room_as_a_row_a_pile_and_a_fan() {
    let home = series();
    for name in ["first", "second", "third"] {
        let path = home.path().join(format!("{name}.kdl"));
        let text = std::fs::read_to_string(&path).expect("is there");
        std::fs::write(path, text + "view small { pixels 200 160; ground none; mirror 0; shadow 0 }\n")
            .expect("writes");
    }
    let covers = ["third.kdl", "first.kdl", "second.kdl", "--view", "small", "--as"];
    let picture = |how: &str| {
        let (exit, out, error) = shelf(home.path(), &[&covers[..], &[how]].concat());
        assert_eq!((exit, out.lines().next(), error.as_str()), (0, Some("shelf.png  3 covers"), ""));
        std::fs::read(home.path().join("shelf.png")).expect("is there")
    };
    for how in ["row", "pile", "fan"] {
        let first = picture(how);
        assert!(first == picture(how), "{how}: same covers, same bytes");
        let decoder = png::Decoder::new(std::io::Cursor::new(&first));
        let mut reader = decoder.read_info().expect("a PNG");
        let mut rgba = vec![0; reader.output_buffer_size().expect("a size")];
        reader.next_frame(&mut rgba).expect("a whole picture");
        // Transparent, as the view asks.
        assert_eq!((reader.info().width, reader.info().height, rgba.len()), (200, 160, 200 * 160 * 4));
        let rgb = rgba.chunks_exact(4).flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
        let [cyan, magenta, yellow] = shares(&Shown { width: 200, height: 160, rgb, density: 0 });
        assert!([cyan, magenta, yellow].iter().all(|share| *share > 0.005), "{how}: {cyan} {magenta} {yellow}");
        // The first of the series lies on top, and most of it is seen.
        assert!(how == "row" || cyan > 1.5 * yellow.max(magenta), "{how}: {cyan} {magenta} {yellow}");
    }
}

#[test]
fn a_picture_of_a_room_that_cannot_be_says_why() {
    let home = series();
    let refused = |words: &[&str], message: &str| {
        let (exit, _, error) = shelf(home.path(), &[&["first.kdl", "second.kdl"], words].concat());
        assert_eq!(exit, 2, "{error}");
        assert!(error.contains(message), "{error}");
    };
    refused(&["--as", "pile", "--view", "window"], "the first cover has no view `window`");
    refused(&["--view", "window"], "--view has no meaning for spines");
    refused(&["--as", "heap"], "possible values: spines, row, pile, fan");
    let text = std::fs::read_to_string(home.path().join("first.kdl")).expect("is there");
    // An edition for screens stands nowhere, whatever views the printed book has.
    let ebook = format!("{text}view small\nedition ebook {{ format screen {{ pixels 600 960 }} }}\n");
    std::fs::write(home.path().join("ebook.kdl"), ebook).expect("writes");
    let typed = ["ebook.kdl", "--edition", "ebook", "--as", "pile", "--view", "small"];
    let (exit, _, error) = shelf(home.path(), &typed);
    assert_eq!(exit, 2, "{error}");
    assert!(error.contains("is not a printed book") && error.contains("there is no cover to show"), "{error}");
    let many: Vec<String> = (0..25).map(|at| format!("{at}.kdl")).collect();
    for name in &many {
        std::fs::write(home.path().join(name), &text).expect("writes");
    }
    let names: Vec<&str> = many.iter().map(String::as_str).collect();
    refused(&[&names[..], &["--as", "row"]].concat(), "27 covers are more than the 24 that one picture holds");
}
