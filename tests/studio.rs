//! The studio as whole processes on the loopback address, asked over plain sockets: who is let in, what is written and
//! what never is, and how it closes.

use serde_json::{Value, json};
use std::fs;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const CHANNEL: &str = "name = \"Quay Larder\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\n[frame.small]\nsize = \"640x360\"\nsafe = \"5 %\"\n";
const RECIPE: &str = "+++\ntitle = \"Slipway loaf\"\nmakes = \"2 loaves\"\nbatch = \"500 g\"\n[formula]\nplain-flour = \"100 %\"\nwater = \"62 %\"\nsalt = \"2 %\"\n+++\n\n## Mix\nMix {plain-flour}, {water} and {salt}.\n";
const BOOK: &str = "date,item,pack,price,place,note\n2026-03-02,plain-flour,1 kg,1.20,corner shop,\n";

/// A studio at work on a channel of its own.
struct Open {
    child: Child,
    port: u16,
    key: String,
    dir: tempfile::TempDir,
}

/// An answer.
struct Answer {
    status: u16,
    head: String,
    body: Vec<u8>,
}

impl Answer {
    fn json(&self) -> Value {
        serde_json::from_slice(&self.body).expect("the studio answers in JSON")
    }
}

fn tallyspoon() -> Command {
    Command::new(env!("CARGO_BIN_EXE_tallyspoon"))
}

fn channel() -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    let content = dir.path().join("content");
    fs::create_dir_all(content.join("slipway-loaf")).expect("room");
    fs::write(content.join("channel.toml"), CHANNEL).expect("room");
    fs::write(content.join("prices.csv"), BOOK).expect("room");
    fs::write(content.join("slipway-loaf/recipe.md"), RECIPE).expect("room");
    dir
}

impl Open {
    fn on(dir: tempfile::TempDir) -> Self {
        let mut command = tallyspoon();
        command.arg("studio").arg("--no-open").arg("--content").arg(dir.path().join("content"));
        command.arg("--out").arg(dir.path().join("out"));
        let mut child =
            command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::piped()).spawn().expect("it starts");
        let mut lines = BufReader::new(child.stderr.take().expect("piped")).lines();
        let line = lines.next().expect("it tells its address").expect("UTF-8");
        // Whatever else it tells must not fill the pipe.
        std::thread::spawn(move || lines.for_each(drop));
        let address = line.split("http://127.0.0.1:").nth(1).expect("the loopback address").to_owned();
        let (port, key) = address.trim_end_matches('/').split_once('/').expect("a key");
        Self { child, port: port.parse().expect("a port"), key: key.to_owned(), dir }
    }

    fn new() -> Self {
        Self::on(channel())
    }

    fn content(&self) -> PathBuf {
        self.dir.path().join("content")
    }

    /// Sends a request as it is written and reads all that comes back.
    fn raw(&self, text: &str) -> Answer {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("it listens");
        stream.set_read_timeout(Some(Duration::from_secs(60))).expect("a timeout");
        // A refusal may come before all was sent.
        let _ = stream.write_all(text.as_bytes());
        let mut bytes = Vec::new();
        let _ = stream.read_to_end(&mut bytes);
        let split = bytes.windows(4).position(|four| four == b"\r\n\r\n").expect("a head");
        let head = String::from_utf8_lossy(&bytes[..split]).into_owned();
        let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).expect("a status");
        Answer { status, head: head.to_lowercase(), body: bytes[split + 4..].to_vec() }
    }

    fn get(&self, path: &str) -> Answer {
        let (key, port) = (&self.key, self.port);
        self.raw(&format!("GET /{key}/{path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n"))
    }

    fn post(&self, path: &str, body: &Value) -> Answer {
        let origin = format!("Origin: http://127.0.0.1:{}\r\nContent-Type: application/json\r\n", self.port);
        self.post_with(path, &origin, &body.to_string())
    }

    fn post_with(&self, path: &str, headers: &str, body: &str) -> Answer {
        let (key, port, length) = (&self.key, self.port, body.len());
        self.raw(&format!(
            "POST /{key}/{path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\nContent-Length: {length}\r\n{headers}\r\n{body}"
        ))
    }

    /// How it ended, once it does.
    fn ended(&mut self) -> Option<i32> {
        let begun = Instant::now();
        while begun.elapsed() < Duration::from_secs(10) {
            if let Some(status) = self.child.try_wait().expect("it can be asked") {
                return status.code();
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        None
    }
}

impl Drop for Open {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn kept(content: &Path) -> Vec<PathBuf> {
    let folder = content.join(".tallyspoon.kept");
    let entries = fs::read_dir(folder).map(|list| list.map(|entry| entry.expect("an entry").path()).collect());
    let mut copies: Vec<PathBuf> = entries.unwrap_or_default();
    copies.retain(|path| path.file_name().is_some_and(|name| name != ".gitignore"));
    copies
}

#[test]
fn only_who_has_the_address_is_let_in() {
    let open = Open::new();
    let (key, port) = (&open.key, open.port);
    assert_eq!(key.len(), 64);
    let page = open.get("");
    assert_eq!(page.status, 200);
    for header in [
        "content-security-policy: default-src 'none'; script-src 'self'",
        "x-content-type-options: nosniff",
        "referrer-policy: no-referrer",
        "x-frame-options: deny",
        "cross-origin-resource-policy: same-origin",
        "cache-control: no-store",
    ] {
        assert!(page.head.contains(header), "{header} is not in {}", page.head);
    }
    assert!(!page.head.contains("access-control"));
    let status = |request: &str| open.raw(request).status;
    let close = "Connection: close\r\n\r\n";
    assert_eq!(status(&format!("GET /{key}/state HTTP/1.1\r\nHost: rebound.example:{port}\r\n{close}")), 421);
    assert_eq!(
        status(&format!(
            "GET /{key}/state HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nOrigin: http://other.example\r\n{close}"
        )),
        403
    );
    assert_eq!(status(&format!("GET /state HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n{close}")), 404);
    assert_eq!(status(&format!("GET /{}/state HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n{close}", "0".repeat(64))), 404);
    assert_eq!(
        status(&format!("PUT /{key}/save HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nContent-Length: 0\r\n{close}")),
        405
    );
    assert_eq!(open.post_with("close", "Content-Type: application/json\r\n", "{}").status, 403);
    let own = format!("Origin: http://127.0.0.1:{port}\r\n");
    assert_eq!(open.post_with("close", &own, "{}").status, 415);
    assert_eq!(open.post_with("close", &format!("{own}Content-Type: text/plain\r\n"), "{}").status, 415);
    let json = format!("{own}Content-Type: application/json\r\n");
    assert_eq!(open.post_with("check", &json, &"x".repeat((4 << 20) + 1)).status, 413);
    assert_eq!(open.post_with("check", &json, "{").status, 422);
    assert_eq!(open.get("state").status, 200, "none of that closed it");
}

#[test]
fn it_listens_on_the_loopback_address_alone() {
    let open = Open::new();
    let table = fs::read_to_string("/proc/net/tcp").unwrap_or_default();
    // `0100007F` is 127.0.0.1 in the kernel's table, `0A` a listening socket (man 5 proc).
    let port = format!(":{:04X}", open.port);
    let listening = table.lines().filter(|line| line.split_whitespace().nth(3) == Some("0A"));
    let own: Vec<&str> =
        listening.filter_map(|line| line.split_whitespace().nth(1)).filter(|at| at.ends_with(&port)).collect();
    assert_eq!(own, [format!("0100007F{port}")]);
}

#[test]
fn a_text_is_saved_only_as_it_was_seen_and_the_old_one_kept() {
    let open = Open::new();
    let path = open.content().join("slipway-loaf/recipe.md");
    let there = open.get("text?path=slipway-loaf%2Frecipe.md").json();
    assert_eq!(there["text"], RECIPE);
    let after = RECIPE.replace("62 %", "65 %");
    let stale = open.post("save", &json!({ "path": "slipway-loaf/recipe.md", "text": after, "seen": "0" }));
    assert_eq!(stale.status, 409);
    assert_eq!(fs::read_to_string(&path).expect("there"), RECIPE);
    assert!(kept(&open.content()).is_empty(), "what was not replaced is not kept");
    let saved = open.post("save", &json!({ "path": "slipway-loaf/recipe.md", "text": after, "seen": there["seen"] }));
    assert_eq!(saved.status, 200);
    assert_eq!(fs::read_to_string(&path).expect("there"), after);
    let copies = kept(&open.content());
    assert_eq!(copies.len(), 1);
    assert_eq!(fs::read_to_string(&copies[0]).expect("there"), RECIPE);
    let again = open.post("save", &json!({ "path": "slipway-loaf/recipe.md", "text": RECIPE, "seen": there["seen"] }));
    assert_eq!(again.status, 409, "what was seen before the last edit is stale");
    assert_eq!(open.get("state").json()["problems"].as_array().map(Vec::len), Some(0), "copies trouble nobody");
}

#[test]
fn what_is_to_be_mended_can_be_opened_and_what_is_typed_is_checked_whole() {
    let open = Open::new();
    let checked = |text: &str| open.post("check", &json!({ "path": "channel.toml", "text": text })).json();
    assert_eq!(checked(CHANNEL)["findings"], json!([]));
    let found = checked(&format!("theme = \"nope\"\n{CHANNEL}"));
    assert!(found.to_string().contains("nope"), "{found}");
    let path = "slipway-loaf/recipe.md";
    let wrong = RECIPE.replace("62 %", "62\u{202e} %");
    fs::write(open.content().join(path), &wrong).expect("room");
    let there = open.get(&format!("text?path={path}"));
    assert_eq!((there.status, &there.json()["text"]), (200, &json!(wrong)));
    let seen = there.json()["seen"].clone();
    assert_eq!(open.post("save", &json!({ "path": path, "text": RECIPE, "seen": seen })).status, 200);
    fs::write(open.content().join("slipway-loaf/notes.md"), [0xff, 0xfe]).expect("room");
    assert_eq!(open.get("text?path=slipway-loaf/notes.md").status, 422, "what is no text can't be edited");
}

#[test]
fn no_path_leads_out_of_the_channel() {
    let open = Open::new();
    fs::write(open.dir.path().join("secret.toml"), "mine = 1").expect("room");
    for path in
        ["../secret.toml", "/etc/passwd", "slipway-loaf/../../secret.toml", "slipway-loaf", "", ".tallyspoon.kept/x"]
    {
        let seen: String = path.bytes().map(|byte| format!("%{byte:02X}")).collect();
        assert_eq!(open.get(&format!("text?path={seen}")).status, 422, "{path}");
        let told = open.post("save", &json!({ "path": path, "text": "x", "seen": "" }));
        assert_eq!(told.status, 422, "{path}");
        if path == "slipway-loaf" {
            // A folder is no source, but it is a recipe.
            continue;
        }
        assert_eq!(open.get(&format!("view?frame=small&recipe={seen}")).status, 422, "{path}");
        assert_eq!(open.get(&format!("card.png?frame=small&recipe={seen}")).status, 422, "{path}");
        assert_eq!(open.post("slate", &json!({ "recipe": path })).status, 422, "{path}");
        assert_eq!(open.post("proof", &json!({ "recipe": path })).status, 422, "{path}");
    }
    assert_eq!(fs::read_to_string(open.dir.path().join("secret.toml")).expect("there"), "mine = 1");
    for path in ["../state", "%2e%2e/state", "channel.toml", "themes/art/list.svg"] {
        assert_eq!(open.get(path).status, 404, "{path}");
    }
}

#[test]
fn a_price_is_written_as_the_command_writes_it() {
    let open = Open::new();
    let twin = channel();
    let content = twin.path().join("content");
    let mut command = tallyspoon();
    command.args([
        "prices",
        "add",
        "salt",
        "750 g",
        "0.89",
        "--on",
        "2026-04-01",
        "--place",
        "market, hall",
        "--offer",
    ]);
    assert!(command.arg("--content").arg(&content).stdout(Stdio::null()).status().expect("it runs").success());
    let expected = fs::read(content.join("prices.csv")).expect("there");
    let seen = open.get("prices").json()["seen"].clone();
    let mut price = json!({ "item": "salt", "pack": "750 g", "price": "0.8 9", "on": "2026-04-01", "place": "market, hall", "offer": true, "seen": seen });
    assert_eq!(open.post("price", &price).status, 422);
    price["price"] = json!("0.89");
    price["seen"] = json!("stale");
    assert_eq!(open.post("price", &price).status, 409);
    let book = open.content().join("prices.csv");
    assert_eq!(fs::read_to_string(&book).expect("there"), BOOK, "nothing is written on any fault");
    price["seen"] = seen;
    assert_eq!(open.post("price", &price).status, 200);
    assert_eq!(fs::read(&book).expect("there"), expected);
    assert_eq!(fs::read_to_string(&kept(&open.content())[0]).expect("there"), BOOK);
    assert_eq!(open.post("price", &price).status, 422, "the same purchase is not written twice");
}

#[test]
fn an_edit_is_told_and_the_card_follows() {
    let open = Open::new();
    let mut news = TcpStream::connect(("127.0.0.1", open.port)).expect("it listens");
    news.set_read_timeout(Some(Duration::from_secs(30))).expect("a timeout");
    let (key, port) = (&open.key, open.port);
    write!(news, "GET /{key}/events HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n").expect("it reads");
    let mut lines = BufReader::new(news).lines();
    let mut next = |word: &str| loop {
        let line = lines.next().expect("it goes on").expect("UTF-8");
        if line.contains(word) {
            return line;
        }
    };
    assert!(next("data:").contains("hello"));
    let picture = |name: &str| open.get(&format!("card.png?recipe=slipway-loaf&frame=small&card={name}"));
    let before = picture("weigh-out");
    assert_eq!((before.status, &before.body[1..4]), (200, b"PNG".as_slice()));
    assert_eq!(picture("none").status, 404);
    let path = open.content().join("slipway-loaf/recipe.md");
    fs::write(&path, RECIPE.replace("62 %", "70 %")).expect("room");
    assert!(next("sources").contains("\"broken\":false"));
    assert_ne!(picture("weigh-out").body, before.body);
    fs::write(&path, RECIPE.replace("62 %", "70 blobs")).expect("room");
    assert!(next("sources").contains("\"broken\":true"));
    let state = open.get("state").json();
    assert_eq!(state["problems"][0]["place"]["path"], "slipway-loaf/recipe.md");
    assert_eq!(state["problems"][0]["place"]["line"], 7);
    assert_eq!(picture("weigh-out").status, 200, "the last good card stays in sight");
    let draft = json!({ "path": "slipway-loaf/recipe.md", "text": RECIPE });
    assert_eq!(open.post("check", &draft).json()["findings"], json!([]));
    assert!(fs::read_to_string(&path).expect("there").contains("blobs"), "what is typed is not written");
}

#[test]
fn what_is_shown_is_what_the_commands_say() {
    let open = Open::new();
    let said = |arguments: &[&str]| {
        let output = tallyspoon().args(arguments).arg("--content").arg(open.content()).output().expect("it runs");
        String::from_utf8(output.stdout).expect("UTF-8")
    };
    let notes = open.get("notes?recipe=slipway-loaf&times=3").json();
    assert_eq!(notes["text"], said(&["notes", "slipway-loaf", "--times", "3"]));
    let view = open.get("view?recipe=slipway-loaf&frame=small&makes=7").json();
    let figures: Value =
        serde_json::from_str(&said(&["figures", "slipway-loaf", "--makes", "7", "--json"])).expect("JSON");
    assert_eq!(view["sheet"]["parts"][0]["lines"][1]["amount"], figures["lines"][1]["shown"]);
    let refused = open.get("view?recipe=slipway-loaf&frame=small&makes=none");
    assert_eq!(refused.status, 422);
    assert!(!refused.json()["error"].as_str().expect("words").contains("--"), "fields have no dashes");
    let asked =
        json!({ "recipe": "slipway-loaf", "frame": "small", "changes": [{ "item": "plain-flour", "change": "+50%" }] });
    let moved = open.post("what-if", &asked).json();
    assert_eq!(moved["recipes"][0]["total"], json!({ "from": "€0.60", "to": "€0.90" }));
    assert!(moved["cards"].as_array().is_some_and(|cards| cards.contains(&json!("cost"))));
    let captions = "WEBVTT\n\n00:01.000 --> 00:04.000\nThree hundred and fifty grams of water.\n";
    let spoken = open.post("proof", &json!({ "recipe": "slipway-loaf", "name": "take.vtt", "text": captions })).json();
    assert_eq!(spoken["proof"]["claims"][0]["verdict"], "differs");
    assert_eq!(spoken["proof"]["claims"][0]["expected_shown"], "310 g");
    assert_eq!(open.post("slate", &json!({ "recipe": "slipway-loaf", "day": "2026-05-05" })).status, 200);
    assert!(open.content().join("slipway-loaf/slates/2026-05-05.toml").is_file());
    assert_eq!(open.post("publish", &json!({})).status, 200);
    assert!(open.dir.path().join("out/index.html").is_file());
}

#[test]
fn it_closes_when_it_is_told_to() {
    let mut open = Open::new();
    assert_eq!(open.post("close", &json!({})).status, 200);
    assert_eq!(open.ended(), Some(0));
    #[cfg(unix)]
    for signal in ["-TERM", "-INT"] {
        let mut open = Open::new();
        // Somebody listens for news: that must not hold it up.
        let mut news = TcpStream::connect(("127.0.0.1", open.port)).expect("it listens");
        write!(news, "GET /{}/events HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n\r\n", open.key, open.port).expect("it reads");
        let mut first = [0_u8; 12];
        news.read_exact(&mut first).expect("it answers");
        let sent = Command::new("kill").args([signal, &open.child.id().to_string()]).status();
        assert!(sent.expect("it is there").success());
        assert_eq!(open.ended(), Some(0), "{signal}");
    }
}

#[test]
fn a_first_run_begins_a_channel() {
    let dir = tempfile::tempdir().expect("a folder");
    let open = Open::on(dir);
    assert_eq!(open.get("state").json()["begun"], json!(false));
    let mut answers = json!({
        "name": "Quay Larder", "locale": "en-GB", "title": "Slipway flatbread", "makes": "4 flatbreads",
        "lines": "flour 390 g\nwatr 250 g\nsalt 2 tsp\nseaweed dust 3 g", "dry": true,
    });
    let asked = open.post("begin", &answers).json();
    assert_eq!(asked["slips"][0]["meant"], "water");
    answers["own"] = json!(["watr"]);
    answers["dry"] = json!(false);
    let made = open.post("begin", &answers);
    assert_eq!(made.status, 200, "{}", String::from_utf8_lossy(&made.body));
    assert_eq!(made.json()["fresh"], json!(["watr", "seaweed-dust"]));
    let view = open.get("view?recipe=slipway-flatbread&frame=wide").json();
    assert_eq!(view["sheet"]["parts"][0]["lines"][0]["amount"], "390 g");
    assert_eq!(view["sheet"]["allergens_unknown"], json!(["watr", "seaweed dust"]));
    let channel = fs::read_to_string(open.content().join("channel.toml")).expect("there");
    assert!(channel.contains("currency = \"GBP\""), "{channel}");
    answers["title"] = json!("Pier pickle");
    answers["lines"] = json!("onion 300 g\nvinegar 200 mL");
    assert_eq!(open.post("begin", &answers).status, 200);
    assert_eq!(open.post("begin", &answers).status, 422, "never over what is there");
}
