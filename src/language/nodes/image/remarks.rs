//! What there is to remark on a picture or drawing when it is placed.

use crate::assets::{Art, Drawing, Inking, Model, Picture, Profile, Separation, StatedColours};
use crate::ground::{Finding, Severity, Spanned};

/// Findings about art, reported where its file is named. Without a separation its colours are not printed.
pub fn remarks(path: &Spanned<String>, art: &Art, separation: Option<Separation>, press: &Profile) -> Vec<Finding> {
    let reported: Vec<Remark> = match art {
        Art::Drawing(drawing) => left_out(drawing).into_iter().chain(missing(drawing)).collect(),
        Art::Picture(picture) => {
            let colours = separation.into_iter().flat_map(|separation| {
                [unheeded(picture, press), converted(picture, separation, press), untagged(picture, separation)]
            });
            damaged(picture).into_iter().chain(colours.flatten()).collect()
        }
    };
    let finding = |severity, rule, message: &str, help: &str| {
        Finding::new(severity, rule, path.span, format!("{:?} {message}", path.value)).help(help)
    };
    let texts = if let Art::Drawing(drawing) = art { &drawing.remarks[..] } else { &[] };
    let texts = texts.iter().map(|remark| finding(remark.severity, remark.rule, &remark.message, &remark.help));
    let all = reported.into_iter().map(|(severity, rule, message, help)| finding(severity, rule, &message, help));
    all.chain(texts).collect()
}

type Remark = (Severity, &'static str, String, &'static str);

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
    Some((Severity::Note, "colour-space-assumed", message.to_owned(), help))
}
