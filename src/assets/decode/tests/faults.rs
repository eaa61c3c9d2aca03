//! Files that lie, files cut short, files that would fill the memory.

use super::*;
use crate::ground::kept::kept;
use proptest::prelude::*;

#[test]
fn a_name_that_says_another_format_is_refused() {
    let bytes = sample(ImageFormat::Png);
    let fault = open("art/a.jpg", &bytes).expect_err("it is a PNG");
    assert_eq!(fault.message, "the name says JPEG, but the file is PNG");
    assert_eq!(fault.help, "rename it to end in .png, or save it again as JPEG");
    // A name that promises nothing may hold anything.
    for name in ["art/a.png", "art/a.PNG", "art/a", "art/a.picture"] {
        assert!(open(name, &bytes).is_ok(), "{name}");
    }
}

#[test]
fn strangers_are_called_by_name() {
    assert!(open("a.pdf", b"%PDF-1.6 and so on").expect_err("a PDF").help.starts_with("it is a PDF; save it as PNG"));
    assert_eq!(open("a.png", b"").expect_err("nothing").message, "the file is empty");
    assert_eq!(open("a.png", b"hello").expect_err("text").message, "this is not a picture we read");
}

#[test]
fn no_file_cut_short_passes() {
    for format in [ImageFormat::Png, ImageFormat::Jpeg, ImageFormat::WebP, ImageFormat::Tiff] {
        let bytes = sample(format);
        assert!(open("a", &bytes).is_ok());
        for share in [1, 10, 30, 50, 80, 95] {
            let cut = bytes.len() * share / 100;
            assert!(open("a", &bytes[..cut]).is_err(), "{format:?}, {cut} of {} bytes", bytes.len());
        }
    }
    let ink = include_bytes!("../../../../tests/pictures/cmyk-app14.jpg");
    assert!((0..ink.len() - 2).all(|cut| open("a", &ink[..cut]).is_err()));
}

#[test]
fn giants_are_refused_by_their_heads() {
    let mut png = Vec::new();
    let mut writer = ::png::Encoder::new(&mut png, 60_000, 60_000).write_header().expect("writes to memory");
    writer.write_chunk(::png::chunk::IDAT, &[]).expect("writes to memory");
    drop(writer);
    let mut jpeg = sample(ImageFormat::Jpeg);
    let frame = jpeg.windows(2).position(|two| two == [0xff, 0xc0]).expect("baseline");
    jpeg[frame + 5..frame + 9].copy_from_slice(&[0xea, 0x60, 0xea, 0x60]);
    for bytes in [png, jpeg] {
        let fault = open("a", &bytes).expect_err("a giant");
        assert_eq!(fault.message, "it has 60000 x 60000 pixels; the limit is 30000 a side");
    }
    // Within the side, over the sum: 16,383 pixels both ways, 14 bits each behind the signature of the lossless head.
    let mut webp = sample(ImageFormat::WebP);
    let sides = (0x3ffe_u32 | 0x3ffe << 14).to_le_bytes();
    webp[21..24].copy_from_slice(&sides[..3]);
    webp[24] = webp[24] & 0xf0 | sides[3];
    let fault = open("a", &webp).expect_err("a giant");
    assert!(fault.message.ends_with("MiB; the limit is 256 MiB"), "{}", fault.message);

    // `cmyk-8.tif` with other sizes in its directory (tags 256, 257 and 278; entries of 12 bytes from byte 10).
    let mut tiff = include_bytes!("../../../../tests/pictures/cmyk-8.tif").to_vec();
    for tag in [[0x00, 1], [0x01, 1], [0x16, 1]] {
        let entry =
            (10..tiff.len()).step_by(12).find(|at| tiff[*at..].starts_with(&tag)).expect("the directory has it");
        tiff[entry + 8..entry + 10].copy_from_slice(&60_000_u16.to_le_bytes());
    }
    let fault = open("a", &tiff).expect_err("a giant");
    assert_eq!(fault.message, "it has 60000 x 60000 pixels; the limit is 30000 a side");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: kept("tests/lots/assets-pictures.txt"), ..ProptestConfig::default() })]

    #[test]
    fn no_damage_panics(kind in 0..7_usize, at in any::<prop::sample::Index>(), bytes in prop::collection::vec(any::<u8>(), 1..9)) {
        let mut file = match kind {
            0 => sample(ImageFormat::Png),
            1 => sample(ImageFormat::Jpeg),
            2 => sample(ImageFormat::WebP),
            3 => sample(ImageFormat::Tiff),
            4 => include_bytes!("../../../../tests/pictures/ycck.jpg").to_vec(),
            5 => include_bytes!("../../../../tests/pictures/cmyk-16-big-endian.tif").to_vec(),
            _ => include_bytes!("../../../../tests/pictures/rgb-turned.jpg").to_vec(),
        };
        let at = at.index(file.len());
        let end = (at + bytes.len()).min(file.len());
        file[at..end].copy_from_slice(&bytes[..end - at]);
        if let Ok(picture) = open("a", &file) {
            let pixels = picture.width() as usize * picture.height() as usize;
            prop_assert_eq!(picture.pixels().samples.len(), pixels * picture.model().channels());
        }
    }
}
