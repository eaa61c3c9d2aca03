//! Table walk: RGB through the very numbers of a press profile, without tables between them that stray from it.
//!
//! Each step is the engine's own: the RGB profile's curves and colours to XYZ, black points matched, XYZ to CIELAB, and the
//! press profile's grid between its eight nearest nodes.

use crate::assets::profile::black::plain;
use crate::assets::profile::colour_memo::ColourMemos;
use crate::assets::profile::ink_tables::InkTables;
use crate::assets::profile::lut16::{between, between_steps, whole};
use crate::assets::profile::turn::{Icc, Turn, compensating, intent};
use crate::assets::{RenderingIntent, Separation};
use lcms2::{CIEXYZ, GlobalContext, PixelFormat, TagSignature};

pub struct TableWalk {
    /// What each level of red, green and blue adds to X, Y and Z, in steps of `root`; the fourth is nothing.
    light: [Vec<[f32; 4]>; 3],
    /// Levels are samples of 16 bits; else of 8.
    deep: bool,
    /// The curve of CIELAB at even steps.
    root: Vec<f32>,
    tables: InkTables,
    memos: ColourMemos<4>,
}

/// Steps of the curve of CIELAB: fine enough that the straight lines between them stray by less than 0.05 of 255 in ink.
pub const STEPS: usize = 4096;
/// ICC.1, lut16Type: codes of L, a and b, as shares of the whole range.
const L_CODE: f32 = 652.8 / 65_535.0;
const AB_CODE: f32 = 256.0 / 65_535.0;
/// A float of this size holds a rounded whole number in its lowest bits.
pub const ROUNDED: f32 = 8_388_608.0;
/// As far as a walk may stray from the engine, in 255ths: half for the rounding.
pub const ASTRAY: f64 = 0.75;

impl TableWalk {
    /// `None` where the profiles are of other kinds, or where the engine does anything else with them.
    pub fn new(source: &Icc, press: &Icc, bytes: &[u8], separation: Separation, deep: bool) -> Option<TableWalk> {
        let tag = match separation.intent {
            RenderingIntent::Relative => [b"B2A1", b"B2A0"],
            RenderingIntent::Perceptual => [b"B2A0"; 2],
            RenderingIntent::Saturation => [b"B2A2", b"B2A0"],
            RenderingIntent::Absolute => return None,
        };
        let by_table = [TagSignature::AToB0Tag, TagSignature::AToB1Tag, TagSignature::DToB0Tag, TagSignature::DToB1Tag];
        if !source.is_matrix_shaper() || by_table.into_iter().any(|tag| source.has_tag(tag)) {
            return None;
        }
        let tables = tag.into_iter().find_map(|tag| InkTables::read(bytes, *tag))?;
        let root = (0..STEPS + 2).map(|step| root(step as f64 / STEPS as f64) as f32).collect();
        let light = light(source, &matched(source, press, separation)?, deep)?;
        let walk = TableWalk { light, deep, root, tables, memos: ColourMemos::default() };
        walk.agrees(source, press, separation).then_some(walk)
    }

    /// Samples of 16 bits to inks, 255 a solid.
    pub fn turn(&self, rgb: [u16; 3]) -> [u8; 4] {
        self.inks(rgb.map(|word| usize::from(if self.deep { word } else { word >> 8 })))
    }

    /// Whether levels are samples of 8 bits.
    pub fn takes_bytes(&self) -> bool {
        !self.deep
    }

    /// Pixels of 8 bits, for a walk that takes them.
    pub fn turn_bytes(&self, from: &[[u8; 3]], to: &mut [[u8; 4]]) {
        self.memos.each_once(from, to, |rgb: [u8; 3]| self.inks(rgb.map(usize::from)));
    }

    /// Pixels of 16 bits.
    pub fn turn_words(&self, from: &[[u16; 3]], to: &mut [[u8; 4]]) {
        self.memos.each_once(from, to, |rgb| self.turn(rgb));
    }

    fn inks(&self, levels: [usize; 3]) -> [u8; 4] {
        let [r, g, b]: [[f32; 4]; 3] = std::array::from_fn(|of| self.light[of][levels[of]]);
        let light = |of: usize| (r[of] + g[of] + b[of]).clamp(0.0, STEPS as f32);
        let [x, y, z] = std::array::from_fn(|of| between_steps(&self.root, light(of)));
        let lab =
            [(116.0 * y - 16.0) * L_CODE, (500.0 * (x - y) + 128.0) * AB_CODE, (200.0 * (y - z) + 128.0) * AB_CODE];
        let grid = self.tables.grid;
        let strides = [grid * grid, grid, 1];
        let (mut base, mut part) = (0, [0.0_f32; 3]);
        for axis in 0..3 {
            let into = &self.tables.into[axis];
            let place = between_steps(into, lab[axis].clamp(0.0, 1.0) * (into.len() - 1) as u32 as f32);
            let node = whole(place).min(grid - 2);
            base += node * strides[axis];
            part[axis] = place - node as u32 as f32;
        }
        // One slice for four nodes: it is bounded once.
        let [dark, light] = [0, grid * grid].map(|step| &self.tables.nodes[base + step..][..grid + 2]);
        let face = |nodes: &[[f32; 4]]| {
            mixed(mixed(nodes[0], nodes[1], part[2]), mixed(nodes[grid], nodes[grid + 1], part[2]), part[1])
        };
        let inks = mixed(face(dark), face(light), part[0]);
        let inks = match &self.tables.out {
            None => inks,
            Some(out) => std::array::from_fn(|ink| between(&out[ink], inks[ink] / 255.0)),
        };
        inks.map(|ink| (ink + ROUNDED).to_bits() as u8)
    }

    /// Tried on colours that are spread evenly.
    fn agrees(&self, source: &Icc, press: &Icc, separation: Separation) -> bool {
        let (from, to) = ((source, PixelFormat::RGB_DBL), (press, PixelFormat::CMYK_DBL));
        let Ok(engine): Result<Turn<[f64; 3], [f64; 4]>, _> = compensating(from, to, separation) else { return false };
        let level = |at: usize| (at as u16) * 0x3fff;
        let colours: Vec<[u16; 3]> = (0..125).map(|at| [level(at / 25), level(at / 5 % 5), level(at % 5)]).collect();
        // A level of 8 bits stands for its 257-fold.
        let shares = |word: u16| f64::from(if self.deep { word } else { (word >> 8) * 257 }) / 65_535.0;
        let asked: Vec<[f64; 3]> = colours.iter().map(|rgb| rgb.map(shares)).collect();
        let mut theirs = vec![[0.0; 4]; asked.len()];
        engine.transform_pixels(&asked, &mut theirs);
        let off = |ours: &u8, theirs: &f64| (f64::from(*ours) - theirs.clamp(0.0, 100.0) * 2.55).abs();
        colours
            .iter()
            .zip(&theirs)
            .all(|(rgb, theirs)| self.turn(*rgb).iter().zip(theirs).all(|(one, other)| off(one, other) < ASTRAY))
    }
}

fn mixed(one: [f32; 4], other: [f32; 4], share: f32) -> [f32; 4] {
    std::array::from_fn(|ink| one[ink] + (other[ink] - one[ink]) * share)
}

/// CIE 15: the curve of CIELAB.
fn root(share: f64) -> f64 {
    if share <= (24.0_f64 / 116.0).powi(3) { 841.0 / 108.0 * share + 16.0 / 116.0 } else { share.cbrt() }
}

/// The white of the connection space (ICC.1).
pub const WHITE: [f64; 3] = [0.9642, 1.0, 0.8249];

/// Slope and shift of X, Y and Z that lay one black point on the other (ISO 18619).
fn matched(source: &Icc, press: &Icc, separation: Separation) -> Option<[(f64, f64); 3]> {
    if !separation.compensates() {
        return Some([(1.0, 0.0); 3]);
    }
    let intent = intent(separation.intent);
    let (from, to) = (source.detect_black_point(intent)?, press.detect_destination_black_point(intent)?);
    let all = |CIEXYZ { X, Y, Z }| [X, Y, Z];
    let (from, to) = (all(from), all(to));
    Some(std::array::from_fn(|of| {
        let span = from[of] - WHITE[of];
        ((to[of] - WHITE[of]) / span, -WHITE[of] * (to[of] - from[of]) / span)
    }))
}

fn light(source: &Icc, matched: &[(f64, f64); 3], deep: bool) -> Option<[Vec<[f32; 4]>; 3]> {
    let xyz = Icc::new_xyz_context(GlobalContext::new());
    let (from, to) = ((source, PixelFormat::RGB_DBL), (&xyz, PixelFormat::XYZ_DBL));
    let turn: Turn<[f64; 3], [f64; 3]> = compensating(from, to, plain()).ok()?;
    let most = if deep { usize::from(u16::MAX) } else { usize::from(u8::MAX) };
    Some(std::array::from_fn(|channel| {
        let level =
            |level: usize| std::array::from_fn(|of| if of == channel { level as f64 / most as f64 } else { 0.0 });
        let levels: Vec<[f64; 3]> = (0..=most).map(level).collect();
        let mut lights = vec![[0.0; 3]; levels.len()];
        turn.transform_pixels(&levels, &mut lights);
        let step = |light: &[f64; 3], of: usize| {
            let (slope, shift) = matched[of];
            ((light[of] * slope + if channel == 0 { shift } else { 0.0 }) / WHITE[of] * STEPS as f64) as f32
        };
        lights.iter().map(|light| [step(light, 0), step(light, 1), step(light, 2), 0.0]).collect()
    }))
}
