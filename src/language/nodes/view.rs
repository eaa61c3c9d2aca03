//! `view`: a picture of the finished book, as it stands in a room.
//!
//! ```kdl
//! view standing                           // that is all it takes
//! view window {
//!     pose lying                          // standing | behind | spine-on | lying | leaning | open
//!     camera round=40 above=30            // degrees from the front towards the spine, and above the ground
//!     pixels 2000 1500
//!     ground unprinted black              // in front, and at the back; or one swatch, or none
//!     shadow 80                           // percent
//!     mirror 0
//! }
//! ```
//!
//! The book is computed from its binding, trim, spine, boards and paper, and from its `materials`; its print is what the
//! press sheet shows. So a view is right again after every change. A view that is named like a pose takes that pose.
//!
//! ![Every binding in every pose](../pictures/standing.jpg)
//!
//! `pose open` shows the cover by itself, spread out. The camera's `distance=` is in millimetres: from nearby, things look
//! larger in front. Whatever the camera does, the book fills the same part of the picture.
//!
//! `ground none` leaves book, shadow and mirror image on nothing: a transparent PNG. With `layers #true` the book, its shadow, its
//! mirror image and the ground are also written as pictures of one size; laid over each other they are the whole.
//!
//! A view has 6 million pixels at the most. A cover has 24 views at the most, with 24 million pixels together.
//!
//! What light does is kept, and computed again only when shape, camera or size change. Files: `view-NAME.png`.

use crate::assets::nearest;
use crate::cover::Facts;
use crate::ground::{Finding, Ink, Severity, Spanned};
use crate::language::context::Desk;
use crate::language::fillings::NONE;
use crate::language::headword::{Headword, NAME, Role};
use crate::scene::{Backdrop, BookView, Pose};
use crate::source::{KnownBy, Laid, Reader, Word, choice, flag, meant, name, number, percent, whole, words_of};

pub const HEADWORD: Headword = Headword::new(
    Word::new("view", "a picture of the finished book, as it stands")
        .takes(NAME)
        .holds(&[&[POSE, CAMERA, PIXELS, GROUND, SHADOW, MIRROR, LAYERS]])
        .known_by(KnownBy::Name)
        .laid(Laid::Inside),
    include_str!("view.rs"),
    Role::Fact(read),
);

const POSE: Word = Word::new("pose", "how the book stands or lies; by default standing, or as the view is named")
    .takes(&[choice("a pose", &words_of(&Pose::WORDS))]);
const CAMERA: Word = Word::new("camera", "from where it is seen; by default as its pose looks best")
    .properties(&[ROUND, ABOVE, DISTANCE]);
const ROUND: Word = Word::new("round", "degrees from the front of the book towards its spine")
    .takes(&[number("degrees", -360.0, 360.0)]);
const ABOVE: Word = Word::new("above", "degrees above the ground").takes(&[number("degrees", 2.0, 80.0)]);
const DISTANCE: Word =
    Word::new("distance", "millimetres from the middle of the book").takes(&[number("millimetres", 1.0, 100_000.0)]);
const PIXELS: Word = Word::new("pixels", "width and height of the picture")
    .takes(&[whole("a width", 64.0, 4000.0), whole("a height", 64.0, 4000.0)])
    .default("1600 1300");
const GROUND: Word = Word::new("ground", "a swatch for all of it, or one in front and one at the back, or `none`")
    .takes(&[name("a swatch, or none"), name("a swatch at the back").perhaps()]);
const SHADOW: Word = Word::new("shadow", "how strong it is").takes(&[percent(0.0, 100.0)]).default("100");
const MIRROR: Word =
    Word::new("mirror", "how strong the mirror image in the ground is").takes(&[percent(0.0, 100.0)]).default("12");
const LAYERS: Word = Word::new("layers", "whether book, shadow, mirror image and ground are pictures, too")
    .takes(&[flag()])
    .default("#false");

/// The most pixels of a view, for its light takes memory.
const MOST: u32 = 6_000_000;
/// A picture of the whole book from nearer than this, as a share of its largest size, would be taken from inside of it.
const NEAREST: f64 = 1.3;
/// So many views may a cover have, and so many pixels all of them together, for each takes time.
const MOST_VIEWS: usize = 24;
const MOST_TOGETHER: u32 = 24_000_000;

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    let named = reader.text();
    let name = named.as_ref().map_or("", |named| named.value.as_str());
    let mut view = BookView { name: name.to_owned(), ..BookView::default() };
    view.pose = meant(&Pose::WORDS, name).unwrap_or_default();
    if let Some(word) = reader.child(&POSE) {
        view.pose = word.choose(&Pose::WORDS).unwrap_or(view.pose);
    } else if let Some(named) = named.as_ref().filter(|named| meant(&Pose::WORDS, &named.value).is_none()) {
        misspelt(reader, named);
    }
    if let Some(word) = reader.child(&CAMERA) {
        camera(&word, &mut view, facts);
    }
    if let Some(word) = reader.child(&PIXELS)
        && let (Some(width), Some(height)) = (word.number(), word.number())
    {
        let (wide, high) = (width.value as u32, height.value as u32);
        if wide * high > MOST {
            let message = format!(
                "{wide} × {high} pixels are {:.1} million; a view has 6 million at the most",
                f64::from(wide * high) / 1e6
            );
            let share = (f64::from(MOST) / f64::from(wide * high)).sqrt();
            let [width_then, height_then] = [wide, high].map(|side| (f64::from(side) * share) as u32);
            word.error(width.span, message, format!("write `pixels {width_then} {height_then}`, or less"));
        } else {
            view.pixels = (wide, high);
        }
    }
    if let Some(word) = reader.child(&GROUND) {
        view.backdrop = backdrop(&word, facts);
    }
    for (word, slot) in [(&SHADOW, &mut view.shadow), (&MIRROR, &mut view.mirror)] {
        *slot = reader.child(word).and_then(|word| word.percent()).unwrap_or(*slot);
    }
    view.layers = reader.child(&LAYERS).and_then(|word| word.flag()).unwrap_or(false);
    if let Some(named) = named {
        keep(reader, facts, &named, view);
    }
}

/// A name may be any; one that is nearly a pose is probably meant as one.
fn misspelt(reader: &Reader<'_>, named: &Spanned<String>) {
    let pose = nearest(&named.value, Pose::WORDS.iter().map(|(word, _)| *word));
    let Some(pose) = pose.filter(|_| !named.value.starts_with("standing")) else { return };
    let message = format!("`{}` is not a pose, so this book stands", named.value);
    let help = format!("write `view {pose}`, or add a `pose` if you chose the name on purpose");
    let note = Finding::new(Severity::Note, "language", named.span, message).help(help);
    reader.findings().borrow_mut().push(note);
}

fn keep(reader: &Reader<'_>, facts: &mut Facts, named: &Spanned<String>, view: BookView) {
    let plain = |letter: char| letter.is_alphanumeric() || letter == '-' || letter == '_';
    if named.value.is_empty() || named.value.chars().count() > 40 || !named.value.chars().all(plain) {
        let message = format!("{:?} cannot be a part of a file's name", named.value);
        reader.error(named.span, message, "name the view with up to 40 letters, digits and hyphens: `view standing`");
    } else if facts.views.iter().any(|other| other.name == view.name) {
        reader.error(named.span, format!("the view `{}` stands here twice", view.name), "give it another name");
    } else if let Some(other) = facts.views.iter().find(|other| share_a_file(other, &view)) {
        let message =
            format!("a layer of one of the views `{}` and `{}` is a file of the other", other.name, view.name);
        reader.error(named.span, message, "give this view a name that does not end like a layer");
    } else if facts.views.iter().chain([&view]).map(|view| view.pixels.0 * view.pixels.1).sum::<u32>() > MOST_TOGETHER {
        let message = "the views up to here have more than 24 million pixels together, the limit";
        reader.error(named.span, message, "make some of them smaller, or leave some out");
    } else if facts.views.len() == MOST_VIEWS {
        reader.error(named.span, format!("a cover has {MOST_VIEWS} views at the most"), "leave out the others");
    } else {
        facts.views.push(view);
    }
}

/// Whether a layer of one view has the name of the other: `view-standing-book.png`.
fn share_a_file(one: &BookView, other: &BookView) -> bool {
    let holds = |whole: &BookView, part: &BookView| {
        whole.layers && part.name.strip_prefix(&whole.name).is_some_and(|tail| BookView::LAYERS.contains(&tail))
    };
    holds(one, other) || holds(other, one)
}

fn camera(word: &Reader<'_>, view: &mut BookView, facts: &Facts) {
    view.round = word.number_property(&ROUND).map(|round| round.value);
    view.above = word.number_property(&ABOVE).map(|above| above.value);
    let Some(distance) = word.number_property(&DISTANCE) else { return };
    let (width, height) = facts.format.trim;
    let largest = width.max(height) * if view.pose == Pose::Open { 4.0 } else { 1.0 };
    if distance.value < largest * NEAREST {
        let message =
            format!("a camera {} mm from the middle of the book would be inside of it, or nearly", distance.value);
        let help = format!("move it to {:.0} mm at least", (largest * NEAREST).ceil());
        word.error(word.span(), message, help);
    } else {
        view.distance = Some(distance.value);
    }
}

fn backdrop(word: &Reader<'_>, facts: &Facts) -> Backdrop {
    let ink = |name: &Spanned<String>| -> Ink { facts.palette.ink(&mut word.findings().borrow_mut(), name) };
    match word.text() {
        None => Backdrop::Studio,
        Some(name) if name.value == NONE => Backdrop::Clear,
        Some(front) => {
            let front = ink(&front);
            let back = if word.peek().is_some() { word.text() } else { None };
            match back {
                Some(back) => Backdrop::Passing(front, ink(&back)),
                None => Backdrop::Plain(front),
            }
        }
    }
}
