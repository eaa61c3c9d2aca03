//! What there is to remark on a picture or drawing when it is placed.

use crate::assets::{Art, Drawing, Model, Picture, Profile};
use crate::ground::{Finding, Severity, Spanned};

/// Findings about art, reported where its file is named.
pub fn remarks(path: &Spanned<String>, art: &Art, press: &Profile) -> Vec<Finding> {
    let reported = match art {
        Art::Drawing(drawing) => left_out(drawing).into_iter().collect(),
        Art::Picture(picture) => {
            [damaged(picture), unheeded(picture, press), untagged(picture)].into_iter().flatten().collect()
        }
    };
    let finding = |(severity, rule, message, help): Remark| {
        Finding::new(severity, rule, path.span, format!("{:?} {message}", path.value)).help(help)
    };
    Vec::into_iter(reported).map(finding).collect()
}

type Remark = (Severity, &'static str, String, &'static str);

fn left_out(drawing: &Drawing) -> Option<Remark> {
    let message = format!("holds what is not drawn: {}", drawing.left_out.join(", "));
    let help = "turn it into paths with fills and strokes, or place it as a picture of pixels";
    (!drawing.left_out.is_empty()).then_some((Severity::Warning, "drawing-left-out", message, help))
}

fn damaged(picture: &Picture) -> Option<Remark> {
    let message = format!("is damaged: {}; it is printed as far as it can be read", picture.damage()?);
    let help = "fetch the file again from where it came, or save it again";
    Some((Severity::Warning, "picture-damaged", message, help))
}

/// Inks and grey are printed as they stand, whatever press they were made for.
fn unheeded(picture: &Picture, press: &Profile) -> Option<Remark> {
    let what = match picture.model() {
        Model::Rgb => return None,
        Model::Grey => "grey",
        Model::Cmyk => "CMYK",
    };
    let own = picture.profile().filter(|own| *own != press.bytes())?;
    let name = Profile::described(own).map_or(String::new(), |name| format!(" ({name})"));
    let message =
        format!("brings a {what} profile of its own{name}, which is not used: its values are printed as they are");
    let help = "convert it to the profile of this press, or save it without a profile";
    Some((Severity::Note, "profile-not-used", message, help))
}

fn untagged(picture: &Picture) -> Option<Remark> {
    let message = "is an RGB picture without a colour space; sRGB is assumed".to_owned();
    let help = "save it with its profile, or marked as sRGB";
    (picture.model() == Model::Rgb && !picture.is_tagged()).then_some((
        Severity::Note,
        "colour-space-assumed",
        message,
        help,
    ))
}
