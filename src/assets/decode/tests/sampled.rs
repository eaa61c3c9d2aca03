//! JPEGs whose channels are as fine as few encoders make them (ITU-T T.81, A.1.1: 1 to 4 samples a unit), in one go and bit by bit,
//! the means in two scans: as libjpeg-turbo reads them, through Pillow (`tests/pictures/sampled.py`).

use super::*;

/// Its name, in one go and bit by bit, and what another reader makes of both.
type SampledFile<'a> = (&'a str, [&'a [u8]; 2], &'a [u8]);

macro_rules! sampled {
    ($($name:literal)*) => {[$((
        $name,
        [
            include_bytes!(concat!("../../../../tests/pictures/sampled-", $name, ".jpg")),
            include_bytes!(concat!("../../../../tests/pictures/sampled-", $name, "-progressive.jpg")),
        ],
        include_bytes!(concat!("../../../../tests/pictures/sampled-", $name, ".png")),
    )),*]};
}

/// Of the transform, of what is mixed of two samples, and of the way back to light.
const ROUNDING: u8 = 4;

#[test]
fn channels_of_any_fineness_are_read_as_another_reader_does() {
    let files: [SampledFile<'_>; 5] = sampled!("4x1" "3x1" "1x3" "2x4" "first-coarse");
    let mut off = Vec::new();
    for (name, files, other) in files {
        let other = open("a.png", other).expect("reads");
        for (file, bit_by_bit) in files.into_iter().zip([false, true]) {
            let own = open("a.jpg", file).unwrap_or_else(|fault| panic!("{name}: {fault:?}"));
            assert_eq!((own.model(), own.width(), own.height()), (Model::Rgb, 45, 37), "{name}");
            assert_eq!(own.damage(), None, "{name}");
            let pairs = own.pixels().samples.iter().zip(other.pixels().samples.iter());
            off.push((name, bit_by_bit, pairs.map(|(own, other)| own.abs_diff(*other)).max()));
        }
    }
    assert!(off.iter().all(|(.., off)| off.is_some_and(|off| off <= ROUNDING)), "{off:?}");
}

/// One channel is as fine as itself, whatever is stated. Of two thirds, libjpeg makes nothing either.
#[test]
fn what_is_no_whole_step_is_refused_by_name() {
    let with = |file: &[u8], at: usize, factors: &[u8]| {
        let frame = file.windows(2).position(|two| matches!(two, [0xff, 0xc0 | 0xc2])).expect("a frame");
        let mut file = file.to_vec();
        factors.iter().enumerate().for_each(|(number, own)| file[frame + at + 3 * number] = *own);
        file
    };
    let grey = include_bytes!("../../../../tests/pictures/grey.jpg");
    for own in [0x11, 0x22, 0x31, 0x34, 0x44] {
        let read = open("a.jpg", &with(grey, 11, &[own])).map_err(|fault| fault.message);
        assert!(
            read.is_ok_and(|read| read.pixels().samples == open("a.jpg", grey).expect("reads").pixels().samples),
            "{own}"
        );
    }
    let colours = include_bytes!("../../../../tests/pictures/sampled-3x1.jpg");
    for (file, said) in [
        (with(colours, 11, &[0x31, 0x21, 0x21]), "2 samples of a channel stand for 3"),
        (with(colours, 11, &[0x14, 0x13, 0x11]), "3 samples of a channel stand for 4"),
    ] {
        let fault = open("a.jpg", &file).expect_err("it is refused");
        assert!(fault.message.contains(said) && fault.help.contains("4:2:0"), "{fault:?}");
    }
}
