//! One target of libFuzzer: the check that has the binary's name. Must not know what is checked.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    harness::check(env!("CARGO_BIN_NAME"), data);
});
