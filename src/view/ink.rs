//! Ink: the colour of every piece that is seen, in its light.

use crate::view::dot::Dot;
use crate::view::lamps::Lamps;
use crate::view::light::{FULL, LitSight};
use crate::view::paper::shade;
use crate::view::poses::Arrangement;
use crate::view::sight::{Eye, Sight, WHOLE, blend2, blend3, point};
use crate::view::solid::{Facet, Material};
use crate::view::texture::{Texture, to_srgb};
use glam::{Vec2, Vec3, vec2};
use rayon::prelude::*;

/// How a surface shines.
#[derive(Clone, Copy, Debug)]
pub struct Sheen {
    /// What it mirrors straight on.
    pub strength: f32,
    /// How far mirrored light spreads: 0 like a mirror, 1 all around.
    pub spread: f32,
}

/// Gloss lamination, and varnish. From memory, and by eye.
pub const GLOSS: Sheen = Sheen { strength: 0.045, spread: 0.10 };

/// What the surfaces of a book look like, in linear light.
pub struct Colours<'a> {
    pub print: &'a Texture,
    pub sheen: Sheen,
    pub paper: Vec3,
    pub sprayed: Option<Vec3>,
    pub head_bands: [Vec3; 2],
    pub ribbon: Vec3,
}

/// The cut edge and the inner side of a cover, a case under its jacket, a staple: usual looks, in linear light.
const STOCK: Vec3 = Vec3::new(0.88, 0.87, 0.85);
const CLOTH: Vec3 = Vec3::new(0.05, 0.055, 0.07);
const STAPLE: Vec3 = Vec3::new(0.55, 0.56, 0.58);

/// Pixels of sRGB and alpha, 0 to 1, each colour times its alpha. There are colours for every book; `strength` is how much of a point is seen.
pub fn lay(
    arrangement: &Arrangement,
    eye: Eye<'_>,
    lit: &LitSight,
    (colours, exposure): (&[Colours<'_>], f32),
    strength: &(dyn Fn(Vec3) -> f32 + Sync),
) -> Vec<[f32; 4]> {
    let sight = &lit.sight;
    let mut picture = vec![[0.0_f32; 4]; sight.width * sight.height];
    picture.par_chunks_mut(sight.width.max(1)).enumerate().for_each(|(y, row)| {
        let start = sight.rows[y] as usize;
        for (piece, light) in sight.row(y).iter().zip(&lit.light[start..]) {
            let Some(facet) = arrangement.solid.facets.get(piece.facet as usize) else { continue };
            let Some(colours) = colours.get(usize::from(facet.book)) else { continue };
            let middle = Sight::place(piece, y);
            let ray = eye.ray(middle);
            let (at, shares) = point(facet, ray);
            let place = blend2(facet.place, shares);
            let beside = |off: Vec2| blend2(facet.place, point(facet, eye.ray(middle + off)).1) - place;
            let dot = Dot { place, across: beside(vec2(1.0, 0.0)), down: beside(vec2(0.0, 1.0)) };
            let mut colour = colour(facet, &dot, colours);
            let light = f32::from(*light) / FULL;
            if matches!(facet.material, Material::Sheet | Material::Staple) {
                let (normal, way) = (blend3(facet.normal, shares).normalize_or_zero(), ray.1.normalize_or_zero());
                let seen = SeenPoint { lamps: &arrangement.lamps, at, normal, way, light, exposure };
                let finish = if facet.is_printed() { colours.print.finish(&dot) } else { None };
                colour = match finish {
                    Some(finish) => seen.finished(colour, (facet, dot.place), &finish, colours.sheen),
                    None => seen.veiled(colour * softened(light), seen.gleam(normal, colours.sheen)),
                };
            } else {
                colour *= softened(light);
            }
            let weight = f32::from(piece.weight) / f32::from(WHOLE) * strength(at);
            let pixel = &mut row[usize::from(piece.column)];
            let colour = colour.clamp(Vec3::ZERO, Vec3::ONE).to_array();
            pixel.iter_mut().zip(colour).for_each(|(sum, value)| *sum += to_srgb(value) * weight);
            pixel[3] += weight;
        }
    });
    picture
}

fn colour(facet: &Facet, dot: &Dot, colours: &Colours<'_>) -> Vec3 {
    match facet.material {
        Material::Sheet => colours.print.mean(dot),
        Material::Stock | Material::Inside => STOCK,
        Material::Page => colours.paper,
        Material::Leaves => match colours.sprayed {
            Some(colour) => colour * (0.7 + 0.3 * shade(dot)),
            None => colours.paper * shade(dot),
        },
        Material::HeadBand => band(dot, colours.head_bands),
        Material::Ribbon => colours.ribbon,
        Material::Staple => STAPLE,
        Material::Cloth => CLOTH,
    }
}

/// Threads of two colours wound by turns; what is finer than a pixel is their mean.
fn band(dot: &Dot, [one, other]: [Vec3; 2]) -> Vec3 {
    /// Both turns together, in radians to the millimetre.
    const TURNS: f32 = std::f32::consts::TAU / 1.6;
    let pixel = dot.across.x.abs().max(dot.down.x.abs()).max(1e-3);
    let share = 0.5 - libm::sinf(dot.place.x * TURNS) / (TURNS * pixel);
    one.lerp(other, share.clamp(0.0, 1.0))
}

/// The lightest that paper gets: a little darker than white, so that a white book keeps its edges on white ground.
const LIGHTEST: f32 = 0.95;

/// Light beyond what a picture can show is bent back, so that white keeps its shades.
pub fn softened(light: f32) -> f32 {
    const KNEE: f32 = 0.85;
    let room = LIGHTEST - KNEE;
    if light <= KNEE { light } else { KNEE + room * (1.0 - libm::expf((KNEE - light) / room)) }
}

/// A point of a surface that is seen: where it is, where it looks, from where, and the light that it has.
pub struct SeenPoint<'a> {
    pub lamps: &'a Lamps,
    pub at: Vec3,
    pub normal: Vec3,
    pub way: Vec3,
    pub light: f32,
    pub exposure: f32,
}

impl SeenPoint<'_> {
    /// What a surface with such a normal mirrors of lamp and room: Schlick's approximation of Fresnel's law, damped where the
    /// surface is rough.
    pub fn gleam(&self, normal: Vec3, sheen: Sheen) -> f32 {
        let (mirrored, cosine) = self.mirrored(normal);
        let away = (1.0 - cosine.clamp(0.0, 1.0)).max(0.0);
        let smooth = 1.0 - sheen.spread;
        let grazing = away * away * away * away * away * smooth * smooth * 0.6;
        let share = sheen.strength + (1.0 - sheen.strength) * grazing;
        share * self.lamps.mirrored(self.at, mirrored, sheen.spread)
    }

    /// Where the eye's ray goes when it is mirrored, and how directly it meets the surface.
    pub fn mirrored(&self, normal: Vec3) -> (Vec3, f32) {
        let normal = if normal.dot(self.way) > 0.0 { -normal } else { normal };
        let cosine = -self.way.dot(normal);
        (self.way + normal * 2.0 * cosine, cosine)
    }

    /// Light that is mirrored lies over colour as a veil, so nothing is lighter than the lightest paper.
    pub fn veiled(&self, colour: Vec3, gleam: f32) -> Vec3 {
        colour + (Vec3::splat(LIGHTEST) - colour).max(Vec3::ZERO) * (gleam * self.exposure).clamp(0.0, 0.9)
    }
}
