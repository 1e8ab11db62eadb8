//! English: runs of words that do something to the numbers near them, and words that tell a topic. Data only.

use crate::proof::lexicon::{Cue, Leeway, Role};

/// Runs of words by what they do, a semicolon between.
pub const PHRASES: &[(Role, &str)] = &[
    (
        Role::Before(Leeway::About),
        "about; around; roughly; approximately; approx; circa; some; something like; somewhere around; somewhere \
         near; in the region of; in the neighbourhood of; close to; maybe; perhaps; probably; say; more or less; \
         give or take; about about; roughly about; around about; a scant; a rough",
    ),
    (
        Role::Before(Leeway::Under),
        "just under; just shy of; just below; a bit under; a little under; a touch under; slightly under; a bit \
         less than; a little less than; slightly less than; not quite; nearly; almost; very nearly; just about",
    ),
    (
        Role::Before(Leeway::Over),
        "just over; just above; a bit over; a little over; a touch over; slightly over; a bit more than; a little \
         more than; slightly more than; a shade over; a good",
    ),
    (
        Role::Before(Leeway::AtMost),
        "up to; at most; at the most; no more than; not more than; a maximum of; maximum; max; no longer than; not \
         longer than; no bigger than; less than; fewer than; under; within; no thicker than; no higher than; never \
         more than; never over; never above; not over; not above; never hotter than; not hotter than; never past; never higher than",
    ),
    (
        Role::Before(Leeway::AtLeast),
        "at least; at the very least; a minimum of; minimum; no less than; not less than; no fewer than; more \
         than; over; above; upwards of; a full; a solid; never under; never below; not under; not below; never less than; \
         never colder than; no lower than; never fewer than; never lower than",
    ),
    (
        Role::After(Leeway::About),
        "or so; near enough; as near as; ish; give or take; or thereabouts; more or less; or something; or something like that; or \
         somewhere around there",
    ),
    (Role::After(Leeway::AtMost), "at most; at the most; max; maximum; tops; or less; or fewer"),
    (Role::After(Leeway::AtLeast), "at least; at the very least; at the least; minimum; or more; or longer"),
    (
        Role::Correction,
        "sorry; i mean; i meant; no wait; wait no; did i say; scratch that; correction; make that; or rather; no sorry; \
         sorry no; no; no no; no actually; actually; actually no; excuse me; pardon me; pardon; no i mean; oh no; \
         ah no; oh sorry; ah sorry; well actually; let me correct that; let me say that again; i \
         tell a lie; my mistake; what am i saying; strike that; no its; no thats; sorry its; sorry thats; i should \
         say; oops; whoops; no hang on; no hold on; hold on; hang on; let me look; let me check; let me see",
    ),
    (
        Role::Redo,
        "from the top; take two; say that properly; say that again; say that right; put that right; start again; start over; try that again; do that again; \
         thats wrong; thats not right; that isnt right; thats not it; thats no good; its wrong; that was wrong; that is wrong; got that wrong; got this wrong; said that wrong; not how it goes",
    ),
    (
        Role::Own,
        "i do; we do; i use; we use; im using; were using; i go with; we go with; ours; mine is; mine are; mine has; i put; we put; im making; were making; batch today; i say; we say; this time",
    ),
    (
        Role::ElsewhereBehind,
        "out here; yesterday; in the old one; in my old one; in the old recipe; in my old recipe; in the old version; in the old days; when i started; \
         when we started; back then; in those days; originally; years ago; the last time; last time; \
         last year; last month; last week; last night; last spring; last summer; last autumn; last fall; last winter; \
         last christmas; last easter; at sea level",
    ),
    (Role::CorrectionBehind, "rather; i mean; i should say; i meant; i meant to say"),
    (
        Role::Denial,
        "came out of; comes out of; come out of; sorry i said; no i said; i just said; i keep saying; i nearly said; i almost said; give or take; plus or minus; not; never; isnt; arent; wasnt; nor; instead of; rather than; as opposed to; dont go; dont use; dont do; dont put; \
         dont add; dont go for; not the; not a; not for; not at; not to; dont be tempted to use; and not; but not; \
         forget; ignore; as for the",
    ),
    (Role::Doubt, "did i say; did i just say; was it; is it; did we say"),
    (
        Role::DeniedBehind,
        "wouldnt do; isnt going to do; is where; is when; is boiling; is freezing; wont do; wont work; is too much; is too little; is too big; is too small; is too hot; is too long; is not enough; isnt \
         enough; would be too; is wrong; was wrong; is no good; does not work; doesnt work",
    ),
    (
        Role::Raw,
        "going in; going into the oven; raw; unbaked; before baking; before you bake; before its baked; before theyre baked; \
         before it bakes; before they bake; before the oven; before it goes in; before they go in; when they go in; when \
         it goes in; as dough; of dough; before frying; before you fry",
    ),
    (Role::OutOf, "out of; in every"),
    (Role::AllOfIt, "all of it; all of that; all of them; the sum of it"),
    (
        Role::SaidBefore,
        "water boils at; i said; id said; i had said; i told you; i gave you; i wrote; in the video as; only goes to; only go to; stops at; in the video it was; it said; you heard",
    ),
    (
        Role::Formerly,
        "normally; ordinarily; used to be; my gran; my granny; my grandmother; my mother; my mum; my mom; my nan; my aunt; my dad; my neighbour; my neighbor; my sister; my brother; my wife; my husband; my boss; my cousin; my uncle; my grandad; my grandpa; my late; my landlady; my flatmate; my \
         buddy; grandma; my old; my other; my last; up from; down from; used to cost; was once; im selling; i sell; i charge; im charging; they ask; they \
         charge; they sell",
    ),
    (
        Role::Alternative,
        "if; can you use; could you use; can i use; could i use; what about; if you use; if youre using; if you are using; if using; if you have; if youve got; if you have got; if \
         you want to use; if you go with; if you go for; if you only have; if youve only got; if you want; if you take; if you buy; if you like; if you cant get; if you cant find; if you get; if theres only; if all you can get is; if youre making; if you prefer; if you \
         make; if its; for the; with the; if youre doing; if you do; if you swap; if you swap in; when using; when \
         you use; in the; using; with; for; the version with; if all you have is; if all youve got is",
    ),
    (
        Role::Substitute,
        "with frozen its; with tinned its; with canned its; with dried its; with fresh its; if you have only; if you use; if youre using; if you are using; if using; if you only have; if youve only got; if you only got; if theres only; if all you can get is; if \
         all you have is; if all youve got is; if all i can get is; if you cant get; if you cant find; if its only; if its dried; if its frozen; if its tinned; if you go for; if you \
         swap in; if youve no; if you have no; if you dont have; if you dont have any; dont have it",
    ),
    (
        Role::Scaled,
        "four times over; three times over; twice over; make it double; makes it double; a double batch; double it; double that; double this; double them; double everything; double the list; double the lot; double the batch; double the \
         recipe; doubling it; doubling that; doubling everything; doubling the recipe; halve; halve it; halve that; halve them; halve everything; halve the \
         list; halve the lot; halve the batch; halve the recipe; half the tin; half the tray; a quarter of the batch; a third of the batch; half of the batch; halving it; halving everything; half the batch; half the recipe; triple it; \
         triple that; triple everything; triple the recipe",
    ),
    (
        Role::Resized,
        "a double; make double; two pans; two tins; two trays; double batch; double size; double the grams; double the amounts; for twice as much; for half as much; for a second; half batch; \
         half size; big batch; bigger batch; large batch; larger batch; small batch; smaller batch; smaller batches; bigger batches; two batches; three \
         batches; smaller lot; bigger lot; for a crowd; for a party",
    ),
    (
        Role::Return,
        "okay; ok; and youll; and you get; so you; me that and; me that so; about that and; about that so; me this and; otherwise; if not; but for us; but today; but here; back to; anyway; but we; but im; for ours; for mine; \
         right so; okay so; ok so; now then; so today; in ours; the plain loaf; the plain cake; the plain batch; the plain version; the plain one; the plain ones; the plain lot; the plain dough; the basic version; the basic one",
    ),
    (
        Role::Elsewhere,
        "running time; on my feet; off nights; mine was; were you to; if you had; if we had; if i had; i remember when; remember when; in canadian; in aussie; in american; i saved; just saved; youve saved; you save; has gone up; have gone up; went up by; gone up again; went up again; ive eaten; ive seen; i have seen; weve seen; ive heard; i had a go; we had a go; i used to; we used to; the last time; last nights; in america; \
         the other recipe; my first; in my country; in my village; in my town; where i come from; back home; as written; the normal one; the normal batch; the usual batch; the usual one; the usual recipe; the ordinary batch; own batch; the regular batch; \
         the regular recipe; the original; a single batch; the single batch; for a christening; for a wedding; for a party; homework; \
         the ready made; the frozen ones; last years; last weeks; the ones in the shop; the ones from the shop; frozen ones; \
         most recipes; other recipes; lots of recipes; a lot of recipes; many recipes; some recipes; most people; \
         some people; people say; they say; last time; used to; the old recipe; the old version; my old recipe; my \
         old version; the packet says; the packet said; the pack says; the box says; the tin says; the label says; the bag says; the bag said; bag it says; packet it says; a neighbor who; a neighbour who; somebody who; then you own; and you own; \
         if you double; if youre doubling; for a half batch; a half batch; if you halve; if youre halving; get \
         away with; if you triple; last summer; last fall; last winter; last autumn; last spring; last christmas; last sunday; last saturday; \
         in the spring; in the summer; in the autumn; in the fall; in the winter; in january; in february; in march; in april; in may; in june; \
         in july; in august; in september; in october; in november; in december; at christmas; at easter; at thanksgiving; \
         at the shop its; in the shop its; in the shops; at the supermarket its; at the shop theyre; first attempt; first try; back when; i tried it; i tried that; i tried them; we tried it; ive tried it; weve tried it; i did it at; you could take; you can take; you could push; you could go to; you can go to; you could go up to; you can go up to; you could push it to; you could do; you might see; some do; a shop one; the shop one; a bought one; the bought one; bought ones; ready made; readymade; if this was; if this were; if that was; if it were; if it was a; if we were making; if you were making; the first time i; the first time we; when i first; at the \
         restaurant; in restaurants; next week; next time; a classic recipe; classic recipes; traditional recipes; the \
         supermarket version; the shop ones; shop bought; in the other video; in my other video; in the last \
         video; in my last video; last week; last month; last year; yesterday; i once; once i; a friend of mine; \
         was only; on sale; reduced to; when it was; in a restaurant; in a cafe; in a bakery; he says; he said; she says; she said; you said; they said; somebody said; someone said; somebody told me; \
         someone told me; down the road; somebody asked; someone asked; a viewer; in the comments; people ask; commercial ones; you will read; \
           youll hear; the internet; old books; the books; would have you",
    ),
    (
        Role::Sold,
        "sells; sell; sold; sells for; flog; flogs; asks; ask; charge; charges; charged; charging; selling; goes for; going for; retail; where they want; they want; has them for; have them for; see them for; see them in town for; put them on at; got them for; got em for",
    ),
    (
        Role::Nothing,
        "a day ahead; a day early; an hour ahead; a good day; one of; one by one; one another; one day; one more time; one more thing; one thing; one last thing; one \
         other thing; the one; this one; that one; no one; each one; every one; another one; which one; a good \
         one; a big one; one at a time; one after another; one after the other; one or the other; one side; one \
         size; one way; one go; one hand; one hand on; one bowl; one pot; one pan; one piece; one reason; one \
         word; one question; one final; one last; one more; one minute its; one eye; one i; one that; one you; one \
         we; one with; one for; one in; one is; the other one; a new one; fifty fifty; 50 50; two birds; four \
         corners; my two cents; two cents worth; nine times out of ten; ten out of ten; 10 out of 10; 9 times out \
         of 10; one hundred and one; twenty four seven; 24 7; in one go; two minds; in a minute; in a second; in a \
         sec; just a second; just a minute; just a sec; one second; one sec; one moment; give me a second; give me \
         a minute; wait a second; wait a minute; hang on a second; hang on a minute; hold on a second; hold on a \
         minute; bear with me a second; a minute ago; a second ago; any minute; any second; last minute; this \
         minute; every second; every minute; the second; for a second; take a second; a second time; a second \
         batch; a second bowl; a second one; a second go; a second tray; a second coat; a second rise; a second \
         prove; a second proof; a day out; of the day; once a day; twice a day; three times a day; every day; what \
         a day; great day; nice day; lovely day; good day; the next day; same day; day one; a day off; rainy day; \
         a week off; once a week; twice a week; every week; each week; this week; all week; of the week; a cup of \
         tea; a cup of coffee; a pint of beer; two thousand and; a hundred times; a thousand times; a million \
         times; a hundred ways; a million; a billion; five star; five stars; a quarter to; a quarter past; half \
         past; quarter past; quarter to; o clock; oclock; half time; half way; halfway; half term; better half; \
         the first half; second half; first half; catch 22; plan b; a couple of things; a couple of reasons; a \
         couple of ways; a couple of tips; a couple of people; a couple of you; first one; second one; third one; \
         two things; three things; four things; five things; two reasons; three reasons; two ways; three ways; two \
         tips; three tips; two tricks; three tricks; two options; two choices; two kinds; two types; three types; \
         three kinds; two sorts; two stages; three stages; two steps; three steps; four steps; five steps; six \
         steps; seven steps; on a scale of; scale of one to ten; scale of 1 to 10; back to square one; one and \
         only; one and the same; one fell swoop; at one point; one point i; at some point; to the power; two of \
         us; two of you; three of us; four of us; both of us; a hundred percent agree; one percent of you; cut in \
         two; fold in two; fold in three; cut in three; cut in four; in half; one evening; one morning; \
         one night; one summer; one winter; one time; one bit; one big; one lot; one layer; one even layer; one \
         single; one clean; one smooth; day two; day three; two halves; one end; one edge; one corner",
    ),
    (Role::Multiply, "times; multiplied by; by; x; ×; at; multiply by; multiply that by; lots of"),
    (
        Role::Divide,
        "divided by; divide by; divide that by; divide it by; and divide it by; and divide that by; over; divided between; shared between; split between; divided \
         into; divided among; shared among; shared by; ÷; /; between",
    ),
    (Role::Add, "plus; and; add; +; and another; plus another"),
    (Role::Subtract, "minus; -; take away; less; take off; subtract"),
    (
        Role::Equals,
        "is; equals; makes; make; come to; gives; gives you; gives us; gives me; comes to; thats; that is; which is; works out \
         at; works out to; works out as; is equal to; =; comes out at; comes out to; comes out as; that makes; that makes it; that comes to; that gives; gets you; you \
         get; we get; i get; so thats; so thats about; makes it; which makes; which gives; which gives you; which \
         gives us; which comes to; will be; would be; it is; its; is about; is roughly; is just under; is just \
         over; are; so; which means; means; and thats; and that is; and its; and thats how we get; equals about; is nearly; \
         is almost; leaves; which leaves; i make it; and i make it; i make that; and i make that",
    ),
    (
        Role::AtATime,
        "at a time; at once; to a basket; to a tray; on a tray; on each tray; to a pan; in a basket; per basket; per tray; a go; at a go; per batch; in a batch; a batch; to a batch; per pan; in the pan; at one time; in one \
         go; each time; in the oil; per lot; a lot",
    ),
    (
        Role::Whole,
        "the whole; all in; in all; the bowl; the batch; the tray; the tin; total; total weight; the pair; for the lot; for the pot; for the pan; for the tray; all together; altogether; all told; in total; for the batch; overall; everything together; all up; the dozen; for both; for the two; the whole \
         lot; the whole thing; the whole batch; the whole tray; the lot; the entire batch; everything",
    ),
];

/// Words by the topic that they tell of.
pub const CUES: &[(Cue, &str)] = &[
    (Cue::Warm, "warm room kitchen ambient lukewarm warmish cosy"),
    (Cue::Across, "across wide diameter thick thin long"),
    (Cue::Hydration, "hydration hydrated"),
    (Cue::Wet, "wet sticky slack"),
    (
        Cue::Loss,
        "loss lose loses losing lost shrinks shrink evaporates evaporate evaporation lighter steam disappears disappear vanishes vanish missing",
    ),
    (Cue::LossToo, "drop drops dropped down take takes off away bakes gone goes sticks"),
    (Cue::Finished, "finished baked cooked cooled done leaves left"),
    (Cue::Total, "total totals batter dough mixture weighs weigh"),
    (Cue::Each, "each apiece piece pieces portion portions"),
    (
        Cue::Basket,
        "scratch cupboard basket shopping purchases till register checkout packs packets packages trolley receipt buy buys buying bought nothing",
    ),
    (
        Cue::Unused,
        "left leftover leftovers remaining stays stay still unused used over shelf cupboard pantry press home own hand sitting remains \
         stock yours",
    ),
    (Cue::Shop, "shop store house"),
    (Cue::Oil, "oil"),
    (Cue::Pan, "pan pot saucepan skillet wok fryer casserole tin"),
    (Cue::Deep, "deep depth"),
    (Cue::Preferment, "prefermented preferment preferments"),
    (Cue::Basis, "basis base"),
    (Cue::OtherOven, "fan convection"),
    (Cue::Uses, "batches uses use times reuse reused serves frying fryings again"),
    (Cue::Compares, "cheaper dearer pricier swap swapped instead ones version"),
    (Cue::Probe, "thermometer probe dial needle gauge"),
    (Cue::Flame, "gas heat flame stove hob"),
    (Cue::Glass, "glass glasses mug tumbler pitcher jug"),
    (Cue::KeptBack, "held kept back aside later"),
    (Cue::Keeps, "good keep keeps freeze freezes"),
    (Cue::Share, "share"),
    (Cue::Stores, "keep keeps freeze freezes frozen fridge freezer"),
    (Cue::Moves, "add adds bump bumped goes go gone put bring raise take comes"),
    (Cue::Tray, "tray tin batch box plate"),
    (Cue::TakesUp, "absorb absorbs absorbed soak soaks soaked drink drinks uptake takes taken"),
];
