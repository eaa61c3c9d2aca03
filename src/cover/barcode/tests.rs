//! The layout against the measures of the specification.

use super::*;

const CODE: &str = "9781837426157";

#[test]
fn measures_at_a_hundred_per_cent_are_the_printed_ones() {
    // GS1 General Specifications, EAN-13 at 100 %: 37.29 x 25.93 mm with quiet zones and figures; the bars 31.35 mm wide.
    let symbol = drawn(None, &BarCodeSetting { heading: false, ..BarCodeSetting::new(1.0) });
    near(symbol.width, 37.29);
    near(symbol.height, 25.93);
    near(symbol.bars[0].x0, 11.0 * 0.33);
    near(symbol.bars[29].x1, 11.0 * 0.33 + 31.35);
    assert_eq!(symbol.bars.len(), 30);
    // Guards reach five modules lower than the rest.
    let low: Vec<usize> = (0..30).filter(|at| symbol.bars[*at].height() > 22.86).collect();
    assert_eq!(low, [0, 1, 14, 15, 28, 29]);
    near(symbol.bars[0].height() - symbol.bars[2].height(), 5.0 * 0.33);
    near(symbol.bars[2].height(), 22.85);
    near(symbol.quiet.x1 - symbol.bars[29].x1, 7.0 * 0.33);
    let small = drawn(None, &BarCodeSetting { heading: false, ..BarCodeSetting::new(0.8) });
    near(small.width, 29.83);
    near(small.height, 20.74);
}

#[test]
fn the_add_on_stands_apart_and_on_the_guards_feet() {
    // 11 + 95 + 9 + 47 + 5 modules.
    let symbol = drawn(Some("51299"), &BarCodeSetting::new(1.0));
    near(symbol.width, 167.0 * 0.33);
    let (main, extra) = symbol.bars.split_at(30);
    near(extra[0].x0 - main[29].x1, 9.0 * 0.33);
    near(symbol.width - extra.last().expect("it has bars").x1, 5.0 * 0.33);
    near(extra[0].y1, main[0].y1);
    assert!(extra[0].y0 > main[0].y0 + 2.75);
    let above: String =
        symbol.figures.iter().filter(|figure| figure.cell.y1 < extra[0].y0).map(|figure| figure.letter).collect();
    assert_eq!(above, "51299");
}

#[test]
fn figures_stand_under_their_bars() {
    let symbol = drawn(None, &BarCodeSetting::new(1.0));
    let letters: String = symbol.figures.iter().map(|figure| figure.letter).collect();
    assert_eq!(letters, "9781837426157>");
    let [guard, middle, end] = [0, 14, 29].map(|at| symbol.bars[at]);
    let cells: Vec<Rect> = symbol.figures.iter().map(|figure| figure.cell).collect();
    assert!(cells[0].x1 < guard.x0 && cells[0].x0 >= 0.0);
    assert!(cells[1].x0 >= symbol.bars[1].x1 && cells[6].x1 <= middle.x0);
    assert!(cells[7].x0 >= symbol.bars[15].x1 && cells[12].x1 <= symbol.bars[28].x0);
    assert!(cells[13].x0 > end.x1 && (cells[13].x1 - symbol.width).abs() < 1e-9);
    assert!(cells.iter().all(|cell| cell.y0 > symbol.bars[2].y1 && cell.y1 <= symbol.height + 1e-9));
    let marked = drawn(Some("90000"), &BarCodeSetting::new(1.0)).figures.iter().any(|figure| figure.letter == '>');
    assert!(!marked, "the add-on keeps the zone open by itself");
}

#[test]
fn bars_may_be_lower_and_thinner() {
    let plain = drawn(Some("51299"), &BarCodeSetting::new(0.9));
    let thin = drawn(Some("51299"), &BarCodeSetting { reduction: 0.03, ..BarCodeSetting::new(0.9) });
    for (plain, thin) in plain.bars.iter().zip(&thin.bars) {
        near(plain.width() - thin.width(), 0.03);
        near(plain.center().x, thin.center().x);
    }
    let low = drawn(None, &BarCodeSetting { bar_height: Some(15.0), ..BarCodeSetting::new(0.9) });
    near(low.bars[2].height(), 15.0);
    near(drawn(None, &BarCodeSetting::new(0.9)).height - low.height, 22.85 * 0.9 - 15.0);
}

#[test]
fn the_heading_stands_clear_above() {
    let symbol = drawn(Some("51299"), &BarCodeSetting::new(1.0));
    let heading = symbol.heading.expect("asked for");
    assert!(heading.y0 >= 0.0 && heading.y1 < symbol.quiet.y0 && heading.x1 < symbol.bars[30].x0);
    assert!(drawn(None, &BarCodeSetting { heading: false, ..BarCodeSetting::new(1.0) }).heading.is_none());
}

fn drawn(add_on: Option<&str>, setting: &BarCodeSetting) -> Symbol {
    Symbol::new(CODE, add_on, setting).expect("the number checks")
}

fn near(found: f64, stated: f64) {
    assert!((found - stated).abs() < 0.006, "{found}, stated {stated}");
}
