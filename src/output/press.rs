//! The press file: a PDF for the printer.

use crate::output::entry::{Output, OutputFile, OutputJob};
use crate::pdf;
use crate::scene::{Media, Surround};
use crate::source::{Word, choice};

pub const OUTPUT: Output = Output {
    word: Word::new("press", "the press PDF, for the printer")
        .takes(&[choice("what stands around the trim", &["marks", "bleed", "trim"])])
        .default("marks"),
    files: &["press.pdf"],
    for_press: true,
    on_request: false,
    media: Media::Print,
    write,
};

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let surround = match job.settings.word {
        "bleed" => Surround::Bleed,
        "trim" => Surround::Trim,
        _ => Surround::Marks,
    };
    let bytes = pdf::write(job.scene, surround, job.darkroom);
    vec![OutputFile { name: "press.pdf".to_owned(), bytes }]
}
