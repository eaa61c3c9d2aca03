//! CIEDE2000: how different two colours look.

/// The difference of two CIELAB colours. Below 1 nobody sees it; 5 is another colour.
///
/// After Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula" (Color Research and Application 30, 2005).
pub fn difference(one: [f64; 3], other: [f64; 3]) -> f64 {
    let chroma = f64::midpoint(one[1].hypot(one[2]), other[1].hypot(other[2]));
    let stretch = 1.0 + 0.5 * (1.0 - saturation(chroma));
    let (chroma_one, hue_one) = polar(one[1] * stretch, one[2]);
    let (chroma_other, hue_other) = polar(other[1] * stretch, other[2]);
    let colourless = chroma_one * chroma_other == 0.0;

    let turn = if colourless { 0.0 } else { wrapped(hue_other - hue_one) };
    let lightness_step = other[0] - one[0];
    let chroma_step = chroma_other - chroma_one;
    let hue_step = 2.0 * (chroma_one * chroma_other).sqrt() * (turn / 2.0).to_radians().sin();

    let lightness = f64::midpoint(one[0], other[0]);
    let chroma = f64::midpoint(chroma_one, chroma_other);
    let hue = if colourless { hue_one + hue_other } else { mean_hue(hue_one, hue_other) };
    let cosine = |factor: f64, shift: f64| (factor * hue + shift).to_radians().cos();
    let hue_weight =
        1.0 - 0.17 * cosine(1.0, -30.0) + 0.24 * cosine(2.0, 0.0) + 0.32 * cosine(3.0, 6.0) - 0.20 * cosine(4.0, -63.0);
    let from_middle = (lightness - 50.0).powi(2);
    let lightness_scale = 1.0 + 0.015 * from_middle / (20.0 + from_middle).sqrt();
    let chroma_scale = 1.0 + 0.045 * chroma;
    let hue_scale = 1.0 + 0.015 * chroma * hue_weight;
    let blue_turn = 30.0 * (-((hue - 275.0) / 25.0).powi(2)).exp();
    let rotation = -2.0 * saturation(chroma) * (2.0 * blue_turn).to_radians().sin();

    let (l, c, h) = (lightness_step / lightness_scale, chroma_step / chroma_scale, hue_step / hue_scale);
    (l * l + c * c + h * h + rotation * c * h).max(0.0).sqrt()
}

fn saturation(chroma: f64) -> f64 {
    let seventh = chroma.powi(7);
    (seventh / (seventh + 25.0_f64.powi(7))).sqrt()
}

fn polar(a: f64, b: f64) -> (f64, f64) {
    let chroma = a.hypot(b);
    (chroma, if chroma == 0.0 { 0.0 } else { b.atan2(a).to_degrees().rem_euclid(360.0) })
}

/// The shorter way round, -180 to 180.
fn wrapped(degrees: f64) -> f64 {
    if degrees > 180.0 {
        degrees - 360.0
    } else if degrees < -180.0 {
        degrees + 360.0
    } else {
        degrees
    }
}

fn mean_hue(one: f64, other: f64) -> f64 {
    let sum = one + other;
    if (one - other).abs() <= 180.0 {
        sum / 2.0
    } else if sum < 360.0 {
        f64::midpoint(sum, 360.0)
    } else {
        (sum - 360.0) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_the_published_pairs() {
        // Table 1 of Sharma, Wu and Dalal (2005), read from the tests of colour-science 0.4.7 (PyPI). Pair 14 is left
        // out there and here: its hues lie 180 degrees apart, and the last bit of an arctangent picks the way round.
        for (one, other, expected) in PAIRS {
            for (one, other) in [(one, other), (other, one)] {
                let found = difference(one, other);
                assert!((found - expected).abs() < 0.000_05, "{one:?} {other:?}: {found}, not {expected}");
            }
        }
    }

    #[rustfmt::skip]
    const PAIRS: [([f64; 3], [f64; 3], f64); 33] = [
        ([50.0000, 2.6772, -79.7751], [50.0000, 0.0000, -82.7485], 2.0425),
        ([50.0000, 3.1571, -77.2803], [50.0000, 0.0000, -82.7485], 2.8615),
        ([50.0000, 2.8361, -74.0200], [50.0000, 0.0000, -82.7485], 3.4412),
        ([50.0000, -1.3802, -84.2814], [50.0000, 0.0000, -82.7485], 1.0000),
        ([50.0000, -1.1848, -84.8006], [50.0000, 0.0000, -82.7485], 1.0000),
        ([50.0000, -0.9009, -85.5211], [50.0000, 0.0000, -82.7485], 1.0000),
        ([50.0000, 0.0000, 0.0000], [50.0000, -1.0000, 2.0000], 2.3669),
        ([50.0000, -1.0000, 2.0000], [50.0000, 0.0000, 0.0000], 2.3669),
        ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0009], 7.1792),
        ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0010], 7.1792),
        ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0011], 7.2195),
        ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0012], 7.2195),
        ([50.0000, -0.0010, 2.4900], [50.0000, 0.0009, -2.4900], 4.8045),
        ([50.0000, -0.0010, 2.4900], [50.0000, 0.0011, -2.4900], 4.7461),
        ([50.0000, 2.5000, 0.0000], [50.0000, 0.0000, -2.5000], 4.3065),
        ([50.0000, 2.5000, 0.0000], [73.0000, 25.0000, -18.0000], 27.1492),
        ([50.0000, 2.5000, 0.0000], [61.0000, -5.0000, 29.0000], 22.8977),
        ([50.0000, 2.5000, 0.0000], [56.0000, -27.0000, -3.0000], 31.9030),
        ([50.0000, 2.5000, 0.0000], [58.0000, 24.0000, 15.0000], 19.4535),
        ([50.0000, 2.5000, 0.0000], [50.0000, 3.1736, 0.5854], 1.0000),
        ([50.0000, 2.5000, 0.0000], [50.0000, 3.2972, 0.0000], 1.0000),
        ([50.0000, 2.5000, 0.0000], [50.0000, 1.8634, 0.5757], 1.0000),
        ([50.0000, 2.5000, 0.0000], [50.0000, 3.2592, 0.3350], 1.0000),
        ([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644),
        ([63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864], 1.2630),
        ([61.2901, 3.7196, -5.3901], [61.4292, 2.2480, -4.9620], 1.8731),
        ([35.0831, -44.1164, 3.7933], [35.0232, -40.0716, 1.5901], 1.8645),
        ([22.7233, 20.0904, -46.6940], [23.0331, 14.9730, -42.5619], 2.0373),
        ([36.4612, 47.8580, 18.3852], [36.2715, 50.5065, 21.2231], 1.4146),
        ([90.8027, -2.0831, 1.4410], [91.1528, -1.6435, 0.0447], 1.4441),
        ([90.9257, -0.5406, -0.9208], [88.6381, -0.8985, -0.7239], 1.5381),
        ([6.7747, -0.2908, -2.4247], [5.8714, -0.0985, -2.2286], 0.6377),
        ([2.0776, 0.0795, -1.1350], [0.9033, -0.0636, -0.5514], 0.9082),
    ];
}
