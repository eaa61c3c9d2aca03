//! Axes: the places that a variable font can be drawn at.

use crate::assets::axis::{AxisPlace, FontAxis};
use crate::assets::font::Font;
use skrifa::Tag;
use std::fmt::Write as _;
use std::sync::OnceLock;

impl Font {
    /// The least and most weight of a variable font.
    pub fn weights(&self) -> Option<(u16, u16)> {
        let axis = self.face.axes().get_by_tag(Tag::new(b"wght"))?;
        Some((axis.min_value().ceil().max(1.0) as u16, axis.max_value().floor().max(1.0) as u16))
    }

    /// The axes of a variable font; none for a static one.
    pub fn axes(&self) -> Vec<FontAxis> {
        let axes = self.face.axes();
        let axes = axes.iter().map(|axis| FontAxis {
            tag: axis.tag().to_be_bytes(),
            least: axis.min_value(),
            usual: axis.default_value(),
            most: axis.max_value(),
        });
        axes.collect()
    }

    /// A variable font at a weight and at a place on its other axes, as near as they reach; what is not asked for stays
    /// as it is drawn.
    pub fn place(&self, weight: u16, asked: &[AxisPlace]) -> Vec<AxisPlace> {
        let value = |axis: FontAxis| {
            let asked = asked.iter().rev().find(|(tag, _)| *tag == axis.tag).map(|(_, value)| *value);
            let usual = if &axis.tag == b"wght" { f32::from(weight) } else { axis.usual };
            (axis.tag, asked.unwrap_or(usual).max(axis.least).min(axis.most))
        };
        self.axes().into_iter().map(value).collect()
    }

    #[must_use]
    pub fn at(&self, coordinates: Vec<AxisPlace>) -> Font {
        let settings = coordinates.iter().map(|(tag, value)| (Tag::new(tag), *value));
        let weight =
            coordinates.iter().find(|(tag, _)| tag == b"wght").map_or(self.weight, |(_, at)| at.round() as u16);
        // Adobe Technical Note 5902: the instance by its axis values (form from memory).
        let mut name = format!("{}_{weight}wght", self.family.replace(' ', ""));
        for axis in self.axes().into_iter().filter(|axis| &axis.tag != b"wght") {
            let at = coordinates.iter().find(|(tag, at)| *tag == axis.tag && at.to_bits() != axis.usual.to_bits());
            if let Some((tag, at)) = at {
                let _ = write!(name, "_{at}{}", String::from_utf8_lossy(tag).trim());
            }
        }
        Font {
            name,
            family: self.family.clone(),
            weight,
            italic: self.italic,
            bytes: self.bytes.clone(),
            index: self.index,
            face: self.face.instance_builder().variations(settings).build(),
            coordinates,
            digest: OnceLock::new(),
            features: OnceLock::new(),
            metrics: OnceLock::new(),
            scaler: OnceLock::new(),
            outlines: OnceLock::new(),
        }
    }
}
