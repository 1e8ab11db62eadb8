//! The page's linked data: schema.org `Recipe` (release 30.0) in JSON-LD. Knows no layout.

use crate::model::Claim;
use crate::sheet::{LineFigures, Phrase, Sheet};
use serde_json::{Value, json};

/// The recipe as JSON-LD, safe inside a `script` element.
pub(super) fn recipe(sheet: &Sheet, language: &str, picture: Option<&str>) -> String {
    let mut recipe = json!({
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": sheet.title,
        "inLanguage": language,
        "author": { "@type": "Organization", "name": sheet.channel },
        "recipeIngredient": sheet.parts.iter().flat_map(|part| &part.lines).filter(|line| !line.is_part)
            .map(ingredient).collect::<Vec<_>>(),
        "recipeInstructions": sheet.steps.iter().map(|step| json!({
            "@type": "HowToStep",
            "name": step.title.text(),
            "text": step.text.iter().map(Phrase::text).collect::<Vec<_>>().join(" "),
        })).collect::<Vec<_>>(),
    });
    let mut add = |name: &str, value: Option<Value>| {
        if let (Some(value), Some(fields)) = (value, recipe.as_object_mut()) {
            fields.insert(name.to_owned(), value);
        }
    };
    add("recipeYield", sheet.yields.pieces.as_ref().map(|pieces| json!(pieces.text())));
    add("image", picture.map(|picture| json!(picture)));
    let intro: Vec<String> = sheet.intro.iter().map(Phrase::text).collect();
    add("description", (!intro.is_empty()).then(|| json!(intro.join(" "))));
    let diets: Vec<&str> = sheet.diet.iter().filter_map(|claim| diet(*claim)).collect();
    add("suitableForDiet", (!diets.is_empty()).then(|| json!(diets)));
    // No text of a recipe may close the element: `<` stands in JSON's own escape.
    recipe.to_string().replace('<', "\\u003c")
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
