//! Four covers by hand: what strays is reported to the hundredth of a millimetre, and what may differ is not reported.

use crate::check::series::{Appearance, appearance, strays};
use crate::check::testing::drawn;

/// A cover of the series; every part can be exchanged. The paperback is 129 by 198 mm, its spine 19.8 mm.
struct SampleBook {
    title: &'static str,
    height: u32,
    size: f64,
    head: f64,
    mark: &'static str,
    number: &'static str,
    baseline: f64,
    ribbon: f64,
}

const NUMBER: &str = "text number words=\"4\" style=number { foot 30 }";
const MARK: &str = "bottom trim 14; width 9; height 9";
const BOOK: SampleBook = SampleBook {
    title: "Jog",
    height: 198,
    size: 19.0,
    head: 12.0,
    mark: MARK,
    number: NUMBER,
    baseline: 42.0,
    ribbon: 60.0,
};

fn seen(book: &SampleBook) -> Appearance {
    let SampleBook { title, height, size, head, mark, number, baseline, ribbon } = book;
    appearance(
        &drawn(&format!(
            r#"
book {{ title "{title}"; author "A"; language en-GB; pages 320; isbn "978-1-83742-615-7" }}
format paperback {{ trim 129 {height}; paper grammage=80 bulk=1.5; cover-stock caliper=0.3 }}
swatches {{ swatch ink k=100 }}
type {{
    style title {{ font "EB Garamond"; size {size}; swatch ink; align centre }}
    style spine {{ font "EB Garamond"; size 14; swatch ink; align left }}
    style number {{ font "EB Garamond"; size 12; swatch ink; align left }}
}}
wrap {{
    band ribbon {{ swatch ink; left bleed; right bleed; top trim {ribbon}; height 8 }}
    band mark {{ swatch ink; centre-x centre of=spine; {mark} }}
}}
panel spine {{ text name words="{{title}}" style=spine {{ head {head} }}; {number} }}
panel front {{ text title words="{{title}}" style=title {{ left safe; right safe; baseline trim {baseline} }} }}
"#
        ))
        .1,
    )
}

/// What is reported of a series, each with the place of its cover.
fn reported(books: &[SampleBook]) -> Vec<(usize, String)> {
    let appearances: Vec<Appearance> = books.iter().map(seen).collect();
    let appearances: Vec<&Appearance> = appearances.iter().collect();
    strays(&appearances).into_iter().map(|stray| (stray.cover, stray.message)).collect()
}

fn one(cover: usize, message: &str) -> Vec<(usize, String)> {
    vec![(cover, message.to_owned())]
}

#[test]
fn words_of_any_length_and_shape_stray_from_nothing() {
    let books = [
        BOOK,
        SampleBook { title: "A Hat", ..BOOK },
        SampleBook { title: "Overgrown Quays", height: 210, ..BOOK },
        SampleBook { title: "The Ix", ..BOOK },
    ];
    assert_eq!(reported(&books), []);
}

#[test]
fn a_mark_that_stands_lower_is_reported() {
    let low = SampleBook { mark: "bottom trim 11.6; width 9; height 9", ..BOOK };
    let found = "`mark` on the spine stands 2.4 mm lower than the common line (14.00 mm from the foot)";
    assert_eq!(reported(&[BOOK, BOOK, low, BOOK]), one(2, found));
    // Of three covers, one 12 mm taller: the line counts from the foot.
    let tall = SampleBook { height: 210, ..BOOK };
    let high = SampleBook { mark: "bottom trim 15; width 9; height 9", ..BOOK };
    let found = "`mark` on the spine stands 1 mm higher than the common line (14.00 mm from the foot)";
    assert_eq!(reported(&[tall, high, BOOK]), one(1, found));
    // A fifth of a millimetre is nothing; a little more is reported.
    assert_eq!(reported(&[BOOK, SampleBook { mark: "bottom trim 14.2; width 9; height 9", ..BOOK }, BOOK]), []);
    assert_eq!(reported(&[BOOK, SampleBook { mark: "bottom trim 14.25; width 9; height 9", ..BOOK }, BOOK]).len(), 1);
}

#[test]
fn a_mark_of_another_size_is_reported_once() {
    let small = SampleBook { mark: "bottom trim 14; width 7.5; height 9", ..BOOK };
    // It stays centred on the spine and on its foot.
    let found = "`mark` on the spine is 7.50 mm wide, the others 9.00 mm";
    assert_eq!(reported(&[BOOK, small, BOOK]), one(1, found));
    let aside = SampleBook { mark: "bottom trim 14; width 9; height 7.5", ..BOOK };
    let found = "`mark` on the spine is 7.50 mm high, the others 9.00 mm";
    assert_eq!(reported(&[aside, BOOK, BOOK]), one(0, found));
}

#[test]
fn a_smaller_title_and_a_lower_one_are_reported() {
    let small = SampleBook { size: 17.0, ..BOOK };
    let found = "`title` on the front is set in 17 pt, the others in 19 pt";
    assert_eq!(reported(&[BOOK, BOOK, BOOK, small]), one(3, found));
    assert_eq!(reported(&[BOOK, BOOK, BOOK, SampleBook { size: 18.75, ..BOOK }]), []);
    let low = SampleBook { baseline: 44.0, title: "Jaguars", ..BOOK };
    // The last baseline and the first line's capitals both stand 2 mm lower. EB Garamond's H is 0.653 em high (as Pillow
    // draws it): 19 pt × 0.653 = 4.38 mm above 42 mm.
    let reported = reported(&[BOOK, BOOK, low, BOOK]);
    let found = "`title` on the front stands 2 mm lower than the common line (cap-top 37.62 mm from the head)";
    assert_eq!(reported, one(2, found));
}

#[test]
fn words_along_a_spine_are_reported_by_where_they_begin() {
    let low = SampleBook { head: 14.0, title: "Overgrown", ..BOOK };
    let found = "`name` on the spine stands 2 mm lower than the common line (12.00 mm from the head)";
    assert_eq!(reported(&[BOOK, SampleBook { title: "A Hat", ..BOOK }, low, BOOK]), one(2, found));
}

#[test]
fn what_most_have_and_one_lacks_is_reported() {
    let without = SampleBook { number: "", ..BOOK };
    let found = "`number` is missing on the spine; 3 of 4 covers have it";
    assert_eq!(reported(&[BOOK, BOOK, BOOK, without]), one(3, found));
    let two = [BOOK, BOOK, SampleBook { number: "", ..BOOK }, SampleBook { number: "", ..BOOK }];
    assert_eq!(reported(&two), []);
}

#[test]
fn a_ribbon_across_the_wrap_is_reported_once() {
    let high = SampleBook { ribbon: 57.0, ..BOOK };
    let found = "`ribbon` on the wrap stands 3 mm higher than the common line (60.00 mm from the head)";
    assert_eq!(reported(&[high, BOOK, BOOK]), one(0, found));
}

#[test]
fn two_covers_do_not_say_which_strays() {
    assert_eq!(reported(&[BOOK, SampleBook { size: 12.0, ribbon: 50.0, ..BOOK }]), []);
    assert_eq!(reported(&[BOOK]), []);
    assert_eq!(reported(&[]), []);
}
