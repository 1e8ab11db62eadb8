//! Phrases and what they mean.

mod phrases;
