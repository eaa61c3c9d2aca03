//! Finishes: a sheet for pictures of the book as it stands: its print without any light, and where the finisher has been.

use crate::assets::Darkroom;
use crate::ground::{Finish, Rect};
use crate::raster::layer::{Layer, times};
use crate::raster::plate_shares::PROCESS;
use crate::raster::plates::place;
use crate::raster::screen::screen_samples;
use crate::raster::screen_tiles::screen;
use crate::raster::spot_proof::SpotProof;
use crate::raster::tiles::Tiles;
use crate::scene::Scene;

pub struct FinishedSheet {
    pub width: usize,
    pub height: usize,
    /// sRGB, 8 bit. Foils are in their plain colour; varnish, embossing and debossing are left to the light.
    pub rgb: Vec<u8>,
    /// How much of a pixel is foiled, how much is varnished, and how high it stands: 128 is flat, 255 wholly embossed and 1
    /// wholly debossed. Nothing where the sheet has no finishes.
    pub finishes: Option<Vec<u8>>,
}

const FLAT: u8 = 128;
const RISE: u8 = 127;
/// Bytes of a pixel: its colour, then its finishes.
const BYTES: usize = 3;

pub fn finished_sheet(scene: &Scene, area: Rect, ppi: f64, darkroom: &Darkroom) -> FinishedSheet {
    if scene.spots().iter().all(|spot| spot.finish.is_none()) {
        let drawn = screen(scene, area, ppi, darkroom);
        return FinishedSheet { width: drawn.width, height: drawn.height, rgb: drawn.rgb, finishes: None };
    }
    let tiles = Tiles::new(scene, area, ppi, darkroom);
    let drawn = tiles.draw("finished", |layer| {
        let mut samples = plain(&tiles, &layer, scene);
        samples.extend(finishes(&tiles, &layer));
        samples
    });
    let part = |number: usize| {
        let mut whole = vec![0; tiles.grid.width * tiles.grid.height * BYTES];
        for (tile, samples) in tiles.all.iter().zip(&drawn) {
            let length = tile.window.area() * BYTES;
            place(&samples[number * length..(number + 1) * length], BYTES, tile.window, &mut whole, tiles.grid.width);
        }
        whole
    };
    FinishedSheet { width: tiles.grid.width, height: tiles.grid.height, rgb: part(0), finishes: Some(part(1)) }
}

/// The print without the play of light.
fn plain(tiles: &Tiles<'_>, layer: &Layer, scene: &Scene) -> Vec<u8> {
    let (process, spots) = layer.planes.split_at(PROCESS);
    let seen = tiles.grid.spots.iter().zip(spots);
    let seen = seen.filter_map(|(spot, plane)| Some((SpotProof::plain(spot, layer.window)?, plane.as_slice())));
    let (proofs, finer): (Vec<SpotProof>, Vec<&[u8]>) = seen.unzip();
    let planes: Vec<&[u8]> = process.iter().map(Vec::as_slice).chain(finer).collect();
    screen_samples(&planes, &proofs, &scene.profile)
}

fn finishes(tiles: &Tiles<'_>, layer: &Layer) -> Vec<u8> {
    let mut samples = [0, 0, FLAT].repeat(layer.window.area());
    for (spot, plane) in tiles.grid.spots.iter().zip(&layer.planes[PROCESS..]) {
        let Some(finish) = spot.finish else { continue };
        for (pixel, share) in samples.chunks_exact_mut(BYTES).zip(plane) {
            match finish {
                Finish::Foil => pixel[0] = pixel[0].max(*share),
                Finish::Varnish => pixel[1] = pixel[1].max(*share),
                Finish::Emboss => pixel[2] = pixel[2].saturating_add(times(*share, RISE)),
                Finish::DieLine | Finish::White => {}
                Finish::Deboss => pixel[2] = pixel[2].saturating_sub(times(*share, RISE)),
            }
        }
    }
    samples
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Ink, Spot};
    use crate::raster::trial::{PPI, rect, scene};
    use std::sync::Arc;

    fn ink(name: &str, finish: Finish, share: f64) -> Ink {
        Ink::spot(Arc::new(Spot { name: name.to_owned(), look: [0.0, 0.6, 0.9, 0.0], finish: Some(finish) }), share)
    }

    #[test]
    fn a_sheet_knows_where_the_finisher_has_been() {
        let ground = || rect(0.0, 0.0, 300.0, 9.0, Ink::process(0.9, 0.5, 0.2, 0.2));
        let marks = vec![
            ground(),
            rect(0.0, 0.0, 300.0, 3.0, ink("Foil", Finish::Foil, 1.0)),
            rect(1.0, 0.0, 1.0, 9.0, ink("Varnish", Finish::Varnish, 1.0)),
            rect(2.0, 0.0, 1.0, 9.0, ink("Relief", Finish::Emboss, 1.0)),
            rect(4.0, 0.0, 1.0, 9.0, ink("Deep", Finish::Deboss, 0.5)),
        ];
        let finished = scene(300.0, 9.0, marks);
        let drawn = finished_sheet(&finished, finished.sheet.trim, PPI, &Darkroom::default());
        let finishes = drawn.finishes.expect("there are some");
        let at = |x: usize, y: usize| finishes[(y * 300 + x) * 3..][..3].to_vec();
        assert_eq!([at(0, 0), at(1, 1), at(2, 5)], [vec![255, 0, 128], vec![255, 255, 128], vec![0, 0, 255]]);
        assert_eq!([at(4, 5), at(5, 5), at(299, 1)], [vec![0, 0, 64], vec![0, 0, 128], vec![255, 0, 128]]);
        // The print is what it is without the clear ones, and a foil has one colour from end to end.
        let rgb = |x: usize, y: usize| &drawn.rgb[(y * 300 + x) * 3..][..3];
        let plain = scene(300.0, 9.0, vec![ground()]);
        let plain = finished_sheet(&plain, plain.sheet.trim, PPI, &Darkroom::default());
        assert_eq!((plain.finishes.is_none(), rgb(1, 5), rgb(4, 5)), (true, &plain.rgb[..3], &plain.rgb[..3]));
        assert!((0..300).all(|x| rgb(x, 1) == rgb(0, 0)), "no light plays on it");
        assert!(rgb(0, 0) != rgb(0, 5), "a foil hides what it covers");
    }
}
