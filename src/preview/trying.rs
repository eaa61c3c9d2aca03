//! Trying: facts, an edition or an earlier state laid beside a title, each under a name of its own.

use crate::preview::answer::{Declined, PageAnswer};
use crate::preview::cover_id::{CoverId, LAST};
use crate::preview::looks::no_earlier;
use crate::preview::studio::{Studio, no_title};
use crate::preview::variant::{VARIANTS, Variant};
use crate::record::CoverRequest;
use crate::targets::{Past, Target, trial};
use serde::Deserialize;
use serde_json::{Value, json};
use std::sync::Arc;

#[derive(Deserialize)]
pub struct TryOrder {
    #[serde(default)]
    facts: Vec<String>,
    edition: Option<String>,
}

#[derive(Deserialize)]
pub struct EarlierOrder {
    /// None: the build before the present one.
    revision: Option<String>,
}

/// More facts are not tried at once.
const FACTS: usize = 40;

pub fn try_facts(studio: &Studio, id: &CoverId, order: &TryOrder) -> Result<PageAnswer, Declined> {
    if order.facts.len() > FACTS {
        return Err(Declined::unfit(format!("more than {FACTS} facts cannot be tried at once"), "try fewer"));
    }
    let text = trial(&order.facts).map_err(|(message, help)| Declined::unfit(message, help))?;
    let target = target(studio, id)?;
    let edition = order.edition.clone().or_else(|| target.request.edition.clone());
    let trial = (!text.is_empty()).then_some(text);
    let request = CoverRequest { edition, trial, ..target.request };
    let facts = order.facts.iter().filter_map(|fact| fact.split_once('='));
    let tried: Value = facts.map(|(name, value)| (name.trim().to_owned(), Value::from(value.trim()))).collect();
    let variant = Variant { name: String::new(), request, past: None, tried, made: None };
    named(studio, id, variant)
}

pub fn earlier(studio: &Studio, id: &CoverId, order: &EarlierOrder) -> Result<PageAnswer, Declined> {
    let target = target(studio, id)?;
    let Some(revision) = &order.revision else {
        let titles = studio.titles();
        titles.get(id.title).ok_or_else(no_title)?.earlier.as_ref().ok_or_else(no_earlier)?;
        return Ok(PageAnswer::Json(json!({ "id": format!("{}~{LAST}", id.title) })));
    };
    let past = Past::open(&target.folder, revision).map_err(|(message, help)| Declined::unfit(message, help))?;
    let missing = || Declined::unfit(format!("the revision `{revision}` has no such cover"), "name a later one");
    let request = past.request(&target).ok_or_else(missing)?;
    let name = format!("r{}", past.commit());
    let variant = Variant { name, request, past: Some(Arc::new(past)), tried: Value::Null, made: None };
    named(studio, id, variant)
}

fn target(studio: &Studio, id: &CoverId) -> Result<Target, Declined> {
    Ok(studio.titles().get(id.title).ok_or_else(no_title)?.target.clone())
}

/// Keeps a variant; the oldest goes when there are too many. One that asks for the same keeps its name.
fn named(studio: &Studio, id: &CoverId, mut variant: Variant) -> Result<PageAnswer, Declined> {
    let mut titles = studio.titles();
    let entry = titles.get_mut(id.title).ok_or_else(no_title)?;
    let same = |known: &&Variant| known.request == variant.request && known.past == variant.past;
    let known = entry.variants.iter().find(same).map(|known| known.name.clone());
    let name = known.unwrap_or_else(|| {
        if variant.name.is_empty() {
            entry.tries += 1;
            variant.name = format!("t{}", entry.tries);
        }
        let name = variant.name.clone();
        if entry.variants.len() == VARIANTS {
            entry.variants.remove(0);
        }
        entry.variants.push(variant);
        name
    });
    Ok(PageAnswer::Json(json!({ "id": format!("{}~{name}", id.title) })))
}
