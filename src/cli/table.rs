//! Tables for a terminal: columns by display width, names that wrap, and a list where nothing else fits.
//! Must not know what stands in the cells.

use console::measure_text_width;

/// The least width a wrapping first column is worth.
const LEAST: usize = 14;
/// Between columns.
const GAP: usize = 2;

/// How a column's cells stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Right,
}

/// A table; its first column is text that may wrap, the others never break.
#[derive(Clone, Debug)]
pub(super) struct Table {
    aligns: Vec<Align>,
    head: Vec<String>,
    rows: Vec<Row>,
}

#[derive(Clone, Debug)]
struct Row {
    cells: Vec<String>,
    is_sum: bool,
}

impl Table {
    /// A table of these columns.
    pub(super) fn new(columns: &[(&str, Align)]) -> Self {
        Self {
            aligns: columns.iter().map(|(_, align)| *align).collect(),
            head: columns.iter().map(|(name, _)| (*name).to_owned()).collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row; a cell of every column.
    pub(super) fn row(&mut self, cells: Vec<String>) {
        self.rows.push(Row { cells, is_sum: false });
    }

    /// Adds a row that sums up those above it.
    pub(super) fn sum(&mut self, cells: Vec<String>) {
        self.rows.push(Row { cells, is_sum: true });
    }

    /// The table within `width` columns of text, each line ended; columns with nothing in them are left out.
    pub(super) fn render(&self, width: usize) -> String {
        let used: Vec<usize> =
            (0..self.head.len()).filter(|&c| self.rows.iter().any(|row| !row.cells[c].is_empty())).collect();
        let natural = |c: usize| {
            let cells = self.rows.iter().map(|row| &row.cells[c]).chain([&self.head[c]]);
            cells.map(|cell| measure_text_width(cell)).max().unwrap_or(0)
        };
        let mut widths: Vec<usize> = used.iter().map(|&c| natural(c)).collect();
        let rest: usize = widths.iter().skip(1).map(|w| w + GAP).sum();
        let Some(first) = widths.first_mut() else { return String::new() };
        if *first + rest > width {
            if width < LEAST + rest {
                return self.list(&used, width);
            }
            *first = width - rest;
        }
        let mut text = self.line(&self.head, &used, &widths);
        let rule = "─".repeat(widths.iter().sum::<usize>() + GAP * (widths.len() - 1)) + "\n";
        text.push_str(&rule);
        for row in &self.rows {
            if row.is_sum {
                text.push_str(&rule);
            }
            text.push_str(&self.line(&row.cells, &used, &widths));
        }
        text
    }

    /// One row as one line or, where the first cell wraps, several.
    fn line(&self, cells: &[String], used: &[usize], widths: &[usize]) -> String {
        let mut lines = wrap(&cells[used[0]], widths[0]).into_iter();
        let mut text = pad(&lines.next().unwrap_or_default(), widths[0], Align::Left);
        for (&column, &width) in used.iter().zip(widths).skip(1) {
            text.push_str(&" ".repeat(GAP));
            text.push_str(&pad(&cells[column], width, self.aligns[column]));
        }
        text.truncate(text.trim_end().len());
        for more in lines {
            text.push_str("\n  ");
            text.push_str(&more);
        }
        text.push('\n');
        text
    }

    /// Each row as a name with its cells below: for the narrowest terminals.
    fn list(&self, used: &[usize], width: usize) -> String {
        let mut text = String::new();
        for row in &self.rows {
            let cells: Vec<&str> =
                used.iter().skip(1).map(|&c| row.cells[c].as_str()).filter(|c| !c.is_empty()).collect();
            for line in wrap(&row.cells[used[0]], width) {
                text.push_str(&line);
                text.push('\n');
            }
            for line in wrap(&cells.join(" · "), width.saturating_sub(4)) {
                text.push_str("    ");
                text.push_str(&line);
                text.push('\n');
            }
        }
        text
    }
}

fn pad(text: &str, width: usize, align: Align) -> String {
    let space = " ".repeat(width.saturating_sub(measure_text_width(text)));
    match align {
        Align::Left => format!("{text}{space}"),
        Align::Right => format!("{space}{text}"),
    }
}

/// Breaks a text at spaces so that no line is wider than `width`, unless a word is. A no-break space holds, and so does
/// one behind a number, around `×` and before `·`; lines after the first leave two columns for their indent.
pub(super) fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut words: Vec<String> = Vec::new();
    let number = |word: &str| !word.is_empty() && word.chars().all(|c| c.is_numeric() || "×.,/–-".contains(c));
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        match words.last_mut() {
            Some(held) if ["·", "×"].contains(&word) || held.rsplit(' ').next().is_some_and(number) => {
                held.push(' ');
                held.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    for word in &words {
        let room = if lines.len() > 1 { width.saturating_sub(2) } else { width };
        match lines.last_mut() {
            Some(line) if measure_text_width(line) + 1 + measure_text_width(word) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> Table {
        let mut table = Table::new(&[("Name", Align::Left), ("Amount", Align::Right), ("None", Align::Left)]);
        table.row(vec!["dried chickpeas".into(), "300 g".into(), String::new()]);
        table.row(vec!["crème 乳".into(), "2 g".into(), String::new()]);
        table.sum(vec!["total".into(), "302 g".into(), String::new()]);
        table
    }

    #[test]
    fn columns_line_up_by_display_width() {
        let expected = "Name             Amount\n\
                        ───────────────────────\n\
                        dried chickpeas   300 g\n\
                        crème 乳            2 g\n\
                        ───────────────────────\n\
                        total             302 g\n";
        assert_eq!(table().render(80), expected);
    }

    #[test]
    fn lines_do_not_begin_with_a_mark_or_a_unit() {
        let text = "ground cumin 0,95 € · 1 × 750 g red onion · 2 × 1 cucumber";
        assert_eq!(wrap(text, 26), ["ground cumin 0,95 € ·", "1 × 750 g red onion ·", "2 × 1 cucumber"]);
    }

    #[test]
    fn narrow_terminals_wrap_names_and_then_get_a_list() {
        let wrapped = table().render(22);
        assert!(wrapped.contains("dried            300 g\n  chickpeas\n"), "{wrapped}");
        assert!(wrapped.lines().all(|line| measure_text_width(line) <= 22));
        let list = table().render(15);
        assert!(list.starts_with("dried chickpeas\n    300 g\n"), "{list}");
        for width in 0..30 {
            table().render(width);
        }
    }
}
