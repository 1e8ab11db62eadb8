//! A channel from a stranger: drawings that never end, texts that run or steer, sources of any size. Whatever it holds is
//! refused with its place and what to do, in bounded time and memory, or comes out as the plain text that it is.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use tallyspoon::diag::{Findings, MOST_FINDINGS, Severity};
use tallyspoon::draw::Art;
use tallyspoon::model::{Options, load};
use tallyspoon::source::script::{MOST_WORDS, read_file};
use tallyspoon::source::{FILE_LIMIT, MOST_ROWS, Sources, TEXT_LIMIT, codes, read_csv};
use tallyspoon::span::{SourceId, Texts};
use usvg::roxmltree::Document;

const CHANNEL: &str = "name = \"Check\"\nlocale = \"en-US\"\ncurrency = \"USD\"\n[frame.small]\nsize = \"1280x720\"\n";
const BOOK: &str = "date,item,pack,price,place,note\n2026-03-01,plain-flour,1 kg,1.20,,\n";
const FORMULA: &str = "plain-flour = \"100 %\"\nwater = \"60 %\"\nsalt = \"2 %\"\n";
const METHOD: &str = "## Mix\nMix {plain-flour}, {water} and {salt}.\n";

fn recipe(formula: &str, method: &str) -> String {
    format!("+++\ntitle = \"Loaf\"\nmakes = \"4 loaves\"\nbatch = \"500 g\"\n[formula]\n{formula}+++\n\n{method}")
}

/// The channel with some of its files otherwise.
fn files(changes: &[(&str, String)]) -> BTreeMap<String, Vec<u8>> {
    let mut files: BTreeMap<String, Vec<u8>> = [
        ("channel.toml", CHANNEL.to_owned()),
        ("prices.csv", BOOK.to_owned()),
        ("loaf/recipe.md", recipe(FORMULA, METHOD)),
    ]
    .map(|(path, text)| (path.to_owned(), text.into_bytes()))
    .into();
    files.extend(changes.iter().map(|(path, text)| ((*path).to_owned(), text.clone().into_bytes())));
    files
}

/// Places and codes of all errors, and whether each says what to do.
fn errors(sources: &Sources) -> Vec<String> {
    let (content, findings) = load(sources, &Options::default());
    assert_eq!(content.is_none(), findings.has_errors());
    let all = findings.sorted().into_iter().filter(|finding| finding.severity == Severity::Error);
    all.map(|finding| {
        assert!(finding.hint.is_some(), "{finding:?} says nothing of what to do");
        let place = finding.span.map_or("-".to_owned(), |span| {
            let place = sources.texts.place(span);
            format!("{}:{}:{}", place.path.trim_start_matches("content/"), place.line, place.column)
        });
        format!("{place} {}", finding.code)
    })
    .collect()
}

fn errors_of(changes: &[(&str, String)]) -> Vec<String> {
    errors(&Sources::from_memory("content", files(changes)))
}

/// The channel on a disk, and the program run on it.
struct Disk(tempfile::TempDir);

impl Disk {
    fn new(changes: &[(&str, String)]) -> Self {
        let disk = Self(tempfile::tempdir().expect("a folder"));
        for (path, bytes) in files(changes) {
            let path = disk.content().join(path);
            fs::create_dir_all(path.parent().expect("a folder")).expect("room");
            fs::write(path, bytes).expect("room");
        }
        disk
    }

    fn content(&self) -> PathBuf {
        self.0.path().join("content")
    }

    fn run(&self, arguments: &[&str]) -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tallyspoon"));
        command.args(arguments).arg("--content").arg(self.content()).current_dir(self.0.path());
        command.env("NO_COLOR", "1").stdin(Stdio::null()).output().expect("it runs")
    }

    fn said(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).expect("UTF-8")
    }
}

/// A drawing of 600 by 300 with something in it.
fn drawing(inner: &str) -> String {
    format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 600 300'>\n{inner}\n</svg>")
}

const PLACE: &str = "x='20' y='20' width='100' height='100'";

/// Definitions of which each uses the one before twice or more.
fn chain(count: usize, one: impl Fn(usize) -> String) -> String {
    (0..count).map(one).collect()
}

#[test]
fn drawings_that_never_end_are_refused() {
    let uses = |n: usize| if n == 0 { String::new() } else { format!("<use href='#e{}'/>", n - 1).repeat(10) };
    let mask = |n: usize| if n == 0 { String::new() } else { format!("mask='url(#m{})'", n - 1) };
    let pattern = |n: usize| if n == 0 { "red".to_owned() } else { format!("url(#p{})", n - 1) };
    let entities = chain(10, |n| format!("<!ENTITY e{n} '{}'>", format!("&e{};", n.saturating_sub(1)).repeat(10)));
    let bombs: [(&str, String); 21] = [
        ("document type", format!("<!DOCTYPE svg [{entities}]>{}", drawing("<g id='&e9;'/>"))),
        (
            "document type",
            format!("<!DOCTYPE svg [<!ENTITY x SYSTEM 'file:///etc/passwd'>]>{}", drawing("<g id='&x;'/>")),
        ),
        ("in a circle", drawing("<g id='a'><use href='#a'/></g>")),
        ("in a circle", drawing("<g id='a'><use href='#b'/></g><g id='b'><use href='#a'/></g>")),
        ("in a circle", drawing("<mask id='a'><rect width='9' height='9' mask='url(#a)'/></mask>")),
        ("in a circle", drawing("<clipPath id='a' clip-path='url( \"#a\" )'><rect width='9' height='9'/></clipPath>")),
        (
            "in a circle",
            drawing("<pattern id='a' width='9' height='9'><rect width='9' height='9' style='fill:url(#a)'/></pattern>"),
        ),
        ("drawn out", drawing(&(chain(10, |n| format!("<g id='e{n}'>{}</g>", uses(n))) + "<use href='#e9'/>"))),
        (
            "drawn out",
            drawing(&chain(25, |n| format!("<mask id='m{n}' {0}><rect width='9' height='9' {0}/></mask>", mask(n)))),
        ),
        (
            "drawn out",
            drawing(&chain(16, |n| {
                let paint = pattern(n);
                format!(
                    "<pattern id='p{n}' width='9' height='9'><rect width='9' height='9' fill='{paint}'/><rect width='4' height='9' fill='{paint}'/></pattern>"
                )
            })),
        ),
        ("drawn out", drawing(&format!("<path d='M20 20{}'/>", "L100 100L20 100".repeat(100_000)))),
        ("drawn out", drawing(&format!("<rect {PLACE}/>").repeat(50_000))),
        ("64 deep", drawing(&("<g>".repeat(100_000) + &"</g>".repeat(100_000)))),
        ("64 deep", drawing(&("<g opacity='0.9'>".repeat(100) + &format!("<rect {PLACE}/>") + &"</g>".repeat(100)))),
        (
            "layers",
            drawing(
                &(format!("<mask id='m'><rect {PLACE} fill='white'/></mask>")
                    + &format!("<rect {PLACE} mask='url(#m)'/>").repeat(200)),
            ),
        ),
        ("layers", drawing(&format!("<g opacity='0.5'><rect {PLACE}/><rect {PLACE}/></g>").repeat(200))),
        (
            "tile",
            drawing(&format!(
                "<pattern id='p' width='20000' height='20000' patternUnits='userSpaceOnUse'><rect width='9' height='9'/></pattern><rect {PLACE} fill='url(#p)'/>"
            )),
        ),
        (
            "tile",
            drawing(&format!(
                "<pattern id='p' width='9' height='9' patternTransform='scale(1000)' patternUnits='userSpaceOnUse'><rect width='9' height='9'/></pattern><rect {PLACE} fill='url(#p)'/>"
            )),
        ),
        ("dashes", drawing("<path d='M20 20H100' stroke='red' stroke-dasharray='0.0001'/>")),
        ("<marker>", drawing("<marker id='m'><rect width='1' height='1'/></marker>")),
        ("style sheets", drawing(&format!("<style>{}</style>", "*{fill:red}".repeat(1_000)))),
    ];
    for (reason, bomb) in bombs {
        let refused = Art::parse("bomb.svg", &bomb).expect_err(&bomb[..bomb.len().min(200)]).to_string();
        assert!(refused.contains(reason) && refused.contains("bomb.svg"), "{reason}: {refused}");
        assert!(refused.contains(": "), "{refused} says nothing of what to do");
    }
}

#[test]
fn nothing_outside_a_drawing_is_reached() {
    for inner in [
        "<image href='file:///etc/passwd'/>",
        "<use href='http://stranger.example/a.svg#x'/>",
        "<use xmlns:xlink='http://www.w3.org/1999/xlink' xlink:href='file:///etc/passwd#x'/>",
        "<use href='data:image/svg+xml;base64,PHN2Zy8+'/>",
        "<a href='javascript:alert(1)'/>",
        "<rect style='fill:URL(http://stranger.example/x)'/>",
        "<rect style='fill:u\\72l(http://stranger.example/x)'/>",
        "<style>@IMPORT 'http://stranger.example/x';</style>",
        "<style>rect { fill: u\\72l(#a) }</style>",
        "<style><![CDATA[rect { fill: url(#a) }]]></style>",
        "<feImage href='file:///etc/passwd'/>",
    ] {
        assert!(Art::parse("out.svg", &drawing(inner)).is_err(), "{inner}");
    }
    // What is only set beside a drawing is not in what is made of it.
    let disk = Disk::new(&[
        ("channel.toml", CHANNEL.replace("[frame", "theme = \"mine\"\n[frame")),
        ("themes/mine/theme.toml", "base = \"harbour\"\n".to_owned()),
        (
            "themes/mine/art/plain.svg",
            fs::read_to_string("themes/harbour/art/plain.svg")
                .expect("the built-in drawing")
                .replace("<svg ", "<?xml-stylesheet href='http://stranger.example/x.css'?><svg ")
                .replace("</svg>", "<g onload='alert(1)' data-x='http://stranger.example/y'/></svg>"),
        ),
    ]);
    disk.said(&["cards", "loaf", "--out", "out"]);
    let drawn = texts(&disk.0.path().join("out"));
    assert!(drawn.keys().any(|path| path.ends_with(".svg")));
    for (path, text) in drawn {
        assert!(!text.contains("stranger.example") && !text.contains("onload"), "{path}");
    }
}

#[test]
fn drawings_that_people_make_stay_allowed() {
    let gradient =
        "<linearGradient id='g'><stop stop-color='#fff'/><stop offset='1' stop-color='#000'/></linearGradient>";
    let shared = format!("<rect {PLACE} fill='url(#g)'/>").repeat(800);
    let dots =
        "<pattern id='p' width='12' height='12' patternUnits='userSpaceOnUse'><circle cx='6' cy='6' r='3'/></pattern>";
    let once = "<mask id='m'><rect width='600' height='300' fill='#888'/></mask>";
    for inner in [
        format!("{gradient}{shared}"),
        format!("{dots}<rect {PLACE} fill='url(#p)'/>"),
        format!("{once}<g mask='url(#m)'><rect {PLACE}/></g>"),
        format!("<style>.a {{ fill: #123456; opacity: 0.5 }}</style><rect class='a' {PLACE}/>"),
        "<g id='leaf'><path d='M20 20L40 40L20 40Z'/></g>".to_owned() + &"<use href='#leaf' x='9'/>".repeat(200),
        "<path d='M20 20H580' stroke='red' stroke-dasharray='2 3'/>".to_owned(),
    ] {
        Art::parse("sound.svg", &drawing(&inner)).unwrap_or_else(|error| panic!("{error}"));
    }
}

#[test]
fn more_than_any_dish_has_is_refused_at_the_first_too_many() {
    let items = |count: usize| -> String {
        (0..count).map(|n| format!("[x{n}]\nname = \"x{n}\"\nwater = \"0 %\"\n")).collect()
    };
    let lines = |count: usize| -> String {
        FORMULA.to_owned() + &(0..count).map(|n| format!("x{n} = \"1 %\"\n")).collect::<String>()
    };
    let many_lines = [("pantry.toml", items(10_000)), ("loaf/recipe.md", recipe(&lines(10_000), METHOD))];
    assert_eq!(errors_of(&many_lines), ["loaf/recipe.md:206:1 out-of-range"]);
    let steps = METHOD.to_owned() + &"## Wait\nWait.\n".repeat(10_000);
    let found = errors_of(&[("loaf/recipe.md", recipe(FORMULA, &steps))]);
    assert_eq!(found, ["loaf/recipe.md:411:1 out-of-range"]);
    let variants: String =
        (0..1_000).map(|n| format!("[variant.v{n}]\ntitle = \"V\"\nset = {{ salt = \"3 %\" }}\n")).collect();
    let found = errors_of(&[("loaf/recipe.md", recipe(&(FORMULA.to_owned() + &variants), METHOD))]);
    assert_eq!(found, ["loaf/recipe.md:309:10 out-of-range"]);
    let frames: String = (0..1_000).map(|n| format!("[frame.f{n}]\nsize = \"640x360\"\n")).collect();
    let found = errors_of(&[("channel.toml", CHANNEL.split("[frame").next().expect("a start").to_owned() + &frames)]);
    assert_eq!(found, ["channel.toml:104:8 out-of-range"]);
    let weights: Vec<String> = (10..70).map(|n| format!("\"{n} g\"")).collect();
    let ratio = format!("{FORMULA}[ratio]\nat = [{}]\n", weights.join(", "));
    assert_eq!(errors_of(&[("loaf/recipe.md", recipe(&ratio, METHOD))]), ["loaf/recipe.md:10:199 out-of-range"]);
    for name in ["con", "nul", "lpt1"] {
        let path = format!("{name}/recipe.md");
        assert_eq!(errors_of(&[(&path, recipe(FORMULA, METHOD))]), [format!("{path}:1:1 bad-name")]);
    }
    for name in ["../x", "Loaf", "lo af", "-loaf", "🍞", "a\\b", "_channel", "loaf.", &"x".repeat(255)] {
        let path = format!("{name}/recipe.md");
        let found = errors_of(&[(&path, recipe(FORMULA, METHOD))]);
        assert!(found.iter().any(|error| error.ends_with("bad-name")) || name.contains('/'), "{name}: {found:?}");
    }
}

/// What would take hours by the ways through it is told in one walk.
#[test]
fn what_is_asked_for_again_is_not_worked_out_again() {
    let part = |n: usize| {
        let taken: String = (n + 1..60).take(2).map(|taken| format!("p{taken} = \"all\"\n")).collect();
        format!("[formula.p{n}]\nwater = \"1 g\"\n{taken}")
    };
    let parts: String = (0..60).map(part).collect();
    let text = format!("+++\ntitle = \"Loaf\"\nmakes = \"4 loaves\"\neach = \"500 g\"\n{parts}+++\n\n## Mix\nMix.\n");
    let found = errors_of(&[("loaf/recipe.md", text)]);
    assert_eq!(found.iter().filter(|error| error.ends_with("part-taken-twice")).count(), 58, "{found:?}");
    let digits = METHOD.replace("salt}.", &format!("salt}}. {}", "1".repeat(1_000_000)));
    assert_eq!(errors_of(&[("loaf/recipe.md", recipe(FORMULA, &digits))]), Vec::<String>::new());
    // Beyond what is listed no unknown item is held against the whole pantry.
    let items: String = (0..5_000).map(|n| format!("[seed-of-the-plant-{n}]\nname = \"x\"\n")).collect();
    let rows: String = (0..100_000).map(|n| format!("2026-03-01,sead-of-a-plant-{n},1 kg,1,,\n")).collect();
    let sources =
        Sources::from_memory("content", files(&[("pantry.toml", items), ("prices.csv", BOOK.to_owned() + &rows)]));
    assert_eq!(load(&sources, &Options::default()).1.unlisted(), (99_000, 0));
}

#[test]
fn sources_of_any_size_are_refused_unread() {
    let disk = Disk::new(&[("themes/mine/theme.toml", "base = \"harbour\"\n".to_owned())]);
    for (path, most) in [("channel.toml", TEXT_LIMIT), ("loaf/recipe.md", TEXT_LIMIT), ("prices.csv", FILE_LIMIT)] {
        let path = disk.content().join(path);
        let before = fs::read(&path).expect("there");
        // A hole in the file: a hundred megabytes that take no room.
        fs::File::options().write(true).open(&path).and_then(|file| file.set_len(100 << 20)).expect("room");
        let sources = Sources::read(&disk.content());
        let found = sources.findings.sorted().into_iter().find(|finding| finding.code == codes::FILE_TOO_LARGE);
        let message = &found.expect("a finding").message;
        assert!(message.contains(&format!("larger than {} MiB", most >> 20)), "{message}");
        fs::write(&path, before).expect("room");
    }
    let captions = disk.0.path().join("captions.txt");
    let (mut texts, mut findings) = (Texts::new(""), Findings::new());
    fs::write(&captions, "salt ".repeat(MOST_WORDS)).expect("room");
    assert!(read_file(&captions, &mut texts, &mut findings).is_some());
    fs::write(&captions, "salt ".repeat(MOST_WORDS + 1)).expect("room");
    assert!(read_file(&captions, &mut texts, &mut findings).is_none());
    fs::File::create(&captions).and_then(|file| file.set_len(100 << 20)).expect("room");
    assert!(read_file(&captions, &mut texts, &mut findings).is_none());
    let found = findings.sorted();
    assert_eq!(found.iter().map(|finding| finding.code).collect::<Vec<_>>(), [codes::FILE_TOO_LARGE; 2]);
    assert!(found.iter().all(|finding| finding.hint.is_some()));
    let rows = "a,b\n".repeat(MOST_ROWS + 5);
    let mut findings = Findings::new();
    assert_eq!(read_csv(SourceId(0), &rows, b',', &mut findings).len(), MOST_ROWS);
    assert_eq!(findings.sorted().len(), 1);
}

#[test]
fn endless_findings_are_counted_and_not_listed() {
    let bad = BOOK.to_owned() + &"x,y,z\n".repeat(5_000);
    let sources = Sources::from_memory("content", files(&[("prices.csv", bad.clone())]));
    let (_, findings) = load(&sources, &Options::default());
    assert_eq!(findings.sorted().len(), MOST_FINDINGS);
    assert_eq!(findings.unlisted(), (4_000, 0));
    let mut twice = findings.clone();
    twice.extend(findings);
    assert_eq!((twice.sorted().len(), twice.unlisted()), (MOST_FINDINGS, (9_000, 0)));
    let disk = Disk::new(&[("prices.csv", bad)]);
    let told = disk.run(&["check"]);
    let told = String::from_utf8(told.stderr).expect("UTF-8");
    assert!(
        told.ends_with("1000 errors, 0 warnings\nand more that are not listed: 4000 errors, 0 warnings\n"),
        "{}",
        &told[told.len() - 200..]
    );
    // One line that is as long as a file: a thousand findings don't each show it.
    let braces = METHOD.replace("salt}.", &format!("salt}}. {}", "{".repeat(20_000)));
    let told = Disk::new(&[("loaf/recipe.md", recipe(FORMULA, &braces))]).run(&["check"]);
    assert_eq!(told.status.code(), Some(1));
    assert!(told.stderr.len() < 1 << 20, "{} bytes told", told.stderr.len());
}

#[test]
fn a_template_that_never_ends_is_stopped() {
    let ten = |inner: &str| format!("{{% for a in range(9999) %}}{inner}{{% endfor %}}");
    let disk = Disk::new(&[
        ("templates/notes.txt", ten(&ten(&ten("")))),
        ("templates/notes.md", "{% include '/etc/passwd' %}".to_owned()),
    ]);
    for (format, why) in [("plain", "take loops out of it"), ("markdown", "non-existing template")] {
        let told = disk.run(&["notes", "loaf", "--format", format]);
        assert_eq!(told.status.code(), Some(1));
        let told = String::from_utf8(told.stderr).expect("UTF-8");
        assert!(told.contains(why) && told.contains("error[template]"), "{told}");
    }
}

/// Text files below a folder.
fn texts(root: &Path) -> BTreeMap<String, String> {
    let (mut found, mut folders) = (BTreeMap::new(), vec![root.to_owned()]);
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
            if entry.is_dir() {
                folders.push(entry);
            } else if let Ok(text) = fs::read_to_string(&entry) {
                found.insert(entry.strip_prefix(root).expect("below").display().to_string(), text);
            }
        }
    }
    found
}

/// The channel with a text in every place that a stranger can write one.
fn everywhere(text: &str) -> Disk {
    let quoted = serde_json::to_string(text).expect("a text");
    let in_csv = text.replace('"', "\"\"");
    let escaped: String =
        text.chars().flat_map(|c| if c.is_ascii_punctuation() { vec!['\\', c] } else { vec![c] }).collect();
    let formula = format!(
        "plain-flour = {{ amount = \"100 %\", note = {quoted} }}\nodd = \"60 %\"\nsalt = \"2 %\"\n\
         [variant.other]\ntitle = {quoted}\nset = {{ salt = \"3 %\" }}\n\
         [video]\nurl = \"https://kitchen.example/watch\"\npublished = 2026-06-20\nlength = \"2 min\"\n"
    );
    let method =
        format!("{escaped}\n\n## {escaped}\n> {escaped}\nMix {{plain-flour}}, {{odd}} and {{salt}}. {escaped}\n");
    Disk::new(&[
        (
            "channel.toml",
            CHANNEL.replace("\"Check\"", &quoted).replace("[frame", "site = \"https://kitchen.example/\"\n[frame"),
        ),
        ("pantry.toml", format!("[odd]\nname = {quoted}\nwater = \"0 %\"\nallergens = [\"milk\"]\n")),
        ("prices.csv", format!("{BOOK}2026-03-01,salt,1 kg,0.50,\"{in_csv}\",\"{in_csv}\"\n")),
        ("loaf/recipe.md", recipe(&formula, &method).replace("\"Loaf\"", &quoted)),
    ])
}

#[test]
fn names_and_notes_never_become_markup() {
    let plain = everywhere("plain words");
    plain.said(&["publish", "--out", "out"]);
    let scripts = |text: &str| text.to_lowercase().matches("<script").count();
    let expected: BTreeMap<String, usize> =
        texts(&plain.0.path().join("out")).iter().map(|(path, text)| (path.clone(), scripts(text))).collect();
    for text in [
        "</script><script>x",
        "\"><img src=x onerror=y>",
        "<b>&\"'",
        "]]>--><svg onload=x>",
        "{{ 7*7 }}{% x %}",
        "');alert(1)//",
    ] {
        let disk = everywhere(text);
        disk.said(&["publish", "--out", "out"]);
        let mut checked = 0;
        for (path, made) in texts(&disk.0.path().join("out")) {
            if path.ends_with(".html") {
                let known = expected.iter().find(|(known, _)| **known == path).map(|(_, count)| *count);
                assert_eq!(Some(scripts(&made)), known, "{text}: {path}");
                assert!(
                    !made.contains("<img src=x") && !made.contains("<svg onload") && !made.contains("<b>&\""),
                    "{text}: {path}"
                );
                checked += 1;
            } else if path.ends_with(".svg") || path.ends_with(".xml") {
                let document = Document::parse(&made).unwrap_or_else(|error| panic!("{text}: {path}: {error}"));
                let scripted = |name: &str| matches!(name, "script" | "img") || name.starts_with("on");
                let odd = document.descendants().find(|node| {
                    scripted(node.tag_name().name()) || node.attributes().any(|attribute| scripted(attribute.name()))
                });
                assert!(odd.is_none(), "{text}: {path}: {odd:?}");
                checked += 1;
            }
            if text.contains("7*7") && path == "loaf/notes.txt" {
                assert!(made.contains(text), "{text}: {path}");
            }
        }
        assert!(checked > 10, "{checked} files");
    }
}

#[test]
fn no_cell_runs_in_a_spreadsheet() {
    for text in ["=cmd|' /C calc'!A0", "+1+1", "-2+3", "@SUM(A1)"] {
        let disk = everywhere(text);
        for arguments in [["table", "--csv"], ["prices", "export"]] {
            let printed = disk.said(&arguments);
            let mut findings = Findings::new();
            let rows = read_csv(SourceId(0), &printed, b',', &mut findings);
            let cells: Vec<String> =
                rows.iter().flat_map(|row| row.fields.iter().map(|field| field.value.clone())).collect();
            assert!(cells.iter().any(|cell| *cell == format!("'{text}")), "{arguments:?}: {printed}");
            assert!(cells.iter().all(|cell| !cell.starts_with(['=', '+', '-', '@'])), "{arguments:?}: {printed}");
        }
        disk.said(&["workbook", "loaf", "--out", "costs.xlsx"]);
    }
}

#[test]
fn characters_that_steer_are_refused_where_they_stand() {
    for steering in ["\0", "\u{1b}[31m", "\u{7f}", "\u{9b}2J", "\u{202e}", "\u{2066}"] {
        for (path, before) in
            [("channel.toml", "Check"), ("prices.csv", "1 kg"), ("loaf/recipe.md", "Loaf"), ("loaf/recipe.md", "Mix {")]
        {
            let text = String::from_utf8(files(&[])[path].clone()).expect("text");
            let at = text.find(before).expect("there");
            let (line, column) =
                (text[..at].matches('\n').count() + 1, at - text[..at].rfind('\n').map_or(0, |end| end + 1) + 1);
            let found = errors_of(&[(path, text.replacen(before, &format!("{steering}{before}"), 1))]);
            assert_eq!(
                found.first(),
                Some(&format!("{path}:{line}:{column} control-character")),
                "{steering:?}: {found:?}"
            );
        }
        // Written as an escape, they are no better.
        let escaped: String = steering.chars().take(1).map(|c| format!("\\u{:04x}", c as u32)).collect();
        let found = errors_of(&[("channel.toml", CHANNEL.replace("Check", &format!("a{escaped}b")))]);
        assert_eq!(found, ["channel.toml:1:8 control-character"], "{steering:?}");
    }
    // Marks that fonts and languages need are none of them.
    assert!(errors_of(&[("channel.toml", CHANNEL.replace("Check", "a\u{200d}b\u{ad}c\u{200e}d"))]).is_empty());
}

#[test]
fn what_is_told_never_steers_a_terminal() {
    let steering = "a\u{1b}[31mb\u{202e}c";
    let disk = Disk::new(&[]);
    let elsewhere = disk.0.path().join(steering);
    Command::new("cp").arg("-r").arg(disk.content()).arg(&elsewhere).status().expect("it runs");
    fs::write(elsewhere.join("stray.csv"), "x").expect("room");
    let out = format!("{steering}-out");
    let content = elsewhere.to_str().expect("UTF-8");
    let program = |arguments: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tallyspoon"));
        command.args(arguments).current_dir(disk.0.path()).stdin(Stdio::null()).output().expect("it runs")
    };
    for arguments in [
        vec!["publish", "--content", content, "--out", &out],
        vec!["cards", "loaf", "--content", content, "--out", &out],
        vec!["motion", "loaf", "--card", "title", "--as", "apng", "--content", content, "--out", &out],
        vec!["slate", "loaf", "--content", content],
        vec!["drift", "--content", content],
        vec!["workbook", "loaf", "--content", content, "--out", &format!("{steering}.xlsx")],
        vec!["stale", "--content", content, &out],
        vec!["stale", "--content", content, steering, "none\u{1b}[2J"],
        vec!["figures", steering, "--content", content],
        vec!["figures", "loaf", "--variant", steering, "--content", content],
        vec!["proof", "loaf", steering, "--content", content],
        vec!["check", "--content", &format!("{steering}-none")],
        vec!["new", &format!("{steering}-new"), "--name", "Quay", "--title", "Salt", "--makes", "1 loaf"],
        vec!["prices", "add", "salt", "1 kg", "2", "--place", steering, "--content", content],
        vec![steering],
        vec!["--\u{1b}[31mx"],
    ] {
        let Output { stdout, stderr, .. } = program(&arguments);
        for printed in [stdout, stderr] {
            let printed = String::from_utf8(printed).expect("UTF-8");
            let steers =
                printed.chars().find(|c| c.is_control() && *c != '\n' || ('\u{202a}'..='\u{202e}').contains(c));
            assert_eq!(steers, None, "{arguments:?}: {printed:?}");
        }
    }
}
