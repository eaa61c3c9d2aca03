//! JPEGs walked code by code: whole ones pass and lose what a press has no use for, damaged ones are told apart from them.

use super::*;
use crate::assets::decode::jpeg::walk::{segment, walk};

/// Written by other encoders: Pillow's (one channel to four, baseline and progressive), and that of `image`.
fn whole() -> Vec<(&'static str, Vec<u8>)> {
    let stored = |bytes: &[u8]| bytes.to_vec();
    vec![
        ("grey", stored(include_bytes!("../../../../tests/pictures/grey.jpg"))),
        ("cmyk", stored(include_bytes!("../../../../tests/pictures/cmyk-app14.jpg"))),
        ("cmyk without APP14", stored(include_bytes!("../../../../tests/pictures/cmyk-plain.jpg"))),
        ("progressive", stored(include_bytes!("../../../../tests/pictures/cmyk-progressive.jpg"))),
        ("ycck", stored(include_bytes!("../../../../tests/pictures/ycck.jpg"))),
        ("turned", stored(include_bytes!("../../../../tests/pictures/rgb-turned.jpg"))),
        ("busy, progressive", stored(include_bytes!("../../../../tests/pictures/grey-busy-progressive.jpg"))),
        ("busy, with restarts", stored(include_bytes!("../../../../tests/pictures/cmyk-busy-restarts.jpg"))),
        ("another encoder's", sample(ImageFormat::Jpeg)),
    ]
}

#[test]
fn whole_files_pass_and_keep_what_shows() {
    for (name, bytes) in whole() {
        let walked = walk(&bytes, true);
        let plain = walked.plain.unwrap_or_else(|| panic!("{name} is whole, not {}", walked.whole));
        assert!(walk(&plain, true).plain.as_ref() == Some(&plain), "{name}: what is plain stays so");
        // Another reader sees the same picture, but for a turn that EXIF asks for.
        let read = |bytes: &[u8]| jpeg_decoder::Decoder::new(Cursor::new(bytes)).decode().expect("it reads");
        assert!(read(&bytes) == read(&plain), "{name}");
    }
}

#[test]
fn nothing_but_frame_tables_scans_and_app14_is_kept() {
    for (name, bytes) in whole() {
        let (mut loaded, at) = (bytes.clone(), 2);
        let comment = [&[0xff, 0xfe, 0, 8][..], b"secret"].concat();
        let place = [&[0xff, 0xe1, 0, 14][..], b"Exif\0\0secret"].concat();
        let profile = [&[0xff, 0xe2, 0, 22][..], b"ICC_PROFILE\0\x01\x01secret"].concat();
        loaded.splice(at..at, [comment, place, profile].concat());
        loaded.extend(b"secret behind the end");
        let plain = walk(&loaded, true).plain.expect("whole");
        assert!(!plain.windows(6).any(|six| six == b"secret"), "{name}");
        assert!(plain == walk(&bytes, true).plain.expect("whole"), "{name}");
        let mut at = 2;
        while let Some((marker, _, next)) = segment(&plain, at) {
            let wanted = matches!(marker, 0xc0..=0xc4 | 0xd0..=0xdb | 0xdd | 0xee);
            assert!(wanted || marker == 0, "{name}: {marker:x}");
            at = next;
            if marker == 0xda {
                break;
            }
        }
    }
}

#[test]
fn what_is_lost_in_a_scan_is_missed() {
    for (name, bytes) in whole() {
        let scan = bytes.windows(2).position(|two| two == [0xff, 0xda]).expect("a scan");
        let scan = scan + 2 + usize::from(bytes[scan + 3]);
        let end = bytes.windows(2).rposition(|two| two == [0xff, 0xd9]).expect("an end");
        for share in [10, 30, 50, 70, 90] {
            let at = (scan + (end - scan) * share / 100).min(end - 2);
            // Half of the rest is gone, and what is left ends too soon. A few bytes may be missed by nobody: codes of
            // other lengths come out right by chance.
            if share <= 50 && end - at > 8 {
                let cut = [&bytes[..at], &bytes[at + (end - at) / 2..]].concat();
                assert!(walk(&cut, true).plain.is_none(), "{name}, {share} %");
            }
            // A marker in the middle ends the scan there.
            let mut broken = bytes.clone();
            broken[at..at + 2].copy_from_slice(&[0xff, 0xd5]);
            assert!(walk(&broken, true).plain.is_none(), "{name}, a stray marker at {share} %");
        }
    }
}

#[test]
fn a_damaged_picture_is_read_as_far_as_it_goes() {
    let mut bytes = include_bytes!("../../../../tests/pictures/grey-busy-progressive.jpg").to_vec();
    let last = bytes.windows(2).rposition(|two| two == [0xff, 0xda]).expect("a scan") + 20;
    bytes[last..last + 2].copy_from_slice(&[0xff, 0xd5]);
    let picture = open("a.jpg", &bytes).expect("the scans before are whole");
    assert_eq!(picture.damage(), Some("its last details are damaged"));
    assert!(picture.jpeg_passthrough().is_none());
}
