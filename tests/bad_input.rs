//! Bad input: every code has a case that draws exactly the findings it should, at their places, and no
//! bytes make the reader panic.

use proptest::prelude::*;
use std::collections::BTreeSet;
use tallyspoon::diag::{Severity, Style, one_line, render};
use tallyspoon::model::{Content, Options, codes, load};
use tallyspoon::source::{FILE_LIMIT, Sources, codes as source_codes, script};
use tallyspoon::span::Texts;

mod cases;

use cases::{CASES, Case, Edit, GOOD};

/// The good channel with a case's edits.
fn files(edits: &[Edit]) -> Vec<(String, Vec<u8>)> {
    let mut files: Vec<(String, String)> = GOOD.iter().map(|(p, t)| ((*p).to_owned(), (*t).to_owned())).collect();
    for edit in edits {
        match edit {
            Edit::Change(path, from, to) => {
                let file = files.iter_mut().find(|(p, _)| p == path).expect("a file of the good channel");
                assert_eq!(file.1.matches(from).count(), 1, "`{from}` must stand once in {path}");
                file.1 = file.1.replacen(from, to, 1);
            }
            Edit::Write(path, text) => {
                files.retain(|(p, _)| p != path);
                files.push(((*path).to_owned(), (*text).to_owned()));
            }
            Edit::Remove(path) => files.retain(|(p, _)| p != path),
        }
    }
    files.into_iter().map(|(path, text)| (path, text.into_bytes())).collect()
}

fn read(files: Vec<(String, Vec<u8>)>) -> (Option<Content>, Vec<String>, Vec<String>) {
    let sources = Sources::from_memory("content", files);
    let (content, findings) = load(&sources, &Options::default());
    let sorted = findings.sorted();
    let heads = sorted.iter().map(|finding| {
        let place = finding.span.map_or("-".to_owned(), |span| {
            let place = sources.texts.place(span);
            format!("{}:{}:{}", place.path.trim_start_matches("content/"), place.line, place.column)
        });
        let severity = if finding.severity == Severity::Error { "" } else { "warning " };
        format!("{place} {severity}{}", finding.code)
    });
    let texts = sorted.iter().map(|finding| render(finding, &sources.texts, Style::Plain));
    (content, heads.collect(), texts.collect())
}

#[test]
fn the_good_channel_is_good() {
    let (content, heads, texts) = read(files(&[]));
    assert!(heads.is_empty(), "{}", texts.join("\n\n"));
    assert!(content.is_some());
}

#[test]
fn each_case_draws_its_findings_and_no_others() {
    let mut wrong = Vec::new();
    for Case { name, edits, expect } in CASES {
        let (content, heads, texts) = read(files(edits));
        let only_warnings = heads.iter().all(|head| head.contains(" warning "));
        if heads != *expect || content.is_some() != only_warnings {
            wrong.push(format!("{name}: {heads:#?}\n{}", texts.join("\n\n")));
        }
    }
    assert!(wrong.is_empty(), "{} of {} cases:\n\n{}", wrong.len(), CASES.len(), wrong.join("\n\n"));
}

#[test]
fn what_people_read() {
    let mut all = String::new();
    for Case { name, edits, .. } in CASES {
        let (_, _, texts) = read(files(edits));
        all.push_str(&format!("## {name}\n\n{}\n\n", texts.join("\n\n")));
    }
    insta::assert_snapshot!(all);
}

/// Codes that only a disk can draw; the tests below do.
const ON_DISK: [&str; 4] =
    [source_codes::UNREADABLE, source_codes::OUTSIDE_FOLDER, source_codes::FILE_TOO_LARGE, source_codes::NOT_UTF8];

/// Codes of what only a stranger writes; `tests/hostile.rs` draws them.
const FROM_STRANGERS: [&str; 1] = [source_codes::CONTROL_CHARACTER];

/// Codes that only a shop's list can draw; `tests/money/import.rs` does.
const IN_A_LIST: [&str; 3] = [codes::AMBIGUOUS_ITEM, codes::AMBIGUOUS_NUMBER, codes::RUNS_AS_FORMULA];

#[test]
fn every_code_has_a_case() {
    let drawn: BTreeSet<&str> = CASES
        .iter()
        .flat_map(|case| case.expect.iter())
        .filter_map(|head| head.rsplit(' ').next())
        .chain(ON_DISK)
        .chain(IN_A_LIST)
        .chain(FROM_STRANGERS)
        .collect();
    let all: BTreeSet<&str> = source_codes::ALL.iter().chain(codes::ALL).copied().collect();
    let missing: Vec<_> = all.difference(&drawn).collect();
    assert!(missing.is_empty(), "no case draws {missing:?}");
    let unknown: Vec<_> = drawn.difference(&all).collect();
    assert!(unknown.is_empty(), "no list has {unknown:?}");
}

#[test]
fn every_finding_says_what_to_do_in_the_house_style() {
    for Case { name, edits, .. } in CASES {
        let sources = Sources::from_memory("content", files(edits));
        let (_, findings) = load(&sources, &Options::default());
        for finding in findings.sorted() {
            assert!(finding.hint.is_some(), "{name}: {}", finding.message);
            assert!(!finding.message.ends_with('.'), "{name}: {}", finding.message);
            let first = finding.message.chars().next().expect("a message");
            assert!(!first.is_uppercase(), "{name}: {}", finding.message);
            let line = one_line(finding, &sources.texts);
            assert!(!line.contains('\n') && line.starts_with("content/"), "{name}: {line}");
        }
    }
}

fn codes_on_disk(root: &std::path::Path) -> Vec<&'static str> {
    let sources = Sources::read(root);
    let (content, findings) = load(&sources, &Options::default());
    assert!(content.is_none());
    findings.sorted().iter().map(|finding| finding.code).collect()
}

fn write_good(root: &std::path::Path) {
    for (path, text) in GOOD {
        let path = root.join(path);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        std::fs::write(path, text).expect("written");
    }
}

#[test]
fn a_folder_that_is_not_there_is_a_finding() {
    let folder = tempfile::tempdir().expect("a folder");
    assert_eq!(codes_on_disk(&folder.path().join("nowhere")), [source_codes::UNREADABLE]);
}

#[test]
fn a_file_that_is_too_large_is_a_finding() {
    let folder = tempfile::tempdir().expect("a folder");
    write_good(folder.path());
    let file = std::fs::File::create(folder.path().join("prices.csv")).expect("made");
    file.set_len(FILE_LIMIT + 1).expect("stretched");
    assert_eq!(codes_on_disk(folder.path()), [source_codes::FILE_TOO_LARGE]);
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_a_finding() {
    let folder = tempfile::tempdir().expect("a folder");
    let outside = tempfile::tempdir().expect("a folder");
    write_good(folder.path());
    std::fs::write(outside.path().join("recipe.md"), "secret").expect("written");
    std::os::unix::fs::symlink(outside.path(), folder.path().join("borrowed")).expect("linked");
    std::fs::remove_file(folder.path().join("prices.csv")).expect("removed");
    std::os::unix::fs::symlink(outside.path().join("recipe.md"), folder.path().join("prices.csv")).expect("linked");
    assert_eq!(codes_on_disk(folder.path()), [source_codes::OUTSIDE_FOLDER; 2]);
}

#[test]
fn bytes_that_are_not_utf8_are_a_finding_with_their_place() {
    for (path, place) in [("channel.toml", "1:9"), ("buns/recipe.md", "2:4"), ("prices.csv", "1:5")] {
        let mut files = files(&[]);
        let file = files.iter_mut().find(|(p, _)| p == path).expect("there");
        let at = match path {
            "buns/recipe.md" => 4 + 3,
            "prices.csv" => 4,
            _ => 8,
        };
        file.1.insert(at, 0xff);
        let (content, heads, _) = read(files);
        assert!(content.is_none());
        assert_eq!(heads.first().map(String::as_str), Some(format!("{path}:{place} not-utf8").as_str()), "{heads:?}");
    }
}

#[test]
fn a_lone_text_is_read_or_is_a_finding() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("captions.vtt");
    std::fs::write(&path, "WEBVTT\n\n00:01.000 --> 00:02.000\nSalt.\n").expect("written");
    let (mut texts, mut findings) = (Texts::new(""), tallyspoon::diag::Findings::new());
    let script = script::read_file(&path, &mut texts, &mut findings).expect("read");
    assert_eq!(script.words[0].text, "Salt.");
    assert!(findings.sorted().is_empty());
    assert!(script::read_file(&folder.path().join("none.vtt"), &mut texts, &mut findings).is_none());
    assert!(findings.has_errors());
}

#[test]
fn marks_and_line_endings_of_other_systems_change_nothing() {
    let plain = read(files(&[])).0.expect("good");
    for (mark, ending) in [("\u{feff}", "\n"), ("", "\r\n"), ("\u{feff}", "\r\n")] {
        let changed = files(&[]).into_iter().map(|(path, bytes)| {
            let text = String::from_utf8(bytes).expect("text").replace('\n', ending);
            (path, format!("{mark}{text}").into_bytes())
        });
        let (content, _, texts) = read(changed.collect());
        let content = content.unwrap_or_else(|| panic!("{}", texts.join("\n")));
        assert_eq!(content.recipes[0].method.steps.len(), plain.recipes[0].method.steps.len());
        let words = |content: &Content| {
            format!("{:?}", content.recipes[0].method.steps[0].text).replace(|c: char| c.is_ascii_digit(), "")
        };
        assert_eq!(words(&content), words(&plain));
        assert_eq!(content.prices.by_item.len(), plain.prices.by_item.len());
    }
}

#[test]
fn source_text_can_not_steer_a_terminal() {
    let edits = [Edit::Change("buns/recipe.md", "water = ", "\"wat\u{1b}[31mer\u{202e}\" = ")];
    let sources = Sources::from_memory("content", files(&edits));
    let (_, findings) = load(&sources, &Options::default());
    assert!(findings.has_errors());
    for finding in findings.sorted() {
        for text in [render(finding, &sources.texts, Style::Plain), one_line(finding, &sources.texts)] {
            let steers = |c: char| (c.is_control() && c != '\n') || ('\u{202a}'..='\u{202e}').contains(&c);
            assert!(!text.contains(steers), "{text:?}");
        }
    }
}

#[test]
fn deep_nesting_and_long_lines_are_survived() {
    let deep = format!("a = {}{}", "[".repeat(50_000), "]".repeat(50_000));
    let long = format!("+++\ntitle = \"{}\"\nmakse = 3\n+++\n{}", "x".repeat(200_000), "{".repeat(2_000));
    let chain: String = (0..20_000).map(|n| format!("[x{n}]\nmade-of = {{ x{} = \"100 %\" }}\n", n + 1)).collect();
    let parts: String = (0..5_000).map(|n| format!("[formula.p{n}]\np{} = \"all\"\n", n + 1)).collect();
    let parts = format!("+++\ntitle = \"It\"\n{parts}[formula.p5000]\nsalt = \"1 g\"\n+++\n");
    let numbers = GOOD[3].1.replace("Mix and bake.", &"1 ".repeat(20_000));
    for (path, text) in [
        ("pantry.toml", deep.clone()),
        ("pantry.toml", chain),
        ("prices.csv", deep),
        ("buns/recipe.md", long),
        ("buns/recipe.md", numbers),
        ("buns/recipe.md", parts),
    ] {
        let mut files = files(&[]);
        files.retain(|(p, _)| p != path);
        files.push((path.to_owned(), text.into_bytes()));
        read(files);
    }
}

/// A change of some bytes: where, how many go, what comes.
fn mutation() -> impl Strategy<Value = (usize, usize, usize, Vec<u8>)> {
    let pieces = prop::sample::select(vec![
        "{",
        "}",
        "[",
        "]",
        "\"",
        "%",
        "-",
        "1e30",
        "NaN",
        "\u{feff}",
        "\r\n",
        "+++\n",
        "## ",
        "> ",
        ",",
        "½",
        "\\",
        "= ",
        "0",
        "all",
        "to taste",
        "main",
        "{remaining water}",
        "é",
        "\0",
        "&#123;",
        "`",
        "<b>",
        "![](",
        "1/0",
        "é̂",
        "…",
    ])
    .prop_map(|piece| piece.as_bytes().to_vec());
    let bytes = prop_oneof![3 => pieces, 1 => prop::collection::vec(any::<u8>(), 0..4)];
    (0usize..GOOD.len(), any::<usize>(), 0usize..12, bytes).prop_map(|(file, at, gone, come)| (file, at, gone, come))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_make_the_reader_panic(mutations in prop::collection::vec(mutation(), 1..6)) {
        let mut files = files(&[]);
        for (file, at, gone, come) in mutations {
            let bytes = &mut files[file].1;
            let start = at % (bytes.len() + 1);
            let end = (start + gone).min(bytes.len());
            bytes.splice(start..end, come);
        }
        let (content, heads, texts) = read(files);
        prop_assert_eq!(content.is_none(), heads.iter().any(|head| !head.contains(" warning ")));
        prop_assert_eq!(heads.len(), texts.len());
    }
}
