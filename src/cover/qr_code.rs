//! QR codes (ISO/IEC 18004): words as dark and light modules. The one door to the encoder.

use crate::cover::{Bench, Draw, Natural, Open, Pen};
use crate::ground::{FillRule, Ink, Path, Rect, Shape, TOLERANCE, Vec2, rect_path};
use crate::scene::Kind;
use qrcode::{Color, EcLevel};

/// How much of a symbol may be damaged and still be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Correction {
    Low,
    Medium,
    Quartile,
    High,
}

/// The quiet zone on each side, in modules (ISO/IEC 18004).
pub const QR_QUIET: usize = 4;
/// The side of a module where nothing says how large the symbol is, in millimetres. Ours.
const USUAL_MODULE: f64 = 0.5;

/// The modules of a symbol without its quiet zone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QrSymbol {
    /// Modules on a side.
    pub side: usize,
    /// Row by row, from the top left.
    dark: Vec<bool>,
}

impl QrSymbol {
    /// The smallest symbol that holds these words; `None` where none does.
    pub fn of(words: &str, correction: Correction) -> Option<QrSymbol> {
        let level = match correction {
            Correction::Low => EcLevel::L,
            Correction::Medium => EcLevel::M,
            Correction::Quartile => EcLevel::Q,
            Correction::High => EcLevel::H,
        };
        let code = qrcode::QrCode::with_error_correction_level(words, level).ok()?;
        let dark = code.to_colors().into_iter().map(|colour| colour == Color::Dark).collect();
        Some(QrSymbol { side: code.width(), dark })
    }

    /// Modules on a side, the quiet zones included.
    pub fn with_quiet_zones(&self) -> usize {
        self.side + 2 * QR_QUIET
    }

    /// The dark modules, each row's neighbours as one rectangle, from the symbol's top left corner.
    fn path(&self, module: f64, corner: Vec2) -> Path {
        let mut path = Path::new();
        for (y, row) in self.dark.chunks(self.side).enumerate() {
            let mut x = 0;
            for run in row.chunk_by(|a, b| a == b) {
                if run[0] {
                    let cell = Rect::new(x as f64, y as f64, (x + run.len()) as f64, y as f64 + 1.0);
                    path.extend((cell.scale_from_origin(module) + corner).path_elements(TOLERANCE));
                }
                x += run.len();
            }
        }
        path
    }
}

/// A QR code on a cover.
pub struct QrCode {
    pub symbol: QrSymbol,
    pub ink: Ink,
    pub ground: Option<Ink>,
}

impl Draw for QrCode {
    fn kind(&self) -> Kind {
        Kind::QrCode
    }

    fn natural(&self, room: Open, _bench: &Bench<'_>) -> Natural {
        let usual = self.symbol.with_quiet_zones() as f64 * USUAL_MODULE;
        let side = room.width.fixed().or(room.height.fixed()).unwrap_or(usual);
        Natural { width: Some(side), height: Some(side) }
    }

    /// As large as the frame takes it, in its middle.
    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let side = frame.width().min(frame.height());
        let module = side / self.symbol.with_quiet_zones() as f64;
        let corner = frame.center().to_vec2() - Vec2::new(side, side) / 2.0;
        if let Some(ground) = &self.ground {
            pen.fill(&rect_path(Rect::new(0.0, 0.0, side, side) + corner), FillRule::NonZero, ground.clone());
        }
        let inner = corner + Vec2::new(1.0, 1.0) * (QR_QUIET as f64 * module);
        pen.fill(&self.symbol.path(module, inner), FillRule::NonZero, self.ink.clone());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Bytes that the largest symbol, 177 modules wide, holds at each level (ISO/IEC 18004, table 7, from memory).
    #[test]
    fn as_much_fits_as_the_standard_says() {
        for (correction, most) in [
            (Correction::Low, 2953),
            (Correction::Medium, 2331),
            (Correction::Quartile, 1663),
            (Correction::High, 1273),
        ] {
            let symbol = QrSymbol::of(&"a".repeat(most), correction).expect("it is within the standard");
            assert_eq!((symbol.side, symbol.dark.len()), (177, 177 * 177));
            assert!(QrSymbol::of(&"a".repeat(most + 1), correction).is_none());
        }
        // The smallest one has 21 modules, and its corners are dark but for one.
        let small = QrSymbol::of("A1", Correction::Low).expect("two letters");
        let corner = |x: usize, y: usize| small.dark[y * 21 + x];
        assert_eq!((small.side, small.with_quiet_zones()), (21, 29));
        assert!(corner(0, 0) && corner(20, 0) && corner(0, 20));
    }
}
