//! Reads the pantry: the built-in one, the channel's laid over it line by line, and their words in the
//! run's language. Must not know recipes.

use super::field::{self, as_table, as_written, check_id, check_keys, unknown_choice};
use super::{Languages, compound, quantity};
use crate::diag::{Diagnostic, Findings};
use crate::exact::{Dimension, Exact, Measures};
use crate::model::{Allergen, Claim, Hazard, Item, Pantry, Role, codes};
use crate::source::{Sources, Table, read_toml};
use crate::span::{SourceId, Span, Spanned, Texts};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

const KEYS: &[&str] = &[
    "name",
    "plural",
    "said-as",
    "density",
    "cup",
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
const WORD_KEYS: &[&str] = &["name", "plural", "said-as"];
const ROLES: [(&str, Role); 8] = [
    ("flour", Role::Flour),
    ("liquid", Role::Liquid),
    ("fat", Role::Fat),
    ("leavener", Role::Leavener),
    ("salt", Role::Salt),
    ("sugar", Role::Sugar),
    ("egg", Role::Egg),
    ("other", Role::Other),
];

/// The built-in pantry, in pieces that are read side by side, and its words; its cups are none, it states densities.
const BUILT_IN: [(&str, &str); 4] = [
    ("pantry.staples.toml", include_str!("../builtin/pantry.staples.toml")),
    ("pantry.shelf.toml", include_str!("../builtin/pantry.shelf.toml")),
    ("pantry.garden.toml", include_str!("../builtin/pantry.garden.toml")),
    ("pantry.spice.toml", include_str!("../builtin/pantry.spice.toml")),
];
const BUILT_IN_WORDS: [(&str, &str); 2] =
    [("de", include_str!("../builtin/pantry.de.toml")), ("fr", include_str!("../builtin/pantry.fr.toml"))];

/// Items and their shares of the whole, from 0 to 1.
#[derive(Clone, Debug)]
pub(super) struct MadeOf {
    pub(super) parts: Vec<(Spanned<String>, Exact)>,
    /// Where it stands; `None` for one of the built-in pantry, whose places are none of the channel's.
    pub(super) span: Option<Span>,
}

/// What the sources say of an item; `None` is said nowhere.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    name: Option<String>,
    plural: Option<String>,
    said_as: Vec<String>,
    density: Option<Exact>,
    each: Option<Exact>,
    pub(super) water: Option<Exact>,
    edible: Option<Exact>,
    role: Option<Role>,
    pub(super) allergens: Option<BTreeSet<Allergen>>,
    pub(super) diet: Option<BTreeSet<Claim>>,
    pub(super) hazards: Option<BTreeSet<Hazard>>,
    pub(super) made_of: Option<MadeOf>,
    /// Where the channel speaks of it.
    pub(super) span: Option<Span>,
}

/// Everything known of every item.
pub(super) fn read(sources: &Sources, languages: &Languages, measures: Measures, findings: &mut Findings) -> Pantry {
    let mut drafts = built_in(measures, findings);
    let own_words_first = languages.run != languages.own;
    let channel = sources.file("pantry.toml").map(|(id, text)| read_toml(id, text, 0..text.len(), findings));
    if !own_words_first {
        built_in_words(&mut drafts, &languages.run, findings);
    }
    if let Some(table) = &channel {
        field::unless_torn(table, findings, |findings| overlay(&mut drafts, table, true, measures, findings));
    }
    if own_words_first {
        built_in_words(&mut drafts, &languages.run, findings);
    }
    for path in sources.paths() {
        let language = path.strip_prefix("pantry.").and_then(|rest| rest.strip_suffix(".toml"));
        if let (Some(language), Some((id, text))) = (language, sources.file(path)) {
            let table = read_toml(id, text, 0..text.len(), findings);
            let wanted = language == languages.run;
            field::unless_torn(&table, findings, |findings| words(&mut drafts, &table, wanted, findings));
        }
    }
    compound::resolve(&mut drafts, findings);
    let items = drafts.into_iter().map(|(key, draft)| (key.clone(), draft.finish(key))).collect();
    Pantry { items }
}

/// The built-in pantry; a fault in it is ours and has no place in the channel.
fn built_in(measures: Measures, findings: &mut Findings) -> BTreeMap<String, Draft> {
    let pieces = BUILT_IN.par_iter().map(|(name, text)| {
        let (mut drafts, mut own, mut told) = (BTreeMap::new(), Findings::new(), Findings::new());
        let table = read_toml(SourceId(0), text, 0..text.len(), &mut own);
        overlay(&mut drafts, &table, false, measures, &mut own);
        blame_built_in(&own, name, text, &mut told);
        (drafts, told)
    });
    let mut all = BTreeMap::new();
    for (mut drafts, told) in pieces.collect::<Vec<_>>() {
        all.append(&mut drafts);
        findings.extend(told);
    }
    all
}

fn built_in_words(drafts: &mut BTreeMap<String, Draft>, language: &str, findings: &mut Findings) {
    for (_, text) in BUILT_IN_WORDS.iter().filter(|(of, _)| *of == language) {
        let mut own = Findings::new();
        let table = read_toml(SourceId(0), text, 0..text.len(), &mut own);
        words(drafts, &table, true, &mut own);
        blame_built_in(&own, language, text, findings);
    }
}

fn blame_built_in(own: &Findings, name: &str, text: &str, findings: &mut Findings) {
    let mut texts = Texts::new("built-in");
    texts.add(name, text);
    for finding in own.sorted() {
        let message = crate::diag::one_line(finding, &texts);
        findings.push(Diagnostic { span: None, message, hint: None, ..finding.clone() });
    }
}

/// Lays the items of `table` over `drafts`, line by line.
fn overlay(
    drafts: &mut BTreeMap<String, Draft>,
    table: &Table,
    of_channel: bool,
    measures: Measures,
    findings: &mut Findings,
) {
    for entry in &table.entries {
        let Some(item) = as_table(&entry.value, findings) else { continue };
        check_keys(item, KEYS, &format!("`[{}]`", entry.key.value), findings);
        if !check_id(&entry.key, "an item", findings) {
            continue;
        }
        let draft = drafts.entry(entry.key.value.clone()).or_default();
        draft.span = if of_channel { Some(entry.key.span) } else { None };
        draft.words(item, findings);
        draft.facts(item, of_channel, measures, findings);
    }
}

/// Lays words over `drafts` where they are wanted, and checks them in any case.
fn words(drafts: &mut BTreeMap<String, Draft>, table: &Table, wanted: bool, findings: &mut Findings) {
    for entry in &table.entries {
        let Some(item) = as_table(&entry.value, findings) else { continue };
        check_keys(item, WORD_KEYS, &format!("`[{}]` of a translation", entry.key.value), findings);
        if !drafts.contains_key(&entry.key.value) {
            unknown_choice(codes::UNKNOWN_ITEM, "item", &entry.key, drafts.keys().map(String::as_str), findings);
            continue;
        }
        let mut aside = Draft::default();
        let draft = drafts.get_mut(&entry.key.value).filter(|_| wanted).unwrap_or(&mut aside);
        draft.words(item, findings);
    }
}

impl Draft {
    fn words(&mut self, table: &Table, findings: &mut Findings) {
        if let Some(name) = field::text(table, "name", findings) {
            self.name = Some(name.value);
            // A plural belongs to the name it was given with.
            self.plural = None;
        }
        if let Some(plural) = field::text(table, "plural", findings) {
            self.plural = Some(plural.value);
        }
        if let Some(said) = field::texts(table, "said-as", findings) {
            self.said_as = said.into_iter().map(|text| text.value).collect();
        }
    }

    fn facts(&mut self, table: &Table, of_channel: bool, measures: Measures, findings: &mut Findings) {
        if let Some(made_of) = field::table(table, "made-of", findings) {
            // Facts stated for the composition that this one replaces no longer hold.
            (self.water, self.allergens, self.diet, self.hazards) = (None, None, None, None);
            let parts = components(made_of, measures, findings);
            self.made_of = Some(MadeOf { parts, span: of_channel.then_some(made_of.span) });
        }
        if let Some(density) = density(table, measures, findings) {
            self.density = Some(density);
        }
        if let Some(text) = field::text(table, "each", findings) {
            self.each =
                quantity::single(&text, Dimension::Weight, measures, findings).map(|q| q.value).or(self.each.take());
        }
        if let Some(text) = field::text(table, "water", findings) {
            self.water = quantity::share(&text, measures, findings).or(self.water.take());
        }
        if let Some(text) = field::text(table, "edible", findings) {
            self.edible = edible(&text, measures, findings).or(self.edible.take());
        }
        if let Some(word) = field::text(table, "role", findings) {
            let found = ROLES.iter().find(|(name, _)| *name == word.value).map(|(_, role)| *role);
            if found.is_none() {
                unknown_choice(codes::UNKNOWN_CHOICE, "role", &word, ROLES.iter().map(|(name, _)| *name), findings);
            }
            self.role = found.or(self.role);
        }
        self.sets(table, findings);
        // Where a figure is from is for whoever reads the file; it only has to be a text.
        field::text(table, "source", findings);
    }

    fn sets(&mut self, table: &Table, findings: &mut Findings) {
        if let Some(words) = field::texts(table, "allergens", findings) {
            self.allergens = Some(named("allergen", &words, Allergen::ALL, Allergen::id, findings));
        }
        if let Some(words) = field::texts(table, "diet", findings) {
            let claims = [Claim::Vegan, Claim::Vegetarian];
            let mut diet = named("diet of an item", &words, &claims, Claim::id, findings);
            if diet.contains(&Claim::Vegan) {
                diet.insert(Claim::Vegetarian);
            }
            self.diet = Some(diet);
        }
        if let Some(words) = field::texts(table, "hazards", findings) {
            self.hazards = Some(named("hazard", &words, Hazard::ALL, Hazard::id, findings));
        }
    }

    fn finish(self, key: String) -> Item {
        let name = self.name.unwrap_or_else(|| key.replace('-', " "));
        Item {
            plural: self.plural.unwrap_or_else(|| name.clone()),
            name,
            said_as: self.said_as,
            density: self.density,
            each: self.each,
            water: self.water,
            edible: self.edible.unwrap_or_else(Exact::one),
            role: self.role.unwrap_or(Role::Other),
            allergens: self.allergens,
            diet: self.diet,
            hazards: self.hazards.unwrap_or_default(),
            span: self.span,
            key,
        }
    }
}

/// The entries of these ids; ids that are none are findings.
fn named<T: Copy + Ord>(
    what: &str,
    words: &[Spanned<String>],
    all: &[T],
    id: fn(T) -> &'static str,
    findings: &mut Findings,
) -> BTreeSet<T> {
    let mut found = BTreeSet::new();
    for word in words {
        match all.iter().find(|entry| id(**entry) == word.value) {
            Some(entry) => drop(found.insert(*entry)),
            None => unknown_choice(codes::UNKNOWN_CHOICE, what, word, all.iter().map(|entry| id(*entry)), findings),
        }
    }
    found
}

/// Grams a millilitre from `density` ("0.72 g/mL") or `cup` ("165 g").
fn density(table: &Table, measures: Measures, findings: &mut Findings) -> Option<Exact> {
    if let (Some(_), Some(cup)) = (table.get("density"), table.entry("cup")) {
        let finding = Diagnostic::error(codes::GIVEN_TWICE, cup.key.span, "`cup` and `density` say the same thing");
        findings.push(finding.hint("keep one of the two"));
    }
    if let Some(text) = field::text(table, "density", findings) {
        return written_density(&text, measures, findings);
    }
    let text = field::text(table, "cup", findings)?;
    let grams = quantity::single(&text, Dimension::Weight, measures, findings)?.value;
    grams.over(&crate::exact::Unit::Cup.size(measures))
}

fn written_density(text: &Spanned<String>, measures: Measures, findings: &mut Findings) -> Option<Exact> {
    let Some((weight, volume)) = text.value.split_once('/') else {
        let message = format!("`{}` is no density", text.value);
        findings.push(Diagnostic::error(codes::WRONG_UNIT, text.span, message).hint("write it as `0.72 g/mL`"));
        return None;
    };
    let grams = quantity::single(&Spanned::new(weight.trim().into(), text.span), Dimension::Weight, measures, findings);
    // "g/mL" is per one millilitre; "165 g / 250 mL" is as good.
    let volume = volume.trim();
    let volume = if volume.starts_with(char::is_alphabetic) { format!("1 {volume}") } else { volume.to_owned() };
    let volume = quantity::single(&Spanned::new(volume, text.span), Dimension::Volume, measures, findings);
    grams?.value.over(&volume?.value)
}

fn edible(text: &Spanned<String>, measures: Measures, findings: &mut Findings) -> Option<Exact> {
    let share = quantity::share(text, measures, findings)?;
    if share.is_zero() {
        findings.push(quantity::zero(text.span));
        return None;
    }
    Some(share)
}

fn components(table: &Table, measures: Measures, findings: &mut Findings) -> Vec<(Spanned<String>, Exact)> {
    let mut parts = Vec::new();
    for entry in &table.entries {
        let Some(text) = as_written(&entry.value, "a percent, such as `94 %`", findings) else { continue };
        let share = quantity::share(&text, measures, findings);
        parts.extend(share.map(|share| (entry.key.clone(), share)));
    }
    parts
}
