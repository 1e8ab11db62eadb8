//! A channel or a dish begun on the page. Must not know how lines become a formula.

use super::reply::Reply;
use super::state::Studio;
use crate::desk::{Answers, Fault, Made, Slip, add_dish, begin as begin_channel, is_begun, slips};
use serde::Deserialize;
use serde_json::json;
use std::sync::Arc;

/// What the page asked.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Beginning {
    /// Of a channel; ignored for a dish.
    #[serde(default)]
    name: String,
    #[serde(default)]
    locale: String,
    #[serde(default)]
    currency: String,
    #[serde(default)]
    measures: String,
    title: String,
    #[serde(default)]
    makes: String,
    lines: String,
    #[serde(default)]
    basis: String,
    /// Names that are meant as they are written.
    #[serde(default)]
    own: Vec<String>,
    /// Whether nothing is written yet.
    #[serde(default)]
    dry: bool,
}

/// Makes a channel with its first dish, or a dish in the channel that is there.
pub(super) fn begin(studio: &Arc<Studio>, asked: &Beginning) -> Result<Reply, Fault> {
    let _alone = studio.write();
    let given = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    let answers = Answers {
        name: asked.name.clone(),
        locale: asked.locale.clone(),
        currency: given(&asked.currency),
        measures: given(&asked.measures),
        title: asked.title.clone(),
        makes: asked.makes.clone(),
        lines: asked.lines.clone(),
        basis: given(&asked.basis),
        own: asked.own.clone(),
    };
    let home = &studio.home;
    let made =
        if is_begun(home) { add_dish(home, &answers, asked.dry) } else { begin_channel(home, &answers, asked.dry) };
    let made = match made {
        Ok(made) => made,
        Err(Fault::Request(why)) => {
            let slip =
                |slip: &Slip| json!({ "at": slip.at, "message": slip.message, "meant": slip.meant, "name": slip.name });
            let slips: Vec<_> = slips(home, &answers).iter().map(slip).collect();
            // While somebody is still writing, a slip is an answer and no failure.
            let status = if asked.dry { 200 } else { 422 };
            return Ok(Reply { status, ..Reply::json(&json!({ "error": why, "slips": slips })) });
        }
        Err(fault) => return Err(fault),
    };
    if !asked.dry {
        studio.open();
    }
    let Made { recipe, text, fresh } = made;
    Ok(Reply::json(&json!({ "recipe": recipe, "text": text, "fresh": fresh })))
}
