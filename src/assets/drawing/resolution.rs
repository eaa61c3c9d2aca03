//! Resolution: how finely the effects of a drawing are drawn as pictures, within what all those of a cover may take.

use crate::assets::drawing::effort::{COVER, Effort};
use crate::assets::drawing::part::{Drawing, DrawingPart};
use crate::assets::drawing::pixels::{PixelView, RESOLUTIONS};
use crate::ground::{Digest, MM_PER_INCH, Rect};
use std::collections::{BTreeMap, BTreeSet};

/// What the effects of a cover have taken so far.
#[derive(Default)]
pub struct EffectBudget {
    spent: Effort,
    /// By the first effect of a drawing, how large it is placed, and what of it shows.
    known: BTreeMap<(Digest, [u64; 5]), EffectPlan>,
}

/// How the effects of a drawing are drawn.
#[derive(Clone, Default)]
pub struct EffectPlan {
    /// Pixels per inch of the sheet.
    pub ppi: f64,
    /// What would take too long even where it is coarse, the heaviest first, by the keys of the effects.
    pub left_out: BTreeSet<Digest>,
    /// What of the drawing shows, in its millimetres.
    pub shown: Rect,
}

impl Drawing {
    /// For a drawing so many times as large on the sheet, of which a part shows. The same drawing in the same size takes nothing
    /// twice.
    pub fn plan_effects(&self, scale: f64, shown: Rect, budget: &mut EffectBudget) -> EffectPlan {
        let views: Vec<_> =
            self.pictured().into_iter().filter_map(|view| view.part(shown).map(|part| (view, part))).collect();
        let Some((first, _)) = views.first() else { return EffectPlan { shown, ..EffectPlan::default() } };
        let name = (first.key, [scale, shown.x0, shown.y0, shown.x1, shown.y1].map(f64::to_bits));
        if let Some(known) = budget.known.get(&name) {
            return known.clone();
        }
        let (plan, taken) = plan(views, scale, COVER.next_share(budget.spent));
        let plan = EffectPlan { shown, ..plan };
        budget.spent = budget.spent.beside(taken);
        budget.known.insert(name, plan.clone());
        plan
    }

    /// What is drawn as pictures.
    pub fn pictured(&self) -> Vec<&PixelView> {
        let mut views = Vec::new();
        gather(&self.parts, &mut views);
        views
    }
}

/// And what it takes.
fn plan(views: Vec<(&PixelView, Rect)>, scale: f64, limit: Effort) -> (EffectPlan, Effort) {
    let mut left_out = BTreeSet::new();
    let mut measured: Vec<(Digest, Vec<Option<Effort>>)> = Vec::new();
    for (view, part) in views {
        // Very many shapes take long however coarse they are, and to measure, too.
        if view.starting > limit.work {
            left_out.insert(view.key);
            continue;
        }
        let measure = |ppi: f64| {
            let density = ppi / MM_PER_INCH * scale;
            PixelView::has_room(part, density).then(|| view.effort(part, density))
        };
        measured.push((view.key, RESOLUTIONS.into_iter().map(measure).collect()));
    }
    let coarsest = RESOLUTIONS.len() - 1;
    while !measured.is_empty() {
        for (at, ppi) in RESOLUTIONS.into_iter().enumerate() {
            let total = measured.iter().try_fold(Effort::default(), |sum, (_, all)| Some(sum.beside(all[at]?)));
            if let Some(total) = total.filter(|total| total.is_within(limit)) {
                return (EffectPlan { ppi, left_out, ..EffectPlan::default() }, total);
            }
        }
        let weight = |all: &[Option<Effort>]| all[coarsest].map_or(f64::INFINITY, |effort| effort.share_of(limit));
        let heaviest =
            measured.iter().enumerate().max_by(|(_, (_, one)), (_, (_, other))| weight(one).total_cmp(&weight(other)));
        let at = heaviest.map_or(0, |(at, _)| at);
        left_out.insert(measured.remove(at).0);
    }
    (EffectPlan { left_out, ..EffectPlan::default() }, Effort::default())
}

fn gather<'a>(parts: &'a [DrawingPart], views: &mut Vec<&'a PixelView>) {
    for part in parts {
        match part {
            DrawingPart::Pixels(view) => views.push(view),
            DrawingPart::Group { parts, .. } | DrawingPart::Veiled { parts, .. } => gather(parts, views),
            DrawingPart::Fill { .. }
            | DrawingPart::Stroke { .. }
            | DrawingPart::Wash { .. }
            | DrawingPart::Picture { .. } => {}
        }
    }
}
