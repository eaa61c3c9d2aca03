//! Faults: what may be wrong on a patch, how it is written, and how it is measured in a press file.

use crate::chance::Chance;
use crate::png::png;
use serde_json::Value;

/// A rule, and one number that it limits.
pub struct Fault {
    pub rule: &'static str,
    pub limit: f64,
    /// Less than the limit is the fault; else more.
    pub least: bool,
    /// The cover states the number itself, so the press file must have it.
    pub exact: bool,
    /// Values that are tried, within and beyond.
    values: [(f64, f64); 2],
    /// Ink of the patch and of what stands on it, percent.
    inks: fn(f64) -> [[f64; 4]; 2],
    /// The element, for a number; its place follows.
    element: fn(f64) -> String,
    pub measure: fn(&Value) -> f64,
}

/// Paper with a breath of yellow: no ground is without ink.
const PALE: [f64; 4] = [0.0, 0.0, 8.0, 0.0];
const BLACK: [f64; 4] = [0.0, 0.0, 0.0, 100.0];

fn number(marks: &Value, name: &str) -> f64 {
    marks[name].as_f64().unwrap_or(f64::NAN)
}

fn sum(marks: &Value, name: &str) -> f64 {
    marks[name].as_array().map_or(f64::NAN, |inks| inks.iter().filter_map(Value::as_f64).sum())
}

fn words(size: f64, more: &str) -> String {
    format!("text WHAT words=\"3517\" {{ font \"EB Garamond\"; size {size}; {more}; PLACE; width 30 }}")
}

/// The limits and their sources are those of `docs/rules/limits.md`.
pub const FAULTS: [Fault; 9] = [
    Fault {
        rule: "small-type",
        limit: 6.0,
        least: true,
        exact: true,
        values: [(6.03, 7.5), (4.2, 5.97)],
        inks: |_| [PALE, BLACK],
        element: |size| words(size, "swatch INK"),
        measure: |marks| number(marks, "size"),
    },
    // Lighter than a ground of one ink.
    Fault {
        rule: "small-type",
        limit: 7.0,
        least: true,
        exact: true,
        values: [(7.04, 8.5), (5.0, 6.96)],
        inks: |_| [[0.0, 0.0, 0.0, 90.0], [0.0, 0.0, 6.0, 0.0]],
        element: |size| words(size, "swatch INK"),
        measure: |marks| number(marks, "size"),
    },
    Fault {
        rule: "small-type-in-several-inks",
        limit: 9.0,
        least: true,
        exact: true,
        values: [(9.05, 11.0), (6.5, 8.95)],
        inks: |_| [PALE, [90.0, 70.0, 0.0, 0.0]],
        element: |size| words(size, "swatch INK"),
        measure: |marks| number(marks, "size"),
    },
    Fault {
        rule: "hairline",
        limit: 0.25,
        least: true,
        exact: true,
        values: [(0.253, 0.4), (0.13, 0.247)],
        inks: |_| [PALE, BLACK],
        element: |weight| format!("rule WHAT {{ swatch INK; weight {weight}; PLACE; width 30 }}"),
        measure: |marks| number(marks, "weight"),
    },
    Fault {
        rule: "effective-resolution",
        limit: 300.0,
        least: true,
        exact: true,
        values: [(303.0, 380.0), (160.0, 297.0)],
        inks: |_| [PALE, BLACK],
        // A picture of 40 pixels a side.
        element: |ppi| {
            let side = f64::from(PIXELS) / ppi * 25.4;
            format!("image WHAT file=\"probe.png\" {{ PLACE; width {side}; height {side} }}")
        },
        measure: |marks| number(marks, "ppi"),
    },
    Fault {
        rule: "ink-over-limit",
        limit: 300.0,
        least: false,
        exact: true,
        values: [(270.0, 299.0), (301.5, 355.0)],
        inks: |total| [[(total - 100.0) / 3.0, (total - 100.0) / 3.0, (total - 100.0) / 3.0, 100.0], BLACK],
        element: |_| "oval WHAT { swatch INK; PLACE; width 6; height 6 }".to_owned(),
        measure: |marks| sum(marks, "ground"),
    },
    // By the contrast that is measured: it is not what the cover states.
    Fault {
        rule: "low-contrast",
        limit: 3.0,
        least: true,
        exact: false,
        values: [(62.0, 95.0), (20.0, 44.0)],
        inks: |tint| [PALE, [0.0, 0.0, 0.0, tint]],
        element: |_| words(10.0, "swatch INK"),
        measure: |marks| number(marks, "contrast"),
    },
    Fault {
        rule: "black-not-overprinting",
        limit: 0.5,
        least: true,
        exact: true,
        values: [(1.0, 1.0), (0.0, 0.0)],
        inks: |_| [[30.0, 0.0, 20.0, 0.0], BLACK],
        element: |over| words(11.0, &format!("swatch INK overprint=#{}", over > 0.5)),
        measure: |marks| f64::from(u8::from(marks["over"] == true)),
    },
    Fault {
        rule: "white-overprint",
        limit: 0.5,
        least: false,
        exact: true,
        values: [(0.0, 0.0), (1.0, 1.0)],
        inks: |_| [[40.0, 20.0, 0.0, 60.0], [0.0; 4]],
        element: |multiplied| {
            let blend = if multiplied > 0.5 { "blend multiply; " } else { "" };
            format!("oval WHAT {{ swatch INK; {blend}PLACE; width 6; height 6 }}")
        },
        // Nothing times anything is that thing (ISO 32000-1, 11.3.5): it is not seen.
        measure: |marks| f64::from(u8::from(marks["blend"] == "/Multiply" && sum(marks, "ink") == 0.0)),
    },
];

/// A fault with its number.
pub struct Seed {
    pub fault: &'static Fault,
    pub value: f64,
}

impl Fault {
    pub fn seed(&'static self, beyond: bool, chance: &mut Chance) -> Seed {
        let (from, to) = self.values[usize::from(beyond)];
        let share = chance.below(1001) as f64 / 1000.0;
        Seed { fault: self, value: ((from + (to - from) * share) * 1000.0).round() / 1000.0 }
    }
}

impl Seed {
    /// Ground and ink of the patch of this number.
    pub fn swatches(&self, at: usize) -> String {
        let [ground, ink] = (self.fault.inks)(self.value);
        let swatch = |name: &str, [c, m, y, k]: [f64; 4]| {
            format!("    swatch {name}-{at} c={c:.4} m={m:.4} y={y:.4} k={k:.4}\n")
        };
        swatch("ground", ground) + &swatch("ink", ink)
    }

    pub fn element(&self, at: usize, left: f64, top: f64) -> String {
        let text = (self.fault.element)(self.value).replace("WHAT", &format!("probe-{at}"));
        text.replace("INK", &format!("ink-{at}")).replace("PLACE", &format!("left {left}; top {top}"))
    }
}

const PIXELS: u32 = 40;

/// Grey noise without a resolution of its own.
pub fn picture() -> Vec<u8> {
    let mut chance = Chance::new(7);
    let rows: Vec<u8> = (0..PIXELS)
        .flat_map(|_| std::iter::once(0).chain((0..PIXELS).map(|_| chance.below(256) as u8)).collect::<Vec<u8>>())
        .collect();
    png([PIXELS, PIXELS], [8, 0], &[], &rows)
}
