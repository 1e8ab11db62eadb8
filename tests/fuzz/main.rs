//! What libFuzzer found, and what it started from, kept alive without it: every file of the corpora, and a bounded number of
//! inputs that are made from them, by the same checks. Must not know what is checked.

mod harness;
mod mutate;

use harness::{TARGETS, check};
use mutate::{changed, edits};
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Inputs that are made from the files of one corpus, always the same; `PROPTEST_CASES` asks for as many others.
const MADE: u32 = 48;
/// The longest that an input of a few kilobytes may take in a build for tests on a busy machine: a hang, and no slow machine.
const LONGEST: Duration = Duration::from_secs(20);
/// The most that a file of the corpora and all of them together may have, in bytes.
const FILE: usize = 4096;
const ALL: usize = 300_000;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz")
}

fn entries(folder: &Path) -> Vec<PathBuf> {
    let list = fs::read_dir(folder).unwrap_or_else(|why| panic!("{}: {why}", folder.display()));
    let mut paths: Vec<PathBuf> = list.map(|entry| entry.expect("it can be listed").path()).collect();
    paths.sort();
    paths
}

/// The files of a target's corpus, with their names.
fn corpus(target: &str) -> Vec<(String, Vec<u8>)> {
    let read = |path: PathBuf| {
        let name = format!("{target}/{}", path.file_name().unwrap_or_default().to_string_lossy());
        (name, fs::read(path).expect("it can be read"))
    };
    entries(&folder().join("corpus").join(target)).into_iter().map(read).collect()
}

/// Words of the formats that a target reads: the lines of its dictionary that are texts.
fn words(target: &str) -> Vec<Vec<u8>> {
    let text = fs::read_to_string(folder().join("words").join(format!("{target}.dict"))).expect("a target has words");
    let word = |line: &str| {
        let quoted = line.trim().strip_prefix('"')?.strip_suffix('"')?;
        Some(mutate::unescaped(quoted))
    };
    text.lines().filter_map(word).collect()
}

fn in_time(name: &str, check: impl FnOnce() -> bool) -> bool {
    let start = Instant::now();
    let understood = check();
    let took = start.elapsed();
    assert!(took < LONGEST, "{name} took {took:?}");
    understood
}

fn replay(target: &str) {
    let (files, words) = (corpus(target), words(target));
    assert!(!files.is_empty(), "{target} has a corpus");
    let mut understood = 0;
    for (name, bytes) in &files {
        println!("{name}");
        understood += u32::from(in_time(name, || check(target, bytes)));
    }
    // A corpus that is refused at the door would prove nothing of what is behind it.
    assert!(understood > 0, "no file of {target} is understood to the end");
    let config = ProptestConfig { failure_persistence: None, ..ProptestConfig::default() };
    let mut runner = if std::env::var_os("PROPTEST_CASES").is_some() {
        TestRunner::new(config)
    } else {
        // The same inputs every time: a build doesn't fail by chance.
        let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
        TestRunner::new_with_rng(ProptestConfig { cases: MADE, ..config }, rng)
    };
    let made = (0..files.len(), edits());
    let tried = runner.run(&made, |(file, edits)| {
        let (name, bytes) = &files[file];
        let bytes = changed(bytes, &edits, &files, &words);
        in_time(name, || check(target, &bytes));
        Ok(())
    });
    tried.unwrap_or_else(|why| panic!("{target}: {why}"));
}

macro_rules! replayed {
    ($($target:ident),* $(,)?) => {
        $(#[test]
        fn $target() {
            replay(stringify!($target));
        })*

        #[test]
        fn every_target_is_replayed_and_built_and_has_words() {
            let names: BTreeSet<&str> = [$(stringify!($target)),*].into();
            assert_eq!(names, TARGETS.iter().map(|(name, _)| *name).collect());
            let manifest = fs::read_to_string(folder().join("Cargo.toml")).expect("it can be read");
            let built: BTreeSet<&str> = manifest.split("[[bin]]\nname = \"").skip(1).filter_map(|bin| bin.split('"').next()).collect();
            assert_eq!(names, built);
            let stems = |kind: &str| -> BTreeSet<String> {
                let stem = |path: PathBuf| path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
                entries(&folder().join(kind)).into_iter().map(stem).collect()
            };
            let names: BTreeSet<String> = names.into_iter().map(str::to_owned).collect();
            assert_eq!((stems("corpus"), stems("words")), (names.clone(), names));
        }
    };
}

replayed!(
    amounts, captions, channel, cues, import, lines, numbers, outputs, pantry, prices, proof, recipe, slate, stamps,
    templates, theme, timecodes, yields,
);

#[test]
fn the_corpora_stay_small() {
    let files: Vec<(String, Vec<u8>)> = TARGETS.iter().flat_map(|(name, _)| corpus(name)).collect();
    for (name, bytes) in &files {
        assert!(bytes.len() < FILE, "{name} has {} bytes", bytes.len());
    }
    let all: usize = files.iter().map(|(_, bytes)| bytes.len()).sum();
    assert!(all < ALL, "the corpora have {all} bytes");
}
