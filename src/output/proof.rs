//! The proof: the wrap at its true size with its lines and numbers, what was found, the facts, and a box to sign. It is for
//! approval, not for printing, and small enough to e-mail.

mod badges;
mod facts_page;
mod findings_page;
mod flow;
mod ink_use;
mod pen;
mod wrap_lines;
mod wrap_page;

use crate::ground::{FillRule, Rect, rect_path};
use crate::output::entry::{Output, OutputFile, OutputJob};
use crate::output::proof::flow::ProofFlow;
use crate::output::proof::wrap_page::CLEAN;
use crate::pdf::{DocumentPage, document};
use crate::scene::{Group, Item, Mark, Media, Scene, Sheet};
use crate::source::{Word, choice, number};

/// Finer pictures would not pass through the mail.
const PPI: Word = Word::new("ppi", "pixels per inch of the picture in it")
    .takes(&[number("pixels per inch", 36.0, 300.0)])
    .default("150");

pub const OUTPUT: Output = Output {
    word: Word::new("proof", "the proof to sign: the cover at true size, findings and facts, for approval")
        .takes(&[choice("what is written faintly across it", &[CLEAN, "draft", "specimen", "confidential"])])
        .default(CLEAN)
        .properties(&[PPI]),
    files: &["proof.pdf"],
    for_press: false,
    on_request: false,
    media: Media::Print,
    write,
};

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let mut pages = pages(job);
    if let Some(wrap) = pages.first_mut() {
        wrap.picture = Some(wrap_page::picture(job));
    }
    let bytes = document(job.scene, &pages, job.darkroom);
    vec![OutputFile { name: "proof.pdf".to_owned(), bytes }]
}

/// The pages of the proof, each as a sheet to be drawn.
pub fn proof_sheets(job: &OutputJob<'_>) -> Vec<Scene> {
    let wrap = |frame: Rect| {
        let origin = job.scene.items.first().map(|item| item.origin.clone())?;
        let clip = (rect_path(frame.intersect(job.scene.sheet.bleed)), FillRule::NonZero);
        let mark = Mark::Group(Group::cut(clip, job.scene.items.clone()));
        Some(Item { origin, mark })
    };
    let sheet = |page: DocumentPage| Scene {
        sheet: Sheet {
            trim: page.frame,
            bleed: page.frame,
            panels: Vec::new(),
            folds: Vec::new(),
            bound_right: false,
            pixels: None,
        },
        job: job.scene.job.clone(),
        profile: job.scene.profile.clone(),
        items: page
            .shown
            .and_then(|_| wrap(page.frame))
            .into_iter()
            .chain(page.layers.into_iter().flat_map(|layer| layer.items))
            .collect(),
        views: None,
    };
    pages(job).into_iter().map(sheet).collect()
}

/// The picture of the wrap is left out.
fn pages(job: &OutputJob<'_>) -> Vec<DocumentPage> {
    let mut flow = ProofFlow::default();
    findings_page::write(job, &mut flow);
    facts_page::write(job, &mut flow);
    let mut pages = vec![wrap_page::page(job, flow.len() + 1)];
    pages.extend(flow.finish(job.scene));
    pages
}
