//! One amount in its several forms, lists in either order, and the words that say of what a number is: the pan or its oil,
//! the case or the thing, the total or a piece. The sentences are invented; the figures are the demo's.

use super::unlike;

const FORMS: &[(&str, &str, &str)] = &[
    ("lock-house-squares", "ninety six grams of walnuts, take two thirds of that", "weight 96 main.walnuts"),
    ("sweetcorn-puffs", "you want it at one sixty before they go in the oil", "!temperature 160 step.heat-the-oil"),
    (
        "sweetcorn-puffs",
        "a heavy pan twenty centimetres the oil four centimetres deep",
        "length 200 fry.pan, length 40 step.heat-the-oil",
    ),
    ("sweetcorn-puffs", "my pan with the oil four centimetres", "length 40 step.heat-the-oil"),
    ("sweetcorn-puffs", "the whole bowl is four 05", "money 4.05 cost.total"),
    ("sweetcorn-puffs", "the whole bowl is four euro oh five", "money 4.05 cost.total"),
    (
        "onion-heart-rolls",
        "water a hundred and fifty seven and half a gram of yeast",
        "weight 157 poolish.water, !weight 0.5 poolish.instant-yeast",
    ),
    (
        "sweetcorn-puffs",
        "it's five euro forty, so that's twenty to twenty three cents a puff",
        "!money 5.4 cost.total, money 0.2-0.23 cost.each",
    ),
    (
        "sweetcorn-puffs",
        "the besan thirty percent, it's one hundred and five grams",
        "!percent 30 main.chickpea-flour, weight 105 main.chickpea-flour",
    ),
    (
        "sweetcorn-puffs",
        "Salt next. It's 2.2 percent of the corn, 66 grams.",
        "percent 2.2 main.salt, !weight 66 main.salt",
    ),
    (
        "onion-heart-rolls",
        "olive oil twelve grams salt eleven grams",
        "weight 12 dough.olive-oil, weight 11 dough.salt",
    ),
    ("lock-house-squares", "there's sixteen in a tin", "count 16 yield.pieces"),
    ("sweetcorn-puffs", "you get eighteen to twenty out of one bowl", "count 18-20 yield.pieces"),
    ("lock-house-squares", "and that's your sixteen", "count 16 yield.pieces"),
    ("lock-house-squares", "turn the oven on first a hundred and seventy", "temperature 170 step.melt"),
    ("lock-house-squares", "Now the oven. 170, with the shelf in the middle.", "temperature 170 step.melt"),
    ("sweetcorn-puffs", "the lime was thirty three cents", "!money 0.33 cost.main.lime"),
    (
        "sweetcorn-puffs",
        "it cost ninety cents the corn, seventy six the coriander, thirty five the lime",
        "money 0.9 cost.main.sweetcorn, money 0.76 cost.main.coriander-leaf, money 0.35 cost.main.lime",
    ),
    (
        "lock-house-squares",
        "plain flour two hundred grams salt one point nine",
        "!weight 200 main.plain-flour, weight 1.9 main.smoked-salt",
    ),
    (
        "sweetcorn-puffs",
        "drain it, three hundred grams, everything else is a percent of the corn",
        "weight 300 main.sweetcorn",
    ),
    ("sweetcorn-puffs", "The water. With fresh corn you'd want forty six grams.", "!weight 46 main.water"),
    (
        "sweetcorn-puffs",
        "don't forget, three hundred grams of corn, that's what I did last time",
        "weight 300 main.sweetcorn",
    ),
    (
        "onion-heart-rolls",
        "last night I made the poolish, strong flour a hundred and fifty seven",
        "weight 157 poolish.strong-flour",
    ),
    (
        "onion-heart-rolls",
        "put a lid on and away it goes, twelve to fourteen minutes, somewhere cool 18 to 20",
        "!duration 720-840 step.set-the-poolish, temperature 18-20 step.set-the-poolish",
    ),
    (
        "onion-heart-rolls",
        "an hour and a half at around twenty five",
        "duration 5400 step.prove, temperature 25 step.prove",
    ),
    (
        "lock-house-squares",
        "two thirds of the walnuts, you've got ninety six grams of them so sixty nine in here",
        "weight 96 main.walnuts, !weight 69 main.walnuts",
    ),
    (
        "lock-house-squares",
        "sixty four grams of walnuts in the bowl and the other thirty four on top",
        "weight 64 main.walnuts, !weight 34 main.walnuts",
    ),
    (
        "sweetcorn-puffs",
        "my neighbour always wants to know, corn ninety cents, coriander eighty six cents",
        "money 0.9 cost.main.sweetcorn, !money 0.86 cost.main.coriander-leaf",
    ),
    ("onion-heart-rolls", "walnuts is your dear one ninety cents", "money 0.9 cost.filling.walnuts"),
    ("sweetcorn-puffs", "the manager always asks so here it is, five euro five the lot", "!money 5.05 cost.total"),
    (
        "lock-house-squares",
        "bake it now in she goes thirty five to thirty eight minutes",
        "!duration 2100-2280 step.bake",
    ),
    (
        "lock-house-squares",
        "divided by sixteen that's forty nine cents each",
        "count 16 yield.pieces, money 0.49 cost.each",
    ),
    ("lock-house-squares", "64 divided by four is 16, as I told the class", ""),
    ("sweetcorn-puffs", "all in 4.50, so 25 cents a puff", "!money 4.5 cost.total, !money 0.25 cost.each"),
    ("jetty-pickle", "it is 34 degrees outside and the bees are out", ""),
    (
        "sweetcorn-puffs",
        "thermometer in, a hundred and eighty is where we're going",
        "temperature 180 step.heat-the-oil",
    ),
    ("sweetcorn-puffs", "eighteen grams of coriander bring that up", "weight 18 main.coriander-leaf"),
    ("sweetcorn-puffs", "give it a couple of goes around with the spoon", ""),
    ("sweetcorn-puffs", "I work for three hours on a Sunday", ""),
    ("sweetcorn-puffs", "a hundred and sixty if you've got a fan", ""),
    (
        "jetty-pickle",
        "they keep, the forecast says nothing of it, and they keep for twenty one days",
        "duration 1814400 step.chill-and-keep",
    ),
    (
        "jetty-pickle",
        "mustard seeds two teaspoons coriander seeds one tablespoon and half a teaspoon of peppercorns",
        "volume 10 spice.mustard-seeds, !volume 15 spice.coriander-seeds, volume 2.5 spice.peppercorns",
    ),
    (
        "onion-heart-rolls",
        "strong flour 295 wholemeal 59 rye 39 and in percents that's 75 15 and 10",
        "weight 295 dough.strong-flour, weight 59 dough.wholemeal-flour, weight 39 dough.rye-flour, \
         percent 75 dough.strong-flour, percent 15 dough.wholemeal-flour, percent 10 dough.rye-flour",
    ),
    ("onion-heart-rolls", "water 157 grams the same as each other", "weight 157 poolish.water"),
    ("onion-heart-rolls", "take a ball and weigh one. 113 grams.", "weight 113 yield.each"),
    ("lock-house-squares", "whisk the eggs and sugar for three hours", "!duration 10800 step.whisk"),
    (
        "lock-house-squares",
        "dark chocolate 144 grams. 72 grams of it melts with the butter now",
        "weight 144 main.dark-chocolate, weight 72 main.dark-chocolate",
    ),
    ("lock-house-squares", "we're making 16 of them today", "count 16 yield.pieces"),
    ("lock-house-squares", "I get mine at the stand on route 44 and then home", ""),
    ("lock-house-squares", "cocoa powder 12.5 percent people ask me why", "!percent 12.5 main.cocoa-powder"),
];

#[test]
fn an_amount_is_the_same_in_each_of_its_forms() {
    assert_eq!(unlike(FORMS), "");
}
