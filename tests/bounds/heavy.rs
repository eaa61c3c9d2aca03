//! Heavy: drawings that are drawn in about the time of plain ones with as many corners, measured beside them, however machines
//! differ. Without the ways found for them, each takes tens of times as long.

use crate::binary::{TestHome, panel, run};
use std::time::{Duration, Instant};

fn drawing(inside: &str) -> String {
    format!("<svg xmlns='http://www.w3.org/2000/svg' width='90mm' height='90mm' viewBox='0 0 90 90'>{inside}</svg>")
}

/// The shorter of two times.
fn time(command: &str, drawing: &str) -> Duration {
    let home = TestHome::new()
        .with("cover.kdl", panel("image a file=\"a.svg\" { left 20; top 20; width 90 }"))
        .with("a.svg", drawing);
    let once = |_| {
        let begun = Instant::now();
        let words = [command, "cover.kdl", "--no-store"];
        let (code, stated) = run(&home, if command == "check" { &words[..2] } else { &words });
        assert_eq!(code, 0, "{}", &stated[..stated.floor_char_boundary(2000)]);
        begun.elapsed()
    };
    (0..2).map(once).min().expect("it ran twice")
}

fn takes_no_more_than(times: f64, command: &str, heavy: &str, plain: &str) {
    let (heavy, plain) = (time(command, heavy), time(command, plain));
    assert!(heavy.as_secs_f64() < times * plain.as_secs_f64(), "{heavy:?}, and the plain one {plain:?}");
}

/// Numbers by a lot that is always the same, below `end`.
fn lot(end: u32) -> impl FnMut() -> u32 {
    let mut seed = 7_u32;
    move || {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (seed >> 8) % end
    }
}

/// One path of so many pieces.
fn path(count: usize, piece: &mut dyn FnMut(usize) -> String) -> String {
    let lines: Vec<String> = (0..count).map(piece).collect();
    drawing(&format!("<path fill='#888' d='M0 0{}z'/>", lines.concat()))
}

/// 35 KB of lines that all cross one another took 6 seconds.
#[test]
fn a_scribble() {
    let mut next = lot(90);
    let scribble = path(4000, &mut |_| format!("L{} {}", next(), next()));
    let tooth = |at: usize| format!("L{:.3} 0L{:.3} 47", at as f64 * 0.045, at as f64 * 0.045 + 0.02);
    takes_no_more_than(4.0, "build", &scribble, &path(2000, &mut { tooth }));
}

/// 22 KB of markers, each a scribble, took 3.4 seconds: how broad they are was measured point by point. Black ones are measured.
#[test]
fn scribbles_in_the_size_of_a_dot() {
    let scribble = "l9 9l-9 -9".repeat(20);
    let shapes = |fill: &str| {
        let shape = |at: usize| format!("<path fill='{fill}' d='M{} {}{scribble}z'/>", at % 80, at / 50);
        drawing(&(0..4000).map(shape).collect::<String>())
    };
    takes_no_more_than(12.0, "check", &shapes("#000"), &shapes("#888"));
}

/// 1,000 thinned shapes in 100 places took 4 seconds: each was composed apart in all of its tile.
#[test]
fn small_groups() {
    let shapes = |opacity: f64| {
        let at = |at: usize| format!("<path fill='#888' opacity='{opacity}' d='M{} {}h.5v.5'/>", at % 80, at / 200);
        drawing(&(0..16_000).map(at).collect::<String>())
    };
    takes_no_more_than(3.5, "build", &shapes(0.5), &shapes(1.0));
}

/// 27 spot inks in 290 thinned sheets, 20 KB, took 17 seconds: each plate is composed for itself.
#[test]
fn a_sheet_of_many_plates_is_covered_less_often() {
    let inks: String = (0..27).map(|at| format!("spot s{at} ink=\"Spot {at}\" c=9\n")).collect::<Vec<_>>().concat();
    let sheets = |count: usize, spots: usize| {
        let sheet = |at: usize| {
            let ink = if spots == 0 { "black".to_owned() } else { format!("s{}", at % spots) };
            format!("band b{at} {{ swatch {ink}; left fold; right bleed; top bleed; bottom bleed }}\n")
        };
        let sheets = (0..count).map(sheet).collect::<Vec<_>>().concat();
        TestHome::new().with("cover.kdl", format!("swatches {{ {inks} }}\n{}", panel(&sheets)))
    };
    let stated = |count: usize, spots: usize| run(&sheets(count, spots), &["check", "cover.kdl"]).1;
    // A front is nearly half of the sheet. 300 times 8 of 31 plates are 77 times.
    assert!(!stated(150, 27).contains("would cover the sheet"));
    let many = stated(180, 27).replace("\n  │ ", " ");
    assert!(many.contains("would cover the sheet more than 77 times, the limit for 31 plates of "), "{many}");
    assert!(!stated(180, 0).contains("would cover the sheet"));
}

/// 590 gradients over a front, 112 KB, took 16 seconds; 290 over masks with a gradient, 28 KB, took 12.
#[test]
fn gradients_count_as_what_they_take() {
    let drawing = |shapes: String| {
        let size = "width='129mm' height='198mm' viewBox='0 0 129 198'";
        let run = "<stop stop-color='#fff'/><stop offset='1' stop-color='#333'/>";
        let ramp = format!("<linearGradient id='g' x2='.3'>{run}</linearGradient>");
        let mask = "<mask id='m'><rect width='129' height='198' fill='url(#g)'/></mask>";
        format!("<svg xmlns='http://www.w3.org/2000/svg' {size}>{ramp}{mask}{shapes}</svg>")
    };
    let stated = |count: usize, shape: &str| {
        let cover = panel("image a file=\"a.svg\" { left fold; right trim; top 0 }");
        let home = TestHome::new().with("cover.kdl", cover).with("a.svg", drawing(shape.repeat(count)));
        run(&home, &["check", "cover.kdl"]).1
    };
    let front = "<rect width='129' height='198' fill='url(#g)'/>";
    let masked = "<g mask='url(#m)'><rect width='129' height='198'/></g>";
    // A front is 0.44 of a sheet of 279.6 by 204: 300 sheets are 167 fronts of four fills, and 97 of seven, which are the gradient
    // that hides, what it is cut to, what it hides, and both composed.
    for (shape, few, many) in [(front, 160, 180), (masked, 90, 105)] {
        assert!(!stated(few, shape).contains("would cover the sheet more than 300 times"), "{shape}");
        assert!(stated(many, shape).contains("would cover the sheet more than 300 times"), "{shape}");
    }
}
