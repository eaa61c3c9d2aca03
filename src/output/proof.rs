//! The proof: the wrap at its true size with its lines and numbers, what was found, the facts, and a box to sign. It is for
//! approval, not for printing, and small enough to e-mail.

mod facts_page;
mod findings_page;
mod flow;
mod ink_use;
mod pen;
mod wrap_lines;
mod wrap_page;

use crate::output::entry::{Output, OutputFile, OutputJob};
use crate::output::proof::flow::ProofFlow;
use crate::output::proof::wrap_page::CLEAN;
use crate::pdf::document;
use crate::scene::Media;
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
    media: Media::Print,
    write,
};

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let mut flow = ProofFlow::default();
    findings_page::write(job, &mut flow);
    facts_page::write(job, &mut flow);
    let mut pages = vec![wrap_page::page(job, flow.len() + 1)];
    pages.extend(flow.finish(job.scene));
    let bytes = document(job.scene, &pages, job.darkroom);
    vec![OutputFile { name: "proof.pdf".to_owned(), bytes }]
}
