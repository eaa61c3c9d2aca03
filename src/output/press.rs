//! The press file: a PDF for the printer.

use crate::assets::Darkroom;
use crate::output::{Delivery, Made, Output};
use crate::pdf;
use crate::scene::Scene;

pub const OUTPUT: Output = Output { name: "press", write };

fn write(scene: &Scene, delivery: &Delivery, darkroom: &Darkroom) -> Vec<Made> {
    let bytes = pdf::write(scene, delivery.surround, darkroom);
    vec![Made { suffix: "press".to_owned(), extension: "pdf", bytes }]
}
