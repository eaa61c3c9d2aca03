//! The press file: a PDF for the printer.

use crate::assets::Darkroom;
use crate::output::entry::{Output, OutputFile};
use crate::pdf;
use crate::scene::{OutputSettings, Scene, Surround};
use crate::source::{Word, choice};

pub const OUTPUT: Output = Output {
    word: Word::new("press", "the press PDF, for the printer")
        .takes(&[choice("what stands around the trim", &["marks", "bleed", "trim"])])
        .default("marks"),
    files: &["press.pdf"],
    for_press: true,
    write,
};

fn write(scene: &Scene, settings: &OutputSettings, darkroom: &Darkroom) -> Vec<OutputFile> {
    let surround = match settings.word {
        "bleed" => Surround::Bleed,
        "trim" => Surround::Trim,
        _ => Surround::Marks,
    };
    let bytes = pdf::write(scene, surround, darkroom);
    vec![OutputFile { name: "press.pdf".to_owned(), bytes }]
}
