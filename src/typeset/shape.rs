//! Runs of one script to glyphs: the one door to the shaper.

use crate::typeset::{
    even::{EvenCapitals, capital_pairs, even_out},
    japanese::space_out,
    script::Script,
    stance::Stance,
    style::{Capitals, Style},
    upright::{middle_of, set_across, stand_up},
};
use harfrust::{Buffer, BufferFlags, Direction, Feature, Language, ShapeOptions, ShapePlan, ShaperFont, Tag};
use std::collections::BTreeSet;
use std::f64::consts::FRAC_PI_2;
use std::ops::Range;

pub use crate::typeset::shaped::{Cut, ScriptRun, Shaped, turns};

/// Shapes with a few cuts, keeping its plans and its buffer.
pub struct Shaper<'a> {
    fonts: Vec<(ShaperFont<'a, 'static>, f64, Vec<Feature>)>,
    cuts: &'a [Cut],
    tag: String,
    language: Option<Language>,
    /// Pairs of letters, and what is added between them, in ems.
    kerns: Vec<(char, char, f64)>,
    /// For each cut, where capitals are to stand evenly.
    even: Vec<EvenCapitals>,
    capitals: BTreeSet<(char, char)>,
    plans: Vec<(usize, Script, Direction, ShapePlan)>,
    buffer: Buffer,
}

impl<'a> Shaper<'a> {
    pub fn new(cuts: &'a [Cut], language: &str) -> Shaper<'a> {
        let fonts = cuts.iter().map(|cut| {
            let scale = cut.scale / f64::from(cut.font.units_per_em().max(1));
            let features = cut.features.iter().map(|(tag, value)| Feature::new(Tag::new(tag), *value, ..)).collect();
            (ShaperFont::new(cut.font.face()), scale, features)
        });
        Shaper {
            fonts: fonts.collect(),
            cuts,
            tag: language.to_owned(),
            language: Language::new(language.as_bytes()),
            kerns: Vec::new(),
            even: Vec::new(),
            capitals: BTreeSet::new(),
            plans: Vec::new(),
            buffer: Buffer::new(),
        }
    }

    /// With what a style says of pairs of letters.
    #[must_use]
    pub fn kerned<'t>(mut self, style: &Style, words: impl Iterator<Item = &'t str>) -> Shaper<'a> {
        if style.capitals == Capitals::Even {
            self.capitals = capital_pairs(words);
            self.even.resize_with(self.cuts.len(), EvenCapitals::default);
        }
        self.kerns = style.kerns.iter().map(|(left, right, by)| (*left, *right, by / 1000.0)).collect();
        self
    }

    /// The glyphs of `script_run` in `text`, left to right. What stands in `line` beside it counts as its
    /// neighbourhood (Arabic joins across it). `hyphen` is added at the end, as a cluster at its given place.
    pub fn shape(
        &mut self,
        text: &str,
        line: Range<usize>,
        script_run: &ScriptRun,
        hyphen: Option<(char, usize)>,
        glyphs: &mut Vec<Shaped>,
    ) {
        glyphs.clear();
        let buffer = &mut self.buffer;
        buffer.clear();
        buffer.set_flags(BufferFlags::REMOVE_DEFAULT_IGNORABLES | BufferFlags::DO_NOT_INSERT_DOTTED_CIRCLE);
        let upright = script_run.stance == Stance::Upright;
        let direction = match (upright, script_run.rtl()) {
            (true, _) => Direction::TopToBottom,
            (false, true) => Direction::RightToLeft,
            (false, false) => Direction::LeftToRight,
        };
        buffer.set_direction(direction);
        let tag = script_run.script.short_name().as_bytes().try_into().map_or(Tag::new(b"Zyyy"), Tag::new);
        buffer.set_script(harfrust::Script::from_iso15924_tag(tag));
        buffer.set_language(self.language.clone());
        for (at, letter) in text[script_run.range.clone()].char_indices() {
            buffer.push(u32::from(letter), (script_run.range.start + at) as u32);
        }
        if let Some((letter, at)) = hyphen {
            buffer.push(u32::from(letter), at as u32);
        }
        buffer.set_pre_context(&text[line.start..script_run.range.start]);
        buffer.set_post_context(&text[script_run.range.end..line.end.max(script_run.range.end)]);
        let (font, scale, features) = &self.fonts[script_run.cut];
        let key = |plan: &(usize, Script, Direction, ShapePlan)| {
            plan.0 == script_run.cut && plan.1 == script_run.script && plan.2 == direction
        };
        let at = self.plans.iter().position(key).unwrap_or_else(|| {
            let made = ShapePlan::new(font, buffer.direction(), buffer.script(), self.language.as_ref(), features);
            self.plans.push((script_run.cut, script_run.script, direction, made));
            self.plans.len() - 1
        });
        let options = ShapeOptions::new().plan(Some(&self.plans[at].3)).features(features);
        if harfrust::shape(font, buffer, options).is_err() {
            return;
        }
        let scaled = |units: i32| f64::from(units) * scale;
        glyphs.extend(buffer.glyph_infos().iter().zip(buffer.glyph_positions()).map(|(info, place)| Shaped {
            id: u16::try_from(info.glyph_id).unwrap_or(0),
            cluster: info.cluster as usize,
            advance: scaled(if upright { -place.y_advance } else { place.x_advance }),
            x: scaled(if upright { -place.y_offset } else { place.x_offset }),
            y: -scaled(if upright { place.x_offset } else { place.y_offset }),
            room: 0.0,
            turn: if upright { -FRAC_PI_2 } else { 0.0 },
            joined: info.unsafe_to_break(),
        }));
        if script_run.stance != Stance::Along {
            let Cut { font, scale, .. } = &self.cuts[script_run.cut];
            let middle = middle_of(font) * scale;
            if upright {
                stand_up(text, font, *scale, middle, glyphs);
            } else {
                set_across(font, *scale, middle, glyphs);
            }
        }
        if script_run.stance != Stance::Across && !script_run.rtl() {
            space_out(text, &line, script_run, &self.tag, glyphs);
        }
        if let Some(even) = self.even.get_mut(script_run.cut).filter(|_| !script_run.rtl()) {
            even_out((even, &self.capitals), &self.cuts[script_run.cut], text, glyphs);
        }
        if !self.kerns.is_empty() && !script_run.rtl() {
            kern(&self.kerns, text, hyphen, glyphs);
        }
    }
}

/// Adds what a style asks for between pairs of letters. A line that parts between them is shaped again.
fn kern(kerns: &[(char, char, f64)], text: &str, hyphen: Option<(char, usize)>, glyphs: &mut [Shaped]) {
    for at in 1..glyphs.len() {
        let next = glyphs[at].cluster;
        let left = text.get(..next).and_then(|before| before.chars().next_back());
        let right = match hyphen {
            Some((letter, place)) if place == next => Some(letter),
            _ => text.get(next..).and_then(|after| after.chars().next()),
        };
        if glyphs[at - 1].cluster == next {
            continue;
        }
        let by: f64 =
            kerns.iter().filter(|pair| Some(pair.0) == left && Some(pair.1) == right).map(|pair| pair.2).sum();
        if by != 0.0 {
            glyphs[at - 1].advance += by;
            glyphs[at].joined = true;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Library;

    /// A second shaper must place the same glyphs. (It misplaces those of variable fonts: they are left out.)
    #[test]
    fn another_shaper_agrees() {
        let (library, _) = Library::open(&[]);
        let text = "Affluent office waffles; AVATAR To Ty “Wave” 1790–1832 fjord façade Ångström (Lot 5), p. 77";
        for family in library.families() {
            let font = library.find(family, 400, false).expect("bundled");
            if !font.coordinates().is_empty() {
                continue;
            }
            let cuts = [Cut { font: font.clone(), scale: 1.0, features: Vec::new() }];
            let mut shaper = Shaper::new(&cuts, "en");
            let script_run =
                ScriptRun { range: 0..text.len(), cut: 0, script: Script::Latin, level: 0, stance: Stance::Along };
            let mut ours = Vec::new();
            shaper.shape(text, 0..text.len(), &script_run, None, &mut ours);
            let other = rustybuzz::Face::from_slice(font.bytes(), font.index()).expect("opens there too");
            let mut buffer = rustybuzz::UnicodeBuffer::new();
            buffer.push_str(text);
            buffer.set_direction(rustybuzz::Direction::LeftToRight);
            buffer.set_script(rustybuzz::script::LATIN);
            buffer.set_language("en".parse().expect("a language"));
            let theirs = rustybuzz::shape(&other, &[], buffer);
            let em = f64::from(font.units_per_em());
            let ours: Vec<_> = ours.iter().map(|g| (u32::from(g.id), g.cluster, (g.advance * em).round())).collect();
            let infos = theirs.glyph_infos().iter().zip(theirs.glyph_positions());
            let theirs: Vec<_> =
                infos.map(|(info, place)| (info.glyph_id, info.cluster as usize, f64::from(place.x_advance))).collect();
            assert_eq!(ours, theirs, "{family}");
        }
    }
}
