//! A scene as lines of text, for golden files: one line per mark, numbers to the micrometre.

use crate::ground::{Colour, Ink, Paint, Path, Rect, number};
use crate::scene::{Item, Mark, Scene};
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
        self.items.iter().for_each(|item| write(&mut out, 0, item));
        out
    }
}

fn write(out: &mut String, depth: usize, item: &Item) {
    let name = format!("{}/{}", item.origin.panel, item.origin.element);
    let said = match &item.mark {
        Mark::Fill { path, rule, paint } => format!("fill {rule:?} {} {}", self::paint(paint), outline(path)),
        Mark::Stroke { path, line, paint } => {
            format!("stroke {} {} {}", number(line.width), self::paint(paint), outline(path))
        }
        Mark::Glyphs(run) => {
            let places: Vec<String> =
                run.glyphs.iter().map(|glyph| format!("{}@{}", glyph.id, number(glyph.x))).collect();
            let at = run.transform.translation();
            format!(
                "glyphs {} {} at {},{} {} \"{}\" [{}]",
                run.font.name(),
                number(run.size),
                number(at.x),
                number(at.y),
                self::paint(&run.paint),
                run.text,
                places.join("|")
            )
        }
        Mark::Picture(placed) => {
            let ink = placed.paint.as_ref().map_or(String::new(), |paint| format!(" in {}", self::ink(paint)));
            format!("picture {} {}{ink}", placed.picture.name(), rect(placed.bounds()))
        }
        Mark::Group(group) => {
            let clip = group.clip.as_ref().map_or(String::new(), |(path, _)| format!(" clip {}", outline(path)));
            format!("group opacity {} {:?}{clip}", number(group.opacity), group.blend)
        }
    };
    line(out, depth, &format!("{name}: {said}"));
    if let Mark::Group(group) = &item.mark {
        group.items.iter().for_each(|item| write(out, depth + 1, item));
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
        Paint::Ink(ink) => self::ink(ink),
        Paint::Gradient(gradient) => {
            let stops: Vec<String> =
                gradient.stops.iter().map(|(at, stop)| format!("{} {}", number(*at), ink(stop))).collect();
            format!("gradient({})", stops.join(", "))
        }
    }
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
