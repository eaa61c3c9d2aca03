//! Tiles: a pattern laid out in paths, tile by tile.
//!
//! Copies of one shape become one path, so that tiles side by side show no seam between them.

use crate::assets::PictureFault;
use crate::assets::drawing::allowance::Allowance;
use crate::assets::drawing::bounds;
use crate::assets::drawing::part::DrawingPart;
use crate::assets::drawing::trace;
use crate::ground::{Affine, FillRule, Path, Point, Rect, Shape as _, Vec2, rect_path};

/// How far a shape may stand over its tile before it is cut there, in shares of the tile.
const OVER: f64 = 1e-4;

/// Where tiles lie.
pub struct Tiling {
    /// From the first tile's own space to millimetres.
    pub origin: Affine,
    tile: Rect,
    /// From it to each of the tiles, itself included.
    shifts: Vec<Vec2>,
}

impl Tiling {
    /// The tiles that a shape meets, as far as it is on the canvas.
    pub fn new(pattern: &usvg::Pattern, here: Affine, shape: Rect, allowance: &mut Allowance) -> Option<Tiling> {
        let here = here * trace::affine(pattern.transform());
        let rect = pattern.rect();
        let (x, y) = (f64::from(rect.x()), f64::from(rect.y()));
        let (width, height) = (f64::from(rect.width()), f64::from(rect.height()));
        let shown = shape.intersect(allowance.canvas);
        if here.determinant() == 0.0 || shown.width() <= 0.0 || shown.height() <= 0.0 {
            return None;
        }
        let reach = here.inverse().transform_rect_bbox(shown);
        let ends = |from: f64, to: f64, step: f64| ((from / step).floor(), (to / step).ceil());
        let (left, right) = ends(reach.x0 - x, reach.x1 - x, width);
        let (top, foot) = ends(reach.y0 - y, reach.y1 - y, height);
        let tiles = (right - left) * (foot - top);
        if tiles.is_nan() || tiles > bounds::TILES {
            allowance.unfit = Some(MANY.to_owned());
            return None;
        }
        let step = |x: f64, y: f64| here * Point::new(x, y) - here * Point::ZERO;
        let (across, down) = (step(width, 0.0), step(0.0, height));
        let shifts = (top as i64..foot as i64)
            .flat_map(|row| (left as i64..right as i64).map(move |column| (row as f64, column as f64)))
            .map(|(row, column)| across * column + down * row)
            .collect();
        Some(Tiling { origin: here * Affine::translate((x, y)), tile: Rect::new(0.0, 0.0, width, height), shifts })
    }

    /// What was read of one tile, on all of them.
    pub fn laid(&self, tile: Vec<DrawingPart>, allowance: &mut Allowance) -> Result<Vec<DrawingPart>, PictureFault> {
        if allowance.unfit.is_some() {
            return Ok(Vec::new());
        }
        let room = self.tile.inflate(self.tile.width() * OVER, self.tile.height() * OVER);
        let back = self.origin.inverse();
        // Its own edges are upright in its own space only.
        let spills = |part: &DrawingPart| part.bounds_in(back).is_some_and(|reach| !room.contains_rect(reach));
        let clip = Some((self.origin * rect_path(self.tile), FillRule::NonZero));
        // What keeps within its tile, as a ground does, is not cut: its copies are one path. Tiles do not lie over each other, so
        // each part may be laid on all of them before the next.
        let tile: Vec<DrawingPart> = tile.into_iter().flat_map(|part| opened(part, back)).collect();
        let tile: Vec<DrawingPart> = match tile.iter().position(spills) {
            None => tile,
            Some(_) => tile
                .chunk_by(|one, other| spills(one) && spills(other))
                .map(|parts| match parts {
                    [only] if !spills(only) => only.clone(),
                    parts => {
                        DrawingPart::Group { clip: clip.clone(), opacity: 1.0, multiply: false, parts: parts.to_vec() }
                    }
                })
                .collect(),
        };
        let all = tile.iter().map(steps).sum::<usize>().saturating_mul(self.shifts.len());
        if all > bounds::TILED {
            allowance.unfit = Some(MANY.to_owned());
            return Ok(Vec::new());
        }
        allowance.steps(all)?;
        Ok(tile.iter().flat_map(|part| repeated(part, &self.shifts)).collect())
    }
}

/// The parts of a group that changes nothing of them, where its clip is the tile itself or a box around them all.
fn opened(part: DrawingPart, back: Affine) -> Vec<DrawingPart> {
    let DrawingPart::Group { clip, opacity, multiply: false, parts } = &part else { return vec![part] };
    let cut = clip.as_ref().map(|(path, _)| back * path);
    let cuts_nothing = cut.is_none_or(|cut| {
        let room = cut.bounding_box();
        let is_box = (cut.area().abs() - room.area()).abs() <= room.area() * OVER;
        let room = room.inflate(room.width() * OVER, room.height() * OVER);
        is_box && parts.iter().filter_map(|part| part.bounds_in(back)).all(|reach| room.contains_rect(reach))
    });
    if *opacity < 1.0 || !cuts_nothing {
        return vec![part];
    }
    parts.iter().cloned().flat_map(|part| opened(part, back)).collect()
}

const MANY: &str = "a pattern of very many tiles";

/// Corners and curves of a part, and what else it is made of.
fn steps(part: &DrawingPart) -> usize {
    1 + match part {
        DrawingPart::Fill { path, .. } | DrawingPart::Stroke { path, .. } => path.elements().len(),
        DrawingPart::Wash { path, stops, .. } => path.elements().len() + stops.len(),
        DrawingPart::Group { clip, parts, .. } => {
            clip.as_ref().map_or(0, |(path, _)| path.elements().len()) + parts.iter().map(steps).sum::<usize>()
        }
        DrawingPart::Veiled { veil, parts, .. } => veil.iter().chain(parts).map(steps).sum(),
        DrawingPart::Picture { .. } => bounds::SHOWN,
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
    Affine::translate(shift) * path
}

fn at(part: &DrawingPart, shift: Vec2) -> DrawingPart {
    let every = |parts: &[DrawingPart]| parts.iter().map(|part| at(part, shift)).collect();
    match part {
        DrawingPart::Fill { path, rule, colour } => {
            DrawingPart::Fill { path: moved(path, shift), rule: *rule, colour: *colour }
        }
        DrawingPart::Stroke { path, line, colour } => {
            DrawingPart::Stroke { path: moved(path, shift), line: line.clone(), colour: *colour }
        }
        DrawingPart::Wash { path, rule, course, stops, opacity } => DrawingPart::Wash {
            path: moved(path, shift),
            rule: *rule,
            course: course.carried(Affine::translate(shift), 1.0),
            stops: stops.clone(),
            opacity: *opacity,
        },
        DrawingPart::Group { clip, opacity, multiply, parts } => DrawingPart::Group {
            clip: clip.as_ref().map(|(path, rule)| (moved(path, shift), *rule)),
            opacity: *opacity,
            multiply: *multiply,
            parts: every(parts),
        },
        DrawingPart::Veiled { veil, clips, parts } => {
            DrawingPart::Veiled { veil: every(veil), clips: *clips, parts: every(parts) }
        }
        DrawingPart::Picture { picture, unit } => {
            DrawingPart::Picture { picture: picture.clone(), unit: Affine::translate(shift) * *unit }
        }
        DrawingPart::Pixels(view) => DrawingPart::Pixels(view.clone()),
    }
}

#[cfg(test)]
mod tests {
    use crate::assets::drawing::open;
    use crate::assets::drawing::part::DrawingPart;

    /// A ground as large as its tile, and a dot within, both askew: their copies are one path each, so that no seam shows between
    /// tiles. What stands over its tile is cut there, and nothing else.
    #[test]
    fn copies_that_keep_within_their_tiles_are_one_path() {
        let parts = |head: &str, more: &str| {
            let text = format!(
                "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 90 90'><pattern id='p' width='8' height='8' \
                 patternUnits='userSpaceOnUse' {head}><rect width='8' height='8' fill='#204080'/>\
                 <circle cx='4' cy='4' r='2' fill='#e0e040'/>{more}</pattern><rect width='90' height='90' fill='url(#p)'/></svg>"
            );
            let drawing = open("a.svg", text.as_bytes()).expect("reads");
            let [DrawingPart::Group { parts, .. }] = &drawing.parts[..] else { panic!("{:?}", drawing.parts) };
            let name = |part: &DrawingPart| match part {
                DrawingPart::Fill { .. } => "fill",
                DrawingPart::Stroke { .. } => "stroke",
                _ => "cut",
            };
            let mut names: Vec<&str> = parts.iter().map(name).collect();
            names.dedup();
            (names, parts.len())
        };
        for head in
            ["", "patternTransform='rotate(30)'", "patternTransform='skewX(20) scale(1.5)'", "viewBox='0 0 8 8'"]
        {
            assert_eq!(parts(head, ""), (vec!["fill"], 2), "{head}");
            // Where it is stretched, a line is read as its outline.
            let (lined, count) = parts(head, "<path d='M2 4h4' fill='none' stroke='red'/>");
            assert!(!lined.contains(&"cut") && count == 3, "{head}: {lined:?} {count}");
            let (names, count) = parts(head, "<circle r='2'/><path d='M2 2h2v2'/>");
            assert!(names == ["fill", "cut", "fill"] && count > 30, "{head}: {names:?} {count}");
        }
    }
}
