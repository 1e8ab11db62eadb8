//! What things cost: the price book in daily use.

mod book;
mod import;
