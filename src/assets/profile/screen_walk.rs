//! Screen walk: CMYK through the very numbers of a press profile to sRGB, without tables between them that stray from it.
//!
//! Each step is the engine's own: the profile's curves, its grid between nodes along cyan and within the tetrahedron of the
//! other inks, CIELAB to XYZ, and from there to sRGB, relative colorimetric.

use crate::assets::profile::black::plain;
use crate::assets::profile::colour_memo::ColourMemos;
use crate::assets::profile::lut16::{Lut16, MOST, between, between_steps};
use crate::assets::profile::turn::{Icc, Turn, compensating, relative, srgb};
use crate::assets::profile::walk::{ASTRAY, ROUNDED, STEPS, WHITE};
use lcms2::{GlobalContext, PixelFormat};

pub struct ScreenWalk {
    /// For each level of each ink: the node before it, counted in all nodes, and how far it is on the way to the next.
    places: [Vec<(usize, f32)>; 4],
    /// From a node to the next along each axis.
    strides: [usize; 4],
    /// CIELAB as `lut16Type` writes it; the fourth is nothing.
    nodes: Vec<[f32; 4]>,
    /// From shares of X, Y and Z of the white to steps of `curve`.
    red_green_blue: [[f32; 3]; 3],
    /// The curve of sRGB at even steps, 255 the most.
    curve: Vec<f32>,
    memos: ColourMemos<3>,
}

/// ICC.1, lut16Type: codes of 100 in L, and of 1 in a and b.
const L_CODE: f32 = 652.8;
const AB_CODE: f32 = 256.0;

impl ScreenWalk {
    /// `None` where the profile is of another kind, or where the engine does anything else with it.
    pub fn new(press: &Icc, bytes: &[u8]) -> Option<ScreenWalk> {
        ScreenWalk::untried(bytes).filter(|walk| walk.agrees(press))
    }

    /// The same of a profile that is known to agree.
    pub fn untried(bytes: &[u8]) -> Option<ScreenWalk> {
        let tables = [b"A2B1", b"A2B0"].into_iter().find_map(|tag| Lut16::<4, 3>::read(bytes, *tag))?;
        if tables.out.is_some() {
            return None;
        }
        let grid = tables.grid;
        let strides = [grid.pow(3), grid.pow(2), grid, 1];
        let places = std::array::from_fn(|ink| {
            let place = |level: u8| {
                let along = between(&tables.into[ink], f32::from(level) / 255.0) / MOST * (grid - 1) as f32;
                let node = (along as usize).min(grid - 2);
                (node * strides[ink], along - node as f32)
            };
            (0..=u8::MAX).map(place).collect()
        });
        let curve = |step: usize| {
            let light = step as f64 / STEPS as f64;
            // IEC 61966-2-1.
            let share = if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
            (share * 255.0) as f32
        };
        Some(ScreenWalk {
            places,
            strides,
            nodes: tables.nodes.into_iter().map(|[l, a, b]| [l, a, b, 0.0]).collect(),
            red_green_blue: red_green_blue()?,
            curve: (0..STEPS + 2).map(curve).collect(),
            memos: ColourMemos::default(),
        })
    }

    pub fn turn_pixels(&self, from: &[[u8; 4]], to: &mut [[u8; 3]]) {
        self.memos.each_once(from, to, |inks| self.turn(inks));
    }

    pub fn turn(&self, inks: [u8; 4]) -> [u8; 3] {
        let [l, a, b, _] = self.lab(inks);
        let y = (l / L_CODE + 16.0) / 116.0;
        let (x, z) = (y + (a / AB_CODE - 128.0) / 500.0, y - (b / AB_CODE - 128.0) / 200.0);
        let light = [x, y, z].map(unrooted);
        self.red_green_blue.map(|shares| {
            let step = (shares[0] * light[0] + shares[1] * light[1] + shares[2] * light[2]).clamp(0.0, STEPS as f32);
            (between_steps(&self.curve, step) + ROUNDED).to_bits() as u8
        })
    }

    /// In the codes of the profile.
    fn lab(&self, inks: [u8; 4]) -> [f32; 4] {
        let places: [(usize, f32); 4] = std::array::from_fn(|ink| self.places[ink][usize::from(inks[ink])]);
        let cyan = places[0].1;
        let mut at: usize = places.iter().map(|(node, _)| node).sum();
        // The corners of a tetrahedron: one axis after the other, the one that is furthest on its way first.
        let mut ways: [(f32, usize); 3] = std::array::from_fn(|of| (places[of + 1].1, self.strides[of + 1]));
        for (one, other) in [(0, 1), (1, 2), (0, 1)] {
            if ways[one].0 < ways[other].0 {
                ways.swap(one, other);
            }
        }
        let mut lab = [0.0; 4];
        let mut left = 1.0;
        for (way, stride) in ways.into_iter().chain([(0.0, 0)]) {
            let weight = left - way;
            let (near, far) = (self.nodes[at], self.nodes[at + self.strides[0]]);
            lab = std::array::from_fn(|of| lab[of] + weight * (near[of] + (far[of] - near[of]) * cyan));
            (left, at) = (way, at + stride);
        }
        lab
    }

    /// Tried on colours that are spread evenly.
    fn agrees(&self, press: &Icc) -> bool {
        let (from, to) = ((press, PixelFormat::CMYK_DBL), (&srgb(), PixelFormat::RGB_DBL));
        let Ok(engine): Result<Turn<[f64; 4], [f64; 3]>, _> = relative(from, to) else { return false };
        let colours: Vec<[u8; 4]> = (0..625_usize)
            .map(|at| [at / 125, at / 25 % 5, at / 5 % 5, at % 5].map(|level| (level * 63) as u8))
            .collect();
        let asked: Vec<[f64; 4]> = colours.iter().map(|inks| inks.map(|ink| f64::from(ink) / 2.55)).collect();
        let mut theirs = vec![[0.0; 3]; asked.len()];
        engine.transform_pixels(&asked, &mut theirs);
        let off = |(ours, theirs): (u8, &f64)| (f64::from(ours) - theirs.clamp(0.0, 1.0) * 255.0).abs();
        let close = |(inks, theirs): (&[u8; 4], &[f64; 3])| {
            self.turn(*inks).into_iter().zip(theirs).all(|pair| off(pair) < ASTRAY)
        };
        colours.iter().zip(&theirs).all(close)
    }
}

/// CIE 15: the curve of CIELAB, undone.
fn unrooted(share: f32) -> f32 {
    if share <= 24.0 / 116.0 { (108.0 / 841.0) * (share - 16.0 / 116.0) } else { share * share * share }
}

/// The engine's own colours of sRGB in the connection space, turned round (Cramer's rule).
fn red_green_blue() -> Option<[[f32; 3]; 3]> {
    let xyz = Icc::new_xyz_context(GlobalContext::new());
    let (from, to) = ((&srgb(), PixelFormat::RGB_DBL), (&xyz, PixelFormat::XYZ_DBL));
    let turn: Turn<[f64; 3], [f64; 3]> = compensating(from, to, plain()).ok()?;
    let mut colours = [[0.0; 3]; 3];
    turn.transform_pixels(&[[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]], &mut colours);
    let cross = |a: [f64; 3], b: [f64; 3]| {
        [0, 1, 2].map(|of| a[(of + 1) % 3] * b[(of + 2) % 3] - a[(of + 2) % 3] * b[(of + 1) % 3])
    };
    let all: f64 = colours[0].iter().zip(cross(colours[1], colours[2])).map(|(one, other)| one * other).sum();
    Some(std::array::from_fn(|channel| {
        let row = cross(colours[(channel + 1) % 3], colours[(channel + 2) % 3]);
        std::array::from_fn(|of| (row[of] / all * WHITE[of] * STEPS as f64) as f32)
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::profile::turn::opened;
    use crate::assets::profile::{COATED, UNCOATED};

    /// The engine's own sum of all steps in double numbers, on colours that are spread by chance.
    #[test]
    fn no_colour_is_more_than_a_step_from_what_the_engine_makes_without_its_shortcuts() {
        for profile in [COATED, UNCOATED] {
            let press = opened(profile).expect("it is bundled");
            let walk = ScreenWalk::new(&press, profile).expect("the bundled profiles agree");
            let colours: Vec<[u8; 4]> =
                (0..200_000_u32).map(|at| at.wrapping_mul(2_654_435_761).rotate_left(at % 32).to_be_bytes()).collect();
            let asked: Vec<[f64; 4]> = colours.iter().map(|inks| inks.map(|ink| f64::from(ink) / 2.55)).collect();
            let (from, to) = ((&press, PixelFormat::CMYK_DBL), (&srgb(), PixelFormat::RGB_DBL));
            let engine: Turn<[f64; 4], [f64; 3]> = relative(from, to).expect("it is bundled");
            let mut wanted = vec![[0.0; 3]; asked.len()];
            engine.transform_pixels(&asked, &mut wanted);
            let off = |(inks, wanted): (&[u8; 4], &[f64; 3])| {
                let own = walk.turn(*inks).into_iter().zip(wanted);
                own.map(|(own, wanted)| (f64::from(own) - wanted.clamp(0.0, 1.0) * 255.0).abs()).fold(0.0, f64::max)
            };
            let most = colours.iter().zip(&wanted).map(off).fold(0.0, f64::max);
            // Half a step is the rounding. The engine's table of 8 bits strays by up to 20 (Pillow 13.0 on 400,000 colours).
            assert!(most < 0.6, "{most}");
        }
    }

    #[test]
    fn a_profile_that_is_none_has_no_walk() {
        assert!(ScreenWalk::untried(&COATED[..5000]).is_none());
        assert!(ScreenWalk::untried(srgb_bytes()).is_none());
    }

    fn srgb_bytes() -> &'static [u8] {
        crate::assets::profile::srgb_profile()
    }
}
