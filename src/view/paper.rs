//! Paper: the edges of leaves. They are never quite even: a shade that changes through the block, and hardly along it.

use crate::view::dot::Dot;

/// Sizes in millimetres of what is seen: leaves, a few leaves, sections, how the block was cut; and how strong each is.
const WAVES: [(f32, f32); 4] = [(0.11, 0.16), (0.35, 0.08), (1.9, 0.05), (7.0, 0.03)];
const EVEN: f32 = 0.93;

/// How bright the edges are. What is finer than a pixel is its mean.
pub fn shade(dot: &Dot) -> f32 {
    let pixel = dot.across.x.abs().max(dot.down.x.abs()).max(1e-4);
    let wave = |(number, (size, strength)): (usize, (f32, f32))| {
        let seen = (size / pixel).min(1.0);
        // No leaf lies quite straight.
        let drift = 0.06 * size * libm::sinf(dot.place.y * 0.021 + size * 37.0);
        strength * seen * seen * (3.0 - 2.0 * seen) * (noise((dot.place.x + drift) / size, number as u32) - 0.5)
    };
    (EVEN + WAVES.into_iter().enumerate().map(wave).sum::<f32>()).min(1.0)
}

/// Smooth noise along a line, 0 to 1.
fn noise(at: f32, seed: u32) -> f32 {
    let cell = at.floor();
    let t = at - cell;
    let t = t * t * (3.0 - 2.0 * t);
    let value = |cell: f32| {
        let mut bits = (cell as i32).cast_unsigned().wrapping_mul(0x9E37_79B9) ^ seed.wrapping_mul(0x85EB_CA6B);
        // The finalizer of a public-domain hash, MurmurHash3, from memory.
        bits ^= bits >> 16;
        bits = bits.wrapping_mul(0x85EB_CA6B);
        bits ^= bits >> 13;
        bits = bits.wrapping_mul(0xC2B2_AE35);
        bits ^= bits >> 16;
        bits as f32 / u32::MAX as f32
    };
    value(cell) * (1.0 - t) + value(cell + 1.0) * t
}
