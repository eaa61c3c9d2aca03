//! Screen: the only place where ink becomes RGB.

use crate::assets::Profile;
use crate::ground::{Colour, Ink};
use crate::raster::plate_shares::{PROCESS, byte};
use crate::raster::spot_proof::SpotProof;

/// How one ink looks on bare paper. Foils are without the light that plays on them.
pub fn ink_on_screen(ink: &Ink, profile: &Profile) -> [u8; 3] {
    let process = match &ink.colour {
        Colour::Process(inks) => *inks,
        Colour::Spot(spot, tint) => spot.look.map(|look| look * tint),
    };
    let rgb = profile.screen_pixels(&process.map(byte));
    [rgb[0], rgb[1], rgb[2]]
}

/// Pixels that are looked at together: mostly one colour goes on.
const BLOCK: usize = 32;

fn is_all(levels: &[u8], level: u8) -> bool {
    levels.iter().fold(0, |off, own| off | (own ^ level)) == 0
}

/// Pixels to RGB. Plates lie on one another as filters do: what each lets through is multiplied.
pub fn screen_samples(planes: &[&[u8]], spots: &[SpotProof], profile: &Profile) -> Vec<u8> {
    let pixels = planes.first().map_or(0, |plane| plane.len());
    // Neighbours are often alike: each run of equal pixels is converted once.
    let mut inks: Vec<u8> = Vec::with_capacity(pixels * PROCESS);
    let mut runs: Vec<usize> = Vec::new();
    let mut last = None;
    let (process, finer) = planes.split_at(PROCESS.min(planes.len()));
    let mut finer: Vec<(&[u8], &SpotProof)> = finer.iter().copied().zip(spots).collect();
    finer.sort_by_key(|(_, spot)| spot.level());
    let process: [&[u8]; PROCESS] =
        std::array::from_fn(|plane| process.get(plane).map_or(&[][..], |plane| &plane[..pixels]));
    let mut pixel = 0;
    while pixel < pixels {
        let block = pixel..pixel + BLOCK;
        if let (Some(last), Some(run)) = (last, runs.last_mut())
            && block.end <= pixels
            && process.iter().zip(last).all(|(plane, level)| is_all(&plane[block.clone()], level))
            && finer.iter().all(|(plane, _)| is_all(&plane[block.clone()], 0))
        {
            *run += BLOCK;
            pixel = block.end;
            continue;
        }
        for pixel in pixel..block.end.min(pixels) {
            let mut cmyk = process.map(|plane| plane[pixel]);
            for (plane, spot) in &finer {
                if plane[pixel] > 0 {
                    cmyk = spot.over(cmyk, plane[pixel], pixel);
                }
            }
            if last == Some(cmyk) {
                runs.last_mut().into_iter().for_each(|run| *run += 1);
            } else {
                inks.extend(cmyk);
                runs.push(1);
                last = Some(cmyk);
            }
        }
        pixel = block.end;
    }
    let colours = profile.screen_pixels(&inks);
    let mut rgb = Vec::with_capacity(pixels * 3);
    for (colour, run) in colours.chunks_exact(3).zip(runs) {
        let (start, end) = (rgb.len(), rgb.len() + run * 3);
        rgb.extend_from_slice(colour);
        // Twice as much each time, which is quick where a colour goes on for long.
        while rgb.len() < end {
            rgb.extend_from_within(start..(end - rgb.len() + start).min(rgb.len()));
        }
    }
    rgb
}

#[cfg(test)]
mod tests {
    use crate::assets::Darkroom;
    use crate::ground::{Finish, Ink, Spot};
    use crate::raster::screen;
    use crate::raster::trial::{PPI, rect, scene, spot};
    use std::sync::Arc;

    /// CMYK bytes and their sRGB, as Pillow 13.0 (LittleCMS 2.19) converts them from the bundled coated profile, relative
    /// colorimetric, no compensation.
    const PILLOW: [([u8; 4], [u8; 3]); 7] = [
        ([0, 0, 0, 0], [255, 255, 255]),
        ([255, 0, 0, 0], [0, 160, 228]),
        ([0, 255, 0, 0], [230, 12, 128]),
        ([0, 0, 255, 0], [255, 238, 0]),
        ([0, 0, 0, 255], [43, 43, 42]),
        ([51, 102, 153, 26], [196, 152, 109]),
        ([255, 255, 255, 255], [28, 27, 24]),
    ];

    #[test]
    fn inks_look_as_another_engine_shows_them() {
        for (bytes, wanted) in PILLOW {
            let [c, m, y, k] = bytes.map(|byte| f64::from(byte) / 255.0);
            let scene = scene(3.0, 3.0, vec![rect(0.0, 0.0, 3.0, 3.0, Ink::process(c, m, y, k))]);
            let got = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default()).rgb;
            assert!(
                got[..3].iter().zip(wanted).all(|(got, wanted)| got.abs_diff(wanted) <= 1),
                "{bytes:?}: {:?}",
                &got[..3]
            );
        }
    }

    /// Bars of half a pixel, too fine to be drawn: edges are averaged as ink, as on the plates. The eye would see half of the
    /// light, level 189; half of the ink is level 158, by the same engine.
    #[test]
    fn edges_are_averaged_as_ink() {
        let bars = (0..12).map(|at| rect(f64::from(at), 0.0, 0.5, 12.0, Ink::black(1.0)));
        let scene = scene(12.0, 12.0, bars.collect());
        let seen = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default());
        let level = seen.row(6)[6 * 3];
        assert!(level.abs_diff(158) <= 1, "{level}");
    }

    /// A foil is opaque, whichever plate has the earlier name, and a varnish lies over it.
    #[test]
    fn a_foil_hides_every_ink() {
        let shown = |inks: Vec<Ink>| {
            let marks = inks.into_iter().map(|ink| rect(0.0, 0.0, 3.0, 3.0, Ink { overprint: true, ..ink }));
            let scene = scene(3.0, 3.0, marks.collect());
            screen(&scene, scene.sheet.trim, PPI, &Darkroom::default()).rgb[..3].to_vec()
        };
        let (ink, foil) = (|name: &str| Ink::spot(spot(name, false), 1.0), Ink::spot(spot("Gold", true), 1.0));
        let coat = |name: &str| {
            let look = [0.0, 0.0, 0.0, 0.5];
            Ink::spot(Arc::new(Spot { name: name.to_owned(), look, finish: Some(Finish::Varnish) }), 1.0)
        };
        let bare = shown(vec![foil.clone()]);
        for name in ["Alpha", "Zeta"] {
            assert_eq!(shown(vec![ink(name), foil.clone()]), bare, "{name}");
            assert!(shown(vec![foil.clone(), coat(name)])[0] < bare[0], "{name}");
        }
    }

    #[test]
    fn a_spot_shows_by_its_look() {
        let red = spot("Red", false);
        let scene = scene(3.0, 3.0, vec![rect(0.0, 0.0, 3.0, 3.0, Ink::spot(red, 1.0))]);
        // The look, 0 60 90 0 percent, by the same engine.
        let rgb = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default()).rgb;
        assert!(rgb[..3].iter().zip([240_u8, 128, 49]).all(|(got, wanted)| got.abs_diff(wanted) <= 1), "{rgb:?}");
    }
}
