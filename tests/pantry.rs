//! Holds the built-in pantry to its word: every item complete and named in three languages, every figure
//! with its source, the household weights equal to the published ones, the allergens to the published list.

use std::collections::{BTreeMap, BTreeSet};
use tallyspoon::exact::{Exact, Measures, Unit};
use tallyspoon::model::{Allergen, Claim, Hazard};

const ENGLISH: &str = concat!(
    include_str!("../src/model/builtin/pantry.staples.toml"),
    include_str!("../src/model/builtin/pantry.shelf.toml"),
    include_str!("../src/model/builtin/pantry.garden.toml"),
    include_str!("../src/model/builtin/pantry.spice.toml"),
);
const FRENCH: &str = include_str!("../src/model/builtin/pantry.fr.toml");
const GERMAN: &str = include_str!("../src/model/builtin/pantry.de.toml");

/// USDA National Nutrient Database for Standard Reference, release 26 (US government work): grams of one
/// measure, by item, entry number and US measure.
const PUBLISHED: &[(&str, &str, &str, Unit)] = &[
    ("plain-flour", "20081", "125", Unit::Cup),
    ("strong-flour", "20083", "137", Unit::Cup),
    ("wholemeal-flour", "20080", "120", Unit::Cup),
    ("cake-flour", "20084", "137", Unit::Cup),
    ("self-raising-flour", "20082", "125", Unit::Cup),
    ("rye-flour", "20063", "128", Unit::Cup),
    ("medium-rye-flour", "20064", "102", Unit::Cup),
    ("rice-flour", "20061", "158", Unit::Cup),
    ("maize-flour", "20018", "126", Unit::Cup),
    ("polenta", "20020", "122", Unit::Cup),
    ("cornflour", "20027", "128", Unit::Cup),
    ("wheat-bran", "20077", "58", Unit::Cup),
    ("rolled-oats", "08120", "81", Unit::Cup),
    ("water", "14411", "237", Unit::Cup),
    ("milk", "01077", "244", Unit::Cup),
    ("semi-skimmed-milk", "01079", "244", Unit::Cup),
    ("buttermilk", "01088", "245", Unit::Cup),
    ("cream", "01053", "238", Unit::Cup),
    ("soured-cream", "01056", "230", Unit::Cup),
    ("yogurt", "01116", "245", Unit::Cup),
    ("vinegar", "02048", "239", Unit::Cup),
    ("tamari", "16124", "18", Unit::Tablespoon),
    ("butter", "01001", "227", Unit::Cup),
    ("olive-oil", "04053", "216", Unit::Cup),
    ("rapeseed-oil", "04582", "218", Unit::Cup),
    ("soya-oil", "04044", "218", Unit::Cup),
    ("vegetable-shortening", "04615", "205", Unit::Cup),
    ("sugar", "19335", "200", Unit::Cup),
    ("brown-sugar", "19334", "220", Unit::Cup),
    ("icing-sugar", "19336", "120", Unit::Cup),
    ("honey", "19296", "339", Unit::Cup),
    ("maple-syrup", "19353", "315", Unit::Cup),
    ("treacle", "19304", "337", Unit::Cup),
    ("glucose-syrup", "19350", "341", Unit::Cup),
    // The table's cup of salt (292 g) disagrees with its spoon; salt is measured by the spoon.
    ("salt", "02047", "6", Unit::Teaspoon),
    ("instant-yeast", "18375", "4", Unit::Teaspoon),
    ("baking-powder", "18369", "4.6", Unit::Teaspoon),
    ("bicarbonate-of-soda", "18372", "4.6", Unit::Teaspoon),
    ("egg", "01123", "243", Unit::Cup),
    ("egg-white", "01124", "243", Unit::Cup),
    ("egg-yolk", "01125", "243", Unit::Cup),
    ("white-rice", "20044", "185", Unit::Cup),
    ("brown-rice", "20040", "190", Unit::Cup),
    ("garlic", "11215", "136", Unit::Cup),
    ("raisins", "09298", "145", Unit::Cup),
    ("walnuts", "12155", "117", Unit::Cup),
    ("almonds", "12061", "143", Unit::Cup),
    ("ground-almonds", "12061", "95", Unit::Cup),
    ("flaked-almonds", "12061", "92", Unit::Cup),
    ("almond-butter", "12695", "250", Unit::Cup),
    ("peanut-butter", "16098", "258", Unit::Cup),
    ("coconut", "12104", "80", Unit::Cup),
    ("sesame-seeds", "12023", "144", Unit::Cup),
    ("black-pepper", "02030", "2.3", Unit::Teaspoon),
    ("peppercorns", "02030", "2.9", Unit::Teaspoon),
    ("ground-cinnamon", "02010", "2.6", Unit::Teaspoon),
    ("vanilla-extract", "02050", "4.2", Unit::Teaspoon),
    ("cocoa-powder", "19165", "86", Unit::Cup),
    ("dark-chocolate", "19080", "168", Unit::Cup),
    ("milk-powder", "01091", "120", Unit::Cup),
];

/// The same database, release 28: grams of one measure.
const PUBLISHED_28: &[(&str, &str, &str, Unit)] = &[
    ("buckwheat-flour", "20011", "120", Unit::Cup),
    ("chickpea-flour", "16157", "92", Unit::Cup),
    ("semolina", "20066", "167", Unit::Cup),
    ("coconut-milk", "12118", "226", Unit::Cup),
    ("soya-drink", "16120", "243", Unit::Cup),
    ("dried-chickpeas", "16056", "200", Unit::Cup),
    ("lentils", "16069", "192", Unit::Cup),
    ("red-lentils", "16144", "192", Unit::Cup),
    ("split-peas", "16085", "197", Unit::Cup),
    ("pearl-barley", "20005", "200", Unit::Cup),
    ("bulgur", "20012", "140", Unit::Cup),
    ("couscous", "20028", "173", Unit::Cup),
    ("quinoa", "20035", "170", Unit::Cup),
    ("onion", "11282", "160", Unit::Cup),
    ("red-onion", "11282", "160", Unit::Cup),
    ("spring-onion", "11291", "100", Unit::Cup),
    ("leek", "11246", "89", Unit::Cup),
    ("carrot", "11124", "110", Unit::Cup),
    ("beetroot", "11080", "136", Unit::Cup),
    ("celeriac", "11141", "156", Unit::Cup),
    ("celery", "11143", "101", Unit::Cup),
    ("mushroom", "11260", "70", Unit::Cup),
    ("white-cabbage", "11109", "89", Unit::Cup),
    ("cauliflower", "11135", "107", Unit::Cup),
    ("parsley", "11297", "60", Unit::Cup),
    ("pecans", "12142", "109", Unit::Cup),
    ("brazil-nuts", "12078", "133", Unit::Cup),
    ("pistachios", "12151", "123", Unit::Cup),
    ("macadamias", "12131", "134", Unit::Cup),
    ("pine-nuts", "12147", "135", Unit::Cup),
    ("peanuts", "16087", "146", Unit::Cup),
    ("tahini", "12166", "15", Unit::Tablespoon),
    ("sunflower-seeds", "12036", "140", Unit::Cup),
    ("pumpkin-seeds", "12014", "129", Unit::Cup),
    ("linseeds", "12220", "168", Unit::Cup),
    ("poppy-seeds", "02033", "2.8", Unit::Teaspoon),
    ("ground-cumin", "02014", "2.1", Unit::Teaspoon),
    ("cumin-seeds", "02014", "2.1", Unit::Teaspoon),
    ("ground-coriander", "02013", "1.8", Unit::Teaspoon),
    ("coriander-seeds", "02013", "1.8", Unit::Teaspoon),
    ("turmeric", "02043", "3", Unit::Teaspoon),
    ("paprika", "02028", "2.3", Unit::Teaspoon),
    ("smoked-paprika", "02028", "2.3", Unit::Teaspoon),
    ("cayenne-pepper", "02031", "1.8", Unit::Teaspoon),
    ("chilli-flakes", "02031", "1.8", Unit::Teaspoon),
    ("ground-ginger", "02021", "1.8", Unit::Teaspoon),
    ("nutmeg", "02025", "2.2", Unit::Teaspoon),
    ("ground-cloves", "02011", "2.1", Unit::Teaspoon),
    ("ground-cardamom", "02006", "2", Unit::Teaspoon),
    ("allspice", "02001", "1.9", Unit::Teaspoon),
    ("fennel-seeds", "02018", "2", Unit::Teaspoon),
    ("caraway-seeds", "02005", "2.1", Unit::Teaspoon),
    ("dill-seeds", "02016", "2.1", Unit::Teaspoon),
    ("dried-oregano", "02027", "1", Unit::Teaspoon),
    ("dried-thyme", "02042", "1", Unit::Teaspoon),
    ("cream-cheese", "01017", "232", Unit::Cup),
    ("ricotta", "01036", "246", Unit::Cup),
    ("feta", "01019", "150", Unit::Cup),
];

/// Release 28 too: grams of water in 100 g.
const PUBLISHED_WATER: &[(&str, &str)] = &[
    ("plain-flour", "11.92"),
    ("strong-flour", "13.36"),
    ("wholemeal-flour", "10.74"),
    ("cake-flour", "12.51"),
    ("self-raising-flour", "10.59"),
    ("rye-flour", "10.75"),
    ("medium-rye-flour", "10.97"),
    ("buckwheat-flour", "11.15"),
    ("rice-flour", "11.89"),
    ("maize-flour", "9.81"),
    ("polenta", "10.26"),
    ("chickpea-flour", "10.28"),
    ("semolina", "12.67"),
    ("cornflour", "8.32"),
    ("wheat-bran", "9.89"),
    ("cream", "57.81"),
    ("soured-cream", "73.07"),
    ("coconut-milk", "72.88"),
    ("soya-drink", "88.05"),
    ("split-peas", "8.62"),
    ("lentils", "8.26"),
    ("red-lentils", "7.82"),
    ("dried-chickpeas", "7.68"),
    ("tinned-beans", "68.11"),
    ("peanuts", "6.5"),
    ("peanut-butter", "1.23"),
    ("white-rice", "11.62"),
    ("brown-rice", "12.37"),
    ("pearl-barley", "10.09"),
    ("bulgur", "9"),
    ("couscous", "8.56"),
    ("quinoa", "13.28"),
    ("dried-pasta", "9.9"),
    ("onion", "89.11"),
    ("red-onion", "89.11"),
    ("spring-onion", "89.83"),
    ("leek", "83"),
    ("carrot", "88.29"),
    ("beetroot", "87.58"),
    ("celeriac", "88"),
    ("celery", "95.43"),
    ("white-cabbage", "92.18"),
    ("cauliflower", "92.07"),
    ("mushroom", "92.45"),
    ("parsley", "87.71"),
    ("walnuts", "4.07"),
    ("almonds", "4.41"),
    ("ground-almonds", "4.41"),
    ("flaked-almonds", "4.41"),
    ("almond-butter", "1.64"),
    ("hazelnuts", "5.31"),
    ("cashews", "5.2"),
    ("pecans", "3.52"),
    ("brazil-nuts", "3.42"),
    ("pistachios", "4.37"),
    ("macadamias", "1.36"),
    ("pine-nuts", "2.28"),
    ("coconut", "46.99"),
    ("desiccated-coconut", "3"),
    ("sesame-seeds", "4.69"),
    ("tahini", "3.05"),
    ("sunflower-seeds", "4.73"),
    ("pumpkin-seeds", "5.23"),
    ("linseeds", "6.96"),
    ("allspice", "8.46"),
    ("bay-leaf", "5.44"),
    ("caraway-seeds", "9.87"),
    ("ground-cardamom", "8.28"),
    ("ground-cinnamon", "10.58"),
    ("ground-cloves", "9.87"),
    ("coriander-seeds", "8.86"),
    ("ground-coriander", "8.86"),
    ("cumin-seeds", "8.06"),
    ("ground-cumin", "8.06"),
    ("dill-seeds", "7.7"),
    ("fennel-seeds", "8.81"),
    ("ground-ginger", "9.94"),
    ("nutmeg", "6.23"),
    ("dried-oregano", "9.93"),
    ("paprika", "11.24"),
    ("smoked-paprika", "11.24"),
    ("black-pepper", "12.46"),
    ("peppercorns", "12.46"),
    ("cayenne-pepper", "8.05"),
    ("chilli-flakes", "8.05"),
    ("poppy-seeds", "5.95"),
    ("dried-thyme", "7.79"),
    ("turmeric", "12.85"),
    ("cheddar", "37.02"),
    ("feta", "55.22"),
    ("ricotta", "71.7"),
];

/// Release 26 again: grams of one.
const PUBLISHED_EACH: &[(&str, &str, &str)] = &[
    ("egg", "01123", "50"),
    ("egg-white", "01124", "33"),
    ("egg-yolk", "01125", "17"),
    ("garlic", "11215", "3"),
    ("almonds", "12061", "1.2"),
    ("coconut", "12104", "397"),
];

/// Regulation (EU) 1169/2011, Annex II: what each listed substance is found in. Lupin is in no common
/// ingredient of the pantry.
const LISTED: &[(Allergen, &[&str])] = &[
    (
        Allergen::Wheat,
        &[
            "plain-flour",
            "strong-flour",
            "wholemeal-flour",
            "cake-flour",
            "self-raising-flour",
            "spelt-flour",
            "semolina",
            "wheat-bran",
            "breadcrumbs",
            "bulgur",
            "couscous",
            "dried-pasta",
            "soy-sauce",
        ],
    ),
    (Allergen::Rye, &["rye-flour", "medium-rye-flour"]),
    (Allergen::Barley, &["pearl-barley", "malt-vinegar"]),
    (Allergen::Oats, &["rolled-oats", "oat-drink"]),
    (Allergen::Crustaceans, &["prawns"]),
    (Allergen::Eggs, &["egg", "egg-white", "egg-yolk"]),
    (Allergen::Fish, &["salmon", "cod", "tinned-tuna"]),
    (Allergen::Peanuts, &["peanuts", "peanut-butter"]),
    (Allergen::Soybeans, &["tofu", "soya-drink", "soy-sauce", "tamari", "soya-oil", "dark-chocolate"]),
    (
        Allergen::Milk,
        &[
            "milk",
            "semi-skimmed-milk",
            "buttermilk",
            "cream",
            "soured-cream",
            "yogurt",
            "butter",
            "ghee",
            "milk-powder",
            "cheddar",
            "cream-cheese",
            "ricotta",
            "feta",
            "dark-chocolate",
        ],
    ),
    (Allergen::Almonds, &["almonds", "ground-almonds", "flaked-almonds", "almond-butter"]),
    (Allergen::Hazelnuts, &["hazelnuts"]),
    (Allergen::Walnuts, &["walnuts"]),
    (Allergen::Cashews, &["cashews"]),
    (Allergen::Pecans, &["pecans"]),
    (Allergen::BrazilNuts, &["brazil-nuts"]),
    (Allergen::Pistachios, &["pistachios"]),
    (Allergen::Macadamias, &["macadamias"]),
    (Allergen::PineNuts, &["pine-nuts"]),
    (Allergen::Celery, &["celery", "celeriac", "vegetable-stock"]),
    (Allergen::Mustard, &["mustard-seeds", "mustard"]),
    (Allergen::Sesame, &["sesame-seeds", "sesame-oil", "tahini"]),
    (Allergen::Sulphites, &["white-wine-vinegar", "white-wine", "sultanas", "dried-apricots"]),
    (Allergen::Lupin, &[]),
    (Allergen::Molluscs, &["mussels"]),
];

const ROLES: &[&str] = &["flour", "liquid", "fat", "leavener", "salt", "sugar", "egg", "other"];
const FIELDS: &[&str] = &[
    "name",
    "plural",
    "said-as",
    "density",
    "each",
    "water",
    "edible",
    "role",
    "allergens",
    "diet",
    "hazards",
    "made-of",
    "source",
];

fn read(text: &str) -> BTreeMap<String, toml::Table> {
    let table: toml::Table = text.parse().expect("TOML");
    table.into_iter().map(|(key, item)| (key, item.as_table().expect("a table an item").clone())).collect()
}

fn text<'t>(item: &'t toml::Table, field: &str) -> Option<&'t str> {
    item.get(field).map(|value| value.as_str().expect("a text"))
}

fn list(item: &toml::Table, field: &str) -> Option<Vec<String>> {
    let entry = |value: &toml::Value| value.as_str().expect("a text").to_owned();
    item.get(field).map(|value| value.as_array().expect("a list").iter().map(entry).collect())
}

fn number(key: &str, written: &str, unit: &str) -> Exact {
    let digits = written.strip_suffix(unit).unwrap_or_else(|| panic!("`{key}`: `{written}` is not in `{unit}`"));
    Exact::from_decimal(digits).unwrap_or_else(|| panic!("`{key}`: `{written}` is no number"))
}

fn decimal(written: &str) -> Exact {
    Exact::from_decimal(written).expect("a decimal")
}

#[test]
fn every_item_says_all_that_is_needed() {
    let pantry = read(ENGLISH);
    assert!(pantry.len() >= 120, "{} items", pantry.len());
    for (key, item) in &pantry {
        assert!(key.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "`{key}` is not a plain key");
        for field in item.keys() {
            assert!(FIELDS.contains(&field.as_str()), "`{key}`: unknown field `{field}`");
        }
        assert!(text(item, "name").is_some_and(|name| !name.is_empty()), "`{key}` has no name");
        assert!(text(item, "role").is_some_and(|role| ROLES.contains(&role)), "`{key}` has no role");
        for id in list(item, "allergens").unwrap_or_else(|| panic!("`{key}` states no allergens")) {
            assert!(Allergen::parse(&id).is_some(), "`{key}`: unknown allergen `{id}`");
        }
        for id in list(item, "diet").unwrap_or_else(|| panic!("`{key}` states no diet")) {
            assert!(["vegan", "vegetarian"].contains(&id.as_str()) && Claim::parse(&id).is_some(), "`{key}`: `{id}`");
        }
        for id in list(item, "hazards").unwrap_or_default() {
            assert!(Hazard::parse(&id).is_some(), "`{key}`: unknown hazard `{id}`");
        }
    }
}

#[test]
fn every_figure_is_plausible_and_names_its_source() {
    let whole = decimal("100");
    for (key, item) in &read(ENGLISH) {
        let source = text(item, "source").unwrap_or_else(|| panic!("`{key}` has no source"));
        for figure in ["density", "each", "water", "edible", "made-of"] {
            let named = source.contains(&format!("{figure}: "));
            assert_eq!(named, item.contains_key(figure), "`{key}`: `{figure}` and its source must stand together");
        }
        // The lightest is a cup of dill sprigs, the heaviest a syrup.
        if let Some(density) = text(item, "density") {
            let density = number(key, density, " g/mL");
            assert!(density > decimal("0.03") && density < decimal("1.5"), "`{key}`: {}", density.decimal());
        }
        let water = number(key, text(item, "water").unwrap_or_else(|| panic!("`{key}`: no water")), " %");
        assert!(water >= Exact::zero() && water <= whole, "`{key}`: {} % water", water.decimal());
        if let Some(edible) = text(item, "edible") {
            let edible = number(key, edible, " %");
            assert!(edible.is_positive() && edible <= whole, "`{key}`: {} % edible", edible.decimal());
        }
        if let Some(each) = text(item, "each") {
            assert!(number(key, each, " g").is_positive(), "`{key}` weighs nothing");
        }
    }
}

#[test]
fn items_have_names_in_three_languages() {
    let english = read(ENGLISH);
    let keys: BTreeSet<_> = english.keys().collect();
    for (language, source) in [("French", FRENCH), ("German", GERMAN)] {
        let names = read(source);
        assert_eq!(keys, names.keys().collect(), "{language} names");
        for (key, item) in &names {
            for field in ["name", "plural"] {
                assert!(text(item, field).is_some_and(|name| !name.is_empty()), "{language}: `{key}` has no {field}");
            }
            assert_eq!(item.len(), 2, "{language}: `{key}` states more than its names");
        }
    }
    // What is counted has to be told in the plural.
    for (key, item) in &english {
        assert!(!item.contains_key("each") || item.contains_key("plural"), "`{key}` is counted and has no plural");
    }
}

/// An h is silent or aspirated by the word, which the wording has to know: of these it does.
#[test]
fn french_names_with_an_h_are_known() {
    let locale = tallyspoon::locale::Locale::new("fr-FR", "fr").expect("a locale");
    for (key, item) in read(FRENCH) {
        let name = text(&item, "name").unwrap_or_default();
        if name.starts_with('h') {
            let of = if name.starts_with("huile") { "d’" } else { "de " };
            assert_eq!(locale.amount_of("1", name), format!("1 {of}{name}"), "{key}");
        }
    }
}

#[test]
fn household_weights_are_the_published_ones() {
    let pantry = read(ENGLISH);
    for (release, table) in [("SR26", PUBLISHED), ("SR28", PUBLISHED_28)] {
        for (key, entry, grams, unit) in table {
            let item = &pantry[*key];
            let source = text(item, "source").expect("a source");
            assert!(source.contains(&format!("density: USDA {release} {entry}")), "`{key}`: {source}");
            let density = number(key, text(item, "density").expect("a density"), " g/mL");
            let (weighed, published) = (density * unit.size(Measures::Us), decimal(grams));
            let off = (weighed.clone() - &published).abs();
            assert!(off * decimal("100") <= published, "`{key}`: {} g, published {grams} g", weighed.fixed(2));
        }
        let states = |item: &&toml::Table| {
            text(item, "source").is_some_and(|s| s.contains(&format!("density: USDA {release} ")))
        };
        let stated = pantry.values().filter(states).count();
        assert_eq!(stated, table.len(), "a density with a number of {release} that is not checked here");
    }
}

#[test]
fn water_is_the_published_one() {
    let pantry = read(ENGLISH);
    for (key, published) in PUBLISHED_WATER {
        let item = &pantry[*key];
        assert!(text(item, "source").is_some_and(|s| s.contains("water: USDA SR28 ")), "`{key}` names no entry");
        let off = (number(key, text(item, "water").expect("water"), " %") - decimal(published)).abs();
        assert!(off <= decimal("0.05"), "`{key}`: {} % off {published} %", off.decimal());
    }
    let stated = pantry.values().filter(|item| text(item, "source").is_some_and(|s| s.contains("water: USDA SR28 ")));
    assert_eq!(stated.count(), PUBLISHED_WATER.len(), "a water content with a number that is not checked here");
}

#[test]
fn weights_of_one_are_the_published_ones() {
    let pantry = read(ENGLISH);
    for (key, entry, grams) in PUBLISHED_EACH {
        let item = &pantry[*key];
        assert!(text(item, "source").is_some_and(|s| s.contains(&format!("each: USDA SR26 {entry}, "))), "`{key}`");
        assert_eq!(number(key, text(item, "each").expect("a weight"), " g"), decimal(grams), "`{key}`");
    }
}

#[test]
fn allergens_are_those_of_the_published_list() {
    let pantry = read(ENGLISH);
    assert_eq!(LISTED.iter().map(|(id, _)| *id).collect::<Vec<_>>(), Allergen::ALL, "the whole list, once");
    for (allergen, items) in LISTED {
        let holds =
            |item: &toml::Table| list(item, "allergens").is_some_and(|ids| ids.iter().any(|id| id == allergen.id()));
        let found: BTreeSet<&str> =
            pantry.iter().filter(|(_, item)| holds(item)).map(|(key, _)| key.as_str()).collect();
        assert_eq!(found, items.iter().copied().collect(), "items with {}", allergen.id());
    }
}

#[test]
fn facts_of_an_item_do_not_contradict_each_other() {
    for (key, item) in &read(ENGLISH) {
        let has = |field: &str, id: &str| list(item, field).is_some_and(|ids| ids.iter().any(|entry| entry == id));
        let animal = ["milk", "eggs", "fish", "crustaceans", "molluscs"].iter().any(|id| has("allergens", id));
        assert!(!(animal && has("diet", "vegan")), "`{key}` comes from an animal and is called vegan");
        let slaughtered = ["poultry", "ground-meat", "meat", "fish"].iter().any(|id| has("hazards", id));
        assert!(!(slaughtered && has("diet", "vegetarian")), "`{key}` is meat or fish and is called vegetarian");
        assert!(!has("diet", "vegan") || has("diet", "vegetarian"), "`{key}` is vegan and not vegetarian");
        assert!(
            text(item, "role") != Some("flour") || has("hazards", "raw-flour"),
            "`{key}` is a flour without its caution"
        );
        assert!(
            text(item, "role") != Some("egg") || has("hazards", "raw-egg"),
            "`{key}` is an egg without its caution"
        );
        let liquid = text(item, "role") == Some("liquid");
        let water = number(key, text(item, "water").expect("water"), " %");
        assert!(!liquid || water > decimal("50"), "`{key}` is a liquid of {} % water", water.decimal());
    }
}

#[test]
fn compounds_add_up_and_hold_their_ingredients_allergens() {
    let pantry = read(ENGLISH);
    let mut compounds = 0;
    for (key, item) in &pantry {
        let Some(made_of) = item.get("made-of").map(|value| value.as_table().expect("a table")) else { continue };
        compounds += 1;
        let own: BTreeSet<String> = list(item, "allergens").into_iter().flatten().collect();
        let mut sum = Exact::zero();
        for (ingredient, share) in made_of {
            let ingredient_item = pantry.get(ingredient).unwrap_or_else(|| panic!("`{key}`: no item `{ingredient}`"));
            sum += &number(key, share.as_str().expect("a text"), " %");
            for id in list(ingredient_item, "allergens").into_iter().flatten() {
                assert!(own.contains(&id), "`{key}` hides the {id} of `{ingredient}`");
            }
        }
        assert_eq!(sum, decimal("100"), "`{key}`");
    }
    assert!(compounds > 0);
}
