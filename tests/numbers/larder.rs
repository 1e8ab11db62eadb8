//! What a recipe takes of pantry and price book: all that its figures follow from, and nothing else.

use crate::memory::Kitchen;
use tallyspoon::sheet::{Larder, Request, pattern, resolve};

const FRONT: &str = "title = \"Buns\"\nmakes = \"10 buns\"\nbatch = \"500 g\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"60 %\"\nsalt = \"2 %\"\n\
    [variant.sweet]\ntitle = \"Sweet\"\nswap = { salt = \"sugar\" }\n";
const PRICES: &str = "2026-01-05,plain-flour,1 kg,1.50,,\n2026-01-06,salt,1 kg,1.10,,\n2026-01-06,sugar,1 kg,1.90,,\n2026-01-07,butter,250 g,2.80,,\n";

fn kitchen(prices: &str, pantry: &str) -> Kitchen {
    let method = "## Mix\nMix {plain-flour}, {water} and {salt}.\n";
    Kitchen::new().recipe(FRONT).method(method).prices(prices).pantry(pantry)
}

/// The text of the larder, and all figures that are published of the recipe.
fn told(kitchen: &Kitchen) -> (String, String) {
    kitchen.with(|inputs| {
        let sheet = resolve(inputs, &Request::default()).expect("a sheet").sheet;
        let figures = format!("{sheet:?} {}", pattern(inputs, None).expect("a pattern"));
        (Larder::new(inputs, None).text(), figures)
    })
}

#[test]
fn what_a_recipe_does_not_name_is_not_in_its_larder() {
    let before = told(&kitchen(PRICES, ""));
    let dearer = PRICES.replace("250 g,2.80", "250 g,3.80");
    let older = format!("2025-01-05,salt,1 kg,0.10,,\n{PRICES}");
    let other = "[butter]\ndensity = \"0.9 g/mL\"\n";
    for (what, same) in [
        ("another item is dearer", kitchen(&dearer, "")),
        ("a price that no longer holds, lines above others", kitchen(&older, "")),
        ("another item is denser", kitchen(PRICES, other)),
    ] {
        assert_eq!(told(&same), before, "{what}");
    }
}

#[test]
fn what_its_figures_follow_from_is_in_its_larder() {
    let (larder, figures) = told(&kitchen(PRICES, ""));
    for (what, other) in [
        ("an item is dearer", kitchen(&PRICES.replace("1.50", "1.60"), "")),
        ("that of a variant is", kitchen(&PRICES.replace("1.90", "2.90"), "")),
        ("an item has no price", kitchen(&PRICES.replace("2026-01-05,plain-flour,1 kg,1.50,,\n", ""), "")),
        ("prices are of a later day", kitchen(&format!("{PRICES}2026-01-09,butter,250 g,2.80,,\n"), "")),
        ("an item is denser", kitchen(PRICES, "[salt]\ndensity = \"1.4 g/mL\"\n")),
        ("that of a variant is called otherwise", kitchen(PRICES, "[sugar]\nname = \"fine sugar\"\n")),
    ] {
        let (there, shown) = told(&other);
        assert_ne!(shown, figures, "{what}");
        assert_ne!(there, larder, "{what}");
    }
}
