//! What a word tells a rule that asks for it beside other words. Must not know any language.

/// What a word tells beside others. Unlike a [`super::lexicon::Sense`] and a [`super::lexicon::Cue`] it leaves the word
/// what it was: one that may be a name, or the talk between two numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hint {
    /// "as": "seven as written".
    As,
    /// A verb that tells how much a vessel has room for: "it takes 2 litres".
    HasRoom,
    /// A verb of what food takes up only with "up", or it is of anything: "it takes eighty grams".
    Takes,
    /// What sums do: "it all adds up to".
    Adds,
    /// A verb of leaving: "walk away for 18 minutes".
    Walks,
    /// What is paid, as a noun: "the cost is".
    Price,
    /// "up": "they take up eighty grams".
    Up,
    /// "on": what money is spent on.
    On,
    /// "on top"
    Top,
    /// "what I spent was 21.34"
    Spent,
    /// All that is made, or all of it in money: "the lot was nine euros".
    Lot,
    /// None of it left out: "a whole bag".
    All,
    /// "every": "every packet".
    Every,
    /// Some of what was named: "the share that's used".
    SomeOfIt,
    /// A bound from above: "under 180".
    Below,
    /// What was just spoken of: "a jar of it".
    It,
    /// A verb of having, or of what must be: "i have four minutes", "it has to be over 80".
    Have,
    /// "should": "it should be over 80".
    Should,
    /// A verb of looking: "you look for two hundred and forty".
    Looks,
    /// What the listener knows follows: "at the market", "in our village".
    The,
    /// "then": what comes next.
    Then,
    /// "so": a clause that begins anew.
    So,
    /// "had": a story is told.
    Had,
    /// "I'm": the speaker's own age or state.
    IAm,
    /// "was": "when I was twenty".
    Was,
    /// The speaker, alone or with others: "we have ten minutes".
    We,
    /// What the speaker has, in one word: "I've ten minutes".
    WeHave,
    /// "i'd say"
    IWould,
    /// A form of "to be" that tells what something is or costs: "a litre is nine hundred grams".
    Is,
    /// A verb of weighing: "weigh me one".
    Weighs,
    /// People who begin a clause of their own: "25 minutes, people rush it".
    People,
    /// A time that is no unit: "ten kilos a month".
    Period,
    /// A verb of work, or of what comes out: "I work for two hours", "a jar works out at".
    Works,
    /// Before "work" it makes a job of it: "after work".
    ToAJob,
    /// A verb of keeping: "keep it under two minutes".
    Keeps,
    /// What makes a number no exact one: "about an hour".
    About,
    /// A verb that asks: "can I use …"; a tin is called like it.
    MayI,
    /// What goes on about what was just said: "which makes each jar 1.42".
    Which,
    /// What is not the one spoken of: "the others are", "each other".
    Other,
    /// A piece by any name: "a ball weighs".
    Morsel,
    /// "they're": "and they're sixty-two grams".
    TheyAre,
    /// What is not to be done for a while: "don't touch it for ten minutes".
    LeftAlone,
    /// What makes a count that of what is made: "a batch of twelve".
    Bakes,
    /// "recipe": "a recipe for twelve".
    Recipe,
    /// "made": "my gran made sixty".
    Made,
    /// Where something is, not inside: "outside the gate".
    Outdoors,
    /// With "on the" it says that a number is exact: "eleven on the nose".
    Exactly,
    /// A sign before degrees: "minus eighteen".
    BelowZero,
    /// What is short for a hundredth of money: "57c" behind another price.
    Cents,
    /// What is poured by the glass: "ten ounces of soda".
    Drink,
    /// "with": "more than with the milk".
    With,
    /// What it is made without: "no butter".
    Without,
    /// Who does it, behind a case: "with the seeds you need …", "is where you're going".
    Subject,
    /// What is only supposed: "you'd get twelve".
    YouWould,
    /// A pronoun with its verb: "with seeds it's …".
    ItIs,
    /// "that's" alone.
    Thats,
    /// All of what is named next: "whole job".
    Whole,
    /// What burns power under a pan.
    Stove,
    /// What is the speaker's own: "ours are 61 cents".
    Ours,
    /// What counts something in: "with the energy", "including the gas".
    CountsIn,
    /// As much of something else: "for the same weight".
    Same,
    /// What is another's: "hers has oat drink".
    Theirs,
    /// What a reckoning, or money, is kept in.
    Accounts,
    /// What an oven runs on.
    Power,
    /// Where power is sold, and other things.
    Station,
    /// How a price stands to another: "19 cents cheaper".
    Gap,
    /// A verb of keeping money: "saving 19 cents".
    Saves,
    /// Whose, or which, something is: "her batch is".
    Whose,
    /// "a unit cost of".
    Unit,
    /// "before": a time, and no amount.
    Before,
    /// Begins to think aloud: "let me see".
    Let,
    /// What slips somebody's mind: "I always forget 150 degrees".
    Forget,
    /// So it is each time: "I always forget …".
    Always,
    /// Before a name that is said in a sentence and opens no list: "used sugar 41 grams".
    InASentence,
    /// Before a verb that the viewer is not told to do: "she used to boil them", "would cover it".
    LeadsAVerb,
    /// What was done to a part of this dish: "yesterday evening I did the starter".
    Did,
    /// Behind a place: what the place is like, and not what it sells: "the place should be 26 degrees".
    OfThePlace,
    /// What a number comes to by somebody's reckoning: "she makes it four euro five".
    Reckons,
    /// What is said of this dish again, behind what somebody else does: "he kneads, right, nine minutes".
    OursAgain,
    /// A word that joins what somebody does to what was said before: "than I use".
    Subordinates,
    /// Whose word is none: "nobody says twenty minutes".
    Nobody,
    /// A way of making it: "the spelt ones".
    Version,
    /// An amount that is held against another: "half as much as the milk".
    Much,
    /// So many times another: "double the garlic".
    Doubled,
    /// What takes the place of another: "in place of the milk".
    InPlace,
    /// How much a vessel has in it: "they hold 200 millilitres each".
    Contains,
    /// Between an amount and its other form: "42 grams, so that's 14 percent".
    Restates,
    /// Behind a pronoun, where no name follows it: "half of that, into the warm water".
    LeadsOn,
    /// What goes into a vessel at once: "six fit in".
    Fits,
    /// One lot of what is made in several: "in batches of four".
    Batch,
    /// One of what is made, where several are meant: "twelve piece".
    Piece,
    /// A verb of giving each its share: "split it six ways".
    SharesOut,
    /// Before what something is shared out to: "divided by six".
    Among,
    /// Behind the shares that something is split into: "split six ways".
    Ways,
    /// Before what a price is shared out to: "over twenty-four it's 48 cents each".
    SpreadOver,
    /// Between a sum and what it makes, or a name and its price: "is four".
    Are,
    /// "out": "sixteen out of a tin", "it comes out at seventy".
    Out,
    /// What is filled or made at once: "sixteen from a tin".
    OneLot,
    /// Somebody who gets something, or is counted: "that gives you fourteen", "twelve of us".
    Us,
    /// An oven.
    Oven,
    /// That an oven is hot, before its heat: "the oven's on, three fifty".
    Ready,
    /// Before a flame that a pan stands on: "on a low gas, one sixty".
    OfAFlame,
    /// Behind "or" it makes a lower bound of a heat: "eighty-five or better".
    Better,
    /// A verb of bringing something to a heat: "warm it to 37".
    Tempers,
    /// What a thermometer is to do: "I want it to say 161".
    Say,
    /// A place that is cold: "in the fridge at four".
    ColdPlace,
    /// A place that is told by its warmth: "somewhere cool, eighteen to twenty".
    Somewhere,
    /// Before a range it may tell how long something takes: "we want three to four".
    TakesTime,
    /// That percents follow: "in percents that's seventy-five, fifteen and ten".
    InPercents,
    /// The end of a time just told: "in the last two".
    Last,
    /// Behind "in" it is what is being made: "sixty-four in here".
    Here,
    /// Between a name and its amount: "the salt goes up to four point two".
    Goes,
    /// Behind a verb of cost it is none: "let it come back to one sixty".
    Away,
    /// Somebody who eats: "one eighty-five a head".
    Head,
    /// What is mixed and not yet baked: "the dough is seventy".
    Dough,
    /// What one bakes on: "a sheet 20 by 30".
    BakedOn,
    /// Behind "everything" it leaves out what was named: "everything else".
    Else,
    /// Water, by which a dough is told: "seventy percent water".
    Water,
    /// Behind "percent water" it is of all the dough: "76 percent water in the end".
    Overall,
    /// A verb that leads to what something is in the end: "it comes out at seventy", "comes to four".
    Comes,
    /// That a list of prices is summed up: "so that's four", "together, eleven dollars".
    SumsUp,
    /// Between prices and what they come to: "that makes four".
    AddsUp,
    /// Before a name that does not open what is said: "with pork", "the pork".
    Joins,
    /// Oil, and "is" may hang on it: "the oil's the big one".
    Oil,
    /// The speaker alone, who goes on with something else: "I buy the big carton".
    I,
    /// Behind a price of what is left: "two euros' worth stays in the jar".
    Worth,
    /// What somebody does who makes it for others: "for the club I do two kilos".
    MakesMore,
}
