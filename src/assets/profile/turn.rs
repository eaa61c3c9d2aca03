//! One turn: a transform of the engine between two colour spaces, and the profiles of those that every press needs.

use crate::assets::{RenderingIntent, Separation};
use lcms2::{CIExyY, DisallowCache, Flags, GlobalContext, Intent, PixelFormat, Pod, Transform};

/// Transforms are shared between threads, so none keeps a cache.
pub type Turn<From, To> = Transform<From, To, GlobalContext, DisallowCache>;
pub type Icc = lcms2::Profile<GlobalContext>;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProfileFault(pub String);

pub fn opened(press: &[u8]) -> Result<Icc, ProfileFault> {
    Icc::new_icc_context(GlobalContext::new(), press).map_err(incomplete)
}

pub fn srgb() -> Icc {
    Icc::new_srgb_context(GlobalContext::new())
}

pub fn lab() -> Result<Icc, ProfileFault> {
    Icc::new_lab4_context(GlobalContext::new(), &D50).map_err(incomplete)
}

/// The white of the profile connection space (ICC.1: X 0.9642, Y 1, Z 0.8249).
pub const D50: CIExyY = CIExyY { x: 0.345_702_914_9, y: 0.358_538_596_6, Y: 1.0 };

pub fn relative<From: Pod, To: Pod>(
    from: (&Icc, PixelFormat),
    to: (&Icc, PixelFormat),
) -> Result<Turn<From, To>, ProfileFault> {
    turn(from, to, Intent::RelativeColorimetric, Flags::NO_CACHE)
}

/// As a separation asks, by the tables of the profiles themselves: the engine's shortcuts stray by up to 12 of 255.
pub fn compensating<From: Pod, To: Pod>(
    from: (&Icc, PixelFormat),
    to: (&Icc, PixelFormat),
    separation: Separation,
) -> Result<Turn<From, To>, ProfileFault> {
    let exact = Flags::NO_OPTIMIZE | Flags::NO_CACHE;
    let flags = if separation.compensates() { exact | Flags::BLACKPOINT_COMPENSATION } else { exact };
    turn(from, to, intent(separation.intent), flags)
}

pub fn intent(intent: RenderingIntent) -> Intent {
    match intent {
        RenderingIntent::Relative => Intent::RelativeColorimetric,
        RenderingIntent::Perceptual => Intent::Perceptual,
        RenderingIntent::Saturation => Intent::Saturation,
        RenderingIntent::Absolute => Intent::AbsoluteColorimetric,
    }
}

pub fn turn<From: Pod, To: Pod>(
    (from, from_format): (&Icc, PixelFormat),
    (to, to_format): (&Icc, PixelFormat),
    intent: Intent,
    flags: Flags<DisallowCache>,
) -> Result<Turn<From, To>, ProfileFault> {
    Transform::new_flags_context(GlobalContext::new(), from, from_format, to, to_format, intent, flags)
        .map_err(incomplete)
}

fn incomplete(_: lcms2::Error) -> ProfileFault {
    ProfileFault("it lacks the tables to convert with, or they are damaged".to_owned())
}
