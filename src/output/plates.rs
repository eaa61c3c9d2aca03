//! Plates: one grey picture for each ink of the press, and a map of the places with too much ink.

use crate::ground::MM_PER_INCH;
use crate::output::entry::{Output, OutputFile, OutputJob, PPI};
use crate::output::png::{About, grey_file, png_file};
use crate::raster::{Plates, plates};
use crate::scene::Media;
use crate::source::Word;
use std::collections::BTreeSet;

pub const OUTPUT: Output = Output {
    word: Word::new("plates", "one grey picture per ink, and where there is too much; only when they are asked for")
        .properties(&[PPI]),
    files: &["plate-NAME.png", "ink-over-limit.png"],
    for_press: false,
    on_request: true,
    media: Media::Print,
    write,
};

/// Millimetres of a square that ink is averaged over, as the check does. Common practice.
const WINDOW: f64 = 1.0;
/// On the map: where ink is over the limit, where it is over by much, and how pale everything else is. They differ in
/// lightness, too, for those who see colours otherwise.
const OVER: [u8; 3] = [255, 165, 0];
const GROSS: [u8; 3] = [190, 0, 110];
/// Over by more than this is an error by `ink-over-limit`, unless a cover says otherwise. Common practice.
const MUCH: f64 = 0.2;
const PALE: f32 = 0.35;

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let (scene, ppi) = (job.scene, job.settings.ppi);
    let drawn = plates(scene, scene.sheet.bleed, ppi, job.darkroom);
    let size = (drawn.width, drawn.height);
    let mut taken = BTreeSet::new();
    let mut files = Vec::new();
    for (name, plane) in drawn.inked() {
        let light: Vec<u8> = plane.iter().map(|ink| 255 - ink).collect();
        let bytes = grey_file(&light, size, ppi, About::part(scene, name));
        files.push(OutputFile { name: format!("plate-{}.png", file_name(name, &mut taken)), bytes: bytes.into() });
    }
    files.extend(job.particulars.ink_limit.and_then(|limit| map(job, &drawn, limit)));
    files
}

/// A plate's name in a file's: small letters and digits, and a number where two inks would share it.
fn file_name(name: &str, taken: &mut BTreeSet<String>) -> String {
    let lower = name.to_lowercase();
    let words: Vec<&str> =
        lower.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let own = if words.is_empty() { "spot".to_owned() } else { words.join("-") };
    let numbered = (2..).map(|number| format!("{own}-{number}"));
    let free = [own.clone()].into_iter().chain(numbered).find(|name| !taken.contains(name)).unwrap_or(own);
    taken.insert(free.clone());
    free
}

/// The cover in pale grey, and in two signal colours where more ink lies together than the limit and where it is more by much;
/// none when there is no such place. Its title says how large they are together.
fn map(job: &OutputJob<'_>, drawn: &Plates, limit: f64) -> Option<OutputFile> {
    let total = drawn.total_ink(WINDOW);
    // Samples of 8 bits: half a step for each plate.
    let rounding = 0.5 / 255.0 * (drawn.process.len() + drawn.spots.len()) as f64;
    let over = |ink: &f32, by: f64| f64::from(*ink) > limit + by + rounding;
    let size = |by: f64| {
        let count = total.iter().filter(|ink| over(ink, by)).count();
        (count > 0).then(|| count as f64 * (MM_PER_INCH / drawn.ppi).powi(2) / 100.0)
    };
    let area = size(0.0)?;
    let dot = |ink: &f32| {
        let grey = (255.0 * (1.0 - PALE * (ink / limit as f32).min(1.0))) as u8;
        match (over(ink, MUCH), over(ink, 0.0)) {
            (true, _) => GROSS,
            (false, true) => OVER,
            (false, false) => [grey; 3],
        }
    };
    let pixels: Vec<[u8; 3]> = total.iter().map(dot).collect();
    let of_them = size(MUCH).map(|area| format!(", {area:.2} cm² of them over {:.0} %", (limit + MUCH) * 100.0));
    let part = format!("over {:.0} % of ink: {area:.2} cm²{}", limit * 100.0, of_them.unwrap_or_default());
    let bytes = png_file(pixels.as_flattened(), (drawn.width, drawn.height), drawn.ppi, About::part(job.scene, &part));
    Some(OutputFile { name: "ink-over-limit.png".to_owned(), bytes: bytes.into() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Darkroom;
    use crate::ground::{Findings, Ink};
    use crate::output::particulars::Particulars;
    use crate::raster::trial::{PPI, rect, scene, spot};
    use crate::scene::OutputSettings;

    fn read(file: &OutputFile) -> (::png::ColorType, Vec<u8>) {
        let mut reader = ::png::Decoder::new(std::io::Cursor::new(file.bytes.whole())).read_info().expect("a PNG");
        let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
        reader.next_frame(&mut pixels).expect("a whole picture");
        (reader.info().color_type, pixels)
    }

    #[test]
    fn each_ink_has_a_picture_and_too_much_of_it_a_map() {
        let heavy = rect(0.0, 0.0, 20.0, 15.0, Ink::process(0.9, 0.9, 0.9, 0.9));
        let less = rect(0.0, 15.0, 20.0, 5.0, Ink::process(0.8, 0.8, 0.8, 0.75));
        let foil = rect(20.0, 0.0, 10.0, 10.0, Ink::spot(spot("Gold foil", true), 1.0));
        let scene = scene(40.0, 20.0, vec![heavy, less, foil]);
        let made = |limit: f64| {
            let settings = OutputSettings { ppi: PPI, ..OutputSettings::default() };
            let particulars = Particulars { ink_limit: Some(limit), ..Particulars::default() };
            let (findings, darkroom) = (&Findings::default(), &Darkroom::default());
            write(&OutputJob { scene: &scene, findings, particulars: &particulars, settings: &settings, darkroom })
        };
        let files = made(3.0);
        let names: Vec<&str> = files.iter().map(|file| file.name.as_str()).collect();
        let process = ["plate-cyan.png", "plate-magenta.png", "plate-yellow.png", "plate-black.png"];
        assert_eq!(names, [&process[..], &["plate-gold-foil.png", "ink-over-limit.png"]].concat());
        // Bleed of 3 mm all round: the picture is 46 pixels wide. 0.9 is 229.5 of 255.
        let (kind, cyan) = read(&files[0]);
        assert_eq!((kind, cyan[10 * 46 + 10], cyan[10 * 46 + 30]), (::png::ColorType::Grayscale, 255 - 230, 255));
        let (_, map) = read(&files[5]);
        assert_eq!([&map[(10 * 46 + 10) * 3..][..3], &map[(20 * 46 + 10) * 3..][..3]], [GROSS, OVER]);
        let dots = |tone: [u8; 3]| map.as_chunks::<3>().0.iter().filter(|dot| **dot == tone).count();
        assert_eq!((dots(GROSS), dots(OVER)), (300, 100));
        assert_eq!(made(3.7).len(), 5, "nothing is over 370 %");
    }

    #[test]
    fn inks_of_like_names_have_files_of_their_own() {
        let taken = &mut BTreeSet::new();
        let names = ["Gold / foil", "gold foil", "金", "!"].map(|name| file_name(name, taken));
        assert_eq!(names, ["gold-foil", "gold-foil-2", "金", "spot"]);
    }
}
