//! Pipeline: the text of a cover becomes a design and its findings.

use crate::assets::{Library, Shelf, ShelfFault};
use crate::check::limit_words;
use crate::compile::stage_tools::{StageTools, output_words};
use crate::compile::stages::{Questions, design, whole};
use crate::compile::workshop::Workshop;
use crate::cover::{Measure, StatedLimits};
use crate::ground::Findings;
use crate::language::{Desk, measures, stated_limits};
use crate::record::{Built, CoverRequest};
use crate::source::Files;
use crate::targets::{Sources, layers};
use std::cell::RefCell;

/// Builds a cover from a shelf. Only a file that does not come is a fault.
pub fn build(workshop: &Workshop, shelf: &dyn Shelf, request: &CoverRequest) -> Result<Built, ShelfFault> {
    built(workshop, shelf, request, Questions::Check)
}

/// The same, asked what drift of cuts, folds and plates would expose instead of what is wrong.
pub fn rehearsed(workshop: &Workshop, shelf: &dyn Shelf, request: &CoverRequest) -> Result<Built, ShelfFault> {
    built(workshop, shelf, request, Questions::Drift)
}

fn built(
    workshop: &Workshop,
    shelf: &dyn Shelf,
    request: &CoverRequest,
    questions: Questions,
) -> Result<Built, ShelfFault> {
    let files = Files::default();
    let findings = RefCell::new(Findings::default());
    let laid = layers(Sources { shelf, files: &files, findings: &findings }, request)?;
    workshop.lap("files");
    let design = laid.and_then(|laid| {
        let faces = workshop.faces(&findings, &files, shelf);
        workshop.lap("fonts");
        let tools = StageTools { findings: &findings, files: &files, shelf, workshop, typesetter: &faces.typesetter };
        design(&tools, &laid, (request, questions))
    });
    let mut findings = findings.into_inner();
    if request.strict {
        findings.raise();
    }
    findings.sort();
    Ok(Built { files, findings, design, request: request.clone() })
}

/// Reads of a cover what its sheet measures, and nothing else.
pub fn measure(
    workshop: &Workshop,
    shelf: &dyn Shelf,
    request: &CoverRequest,
) -> Result<(Built, Vec<Measure>), ShelfFault> {
    let files = Files::default();
    let findings = RefCell::new(Findings::default());
    let laid = layers(Sources { shelf, files: &files, findings: &findings }, request)?;
    let laid = laid.filter(|laid| !laid.tree.nodes.is_empty());
    let measures = laid.map_or_else(Vec::new, |laid| {
        let (darkroom, library) = (&workshop.darkroom, &Library::default());
        let outputs = &output_words(workshop);
        let plain = Desk::new(shelf, darkroom, library, &files, &findings);
        let desk = Desk { outputs, rules: limit_words(), ..plain };
        whole(&measures(&desk, &laid.tree))
    });
    let mut findings = findings.into_inner();
    findings.sort();
    Ok((Built { files, findings, design: None, request: request.clone() }, measures))
}

/// Reads of a cover which limits of rules it states, and nothing else.
pub fn limits(
    workshop: &Workshop,
    shelf: &dyn Shelf,
    request: &CoverRequest,
) -> Result<(Built, StatedLimits), ShelfFault> {
    let files = Files::default();
    let findings = RefCell::new(Findings::default());
    let laid = layers(Sources { shelf, files: &files, findings: &findings }, request)?;
    let limits = laid.map_or_else(StatedLimits::default, |laid| {
        let (darkroom, library) = (&workshop.darkroom, &Library::default());
        let desk = Desk { rules: limit_words(), ..Desk::new(shelf, darkroom, library, &files, &findings) };
        stated_limits(&desk, &laid.tree)
    });
    let findings = findings.into_inner();
    Ok((Built { files, findings, design: None, request: request.clone() }, limits))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::MapShelf;
    use crate::ground::Finding;
    use crate::targets::catalogue;
    use std::sync::{Arc, Mutex};

    fn reported(bytes: &[u8]) -> Vec<(String, Option<(usize, usize)>)> {
        let shelf = MapShelf::default().with("cover.kdl", bytes);
        let built = build(&Workshop::default(), &shelf, &CoverRequest::of("cover.kdl")).expect("the file is there");
        let reported = built.findings.iter();
        reported.map(|finding| (finding.message.clone(), built.files.line_column(finding.span))).collect()
    }

    #[test]
    fn bytes_that_are_no_text_are_reported_at_their_line() {
        let stated = reported(b"book {\n  title \"Caf\xe9\"\n}\n");
        assert_eq!(stated, [("the byte 0xe9 here is not UTF-8".to_owned(), Some((2, 13)))]);
        assert_eq!(reported(b"\xff\xfeb\0")[0].1, Some((1, 1)));
    }

    #[test]
    fn a_file_that_is_not_kdl_has_one_finding_and_no_design() {
        let stated = reported(b"book {\n  pages 10pt\n}\n");
        assert_eq!(stated, [("`10pt` is not a number".to_owned(), Some((2, 9)))]);
    }

    #[test]
    fn an_empty_file_is_an_error() {
        assert_eq!(reported(b"// nothing yet\n"), [("the file says nothing".to_owned(), Some((1, 1)))]);
    }

    #[test]
    fn a_font_that_is_none_is_reported_of_every_cover() {
        let shelf = MapShelf::default().with("cover.kdl", *b"book { pages 100 }").with("fonts/a.ttf", *b"no font");
        let workshop = Workshop::default();
        for _ in 0..2 {
            let built = build(&workshop, &shelf, &CoverRequest::of("cover.kdl")).expect("the cover is there");
            assert!(built.findings.iter().any(|finding| finding.message.contains("`fonts/a.ttf` is left out")));
        }
    }

    #[test]
    fn a_title_adds_neither_series_nor_edition() {
        let shelf = MapShelf::default()
            .with("c.kdl", *b"catalogue { template \"t.kdl\"; titles \"t.csv\" }")
            .with("t.kdl", *b"book { pages 100 }\nformat paperback { trim 120 180 }\nedition us { book { pages 90 } }")
            .with("t.csv", *b"title,overrides\nA,o.kdl\n")
            .with("o.kdl", *b"series \"s.kdl\"\nedition us { book { pages 80 } }\nedition uk { book { pages 70 } }");
        let Ok(mut catalogue) = catalogue(&shelf, "c.kdl") else { panic!("the file is there") };
        let request = CoverRequest { title: catalogue.titles.pop(), ..CoverRequest::of(&catalogue.template) };
        let built = build(&Workshop::default(), &shelf, &request).expect("the template is there");
        let errors: Vec<&str> = built.findings.iter().map(|finding| finding.message.as_str()).collect();
        let series = "a file of overrides lies over the template, and has no series of its own";
        assert_eq!(errors, [series, "the template has no edition `uk`"]);
    }

    /// The pictures of a wrong title show its mistake; of hundreds nobody looks at them.
    #[test]
    fn rows_that_are_wrong_by_the_hundred_are_reported_and_not_drawn() {
        for (wrong, drawn) in [(100, 102), (101, 2)] {
            let table = format!("title,pages\nA,90\n{}A,91\n", "B\n".repeat(wrong));
            let shelf = MapShelf::default()
                .with("c.kdl", *b"catalogue { template \"t.kdl\"; titles \"t.csv\" }")
                .with("t.kdl", *b"format paperback { trim 120 180 }")
                .with("t.csv", table.as_bytes());
            let Ok(catalogue) = catalogue(&shelf, "c.kdl") else { panic!("the file is there") };
            assert_eq!(catalogue.outcome.findings.len(), usize::from(wrong > 100), "a note says so");
            let workshop = Workshop::default();
            let mut designs = 0;
            for title in catalogue.titles {
                let request = CoverRequest { title: Some(title), ..CoverRequest::of("t.kdl") };
                let built = build(&workshop, &shelf, &request).expect("the template is there");
                let row = request.title.as_ref().map_or(0, |title| title.row);
                designs += usize::from(built.design.is_some());
                let short = |finding: &Finding| finding.message == "1 cell here, and the first row names 2";
                assert_eq!(built.findings.iter().any(short), (1..=wrong).contains(&row), "{row}");
            }
            assert_eq!(designs, drawn);
        }
    }

    /// A shelf that notes what is read off it.
    struct CountingShelf(MapShelf, Mutex<Vec<String>>);

    impl CountingShelf {
        fn note(&self, place: &str) {
            self.1.lock().expect("nobody failed").push(place.to_owned());
        }

        fn noted(&self) -> Vec<String> {
            self.1.lock().expect("nobody failed").clone()
        }
    }

    impl Shelf for CountingShelf {
        fn read(&self, path: &str) -> Result<Arc<[u8]>, ShelfFault> {
            self.note(path);
            self.0.read(path)
        }

        fn list(&self, folder: &str) -> Vec<String> {
            self.note(folder);
            self.0.list(folder)
        }

        fn covers(&self, folder: &str) -> Vec<String> {
            self.note(folder);
            self.0.covers(folder)
        }
    }

    #[test]
    fn measuring_reads_no_more_than_the_cover() {
        let picture = &include_bytes!("../../tests/pictures/grey.jpg")[..];
        let cover = "book { pages 320 }\nformat paperback { trim 120 180 }\npress profile=\"own.icc\"\n\
                     panel front { image a file=\"a.jpg\" { left 0; top 0; width 9; height 9 }; text b copy=\"b.md\" }";
        let map = MapShelf::default().with("cover.kdl", cover.as_bytes()).with("a.jpg", picture).with("b.md", *b"Salt");
        let shelf = CountingShelf(map, Mutex::default());
        let workshop = Workshop::default();
        let measured = measure(&workshop, &shelf, &CoverRequest::of("cover.kdl")).expect("the cover is there");
        assert!(!measured.1.is_empty() && measured.0.findings.is_empty());
        assert_eq!(shelf.noted(), ["cover.kdl"]);
        // Nothing is set, converted or compressed either.
        assert_eq!(workshop.work(), crate::assets::Work::default());
        let limited = limits(&workshop, &shelf, &CoverRequest::of("cover.kdl"));
        assert!(limited.is_ok() && shelf.noted() == ["cover.kdl"; 2]);
    }

    /// A printer's profile is large, and many covers name it.
    #[test]
    fn a_printers_profile_is_read_once_a_cover_and_opened_once_for_all() {
        let cover = |own: &str| {
            format!("book {{ pages 320 }}\nformat paperback {{ trim 120 180 }}\nprinter \"quay/quay.kdl\"\n{own}")
                .into_bytes()
        };
        let profile = &include_bytes!("../assets/profiles/uncoated-fogra29.icc")[..];
        let map = MapShelf::default()
            .with("one.kdl", cover(""))
            .with("two.kdl", cover("limit bleed-short bleed=2\n"))
            .with("quay/quay.kdl", *b"press profile=\"own.icc\" ink-limit=280\n")
            .with("quay/own.icc", profile);
        let shelf = CountingShelf(map, Mutex::default());
        let workshop = Workshop::default();
        let opened = ["one.kdl", "two.kdl"].map(|name| {
            let built = build(&workshop, &shelf, &CoverRequest::of(name)).expect("the cover is there");
            built.design.expect("it reads").scene.profile
        });
        assert!(opened.iter().all(|opened| opened.bytes() == profile));
        assert!(Arc::ptr_eq(&opened[0], &opened[1]));
        let times = |path: &str| shelf.noted().iter().filter(|noted| *noted == path).count();
        assert_eq!(["one.kdl", "two.kdl", "quay/own.icc"].map(times), [1, 1, 2], "{:?}", shelf.noted());
    }

    #[test]
    fn a_missing_cover_is_a_fault() {
        let fault = build(&Workshop::default(), &MapShelf::default(), &CoverRequest::of("cover.kdl")).err();
        assert_eq!(fault, Some(ShelfFault::Missing { nearest: None }));
    }
}
