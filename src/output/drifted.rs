//! Drifted: small pictures of the cover as it would come back when a cut, a fold or the plates are off.

use crate::assets::Darkroom;
use crate::ground::{MM_PER_INCH, Point, Rect, Vec2};
use crate::output::entry::OutputFile;
use crate::output::png::{About, png_file};
use crate::raster::{Screen, misregistered, screen};
use crate::scene::{Drift, Scene};

/// The table under a cover, on which a white edge shows.
const TABLE: [u8; 3] = [150, 150, 150];
/// Millimetres of it around a cover, and between panels that are shown apart.
const MARGIN: f64 = 5.0;
const GAP: f64 = 3.0;
/// A detail in which plates are apart, and its pixels per inch: 0.1 mm is two pixels.
const DETAIL: (f64, f64) = (36.0, 24.0);
const DETAIL_PPI: f64 = 508.0;

/// The worst cases. The detail for register is taken around a place.
pub fn drifted(scene: &Scene, drift: Drift, ppi: f64, detail: Point, darkroom: &Darkroom) -> Vec<OutputFile> {
    let trim = scene.sheet.trim;
    let cuts = [("left", -1.0, 0.0), ("right", 1.0, 0.0), ("head", 0.0, -1.0), ("foot", 0.0, 1.0)];
    let mut files = Vec::new();
    let mut add = |name: String, pixels: &[u8], size: (usize, usize), ppi: f64| {
        files.push(OutputFile {
            bytes: png_file(pixels, size, ppi, About::part(scene, &name)).into(),
            name: format!("{name}.png"),
        });
    };
    for (name, x, y) in cuts {
        let cut = trim + Vec2::new(x, y) * drift.cut;
        let (pixels, size) = on_table(&[screen(scene, cut, ppi, darkroom)], ppi);
        add(format!("drift-cut-{name}"), &pixels, size, ppi);
    }
    if !scene.sheet.folds.is_empty() {
        for (name, way) in [("left", -1.0), ("right", 1.0)] {
            let panels = folded(scene, way * drift.fold);
            let panels: Vec<Screen> = panels.iter().map(|panel| screen(scene, *panel, ppi, darkroom)).collect();
            let (pixels, size) = on_table(&panels, ppi);
            add(format!("drift-fold-{name}"), &pixels, size, ppi);
        }
    }
    let area = Rect::from_center_size(detail, DETAIL);
    let inside = Vec2::new(
        (trim.x0 - area.x0).max(0.0) + (trim.x1 - area.x1).min(0.0),
        (trim.y0 - area.y0).max(0.0) + (trim.y1 - area.y1).min(0.0),
    );
    let apart = misregistered(scene, area + inside, DETAIL_PPI, drift.register, darkroom);
    add("drift-register".to_owned(), &apart.rgb, (apart.width, apart.height), DETAIL_PPI);
    files
}

/// The panels as they are when every fold is so far to the right.
fn folded(scene: &Scene, off: f64) -> Vec<Rect> {
    let trim = scene.sheet.trim;
    let folds = scene.sheet.folds.iter().map(|fold| (fold.x + off).clamp(trim.x0, trim.x1));
    let edges: Vec<f64> = [trim.x0].into_iter().chain(folds).chain([trim.x1]).collect();
    let panels = edges.windows(2).map(|edges| Rect::new(edges[0], trim.y0, edges[1], trim.y1));
    panels.filter(|panel| panel.width() > 0.0).collect()
}

/// Pictures side by side on the table.
fn on_table(all: &[Screen], ppi: f64) -> (Vec<u8>, (usize, usize)) {
    let pixels = |mm: f64| (mm * ppi / MM_PER_INCH).round() as usize;
    let (margin, gap) = (pixels(MARGIN), pixels(GAP));
    let inner = all.iter().map(|one| one.width).sum::<usize>() + gap * all.len().saturating_sub(1);
    let high = all.iter().map(|one| one.height).max().unwrap_or(0);
    let (width, height) = (inner + 2 * margin, high + 2 * margin);
    let mut table = TABLE.repeat(width * height);
    let mut left = margin;
    for one in all {
        for row in 0..one.height {
            let start = ((row + margin) * width + left) * 3;
            table[start..start + one.width * 3].copy_from_slice(one.row(row));
        }
        left += one.width + gap;
    }
    (table, (width, height))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ink;
    use crate::raster::trial::{rect, scene};
    use crate::scene::{Fold, FoldKind};

    #[test]
    fn folds_move_and_the_trim_stays() {
        let mut scene = scene(100.0, 60.0, vec![rect(0.0, 0.0, 100.0, 60.0, Ink::black(1.0))]);
        scene.sheet.folds = [45.0, 55.0].map(|x| Fold { x, kind: FoldKind::Fold }).to_vec();
        let widths: Vec<f64> = folded(&scene, 1.5).iter().map(Rect::width).collect();
        assert_eq!(widths, [46.5, 10.0, 43.5]);
        let drift = Drift { cut: 1.0, fold: 1.5, register: 0.1 };
        let files = drifted(&scene, drift, 25.4, Point::new(0.0, 0.0), &Darkroom::default());
        let names: Vec<&str> = files.iter().map(|file| file.name.as_str()).collect();
        assert_eq!(names.len(), 7, "{names:?}");
        // A pixel to the millimetre: the sheet is black to its trim alone, so a cut 1 mm to the left shows a white column.
        let cut = files.iter().find(|file| file.name == "drift-cut-left.png").expect("it is drawn");
        let mut reader = ::png::Decoder::new(std::io::Cursor::new(cut.bytes.whole())).read_info().expect("a PNG");
        let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
        reader.next_frame(&mut pixels).expect("a whole picture");
        let at = |x: usize| pixels[(30 * (100 + 10) + x) * 3];
        assert_eq!((at(2), at(5), at(104)), (TABLE[0], 255, at(50)));
        assert!(at(6) < 60);
    }
}
