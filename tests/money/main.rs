//! What things cost: the price book in daily use, and choices side by side.

mod book;
mod choices;
mod import;
