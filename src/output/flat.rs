//! The flat: the trimmed wrap as it will look in print, lying on a table, its folds softly shaded.

use crate::assets::Darkroom;
use crate::ground::{Digest, MM_PER_INCH};
use crate::output::entry::{Output, OutputFile, OutputJob, PPI};
use crate::output::light::{Tabletop, fold_light, grain, lit};
use crate::output::png;
use crate::raster::ScreenTiles;
use crate::scene::{Media, Scene};
use crate::source::Word;
use rayon::prelude::*;
use std::ops::Range;

pub const OUTPUT: Output = Output {
    word: Word::new("flat", "the flat picture: the whole cover, trimmed, as it will look").properties(&[PPI]),
    files: &["flat.png"],
    for_press: false,
    on_request: false,
    media: Media::Print,
    write,
};

/// Margins as shares of the cover's height; the foot has more, so that the cover does not seem to sink.
const SIDE: f64 = 0.11;
const FOOT: f64 = 0.13;
/// Rows of the margins that are compressed together.
const HIGH: usize = 64;

struct FlatPicture {
    cover: ScreenTiles,
    table: Tabletop,
    light: Vec<(usize, f32)>,
    side: usize,
    width: usize,
}

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    vec![OutputFile {
        name: "flat.png".to_owned(),
        bytes: flat_picture(job.scene, job.settings.ppi, job.darkroom).into(),
    }]
}

/// The bytes of a flat picture with so many pixels per inch.
pub fn flat_picture(scene: &Scene, ppi: f64, darkroom: &Darkroom) -> Vec<u8> {
    let scale = ppi / MM_PER_INCH;
    let cover = ScreenTiles::draw(scene, scene.sheet.trim, ppi, darkroom);
    let [side, foot] = flat_margins(cover.height);
    let (width, height) = (cover.width + 2 * side, cover.height + side + foot);
    let table = Tabletop::new((width, height), (side, side), (cover.width, cover.height), scale);
    let light = fold_light(&scene.sheet, cover.width, scale);
    let about = format!("{width} {height} {side} {ppi} {light:?}");
    let strips = strips(side, &cover, height);
    let flat = FlatPicture { cover, table, light, side, width };
    let strips: Vec<_> = strips
        .into_par_iter()
        .map(|rows| {
            let key = Digest::of_all(&[b"flat strip", about.as_bytes(), flat.name(&rows).bytes()]);
            darkroom.stream(key, || {
                let mut rgb = vec![0; rows.len() * width * 3];
                rgb.chunks_exact_mut(width * 3).zip(rows).for_each(|(pixels, row)| flat.draw(row, pixels));
                png::strip(rgb.chunks_exact(width * 3), 3)
            })
        })
        .collect();
    png::write(&strips, (width, height), ppi, png::About::part(scene, "flat"))
}

/// What lies beside a cover of so many rows, and at its foot, in pixels.
pub fn flat_margins(height: usize) -> [usize; 2] {
    [SIDE, FOOT].map(|share| (height as f64 * share).round() as usize)
}

/// Rows from head to foot; those of the cover are cut as it was drawn.
fn strips(side: usize, cover: &ScreenTiles, height: usize) -> Vec<Range<usize>> {
    let margin = |rows: Range<usize>| {
        let end = rows.end;
        rows.step_by(HIGH).map(move |row| row..(row + HIGH).min(end))
    };
    let own = cover.strips().into_iter().map(|rows| rows.start + side..rows.end + side);
    margin(0..side).chain(own).chain(margin(side + cover.height..height)).collect()
}

impl FlatPicture {
    fn name(&self, rows: &Range<usize>) -> Digest {
        let own = |row: usize| row.saturating_sub(self.side).min(self.cover.height);
        let name = self.cover.name(own(rows.start)..own(rows.end), 0..self.cover.width);
        Digest::of_all(&[name.bytes(), &rows.start.to_le_bytes()])
    }

    fn draw(&self, row: usize, pixels: &mut [u8]) {
        let Some(own) = row.checked_sub(self.side).filter(|own| *own < self.cover.height) else {
            return self.table.draw(row, 0, pixels);
        };
        let (left, rest) = pixels.split_at_mut(self.side * 3);
        let (middle, right) = rest.split_at_mut(self.cover.width * 3);
        self.table.draw(row, 0, left);
        self.table.draw(row, self.width - self.side, right);
        self.cover.copy_row(own, 0..self.cover.width, middle);
        for (column, light) in &self.light {
            let grain = grain(*column, own);
            middle[column * 3..column * 3 + 3].iter_mut().for_each(|value| *value = lit(*value, *light, grain));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ink;
    use crate::raster::trial::{rect, scene};
    use crate::scene::{Fold, FoldKind};

    fn pixels(file: &[u8]) -> (usize, Vec<u8>) {
        let mut reader = ::png::Decoder::new(std::io::Cursor::new(file)).read_info().expect("a PNG");
        let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
        reader.next_frame(&mut pixels).expect("a whole picture");
        (reader.info().width as usize, pixels)
    }

    #[test]
    fn a_cover_lies_in_the_light() {
        let mut scene = scene(100.0, 80.0, vec![rect(-3.0, -3.0, 106.0, 86.0, Ink::black(0.5))]);
        scene.sheet.folds = vec![Fold { x: 50.0, kind: FoldKind::Fold }];
        let darkroom = Darkroom::default();
        let made = flat_picture(&scene, 127.0, &darkroom);
        let (width, shown) = pixels(&made);
        // 100 mm and 80 mm at 5 pixels a millimetre; margins of 44 and 52 pixels.
        assert_eq!((width, shown.len()), (588, 588 * 496 * 3));
        let at = |x: usize, y: usize| shown[(y * width + x) * 3];
        let paper = at(44 + 100, 200);
        assert_eq!(paper, at(44 + 400, 200), "far from a fold the print is itself");
        assert!(at(44 + 247, 200) > paper && at(44 + 253, 200) < paper, "a fold parts light from shade");
        assert!(at(5, 5) > 230 && at(294, 447) < at(294, 40), "the shadow falls to the foot");
        assert!(made == flat_picture(&scene, 127.0, &darkroom), "memory does not show");
    }
}
