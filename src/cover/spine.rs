//! Spine: the width that follows from pages, paper and binding, with its sum.

use crate::cover::{Binding, Format, Measure, SpineShape};
use crate::ground::number;

/// Whether the page count is the last word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Extent {
    #[default]
    Confirmed,
    Estimated,
}

/// The spine and all it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct Spine {
    /// Pages after rounding up to the section.
    pub pages: u32,
    pub block: f64,
    /// Before rounding and before what the printer states.
    pub computed: f64,
    /// What the sheet is built with.
    pub width: f64,
    pub measures: Vec<Measure>,
}

impl Format {
    /// The spine of a book of so many pages.
    pub fn spine(&self, pages: u32, extent: Extent) -> Spine {
        let section = self.whole_section();
        let rounded = pages.div_ceil(section) * section;
        let mut measures = Vec::new();
        let estimate = if extent == Extent::Estimated { ", estimated" } else { "" };
        measures.push(Measure::count("pages", rounded, format!("{pages} pages{estimate}, in sections of {section}")));

        let (block, sum) = self.block(rounded);
        measures.push(Measure::length("block", block, sum));

        let factor = self.spine_shape.factor();
        let (computed, sum) = match self.binding {
            Binding::Stapled => (0.0, "a stapled book has none".to_owned()),
            Binding::Paperback | Binding::FlappedPaperback | Binding::Screen(_) => (
                block * factor + 2.0 * self.cover_stock + self.glue,
                format!(
                    "{}{} + 2 × {} cover stock{}",
                    number(block),
                    self.spine_shape.sum(),
                    number(self.cover_stock),
                    if self.glue > 0.0 { format!(" + {} glue", number(self.glue)) } else { String::new() }
                ),
            ),
            Binding::Case | Binding::Jacket => {
                let board = self.board.thickness;
                let back = format!("{}{}", number(block), self.spine_shape.sum());
                let (case, sum) = if self.spine_shape.holds_the_boards() {
                    (block * factor, back)
                } else {
                    (block * factor + 2.0 * board, format!("{back} + 2 × {} board", number(board)))
                };
                if self.binding == Binding::Case {
                    (case, sum)
                } else {
                    (case + JACKET_EASE, format!("{sum} + {} ease of a jacket", number(JACKET_EASE)))
                }
            }
        };
        let sum = if self.spine_shape == SpineShape::Flat { sum } else { format!("{sum}; {ESTIMATE}") };
        measures.push(Measure::length("spine computed", computed, sum));

        let (width, sum) = if let Some(stated) = &self.stated_spine {
            let difference = stated.value - computed;
            (stated.value, format!("stated by the printer; {} mm from the computed", signed(difference)))
        } else if self.round_spine > 0.0 {
            let width = (computed / self.round_spine).round() * self.round_spine;
            (width, format!("rounded to the nearest {} mm", number(self.round_spine)))
        } else {
            (computed, "as computed".to_owned())
        };
        measures.push(Measure::length("spine", width, sum));
        Spine { pages: rounded, block, computed, width, measures }
    }

    /// Pages a section, at the least: a leaf has two, a folded and stapled sheet four.
    pub fn whole_section(&self) -> u32 {
        self.section.max(if self.binding == Binding::Stapled { 4 } else { 2 })
    }

    /// Thickness of all leaves, and the sum it came from. Where every paper states its pages, the blank ones that fill the
    /// last section are on the paper that carries most.
    fn block(&self, pages: u32) -> (f64, String) {
        let inserted: u32 = self.papers.iter().filter_map(|paper| paper.pages).sum();
        let blank = pages.saturating_sub(inserted);
        let most = self.papers.iter().filter_map(|paper| paper.pages).max();
        let carrier = if self.papers.iter().any(|paper| paper.pages.is_none()) {
            None
        } else {
            self.papers.iter().position(|paper| paper.pages == most)
        };
        let mut block = 0.0;
        let mut sums = Vec::new();
        for (at, paper) in self.papers.iter().enumerate() {
            let on_it = match paper.pages {
                None => blank,
                Some(stated) if carrier == Some(at) => stated + blank,
                Some(stated) => stated,
            };
            block += f64::from(on_it) / 2.0 * paper.caliper;
            sums.push(format!("{on_it} pages ÷ 2 × {} mm ({})", number(paper.caliper), paper.sum));
        }
        (block, sums.join(" + "))
    }
}

/// A jacket's spine is wider than the case's by this much, so that it goes round. Common practice.
const JACKET_EASE: f64 = 1.0;

/// A published factor is no measurement of this book.
const ESTIMATE: &str = "an estimate: measure the binder's dummy and state it as `spine`";

fn signed(value: f64) -> String {
    if value >= 0.0 { format!("+{}", number(value)) } else { number(value) }
}
