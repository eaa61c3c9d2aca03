//! Solid: the surfaces of a book, as triangles.

use glam::{Affine3A, Vec2, Vec3};

/// What a surface is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Material {
    /// The printed material of the sheet; its place is on the sheet.
    Sheet,
    /// The cut edge of the sheet.
    Stock,
    /// The material of the cover that is not printed.
    Inside,
    /// Edges of the leaves: the place is millimetres through the block, and along the edge.
    Leaves,
    /// The first and the last page.
    Page,
    HeadBand,
    Ribbon,
    Staple,
    /// A case under its jacket.
    Cloth,
}

#[derive(Clone, Copy, Debug)]
pub struct Facet {
    pub at: [Vec3; 3],
    pub normal: [Vec3; 3],
    pub place: [Vec2; 3],
    pub material: Material,
    /// Which of the books in the picture it belongs to.
    pub book: u16,
}

impl Facet {
    pub fn is_printed(&self) -> bool {
        self.material == Material::Sheet
    }
}

#[derive(Clone, Debug, Default)]
pub struct Solid {
    pub facets: Vec<Facet>,
}

/// A corner of a facet: where it is, where it looks, and its place on its surface.
pub type Corner = (Vec3, Vec3, Vec2);

impl Solid {
    /// A quadrilateral with corners in a round.
    pub fn quad(&mut self, [a, b, c, d]: [Corner; 4], material: Material) {
        self.facet([a, b, c], material);
        self.facet([a, c, d], material);
    }

    fn facet(&mut self, corners: [Corner; 3], material: Material) {
        let at = corners.map(|corner| corner.0);
        let area = (at[1] - at[0]).cross(at[2] - at[0]).length_squared();
        // Neither a line nor one that lies nowhere.
        if !area.is_finite() || area < 1e-12 {
            return;
        }
        self.facets.push(Facet { at, normal: corners.map(|c| c.1), place: corners.map(|c| c.2), material, book: 0 });
    }

    /// A box with its edges along the axes.
    pub fn cuboid(&mut self, low: Vec3, high: Vec3, material: Material) {
        for axis in 0..3 {
            let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
            for (edge, sign) in [(low, -1.0), (high, 1.0)] {
                let mut normal = Vec3::ZERO;
                normal[axis] = sign;
                let corner = |a: f32, b: f32| {
                    let mut at = Vec3::ZERO;
                    at[axis] = edge[axis];
                    at[u] = a;
                    at[v] = b;
                    (at, normal, Vec2::new(a, b))
                };
                let round = [
                    corner(low[u], low[v]),
                    corner(high[u], low[v]),
                    corner(high[u], high[v]),
                    corner(low[u], high[v]),
                ];
                self.quad(round, material);
            }
        }
    }

    /// The mirror image in the plane x = 0: a book that is bound on the right. Along the sheet counts from the left then.
    pub fn mirrored(mut self) -> Solid {
        let flip = |v: Vec3| Vec3::new(-v.x, v.y, v.z);
        for facet in &mut self.facets {
            if facet.material == Material::Sheet {
                facet.place = facet.place.map(|place| Vec2::new(-place.x, place.y));
            }
            facet.at = facet.at.map(flip);
            facet.normal = facet.normal.map(flip);
        }
        self
    }

    /// Adds a book, moved.
    pub fn add(&mut self, other: &Solid, moved: Affine3A, book: u16) {
        self.facets.extend(other.facets.iter().map(|facet| Facet {
            at: facet.at.map(|at| moved.transform_point3(at)),
            normal: facet.normal.map(|normal| moved.transform_vector3(normal)),
            book,
            ..*facet
        }));
    }

    pub fn bounds(&self) -> (Vec3, Vec3) {
        let all = self.facets.iter().flat_map(|facet| facet.at);
        all.fold((Vec3::INFINITY, Vec3::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
    }
}
