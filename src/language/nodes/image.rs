//! `image`: a picture or a drawing.
//!
//! ```kdl
//! image harbour file="art/lantern.svg" {
//!     left fold -1.5; right bleed; top bleed; bottom bleed
//!     fit filling; focus 50 30
//! }
//! image mark file="art/lantern.svg" { paint black; centre-x trim 30; width 12; bottom safe }
//! ```
//!
//! Files are PNG, JPEG, TIFF (grey, RGB, CMYK; 8 and 16 bit) or WebP, and SVG, which is kept as vectors. Facts may stand in
//! the path: `file="art/{stem}.png"`; with `when=stem` the image is left out where the book has no such fact.
//!
//! What a file says of its colours is used: an ICC profile, sRGB, PNG's `gAMA` and `cHRM`. RGB, and CMYK and grey made for
//! another press, are converted through the press profile. RGB that says nothing is taken as sRGB; CMYK and grey that say
//! nothing are taken as this press's inks. `inks as-they-are` prints the numbers of a CMYK or grey file unchanged, whatever it
//! says. A picture whose every pixel is grey, and the greys of a drawing, are printed in black alone, as light as they look;
//! `inks four-colour` separates them into four inks.
//!
//! `intent` is one of the four rendering intents of ICC profiles. `relative` keeps every colour that the press can print;
//! `perceptual` changes all a little to keep their steps, where the profile has a table of its own for it (that of the bundled
//! ones is `relative` with black-point compensation); `saturation` keeps them vivid; `absolute` prints the picture's own
//! white, too. `intent relative black-point=kept` leaves dark colours alone: those darker than the press's black are lost.
//!
//! `limit-inks 280` separates the picture again where more ink lies on one spot: black takes the place of the grey that the
//! other three inks make, along a line of equal colour by the press profile; where black is solid, or nothing looks alike, the
//! three are thinned where it shows least. Of all mixtures over 260 % on `coated`, in 17 steps an ink, those with less than a
//! quarter of black change by 0.6 at most (CIEDE2000), those with solid black by 2.0; over 150 %, where strong colours are
//! lost, all by 4.3 on average and 16 at most. `inks-limited` says what it cost a picture and what ink it saved.
//! `press limit-inks=280` says it for all pictures, and `limit-inks none` takes one of them out. A limit holds for
//! `inks as-they-are`, too: more ink than that is changed.
//!
//! `tone` prints a picture in other inks than those of the press: a duotone in two, or one ink by a curve. The tone of a
//! picture counts from 0, its paper, to 100, its black: it is the share of black ink that looks as light, so a colour picture
//! becomes grey first. After the swatch stand tones and the tints that they get, in turn; between two of them the tint runs
//! straight. Without numbers the tint is the tone. A picture has up to four inks, and leaves bare paper where none prints.
//!
//! ```kdl
//! image harbour file="art/harbour.jpg" { left 10; width 60; top 20; tone night 30 0 100 100; tone lamp 0 10 60 100 }
//! ```
//!
//! `mirror across` shows it reversed from side to side, `mirror down` from head to foot; focus counts in what is seen. `fade
//! bottom from=60` fades it to nothing, from 60 percent of its height down to its foot. `mask file="art/soft.png"` is
//! stretched over it and shows it where that picture has alpha, or without alpha where it is dark.
//!
//! Of a drawing, fills, lines, clips, masks, gradients (fading, repeated, with a focus off the centre) and patterns are printed
//! as vectors. Effects that paths cannot show are printed as pictures, with as little around them as can be: filters, the blend
//! modes of CSS other than `multiply` with the group in which they mix, patterns of very many tiles, gradients that repeat more
//! than 100 times, whose focus is at the edge of their circle or beyond it, or of no length, and masks with `multiply` in them.
//! `drawing-pictured` says which and how finely; where a frame cuts a drawing, only what shows of them is drawn. Animations are
//! not drawn; `drawing-left-out` names them.
//!
//! Text in a drawing is printed as outlines, in the fonts that a cover may use: the bundled ones and those of its `fonts` folder.
//! A font that is not there is an error that names it, as is a letter that a font lacks, or a font that may not be embedded;
//! where the drawing itself names a second font, that one is set and a note says so, and it sets the letters that the first one
//! lacks. Letters are never slanted by force. Text of which nothing is seen asks for no font.
//! Outlines are not text: a search of the press file does not find the words, and neither spelling nor type is checked in
//! them. Set words that matter in a `text`.
//!
//! A picture in a drawing is printed like any other, converted and checked as its own file says: one that the drawing holds, or
//! one in a file beside it, whose path counts from the folder of the drawing. Behind an effect that paths cannot show it is left
//! out with all that the effect takes in, as is a drawing in a drawing and what lies elsewhere on the web; each is named.
//!
//! Lines of a drawing in solid black that are under 1 mm broad on the sheet overprint, as a `rule` does, and so do its shapes and
//! letters whose every part is as narrow; `colour black "#000000" overprint=#false` knocks them out. What is mixed with what lies
//! under it, through opacity, `multiply` or a mask, does not overprint.
//!
//! `colour foil "#c9a227"` prints one colour of a drawing in a swatch, so that a spot ink lies on its own plate; `percent` thins
//! it. In a gradient that has such a colour, ink runs to ink. Effects that are printed as pictures keep their colours in
//! process inks, which is reported.
//!
//! One size may be left open: it follows from the proportions. With both open, the picture's own resolution counts.

mod beside;
mod colours;
mod drawn;
mod outline;
mod remarks;
mod separation;
mod tone;
mod veil;

use crate::assets::{Art, DrawnFrom, Picture, Separation};
use crate::cover::{Bench, Draw, Limit, Natural, Open, Pen};
use crate::ground::{
    Affine, Blend, FillRule, Finding, Ink, MM_PER_INCH, Memo, Path, Rect, Severity, rect_path, unit_in,
};
use crate::language::context::Context;
use crate::language::fillings::PERCENT;
use crate::language::headword::{Headword, Role, UNLESS, WHEN, element};
use crate::language::look::LOOK;
use crate::language::nodes::image::beside::beside;
use crate::language::nodes::image::colours::{COLOUR, SwatchedColour, swatched};
use crate::language::nodes::image::drawn::{DrawingInks, draw_parts, has_room, planned};
use crate::language::nodes::image::remarks::remarks;
use crate::language::nodes::image::separation::{INKS, INTENT, LIMIT_INKS, PAINT, separation};
use crate::language::nodes::image::tone::{TONE, toned};
use crate::language::nodes::image::veil::{FADE, MASK, Veil, veiled};
use crate::language::place::PLACE;
use crate::language::words::fill_path;
use crate::scene::Kind;
use crate::source::{Reader, Word, choice, percent, text, words_of};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("image", "a picture or a drawing").properties(&[FILE, WHEN, UNLESS]).holds(&[
        &[FIT, FOCUS, MIRROR, FADE, MASK, PAINT, COLOUR, TONE, INKS, INTENT, LIMIT_INKS],
        PLACE,
        LOOK,
    ]),
    include_str!("image.rs"),
    Role::Element(Kind::Picture, read),
);

const FILE: Word =
    Word::new("file", "the path of the picture, from the folder of the file that names it").takes(&[text("a path")]);
/// Whether the frame is filled.
const FITS: [(&str, bool); 2] = [("inside", false), ("filling", true)];
const FIT: Word = Word::new("fit", "whole within the frame, or filling the frame, the rest cut off")
    .takes(&[choice("a fit", &words_of(&FITS))])
    .default("inside");
const FOCUS: Word =
    Word::new("focus", "with `fit filling`: which part is kept, from left to right and from top to bottom")
        .takes(&[percent(0.0, 100.0), percent(0.0, 100.0)])
        .default("50 50");
/// From side to side, and from head to foot.
const MIRRORS: [(&str, (bool, bool)); 3] = [("across", (true, false)), ("down", (false, true)), ("both", (true, true))];
const MIRROR: Word = Word::new("mirror", "shows it the other way round, from side to side or from head to foot")
    .takes(&[choice("a way", &words_of(&MIRRORS))]);

struct Image {
    art: Art,
    /// From the folder of the cover.
    path: String,
    filling: bool,
    /// Shares of the picture's width and height.
    focus: (f64, f64),
    mirror: (bool, bool),
    paint: Option<Ink>,
    separation: Separation,
    /// What lies over a drawing; a picture is thinned itself.
    veils: Vec<Veil>,
    colours: Vec<SwatchedColour>,
    /// Where pictures of the effects of drawings are kept.
    effects: Arc<Memo<Picture>>,
}

/// Where neither frame nor file says how large a picture is: pixels to the inch on paper. Common practice.
const USUAL_PPI: f64 = 300.0;

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let filling = reader.child(&FIT).and_then(|word| word.choose(&FITS)).unwrap_or(false);
    let focus = reader.child(&FOCUS).map(|word| {
        let share = || word.percent().unwrap_or(0.5);
        (share(), share())
    });
    if focus.is_some() && !filling {
        let finding =
            Finding::new(Severity::Warning, "language", reader.span(), "`focus` says nothing without `fit filling`")
                .help("write `fit filling`, or take `focus` away");
        reader.findings().borrow_mut().push(finding);
    }
    let mirror = reader.child(&MIRROR).and_then(|word| word.choose(&MIRRORS)).unwrap_or_default();
    let paint = reader.child(&PAINT).and_then(|word| {
        let name = word.text()?;
        let share = word.percent_property(&PERCENT).unwrap_or(1.0);
        Some(context.facts.palette.ink(&mut word.findings().borrow_mut(), &name).tinted(share))
    });
    let separation = separation(reader, context.facts.press.limit_inks);
    let Some(path) = reader.text_property(&FILE) else {
        reader.lacks(reader.span(), "an image lacks its file", "write `image NAME file=\"art/lantern.png\"`");
        return None;
    };
    let path = fill_path(reader.findings(), &context.facts.book, &path)?;
    let (bytes, sum) = context.desk.bytes_once(&path)?;
    let resolved = context.desk.files.resolve(&path);
    let (darkroom, profile) = (context.desk.darkroom, &context.facts.press.profile);
    let files = beside(context, &path, &bytes);
    let open = || darkroom.open(&resolved, (bytes, sum), DrawnFrom { library: context.desk.library, files: &files });
    let opened = if paint.is_none() { profile.ready_beside(open) } else { open() };
    let art = match opened {
        Ok(art) => art,
        Err(fault) => {
            reader.error(path.span, format!("{:?}: {}", path.value, fault.message), fault.help);
            return None;
        }
    };
    if let Art::Drawing(drawing) = &art
        && !context.counts_pictured(drawing.pictured().len(), path.span)
    {
        return None;
    }
    let separated = paint.is_none().then_some(separation);
    reader.findings().borrow_mut().extend(remarks(&path, &art, separated, profile));
    let art = toned(reader, context, art, (separation, paint.is_some()));
    let (art, veils) = veiled(reader, context, art, (mirror, paint.is_some()));
    let colours = swatched(reader, context, &art, paint.is_some());
    let focus = focus.unwrap_or((0.5, 0.5));
    let effects = context.desk.darkroom.effects();
    Some(Arc::new(Image { art, path: resolved, filling, focus, mirror, paint, separation, veils, colours, effects }))
}

impl Image {
    /// Its own size in millimetres.
    fn size(&self) -> (f64, f64) {
        match &self.art {
            Art::Drawing(drawing) => (drawing.width, drawing.height),
            Art::Picture(picture) => {
                let mm = MM_PER_INCH / picture.ppi().unwrap_or(USUAL_PPI);
                (f64::from(picture.width()) * mm, f64::from(picture.height()) * mm)
            }
        }
    }

    /// The other way round in a place, where that is asked for.
    fn seen(&self, place: Rect) -> Affine {
        let sign = |turned: bool| if turned { -1.0 } else { 1.0 };
        let turn = Affine::scale_non_uniform(sign(self.mirror.0), sign(self.mirror.1));
        let middle = place.center().to_vec2();
        Affine::translate(middle) * turn * Affine::translate(-middle)
    }

    /// Where the whole art lies so that it fits a frame.
    fn placed(&self, frame: Rect) -> Rect {
        let (width, height) = self.size();
        let (across, down) = (frame.width() / width, frame.height() / height);
        let scale = if self.filling { across.max(down) } else { across.min(down) };
        let (width, height) = (width * scale, height * scale);
        let focus = if self.filling { self.focus } else { (0.5, 0.5) };
        let x = frame.x0 + (frame.width() - width) * focus.0;
        let y = frame.y0 + (frame.height() - height) * focus.1;
        Rect::new(x, y, x + width, y + height)
    }
}

/// Millimetres around a frame in which effects are drawn, too: pictures of the cover mix each pixel with those beside it.
const BESIDE: f64 = 1.0;

impl Draw for Image {
    fn kind(&self) -> Kind {
        Kind::Picture
    }

    fn art(&self) -> Option<&str> {
        Some(&self.path)
    }

    fn natural(&self, room: Open, _bench: &Bench<'_>) -> Natural {
        let (width, height) = self.size();
        match (room.width, room.height) {
            (Limit::Fixed(known), _) => Natural { width: Some(known), height: Some(known * height / width) },
            (_, Limit::Fixed(known)) => Natural { width: Some(known * width / height), height: Some(known) },
            _ => Natural { width: Some(width), height: Some(height) },
        }
    }

    fn contour(&self, frame: Rect) -> Option<Path> {
        // A mirror image is the outline's mirror image in the place where the whole lies.
        let place = self.placed(frame);
        let seen = self.seen(place).inverse().transform_rect_bbox(frame);
        Some(self.seen(place) * outline::outline(&self.art, place, seen))
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let place = self.placed(frame);
        let reaches_out = place.width() > frame.width() + 1e-6 || place.height() > frame.height() + 1e-6;
        let art = |pen: &mut Pen<'_>| match &self.art {
            Art::Picture(picture) => picture_in(pen, picture, self.seen(place) * unit_in(place), self),
            Art::Drawing(drawing) => veil::over(pen, &self.veils, place, self.seen(place), &|pen| {
                let whole = Affine::scale_non_uniform(1.0 / drawing.width, 1.0 / drawing.height);
                let to_place = self.seen(place) * unit_in(place) * whole;
                let scale = place.width() / drawing.width;
                if !has_room(pen, drawing, scale) {
                    return;
                }
                let (paint, colours, separation) = (self.paint.as_ref(), &self.colours[..], self.separation);
                let shown = to_place.inverse().transform_rect_bbox(frame.inflate(BESIDE, BESIDE));
                let (effects, pictures) = (&planned(pen, drawing, scale, shown), &*self.effects);
                let inks = DrawingInks { paint, colours, separation, light: false, mixed: false, effects, pictures };
                draw_parts(pen, &drawing.parts, to_place, scale, inks);
            }),
        };
        if reaches_out {
            pen.group(Some((rect_path(frame), FillRule::NonZero)), 1.0, Blend::Normal, art);
        } else {
            art(pen);
        }
    }
}

fn picture_in(pen: &mut Pen<'_>, picture: &Arc<Picture>, unit: Affine, image: &Image) {
    pen.picture(picture.clone(), unit, image.paint.clone(), image.separation);
}
