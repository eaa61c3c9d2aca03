//! Library: the faces a cover may use: the bundled ones and those of its `fonts/` folder; never the system's.

use crate::assets::{
    axis::AxisPlace,
    bundled::BUNDLED,
    font::{Font, FontFault, shared},
};
use crate::ground::Digest;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

#[derive(Default)]
pub struct Library {
    faces: Vec<Face>,
    /// Of the faces that are not bundled, which go first.
    digest: OnceLock<Digest>,
    own: usize,
}

/// Axes, and the bits of the places on them.
type PlaceName = Vec<([u8; 4], u32)>;

struct Face {
    font: Arc<Font>,
    /// Least and most; one weight for a static face.
    weights: (u16, u16),
    /// A variable face at the places asked for so far.
    instances: Mutex<BTreeMap<PlaceName, Arc<Font>>>,
}

impl Library {
    /// The bundled faces, and what `project` adds (path and bytes). A file that is no font comes back as a fault.
    /// A face of the project goes before a bundled one of the same name.
    pub fn open(project: &[(String, Arc<[u8]>)]) -> (Library, Vec<(String, FontFault)>) {
        let mut faces = Vec::new();
        let mut faults = Vec::new();
        for (path, bytes) in project {
            match Font::open(&shared(bytes.clone())) {
                Ok(fonts) => faces.extend(fonts.into_iter().map(Face::new)),
                Err(fault) => faults.push((path.clone(), fault)),
            }
        }
        let own = faces.len();
        for (path, bytes) in BUNDLED {
            match Font::open(&(*bytes).into()) {
                Ok(fonts) => faces.extend(fonts.into_iter().map(Face::new)),
                Err(fault) => faults.push((format!("fonts-open/{path}"), fault)),
            }
        }
        (Library { faces, digest: OnceLock::new(), own }, faults)
    }

    /// Names the faces that the project adds; the bundled ones are part of the program.
    pub fn digest(&self) -> Digest {
        *self.digest.get_or_init(|| {
            let own: Vec<Digest> = self.faces[..self.own].iter().map(|face| face.font.digest()).collect();
            Digest::of_all(&own.iter().map(|digest| &digest.bytes()[..]).collect::<Vec<_>>())
        })
    }

    /// The face of a family nearest in weight, of the wanted slope if the family has it (check `Font::italic`).
    pub fn find(&self, family: &str, weight: u16, italic: bool) -> Option<Arc<Font>> {
        self.find_at(family, weight, italic, &[])
    }

    /// The same, a variable one at a place on its axes.
    pub fn find_at(&self, family: &str, weight: u16, italic: bool, place: &[AxisPlace]) -> Option<Arc<Font>> {
        let wanted = family.trim().to_lowercase();
        let same = |face: &&Face| face.font.family().to_lowercase() == wanted;
        let kin: Vec<&Face> = self.faces.iter().filter(same).collect();
        let sloped = kin.iter().any(|face| face.font.italic() == italic);
        kin.into_iter()
            .filter(|face| !sloped || face.font.italic() == italic)
            .min_by_key(|face| distance(weight, weight.clamp(face.weights.0, face.weights.1)))
            .map(|face| face.at(weight, place))
    }

    /// A face of a family at a weight and a place, if it is still the same to the last byte.
    pub fn same(&self, family: &str, weight: u16, place: &[AxisPlace], digest: &[u8; 32]) -> Option<Arc<Font>> {
        let faces = self.faces.iter().filter(|face| face.font.family() == family);
        let fitting = faces.filter(|face| (face.weights.0..=face.weights.1).contains(&weight));
        fitting.map(|face| face.at(weight, place)).find(|font| font.digest().bytes() == digest)
    }

    /// The faces of a family, upright ones first, by weight; a variable face once.
    pub fn faces(&self, family: &str) -> Vec<Arc<Font>> {
        let kin = self.faces.iter().map(|face| &face.font).filter(|font| font.family() == family);
        let mut kin: Vec<Arc<Font>> = kin.cloned().collect();
        kin.sort_by_key(|font| (font.italic(), font.weight()));
        kin
    }

    /// Sorted, each once.
    pub fn families(&self) -> Vec<&str> {
        let mut families: Vec<&str> = self.faces.iter().map(|face| face.font.family()).collect();
        families.sort_unstable();
        families.dedup();
        families
    }
}

impl Face {
    fn new(font: Font) -> Face {
        let own = font.weight();
        let weights = font.weights().filter(|(least, most)| least <= most).unwrap_or((own, own));
        Face { font: Arc::new(font), weights, instances: Mutex::default() }
    }

    fn at(&self, weight: u16, asked: &[AxisPlace]) -> Arc<Font> {
        let place = self.font.place(weight, asked);
        if place.is_empty() {
            return self.font.clone();
        }
        let key = place.iter().map(|(tag, at)| (*tag, at.to_bits())).collect();
        let mut instances = self.instances.lock().unwrap_or_else(PoisonError::into_inner);
        if instances.len() >= INSTANCES {
            instances.clear();
        }
        instances.entry(key).or_insert_with(|| Arc::new(self.font.at(place))).clone()
    }
}

/// Places of one variable face that are remembered; a cover has a few.
const INSTANCES: usize = 100;

/// How far a weight is from the wanted one, as CSS Fonts 4 (font style matching) orders them: light wants go lighter
/// first, heavy ones heavier first, and 400 to 500 look up to 500 before they go lighter.
fn distance(wanted: u16, weight: u16) -> (u8, u16) {
    let off = wanted.abs_diff(weight);
    let first = match wanted {
        400..=500 => weight >= wanted && weight <= 500,
        ..400 => weight <= wanted,
        _ => weight >= wanted,
    };
    let second = (400..=500).contains(&wanted) && weight < wanted;
    (
        if first {
            0
        } else if second {
            1
        } else {
            2
        },
        off,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn library() -> Library {
        let (library, faults) = Library::open(&[]);
        assert!(faults.is_empty(), "{faults:?}");
        library
    }

    #[test]
    fn the_bundled_families_answer_by_weight_and_slope() {
        let library = library();
        assert_eq!(library.faces.len(), BUNDLED.len());
        let named =
            |family: &str, weight, italic| library.find(family, weight, italic).expect("bundled").name().to_owned();
        assert_eq!(library.families().len(), 14, "{:?}", library.families());
        assert_eq!(named("EB Garamond", 400, false), "EBGaramond-Regular");
        assert_eq!(named("eb garamond", 900, true), "EBGaramond-BoldItalic");
        assert_eq!(named("EB Garamond", 500, false), "EBGaramond-Regular");
        assert_eq!(named("Barlow Condensed", 200, false), "BarlowCondensed-Light");
        assert_eq!(named("Barlow Condensed", 900, false), "BarlowCondensed-ExtraBold");
        assert_eq!(named("Inter", 650, false), "Inter_650wght");
        assert!(!library.find("Frank Ruhl Libre", 400, true).expect("bundled").italic());
        assert!(library.find("No Such Family", 400, false).is_none());
    }

    /// `- EB Garamond: 400 600 700, italic 400 700. …`
    #[test]
    fn the_manual_names_every_weight() {
        let library = library();
        let page = include_str!("../cli/topics/fonts.txt");
        for family in library.families() {
            let weights = |italic| {
                let kin =
                    library.faces.iter().filter(|face| face.font.family() == family && face.font.italic() == italic);
                let range = |face: &Face| match face.weights {
                    (least, most) if least == most => least.to_string(),
                    (least, most) => format!("{least} to {most}, every weight"),
                };
                let mut all: Vec<String> = kin.map(range).collect();
                all.sort();
                all.join(" ")
            };
            let (upright, italic) = (weights(false), weights(true));
            let italic = if italic.is_empty() { italic } else { format!(", italic {italic}") };
            let line = format!("- {family}: {upright}{italic}. ");
            assert!(page.contains(&line), "the page on fonts lacks `{line}`");
        }
        assert_eq!(page.lines().filter(|line| line.starts_with("- ")).count(), library.families().len());
    }

    #[test]
    fn a_variable_face_grows_heavier() {
        let library = library();
        let stem = |weight| {
            let font = library.find("Inter", weight, false).expect("bundled");
            let glyph = font.glyph('l').expect("Inter has l");
            (font.glyph_bounds(glyph).expect("l is drawn").width(), font.digest(), font.coordinates().to_vec())
        };
        let (light, bold) = (stem(300), stem(800));
        assert!(light.0 < bold.0 * 0.7, "{} {}", light.0, bold.0);
        assert_ne!(light.1, bold.1);
        assert!(bold.2.contains(&(*b"wght", 800.0)));
        assert!(Arc::ptr_eq(
            &library.find("Inter", 300, false).expect("bundled"),
            &library.find("Inter", 300, false).expect("bundled")
        ));
    }

    #[test]
    fn broken_files_are_faults() {
        let whole = BUNDLED[0].1;
        let mut files: Vec<(String, Arc<[u8]>)> = vec![
            ("empty.ttf".into(), Arc::from(&b""[..])),
            ("words.ttf".into(), Arc::from(&b"these are words, no font"[..])),
            ("web.woff2".into(), Arc::from(&b"wOF2 and more"[..])),
        ];
        for cut in [4, 11, 12, 40, 300, 5000, whole.len() / 2, whole.len() - 5] {
            files.push((format!("cut-{cut}.ttf"), Arc::from(&whole[..cut])));
        }
        // A collection of very many faces, each the same one (OpenType, `ttcf`: version, number, places).
        let mut many = b"ttcf\0\x01\0\0\0\0\x4e\x20".to_vec();
        many.extend([0, 1, 0x38, 0xa0].repeat(20_000));
        many.resize(80_032, 0);
        many.extend_from_slice(whole);
        files.push(("many.ttc".into(), many.into()));
        let (library, faults) = Library::open(&files);
        assert_eq!(faults.len(), files.len(), "{faults:?}");
        assert!(faults[11].1.0.contains("holds 20000 faces"), "{faults:?}");
        assert_eq!(library.faces.len(), BUNDLED.len());
        // A font with bytes knocked out may open; nothing it is asked may panic.
        for step in [97_usize, 331, 1009] {
            let mut bytes = whole.to_vec();
            (700..bytes.len()).step_by(step).for_each(|at| bytes[at] ^= 0x5A);
            if let Ok(fonts) = Font::open(&shared(bytes.into())) {
                let font = &fonts[0];
                font.metrics();
                for glyph in 0..600 {
                    font.outline(glyph);
                    font.advance(glyph);
                }
            }
        }
    }

    /// A second reader must find the same licence bits, advances and heights.
    #[test]
    fn another_reader_agrees() {
        for (path, bytes) in BUNDLED {
            let font = Font::open(&(*bytes).into()).expect("opens").remove(0);
            let other = ttf_parser::Face::parse(bytes, 0).expect("opens there too");
            let em = f64::from(other.units_per_em());
            for letter in "HxdpAg&".chars() {
                let glyph = font.glyph(letter).expect("has it");
                let twin = other.glyph_index(letter).expect("has it there");
                assert_eq!(glyph, twin.0, "{path} {letter}");
                let advance = f64::from(other.glyph_hor_advance(twin).expect("has an advance")) / em;
                assert!((font.advance(glyph) - advance).abs() < 1e-9, "{path} {letter}");
                let theirs = other.glyph_bounding_box(twin).expect("is drawn");
                // The file states boxes of control points.
                let ours = font.outline(glyph).control_box();
                assert!((-ours.y0 - f64::from(theirs.y_max) / em).abs() < 2.0 / em, "{path} {letter}");
            }
            let metrics = font.metrics();
            assert!(metrics.x_height < metrics.cap_height && metrics.descender > 0.0, "{path} {metrics:?}");
            assert!(!font.embedding().restricted && !font.embedding().no_subset, "{path}");
            assert_eq!(font.weight(), other.weight().to_number(), "{path}");
        }
    }
}
