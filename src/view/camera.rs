//! Camera: a pinhole that keeps upright edges upright where it can.

use glam::{Vec2, Vec3, vec2, vec3};

#[derive(Clone, Copy, Debug)]
pub struct Camera {
    pub eye: Vec3,
    right: Vec3,
    down: Vec3,
    forward: Vec3,
    /// Pixels of the picture to a unit of slope.
    pub focal: f32,
    /// Where the axis meets the picture, in pixels.
    pub axis: Vec2,
}

/// From where a picture is taken. Degrees and millimetres.
#[derive(Clone, Copy, Debug)]
pub struct Stand {
    pub round: f32,
    pub above: f32,
    pub distance: f32,
    /// Held level, so that upright edges stay upright.
    pub level: bool,
}

impl Camera {
    pub fn new(stand: Stand, target: Vec3) -> Camera {
        let (round, above) = (stand.round.to_radians(), stand.above.to_radians());
        let flat = libm::cosf(above);
        let to = vec3(-libm::sinf(round) * flat, -libm::cosf(round) * flat, libm::sinf(above));
        let eye = target + to * stand.distance;
        let forward = if stand.level { vec3(-to.x, -to.y, 0.0).normalize() } else { -to };
        let right = forward.cross(Vec3::Z).normalize();
        let down = forward.cross(right);
        Camera { eye, right, down, forward, focal: 1.0, axis: Vec2::ZERO }
    }

    /// Turns, shifts and brings the picture near, so that `points` fill a share of it, in the middle.
    pub fn framed(
        mut self,
        points: impl Iterator<Item = Vec3>,
        size: (usize, usize),
        share: f32,
        lower: f32,
    ) -> Camera {
        let (low, high) = points.fold((Vec2::INFINITY, Vec2::NEG_INFINITY), |(low, high), point| {
            let at = self.project(point);
            (low.min(at), high.max(at))
        });
        let whole = vec2(size.0 as f32, size.1 as f32);
        let extent = (high - low).max(Vec2::splat(1e-6));
        let focal = share * (whole.x / extent.x).min(whole.y / extent.y);
        self.focal = focal;
        self.axis = whole * vec2(0.5, lower) - (low + high) / 2.0 * focal;
        self
    }

    pub fn project(&self, point: Vec3) -> Vec2 {
        let to = point - self.eye;
        let depth = to.dot(self.forward).max(1e-3);
        vec2(to.dot(self.right), to.dot(self.down)) / depth * self.focal + self.axis
    }

    /// The direction in which a place of the picture is seen; not of length one.
    pub fn ray(&self, place: Vec2) -> Vec3 {
        let slope = (place - self.axis) / self.focal;
        self.forward + self.right * slope.x + self.down * slope.y
    }

    pub fn right(&self) -> Vec3 {
        self.right
    }
    pub fn toward(&self) -> Vec3 {
        vec3(-self.forward.x, -self.forward.y, 0.0).normalize()
    }
}
