//! Marks keep out of the bleed and out of each other's way, on wide sheets and on strips.

use super::{OnDisk, block, press, scene, spot};
use crate::ground::{Ink, Rect};
use crate::pdf::Surround;
use crate::pdf::boxes::SCALE;
use crate::pdf::printers_marks::around;
use crate::scene::Scene;

/// From a wrap with four spots to a strip hardly wider than its spine.
fn sheets() -> Vec<Scene> {
    let spots = || {
        let names = ["Foil", "Varnish", "Warm orange", "Warm red"];
        names.map(|name| block(Rect::new(0.0, 0.0, 5.0, 5.0), Ink::spot(spot(name, [0.0, 0.5, 0.9, 0.0], false), 1.0)))
    };
    let sizes = [(129.0, 19.8, 198.0), (111.0, 5.0, 178.0), (60.0, 1.5, 60.0), (20.0, 3.0, 198.0), (10.0, 5.0, 30.0)];
    sizes.into_iter().map(|(width, spine, height)| scene(width, spine, height, spots().to_vec())).collect()
}

#[test]
fn nothing_touches_the_bleed_the_edge_or_a_neighbour() {
    for scene in sheets() {
        let (marks, margins) = around(&scene);
        let [left, top, right, bottom] = margins.0;
        let trim = scene.sheet.trim;
        let page = Rect::new(trim.x0 - left, trim.y0 - top, trim.x1 + right, trim.y1 + bottom);
        let bounds: Vec<Rect> = marks.iter().filter_map(super::Item::bounds).collect();
        let meet = |a: Rect, b: Rect| {
            let both = a.intersect(b);
            both.width() > 1e-6 && both.height() > 1e-6
        };
        assert!(bounds.len() > 8 + 8 + 4 + 13);
        for (index, one) in bounds.iter().enumerate() {
            assert!(!meet(*one, scene.sheet.bleed), "{one} in the bleed of {trim}");
            assert!(page.contains_rect(one.inflate(1.0, 1.0)), "{one} at the edge of {page}");
            for other in &bounds[..index] {
                assert!(!meet(*one, *other), "{one} meets {other} around {trim}");
            }
        }
    }
}

/// The registration colour is on every plate, spots too; the colour bar's patches each on their own.
#[test]
fn marks_print_on_every_plate() {
    let scene = &sheets()[0];
    let margins = around(scene).1.0;
    let plates = OnDisk::new(&press(scene, Surround::Marks)).plates(360);
    // The middle of the first crop mark, a quarter of a point wide: one pixel and a bit at 360.
    let crop = (margins[0], margins[1] - 3.1 - 2.5);
    for plate in ["Cyan", "Magenta", "Yellow", "Black", "Foil", "Varnish", "Warm orange", "Warm red"] {
        let ink = (-2..=2).map(|step| plates.at(plate, crop.0 + f64::from(step) / 360.0 * 25.4, crop.1)).max();
        assert_eq!(ink, Some(255), "{plate} at {} pt", crop.0 * SCALE);
    }
    let patch = |column: f64| (margins[0] + column * 5.0 + 2.5, margins[1] - 3.1 - 5.0 - 1.5 - 2.5);
    let (x, y) = patch(4.0);
    super::near(plates.process(x, y), [128, 0, 0, 0]);
    let (x, y) = patch(8.0);
    super::near(plates.process(x, y), [128, 102, 102, 0]);
    let (x, y) = patch(11.0);
    super::near([plates.at("Warm orange", x, y), plates.at("Foil", x, y)], [255, 0]);
}

/// Editions differ in the job line: it stands on black, or on the plate for all words, and on no other; the names of the
/// plates each on their own.
#[test]
fn the_job_line_stands_on_one_plate() {
    let mut scene = sheets().swap_remove(0);
    for (process, text_plate, carrier) in [
        ([0.5, 0.0, 0.0, 0.5], None, "Black"),
        ([0.5, 0.0, 0.0, 0.5], Some("warm RED"), "Warm red"),
        ([0.5, 0.0, 0.0, 0.5], Some("cyan"), "Cyan"),
        ([0.5, 0.0, 0.0, 0.5], Some("No such"), "Black"),
        // No black plate is made of these.
        ([0.0, 0.5, 0.0, 0.0], None, "Magenta"),
        ([0.0; 4], None, "Foil"),
    ] {
        let [c, m, y, k] = process;
        scene.items.truncate(4);
        scene.items.push(block(Rect::new(50.0, 50.0, 60.0, 60.0), Ink::process(c, m, y, k)));
        scene.job.title = "Salt and Lanterns".to_owned();
        scene.job.text_plate = text_plate.map(str::to_owned);
        let margins = around(&scene).1.0;
        let plates = OnDisk::new(&press(&scene, Surround::Marks)).plates(180);
        // From the trim's left edge 20 mm to the right, and some of the line's height, below the fold marks.
        let (left, head) = (margins[0], margins[1] + scene.sheet.trim.height() + 3.1 + 5.0 + 1.5);
        let line = Rect::new(left, head, left + 20.0, head + 1.5);
        for plate in ["Cyan", "Magenta", "Yellow", "Black", "Foil", "Varnish", "Warm orange", "Warm red"] {
            assert_eq!(plates.inked(plate, line), plate == carrier, "{plate}, {process:?}, {text_plate:?}");
        }
    }
}
