//! Reads good channels: what the sources say is what the entries hold.

use std::path::Path;
use tallyspoon::diag::{Style, render};
use tallyspoon::exact::{Dimension, Exact};
use tallyspoon::model::{
    Allergen, Amount, Basis, Brace, Claim, Content, Field, Inline, LineRef, Options, Outcome, Pack, Pan, Recipe,
    Region, Share, Subject, load,
};
use tallyspoon::source::Sources;

const CHANNEL: &str = "name = \"Test Kitchen\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n";

/// Reads a channel that must have no finding at all.
fn good(files: &[(&str, &str)], language: Option<&str>) -> Content {
    let (content, shown) = read(files, language);
    assert_eq!(shown, "");
    content.expect("no errors")
}

fn read(files: &[(&str, &str)], language: Option<&str>) -> (Option<Content>, String) {
    let has_channel = files.iter().any(|(path, _)| *path == "channel.toml");
    let channel = (!has_channel).then_some(("channel.toml", CHANNEL));
    let all = files.iter().copied().chain(channel).map(|(path, text)| (path, text.as_bytes().to_vec()));
    let sources = Sources::from_memory("content", all);
    let (content, findings) = load(&sources, &Options { language: language.map(str::to_owned) });
    let shown = findings.sorted().iter().map(|finding| render(finding, &sources.texts, Style::Plain)).collect();
    (content, shown)
}

fn recipe(text: &str) -> Recipe {
    good(&[("it/recipe.md", text)], None).recipes.remove(0)
}

/// A front matter with a method that uses every line named.
fn with_lines(front: &str, uses: &str) -> Recipe {
    recipe(&format!("+++\ntitle = \"It\"\n{front}\n+++\n\n## Mix\n{uses}\n"))
}

fn exact(text: &str) -> Exact {
    Exact::from_decimal(text).expect("a number")
}

fn at(part: usize, line: usize) -> LineRef {
    LineRef { part, line }
}

#[test]
fn the_demo_channel_has_no_findings_in_any_language() {
    let sources = Sources::read(Path::new("content"));
    for language in [None, Some("en"), Some("fr"), Some("de")] {
        let (content, findings) = load(&sources, &Options { language: language.map(str::to_owned) });
        let shown: String = findings.sorted().iter().map(|f| render(f, &sources.texts, Style::Plain)).collect();
        assert_eq!(shown, "", "{language:?}");
        assert!(content.is_some());
    }
}

#[test]
fn defaults_of_a_channel_follow_from_its_locale() {
    let minimal = ("it/recipe.md", "+++\ntitle = \"It\"\n[formula]\nsalt = \"2 g\"\n+++\n## Mix\nTake {salt}.\n");
    for (locale, region, language) in [
        ("en-IE", Region::Eu, "en"),
        ("en-US", Region::Us, "en"),
        ("fr-CA", Region::Ca, "fr"),
        ("en-AU", Region::Anz, "en"),
        ("en-NZ", Region::Anz, "en"),
        ("de", Region::Eu, "de"),
    ] {
        let text = CHANNEL.replace("en-IE", locale);
        let channel = good(&[("channel.toml", &text), minimal], None).channel;
        assert_eq!((channel.region, channel.language.as_str()), (region, language), "{locale}");
        assert_eq!(channel.theme.value, "harbour");
        assert_eq!(channel.scale.value, Exact::one());
        let sizes: Vec<_> = channel.frames.iter().map(|f| (f.id.as_str(), f.width, f.height)).collect();
        assert_eq!(sizes, [("wide", 1920, 1080), ("tall", 1080, 1920)]);
    }
}

#[test]
fn margins_are_whole_pixels_rounded_up() {
    // EBU R 95: the graphics-safe area of 1080 lines is 96 and 54 pixels in from the edge.
    let text = format!(
        "{CHANNEL}[frame.wide]\nsize = \"1920x1080\"\nrate = 29.97\nsafe = \"5 %\"\n\
         [frame.tall]\nsize = \"1080x1920\"\nsafe = {{ top = \"12 %\", right = \"12 %\", bottom = \"20 %\", left = \"6 %\" }}\n\
         [frame.square]\nsize = \"1080 x 1080\"\nsafe = \"2 %\"\n"
    );
    let recipe = ("it/recipe.md", "+++\ntitle = \"It\"\n[formula]\nsalt = \"2 g\"\n+++\n## Mix\nTake {salt}.\n");
    let frames = good(&[("channel.toml", &text), recipe], None).channel.frames;
    let safe: Vec<_> = frames.iter().map(|f| (f.safe.top, f.safe.right, f.safe.bottom, f.safe.left)).collect();
    assert_eq!(safe, [(54, 96, 54, 96), (231, 130, 384, 65), (22, 22, 22, 22)]);
    assert_eq!(frames[0].rate.as_deref(), Some("29.97"));
}

#[test]
fn amounts_keep_what_was_written() {
    let recipe = with_lines(
        "makes = 24\nbatch = \"500 g\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"60-65 %\"\nbutter = \"1 lb 2 oz\"\n\
         milk = \"1 1/2 cups\"\negg = 2\nsalt = \"to taste\"\nsecond-water = { item = \"water\", amount = \"20 g\", name = \"more water\", note = \"cold\", fixed = true }",
        "{plain-flour} {water} {butter} {milk} {egg} {salt} {second-water}",
    );
    let amounts: Vec<&Amount> = recipe.parts[0].lines.iter().map(|line| &line.amount.value).collect();
    assert_eq!(*amounts[1], Amount::Percent { value: exact("65"), low: Some(exact("60")) });
    // NIST: 1 lb is 453.59237 g, 1 oz 28.349523125 g.
    assert_eq!(*amounts[2], Amount::Weight { value: exact("510.29141625"), low: None });
    assert!(matches!(amounts[3], Amount::Volume { value, .. } if *value == exact("375")));
    assert_eq!(*amounts[4], Amount::Count { value: exact("2"), low: None });
    assert_eq!(*amounts[5], Amount::ToTaste);
    let second = recipe.line(at(0, 6));
    assert_eq!(second.subject, Subject::Item("water".into()));
    assert_eq!(
        (second.name.as_deref(), second.note.as_deref(), second.fixed),
        (Some("more water"), Some("cold"), true)
    );
    let makes = &recipe.makes.as_ref().expect("makes").value;
    assert_eq!((makes.low, makes.high, makes.one.as_str(), makes.many.as_str()), (24, 24, "piece", "pieces"));
    assert_eq!(recipe.line_id(at(0, 6)), "main.second-water");
}

#[test]
fn several_flours_are_the_basis_and_dusting_is_not() {
    let recipe = with_lines(
        "batch = \"500 g\"\n[formula]\nstrong-flour = \"80 %\"\nrye-flour = \"20 %\"\nwater = \"60 %\"\nbench = { item = \"plain-flour\", amount = \"10 g\", fixed = true }",
        "{strong-flour} {rye-flour} {water} {bench}",
    );
    assert_eq!(recipe.parts[0].basis, Basis::Lines(vec![0, 1]));
}

#[test]
fn parts_nest_and_the_last_free_one_is_the_main_one() {
    let recipe = with_lines(
        "makes = \"12 buns\"\n[parts.dough]\neach = \"80 g\"\n[parts.filling]\neach = \"30 g\"\nbasis = \"onion\"\ntitle = \"Filling\"\n\
         [formula.poolish]\nstrong-flour = \"100 %\"\nwater = \"100 %\"\n[formula.filling]\nonion = \"100 %\"\nsalt = \"1 %\"\n\
         [formula.dough]\nstrong-flour = \"100 %\"\npoolish = \"60 %\"",
        "{poolish.strong-flour} {water} {onion} {salt} {dough.strong-flour} {half poolish} {remaining poolish} {filling amount}",
    );
    assert_eq!(recipe.main, 2);
    assert_eq!(recipe.line(at(2, 1)).subject, Subject::Part(0));
    assert_eq!(recipe.parts[1].title.as_deref(), Some("Filling"));
    let braces: Vec<&Brace> = braces(&recipe.method.steps[0].text).collect();
    assert!(matches!(braces[5], Brace::Line(use_) if use_.line == at(2, 1)), "a taken part is the line that takes it");
    assert!(matches!(braces[7], Brace::Part(use_) if use_.part == 1 && use_.field == Field::Amount));
}

fn braces(text: &[Vec<Inline>]) -> impl Iterator<Item = &Brace> {
    text.iter().flatten().filter_map(|inline| match inline {
        Inline::Brace(brace) => Some(&brace.value),
        Inline::Text(_) => None,
    })
}

#[test]
fn sizes_that_agree_are_fine() {
    // 300 g × 166 % = 498 g = 12 × 41.5 g
    with_lines(
        "makes = \"10-12 buns\"\nbatch = \"300 g\"\neach = \"41.5 g\"\n[formula]\nstrong-flour = \"100 %\"\nwater = \"66 %\"",
        "{strong-flour} {water}",
    );
    with_lines("batch = \"300 g\"\n[formula]\nstrong-flour = \"300 g\"\nwater = \"66 %\"", "{strong-flour} {water}");
}

#[test]
fn frying_and_variants_are_read() {
    let recipe = with_lines(
        "batch = \"300 g\"\nbasis = \"dried-chickpeas\"\ndiet = [\"vegan\"]\n[fry]\noil = \"sunflower-oil\"\npan = \"rect 20 x 30 cm\"\ndepth = \"4 cm\"\ntakes-up = \"8 %\"\n\
         [formula]\ndried-chickpeas = \"100 %\"\nsalt = \"2 %\"\n[variant.tinned]\ntitle = \"Tinned\"\nswap = { dried-chickpeas = \"tinned-chickpeas\" }\nset = { tinned-chickpeas = \"200 %\", salt = \"1 tsp\" }\n[ratio]\nat = [\"500 g\", \"250 g\"]",
        "{dried-chickpeas} {salt}",
    );
    let fry = recipe.fry.as_ref().expect("fry");
    assert_eq!(fry.pan, Pan::Rect(exact("200"), exact("300")));
    assert_eq!((&fry.depth, &fry.takes_up, &fry.uses), (&exact("40"), &exact("0.08"), &Exact::one()));
    let variant = &recipe.variants[0];
    assert_eq!(variant.swap, [(at(0, 0), "tinned-chickpeas".to_owned())]);
    let set: Vec<LineRef> = variant.set.iter().map(|(line, _)| *line).collect();
    assert_eq!(set, [at(0, 0), at(0, 1)]);
    assert_eq!(recipe.diet[0].value, Claim::Vegan);
    assert_eq!(recipe.ratio, [exact("250"), exact("500")]);
}

#[test]
fn the_method_is_text_cards_and_braces() {
    let recipe = recipe(
        "+++\ntitle = \"It\"\nmakes = \"10-12 fritters\"\nbatch = \"300 g\"\n[formula]\nstrong-flour = \"100 %\"\nwater = \"60 %\"\n+++\n\n\
         <!-- for me\nonly -->\n\nGood *buns*, \\{really\\} &amp; `quick`.\n\n## Mix, {20 min}\n> Two thirds first: {remaining\n> water}\nAdd {strong-flour} and {2/3 water}, then {remaining water amount}.\n\n\
         - Rest {20 min}.\n- Turn {4 pieces}.\n\n## Mix {20 min}\nServe {pieces} for {cost each}, at {180 °C}; {strong-flour percent}.\n",
    );
    let intro = &recipe.method.intro[0];
    assert!(matches!(intro.as_slice(), [Inline::Text(_), ..]));
    let text: String = intro
        .iter()
        .map(|inline| match inline {
            Inline::Text(text) => text.as_str(),
            Inline::Brace(_) => "BRACE",
        })
        .collect();
    assert_eq!(text, "Good buns, {really} & quick.");
    let step = &recipe.method.steps[0];
    assert_eq!((step.id.as_str(), recipe.method.steps[1].id.as_str()), ("mix-20-min", "mix-20-min-2"));
    assert_eq!(step.text.len(), 3, "the line after the quote is text, and each list item its own");
    let shares: Vec<Share> = braces(&step.text)
        .filter_map(|brace| match brace {
            Brace::Line(use_) => Some(use_.share.clone()),
            Brace::Part(_) | Brace::Measure(_) | Brace::Outcome(_) => None,
        })
        .collect();
    let third = Exact::ratio(1, 3);
    assert_eq!(shares, [Share::Whole, Share::Fraction(Exact::ratio(2, 3)), Share::Remaining { left: third.clone() }]);
    let card = step.card.clone().expect("a card");
    let on_card: Vec<Brace> = braces(&[card]).cloned().collect();
    assert!(
        matches!(&on_card[..], [Brace::Line(use_)] if use_.share == Share::Remaining { left: third }),
        "{on_card:?}"
    );
    let counts: Vec<_> = braces(&step.text)
        .filter_map(|brace| match brace {
            Brace::Measure(range) => Some((range.dimension(), range.high.value.decimal())),
            Brace::Line(_) | Brace::Part(_) | Brace::Outcome(_) => None,
        })
        .collect();
    assert_eq!(counts, [(Dimension::Duration, "1200".to_owned()), (Dimension::Count, "4".to_owned())]);
    let results: Vec<&Brace> = braces(&recipe.method.steps[1].text).collect();
    assert_eq!(*results[0], Brace::Outcome(Outcome::Pieces));
    assert_eq!(*results[1], Brace::Outcome(Outcome::CostEach));
    assert!(matches!(results[3], Brace::Line(use_) if use_.field == Field::Percent));
}

/// CommonMark: a rule or a heading ends what stands before it in a list item, and text may follow.
#[test]
fn text_behind_a_rule_in_a_list_item_is_kept() {
    let recipe = recipe(
        "+++\ntitle = \"It\"\n[formula]\nsalt = \"2 g\"\n+++\n## Fold {salt}\n- Fold\n  ***\n  Then rest {20 min}\n  in peace.\n- Bake <!-- well --> it.\n",
    );
    let told = |inline: &Inline| match inline {
        Inline::Text(text) => text.clone(),
        Inline::Brace(_) => "BRACE".to_owned(),
    };
    let text: Vec<String> = recipe.method.steps[0].text.iter().map(|block| block.iter().map(told).collect()).collect();
    assert_eq!(text, ["Fold", "Then rest BRACE in peace.", "Bake  it."]);
}

#[test]
fn sides_of_a_pan_and_a_density_may_have_fractions() {
    let pan = |written: &str| {
        let recipe = with_lines(
            &format!(
                "batch = \"300 g\"\n[fry]\noil = \"sunflower-oil\"\npan = \"{written}\"\ndepth = \"4 cm\"\ntakes-up = \"8 %\"\n[formula]\nstrong-flour = \"100 %\""
            ),
            "{strong-flour}",
        );
        recipe.fry.expect("fry").pan
    };
    let rect = |one: &str, other: &str| Pan::Rect(exact(one), exact(other));
    for written in ["rect 20 x 30½ cm", "rect 20 x 30 1/2 cm", "rect 20x30.5cm", "rect 20 cm × 305 mm"] {
        assert_eq!(pan(written), rect("200", "305"), "{written}");
    }
    assert_eq!(pan("rect 8½ x 12 in."), rect("215.9", "304.8"), "an inch is 25.4 mm (NIST SP 811)");
    let density = |written: &str| {
        let pantry = format!("[flakes]\nname = \"flakes\"\ndensity = \"{written}\"\n");
        let recipe = ("it/recipe.md", "+++\ntitle = \"It\"\n[formula]\nsalt = \"2 g\"\n+++\n## Mix\nTake {salt}.\n");
        good(&[("pantry.toml", &pantry), recipe], None).pantry.items["flakes"].density.clone()
    };
    for written in ["80 g / ½ cup", "80 g / 1/2 cup", "80 g/125 mL", "160 g/cup"] {
        assert_eq!(density(written), Some(exact("0.64")), "{written}");
    }
}

#[test]
fn the_channels_pantry_overrides_line_by_line() {
    let pantry = "[plain-flour]\nwater = \"13 %\"\n\n[batter-mix]\nmade-of = { plain-flour = \"94 %\", baking-powder = \"5 %\", salt = \"1 %\" }\ncup = \"165 g\"\n";
    let recipe =
        ("it/recipe.md", "+++\ntitle = \"It\"\n[formula]\nbatter-mix = \"1 cup\"\n+++\n## Mix\nTake {batter-mix}.\n");
    let us = format!("{CHANNEL}measures = \"us\"\n");
    let built_in = good(&[recipe, ("pantry.toml", "[batter-mix]\ncup = \"165 g\"\n")], None).pantry;
    let content = good(&[("channel.toml", &us), ("pantry.toml", pantry), recipe], None);
    let (flour, before) = (&content.pantry.items["plain-flour"], &built_in.items["plain-flour"]);
    assert_eq!(flour.water, Some(exact("0.13")));
    assert_eq!((&flour.density, &flour.allergens, &flour.name), (&before.density, &before.allergens, &before.name));
    let mix = &content.pantry.items["batter-mix"];
    // NIST: a US cup is 236.5882365 mL.
    assert_eq!(mix.density, exact("165").over(&exact("236.5882365")));
    assert_eq!(built_in.items["batter-mix"].density, Some(exact("0.66")));
    assert_eq!(built_in.items["batter-mix"].allergens, None, "unknown is not none");
    assert_eq!(mix.allergens.iter().flatten().collect::<Vec<_>>(), [&Allergen::Wheat]);
    let parts = [("plain-flour", "0.94"), ("baking-powder", "0.05"), ("salt", "0.01")];
    let water: Option<Exact> =
        parts.iter().map(|(key, share)| Some(content.pantry.items[*key].water.as_ref()? * &exact(share))).sum();
    assert_eq!(mix.water, water);
}

#[test]
fn a_run_has_one_language() {
    let files = [
        ("pantry.toml", "[water]\nname = \"tap water\"\n\n[odd-salt]\nname = \"odd salt\"\n"),
        ("pantry.fr.toml", "[odd-salt]\nname = \"sel\"\nplural = \"sels\"\n"),
        (
            "it/recipe.md",
            "+++\ntitle = \"Buns\"\nmakes = \"2 buns\"\n[formula]\nwater = { amount = \"2 g\", note = \"cold\" }\nodd-salt = \"1 g\"\n[variant.wet]\ntitle = \"Wet\"\nset = { water = \"3 g\" }\n+++\n## Mix\nTake {water} and {odd-salt} for {2 buns}.\n",
        ),
        (
            "it/recipe.fr.md",
            "+++\ntitle = \"Petits pains\"\npiece = [\"petit pain\", \"petits pains\"]\n[notes]\nwater = \"froide\"\n[variant.wet]\ntitle = \"Plus humide\"\n+++\n## Mélanger\nPrendre {water} et {odd-salt} pour {2 petits pains}.\n",
        ),
    ];
    let english = good(&files, None);
    assert_eq!(english.recipes[0].title.value, "Buns");
    assert_eq!(english.pantry.items["water"].name, "tap water");
    let french = good(&files, Some("fr"));
    let recipe = &french.recipes[0];
    assert_eq!(recipe.title.value, "Petits pains");
    assert_eq!(recipe.makes.as_ref().map(|makes| makes.many.as_str()), Some("petits pains"));
    assert_eq!(recipe.parts[0].lines[0].note.as_deref(), Some("froide"));
    assert_eq!(recipe.variants[0].title, "Plus humide");
    assert_eq!(recipe.method.steps[0].id, "mix", "ids are the recipe's own in every language");
    assert!(matches!(&recipe.method.steps[0].title[..], [Inline::Text(text)] if text == "Mélanger"));
    assert_eq!(french.pantry.items["odd-salt"].plural, "sels");
    assert_eq!(french.pantry.items["water"].name, "eau", "a French name goes before an English one of the channel's");
    let by_key = format!("{CHANNEL}language = \"fr\"\n");
    let mut by_key_files = files.to_vec();
    by_key_files.push(("channel.toml", &by_key));
    let own = read(&by_key_files, None).0.expect("no errors");
    assert_eq!((own.channel.language.as_str(), own.pantry.items["water"].name.as_str()), ("fr", "tap water"));
}

#[test]
fn the_price_book_keeps_days_in_order_and_packs_as_bought() {
    let book = "date,item,pack,price,place,note\n2026-04-18,salt,1 kg,0.90,shop,\n2026-03-02,salt,500 g,0.60,\"market, hall\",\n\
                2026-04-18,salt,2 kg,1.50,market,on offer\n2026-03-02,milk,6 x 330 mL,2,,\n2026-03-02,egg,6,1.80,,\n2026-03-02,water,1 L,0,,\n";
    let recipe = ("it/recipe.md", "+++\ntitle = \"It\"\n[formula]\nsalt = \"2 g\"\n+++\n## Mix\nTake {salt}.\n");
    let content = good(&[("prices.csv", book), recipe], None);
    let day = |text: &str| text.parse().expect("a date");
    let latest = |on: &str| content.prices.latest("salt", day(on)).map(|purchase| purchase.pack.clone());
    assert_eq!(latest("2026-03-01"), None);
    assert_eq!(latest("2026-04-17"), Some(Pack::Weight(exact("500"))));
    assert_eq!(latest("2026-05-01"), Some(Pack::Weight(exact("2000"))), "of several on a day, the line further down");
    assert_eq!(content.prices.by_item["milk"][0].pack, Pack::Volume(exact("1980")));
    assert_eq!(content.prices.by_item["egg"][0].pack, Pack::Count(exact("6")));
    assert_eq!(content.prices.by_item["water"][0].price, Exact::zero());
    assert_eq!(content.prices.by_item["salt"][0].place, "market, hall");
    assert_eq!(content.prices.last_day(), Some(day("2026-04-18")));
}

/// The example of the source format, word for word: only what its shortened method leaves out is found.
#[test]
fn the_formats_own_example_is_read() {
    let text = r#"+++
title  = "Crisp chickpea fritters"
makes  = "10-12 fritters"        # a count or a range, and what one is called
piece  = ["fritter", "fritters"]
basis  = "dried-chickpeas"       # what is 100 %
batch  = "300 g"
diet   = ["vegan"]
loss   = "12 %"

[formula]
dried-chickpeas = "100 %"
onion           = { amount = "40 %", note = "finely chopped" }
coriander-leaf  = "12 %"
salt            = "1.8 %"
baking-powder   = "1.5 %"
sesame-seeds    = "15 g"
lemon           = "1"

[fry]
oil = "sunflower-oil"
pan = "round 20 cm"
depth = "4 cm"
takes-up = "8 %"
uses = 4

[variant.tinned]
title = "With tinned chickpeas"
swap  = { dried-chickpeas = "tinned-chickpeas" }
set   = { tinned-chickpeas = "200 %", baking-powder = "3 %" }
+++

Fritters from a pot of soaked chickpeas.

## Soak
> Soak overnight, {8 h to 12 h}
Cover {dried-chickpeas} with three times its depth of cold water ...

## Fry
> {180 °C}, {3 min}, turn once
Heat the oil {4 cm} deep to {180 °C}. Lower in {4 pieces} at a time ...
"#;
    let (content, shown) = read(&[("it/recipe.md", text)], None);
    let recipe = content.expect("no errors").recipes.remove(0);
    assert_eq!(shown.matches("warning[").count(), shown.matches("warning[unused-line]").count(), "{shown}");
    assert_eq!(shown.matches("warning[unused-line]").count(), 6);
    assert_eq!(recipe.loss, Some(exact("0.12")));
    assert_eq!(recipe.variants[0].set[0].0, at(0, 0));
    assert_eq!(recipe.method.steps[0].text.len(), 1, "the line after the quote is text");
}

#[test]
fn folder_order_changes_nothing() {
    let files: Vec<(String, Vec<u8>)> = ["a", "b", "c"]
        .iter()
        .map(|id| (format!("{id}/recipe.md"), b"+++\ntitle = \"It\"\n[formula]\nsalt = \"2 g\"\n+++\n".to_vec()))
        .chain([("channel.toml".to_owned(), CHANNEL.as_bytes().to_vec())])
        .collect();
    let ids = |files: Vec<(String, Vec<u8>)>| {
        let sources = Sources::from_memory("content", files);
        let (content, findings) = load(&sources, &Options::default());
        let findings: Vec<String> = findings.sorted().iter().map(|f| format!("{f:?}")).collect();
        (content.expect("read").recipes.iter().map(|r| (r.id.clone(), r.source)).collect::<Vec<_>>(), findings)
    };
    let backwards = files.iter().rev().cloned().collect();
    assert_eq!(ids(files), ids(backwards));
}
