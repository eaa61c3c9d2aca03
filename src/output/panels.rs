//! One picture per panel, trimmed: `front`, `spine`, `back` and flaps, as they will look in print.
//!
//! A case's joint is cut with its board: closed, the two are one face.

use crate::ground::{Digest, MM_PER_INCH};
use crate::output::entry::{Output, OutputFile, OutputJob, PPI};
use crate::output::png;
use crate::raster::ScreenTiles;
use crate::scene::{Media, PanelName, Sheet};
use crate::source::Word;
use rayon::prelude::*;

pub const OUTPUT: Output = Output {
    word: Word::new("panels", "one picture per panel: front, spine, back, flaps").properties(&[PPI]),
    files: &["front.png", "spine.png", "back.png", "front-flap.png", "back-flap.png"],
    for_press: false,
    on_request: false,
    media: Media::Print,
    write,
};

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let (scene, ppi, darkroom) = (job.scene, job.settings.ppi, job.darkroom);
    let whole = ScreenTiles::draw(scene, scene.sheet.trim, ppi, darkroom);
    let column = |x: f64| (x - scene.sheet.trim.x0) * ppi / MM_PER_INCH;
    faces(&scene.sheet)
        .into_par_iter()
        .filter_map(|(name, left, right)| {
            // A pixel that a fold runs through shows two panels, and belongs to neither. Rounding must not count as such.
            let first = ((column(left) - 1e-6).ceil().max(0.0) as usize).min(whole.width);
            let end = (column(right) + 1e-6).floor().max(0.0) as usize;
            let end = if right >= scene.sheet.trim.x1 { whole.width } else { end.min(whole.width) };
            let columns = first..end;
            if columns.is_empty() {
                return None;
            }
            let strips = whole.strips().into_par_iter().map(|rows| {
                let key = Digest::of_all(&[b"panel strip", whole.name(rows.clone(), columns.clone()).bytes()]);
                darkroom.stream(key, || {
                    let mut rgb = vec![0; rows.len() * columns.len() * 3];
                    let lines = rgb.chunks_exact_mut(columns.len() * 3);
                    lines.zip(rows).for_each(|(pixels, row)| whole.copy_row(row, columns.clone(), pixels));
                    png::strip(rgb.chunks_exact(columns.len() * 3), 3)
                })
            });
            let strips: Vec<_> = strips.collect();
            let bytes = png::write(&strips, (columns.len(), whole.height), ppi, png::About::part(scene, name.word()));
            Some(OutputFile { name: format!("{name}.png"), bytes: bytes.into() })
        })
        .collect()
}

/// Names and edges of the faces, left to right.
pub fn faces(sheet: &Sheet) -> Vec<(PanelName, f64, f64)> {
    let joint = |board: PanelName| match board {
        PanelName::Back => sheet.panel(PanelName::BackJoint),
        PanelName::Front => sheet.panel(PanelName::FrontJoint),
        _ => None,
    };
    let boards = sheet.panels.iter().filter(|panel| !panel.name.is_joint());
    boards
        .map(|panel| {
            let face = joint(panel.name).map_or(panel.rect, |joint| panel.rect.union(joint.rect));
            (panel.name, face.x0, face.x1)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Darkroom;
    use crate::ground::{Findings, Ink, Rect};
    use crate::output::particulars::Particulars;
    use crate::raster::trial::{rect, scene};
    use crate::scene::{OutputSettings, Panel, Scene};

    /// A case: two boards, their joints and a spine, each in an ink of its own, running into the bleed.
    fn case() -> Scene {
        let edges = [0.0, 50.3, 58.3, 70.9, 78.9, 129.2];
        let names = [PanelName::Back, PanelName::BackJoint, PanelName::Spine, PanelName::FrontJoint, PanelName::Front];
        let inks = [0.0, 0.0, 1.0, 0.5, 0.5].map(Ink::black);
        let panels = names.iter().enumerate().map(|(at, name)| (*name, edges[at], edges[at + 1]));
        let marks =
            panels.clone().zip(inks).map(|((_, x0, x1), ink)| rect(x0, -3.0, x1 - x0 + 3.0, 86.0, ink)).collect();
        let mut scene = scene(129.2, 80.0, marks);
        scene.sheet.panels = panels.map(|(name, x0, x1)| Panel { name, rect: Rect::new(x0, 0.0, x1, 80.0) }).collect();
        scene
    }

    #[test]
    fn faces_are_whole_and_hold_nothing_of_their_neighbours() {
        let settings = OutputSettings { ppi: 100.0, ..OutputSettings::default() };
        let (scene, findings, darkroom) = (&case(), &Findings::default(), &Darkroom::default());
        let made =
            write(&OutputJob { scene, findings, particulars: &Particulars::default(), settings: &settings, darkroom });
        let names: Vec<&str> = made.iter().map(|made| made.name.as_str()).collect();
        assert_eq!(names, ["back.png", "spine.png", "front.png"]);
        // 58.3, 12.6 and 58.3 mm at 100 ppi are 229.5, 49.6 and 229.5 pixels; those cut by a fold are left away.
        for (made, width) in made.iter().zip([229, 49, 229]) {
            let reader = ::png::Decoder::new(std::io::Cursor::new(made.bytes.whole())).read_info();
            let mut reader = reader.expect("a PNG");
            let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
            reader.next_frame(&mut pixels).expect("a whole picture");
            assert_eq!((reader.info().width, reader.info().height), (width, 315), "{}", made.name);
            assert!(pixels.chunks(3).all(|pixel| pixel == &pixels[..3]), "{} is of one colour", made.name);
        }
    }
}
