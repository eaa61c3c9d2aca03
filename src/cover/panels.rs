//! Boards, spine, flaps and folds, from the facts: the flat sheet, outside up.

use crate::cover::{Binding, Format, Measure, Spine};
use crate::ground::{Rect, number};
use crate::scene::{Fold, FoldKind, Panel, PanelName, Sheet};

/// The sheet and every number it was built from.
#[derive(Clone, Debug, PartialEq)]
pub struct Flat {
    pub sheet: Sheet,
    pub measures: Vec<Measure>,
}

/// One panel on its way to the sheet.
struct Part {
    name: PanelName,
    width: f64,
    sum: String,
}

/// Lays the panels of a printed cover side by side. From left to right the outside of a book that is bound on the left shows back, spine,
/// front; of one that is bound on the right, the reverse. Common practice.
pub fn flat(format: &Format, spine: &Spine, bound_right: bool) -> Flat {
    let (page_width, page_height) = format.trim;
    let board = &format.board;
    let (height, height_sum) = if format.binding.boarded() {
        let sum = format!("{} page + 2 × {} square", number(page_height), number(board.square));
        (page_height + 2.0 * board.square, sum)
    } else {
        (page_height, "the page".to_owned())
    };

    let mut parts = parts(format, spine, page_width);
    if bound_right {
        parts.reverse();
    }
    let mut measures = spine.measures.clone();
    let mut panels = Vec::new();
    let mut x = 0.0;
    for part in &parts {
        panels.push(Panel { name: part.name, rect: Rect::new(x, 0.0, x + part.width, height) });
        measures.push(Measure::length(format!("{} width", part.name), part.width, part.sum.clone()));
        x += part.width;
    }

    let bleed = if format.binding == Binding::Case { board.turn_in } else { format.bleed };
    let trim = Rect::new(0.0, 0.0, x, height);
    let widths: Vec<String> = parts.iter().map(|part| number(part.width)).collect();
    measures.push(Measure::length("flat width", x, widths.join(" + ")));
    measures.push(Measure::length("flat height", height, height_sum));
    let ring = if format.binding == Binding::Case { "turn-in" } else { "bleed" };
    measures.push(Measure::length(ring, bleed, "on all four sides"));
    measures.push(Measure::length("sheet width", x + 2.0 * bleed, format!("{} + 2 × {}", number(x), number(bleed))));
    measures.push(Measure::length(
        "sheet height",
        height + 2.0 * bleed,
        format!("{} + 2 × {}", number(height), number(bleed)),
    ));
    measures.push(Measure::length("safe", format.safe, "from trim and folds"));

    let folds = folds(&panels, format);
    for fold in &folds {
        let kind = if fold.kind == FoldKind::Fold { "fold" } else { "score" };
        measures.push(Measure::length(format!("{kind} at"), fold.x, "from the left edge of the flat"));
    }
    let sheet = Sheet { trim, bleed: trim.inflate(bleed, bleed), panels, folds, bound_right, pixels: None };
    Flat { sheet, measures }
}

/// Back to front, as a book lies that is bound on the left.
fn parts(format: &Format, spine: &Spine, page: f64) -> Vec<Part> {
    let board = &format.board;
    let part = |name, width, sum: String| Part { name, width, sum };
    let spine_part = || part(PanelName::Spine, spine.width, "the spine".to_owned());
    match format.binding {
        Binding::Stapled => {
            vec![
                part(PanelName::Back, page, "the page".to_owned()),
                part(PanelName::Front, page, "the page".to_owned()),
            ]
        }
        Binding::Paperback | Binding::Screen(_) => {
            vec![
                part(PanelName::Back, page, "the page".to_owned()),
                spine_part(),
                part(PanelName::Front, page, "the page".to_owned()),
            ]
        }
        Binding::FlappedPaperback => {
            let width = page + format.growth;
            let sum =
                format!("{} page + {} so that the flap does not push the block", number(page), number(format.growth));
            flapped(format, width, &sum, spine_part())
        }
        Binding::Case => {
            let width = page - board.setback + board.square;
            let sum =
                format!("{} page − {} setback + {} square", number(page), number(board.setback), number(board.square));
            let joint = |name| part(name, board.joint, "the joint".to_owned());
            vec![
                part(PanelName::Back, width, sum.clone()),
                joint(PanelName::BackJoint),
                spine_part(),
                joint(PanelName::FrontJoint),
                part(PanelName::Front, width, sum),
            ]
        }
        Binding::Jacket => {
            let fore_edge = board.fore_edge.unwrap_or(board.thickness);
            let board_width = page - board.setback + board.square;
            let width = board_width + board.joint + fore_edge;
            let sum = format!(
                "{} board ({} page − {} setback + {} square) + {} joint + {} round the fore edge",
                number(board_width),
                number(page),
                number(board.setback),
                number(board.square),
                number(board.joint),
                number(fore_edge)
            );
            flapped(format, width, &sum, spine_part())
        }
    }
}

fn flapped(format: &Format, width: f64, sum: &str, spine: Part) -> Vec<Part> {
    let flap = |name| Part { name, width: format.flap, sum: "the flap".to_owned() };
    let panel = |name| Part { name, width, sum: sum.to_owned() };
    vec![flap(PanelName::BackFlap), panel(PanelName::Back), spine, panel(PanelName::Front), flap(PanelName::FrontFlap)]
}

fn folds(panels: &[Panel], format: &Format) -> Vec<Fold> {
    let mut folds: Vec<Fold> =
        panels.iter().skip(1).map(|panel| Fold { x: panel.rect.x0, kind: FoldKind::Fold }).collect();
    if format.hinge > 0.0
        && let Some(spine) = panels.iter().find(|panel| panel.name == PanelName::Spine)
    {
        folds.push(Fold { x: spine.rect.x0 - format.hinge, kind: FoldKind::Score });
        folds.push(Fold { x: spine.rect.x1 + format.hinge, kind: FoldKind::Score });
    }
    folds.sort_by(|a, b| a.x.total_cmp(&b.x));
    folds
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cover::{Board, Extent, Paper, SpineShape};

    fn near(value: f64, wanted: f64) {
        assert!((value - wanted).abs() < 0.005, "{value} is not {wanted}");
    }

    // Worked examples computed by hand from ISO 534's definition of apparent specific volume (cited from memory) and
    // the trade's sum for a spine (common practice): pages ÷ 2 × leaf + 2 × cover.
    #[test]
    fn spine_of_a_paperback() {
        let format = Format { trim: (129.0, 198.0), ..Format::default() };
        let spine = format.spine(320, Extent::Confirmed);
        near(spine.block, 19.20);
        near(spine.width, 19.80);
        let other = Format { papers: vec![Paper::by_bulk(90.0, 1.25)], ..Format::default() };
        near(other.spine(320, Extent::Confirmed).width, 18.60);
        // 256 pages at 434 pages per inch: 0.5899 in.
        let american =
            Format { papers: vec![Paper::by_pages_per_inch(434.0)], cover_stock: 0.254, ..Format::default() };
        let spine = american.spine(256, Extent::Confirmed);
        near(spine.block, 0.5899 * 25.4);
        near(spine.width, 15.49);
        near(Paper::by_pages_per_inch(400.0).caliper, 0.127);
        // One section of sixteen more: 0.96 mm.
        near(format.spine(336, Extent::Confirmed).width - format.spine(320, Extent::Confirmed).width, 0.96);
        // Rounded up to the section: 317 pages are 320 in sixteens.
        assert_eq!(Format { section: 16, ..Format::default() }.spine(317, Extent::Confirmed).pages, 320);
    }

    #[test]
    fn flat_of_a_paperback_with_and_without_flaps() {
        let format = Format::default();
        let flat = flat(&format, &format.spine(320, Extent::Confirmed), false);
        near(flat.sheet.trim.width(), 277.8);
        near(flat.sheet.bleed.width(), 283.8);
        near(flat.sheet.bleed.height(), 204.0);
        let format = Format { binding: Binding::FlappedPaperback, growth: 0.0, ..Format::default() };
        near(super::flat(&format, &format.spine(320, Extent::Confirmed), false).sheet.trim.width(), 457.8);
    }

    // Royal, block 22, board 2.5, square 3, setback 5, joint 8, turn-in 17: boards 151 × 240, spine board 27,
    // art 345 × 240, sheet 379 × 274; its jacket with flaps of 90: 531 × 240.
    #[test]
    fn flat_of_a_case_and_its_jacket() {
        let block = Paper { pages: None, caliper: 22.0 / 160.0, sum: String::new() };
        let format = Format {
            binding: Binding::Case,
            trim: (153.0, 234.0),
            papers: vec![block],
            board: Board::default(),
            ..Format::default()
        };
        let spine = format.spine(320, Extent::Confirmed);
        near(spine.width, 27.0);
        let case = flat(&format, &spine, false).sheet;
        near(case.panels[0].rect.width(), 151.0);
        near(case.trim.width(), 345.0);
        near(case.trim.height(), 240.0);
        near(case.bleed.width(), 379.0);
        near(case.bleed.height(), 274.0);
        let jacket = Format { binding: Binding::Jacket, ..format };
        let spine = jacket.spine(320, Extent::Confirmed);
        let sheet = flat(&jacket, &spine, false).sheet;
        near(sheet.trim.width(), 531.0);
        near(sheet.trim.height(), 240.0);
    }

    #[test]
    fn panels_tile_the_sheet_and_turn_round() {
        let format = Format { binding: Binding::Jacket, hinge: 7.0, ..Format::default() };
        let spine = format.spine(300, Extent::Confirmed);
        for bound_right in [false, true] {
            let sheet = flat(&format, &spine, bound_right).sheet;
            let mut x = 0.0;
            for panel in &sheet.panels {
                near(panel.rect.x0, x);
                x = panel.rect.x1;
            }
            near(x, sheet.trim.x1);
            let front = sheet.panel(PanelName::Front).expect("a jacket has a front").rect.x0;
            let back = sheet.panel(PanelName::Back).expect("a jacket has a back").rect.x0;
            assert_eq!(front < back, bound_right);
        }
    }

    // The published pair, Welbound II: a block of 13/16 in is 0.95 in wide when rounded, and 1.18 in over the finished back
    // when rounded and backed, shoulders included. A block of 40.95 mm is 59.38 mm over its back; 65.38 mm would count the
    // boards twice.
    #[test]
    fn rounded_and_backed_spines() {
        let case = |shape, caliper, pages| {
            let paper = Paper { pages: None, caliper, sum: String::new() };
            let format =
                Format { binding: Binding::Case, papers: vec![paper], spine_shape: shape, ..Format::default() };
            format.spine(pages, Extent::Confirmed)
        };
        near(case(SpineShape::Rounded(SpineShape::ROUNDED), 0.12, 320).width, 19.2 * 1.17 + 5.0);
        let inch = 25.4;
        let published = case(SpineShape::Backed(SpineShape::BACKED), inch * 13.0 / 16.0 / 100.0, 200);
        assert!((published.width - 1.18 * inch).abs() < 0.1, "{}", published.width);
        let backed = case(SpineShape::Backed(SpineShape::BACKED), 0.091, 900);
        near(backed.width, 59.38);
        let sum = &backed.measures.iter().find(|measure| measure.name == "spine computed").expect("it is measured").sum;
        assert!(sum.contains("Welbound II") && sum.contains("an estimate"), "{sum}");
    }

    // The eight pages that fill the last section are leaves like the others: 4 × 0.12 mm.
    #[test]
    fn blank_pages_have_a_thickness() {
        let paper = Paper { pages: Some(312), ..Paper::by_caliper(0.12) };
        let plates = Paper { pages: Some(0), ..Paper::by_caliper(0.2) };
        let format = Format { papers: vec![paper, plates], section: 16, ..Format::default() };
        let spine = format.spine(312, Extent::Confirmed);
        assert_eq!(spine.pages, 320);
        near(spine.block, 160.0 * 0.12);
    }
}
