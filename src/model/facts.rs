//! The pantry: facts on ingredients, each of them possibly unknown.

use crate::exact::Exact;
use crate::span::Span;
use std::collections::{BTreeMap, BTreeSet};

/// What an ingredient is in a formula.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each is the role of its name in the source format")]
pub enum Role {
    Flour,
    Liquid,
    Fat,
    Leavener,
    Salt,
    Sugar,
    Egg,
    Other,
}

macro_rules! named {
    ($(#[$meta:meta])* $name:ident { $($variant:ident = $text:literal),* $(,)? }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[expect(missing_docs, reason = "each is the entry of its published name")]
        pub enum $name { $($variant),* }
        impl $name {
            /// Every entry, in the order of its list.
            pub const ALL: &[Self] = &[$(Self::$variant),*];
            /// Its id in sources and in JSON.
            pub fn id(self) -> &'static str {
                match self { $(Self::$variant => $text),* }
            }
            /// The entry of that id.
            pub fn parse(id: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|entry| entry.id() == id)
            }
        }
        /// An entry is its id in a template.
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.id())
            }
        }
        /// And read back from it.
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let id = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
                Self::parse(&id).ok_or_else(|| serde::de::Error::custom(format!("there is no `{id}`")))
            }
        }
    };
}

named! {
    /// An allergen id, the union of the regions' lists.
    Allergen {
        Wheat = "wheat", Rye = "rye", Barley = "barley", Oats = "oats", Crustaceans = "crustaceans",
        Eggs = "eggs", Fish = "fish", Peanuts = "peanuts", Soybeans = "soybeans", Milk = "milk",
        Almonds = "almonds", Hazelnuts = "hazelnuts", Walnuts = "walnuts", Cashews = "cashews",
        Pecans = "pecans", BrazilNuts = "brazil-nuts", Pistachios = "pistachios",
        Macadamias = "macadamias", PineNuts = "pine-nuts", Celery = "celery", Mustard = "mustard",
        Sesame = "sesame", Sulphites = "sulphites", Lupin = "lupin", Molluscs = "molluscs",
    }
}

named! {
    /// A diet claim. The `…-free` ones follow from allergens, the others from an item's `diet`.
    Claim {
        Vegan = "vegan", Vegetarian = "vegetarian", GlutenFree = "gluten-free",
        DairyFree = "dairy-free", EggFree = "egg-free", NutFree = "nut-free",
    }
}

named! {
    /// Why an item calls for a caution.
    Hazard {
        RawFlour = "raw-flour", RawEgg = "raw-egg", Poultry = "poultry", GroundMeat = "ground-meat",
        Meat = "meat", Fish = "fish", Garlic = "garlic", Acid = "acid", Potato = "potato",
    }
}

/// Facts on one ingredient; `None` is unknown, never zero or empty. Compounds (`made-of`) are
/// resolved: what the item does not state itself is derived from what it is made of.
#[derive(Clone, Debug)]
pub struct Item {
    /// Its key in the pantry.
    pub key: String,
    /// Its name in this run's language.
    pub name: String,
    /// Its name for more than one; `name` where none is given.
    pub plural: String,
    /// What may be heard for it in captions.
    pub said_as: Vec<String>,
    /// Grams per millilitre.
    pub density: Option<Exact>,
    /// Grams of one of it, as eaten.
    pub each: Option<Exact>,
    /// Water as a share of its weight, 0 to 1.
    pub water: Option<Exact>,
    /// What is eaten as a share of what is bought, above 0 to 1; 1 where none is given.
    pub edible: Exact,
    /// Its role; `Other` where none is given.
    pub role: Role,
    /// Its allergens.
    pub allergens: Option<BTreeSet<Allergen>>,
    /// The diets it fits (vegan and vegetarian).
    pub diet: Option<BTreeSet<Claim>>,
    /// Why it calls for a caution.
    pub hazards: BTreeSet<Hazard>,
    /// Where the channel's own pantry states it; `None` for a built-in item.
    pub span: Option<Span>,
}

/// All known items by key: the built-in pantry with the channel's laid over it, line by line.
#[derive(Clone, Debug, Default)]
pub struct Pantry {
    /// Items by key.
    pub items: BTreeMap<String, Item>,
}

impl Pantry {
    /// The item of that key.
    pub fn get(&self, key: &str) -> Option<&Item> {
        self.items.get(key)
    }

    /// The part of the pantry with these items.
    pub fn only<'k>(&self, items: impl Iterator<Item = &'k str>) -> Self {
        let known = items.filter_map(|key| self.items.get_key_value(key));
        Self { items: known.map(|(key, item)| (key.clone(), item.clone())).collect() }
    }
}
