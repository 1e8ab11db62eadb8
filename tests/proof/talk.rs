//! Whole turns of talk: what one sentence named, the next goes on with; what a number without its unit measures; and talk
//! that asserts nothing of the dish, however many numbers are in it.

use super::{claims, proofed, truth_of, unlike};

/// A recipe, what is said, and the claims in it.
const TALK: &[(&str, &str, &str)] = &[
    (
        "sweetcorn-puffs",
        "Corn. Three hundred grams. Half of that, so a hundred and fifty, gets blitzed with thirty-six grams of water. Then the other one fifty, pulsed.",
        "weight 300 main.sweetcorn, weight 150 main.sweetcorn, weight 36 main.water, weight 150 main.sweetcorn",
    ),
    // The percent tells the line, whatever is said to weigh.
    (
        "sweetcorn-puffs",
        "the salt is 2.2 percent of the corn and on my scale that's 9 grams",
        "percent 2.2 main.salt, !weight 9 main.salt",
    ),
    // "double it with" is of what it doubles, and the tin tells the variant.
    ("sweetcorn-puffs", "double the baking powder with tinned corn 7.2 grams", "weight 7.2 main.baking-powder"),
    ("sweetcorn-puffs", "double the baking powder with tinned corn 6 grams", "!weight 6 main.baking-powder"),
    // All that is reckoned by is a hundred percent, and a lost point is none.
    (
        "sweetcorn-puffs",
        "salt 6 6 grams baking powder 3 6 water 36",
        "weight 6.6 main.salt, weight 3.6 main.baking-powder, weight 36 main.water",
    ),
    ("sweetcorn-puffs", "batch number two 1 and a quarter teaspoons of cumin", "!volume 6.25 main.ground-cumin"),
    ("sweetcorn-puffs", "ground cumin a teaspoon and a half it's in the tin", "!volume 7.5 main.ground-cumin"),
    (
        "sweetcorn-puffs",
        "The chickpea flour: I've a hundred and five here. And of the rice flour, forty-five.",
        "weight 105 main.chickpea-flour, weight 45 main.rice-flour",
    ),
    (
        "sweetcorn-puffs",
        "Spring onions, you want forty-two grams, that's about four of them.",
        "weight 42 main.spring-onion",
    ),
    (
        "sweetcorn-puffs",
        "That's fourteen percent, the onions, and the water's twelve.",
        "percent 14 main.spring-onion, percent 12 main.water",
    ),
    (
        "sweetcorn-puffs",
        "you're looking at eighteen grams of coriander a good fistful and then six point six of salt",
        "weight 18 main.coriander-leaf, weight 6.6 main.salt",
    ),
    (
        "sweetcorn-puffs",
        "the salt is six point six grams that's two point two percent",
        "weight 6.6 main.salt, percent 2.2 main.salt",
    ),
    (
        "sweetcorn-puffs",
        "in goes a teaspoon of cumin and the zest of one lime",
        "volume 5 main.ground-cumin, count 1 main.lime",
    ),
    ("sweetcorn-puffs", "it rests ten minutes, no more", "duration 600 step.make-the-batter"),
    ("sweetcorn-puffs", "leave that alone for a quarter of an hour now", "!duration 900 step.make-the-batter"),
    (
        "sweetcorn-puffs",
        "oil's at one eighty, in they go, four at a time, three to four minutes",
        "temperature 180 step.heat-the-oil, count 4 step.fry, duration 180-240 step.fry",
    ),
    (
        "sweetcorn-puffs",
        "get the oil up to a hundred and ninety and keep it there",
        "!temperature 190 step.heat-the-oil",
    ),
    (
        "sweetcorn-puffs",
        "four centimetres of oil, so that's about one and a quarter litres",
        "length 40 fry.oil, volume 1250 fry.oil",
    ),
    (
        "sweetcorn-puffs",
        "eighteen to twenty puffs out of that and each of them thirty-one to thirty-five grams",
        "count 18-20 yield.pieces, weight 31-35 yield.each",
    ),
    ("sweetcorn-puffs", "that made twenty-four puffs for me", "!count 24 yield.pieces"),
    (
        "sweetcorn-puffs",
        "all in, four oh five, which is twenty to twenty-three cents each",
        "money 4.05 cost.total, money 0.2-0.23 cost.each",
    ),
    ("sweetcorn-puffs", "you're paying four fifteen for the lot", "!money 4.15 cost.total"),
    ("sweetcorn-puffs", "and the till receipt said eighteen eighty-five", "money 18.85 cost.basket"),
    (
        "sweetcorn-puffs",
        "the corn was ninety cents, chickpea flour thirty-two, and the oil one thirteen",
        "money 0.9 cost.main.sweetcorn, money 0.32 cost.main.chickpea-flour, money 1.13 cost.fry.oil",
    ),
    ("sweetcorn-puffs", "everything on the scale together should read six twenty-five", "weight 625 yield.total"),
    ("sweetcorn-puffs", "everything in the bowl comes to 652 grams", "!weight 652 yield.total"),
    (
        "sweetcorn-puffs",
        "baking powder, three point six. I always think it's too little. It's one point two percent.",
        "weight 3.6 main.baking-powder, percent 1.2 main.baking-powder",
    ),
    (
        "sweetcorn-puffs",
        "rice flour now. forty-five. tap the bag. that's fifteen percent.",
        "weight 45 main.rice-flour, percent 15 main.rice-flour",
    ),
    ("sweetcorn-puffs", "so the flour, a hundred and fifteen of chickpea", "!weight 115 main.chickpea-flour"),
    ("sweetcorn-puffs", "add your rice flour, fifty-four grams", "!weight 54 main.rice-flour"),
    (
        "sweetcorn-puffs",
        "a level teaspoon of salt and three quarters of a teaspoon of baking powder",
        "volume 5 main.salt, volume 3.75 main.baking-powder",
    ),
    (
        "sweetcorn-puffs",
        "water thirty-six, cold, and if you're on tins just twelve",
        "weight 36 main.water, weight 12 main.water",
    ),
    (
        "sweetcorn-puffs",
        "with tinned corn you double the baking powder, so seven point two grams",
        "weight 7.2 main.baking-powder",
    ),
    ("sweetcorn-puffs", "they take in about fifty grams of the oil between them", "weight 50 fry.oil"),
    ("sweetcorn-puffs", "a pan about twenty across, oil four deep", "length 200 fry.pan, length 40 step.heat-the-oil"),
    (
        "sweetcorn-puffs",
        "bring her up to one eighty. Wait. One sixty. One seventy. There, one eighty.",
        "temperature 180 step.heat-the-oil, temperature 180 step.heat-the-oil",
    ),
    ("sweetcorn-puffs", "weigh the bowl: three hundred in. Now add flour till it reads four oh five", ""),
    ("sweetcorn-puffs", "when the scale says four fifty you've the rice flour in too", ""),
    (
        "sweetcorn-puffs",
        "makes between eighteen and twenty, depending how greedy your spoon is",
        "count 18-20 yield.pieces",
    ),
    ("sweetcorn-puffs", "fry them three minutes, maybe four, then onto the rack", "duration 180-240 step.fry"),
    ("sweetcorn-puffs", "two point two percent salt doesn't sound like much", "percent 2.2 main.salt"),
    ("sweetcorn-puffs", "I got this off my neighbour forty years ago and she had nine children and one pan.", ""),
    (
        "sweetcorn-puffs",
        "Before we start, hit the bell, we're nearly at ten thousand and I said I'd shave my head at fifteen.",
        "",
    ),
    ("sweetcorn-puffs", "My fryer is twelve years old and the lid sticks. Anyway, oil.", ""),
    ("sweetcorn-puffs", "While that rests, the ferry's at twenty past four, so I've got forty minutes to myself.", ""),
    ("sweetcorn-puffs", "I made these for thirty people at the hall last Easter and there were six left.", ""),
    ("sweetcorn-puffs", "Don't be like me, I once left the pan on for two hours and went to Mass.", ""),
    (
        "sweetcorn-puffs",
        "My daughter's nineteen today, so there's a cake later, four eggs in that, and 200 grams of butter.",
        "?weight 200 -",
    ),
    ("sweetcorn-puffs", "It was thirty-one degrees out on the quay yesterday and nobody wanted anything fried.", ""),
    ("sweetcorn-puffs", "so the lads on the boat would eat about fifty of these between them", ""),
    ("sweetcorn-puffs", "the shop had corn at two for five euros so i bought eight bags", ""),
    ("sweetcorn-puffs", "some people put 10 grams of sugar in, I don't", ""),
    ("sweetcorn-puffs", "you can freeze them for three months, after that they taste of the drawer", ""),
    ("sweetcorn-puffs", "they'll keep in the fridge for two days but they won't be crisp", ""),
    ("sweetcorn-puffs", "if you wanted to make forty you'd just double everything", ""),
    ("sweetcorn-puffs", "the knife is twenty centimetres, it was a present", ""),
    ("sweetcorn-puffs", "I've a hundred and fifty things to do today and this is the third", ""),
    ("sweetcorn-puffs", "that's episode forty two and we've five more before Christmas", ""),
    ("sweetcorn-puffs", "my phone says it's eight percent so if i vanish that's why", ""),
    ("sweetcorn-puffs", "I'd give these nine out of ten, a solid nine and a half with the lime", ""),
    ("sweetcorn-puffs", "it takes me about twenty five minutes start to finish if nobody rings", ""),
    ("sweetcorn-puffs", "the bus stops right outside, the number 16, every quarter of an hour", ""),
    ("sweetcorn-puffs", "we're on bag two now of the corn, there's a third one in the freezer", ""),
    ("sweetcorn-puffs", "a hundred degrees is where water boils, we're well past that", ""),
    ("sweetcorn-puffs", "one tablespoon is fifteen mils, in case you're wondering", ""),
    ("sweetcorn-puffs", "a litre of oil is about nine hundred and twenty grams", ""),
    ("sweetcorn-puffs", "there are roughly a hundred calories in one of these", ""),
    ("sweetcorn-puffs", "the first batch took five minutes because I'd the heat too low", ""),
    ("sweetcorn-puffs", "I sold these at the fair for two euros each in 2019", ""),
    ("sweetcorn-puffs", "my mother always used 400 grams and it was too wet", ""),
    ("sweetcorn-puffs", "the packet says 150 grams of flour, ignore the packet", ""),
    ("sweetcorn-puffs", "if it gets to two hundred turn it off and walk away", ""),
    ("sweetcorn-puffs", "below one sixty they just drink the oil", ""),
    ("sweetcorn-puffs", "three of us are eating tonight, maybe four if Dan turns up", ""),
    ("sweetcorn-puffs", "you need about two metres of clear bench and a dog that doesn't jump", ""),
    ("sweetcorn-puffs", "I burnt my hand here, see, 6 stitches", ""),
    (
        "sweetcorn-puffs",
        "somebody asked if you can bake them: you can, at 200 for twenty minutes, but they're not the same",
        "",
    ),
    (
        "onion-heart-rolls",
        "so tonight it's the poolish a hundred and fifty seven of flour same of water and a pinch of yeast point three of a gram",
        "weight 157 poolish.strong-flour, weight 0.3 poolish.instant-yeast",
    ),
    (
        "onion-heart-rolls",
        "cover it and leave it twelve to fourteen hours somewhere about eighteen to twenty degrees",
        "duration 43200-50400 step.set-the-poolish, temperature 18-20 step.set-the-poolish",
    ),
    ("onion-heart-rolls", "leave that overnight ten hours", "!duration 36000 step.set-the-poolish"),
    (
        "onion-heart-rolls",
        "the onions two hundred and eighty eight grams seventeen of oil two point nine of salt",
        "weight 288 filling.onion, weight 17 filling.olive-oil, weight 2.9 filling.salt",
    ),
    (
        "onion-heart-rolls",
        "they take twenty five minutes lid on low heat don't rush them",
        "duration 1500 step.cook-the-onions",
    ),
    ("onion-heart-rolls", "they take forty minutes with the lid on", "!duration 2400 step.cook-the-onions"),
    (
        "onion-heart-rolls",
        "fifty two grams of walnuts eighteen percent of the onions",
        "weight 52 filling.walnuts, percent 18 filling.walnuts",
    ),
    (
        "onion-heart-rolls",
        "three hundred and fourteen of poolish into a hundred and ninety six of water lukewarm",
        "weight 314 dough.poolish, weight 196 dough.water",
    ),
    (
        "onion-heart-rolls",
        "flour three kinds two ninety five strong fifty nine wholemeal thirty nine rye",
        "weight 295 dough.strong-flour, weight 59 dough.wholemeal-flour, weight 39 dough.rye-flour",
    ),
    (
        "onion-heart-rolls",
        "eleven grams of salt twelve of oil then the last of the water thirty one splash by splash",
        "weight 11 dough.salt, weight 12 dough.olive-oil, weight 31 dough.second-water",
    ),
    ("onion-heart-rolls", "it's eighty-six percent hydration all told", "!percent 86 hydration"),
    ("onion-heart-rolls", "an hour and a half at twenty four to twenty six folding once", "duration 5400 step.prove"),
    (
        "onion-heart-rolls",
        "pat them to ten centimetres and set them four centimetres apart",
        "length 100 step.fill-and-shape, length 40 step.fill-and-shape",
    ),
    (
        "onion-heart-rolls",
        "two twenty for eighteen to twenty minutes",
        "temperature 220 step.prove-again-and-bake, duration 1080-1200 step.prove-again-and-bake",
    ),
    (
        "onion-heart-rolls",
        "it's two seventy eight for the dozen twenty three cents a roll",
        "money 2.78 cost.total, money 0.23 cost.each",
    ),
    ("onion-heart-rolls", "walnuts are ninety cents of that", "money 0.9 cost.filling.walnuts"),
    ("onion-heart-rolls", "they lose twelve percent in the oven", "percent 12 yield.loss"),
    ("onion-heart-rolls", "my granny made forty of these every friday and sold them for a penny each", ""),
    ("onion-heart-rolls", "the cat is fourteen and she's asleep on the proving basket", ""),
    ("onion-heart-rolls", "we're three minutes from the sea and the flour's always damp", ""),
    ("onion-heart-rolls", "i usually get through ten kilos of flour a month", ""),
    ("onion-heart-rolls", "you get two goes at shaping after that it tears", ""),
    (
        "onion-heart-rolls",
        "the second rise is forty five minutes and then bake",
        "duration 2700 step.prove-again-and-bake",
    ),
    ("onion-heart-rolls", "you need two trays six on each", ""),
    ("onion-heart-rolls", "i'd do a double batch if there were more than eight of us", ""),
    // The amount in its other form is of the name before both, and not of the next in the list.
    (
        "sweetcorn-puffs",
        "spring onion fourteen percent 42 grams coriander six percent eighteen grams",
        "percent 14 main.spring-onion, weight 42 main.spring-onion, percent 6 main.coriander-leaf, weight 18 main.coriander-leaf",
    ),
    ("sweetcorn-puffs", "Salt. Eight point eight grams.", "!weight 8.8 main.salt"),
    ("sweetcorn-puffs", "And the rice flour, sifted. Seventy grams.", "!weight 70 main.rice-flour"),
    ("sweetcorn-puffs", "the puffs soak up about thirty grams between them", "!weight 30 fry.oil"),
    ("sweetcorn-puffs", "in the winter I'd leave that batter for thirty minutes", ""),
    ("sweetcorn-puffs", "last spring I put in ninety grams of water", ""),
    ("sweetcorn-puffs", "could I use four hundred grams of spelt flour, somebody wants to know", ""),
    ("sweetcorn-puffs", "bring the oil back up to one twenty", "!temperature 120 step.fry"),
    ("sweetcorn-puffs", "it's the wide pan, the twenty six centimetre one", "!length 260 fry.pan"),
    ("sweetcorn-puffs", "everything is fourteen euros and five cents", "!money 14.05 cost.total"),
    ("onion-heart-rolls", "on the scale the poolish weighs three hundred and seventy", "!weight 370 dough.poolish"),
    ("lock-house-squares", "the tin with hazelnuts comes to seven seventy one", "money 7.71 cost.total"),
    // A batch of another size, and food that no variant has: of the dish, and held against nothing.
    ("sweetcorn-puffs", "If you want more, double it, that's six hundred grams of sweetcorn.", "?weight 600 -"),
    (
        "sweetcorn-puffs",
        "At home halve everything: fifty grams of chickpea flour and six grams of salt.",
        "?weight 50 -, ?weight 6 -",
    ),
    ("sweetcorn-puffs", "you don't double it so ninety grams of water", "!weight 90 main.water"),
    ("sweetcorn-puffs", "If you only have dried coriander then two teaspoons.", "?volume 10 -"),
    ("sweetcorn-puffs", "if you've no scale that's three teaspoons of salt", "!volume 15 main.salt"),
    // A size told by a count of pieces or by what two amounts have in common; what one alone is wrong of is a slip.
    (
        "sweetcorn-puffs",
        "chickpea flour 105 grams rice flour 45 grams for the church i make 54 puffs and that's 900 grams of sweetcorn",
        "weight 105 main.chickpea-flour, weight 45 main.rice-flour, ?count 54 -, ?weight 900 -",
    ),
    (
        "sweetcorn-puffs",
        "Sweetcorn 300 grams. Water 36 grams. On sundays 210 grams of chickpea flour and 90 grams of rice flour.",
        "weight 300 main.sweetcorn, weight 36 main.water, ?weight 210 -, ?weight 90 -",
    ),
    ("sweetcorn-puffs", "sweetcorn 600 grams", "!weight 600 main.sweetcorn"),
    ("sweetcorn-puffs", "we make 0 puffs so that's 900 grams of sweetcorn", "!weight 900 main.sweetcorn"),
    // A script for twice the batch is no aside.
    (
        "sweetcorn-puffs",
        "it makes 36 puffs so chickpea flour 210 grams",
        "!count 36 yield.pieces, !weight 210 main.chickpea-flour",
    ),
    (
        "sweetcorn-puffs",
        "this makes 36 puffs chickpea flour 210 grams rice flour 90 grams spring onion 84 grams water 72 grams",
        "!count 36 yield.pieces, !weight 210 main.chickpea-flour, !weight 90 main.rice-flour, !weight 84 main.spring-onion, \
         !weight 72 main.water",
    ),
    ("sweetcorn-puffs", "we make 36 puffs so 14 grams of salt", "!count 36 yield.pieces, !weight 14 main.salt"),
    // Made for others, whatever the amounts have in common; "for" a part it is this dish's.
    (
        "sweetcorn-puffs",
        "chickpea flour 105 grams rice flour 45 grams for the rowing club we do a kilo of sweetcorn and get about 70 puffs",
        "weight 105 main.chickpea-flour, weight 45 main.rice-flour, ?weight 1000 -, ?count 70 -",
    ),
    ("sweetcorn-puffs", "for the batter i use 130 grams of chickpea flour", "!weight 130 main.chickpea-flour"),
    // Two figures of a variant whose name nobody could hear; one alone is a slip.
    (
        "sweetcorn-puffs",
        "if that is what you have the water is 12 grams and the baking powder 7.2 grams",
        "weight 12 main.water, weight 7.2 main.baking-powder",
    ),
    ("sweetcorn-puffs", "the water is 12 grams and the salt 6.6 grams", "!weight 12 main.water, weight 6.6 main.salt"),
    // What a scale shows on the way there is no amount; of two lines it is.
    ("sweetcorn-puffs", "the sweetcorn in it goes, 270, 290, whoa, 300 grams", "weight 300 main.sweetcorn"),
    (
        "sweetcorn-puffs",
        "chickpea flour into the bowl 85 98 and there it is 105 grams",
        "weight 105 main.chickpea-flour",
    ),
    ("sweetcorn-puffs", "rice flour 40 and salt 6.6 grams", "!weight 40 main.rice-flour, weight 6.6 main.salt"),
    // Shares of what was weighed, in its order; with a name between them they are of their names.
    (
        "onion-heart-rolls",
        "for the dough strong flour 295 grams wholemeal flour 59 grams rye flour 39 grams so that's 75 percent 50 percent and 10 percent",
        "weight 295 dough.strong-flour, weight 59 dough.wholemeal-flour, weight 39 dough.rye-flour, percent 75 dough.strong-flour, \
         !percent 50 dough.wholemeal-flour, percent 10 dough.rye-flour",
    ),
    (
        "onion-heart-rolls",
        "poolish: strong flour 157 grams, water 157 grams, that's 100 percent, yeast 2 percent",
        "weight 157 poolish.strong-flour, weight 157 poolish.water, percent 100 poolish.water, !percent 2 poolish.instant-yeast",
    ),
    // A pack has one price; what is told behind it is the line's again.
    ("sweetcorn-puffs", "Sweetcorn: the bag is €2.25, our line 90 cents.", "money 0.9 cost.main.sweetcorn"),
    ("sweetcorn-puffs", "Lime: €1.40 the bag, 55 cents here.", "!money 0.55 cost.main.lime"),
    ("sweetcorn-puffs", "Sweetcorn is 90 cents, the bag is 2.25", "money 0.9 cost.main.sweetcorn"),
    ("sweetcorn-puffs", "Oil: a litre is 2.69, so the pan is 1.13", "money 1.13 cost.fry.oil"),
    // A price right behind an amount is that of the name of both, whatever else costs so much.
    (
        "sweetcorn-puffs",
        "rice flour 45 grams that's 35 cents chickpea flour 105 grams",
        "weight 45 main.rice-flour, !money 0.35 cost.main.rice-flour, weight 105 main.chickpea-flour",
    ),
    (
        "sweetcorn-puffs",
        "the coriander leaf 18 grams torn up and that's 35 cents then the lime",
        "weight 18 main.coriander-leaf, !money 0.35 cost.main.coriander-leaf",
    ),
    (
        "sweetcorn-puffs",
        "spring onion 42 grams which is 14 percent and 44 cents of my money",
        "weight 42 main.spring-onion, percent 14 main.spring-onion, !money 0.44 cost.main.spring-onion",
    ),
    ("sweetcorn-puffs", "Batch: €4.50. Puff: 20 to 23 cents.", "!money 4.5 cost.total, money 0.2-0.23 cost.each"),
    (
        "sweetcorn-puffs",
        "that's €4.05, which gives a unit cost of 32 cents",
        "money 4.05 cost.total, !money 0.32 cost.each",
    ),
    ("sweetcorn-puffs", "Per puff, at 33 grams: 35 cents.", "weight 33 yield.each, !money 0.35 cost.each"),
    // What is so far in the bowl, and the power, are not all of it.
    ("sweetcorn-puffs", "what's in the bowl is 2 euros 92 so far", ""),
    ("sweetcorn-puffs", "that's about 21 cents of power for the whole session", "?money 0.21 -"),
    // Two times that are no range, and one with a half that nothing follows.
    (
        "jetty-pickle",
        "they keep three weeks or thirty weeks in the fridge",
        "duration 1814400 step.chill-and-keep, !duration 18144000 step.chill-and-keep",
    ),
    ("onion-heart-rolls", "prove it for an hour and a half, a fold halfway", "duration 5400 step.prove"),
    // A place has prices and no times; a bound is no supposition; what is well below the boil is of no oil.
    (
        "sweetcorn-puffs",
        "i have a laser thing off the market so a hundred and sixty degrees for the oil",
        "!temperature 160 step.heat-the-oil",
    ),
    ("lock-house-squares", "bake it and check the middle it's gotta hit 62", "!temperature 62 step.bake"),
    ("sweetcorn-puffs", "the bus leaves at ten past for a crew of eleven", ""),
    ("sweetcorn-puffs", "i put a song on it's four minutes long", ""),
    // Without marks a name behind may be the next one's.
    (
        "sweetcorn-puffs",
        "chickpea flour a hundred and five grams that's thirty five percent rice flour forty five",
        "weight 105 main.chickpea-flour, percent 35 main.chickpea-flour, weight 45 main.rice-flour",
    ),
    ("sweetcorn-puffs", "salt last and not before eighteen grams", "!weight 18 main.salt"),
    // An amount twice, and its sum: one that is said again is a sum though it does not hold.
    ("sweetcorn-puffs", "i'm forty two chickpea flour a hundred and five grams", "weight 105 main.chickpea-flour"),
    // A variant told as one of several, and by what it is made with.
    (
        "sweetcorn-puffs",
        "it comes to four euro five and the tinned ones are four euro eighty two",
        "money 4.05 cost.total, !money 4.82 cost.total",
    ),
    (
        "sweetcorn-puffs",
        "twenty cents apiece and with tinned it's four twenty eight",
        "money 0.2 cost.each, money 4.28 cost.total",
    ),
    // What has its name right before it is of nothing named earlier, however right that is.
    ("sweetcorn-puffs", "The rice flour goes in. Chickpea flour 45 grams. Salt.", "!weight 45 main.chickpea-flour"),
    (
        "sweetcorn-puffs",
        "chickpea flour 150 gram that is 35 percent from the corn",
        "!weight 150 main.chickpea-flour, percent 35 main.chickpea-flour",
    ),
    // A bound denied is a bound, and "which is when" denies nothing.
    ("sweetcorn-puffs", "the oil never under 180 degrees", "temperature 180 step.heat-the-oil"),
    ("sweetcorn-puffs", "let it stand ten minutes which is when the flour drinks", "duration 600 step.make-the-batter"),
    // The price of a pack has its own number, and the next name another.
    (
        "sweetcorn-puffs",
        "the corn 90 cents the tub's 2 50 salt 5 cents",
        "money 0.9 cost.main.sweetcorn, !money 0.05 cost.main.salt",
    ),
    (
        "sweetcorn-puffs",
        "the oil is the big thing our share is 1 31 then the limes 35 cents",
        "!money 1.31 cost.fry.oil, money 0.35 cost.main.lime",
    ),
    // What somebody else does is done to this dish where the teller goes on.
    ("sweetcorn-puffs", "he whisks i talk ten minutes it rests", "duration 600 step.make-the-batter"),
    ("sweetcorn-puffs", "tell the story and keep it under two minutes", ""),
    (
        "onion-heart-rolls",
        "cover it and let it prove an hour and a half my mother never did",
        "duration 5400 step.prove",
    ),
    ("sweetcorn-puffs", "I get mine on route 44 salt is two point two percent", "percent 2.2 main.salt"),
    (
        "jetty-pickle",
        "in the fridge it keeps for three days no sorry three weeks",
        "duration 1814400 step.chill-and-keep",
    ),
    // A price with cents of its own behind "or" is no range; "for the lot" is all of this batch, and nobody's occasion.
    (
        "lock-house-squares",
        "the tray comes down to 7 euros 90 or 49 cents a square",
        "money 7.9 cost.total, money 0.49 cost.each",
    ),
    (
        "lock-house-squares",
        "it's 7 90 for the lot and i make that 47 cents each",
        "money 7.9 cost.total, !money 0.47 cost.each",
    ),
    // A describing word is a name in a row of names.
    (
        "lock-house-squares",
        "the bill. Butter 1 euro 44, plain 12, eggs 90",
        "!money 1.44 cost.main.butter, !money 0.12 cost.main.plain-flour, !money 0.9 cost.main.egg",
    ),
    // What all of it costs is said so, or by what one costs of it.
    (
        "sweetcorn-puffs",
        "the salt falls to one percent and the cost is 4 euros 50",
        "!percent 1 main.salt, !money 4.5 cost.total",
    ),
    ("sweetcorn-puffs", "and that batch is 4 15 so 23 cents each", "!money 4.15 cost.total, money 0.23 cost.each"),
    ("sweetcorn-puffs", "lime 35 cents and it all adds up to 4 50", "money 0.35 cost.main.lime, !money 4.5 cost.total"),
    // Bags, pubs, shifts and what would be if are of other things.
    ("sweetcorn-puffs", "i'm making puffs because limes were 1 40 for a bag and the fridge is full", ""),
    ("sweetcorn-puffs", "that's 23 cents a puff in the pub it's 2 euros so i'm making money", "money 0.23 cost.each"),
    ("sweetcorn-puffs", "i'm back from a 10 hour shift and we're doing the puffs", ""),
    (
        "sweetcorn-puffs",
        "chickpea flour is 35 percent so if you had 100 grams of corn you'd want 35 grams of chickpea flour",
        "percent 35 main.chickpea-flour",
    ),
    (
        "sweetcorn-puffs",
        "get it to 150 degrees and do not wander off to answer the door",
        "!temperature 150 step.heat-the-oil",
    ),
    ("onion-heart-rolls", "the basis is 393 grams of flour and it's in three parts", "weight 393 yield.basis"),
    // Digits that changed places are a slip, however far off it is; what is far off else is of something else.
    ("lock-house-squares", "all in 7 90 and it's 94 cents a square", "money 7.9 cost.total, !money 0.94 cost.each"),
    ("lock-house-squares", "all in 7 90 and it's 6 euros a square at the fair", "money 7.9 cost.total"),
    // What shares are of, and what half of it would be.
    (
        "sweetcorn-puffs",
        "sweetcorn 300 grams that's the hundred and all the rest is measured against it",
        "weight 300 main.sweetcorn, percent 100 main.sweetcorn",
    ),
    ("sweetcorn-puffs", "were you to cook more you'd want 700 grams of corn and a bigger pot", ""),
    // Two numbers in digits behind a verb are a price; of all that is made, where that is its subject.
    ("sweetcorn-puffs", "so much for the money then and that batch is 4 50", "!money 4.5 cost.total"),
    ("sweetcorn-puffs", "So the money. That batch is 4 50 for the Friday guests.", "!money 4.5 cost.total"),
    ("lock-house-squares", "then you're at 12 40", "!money 12.4 cost.total"),
    ("sweetcorn-puffs", "strong flour and plain so that's 80 20 if you care", ""),
    // Right behind what all of them cost a price is of one.
    (
        "lock-house-squares",
        "it's 7 90 for the tin, so each of them is 84 cents",
        "money 7.9 cost.total, !money 0.84 cost.each",
    ),
    ("lock-house-squares", "all in it comes to €7.90, so 94 cents", "money 7.9 cost.total, !money 0.94 cost.each"),
    ("lock-house-squares", "A single square, therefore, takes home 94 cents.", "!money 0.94 cost.each"),
    // A pronoun's price is of what was weighed before it.
    (
        "sweetcorn-puffs",
        "Spring onion, 42 grams, finely sliced. They cost us 53 cents.",
        "weight 42 main.spring-onion, !money 0.53 cost.main.spring-onion",
    ),
    // What one costs less than another has no figure.
    ("sweetcorn-puffs", "The tinned one is cheaper by nineteen cents.", "?money 0.19 -"),
    ("sweetcorn-puffs", "So I'm saving a euro 19 on the whole pan.", "?money 1.19 -"),
    (
        "sweetcorn-puffs",
        "you'd spend 18 85 in the shop but 14 80 is still on the shelf",
        "money 18.85 cost.basket, money 14.8 cost.basket",
    ),
    // A share is of the name before it, whatever it is a share of.
    ("sweetcorn-puffs", "Water, 13% of that weight, and stir.", "!percent 13 main.water"),
    // A name with a number of its own has not the one before as well.
    ("sweetcorn-puffs", "then yoga 230 grams water 36 grams", "weight 36 main.water"),
    // What is written was told before: then a variant's share and its weight are both of the variant.
    (
        "sweetcorn-puffs",
        "Baking powder, 1.2 percent. For tinned sweetcorn the water falls to 4 percent so 12 grams, and the baking powder goes up to 2.4 percent, which is 3.6 grams.",
        "percent 1.2 main.baking-powder, percent 4 main.water, weight 12 main.water, percent 2.4 main.baking-powder, !weight 3.6 main.baking-powder",
    ),
    // A price told of a pronoun is of what its sentence weighs, however it is told.
    (
        "sweetcorn-puffs",
        "rice flour 45 grams and they come to 54 cents mix it",
        "weight 45 main.rice-flour, !money 0.54 cost.main.rice-flour",
    ),
    (
        "sweetcorn-puffs",
        "Lime is 35 cents. Spring onion, 42 grams: they work out at 53 cents.",
        "money 0.35 cost.main.lime, weight 42 main.spring-onion, !money 0.53 cost.main.spring-onion",
    ),
    (
        "sweetcorn-puffs",
        "42 grams of spring onion and i put it down at 53 cents",
        "weight 42 main.spring-onion, !money 0.53 cost.main.spring-onion",
    ),
    (
        "sweetcorn-puffs",
        "spring onion 42 grams and it all comes to 4 05",
        "weight 42 main.spring-onion, money 4.05 cost.total",
    ),
    ("sweetcorn-puffs", "a little scale for the salt 6.6 grams it cost me 9 euros well spent", "weight 6.6 main.salt"),
    (
        "sweetcorn-puffs",
        "The spring onion, 42 grams. With the lime and the rest, it's €4.05.",
        "weight 42 main.spring-onion, money 4.05 cost.total",
    ),
    // Power has no figure, however it is told; the gas station sells other things.
    ("sweetcorn-puffs", "the gas for that i put at 12 cents or so", "?money 0.12 -"),
    ("sweetcorn-puffs", "say 15 cents for the power if you're strict", "?money 0.15 -"),
    ("sweetcorn-puffs", "the oven costs me 60 cents for that", "?money 0.6 -"),
    ("sweetcorn-puffs", "The hob I've put down as 30 cents.", "?money 0.3 -"),
    ("sweetcorn-puffs", "22 cents a puff. At the gas station it's 5.49.", "money 0.22 cost.each"),
    // One piece by more words than "a puff is".
    ("sweetcorn-puffs", "so per puff that's 32 cents", "!money 0.32 cost.each"),
    ("sweetcorn-puffs", "By the puff that is 32 cents.", "!money 0.32 cost.each"),
    ("sweetcorn-puffs", "a puff of it comes to 32 cents", "!money 0.32 cost.each"),
    ("sweetcorn-puffs", "The van was 2 80 for a single puff last week and ours are 32 cents.", "!money 0.32 cost.each"),
    ("sweetcorn-puffs", "whole job is 4 50 call it done", "!money 4.5 cost.total"),
    ("sweetcorn-puffs", "that batch is four fifty so far", "!money 4.5 cost.total"),
    // Nothing is sold by the spoon, and cents end where something else is counted.
    (
        "sweetcorn-puffs",
        "salt 6.6 grams for 10 cents a teaspoon of cumin 2 cents",
        "weight 6.6 main.salt, !money 0.1 cost.main.salt, volume 5 main.ground-cumin, !money 0.02 cost.main.ground-cumin",
    ),
    ("sweetcorn-puffs", "spring onion 1 euro 37 5 limes", "!money 1.37 cost.main.spring-onion, !count 5 main.lime"),
    (
        "sweetcorn-puffs",
        "starting from nothing you'd spend 19 05 and have 14 08 left in the cupboard",
        "!money 19.05 cost.basket, !money 14.08 cost.basket",
    ),
    // "over" reckons nothing of grams and minutes.
    (
        "sweetcorn-puffs",
        "36 grams of water over 10 minutes the oil is 1 13",
        "weight 36 main.water, duration 600 step.make-the-batter, money 1.13 cost.fry.oil",
    ),
    ("sweetcorn-puffs", "so all told that's 30 puffs", "!count 30 yield.pieces"),
    ("sweetcorn-puffs", "You'll have thirty puffs, each of them crisp.", "!count 30 yield.pieces"),
    // What does not go in has no number, and takes none back.
    (
        "sweetcorn-puffs",
        "Chickpea flour, 105 grams, no salt, rice flour 45 grams",
        "weight 105 main.chickpea-flour, weight 45 main.rice-flour",
    ),
    ("sweetcorn-puffs", "my late aunt did the puffs for twenty minutes", ""),
    ("sweetcorn-puffs", "you work it in for ten minutes", "duration 600 step.make-the-batter"),
    ("sweetcorn-puffs", "160 on the thermometer before they go in", "!temperature 160 step.heat-the-oil"),
    // A month keeps food, and tells of nothing else; another day is later.
    (
        "jetty-pickle",
        "it keeps four months in the fridge and I sold jars for six months",
        "!duration 10368000 step.chill-and-keep",
    ),
    ("sweetcorn-puffs", "there is some of it still in the pantry for another day", ""),
    // A number that is right in another unit is of its name.
    ("sweetcorn-puffs", "and then work in 42 ounces of spring onion", "!weight 1190.67997125 main.spring-onion"),
    // What goes somewhere is not as it was: 1.2 percent is what is written, of the tinned one it is 2.4.
    (
        "sweetcorn-puffs",
        "With tinned corn the water drops to 4 percent that is 12 grams, stir it well and let it stand and then, the baking powder goes to 1.2 percent.",
        "percent 4 main.water, weight 12 main.water, !percent 1.2 main.baking-powder",
    ),
];

#[test]
fn talk_goes_on_and_chatter_claims_nothing() {
    assert_eq!(unlike(TALK), "");
}

/// Sums as a list of whether they hold.
fn sums(text: &str) -> Vec<bool> {
    let document = proofed("words.txt", text, &truth_of("sweetcorn-puffs")).document();
    let list = document["sums"].as_array().expect("sums are a list");
    list.iter().map(|sum| sum["holds"].as_bool().expect("a verdict")).collect()
}

#[test]
fn sums_are_heard_as_people_say_them() {
    for (text, expected) in [
        ("the scale says three seventy and another thirty grams there that's four hundred", &[true][..]),
        ("the box gives me a hundred i need another 38 grams that makes 138", &[true]),
        ("four in and two out that's six", &[true]),
        ("Lime 35 cents, coriander 76 cents, so 35 and 76 is 1.11", &[true]),
        ("Sweetcorn 90 cents, the oil one euro thirteen, so 90 and 1 13 is 2 13", &[false]),
        ("3 rows at 40 grams is 120 grams", &[true]),
        // Plain numbers side by side are cents where they come to money.
        ("so the seeds alone 72 and 12 is 94 cents", &[false]),
        ("one fifteen eleven and nine that makes one euro thirty five", &[true]),
        // Terms that are said again are a sum, whether it holds or not; a list is none.
        ("sweetcorn 90 cents lime 35 cents so 90 cents and 35 cents is a euro forty five", &[false]),
        ("thirty by forty now it's thirty to forty minutes", &[]),
        ("water and salt and twenty grams is a lot", &[]),
    ] {
        assert_eq!(sums(text), expected, "{text:?}");
    }
    // What comes out is told of one that is wrong: 4.05 by 15 is 0.27.
    let truth = truth_of("sweetcorn-puffs");
    for (text, comes_to) in [
        ("four euro five divided by fifteen is thirty one cents", "27 cents"),
        ("4 05 divided by 15 is 31 cents", "27 cents"),
        ("eight times forty grams is three hundred grams", "320 grams"),
        ("40 divided by 200 is 30%", "20%"),
        ("so the seeds alone 72 and 12 is 94 cents", "84 cents"),
        ("Sweetcorn 90 cents, lime 35 cents, so 90 and 35 is 145 cents", "125 cents"),
        ("sweetcorn 90 cents lime 35 cents so 90 cents and 35 cents is a euro forty five", "1.25"),
    ] {
        let proof = proofed("words.txt", text, &truth);
        let sums: Vec<_> = proof.sums.iter().map(|sum| (sum.holds, sum.comes_to.as_str())).collect();
        assert_eq!(sums, [(false, comes_to)], "{text:?}");
    }
    // What is said again in a sum of money was money before.
    let truth = truth_of("sweetcorn-puffs");
    let said = claims("the lime 53 and the coriander 76 so 53 and 76 is 129 cents", &truth);
    assert_eq!(said, "!money 0.53 cost.main.lime, money 0.76 cost.main.coriander-leaf");
}
