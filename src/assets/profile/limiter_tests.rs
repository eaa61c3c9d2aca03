//! Inks within a limit look as they did, by the profile itself.

use crate::assets::difference;
use crate::assets::profile::Profile;

fn all(step: usize) -> Vec<[u8; 4]> {
    let levels = || (0..=255_u8).step_by(step);
    levels()
        .flat_map(|c| levels().flat_map(move |m| levels().flat_map(move |y| levels().map(move |k| [c, m, y, k]))))
        .collect()
}

fn total(inks: [u8; 4]) -> u32 {
    inks.iter().map(|ink| u32::from(*ink)).sum()
}

#[test]
fn nothing_is_over_the_limit_and_what_was_within_stays() {
    for name in Profile::BUNDLED {
        let press = Profile::bundled(name).expect("bundled");
        let before = all(17);
        for limit in [2.2, 2.6, 3.0] {
            let mut after = before.clone();
            press.limiter().limit(after.as_flattened_mut(), limit);
            for (old, new) in before.iter().zip(&after) {
                let within = f64::from(total(*old)) <= limit * 255.0;
                assert!(f64::from(total(*new)) <= limit * 255.0, "{old:?} {new:?}");
                assert!(if within { old == new } else { new[3] >= old[3] }, "{old:?} {new:?}");
                assert!((0..3).all(|ink| new[ink] <= old[ink]), "{old:?} {new:?}");
            }
        }
    }
}

/// Dark colours that a separation with little black makes: by the profile itself they look as they did.
#[test]
fn black_takes_the_place_of_grey() {
    let press = Profile::bundled("coated").expect("bundled");
    let dark = |inks: &&[u8; 4]| {
        total(**inks) > 663 && total(**inks) < 816 && inks[3] < 180 && inks[..3].iter().all(|ink| *ink > 100)
    };
    let before: Vec<[u8; 4]> = all(15).iter().filter(dark).copied().collect();
    let mut after = before.clone();
    press.limiter().limit(after.as_flattened_mut(), 2.6);
    let lab = |inks: &[u8; 4]| press.lab(inks.map(|ink| f64::from(ink) / 255.0));
    let off: Vec<f64> = before.iter().zip(&after).map(|(old, new)| difference(lab(old), lab(new))).collect();
    let mean = off.iter().sum::<f64>() / off.len() as f64;
    let most = off.iter().copied().fold(0.0, f64::max);
    // The same inks cut down in proportion, as a measure of what black is good for.
    let thinned: Vec<[u8; 4]> =
        before.iter().map(|inks| inks.map(|ink| (f64::from(ink) * 663.0 / f64::from(total(*inks))) as u8)).collect();
    let plain: f64 = before.iter().zip(&thinned).map(|(old, new)| difference(lab(old), lab(new))).sum();
    let plain = plain / off.len() as f64;
    assert!(
        mean < 0.3 && mean * 8.0 < plain,
        "{} colours: {mean:.2}, {most:.2} at most; thinned {plain:.2}",
        off.len()
    );
}

/// Black alone, and black with some of the others, look like all that three inks can make: whatever black a colour has, its
/// like within the limit is found. Darker ones than solid black with what the limit leaves to the others there are not.
#[test]
fn whatever_black_a_colour_has_another_that_looks_alike_is_found() {
    for (name, limit, bounds) in [
        ("coated", 2.6, [0.7, 0.6, 1.0, 2.1]),
        ("coated", 3.0, [1.0, 0.8, 0.8, 1.8]),
        ("uncoated", 2.6, [0.5, 0.5, 0.8, 2.5]),
    ] {
        let press = Profile::bundled(name).expect("bundled");
        let before: Vec<[u8; 4]> = all(15).into_iter().filter(|inks| f64::from(total(*inks)) > limit * 255.0).collect();
        let mut after = before.clone();
        press.limiter().limit(after.as_flattened_mut(), limit);
        let lab = |inks: &[u8; 4]| press.lab(inks.map(|ink| f64::from(ink) / 255.0));
        // By quarters of black.
        let mut most = [(0.0, [0; 4], [0; 4]); 4];
        let mut sum = 0.0;
        for (old, new) in before.iter().zip(&after) {
            let off = difference(lab(old), lab(new));
            sum += off;
            let band = &mut most[usize::from(old[3] / 64)];
            if off > band.0 {
                *band = (off, *old, *new);
            }
        }
        let mean = sum / before.len() as f64;
        let kept = mean < 0.4 && most.iter().zip(bounds).all(|(most, bound)| most.0 < bound);
        assert!(kept, "{name}, {limit}: {mean:.2} of {}, {most:.1?}", before.len());
    }
}

/// Steps of one in 255 of any inks hardly show, and hardly show within a limit either.
#[test]
fn neighbours_stay_neighbours() {
    const WAYS: [[u8; 4]; 6] = [[1, 1, 1, 0], [1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1], [1, 1, 1, 1]];
    for (name, limit) in [("coated", 2.2), ("coated", 2.6), ("uncoated", 2.6)] {
        let press = Profile::bundled(name).expect("bundled");
        let lab = |inks: &[u8; 4]| press.lab(inks.map(|ink| f64::from(ink) / 255.0));
        for way in WAYS {
            // Where the most changes, and by how much.
            let (mut seen, mut step) = ((0.0, [0; 4]), (0, [0; 4]));
            for foot in all(51).into_iter().filter(|inks| inks[..3].iter().all(|ink| (60..=204).contains(ink))) {
                let ramp = (0..50).map(|step| std::array::from_fn(|ink| foot[ink].saturating_add(step * way[ink])));
                let mut ramp: Vec<[u8; 4]> = ramp.collect();
                press.limiter().limit(ramp.as_flattened_mut(), limit);
                for pair in ramp.windows(2) {
                    let off = difference(lab(&pair[0]), lab(&pair[1]));
                    let far = (0..4).map(|ink| pair[0][ink].abs_diff(pair[1][ink])).max().unwrap_or_default();
                    seen = if off > seen.0 { (off, pair[0]) } else { seen };
                    step = if far > step.0 { (far, pair[0]) } else { step };
                }
            }
            let steps = 4 * way.iter().sum::<u8>() + 6;
            assert!(seen.0 < 1.0 && step.0 < steps, "{name}, {limit}, {way:?}: {seen:.2?}, {step:?}");
        }
    }
}

/// A press that takes little ink loses strong colours. Beside the nearest of all mixtures that it takes, looked for one by one
/// in steps of 17 in 255, few of what is left of them are farther off by what an eye sees; of some strong blues another hue
/// would be nearer.
#[test]
fn where_nothing_looks_alike_the_nearest_is_found() {
    for (name, limit) in [("coated", 1.5), ("uncoated", 1.5)] {
        let press = Profile::bundled(name).expect("bundled");
        let is_over = |inks: &[u8; 4]| f64::from(total(*inks)) > limit * 255.0;
        let lab = |inks: &[u8; 4]| press.lab(inks.map(|ink| f64::from(ink) / 255.0));
        let allowed: Vec<[f64; 3]> = all(17).iter().filter(|inks| !is_over(inks)).map(lab).collect();
        let before: Vec<[u8; 4]> = all(85).into_iter().filter(is_over).collect();
        let mut after = before.clone();
        press.limiter().limit(after.as_flattened_mut(), limit);
        let farther: Vec<f64> = before
            .iter()
            .map(lab)
            .zip(after.iter().map(lab))
            .map(|(goal, found)| {
                let nearest = allowed.iter().map(|other| difference(goal, *other)).fold(f64::MAX, f64::min);
                difference(goal, found) - nearest
            })
            .collect();
        let mean = farther.iter().sum::<f64>() / farther.len() as f64;
        let seen = farther.iter().filter(|farther| **farther > 1.0).count();
        let most = farther.iter().copied().fold(f64::MIN, f64::max);
        let said = format!("{name}: {mean:.2} farther, {seen} of {} by more than 1, {most:.2} at most", farther.len());
        assert!(mean < 0.0 && seen * 20 < farther.len() && most < 4.0, "{said}");
    }
}
