//! A small channel in a folder of its own, and the program run on it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// The program.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_tallyspoon");

/// What a run of the program left.
pub struct Done {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// A channel of two small recipes.
pub struct Kitchen {
    dir: TempDir,
}

const SOUP: &str = r#"+++
title = "Plain soup"
makes = "3-4 bowls"
batch = "1000 g"
basis = "water"
[formula]
water = "100 %"
salt = "2 %"

[variant.spicy]
title = "With more salt"
set = { salt = "3 %" }
+++

A soup of two things.

## Stir
> Stir, {2 min}
Stir {salt} into {water} for {2 min}.

## Rest
Let it rest for {3 h}.
"#;

const TRAY: &str = r#"+++
title = "Salt tray"
[formula]
salt = "50 g"
+++

## Spread
Spread {salt}.
"#;

impl Kitchen {
    /// The channel in a new folder.
    pub fn new() -> Self {
        let kitchen = Self { dir: TempDir::new().expect("a folder") };
        let channel = "name = \"Test Kitchen\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n";
        kitchen.write("content/channel.toml", channel);
        kitchen.write("content/pantry.toml", "");
        kitchen.write(
            "content/prices.csv",
            "date,item,pack,price,place,note\n2026-03-02,salt,500 g,0.89,market,\n2026-03-02,water,1 L,0,,\n",
        );
        kitchen.write("content/soup/recipe.md", SOUP);
        kitchen.write("content/tray/recipe.md", TRAY);
        kitchen
    }

    /// The same with one small frame, so that a run is short.
    pub fn small() -> Self {
        let kitchen = Self::new();
        kitchen.write(
            "content/channel.toml",
            "name = \"Test Kitchen\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n[frame.small]\nsize = \"640x360\"\n",
        );
        kitchen
    }

    /// A path beside the channel.
    pub fn path(&self, name: &str) -> PathBuf {
        self.dir.path().join(name)
    }

    /// The channel's folder.
    pub fn content(&self) -> String {
        self.path("content").to_string_lossy().into_owned()
    }

    /// Writes a file beside the channel.
    pub fn write(&self, path: &str, text: &str) {
        let path = self.path(path);
        fs::create_dir_all(path.parent().expect("a folder")).expect("can be made");
        fs::write(path, text).expect("can be written");
    }

    /// Replaces a text that must be in a source of the channel.
    pub fn edit(&self, path: &str, from: &str, to: &str) {
        let path = format!("content/{path}");
        let text = fs::read_to_string(self.path(&path)).expect("can be read");
        assert!(text.contains(from), "`{from}` is not in {path}");
        self.write(&path, &text.replace(from, to));
    }

    /// The command, not yet run, in the folder beside the channel.
    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(PROGRAM);
        command.args(arguments).current_dir(self.dir.path()).stdin(Stdio::null()).env("NO_COLOR", "1");
        command
    }

    /// Runs the program on the channel.
    pub fn run(&self, arguments: &[&str]) -> Done {
        finish(self.command(arguments))
    }

    /// Runs the program away from the channel.
    pub fn run_bare(&self, arguments: &[&str]) -> Done {
        let mut command = self.command(arguments);
        command.current_dir(Path::new("/"));
        finish(command)
    }

    /// Runs the program with standard output that nobody reads.
    pub fn run_with_closed_output(&self, arguments: &[&str]) -> (i32, String) {
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let done = self.command(arguments).stdout(writer).stderr(Stdio::piped()).output().expect("it runs");
        (done.status.code().unwrap_or(-1), String::from_utf8_lossy(&done.stderr).into_owned())
    }
}

fn finish(mut command: Command) -> Done {
    let done = command.output().expect("the program runs");
    Done {
        code: done.status.code().unwrap_or(-1),
        out: String::from_utf8(done.stdout).expect("UTF-8"),
        err: String::from_utf8(done.stderr).expect("UTF-8"),
    }
}
