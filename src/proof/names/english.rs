//! English words by which a mangled name is found or let be. Data only; must not know how.

/// Words that are no part of a name, whatever they sound like.
pub(super) const SMALL: &str = "\
    a an the this that these those my your our his her their its it he she we you they i me him us them who what which \
    of and or but nor so then than as if to for from in into on onto at by with without over under up down out off about \
    around through until till before after again is are was were be been being am im ive ill id youre youve youll youd id theyd wed hed shed itd weve well \
    were theyre hes shes its thats theres heres whats lets dont doesnt didnt isnt wasnt wont cant couldnt do does did done \
    have has had having will would can could should may might must not no yes okay ok oh just only also too very really \
    quite some any all both each every more most less much many few one ones here there where when how why now get gets got \
    go goes going went gone come comes came make makes made take takes took put puts let like know think see look say says \
    said want need way thing things bit lot right left first last next other another same such own back good nice plenty enough lots loads set sets lose loses stay stays tell types kind sort roughly";

/// What stands in every kitchen, and in no name, alone or run together with words beside it.
pub(super) const THEMSELVES: &[&str] = &["scale", "scales"];

/// What is done with food, or stands before a name: the name comes next, or behind a small word.
pub(super) const VERBS: &str = "\
    add stir whisk mix fold pour sprinkle scatter chop slice dice mince grate peel crush grind toast fry boil simmer drain soak \
    rinse season toss knead melt beat sift spoon squeeze zest drizzle weigh measure use brush spread roll press bake roast \
    warm heat cool chill blend mash cut shred crumble with called call";

/// What stands behind a verb and behind no name: "bring it up".
pub(super) const OBJECTS: &[&str] =
    &["it", "them", "up", "down", "him", "her", "that", "this", "those", "these", "back"];

/// Measures that no scale has: what comes behind "of" is food.
pub(super) const HANDFULS: &str = "\
    pinch handful sprig splash dash dusting drizzle knob spoonful spoon bowl jar tin can packet bag bunch clove slice drop \
    squeeze sprinkle sprinkling scattering glug";

/// Spellings of one name that are both right.
pub(super) const SPELLINGS: &[(&str, &str)] = &[
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

/// Words that mean something else without their accent.
pub(super) const OTHER_WITHOUT_ACCENT: &[&str] = &["rose", "pate", "saute", "resume", "mate", "lame", "puree"];

/// Endings that make another form of the same word.
pub(super) const ENDINGS: &[&str] = &[
    "s", "es", "y", "ed", "d", "ing", "er", "ers", "r", "ery", "ly", "less", "like", "ish", "en", "n", "ies", "ion",
    "ions",
];
