//! Drawn: the parts of a drawing as marks in ink.

use crate::assets::{Drawing, DrawingPart, EffectPlan, Inking, Picture, PixelView, Separation, Tint, WASH_STEPS};
use crate::cover::{ArtRefused, Pen};
use crate::ground::{Affine, Blend, Gradient, Ink, MM_PER_INCH, Memo, Paint, Rect, Severity, listed, unit_in};
use crate::language::named_ink::NamedInk;
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
    /// Whether what is drawn is mixed with what lies under it: then it takes its share of that away, thin black as well.
    pub mixed: bool,
    /// How its effects are drawn, and where their pictures are kept.
    pub effects: &'a EffectPlan,
    pub pictures: &'a Memo<Picture>,
}

/// How the effects of a drawing are drawn where a part of it shows; what cannot be drawn even coarsely is named.
pub fn planned(pen: &Pen<'_>, drawing: &Drawing, scale: f64, shown: Rect) -> EffectPlan {
    let plan = drawing.plan_effects(scale, shown, &mut pen.bench.art.borrow_mut().effects);
    let (mut printed, mut left_out) = (Vec::new(), Vec::new());
    for view in drawing.pictured().into_iter().filter(|view| view.part(shown).is_some()) {
        let names = if plan.left_out.contains(&view.key) { &mut left_out } else { &mut printed };
        names.push(view.to_string());
    }
    if !printed.is_empty() {
        let (name, ppi) = (&drawing.name, plan.ppi);
        let message =
            format!("these effects of {name:?} are printed as pictures at {ppi} ppi: {}", listed(&printed, NAMED));
        let help = "look at them as they are printed; remove the effect from what must stay vectors";
        pen.report(Severity::Note, "drawing-pictured", message, help);
    }
    if !left_out.is_empty() {
        let message = format!(
            "these effects of {:?} are left out, since the effects of the cover would take too long to draw: {}",
            drawing.name,
            listed(&left_out, NAMED)
        );
        let help = "make the drawing smaller, remove effects, or place it as a picture of pixels";
        pen.report(Severity::Warning, "drawing-left-out", message, help);
    }
    plan
}

/// Whether the cover may draw it once more; told once.
pub fn has_room(pen: &Pen<'_>, drawing: &Drawing, scale: f64) -> bool {
    let taken = pen.bench.art.borrow_mut().drawing(drawing, scale);
    if let Err(ArtRefused::Over(message)) = &taken {
        pen.over(message.clone(), "simplify the drawing, place it fewer times, or place it as a picture of pixels");
    }
    taken.is_ok()
}

/// Effects that a message names.
const NAMED: usize = 4;

pub fn draw_parts(pen: &mut Pen<'_>, parts: &[DrawingPart], to_place: Affine, scale: f64, inks: DrawingInks<'_>) {
    for part in parts {
        match part {
            DrawingPart::Fill { path, rule, colour } => {
                let path = to_place * path;
                in_colour(pen, *colour, inks, |pen, ink| {
                    let ink = if inks.is_solid(*colour) { ink.shape(&path, *rule) } else { ink.ink };
                    pen.fill(&path, *rule, ink);
                });
            }
            DrawingPart::Stroke { path, line, colour } => {
                let path = to_place * path;
                let mut line = line.clone();
                line.width *= scale;
                line.dash_offset *= scale;
                line.dashes.iter_mut().for_each(|dash| *dash *= scale);
                in_colour(pen, *colour, inks, |pen, ink| {
                    let ink = if inks.is_solid(*colour) { ink.line(line.width) } else { ink.ink };
                    pen.stroke(&path, line, ink);
                });
            }
            DrawingPart::Wash { path, rule, course, stops, opacity } => {
                let path = to_place * path;
                let gradient = Gradient { course: course.carried(to_place, scale), stops: inks.run(pen, stops) };
                thinned(pen, *opacity, |pen| pen.fill(&path, *rule, Paint::Gradient(gradient)));
            }
            DrawingPart::Group { clip, opacity, multiply, parts } => {
                let clip = clip.as_ref().map(|(path, rule)| (to_place * path, *rule));
                let blend = if *multiply { Blend::Multiply } else { Blend::Normal };
                let inks = DrawingInks { mixed: inks.mixed || *opacity < 1.0 || *multiply, ..inks };
                pen.group(clip, *opacity, blend, |pen| draw_parts(pen, parts, to_place, scale, inks));
            }
            DrawingPart::Veiled { veil, clips, parts } => pen.veiled(
                |pen| draw_parts(pen, veil, to_place, scale, DrawingInks { light: true, ..inks }),
                |pen| draw_parts(pen, parts, to_place, scale, DrawingInks { mixed: inks.mixed || !clips, ..inks }),
            ),
            // In a frame of no extent there is nothing to draw.
            DrawingPart::Picture { picture, unit } if scale > 0.0 => {
                let shows = inks.light.then(|| Ink::black(1.0));
                let separation = if inks.light { Separation::default() } else { inks.separation };
                pen.picture(picture.clone(), to_place * *unit, shows.or_else(|| inks.paint.cloned()), separation);
            }
            DrawingPart::Picture { .. } => {}
            DrawingPart::Pixels(view) => picture(pen, view, to_place, scale, inks),
        }
    }
}

fn picture(pen: &mut Pen<'_>, view: &PixelView, to_place: Affine, scale: f64, inks: DrawingInks<'_>) {
    // In a frame of no extent there is nothing to draw.
    let has_extent = scale > 0.0;
    if !has_extent || inks.effects.left_out.contains(&view.key) {
        return;
    }
    let Some(part) = view.part(inks.effects.shown) else { return };
    if let Some((picture, place)) = view.picture(part, inks.effects.ppi / MM_PER_INCH * scale, inks.pictures) {
        return pen.picture(picture, to_place * unit_in(place), inks.paint.cloned(), inks.separation);
    }
    let message = format!("{} of the drawing cannot be drawn: {}", view.name, view.why);
    pen.report(Severity::Warning, "drawing-left-out", message, "place the drawing as a picture of pixels");
}

fn in_colour(pen: &mut Pen<'_>, colour: Tint, inks: DrawingInks<'_>, draw: impl FnOnce(&mut Pen<'_>, NamedInk)) {
    let ink = inks.named(pen, colour.rgb);
    thinned(pen, colour.opacity, |pen| draw(pen, ink));
}

fn thinned(pen: &mut Pen<'_>, opacity: f64, draw: impl FnOnce(&mut Pen<'_>)) {
    if opacity >= 1.0 {
        draw(pen);
    } else {
        pen.group(None, opacity, Blend::Normal, draw);
    }
}

impl<'a> DrawingInks<'a> {
    /// A colour that the file states.
    fn of(self, pen: &Pen<'_>, rgb: [u8; 3]) -> Ink {
        self.named(pen, rgb).ink
    }

    /// And what the cover says of it.
    fn named(self, pen: &Pen<'_>, rgb: [u8; 3]) -> NamedInk {
        match self.swatched(rgb).filter(|_| !self.light && self.paint.is_none()) {
            Some(known) => known.ink.clone(),
            None => NamedInk::new(self.separated(pen, rgb)),
        }
    }

    /// Whether nothing of what lies under it shows through what is drawn.
    fn is_solid(self, colour: Tint) -> bool {
        !self.light && !self.mixed && colour.opacity >= 1.0
    }

    /// Greys stand in black alone, and pure black is meant as the black ink, whatever a profile makes of it.
    fn separated(self, pen: &Pen<'_>, rgb: [u8; 3]) -> Ink {
        if self.light {
            return Ink::black(f64::from(rgb[0]) / 255.0);
        }
        if let Some(paint) = self.paint {
            return paint.clone();
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
            let steps = if straight || first == last || end <= start { 1 } else { WASH_STEPS };
            run.push((start, self.of(pen, first)));
            // What lies between two stops may happen to be the colour of a swatch, and is not meant.
            run.extend((1..steps).map(|step| {
                let share = f64::from(step) / f64::from(steps);
                let mixed = |at: usize| f64::from(first[at]) * (1.0 - share) + f64::from(last[at]) * share;
                let rgb = std::array::from_fn(|at| mixed(at).round() as u8);
                (start + (end - start) * share, self.separated(pen, rgb))
            }));
        }
        run.extend(stops.last().map(|(at, rgb)| (*at, self.of(pen, *rgb))));
        run
    }
}
