//! A recipe's costs as a spreadsheet that reckons for itself: amounts, packs and prices as numbers, all else as formulas.
//! A function of the `figures/1` document; must not know how a cost comes about, the disk or other outputs.

use crate::exact::Exact;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, FormatBorder, Formula, Workbook, Worksheet, XlsxError};
use serde_json::Value;

/// The first row of the ingredients, from 0; their headings are above it.
const FIRST: u32 = 6;
const HEADS: [&str; 10] = [
    "Ingredient",
    "Item",
    "Used, g",
    "Pack",
    "Pack, g",
    "Eaten of it",
    "Price of the pack",
    "Cost",
    "Share",
    "To buy, g",
];
const BASKET_HEADS: [&str; 5] = ["Item", "To buy, g", "Packs", "Price of the pack", "Cost"];

/// The workbook's bytes; the same document gives the same bytes.
///
/// # Errors
/// What a spreadsheet can't hold, such as a title of more than 32,767 characters.
pub fn workbook(document: &Value) -> Result<Vec<u8>, String> {
    write(document).map_err(|error| format!("the workbook can't be made: {error}"))
}

fn write(document: &Value) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    // No clock: the day is that of the first spreadsheets of this form.
    let made = ExcelDateTime::from_ymd(2007, 1, 1)?;
    book.set_properties(&DocProperties::new().set_creation_datetime(&made));
    let sheet = book.add_worksheet();
    sheet.set_name("Costs")?;
    let page =
        Page { document, bold: Format::new().set_bold(), head: head(), percent: Format::new().set_num_format("0.0%") };
    page.heading(sheet)?;
    let end = page.ingredients(sheet)?;
    let end = page.results(sheet, end)?;
    page.basket(sheet, end + 2)?;
    for (column, width) in [28, 20, 10, 12, 10, 12, 16, 12, 10, 12].into_iter().enumerate() {
        sheet.set_column_width_pixels(u16::try_from(column).unwrap_or(0), width * 7)?;
    }
    book.save_to_buffer()
}

fn head() -> Format {
    Format::new().set_bold().set_border_bottom(FormatBorder::Thin)
}

struct Page<'a> {
    document: &'a Value,
    bold: Format,
    head: Format,
    percent: Format,
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

/// A decimal of the document as a spreadsheet holds numbers.
fn number(value: &Value) -> f64 {
    text(value).parse().unwrap_or_default()
}

fn exact(value: &Value) -> Exact {
    Exact::from_decimal(text(value)).unwrap_or_else(Exact::zero)
}

/// A formula and what it gives, for programs that don't reckon.
fn formula(text: String, result: &Exact) -> Formula {
    Formula::new(text).set_result(result.decimal())
}

/// The number of a row as formulas have it.
fn at(row: u32) -> u32 {
    row + 1
}

impl Page<'_> {
    fn cost(&self) -> &Value {
        &self.document["cost"]
    }

    fn lines(&self) -> &[Value] {
        self.cost()["lines"].as_array().map_or(&[], Vec::as_slice)
    }

    /// The name of a line; the oil's is its item's key.
    fn name<'v>(&'v self, line: &'v Value) -> &'v str {
        let lines = self.document["lines"].as_array().map_or(&[][..], Vec::as_slice);
        lines.iter().find(|known| known["id"] == line["id"]).map_or(text(&line["item"]), |known| text(&known["name"]))
    }

    fn heading(&self, sheet: &mut Worksheet) -> Result<(), XlsxError> {
        sheet.write_string_with_format(0, 0, text(&self.document["title"]), &self.bold)?;
        let facts = [
            ("Makes", &self.document["yield"]["pieces_shown"]),
            ("Variant", &self.document["variant"]),
            ("Prices of", &self.document["on"]),
            ("Currency", &self.cost()["currency"]),
        ];
        for (row, (name, fact)) in (1..).zip(facts) {
            sheet.write_string(row, 0, name)?;
            sheet.write_string(row, 1, text(fact))?;
        }
        for (column, name) in (0..).zip(HEADS) {
            sheet.write_string_with_format(FIRST - 1, column, name, &self.head)?;
        }
        Ok(())
    }

    /// A row a line that has a price; answers the row after the last.
    fn ingredients(&self, sheet: &mut Worksheet) -> Result<u32, XlsxError> {
        let total = exact(&self.cost()["total"]);
        let end = FIRST + u32::try_from(self.lines().len()).unwrap_or(0);
        for (row, line) in (FIRST..).zip(self.lines()) {
            let (n, from) = (at(row), &line["from"]);
            let amount = exact(&line["amount"]);
            sheet.write_string(row, 0, self.name(line))?;
            sheet.write_string(row, 1, text(&line["item"]))?;
            sheet.write_number(row, 2, number(&from["used_g"]))?;
            sheet.write_string(row, 3, text(&from["pack"]))?;
            sheet.write_number(row, 4, number(&from["pack_g"]))?;
            sheet.write_number(row, 5, number(&from["edible"]))?;
            sheet.write_number(row, 6, number(&from["price"]))?;
            sheet.write_formula(row, 7, formula(format!("=C{n}*G{n}/(E{n}*F{n})"), &amount))?;
            let share = amount.over(&total).unwrap_or_else(Exact::zero);
            let share = formula(format!("=IF(H${t}=0,0,H{n}/H${t})", t = at(end)), &share);
            sheet.write_formula_with_format(row, 8, share, &self.percent)?;
            sheet.write_number(row, 9, number(&from["to_buy_g"]))?;
        }
        Ok(end)
    }

    /// The total and what follows from it; answers the last row.
    fn results(&self, sheet: &mut Worksheet, total_row: u32) -> Result<u32, XlsxError> {
        let (cost, n) = (self.cost(), at(total_row));
        let total = exact(&cost["total"]);
        let complete = cost["complete"].as_bool().unwrap_or(false);
        let name = if complete { "Total" } else { "Total of what is known" };
        sheet.write_string_with_format(total_row, 0, name, &self.bold)?;
        let sum = if self.lines().is_empty() { "=0".to_owned() } else { format!("=SUM(H{}:H{})", at(FIRST), n - 1) };
        sheet.write_formula_with_format(total_row, 7, formula(sum, &total), &self.bold)?;
        let places = u32::try_from(cost["minor_places"].as_u64().unwrap_or(2)).unwrap_or(2);
        let mut row = total_row + 1;
        sheet.write_string(row, 0, "The same, rounded")?;
        sheet.write_formula(row, 7, formula(format!("=ROUND(H{n},{places})"), &total.round_places(places)))?;
        let yields = &self.document["yield"];
        for (key, name, each) in [("high", "Pieces, at most", "each_low"), ("low", "Pieces, at least", "each_high")] {
            let Some(pieces) = yields[key].as_u64().and_then(|pieces| u32::try_from(pieces).ok()) else { continue };
            row += 1;
            sheet.write_string(row, 0, name)?;
            sheet.write_number(row, 2, pieces)?;
            sheet.write_string(row, 6, "Each")?;
            sheet.write_formula(row, 7, formula(format!("=H{n}/C{}", at(row)), &exact(&cost[each])))?;
        }
        if let Some(amount) = cost["energy"]["amount"].as_str() {
            row += 1;
            let (amount, kwh) = (Exact::from_decimal(amount).unwrap_or_else(Exact::zero), &cost["energy"]["kwh"]);
            let tariff = amount.over(&exact(kwh)).unwrap_or_else(Exact::zero);
            sheet.write_string(row, 0, "Energy, kWh")?;
            sheet.write_number(row, 2, number(kwh))?;
            sheet.write_number(row, 6, number(&Value::String(tariff.decimal())))?;
            sheet.write_formula(row, 7, formula(format!("=C{r}*G{r}", r = at(row)), &amount))?;
            row += 1;
            sheet.write_string(row, 0, "With the energy")?;
            sheet.write_formula(row, 7, formula(format!("=H{n}+H{row}"), &exact(&cost["with_energy"])))?;
        }
        let missing: Vec<&str> = cost["missing"].as_array().into_iter().flatten().map(text).collect();
        if !missing.is_empty() {
            row += 1;
            sheet.write_string(row, 0, "No price, not counted")?;
            sheet.write_string(row, 1, missing.join(", "))?;
        }
        Ok(row)
    }

    /// Whole packs of each item.
    fn basket(&self, sheet: &mut Worksheet, start: u32) -> Result<(), XlsxError> {
        let packs = self.cost()["packs"].as_array().map_or(&[][..], Vec::as_slice);
        if packs.is_empty() {
            return Ok(());
        }
        sheet.write_string_with_format(start, 0, "At the till, in whole packs", &self.bold)?;
        for (column, name) in (0..).zip(BASKET_HEADS) {
            sheet.write_string_with_format(start + 1, column, name, &self.head)?;
        }
        let (first, last) = (at(FIRST), FIRST + u32::try_from(self.lines().len()).unwrap_or(0));
        let of_item = |column: char, n: u32| {
            format!("INDEX(${column}${first}:${column}${last},MATCH(A{n},$B${first}:$B${last},0))")
        };
        let begin = start + 2;
        for (row, pack) in (begin..).zip(packs) {
            let n = at(row);
            let lines = self.lines().iter().filter(|line| line["item"] == pack["item"]);
            let need: Exact = lines.map(|line| exact(&line["from"]["to_buy_g"])).sum();
            let (count, amount) = (exact(&pack["packs"]), exact(&pack["amount"]));
            sheet.write_string(row, 0, text(&pack["item"]))?;
            let sum = format!("=SUMIF($B${first}:$B${last},A{n},$J${first}:$J${last})");
            sheet.write_formula(row, 1, formula(sum, &need))?;
            // A spreadsheet's numbers are not exact: a pack that just suffices must not become two.
            let packs = format!("=ROUNDUP(ROUND(B{n}/{},9),0)", of_item('E', n));
            sheet.write_formula(row, 2, formula(packs, &count))?;
            let price = amount.over(&count).unwrap_or_else(Exact::zero);
            sheet.write_formula(row, 3, formula(format!("={}", of_item('G', n)), &price))?;
            sheet.write_formula(row, 4, formula(format!("=C{n}*D{n}"), &amount))?;
        }
        let end = begin + u32::try_from(packs.len()).unwrap_or(0);
        sheet.write_string_with_format(end, 0, "At the till", &self.bold)?;
        let sum = format!("=SUM(E{}:E{end})", at(begin));
        sheet.write_formula_with_format(end, 4, formula(sum, &exact(&self.cost()["basket"])), &self.bold)?;
        Ok(())
    }
}
