//! A scene as lines of text, for golden files: one line per mark, numbers to the micrometre.
//!
//! Only what a person reviews stands there in full. The bars of a code are one line with their modules, the glyphs of a
//! long run one line with their number; the digest behind them changes with every id, place and size left out.

use crate::assets::{Separation, TonedInk, Tones};
use crate::ground::{Colour, Digest, Ink, Paint, Path, Rect, number};
use crate::scene::{Item, Kind, Mark, Scene};
use std::fmt::Write as _;

impl Scene {
    pub fn outline(&self) -> String {
        let mut out = String::new();
        let sheet = &self.sheet;
        line(&mut out, 0, &format!("trim {}", rect(sheet.trim)));
        line(&mut out, 0, &format!("bleed {}", rect(sheet.bleed)));
        for panel in &sheet.panels {
            line(&mut out, 0, &format!("panel {} {}", panel.name, rect(panel.rect)));
        }
        for fold in &sheet.folds {
            line(&mut out, 0, &format!("fold {:?} {}", fold.kind, number(fold.x)));
        }
        write_all(&mut out, 0, &self.items);
        out
    }
}

/// More rectangles of one element than this are the bars of a code, and more glyphs a long run.
const MANY: usize = 8;
/// An EAN-13 has 30 bars over 95 modules (GS1 General Specifications).
const BARS: usize = 30;
const MODULES: f64 = 95.0;

fn write_all(out: &mut String, depth: usize, items: &[Item]) {
    let mut rest = items;
    while let Some(first) = rest.first() {
        let bars: Vec<Rect> = rest.iter().map_while(|item| bar(item, first)).collect();
        if bars.len() > MANY {
            let Mark::Fill { paint, .. } = &first.mark else { return };
            let name = format!("{}/{}", first.origin.panel, first.origin.element);
            line(out, depth, &format!("{name}: {} bars {} {}", bars.len(), self::paint(paint), barred(&bars)));
            rest = &rest[bars.len()..];
        } else {
            write(out, depth, first);
            rest = &rest[1..];
        }
    }
}

/// A bar of the same code as another one, in the same ink.
fn bar(item: &Item, first: &Item) -> Option<Rect> {
    use crate::ground::Shape as _;
    let (Mark::Fill { path, rule, paint }, Mark::Fill { rule: first_rule, paint: first_paint, .. }) =
        (&item.mark, &first.mark)
    else {
        return None;
    };
    let alike =
        std::ptr::eq(&raw const *item.origin, &raw const *first.origin) && (rule, paint) == (first_rule, first_paint);
    (alike && item.origin.kind == Kind::BarCode && path.elements().len() == 5).then(|| path.bounding_box())
}

/// Where bars stand, their modules as figures, 1 for ink, and a digest of every bar.
fn barred(bars: &[Rect]) -> String {
    let around = bars.iter().copied().reduce(|a, b| a.union(b)).unwrap_or_default();
    let across = bars.iter().filter(|bar| bar.width() > bar.height()).count() * 2 > bars.len();
    let ends = |bar: &Rect| if across { (bar.y0, bar.y1) } else { (bar.x0, bar.x1) };
    let mut ends: Vec<(f64, f64)> = bars.iter().map(ends).collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (start, end) = (ends[0].0, ends[ends.len() - 1].1);
    let module = (ends[ends.len().min(BARS) - 1].1 - start) / MODULES;
    let middles = (0..((end - start) / module).round() as usize).map(|at| start + (at as f64 + 0.5) * module);
    let inked = |x: f64| ends.iter().any(|(from, to)| (*from..*to).contains(&x));
    let modules: String = middles.map(|x| if inked(x) { '1' } else { '0' }).collect();
    let each: Vec<String> = bars.iter().map(|bar| rect(*bar)).collect();
    format!("{} module {} {modules} {}", rect(around), number(module), short(&each.join("|")))
}

/// Eight figures of a digest.
fn short(text: &str) -> String {
    format!("#{:.8}", Digest::of(text.as_bytes()).to_string())
}

fn write(out: &mut String, depth: usize, item: &Item) {
    let name = format!("{}/{}", item.origin.panel, item.origin.element);
    let stated = match &item.mark {
        Mark::Fill { path, rule, paint } => format!("fill {rule:?} {} {}", self::paint(paint), outline(path)),
        Mark::Stroke { path, line, paint } => {
            format!("stroke {} {} {}", number(line.width), self::paint(paint), outline(path))
        }
        Mark::Glyphs(run) => {
            let places: Vec<String> =
                run.glyphs.iter().map(|glyph| format!("{}@{}", glyph.id, number(glyph.x))).collect();
            let places = match run.glyphs.last() {
                Some(last) if places.len() > MANY => {
                    format!("{} glyphs, last at {} {}", places.len(), number(last.x), short(&places.join("|")))
                }
                _ => places.join("|"),
            };
            let at = run.transform.translation();
            let turns: Vec<String> = run.turns.iter().map(|turn| number(turn.to_degrees())).collect();
            let turned = if turns.is_empty() { String::new() } else { format!(" turned {}", short(&turns.join("|"))) };
            format!(
                "glyphs{turned} {} {} at {},{} {} \"{}\" [{}]",
                run.font.name(),
                number(run.size),
                number(at.x),
                number(at.y),
                self::paint(&run.paint),
                run.text,
                places
            )
        }
        Mark::Picture(placed) => {
            let ink = placed.paint.as_ref().map_or(String::new(), |paint| format!(" in {}", self::ink(paint)));
            let how = match placed.separation {
                usual if usual == Separation::default() => String::new(),
                other => format!(" {other:?}"),
            };
            let tones = placed.picture.tones().map_or(String::new(), self::tones);
            format!("picture {} {}{ink}{tones}{how}", placed.picture.name(), rect(placed.bounds()))
        }
        Mark::Group(group) => {
            let clip = group.clip.as_ref().map_or(String::new(), |(path, _)| format!(" clip {}", outline(path)));
            let veil = if group.veil.is_some() { " veiled" } else { "" };
            format!("group opacity {} {:?}{clip}{veil}", number(group.opacity), group.blend)
        }
    };
    line(out, depth, &format!("{name}: {stated}"));
    if let Mark::Group(group) = &item.mark {
        if let Some(veil) = &group.veil {
            write_all(out, depth + 2, veil);
        }
        write_all(out, depth + 1, &group.items);
    }
}

fn line(out: &mut String, depth: usize, text: &str) {
    writeln!(out, "{}{text}", "  ".repeat(depth)).expect("a string takes every line");
}

fn rect(rect: Rect) -> String {
    format!("{},{} {}x{}", number(rect.x0), number(rect.y0), number(rect.width()), number(rect.height()))
}

fn outline(path: &Path) -> String {
    use crate::ground::Shape as _;
    if path.elements().is_empty() {
        return "empty".to_owned();
    }
    format!("{} in {} segments", rect(path.bounding_box()), path.elements().len())
}

fn paint(paint: &Paint) -> String {
    match paint {
        Paint::None => "no ink".to_owned(),
        Paint::Ink(ink) => self::ink(ink),
        Paint::Gradient(gradient) => {
            let stops: Vec<String> =
                gradient.stops.iter().map(|(at, stop)| format!("{} {}", number(*at), ink(stop))).collect();
            format!("gradient({})", stops.join(", "))
        }
    }
}

fn tones(tones: &Tones) -> String {
    let curve = |toned: &TonedInk| {
        let points =
            toned.points.iter().map(|(tone, tint)| format!(" {} {}", number(tone * 100.0), number(tint * 100.0)));
        format!("{}{}", ink(&toned.ink), points.collect::<String>())
    };
    format!(" toned({})", tones.inks().iter().map(curve).collect::<Vec<_>>().join(", "))
}

fn ink(ink: &Ink) -> String {
    let over = if ink.overprint { " overprint" } else { "" };
    match &ink.colour {
        Colour::Process(inks) => {
            let [c, m, y, k] = inks.map(|ink| number(ink * 100.0));
            format!("cmyk({c} {m} {y} {k}){over}")
        }
        Colour::Spot(spot, tint) => format!("spot({} {}){over}", spot.name, number(tint * 100.0)),
    }
}
