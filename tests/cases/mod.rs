//! The good channel and the ways to spoil it, each with the findings that it must draw.

mod entries;
mod recipes;

/// One change of the good channel.
pub enum Edit {
    /// In a file, a text that stands there once becomes another.
    Change(&'static str, &'static str, &'static str),
    /// A file has this text.
    Write(&'static str, &'static str),
    /// A file is not there.
    Remove(&'static str),
}

/// A spoilt channel.
pub struct Case {
    /// What is wrong with it.
    pub name: &'static str,
    /// How it comes about.
    pub edits: &'static [Edit],
    /// `path:line:column code` of every finding, in order; warnings say so.
    pub expect: &'static [&'static str],
}

/// The good channel's recipe.
pub const RECIPE: &str = "buns/recipe.md";

/// A channel without any finding.
pub const GOOD: &[(&str, &str)] = &[
    ("channel.toml", "name = \"Test Kitchen\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n"),
    (
        "pantry.toml",
        "[odd-powder]\nname = \"odd powder\"\nallergens = []\n\n[odd-seed]\nname = \"odd seed\"\ndiet = [\"vegan\"]\n",
    ),
    (
        "prices.csv",
        "date,item,pack,price,place,note\n\
         2026-03-02,strong-flour,1 kg,1.20,market hall,\n\
         2026-03-02,salt,500 g,0.60,market hall,\n",
    ),
    (
        RECIPE,
        "+++\n\
         title = \"Plain buns\"\n\
         makes = \"10-12 buns\"\n\
         batch = \"300 g\"\n\
         \n\
         [formula]\n\
         strong-flour = \"100 %\"\n\
         water = \"60 %\"\n\
         salt = \"2 %\"\n\
         +++\n\
         \n\
         Mix and bake.\n\
         \n\
         ## Mix\n\
         > Mix, rest {20 min}\n\
         Mix {strong-flour}, {water} and {salt}.\n\
         \n\
         ## Bake\n\
         Bake {pieces} at {220 °C}.\n",
    ),
];

/// Every case.
pub const CASES: &[Case] = &{
    let mut all = [const { Case { name: "", edits: &[], expect: &[] } }; entries::CASES.len() + recipes::CASES.len()];
    let mut at = 0;
    while at < all.len() {
        let case =
            if at < entries::CASES.len() { &entries::CASES[at] } else { &recipes::CASES[at - entries::CASES.len()] };
        all[at] = Case { name: case.name, edits: case.edits, expect: case.expect };
        at += 1;
    }
    all
};
