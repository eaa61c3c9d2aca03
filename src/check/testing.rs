//! Testing: a fragment of a cover, made whole, drawn and asked one rule.

use crate::assets::{Darkroom, Library, MapShelf};
use crate::check::exam::Exam;
use crate::check::ink_sums::measured_plates;
use crate::check::limit_words;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::cover::{Cover, draw};
use crate::ground::{FileId, FillRule, Finding, Findings, Ink, Rect, Span, rect_path};
use crate::language::{Desk, read};
use crate::output::OUTPUTS;
use crate::scene::{Item, Kind, Mark, Origin, Scene, Surface};
use crate::source::manual;
use crate::source::{Files, parse};
use crate::typeset::Typesetter;
use std::cell::RefCell;
use std::sync::{Arc, LazyLock};

static TYPESETTER: LazyLock<Typesetter> =
    LazyLock::new(|| Typesetter::new(Arc::new(Library::open(&[]).0), Arc::default()));
pub static DARKROOM: LazyLock<Darkroom> = LazyLock::new(Darkroom::default);

const BOOK: &str = "book { title \"Salt and Lanterns\"; author \"Mirela Anand\"; language en-GB; pages 320; \
                    isbn \"978-1-83742-615-7\"; }\n";
const FORMAT: &str = "format paperback { trim 129 198; paper grammage=80 bulk=1.5; cover-stock caliper=0.3; }\n";

/// A cover and its scene, read without an error of the language.
pub fn drawn(fragment: &str) -> (Cover, Scene) {
    let mut text = fragment.to_owned();
    for (word, usual) in [("book", BOOK), ("format", FORMAT)] {
        if !fragment.lines().any(|line| line.starts_with(word)) {
            text.insert_str(0, usual);
        }
    }
    let shelf = MapShelf::default()
        .with("art/small.jpg", &include_bytes!("../../tests/pictures/grey.jpg")[..])
        .with("art/ink.tif", &include_bytes!("../../tests/pictures/cmyk-8.tif")[..])
        .with("art/line.tif", &include_bytes!("../../tests/pictures/line-art.tif")[..])
        .with("art/coarse.jpg", &include_bytes!("../../tests/pictures/coarse.jpg")[..])
        .with("art/soft.png", &include_bytes!("../../tests/pictures/soft.png")[..])
        .with("art/clear.png", &include_bytes!("../../tests/pictures/clear.png")[..])
        .with("art/neon.png", &include_bytes!("../../tests/pictures/neon.png")[..])
        .with("art/fine.png", &include_bytes!("../../tests/pictures/fine.png")[..])
        .with("art/deep.png", &include_bytes!("../../tests/pictures/deep.png")[..])
        .with("art/bars.png", &include_bytes!("../../tests/pictures/bars.png")[..])
        .with("printers/keyline.pdf", &include_bytes!("../../tests/pictures/keyline.pdf")[..])
        .with("art/bars-own.png", &include_bytes!("../../tests/pictures/bars-own.png")[..]);
    let files = Files::default();
    let findings = RefCell::new(Findings::default());
    let file = files.add("cover.kdl", text.as_str());
    let tree = parse(&mut findings.borrow_mut(), file, &text);
    let library = TYPESETTER.library();
    let outputs: Vec<_> = OUTPUTS.iter().map(|output| &output.word).collect();
    let outputs = &outputs[..];
    let rules = limit_words();
    let desk = Desk { outputs, rules, ..Desk::new(&shelf, &DARKROOM, library, &files, &findings) };
    let cover = read(&desk, &tree);
    let scene = draw(&findings, &cover, &TYPESETTER);
    for finding in findings.borrow().iter() {
        assert!(
            finding.rule != "language",
            "{}: {}\n{text}",
            finding.message,
            finding.help.clone().unwrap_or_default()
        );
    }
    (cover, scene)
}

/// What a rule says of a cover; whatever a fragment lacks is a plain paperback of 320 pages with a spine of 19.8 mm.
pub fn reported(rule: &CheckRule, fragment: &str) -> Vec<Finding> {
    reported_with(rule, fragment, Vec::new())
}

/// The same, with marks on top that no cover file asked for.
pub fn reported_with(rule: &CheckRule, fragment: &str, items: Vec<Item>) -> Vec<Finding> {
    let (cover, mut scene) = drawn(fragment);
    scene.items.extend(items);
    let mut findings = RuleFindings::new(rule.name, &cover.facts.limits);
    let measured = rule.media.holds(&scene.sheet).then(|| measured_plates(&scene, &DARKROOM));
    (rule.run)(&Exam { measured: measured.as_ref(), ..Exam::new(&cover, &scene, &DARKROOM) }, &mut findings);
    for finding in &findings.all {
        assert!(finding.severity <= rule.severity, "{} says worse than it announces", rule.name);
    }
    findings.all
}

/// What a rule says of the example on its own page.
pub fn example(rule: &CheckRule) -> Vec<Finding> {
    reported(rule, &example_text(rule.source).expect("a page has an example"))
}

/// The first `kdl` block of a page.
pub fn example_text(source: &str) -> Option<String> {
    let page = manual(source);
    let begin = page.find("```kdl\n")? + "```kdl\n".len();
    Some(page[begin..].split("```").next()?.to_owned())
}

pub fn origin(element: &str, kind: Kind, frame: Rect) -> Arc<Origin> {
    let span = Span::new(FileId(0), 0..1);
    Arc::new(Origin { span, panel: Surface::BACK, element: element.to_owned(), kind, frame })
}

pub fn fill(origin: &Arc<Origin>, rect: Rect, ink: Ink) -> Item {
    let mark = Mark::Fill { path: rect_path(rect), rule: FillRule::NonZero, paint: ink.into() };
    Item { origin: origin.clone(), mark }
}
