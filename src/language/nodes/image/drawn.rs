//! Drawn: the parts of a drawing as marks in ink.

use crate::assets::{Drawing, DrawingPart, Inking, PixelView, Separation, Tint};
use crate::cover::Pen;
use crate::ground::{Affine, Blend, Gradient, Ink, MM_PER_INCH, Paint, Rect, Severity};
use crate::language::nodes::image::colours::SwatchedColour;

/// What the colours of a drawing are printed in.
#[derive(Clone, Copy)]
pub struct DrawingInks<'a> {
    /// One ink for all.
    pub paint: Option<&'a Ink>,
    pub colours: &'a [SwatchedColour],
    pub separation: Separation,
    /// Greys are how much shows: white is all.
    pub light: bool,
    /// Pixels per inch of what no path says.
    pub resolution: f64,
}

/// Steps between two stops: mixed in sRGB there and in ink on the sheet, the course strays by less than one can see.
const STEPS: u16 = 16;

/// How finely what no path says is drawn; what cannot be drawn even coarsely is named.
pub fn resolution(pen: &Pen<'_>, drawing: &Drawing, scale: f64) -> f64 {
    let mut views = Vec::new();
    drawing.pictured(&mut |view| views.push(format!("{} ({})", view.name, view.why)));
    if views.is_empty() {
        return 0.0;
    }
    views.dedup();
    let names = match views.len() {
        few @ ..=NAMED => views[..few].join(", "),
        many => format!("{} and {} more", views[..NAMED].join(", "), many - NAMED),
    };
    let Some(resolution) = drawing.resolution(scale) else {
        let message = format!("{:?} has effects that take too long to draw at this size: {names}", drawing.name);
        pen.report(
            Severity::Warning,
            "drawing-left-out",
            message,
            "make it smaller, or place it as a picture of pixels",
        );
        return 0.0;
    };
    let message =
        format!("{:?} is drawn as a picture of {resolution} ppi where no path says what it is: {names}", drawing.name);
    let help = "look at it as it is printed; what shall stay vectors must do without such effects";
    pen.report(Severity::Note, "drawing-pictured", message, help);
    resolution
}

/// Effects that a message names.
const NAMED: usize = 4;

pub fn draw_parts(pen: &mut Pen<'_>, parts: &[DrawingPart], to_place: Affine, scale: f64, inks: DrawingInks<'_>) {
    for part in parts {
        match part {
            DrawingPart::Fill { path, rule, colour } => {
                let path = to_place * path.clone();
                in_colour(pen, *colour, inks, |pen, ink| pen.fill(&path, *rule, ink));
            }
            DrawingPart::Stroke { path, line, colour } => {
                let path = to_place * path.clone();
                let mut line = line.clone();
                line.width *= scale;
                line.dash_offset *= scale;
                line.dashes.iter_mut().for_each(|dash| *dash *= scale);
                in_colour(pen, *colour, inks, |pen, ink| pen.stroke(&path, line.clone(), ink));
            }
            DrawingPart::Wash { path, rule, course, stops, opacity } => {
                let path = to_place * path.clone();
                let gradient = Gradient { course: course.carried(to_place, scale), stops: inks.run(pen, stops) };
                thinned(pen, *opacity, |pen| pen.fill(&path, *rule, Paint::Gradient(gradient.clone())));
            }
            DrawingPart::Group { clip, opacity, multiply, parts } => {
                let clip = clip.as_ref().map(|(path, rule)| (to_place * path.clone(), *rule));
                let blend = if *multiply { Blend::Multiply } else { Blend::Normal };
                pen.group(clip, *opacity, blend, |pen| draw_parts(pen, parts, to_place, scale, inks));
            }
            DrawingPart::Veiled { veil, parts } => pen.veiled(
                |pen| draw_parts(pen, veil, to_place, scale, DrawingInks { light: true, ..inks }),
                |pen| draw_parts(pen, parts, to_place, scale, inks),
            ),
            DrawingPart::Pixels(view) => picture(pen, view, to_place, scale, inks),
        }
    }
}

fn picture(pen: &mut Pen<'_>, view: &PixelView, to_place: Affine, scale: f64, inks: DrawingInks<'_>) {
    if inks.resolution <= 0.0 {
        return;
    }
    if let Some((picture, place)) = view.picture(inks.resolution / MM_PER_INCH * scale) {
        let Rect { x0, y0, .. } = place;
        let unit = Affine::new([place.width(), 0.0, 0.0, place.height(), x0, y0]);
        return pen.picture(picture, to_place * unit, inks.paint.cloned(), inks.separation);
    }
    let message = format!("{} of the drawing cannot be drawn: {}", view.name, view.why);
    pen.report(Severity::Warning, "drawing-left-out", message, "place the drawing as a picture of pixels");
}

fn in_colour(pen: &mut Pen<'_>, colour: Tint, inks: DrawingInks<'_>, draw: impl Fn(&mut Pen<'_>, Paint)) {
    let ink = inks.of(pen, colour.rgb);
    thinned(pen, colour.opacity, |pen| draw(pen, ink.clone().into()));
}

fn thinned(pen: &mut Pen<'_>, opacity: f64, draw: impl Fn(&mut Pen<'_>)) {
    if opacity >= 1.0 {
        draw(pen);
    } else {
        pen.group(None, opacity, Blend::Normal, draw);
    }
}

impl<'a> DrawingInks<'a> {
    /// Greys stand in black alone, and pure black is meant as the black ink, whatever a profile makes of it.
    fn of(self, pen: &Pen<'_>, rgb: [u8; 3]) -> Ink {
        if self.light {
            return Ink::black(f64::from(rgb[0]) / 255.0);
        }
        if let Some(paint) = self.paint {
            return paint.clone();
        }
        if let Some(known) = self.swatched(rgb) {
            return known.ink.clone();
        }
        let profile = &pen.bench.facts.press.profile;
        if rgb[0] == rgb[1] && rgb[1] == rgb[2] && self.separation.inking != Inking::FourColour {
            return Ink::black(profile.black_alone(rgb[0]));
        }
        let (inks, _) = profile.press_colour(rgb);
        Ink::process(inks[0], inks[1], inks[2], inks[3])
    }

    fn swatched(self, rgb: [u8; 3]) -> Option<&'a SwatchedColour> {
        self.colours.iter().find(|known| known.rgb == rgb)
    }

    /// Colours as inks, so close that it makes no difference in which of both what lies between them is mixed.
    fn run(self, pen: &Pen<'_>, stops: &[(f64, [u8; 3])]) -> Vec<(f64, Ink)> {
        let mut run = Vec::new();
        for pair in stops.windows(2) {
            let [(start, first), (end, last)] = [pair[0], pair[1]];
            let straight = self.light || [first, last].into_iter().any(|rgb| self.swatched(rgb).is_some());
            let steps = if straight || first == last || end <= start { 1 } else { STEPS };
            run.extend((0..steps).map(|step| {
                let share = f64::from(step) / f64::from(steps);
                let mixed = |at: usize| f64::from(first[at]) * (1.0 - share) + f64::from(last[at]) * share;
                let rgb = std::array::from_fn(|at| mixed(at).round() as u8);
                (start + (end - start) * share, self.of(pen, rgb))
            }));
        }
        run.extend(stops.last().map(|(at, rgb)| (*at, self.of(pen, *rgb))));
        run
    }
}
