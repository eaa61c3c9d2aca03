//! Masks: how much of a group shows, as the light or the alpha of what a mask holds.

use crate::assets::drawing::allowance::Allowance;
use crate::assets::drawing::part::DrawingPart;
use crate::ground::{Affine, FillRule, Rect, rect_path};

/// Parts behind what was read of a mask.
pub fn veiled(
    mask: &usvg::Mask,
    here: Affine,
    mut veil: Vec<DrawingPart>,
    parts: Vec<DrawingPart>,
    allowance: &mut Allowance,
) -> Vec<DrawingPart> {
    let luminance = mask.kind() == usvg::MaskType::Luminance;
    if !veil.iter_mut().all(|part| show(part, luminance, allowance)) {
        allowance.unfit = Some("a mask with `multiply` or a CMYK picture in it".to_owned());
    }
    if veil.is_empty() {
        return Vec::new();
    }
    let rect = mask.rect();
    let [x0, y0, x1, y1] = [rect.left(), rect.top(), rect.right(), rect.bottom()].map(f64::from);
    let clip = Some((here * rect_path(Rect::new(x0, y0, x1, y1)), FillRule::NonZero));
    let veil = vec![DrawingPart::Group { clip, opacity: 1.0, multiply: false, parts: veil }];
    vec![DrawingPart::Veiled { veil, clips: false, parts }]
}

/// Its colours as how much they show, in greys; `false` where greys do not mix as the colours would.
fn show(part: &mut DrawingPart, luminance: bool, allowance: &mut Allowance) -> bool {
    match part {
        DrawingPart::Fill { colour, .. } | DrawingPart::Stroke { colour, .. } => {
            colour.rgb = shows(colour.rgb, luminance);
        }
        DrawingPart::Wash { stops, .. } => stops.iter_mut().for_each(|(_, rgb)| *rgb = shows(*rgb, luminance)),
        DrawingPart::Group { multiply: true, .. } if luminance => return false,
        DrawingPart::Group { multiply, parts, .. } => {
            *multiply = false;
            return parts.iter_mut().all(|part| show(part, luminance, allowance));
        }
        // Its own veil is one already.
        DrawingPart::Veiled { parts, .. } => return parts.iter_mut().all(|part| show(part, luminance, allowance)),
        DrawingPart::Picture { picture, .. } => match allowance.veil(picture, luminance) {
            Some(veil) => *picture = veil,
            None => return false,
        },
        DrawingPart::Pixels(_) => return false,
    }
    true
}

/// The luminance of CSS Masking 1, section 7.10.1; it is linear in sRGB values, so it may be taken before they are mixed.
fn shows(rgb: [u8; 3], luminance: bool) -> [u8; 3] {
    let [red, green, blue] = rgb.map(f64::from);
    let light = if luminance { 0.2125 * red + 0.7154 * green + 0.0721 * blue } else { 255.0 };
    [light.round() as u8; 3]
}
