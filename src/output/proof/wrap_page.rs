//! The first page: the wrap at its true size, with its dimensions, and the numbers of what was found on it.

use crate::assets::{JpegWeight, ScreenPixels};
use crate::ground::{Affine, Blend, Digest, Ink, Line, MM_PER_INCH, Path, Rect, number};
use crate::output::entry::OutputJob;
use crate::output::proof::badges::Badges;
use crate::output::proof::flow::{NOT_FOR_PRINTING, page_number};
use crate::output::proof::pen::{
    FIGURE, INK, ProofPen, QUIET, TypeLook, badge_width, column_height, label_width, signal,
};
use crate::output::proof::wrap_lines::{BLEED, FOLD, HINGE, KEYLINE, SAFE, TRIM, WrapLine, layer, layers};
use crate::pdf::{DocumentLayer, DocumentPage, DocumentPicture};
use crate::raster::{Screen, ScreenTiles};
use crate::scene::{Group, Mark};

/// Nothing is written across the wrap.
pub const CLEAN: &str = "clean";
/// Of a JPEG, from 1 to 100: no eye finds fault with this.
const QUALITY: u8 = 88;
/// A side of a JPEG has at most 65,535 (ITU-T T.81).
const MOST_PIXELS: f64 = 65_500.0;
/// From the bleed to the page's edge, and to what stands between; millimetres.
const SIDE: f64 = 24.0;
const PANELS: f64 = 5.5;
const FLAT: f64 = 15.0;
const HEAD: f64 = 25.0;
const NAMES: f64 = 6.5;
const LEGEND: f64 = 26.0;
const FOOT: f64 = 39.0;
const EDGE: f64 = 12.0;
/// A frame stands so far outside its place.
const AWAY: f64 = 0.8;
/// Narrower than this a page has no room for its words.
const NARROWEST: f64 = 240.0;
/// Between the title and what stands under it.
const UNDER: f64 = 1.2;
/// What stands at the right of the head.
const ASIDE: f64 = 70.0;

pub fn page(job: &OutputJob<'_>, pages: usize) -> DocumentPage {
    let sheet = &job.scene.sheet;
    let bleed = sheet.bleed;
    let half = (bleed.width() / 2.0 + SIDE).max(NARROWEST / 2.0);
    let (left, right) = (bleed.center().x - half, bleed.center().x + half);
    let words = Rect::new(left + EDGE, bleed.y0 - HEAD, right - EDGE, bleed.y1 + FOOT);
    let mut pen = ProofPen::default();
    let top = head(&mut pen, job, words);
    legend(&mut pen, job, words);
    pen.label(NOT_FOR_PRINTING, &TypeLook::quiet(), (words.x0, words.y1 - EDGE), 0.0);
    pen.label(&page_number(1, pages), &TypeLook::quiet(), (words.x1, words.y1 - EDGE), 1.0);

    let mut all = vec![DocumentLayer { name: None, items: pen.items }];
    all.extend(layers(job));
    all.extend(layer("panel names", |pen| names(pen, job)));
    all.extend(layer("dimensions", |pen| dimensions(pen, job)));
    all.extend(layer("findings", |pen| findings(pen, job, bleed)));
    if job.settings.word != CLEAN {
        all.extend(layer("word across", |pen| across(pen, job.settings.word, sheet.trim)));
    }
    let frame = Rect::new(left, top - EDGE, right, words.y1);
    DocumentPage { frame, shown: Some((sheet.trim, bleed)), picture: None, layers: all }
}

/// The wrap under the lines.
pub fn picture(job: &OutputJob<'_>) -> DocumentPicture {
    let bleed = job.scene.sheet.bleed;
    let drawn = ScreenTiles::draw(job.scene, bleed, ppi(job), job.darkroom);
    let key = Digest::of_all(&[b"proof picture", drawn.whole_name().bytes()]);
    let pixels = (drawn.width, drawn.height);
    let jpeg = job.darkroom.stream(key, || {
        let Screen { width, height, rgb } = drawn.whole();
        ScreenPixels { width, height, rgb: &rgb }.jpeg(JpegWeight::Quality(QUALITY), "")
    });
    DocumentPicture { place: bleed, pixels, jpeg }
}

/// As chosen, within what a JPEG can hold.
fn ppi(job: &OutputJob<'_>) -> f64 {
    let bleed = job.scene.sheet.bleed;
    job.settings.ppi.min(MOST_PIXELS * MM_PER_INCH / bleed.width().max(bleed.height()))
}

/// Title and state over the wrap; returns where they begin.
fn head(pen: &mut ProofPen, job: &OutputJob<'_>, words: Rect) -> f64 {
    let about = &job.scene.job;
    let (heading, text, quiet) = (TypeLook::heading(), TypeLook::text(), TypeLook::quiet());
    let width = words.width() - ASIDE - 6.0;
    let isbn = about.isbn.as_ref().map(|isbn| format!("ISBN {isbn}"));
    let author = Some(about.author.clone()).filter(|author| !author.is_empty());
    let under: Vec<String> = [author, isbn].into_iter().flatten().collect();
    let under = under.join("  ·  ");
    let title = column_height(&about.title, &heading, width);
    let lines = column_height(&under, &text, width);
    let top = words.y0 - title - UNDER - lines;
    pen.column(&about.title, &heading, (words.x0, top), width);
    pen.column(&under, &text, (words.x0, top + title + UNDER), width);

    let version = about.version.map(|version| format!("version {version}"));
    let proof: Vec<String> = [Some("Proof".to_owned()), version, about.date.clone()].into_iter().flatten().collect();
    let notes = format!("true size; picture at {} ppi", number(ppi(job).round()));
    pen.label(&proof.join(", "), &TypeLook::strong(), (words.x1, top + 4.6), 1.0);
    pen.label(NOT_FOR_PRINTING, &text, (words.x1, top + 8.3), 1.0);
    pen.label(&notes, &quiet, (words.x1, top + 12.0), 1.0);
    top
}

/// What the lines mean.
fn legend(pen: &mut ProofPen, job: &OutputJob<'_>, words: Rect) {
    let shown: Vec<&str> = layers(job).iter().filter_map(|layer| layer.name).collect();
    let lines: [(&str, &WrapLine); 6] = [
        ("trim", &TRIM),
        ("bleed", &BLEED),
        ("safe area", &SAFE),
        ("folds", &FOLD),
        ("hinges", &HINGE),
        ("keyline", &KEYLINE),
    ];
    let (mut x, y) = (words.x0, job.scene.sheet.bleed.y1 + LEGEND - 5.0);
    for (name, line) in lines.iter().filter(|(name, _)| shown.contains(name)) {
        let mut path = Path::new();
        path.move_to((x, y - FIGURE / 2.0));
        path.line_to((x + 9.0, y - FIGURE / 2.0));
        line.draw(pen, &path);
        pen.label(name, &TypeLook::quiet(), (x + 11.0, y), 0.0);
        x += 11.0 + label_width(name, &TypeLook::quiet()) + 7.0;
    }
    pen.label("all dimensions in millimetres", &TypeLook::quiet(), (words.x1, y), 1.0);
}

/// Panels under the wrap; names that are wider than their panel stand upright.
fn names(pen: &mut ProofPen, job: &OutputJob<'_>) {
    let y = job.scene.sheet.bleed.y1 + NAMES;
    for panel in &job.scene.sheet.panels {
        let (name, middle) = (panel.name.word().replace('-', " "), panel.rect.center().x);
        along(pen, &name, &TypeLook::text(), (middle, y), panel.rect.width(), -1.0);
    }
}

/// A label centred under or over a stretch; upright where that is too narrow. `side` is 1 above the point, −1 below.
fn along(pen: &mut ProofPen, words: &str, look: &TypeLook, (x, y): (f64, f64), room: f64, side: f64) {
    if label_width(words, look) + 1.0 <= room {
        return pen.label(words, look, (x, y), 0.5);
    }
    let start = if side > 0.0 { y } else { y - FIGURE };
    let share = if side > 0.0 { 0.0 } else { 1.0 };
    let turned = Affine::translate((x + FIGURE / 2.0, start)) * Affine::rotate(-std::f64::consts::FRAC_PI_2);
    pen.turned(words, look, turned, share);
}

/// Widths over the wrap and its height beside it, with the numbers of the measures.
fn dimensions(pen: &mut ProofPen, job: &OutputJob<'_>) {
    let sheet = &job.scene.sheet;
    let measured = |name: &str, own: f64| {
        let known = job.particulars.measures.iter().find(|measure| measure.name == name);
        number(known.map_or(own, |measure| measure.value))
    };
    let (trim, bleed) = (sheet.trim, sheet.bleed);
    let row = bleed.y0 - PANELS;
    for panel in &sheet.panels {
        let words = measured(&format!("{} width", panel.name), panel.rect.width());
        across_line(pen, (panel.rect.x0, panel.rect.x1), row, &words, bleed.y0);
    }
    across_line(pen, (trim.x0, trim.x1), bleed.y0 - FLAT, &measured("flat width", trim.width()), row);
    let x = bleed.x0 - PANELS;
    pen.hairline((x, trim.y0), (x, trim.y1), QUIET);
    for y in [trim.y0, trim.y1] {
        pen.hairline((bleed.x0 - 1.0, y), (x - 1.4, y), QUIET);
        tick(pen, (x, y));
    }
    let place = Affine::translate((x - 1.0, trim.center().y)) * Affine::rotate(-std::f64::consts::FRAC_PI_2);
    pen.turned(&measured("flat height", trim.height()), &TypeLook::text(), place, 0.5);
}

fn across_line(pen: &mut ProofPen, (from, to): (f64, f64), y: f64, words: &str, foot: f64) {
    pen.hairline((from, y), (to, y), QUIET);
    for x in [from, to] {
        pen.hairline((x, foot - 1.0), (x, y - 1.4), QUIET);
        tick(pen, (x, y));
    }
    along(pen, words, &TypeLook::text(), (f64::midpoint(from, to), y - 1.0), to - from, 1.0);
}

/// The stroke that ends a dimension line.
fn tick(pen: &mut ProofPen, (x, y): (f64, f64)) {
    pen.line((x - 0.8, y + 0.8), (x + 0.8, y - 0.8), Line::new(0.25), INK);
}

/// A frame around each place and its number outside it, off the words and other numbers.
fn findings(pen: &mut ProofPen, job: &OutputJob<'_>, room: Rect) {
    let mut badges = Badges::new(job.scene, room);
    let placed = job.particulars.findings.iter().zip(1..).filter_map(|(finding, number)| {
        let place = finding.place?.abs().inflate(AWAY, AWAY).intersect(room);
        (place.width() >= 0.0 && place.height() >= 0.0).then_some((finding.severity, number, place))
    });
    let placed: Vec<_> = placed.collect();
    for (severity, _, place) in &placed {
        pen.frame(*place, Line::new(0.9), Ink::PAPER);
        pen.frame(*place, Line::new(0.4), signal(*severity));
    }
    for (severity, number, place) in placed {
        pen.badge(number, severity, badges.place(place, badge_width(number)));
    }
}

/// A word from corner to corner, faint on light and on dark.
fn across(pen: &mut ProofPen, word: &str, trim: Rect) {
    const TRIAL: f64 = 100.0;
    let ink = Ink::black(0.5);
    let word = word.to_uppercase();
    let size = TRIAL * 0.7 * trim.width() / label_width(&word, &TypeLook::across(TRIAL, ink.clone())).max(1.0);
    let size = size.min(trim.height() * 1.4);
    let mut inner = ProofPen::default();
    let rise = -(trim.height() / trim.width().max(1.0)).atan() / 2.0;
    let middle = trim.center();
    let place = Affine::translate((middle.x, middle.y)) * Affine::rotate(rise) * Affine::translate((0.0, size * 0.12));
    inner.turned(&word, &TypeLook::across(size, ink), place, 0.5);
    pen.push(Mark::Group(Group { veil: None, clip: None, opacity: 0.26, blend: Blend::Normal, items: inner.items }));
}
