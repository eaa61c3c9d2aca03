//! Spines of the examples: their words are centred between the folds by the outlines of the letters that are drawn.

use crate::compile::{Workshop, build};
use crate::disk::Disk;
use crate::ground::{Point, Shape};
use crate::scene::{GlyphRun, Item, Kind, Mark, PanelName, Surface};
use crate::targets::{Selection, find_targets};
use std::path::Path;

/// Letters whose tops are flat: round ones, points and the arms of a T reach a little higher, and count as high as these.
const CAPITALS: &str = "BDEFHIKLMNPRXYZ";
const SMALL: &str = "vwxyz";
/// Millimetres.
const OFF: f64 = 0.05;

/// Where the middle of a line lies between the folds: halfway up its capitals, its small letters, or the mean of the two
/// where it has both. Where none of them has a flat top, the font's H or x stands for it. `None` for scripts without two
/// cases.
fn middle(runs: &[&GlyphRun]) -> Option<f64> {
    let letters = runs.iter().flat_map(|run| run.glyphs.iter().map(move |glyph| (run, glyph)));
    let drawn: Vec<(char, f64)> = letters
        .filter_map(|(run, glyph)| {
            let spoken = run.text.get(glyph.text.clone())?.chars().next()?;
            let bounds = run.font.outline(glyph.id).bounding_box();
            Some((spoken, bounds.y0.min(bounds.y1) * run.size))
        })
        .filter(|(spoken, _)| spoken.is_alphabetic())
        .collect();
    let run = runs.first()?;
    let standing = |letter: char| {
        let bounds = run.font.outline(run.font.glyph(letter)?).bounding_box();
        Some(bounds.y0.min(bounds.y1) * run.size)
    };
    let top = |kind: fn(char) -> bool, flat: &str, usual: char| {
        let some = drawn.iter().any(|(letter, _)| kind(*letter));
        let tops = drawn.iter().filter(|(letter, _)| flat.contains(*letter)).map(|(_, top)| *top);
        some.then(|| tops.max_by(f64::total_cmp).or_else(|| standing(usual))).flatten()
    };
    let tops = [top(char::is_uppercase, CAPITALS, 'H'), top(char::is_lowercase, SMALL, 'x')];
    let tops: Vec<f64> = tops.into_iter().flatten().collect();
    let mean = (!tops.is_empty()).then(|| tops.iter().sum::<f64>() / tops.len() as f64)?;
    Some((run.transform * Point::new(0.0, mean / 2.0)).x)
}

#[test]
fn words_on_spines_are_centred_by_their_outlines() {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let selection = Selection { files: vec![examples], ..Selection::default() };
    let targets = find_targets(&selection).expect("the examples are there").targets;
    let workshop = Workshop::default();
    let (mut asked, mut faults) = (0, Vec::new());
    for target in &targets {
        let built = build(&workshop, &Disk::new(&target.folder), &target.request).expect("a cover that is there");
        let scene = built.design.expect("an example is drawn").scene;
        let Some(spine) = scene.sheet.panel(PanelName::Spine).map(|panel| panel.rect) else { continue };
        let words = |item: &&Item| item.origin.panel == Surface::SPINE && item.origin.kind == Kind::Text;
        for element in scene.items.iter().filter(words).collect::<Vec<_>>().chunk_by(|a, b| a.origin == b.origin) {
            let runs: Vec<&GlyphRun> = element
                .iter()
                .filter_map(|item| if let Mark::Glyphs(run) = &item.mark { Some(run) } else { None })
                .collect();
            let baseline = |run: &GlyphRun| (run.transform * Point::ORIGIN).x;
            let one_line = runs.iter().all(|run| (baseline(run) - baseline(runs[0])).abs() < 1e-6);
            let Some(middle) = middle(&runs).filter(|_| one_line) else { continue };
            asked += 1;
            let off = middle - spine.center().x;
            if off.abs() > OFF {
                faults.push(format!("{} {}: {off:.3} mm", target.name, element[0].origin.element));
            }
        }
    }
    assert!(asked >= 40, "only {asked} lines could be measured");
    assert!(faults.is_empty(), "of {asked}:\n{}", faults.join("\n"));
}
