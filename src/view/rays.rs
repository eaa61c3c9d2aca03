//! Rays: what a ray meets, by a tree of boxes.

use crate::view::solid::Solid;
use glam::{Vec3, Vec3A};
use obvhs::BvhBuildParams;
use obvhs::bvh2::Bvh2;
use obvhs::bvh2::builder::build_bvh2_from_tris;
use obvhs::ray::{Ray, RayHit};
use obvhs::triangle::Triangle;
use std::time::Duration;

pub struct Rays {
    tree: Bvh2,
    /// In the order of the tree.
    triangles: Vec<Triangle>,
    facets: Vec<u32>,
}

impl Rays {
    pub fn new(solid: &Solid) -> Rays {
        let triangle = |at: [Vec3; 3]| Triangle { v0: at[0].into(), v1: at[1].into(), v2: at[2].into() };
        let triangles: Vec<Triangle> = solid.facets.iter().map(|facet| triangle(facet.at)).collect();
        let mut params = BvhBuildParams::medium_build();
        params.pre_split = false;
        let tree = build_bvh2_from_tris(&triangles, params, &mut Duration::default());
        let ordered = tree.primitive_indices.iter().map(|at| triangles[*at as usize]).collect();
        Rays { facets: tree.primitive_indices.clone(), triangles: ordered, tree }
    }

    /// The first facet in a direction, and how far it is.
    pub fn first(&self, from: Vec3, way: Vec3) -> Option<(u32, f32)> {
        let ray = Ray::new(Vec3A::from(from), Vec3A::from(way), 0.0, f32::INFINITY);
        let mut hit = RayHit::none();
        let met = self.tree.ray_traverse(ray, &mut hit, |ray, at| self.triangles[at].intersect(ray));
        met.then(|| (self.facets[hit.primitive_id as usize], hit.t))
    }

    /// Whether the way is free, up to a distance.
    pub fn free(&self, from: Vec3, way: Vec3, distance: f32) -> bool {
        let ray = Ray::new(Vec3A::from(from), Vec3A::from(way), 0.0, distance);
        self.tree.ray_traverse_miss(ray, |ray, at| self.triangles[at].intersect(ray))
    }
}
