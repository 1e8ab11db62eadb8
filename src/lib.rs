//! Tallyspoon: one structured formula, and every number that follows from it.
//!
//! A number takes one road, downhill: `source` → `model` → `batch` → `cost` → `sheet` → the outputs.
//! The floors and what each may import are in DEVELOPERS.md and held by `tests/architecture.rs`.

pub mod batch;
pub mod cards;
pub mod cli;
pub mod cost;
pub mod cue;
pub mod desk;
pub mod diag;
pub mod draft;
pub mod draw;
pub mod exact;
pub mod film;
pub mod locale;
pub mod measure;
pub mod model;
pub mod motion;
pub mod notes;
pub mod page;
pub mod proof;
pub mod publish;
pub mod sheet;
pub mod slate;
pub mod source;
pub mod span;
pub mod studio;
pub mod template;
pub mod theme;
pub mod timeline;
pub mod workbook;
