//! Every mark of a scene, in the order of printing, groups opened.

use crate::assets::PicturePlate;
use crate::ground::{Colour, Ink, Paint, Process, Spot};
use crate::scene::{Item, Mark, PlacedPicture, Scene};
use std::sync::Arc;

impl Scene {
    /// Calls `visit` for every item that is not a group, bottom to top.
    pub fn walk<'a>(&'a self, visit: &mut dyn FnMut(&'a Item)) {
        walk(&self.items, visit);
    }

    /// Which of cyan, magenta, yellow and black are in use.
    pub fn process(&self) -> [bool; 4] {
        let mut used = [false; 4];
        self.walk(&mut |item| {
            let mut mark = |inks: Process| (0..4).for_each(|at| used[at] |= inks[at] > 0.0);
            if let Mark::Picture(PlacedPicture { picture, paint: None, separation, .. }) = &item.mark {
                // What toned pictures use of the process inks they state.
                for plate in self.profile.picture_plates(picture, *separation) {
                    if let (PicturePlate::Process(at), None) = (plate, picture.tones()) {
                        mark(std::array::from_fn(|ink| if ink == at { 1.0 } else { 0.0 }));
                    }
                }
            }
            item.inks(&mut |ink| {
                if let Colour::Process(inks) = ink.colour {
                    mark(inks);
                }
            });
        });
        used
    }

    /// Every spot ink in use, by plate name, each once.
    pub fn spots(&self) -> Vec<Arc<Spot>> {
        let mut spots: Vec<Arc<Spot>> = Vec::new();
        self.walk(&mut |item| {
            item.inks(&mut |ink| {
                if let Colour::Spot(spot, _) = &ink.colour
                    && !spots.iter().any(|known| known.name == spot.name)
                {
                    spots.push(spot.clone());
                }
            });
        });
        spots.sort_by(|a, b| a.name.cmp(&b.name));
        spots
    }
}

impl Item {
    /// What a shape, a line or words are printed in.
    pub fn paint(&self) -> Option<&Paint> {
        match &self.mark {
            Mark::Fill { paint, .. } | Mark::Stroke { paint, .. } => Some(paint),
            Mark::Glyphs(run) => Some(&run.paint),
            Mark::Picture(_) | Mark::Group(_) => None,
        }
    }

    /// Calls `visit` for every ink that this mark states, a toned picture's as strong as it prints them at most. A picture
    /// that brings its own colours states none.
    pub fn inks(&self, visit: &mut dyn FnMut(&Ink)) {
        let paint = match &self.mark {
            Mark::Fill { paint, .. } | Mark::Stroke { paint, .. } => paint,
            Mark::Glyphs(run) => &run.paint,
            Mark::Picture(placed) => return placed.inks(visit),
            Mark::Group(group) => return group.items.iter().for_each(|item| item.inks(visit)),
        };
        match paint {
            Paint::None => {}
            Paint::Ink(ink) => visit(ink),
            Paint::Gradient(gradient) => gradient.stops.iter().for_each(|(_, ink)| visit(ink)),
        }
    }
}

impl PlacedPicture {
    /// Whether its samples become inks of the press, rather than a paint or the tones that it is given.
    pub fn takes_press_inks(&self) -> bool {
        self.paint.is_none() && self.picture.tones().is_none()
    }

    fn inks(&self, visit: &mut dyn FnMut(&Ink)) {
        match (&self.paint, self.picture.tones()) {
            (Some(paint), _) => visit(paint),
            (None, Some(tones)) => tones.inks().iter().for_each(|toned| visit(&toned.ink.tinted(toned.most()))),
            (None, None) => {}
        }
    }
}

fn walk<'a>(items: &'a [Item], visit: &mut dyn FnMut(&'a Item)) {
    for item in items {
        match &item.mark {
            Mark::Group(group) => walk(&group.items, visit),
            _ => visit(item),
        }
    }
}
