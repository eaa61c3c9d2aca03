//! Printer's marks around the sheet: crop and fold marks, registration targets, colour bar and job line; all outside the bleed.
//!
//! Outwards from the bleed: a band of crop and fold marks, then, head and foot, a band for the target in the middle
//! with the colour bar and the plates' names (head) or the job line (foot) beside it. All break into rows as the sheet
//! narrows.

use crate::ground::{
    ALL_PLATES, Affine, Colour, FillRule, Ink, Line, MM_PER_PT, PROCESS_PLATES, Path, Point, Rect, RoundedRect,
    Shape as _, Span, Spot, TOLERANCE, rect_path,
};
use crate::pdf::boxes::Margins;
use crate::pdf::labels::{LINE, NOTE, cap_height, label, width};
use crate::scene::{FoldKind, Item, Kind, Mark, Origin, Scene, Sheet, Surface};
use std::sync::Arc;

// Common practice for sheet-fed offset, in millimetres.
const WEIGHT: f64 = 0.25 * MM_PER_PT;
const LENGTH: f64 = 5.0;
const LEAST_OFFSET: f64 = 3.0;
/// Keeps a mark that starts at the bleed's edge off it, whatever is rounded.
const CLEARANCE: f64 = 0.1;
const DASH: f64 = 1.0;
const TARGET: f64 = 6.0;
const PATCH: f64 = 5.0;
const GAP: f64 = 1.5;
const EDGE: f64 = 2.0;
const LEADING: f64 = 2.8;
/// Room for what hangs below a baseline.
const DESCENT: f64 = 0.6;
/// Between a fold mark or the bleed and a label, and the room beside its mark that a label must find.
const NOTE_OFF: f64 = 0.6;
const NOTE_ROOM: f64 = 2.4;

/// The marks of a scene and the room they need.
pub fn around(scene: &Scene) -> (Vec<Item>, Margins) {
    let sheet = &scene.sheet;
    let offsets = Margins::between(sheet.trim, sheet.bleed).0.map(|bleed| bleed.max(LEAST_OFFSET) + CLEARANCE);
    let mut marks = PrintersMarks { origin: origin(sheet), items: Vec::new() };
    let [left, top, right, bottom] = offsets;
    let middle = sheet.trim.center();
    let half = (sheet.trim.width() / 2.0 - TARGET / 2.0 - 2.0 * GAP).max(PATCH);

    marks.crops(sheet, offsets);
    marks.folds(sheet, [top, bottom]);

    let band = sheet.trim.y0 - top - LENGTH - GAP;
    let head = marks.bar(scene, Point::new(sheet.trim.x0, band), half).max(TARGET);
    marks.target(Point::new(middle.x, band - TARGET / 2.0));

    let beside = Point::new(middle.x + TARGET / 2.0 + 2.0 * GAP, band);
    let head = head.max(marks.plate_names(scene, beside, half));

    let band = sheet.trim.y1 + bottom + LENGTH + GAP;
    let foot = marks.job_line(scene, Point::new(sheet.trim.x0, band), half).max(TARGET);
    marks.target(Point::new(middle.x, band + TARGET / 2.0));

    marks.target(Point::new(sheet.trim.x0 - left - TARGET / 2.0, middle.y));
    marks.target(Point::new(sheet.trim.x1 + right + TARGET / 2.0, middle.y));
    let margins = [
        left + LENGTH.max(TARGET) + EDGE,
        top + LENGTH + GAP + head + EDGE,
        right + LENGTH.max(TARGET) + EDGE,
        bottom + LENGTH + GAP + foot + EDGE,
    ];
    (marks.items, Margins(margins))
}

struct PrintersMarks {
    origin: Arc<Origin>,
    items: Vec<Item>,
}

impl PrintersMarks {
    fn add(&mut self, mark: Mark) {
        self.items.push(Item { origin: self.origin.clone(), mark });
    }

    fn fill(&mut self, path: Path, ink: Ink) {
        self.add(Mark::Fill { path, rule: FillRule::NonZero, paint: ink.into() });
    }

    fn line(&mut self, from: (f64, f64), to: (f64, f64), dashed: bool) {
        let mut path = Path::new();
        path.move_to(from);
        path.line_to(to);
        let dashes = if dashed { vec![DASH, DASH] } else { Vec::new() };
        let line = Line { dashes, ..Line::new(WEIGHT) };
        self.add(Mark::Stroke { path, line, paint: registration().into() });
    }

    fn crops(&mut self, sheet: &Sheet, [left, top, right, bottom]: [f64; 4]) {
        let trim = sheet.trim;
        for x in [trim.x0, trim.x1] {
            self.line((x, trim.y0 - top), (x, trim.y0 - top - LENGTH), false);
            self.line((x, trim.y1 + bottom), (x, trim.y1 + bottom + LENGTH), false);
        }
        for y in [trim.y0, trim.y1] {
            self.line((trim.x0 - left, y), (trim.x0 - left - LENGTH, y), false);
            self.line((trim.x1 + right, y), (trim.x1 + right + LENGTH, y), false);
        }
    }

    /// Labels run along their marks, on the side away from the sheet's middle, so that even the two folds of a thin
    /// spine keep theirs apart; one that finds no room there stays away.
    fn folds(&mut self, sheet: &Sheet, [top, bottom]: [f64; 2]) {
        let trim = sheet.trim;
        let mut taken: Vec<f64> = sheet.folds.iter().map(|fold| fold.x).collect();
        taken.extend([trim.x0, trim.x1]);
        for fold in &sheet.folds {
            let (head, foot) = (trim.y0 - top, trim.y1 + bottom);
            self.line((fold.x, head), (fold.x, head - LENGTH), true);
            self.line((fold.x, foot), (fold.x, foot + LENGTH), true);
            let side = if fold.x < trim.center().x { -1.0 } else { 1.0 };
            let free = |x: &f64| {
                let away = (x - fold.x) * side;
                away <= 0.0 || away >= NOTE_ROOM
            };
            if !taken.iter().all(free) {
                continue;
            }
            let word = match fold.kind {
                FoldKind::Fold => "fold",
                FoldKind::Score => "score",
            };
            let (path, _) = label(NOTE, word);
            let turned = Affine::rotate(-std::f64::consts::FRAC_PI_2);
            let baseline = fold.x + if side < 0.0 { -NOTE_OFF } else { NOTE_OFF + cap_height(NOTE) };
            self.fill(Affine::translate((baseline, head - NOTE_OFF)) * turned * path.clone(), registration());
            let length = width(NOTE, word);
            self.fill(Affine::translate((baseline, foot + NOTE_OFF + length)) * turned * path, registration());
        }
    }

    fn target(&mut self, at: Point) {
        let (arm, radius) = (TARGET / 2.0, TARGET / 3.0);
        let square = Rect::from_center_size(at, (2.0 * radius, 2.0 * radius));
        let mut path = RoundedRect::from_rect(square, radius).to_path(TOLERANCE);
        for (x, y) in [(arm, 0.0), (0.0, arm)] {
            path.move_to((at.x - x, at.y - y));
            path.line_to((at.x + x, at.y + y));
        }
        self.add(Mark::Stroke { path, line: Line::new(WEIGHT), paint: registration().into() });
    }

    /// Rows of patches upwards from `foot`; how high they stand.
    fn bar(&mut self, scene: &Scene, foot: Point, room: f64) -> f64 {
        let patches = patches(scene);
        let in_row = ((room / PATCH).floor() as usize).max(1);
        for (index, ink) in patches.iter().enumerate() {
            let (row, column) = ((index / in_row) as f64, (index % in_row) as f64);
            let corner = Point::new(foot.x + column * PATCH, foot.y - (row + 1.0) * PATCH);
            self.fill(rect_path(Rect::from_origin_size(corner, (PATCH, PATCH))), ink.clone());
        }
        patches.len().div_ceil(in_row) as f64 * PATCH
    }

    /// The plates' names, each in its own ink, in rows upwards from `foot`; how high they stand.
    fn plate_names(&mut self, scene: &Scene, foot: Point, room: f64) -> f64 {
        let process = PROCESS_PLATES.iter().enumerate().map(|(plate, name)| ((*name).to_owned(), solid(plate, 1.0)));
        let spots = scene.spots().into_iter().map(|spot| (spot.name.clone(), Ink::spot(spot, 1.0)));
        let (mut x, mut row) = (0.0, 0.0);
        for (name, ink) in process.chain(spots) {
            let (path, long) = label(LINE, &name);
            if x > 0.0 && x + long > room {
                (x, row) = (0.0, row + 1.0);
            }
            let squeeze = (room / long.max(1e-6)).min(1.0);
            let place = Affine::new([squeeze, 0.0, 0.0, squeeze, foot.x + x, foot.y - DESCENT - row * LEADING]);
            self.fill(place * path, ink);
            x += long + 2.0 * GAP;
        }
        (row + 1.0) * LEADING
    }

    /// Lines of words downwards from `head`; how low they reach.
    fn job_line(&mut self, scene: &Scene, head: Point, room: f64) -> f64 {
        let (lines, ink) = (lines(&stated(scene), room), scene.job_ink().1);
        for (index, line) in lines.iter().enumerate() {
            let (path, long) = label(LINE, line);
            // A single word may be longer than the room.
            let squeeze = (room / long.max(1e-6)).min(1.0);
            let baseline = head.y + cap_height(LINE) + index as f64 * LEADING;
            let place = Affine::new([squeeze, 0.0, 0.0, squeeze, head.x, baseline]);
            self.fill(place * path, ink.clone());
        }
        lines.len() as f64 * LEADING
    }
}

/// Registration colour: solid on every plate.
fn registration() -> Ink {
    Ink::spot(Arc::new(Spot { name: ALL_PLATES.to_owned(), look: [1.0; 4], finish: None }), 1.0)
}

/// Solids and halves of the process inks, their grey, and every spot.
fn patches(scene: &Scene) -> Vec<Ink> {
    let solids = (0..4).map(|plate| solid(plate, 1.0));
    let halves = (0..4).map(|plate| solid(plate, 0.5));
    let grey = Ink::process(0.5, 0.4, 0.4, 0.0);
    let spots = scene.spots().into_iter().map(|spot| Ink::spot(spot, 1.0));
    solids.chain(halves).chain([grey]).chain(spots).collect()
}

fn solid(plate: usize, share: f64) -> Ink {
    let inks = std::array::from_fn(|at| if at == plate { share } else { 0.0 });
    Ink { colour: Colour::Process(inks), overprint: false }
}

/// What the job line says, part by part.
fn stated(scene: &Scene) -> Vec<String> {
    // A title in a script that needs shaping has no letters here.
    let parts = scene.job_line().into_iter();
    parts
        .filter(|part| part.chars().any(|letter| !letter.is_whitespace() && width(LINE, &letter.to_string()) > 0.0))
        .collect()
}

/// Parts broken into lines, between parts where it can be, else between words.
fn lines(parts: &[String], room: f64) -> Vec<String> {
    const DOT: &str = "  ·  ";
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        let joined = lines.last().map(|last| format!("{last}{DOT}{part}"));
        match (lines.last_mut(), joined) {
            (Some(last), Some(joined)) if width(LINE, &joined) <= room => *last = joined,
            _ => {
                lines.push(String::new());
                for word in part.split(' ').filter(|word| !word.is_empty()) {
                    let last = lines.last_mut().expect("a line was just begun");
                    let longer = if last.is_empty() { word.to_owned() } else { format!("{last} {word}") };
                    if last.is_empty() || width(LINE, &longer) <= room {
                        *last = longer;
                    } else {
                        lines.push(word.to_owned());
                    }
                }
            }
        }
    }
    lines
}

fn origin(sheet: &Sheet) -> Arc<Origin> {
    Arc::new(Origin {
        span: Span::default(),
        panel: Surface::Wrap,
        element: "marks".to_owned(),
        kind: Kind::Shape,
        frame: sheet.bleed,
    })
}
