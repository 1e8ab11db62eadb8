//! The program as its users run it: whole processes on channels of their own.

mod commands;
mod cues;
mod films;
mod kitchen;
mod prices;
mod proofing;
mod publishing;
mod slates;
mod stale;
mod tables;
