//! Allowance: how much of what the SVG reader has made may still be drawn, and what has been left out so far.

use crate::assets::drawing::bounds::{self, refused};
use crate::assets::drawing::pictures;
use crate::assets::{Picture, PictureFault, decode};
use crate::ground::{Digest, Line, Path, PathEl, Point, Rect};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

pub struct Allowance {
    /// Each once, by name.
    pub left_out: BTreeSet<String>,
    /// Why what is being read cannot be drawn in paths.
    pub unfit: Option<String>,
    /// Masks and patterns around what is being read: there is no picture of parts of them alone.
    pub nested: usize,
    /// Of the file.
    pub digest: Digest,
    /// Effects that were met so far.
    pub effects: u64,
    /// What of the canvas is drawn, in millimetres from its corner.
    pub canvas: Rect,
    /// By the numbers of their stubs.
    pub pictures: Vec<Arc<Picture>>,
    /// Pictures in masks, as how much they show; `None` for those that cannot say it.
    veils: BTreeMap<(Digest, bool), Option<Arc<Picture>>>,
    steps: usize,
    dashes: f64,
}

impl Allowance {
    /// For a drawing of a size in millimetres.
    pub fn new(digest: Digest, (width, height): (f64, f64)) -> Result<Allowance, PictureFault> {
        let [least, most] = bounds::SIDES;
        if [width, height].into_iter().any(|side| !(least..=most).contains(&side)) {
            let message = format!("the SVG states a size of {width:.3e} x {height:.3e} mm");
            return Err(refused(format!("{message}; a side may have {least} mm to {most} mm")));
        }
        Ok(Allowance {
            left_out: BTreeSet::new(),
            unfit: None,
            nested: 0,
            digest,
            effects: 0,
            canvas: Rect::new(0.0, 0.0, width, height),
            pictures: Vec::new(),
            veils: BTreeMap::new(),
            steps: bounds::STEPS,
            dashes: bounds::DASHED,
        })
    }

    /// The longer side of the canvas.
    fn size(&self) -> f64 {
        self.canvas.width().max(self.canvas.height())
    }

    /// Millimetres from the origin.
    fn reach(&self) -> f64 {
        bounds::REACH * self.size()
    }

    /// Takes the share of corners, curves and steps of a wash.
    pub fn steps(&mut self, count: usize) -> Result<(), PictureFault> {
        let left = self.steps.checked_sub(count);
        let refusal = || refused(format!("the SVG has more than {} corners and curves", bounds::STEPS));
        self.steps = left.ok_or_else(refusal)?;
        Ok(())
    }

    /// Takes an outline's share.
    pub fn outline(&mut self, path: &Path) -> Result<(), PictureFault> {
        let reach = self.reach();
        let near = |point: Point| point.x.abs() <= reach && point.y.abs() <= reach;
        if !path.elements().iter().flat_map(|element| points(*element)).all(near) {
            return Err(too_far());
        }
        self.steps(path.elements().len() + self.swept(path))
    }

    /// A picture in a mask, as how much it shows.
    pub fn veil(&mut self, picture: &Picture, luminance: bool) -> Option<Arc<Picture>> {
        let make = || pictures::shown(picture, luminance).map(Arc::new);
        self.veils.entry((picture.digest(), luminance)).or_insert_with(make).clone()
    }

    /// Steps of curves that are longer than the drawing is large: they are followed bit by bit, however little of them
    /// shows.
    fn swept(&self, path: &Path) -> usize {
        let (size, mut last, mut steps) = (self.size(), Point::ZERO, 0);
        for element in path.elements() {
            let before = last;
            let all = points(*element).inspect(|point| last = *point);
            let length = all.fold((0.0, before), |(sum, from), to| (sum + from.distance(to), to)).0;
            if length > size && matches!(element, PathEl::QuadTo(..) | PathEl::CurveTo(..)) {
                steps += (bounds::SWEPT * (length / size).sqrt()) as usize;
            }
        }
        steps
    }

    /// Takes the share of a line along an outline.
    pub fn line(&mut self, path: &Path, line: &Line) -> Result<(), PictureFault> {
        let reach = self.reach();
        if !(line.width <= reach && line.dash_offset.abs() <= reach) {
            return Err(too_far());
        }
        if !line.dashes.is_empty() {
            let round: f64 = line.dashes.iter().sum();
            self.dashes -= length(path) / round * line.dashes.len() as f64;
        }
        if self.dashes >= 0.0 {
            return Ok(());
        }
        Err(refused(format!("the lines of the SVG have more than {} dashes", bounds::DASHED)))
    }
}

fn too_far() -> PictureFault {
    let message = format!("the SVG draws farther out than {} times its size", bounds::REACH);
    decode::fault(message, "draw it nearer to the origin, or state its size in `viewBox`")
}

fn points(element: PathEl) -> impl Iterator<Item = Point> {
    let points = match element {
        PathEl::MoveTo(to) | PathEl::LineTo(to) => [Some(to), None, None],
        PathEl::QuadTo(over, to) => [Some(over), Some(to), None],
        PathEl::CurveTo(out, into, to) => [Some(out), Some(into), Some(to)],
        PathEl::ClosePath => [None; 3],
    };
    points.into_iter().flatten()
}

/// Along the points that steer a path: no shorter than the path.
pub fn length(path: &Path) -> f64 {
    let (mut start, mut last, mut total) = (Point::ZERO, Point::ZERO, 0.0);
    for element in path.elements() {
        match element {
            PathEl::MoveTo(to) => (start, last) = (*to, *to),
            PathEl::ClosePath => total += last.distance(start),
            other => {
                for point in points(*other) {
                    total += last.distance(point);
                    last = point;
                }
            }
        }
    }
    total
}
