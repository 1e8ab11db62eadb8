//! Spoilt recipes.

use super::Edit::{Change, Write};
use super::{Case, RECIPE};

/// The cases.
pub const CASES: &[Case] = &[
    Case {
        name: "energy: powers, times and duties that are none, and both ways to say it",
        edits: &[Change(
            RECIPE,
            "+++\n\nMix",
            "[energy]\n\
             oven = { power = \"hot\", minutes = \"20 cm\", duty = \"120 %\" }\n\
             hob = { power = 0, time = \"5 min\" }\n\
             lamp = { power = \"40 W\", minutes = 5, duty = \"0 %\" }\n\
             fan = { power = \"40 W\", kwh = \"0.1 kW\" }\n\
             dial = \"1 kWh\"\n\
             +++\n\nMix",
        )],
        expect: &[
            "buns/recipe.md:11:18 bad-number",
            "buns/recipe.md:11:35 wrong-unit",
            "buns/recipe.md:11:51 out-of-range",
            "buns/recipe.md:12:1 missing-key",
            "buns/recipe.md:12:17 zero",
            "buns/recipe.md:12:20 unknown-key",
            "buns/recipe.md:13:46 zero",
            "buns/recipe.md:14:9 given-twice",
            "buns/recipe.md:14:31 bad-number",
            "buns/recipe.md:15:8 wrong-kind",
        ],
    },
    Case {
        name: "a video: addresses and days that are none, corrected before it was there",
        edits: &[Change(
            RECIPE,
            "+++\n\nMix",
            "[video]\n\
             url = \"https://kitchen.example/a film\"\n\
             moment = \"https://kitchen.example/film?t=\"\n\
             published = 2026-03-02\n\
             corrected = 2026-03-01\n\
             length = \"3 g\"\n\
             place = \"here\"\n\
             +++\n\nMix",
        )],
        expect: &[
            "buns/recipe.md:11:7 bad-address",
            "buns/recipe.md:12:10 bad-address",
            "buns/recipe.md:14:13 out-of-range",
            "buns/recipe.md:15:10 wrong-unit",
            "buns/recipe.md:16:1 unknown-key",
        ],
    },
    Case {
        name: "a video without an address or a day",
        edits: &[Change(RECIPE, "+++\n\nMix", "[video]\ncorrected = \"soon\"\n+++\n\nMix")],
        expect: &[
            "buns/recipe.md:10:1 missing-key",
            "buns/recipe.md:10:1 missing-key",
            "buns/recipe.md:11:13 bad-date",
        ],
    },
    Case {
        name: "a comparison without a size, a day or a price that is one",
        edits: &[Change(
            RECIPE,
            "batch =",
            "compare = { price = \"€3\", size = \"some\", bought = \"last week\" }\nbatch =",
        )],
        expect: &["buns/recipe.md:4:21 bad-price", "buns/recipe.md:4:34 bad-number", "buns/recipe.md:4:51 bad-date"],
    },
    Case {
        name: "a comparison with nothing said",
        edits: &[Change(RECIPE, "batch =", "compare = { prize = \"3\" }\nbatch =")],
        expect: &[
            "buns/recipe.md:4:11 missing-key",
            "buns/recipe.md:4:11 missing-key",
            "buns/recipe.md:4:11 missing-key",
            "buns/recipe.md:4:13 unknown-key",
        ],
    },
    Case {
        name: "a comparison of pieces with a batch that counts none",
        edits: &[Change(
            RECIPE,
            "makes = \"10-12 buns\"",
            "compare = { price = 3, size = \"6\", bought = 2026-03-01 }",
        )],
        expect: &["buns/recipe.md:3:31 bad-pack", "buns/recipe.md:19:6 no-figure"],
    },
    Case {
        name: "a pack of more pieces than there are, and more power",
        edits: &[
            Change(
                RECIPE,
                "batch =",
                "compare = { price = \"3\", size = \"99999999999999 buns\", bought = 2026-03-01 }\nbatch =",
            ),
            Change(RECIPE, "+++\n\nMix", "[energy]\npower = \"1000000000 kW\"\nminutes = 5\n+++\n\nMix"),
        ],
        expect: &["buns/recipe.md:4:33 too-large", "buns/recipe.md:12:9 too-large"],
    },
    Case {
        name: "a basis that names nothing",
        edits: &[Change(RECIPE, "batch =", "basis = []\nbatch =")],
        expect: &["buns/recipe.md:4:9 blank"],
    },
    Case { name: "empty recipe", edits: &[Write(RECIPE, "")], expect: &["buns/recipe.md:1:1 empty-file"] },
    Case {
        name: "no front matter",
        edits: &[Write(RECIPE, "## Mix\nMix.\n")],
        expect: &["buns/recipe.md:1:1 no-front-matter"],
    },
    Case {
        name: "unclosed front matter",
        edits: &[Change(RECIPE, "salt = \"2 %\"\n+++", "salt = \"2 %\"\n++")],
        expect: &["buns/recipe.md:1:1 unclosed-front-matter"],
    },
    Case {
        name: "front matter that is not TOML",
        edits: &[Change(RECIPE, "water = \"60 %\"", "water = 60 %")],
        expect: &["buns/recipe.md:8:9 bad-toml"],
    },
    Case {
        name: "a folder's name",
        edits: &[Write(
            "Big Buns/recipe.md",
            "+++\ntitle = \"B\"\n[formula]\nsalt = \"2 g\"\n+++\n## Mix\nTake {salt}.\n",
        )],
        expect: &["Big Buns/recipe.md:1:1 bad-name"],
    },
    Case {
        name: "no title, and a key misspelt",
        edits: &[Change(RECIPE, "title", "titel"), Change(RECIPE, "[formula]", "[frmula]\nx = 1\n\n[formula]")],
        expect: &["buns/recipe.md:2:1 missing-key", "buns/recipe.md:2:1 unknown-key", "buns/recipe.md:6:2 unknown-key"],
    },
    Case {
        name: "no formula",
        edits: &[Write(RECIPE, "+++\ntitle = \"B\"\n+++\n")],
        expect: &["buns/recipe.md:2:1 missing-key"],
    },
    Case {
        name: "a formula without lines",
        edits: &[Write(RECIPE, "+++\ntitle = \"B\"\n[formula]\n+++\n## Mix\nMix.\n")],
        expect: &["buns/recipe.md:3:1 no-lines"],
    },
    Case {
        name: "amounts that are none",
        edits: &[Change(
            RECIPE,
            "salt = \"2 %\"\n",
            "salt = \"-2 %\"\nolive-oil = \"0 g\"\nsugar = \"NaN\"\nbutter = \"1e30 g\"\nmilk = \"1,5 kg\"\nhoney = \"3 blobs\"\negg = \"8-6\"\nlemon = \"2000000 kg\"\nground-cumin = \"1 g 2 mL\"\ngarlic = \"3 cm\"\nyoghurt = { amont = \"3 g\" }\nblack-pepper = true\npaprika = \"1/0 tsp\"\n",
        )],
        expect: &[
            "buns/recipe.md:9:8 bad-number",
            "buns/recipe.md:10:13 zero",
            "buns/recipe.md:11:9 bad-number",
            "buns/recipe.md:12:10 bad-number",
            "buns/recipe.md:13:8 bad-number",
            "buns/recipe.md:14:9 unknown-unit",
            "buns/recipe.md:15:7 backwards-range",
            "buns/recipe.md:16:9 too-large",
            "buns/recipe.md:17:16 mixed-units",
            "buns/recipe.md:18:10 wrong-unit",
            "buns/recipe.md:19:11 missing-key",
            "buns/recipe.md:19:13 unknown-key",
            "buns/recipe.md:20:16 wrong-kind",
            "buns/recipe.md:21:11 bad-number",
        ],
    },
    Case {
        name: "an item that no pantry has",
        edits: &[Change(
            RECIPE,
            "salt = ",
            "sallt = \"1 %\"\nmoon-dust = \"1 %\"\nmore = { item = \"moonrock\", amount = \"1 g\" }\nsalt = ",
        )],
        expect: &[
            "buns/recipe.md:9:1 unknown-item",
            "buns/recipe.md:10:1 unknown-item",
            "buns/recipe.md:11:17 unknown-item",
        ],
    },
    Case {
        name: "names that lines can't have",
        edits: &[Change(
            RECIPE,
            "salt = ",
            "batch = { item = \"water\", amount = \"1 g\" }\n\"2nd Water\" = { item = \"water\", amount = \"1 g\" }\nsalt = ",
        )],
        expect: &["buns/recipe.md:9:1 bad-name", "buns/recipe.md:10:1 bad-name"],
    },
    Case {
        name: "volumes and counts without facts, and all of an item",
        edits: &[Change(RECIPE, "salt = \"2 %\"\n", "salt = \"all\"\nodd-powder = \"1 tsp\"\nodd-seed = \"2\"\n")],
        expect: &["buns/recipe.md:9:8 all-of-item", "buns/recipe.md:10:14 no-density", "buns/recipe.md:11:12 no-each"],
    },
    Case {
        name: "a fixed percent",
        edits: &[Change(RECIPE, "salt = \"2 %\"", "salt = { amount = \"2 %\", fixed = true }")],
        expect: &["buns/recipe.md:9:19 fixed-percent"],
    },
    Case {
        name: "lines beside parts",
        edits: &[Change(RECIPE, "salt = \"2 %\"\n", "salt = \"2 %\"\n[formula.glaze]\nhoney = \"20 g\"\n")],
        expect: &["buns/recipe.md:7:1 mixed-formula"],
    },
    Case {
        name: "parts in a circle, and a table about no part",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\nbatch = \"100 g\"\n[formula.dough]\nstrong-flour = \"100 %\"\nfilling = \"50 %\"\n[formula.filling]\nonion = \"20 g\"\ndough = \"10 g\"\n[parts.dugh]\ntitle = \"Dough\"\n+++\n## Mix\nMix.\n",
        )],
        expect: &["buns/recipe.md:9:1 circular-part", "buns/recipe.md:10:8 unknown-part"],
    },
    Case {
        name: "parts: taken twice, and by volume",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\nbatch = \"100 g\"\n\
             [formula.glaze]\nhoney = \"20 g\"\n\
             [formula.soak]\nwater = \"100 g\"\n\
             [formula.dough]\nstrong-flour = \"100 %\"\nsoak = \"20 g\"\nglaze = \"2 tsp\"\n\
             [formula.top]\nsoak = \"all\"\ndough = \"all\"\nplain-flour = \"100 %\"\n+++\n",
        )],
        expect: &["buns/recipe.md:11:9 wrong-unit", "buns/recipe.md:17:1 warning no-steps"],
    },
    Case {
        name: "all of a part that is fixed, and a percent of what a variant can't change",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"Buns\"\n[formula.spice]\nsalt = \"10 g\"\n[formula.dough]\nstrong-flour = \"500 g\"\nwater = { amount = \"300 g\", fixed = true }\nspice = { amount = \"all\", fixed = true }\n[variant.wet]\ntitle = \"Wet\"\nset = { water = \"70 %\" }\n+++\n\n## Mix\nMix {salt}, {strong-flour} and {water}.\n",
        )],
        expect: &["buns/recipe.md:8:20 fixed-percent", "buns/recipe.md:11:17 fixed-percent"],
    },
    Case {
        name: "parts: a variant takes all of one that another line takes some of",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"Buns\"\n[formula.glaze]\nsugar = \"20 g\"\n[formula.filling]\nbutter = \"30 g\"\nglaze = \"10 g\"\n[formula.dough]\nstrong-flour = \"500 g\"\nglaze = \"10 g\"\n[variant.less]\ntitle = \"Less\"\nset = { \"dough.glaze\" = \"all\" }\n+++\n\n## Mix\nMix {sugar}, {butter}, {filling.glaze}, {strong-flour} and {dough.glaze}.\n",
        )],
        expect: &["buns/recipe.md:13:25 part-taken-twice"],
    },
    Case {
        name: "parts: all of one taken that another takes some of",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\nbatch = \"100 g\"\n\
             [formula.soak]\nwater = \"100 g\"\n\
             [formula.dough]\nstrong-flour = \"100 %\"\nsoak = \"20 g\"\n\
             [formula.top]\nsoak = \"all\"\ndough = \"all\"\nplain-flour = \"100 %\"\n+++\n\n## Mix\n\
             {soak.water} {dough.strong-flour} {dough.soak} {top.soak} {top.dough} {plain-flour}\n",
        )],
        expect: &["buns/recipe.md:10:8 part-taken-twice", "buns/recipe.md:11:9 unsized-part"],
    },
    Case {
        name: "parts: sizes that can't be told",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\nmakes = \"4 buns\"\nbatch = \"100 g\"\n\
             [formula.poolish]\nstrong-flour = \"100 %\"\nwater = \"100 %\"\n\
             [formula.filling]\nonion = \"100 %\"\nsalt = \"1 %\"\n\
             [formula.soak]\nwater = \"100 g\"\n\
             [formula.dough]\nstrong-flour = \"100 %\"\npoolish = \"all\"\nsoak = \"20 g\"\n\
             [parts.filling]\nbasis = \"onion\"\n[parts.soak]\neach = \"3 g\"\n+++\n## Mix\n\
             {poolish} {filling} {soak} {poolish.strong-flour} {poolish.water} {onion} {salt} {soak.water} {dough.strong-flour}\n",
        )],
        expect: &[
            "buns/recipe.md:8:10 unsized-part",
            "buns/recipe.md:15:11 unsized-part",
            "buns/recipe.md:20:8 sizes-disagree",
            "buns/recipe.md:20:8 sizes-disagree",
        ],
    },
    Case {
        name: "an unknown basis",
        edits: &[Change(RECIPE, "batch", "basis = \"strong-flower\"\nbatch")],
        expect: &["buns/recipe.md:4:9 unknown-basis"],
    },
    Case {
        name: "an unknown basis, and percents that would be of it",
        edits: &[
            Change(RECIPE, "batch", "basis = \"strong-flower\"\nbatch"),
            Change(
                RECIPE,
                "+++\n\n",
                "[variant.salty]\ntitle = \"S\"\nset = { salt = \"3 %\" }\n[ratio]\nat = [\"250 g\"]\n+++\n\n",
            ),
        ],
        expect: &["buns/recipe.md:4:9 unknown-basis"],
    },
    Case {
        name: "an unknown basis beside a line that can't be read",
        edits: &[
            Change(RECIPE, "batch", "basis = \"strong-flower\"\nbatch"),
            Change(RECIPE, "\"2 %\"", "\"2 procent\""),
        ],
        expect: &["buns/recipe.md:4:9 unknown-basis", "buns/recipe.md:10:8 unknown-unit"],
    },
    Case {
        name: "minutes cut short",
        edits: &[Change(RECIPE, "{20 min}", "{20 mn}")],
        expect: &["buns/recipe.md:15:13 unknown-unit"],
    },
    Case {
        name: "a basis whose line can't be read",
        edits: &[
            Change(RECIPE, "batch", "basis = \"strong-flour\"\nbatch"),
            Change(RECIPE, "\"100 %\"", "\"100 procent\""),
        ],
        expect: &["buns/recipe.md:8:16 unknown-unit"],
    },
    Case {
        name: "a basis that can't be one",
        edits: &[
            Change(RECIPE, "batch", "basis = [\"strong-flour\", \"salt\"]\nbatch"),
            Change(RECIPE, "\"2 %\"", "\"to taste\""),
        ],
        expect: &["buns/recipe.md:10:8 bad-basis"],
    },
    Case {
        name: "flours that do not add up",
        edits: &[
            Change(RECIPE, "salt = \"2 %\"", "rye-flour = \"20 %\"\nsalt = \"2 %\""),
            Change(RECIPE, "{water}", "{water}, {rye-flour}"),
        ],
        expect: &["buns/recipe.md:7:16 basis-sum"],
    },
    Case {
        name: "a percent of nothing: no basis",
        edits: &[
            Change(RECIPE, "strong-flour = \"100 %\"", "onion = \"100 g\""),
            Change(RECIPE, "{strong-flour}", "{onion}"),
        ],
        expect: &["buns/recipe.md:4:9 bad-basis", "buns/recipe.md:8:9 percent-of-nothing"],
    },
    Case {
        name: "a percent of nothing: no weight",
        edits: &[Change(RECIPE, "batch = \"300 g\"\n", "")],
        expect: &["buns/recipe.md:6:16 percent-of-nothing"],
    },
    Case {
        name: "batch and each disagree",
        edits: &[Change(RECIPE, "batch = ", "each = \"50 g\"\nbatch = ")],
        expect: &["buns/recipe.md:4:8 sizes-disagree"],
    },
    Case {
        name: "batch and the weights of the basis disagree",
        edits: &[Change(RECIPE, "\"100 %\"", "\"310 g\"")],
        expect: &["buns/recipe.md:4:9 sizes-disagree"],
    },
    Case {
        name: "each leaves nothing for the percents",
        edits: &[Change(RECIPE, "batch = \"300 g\"", "each = \"5 g\""), Change(RECIPE, "\"60 %\"", "\"100 g\"")],
        expect: &["buns/recipe.md:4:8 sizes-disagree"],
    },
    Case {
        name: "each without makes, each twice",
        edits: &[
            Change(
                RECIPE,
                "makes = \"10-12 buns\"\nbatch = \"300 g\"",
                "each = \"50 g\"\n[parts.main]\neach = \"50 g\"",
            ),
            Change(RECIPE, "Bake {pieces}", "Bake"),
        ],
        expect: &["buns/recipe.md:3:8 given-twice", "buns/recipe.md:3:8 missing-key"],
    },
    Case {
        name: "pieces that `makes` and `piece` call by nearly the same name",
        edits: &[Change(RECIPE, "10-12 buns\"", "10-12 bunns of 3\"\npiece = [\"bun\", \"buns\"]")],
        expect: &["buns/recipe.md:3:9 warning piece-unlike"],
    },
    Case {
        name: "pieces of which `makes` says more than `piece`",
        edits: &[Change(RECIPE, "10-12 buns\"", "10-12 soft buns\"\npiece = [\"bun\", \"buns\"]")],
        expect: &[],
    },
    Case {
        name: "makes: nothing, backwards, too many, no count",
        edits: &[
            Change(RECIPE, "10-12 buns", "0 buns"),
            Write(
                "a/recipe.md",
                "+++\ntitle = \"A\"\nmakes = \"8-6 buns\"\n[formula]\nsalt = \"2 g\"\n+++\n## Mix\nTake {salt}.\n",
            ),
            Write(
                "b/recipe.md",
                "+++\ntitle = \"A\"\nmakes = 99999999999\n[formula]\nsalt = \"2 g\"\n+++\n## Mix\nTake {salt}.\n",
            ),
            Write(
                "c/recipe.md",
                "+++\ntitle = \"A\"\nmakes = \"a dozen\"\npiece = \"bun\"\n[formula]\nsalt = \"2 g\"\n+++\n## Mix\nTake {salt}.\n",
            ),
        ],
        expect: &[
            "a/recipe.md:3:9 backwards-range",
            "b/recipe.md:3:9 too-large",
            "buns/recipe.md:3:9 zero",
            "c/recipe.md:3:9 bad-number",
            "c/recipe.md:4:9 wrong-kind",
        ],
    },
    Case {
        name: "a plural that can't be told",
        edits: &[Change(RECIPE, "10-12 buns", "10-12 naan")],
        expect: &["buns/recipe.md:3:9 warning piece-unknown"],
    },
    Case {
        name: "batch in millilitres, loss of all",
        edits: &[Change(RECIPE, "\"300 g\"", "\"300 mL\"\nloss = \"100 %\"")],
        expect: &["buns/recipe.md:4:9 wrong-unit", "buns/recipe.md:5:8 out-of-range"],
    },
    Case {
        name: "a ratio of nothing",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\n[formula]\nsalt = \"2 g\"\n[ratio]\nat = [\"250\", \"0 g\"]\n+++\n## Mix\nTake {salt}.\n",
        )],
        expect: &["buns/recipe.md:5:1 percent-of-nothing", "buns/recipe.md:6:7 wrong-unit", "buns/recipe.md:6:14 zero"],
    },
    Case {
        name: "claims that items contradict or can't support",
        edits: &[
            Change(RECIPE, "batch", "diet = [\"vegan\", \"gluten-free\", \"nut-free\", \"paleo\", \"vegan\"]\nbatch"),
            Change(
                RECIPE,
                "salt = \"2 %\"",
                "butter = \"2 %\"\nodd-seed = \"1 g\"\nodd-powder = \"1 g\"\nsalt = \"to taste\"",
            ),
            Change(RECIPE, "{water}", "{water}, {butter}, {odd-seed}, {odd-powder}"),
        ],
        expect: &[
            "buns/recipe.md:4:9 claim-contradicted",
            "buns/recipe.md:4:9 claim-unsupported",
            "buns/recipe.md:4:18 claim-contradicted",
            "buns/recipe.md:4:18 claim-unsupported",
            "buns/recipe.md:4:33 claim-unsupported",
            "buns/recipe.md:4:45 unknown-choice",
            "buns/recipe.md:4:54 given-twice",
        ],
    },
    Case {
        name: "a claim that a variant breaks",
        edits: &[
            Change(RECIPE, "batch", "diet = [\"dairy-free\"]\nbatch"),
            Change(
                RECIPE,
                "+++\n\nMix and",
                "[variant.milky]\ntitle = \"With milk\"\nswap = { water = \"milk\" }\n+++\n\nMix and",
            ),
        ],
        expect: &["buns/recipe.md:11:10 warning claim-broken"],
    },
    Case {
        name: "frying: missing, unknown and impossible",
        edits: &[Change(
            RECIPE,
            "[formula]",
            "[fry]\noil = \"odd-powder\"\npan = \"square 20 cm\"\ndept = \"4 cm\"\ntakes-up = \"8 g\"\nuses = 0\n\n[formula]",
        )],
        expect: &[
            "buns/recipe.md:6:1 missing-key",
            "buns/recipe.md:7:7 no-density",
            "buns/recipe.md:8:7 unknown-choice",
            "buns/recipe.md:9:1 unknown-key",
            "buns/recipe.md:10:12 wrong-unit",
            "buns/recipe.md:11:8 out-of-range",
        ],
    },
    Case {
        name: "variants: unknown lines, items and keys, nothing changed",
        edits: &[Change(
            RECIPE,
            "+++\n\nMix and",
            "[variant.one]\ntitel = \"One\"\nswap = { watr = \"milk\", water = \"mlik\" }\nset = { salt = \"3 blobs\", sugar = \"2 %\" }\n[variant.two]\ntitle = \"Two\"\n[variant.three]\ntitle = \"Three\"\nswap = { salt = \"odd-powder\", water = \"odd-seed\" }\nset = { salt = \"1 tsp\", odd-powder = \"1 g\", odd-seed = \"2\" }\n+++\n\nMix and",
        )],
        expect: &[
            "buns/recipe.md:10:10 missing-key",
            "buns/recipe.md:11:1 unknown-key",
            "buns/recipe.md:12:10 unknown-line",
            "buns/recipe.md:12:33 unknown-item",
            "buns/recipe.md:13:16 unknown-unit",
            "buns/recipe.md:13:27 unknown-line",
            "buns/recipe.md:14:10 missing-key",
            "buns/recipe.md:19:16 no-density",
            "buns/recipe.md:19:56 no-each",
        ],
    },
    Case {
        name: "names that several lines have",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\n[formula.glaze]\nwater = \"10 g\"\n[formula.dough]\nplain-flour = \"100 g\"\nwater = \"60 %\"\n[variant.wet]\ntitle = \"Wet\"\nset = { water = \"70 %\" }\n+++\n## Mix\nMix {plain-flour}, {water}, {dough.water amount} and {glaze.water}.\n",
        )],
        expect: &["buns/recipe.md:10:9 ambiguous-line", "buns/recipe.md:13:20 ambiguous-line"],
    },
    Case {
        name: "pieces that can't be read are told once, and a unit written twice as what it is",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\nmakes = \"twenty buns\"\ncompare = { price = \"3.95\", size = \"12 buns\", bought = 2026-03-02 }\n[formula]\nplain-flour = \"300 g\"\nwater = \"60 %%\"\n+++\n## Mix\nMix {plain-flour} and {water}.\n",
        )],
        expect: &["buns/recipe.md:3:9 bad-number", "buns/recipe.md:7:9 bad-number"],
    },
    Case {
        name: "a line that can't be read is told once, not again where a variant names it",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\n[formula]\nplain-flour = \"300 g\"\nmilk = \"100 blobs\"\n[variant.one]\ntitle = \"One\"\nswap = { milk = \"water\" }\nset = { milk = \"90 g\" }\n+++\n## Mix\nMix {plain-flour} and {milk}.\n",
        )],
        expect: &["buns/recipe.md:5:8 unknown-unit"],
    },
    Case {
        name: "a variant's percent of nothing",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\n[formula]\nwater = \"10 g\"\n[variant.wet]\ntitle = \"Wet\"\nset = { water = \"70 %\" }\n+++\n## Mix\nTake {water}.\n",
        )],
        expect: &["buns/recipe.md:7:17 percent-of-nothing"],
    },
    Case {
        name: "braces that name nothing",
        edits: &[Change(
            RECIPE,
            "Bake {pieces} at {220 °C}.",
            "Bake {peices} at {220 °X}, {wter}, {half sallt}, {1/3 rye}, {water amout}, {4 trays}, {12}, {50 %}, {}, {8-6 min}, {2 in 3 out}, {-4 min}.",
        )],
        expect: &[
            "buns/recipe.md:19:6 unknown-brace",
            "buns/recipe.md:19:18 unknown-unit",
            "buns/recipe.md:19:28 unknown-brace",
            "buns/recipe.md:19:36 unknown-brace",
            "buns/recipe.md:19:50 unknown-brace",
            "buns/recipe.md:19:61 unknown-brace",
            "buns/recipe.md:19:76 unknown-unit",
            "buns/recipe.md:19:87 no-figure",
            "buns/recipe.md:19:93 no-figure",
            "buns/recipe.md:19:101 unknown-brace",
            "buns/recipe.md:19:105 backwards-range",
            "buns/recipe.md:19:116 unknown-unit",
            "buns/recipe.md:19:130 bad-number",
        ],
    },
    Case {
        name: "a misspelt line is told once, and not again where it is named rightly",
        edits: &[Change(RECIPE, "salt = \"2 %\"", "slat = \"2 pc\"")],
        expect: &["buns/recipe.md:9:1 unknown-item", "buns/recipe.md:9:8 unknown-unit"],
    },
    Case {
        name: "two numbers before one unit",
        edits: &[Change(RECIPE, "batch = \"300 g\"", "batch = \"300 2 g\"")],
        expect: &["buns/recipe.md:4:9 bad-number"],
    },
    Case {
        name: "braces that are not closed",
        edits: &[Change(RECIPE, "Bake {pieces} at", "Bake {pieces} {at } } for { good, \\{really\\}, `{` at")],
        expect: &[
            "buns/recipe.md:19:15 unknown-brace",
            "buns/recipe.md:19:21 unclosed-brace",
            "buns/recipe.md:19:27 unclosed-brace",
            "buns/recipe.md:19:48 unclosed-brace",
        ],
    },
    Case {
        name: "results that the recipe has not",
        edits: &[Write(
            RECIPE,
            "+++\ntitle = \"B\"\n[formula]\nonion = \"10 g\"\nsalt = \"to taste\"\n+++\n## Mix\n{onion} {salt} {pieces} {each} {cost} {cost each} {hydration} {batch} {onion percent} {half salt}\n",
        )],
        expect: &[
            "buns/recipe.md:8:16 no-figure",
            "buns/recipe.md:8:25 no-figure",
            "buns/recipe.md:8:39 no-figure",
            "buns/recipe.md:8:51 no-figure",
            "buns/recipe.md:8:63 no-figure",
            "buns/recipe.md:8:71 no-figure",
            "buns/recipe.md:8:87 no-figure",
        ],
    },
    Case {
        name: "shares that are none, and what remains of nothing",
        edits: &[Change(
            RECIPE,
            "{water} and {salt}.",
            "{water} and {salt}, {3/2 salt name}, {0/2 salt}, {remaining water}.",
        )],
        expect: &[
            "buns/recipe.md:16:41 bad-share",
            "buns/recipe.md:16:58 bad-share",
            "buns/recipe.md:16:70 nothing-left",
        ],
    },
    Case {
        name: "shares that pass the whole",
        edits: &[Change(RECIPE, "Bake {pieces}", "Add {half water}, {salt name} and {water}. Bake {pieces}")],
        expect: &["buns/recipe.md:19:5 warning shares-pass-whole", "buns/recipe.md:19:35 warning shares-pass-whole"],
    },
    Case {
        name: "a line that the method never uses",
        edits: &[Change(RECIPE, ", {water} and {salt}", " and {salt}")],
        expect: &["buns/recipe.md:8:1 warning unused-line"],
    },
    Case {
        name: "numbers typed outside braces",
        edits: &[Change(RECIPE, "Bake {pieces} at {220 °C}.", "Bake {pieces} at 220 °C for 10-12 minutes.")],
        expect: &["buns/recipe.md:19:18 warning typed-number", "buns/recipe.md:19:29 warning typed-number"],
    },
    Case {
        name: "a method without steps",
        edits: &[Change(
            RECIPE,
            "## Mix\n> Mix, rest {20 min}\nMix {strong-flour}, {water} and {salt}.\n\n## Bake\n",
            "",
        )],
        expect: &["buns/recipe.md:11:1 warning no-steps"],
    },
    Case {
        name: "headings and quotes where none can stand",
        edits: &[
            Change(RECIPE, "Mix and bake.\n", "# Buns\n\n> On screen\n"),
            Change(RECIPE, "Bake {pieces}", "### Hot\n\nBake {pieces}"),
        ],
        expect: &["buns/recipe.md:12:1 misplaced", "buns/recipe.md:14:3 misplaced", "buns/recipe.md:21:1 misplaced"],
    },
    Case {
        name: "markup that no card can carry",
        edits: &[Change(RECIPE, "Mix and bake.\n", "Mix <b>and</b> bake.\n\n![bun](bun.png)\n\n    code\n")],
        expect: &[
            "buns/recipe.md:12:5 unsupported-markup",
            "buns/recipe.md:12:11 unsupported-markup",
            "buns/recipe.md:14:1 unsupported-markup",
            "buns/recipe.md:16:5 unsupported-markup",
        ],
    },
    Case {
        name: "words that the markup of a comment would swallow",
        edits: &[
            Change(RECIPE, "Mix and bake.\n", "<!-- seen --> Keep below {5 °C}.\n\n<!-- a\n-->  <!-- b -->\n"),
            Change(RECIPE, "> Mix, rest {20 min}\n", "> <!-- x --> Mix, rest {20 min}\n"),
            Change(RECIPE, "{220 °C}.\n", "{220 °C}.\n\n<!-- later\n"),
        ],
        expect: &[
            "buns/recipe.md:12:15 unsupported-markup",
            "buns/recipe.md:18:14 unsupported-markup",
            "buns/recipe.md:24:1 unsupported-markup",
        ],
    },
    Case {
        name: "translation: other figures in a step",
        edits: &[Write(
            "buns/recipe.fr.md",
            "+++\ntitle = \"Petits pains\"\npiece = [\"petit pain\", \"petits pains\"]\n+++\n\n## Mélanger\n> Mélanger\nMélanger {strong-flour}, {half water} et {salt}.\n\n## Cuire\nCuire {pieces} à {240 °C}.\n",
        )],
        expect: &["buns/recipe.fr.md:8:26 steps-differ", "buns/recipe.fr.md:11:18 steps-differ"],
    },
    Case {
        name: "translation: another share, from which another rest follows",
        edits: &[
            Change(RECIPE, "{water} and", "{half water} and"),
            Change(RECIPE, "Bake {pieces}", "Add {remaining water}. Bake {pieces}"),
            Write(
                "buns/recipe.fr.md",
                "+++\ntitle = \"Petits pains\"\npiece = [\"petit pain\", \"petits pains\"]\n+++\n\n## Mélanger, {20 min}\nMélanger {strong-flour}, {1/3 water} et {salt}.\n\n## Cuire\nAjouter {remaining water}. Cuire {pieces} à {220 °C}.\n",
            ),
        ],
        expect: &["buns/recipe.fr.md:7:26 steps-differ"],
    },
    Case {
        name: "translation: a figure that a step lacks",
        edits: &[Write(
            "buns/recipe.fr.md",
            "+++\ntitle = \"Petits pains\"\npiece = [\"petit pain\", \"petits pains\"]\n+++\n\n## Mélanger\nMélanger {strong-flour}, {water} et {salt}.\n\n## Cuire\nCuire {pieces} à {220 °C}.\n",
        )],
        expect: &["buns/recipe.fr.md:6:1 warning steps-differ"],
    },
    Case {
        name: "translation: other steps",
        edits: &[Write(
            "buns/recipe.fr.md",
            "+++\ntitle = \"Petits pains\"\npiece = [\"petit pain\", \"petits pains\"]\n+++\n\n## Mélanger\nMélanger {strong-flour}, {water} et {salt}.\n",
        )],
        expect: &["buns/recipe.fr.md:6:1 steps-differ"],
    },
    Case {
        name: "translation: unknown keys, lines and parts, and gaps",
        edits: &[Write(
            "buns/recipe.fr.md",
            "+++\nbatch = \"300 g\"\n[notes]\nsallt = \"fin\"\n[parts.dough]\ntitle = \"Pâte\"\n[variant.x]\ntitle = \"X\"\n+++\n\n## Mélanger\nMélanger {strong-flour}, {water} et {salt}, {wter}.\n\n## Cuire\nCuire {pieces}.\n",
        )],
        expect: &[
            "buns/recipe.fr.md:2:1 warning untranslated",
            "buns/recipe.fr.md:2:1 unknown-key",
            "buns/recipe.fr.md:4:1 unknown-line",
            "buns/recipe.fr.md:5:8 unknown-part",
            "buns/recipe.fr.md:7:10 unknown-choice",
            "buns/recipe.fr.md:12:45 unknown-brace",
        ],
    },
    Case {
        name: "translation: a line that the recipe has wrong is told there alone",
        edits: &[
            Change(RECIPE, "water = \"60 %\"", "water = \"6,5 pc\""),
            Write(
                "buns/recipe.fr.md",
                "+++\ntitle = \"Petits pains\"\n[notes]\nwater = \"tiède\"\n+++\n\n## Mélanger\n> Mélanger, reposer {20 min}\nMélanger {strong-flour}, {water} et {salt}.\n\n## Cuire\nCuire {pieces} à {220 °C}.\n",
            ),
        ],
        expect: &["buns/recipe.fr.md:2:1 warning untranslated", "buns/recipe.md:8:9 bad-number"],
    },
    Case {
        name: "translation: a variant that the recipe has wrong is told there alone",
        edits: &[
            Change(
                RECIPE,
                "salt = \"2 %\"\n",
                "salt = \"2 %\"\n[variant.dry]\ntitle = 3\nset = { water = \"50 %\" }\n",
            ),
            Write(
                "buns/recipe.fr.md",
                "+++\ntitle = \"Petits pains\"\npiece = [\"petit pain\", \"petits pains\"]\n[variant.dry]\ntitle = \"Sec\"\n+++\n\nMélanger et cuire.\n\n## Mélanger\n> Mélanger, reposer {20 min}\nMélanger {strong-flour}, {water} et {salt}.\n\n## Cuire\nCuire {pieces} à {220 °C}.\n",
            ),
        ],
        expect: &["buns/recipe.md:11:9 wrong-kind"],
    },
];
