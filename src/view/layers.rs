//! Layers: book, shadow, mirror image and ground, as pictures of one size; laid over each other they are the whole.

use crate::scene::{BookShape, BookView, Lamination, PaperShade};
use crate::view::ink::{Colours, GLOSS, Sheen, lay};
use crate::view::light::Light;
use crate::view::poses::Arrangement;
use crate::view::sight::Eye;
use crate::view::texture::{Texture, to_linear};
use glam::Vec3;

/// Pixels of sRGB and alpha, 8 bit, from the top left.
pub type Rgba = Vec<[u8; 4]>;

pub struct Layers {
    pub book: Rgba,
    pub mirror: Rgba,
    pub shadow: Rgba,
    pub ground: Rgba,
}

/// The colours of a book that are not on the sheet, sRGB.
#[derive(Clone, Debug)]
pub struct Paints {
    pub sprayed: Option<[u8; 3]>,
    pub head_bands: [[u8; 3]; 2],
    pub ribbon: Option<[u8; 3]>,
}

/// A book of a picture, with its print and its other colours.
pub struct PrintedBook<'a> {
    pub shape: &'a BookShape,
    pub print: &'a Texture,
    pub paints: &'a Paints,
}

/// The ground in front, and at the back, sRGB; nothing where the picture is transparent.
pub type GroundColours = Option<[[u8; 3]; 2]>;

/// A pale grey, paler at the back.
pub const STUDIO: [[u8; 3]; 2] = [[229, 228, 225], [246, 245, 242]];
/// The mirror image fades with the height of what is mirrored, by this share of the book's.
const FADE: f32 = 0.22;
/// Less of the mirror image than this is not seen.
const LEAST: f32 = 0.004;

/// Lays ink onto light.
pub fn layers(
    books: &[PrintedBook<'_>],
    (arrangement, light): (&Arrangement, &Light),
    (view, backdrop): (&BookView, GroundColours),
) -> Layers {
    let colours: Vec<Colours<'_>> = books.iter().map(colours).collect();
    let camera = &arrangement.camera;
    let (fade, strength) = (arrangement.height * FADE, view.mirror as f32);
    let eye = |mirrored: bool| Eye { camera, mirrored };
    let book = lay(arrangement, eye(false), &light.book, (&colours, light.exposure), &|_| 1.0);
    let mirrored = |at: Vec3| {
        let seen = strength * libm::expf(-at.z.max(0.0) / fade);
        if seen < LEAST { 0.0 } else { seen }
    };
    let mirror = lay(arrangement, eye(true), &light.mirror, (&colours, light.exposure), &mirrored);
    let width = light.book.sight.width;
    Layers {
        book: bytes(&book, width),
        mirror: bytes(&mirror, width),
        shadow: shadow(&light.ground, view.shadow as f32, width),
        ground: ground(backdrop, (width, light.book.sight.height)),
    }
}

fn colours<'a>(book: &PrintedBook<'a>) -> Colours<'a> {
    let linear = |rgb: [u8; 3]| Vec3::from_array(rgb.map(|value| to_linear(f32::from(value) / 255.0)));
    Colours {
        print: book.print,
        sheen: sheen(book.shape.lamination),
        paper: paper(book.shape.shade),
        sprayed: book.paints.sprayed.map(linear),
        head_bands: book.paints.head_bands.map(linear),
        ribbon: book.paints.ribbon.map(linear).unwrap_or_default(),
    }
}

/// How laminations shine. From memory, and by eye.
fn sheen(lamination: Lamination) -> Sheen {
    match lamination {
        Lamination::Uncoated => Sheen { strength: 0.004, spread: 0.95 },
        Lamination::SoftTouch => Sheen { strength: 0.010, spread: 0.75 },
        Lamination::Matt => Sheen { strength: 0.018, spread: 0.55 },
        Lamination::Gloss => GLOSS,
    }
}

fn paper(shade: PaperShade) -> Vec3 {
    match shade {
        PaperShade::White => Vec3::new(0.87, 0.86, 0.83),
        PaperShade::Cream => Vec3::new(0.86, 0.79, 0.64),
    }
}

/// Whole bytes of colours that were multiplied by their alpha.
fn bytes(picture: &[[f32; 4]], width: usize) -> Rgba {
    let pixel = |(at, [r, g, b, alpha]): (usize, &[f32; 4])| {
        if *alpha <= 0.0 {
            return [0; 4];
        }
        let dither = dither(at % width, at / width);
        let byte = |value: f32| (value / alpha * 255.0 + dither).clamp(0.0, 255.0) as u8;
        [byte(*r), byte(*g), byte(*b), (alpha * 255.0).round().clamp(0.0, 255.0) as u8]
    };
    picture.iter().enumerate().map(pixel).collect()
}

/// Shade by shade: black of such an alpha that the ground beneath, in sRGB, is as dark as the light makes it.
fn shadow(ground: &[u16], strength: f32, width: usize) -> Rgba {
    let table: Vec<f32> = (0..=4096).map(|at| 1.0 - libm::powf(at as f32 / 4096.0, 1.0 / 2.2)).collect();
    let alpha = |share: u16| {
        let at = f32::from(share) / 65_535.0 * 4096.0;
        let low = (at as usize).min(4095);
        table[low] + (table[low + 1] - table[low]) * (at - low as f32)
    };
    let pixel = |(at, share): (usize, &u16)| {
        let dither = dither(at % width, at / width);
        [0, 0, 0, (alpha(*share) * strength * 255.0 + dither).clamp(0.0, 255.0) as u8]
    };
    ground.iter().enumerate().map(pixel).collect()
}

fn ground(backdrop: GroundColours, (width, height): (usize, usize)) -> Rgba {
    let Some([front, back]) = backdrop else { return vec![[0; 4]; width * height] };
    let row = |y: usize| {
        let t = ((y as f32 / height as f32 - 0.25) / 0.75).clamp(0.0, 1.0);
        let t = t * t * (3.0 - 2.0 * t);
        let value =
            move |channel: usize| f32::from(back[channel]) + (f32::from(front[channel]) - f32::from(back[channel])) * t;
        (0..width).map(move |x| {
            let dither = dither(x, y);
            let byte = |channel: usize| (value(channel) + dither).clamp(0.0, 255.0) as u8;
            [byte(0), byte(1), byte(2), 255]
        })
    };
    (0..height).flat_map(row).collect()
}

/// From 0 to 1, a little other at every pixel, so that soft shades have no steps: an ordered pattern of 8 by 8.
fn dither(x: usize, y: usize) -> f32 {
    let (mut value, mut x, mut y) = (0, x % 8, (x ^ y) % 8);
    for _ in 0..3 {
        value = value << 2 | (y & 1) << 1 | (x & 1);
        x >>= 1;
        y >>= 1;
    }
    (value as f32 + 0.5) / 64.0
}

impl Layers {
    /// All of them over each other.
    pub fn whole(&self) -> Rgba {
        let mut whole = self.ground.clone();
        for layer in [&self.shadow, &self.mirror, &self.book] {
            whole.iter_mut().zip(layer).for_each(|(under, over)| *under = laid(*over, *under));
        }
        whole
    }
}

/// One colour over another, both with their alpha.
fn laid(over: [u8; 4], under: [u8; 4]) -> [u8; 4] {
    match (over[3], under[3]) {
        (0, _) => under,
        (255, _) | (_, 0) => over,
        (above, below) => {
            let (above, below) = (f32::from(above) / 255.0, f32::from(below) / 255.0);
            let alpha = above + below * (1.0 - above);
            let mix = |channel: usize| {
                let (over, under) = (f32::from(over[channel]), f32::from(under[channel]));
                ((over * above + under * below * (1.0 - above)) / alpha).round() as u8
            };
            [mix(0), mix(1), mix(2), (alpha * 255.0).round() as u8]
        }
    }
}
