//! Tiles: a pattern laid out in paths, tile by tile.
//!
//! Copies of one shape become one path, so that tiles side by side show no seam between them.

use crate::assets::PictureFault;
use crate::assets::drawing::allowance::Allowance;
use crate::assets::drawing::bounds;
use crate::assets::drawing::part::DrawingPart;
use crate::assets::drawing::{group, trace};
use crate::ground::{Affine, Course, FillRule, Path, Point, Rect, Shape as _, Vec2, rect_path};

/// How far a shape may stand over its tile before it is cut there, in shares of the tile.
const OVER: f64 = 1e-4;

pub fn laid(
    (path, rule): (Path, FillRule),
    pattern: &usvg::Pattern,
    opacity: f64,
    here: Affine,
    allowance: &mut Allowance,
) -> Result<Vec<DrawingPart>, PictureFault> {
    let here = here * trace::affine(pattern.transform());
    let rect = pattern.rect();
    let (x, y) = (f64::from(rect.x()), f64::from(rect.y()));
    let (width, height) = (f64::from(rect.width()), f64::from(rect.height()));
    if here.determinant() == 0.0 {
        return Ok(Vec::new());
    }
    // The tiles that the shape meets, as far as it is on the canvas.
    let shown = path.bounding_box().intersect(allowance.canvas);
    if shown.width() <= 0.0 || shown.height() <= 0.0 {
        return Ok(Vec::new());
    }
    let reach = here.inverse().transform_rect_bbox(shown);
    let count =
        |from: f64, to: f64, start: f64, step: f64| (((from - start) / step).floor(), ((to - start) / step).ceil());
    let (left, right) = count(reach.x0, reach.x1, x, width);
    let (top, foot) = count(reach.y0, reach.y1, y, height);
    let tiles = (right - left) * (foot - top);
    if tiles.is_nan() || tiles > bounds::TILES {
        allowance.unfit = Some("a pattern of very many tiles".to_owned());
        return Ok(Vec::new());
    }
    let origin = here * Affine::translate((x, y));
    let mut tile = Vec::new();
    group::apart(pattern.root(), origin, &mut tile, allowance)?;
    if allowance.unfit.is_some() || tile.is_empty() {
        return Ok(Vec::new());
    }
    let room = Rect::new(-width * OVER, -height * OVER, width * (1.0 + OVER), height * (1.0 + OVER));
    let back = origin.inverse();
    let spills = tile.iter().filter_map(DrawingPart::bounds).any(|reach| {
        let reach = back.transform_rect_bbox(reach);
        reach.union(room) != room
    });
    if spills {
        let clip = Some((origin * rect_path(Rect::new(0.0, 0.0, width, height)), FillRule::NonZero));
        tile = vec![DrawingPart::Group { clip, opacity: 1.0, multiply: false, parts: tile }];
    }
    let step = |x: f64, y: f64| here * Point::new(x, y) - here * Point::ZERO;
    let (across, down) = (step(width, 0.0), step(0.0, height));
    let shifts: Vec<Vec2> = (top as i64..foot as i64)
        .flat_map(|row| (left as i64..right as i64).map(move |column| (row as f64, column as f64)))
        .map(|(row, column)| across * column + down * row)
        .collect();
    let each: usize = tile.iter().map(steps).sum();
    if each.saturating_mul(shifts.len()) > bounds::TILED {
        allowance.unfit = Some("a pattern of very many tiles".to_owned());
        return Ok(Vec::new());
    }
    allowance.steps(each * shifts.len())?;
    let parts = tile.iter().flat_map(|part| repeated(part, &shifts)).collect();
    Ok(vec![DrawingPart::Group { clip: Some((path, rule)), opacity, multiply: false, parts }])
}

/// Corners and curves of a part, and what else it is made of.
fn steps(part: &DrawingPart) -> usize {
    1 + match part {
        DrawingPart::Fill { path, .. } | DrawingPart::Stroke { path, .. } => path.elements().len(),
        DrawingPart::Wash { path, stops, .. } => path.elements().len() + stops.len(),
        DrawingPart::Group { clip, parts, .. } => {
            clip.as_ref().map_or(0, |(path, _)| path.elements().len()) + parts.iter().map(steps).sum::<usize>()
        }
        DrawingPart::Veiled { veil, parts } => veil.iter().chain(parts).map(steps).sum(),
        DrawingPart::Pixels(_) => 0,
    }
}

fn repeated(part: &DrawingPart, shifts: &[Vec2]) -> Vec<DrawingPart> {
    let all = |path: &Path| shifts.iter().flat_map(|shift| moved(path, *shift)).collect::<Path>();
    match part {
        DrawingPart::Fill { path, rule, colour } => {
            vec![DrawingPart::Fill { path: all(path), rule: *rule, colour: *colour }]
        }
        DrawingPart::Stroke { path, line, colour } => {
            vec![DrawingPart::Stroke { path: all(path), line: line.clone(), colour: *colour }]
        }
        other => shifts.iter().map(|shift| at(other, *shift)).collect(),
    }
}

fn moved(path: &Path, shift: Vec2) -> Path {
    Affine::translate(shift) * path.clone()
}

fn at(part: &DrawingPart, shift: Vec2) -> DrawingPart {
    let every = |parts: &[DrawingPart]| parts.iter().map(|part| at(part, shift)).collect();
    let mut part = part.clone();
    match &mut part {
        DrawingPart::Fill { path, .. } | DrawingPart::Stroke { path, .. } => *path = moved(path, shift),
        DrawingPart::Wash { path, course, .. } => {
            *path = moved(path, shift);
            *course = Course::carried(*course, Affine::translate(shift), 1.0);
        }
        DrawingPart::Group { clip, parts, .. } => {
            if let Some((path, _)) = clip {
                *path = moved(path, shift);
            }
            *parts = every(parts);
        }
        DrawingPart::Veiled { veil, parts } => (*veil, *parts) = (every(veil), every(parts)),
        DrawingPart::Pixels(_) => {}
    }
    part
}
