//! Before the program is built: what it can say of its own making. The same commit, compiler and target say the same, so
//! a build can be had again byte for byte. Must not know the program.

use std::env;
use std::fs;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::{Path, PathBuf};
use std::process::Command;

/// What the program is made of.
const SOURCES: [&str; 4] = ["Cargo.lock", "Cargo.toml", "src", "themes"];

fn main() {
    let told = |name: &str| env::var(name).unwrap_or_default();
    let release = told("PROFILE") == "release";
    // While one works on it, a commit says nothing, and asking for it would build everything anew after each.
    let commit = if release { commit() } else { "a working copy".to_owned() };
    let compiler = line(&mut Command::new(told("RUSTC")), &["--version"]).unwrap_or_else(|| "rustc".into());
    SOURCES.iter().for_each(|source| println!("cargo:rerun-if-changed={source}"));
    println!("cargo:rustc-env=TALLYSPOON_SOURCES={:016x}", digest(&format!("{compiler} {}", told("TARGET"))));
    println!("cargo:rustc-env=TALLYSPOON_BUILD=from {commit}, by {compiler}, for {}", told("TARGET"));
}

/// The commit that is built, told by the repository or by the package that was made of it.
fn commit() -> String {
    if let Ok(package) = fs::read_to_string(".cargo_vcs_info.json") {
        let sha = package.split('"').skip_while(|word| *word != "sha1").nth(2).unwrap_or("an unknown commit");
        return sha.chars().take(12).collect();
    }
    for file in ["HEAD", "index"] {
        if let Some(path) = line(&mut Command::new("git"), &["rev-parse", "--git-path", file]) {
            println!("cargo:rerun-if-changed={path}");
        }
    }
    let Some(sha) = line(&mut Command::new("git"), &["rev-parse", "--short=12", "HEAD"]) else {
        return "an unknown commit".into();
    };
    match line(&mut Command::new("git"), &["--no-optional-locks", "status", "--porcelain", "--untracked-files=no"]) {
        None => sha,
        Some(_) => format!("{sha} with changes"),
    }
}

/// Tells apart programs that may draw differently: by all that they are made of, by what and for what.
fn digest(compiler: &str) -> u64 {
    let mut files = Vec::new();
    SOURCES.iter().for_each(|source| gather(Path::new(source), &mut files));
    files.sort();
    let mut hasher = DefaultHasher::new();
    compiler.hash(&mut hasher);
    for file in files {
        let bytes = fs::read(&file).unwrap_or_else(|error| panic!("cannot read `{}`: {error}", file.display()));
        (file, bytes).hash(&mut hasher);
    }
    hasher.finish()
}

/// Every file at a path or below it; what is not there is none.
fn gather(path: &Path, files: &mut Vec<PathBuf>) {
    match fs::read_dir(path) {
        Ok(entries) => entries.flatten().for_each(|entry| gather(&entry.path(), files)),
        Err(_) if path.is_file() => files.push(path.to_owned()),
        Err(_) => {}
    }
}

/// The first line that a program says, where it says one.
fn line(program: &mut Command, given: &[&str]) -> Option<String> {
    let said = program.args(given).output().ok().filter(|said| said.status.success())?;
    let text = String::from_utf8(said.stdout).ok()?;
    text.lines().next().filter(|line| !line.is_empty()).map(str::to_owned)
}
