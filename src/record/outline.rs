//! CoverOutline: what a cover comes to, element by element, in numbers and words; a report carries it, and it reads back.

mod element;

use crate::ground::{Severity, Spot};
use crate::record::area::{Area, area, round};
use crate::record::reported_ink_over::ReportedInkOver;
use crate::record::reported_plate::ReportedPlate;
use crate::record::{Built, Design};
use crate::scene::Scene;
use serde::{Deserialize, Serialize};

pub use element::{
    PictureDigests, ReportedElement, ReportedFont, ReportedPicture, Tone, elements, placed_elements, resolution, sums,
};

/// Reads out of a report as well: what a report says beyond it is passed over.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CoverOutline {
    /// `None` when nothing could be drawn.
    #[serde(default)]
    pub sheet: Option<ReportedSheet>,
    /// The printing condition.
    #[serde(default)]
    pub press: String,
    pub measures: Vec<ReportedMeasure>,
    pub inks: ReportedInks,
    /// In the order of printing.
    pub elements: Vec<ReportedElement>,
    pub findings: Vec<ReportedFinding>,
}

/// A measure without the sum it came from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedMeasure {
    pub name: String,
    pub value: f64,
    pub unit: String,
}

/// A finding without its line: lines move, what is wrong stays.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ReportedFinding {
    pub severity: Severity,
    pub rule: String,
    pub message: String,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedSheet {
    pub trim: Area,
    pub bleed: Area,
    pub panels: Vec<ReportedPanel>,
    pub folds: Vec<f64>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedPanel {
    pub name: String,
    #[serde(flatten)]
    pub area: Area,
}

#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ReportedInks {
    /// Of cyan, magenta, yellow and black, those that print.
    pub process: Vec<String>,
    pub spots: Vec<ReportedSpot>,
    /// What each ink covers. Older reports do not say.
    #[serde(default)]
    pub plates: Vec<ReportedPlate>,
    /// Where there is too much of them. Nothing where there is not.
    #[serde(rename = "over-limit", default, skip_serializing_if = "Option::is_none")]
    pub over_limit: Option<ReportedInkOver>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedSpot {
    pub name: String,
    pub finishing: bool,
    pub look: [f64; 4],
}

impl CoverOutline {
    pub fn of(built: &Built) -> CoverOutline {
        let design = built.design.as_ref();
        let scene = design.map(|design| &design.scene);
        let measures = design.map_or(&[][..], |design| &design.measures).iter();
        let remark = |finding: &crate::ground::Finding| ReportedFinding {
            severity: finding.severity,
            rule: finding.rule.to_owned(),
            message: finding.message.clone(),
        };
        CoverOutline {
            sheet: scene.map(sheet),
            press: scene.map_or_else(String::new, |scene| scene.profile.condition().to_owned()),
            measures: measures
                .map(|measure| ReportedMeasure {
                    name: measure.name.clone(),
                    value: measure.value,
                    unit: measure.unit.to_owned(),
                })
                .collect(),
            inks: design.map_or_else(ReportedInks::default, inks),
            elements: scene.map_or_else(Vec::new, |scene| elements(scene, &sums(scene))),
            findings: built.findings.iter().map(remark).collect(),
        }
    }

    /// Out of a report's bytes; `Err` says what is missing in them.
    pub fn read(bytes: &[u8]) -> Result<CoverOutline, String> {
        serde_json::from_slice(bytes).map_err(|fault| fault.to_string())
    }
}

pub fn sheet(scene: &Scene) -> ReportedSheet {
    let panels = scene.sheet.panels.iter();
    ReportedSheet {
        trim: area(scene.sheet.trim),
        bleed: area(scene.sheet.bleed),
        panels: panels.map(|panel| ReportedPanel { name: panel.name.to_string(), area: area(panel.rect) }).collect(),
        folds: scene.sheet.folds.iter().map(|fold| round(fold.x)).collect(),
    }
}

pub fn inks(design: &Design) -> ReportedInks {
    let (scene, used) = (&design.scene, design.scene.process());
    let names = ["cyan", "magenta", "yellow", "black"];
    let process = names.into_iter().zip(used).filter(|(_, used)| *used).map(|(name, _)| name.to_owned()).collect();
    let spots = scene.spots().iter().map(|spot| plate(spot)).collect();
    ReportedInks { process, spots, plates: design.plates.clone(), over_limit: design.ink_over.clone() }
}

fn plate(spot: &Spot) -> ReportedSpot {
    ReportedSpot { name: spot.name.clone(), finishing: spot.finish.is_some(), look: spot.look.map(round) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::MapShelf;
    use crate::compile::{Workshop, build};
    use crate::record::CoverRequest;
    use crate::record::report::report;

    const COVER: &str = r#"
book { title "Salt"; author "M. Anand"; pages 320; isbn "978-1-83742-615-7" }
format paperback { trim 129 198; paper grammage=80 bulk=1.5; cover-stock caliper=0.3 }
swatches { swatch night c=92 m=74 y=38 k=42; spot foil ink="Gold foil" c=20 m=30 y=70 k=0 finishing=foil }
type { style title { font "EB Garamond"; size 30; swatch foil } }
wrap { band ground { swatch night percent=50; left bleed; right bleed; top bleed; bottom bleed } }
panel front { text title words="{title}: a long and quiet story by {author}" style=title { left safe; right safe; top 40 } }
"#;

    fn built(text: &str) -> Built {
        let shelf = MapShelf::default().with("cover.kdl", text.as_bytes());
        build(&Workshop::default(), &shelf, &CoverRequest::of("cover.kdl")).expect("the file is there")
    }

    #[test]
    fn elements_are_reported_in_order_with_their_matter() {
        let outline = CoverOutline::of(&built(COVER));
        let [ground, title] = &outline.elements[..] else { panic!("{:?}", outline.elements) };
        assert_eq!((ground.panel.as_str(), ground.name.as_str()), ("wrap", "ground"));
        // 2 × 129 + 19.8 and 3 of bleed all round; the spine is 160 leaves of 0.12 and twice 0.3 (ISO 534, from memory).
        assert_eq!(ground.area, Area { left: -3.0, top: -3.0, width: 283.8, height: 204.0 });
        assert_eq!(ground.inks, [Tone::Process { process: [46.0, 37.0, 19.0, 21.0], overprint: false }]);
        assert_eq!(title.words, "Salt: a long and quiet story by M. Anand");
        assert!((title.area.left - 153.8).abs() < 1e-9, "129 + 19.8 + 5");
        assert!(title.faces.len() == 1 && (title.faces[0].size - 30.0).abs() < 1e-9);
        assert!(matches!(&title.inks[..], [Tone::Spot { spot, tint, .. }] if spot == "Gold foil" && *tint > 99.9));
    }

    /// Two bands of 345 %, 40 by 20 and 10 by 10 mm: of a square of 1 mm on their edges less is over 300 %, so a third of a
    /// millimetre is lost on each side.
    #[test]
    fn ink_over_the_limit_has_its_place_and_area() {
        let bands = "panel back {
    band one { swatch pitch; left 20; top 30; width 40; height 20 }
    band two { swatch pitch; left 80; top 100; width 10; height 10 }
}";
        let pitch = "swatches { swatch pitch c=90 m=80 y=80 k=95; ";
        let text = format!("{}{bands}", COVER.replace("swatches { ", pitch));
        let over = CoverOutline::of(&built(&text)).inks.over_limit.expect("there is too much");
        let wanted = (39.33 * 19.33 + 9.33 * 9.33) / 100.0;
        assert!((over.cm2 - wanted).abs() < 0.5, "{over:?}, {wanted}");
        assert!((over.limit - 300.0).abs() < 0.01 && (over.most - 345.0).abs() < 1.0, "{over:?}");
        let place = [over.place.left, over.place.top, over.place.right(), over.place.bottom()];
        assert!(place.iter().zip([20.0, 30.0, 90.0, 110.0]).all(|(is, wanted)| (is - wanted).abs() < 0.7), "{over:?}");
        assert_eq!(CoverOutline::of(&built(COVER)).inks.over_limit, None);
    }

    #[test]
    fn a_report_reads_back_as_what_was_built() {
        for text in [COVER, "book { pages 10pt }", "book { pages 4 }\nformat stapled { trim 100 100 }"] {
            let built = built(text);
            let report = report(&built, &[], Vec::new());
            assert_eq!(CoverOutline::read(&report), Ok(CoverOutline::of(&built)));
        }
        assert!(CoverOutline::read(b"{}").is_err_and(|why| why.contains("measures")));
    }

    #[test]
    fn a_sketch_knows_neither_its_place_nor_its_line() {
        let drawn = |text: &str| CoverOutline::of(&built(text)).elements[1].drawn.clone();
        let whole = drawn(COVER);
        assert_eq!(drawn(&COVER.replace("top 40", "top 41.37")), whole);
        assert_eq!(drawn(&COVER.replace("pages 320", "\n\npages 337")), whole);
        assert_ne!(drawn(&COVER.replace("size 30", "size 30; tracking 10")), whole);
    }
}
