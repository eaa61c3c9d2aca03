//! Alpha along the four sides of a picture: whether it was cut off while it was still fading.

/// How much of a pixel is left, by its middle's place in shares of width and height.
pub type PixelShare<'a> = &'a dyn Fn(f64, f64) -> f64;

pub struct AlphaSides {
    pub head: Vec<u8>,
    pub foot: Vec<u8>,
    pub left: Vec<u8>,
    pub right: Vec<u8>,
}

impl AlphaSides {
    /// Of so many pixels across and down; `None` is opaque.
    pub fn of(alpha: Option<&[u8]>, (width, height): (usize, usize), shows: PixelShare<'_>) -> AlphaSides {
        let at = |x: usize, y: usize| {
            let whole = alpha.and_then(|alpha| alpha.get(y * width + x)).copied().unwrap_or(255);
            let share = shows((x as f64 + 0.5) / width as f64, (y as f64 + 0.5) / height as f64);
            (f64::from(whole) * share.clamp(0.0, 1.0)).round() as u8
        };
        let row = |y: usize| (0..width).map(|x| at(x, y)).collect();
        let column = |x: usize| (0..height).map(|y| at(x, y)).collect();
        AlphaSides {
            head: row(0),
            foot: row(height.saturating_sub(1)),
            left: column(0),
            right: column(width.saturating_sub(1)),
        }
    }
}
