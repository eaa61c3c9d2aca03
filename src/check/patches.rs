//! Patches: pixels of a grid that hang together.

use crate::ground::Rect;

pub struct InkPatch {
    /// Their numbers, row by row.
    pub pixels: Vec<usize>,
}

impl InkPatch {
    /// The box around it on the sheet, where the grid begins at a corner of `area`.
    pub fn place(&self, width: usize, area: Rect, pixel: f64) -> Rect {
        let (mut left, mut right) = (usize::MAX, 0);
        let (mut top, mut foot) = (usize::MAX, 0);
        for at in &self.pixels {
            let (x, y) = (at % width, at / width);
            (left, right) = (left.min(x), right.max(x + 1));
            (top, foot) = (top.min(y), foot.max(y + 1));
        }
        let mm = |count: usize| count as f64 * pixel;
        Rect::new(area.x0 + mm(left), area.y0 + mm(top), area.x0 + mm(right), area.y0 + mm(foot))
    }
}

/// The patches of a grid so wide, from its first pixel on.
pub fn patches(mut wanted: Vec<bool>, width: usize) -> Vec<InkPatch> {
    let mut patches = Vec::new();
    let mut open = Vec::new();
    for start in 0..wanted.len() {
        if !std::mem::take(&mut wanted[start]) {
            continue;
        }
        let mut pixels = Vec::new();
        open.push(start);
        while let Some(at) = open.pop() {
            pixels.push(at);
            let x = at % width;
            let beside = [
                (x > 0, at.wrapping_sub(1)),
                (x + 1 < width, at + 1),
                (true, at.wrapping_sub(width)),
                (true, at + width),
            ];
            for (inside, next) in beside {
                if inside && wanted.get_mut(next).is_some_and(std::mem::take) {
                    open.push(next);
                }
            }
        }
        patches.push(InkPatch { pixels });
    }
    patches
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patches_hang_together() {
        let total = [9.0, 9.0, 0.0, 9.0, 0.0, 0.0, 9.0, 9.0, 0.0];
        let found = patches(total.iter().map(|ink| *ink > 3.0).collect(), 3);
        let area = Rect::new(10.0, 20.0, 13.0, 23.0);
        assert_eq!((found.len(), found[0].pixels.len()), (1, 5));
        assert_eq!(found[0].place(3, area, 1.0), Rect::new(10.0, 20.0, 12.0, 23.0));
        assert!(patches(vec![false, false, true, false], 2).len() == 1);
    }
}
