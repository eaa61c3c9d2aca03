//! Corpus: sound files of the house to be spoiled: examples, covers of the tests, pictures, fonts, profiles.

use crate::case::all;
use crate::{files::below, root};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

type Files = BTreeMap<String, Vec<u8>>;

pub struct Corpus {
    /// Covers with all that lies beside them, under `book/`.
    pub covers: Vec<Files>,
    /// Name and bytes.
    pub pictures: Vec<(String, Vec<u8>)>,
    pub drawings: Vec<Vec<u8>>,
    pub copies: Vec<Vec<u8>>,
    /// Family and bytes.
    pub fonts: Vec<(String, Vec<u8>)>,
    pub profiles: Vec<Vec<u8>>,
    pub tables: Vec<String>,
}

/// Larger files are spoiled no worse than small ones, and take longer.
const LARGEST: usize = 400_000;

impl Corpus {
    pub fn read() -> Corpus {
        let bytes = |paths: Vec<PathBuf>| -> Vec<(String, Vec<u8>)> {
            let name = |path: &Path| path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let read = |path: PathBuf| (name(&path), std::fs::read(&path).expect("a file can be read"));
            paths.into_iter().map(read).filter(|(_, bytes)| bytes.len() < LARGEST).collect()
        };
        let alone = |folders: &[&str], endings: &[&str]| -> Vec<Vec<u8>> {
            bytes(below(root(), folders, endings)).into_iter().map(|(_, bytes)| bytes).collect()
        };
        let pictures = ["png", "jpg", "tif", "webp"];
        let mut pictures = bytes(below(root(), &["tests/pictures", "tests/covers/art", "examples"], &pictures));
        pictures.extend(webps());
        let fonts = bytes(below(root(), &["fonts-open"], &["ttf", "otf"])).into_iter();
        let corpus = Corpus {
            covers: covers(),
            pictures,
            drawings: alone(&["examples", "tests/covers/art"], &["svg"]),
            copies: alone(&["examples", "tests/covers/art"], &["md"]),
            fonts: fonts.filter_map(|(_, bytes)| Some((family(&bytes)?, bytes))).collect(),
            profiles: std::fs::read(root().join("src/assets/profiles/coated-fogra39.icc")).into_iter().collect(),
            tables: alone(&["examples"], &["csv"])
                .into_iter()
                .filter_map(|bytes| String::from_utf8(bytes).ok())
                .collect(),
        };
        assert!(corpus.covers.len() > 100 && corpus.pictures.len() > 20 && corpus.fonts.len() > 5);
        assert!(!corpus.drawings.is_empty() && !corpus.copies.is_empty() && !corpus.tables.is_empty());
        assert!(!corpus.profiles.is_empty());
        corpus
    }
}

impl Corpus {
    /// Any sound picture.
    pub fn png(&self) -> &Vec<u8> {
        let is_png = |(_, bytes): &&(String, Vec<u8>)| bytes.starts_with(b"\x89PNG");
        &self.pictures.iter().find(is_png).expect("there are some").1
    }
}

fn covers() -> Vec<Files> {
    let art: Files = within(&root().join("tests/covers/art"), "book/art");
    let files = below(root(), &["tests/covers"], &["kdl"])
        .into_iter()
        .filter(|path| !path.starts_with(root().join("tests/covers/art")));
    let tests = files.map(|path| {
        let mut files = art.clone();
        files.insert("book/cover.kdl".to_owned(), std::fs::read(path).expect("a file can be read"));
        files
    });
    let folders = std::fs::read_dir(root().join("examples")).expect("there are examples");
    let folders = folders.map(|entry| entry.expect("a folder can be read").path());
    let mut folders: Vec<PathBuf> = folders.filter(|folder| folder.join("cover.kdl").exists()).collect();
    folders.sort();
    assert!(folders.len() > 2, "single covers among the examples");
    tests.chain(folders.iter().map(|folder| within(folder, "book"))).collect()
}

fn within(folder: &Path, under: &str) -> Files {
    let read = |path: PathBuf| {
        let name = path.strip_prefix(folder).unwrap_or(&path).to_string_lossy().into_owned();
        (format!("{under}/{name}"), std::fs::read(&path).expect("a file can be read"))
    };
    all(folder).into_iter().filter(|path| !path.starts_with(folder.join("out"))).map(read).collect()
}

/// Lossless, as another library writes them.
fn webps() -> Vec<(String, Vec<u8>)> {
    let picture = |with: image::ColorType| {
        let samples: Vec<u8> =
            (0..24 * 16 * usize::from(with.bytes_per_pixel())).map(|at| (at * 7 % 251) as u8).collect();
        let mut bytes = Vec::new();
        let encoder = image::codecs::webp::WebPEncoder::new_lossless(&mut bytes);
        encoder.encode(&samples, 24, 16, with.into()).expect("it is written");
        ("plain.webp".to_owned(), bytes)
    };
    [image::ColorType::Rgb8, image::ColorType::Rgba8].map(picture).into()
}

/// By another reader than ours; 1 is the family in the `name` table (OpenType).
fn family(font: &[u8]) -> Option<String> {
    let face = ttf_parser::Face::parse(font, 0).ok()?;
    let mut names = face.names().into_iter().filter(|name| name.name_id == ttf_parser::name_id::FAMILY);
    names.find_map(|name| name.to_string())
}
