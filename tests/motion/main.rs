//! Checks on films: what moves on a card and when, and the files that come of it.

mod demo;
mod movement;
mod quicktime;
mod strips;
mod words;
