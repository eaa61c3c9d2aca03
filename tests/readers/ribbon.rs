//! Ribbon: a band that runs round the cover meets itself on both sides of every fold.

use crate::geometry::{Book, example, flat};
use crate::kit::{Built, ask, cover, examples, shown};

const PPI: f64 = 600.0;
const MM: f64 = PPI / 25.4;
/// The ribbon of the example, in millimetres from the head.
const TOP: f64 = 47.0;
const FOOT: f64 = 57.0;
/// Its ink, 14 88 92 6, as the reader shows it; night and paper look quite different.
const RED: [u8; 3] = [201, 51, 42];

#[test]
fn the_ribbon_runs_level_across_both_folds() {
    let built = examples().iter().find(|built| built.stem == "salt-and-lanterns").expect("the example is there");
    let folder = built.source.clone();
    level(built, example("salt-and-lanterns"));
    // A longer book: the folds move, the ribbon does not break.
    let text = std::fs::read_to_string(folder.join("cover.kdl")).expect("has a text");
    assert!(text.contains("pages 312 ") && text.contains("art/"));
    let text = text.replace("pages 312 ", "pages 480 ").replace("\"art/", "\"");
    let file = |name: &str| std::fs::read(folder.join(name)).expect("is beside it");
    let files = [file("art/harbour.jpg"), file("art/lantern.svg"), file("art/mark.svg"), file("blurb.md")];
    let names = ["harbour.jpg", "lantern.svg", "mark.svg", "blurb.md"];
    let files: Vec<(&str, &[u8])> = names.into_iter().zip(files.iter().map(Vec::as_slice)).collect();
    let longer = cover("ribbon-longer", &text, &files, &["--only", "press"]);
    level(&longer, Book { pages: 480, ..example("salt-and-lanterns") });
}

fn level(built: &Built, book: Book) {
    let sheet = flat(book);
    let stated = ask("mutool", &["pages", &shown(&built.press())]);
    let trim = trim_corner(&stated);
    let rows: Vec<(f64, f64)> = [sheet.spine.0, sheet.spine.1]
        .into_iter()
        .flat_map(|fold| {
            // A window of 4 mm across the fold, higher than the ribbon; then columns either side of the fold.
            let (left, top) = (trim.0 + (fold - 2.0) * MM, trim.1 + (TOP - 5.0) * MM);
            let window = Window::draw(built, left, top, 4.0 * MM, (FOOT - TOP + 10.0) * MM);
            let fold = trim.0 + fold * MM - window.left;
            [-40.0, -12.0, -2.0, 1.0, 11.0, 39.0].map(|away: f64| {
                let (first, last) = window.ribbon((fold + away).floor() as usize);
                (first + window.top - trim.1, last + window.top - trim.1)
            })
        })
        .collect();
    for (first, last) in &rows {
        assert!((first - TOP * MM).abs() <= 1.0 && (last - FOOT * MM).abs() <= 1.0, "{}: {rows:?}", built.stem);
        assert!((first - rows[0].0).abs() <= 1.0 && (last - rows[0].1).abs() <= 1.0, "{}: {rows:?}", built.stem);
    }
}

/// The trim's upper left corner in pixels from the page's.
fn trim_corner(stated: &str) -> (f64, f64) {
    let side = |name: &str, key: &str| -> f64 {
        let line = stated.lines().find(|line| line.contains(&format!("<{name} "))).expect("the box is there");
        let (_, value) = line.split_once(&format!(" {key}=\"")).expect("the box has that side");
        value.split_once('"').expect("it is closed").0.parse().expect("it is a number")
    };
    let scale = PPI / 72.0;
    (side("TrimBox", "l") * scale, (side("MediaBox", "t") - side("TrimBox", "t")) * scale)
}

struct Window {
    left: f64,
    top: f64,
    picture: image::RgbImage,
}

impl Window {
    fn draw(built: &Built, left: f64, top: f64, width: f64, height: f64) -> Window {
        let [left, top, width, height] = [left, top, width, height].map(f64::floor);
        let root = built.beside("ribbon");
        let words = [left, top, width, height].map(|pixels| pixels.to_string());
        let press = shown(&built.press());
        let part = ["-x", &words[0], "-y", &words[1], "-W", &words[2], "-H", &words[3]];
        let mut all = vec!["-r", "600", "-png", "-singlefile"];
        all.extend(part);
        all.extend([press.as_str(), root.as_str()]);
        ask("pdftoppm", &all);
        let picture = image::open(format!("{root}.png")).expect("was drawn").into_rgb8();
        Window { left, top, picture }
    }

    /// Where the ribbon begins and ends in a column.
    fn ribbon(&self, column: usize) -> (f64, f64) {
        let like = |row: &u32| {
            let pixel = self.picture.get_pixel(column as u32, *row).0;
            pixel.iter().zip(RED).all(|(value, red)| value.abs_diff(red) < 60)
        };
        let rows: Vec<u32> = (0..self.picture.height()).filter(like).collect();
        let (first, last) = (rows.first().copied().unwrap_or_default(), rows.last().copied().unwrap_or_default());
        assert_eq!(rows.len() as u32, last - first + 1, "the ribbon is whole in column {column}");
        (f64::from(first), f64::from(last + 1))
    }
}
