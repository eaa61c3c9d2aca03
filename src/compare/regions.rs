//! Regions: where two drawings of one panel differ visibly, cell by cell, cells joined to rectangles.

use crate::compare::seen::{OTHER, OTHER_AREA, PixelEye};
use crate::compare::view::ViewPixels;
use crate::ground::MM_PER_INCH;

/// The side of a cell, millimetres.
const CELL: f64 = 2.0;
/// Levels of 255 by which the channels of an even area differ at most. An edge that moves by less than a pixel changes no
/// colour by more than the two beside it differ, so in an even area none that moves is seen.
const EVEN: u8 = 4;
/// Millimetres between what differs and its frame.
const AROUND: f64 = 1.0;
/// Where pixels may lie beside their place they were laid again, which softens or sharpens small lights.
const LAID_ANEW: f64 = 2.0 * OTHER;
/// So many pixels of a cell must differ: one alone is a crumb of rounding.
const PIXELS: usize = 2;

/// Millimetres from the corner of the panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DifferingArea {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

/// The cells that differ, and in each what differs.
pub struct CellGrid {
    columns: usize,
    grid: Vec<GridCell>,
    /// Millimetres a pixel.
    step: f64,
    size: (usize, usize),
}

#[derive(Clone, Copy)]
struct GridCell {
    pixels: usize,
    /// Left, top, right, bottom: pixels.
    edges: [usize; 4],
}

impl CellGrid {
    /// `slack` says of a pixel how far beside its place it may lie: it then differs only from all of its neighbours.
    pub fn new(old: &ViewPixels, new: &ViewPixels, ppi: f64, slack: &dyn Fn(usize, usize) -> usize) -> CellGrid {
        let size = (old.width.min(new.width), old.height.min(new.height));
        let side = CELL * ppi / MM_PER_INCH;
        let count = |pixels: usize| (pixels as f64 / side).ceil().max(1.0) as usize;
        let (columns, rows) = (count(size.0), count(size.1));
        let mut eye = PixelEye::new();
        let mut cells = vec![GridCell { pixels: 0, edges: [usize::MAX, usize::MAX, 0, 0] }; columns * rows];
        for y in 0..size.1 {
            for x in 0..size.0 {
                let (one, other) = (at(old, x, y), at(new, x, y));
                let off = eye.difference(one, other);
                if off > OTHER_AREA && is_other(off, [(one, old), (other, new)], (x, y), slack(x, y), size, &mut eye) {
                    let (column, row) = ((x as f64 / side) as usize, (y as f64 / side) as usize);
                    let cell = &mut cells[row.min(rows - 1) * columns + column.min(columns - 1)];
                    cell.pixels += 1;
                    cell.edges = joined(&cell.edges, &[x, y, x + 1, y + 1]);
                }
            }
        }
        CellGrid { columns, grid: cells, step: MM_PER_INCH / ppi, size }
    }

    /// CellGrid that touch or have one cell between them are one place; places that overlap are one.
    pub fn regions(&self) -> Vec<DifferingArea> {
        // Of each place its cells and its pixels.
        let mut places: Vec<[[usize; 4]; 2]> = Vec::new();
        for (at, cell) in self.grid.iter().enumerate().filter(|(_, cell)| cell.pixels >= PIXELS) {
            let (x, y) = (at % self.columns, at / self.columns);
            places.push([[x, y, x + 1, y + 1], cell.edges]);
        }
        loop {
            let before = places.len();
            let mut kept: Vec<[[usize; 4]; 2]> = Vec::new();
            for one in places {
                match kept.iter_mut().find(|other| near(&one[0], &other[0])) {
                    Some(other) => (0..2).for_each(|at| other[at] = joined(&one[at], &other[at])),
                    None => kept.push(one),
                }
            }
            places = kept;
            if places.len() == before {
                break;
            }
        }
        places.sort_by_key(|[[left, top, ..], _]| (*top, *left));
        places.into_iter().map(|[_, edges]| self.region(edges)).collect()
    }

    /// A little wider than what differs, within the panel.
    fn region(&self, [left, top, right, bottom]: [usize; 4]) -> DifferingArea {
        let most = [self.size.0, self.size.1].map(|pixels| pixels as f64 * self.step);
        let [left, top, right, bottom] = [left, top, right, bottom].map(|edge| edge as f64 * self.step);
        DifferingArea {
            left: (left - AROUND).max(0.0),
            top: (top - AROUND).max(0.0),
            right: (right + AROUND).min(most[0]),
            bottom: (bottom + AROUND).min(most[1]),
        }
    }
}

fn joined(one: &[usize; 4], other: &[usize; 4]) -> [usize; 4] {
    [one[0].min(other[0]), one[1].min(other[1]), one[2].max(other[2]), one[3].max(other[3])]
}

fn near(one: &[usize; 4], other: &[usize; 4]) -> bool {
    (0..2).all(|axis| one[axis] <= other[axis + 2] + 1 && other[axis] <= one[axis + 2] + 1)
}

fn at(pixels: &ViewPixels, x: usize, y: usize) -> [u8; 3] {
    let at = (y * pixels.width + x) * 3;
    [pixels.rgb[at], pixels.rgb[at + 1], pixels.rgb[at + 2]]
}

/// Whether two pixels that look different are another colour: by more than those around them, where they may lie beside
/// their place.
fn is_other(
    off: f64,
    [(one, old), (other, new)]: [([u8; 3], &ViewPixels); 2],
    place: (usize, usize),
    slack: usize,
    size: (usize, usize),
    eye: &mut PixelEye,
) -> bool {
    let [was, now] = [old, new].map(|pixels| ColourRange::around(pixels, place, slack.max(1), size));
    if was.is_even() && now.is_even() {
        return true;
    }
    let mut outside = |pixel: [u8; 3], range: &ColourRange| eye.difference(pixel, range.nearest(pixel)) > LAID_ANEW;
    off > OTHER && (slack == 0 || outside(one, &now) || outside(other, &was))
}

/// The least and the most of each channel around a place.
struct ColourRange {
    least: [u8; 3],
    most: [u8; 3],
}

impl ColourRange {
    fn around(
        pixels: &ViewPixels,
        (x, y): (usize, usize),
        away: usize,
        (width, height): (usize, usize),
    ) -> ColourRange {
        let mut range = ColourRange { least: [u8::MAX; 3], most: [0; 3] };
        for row in y.saturating_sub(away)..(y + away + 1).min(height) {
            for column in x.saturating_sub(away)..(x + away + 1).min(width) {
                let near = at(pixels, column, row);
                for (channel, level) in near.into_iter().enumerate() {
                    range.least[channel] = range.least[channel].min(level);
                    range.most[channel] = range.most[channel].max(level);
                }
            }
        }
        range
    }

    fn is_even(&self) -> bool {
        self.least.iter().zip(self.most).all(|(least, most)| most.saturating_sub(*least) <= EVEN)
    }

    /// The colour within it that is nearest, channel by channel.
    fn nearest(&self, pixel: [u8; 3]) -> [u8; 3] {
        std::array::from_fn(|channel| pixel[channel].max(self.least[channel]).min(self.most[channel]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paper(width: usize, height: usize) -> ViewPixels {
        ViewPixels { width, height, rgb: vec![255; width * height * 3] }
    }

    fn stain(pixels: &mut ViewPixels, x: usize, y: usize) {
        let at = (y * pixels.width + x) * 3;
        pixels.rgb[at..at + 3].fill(0);
    }

    fn regions(old: &ViewPixels, new: &ViewPixels, slack: usize) -> Vec<[f64; 4]> {
        // At 254 pixels per inch a millimetre has 10 pixels, by the definition of the inch.
        let regions = CellGrid::new(old, new, 254.0, &|_, _| slack).regions();
        let tenth = |mm: f64| (mm * 10.0).round() / 10.0;
        regions.into_iter().map(|r| [r.left, r.top, r.right, r.bottom].map(tenth)).collect()
    }

    #[test]
    fn a_stain_is_a_place_and_two_apart_are_two() {
        let (old, mut new) = (paper(400, 200), paper(400, 200));
        stain(&mut new, 50, 50);
        assert!(regions(&old, &new, 0).is_empty(), "one pixel is a crumb");
        stain(&mut new, 51, 50);
        assert_eq!(regions(&old, &new, 0), [[4.0, 4.0, 6.2, 6.1]]);
        (0..2).for_each(|x| stain(&mut new, 398 + x, 50));
        assert_eq!(regions(&old, &new, 0), [[4.0, 4.0, 6.2, 6.1], [38.8, 4.0, 40.0, 6.1]]);
    }

    fn area(from: u16, colour: [u8; 3]) -> ViewPixels {
        let mut pixels = paper(80, 80);
        for (at, pixel) in pixels.rgb.chunks_exact_mut(3).enumerate() {
            if at % 80 >= from.into() {
                pixel.copy_from_slice(&colour);
            }
        }
        pixels
    }

    /// Navy and teal, of which no channel differs by a tenth; a grey that no eye tells from another, and one that it does
    /// beside it.
    #[test]
    fn areas_of_another_colour_differ_whatever_their_channels_do() {
        for (one, other, differs) in [
            ([0, 32, 64], [0, 54, 74], true),
            ([20, 40, 80], [10, 62, 84], true),
            ([128, 128, 128], [131, 131, 131], false),
            ([128, 128, 128], [136, 136, 136], true),
            ([255, 250, 40], [255, 250, 48], false),
        ] {
            for slack in [0, 1, 6] {
                let found = regions(&area(0, one), &area(0, other), slack);
                assert_eq!(!found.is_empty(), differs, "{one:?} {other:?}, slack {slack}: {found:?}");
            }
        }
    }

    /// An edge between two tints, the pixel on it a quarter and three quarters covered.
    #[test]
    fn an_edge_that_moves_within_a_pixel_is_no_area() {
        for (ground, tint) in [([255; 3], [236; 3]), ([128; 3], [120; 3]), ([0, 32, 64], [0, 40, 68])] {
            let edge = |share: f64| {
                let mut pixels = area(40, tint);
                for (at, pixel) in pixels.rgb.chunks_exact_mut(3).enumerate() {
                    let mixed =
                        |at: usize| f64::from(ground[at]) + (f64::from(tint[at]) - f64::from(ground[at])) * share;
                    match at % 80 {
                        0..39 => pixel.copy_from_slice(&ground),
                        39 => (0..3).for_each(|at| pixel[at] = mixed(at).round() as u8),
                        _ => {}
                    }
                }
                pixels
            };
            assert_eq!(regions(&edge(0.25), &edge(0.75), 0), [[0.0; 4]; 0], "{ground:?} {tint:?}");
        }
    }

    #[test]
    fn pixels_with_slack_may_lie_beside() {
        let (mut old, mut new) = (paper(80, 80), paper(80, 80));
        for y in 0..80 {
            (20..24).for_each(|x| stain(&mut old, x, y));
            (21..25).for_each(|x| stain(&mut new, x, y));
        }
        assert!(regions(&old, &new, 1).is_empty());
        assert_eq!(regions(&old, &new, 0).len(), 1);
    }
}
