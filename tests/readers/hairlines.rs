//! Hairlines: shapes that enclose nothing print nothing, where every pixel is filled that a shape touches, as PDF asks for.

use crate::kit::cover;
use crate::plates::separated_by;

/// No words: as ghostscript fills by itself, and the imaging model of PDF asks for.
const TOUCHED: &[&str] = &[];

/// Filled by default, as an SVG is: lines of two and three points, and one there and back. What is seen is a dashed yellow line.
const LINES: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 90">
<line x1="10" y1="10" x2="80" y2="80" stroke="#ffff00" stroke-width="2" stroke-dasharray="6 6"/>
<polyline points="5,80 30,55 55,30 80,5"/><path d="M10 40L80 45"/><path d="M10 60C30 40 60 40 80 60C60 40 30 40 10 60Z"/>
<clipPath id="c"><path d="M10 20L80 25"/></clipPath><rect width="90" height="90" clip-path="url(#c)"/>
</svg>"##;

#[test]
fn what_encloses_nothing_prints_nothing() {
    let text = |sliver: &str| {
        format!(
            r#"
book {{ title "Salt"; pages 96 }}
format paperback {{ trim 100 160; paper caliper=0.1; spine 10 }}
waive facts-disagree reason="whole millimetres"
panel front {{
    image lines file="lines.svg" {{ left 20; width 60; top 20 }}
    path way data="M0 0 L40 10 {sliver}" {{ swatch black; left 20; top 100 }}
}}
"#
        )
    };
    // Ink by the plates of Black and Yellow, in pixels.
    let found = |name: &str, sliver: &str| {
        let built = cover(name, &text(sliver), &[("lines.svg", LINES.as_bytes())], &["--only", "press"]);
        let sheet = separated_by(TOUCHED, &built, 12, 1);
        ["Black", "Yellow"].map(|plate| sheet.planes[plate].iter().filter(|ink| **ink > 0).count())
    };
    let [black, yellow] = found("hairlines", "");
    assert!(black == 0 && yellow > 1000, "{black} pixels of black, {yellow} of the dashes");
    // A shape as thin as a hair is a shape.
    let [black, _] = found("hairlines-sliver", "L40 10.05");
    assert!(black > 300, "{black}");
}
