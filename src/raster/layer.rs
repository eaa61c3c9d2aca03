//! Layer: the plates of one tile while marks are laid on it.
//!
//! Shares multiply and mix in whole 255ths, rounded to the nearest. A layer of a group also keeps, plate by
//! plate, how much of what lies under it is hidden: an overprinting mark hides nothing on the plates that it leaves alone.
//! Its inks are already thinned by that.

use crate::raster::group_alpha::{GroupAlpha, PlateSet};
use crate::raster::window::Window;
use std::ops::Range;

pub struct Layer {
    pub window: Window,
    /// One after another, each the tile row by row.
    pub planes: Vec<Vec<u8>>,
    alpha: Option<GroupAlpha>,
    /// Plate by plate what marks did to it so far: most groups lie on few of many plates, and the others need no look.
    done: Vec<PlateDone>,
}

#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
enum PlateDone {
    #[default]
    Nothing,
    /// Ink was taken away, and none came.
    Cleared,
    Inked,
}

/// What a mark does to one plate.
pub enum Lay<'a> {
    Leave,
    Even(u8),
    Each(&'a [u8]),
}

/// How much of it arrives.
#[derive(Clone, Copy)]
pub enum Strength<'a> {
    Even(u8),
    Each(&'a [u8]),
}

impl Layer {
    pub fn paper(window: Window, planes: usize) -> Layer {
        let done = vec![PlateDone::Nothing; planes];
        Layer { window, planes: vec![vec![0; window.area()]; planes], alpha: None, done }
    }

    /// For a group that reaches as far as a window within this one. Its plates are empty until ink comes.
    pub fn group(&self, window: Window) -> Layer {
        let count = self.planes.len();
        let alpha = Some(GroupAlpha::blank(count, window.area()));
        Layer { window, planes: vec![Vec::new(); count], alpha, done: vec![PlateDone::Nothing; count] }
    }

    /// Lays a mark on the pixels of `run`.
    pub fn lay<'a>(&mut self, run: &Range<usize>, share: Strength, mut mark: impl FnMut(usize) -> Lay<'a>) {
        let mut touched: PlateSet = 0;
        for (plane, samples) in self.planes.iter_mut().enumerate() {
            let lay = mark(plane);
            let now = match lay {
                Lay::Leave => continue,
                Lay::Even(0) => PlateDone::Cleared,
                Lay::Even(_) | Lay::Each(_) => PlateDone::Inked,
            };
            touched |= 1 << plane;
            self.done[plane] = self.done[plane].max(now);
            // Where no ink came yet, none is taken away.
            if self.done[plane] == PlateDone::Inked {
                samples.resize(self.window.area(), 0);
                mix(&mut samples[run.clone()], share, &lay);
            }
        }
        if let Some(alpha) = &mut self.alpha {
            alpha.only(touched).for_each(|alpha| mix(&mut alpha[run.clone()], share, &Lay::Even(255)));
        }
    }

    /// Lays a finished group over this layer, each of its own pixels thinned by `share`.
    pub fn lay_group(&mut self, group: &Layer, share: Strength, multiply: bool) {
        let Some(alpha) = &group.alpha else { return };
        let over = Over { whole: self.window, part: group.window, share, multiply };
        let mut touched: PlateSet = 0;
        for (plane, done) in group.done.iter().copied().enumerate().filter(|(_, done)| *done != PlateDone::Nothing) {
            touched |= 1 << plane;
            let Some(alpha) = alpha.of(plane) else { continue };
            let before = self.done[plane];
            self.done[plane] = before.max(done);
            if done == PlateDone::Inked {
                let below = &mut self.planes[plane];
                below.resize(over.whole.area(), 0);
                over.each(below, alpha, Some(&group.planes[plane]));
            } else if before == PlateDone::Inked && !multiply {
                over.each(&mut self.planes[plane], alpha, None);
            }
        }
        if let Some(below) = &mut self.alpha {
            for (plates, alpha) in alpha.kinds() {
                below.only(plates & touched).for_each(|below| over.each(below, alpha, Some(alpha)));
            }
        }
    }
}

/// A group over a layer.
struct Over<'a> {
    whole: Window,
    /// Where it lies.
    part: Window,
    share: Strength<'a>,
    multiply: bool,
}

impl Over<'_> {
    /// What of `below` is left under the group's alpha, and its own ink if it has any.
    fn each(&self, below: &mut [u8], alpha: &[u8], above: Option<&[u8]>) {
        let multiply = self.multiply;
        for (under, own) in self.whole.rows(self.part).zip(self.part.rows(self.part)) {
            let pixels = below[under].iter_mut().zip(&alpha[own.clone()]);
            match (above, self.share) {
                (Some(above), Strength::Even(share)) => pixels
                    .zip(&above[own])
                    .for_each(|((old, alpha), new)| lay_pixel(old, *new, *alpha, share, multiply)),
                (Some(above), Strength::Each(shares)) => pixels
                    .zip(&above[own.clone()])
                    .zip(&shares[own])
                    .for_each(|(((old, alpha), new), share)| lay_pixel(old, *new, *alpha, *share, multiply)),
                (None, Strength::Even(share)) => {
                    pixels.for_each(|(old, alpha)| lay_pixel(old, 0, *alpha, share, multiply));
                }
                (None, Strength::Each(shares)) => pixels
                    .zip(&shares[own])
                    .for_each(|((old, alpha), share)| lay_pixel(old, 0, *alpha, *share, multiply)),
            }
        }
    }
}

fn lay_pixel(old: &mut u8, new: u8, alpha: u8, share: u8, multiply: bool) {
    let new = times(new, share);
    let hidden = if multiply { new } else { times(alpha, share) };
    *old = (*old - times(*old, hidden)).saturating_add(new);
}

fn mix(samples: &mut [u8], share: Strength, lay: &Lay) {
    match (lay, share) {
        (Lay::Leave, _) | (_, Strength::Even(0)) => {}
        (Lay::Even(value), Strength::Even(255)) => samples.fill(*value),
        (Lay::Even(value), Strength::Even(share)) => {
            for old in samples {
                *old = toward(*old, *value, share);
            }
        }
        (Lay::Even(value), Strength::Each(shares)) => {
            samples.iter_mut().zip(shares).for_each(|(old, share)| *old = toward(*old, *value, *share));
        }
        (Lay::Each(values), Strength::Even(255)) => samples.copy_from_slice(&values[..samples.len()]),
        (Lay::Each(values), Strength::Even(share)) => {
            samples.iter_mut().zip(*values).for_each(|(old, value)| *old = toward(*old, *value, share));
        }
        (Lay::Each(values), Strength::Each(shares)) => {
            samples.iter_mut().zip(*values).zip(shares).for_each(|((old, value), share)| {
                *old = toward(*old, *value, *share);
            });
        }
    }
}

/// A product of shares.
pub fn times(a: u8, b: u8) -> u8 {
    nearest(u16::from(a) * u16::from(b))
}

/// From one value to another, by a share.
pub fn toward(old: u8, new: u8, share: u8) -> u8 {
    nearest(u16::from(old) * u16::from(255 - share) + u16::from(new) * u16::from(share))
}

/// A 65025th to the nearest 255th: exact for every product of two bytes. In 16 bits, so that a processor does many at once.
fn nearest(product: u16) -> u8 {
    let half = product + 128;
    ((half + (half >> 8)) >> 8) as u8
}
