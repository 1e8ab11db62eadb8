//! Checks on drawing: text layout, pictures, and our pixels against an outside renderer.

#[path = "../outside/pixels.rs"]
mod outside;
mod pictures;
mod pixels;
mod sample;
mod text;
