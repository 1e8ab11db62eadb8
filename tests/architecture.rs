//! Holds the plan of the house against the code: floors, file sizes, openings, floats, the disk and the top level.
//! Reads the sources as tokens, so that a comment or a text can neither break nor satisfy a rule.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Floors, lowest first; a module may import only from floors below its own.
const FLOORS: &[(u8, &[&str])] = &[
    (0, &["exact", "span", "draft"]),
    (1, &["diag"]),
    (2, &["source", "locale"]),
    (3, &["model"]),
    (4, &["measure"]),
    (5, &["batch"]),
    (6, &["cost"]),
    (7, &["sheet", "draw"]),
    (8, &["theme", "template", "slate", "cue", "film"]),
    (9, &["cards", "notes", "page", "proof", "workbook", "timeline"]),
    (10, &["publish", "motion"]),
    (11, &["desk"]),
    (12, &["studio"]),
    (12, &["studio"]),
    (13, &["cli"]),
];

/// What stands on no floor: the program's one call into the library, and what runs before it is built.
const OUTSIDE: &[&str] = &["main", "build"];
/// Where pixels are placed, and where a spreadsheet is handed its numbers.
const FLOATS: &[&str] = &["draw", "cards", "theme", "motion", "workbook"];
/// Who may read or write files, run other programs, or look at the environment.
const DISK: &[&str] = &["draft", "source", "publish", "film", "desk", "studio", "cli"];
/// What may stand at the top level beside dotfiles and what `.gitignore` names.
const TOP: &[&str] =
    &["Cargo.toml", "Cargo.lock", "README.md", "DEVELOPERS.md", "src", "themes", "content", "tests", "LICENSE"];

/// What of the proof may name words in small letters: the language's own tables, and what writes a report or a document,
/// whose words are of the report.
const NAMES_WORDS: &[&str] = &["english", "aside", "claim", "digits", "document", "report", "tests", "web"];

fn floor(module: &str) -> Option<u8> {
    FLOORS.iter().find(|(_, names)| names.contains(&module)).map(|(floor, _)| *floor)
}

/// A token: a name, a number or a punctuation mark; comments, strings and lifetimes are gone.
#[derive(Clone, Debug, PartialEq)]
struct Token {
    text: String,
    line: usize,
}

fn lex(source: &str) -> Vec<Token> {
    let chars: Vec<char> = source.chars().collect();
    let at = |i: usize| chars.get(i).copied().unwrap_or('\0');
    let (mut tokens, mut i, mut line) = (Vec::<Token>::new(), 0, 1);
    while i < chars.len() {
        let start = i;
        match at(i) {
            '/' if at(i + 1) == '/' => {
                while i < chars.len() && at(i) != '\n' {
                    i += 1;
                }
            }
            '/' if at(i + 1) == '*' => {
                let mut depth = 0;
                loop {
                    match (at(i), at(i + 1)) {
                        ('/', '*') => (depth, i) = (depth + 1, i + 2),
                        ('*', '/') => (depth, i) = (depth - 1, i + 2),
                        _ => i += 1,
                    }
                    if depth == 0 || i >= chars.len() {
                        break;
                    }
                }
            }
            '"' => i = skip_string(&chars, i),
            '\'' if at(i + 1) == '\\' || at(i + 2) == '\'' => {
                i += 2;
                while i < chars.len() && (at(i) != '\'' || at(i - 1) == '\\' && at(i - 2) != '\\') {
                    i += 1;
                }
                i += 1;
            }
            c if c.is_alphabetic() || c == '_' => {
                while at(i).is_alphanumeric() || at(i) == '_' {
                    i += 1;
                }
                let word: String = chars[start..i].iter().collect();
                let hashes = (i..).take_while(|&j| at(j) == '#').count();
                if matches!(word.as_str(), "r" | "br") && at(i + hashes) == '"' {
                    let close: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', hashes)).collect();
                    i += hashes + 1;
                    while i < chars.len() && !chars[i..].starts_with(&close) {
                        i += 1;
                    }
                    i += close.len();
                } else if !(matches!(word.as_str(), "b" | "c") && matches!(at(i), '"' | '\'')) {
                    tokens.push(Token { text: word, line });
                }
            }
            c if c.is_ascii_digit() => {
                let index = tokens.last().is_some_and(|t| t.text == ".");
                while at(i).is_alphanumeric()
                    || at(i) == '_'
                    || (!index && at(i) == '.' && at(i + 1).is_ascii_digit() && !chars[start..i].contains(&'.'))
                {
                    i += 1;
                }
                tokens.push(Token { text: chars[start..i].iter().collect(), line });
            }
            ':' if at(i + 1) == ':' => {
                tokens.push(Token { text: "::".to_owned(), line });
                i += 2;
            }
            c => {
                if !c.is_whitespace() {
                    tokens.push(Token { text: c.to_string(), line });
                }
                i += 1;
            }
        }
        line += chars[start..i.min(chars.len())].iter().filter(|&&c| c == '\n').count();
    }
    tokens
}

fn skip_string(chars: &[char], open: usize) -> usize {
    let mut i = open + 1;
    while i < chars.len() && chars[i] != '"' {
        i += if chars[i] == '\\' { 2 } else { 1 };
    }
    i + 1
}

/// Modules at the crate's root that the tokens of a file name, with the line.
///
/// `module` is the path of the file's module, such as `["sheet", "figure"]`.
fn imports(tokens: &[Token], module: &[String], root: &str) -> BTreeSet<(String, usize)> {
    let text = |i: usize| tokens.get(i).map_or("", |t| t.text.as_str());
    let mut found = BTreeSet::new();
    let (mut depth, mut inline) = (0_usize, Vec::<usize>::new());
    let mut i = 0;
    while i < tokens.len() {
        match text(i) {
            "{" => {
                depth += 1;
                if i >= 2 && text(i - 2) == "mod" {
                    inline.push(depth);
                }
            }
            "}" => {
                if inline.last() == Some(&depth) {
                    inline.pop();
                }
                depth = depth.saturating_sub(1);
            }
            word if word == root && text(i + 1) == "::" => roots_after(tokens, i + 2, &mut found),
            "super" if text(i + 1) == "::" && (i == 0 || text(i - 1) != "::") => {
                let mut supers = 0;
                while text(i) == "super" && text(i + 1) == "::" {
                    (supers, i) = (supers + 1, i + 2);
                }
                if supers >= module.len() + inline.len() {
                    roots_after(tokens, i, &mut found);
                }
                continue;
            }
            _ => {}
        }
        i += 1;
    }
    found
}

/// The names at `i`: one, or each first name of a braced group.
fn roots_after(tokens: &[Token], i: usize, found: &mut BTreeSet<(String, usize)>) {
    let Some(first) = tokens.get(i) else { return };
    if first.text != "{" {
        found.insert((first.text.clone(), first.line));
        return;
    }
    let (mut depth, mut fresh) = (0, true);
    for token in &tokens[i..] {
        match token.text.as_str() {
            "{" => depth += 1,
            "}" => depth -= 1,
            "," => fresh = depth == 1,
            _ if fresh => {
                found.insert((token.text.clone(), token.line));
                fresh = false;
            }
            _ => {}
        }
        if depth == 0 {
            return;
        }
    }
}

struct File {
    path: PathBuf,
    module: Vec<String>,
    text: String,
    tokens: Vec<Token>,
}

fn files() -> Vec<File> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    let mut folders = vec![root.clone()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("src can be listed") {
            let path = entry.expect("src can be listed").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                paths.push(path);
            }
        }
    }
    paths.sort();
    let read = |path: PathBuf| {
        let inside = path.strip_prefix(&root).expect("found under src").with_extension("");
        let mut module: Vec<String> = inside.iter().map(|p| p.to_string_lossy().into_owned()).collect();
        module.retain(|name| name != "mod" && name != "lib");
        let text = fs::read_to_string(&path).expect("sources are UTF-8");
        File { tokens: lex(&text), path, module, text }
    };
    paths.into_iter().map(read).collect()
}

fn report(rule: &str, faults: Vec<String>) {
    assert!(faults.is_empty(), "{rule}:\n  {}", faults.join("\n  "));
}

/// What a file imports that is not below it.
fn uphill(module: &[String], tokens: &[Token]) -> Vec<String> {
    let Some(own) = module.first() else { return Vec::new() };
    if OUTSIDE.contains(&own.as_str()) {
        let names = imports(tokens, module, "tallyspoon");
        return names.into_iter().filter(|(n, _)| n != "cli").map(|(n, l)| format!("{l}: {own} knows {n}")).collect();
    }
    let Some(height) = floor(own) else { return vec![format!("1: `{own}` has no floor")] };
    imports(tokens, module, "crate")
        .into_iter()
        .filter(|(name, _)| name != own && floor(name).is_none_or(|below| below >= height))
        .map(|(name, line)| format!("{line}: {own} knows {name}"))
        .collect()
}

#[test]
fn a_module_imports_only_from_floors_below() {
    let faults = files()
        .iter()
        .flat_map(|f| uphill(&f.module, &f.tokens).into_iter().map(|u| format!("{}:{u}", f.path.display())))
        .collect();
    report("imports run downhill", faults);
}

#[test]
fn every_file_says_what_it_owns_and_fits() {
    let mut faults = Vec::new();
    for file in files() {
        let (name, lines) = (file.path.display(), file.text.lines().count());
        if !file.text.starts_with("//! ") {
            faults.push(format!("{name} does not open with what it owns"));
        }
        if lines >= 600 {
            faults.push(format!("{name} has {lines} lines"));
        }
    }
    report("files open with `//!` and stay under 600 lines", faults);
}

/// Lines of the tokens that break a rule on what code may name.
fn forbidden(module: &str, tokens: &[Token]) -> Vec<String> {
    let text = |i: usize| tokens.get(i).map_or("", |t| t.text.as_str());
    let mut faults = Vec::new();
    for (i, token) in tokens.iter().enumerate() {
        let word = token.text.as_str();
        let real = word.starts_with(|c: char| c.is_ascii_digit()) && word.contains('.');
        let rule = if word == "allow" && text(i + 1) == "(" && matches!(text(i.wrapping_sub(1)), "[" | ",") {
            "silences a lint with `allow`; use `expect` with a reason"
        } else if (real || matches!(word, "f32" | "f64")) && !FLOATS.contains(&module) {
            "is a float"
        } else if matches!(word, "fs" | "env" | "net" | "process")
            && text(i.wrapping_sub(1)) == "::"
            && text(i.wrapping_sub(2)) == "std"
            && !DISK.contains(&module)
            && !OUTSIDE.contains(&module)
        {
            "touches the disk, the network or the environment"
        } else if (matches!(word, "SystemTime" | "Instant") || word == "now" && text(i.wrapping_sub(1)) == "::")
            && !DISK.contains(&module)
        {
            "looks at the clock"
        } else if matches!(word, "println" | "eprintln" | "print" | "eprint")
            && text(i + 1) == "!"
            && !["cli", "build"].contains(&module)
        {
            "prints"
        } else {
            continue;
        };
        faults.push(format!("{}: `{word}` {rule}", token.line));
    }
    faults
}

#[test]
fn floats_files_and_lints_stay_where_they_belong() {
    let mut faults = Vec::new();
    for file in files() {
        let module = file.module.first().map_or("", String::as_str);
        faults.extend(forbidden(module, &file.tokens).into_iter().map(|f| format!("{}:{f}", file.path.display())));
    }
    report("code stays in its room", faults);
}

#[test]
fn what_reads_a_script_names_no_word_of_a_language() {
    let mut faults = Vec::new();
    let reads = |file: &File| {
        let [proof, rest @ ..] = file.module.as_slice() else { return false };
        proof == "proof" && !rest.iter().any(|name| NAMES_WORDS.contains(&name.as_str()))
    };
    let mut seen = 0;
    for file in files().into_iter().filter(reads) {
        seen += 1;
        let code = file.text.split("#[cfg(test)]").next().unwrap_or_default();
        for (line, text) in code.lines().enumerate().filter(|(_, text)| !text.trim_start().starts_with("//")) {
            let words = text.split('"').skip(1).step_by(2);
            let named = words.filter(|word| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase()));
            faults.extend(named.map(|word| format!("{}:{}: {word}", file.path.display(), line + 1)));
        }
    }
    assert!(seen > 40, "{seen} files read a script");
    report("words stand in the language's own tables", faults);
}

#[test]
fn the_top_level_holds_only_what_the_plan_names() {
    let ignored = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(".gitignore")).expect("there is one");
    let ignored: Vec<&str> = ignored.lines().map(|l| l.trim_matches('/')).collect();
    let entries = fs::read_dir(env!("CARGO_MANIFEST_DIR")).expect("the top level can be listed");
    let faults = entries
        .map(|e| e.expect("the top level can be listed").file_name().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with('.') && !TOP.contains(&name.as_str()) && !ignored.contains(&name.as_str()))
        .collect();
    report("the top level is fixed", faults);
}

#[test]
fn every_floor_is_lived_in() {
    let lived: BTreeSet<String> = files().into_iter().filter_map(|f| f.module.first().cloned()).collect();
    let empty = FLOORS.iter().flat_map(|(_, names)| *names).filter(|n| !lived.contains(**n));
    report("the table names only modules that exist", empty.map(|n| (*n).to_owned()).collect());
}

/// The rules above can fail: each of these breaks one.
#[test]
fn faults_are_seen() {
    let path = |p: &str| p.split('/').map(str::to_owned).collect::<Vec<_>>();
    let up = |module: &str, code: &str| uphill(&path(module), &lex(code)).len();
    assert_eq!(up("model", "use crate::sheet::Sheet;"), 1);
    assert_eq!(up("model", "use crate::{exact::Exact, source::{A, cost::B}, batch};"), 1);
    assert_eq!(up("cards/cost", "fn f() { crate::notes::write() }"), 1);
    assert_eq!(up("cards", "use super::publish::run;"), 1);
    assert_eq!(up("cards/cost", "use super::super::page::x;"), 1);
    assert_eq!(up("cards", "mod tests { use super::notes; }"), 0);
    assert_eq!(up("cards", "// crate::notes\n/* crate::page */ const A: &str = \"crate::cli\"; use crate::sheet;"), 0);
    assert_eq!(up("cards", "const A: &str = r#\"crate::\"notes\"#; const Q: char = '\"'; use crate::page;"), 1);
    assert_eq!(up("attic", "fn f() {}"), 1);
    assert_eq!(up("main", "use tallyspoon::publish;"), 1);
    let bad = |module: &str, code: &str| forbidden(module, &lex(code)).len();
    assert_eq!(bad("exact", "#[allow(dead_code)] fn f() {}"), 1);
    assert_eq!(bad("exact", "fn f(x: f64) {}"), 1);
    assert_eq!(bad("batch", "let x = 0.5; let y = pair.0.1;"), 1);
    assert_eq!(bad("draw", "let x: f32 = 0.5;"), 0);
    assert_eq!(bad("notes", "std::fs::write(a, b)"), 1);
    assert_eq!(bad("page", "jiff::Zoned::now()"), 1);
    assert_eq!(bad("sheet", "println!(\"\")"), 1);
}
