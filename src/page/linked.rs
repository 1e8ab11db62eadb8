//! The page's linked data: schema.org `Recipe` and `VideoObject` (release 30.0) in JSON-LD. Knows no layout.

use super::video::{Film, Moment};
use crate::model::Claim;
use crate::sheet::{LineFigures, Phrase, Sheet, StepFigures};
use crate::template::Voice;
use serde_json::{Value, json};

/// What the data is about, and where that is.
pub(super) struct About<'a> {
    pub sheet: &'a Sheet,
    pub voice: &'a Voice<'a>,
    /// The page's own address.
    pub address: Option<&'a str>,
    /// A picture of it.
    pub picture: Option<&'a str>,
}

/// The recipe as JSON-LD, safe inside a `script` element.
pub(super) fn data(about: &About<'_>, film: Option<&Film>) -> String {
    let sheet = about.sheet;
    let intro: Vec<String> = sheet.intro.iter().map(Phrase::text).collect();
    let description = (!intro.is_empty()).then(|| intro.join(" "));
    let steps = sheet.steps.iter().map(|step| instruction(step, about.address, film));
    let mut recipe = json!({
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": sheet.title,
        "inLanguage": about.voice.locale.tag(),
        "author": { "@type": "Organization", "name": sheet.channel },
        "recipeIngredient": sheet.parts.iter().flat_map(|part| &part.lines).filter(|line| !line.is_part)
            .map(ingredient).collect::<Vec<_>>(),
        "recipeInstructions": steps.collect::<Vec<_>>(),
    });
    let mut add = |name: &str, value: Option<Value>| {
        if let (Some(value), Some(fields)) = (value, recipe.as_object_mut()) {
            fields.insert(name.to_owned(), value);
        }
    };
    add("url", about.address.map(|address| json!(address)));
    add("recipeYield", sheet.yields.pieces.as_ref().map(|pieces| json!(pieces.text())));
    add("image", about.picture.map(|picture| json!([picture])));
    add("description", description.as_ref().map(|text| json!(text)));
    let diets: Vec<&str> = sheet.diet.iter().filter_map(|claim| diet(*claim)).collect();
    add("suitableForDiet", (!diets.is_empty()).then(|| json!(diets)));
    add("datePublished", film.map(|film| json!(film.published)));
    add("video", film.map(|film| video(film, about, description.as_deref())));
    super::inert(&recipe.to_string())
}

fn instruction(step: &StepFigures, address: Option<&str>, film: Option<&Film>) -> Value {
    let mut told = json!({
        "@type": "HowToStep",
        "name": step.title.text(),
        "text": step.text.iter().map(Phrase::text).collect::<Vec<_>>().join(" "),
    });
    let moment = film.and_then(|film| film.steps.iter().find(|(id, _)| *id == step.id));
    let url =
        address.map(|address| format!("{address}#step-{}", step.id)).or(moment.map(|(_, moment)| moment.url.clone()));
    if let (Some(url), Some(fields)) = (url, told.as_object_mut()) {
        fields.insert("url".to_owned(), json!(url));
    }
    told
}

/// The video with its chapters as clips: each ends where the next starts, the last with the video.
fn video(film: &Film, about: &About<'_>, description: Option<&str>) -> Value {
    let ends = film.chapters.iter().skip(1).map(|next| Some(next.seconds)).chain([film.length]);
    let clips = film.chapters.iter().zip(ends).map(|(chapter, end)| clip(chapter, end));
    let mut video = json!({
        "@type": "VideoObject",
        "name": about.sheet.title,
        "description": description.unwrap_or(&about.sheet.title),
        "uploadDate": film.published,
        "url": film.url,
        "contentUrl": film.url,
        "thumbnailUrl": about.picture.map(|picture| vec![picture]).unwrap_or_default(),
        "hasPart": clips.collect::<Vec<_>>(),
    });
    if let (Some(length), Some(fields)) = (film.length, video.as_object_mut()) {
        fields.insert("duration".to_owned(), json!(format!("PT{length}S")));
    }
    video
}

fn clip(chapter: &Moment, end: Option<u64>) -> Value {
    let mut clip = json!({
        "@type": "Clip", "name": chapter.title.text(), "startOffset": chapter.seconds, "url": chapter.url,
    });
    if let (Some(end), Some(fields)) = (end, clip.as_object_mut()) {
        fields.insert("endOffset".to_owned(), json!(end));
    }
    clip
}

fn ingredient(line: &LineFigures) -> String {
    let note = line.note.as_ref().map(|note| format!(", {note}")).unwrap_or_default();
    format!("{} {}{note}", line.amount.text(), line.name)
}

/// The schema.org name of a diet; it has none for eggs and nuts.
fn diet(claim: Claim) -> Option<&'static str> {
    match claim {
        Claim::Vegan => Some("https://schema.org/VeganDiet"),
        Claim::Vegetarian => Some("https://schema.org/VegetarianDiet"),
        Claim::GlutenFree => Some("https://schema.org/GlutenFreeDiet"),
        Claim::DairyFree => Some("https://schema.org/LowLactoseDiet"),
        Claim::EggFree | Claim::NutFree => None,
    }
}
