//! A recipe's figures for people: tables and short lines worth reading in a terminal, in the channel's language.
//! Shows what the sheet shows and reckons nothing.

use super::table::{Align, Table, wrap};
use super::terminal::heading;
use crate::diag::sanitise;
use crate::locale::{Key, Locale};
use crate::model::Region;
use crate::sheet::{Figure, FryFigures, PackFigures, PartFigures, Sheet};
use std::collections::BTreeMap;

/// Text lines are no longer than this, also on a wide terminal.
const PROSE: usize = 78;

/// The figures as text within `width` columns; allergens are named as in `region`.
pub(super) fn figures(sheet: &Sheet, locale: &Locale, region: Region, width: usize) -> String {
    let mut page = Page { text: String::new(), width, locale };
    page.head(sheet);
    let costs: BTreeMap<&str, &str> =
        sheet.cost.lines.iter().map(|line| (line.id.as_str(), line.cost.text())).collect();
    for part in &sheet.parts {
        page.part(part, &costs, &sheet.cost.missing);
    }
    if let [_, _, ..] = sheet.parts.as_slice() {
        page.overall(sheet);
    }
    page.facts(sheet);
    if let Some(fry) = &sheet.fry {
        page.fry(fry);
    }
    page.cost(sheet);
    page.variants(sheet);
    page.safety(sheet, region);
    page.text
}

fn text(figure: Option<&Figure>) -> String {
    figure.map_or_else(String::new, |f| f.text().to_owned())
}

struct Page<'a> {
    text: String,
    width: usize,
    locale: &'a Locale,
}

impl Page<'_> {
    fn head(&mut self, sheet: &Sheet) {
        let title = match &sheet.variant {
            Some(variant) => format!("{} · {}", sheet.title, variant.title),
            None => sheet.title.clone(),
        };
        self.heading(&title);
        let yields = &sheet.yields;
        let mut facts = Vec::new();
        facts.extend(yields.pieces.as_ref().map(|f| self.locale.fill(Key::Makes, &[("pieces", f.text())])));
        if let Some(basis) = &yields.basis {
            facts.push(format!("{} {}", basis.text(), yields.basis_names.join(" + ")));
        }
        facts.push(self.labelled(Key::WeighedIn, &yields.total));
        facts.extend(yields.loss.as_ref().map(|f| self.labelled(Key::Loss, f)));
        facts.extend(yields.finished.as_ref().map(|f| self.labelled(Key::Finished, f)));
        facts.extend(yields.each.as_ref().map(|f| self.labelled(Key::PieceRaw, f)));
        facts.extend(sheet.day.as_ref().map(|f| self.locale.fill(Key::CostOn, &[("day", f.text())])));
        self.prose(&facts.join(" · "), "");
    }

    fn say(&self, key: Key) -> &'static str {
        self.locale.text(key)
    }

    /// "Label: text".
    fn label(&self, label: &str, text: &str) -> String {
        self.locale.fill(Key::Labelled, &[("label", label), ("text", text)])
    }

    fn labelled(&self, key: Key, figure: &Figure) -> String {
        self.label(self.say(key), figure.text())
    }

    fn heading(&mut self, title: &str) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        for line in wrap(&sanitise(title), self.width) {
            self.text.push_str(&heading(&line));
            self.text.push('\n');
        }
    }

    /// A paragraph; lines after the first are indented by `indent`.
    fn prose(&mut self, text: &str, indent: &str) {
        let width = self.width.min(PROSE).saturating_sub(indent.len());
        for (number, line) in wrap(&sanitise(text), width).iter().enumerate() {
            self.text.push_str(if number == 0 { "" } else { indent });
            self.text.push_str(line);
            self.text.push('\n');
        }
    }

    fn table(&mut self, table: &Table) {
        self.text.push_str(&table.render(self.width));
    }

    fn part(&mut self, part: &PartFigures, costs: &BTreeMap<&str, &str>, missing: &[(String, String)]) {
        match &part.title {
            Some(title) => self.heading(title),
            None => self.text.push('\n'),
        }
        let mut table = Table::new(&[
            (self.say(Key::HeadItem), Align::Left),
            (self.say(Key::HeadPercent), Align::Right),
            (self.say(Key::HeadAmount), Align::Right),
            (self.say(Key::HeadWeight), Align::Right),
            (self.say(Key::HeadHousehold), Align::Left),
            (self.say(Key::HeadCost), Align::Right),
        ]);
        for line in &part.lines {
            let note = line.note.as_ref().map_or(String::new(), |note| format!(", {note}"));
            let unpriced = missing.iter().any(|(id, _)| *id == line.id);
            let cost =
                if unpriced { self.say(Key::CostNoPrice) } else { costs.get(line.id.as_str()).copied().unwrap_or("") };
            table.row(vec![
                sanitise(&format!("{}{note}", line.name)),
                text(line.percent.as_ref()),
                line.amount.text().to_owned(),
                text(line.weight.as_ref()),
                text(line.household.as_ref()),
                cost.to_owned(),
            ]);
        }
        let percent = text(part.total_percent.as_ref());
        let total = part.total.text().to_owned();
        table.sum(vec![self.say(Key::AllIn).into(), percent, total, String::new(), String::new(), String::new()]);
        self.table(&table);
    }

    fn overall(&mut self, sheet: &Sheet) {
        self.heading(self.say(Key::HeadOverall));
        let mut table = Table::new(&[
            (self.say(Key::HeadItem), Align::Left),
            (self.say(Key::HeadPercent), Align::Right),
            (self.say(Key::HeadAmount), Align::Right),
        ]);
        for line in &sheet.overall {
            table.row(vec![sanitise(&line.name), text(line.percent.as_ref()), line.amount.text().to_owned()]);
        }
        self.table(&table);
    }

    fn facts(&mut self, sheet: &Sheet) {
        let hydration = &sheet.hydration;
        let mut facts = Vec::new();
        facts.extend(hydration.nominal.as_ref().map(|f| self.labelled(Key::Hydration, f)));
        facts.extend(hydration.effective.as_ref().map(|f| self.labelled(Key::HydrationEffective, f)));
        facts.extend(sheet.prefermented.as_ref().map(|f| self.labelled(Key::Prefermented, f)));
        if !facts.is_empty() {
            self.text.push('\n');
            self.prose(&facts.join(" · "), "");
        }
        if let Some(worked) = &sheet.worked {
            self.text.push('\n');
            let (basis, percent, amount) = (worked.basis.text(), worked.percent.text(), worked.amount.text());
            let slots = [("basis", basis), ("percent", percent), ("amount", amount), ("name", worked.name.as_str())];
            self.prose(&self.locale.fill(Key::NotesWorked, &slots), "");
        }
    }

    fn fry(&mut self, fry: &FryFigures) {
        self.heading(&self.locale.fill(Key::FryOil, &[("oil", &fry.oil)]));
        let fill = format!("{} ({})", fry.fill.text(), fry.fill_volume.text());
        self.prose(&format!("{fill} · {}", self.labelled(Key::FryDepth, &fry.depth)), "  ");
        let charged = [(Key::FryTakenUp, &fry.taken_up), (Key::FryUses, &fry.uses), (Key::FryUsed, &fry.used)];
        self.prose(&charged.map(|(key, figure)| self.labelled(key, figure)).join(" · "), "  ");
    }

    fn cost(&mut self, sheet: &Sheet) {
        let cost = &sheet.cost;
        self.heading(self.say(Key::Cost));
        let mut table = Table::new(&[
            (self.say(Key::HeadItem), Align::Left),
            (self.say(Key::HeadAmount), Align::Right),
            (self.say(Key::HeadCostShare), Align::Right),
            (self.say(Key::HeadCost), Align::Right),
        ]);
        for line in &cost.lines {
            let share = line.share.text().to_owned();
            let marks = [(line.free, Key::CostFree), (line.offer, Key::CostOffer)];
            let marked = marks.into_iter().filter(|(holds, _)| *holds).map(|(_, key)| self.say(key));
            let name = std::iter::once(line.name.as_str()).chain(marked).collect::<Vec<_>>().join(" · ");
            table.row(vec![sanitise(&name), line.amount.text().to_owned(), share, line.cost.text().to_owned()]);
        }
        let total = self.say(total(cost.complete)).to_owned();
        if cost.lines.is_empty() {
            self.prose(&self.label(&total, cost.total.text()), "  ");
        } else {
            table.sum(vec![total, String::new(), String::new(), cost.total.text().to_owned()]);
            self.table(&table);
        }
        if !cost.complete {
            let names: Vec<&str> = cost.missing.iter().map(|(_, name)| name.as_str()).collect();
            self.prose(&self.locale.fill(Key::CostIncomplete, &[("names", &self.locale.list(&names))]), "  ");
        }
        if let Some(each) = &cost.each {
            self.prose(&self.each(sheet, each), "  ");
        }
        let packs: Vec<String> =
            cost.packs.iter().map(|pack| format!("{} {} {}", pack.packs.text(), pack.name, pack.cost.text())).collect();
        if !packs.is_empty() {
            self.prose(&format!("{} ({})", self.labelled(Key::CostBasket, &cost.basket), packs.join(" · ")), "  ");
            self.totals(sheet);
        }
    }

    /// What stays of the packs, the energy and the shop-bought one.
    fn totals(&mut self, sheet: &Sheet) {
        let (cost, locale) = (&sheet.cost, self.locale);
        let left = match &cost.more {
            Some(more) => locale.fill(Key::TotalsBasketMore, &[("left", cost.left.text()), ("more", more.text())]),
            None => locale.fill(Key::TotalsBasketLeft, &[("left", cost.left.text())]),
        };
        self.prose(&left, "  ");
        let stays: Vec<String> = cost.packs.iter().filter(|pack| !pack.free).filter_map(pack_left).collect();
        if !stays.is_empty() {
            self.prose(&format!("  {}", stays.join(" · ")), "    ");
        }
        if let Some(energy) = &cost.energy {
            let priced = cost.with_energy.as_ref().zip(energy.tariff.as_ref());
            let Some((full, tariff)) = priced else { return self.prose(energy.kwh.text(), "  ") };
            let why = locale.fill(Key::TotalsEnergyWhy, &[("kwh", energy.kwh.text()), ("tariff", tariff.text())]);
            let each =
                cost.with_energy_each.as_ref().map_or(String::new(), |each| format!(" · {}", self.each(sheet, each)));
            self.prose(&format!("{}{each} ({why})", self.labelled(Key::TotalsEnergy, full)), "  ");
        }
        if let Some(compare) = &cost.compare {
            let (size, price, day) = (compare.size.text(), compare.price.text(), compare.bought.text());
            let seen = locale.fill(Key::TotalsCompareWhy, &[("size", size), ("price", price), ("day", day)]);
            let key = if compare.cheaper { Key::TotalsCheaper } else { Key::TotalsDearer };
            let why = match &compare.gap {
                Some(gap) => {
                    let gap = locale.fill(key, &[("gap", gap.text())]);
                    locale.fill(Key::ToldBoth, &[("first", &seen), ("second", &gap)])
                }
                None => seen,
            };
            self.prose(&format!("{} ({why})", self.labelled(Key::TotalsCompare, &compare.same)), "  ");
        }
    }

    /// The price of one piece, by its name where it has one.
    fn each(&self, sheet: &Sheet, each: &Figure) -> String {
        let label = match &sheet.yields.piece_one {
            Some(piece) => self.locale.fill(Key::CostPer, &[("piece", piece)]),
            None => self.say(Key::CostApiece).to_owned(),
        };
        self.label(&label, each.text())
    }

    fn variants(&mut self, sheet: &Sheet) {
        for variant in &sheet.variants {
            self.heading(&format!("{} ({})", variant.title, variant.id));
            for change in &variant.changes {
                let (to, from) = (&change.to, &change.from);
                let was = if to.name == from.name {
                    self.locale.fill(Key::VariantWas, &[("amount", from.amount.text())])
                } else {
                    self.locale.fill(Key::VariantReplaces, &[("name", &from.name)])
                };
                let amount = to.amount.text();
                // A count has no word between it and what is counted, and neither has "to taste".
                let measured = amount.starts_with(char::is_numeric) && !amount.ends_with(char::is_numeric);
                let now =
                    if measured { self.locale.amount_of(amount, &to.name) } else { format!("{amount} {}", to.name) };
                self.prose(&format!("{now}, {was}"), "  ");
            }
            let mut costs = vec![self.labelled(total(variant.complete), &variant.total)];
            costs.extend(variant.each.as_ref().map(|each| self.each(sheet, each)));
            self.prose(&costs.join(" · "), "  ");
        }
    }

    fn safety(&mut self, sheet: &Sheet, region: Region) {
        let locale = self.locale;
        self.heading(self.say(Key::NotesAllergens));
        let names: Vec<&str> =
            sheet.allergens.iter().map(|a| locale.allergen(a.id(), region.id()).unwrap_or(a.id())).collect();
        let contains = match names.as_slice() {
            [] => self.say(Key::ContainsNone).to_owned(),
            names => locale.fill(Key::Contains, &[("names", &locale.list(names))]),
        };
        self.prose(&contains, "  ");
        if !sheet.allergens_unknown.is_empty() {
            let names = locale.list(&sheet.allergens_unknown);
            self.prose(&locale.fill(Key::ContainsUnknown, &[("names", &names)]), "  ");
        }
        if !sheet.diet.is_empty() {
            let names: Vec<&str> = sheet.diet.iter().map(|c| locale.diet(c.id()).unwrap_or(c.id())).collect();
            self.prose(&self.label(self.say(Key::Diet), &locale.list(&names)), "  ");
        }
        for caution in &sheet.cautions {
            self.text.push('\n');
            self.prose(&format!("! {}", self.label(&caution.title, &caution.text)), "  ");
        }
        if let Some(general) = sheet.cautions.first().map(|c| &c.general) {
            self.prose(general, "");
        }
    }
}

/// "120 g onion, 3 ×": what stays of an item and how many more batches it makes.
fn pack_left(pack: &PackFigures) -> Option<String> {
    let left = pack.left.as_ref()?;
    let more = pack.more.as_ref().map_or(String::new(), |more| format!(", {} ×", more.text()));
    Some(format!("{} {}{more}", left.text(), pack.name))
}

/// What a total is called, complete or not.
fn total(complete: bool) -> Key {
    if complete { Key::CostTotal } else { Key::CostTotalKnown }
}
