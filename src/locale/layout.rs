//! The layout of numbers, money and dates by locale, read from the table of CLDR figures beside this file.

const TABLE: &str = include_str!("cldr.tsv");

/// How a locale lays numbers, money, dates and lists out around their digits.
#[derive(Clone, Debug, Default)]
pub(super) struct Layout {
    /// Money, `¤` for the symbol and `n` for the number.
    pub money: String,
    /// Money below zero, with `-` for the minus sign.
    pub negative: String,
    /// Percent, `n` for the number.
    pub percent: String,
    /// The long date: `d`, `dd`, `M` and `y`; empty for a language without wording.
    pub date: String,
    /// Whether a comma stands before the last of three.
    pub serial: bool,
    /// The decimal mark of money where it differs from that of numbers.
    pub money_point: Option<String>,
    /// The grouping mark of money where it differs from that of numbers.
    pub money_group: Option<String>,
    /// Symbols by ISO 4217 code; a currency that is not here shows its code.
    symbols: Vec<(String, String)>,
}

impl Layout {
    /// The layout of `tag`: its own row over its language's, or the number after the code where CLDR's
    /// table here has neither.
    pub(super) fn of(tag: &str) -> Self {
        let language = tag.split('-').next().unwrap_or(tag);
        let mut layout = Self::default();
        layout.lay("¤~n\tn~%\t-\t-\t-\t-\t-");
        if let Some(row) = row(language) {
            layout.lay(row);
        }
        if let Some(row) = row(tag).filter(|_| tag != language) {
            layout.lay(row);
        }
        layout
    }

    fn lay(&mut self, columns: &str) {
        let cell = |text: &str| text.replace('~', "\u{a0}").replace('_', "\u{202f}");
        let some = |text: &&str| *text != "-";
        let mut cells = columns.split('\t');
        let mut next = || cells.next().unwrap_or("-");
        let money = cell(next());
        let (positive, negative) = match money.split_once(';') {
            Some((positive, negative)) => (positive.to_owned(), negative.to_owned()),
            None => (money.clone(), format!("-{money}")),
        };
        self.money = positive;
        self.negative = negative;
        self.percent = cell(next());
        self.date = Some(next()).filter(some).unwrap_or_default().to_owned();
        self.serial = next() == "serial";
        self.money_point = Some(next()).filter(some).map(cell);
        self.money_group = Some(next()).filter(some).map(cell);
        for (code, symbol) in next().split(' ').filter_map(|pair| pair.split_once('=')) {
            self.symbols.retain(|(known, _)| known != code);
            self.symbols.push((code.to_owned(), cell(symbol)));
        }
    }

    /// The symbol of the currency of that ISO 4217 code, or the code.
    pub(super) fn symbol<'a>(&'a self, code: &'a str) -> &'a str {
        self.symbols.iter().find(|(known, _)| known == code).map_or(code, |(_, symbol)| symbol)
    }
}

/// What follows the first column of the row that names `tag`.
fn row(tag: &str) -> Option<&'static str> {
    TABLE
        .lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| line.split_once('\t'))
        .find(|(tags, _)| tags.split(' ').any(|known| known == tag))
        .map(|(_, columns)| columns)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_has_eight_columns_and_no_locale_stands_twice() {
        let mut seen = std::collections::BTreeSet::new();
        for line in TABLE.lines().filter(|line| !line.starts_with('#')) {
            let cells: Vec<&str> = line.split('\t').collect();
            assert_eq!(cells.len(), 8, "{line}");
            assert!(cells[1].contains('¤') && cells[1].contains('n') && cells[2].contains('n'), "{line}");
            for tag in cells[0].split(' ') {
                assert!(seen.insert(tag), "{tag} stands twice");
            }
        }
    }
}
