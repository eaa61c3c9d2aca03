//! Bounds: what costs much in few bytes is refused by a limit that the message names; what is at the limit is not.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files and a clock")]

#[path = "kit/binary.rs"]
mod binary;
#[path = "bounds/files.rs"]
mod files;
#[path = "bounds/heavy.rs"]
mod heavy;
#[path = "kit/pixels.rs"]
mod pixels;

use binary::{ERRORS, HEAD, STOPPED, TestHome, check, panel, run, says};

#[test]
fn elements_are_counted_wherever_a_part_is_used() {
    let dot = |at: usize| {
        format!("band b{at} {{ swatch black; left {}; width 0.5; top {}; height 0.5 }}\n", at % 100, at / 100)
    };
    let twice = |dots: usize, more: &str| {
        let dots: String = (0..dots).map(dot).collect();
        format!(
            "{HEAD}part half {{ left 0; right 0; top 0; bottom 0; {dots} }}\npanel front {{ use half as=a; use half as=b; {more} }}\n"
        )
    };
    let (_, stated) = run(&TestHome::new().with("cover.kdl", twice(2499, "")), &["check", "cover.kdl"]);
    assert!(!stated.contains("elements; the rest"), "{}", &stated[..stated.floor_char_boundary(2000)]);
    check(twice(2499, "use half as=c"), ERRORS, &["more than 5000 elements; the rest is left out"]);
}

#[test]
fn letters_of_a_text_and_of_all_are_limited() {
    let place = "left 20; width 60; top 20";
    let words = |letters: usize| format!("text t{letters} words=\"{}\" {{ {place} }}\n", "a ".repeat(letters / 2));
    for (body, refused) in [
        (words(20_000), false),
        (words(20_002), true),
        (words(19_998) + &words(19_996) + &words(19_994), false),
        (words(19_998) + &words(19_996) + &words(19_994) + &words(22), true),
    ] {
        let (_, stated) = run(&TestHome::new().with("cover.kdl", panel(&body)), &["check", "cover.kdl"]);
        assert!(
            !refused || stated.contains("cover.kdl:4:6: a text of 20001 letters") || body.len() > 50_000,
            "{stated}"
        );
        assert_eq!(stated.contains("letters"), refused, "{}", &stated[..stated.floor_char_boundary(2000)]);
    }
}

#[test]
fn what_costs_much_in_few_bytes_is_refused() {
    let place = "left 20; width 60; top 20";
    let marks = |count: usize| panel(&format!("text a words=\"a{}\" {{ {place} }}", "\u{301}".repeat(count)));
    check(marks(30), 0, &[]);
    check(marks(31), ERRORS, &["a letter has more than 30 combining marks", "cover.kdl:4:6"]);
    check(marks(15_000), ERRORS, &["a letter has more than 30 combining marks"]);
    let sheet = |at: usize| format!("band b{at} {{ swatch black; left 5; right 5; top 5; bottom 5 }}\n");
    check(panel(&(0..1000).map(sheet).collect::<String>()), ERRORS, &["would cover the sheet more than 300 times"]);
    let image = panel("image a file=\"a.png\" { left 0; top 0; width 10 }");
    let picture = TestHome::new().with("cover.kdl", image).with("a.png", pixels::png_header(20_000, 20_000));
    says(&picture, ERRORS, &["20000 x 20000 pixels, 382 MiB; the limit is 256 MiB"]);
}

#[test]
fn effects_of_drawings_are_counted() {
    let shape = |at: usize| format!("<rect x='{}' y='{}' width='.5' height='.5' filter='url(#f)'/>", at % 20, at / 20);
    let drawing = |count: usize| {
        let shapes: String = (0..count).map(shape).collect();
        let filter = "<filter id='f'><feGaussianBlur stdDeviation='.1'/></filter>";
        format!("<svg xmlns='http://www.w3.org/2000/svg' width='20' height='20'>{filter}{shapes}</svg>")
    };
    let cover = panel(
        "image a file=\"a.svg\" { left 20; top 20; width 20 }\nimage b file=\"b.svg\" { left 50; top 20; width 20 }",
    );
    let home = |more: usize| {
        TestHome::new().with("cover.kdl", &cover).with("a.svg", drawing(100)).with("b.svg", drawing(100 + more))
    };
    says(&home(0), 0, &[]);
    says(&home(1), ERRORS, &["more than 200 effects that are printed as pictures", "cover.kdl:5:"]);
}

/// Every place of a picture is scaled by itself: 195 of 16 million pixels each, from 200 KB, took more than a minute.
#[test]
fn pictures_are_counted_where_they_are_placed_again() {
    let picture = |side: u32| {
        let mut bytes = std::io::Cursor::new(Vec::new());
        image::GrayImage::new(side, side).write_to(&mut bytes, image::ImageFormat::Png).expect("a picture");
        bytes.into_inner()
    };
    let placed = |count: usize, width: usize| {
        let image = |at: usize| {
            let (left, top) = (20 + at % (100 - width), 20 + at / (100 - width));
            format!("image p{at} file=\"a.png\" {{ left {left}; top {top}; width {width} }}\n")
        };
        TestHome::new().with("cover.kdl", panel(&(0..count).map(image).collect::<String>()))
    };
    // 4 million pixels: once, and 25 times more.
    says(&placed(26, 80).with("a.png", picture(2000)), 0, &[]);
    says(
        &placed(27, 80).with("a.png", picture(2000)),
        ERRORS,
        &[
            "pictures that are placed several times have more than 100 million pixels together; the rest is left out",
            "cover.kdl:30:",
            "1418 × 1418 are 450 to the inch here",
        ],
    );
    says(&placed(110, 80).with("a.png", picture(1000)), ERRORS, &["times, or put what repeats into one picture"]);
    says(&placed(400, 20).with("a.png", picture(354)), 0, &[]);
    // Of 100 pixels, each place of 80 mm has 945 at a side; a blurred drawing turned in 195 of them took 6 seconds.
    let turned = |count: usize, width: usize| {
        let image = |at: usize| {
            let (left, top) = (20 + at % (100 - width), 40 + at / (100 - width));
            format!("image p{at} file=\"a.png\" {{ left {left}; top {top}; width {width}; turn 9 }}\n")
        };
        TestHome::new().with("cover.kdl", panel(&(0..count).map(image).collect::<String>())).with("a.png", picture(100))
    };
    let stated = |count: usize, width: usize| run(&turned(count, width), &["check", "cover.kdl"]).1;
    let again = "pictures that are placed several times have more than 100 million pixels";
    assert!(!stated(38, 80).contains(again) && !stated(195, 9).contains(again));
    assert!(stated(39, 80).contains(again));
    // Of 81 million pixels each frame shows less than half.
    let part = |at: usize| {
        let place = format!("left fold; right bleed; top {}; height 60", 9 + 60 * at);
        format!("image p{at} file=\"a.png\" {{ {place}; fit filling }}\n")
    };
    let parts = panel(&(0..3).map(part).collect::<String>());
    says(&TestHome::new().with("cover.kdl", parts).with("a.png", picture(9000)), 0, &[]);
}

/// A drawing of 500 KB in a hundred places took 25 seconds and 1.3 GB.
#[test]
fn drawings_are_counted_wherever_they_are_placed() {
    let drawing = |shapes: String| {
        format!("<svg xmlns='http://www.w3.org/2000/svg' width='90mm' height='90mm' viewBox='0 0 90 90'>{shapes}</svg>")
    };
    let placed = |count: usize, width: usize| {
        let image = |at: usize| {
            let (left, top) = (20 + at % (100 - width), 20 + at / (100 - width));
            format!("image d{at} file=\"a.svg\" {{ left {left}; top {top}; width {width} }}\n")
        };
        TestHome::new().with("cover.kdl", panel(&(0..count).map(image).collect::<String>()))
    };
    // 4,000 squares have 20,000 corners: a start, three lines and the way back.
    let square = |at: usize| format!("<path d='M{} {}h.5v.5h-.5z'/>", at % 80, at / 80);
    let squares = drawing((0..4000).map(square).collect());
    says(&placed(20, 5).with("a.svg", &squares), 0, &[]);
    says(
        &placed(21, 5).with("a.svg", &squares),
        ERRORS,
        &[
            "the drawings of the cover have more than 400,000 corners and curves, or 2.5 km of outlines",
            "cover.kdl:24:",
            "place it fewer times",
        ],
    );
    // 600 rules of 84 mm are 101 m of outlines with their ends, and in the size of a stamp a tenth of that.
    let rule = |at: usize| format!("<path d='M3 {}h84v.1h-84z'/>", 3.0 + at as f64 * 0.14);
    let rules = drawing((0..600).map(rule).collect());
    says(&placed(24, 90).with("a.svg", &rules), 0, &[]);
    says(&placed(25, 90).with("a.svg", &rules), ERRORS, &["2.5 km of outlines", "cover.kdl:28:"]);
    let (_, stated) = run(&placed(60, 9).with("a.svg", &rules), &["check", "cover.kdl"]);
    assert!(!stated.contains("km of outlines"), "{}", &stated[..stated.floor_char_boundary(2000)]);
}

/// A mask over a drawing has pixels, too: four of 30 million are more than 100 million.
#[test]
fn masks_over_drawings_are_counted() {
    let mut mask = std::io::Cursor::new(Vec::new());
    image::GrayImage::new(6000, 5000).write_to(&mut mask, image::ImageFormat::Png).expect("a picture");
    let drawing = "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><rect width='9' height='9'/></svg>";
    let image = |at: usize| {
        format!("image d{at} file=\"a.svg\" {{ left {}; top 9; width 4; mask file=\"m.png\" }}\n", 9 + 5 * at)
    };
    let cover = |count: usize| {
        let home = TestHome::new().with("cover.kdl", panel(&(0..count).map(image).collect::<String>()));
        home.with("a.svg", drawing).with("m.png", mask.get_ref().clone())
    };
    says(&cover(3), 0, &[]);
    says(&cover(4), ERRORS, &["more than 100 million pixels together", "cover.kdl:7:"]);
}

/// Every letter costs the outline that is laid out for it. 20 texts of 2,400 letters over one another took 33 seconds.
#[test]
fn letters_over_one_another_use_up_the_work_of_a_rule() {
    let oval = "oval sun { swatch black percent=20; left 25; top 25; width 50; height 50 }\n";
    let text = |at: usize| {
        let words = format!("lantern{at} ").repeat(300);
        format!("text t{at} words=\"{words}\" {{ left 5; right 5; top 5 }}\n")
    };
    let texts = |count: usize| panel(&(oval.to_owned() + &(0..count).map(text).collect::<String>()));
    let (_, stated) = run(&TestHome::new().with("cover.kdl", texts(1)), &["check", "cover.kdl"]);
    assert!(!stated.contains("not looked at"), "{}", &stated[..stated.floor_char_boundary(2000)]);
    check(texts(6), 0, &["the contrast of", "texts was not looked at"]);
}

/// One word more than 200 is one mistake; what is said of a word once more is none.
#[test]
fn words_set_apart_are_counted_once_each() {
    let word = |name: usize| format!("word w{name} {{ swatch black; raise 3 }}\n");
    let words = |names: &[usize]| {
        let words: String = names.iter().copied().map(word).collect();
        panel(&format!("text t words=\"w7 and w8\" {{ left 20; width 60; top 20\n{words} }}"))
    };
    let all: Vec<usize> = (0..203).collect();
    check(words(&[&all[..200], &[7]].concat()), 0, &[]);
    let (code, stated) = run(&TestHome::new().with("cover.kdl", words(&all)), &["check", "cover.kdl"]);
    assert_eq!(code, ERRORS, "{stated}");
    assert!(stated.contains("sets 200 letters and words apart at the most"), "{stated}");
    assert_eq!(stated.matches("error:").count(), 1, "{stated}");
}

/// A pair that is stated again takes the place of the one before, at the limit as well.
#[test]
fn pairs_axes_and_neighbours_are_counted() {
    let place = "left 20; width 60; top 20";
    let pair = |at: usize| format!("kern \"{}{}\" 5\n", letter(at / 26), letter(at % 26));
    let pairs = |count: usize, more: &str| {
        let all: String = (0..count).map(pair).collect();
        panel(&format!("text t words=\"Salt\" {{ {place}\n{all}{more} }}"))
    };
    check(pairs(400, "kern \"aa\" 9"), 0, &[]);
    let (code, stated) = run(&TestHome::new().with("cover.kdl", pairs(403, "")), &["check", "cover.kdl"]);
    assert_eq!(code, ERRORS, "{stated}");
    assert!(stated.contains("a style kerns 400 pairs at the most"), "{stated}");
    assert_eq!(stated.matches("error:").count(), 1, "{stated}");
    let axes = |count: usize| {
        let all = (0..count).fold(String::new(), |all, at| all + &format!(" ax{at:02}=5"));
        let style = format!("type {{ style title {{ axis{all} }} }}\n");
        style + &panel(&format!("text t words=\"Salt\" style=title {{ {place}; axis ax07=9 }}"))
    };
    check(axes(16), 0, &[]);
    check(axes(17), ERRORS, &["a style names 16 axes at the most"]);
    let oval = |at: usize| {
        let top = 20 + 10 * at;
        format!("oval o{at} {{ swatch black percent=20; right trim; width 10; top {top}; height 6 }}\n")
    };
    let round = |count: usize| {
        let ovals: String = (0..count).map(oval).collect();
        let names = (0..count).fold(String::new(), |all, at| all + &format!("around o{at}\n"));
        panel(&format!("{ovals}text t words=\"Salt and lanterns\" {{ left 20; right safe; top 20\n{names} }}"))
    };
    check(round(12), 0, &[]);
    check(round(13), ERRORS, &["a text runs round 12 neighbours at the most"]);
}

fn letter(at: usize) -> char {
    char::from(b'a' + at as u8)
}

/// Beside a neighbour as high as the page: lines after the 250th are whole, and whoever looks for words on shapes finds them.
/// With a thousand such lines one text took eight seconds.
#[test]
fn rows_beside_a_neighbour_are_limited() {
    let text = |words: usize| {
        let words = "a ".repeat(words);
        panel(&format!(
            "band o {{ swatch black percent=20; left 36; width 40; top safe; height 180 }}\n\
             text t words=\"{words}\" {{ left safe; width 50; top safe; size 13; leading 0.8; around o gap=1 }}"
        ))
    };
    let stated = |words: usize| run(&TestHome::new().with("cover.kdl", text(words)), &["check", "cover.kdl"]).1;
    let (few, many) = (stated(1600), stated(3400));
    assert!(!few.contains("words-run-onto") && many.contains("words-run-onto"), "{few} {many}");
}

#[test]
fn a_specimen_has_so_many_pixels() {
    let home = TestHome::new();
    let (code, stated) = run(&home, &["faces", "--specimen", "all.png", "--ppi", "600"]);
    assert_eq!(code, STOPPED, "{stated}");
    assert!(stated.contains("more than 36 million pixels") && stated.contains("take `--ppi 4"), "{stated}");
    assert!(!home.path("all.png").exists());
}
