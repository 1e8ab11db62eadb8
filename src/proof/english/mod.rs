//! English: number words and units. Data only; must not know the grammar.

mod forms;
mod hints;
mod names;
mod phrases;
mod sound;

use super::lexicon::Sense::{self, *};
use super::lexicon::{Language, Lexicon, SaidUnit};
use crate::exact::Unit::{self, *};
use std::sync::LazyLock;

const fn unit(unit: Unit) -> Sense {
    Unit(SaidUnit::Unit(unit))
}

/// English, ready to be looked up.
pub fn english() -> &'static Lexicon {
    static ENGLISH: LazyLock<Lexicon> = LazyLock::new(|| {
        Lexicon::new(&Language {
            words: WORDS,
            phrases: phrases::PHRASES,
            cues: phrases::CUES,
            hints: hints::HINTS,
            behind_digits: &[("s", "sec"), ("m", "metre"), ("d", "days"), ("in", "inches")],
            fillers: &[
                "um", "uh", "uff", "oof", "argh", "ugh", "huh", "er", "erm", "uhm", "umm", "uhh", "ah", "hmm", "mhm",
                "ehm", "eh", "mmm", "uhhh", "like",
            ],
            asides: &[("you", "know"), ("sort", "of"), ("kind", "of")],
            heads: &["nut", "corn", "berry", "bread"],
            plural: forms::plural,
            singular: forms::singular,
            stem: forms::stem,
            will: forms::will,
            participle: forms::participle,
            sound: forms::sound,
            names: names::NAMES,
        })
    });
    &ENGLISH
}

/// Words by meaning; a word may stand in several rows.
const WORDS: &[(Sense, &str)] = &[
    (Dash, "-"),
    (Needs, "need needs take takes use uses add adds want wants throw chop chuck put with in"),
    (Them, "them these those ones"),
    (Divides, "divide divides divided cut cuts split shape portion roll rolls rolled slice slices sliced"),
    (
        Chat,
        "ask asks ad ads advert sponsor sponsors work works worked took holiday holidays spent waited talked drove walked slept queued",
    ),
    (Pieces, "pieces portions balls rounds"),
    (Ones(1), "one"),
    (
        Common,
        "one two three a the your my our this that its them of and to for or good little more can get is are was \
         thats at not dont than in it you i we on with so just then now be as if but they do have like from out \
         all up put going want here there what really into nice bit lovely some need over very well right okay ok \
         because when before until till while once will take go also add use using youre im has until theres were then",
    ),
    (Ones(2), "two"),
    (Ones(3), "three"),
    (Ones(4), "four"),
    (Ones(5), "five"),
    (Ones(6), "six"),
    (Ones(7), "seven"),
    (Ones(8), "eight"),
    (Ones(9), "nine"),
    (Teens(10), "ten"),
    (Teens(11), "eleven"),
    (Teens(12), "twelve"),
    (Teens(13), "thirteen"),
    (Teens(14), "fourteen"),
    (Teens(15), "fifteen"),
    (Teens(16), "sixteen"),
    (Teens(17), "seventeen"),
    (Teens(18), "eighteen"),
    (Teens(19), "nineteen"),
    (Tens(20), "twenty"),
    (Tens(30), "thirty"),
    (Tens(40), "forty fourty"),
    (Tens(50), "fifty"),
    (Tens(60), "sixty"),
    (Tens(70), "seventy"),
    (Tens(80), "eighty"),
    (Tens(90), "ninety"),
    (Oh, "oh o zero nought naught"),
    (Power(100), "hundred"),
    (Power(1000), "thousand"),
    (Group(12), "dozen"),
    (Group(2), "couple"),
    (Half, "half halves"),
    (Part(3), "third thirds"),
    (Ordinal, "third fourth fifth sixth eighth first second"),
    (Part(4), "quarter quarters fourth"),
    (Part(5), "fifth fifths"),
    (Part(6), "sixth"),
    (Part(8), "eighth eighths"),
    (Part(10), "tenth tenths"),
    (Part(16), "sixteenth sixteenths"),
    (Article, "a an"),
    (Determiner, "the your my our this that these those its them us"),
    (Is, "which theyre hes shes theyve its is are was were thats theres at"),
    (Of, "of o"),
    (And, "and"),
    (Point, "point comma"),
    (To, "to through until til"),
    (SoundsLike(2), "to too"),
    (SoundsLike(4), "for"),
    (SoundsLike(0), "not"),
    (For, "for"),
    (If, "if whether"),
    (At, "at"),
    (Into, "in into"),
    (Until, "until till"),
    (OneMore, "another"),
    (What, "what"),
    (Back, "back"),
    (Weight, "weight"),
    (Above, "over above past"),
    (People, "crew family class team people guests kids friends"),
    (ByTheClock, "past"),
    (Long, "long"),
    (Hardly, "by x × over less between and add at"),
    (Owns, "your all got"),
    (Presents, "theres have makes to its do"),
    (SoundsLike(8), "ate"),
    (SoundsLike(1), "won"),
    (Or, "or"),
    (Maybe, "maybe perhaps possibly even"),
    (Between, "between"),
    (By, "by x ×"),
    (unit(Milligram), "mg milligram milligrams"),
    (unit(Gram), "g gr gm gms gs gram grams graham grahams gramme grammes"),
    (unit(Kilogram), "kg kgs kilo kilos kilogram kilograms"),
    (unit(Ounce), "oz ounce ounces"),
    (unit(Pound), "lb lbs"),
    (Unit(SaidUnit::PoundOrMoney), "pound pounds"),
    (unit(Millilitre), "ml mls mil mils mill mills millilitre millilitres milliliter milliliters"),
    (unit(Centilitre), "cl centilitre centilitres"),
    (unit(Litre), "l litre litres liter liters"),
    (unit(Teaspoon), "tsp tsps teaspoon teaspoons teaspoonful teaspoonfuls"),
    (unit(Tablespoon), "tbsp tbsps tbs tablespoon tablespoons tablespoonful tablespoonfuls"),
    (unit(Cup), "cup cups cupful cupfuls"),
    (unit(Pint), "pint pints"),
    (unit(Quart), "quart quarts"),
    (unit(FluidOunce), "floz fluidounce fluidounces flounce flounces"),
    (unit(Gallon), "gallon gallons"),
    (unit(Millimetre), "mm millimetre millimetres millimeter millimeters"),
    (unit(Centimetre), "cm cms centimetre centimetres centimeter centimeters"),
    (unit(Metre), "metre metres"),
    (unit(Inch), "inch inches"),
    (unit(Second), "sec secs second seconds"),
    (unit(Minute), "min mins minute minutes"),
    (unit(Hour), "h hr hrs hour hours"),
    (unit(Day), "day days"),
    (Unit(SaidUnit::Days(7)), "week weeks"),
    (Unit(SaidUnit::Days(14)), "fortnight fortnights"),
    // Of keeping food a month is thirty days (common practice, no source).
    (Unit(SaidUnit::Days(30)), "month months"),
    (Unit(SaidUnit::Degrees), "degree degrees °"),
    (unit(Celsius), "°c c celsius centigrade"),
    (unit(Fahrenheit), "°f f fahrenheit"),
    (unit(Percent), "% percent percents percentage percentages"),
    (Unit(SaidUnit::Major("EUR")), "€ eur euro euros"),
    (Unit(SaidUnit::Dollar), "$ dollar dollars buck bucks"),
    (Unit(SaidUnit::Major("GBP")), "£ quid"),
    (Unit(SaidUnit::Major("JPY")), "yen"),
    (Unit(SaidUnit::Major("CHF")), "francs"),
    (Unit(SaidUnit::Minor(None)), "cent cents ¢ penny"),
    (Unit(SaidUnit::Minor(Some("GBP"))), "pence p"),
    (
        Filling,
        "level heaped heaping rounded scant generous flat full whole good big large medium small little metric \
         fresh ripe solid extra more further additional",
    ),
    (
        Label,
        "level step steps number part episode season chapter mark speed setting shelf size version tip option rule \
         gas page",
    ),
    (Address, "bus route exit highway apartment locker gate aisle platform"),
    (
        Describes,
        "flat full whole large medium small fresh extra baking hot frying all dried dry ground plain strong brown \
         white dark light soft hard instant spring red green yellow virgin smoked caster granulated table fine \
         coarse cold warm raw tinned frozen sweet sour bicarbonate black low fat free purpose self raising rising \
         clear new old double single heavy thick thin cooking unsalted salted toasted roasted crushed chopped \
         sliced grated young wild",
    ),
    (More, "extra more another further additional"),
    (Left, "other remaining rest last"),
    (Each, "each apiece"),
    (Per, "per"),
    (
        Package,
        "tin tins can cans bag bags packet packets pack packs package packages box boxes jar jars bottle bottles \
         carton cartons tub tubs sachet sachets pouch pouches block blocks bar bars punnet punnets bunch bunches \
         sack sacks tube jug jugs canister canisters clamshell clamshells",
    ),
    (
        Heat,
        "bring brings bringing climb climbs climbed recover recovers set dial middle centre center inside core internal ovens oven bake baked baking bakes roast roasting preheat preheated heat heated heating hot temperature temp \
         thermometer probe fry frying fryer oil fan",
    ),
    (
        Cost,
        "money comes come came worth total altogether dear dearest expensive runs cost costs costing price prices priced pay paid spend spent money bill cheap cheaper receipt accounts economics",
    ),
    (Charges, "cost costs costing"),
    (Makes, "makes make made making doing ended fill fills get gets gives give yields yield"),
    (Not, "not never dont isnt arent wasnt wont wouldnt cant couldnt didnt doesnt"),
    (Than, "than"),
    (Times, "times"),
    (
        Alien,
        "protein acidity alcohol humidity extraction coin coins steps episode old video videos clip film recipe recipes dinner dinners supper lunch breakfast meal meals \
         agree agreed sure certain certainly recommend honest serious subscribers subscriber views likes \
         comments comment people followers viewers friends friend years year kids guests ago stars \
         star percenters questions question reasons reason ways ideas rules mistakes things thing ingredients \
         ingredient episodes channels emails messages attempts tests versions hands eyes fingers thumbs corners \
         sides faces tries chances decades centuries generations lads girls children cooks chefs friendly \
         seater",
    ),
    (Speaker, "you i we well im ill id were lets youll"),
    (NotAlone, "mil mils mill mills"),
    (Sort, "kind kinds sort type size sized ones"),
    (Inside, "in at on down"),
    (Be, "be"),
    (From, "from"),
    (Since, "since"),
    (Apart, "for in into by from with i im ive had"),
    (During, "for after within"),
    (Reads, "hits hit reaches reach reached reads read reading says registers"),
    (Wants, "give gives want wants need needs"),
    (Pronoun, "it they"),
    (This, "this that each other which every"),
    (
        Raises,
        "keep keeps hold holds stay stays get gets getting bring brings bringing take takes up back heat heats goes go come comes climb climbs turn crank set",
    ),
    (
        Lasts,
        "rest rests resting prove proves proving rise chill chills cool cools cooling simmer simmers simmering boil boils \
         boiling bake bakes baking fry fries roast knead kneads whisk whisks beat steep steeps soak fried soaks stand stands sit sits \
         wait leave cook cooks steam",
    ),
    (
        Portion,
        "clove cloves stick sticks sprig sprigs slice slices leaf leaves stalk stalks head heads drop drops pinch pinches \
         knob knobs wedge wedges rasher rashers sheet sheets bulb bulbs handful handfuls splash splashes",
    ),
    (OneOf, "piece go pop slice serving portion helping head person child kid square"),
    (Singles, "each big small little large heavy new old deep dear cheap fancy nice wide"),
    (Holds, "holds hold contains contain weigh weighs comes has have"),
    (Another, "he she hes hed shes shed his hers somebody someone"),
    (Aside, "there here then more in out"),
    (OtherSide, "other second flip flipped turn turned"),
    (Shows, "scale scales sheet recipe card timer screen display"),
    (Tells, "said says swears reckons told tells thinks claims insists"),
    (
        Market,
        "takeaway takeaways takeout kiosk kiosks chipper chippy van pub pubs hospital market markets cafe cafes restaurant restaurants bakery bakeries stall stalls fair truck deli canteen diner hall place",
    ),
    (Leads, "see on over until hits hit reaches reach reached reading says below past pass passes"),
    (But, "so now but here today"),
];
