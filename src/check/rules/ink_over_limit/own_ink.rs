//! Own ink: what a picture itself lays on a place, whatever lies over and under it. Only of that can it be told to lay less.

use crate::check::exam::Exam;
use crate::check::ink_sums::InkSums;
use crate::check::patches::InkPatch;
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{Affine, Point};
use crate::scene::PlacedPicture;

/// Pixels of a patch that are looked at.
const LOOKED_AT: usize = 10_000;

/// The mean over a patch of what a picture of the element lays there; 1 is one solid. Of pictures that could be told to keep
/// within a limit and are not: in the four inks of the press, without tones and ink of their own.
pub fn own_ink(exam: &Exam<'_>, element: &VisibleElement<'_>, patch: &InkPatch, limit: f64) -> f64 {
    let Some(sums) = exam.measured.map(|measured| &measured.sums) else { return 0.0 };
    let step = patch.pixels.len().div_ceil(LOOKED_AT).max(1);
    let spots: Vec<Point> = patch.pixels.iter().step_by(step).map(|at| middle(sums, *at)).collect();
    let may = |placed: &PlacedPicture| {
        let within = placed.separation.limit.is_some_and(|own| f64::from(own) <= limit * 100.0);
        placed.paint.is_none() && placed.picture.tones().is_none() && !within
    };
    let all = element.pictures().filter(|(placed, _)| may(placed));
    all.map(|(placed, shown)| laid(exam, placed, shown, &spots)).fold(0.0, f64::max)
}

/// The middle of a pixel on the sheet.
fn middle(sums: &InkSums, at: usize) -> Point {
    let mm = |count: usize| (count as f64 + 0.5) * sums.pixel;
    Point::new(sums.area.x0 + mm(at % sums.width), sums.area.y0 + mm(at / sums.width))
}

fn laid(exam: &Exam<'_>, placed: &PlacedPicture, shown: &VisibleMark<'_>, spots: &[Point]) -> f64 {
    let picture = &placed.picture;
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let into: Affine = placed.transform.inverse();
    let pixel = |spot: &Point| {
        let place = into * *spot;
        let inside = (0.0..1.0).contains(&place.x) && (0.0..1.0).contains(&place.y) && shown.bounds.contains(*spot);
        inside.then(|| (place.y * height as f64) as usize * width + (place.x * width as f64) as usize)
    };
    let which: Vec<usize> = spots.iter().filter_map(pixel).collect();
    if which.is_empty() {
        return 0.0;
    }
    let inks = exam.darkroom.few_inks(picture, placed.separation, &exam.scene.profile, &which);
    if inks.plates.len() != PROCESS {
        return 0.0;
    }
    let total = |inks: &[u8; PROCESS]| inks.iter().map(|ink| f64::from(*ink) / 255.0).sum::<f64>();
    let sum: f64 = inks.samples.as_chunks::<PROCESS>().0.iter().map(total).sum();
    shown.opacity * sum / spots.len().max(1) as f64
}

/// Grey ones print in black alone.
const PROCESS: usize = 4;

#[cfg(test)]
mod tests {
    use crate::check::rules::ink_over_limit::{HELP, RULE};
    use crate::check::testing::reported;

    #[test]
    fn a_picture_is_told_to_limit_its_inks() {
        let cover = |look: &str| {
            let found = reported(
                &RULE,
                &format!(
                    "press coated ink-limit=150\npanel front {{ image a file=\"art/ink.tif\" {{ left 20; width 60; top 20; height 60; {look} }} }}"
                ),
            );
            found.into_iter().map(|found| found.help.unwrap_or_default()).collect::<Vec<_>>()
        };
        let help = cover("fit filling");
        assert!(
            !help.is_empty() && help.iter().all(|help| help.starts_with("write `limit-inks 150` in the image")),
            "{help:?}"
        );
        assert_eq!(cover("fit filling; limit-inks 150"), [""; 0]);
    }

    // A limit that has no effect is no way out: the ink is the band's, or the picture has tones.
    #[test]
    fn a_picture_that_is_not_over_the_limit_is_not_told_to_keep_it() {
        let helps = |cover: &str| -> Vec<String> {
            reported(&RULE, cover).into_iter().map(|found| found.help.unwrap_or_default()).collect()
        };
        let place = "left 20; width 60; top 20; height 60";
        let under_a_band = helps(&format!(
            "swatches {{ swatch deep c=70 m=70 y=70 k=70 }}
            panel front {{ image a file=\"art/neon.png\" {{ {place}; fit filling }}
                band b {{ swatch deep; {place}; blend multiply }} }}"
        ));
        assert!(!under_a_band.is_empty() && under_a_band.iter().all(|help| help == HELP), "{under_a_band:?}");
        let tones = ["c", "m", "y", "black"].map(|ink| format!("tone {ink} 0 0 100 100;")).concat();
        let toned = helps(&format!(
            "swatches {{ swatch c c=100; swatch m m=100; swatch y y=100 }}
            panel front {{ image a file=\"art/small.jpg\" {{ {place}; fit filling; {tones} }} }}"
        ));
        assert!(!toned.is_empty() && toned.iter().all(|help| help == HELP), "{toned:?}");
    }
}
