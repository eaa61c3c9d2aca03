//! Small pictures of every kind, written by other encoders and read back.

use super::*;
use crate::assets::Picture;
use std::sync::Arc;

fn open(name: &str, bytes: Vec<u8>) -> Result<Picture, PictureFault> {
    Picture::open(name, Arc::from(bytes))
}

#[test]
fn a_name_that_says_another_format_is_refused() {
    let mut bytes = Vec::new();
    let one = image::RgbImage::from_pixel(2, 2, image::Rgb([9, 8, 7]));
    one.write_to(&mut std::io::Cursor::new(&mut bytes), image::ImageFormat::Png).expect("writes to memory");
    let fault = open("art/a.jpg", bytes.clone()).expect_err("it is a PNG");
    assert_eq!(fault.message, "the name says JPEG, but the file is PNG");
    assert_eq!(open("art/a.png", bytes).expect("a PNG").pixels().samples, [9, 8, 7].repeat(4));
}
