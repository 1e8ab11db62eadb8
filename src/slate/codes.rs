//! The codes of what can be wrong with a slate.

use crate::diag::diagnostic_codes;

diagnostic_codes! {
    /// A slate was changed after it was taken.
    SLATE_CHANGED = "slate-changed",
    /// A file that is no slate, or one of another form.
    SLATE_UNREADABLE = "slate-unreadable",
}
