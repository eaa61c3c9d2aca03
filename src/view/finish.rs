//! Finish: the colour of a place of the sheet that is foiled, varnished, embossed or debossed.

use crate::view::ink::{GLOSS, SeenPoint, Sheen, softened};
use crate::view::solid::Facet;
use crate::view::texture::FinishedPlace;
use glam::{Vec2, Vec3};

impl SeenPoint<'_> {
    /// `colour` is what is printed there, or the foil's own. What is not varnished shines as the sheet does.
    pub fn finished(&self, colour: Vec3, (facet, place): (&Facet, Vec2), finish: &FinishedPlace, sheen: Sheen) -> Vec3 {
        let normal = bent(self.normal, facet, finish.slope);
        let open = |normal: Vec3| self.lamps.open_lamp(self.at, normal) + self.lamps.open_room(normal);
        let flat = open(self.normal).max(1e-3);
        let more = if finish.slope == Vec2::ZERO { 1.0 } else { open(normal) / flat };
        let (own, gloss) = (self.gleam(normal, sheen), self.gleam(normal, GLOSS));
        let printed = self.veiled(colour * softened(self.light) * more, own + (gloss - own) * finish.varnish);
        if finish.foil <= 0.0 {
            return printed;
        }
        // What keeps light away also stands before what is mirrored.
        let free = (self.light / (flat * self.exposure)).min(1.0);
        let wavy = bent(normal, facet, waves(place));
        let mirrored = self.lamps.in_foil(self.at, self.mirrored(wavy).0) * self.exposure * free;
        printed.lerp(bleached(colour, mirrored), finish.foil)
    }
}

/// Strong light bleaches the colour of a metal.
fn bleached(colour: Vec3, light: f32) -> Vec3 {
    let beyond = 1.0 - libm::expf(-0.6 * (light - 1.0).max(0.0));
    let lit = colour * light.min(1.0);
    lit + (Vec3::ONE - lit) * beyond
}

/// How steeply a foil waves at a place of the sheet, for the board beneath it is never quite even: broad waves, by eye.
fn waves(place: Vec2) -> Vec2 {
    const WAVES: [(f32, f32, f32); 4] =
        [(0.071, 0.043, 0.028), (-0.029, 0.083, 0.024), (0.190, -0.130, 0.014), (0.110, 0.270, 0.010)];
    WAVES.into_iter().fold(Vec2::ZERO, |sum, (x, y, steep)| {
        let way = Vec2::new(x, y);
        sum + way.normalize_or_zero() * steep * libm::sinf(place.dot(way) + 30.0 * x)
    })
}

/// The normal of a facet where its sheet rises so steeply along it and down it.
fn bent(normal: Vec3, facet: &Facet, slope: Vec2) -> Vec3 {
    if slope == Vec2::ZERO {
        return normal;
    }
    let [a, b, c] = facet.at;
    let [pa, pb, pc] = facet.place;
    let (u, v, pu, pv) = (b - a, c - a, pb - pa, pc - pa);
    let square = pu.perp_dot(pv);
    if square.abs() < 1e-9 {
        return normal;
    }
    let along = (u * pv.y - v * pu.y) / square;
    let down = (v * pu.x - u * pv.x) / square;
    (normal - along * slope.x - down * slope.y).normalize_or(normal)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{BookShape, BookView, Pose};
    use crate::view::lamps::{Lamps, RoomLight};
    use crate::view::layers::{PrintedBook, Rgba, STUDIO, layers};
    use crate::view::light::light;
    use crate::view::poses::arrange;
    use crate::view::solid::Material;
    use crate::view::tests::{paints, paperback, small};
    use crate::view::texture::Texture;
    use glam::{vec2, vec3};

    const MATT: Sheen = Sheen { strength: 0.018, spread: 0.55 };

    /// A sheet that looks up, its head at the back.
    fn facet() -> Facet {
        Facet {
            at: [vec3(0.0, 10.0, 0.0), vec3(10.0, 10.0, 0.0), vec3(0.0, 0.0, 0.0)],
            normal: [Vec3::Z; 3],
            place: [vec2(0.0, 0.0), vec2(10.0, 0.0), vec2(0.0, 10.0)],
            material: Material::Sheet,
            book: 0,
        }
    }

    /// Paper and foil of one colour side by side, seen so that the eye's ray is mirrored in a direction.
    fn paper_and_foil(mirrored: Vec3) -> [f32; 2] {
        let room = RoomLight { horizon: 0.1, gain: 0.0, ground: 0.1 };
        let lamps = Lamps::new(vec3(0.0, 2000.0, 2000.0), Vec3::ZERO, 900.0, 9.0, room, 0.0);
        let light = lamps.open_lamp(Vec3::ZERO, Vec3::Z) + lamps.open_room(Vec3::Z);
        let exposure = 0.9 / light;
        let way = (mirrored * vec3(1.0, 1.0, -1.0)).normalize();
        let seen = SeenPoint { lamps: &lamps, at: Vec3::ZERO, normal: Vec3::Z, way, light: 0.9, exposure };
        let finish = FinishedPlace { foil: 0.0, varnish: 0.0, slope: Vec2::ZERO };
        [0.0, 1.0].map(|foil| {
            let finish = FinishedPlace { foil, ..finish };
            seen.finished(Vec3::new(0.6, 0.4, 0.15), (&facet(), Vec2::ZERO), &finish, MATT).x
        })
    }

    #[test]
    fn foil_is_bright_where_it_mirrors_the_lamp_and_dark_beside() {
        let [paper, foil] = paper_and_foil(vec3(0.0, 1.0, 1.0));
        assert!(foil > paper * 1.3, "towards the lamp: {foil} and {paper}");
        let [paper, foil] = paper_and_foil(vec3(1.0, -0.6, 0.4));
        assert!(foil < paper * 0.7, "past the lamp: {foil} and {paper}");
    }

    #[test]
    fn a_normal_bends_away_from_what_rises() {
        assert_eq!(bent(Vec3::Z, &facet(), Vec2::ZERO), Vec3::Z);
        // Rising along the sheet, it looks back along it; 45 degrees for a rise of one to one.
        let back = bent(Vec3::Z, &facet(), vec2(1.0, 0.0));
        assert!((back - vec3(-1.0, 0.0, 1.0).normalize()).length() < 1e-5, "{back}");
        // Down the sheet is towards us.
        let away = bent(Vec3::Z, &facet(), vec2(0.0, 1.0));
        assert!((away - vec3(0.0, 1.0, 1.0).normalize()).length() < 1e-5, "{away}");
    }

    const SIZE: (usize, usize) = (320, 260);
    /// Millimetres of the front from its fold and from its head: from where to where.
    const ALONG: [f32; 2] = [10.0, 30.0];
    const DOWN: [f32; 2] = [15.0, 45.0];

    /// A small grey book, its back, spine and front at eight pixels to the millimetre, with a part of its front finished.
    fn grey(finish: Option<[u8; 3]>) -> Texture {
        const SCALE: f32 = 8.0;
        /// The front lies so far from the spine's middle: half of that, and what its fold's arc is longer than its radius.
        const FRONT: f32 = 9.7;
        let (width, height) = (800, 480);
        let texture = Texture::new(&vec![150; width * height * 3], (width, height), SCALE, (-50.0, 0.0));
        let Some(finish) = finish else { return texture };
        let within = |[from, to]: [f32; 2], at: f32| at >= from && at < to;
        let pixel = |x: usize, y: usize| {
            let (along, down) = (x as f32 / SCALE - 50.0 - FRONT, y as f32 / SCALE);
            if within(ALONG, along) && within(DOWN, down) { finish } else { [0, 0, 128] }
        };
        let finishes: Vec<u8> = (0..height).flat_map(|y| (0..width).flat_map(move |x| pixel(x, y))).collect();
        texture.finished(&finishes)
    }

    /// Such a book with a finish and without; and where a place of its front is in the picture.
    fn pictures(finish: [u8; 3]) -> (Rgba, Rgba, impl Fn(f32, f32) -> Vec2) {
        let shape = BookShape { page: (40.0, 60.0), ..paperback() };
        let view = BookView { pixels: (SIZE.0 as u32, SIZE.1 as u32), ..small(Pose::Standing) };
        let arrangement = arrange(&shape, &view);
        let light = light(&arrangement, SIZE);
        let draw = |print: &Texture| {
            let book = PrintedBook { shape: &shape, print, paints: &paints() };
            layers(&[book], (&arrangement, &light), (&view, Some(STUDIO))).book
        };
        let camera = arrangement.camera;
        let at = move |along: f32, down: f32| camera.project(vec3(along, 0.0, 60.0 - down));
        (draw(&grey(Some(finish))), draw(&grey(None)), at)
    }

    fn value(picture: &Rgba, at: Vec2) -> i32 {
        i32::from(picture[at.y as usize * SIZE.0 + at.x as usize][1])
    }

    #[test]
    fn a_sheet_without_finishes_is_laid_as_before() {
        let (finished, plain, _) = pictures([0, 0, 128]);
        assert!(finished == plain);
    }

    #[test]
    fn varnish_shines_where_it_lies_and_nowhere_else() {
        let (finished, plain, at) = pictures([0, 255, 128]);
        let corners = ALONG.into_iter().flat_map(|along| DOWN.map(|down| at(along, down)));
        let bounds = |all: (Vec2, Vec2), corner: Vec2| (all.0.min(corner), all.1.max(corner));
        let (low, high) = corners.fold((Vec2::INFINITY, Vec2::NEG_INFINITY), bounds);
        let changed: Vec<Vec2> = (0..finished.len())
            .filter(|pixel| finished[*pixel] != plain[*pixel])
            .map(|pixel| vec2((pixel % SIZE.0) as f32, (pixel / SIZE.0) as f32))
            .collect();
        assert!(changed.iter().all(|pixel| pixel.cmpge(low - 3.0).all() && pixel.cmple(high + 3.0).all()));
        assert!(changed.contains(&at(20.0, 30.0).floor()));
        let area = (high - low).element_product() as usize;
        assert!(changed.len() > area / 2, "{} of {area}", changed.len());
    }

    #[test]
    fn embossing_is_bright_towards_the_lamp_and_debossing_away_from_it() {
        // The lamp hangs above, on the side of the fore edge.
        for (height, sign) in [(255, 1), (1, -1)] {
            let (finished, plain, at) = pictures([0, 0, height]);
            // The largest difference about a place.
            let off = |along: f32, down: f32| {
                let near = (-2..=2).map(|step| at(along, down) + step as f32);
                let all = near.map(|at| value(&finished, at) - value(&plain, at));
                all.max_by_key(|off| off.abs()).expect("there are five") * sign
            };
            let (head, foot) = (off(20.0, DOWN[0]), off(20.0, DOWN[1]));
            let (spine, fore) = (off(ALONG[0], 30.0), off(ALONG[1], 30.0));
            assert!(head > 3 && foot < -3 && fore > 1 && spine < -3, "{height}: {head} {foot} {spine} {fore}");
            assert!(off(20.0, 30.0).abs() <= 1, "its middle is flat");
        }
    }
}
