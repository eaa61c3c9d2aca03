//! Looks: from a name that the page says to what it shows: a title as it is, as it was, or as it could be.

use crate::assets::Darkroom;
use crate::disk::Disk;
use crate::preview::account::CoverAccount;
use crate::preview::answer::{Declined, PageAnswer};
use crate::preview::brief::Mistake;
use crate::preview::cover_id::{CoverId, LAST};
use crate::preview::making::make;
use crate::preview::shown::ShownCover;
use crate::preview::studio::{Studio, no_title};
use crate::preview::variant::{Variant, VariantMade};
use crate::targets::Target;
use serde::Serialize;
use serde_json::Value;
use std::sync::Arc;

/// What a name shows at this moment.
pub struct CoverLook {
    pub build: u64,
    /// The last good picture; `None` when there never was one.
    pub shown: Option<Arc<ShownCover>>,
    /// Why it is not newer.
    pub mistake: Option<Arc<Mistake>>,
    tried: Value,
}

impl CoverLook {
    pub fn picture(self) -> Result<Arc<ShownCover>, Declined> {
        self.shown.ok_or_else(|| Declined::missing("there is no picture of this cover yet: its file has a mistake"))
    }

    pub fn account(self, id: &CoverId, darkroom: &Darkroom) -> Result<PageAnswer, Declined> {
        // The proof is laid out for who looks at a cover, not for a thousand titles.
        let known = |shown: Arc<ShownCover>| {
            let mut account = shown.account.clone();
            account.proof_pages = shown.proof(darkroom).len();
            account
        };
        let account = self.shown.map(known).unwrap_or_default();
        let (id, build, mistake, tried) = (id.to_string(), self.build, self.mistake, self.tried);
        PageAnswer::json(&LookAccount { id, build, mistake, tried, account })
    }
}

/// What the page hears of what it looks at.
#[derive(Serialize)]
struct LookAccount {
    id: String,
    build: u64,
    mistake: Option<Arc<Mistake>>,
    tried: Value,
    #[serde(flatten)]
    account: CoverAccount,
}

impl Studio {
    pub fn look(&self, id: &CoverId) -> Result<CoverLook, Declined> {
        // Before it is built: else another title that is ready meanwhile takes its place among those that are kept.
        self.titles().looked_at(id.title);
        self.ready(id.title)?;
        let titles = self.titles();
        let entry = titles.get(id.title).ok_or_else(no_title)?;
        let (build, shown, mistake) = (entry.build, entry.shown.clone(), entry.mistake.clone());
        match id.variant.as_str() {
            "" => Ok(CoverLook { build, shown, mistake, tried: Value::Null }),
            LAST => {
                let shown = Some(entry.earlier.clone().ok_or_else(no_earlier)?);
                Ok(CoverLook { build: build.saturating_sub(1), shown, mistake: None, tried: Value::Null })
            }
            name => {
                let variant = entry.variants.iter().find(|variant| variant.name == name).cloned();
                let variant = variant.ok_or_else(|| Declined::missing("this is no longer kept; try it again"))?;
                let target = entry.target.clone();
                drop(titles);
                self.variant(id, &target, build, variant)
            }
        }
    }

    /// A variant as it is with the present files.
    fn variant(&self, id: &CoverId, target: &Target, build: u64, variant: Variant) -> Result<CoverLook, Declined> {
        let current = |made: &VariantMade| variant.past.is_some() || made.build == build;
        if let Some(made) = variant.made.clone().filter(current) {
            return Ok(CoverLook { build: made.build, shown: made.shown, mistake: made.mistake, tried: variant.tried });
        }
        let made = if let Some(past) = &variant.past {
            make(&self.workshop, past.as_ref(), target, &variant.request)
        } else {
            let disk = Disk::new(&target.folder);
            let made = make(&self.workshop, &disk, target, &variant.request);
            self.followed().saw_more(target, disk.seen());
            self.renew_places();
            made
        };
        let mut titles = self.titles();
        let kept = titles
            .get_mut(id.title)
            .and_then(|entry| entry.variants.iter_mut().find(|known| known.name == variant.name));
        let before = variant.made.and_then(|made| made.shown);
        let shown = made.shown.map(Arc::new).or(before);
        let made = VariantMade { build, shown, mistake: made.mistake.map(Arc::new) };
        if let Some(known) = kept {
            known.made = Some(made.clone());
        }
        Ok(CoverLook { build, shown: made.shown, mistake: made.mistake, tried: variant.tried })
    }
}

pub fn no_earlier() -> Declined {
    Declined::unfit("there is no build before this one yet", "save a change, or name a revision of the repository")
}
