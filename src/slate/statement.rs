//! Everything that a sheet states, one by one and by name, so that two sheets can be held against each other.
//! Composes phrases of figures and wording; must not know which of two sheets is older.

use crate::locale::{Key, Locale};
use crate::model::Region;
use crate::sheet::{CostFigures, Figure, FryFigures, LineFigures, PartFigures, Phrase, Sheet, StepFigures};

/// What a statement is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// What goes in, how much, and what that means for whom.
    Formula,
    /// What is done.
    Method,
    /// What it costs.
    Price,
}

impl Topic {
    /// All of them, in the order in which they are told.
    pub const ALL: [Self; 3] = [Self::Formula, Self::Method, Self::Price];

    /// Its name.
    pub fn id(self) -> &'static str {
        match self {
            Self::Formula => "formula",
            Self::Method => "method",
            Self::Price => "price",
        }
    }
}

/// One thing that a sheet says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Statement {
    /// What it is about.
    pub topic: Topic,
    /// Its id, such as `main.onion` or `cost.total`: what is compared with what.
    pub id: String,
    /// What it is said of, for viewers.
    pub name: Phrase,
    /// What is said of it.
    pub said: Phrase,
    /// How much viewers need to hear of it where it changes.
    pub rank: Rank,
}

/// How much viewers need to hear of a statement that changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rank {
    /// First of all: what goes in, what is done, what it costs, whom it may harm.
    Chief,
    /// In the description.
    Told,
    /// It follows from the others.
    Follows,
}

/// Every statement of a sheet. The day is none: that these were the prices of that day stays true.
pub fn statements(sheet: &Sheet, locale: &Locale, region: Region) -> Vec<Statement> {
    let mut list = List { topic: Topic::Formula, locale, all: Vec::new() };
    list.heads(sheet);
    for part in &sheet.parts {
        list.part(part, sheet.parts.len() > 1);
    }
    list.results(sheet);
    if let Some(fry) = &sheet.fry {
        list.fry(fry);
    }
    list.safety(sheet, region);
    list.tables(sheet);
    list.topic = Topic::Method;
    for (at, paragraph) in sheet.intro.iter().enumerate() {
        list.minor(format!("intro.{}", at + 1), paragraph.clone());
    }
    sheet.steps.iter().for_each(|step| list.step(step));
    list.topic = Topic::Price;
    list.cost(sheet);
    list.all
}

struct List<'a> {
    topic: Topic,
    locale: &'a Locale,
    all: Vec<Statement>,
}

fn author(text: &str) -> Phrase {
    Phrase::new().author(text)
}

fn figure(figure: &Figure) -> Phrase {
    Phrase::new().figure(figure)
}

fn maybe(found: Option<&Figure>) -> Phrase {
    found.map(figure).unwrap_or_default()
}

fn dotted(phrases: &[Phrase]) -> Phrase {
    Phrase::joined(phrases, " · ")
}

impl List<'_> {
    fn say(&self, key: Key, slots: &[(&str, Phrase)]) -> Phrase {
        Phrase::worded(self.locale, key, slots)
    }

    fn put(&mut self, id: impl Into<String>, name: Phrase, said: Phrase, rank: Rank) {
        if !said.is_empty() {
            self.all.push(Statement { topic: self.topic, id: id.into(), name, said, rank });
        }
    }

    fn chief(&mut self, id: impl Into<String>, name: Phrase, said: Phrase) {
        self.put(id, name, said, Rank::Chief);
    }

    fn told(&mut self, id: impl Into<String>, name: Phrase, said: Phrase) {
        self.put(id, name, said, Rank::Told);
    }

    fn minor(&mut self, id: impl Into<String>, said: Phrase) {
        self.put(id, Phrase::new(), said, Rank::Follows);
    }

    fn heads(&mut self, sheet: &Sheet) {
        let variant = sheet.variant.as_ref().map(|v| author(&v.title)).unwrap_or_default();
        self.minor("title", dotted(&[author(&sheet.title), variant]));
        self.minor("channel", author(&sheet.channel));
        self.chief("yield.pieces", self.say(Key::PageMakes, &[]), maybe(sheet.yields.pieces.as_ref()));
        let basis = author(&self.locale.list(&sheet.yields.basis_names));
        self.put("yield.basis", basis, maybe(sheet.yields.basis.as_ref()), Rank::Follows);
    }

    fn part(&mut self, part: &PartFigures, several: bool) {
        let title = part.title.as_ref().filter(|_| several).map(|t| author(t)).unwrap_or_default();
        for line in &part.lines {
            let name = Phrase::joined(&[title.clone(), author(&line.name)], ": ");
            self.chief(line.id.clone(), name, line_said(line));
        }
        let name = if title.is_empty() { self.say(Key::AllIn, &[]) } else { title };
        let said = dotted(&[figure(&part.total), maybe(part.total_percent.as_ref())]);
        self.put(format!("part.{}", part.id), name, said, if several { Rank::Told } else { Rank::Follows });
        self.minor(format!("part.{}.basis", part.id), maybe(part.basis.as_ref()));
    }

    fn results(&mut self, sheet: &Sheet) {
        let yields = &sheet.yields;
        self.told("yield.total", self.say(Key::WeighedIn, &[]), figure(&yields.total));
        self.told("yield.each", self.say(Key::PieceRaw, &[]), maybe(yields.each.as_ref()));
        self.told("yield.loss", self.say(Key::Loss, &[]), maybe(yields.loss.as_ref()));
        self.told("yield.finished", self.say(Key::Finished, &[]), maybe(yields.finished.as_ref()));
        let hydration = &sheet.hydration;
        self.told("hydration", self.say(Key::Hydration, &[]), maybe(hydration.nominal.as_ref()));
        let effective = self.say(Key::HydrationEffective, &[]);
        self.put("hydration.effective", effective, maybe(hydration.effective.as_ref()), Rank::Follows);
        self.told("prefermented", self.say(Key::Prefermented, &[]), maybe(sheet.prefermented.as_ref()));
    }

    fn fry(&mut self, fry: &FryFigures) {
        let oil = self.say(Key::FryOil, &[("oil", author(&fry.oil))]);
        self.told("fry.oil", oil, dotted(&[figure(&fry.fill), figure(&fry.fill_volume)]));
        let more = [
            ("depth", Key::FryDepth, &fry.depth),
            ("taken-up", Key::FryTakenUp, &fry.taken_up),
            ("uses", Key::FryUses, &fry.uses),
            ("used", Key::FryUsed, &fry.used),
        ];
        for (id, key, said) in more {
            self.put(
                format!("fry.{id}"),
                self.say(key, &[]),
                figure(said),
                if id == "depth" { Rank::Told } else { Rank::Follows },
            );
        }
    }

    fn safety(&mut self, sheet: &Sheet, region: Region) {
        let named = |id: &'static str| self.locale.allergen(id, region.id()).unwrap_or(id);
        let names: Vec<&str> = sheet.allergens.iter().map(|allergen| named(allergen.id())).collect();
        let said = if names.is_empty() && sheet.allergens_unknown.is_empty() {
            self.say(Key::ContainsNone, &[])
        } else if names.is_empty() {
            Phrase::new()
        } else {
            self.say(Key::Contains, &[("names", author(&self.locale.list(&names)))])
        };
        self.chief("allergens", self.say(Key::NotesAllergens, &[]), said);
        let unknown = &sheet.allergens_unknown;
        if !unknown.is_empty() {
            let said = self.say(Key::ContainsUnknown, &[("names", author(&self.locale.list(unknown)))]);
            self.chief("allergens.unknown", self.say(Key::NotesAllergens, &[]), said);
        }
        let diets: Vec<&str> = sheet.diet.iter().map(|c| self.locale.diet(c.id()).unwrap_or(c.id())).collect();
        self.told("diet", self.say(Key::Diet, &[]), author(&self.locale.list(&diets)));
        for caution in &sheet.cautions {
            let name = dotted(&[self.say(Key::Caution, &[]), author(&caution.title)]);
            self.told(format!("caution.{}", caution.id), name, author(&caution.text));
            self.minor(format!("caution.{}.general", caution.id), author(&caution.general));
        }
    }

    /// What follows from the lines.
    fn tables(&mut self, sheet: &Sheet) {
        if sheet.parts.len() > 1 {
            for item in &sheet.overall {
                let said = dotted(&[figure(&item.amount), maybe(item.percent.as_ref())]);
                self.minor(format!("overall.{}", item.name), said);
            }
        }
        for (part, figures) in sheet.parts.iter().enumerate() {
            for (at, line) in figures.lines.iter().enumerate() {
                let amounts = sheet.ladder.iter().filter_map(|rung| rung.amounts.get(part)?.get(at)).map(figure);
                self.minor(format!("ratio.{}", line.id), dotted(&amounts.collect::<Vec<_>>()));
            }
        }
        let sizes = |size: fn(&crate::sheet::Rung) -> Option<&Figure>| {
            dotted(&sheet.ladder.iter().filter_map(size).map(figure).collect::<Vec<_>>())
        };
        self.minor("ratio.sizes", sizes(|rung| rung.basis.as_ref()));
        self.minor("ratio.pieces", sizes(|rung| rung.pieces.as_ref()));
        if let Some(worked) = &sheet.worked {
            let terms = [&worked.basis, &worked.percent, &worked.amount].map(figure);
            self.minor("worked", dotted(&[author(&worked.basis_name), author(&worked.name), dotted(&terms)]));
        }
        for variant in &sheet.variants {
            self.minor(format!("variant.{}", variant.id), author(&variant.title));
            for change in &variant.changes {
                let side = |line: &LineFigures| Phrase::joined(&[author(&line.name), line_said(line)], " ");
                let both = Phrase::joined(&[side(&change.from), side(&change.to)], " → ");
                self.minor(format!("variant.{}.{}", variant.id, change.line), both);
            }
        }
    }

    fn step(&mut self, step: &StepFigures) {
        let card = step.card.text();
        let beside = step.measures.iter().map(|m| figure(&m.shown)).filter(|m| !card.contains(&m.text()));
        let mut said = vec![step.card.clone()];
        for measure in beside {
            if !said.contains(&measure) {
                said.push(measure);
            }
        }
        let id = format!("step.{}", step.id);
        self.chief(id.clone(), step.title.clone(), dotted(&said));
        self.minor(format!("{id}.number"), figure(&step.number));
        for (at, paragraph) in step.text.iter().enumerate() {
            self.minor(format!("{id}.text-{}", at + 1), paragraph.clone());
        }
        for used in &step.uses {
            let said = Phrase::joined(&[figure(&used.amount), author(&used.name)], " ");
            self.minor(format!("{id}.takes.{}", used.line), said);
        }
        self.minor(format!("{id}.wait"), maybe(step.wait.as_ref()));
    }

    fn cost(&mut self, sheet: &Sheet) {
        let cost: &CostFigures = &sheet.cost;
        let total = if cost.complete { Key::CostTotal } else { Key::CostTotalKnown };
        self.chief("cost.total", self.say(total, &[]), figure(&cost.total));
        let per = match &sheet.yields.piece_one {
            Some(piece) => self.say(Key::CostPer, &[("piece", author(piece))]),
            None => self.say(Key::CostApiece, &[]),
        };
        self.chief("cost.each", per, maybe(cost.each.as_ref()));
        self.told("cost.basket", self.say(Key::CostBasket, &[]), figure(&cost.basket));
        for line in &cost.lines {
            let mark = |key: Key, holds: bool| if holds { self.say(key, &[]) } else { Phrase::new() };
            let marks = [mark(Key::CostFree, line.free), mark(Key::CostOffer, line.offer)];
            let said = dotted(&[figure(&line.cost), dotted(&marks)]);
            self.told(format!("cost.{}", line.id), author(&line.name), said);
            self.minor(format!("cost.{}.share", line.id), dotted(&[figure(&line.share), figure(&line.amount)]));
        }
        for (id, name) in &cost.missing {
            self.chief(format!("cost.{id}"), author(name), self.say(Key::CostNoPrice, &[]));
        }
        for pack in &cost.packs {
            let free = if pack.free { self.say(Key::CostFree, &[]) } else { Phrase::new() };
            let left = [maybe(pack.left.as_ref()), maybe(pack.more.as_ref())];
            let said = dotted(&[figure(&pack.packs), figure(&pack.cost), dotted(&left), free]);
            self.minor(format!("cost.packs.{}", pack.name), said);
        }
        self.minor("cost.left", dotted(&[figure(&cost.left), maybe(cost.more.as_ref())]));
        let full = dotted(&[maybe(cost.with_energy.as_ref()), maybe(cost.with_energy_each.as_ref())]);
        self.told("cost.energy", self.say(Key::TotalsEnergy, &[]), full);
        if let Some(energy) = &cost.energy {
            let said = [figure(&energy.kwh), maybe(energy.tariff.as_ref()), maybe(energy.cost.as_ref())];
            self.minor("cost.energy.kwh", dotted(&said));
        }
        if let Some(bought) = &cost.compare {
            let said = dotted(&[figure(&bought.same), maybe(bought.each.as_ref())]);
            self.told("cost.compare", self.say(Key::TotalsCompare, &[]), said);
            let pack = [&bought.size, &bought.price, &bought.bought].map(figure);
            self.minor("cost.compare.pack", dotted(&pack));
            if let Some(gap) = &bought.gap {
                let key = if bought.cheaper { Key::TotalsCheaper } else { Key::TotalsDearer };
                self.minor("cost.compare.gap", self.say(key, &[("gap", figure(gap))]));
            }
        }
        for variant in &sheet.variants {
            let known = self.say(if variant.complete { Key::CostTotal } else { Key::CostTotalKnown }, &[]);
            let said = dotted(&[known, figure(&variant.total), maybe(variant.each.as_ref())]);
            self.minor(format!("cost.variant.{}", variant.id), said);
        }
    }
}

/// "120 g (about 4 oz) · 40 % · 1/2 cup, finely chopped", as far as there is any of it.
fn line_said(line: &LineFigures) -> Phrase {
    let household = line.household.as_ref().filter(|household| **household != line.amount);
    let figures = [figure(&line.amount), maybe(line.weight.as_ref()), maybe(line.percent.as_ref()), maybe(household)];
    let note = line.note.as_ref().map(|note| author(note)).unwrap_or_default();
    Phrase::joined(&[dotted(&figures), note], ", ")
}
