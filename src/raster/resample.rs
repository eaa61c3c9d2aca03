//! Samples scaled to the pixels they fall on: averaged by area when reduced, by Catmull and Rom's cubic when enlarged.
//!
//! Upright and quarter-turned pictures are scaled along each axis for itself; others are first reduced, then met at the
//! pixels' centres.

use crate::assets::LightScale;
use crate::ground::{Affine, Point, Rect};
use crate::raster::grid::Grid;
use crate::raster::row_taps::{RowOrder, RowTaps};
use crate::raster::taps::{Taps, cubic};
use crate::raster::window::Window;
use crate::raster::woven::woven;
use rayon::prelude::*;
use std::ops::Range;

/// What samples are averaged as.
trait Averaged: Copy + Sync {
    fn read(self, sample: u8) -> f32;
    fn write(self, mean: f32) -> u8;
    fn write_all(self, means: &[f32], samples: &mut [u8]) {
        samples.iter_mut().zip(means).for_each(|(sample, mean)| *sample = self.write(*mean));
    }
}

/// As what they count: ink.
#[derive(Clone, Copy)]
struct AsCounted;

impl Averaged for AsCounted {
    fn read(self, sample: u8) -> f32 {
        f32::from(sample)
    }

    fn write(self, mean: f32) -> u8 {
        rounded(mean)
    }
}

impl Averaged for &LightScale {
    fn read(self, sample: u8) -> f32 {
        self.light(sample)
    }

    fn write(self, mean: f32) -> u8 {
        self.level(mean)
    }

    fn write_all(self, means: &[f32], samples: &mut [u8]) {
        self.levels(means, samples);
    }
}

/// The most channels: a picture in four inks of its own, one of them on all process plates, has seven plates.
const CHANNELS: usize = 8;

/// Off the axes by less than this share a picture counts as upright.
const UPRIGHT: f64 = 1e-9;

/// Plane after plane, alpha last.
pub fn resample(grid: &Grid, place: Affine, window: Window) -> Vec<u8> {
    match grid.light {
        None => resample_as(AsCounted, grid, place, window),
        Some(light) => resample_as(light, grid, place, window),
    }
}

/// The same pixel by pixel, channels side by side, of samples without alpha.
pub fn resample_pixels(grid: &Grid, place: Affine, window: Window) -> Vec<u8> {
    let summed = grid.alpha.is_none() && RowTaps::CHANNELS.contains(&grid.channels);
    let Some((across, down)) = upright(grid, place, window).filter(|_| summed) else {
        return woven(&resample(grid, place, window), grid.channels);
    };
    let across = RowTaps::new(&across, RowOrder::Pixels);
    match grid.light {
        None => poured(AsCounted, grid, &across, &down),
        Some(light) => poured(light, grid, &across, &down),
    }
}

/// The taps across and down, where neither axis turns into the other.
fn upright(grid: &Grid, place: Affine, window: Window) -> Option<(Taps, Taps)> {
    let [a, b, c, d, e, f] = place.as_coeffs();
    is_small(b, c, (a, d)).then(|| {
        let across = Taps::new(a, e, grid.width, window.x, window.width);
        (across, Taps::new(d, f, grid.height, window.y, window.height))
    })
}

/// Whether two coefficients count for nothing beside two others.
fn is_small(one: f64, other: f64, beside: (f64, f64)) -> bool {
    one.abs() + other.abs() <= (beside.0.abs() + beside.1.abs()) * UPRIGHT
}

fn resample_as(scale: impl Averaged, grid: &Grid, place: Affine, window: Window) -> Vec<u8> {
    let [a, b, c, d, e, f] = place.as_coeffs();
    if let Some((across, down)) = upright(grid, place, window) {
        return pour(scale, grid, &across, &down);
    }
    if is_small(a, d, (b, c)) {
        let across = Taps::new(b, f, grid.width, window.y, window.height);
        let down = Taps::new(c, e, grid.height, window.x, window.width);
        return transpose(&pour(scale, grid, &across, &down), window.height, window.width);
    }
    turn(scale, grid, place, window)
}

/// Rows of samples that are remembered once they are read: at about their own size, rows share as many.
const ROWS_READ: usize = 4;

/// Room for the sums of a row; and the rows of samples that were read last, which the next sums mostly use again.
#[derive(Default)]
struct RowSums {
    inks: Vec<f32>,
    alphas: Vec<f32>,
    /// Of the outcome, plane by plane.
    means: Vec<f32>,
    read: [(Option<usize>, Vec<f32>); ROWS_READ],
}

/// Scales along both axes, plane after plane: `across` for the grid's width, `down` for its height.
fn pour(scale: impl Averaged, grid: &Grid, across: &Taps, down: &Taps) -> Vec<u8> {
    let planes = grid.channels + usize::from(grid.alpha.is_some());
    let rows = poured(scale, grid, &RowTaps::new(across, RowOrder::Planes), down);
    planar(&rows, planes, across.len(), down.len())
}

/// The rows of the outcome.
fn poured(scale: impl Averaged, grid: &Grid, across: &RowTaps<'_>, down: &Taps) -> Vec<u8> {
    let row = (grid.channels + usize::from(grid.alpha.is_some())) * across.taps.len();
    let mut rows = vec![0_u8; row * down.len()];
    for run in down.runs(grid.rows_at_a_time()) {
        let out = &mut rows[run.start * row..run.end * row];
        pour_rows(scale, grid, (across, down), run, out);
    }
    rows
}

/// A run of rows of the outcome, of the samples that these rows use.
fn pour_rows(
    scale: impl Averaged,
    grid: &Grid,
    (across, down): (&RowTaps<'_>, &Taps),
    run: Range<usize>,
    out: &mut [u8],
) {
    let width = across.taps.len();
    let planes = grid.channels + usize::from(grid.alpha.is_some());
    let (first, last) = across.taps.span(0..width);
    let (top, foot) = down.span(run.clone());
    let samples = grid.part(top..foot, first..last);
    // Row by row with the planes in turn, so that each row is one thread's own.
    out.par_chunks_mut(planes * width).enumerate().for_each_init(
        RowSums::default,
        |RowSums { inks, alphas, means, read }, (row, out)| {
            inks.clear();
            inks.resize((last - first) * grid.channels, 0.0_f32);
            alphas.clear();
            alphas.resize(if grid.alpha.is_some() { last - first } else { 0 }, 0.0_f32);
            for (source, weight) in down.of(run.start + row) {
                let samples = samples.run(source, first..last);
                let line = source * grid.width;
                match grid.alpha.map(|alpha| &alpha[line + first..line + last]) {
                    None => {
                        let (known, read) = &mut read[source % ROWS_READ];
                        if *known != Some(source) {
                            read.resize(samples.len(), 0.0);
                            read.iter_mut().zip(samples).for_each(|(light, sample)| *light = scale.read(*sample));
                            *known = Some(source);
                        }
                        inks.iter_mut().zip(&*read).for_each(|(sum, ink)| *sum += weight * ink);
                    }
                    Some(alpha) => {
                        alphas.iter_mut().zip(alpha).for_each(|(sum, alpha)| *sum += weight * f32::from(*alpha));
                        for (pixel, alpha) in alpha.iter().enumerate() {
                            let weight = weight * f32::from(*alpha) / 255.0;
                            let at = pixel * grid.channels..(pixel + 1) * grid.channels;
                            inks[at.clone()].iter_mut().zip(&samples[at]).for_each(|(sum, ink)| {
                                *sum += weight * scale.read(*ink);
                            });
                        }
                    }
                }
            }
            if grid.alpha.is_none() && across.means(inks, grid.channels, means) {
                return scale.write_all(means, out);
            }
            let across = across.taps;
            for column in 0..width {
                let mut sums = [0.0_f32; CHANNELS];
                let mut opaque = 0.0_f32;
                for (source, weight) in across.of(column) {
                    let at = (source - first) * grid.channels;
                    sums.iter_mut().zip(&inks[at..at + grid.channels]).for_each(|(sum, ink)| *sum += weight * ink);
                    opaque += alphas.get(source - first).map_or(weight * 255.0, |alpha| weight * alpha);
                }
                put(scale, &mut out[column..], width, grid, sums, opaque);
            }
        },
    );
}

/// To the nearest, halves up: as `round` does, which is a call where the processor's own is not taken for granted.
fn rounded(sample: f32) -> u8 {
    let sample = sample.clamp(0.0, 255.0);
    let whole = sample as u8;
    whole + u8::from(sample - f32::from(whole) >= 0.5)
}

/// Writes one pixel into a row of planes, its inks no longer thinned by its alpha.
fn put(scale: impl Averaged, out: &mut [u8], stride: usize, grid: &Grid, sums: [f32; CHANNELS], opaque: f32) {
    let thin = if grid.alpha.is_some() && opaque > 0.0 { 255.0 / opaque } else { 1.0 };
    for (plane, sum) in sums.iter().take(grid.channels).enumerate() {
        out[plane * stride] = scale.write(sum * thin);
    }
    if grid.alpha.is_some() {
        out[grid.channels * stride] = rounded(opaque);
    }
}

fn planar(rows: &[u8], planes: usize, width: usize, height: usize) -> Vec<u8> {
    let mut out = Vec::with_capacity(rows.len());
    for plane in 0..planes {
        for row in 0..height {
            let start = (row * planes + plane) * width;
            out.extend_from_slice(&rows[start..start + width]);
        }
    }
    out
}

/// Planes of `width` columns, columns made rows.
fn transpose(planes: &[u8], width: usize, height: usize) -> Vec<u8> {
    let mut out = Vec::with_capacity(planes.len());
    for plane in planes.chunks_exact((width * height).max(1)) {
        for column in 0..width {
            out.extend((0..height).map(|row| plane[row * width + column]));
        }
    }
    out
}

fn turn(scale: impl Averaged, grid: &Grid, place: Affine, window: Window) -> Vec<u8> {
    let [a, b, c, d, ..] = place.as_coeffs();
    let reduced = |count: usize, scale: f64| ((count as f64 * scale.min(1.0)).round().max(1.0) as usize).min(count);
    let (width, height) = (reduced(grid.width, a.hypot(b)), reduced(grid.height, c.hypot(d)));
    let (wide, high) = (width as f64 / grid.width as f64, height as f64 / grid.height as f64);
    let small =
        pour(scale, grid, &Taps::new(wide, 0.0, grid.width, 0, width), &Taps::new(high, 0.0, grid.height, 0, height));
    let back = (place * Affine::scale_non_uniform(1.0 / wide, 1.0 / high)).inverse();
    let inside = Rect::new(0.0, 0.0, width as f64, height as f64).inflate(2.0, 2.0);
    let planes = grid.channels + usize::from(grid.alpha.is_some());
    let alpha = grid.alpha.map(|_| &small[grid.channels * width * height..]);
    let mut rows = vec![0_u8; planes * window.area()];
    rows.par_chunks_mut((planes * window.width).max(1)).enumerate().for_each(|(row, out)| {
        for column in 0..window.width {
            let centre = Point::new(window.x as f64 + column as f64 + 0.5, window.y as f64 + row as f64 + 0.5);
            let here = back * centre;
            if !inside.contains(here) {
                continue;
            }
            let (across, down) = (cubic(here.x, width), cubic(here.y, height));
            let (mut sums, mut opaque) = ([0.0_f32; CHANNELS], 0.0_f32);
            for (y, high) in down {
                for (x, wide) in across {
                    let at = y * width + x;
                    let share = wide * high * alpha.map_or(1.0, |alpha| f32::from(alpha[at]) / 255.0);
                    opaque += share * 255.0;
                    for (plane, sum) in sums.iter_mut().take(grid.channels).enumerate() {
                        *sum += share * scale.read(small[plane * width * height + at]);
                    }
                }
            }
            put(scale, &mut out[column..], window.width, grid, sums, opaque);
        }
    });
    planar(&rows, planes, window.width, window.height)
}
