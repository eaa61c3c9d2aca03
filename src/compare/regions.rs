//! Regions: where two drawings of one panel differ visibly, cell by cell, cells joined to rectangles.

use crate::compare::view::Pixels;
use crate::ground::MM_PER_INCH;

/// The side of a cell, millimetres.
const CELL: f64 = 4.0;
/// A channel that differs by more of 255 is seen, about as much as a step of a grey scale in ten.
const VISIBLE: u8 = 24;
/// So many pixels of a cell must differ: one alone is a crumb of rounding.
const PIXELS: usize = 2;

/// Millimetres from the corner of the panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Region {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

/// Which cells differ.
pub struct Cells {
    columns: usize,
    differs: Vec<bool>,
}

impl Cells {
    /// `soft` pixels may lie beside where they should: a pixel then differs only from all of its neighbours.
    pub fn new(old: &Pixels, new: &Pixels, ppi: f64, soft: bool) -> Cells {
        let (width, height) = (old.width.min(new.width), old.height.min(new.height));
        let cell = CELL * ppi / MM_PER_INCH;
        let count = |pixels: usize| (pixels as f64 / cell).ceil() as usize;
        let (columns, rows) = (count(width), count(height));
        let mut counts = vec![0_usize; columns * rows];
        for y in 0..height {
            for x in 0..width {
                let differs = if soft {
                    outside(old, new, x, y, (width, height)) || outside(new, old, x, y, (width, height))
                } else {
                    let (one, other) = (at(old, x, y), at(new, x, y));
                    (0..3).any(|channel| one[channel].abs_diff(other[channel]) > VISIBLE)
                };
                if differs {
                    let (column, row) = ((x as f64 / cell) as usize, (y as f64 / cell) as usize);
                    counts[row.min(rows - 1) * columns + column.min(columns - 1)] += 1;
                }
            }
        }
        Cells { columns, differs: counts.into_iter().map(|count| count >= PIXELS).collect() }
    }

    /// Cells that touch or have one cell between them are one place; places that overlap are one.
    pub fn regions(&self) -> Vec<Region> {
        let mut boxes: Vec<[usize; 4]> = Vec::new();
        for at in (0..self.differs.len()).filter(|at| self.differs[*at]) {
            let (x, y) = (at % self.columns, at / self.columns);
            boxes.push([x, y, x + 1, y + 1]);
        }
        loop {
            let before = boxes.len();
            let mut joined: Vec<[usize; 4]> = Vec::new();
            for one in boxes {
                match joined.iter_mut().find(|other| near(&one, other)) {
                    Some(other) => {
                        *other =
                            [one[0].min(other[0]), one[1].min(other[1]), one[2].max(other[2]), one[3].max(other[3])];
                    }
                    None => joined.push(one),
                }
            }
            boxes = joined;
            if boxes.len() == before {
                break;
            }
        }
        boxes.sort_by_key(|[left, top, ..]| (*top, *left));
        let region = |edges: [usize; 4]| {
            let [left, top, right, bottom] = edges.map(|cell| cell as f64 * CELL);
            Region { left, top, right, bottom }
        };
        boxes.into_iter().map(region).collect()
    }
}

fn near(one: &[usize; 4], other: &[usize; 4]) -> bool {
    (0..2).all(|axis| one[axis] <= other[axis + 2] + 1 && other[axis] <= one[axis + 2] + 1)
}

fn at(pixels: &Pixels, x: usize, y: usize) -> [u8; 3] {
    let at = (y * pixels.width + x) * 3;
    [pixels.rgb[at], pixels.rgb[at + 1], pixels.rgb[at + 2]]
}

/// Whether a pixel lies outside all that the other drawing has around it.
fn outside(one: &Pixels, other: &Pixels, x: usize, y: usize, (width, height): (usize, usize)) -> bool {
    let (mut least, mut most) = ([u8::MAX; 3], [0_u8; 3]);
    for row in y.saturating_sub(1)..(y + 2).min(height) {
        for column in x.saturating_sub(1)..(x + 2).min(width) {
            let pixel = at(other, column, row);
            for channel in 0..3 {
                least[channel] = least[channel].min(pixel[channel]);
                most[channel] = most[channel].max(pixel[channel]);
            }
        }
    }
    let pixel = at(one, x, y);
    (0..3).any(|channel| {
        pixel[channel] < least[channel].saturating_sub(VISIBLE)
            || pixel[channel] > most[channel].saturating_add(VISIBLE)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paper(width: usize, height: usize) -> Pixels {
        Pixels { width, height, rgb: vec![255; width * height * 3] }
    }

    fn stain(pixels: &mut Pixels, x: usize, y: usize) {
        let at = (y * pixels.width + x) * 3;
        pixels.rgb[at..at + 3].fill(0);
    }

    #[test]
    fn a_stain_is_a_cell_and_two_apart_are_two() {
        // At 254 pixels per inch a cell of 4 mm has 40 pixels.
        let (old, mut new) = (paper(400, 200), paper(400, 200));
        assert!(Cells::new(&old, &new, 254.0, false).regions().is_empty());
        stain(&mut new, 50, 50);
        assert!(Cells::new(&old, &new, 254.0, false).regions().is_empty(), "one pixel is a crumb");
        stain(&mut new, 51, 50);
        let one = Region { left: 4.0, top: 4.0, right: 8.0, bottom: 8.0 };
        assert_eq!(Cells::new(&old, &new, 254.0, false).regions(), [one]);
        (0..2).for_each(|x| stain(&mut new, 390 + x, 50));
        let other = Region { left: 36.0, right: 40.0, ..one };
        assert_eq!(Cells::new(&old, &new, 254.0, false).regions(), [one, other]);
    }

    #[test]
    fn soft_pixels_may_lie_beside() {
        let (mut old, mut new) = (paper(80, 80), paper(80, 80));
        for y in 0..80 {
            (20..24).for_each(|x| stain(&mut old, x, y));
            (21..25).for_each(|x| stain(&mut new, x, y));
        }
        assert!(Cells::new(&old, &new, 254.0, true).regions().is_empty());
        assert_eq!(Cells::new(&old, &new, 254.0, false).regions().len(), 1);
    }
}
