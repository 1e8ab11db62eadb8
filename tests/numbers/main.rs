//! The numbers, from sources to `figures/1`: against handbook figures, and their promises on random recipes.

mod cut;
mod handbook;
mod larder;
mod memory;
mod method;
mod properties;
mod safety;
mod said;
mod sheet;
mod shown;
mod sizes;
mod totals;
