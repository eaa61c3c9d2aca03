//! Misregister: part of a sheet as it looks when its plates are not exactly on each other.

use crate::assets::Darkroom;
use crate::ground::{MM_PER_INCH, Rect};
use crate::raster::plates::plates;
use crate::raster::screen::screen_samples;
use crate::raster::screen_tiles::Screen;
use crate::raster::spot_proof::SpotProof;
use crate::raster::window::Window;
use crate::scene::Scene;

/// Which way each plate is off, in shares of the drift: cyan to the right, magenta to the left, yellow down, black nowhere,
/// all others up.
const AWAY: [(f64, f64); 5] = [(0.5, 0.0), (-0.5, 0.0), (0.0, 0.5), (0.0, 0.0), (0.0, -0.5)];

/// Draws `area` with plates `apart` millimetres from each other, as it will look in print.
pub fn misregistered(scene: &Scene, area: Rect, ppi: f64, apart: f64, darkroom: &Darkroom) -> Screen {
    let drawn = plates(scene, area, ppi, darkroom);
    let (width, height) = (drawn.width, drawn.height);
    let pixels = apart * ppi / MM_PER_INCH;
    let moved = |plane: &[u8], at: usize| {
        let (x, y) = AWAY[at.min(AWAY.len() - 1)];
        shifted(plane, (width, height), ((x * pixels).round() as isize, (y * pixels).round() as isize))
    };
    let process = drawn.process.iter().enumerate().map(|(at, plane)| moved(plane, at));
    let spots = drawn.spots.iter().map(|(_, plane)| moved(plane, AWAY.len()));
    let planes: Vec<Vec<u8>> = process.chain(spots).collect();
    let planes: Vec<&[u8]> = planes.iter().map(Vec::as_slice).collect();
    let whole = Window { x: 0, y: 0, width, height };
    let scale = ppi / MM_PER_INCH;
    let proofs: Vec<SpotProof> = drawn.spots.iter().map(|(spot, _)| SpotProof::new(spot, whole, scale)).collect();
    Screen { width, height, rgb: screen_samples(&planes, &proofs, &scene.profile) }
}

/// A plane moved by so many pixels; what comes in from beyond the edge is the edge again.
fn shifted(plane: &[u8], (width, height): (usize, usize), (right, down): (isize, isize)) -> Vec<u8> {
    let from = |at: usize, by: isize, most: usize| at.saturating_add_signed(-by).min(most.saturating_sub(1));
    let mut out = Vec::with_capacity(plane.len());
    for row in 0..height {
        let start = from(row, down, height) * width;
        out.extend((0..width).map(|column| plane[start + from(column, right, width)]));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ink;
    use crate::raster::screen;
    use crate::raster::trial::{rect, scene};

    #[test]
    fn a_plane_moves_and_its_edge_comes_again() {
        assert_eq!(shifted(&[1, 2, 3, 4], (2, 2), (1, 0)), [1, 1, 3, 3]);
        assert_eq!(shifted(&[1, 2, 3, 4], (2, 2), (0, -1)), [3, 4, 3, 4]);
        assert_eq!(shifted(&[1, 2, 3, 4], (2, 2), (0, 0)), [1, 2, 3, 4]);
    }

    #[test]
    fn two_inks_side_by_side_leave_a_white_line() {
        let halves = vec![
            rect(0.0, 0.0, 5.0, 4.0, Ink::process(0.0, 1.0, 0.0, 0.0)),
            rect(5.0, 0.0, 5.0, 4.0, Ink::process(1.0, 0.0, 0.0, 0.0)),
        ];
        let scene = scene(10.0, 4.0, halves);
        let darkroom = Darkroom::default();
        let white = |drawn: &Screen| drawn.rgb.chunks_exact(3).filter(|pixel| **pixel == [255, 255, 255]).count();
        assert_eq!(white(&screen(&scene, scene.sheet.trim, 254.0, &darkroom)), 0);
        // Ten pixels to the millimetre: 0.2 mm apart are one to the right and one to the left, two columns of 40 rows.
        assert_eq!(white(&misregistered(&scene, scene.sheet.trim, 254.0, 0.2, &darkroom)), 80);
    }
}
