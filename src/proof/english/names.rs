//! English: words by which a mangled name is found or let be.

use super::sound::{sound, spoken};
use crate::proof::lexicon::NameWords;

/// All of them.
pub const NAMES: NameWords = NameWords {
    small: "\
    a an the this that these those my your our his her their its it he she we you they i me him us them who what which \
    of and or but nor so then than as if to for from in into on onto at by with without over under up down out off about \
    around through until till before after again is are was were be been being am im ive ill id youre youve youll youd id theyd wed hed shed itd weve well \
    were theyre hes shes its thats theres heres whats lets dont doesnt didnt isnt wasnt wont cant couldnt do does did done \
    have has had having will would can could should may might must not no yes okay ok oh just only also too very really \
    quite some any all both each every more most less much many few one ones here there where when how why now get gets got \
    go goes going went gone come comes came make makes made take takes took put puts let like know think see look say says \
    said want need way thing things bit lot right left first last next other another same such own back good nice plenty enough lots loads set sets lose loses stay stays spend spends pay pays yall tell types kind sort roughly",
    ends_none: "is was were",
    ends_no_plural: "are",
    themselves: "scale scales spent",
    verbs: "\
    add stir whisk mix fold pour sprinkle scatter chop slice dice mince grate peel crush grind toast fry boil simmer drain soak \
    rinse season toss knead melt beat sift spoon squeeze zest drizzle weigh measure use brush spread roll press bake roast \
    warm heat cool chill blend mash cut shred crumble with called call",
    objects: "it them up down him her that this those these back",
    handfuls: "\
    pinch handful sprig splash dash dusting drizzle knob spoonful spoon bowl jar tin can packet bag bunch clove slice drop \
    squeeze sprinkle sprinkling scattering glug",
    breath: "a",
    other_without_accent: &["rose", "pate", "saute", "resume", "mate", "lame", "puree"],
    alike,
    spoken,
    sound,
};

/// Spellings of one name that are both right.
const SPELLINGS: &[(&str, &str)] = &[
    ("chili", "chilli"),
    ("chile", "chilli"),
    ("yogurt", "yoghurt"),
    ("donut", "doughnut"),
    ("filet", "fillet"),
    ("omelet", "omelette"),
    ("hummus", "houmous"),
    ("tortilla", "tortillas"),
    ("flavor", "flavour"),
];

/// Endings that make another form of the same word.
const ENDINGS: &[&str] = &[
    "s", "es", "y", "ed", "d", "ing", "er", "ers", "r", "ery", "ly", "less", "like", "ish", "en", "n", "ies", "ion",
    "ions",
];

/// Whether two words are forms or spellings of one.
fn alike(one: &str, other: &str) -> bool {
    let ends = |end: &str| end.is_empty() || ENDINGS.contains(&end);
    // "acting" and "action" are both of "act".
    let mut roots = (3..=one.len().min(other.len())).take_while(|root| one.get(..*root) == other.get(..*root));
    // "baked" is of "bake", but "tamarin" is no form of "tamarind".
    let past =
        |word: &str, root: usize| word.get(root..) != Some("d") || word.get(..root).is_some_and(|r| r.ends_with('e'));
    let grown = |root: usize| [one, other].iter().all(|word| word.get(root..).is_some_and(ends) && past(word, root));
    let spelled = SPELLINGS.iter().any(|pair| *pair == (one, other) || *pair == (other, one));
    roots.any(grown) || spelled || turned(one) == turned(other)
}

/// A word as its other spellings have it: "leaf" and "leaves", "cherry" and "cherries", "smokey" and "smoky".
fn turned(word: &str) -> String {
    let turned = word.replace("ves", "f").replace("ies", "y");
    turned.strip_suffix("ey").map_or(turned.clone(), |root| format!("{root}y"))
}
