//! Element: what one element shows: its words, faces, inks and pictures.

use crate::ground::{Colour, Digest, Ink, MM_PER_PT};
use crate::record::area::{Area, area, round};
use crate::scene::{GlyphRun, Item, Kind, Mark, Origin, PlacedPicture, Scene, Sketch, words_of};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt;

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedElement {
    pub panel: String,
    pub name: String,
    pub kind: Kind,
    /// Its frame; of a turned element, the box around it.
    #[serde(flatten)]
    pub area: Area,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub words: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub faces: Vec<ReportedFont>,
    /// Every ink that it states, each once, sorted by name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub inks: Vec<Tone>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pictures: Vec<ReportedPicture>,
    /// A digest of all its marks, as they stand in its frame.
    pub drawn: String,
}

/// A font and the size it is set in, points.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedFont {
    pub font: String,
    pub size: f64,
}

/// An ink as a printer names it, in percent.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Tone {
    Process {
        process: [f64; 4],
        #[serde(default)]
        overprint: bool,
    },
    Spot {
        spot: String,
        tint: f64,
        #[serde(default)]
        overprint: bool,
    },
}

/// A picture as it is printed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedPicture {
    pub file: String,
    pub sha256: String,
    pub ppi: f64,
}

/// The SHA-256 of picture files, by the names that pictures go by within a build.
pub type PictureDigests = BTreeMap<Digest, String>;

/// Every picture's file, each counted once: a large one takes its time.
pub fn sums(scene: &Scene) -> PictureDigests {
    let mut sums = PictureDigests::new();
    scene.walk(&mut |item| {
        if let Mark::Picture(PlacedPicture { picture, .. }) = &item.mark {
            sums.entry(picture.digest()).or_insert_with(|| picture.file_sum().to_string());
        }
    });
    sums
}

/// Every element that left a mark, in the order of printing.
pub fn elements(scene: &Scene, sums: &PictureDigests) -> Vec<ReportedElement> {
    placed_elements(scene, sums).into_iter().map(|(element, _)| element).collect()
}

/// The same, each with who asked for it.
pub fn placed_elements<'a>(scene: &'a Scene, sums: &PictureDigests) -> Vec<(ReportedElement, &'a Origin)> {
    let mut drafts: Vec<ElementDraft<'_>> = Vec::new();
    collect(&scene.items, &mut Vec::new(), sums, &mut drafts);
    drafts.into_iter().map(|draft| (draft.origin, draft.finish())).map(|(origin, element)| (element, origin)).collect()
}

struct ElementDraft<'a> {
    origin: &'a Origin,
    runs: Vec<&'a GlyphRun>,
    faces: Vec<ReportedFont>,
    inks: Vec<Tone>,
    pictures: Vec<ReportedPicture>,
    sketch: Sketch,
}

fn collect<'a>(
    items: &'a [Item],
    around: &mut Vec<&'a Item>,
    sums: &PictureDigests,
    drafts: &mut Vec<ElementDraft<'a>>,
) {
    for item in items {
        if let Mark::Group(group) = &item.mark {
            around.push(item);
            collect(&group.items, around, sums, drafts);
            around.pop();
            continue;
        }
        let origin = &*item.origin;
        let at = drafts.iter().rposition(|draft| std::ptr::eq(draft.origin, origin) || draft.origin == origin);
        let at = at.unwrap_or_else(|| {
            drafts.push(ElementDraft::new(origin));
            drafts.len() - 1
        });
        drafts[at].add(item, around, sums);
    }
}

impl<'a> ElementDraft<'a> {
    fn new(origin: &'a Origin) -> ElementDraft<'a> {
        ElementDraft {
            origin,
            runs: Vec::new(),
            faces: Vec::new(),
            inks: Vec::new(),
            pictures: Vec::new(),
            sketch: Sketch::of_plates(),
        }
    }

    fn add(&mut self, item: &'a Item, around: &[&Item], sums: &PictureDigests) {
        self.sketch.add(item, around);
        item.inks(&mut |ink| {
            let tone = Tone::of(ink);
            if !self.inks.contains(&tone) {
                self.inks.push(tone);
            }
        });
        match &item.mark {
            Mark::Glyphs(run) => {
                self.runs.push(run);
                let size = (run.size / MM_PER_PT * 100.0).round() / 100.0;
                let face = ReportedFont { font: run.font.name().to_owned(), size };
                if !self.faces.contains(&face) {
                    self.faces.push(face);
                }
            }
            Mark::Picture(placed) => {
                let print = ReportedPicture {
                    file: placed.picture.name().to_owned(),
                    sha256: sums.get(&placed.picture.digest()).cloned().unwrap_or_default(),
                    ppi: resolution(placed),
                };
                if !self.pictures.contains(&print) {
                    self.pictures.push(print);
                }
            }
            Mark::Fill { .. } | Mark::Stroke { .. } | Mark::Group(_) => {}
        }
    }

    fn finish(mut self) -> ReportedElement {
        self.inks.sort_by_cached_key(ToString::to_string);
        ReportedElement {
            panel: self.origin.panel.to_string(),
            name: self.origin.element.clone(),
            kind: self.origin.kind,
            area: area(self.origin.frame.abs()),
            words: words_of(self.runs.into_iter()).split_whitespace().collect::<Vec<&str>>().join(" "),
            faces: self.faces,
            inks: self.inks,
            pictures: self.pictures,
            drawn: self.sketch.digest(),
        }
    }
}

/// Pixels per inch on paper, in the coarser direction.
pub fn resolution(placed: &PlacedPicture) -> f64 {
    round(placed.ppi())
}

impl Tone {
    fn of(ink: &Ink) -> Tone {
        let overprint = ink.overprints();
        match &ink.colour {
            Colour::Process(inks) => Tone::Process { process: inks.map(percent), overprint },
            Colour::Spot(spot, tint) => Tone::Spot { spot: spot.name.clone(), tint: percent(*tint), overprint },
        }
    }
}

/// To a tenth: no press holds more.
fn percent(share: f64) -> f64 {
    round((share * 1000.0).round() / 10.0)
}

impl fmt::Display for Tone {
    /// `c92 m74 y38 k42`, `Gold foil 60 %`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let overprint = match self {
            Tone::Process { process, overprint } => {
                let inks = ["c", "m", "y", "k"].into_iter().zip(process).filter(|(_, value)| **value > 0.0);
                let inks: Vec<String> = inks.map(|(name, value)| format!("{name}{value}")).collect();
                f.write_str(if inks.is_empty() { "paper".to_owned() } else { inks.join(" ") }.as_str())?;
                overprint
            }
            Tone::Spot { spot, tint, overprint } => {
                write!(f, "{spot} {tint} %")?;
                overprint
            }
        };
        if *overprint { f.write_str(", overprinting") } else { Ok(()) }
    }
}
