//! What a recipe takes of the channel's pantry and price book: the items that it names, and the price of each that holds.
//! Its figures are resolved of these alone, so that nothing else can touch them. Must not know how.

use super::Inputs;
use crate::model::{Item, Pantry, PriceBook, Purchase};
use crate::span::{SourceId, Span};
use jiff::civil::Date;
use std::fmt::Write as _;

/// A recipe's part of the pantry and the price book.
#[derive(Clone, Debug)]
pub struct Larder {
    pantry: Pantry,
    book: PriceBook,
}

impl Larder {
    /// What the recipe of `inputs` takes at the prices of `day` (that of the book's latest purchase if `None`).
    pub fn new(inputs: Inputs<'_>, day: Option<Date>) -> Self {
        let Inputs { pantry, book, recipe, .. } = inputs;
        let pantry = pantry.only(recipe.items());
        let book = book.only(pantry.items.keys(), day);
        Self { pantry, book }
    }

    /// The same inputs without anything else of pantry and book.
    pub fn inputs<'a>(&'a self, inputs: Inputs<'a>) -> Inputs<'a> {
        Inputs { pantry: &self.pantry, book: &self.book, ..inputs }
    }

    /// A text that differs where anything of it does, but for where it stands in its source.
    pub fn text(&self) -> String {
        let mut text = format!("{:?}", self.book.last_day());
        for item in self.pantry.items.values() {
            let _ = write!(text, "\n{:?}", Item { span: None, ..item.clone() });
        }
        for purchase in self.book.by_item.values().flatten() {
            let nowhere = Span::new(SourceId(0), 0, 0);
            let _ = write!(text, "\n{:?}", Purchase { span: nowhere, ..purchase.clone() });
        }
        text
    }
}
