//! Money as people tell it: what is left of the shopping, packs and their prices, what one piece comes to, and prices told
//! behind what was weighed. Each row is held to the demo's figures, which other tests hold to their sources.

use super::unlike;

/// A recipe, what is said, and the claims in it.
const TOLD: &[(&str, &str, &str)] = &[
    // What is left of the shopping, behind what all of it costs.
    (
        "sweetcorn-puffs",
        "the shopping is 18 85 and you'd carry home 14 80 of that for next time",
        "money 18.85 cost.basket, money 14.8 cost.basket",
    ),
    (
        "sweetcorn-puffs",
        "you'd spend 18 85 at the store but then you're sitting on 18 40 of flour and sugar",
        "money 18.85 cost.basket, !money 18.4 cost.basket",
    ),
    (
        "sweetcorn-puffs",
        "The shopping, from an empty shelf, is €18.85, and what is left of it afterwards is €18.40.",
        "money 18.85 cost.basket, !money 18.4 cost.basket",
    ),
    (
        "sweetcorn-puffs",
        "starting from nothing you'd spend 18 85 and you'd still have 14 80 of shopping left afterwards a bag of the ready ones is four euros",
        "money 18.85 cost.basket, money 14.8 cost.basket",
    ),
    // Of the batch is what is made, though something is left.
    (
        "sweetcorn-puffs",
        "it's 18 85 at the till and the batch is 4 05 still cheap",
        "money 18.85 cost.basket, money 4.05 cost.total",
    ),
    (
        "sweetcorn-puffs",
        "with tinned sweetcorn the shopping is 18 70 with 14 42 left over",
        "money 18.7 cost.basket, money 14.42 cost.basket",
    ),
    // "hers" is of the dish where the variant has been named.
    (
        "sweetcorn-puffs",
        "4 05 in all and jo only has tinned sweetcorn so hers comes to 4 28",
        "money 4.05 cost.total, money 4.28 cost.total",
    ),
    // What a pack costs or holds is of the shop.
    ("sweetcorn-puffs", "Rice flour is 15 cents out of a 2 75 bag.", "money 0.15 cost.main.rice-flour"),
    ("sweetcorn-puffs", "the limes are 35 cents the bag of 6 was 4 29", "money 0.35 cost.main.lime"),
    ("sweetcorn-puffs", "rice flour that was 5 49 for the big bag", ""),
    ("sweetcorn-puffs", "rice flour that was 5 49 for a 5 pound bag", ""),
    ("sweetcorn-puffs", "the oil is 1 13 the jug was 9 75", "money 1.13 cost.fry.oil"),
    ("sweetcorn-puffs", "Rice flour, 45 grams. There are 600 grams left in the bag.", "weight 45 main.rice-flour"),
    // What was bought for so much is what goes in, where that is right and no size of a pack.
    (
        "sweetcorn-puffs",
        "rice flour is 25 cents for 45 grams",
        "!money 0.25 cost.main.rice-flour, weight 45 main.rice-flour",
    ),
    ("sweetcorn-puffs", "rice flour is 1.20 for 500 grams", ""),
    // All of it, however it is told; "the tray falls to" tells of what follows.
    ("sweetcorn-puffs", "the grand total for the jar is 4 50", "!money 4.5 cost.total"),
    (
        "sweetcorn-puffs",
        "Spring onion, 42 grams. They're 33 cents, the tray falls to 4.05.",
        "weight 42 main.spring-onion, money 0.33 cost.main.spring-onion, money 4.05 cost.total",
    ),
    // One piece.
    (
        "sweetcorn-puffs",
        "the batch falls to 4.05 and the puff to 34 cents",
        "money 4.05 cost.total, !money 0.34 cost.each",
    ),
    ("sweetcorn-puffs", "so by puff that's 32 cents", "!money 0.32 cost.each"),
    ("sweetcorn-puffs", "all in 4 05 and a puff stands at 32 cents", "money 4.05 cost.total, !money 0.32 cost.each"),
    ("sweetcorn-puffs", "so per puff you're at 32 cents", "!money 0.32 cost.each"),
    (
        "sweetcorn-puffs",
        "4 05 and for a puff that is 32 cents a bakery asks 3 80",
        "money 4.05 cost.total, !money 0.32 cost.each",
    ),
    // A difference, also past other words; and as much of something else.
    ("sweetcorn-puffs", "you're saving better than two euros every time", "?money 2 -"),
    (
        "sweetcorn-puffs",
        "the cumin is 7 cents or i use sesame and that's about 30 cents for the same weight",
        "money 0.07 cost.main.ground-cumin",
    ),
    ("sweetcorn-puffs", "we only buy 35 cents worth of limes", "money 0.35 cost.main.lime"),
    // In digits an amount stands together.
    (
        "sweetcorn-puffs",
        "the lime is 35 cents the coriander is robbery you're using 1 14 of it",
        "money 0.35 cost.main.lime, !money 1.14 cost.main.coriander-leaf",
    ),
    // Who tells what each line costs behind its amount does so in any words.
    (
        "sweetcorn-puffs",
        "Corn, 300 grams, 90 cents. Chickpea flour, 105 grams, 32 cents. Rice flour, 45 grams, 15 cents. Spring onion, 42 grams. The old book has it down for good at 53 cents.",
        "weight 300 main.sweetcorn, money 0.9 cost.main.sweetcorn, weight 105 main.chickpea-flour, money 0.32 cost.main.chickpea-flour, weight 45 main.rice-flour, money 0.15 cost.main.rice-flour, weight 42 main.spring-onion, !money 0.53 cost.main.spring-onion",
    ),
    // Who does not may mean anything by it.
    (
        "sweetcorn-puffs",
        "Spring onion, 42 grams. The old book has it down for good at 53 cents.",
        "weight 42 main.spring-onion",
    ),
    // What is said of the packs before is the shopping.
    (
        "sweetcorn-puffs",
        "4 05 the lot and the shop had 18 85 off me and what's still in the cupboard is 18 40 worth",
        "money 4.05 cost.total, money 18.85 cost.basket, !money 18.4 cost.basket",
    ),
    (
        "sweetcorn-puffs",
        "I paid €18.85 at the store, because limes come in a big bag, but €14.08 of that is still in my cupboard.",
        "money 18.85 cost.basket, !money 14.08 cost.basket",
    ),
    (
        "sweetcorn-puffs",
        "22 cents a puff and 15 cents of gas, the shop took 18 85 off me this morning but 14 80 of it's still in the cupboard",
        "money 0.22 cost.each, ?money 0.15 -, money 18.85 cost.basket, money 14.8 cost.basket",
    ),
    // What it costs with the energy is a figure of its own, and what the energy costs is none.
    (
        "sweetcorn-puffs",
        "With the energy it's 4.26, and 24 cents a puff.",
        "money 4.26 cost.total, money 0.24 cost.each",
    ),
    ("sweetcorn-puffs", "With the gas it's 4.62 and 0.27 a puff.", "!money 4.62 cost.total, !money 0.27 cost.each"),
    (
        "sweetcorn-puffs",
        "the batch is 4 05 and including the power it comes to 4 62",
        "money 4.05 cost.total, !money 4.62 cost.total",
    ),
    ("sweetcorn-puffs", "with the gas on low 4 05 for the batch", "money 4.05 cost.total"),
    ("sweetcorn-puffs", "20 cents for the gas", "?money 0.2 -"),
    // What is told as cheaper corrects nothing.
    ("sweetcorn-puffs", "the batch is 4 50 so actually eight cents cheaper", "!money 4.5 cost.total, ?money 0.08 -"),
    // What was weighed has its price right behind it, in whatever form.
    (
        "sweetcorn-puffs",
        "chickpea flour 105 for 38 cents rice flour 45 for 15 cents",
        "weight 105 main.chickpea-flour, !money 0.38 cost.main.chickpea-flour, weight 45 main.rice-flour, money 0.15 cost.main.rice-flour",
    ),
    (
        "sweetcorn-puffs",
        "Rice flour, sifted, 45 grams for 52 cents, and chickpea flour.",
        "weight 45 main.rice-flour, !money 0.52 cost.main.rice-flour",
    ),
    (
        "sweetcorn-puffs",
        "okay the corn is 300 grams and that's 90 cents chickpea flour 105 and that's 32 rice flour 45 grams that's 25",
        "weight 300 main.sweetcorn, money 0.9 cost.main.sweetcorn, weight 105 main.chickpea-flour, money 0.32 cost.main.chickpea-flour, weight 45 main.rice-flour, !money 0.25 cost.main.rice-flour",
    ),
    (
        "sweetcorn-puffs",
        "Rice flour, sifted: 45 grams, that's 15 percent of the corn and 52 cents.",
        "weight 45 main.rice-flour, percent 15 main.rice-flour, !money 0.52 cost.main.rice-flour",
    ),
    ("sweetcorn-puffs", "the coriander comes to 77 cents", "!money 0.77 cost.main.coriander-leaf"),
    (
        "sweetcorn-puffs",
        "a hundred and five grams of chickpea flour which costs 32 cents",
        "weight 105 main.chickpea-flour, money 0.32 cost.main.chickpea-flour",
    ),
    (
        "sweetcorn-puffs",
        "out of the jar, rice flour 45 grams that's 52 cents so don't spill it",
        "weight 45 main.rice-flour, !money 0.52 cost.main.rice-flour",
    ),
    // A row of headings.
    ("sweetcorn-puffs", "Sum: four fifty. A puff: thirty-two cents.", "!money 4.5 cost.total, !money 0.32 cost.each"),
    (
        "sweetcorn-puffs",
        "Purchases: 18 euros 85. Remaining in stock: 18 euros 40.",
        "money 18.85 cost.basket, !money 18.4 cost.basket",
    ),
    (
        "sweetcorn-puffs",
        "what i spent was 18 85 and what's left is 18 40",
        "money 18.85 cost.basket, !money 18.4 cost.basket",
    ),
    // Two numbers in digits, the second the smaller.
    (
        "sweetcorn-puffs",
        "the shopping was 18 85 and in stock there is still 14 08",
        "money 18.85 cost.basket, !money 14.08 cost.basket",
    ),
    ("sweetcorn-puffs", "it came to four euros and a cent", "!money 4.01 cost.total"),
    // A sum of one thing is no range to the next.
    (
        "sweetcorn-puffs",
        "All in, that's four euros five, or 20 to 23 cents a puff.",
        "money 4.05 cost.total, money 0.2-0.23 cost.each",
    ),
    // A place in town, the oven's power and what is on top.
    ("sweetcorn-puffs", "At the counter in town a small puff costs three fifty. Theirs has a label.", ""),
    (
        "sweetcorn-puffs",
        "it's 4 05 for the pan and the oven i'd say 20 cents by the meter",
        "money 4.05 cost.total, ?money 0.2 -",
    ),
    (
        "sweetcorn-puffs",
        "that's 4 05 and the tinned is 4 28 so that's 23 cents on top for the pan",
        "money 4.05 cost.total, money 4.28 cost.total, ?money 0.23 -",
    ),
    (
        "sweetcorn-puffs",
        "with the tinned it's 4 28 the batch today with the fresh coriander is 4 05",
        "money 4.28 cost.total, money 4.05 cost.total",
    ),
    // "in all" is of the name that the number stands right behind.
    ("sweetcorn-puffs", "Chickpea flour, 150 grams in all; sift half of it.", "!weight 150 main.chickpea-flour"),
];

#[test]
fn money_is_told_in_many_words() {
    assert_eq!(unlike(TOLD), "");
}
