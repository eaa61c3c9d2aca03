//! Faces: the fonts that the text of a drawing is set in. They are those that a cover may use and no others; what the file
//! asks for and does not get is remarked on.

use crate::assets::drawing::remark::{DrawingRemark, shortened};
use crate::assets::{Font, Library, nearest};
use crate::ground::Severity;
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, PoisonError};
use usvg::fontdb::{self, Database, FaceInfo, ID, Source, Stretch, Style, Weight};

pub struct Faces<'a> {
    library: &'a Library,
    /// Whether fonts stand in for letters that the first of a list lacks.
    pub stand_in: bool,
    known: Mutex<KnownFaces>,
}

#[derive(Default)]
struct KnownFaces {
    faces: Vec<KnownFace>,
    remarks: Vec<DrawingRemark>,
    /// Letters for which no font was found, and the font that was asked first.
    lacked: BTreeSet<(String, char)>,
}

struct KnownFace {
    id: ID,
    font: Arc<Font>,
    /// Those that the file names after it, for letters that it lacks.
    next: Vec<Arc<Font>>,
}

/// Remarks of one severity that are made; what goes beyond them shows once those are heeded.
const REMARKS: usize = 50;
/// Families of one list that are looked at; more than any file needs.
pub const FAMILIES: usize = 8;

impl<'a> Faces<'a> {
    pub fn new(library: &'a Library) -> Faces<'a> {
        Faces { library, stand_in: false, known: Mutex::default() }
    }

    /// With the other fonts of each list for letters that its first lacks.
    pub fn of_lists(library: &'a Library) -> Faces<'a> {
        Faces { stand_in: true, ..Faces::new(library) }
    }

    /// Whether any text names a font that might stand in.
    pub fn has_more(&self) -> bool {
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        known.faces.iter().any(|face| !face.next.is_empty())
    }

    /// The font that is asked first for the letters of a text.
    pub fn first(&self, asked: &usvg::Font) -> Option<Arc<Font>> {
        self.listed(asked).1.into_iter().next()
    }

    /// Families that are not there before the first that is, and the fonts that are.
    fn listed(&self, asked: &usvg::Font) -> (Vec<String>, Vec<Arc<Font>>) {
        let slanted = asked.style() != usvg::FontStyle::Normal;
        let (mut missing, mut found) = (Vec::new(), Vec::<Arc<Font>>::new());
        for family in asked.families().iter().take(FAMILIES) {
            let name = family.to_string();
            let name = name.trim_matches(['"', '\'']);
            match self.library.find(name, asked.weight(), slanted) {
                Some(font) if found.iter().any(|known| is_same(known, &font)) => {}
                Some(font) => found.push(font),
                None if found.is_empty() => missing.push(shortened(name)),
                None => {}
            }
        }
        (missing, found)
    }

    /// Asked by the SVG reader.
    pub fn resolver(&self) -> usvg::FontResolver<'_> {
        usvg::FontResolver {
            select_font: Box::new(|asked, database| self.select(asked, database)),
            select_fallback: Box::new(|letter, used, database| self.instead(letter, used, database)),
        }
    }

    pub fn font(&self, id: ID) -> Option<Arc<Font>> {
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        known.faces.iter().find(|face| face.id == id).map(|face| face.font.clone())
    }

    /// The family of a font by its name.
    pub fn family(&self, name: &str) -> Option<String> {
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        known.faces.iter().find(|face| face.font.name() == name).map(|face| face.font.family().to_owned())
    }

    /// Letters for which no font was found; a text is tried in the fonts of all its pieces, so they may yet be set.
    pub fn lacked(&self) -> BTreeSet<(String, char)> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner).lacked.clone()
    }

    pub fn remarks(self) -> Vec<DrawingRemark> {
        self.known.into_inner().unwrap_or_else(PoisonError::into_inner).remarks
    }

    fn select(&self, asked: &usvg::Font, database: &mut Arc<Database>) -> Option<ID> {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let slanted = asked.style() != usvg::FontStyle::Normal;
        let (missing, mut found) = self.listed(asked);
        let Some(font) = found.first().cloned() else {
            known.lacking(&missing, self.library);
            return None;
        };
        if let Some(first) = missing.first() {
            let message = format!(
                "has text in {first:?}, a font that is not there: it is set in {:?}, which the file names next",
                font.family()
            );
            known.remark(Severity::Note, "language", message, || added(first, self.library));
        }
        known.shortcomings(&font, asked, slanted);
        let next = found.split_off(1);
        Some(known.face(&font, &next, database))
    }

    /// For a letter that the fonts used so far do not have: the next one that the file names and that has it.
    fn instead(&self, letter: char, used: &[ID], database: &mut Arc<Database>) -> Option<ID> {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let first = known.faces.iter().find(|face| Some(&face.id) == used.first())?;
        let (name, mut next) = (first.font.name().to_owned(), first.next.clone());
        if !self.stand_in {
            known.lacked.insert((name, letter));
            return None;
        }
        // Where none has it, the others are tried for letters after it, which the reader asks for in turn.
        next.sort_by_key(|font| font.glyph(letter).is_none());
        for font in next {
            let id = known.face(&font, &[], database);
            if !used.contains(&id) {
                return Some(id);
            }
        }
        known.lacked.insert((name, letter));
        None
    }
}

impl KnownFaces {
    /// A help that takes long to find is found only for what is remarked for the first time.
    fn remark(&mut self, severity: Severity, rule: &'static str, message: String, help: impl FnOnce() -> String) {
        let alike = self.remarks.iter().filter(|known| known.severity == severity).count();
        if alike < REMARKS && self.remarks.iter().all(|known| known.message != message) {
            self.remarks.push(DrawingRemark { severity, rule, message, help: help() });
        }
    }

    fn lacking(&mut self, missing: &[String], library: &Library) {
        let message = match missing {
            [first, ..] if !first.is_empty() => {
                let names: Vec<String> = missing.iter().map(|name| format!("{name:?}")).collect();
                format!("has text that is left out: there is no font {}", names.join(", and no "))
            }
            _ => "has text that is left out: it names no font".to_owned(),
        };
        let first = missing.first().map_or("", String::as_str);
        self.remark(Severity::Error, "language", message, || added(first, library));
    }

    /// What a font does not have of what is asked.
    fn shortcomings(&mut self, font: &Font, asked: &usvg::Font, slanted: bool) {
        let family = font.family();
        let embedding = font.embedding();
        if embedding.restricted || embedding.bitmap_only {
            let message = format!("has text in {}, a font that may not be embedded (OS/2 fsType)", font.name());
            let help = "see its licence, ask its maker, or choose another font";
            self.remark(Severity::Error, "font-embedding", message, || help.to_owned());
        }
        if slanted && !font.italic() {
            let message = format!("has italic text in {family:?}, which has no italic");
            let help = "take another family, or leave italic out; letters are never slanted by force";
            self.remark(Severity::Error, "language", message, || help.to_owned());
        }
        if font.weight() != asked.weight() {
            let (weight, set) = (asked.weight(), font.weight());
            let message =
                format!("has text in {family:?} in weight {weight}, which the font does not have; {set} is used");
            let help = "name the weight that you want to see in the drawing";
            self.remark(Severity::Note, "language", message, || help.to_owned());
        }
        let is_wide = font.axes().iter().any(|axis| axis.tag == *b"wdth");
        if asked.stretch() != usvg::FontStretch::Normal && !is_wide {
            let message =
                format!("has text in {family:?} in another width, which the font does not have; its own is used");
            let help = "narrow faces are families of their own, such as \"Barlow Condensed\"";
            self.remark(Severity::Note, "language", message, || help.to_owned());
        }
    }

    /// A font with those that a list names after it, which the reader is handed where it has it not yet.
    fn face(&mut self, font: &Arc<Font>, next: &[Arc<Font>], database: &mut Arc<Database>) -> ID {
        let is_list = |known: &KnownFace| {
            known.next.len() == next.len() && known.next.iter().zip(next).all(|(one, other)| is_same(one, other))
        };
        let mut same = self.faces.iter().filter(|known| is_same(&known.font, font));
        if let Some(known) = same.clone().find(|known| is_list(known)) {
            return known.id;
        }
        let known = same.next().and_then(|known| database.face(known.id)).cloned();
        let info = known.unwrap_or_else(|| described(font));
        let id = Arc::make_mut(database).push_face_info(info);
        self.faces.push(KnownFace { id, font: font.clone(), next: next.to_vec() });
        id
    }
}

fn described(font: &Arc<Font>) -> FaceInfo {
    let source: Arc<dyn AsRef<[u8]> + Send + Sync> = match font.without_colours() {
        Cow::Borrowed(_) => Arc::new(FontBytes(font.clone())),
        Cow::Owned(plain) => Arc::new(plain),
    };
    FaceInfo {
        id: ID::dummy(),
        source: Source::Binary(source),
        index: font.index(),
        families: vec![(font.family().to_owned(), fontdb::Language::English_UnitedStates)],
        post_script_name: font.name().to_owned(),
        style: if font.italic() { Style::Italic } else { Style::Normal },
        weight: Weight(font.weight()),
        stretch: Stretch::Normal,
        monospaced: false,
    }
}

struct FontBytes(Arc<Font>);

impl AsRef<[u8]> for FontBytes {
    fn as_ref(&self) -> &[u8] {
        self.0.bytes()
    }
}

/// The same face of the same file; its weight is asked of the reader by itself.
pub fn is_same(one: &Font, other: &Font) -> bool {
    std::ptr::eq(one.bytes(), other.bytes()) && one.index() == other.index()
}

/// The way to a font that is not there.
fn added(family: &str, library: &Library) -> String {
    let way = match family {
        "" => "name one in the drawing, or turn the text into paths",
        _ => "add it to the cover's `fonts` folder, or turn the text into paths",
    };
    let known = library.families();
    match nearest(family, known.iter().copied()) {
        Some(near) => format!("{way}; the nearest is {near:?}"),
        None => format!("{way}; families are {}", known.join(", ")),
    }
}
