//! The press file before outside readers: small scenes, and the programs that read them back.
#![expect(clippy::disallowed_methods, reason = "other programs read files, so the tests write some")]

mod damaged;
mod inks;
mod marks;
mod pictures;
mod second_writer;
mod strange;
mod structure;
mod words;

use crate::assets::{Darkroom, Font, Glyph, Library, Profile, Sequence};
use crate::ground::{Affine, FillRule, Ink, Line, Paint, Path, Point, Rect, Span, Spot, rect_path};
use crate::pdf::Surround;
use crate::scene::{Fold, FoldKind, GlyphRun, Item, Job, Kind, Mark, Origin, Scene, Sheet, Surface};
use std::process::Command;
use std::sync::{Arc, LazyLock};

static LIBRARY: LazyLock<Library> = LazyLock::new(|| Library::open(&[]).0);

fn font(family: &str, weight: u16, italic: bool) -> Arc<Font> {
    LIBRARY.find(family, weight, italic).expect("a bundled family")
}

/// A cover of three panels: two of `width`, a spine between; 3 mm of bleed.
fn scene(width: f64, spine: f64, height: f64, items: Vec<Item>) -> Scene {
    let trim = Rect::new(0.0, 0.0, 2.0 * width + spine, height);
    let fold = |x, kind| Fold { x, kind };
    let folds = vec![
        fold(width - 6.0, FoldKind::Score),
        fold(width, FoldKind::Fold),
        fold(width + spine, FoldKind::Fold),
        fold(width + spine + 6.0, FoldKind::Score),
    ];
    Scene {
        sheet: Sheet {
            trim,
            bleed: trim.inflate(3.0, 3.0),
            panels: Vec::new(),
            folds,
            bound_right: false,
            pixels: None,
        },
        job: Job {
            title: "The Salt Ladder".to_owned(),
            author: "Ana Peresal".to_owned(),
            language: "en-GB".to_owned(),
            isbn: Some("978-0-306-40615-7".to_owned()),
            alt_text: None,
            standing: None,
            version: Some(3),
            date: Some("2026-11-02".to_owned()),
            notes: vec!["129 × 198 mm".to_owned(), format!("spine {spine} mm")],
            text_plate: None,
        },
        profile: Arc::new(Profile::bundled("coated").expect("a bundled profile")),
        items,
        views: None,
    }
}

fn item(mark: Mark) -> Item {
    static ORIGIN: LazyLock<Arc<Origin>> = LazyLock::new(|| {
        let (panel, element) = (Surface::FRONT, "test".to_owned());
        Arc::new(Origin { span: Span::default(), panel, element, kind: Kind::Shape, frame: Rect::ZERO })
    });
    Item { origin: ORIGIN.clone(), mark }
}

fn block(rect: Rect, paint: impl Into<Paint>) -> Item {
    item(Mark::Fill { path: rect_path(rect), rule: FillRule::NonZero, paint: paint.into() })
}

fn rule(from: Point, to: Point, line: Line, ink: Ink) -> Item {
    let mut path = Path::new();
    path.move_to(from);
    path.line_to(to);
    item(Mark::Stroke { path, line, paint: ink.into() })
}

fn spot(name: &str, look: [f64; 4], finishing: bool) -> Arc<Spot> {
    Arc::new(Spot { name: name.to_owned(), look, finish: finishing.then_some(crate::ground::Finish::Varnish) })
}

/// Words letter by letter, without shaping: `size` in millimetres, from a point of the sheet.
fn words(font: &Arc<Font>, size: f64, at: Point, text: &str) -> GlyphRun {
    let mut glyphs = Vec::new();
    let mut x = 0.0;
    for (start, letter) in text.char_indices() {
        let id = font.glyph(letter).expect("the font has the letter");
        let advance = font.advance(id) * size;
        glyphs.push(Glyph { id, x, y: 0.0, advance, text: start..start + letter.len_utf8() });
        x += advance;
    }
    let transform = Affine::translate(at.to_vec2());
    GlyphRun {
        font: font.clone(),
        size,
        stretch: 1.0,
        transform,
        glyphs,
        turns: Vec::new(),
        text: text.into(),
        sequence: Sequence::default(),
        paint: Ink::black(1.0).into(),
    }
}

fn press(scene: &Scene, surround: Surround) -> Vec<u8> {
    crate::pdf::write(scene, &surround.into(), &Darkroom::default()).whole().into_owned()
}

/// A file written for a reader, gone when the test is over.
struct OnDisk(tempfile::TempDir);

impl OnDisk {
    fn new(bytes: &[u8]) -> OnDisk {
        let folder = tempfile::tempdir().expect("a folder for the test");
        std::fs::write(folder.path().join("sheet.pdf"), bytes).expect("the folder takes a file");
        OnDisk(folder)
    }

    /// Runs a program in the file's folder; what it said. Its failure is the test's.
    fn read(&self, program: &str, arguments: &[&str]) -> String {
        let output = Command::new(program).args(arguments).current_dir(self.0.path()).output();
        let output = output.unwrap_or_else(|why| panic!("{program} must be installed for this test: {why}"));
        let stated = String::from_utf8_lossy(&output.stdout).into_owned();
        let complaint = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{program} {arguments:?}: {stated}{complaint}");
        stated
    }

    /// Runs a program that may not even warn.
    fn read_quietly(&self, program: &str, arguments: &[&str]) {
        let output = Command::new(program).args(arguments).current_dir(self.0.path()).output();
        let output = output.unwrap_or_else(|why| panic!("{program} must be installed for this test: {why}"));
        let complaint = String::from_utf8_lossy(&output.stderr);
        // Debian builds mutool without a colour engine, and it says so.
        let complaint = complaint.replace("warning: ICC support is not available", "");
        assert!(output.status.success() && complaint.trim().is_empty(), "{program} {arguments:?}: {complaint}");
    }

    fn file(&self, name: &str) -> Vec<u8> {
        std::fs::read(self.0.path().join(name)).unwrap_or_else(|why| panic!("{name}: {why}"))
    }

    /// Draws the page plate by plate at `ppi`.
    fn plates(self, ppi: u32) -> ReadPlates {
        let resolution = format!("-r{ppi}");
        let fixed = ["-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=tiffsep", "-sOutputFile=plate.tif"];
        self.read("gs", &[&fixed[..], &[&resolution, "sheet.pdf"]].concat());
        ReadPlates { disk: self, ppi: f64::from(ppi) }
    }
}

struct ReadPlates {
    disk: OnDisk,
    ppi: f64,
}

impl ReadPlates {
    /// How much ink a plate has at a place, 255 is solid; millimetres from the page's top left.
    fn at(&self, plate: &str, x: f64, y: f64) -> i32 {
        let bytes = self.disk.file(&format!("plate({plate}).tif"));
        let picture = image::load_from_memory(&bytes).expect("a plate is a picture").into_luma8();
        let pixel = |mm: f64| (mm / 25.4 * self.ppi) as u32;
        255 - i32::from(picture.get_pixel(pixel(x), pixel(y)).0[0])
    }

    /// Whether a plate has ink anywhere in a part of the page, in the same measure.
    fn inked(&self, plate: &str, area: Rect) -> bool {
        let bytes = self.disk.file(&format!("plate({plate}).tif"));
        let picture = image::load_from_memory(&bytes).expect("a plate is a picture").into_luma8();
        let pixel = |mm: f64| (mm / 25.4 * self.ppi) as u32;
        let mut rows = pixel(area.y0)..pixel(area.y1);
        rows.any(|y| (pixel(area.x0)..pixel(area.x1)).any(|x| picture.get_pixel(x, y).0[0] < 255))
    }

    fn process(&self, x: f64, y: f64) -> [i32; 4] {
        ["Cyan", "Magenta", "Yellow", "Black"].map(|plate| self.at(plate, x, y))
    }

    /// The names of the plates beyond the four.
    fn spots(&self) -> Vec<String> {
        let folder = std::fs::read_dir(self.disk.0.path()).expect("the test's folder");
        let names = folder.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
        let plates = names.filter_map(|name| Some(name.strip_prefix("plate(")?.strip_suffix(").tif")?.to_owned()));
        let mut spots: Vec<String> =
            plates.filter(|name| !["Cyan", "Magenta", "Yellow", "Black"].contains(&name.as_str())).collect();
        spots.sort();
        spots
    }
}

#[track_caller]
fn near<const N: usize>(found: [i32; N], wanted: [i32; N]) {
    assert!(found.iter().zip(&wanted).all(|(a, b)| (a - b).abs() <= 1), "found {found:?}, wanted {wanted:?}");
}
