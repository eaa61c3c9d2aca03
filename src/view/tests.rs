//! Light and sight against what can be reckoned by hand.

use crate::ground::Ink;
use crate::scene::{BoardSizes, BookShape, BookView, CoverKind, Flaps, Lamination, PaperShade, Pose};
use crate::view::blocked::blocked;
use crate::view::camera::{Camera, Stand};
use crate::view::lamps::{Lamps, RoomLight, SHARES};
use crate::view::layers::{Paints, PrintedBook, STUDIO, layers};
use crate::view::light::{FULL, light};
use crate::view::poses::{Arrangement, arrange};
use crate::view::rays::Rays;
use crate::view::shapes::closed;
use crate::view::solid::{Material, Solid};
use crate::view::texture::Texture;
use glam::{Vec3, vec2, vec3};
use std::f32::consts::PI;

pub fn boards() -> BoardSizes {
    BoardSizes { thickness: 2.5, square: 3.0, setback: 5.0, joint: 8.0 }
}

pub fn book(cover: CoverKind, spine: f64) -> BookShape {
    BookShape {
        cover,
        page: (129.0, 198.0),
        block: 19.2,
        spine,
        rounded: false,
        bound_right: false,
        lamination: Lamination::Matt,
        shade: PaperShade::White,
        sprayed: None,
        head_bands: [Ink::PAPER, Ink::PAPER],
        ribbon: None,
    }
}

pub fn paperback() -> BookShape {
    book(CoverKind::Paperback { stock: 0.3, hinge: 6.0, flaps: None }, 19.8)
}

fn all_shapes() -> Vec<BookShape> {
    let flaps = Flaps { width: 90.0, turn: 2.5 };
    let mut shapes = vec![
        paperback(),
        book(CoverKind::Paperback { stock: 0.3, hinge: 0.0, flaps: Some(Flaps { turn: 1.0, ..flaps }) }, 19.8),
        book(CoverKind::Case(boards()), 24.2),
        BookShape { rounded: true, ..book(CoverKind::Case(boards()), 27.5) },
        book(CoverKind::Jacket(boards(), flaps), 25.2),
        BookShape { block: 3.0, ..book(CoverKind::Stapled { stock: 0.25 }, 0.0) },
    ];
    let right = shapes.iter().map(|shape| BookShape { bound_right: true, ..shape.clone() });
    shapes.extend(right.collect::<Vec<_>>());
    shapes
}

pub fn small(pose: Pose) -> BookView {
    BookView { pose, pixels: (160, 130), ..BookView::default() }
}

/// A lamp of 2 by 2 straight above the origin, 3 away.
fn lamp_above() -> Lamps {
    Lamps::new(vec3(0.0, 0.0, 3.0), Vec3::ZERO, 2.0, 1.0, RoomLight { horizon: 0.0, gain: 0.0, ground: 0.0 }, 0.0)
}

// Lambert's configuration factors from a small element to a rectangle with one corner straight before it, in Howell's
// catalogue of radiation configuration factors (from memory): parallel, and perpendicular.
#[test]
fn a_lamp_gives_the_closed_configuration_factor() {
    let parallel = |a: f32, b: f32, c: f32| {
        let (x, y) = (a / c, b / c);
        let (p, q) = ((1.0 + x * x).sqrt(), (1.0 + y * y).sqrt());
        (x / p * (y / p).atan() + y / q * (x / q).atan()) / (2.0 * PI)
    };
    // The element looks along the edge `a`.
    let perpendicular = |a: f32, b: f32, c: f32| {
        let far = a.hypot(c);
        ((b / c).atan() - c / far * (b / far).atan()) / (2.0 * PI)
    };
    let lamps = lamp_above();
    let up = lamps.open_lamp(Vec3::ZERO, Vec3::Z);
    let wanted = 4.0 * parallel(1.0, 1.0, 3.0);
    assert!((up / wanted - 1.0).abs() < 0.001, "{up} is not {wanted}");
    // Looking sideways it sees the half of the lamp that is before it.
    let aside = lamps.open_lamp(Vec3::ZERO, Vec3::X);
    let wanted = 2.0 * perpendicular(1.0, 1.0, 3.0);
    assert!((aside / wanted - 1.0).abs() < 0.001, "{aside} is not {wanted}");
    assert!(lamps.open_lamp(Vec3::ZERO, -Vec3::Z).abs() < 1e-6, "nothing comes from behind");
    // All points that are tried together are as bright: their mean, by the lamp's area, over π.
    let tried: f32 = (0..SHARES).flat_map(|share| lamps.points(share, Vec3::ZERO, Vec3::Z)).map(|(_, s)| s).sum();
    let mean = tried / (SHARES * crate::view::lamps::EACH) as f32 * 4.0 / PI;
    assert!((mean / up - 1.0).abs() < 0.01, "{mean} is not {up}");
}

// A lamp of width 2 at height 3 and an edge at height 1: by similar triangles its shadow turns from dark to light over
// 2 × 1 / (3 - 1) = 1.
#[test]
fn a_penumbra_is_as_wide_as_similar_triangles_say() {
    let lamps = lamp_above();
    let mut solid = Solid::default();
    let corner = |x: f32, y: f32| (vec3(x, y, 1.0), Vec3::Z, vec2(x, y));
    solid.quad([corner(0.0, -50.0), corner(50.0, -50.0), corner(50.0, 50.0), corner(0.0, 50.0)], Material::Stock);
    let rays = Rays::new(&solid);
    let hidden = |x: f32| {
        let one = |share| blocked(&rays, &lamps, None, share, vec3(x, 0.0, 0.0), Vec3::Z).lamp;
        (0..SHARES).map(one).sum::<f32>() / SHARES as f32
    };
    let at = |share: f32| (-2000..2000).map(|step| step as f32 / 1000.0).find(|x| hidden(*x) >= share);
    let (start, end) = (at(0.05).expect("a shadow"), at(0.95).expect("a dark one"));
    assert!((end - start - 0.9).abs() < 0.05, "from {start} to {end}");
    assert!(hidden(-1.5) < 1e-6 && hidden(1.5) > 1.0 - 1e-6);
}

fn in_even_light(shape: &BookShape, view: &BookView) -> Arrangement {
    Arrangement { lamps: Lamps::even(), ..arrange(shape, view) }
}

// A white book in a white room that is equally bright everywhere shows no shade at all (the furnace test).
#[test]
fn a_closed_white_room_is_even() {
    for pose in [Pose::Standing, Pose::Lying, Pose::Leaning] {
        let lit = light(&in_even_light(&paperback(), &small(pose)), (160, 130));
        let (low, high) = (lit.book.light.iter().min(), lit.book.light.iter().max());
        let (low, high) = (low.expect("a book is seen"), high.expect("a book is seen"));
        assert!(high - low <= 2 && (f32::from(*high) / FULL - 0.96).abs() < 0.001, "{low} to {high}");
        assert!(lit.ground.iter().all(|share| *share >= 65_534), "the ground is without shade");
    }
}

#[test]
fn every_binding_is_seen_whole_and_without_holes() {
    for shape in all_shapes() {
        for (_, pose) in Pose::WORDS {
            let view = small(pose);
            let arrangement = arrange(&shape, &view);
            let (low, high) = arrangement.solid.bounds();
            assert!(low.z.abs() < 0.5, "{pose:?} of {:?} stands on the ground: {low}", shape.cover);
            assert!(arrangement.camera.eye.z > 0.0 && high.z > 0.0);
            let lit = light(&arrangement, (160, 130));
            let sight = &lit.book.sight;
            let share = sight.pieces.len() as f32 / (160.0 * 130.0);
            assert!((0.05..0.7).contains(&share), "{pose:?} of {:?} fills {share} of the picture", shape.cover);
            // Between the first and the last pixel of a row there is nothing through which one sees, but past a lifted
            // corner.
            let rows = (0..130).map(|y| sight.row(y)).filter(|row| row.len() > 8);
            let gaps: usize =
                rows.map(|row| row.windows(2).filter(|pair| pair[1].column > pair[0].column + 1).count()).sum();
            assert!(gaps <= 12, "{gaps} gaps in {pose:?} of {:?}", shape.cover);
        }
    }
}

// Pages of 20 mm, blocks of 600 and of next to nothing, a score that lies at the fore edge.
#[test]
fn strange_books_are_shapes_all_the_same() {
    let paperback = |hinge| book(CoverKind::Paperback { stock: 0.3, hinge, flaps: None }, 19.8);
    let mut strange = all_shapes();
    strange.extend([18.5, 18.7, 30.0].map(paperback));
    for shape in strange {
        for block in [1e-6, 600.0] {
            let shape = BookShape { page: (20.0, 20.0), block, ..shape.clone() };
            let arrangement = arrange(&shape, &small(Pose::Standing));
            let (low, high) = arrangement.solid.bounds();
            assert!(low.is_finite() && high.is_finite(), "{:?} {block}: {low} to {high}", shape.cover);
            assert!(light(&arrangement, (160, 130)).is_whole());
        }
    }
}

// A level camera keeps upright edges upright; from far above it would stretch them, so there it looks down.
#[test]
fn the_camera_looks_down_from_far_above() {
    for (above, upright) in [(11.0, true), (70.0, false)] {
        let view = BookView { above: Some(above), ..small(Pose::Standing) };
        let camera = arrange(&paperback(), &view).camera;
        let [foot, head] = [0.0, 198.0].map(|z| camera.project(vec3(129.0, 0.0, z)).x);
        assert_eq!((foot - head).abs() < 0.01, upright, "{above}: {foot} and {head}");
    }
}

fn stripes() -> Texture {
    // 1 pixel to the millimetre over back, spine and front; ten millimetres to a stripe.
    let (width, height) = (278, 198);
    let colour = |x: usize, y: usize| [(x / 10 * 9 % 256) as u8, (y / 10 * 13 % 256) as u8, 128];
    let rgb: Vec<u8> = (0..height).flat_map(|y| (0..width).flat_map(move |x| colour(x, y))).collect();
    Texture::new(&rgb, (width, height), 1.0, (-138.9, 0.0))
}

pub fn paints() -> Paints {
    Paints { sprayed: None, head_bands: [[255; 3]; 2], ribbon: None }
}

// Straight on and in even light a front is what was printed on it: the middle of every stripe, as bright as its light
// (sRGB by IEC 61966-2-1), which is not yet so bright that white is softened.
#[test]
fn a_front_seen_straight_on_is_as_it_was_printed() {
    let shape = BookShape { lamination: Lamination::Uncoated, ..paperback() };
    let view = BookView { pixels: (400, 500), ..small(Pose::Standing) };
    let mut arrangement = in_even_light(&shape, &view);
    let stand = Stand { round: 0.0, above: 0.0, distance: 50_000.0, level: true };
    let corners = arrangement.solid.facets.iter().flat_map(|facet| facet.at).collect::<Vec<_>>();
    arrangement.camera = Camera::new(stand, vec3(64.5, 10.0, 99.0)).framed(corners.into_iter(), (400, 500), 0.9, 0.5);
    let mut lit = light(&arrangement, (400, 500));
    let even = 0.8;
    lit.book.light.fill((FULL * even) as u16);
    let lit_by = |sample: f32| {
        let linear = even
            * if sample <= 0.04045 * 255.0 {
                sample / 255.0 / 12.92
            } else {
                ((sample / 255.0 + 0.055) / 1.055).powf(2.4)
            };
        255.0 * if linear <= 0.003_130_8 { linear * 12.92 } else { 1.055 * linear.powf(1.0 / 2.4) - 0.055 }
    };
    let (print, paints) = (stripes(), paints());
    let book = PrintedBook { shape: &shape, print: &print, paints: &paints };
    let laid = layers(&[book], (&arrangement, &lit), (&view, Some(STUDIO)));
    let (mut off, mut count) = (0.0, 0.0);
    for x in (25..120).step_by(10) {
        for y in (15..190).step_by(10) {
            // The front begins at the fold; its left edge is 9.9 mm right of the spine's middle.
            let at = arrangement.camera.project(vec3(x as f32, 0.0, 198.0 - y as f32));
            let shown = laid.book[at.y as usize * 400 + at.x as usize];
            let printed = (x as f32 + 9.9 + 138.9) as usize;
            let wanted = [(printed / 10 * 9 % 256) as f32, (y / 10 * 13 % 256) as f32, 128.0].map(lit_by);
            off += shown.iter().zip(wanted).map(|(shown, wanted)| (f32::from(*shown) - wanted).abs()).sum::<f32>();
            count += 3.0;
        }
    }
    assert!(off / count < 2.0, "off by {}", off / count);
}

#[test]
fn an_even_surface_has_no_noise() {
    let lit = light(&arrange(&paperback(), &small(Pose::Standing)), (160, 130));
    // Neighbours far within the front differ by less than half a step of 255, twice as much light being 65,535.
    let sight = &lit.book.sight;
    let mut worst = 0;
    for y in 40..90 {
        let row = &sight.rows[y..=y + 1];
        let pieces = &sight.pieces[row[0] as usize..row[1] as usize];
        let light = &lit.book.light[row[0] as usize..row[1] as usize];
        let inner = pieces.len() / 2..pieces.len().saturating_sub(8);
        let near = light[inner].windows(2).map(|pair| pair[0].abs_diff(pair[1])).max();
        worst = worst.max(near.unwrap_or(0));
    }
    assert!(worst > 0 && f32::from(worst) / FULL * 255.0 < 0.5, "{worst}");
}

#[test]
fn one_thread_and_two_make_the_same() {
    let arrangement = arrange(&paperback(), &small(Pose::Standing));
    let on = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| light(&arrangement, (160, 130)))
    };
    let (one, two) = (on(1), on(2));
    assert!(one == two);
    let bytes = crate::view::stored::to_bytes(&one);
    assert!(crate::view::stored::from_bytes(&bytes).as_ref() == Some(&one), "bytes give it back");
    assert!(crate::view::stored::from_bytes(&bytes[..bytes.len() / 2]).is_none());
    let (shape, print, paints) = (paperback(), stripes(), paints());
    let laid = || {
        let book = PrintedBook { shape: &shape, print: &print, paints: &paints };
        layers(&[book], (&arrangement, &one), (&small(Pose::Standing), Some(STUDIO))).whole()
    };
    assert!(laid() == laid());
}

#[test]
fn the_print_runs_from_back_to_front_on_every_side() {
    for (bound_right, sign) in [(false, 1.0), (true, -1.0)] {
        let solid = closed(&BookShape { bound_right, ..paperback() });
        for facet in solid.facets.iter().filter(|facet| facet.is_printed()) {
            let along = facet.place[0].x * sign;
            // The front looks towards us and is after the spine; the back is before it.
            if facet.normal[0].y < -0.9 {
                assert!(along >= 9.0 && (facet.at[0].x.abs() - (along - 9.9)).abs() < 1.0, "{facet:?}");
            } else if facet.normal[0].y > 0.9 {
                assert!(along <= -9.0, "{facet:?}");
            }
            assert!((facet.place[0].y - (198.0 - facet.at[0].z)).abs() < 0.01);
        }
    }
}
