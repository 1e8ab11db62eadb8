//! A recipe's figures for people: tables and short lines worth reading in a terminal.
//! Shows what the sheet shows and reckons nothing.

use super::table::{Align, Table, wrap};
use super::terminal::heading;
use crate::diag::sanitise;
use crate::locale::Locale;
use crate::model::Region;
use crate::sheet::{CostFigures, Figure, FryFigures, PartFigures, Sheet};
use std::collections::BTreeMap;

/// Text lines are no longer than this, also on a wide terminal.
const PROSE: usize = 78;

/// The figures as text within `width` columns; allergens are named as in `region`.
pub(super) fn figures(sheet: &Sheet, locale: &Locale, region: Region, width: usize) -> String {
    let mut page = Page { text: String::new(), width };
    head(&mut page, sheet);
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
    page.cost(&sheet.cost);
    page.variants(sheet);
    page.safety(sheet, locale, region);
    page.text
}

fn head(page: &mut Page, sheet: &Sheet) {
    let title = match &sheet.variant {
        Some(variant) => format!("{} · {}", sheet.title, variant.title),
        None => sheet.title.clone(),
    };
    page.heading(&title);
    let mut facts = Vec::new();
    facts.extend(sheet.yields.pieces.as_ref().map(|f| format!("makes {}", f.text())));
    if let Some(basis) = &sheet.yields.basis {
        facts.push(format!("{} {}", basis.text(), sheet.yields.basis_names.join(" + ")));
    }
    facts.push(format!("{} in all", sheet.yields.total.text()));
    if let (Some(finished), Some(loss)) = (&sheet.yields.finished, &sheet.yields.loss) {
        facts.push(format!("{} when done, {} less", finished.text(), loss.text()));
    }
    facts.extend(sheet.yields.each.as_ref().map(|f| format!("{} raw each", f.text())));
    facts.extend(sheet.day.as_ref().map(|f| format!("prices of {}", f.text())));
    page.prose(&facts.join(" · "), "");
}

fn text(figure: Option<&Figure>) -> String {
    figure.map_or_else(String::new, |f| f.text().to_owned())
}

struct Page {
    text: String,
    width: usize,
}

impl Page {
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
            ("Ingredient", Align::Left),
            ("Percent", Align::Right),
            ("Amount", Align::Right),
            ("Weight", Align::Right),
            ("Spoons and cups", Align::Left),
            ("Cost", Align::Right),
        ]);
        for line in &part.lines {
            let note = line.note.as_ref().map_or(String::new(), |note| format!(", {note}"));
            let unpriced = missing.iter().any(|(id, name)| *id == line.id || *name == line.id);
            let cost = if unpriced { "no price" } else { costs.get(line.id.as_str()).copied().unwrap_or("") };
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
        table.sum(vec!["all together".into(), percent, total, String::new(), String::new(), String::new()]);
        self.table(&table);
    }

    fn overall(&mut self, sheet: &Sheet) {
        self.heading("Overall formula");
        let mut table = Table::new(&[("Ingredient", Align::Left), ("Percent", Align::Right), ("Amount", Align::Right)]);
        for line in &sheet.overall {
            table.row(vec![sanitise(&line.name), text(line.percent.as_ref()), line.amount.text().to_owned()]);
        }
        self.table(&table);
    }

    fn facts(&mut self, sheet: &Sheet) {
        let hydration = &sheet.hydration;
        let mut facts = Vec::new();
        facts.extend(hydration.nominal.as_ref().map(|f| format!("hydration {}", f.text())));
        facts.extend(hydration.effective.as_ref().map(|f| format!("{} with the water in everything", f.text())));
        facts.extend(sheet.prefermented.as_ref().map(|f| format!("{} of the flour prefermented", f.text())));
        if !facts.is_empty() {
            self.text.push('\n');
            self.prose(&facts.join(" · "), "");
        }
        if let Some(worked) = &sheet.worked {
            self.text.push('\n');
            let (basis, percent, amount) = (worked.basis.text(), worked.percent.text(), worked.amount.text());
            self.prose(&format!("{basis} {} × {percent} = {amount} {}", worked.basis_name, worked.name), "");
        }
    }

    fn fry(&mut self, fry: &FryFigures) {
        self.heading("Frying");
        let (fill, volume, depth) = (fry.fill.text(), fry.fill_volume.text(), fry.depth.text());
        let (taken, uses, used) = (fry.taken_up.text(), fry.uses.text(), fry.used.text());
        self.prose(&format!("{}: {fill} ({volume}) to fill the pan {depth} deep", fry.oil), "  ");
        self.prose(&format!("{taken} taken up; a filling serves {uses} batches, so {used} are counted here"), "  ");
    }

    fn cost(&mut self, cost: &CostFigures) {
        self.heading("Cost");
        let mut table = Table::new(&[
            ("Ingredient", Align::Left),
            ("Amount", Align::Right),
            ("Share", Align::Right),
            ("Cost", Align::Right),
        ]);
        for line in &cost.lines {
            let share = line.share.text().to_owned();
            table.row(vec![sanitise(&line.name), line.amount.text().to_owned(), share, line.cost.text().to_owned()]);
        }
        let name = if cost.complete { "total" } else { "total of what is known" };
        table.sum(vec![name.into(), String::new(), String::new(), cost.total.text().to_owned()]);
        self.table(&table);
        if !cost.complete {
            let names: Vec<&str> = cost.missing.iter().map(|(_, name)| name.as_str()).collect();
            self.prose(&format!("no price, not counted: {}", names.join(", ")), "  ");
        }
        if let Some(each) = &cost.each {
            let known = if cost.complete { "" } else { ", of what is known" };
            self.prose(&format!("each {}{known}", each.text()), "  ");
        }
        let packs: Vec<String> =
            cost.packs.iter().map(|pack| format!("{} {} {}", pack.packs.text(), pack.name, pack.cost.text())).collect();
        if !packs.is_empty() {
            self.prose(&format!("basket {}: {}", cost.basket.text(), packs.join(" · ")), "  ");
        }
    }

    fn variants(&mut self, sheet: &Sheet) {
        if sheet.variants.is_empty() {
            return;
        }
        self.heading("Variants");
        for variant in &sheet.variants {
            let known = if variant.complete { "" } else { " of what is known" };
            let each = variant.each.as_ref().map_or(String::new(), |each| format!(", each {}", each.text()));
            let changes: Vec<String> = variant
                .changes
                .iter()
                .map(|c| format!("{} {} for {} {}", c.to.amount.text(), c.to.name, c.from.amount.text(), c.from.name))
                .collect();
            let total = variant.total.text();
            self.prose(&format!("{} ({}): {}", variant.title, variant.id, changes.join(", ")), "  ");
            self.prose(&format!("  total {total}{known}{each}"), "  ");
        }
    }

    fn safety(&mut self, sheet: &Sheet, locale: &Locale, region: Region) {
        self.heading("Allergens, diet, cautions");
        let names: Vec<&str> =
            sheet.allergens.iter().map(|a| locale.allergen(a.id(), region.id()).unwrap_or(a.id())).collect();
        let names = if names.is_empty() { "none of the listed".to_owned() } else { names.join(", ") };
        self.prose(&format!("contains: {names}"), "  ");
        if !sheet.allergens_unknown.is_empty() {
            self.prose(&format!("not known of: {}", sheet.allergens_unknown.join(", ")), "  ");
        }
        if !sheet.diet.is_empty() {
            let names: Vec<&str> = sheet.diet.iter().map(|c| locale.diet(c.id()).unwrap_or(c.id())).collect();
            self.prose(&format!("diet: {}", names.join(", ")), "  ");
        }
        for caution in &sheet.cautions {
            self.text.push('\n');
            self.prose(&format!("! {}: {}", caution.title, caution.text), "  ");
        }
        if let Some(general) = sheet.cautions.first().map(|c| &c.general) {
            self.prose(general, "");
        }
    }
}
