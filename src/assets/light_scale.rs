//! Light scale: how much light each level of a picture stands for, so that pictures can be averaged as an eye does.

pub struct LightScale {
    /// Of white, never falling.
    light: [f32; 256],
    /// Light of each level and of the next: from half of it on, the next is nearer. Nothing is lighter than the last.
    doubled: [f32; 256],
    /// For even steps of light, the level nearest to where the step begins.
    from: Vec<u8>,
}

/// Fine enough that sRGB begins no two levels within a step. A power of two, so that a step begins at a number that is exact.
const STEPS: usize = 1 << 12;
/// Numbers that are handled together, as processors do.
const AT_A_TIME: usize = 256;
/// From here on numbers of 32 bits have no fraction: what is added to it is rounded, and stands in the last bits.
const WHOLE: f32 = (1 << 23) as f32;

impl LightScale {
    /// Light of every level from dark to white.
    pub fn new(lights: &[f64]) -> LightScale {
        let mut most = 0.0_f32;
        let light = std::array::from_fn(|level| {
            most = most.max(lights.get(level).map_or(0.0, |light| light.clamp(0.0, 1.0) as f32));
            most
        });
        let doubled =
            std::array::from_fn(|level: usize| light.get(level + 1).map_or(f32::INFINITY, |next| light[level] + next));
        let nearest = |step: usize| {
            let light = 2.0 * step as f32 / STEPS as f32;
            doubled.partition_point(|doubled| *doubled <= light) as u8
        };
        LightScale { light, doubled, from: (0..=STEPS).map(nearest).collect() }
    }

    pub fn light(&self, level: u8) -> f32 {
        self.light[usize::from(level)]
    }

    /// Light of a sample of 16 bits: between two levels it runs straight.
    pub fn light_of_word(&self, word: u16) -> f32 {
        let (level, rest) = (usize::from(word / 257), f32::from(word % 257) / 257.0);
        let next = self.light[(level + 1).min(255)];
        self.light[level] + (next - self.light[level]) * rest
    }

    /// The sample of 16 bits of so much light.
    pub fn word(&self, light: f32) -> u16 {
        let next = self.light.partition_point(|level| *level <= light);
        if next == 0 || next > 255 {
            return if next == 0 { 0 } else { u16::MAX };
        }
        let (one, other) = (self.light[next - 1], self.light[next]);
        (((next - 1) as f32 + (light - one) / (other - one)) * 257.0).round() as u16
    }

    /// The levels nearest to so much light each: as `level`, in less than half of its time.
    pub fn levels(&self, lights: &[f32], levels: &mut [u8]) {
        let mut steps = [0_u32; AT_A_TIME];
        for (lights, levels) in lights.chunks(AT_A_TIME).zip(levels.chunks_mut(AT_A_TIME)) {
            for (step, light) in steps.iter_mut().zip(lights) {
                *step = (light.clamp(0.0, 1.0) * STEPS as f32 + 0.5 + WHOLE).to_bits();
            }
            for ((step, light), level) in steps.iter().zip(lights).zip(levels) {
                // Rounded up, so that the step before is no lighter.
                let step = (step & (2 * STEPS as u32 - 1)).saturating_sub(1) as usize;
                let begun = self.from[step.min(STEPS)];
                *level = self.onwards(begun, light.clamp(0.0, 1.0));
            }
        }
    }

    /// The level nearest to so much light.
    pub fn level(&self, light: f32) -> u8 {
        let light = light.clamp(0.0, 1.0);
        self.onwards(self.from[(light * STEPS as f32) as usize], light)
    }

    /// The level nearest to so much light, from one that is no lighter.
    fn onwards(&self, begun: u8, light: f32) -> u8 {
        // Seldom more than one level begins within a step, and a sum waits for no guess of the processor as a loop does.
        let mut level = begun + u8::from(self.doubled[usize::from(begun)] <= 2.0 * light);
        while self.doubled[usize::from(level)] <= 2.0 * light {
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

    #[test]
    fn words_come_back_and_are_the_levels_where_they_are_whole() {
        let scale = LightScale::new(&(0..256).map(|level| (f64::from(level) / 255.0).powf(2.2)).collect::<Vec<_>>());
        for word in (0..=u16::MAX).step_by(7) {
            let back = scale.word(scale.light_of_word(word));
            assert!(back.abs_diff(word) <= 1 || word < 257, "{word}: {back}");
            assert!((scale.light_of_word(word / 257 * 257) - scale.light((word / 257) as u8)).abs() < 1e-7);
        }
    }

    /// Scales on which many levels begin within a step, some of them none lighter than the last.
    #[test]
    fn every_light_finds_the_level_that_is_nearest() {
        let curve =
            |curve: &dyn Fn(f64) -> f64| (0..256).map(|level| curve(f64::from(level) / 255.0)).collect::<Vec<f64>>();
        let late = |share: f64| (share * 5.0 - 4.0).max(0.0);
        for lights in
            [curve(&|share| share), curve(&|share| share.powf(2.2)), curve(&|share| share.powi(5)), curve(&late)]
        {
            let scale = LightScale::new(&lights);
            for step in 0..=60_000_u16 {
                let light = f32::from(step) / 60_000.0;
                let off = |level: u8| (lights[usize::from(level)] - f64::from(light)).abs();
                let least = (0..=255).map(off).fold(f64::INFINITY, f64::min);
                let level = scale.level(light);
                assert!(off(level) - least < 1e-7, "{light}: {level}");
            }
            let beyond = [-1.0, 0.0, 1.0, 1.5, f32::NAN, f32::INFINITY, f32::NEG_INFINITY];
            let steps = (0..=STEPS * 16).map(|step| step as f32 / (STEPS * 16) as f32);
            let lights: Vec<f32> =
                steps.chain((0..255).map(|level| scale.doubled[level] / 2.0)).chain(beyond).collect();
            let mut levels = vec![0; lights.len()];
            scale.levels(&lights, &mut levels);
            let singly: Vec<u8> = lights.iter().map(|light| scale.level(*light)).collect();
            assert!(levels == singly);
        }
    }
}
