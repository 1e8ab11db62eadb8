//! The numbers, from sources to `figures/1`: against handbook figures, and their promises on random recipes.

mod handbook;
mod memory;
mod properties;
mod totals;
