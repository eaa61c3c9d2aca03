//! Light scale: how much light each level of a picture stands for, so that pictures can be averaged as an eye does.

pub struct LightScale {
    /// Of white, never falling.
    light: [f32; 256],
    /// For even steps of light, a level that is no lighter.
    from: Vec<u8>,
}

const STEPS: usize = 1 << 12;

impl LightScale {
    /// Light of every level from dark to white.
    pub fn new(lights: &[f64]) -> LightScale {
        let mut most = 0.0_f32;
        let light = std::array::from_fn(|level| {
            most = most.max(lights.get(level).map_or(0.0, |light| light.clamp(0.0, 1.0) as f32));
            most
        });
        let darker = |step: usize| {
            let share = step as f32 / STEPS as f32;
            light.partition_point(|light| *light <= share).saturating_sub(1) as u8
        };
        let from = (0..=STEPS).map(darker).collect();
        LightScale { light, from }
    }

    pub fn light(&self, level: u8) -> f32 {
        self.light[usize::from(level)]
    }

    /// The level nearest to so much light.
    pub fn level(&self, light: f32) -> u8 {
        let light = light.clamp(0.0, 1.0);
        let mut level = self.from[(light * STEPS as f32) as usize];
        while level < u8::MAX && self.light(level) + self.light(level + 1) <= 2.0 * light {
            level += 1;
        }
        level
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_come_back_and_the_mean_of_black_and_white_is_that_of_their_light() {
        // IEC 61966-2-1.
        let light = |level: usize| {
            let share = level as f64 / 255.0;
            if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        let scale = LightScale::new(&(0..256).map(light).collect::<Vec<_>>());
        for level in 0..=255 {
            assert_eq!(scale.level(scale.light(level)), level);
        }
        assert_eq!(scale.level(0.5), 188);
    }
}
