//! What must hold whatever bytes come in, a check for each way in: no panic, and where there is one a promise about what
//! was read. Must not know who hands in the bytes: libFuzzer and the tests do.

mod demo;
mod figures;
mod pictures;
mod sources;
mod spoken;
mod whole;

/// Checks the bytes that a way in is handed; answers whether they were understood to the end.
pub type Check = fn(&[u8]) -> bool;

/// Every way in by its name, which is also that of its corpus.
pub const TARGETS: [(&str, Check); 18] = [
    ("amounts", sources::amounts),
    ("captions", spoken::captions),
    ("channel", sources::channel),
    ("cues", sources::cues),
    ("import", sources::import),
    ("lines", figures::lines),
    ("numbers", figures::numbers),
    ("outputs", whole::outputs),
    ("pantry", sources::pantry),
    ("prices", sources::prices),
    ("proof", spoken::proofed),
    ("recipe", sources::recipe),
    ("slate", sources::slate),
    ("stamps", pictures::stamps),
    ("templates", whole::templates),
    ("theme", pictures::theme),
    ("timecodes", figures::timecodes),
    ("yields", figures::yields),
];

/// Checks `data` by the target of that name; answers whether it was understood to the end.
///
/// # Panics
/// If something does not hold, or there is no such target.
pub fn check(target: &str, data: &[u8]) -> bool {
    let (_, check) = TARGETS.iter().find(|(name, _)| *name == target).expect("a target");
    check(data)
}

/// Bytes as text, every fault of their encoding as U+FFFD.
fn text(data: &[u8]) -> std::borrow::Cow<'_, str> {
    String::from_utf8_lossy(data)
}
