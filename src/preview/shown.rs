//! Shown: a cover as it can be looked at: its design, what is said of it, and the grids that its tiles are cut from.

use crate::assets::Darkroom;
use crate::check::{InkSums, measured_plates};
use crate::compile::{chosen_settings, particulars};
use crate::ground::{Digest, Rect};
use crate::output::{OutputJob, PROOF, Particulars, proof_sheets};
use crate::preview::account::{CoverAccount, account};
use crate::preview::scales::{PROGRAM, STEPS, ppi};
use crate::raster::{SheetGrid, SheetPart, Window};
use crate::record::{Built, Design, placed_elements};
use crate::scene::{Origin, PanelName, Scene};
use crate::targets::Target;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

pub struct ShownCover {
    /// With its design.
    built: Arc<Built>,
    particulars: Particulars,
    /// What the page hears of it.
    pub account: CoverAccount,
    grids: [OnceLock<Arc<SheetGrid>>; STEPS],
    elements: OnceLock<Vec<Origin>>,
    sums: OnceLock<InkSums>,
    proof: OnceLock<Vec<Scene>>,
}

/// `None` where nothing could be drawn.
pub fn shown(target: &Target, editions: &[String], built: &Arc<Built>) -> Option<ShownCover> {
    built.design.as_ref()?;
    let (particulars, account) = (particulars(built), account(target, editions, built));
    Some(ShownCover {
        built: built.clone(),
        particulars,
        account,
        grids: Default::default(),
        elements: OnceLock::new(),
        sums: OnceLock::new(),
        proof: OnceLock::new(),
    })
}

impl ShownCover {
    pub fn design(&self) -> &Design {
        self.built.design.as_ref().expect("only a cover that was drawn is shown")
    }

    pub fn scene(&self) -> &Scene {
        &self.design().scene
    }

    /// The sheet with its bleed at a scale, from 0 to `STEPS` − 1.
    pub fn grid(&self, step: usize) -> Option<&Arc<SheetGrid>> {
        let grid = self.grids.get(step)?;
        Some(grid.get_or_init(|| Arc::new(SheetGrid::new(self.scene(), self.scene().sheet.bleed, ppi(step)))))
    }

    pub fn sums(&self, darkroom: &Darkroom) -> &InkSums {
        // Drawn outside of the cell: a thread that waits for others may take up work that asks for the same.
        if let Some(sums) = self.sums.get() {
            return sums;
        }
        let made = measured_plates(self.scene(), darkroom).sums;
        self.sums.get_or_init(|| made)
    }

    /// The pages of its proof; a front for screens has none.
    pub fn proof(&self, darkroom: &Darkroom) -> &[Scene] {
        self.proof.get_or_init(|| {
            if !PROOF.media.holds(&self.scene().sheet) {
                return Vec::new();
            }
            let settings = &chosen_settings(self.design(), &PROOF);
            let (findings, particulars) = (&self.built.findings, &self.particulars);
            proof_sheets(&OutputJob { scene: self.scene(), findings, particulars, settings, darkroom })
        })
    }

    /// Who asked for what is printed, in the order of the account.
    pub fn elements(&self) -> &[Origin] {
        let listed = || placed_elements(self.scene(), &BTreeMap::new()).into_iter().map(|(_, origin)| origin.clone());
        self.elements.get_or_init(|| listed().collect())
    }

    /// Where the front or the spine lies on the sheet.
    pub fn face(&self, panel: PanelName) -> Option<Rect> {
        let sheet = &self.scene().sheet;
        if panel == PanelName::Front { sheet.front() } else { Some(sheet.panel(panel)?.rect) }
    }

    /// Names all that shows on the front or the spine.
    pub fn face_name(&self, panel: PanelName, darkroom: &Darkroom) -> Option<Digest> {
        const STEP: usize = 1;
        let (face, bleed, grid) = (self.face(panel)?, self.scene().sheet.bleed, self.grid(STEP)?);
        let pixels = |length: f64| (length * grid.scale).max(0.0).floor() as usize;
        let (x, y) = (pixels(face.x0 - bleed.x0), pixels(face.y0 - bleed.y0));
        let window = Window { x, y, width: pixels(face.width()) + 1, height: pixels(face.height()) + 1 };
        let name = SheetPart::new(self.scene(), grid, window, darkroom)?.name();
        Some(Digest::of_all(&[PROGRAM.as_bytes(), name.bytes()]))
    }
}
