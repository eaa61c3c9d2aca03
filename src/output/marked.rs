//! The marked picture: the flat picture with every error framed. Only a cover with errors has one, and it is meant for those
//! who work on the cover; the other pictures carry no frames and can be shown to anyone.

use crate::ground::{Findings, Ink, Line, Paint, Rect, Severity, Span, rect_path};
use crate::output::entry::{Output, OutputFile, OutputJob, PPI};
use crate::output::flat::flat_picture;
use crate::scene::{Item, Kind, Mark, Media, Origin, Scene, Surface};
use crate::source::Word;
use std::sync::Arc;

pub const OUTPUT: Output = Output {
    word: Word::new("marked", "the flat picture with every error framed; only when there are errors")
        .properties(&[PPI]),
    files: &["marked.png"],
    for_press: false,
    on_request: false,
    media: Media::Both,
    write,
};

/// A signal that no cover's own colours swallow: magenta on a wider frame of paper.
const SIGNAL: Ink = Ink::process(0.0, 1.0, 0.0, 0.0);
const HALO_MM: f64 = 2.0;
const FRAME_MM: f64 = 1.0;
/// A frame stands this far outside its place, so that it hides nothing of it.
const AWAY_MM: f64 = 1.0;

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    if !job.findings.has_errors() {
        return Vec::new();
    }
    let scene = marked(job.scene, job.findings);
    vec![OutputFile {
        name: "marked.png".to_owned(),
        bytes: flat_picture(&scene, job.settings.ppi, job.darkroom).into(),
    }]
}

fn marked(scene: &Scene, findings: &Findings) -> Scene {
    let mut scene = scene.clone();
    let errors = findings.iter().filter(|finding| finding.severity == Severity::Error);
    for (span, place) in errors.filter_map(|finding| Some((finding.span, finding.place?))) {
        let frame = place.abs().inflate(AWAY_MM, AWAY_MM);
        scene.items.push(stroke(span, frame, HALO_MM, Ink::PAPER));
        scene.items.push(stroke(span, frame, FRAME_MM, SIGNAL));
    }
    scene
}

fn stroke(span: Span, frame: Rect, width: f64, ink: Ink) -> Item {
    let origin = Origin { span, panel: Surface::Wrap, element: "error-frame".to_owned(), kind: Kind::Shape, frame };
    let mark = Mark::Stroke { path: rect_path(frame), line: Line::new(width), paint: Paint::Ink(ink) };
    Item { origin: Arc::new(origin), mark }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Profile;
    use crate::ground::Finding;
    use crate::scene::{Job, Sheet};

    #[test]
    fn only_errors_with_a_place_are_framed() {
        let trim = Rect::new(0.0, 0.0, 100.0, 100.0);
        let sheet =
            Sheet { trim, bleed: trim, panels: Vec::new(), folds: Vec::new(), bound_right: false, pixels: None };
        let profile = Arc::new(Profile::bundled("coated").expect("it is bundled"));
        let scene = Scene { sheet, job: Job::default(), profile, items: Vec::new(), views: None };
        let place = Rect::new(10.0, 20.0, 30.0, 40.0);
        let finding = |severity| Finding::new(severity, "rule", Span::default(), "message");
        let mut findings = Findings::default();
        findings.push(finding(Severity::Error));
        findings.push(finding(Severity::Warning).at(place));
        assert!(marked(&scene, &findings).items.is_empty());
        findings.push(finding(Severity::Error).at(place));
        let marked = marked(&scene, &findings);
        let frames: Vec<Rect> = marked.items.iter().filter_map(Item::bounds).collect();
        assert_eq!(frames.len(), 2);
        assert!(frames.iter().all(|frame| frame.union(place) == *frame));
        assert!(scene.items.is_empty());
    }
}
