//! Scales: at which resolutions tiles are painted, and how large they are.

/// Scales of tiles, each twice as fine as the one before; the last is press resolution.
pub const STEPS: usize = 6;
pub const PRESS_PPI: f64 = 600.0;
/// Pixels of a tile, across and down.
pub const SIDE: usize = 512;

/// Pixels per inch of a scale, from 0 to `STEPS` − 1.
pub fn ppi(step: usize) -> f64 {
    PRESS_PPI / f64::from(1_u32 << (STEPS - 1 - step.min(STEPS - 1)))
}

/// A browser keeps pictures by their names, and another version of the program may paint otherwise.
pub const PROGRAM: &str = env!("JACONET_FINGERPRINT");
