//! What there is to remark on a picture or drawing when it is placed.

use crate::assets::{Art, Drawing, DrawingRemark, Inking, Model, Picture, Profile, Separation, StatedColours};
use crate::ground::{Finding, Severity, Spanned};

/// Findings about art, reported where its file is named. Without a separation its colours are not printed.
pub fn remarks(path: &Spanned<String>, art: &Art, separation: Option<Separation>, press: &Profile) -> Vec<Finding> {
    let finding = |name: &str, (severity, rule, message, help): Remark| {
        Finding::new(severity, rule, path.span, format!("{name:?} {message}")).help(help)
    };
    let drawing = match art {
        Art::Drawing(drawing) => drawing,
        Art::Picture(picture) => {
            let all = pictured(picture, separation, press);
            return all.map(|remark| finding(&path.value, remark)).collect();
        }
    };
    let all = left_out(drawing).into_iter().chain(missing(drawing)).map(|remark| finding(&path.value, remark));
    let own = drawing.remarks.iter().map(|DrawingRemark { severity, rule, message, help }| {
        Finding::new(*severity, rule, path.span, format!("{:?} {message}", path.value)).help(help.clone())
    });
    let pictures = drawing.pictures.iter().flat_map(|picture| {
        // In an SVG file, what says nothing is sRGB (CSS Color 4, on images; from memory).
        let said = pictured(picture, separation, press);
        said.filter(|(_, rule, ..)| *rule != ASSUMED || picture.model() != Model::Rgb)
            .map(|remark| finding(picture.name(), remark))
    });
    all.chain(own).chain(pictures).collect()
}

/// What there is to say of a picture.
fn pictured(picture: &Picture, separation: Option<Separation>, press: &Profile) -> impl Iterator<Item = Remark> {
    let colours = separation.map(|separation| {
        [unheeded(picture, press), converted(picture, separation, press), untagged(picture, separation)]
    });
    damaged(picture).into_iter().chain(colours.into_iter().flatten().flatten())
}

type Remark = (Severity, &'static str, String, &'static str);

const ASSUMED: &str = "colour-space-assumed";

fn left_out(drawing: &Drawing) -> Option<Remark> {
    let message = format!("has parts that are not drawn, or not as the file says: {}", drawing.left_out.join(", "));
    let help = "turn it into paths with fills and strokes, or place it as a picture of pixels";
    (!drawing.left_out.is_empty()).then_some((Severity::Warning, "drawing-left-out", message, help))
}

fn missing(drawing: &Drawing) -> Option<Remark> {
    let message = format!("refers to what is not in the file: {}", drawing.missing.join(", "));
    let help = "save the drawing again with all that it uses";
    (!drawing.missing.is_empty()).then_some((Severity::Warning, "drawing-left-out", message, help))
}

fn damaged(picture: &Picture) -> Option<Remark> {
    let message = format!("is damaged: {}; it is printed as far as it can be read", picture.damage()?);
    let help = "fetch the file again from where it came, or save it again";
    Some((Severity::Warning, "picture-damaged", message, help))
}

/// What a file says of its colours, but not so that it can be used.
fn unheeded(picture: &Picture, press: &Profile) -> Option<Remark> {
    let why = match picture.space() {
        StatedColours::Unusable(why) => why.clone(),
        _ if press.can_separate(picture) => return None,
        _ => "its profile is damaged, or of a kind that cannot be converted from".to_owned(),
    };
    let instead = if picture.model() == Model::Rgb { "sRGB is assumed" } else { "its numbers are taken as inks" };
    let message = format!("does not say what its colours are: {why}; {instead}");
    Some((Severity::Warning, "profile-not-used", message, "save it again with its own profile"))
}

fn converted(picture: &Picture, separation: Separation, press: &Profile) -> Option<Remark> {
    if picture.model() != Model::Cmyk || press.takes_numbers(picture, separation) || !press.can_separate(picture) {
        return None;
    }
    let StatedColours::Profile(own) = picture.space() else { return None };
    let name = Profile::described(own).unwrap_or_else(|| "another press".to_owned());
    let message = format!("was separated for {name}; its inks are converted to those of {}", press.name());
    let help = "to print its numbers unchanged, write `inks as-they-are` in the image";
    Some((Severity::Note, "inks-converted", message, help))
}

fn untagged(picture: &Picture, separation: Separation) -> Option<Remark> {
    if *picture.space() != StatedColours::Unstated
        || (picture.model() != Model::Rgb && separation.inking == Inking::AsTheyAre)
    {
        return None;
    }
    let (message, help) = match picture.model() {
        Model::Rgb => {
            ("is an RGB picture without a colour space; sRGB is assumed", "save it with its profile, or marked as sRGB")
        }
        Model::Grey => (
            "is a grey picture without a colour space; its numbers are taken as black ink of this press",
            "save it with its profile; or write `inks as-they-are` in the image, if that is what they are",
        ),
        Model::Cmyk => (
            "is a CMYK picture without a profile; its numbers are taken as inks of this press",
            "save it with its profile; or write `inks as-they-are` in the image, if that is what they are",
        ),
    };
    Some((Severity::Note, ASSUMED, message.to_owned(), help))
}
