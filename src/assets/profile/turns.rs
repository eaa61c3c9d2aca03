//! Turns: the ways from one colour space to another, each made when it is first wanted.

use crate::assets::Separation;
use crate::assets::profile::screen_walk::ScreenWalk;
use crate::assets::profile::turn::{ProfileFault, Turn, compensating, lab, opened, relative, srgb, turn};
use lcms2::{Flags, Intent, PixelFormat};
use std::sync::OnceLock;

/// Those of one press.
#[derive(Default)]
pub struct Turns {
    to_inks_exact: OnceLock<Turn<[f64; 3], [f64; 4]>>,
    to_screen: OnceLock<ScreenTurn>,
    to_lab: OnceLock<Turn<[f64; 4], [f64; 3]>>,
    screen_to_lab: OnceLock<Turn<[f64; 3], [f64; 3]>>,
    lab_to_inks: OnceLock<Turn<[f64; 3], [f64; 4]>>,
    to_measured_lab: OnceLock<Turn<[f64; 4], [f64; 3]>>,
}

/// From inks to sRGB, in 8 bits.
pub enum ScreenTurn {
    Walk(Box<ScreenWalk>),
    Engine(Turn<[u8; 4], [u8; 3]>),
}

const TRIED: &str = "a profile is tried when it is opened, and the bundled ones by the tests";

impl Turns {
    /// Makes all of them, to see whether the profile has what they need.
    pub fn prove(&self, press: &[u8]) -> Result<(), ProfileFault> {
        let kept = |made: bool| debug_assert!(made, "a profile is tried once");
        kept(self.to_inks_exact.set(to_inks_exact(press)?).is_ok());
        kept(self.to_screen.set(to_screen(press)?).is_ok());
        kept(self.to_lab.set(to_lab(press)?).is_ok());
        kept(self.screen_to_lab.set(screen_to_lab()?).is_ok());
        kept(self.lab_to_inks.set(lab_to_inks(press)?).is_ok());
        kept(self.to_measured_lab.set(to_measured_lab(press)?).is_ok());
        Ok(())
    }

    /// Shares 0 to 1 in, per cent of ink out.
    pub fn to_inks_exact(&self, press: &[u8]) -> &Turn<[f64; 3], [f64; 4]> {
        self.to_inks_exact.get_or_init(|| to_inks_exact(press).expect(TRIED))
    }

    pub fn to_screen(&self, press: &[u8]) -> &ScreenTurn {
        self.to_screen.get_or_init(|| match ScreenWalk::untried(press) {
            Some(walk) => ScreenTurn::Walk(Box::new(walk)),
            None => to_screen(press).expect(TRIED),
        })
    }

    pub fn to_lab(&self, press: &[u8]) -> &Turn<[f64; 4], [f64; 3]> {
        self.to_lab.get_or_init(|| to_lab(press).expect(TRIED))
    }

    /// Colours as they are measured in, per cent of ink out.
    pub fn lab_to_inks(&self, press: &[u8]) -> &Turn<[f64; 3], [f64; 4]> {
        self.lab_to_inks.get_or_init(|| lab_to_inks(press).expect(TRIED))
    }

    pub fn to_measured_lab(&self, press: &[u8]) -> &Turn<[f64; 4], [f64; 3]> {
        self.to_measured_lab.get_or_init(|| to_measured_lab(press).expect(TRIED))
    }

    pub fn screen_to_lab(&self) -> &Turn<[f64; 3], [f64; 3]> {
        self.screen_to_lab.get_or_init(|| screen_to_lab().expect(TRIED))
    }
}

fn lab_to_inks(press: &[u8]) -> Result<Turn<[f64; 3], [f64; 4]>, ProfileFault> {
    let (from, to) = ((&lab()?, PixelFormat::Lab_DBL), (&opened(press)?, PixelFormat::CMYK_DBL));
    turn(from, to, Intent::AbsoluteColorimetric, Flags::NO_OPTIMIZE | Flags::NO_CACHE)
}

fn to_measured_lab(press: &[u8]) -> Result<Turn<[f64; 4], [f64; 3]>, ProfileFault> {
    let (from, to) = ((&opened(press)?, PixelFormat::CMYK_DBL), (&lab()?, PixelFormat::Lab_DBL));
    turn(from, to, Intent::AbsoluteColorimetric, Flags::NO_CACHE)
}

fn to_inks_exact(press: &[u8]) -> Result<Turn<[f64; 3], [f64; 4]>, ProfileFault> {
    let (from, to) = ((&srgb(), PixelFormat::RGB_DBL), (&opened(press)?, PixelFormat::CMYK_DBL));
    compensating(from, to, Separation::default())
}

fn to_screen(press: &[u8]) -> Result<ScreenTurn, ProfileFault> {
    let icc = opened(press)?;
    match ScreenWalk::new(&icc, press) {
        Some(walk) => Ok(ScreenTurn::Walk(Box::new(walk))),
        None => relative((&icc, PixelFormat::CMYK_8), (&srgb(), PixelFormat::RGB_8)).map(ScreenTurn::Engine),
    }
}

fn to_lab(press: &[u8]) -> Result<Turn<[f64; 4], [f64; 3]>, ProfileFault> {
    relative((&opened(press)?, PixelFormat::CMYK_DBL), (&lab()?, PixelFormat::Lab_DBL))
}

fn screen_to_lab() -> Result<Turn<[f64; 3], [f64; 3]>, ProfileFault> {
    relative((&srgb(), PixelFormat::RGB_DBL), (&lab()?, PixelFormat::Lab_DBL))
}
