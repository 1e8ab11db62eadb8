//! English: words that tell something only beside others, in every form they have. Data only.

use crate::proof::lexicon::Hint;

/// Words by what they hint at; a word may stand in several rows.
pub const HINTS: &[(Hint, &str)] = &[(Hint::As, "as"), (Hint::HasRoom, "takes fits holds")];
