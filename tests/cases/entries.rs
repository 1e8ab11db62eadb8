//! Spoilt files of the channel, its pantry and its prices.

use super::Edit::{Change, Remove, Write};
use super::{Case, RECIPE};

const CHANNEL: &str = "channel.toml";
const PANTRY: &str = "pantry.toml";
const PRICES: &str = "prices.csv";

/// The cases.
pub const CASES: &[Case] = &[
    Case { name: "no channel.toml", edits: &[Remove(CHANNEL)], expect: &["channel.toml:1:1 missing-file"] },
    Case { name: "empty channel.toml", edits: &[Write(CHANNEL, " \n")], expect: &["channel.toml:1:1 empty-file"] },
    Case { name: "empty prices.csv", edits: &[Write(PRICES, "")], expect: &["prices.csv:1:1 empty-file"] },
    Case {
        name: "a file that nothing reads",
        edits: &[
            Write("prces.csv", "date\n"),
            Write("buns/Recipe.md", "hello\n"),
            Write("cake/recipe.fr.md", "hello\n"),
        ],
        expect: &[
            "buns/Recipe.md:1:1 warning unknown-file",
            "cake/recipe.fr.md:1:1 warning unknown-file",
            "prces.csv:1:1 warning unknown-file",
        ],
    },
    Case { name: "no recipe", edits: &[Remove(RECIPE)], expect: &["channel.toml:1:1 no-recipes"] },
    Case {
        name: "channel.toml that is not TOML",
        edits: &[Change(CHANNEL, "\"EUR\"", "EUR")],
        expect: &["channel.toml:3:12 bad-toml"],
    },
    Case {
        name: "the same key twice",
        edits: &[Change(CHANNEL, "name = ", "name = \"A\"\nname = ")],
        expect: &["channel.toml:2:1 duplicate-key"],
    },
    Case {
        name: "unknown key in channel.toml, and one that is missing",
        edits: &[Change(CHANNEL, "locale", "local")],
        expect: &["channel.toml:1:1 missing-key", "channel.toml:2:1 unknown-key"],
    },
    Case {
        name: "a number for a text",
        edits: &[Change(CHANNEL, "\"Test Kitchen\"", "7")],
        expect: &["channel.toml:1:8 wrong-kind"],
    },
    Case {
        name: "a text with a character that is none",
        edits: &[Change(CHANNEL, "\"Test Kitchen\"", "\"Test\\u0007Kitchen\"")],
        expect: &["channel.toml:1:8 control-character"],
    },
    Case {
        name: "a blank text",
        edits: &[Change(CHANNEL, "\"Test Kitchen\"", "\"  \"")],
        expect: &["channel.toml:1:8 blank"],
    },
    Case {
        name: "locale, currency, measures and region that are none",
        edits: &[
            Change(
                CHANNEL,
                "\"en-IE\"",
                "\"english!\"\nmeasures = \"imperial\"\nregion = \"uk\"\nlanguage = \"French\"",
            ),
            Change(CHANNEL, "\"EUR\"", "\"eur\""),
        ],
        expect: &[
            "channel.toml:2:10 bad-locale",
            "channel.toml:3:12 unknown-choice",
            "channel.toml:4:10 unknown-choice",
            "channel.toml:5:12 bad-locale",
            "channel.toml:6:12 unknown-choice",
        ],
    },
    Case {
        name: "a locale whose language has no wording",
        edits: &[Change(CHANNEL, "\"en-IE\"", "\"nl-NL\"")],
        expect: &["channel.toml:2:10 bad-locale"],
    },
    Case {
        name: "a language that has no wording",
        edits: &[Change(CHANNEL, "\"en-IE\"", "\"nl-NL\"\nlanguage = \"nl\"")],
        expect: &["channel.toml:3:12 bad-locale"],
    },
    Case {
        name: "a scale of zero and one in millilitres",
        edits: &[Change(CHANNEL, "name = ", "scale = \"0 g\"\nname = ")],
        expect: &["channel.toml:1:9 zero"],
    },
    Case {
        name: "limits of prices, offers and the tariff that are none",
        edits: &[Change(
            CHANNEL,
            "\"EUR\"",
            "\"EUR\"\nstale-after = \"36 h\"\noffers = \"leave out\"\ntariff = \"0,32\"",
        )],
        expect: &["channel.toml:4:15 out-of-range", "channel.toml:5:10 unknown-choice", "channel.toml:6:10 bad-price"],
    },
    Case {
        name: "sources of a form to come",
        edits: &[Change(CHANNEL, "\"EUR\"", "\"EUR\"\nschema = 2")],
        expect: &["channel.toml:4:10 newer-schema"],
    },
    Case {
        name: "a form that is none",
        edits: &[Change(CHANNEL, "\"EUR\"", "\"EUR\"\nschema = \"one\"")],
        expect: &["channel.toml:4:10 out-of-range"],
    },
    Case {
        name: "a site that is no place for pages",
        edits: &[Change(CHANNEL, "\"EUR\"", "\"EUR\"\nsite = \"brambleferry.example\"")],
        expect: &["channel.toml:4:8 bad-address"],
    },
    Case {
        name: "a site with a query",
        edits: &[Change(CHANNEL, "\"EUR\"", "\"EUR\"\nsite = \"https://kitchen.example/?page=1\"")],
        expect: &["channel.toml:4:8 bad-address"],
    },
    Case {
        name: "frames: unknown key, bad size, bad rate, margins too small and too large",
        edits: &[Change(
            CHANNEL,
            "\"EUR\"\n",
            "\"EUR\"\n\
             [frame.wide]\nsize = \"1920x1080\"\nsafe = \"4 %\"\n\
             [frame.square]\nsize = \"1080\"\nrate = \"fast\"\n\
             [frame.tiny]\nsize = \"10x10\"\nsaef = \"5 %\"\n\
             [frame.tall]\nsize = \"1080x1920\"\nsafe = { top = \"60 %\", bottom = \"60 %\", left = \"1 %\" }\n\
             [frame.\"../up\"]\nsize = \"1080x1080\"\n\
             [frame.cut]\nsize = \"1080x1080\"\nsafe = { top = \"60 %\", bottom = \"30 %\", left = \"2 %\", right = \"2 %\" }\n",
        )],
        expect: &[
            "channel.toml:6:8 unsafe-frame",
            "channel.toml:8:8 bad-number",
            "channel.toml:9:8 out-of-range",
            "channel.toml:11:8 out-of-range",
            "channel.toml:12:1 unknown-key",
            "channel.toml:15:8 missing-key",
            "channel.toml:15:48 unsafe-frame",
            "channel.toml:16:8 bad-name",
            "channel.toml:20:8 out-of-range",
        ],
    },
    Case {
        name: "pantry: unknown key, role, allergen, diet and item name",
        edits: &[
            Change(
                PANTRY,
                "[odd-seed]\n",
                "[Odd_Thing]\nname = \"x\"\n\n[odd-seed]\ndensty = \"1 g/mL\"\nrole = \"spice\"\nallergens = [\"nuts\", \"sesam\"]\nhazards = [\"knife\"]\n",
            ),
            Change(PANTRY, "[\"vegan\"]", "[\"vegan\", \"gluten-free\"]"),
        ],
        expect: &[
            "pantry.toml:5:2 bad-name",
            "pantry.toml:9:1 unknown-key",
            "pantry.toml:10:8 unknown-choice",
            "pantry.toml:11:14 unknown-choice",
            "pantry.toml:11:22 unknown-choice",
            "pantry.toml:12:12 unknown-choice",
            "pantry.toml:14:18 unknown-choice",
        ],
    },
    Case {
        name: "pantry: facts that are no facts",
        edits: &[Change(
            PANTRY,
            "[odd-seed]\n",
            "density = \"heavy\"\neach = \"2 mL\"\nwater = \"120 %\"\nedible = \"0 %\"\n\n[odd-seed]\ndensity = \"1 g/mL\"\ncup = \"100 g\"\neach = \"10-12 g\"\n",
        )],
        expect: &[
            "pantry.toml:5:11 wrong-unit",
            "pantry.toml:6:8 wrong-unit",
            "pantry.toml:7:9 out-of-range",
            "pantry.toml:8:10 zero",
            "pantry.toml:12:1 given-twice",
            "pantry.toml:13:8 out-of-range",
        ],
    },
    Case {
        name: "compounds: facts that a built-in composition contradicts",
        edits: &[Change(PANTRY, "[odd-powder]", "[self-raising-flour]\nallergens = []\n\n[odd-powder]")],
        expect: &["pantry.toml:1:2 facts-contradict"],
    },
    Case {
        name: "compounds: facts of what a built-in composition is of",
        edits: &[Change(PANTRY, "[odd-powder]", "[plain-flour]\nallergens = [\"wheat\", \"barley\"]\n\n[odd-powder]")],
        expect: &["pantry.toml:1:2 facts-contradict"],
    },
    Case {
        name: "compounds: a circle, an unknown item, more than the whole",
        edits: &[Change(
            PANTRY,
            "[odd-seed]\n",
            "made-of = { odd-seed = \"100 %\" }\n\n[mix]\nmade-of = { plain-flower = \"50 %\", salt = \"50 %\" }\n\n[more]\nmade-of = { salt = \"80 %\", water = \"30 %\" }\n\n[odd-seed]\nmade-of = { odd-powder = \"100 %\" }\n",
        )],
        expect: &[
            "pantry.toml:8:13 unknown-item",
            "pantry.toml:11:11 shares-above-whole",
            "pantry.toml:14:13 circular-item",
        ],
    },
    Case {
        name: "compounds: a rest, and facts that its composition contradicts",
        edits: &[Change(
            PANTRY,
            "[odd-seed]\n",
            "diet = [\"vegan\"]\nmade-of = { plain-flour = \"50 %\", butter = \"50 %\" }\n\n[mix]\nmade-of = { salt = \"90 %\" }\n\n[odd-seed]\n",
        )],
        expect: &[
            "pantry.toml:6:11 facts-contradict",
            "pantry.toml:6:11 facts-contradict",
            "pantry.toml:6:11 facts-contradict",
            "pantry.toml:9:11 warning shares-below-whole",
        ],
    },
    Case {
        name: "translated pantry: unknown item and key",
        edits: &[Write("pantry.fr.toml", "[odd-sed]\nname = \"graine\"\n\n[odd-seed]\ndensity = \"1 g/mL\"\n")],
        expect: &["pantry.fr.toml:1:2 unknown-item", "pantry.fr.toml:5:1 unknown-key"],
    },
    Case {
        name: "prices: columns by semicolons",
        edits: &[Write(PRICES, "date;item;pack;price\n2026-03-02;salt;500 g;0.60\n")],
        expect: &["prices.csv:1:1 bad-columns"],
    },
    Case {
        name: "prices: a column misspelt",
        edits: &[Change(PRICES, "price,place", "prize,place")],
        expect: &["prices.csv:1:1 bad-columns", "prices.csv:1:16 bad-columns"],
    },
    Case {
        name: "prices: bad date, item, pack and price",
        edits: &[Change(
            PRICES,
            "2026-03-02,salt,500 g,0.60,market hall,\n",
            "2026-02-30,salt,500 g,0.60,market hall,\n\
             02/03/2026,salt,500 g,0.60,market hall,\n\
             2026-03-03,slat,500 g,0.60,market hall,\n\
             2026-03-04,salt,500 grm,0.60,market hall,\n\
             2026-03-05,salt,20 cm,0.60,market hall,\n\
             2026-03-06,salt,0 g,0.60,market hall,\n\
             2026-03-07,salt,500 g,\"0,60\",market hall,\n\
             2026-03-08,salt,500 g,€0.60,market hall,\n\
             2026-03-09,salt,500 g,-1,market hall,\n\
             2026-03-10,salt,500 g,2000000000,market hall,\n\
             2026-03-11,salt,500 g,,market hall,\n\
             2026-03-12,salt,9 x 1000000 kg,1,market hall,\n\
             2026-03-13,salt,1e3 g,1,market hall,\n\
             2026-03-14,salt,1.5 x 500 g,1,market hall,\n",
        )],
        expect: &[
            "prices.csv:3:1 bad-date",
            "prices.csv:4:1 bad-date",
            "prices.csv:5:12 unknown-item",
            "prices.csv:6:17 unknown-unit",
            "prices.csv:7:17 bad-pack",
            "prices.csv:8:17 bad-pack",
            "prices.csv:9:23 bad-price",
            "prices.csv:10:23 bad-price",
            "prices.csv:11:23 bad-price",
            "prices.csv:12:23 too-large",
            "prices.csv:13:23 bad-price",
            "prices.csv:14:17 too-large",
            "prices.csv:15:17 bad-number",
            "prices.csv:16:17 bad-pack",
        ],
    },
    Case {
        name: "prices: packs that can't be weighed",
        edits: &[Change(
            PRICES,
            "2026-03-02,salt,500 g,0.60,market hall,\n",
            "2026-03-02,odd-powder,1 L,0.60,,\n2026-03-02,odd-seed,6,0.60,,\n2026-03-03,odd-powder,6 x 330 mL,0.60,,\n",
        )],
        expect: &["prices.csv:3:23 no-density", "prices.csv:4:21 no-each", "prices.csv:5:23 no-density"],
    },
    Case {
        name: "prices: one item twice on a day at a place",
        edits: &[Change(
            PRICES,
            "2026-03-02,salt,500 g,0.60,market hall,\n",
            "2026-03-02,salt,500 g,0.60,market hall,\n2026-03-02,salt,1 kg,0.90,Market hall,on offer\n",
        )],
        expect: &["prices.csv:4:1 duplicate-price"],
    },
    Case {
        name: "prices: a decimal comma splits a line",
        edits: &[Change(PRICES, "0.60", "0,60")],
        expect: &["prices.csv:3:1 field-count"],
    },
    Case {
        name: "prices: a quote that is not closed",
        edits: &[Change(PRICES, "2026-03-02,salt,500 g,0.60,market hall", "2026-03-02,salt,500 g,0.60,\"market hall")],
        expect: &["prices.csv:3:28 unclosed-quote"],
    },
];
