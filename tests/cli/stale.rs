//! What stamps promise: a picture or a text of ours is known wherever it lies, says what it was made from and nothing of
//! the machine, and is listed with old and new value once it is untrue; all else is passed by.

use crate::kitchen::{Done, Kitchen};
use std::fs;
use std::path::PathBuf;

fn small() -> Kitchen {
    let kitchen = Kitchen::new();
    kitchen.write(
        "content/channel.toml",
        "name = \"Test Kitchen\"\nlocale = \"en-IE\"\ncurrency = \"EUR\"\nstamp = true\n[frame.small]\nsize = \"640x360\"\n",
    );
    kitchen
}

fn cards(kitchen: &Kitchen, more: &[&str]) {
    let done = kitchen.run(&[&["cards", "soup", "--out", "edit/media"], more].concat());
    assert_eq!(done.code, 0, "{}", done.err);
}

fn stale(kitchen: &Kitchen) -> Done {
    kitchen.run(&["stale", "edit"])
}

/// The file of a card, by the end of its name.
fn card(kitchen: &Kitchen, ending: &str) -> PathBuf {
    let listed = fs::read_dir(kitchen.path("edit/media/soup/small")).expect("drawn");
    let mut paths = listed.map(|entry| entry.expect("listed").path());
    paths.find(|path| path.to_string_lossy().ends_with(ending)).unwrap_or_else(|| panic!("no {ending}"))
}

/// The stamp of a PNG, read chunk by chunk as ISO/IEC 15948 lays them out (5.3, 11.3.3.4).
fn stamp(png: &[u8]) -> serde_json::Value {
    let mut at = 8;
    loop {
        let length = u32::from_be_bytes(png[at..at + 4].try_into().unwrap()) as usize;
        let (kind, data) = (&png[at + 4..at + 8], &png[at + 8..at + 8 + length]);
        if kind == b"iTXt" {
            // Keyword, null, uncompressed, method, no language, no translated keyword, text.
            let text = data.strip_prefix(b"Tallyspoon stamp\0\0\0\0\0").expect("one stamp, uncompressed");
            return serde_json::from_slice(text).expect("JSON");
        }
        assert_ne!(kind, b"IDAT", "the stamp comes before the pixels");
        at += 12 + length;
    }
}

#[test]
fn a_picture_says_what_it_was_made_from_and_nothing_of_the_machine() {
    let kitchen = small();
    cards(&kitchen, &["--makes", "8", "--variant", "spicy"]);
    let png = fs::read(card(&kitchen, "-cost.png")).unwrap();
    let said = stamp(&png);
    for (key, value) in [
        ("recipe", "soup"),
        ("frame", "small"),
        ("card", "cost"),
        ("yield", "6–8 bowls"),
        ("day", "2 March 2026"),
        ("theme", "harbour"),
        ("language", "en"),
    ] {
        assert_eq!(said[key], value, "{said:#}");
    }
    assert_eq!(said["asked"], serde_json::json!({ "makes": "8", "variant": "spicy" }));
    assert!(said["says"].as_array().unwrap().iter().any(|text| text == "€0.11"), "{said:#}");
    let svg = fs::read_to_string(card(&kitchen, "-cost.svg")).unwrap();
    let (_, metadata) = svg.split_once("<metadata>").expect("a stamp");
    let metadata = metadata.split_once("</metadata>").unwrap().0.replace("&lt;", "<").replace("&amp;", "&");
    assert_eq!(serde_json::from_str::<serde_json::Value>(&metadata).unwrap(), said);
    // Only a card that shows the prices' day has it: prices of another day leave the others as they are.
    assert_eq!(stamp(&fs::read(card(&kitchen, "-weigh-out.png")).unwrap())["day"], serde_json::Value::Null);
    let here = kitchen.path("");
    let user = ["USER", "HOME", "HOSTNAME"].map(|name| std::env::var(name).unwrap_or_default());
    for word in user.iter().map(String::as_str).chain([here.to_str().unwrap(), "edit", "content"]) {
        assert!(word.len() < 4 || !said.to_string().contains(word), "{word} is in {said}");
    }
    assert!(said.to_string().len() < 2_000, "a stamp is small: {said}");
}

#[test]
fn what_is_untrue_is_listed_with_old_and_new_and_what_is_true_is_not() {
    let kitchen = small();
    cards(&kitchen, &[]);
    let spicy = kitchen.run(&["cards", "soup", "--out", "edit/spicy", "--variant", "spicy"]);
    assert_eq!(spicy.code, 0, "{}", spicy.err);
    let done = stale(&kitchen);
    assert_eq!((done.code, done.out.as_str()), (0, ""), "{}", done.err);
    assert!(done.err.contains(", 0 no longer true"), "{}", done.err);
    // Elsewhere, under another name, it is still known.
    fs::rename(card(&kitchen, "-callout-salt.png"), kitchen.path("edit/B roll 7.PNG")).unwrap();
    kitchen.edit("soup/recipe.md", "salt = \"2 %\"", "salt = \"2.5 %\"");
    let done = stale(&kitchen);
    assert_eq!(done.code, 1, "{}", done.err);
    let renamed = done.out.split_once("B roll 7.PNG\n").expect("it is listed").1;
    assert!(renamed.starts_with("    20 g → 25 g\n    2% → 2.5%\n"), "{renamed}");
    assert!(done.out.contains("weigh-out.svg") && done.out.contains("salt: 20 g → 25 g"), "{}", done.out);
    for quiet in ["callout-water", "step-2", "wait", "caution"] {
        assert!(!done.out.contains(quiet), "{quiet} is still true: {}", done.out);
    }
    let spicy: Vec<&str> = done.out.lines().filter(|line| line.starts_with("edit/spicy")).collect();
    assert!(spicy.iter().all(|line| !line.contains("weigh-out") && !line.contains("callout")), "{spicy:?}");
    kitchen.edit("soup/recipe.md", "salt = \"2.5 %\"", "salt = \"2 %\"");
    kitchen.edit("prices.csv", "2026-03-02,salt,500 g,0.89", "2026-06-06,salt,500 g,1.89");
    let done = stale(&kitchen);
    assert!(done.out.contains("-cost.png") && done.out.contains("€0.04 → €0.08"), "{}", done.out);
    assert!(done.out.contains("Prices as of 2 March 2026 → Prices as of 6 June 2026"), "{}", done.out);
    assert!(!done.out.contains("weigh-out"), "{}", done.out);
}

#[test]
fn what_can_not_be_compared_is_passed_by_and_counted() {
    let kitchen = small();
    cards(&kitchen, &[]);
    kitchen.edit("soup/recipe.md", "salt = \"2 %\"", "salt = \"2.5 %\"");
    let whole = fs::read(card(&kitchen, "-callout-salt.png")).unwrap();
    fs::remove_dir_all(kitchen.path("edit")).unwrap();
    fs::create_dir_all(kitchen.path("edit/deep/er")).unwrap();
    let put = |name: &str, bytes: &[u8]| fs::write(kitchen.path(&format!("edit/{name}")), bytes).unwrap();
    for cut in [0, 1, 8, 40, 200, whole.len() / 2, whole.len() - 1] {
        put(&format!("cut-{cut}.png"), &whole[..cut]);
    }
    // A flipped bit in the stamp, in its checksum, in the pixels and in the header.
    let text = whole.windows(4).position(|at| at == b"iTXt").unwrap();
    let pixels = whole.windows(4).position(|at| at == b"IDAT").unwrap();
    for place in [text + 60, pixels - 8, pixels + 100, 20] {
        let mut bad = whole.clone();
        bad[place] ^= 1;
        put(&format!("bad-{place}.png"), &bad);
    }
    put("notes.svg", b"<svg><metadata>{\"schema\":\"stamp/1\"}</metadata></svg>");
    put("theirs.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"><metadata>90 \u{e9}</metadata></svg>".as_bytes());
    put("latin.txt", b"cr\xe8me");
    put("mine.txt", b"0:00 hello\n2:10 salt 20 g\n");
    put("deep/er/theirs.png", &plain_png());
    let huge = fs::File::create(kitchen.path("edit/huge.png")).unwrap();
    huge.set_len(3 << 30).unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink("..", kitchen.path("edit/deep/round")).unwrap();
    let done = stale(&kitchen);
    assert_eq!((done.code, done.out.as_str()), (0, ""), "{}", done.err);
    assert!(
        done.err.contains("0 files read, 0 no longer true; passed by: 4 without a stamp, 13 unreadable"),
        "{}",
        done.err
    );
    put("deep/er/ours.png", &whole);
    let done = stale(&kitchen);
    assert!(done.code == 1 && done.out.contains("ours.png"), "{}{}", done.out, done.err);
    let missing = kitchen.run(&["stale", "edit", "no-such-folder"]);
    assert!(missing.code == 2 && missing.err.contains("no-such-folder"), "{}", missing.err);
    assert_eq!(kitchen.run(&["stale"]).code, 2);
}

/// A picture that some other program made.
fn plain_png() -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::RgbaImage::new(4, 4).write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    bytes.into_inner()
}

#[test]
fn what_can_not_be_made_any_more_is_stale_and_what_is_another_channels_is_not() {
    let kitchen = small();
    cards(&kitchen, &["--variant", "spicy"]);
    kitchen.edit("soup/recipe.md", "[variant.spicy]", "[variant.hot]");
    let done = stale(&kitchen);
    assert!(done.code == 1 && done.out.contains("can't be made any more"), "{}{}", done.out, done.err);
    kitchen.edit("soup/recipe.md", "[variant.hot]", "[variant.spicy]");
    kitchen.edit("channel.toml", "[frame.small]", "[frame.tiny]");
    let done = stale(&kitchen);
    assert!(done.code == 1 && done.out.contains("no frame `small`"), "{}{}", done.out, done.err);
    fs::rename(kitchen.path("content/soup"), kitchen.path("content/broth")).unwrap();
    let done = stale(&kitchen);
    assert!(done.code == 0 && done.err.contains("of no recipe here"), "{}{}", done.out, done.err);
}

#[test]
fn notes_are_known_by_their_last_line_whatever_was_written_around_them() {
    let kitchen = small();
    for format in ["plain", "markdown", "html"] {
        let notes = kitchen.run(&["notes", "soup", "--times", "1/2", "--format", format, "--language", "de"]).out;
        let stamp = notes.trim_end().lines().last().unwrap();
        assert!(stamp.contains(&format!("tallyspoon:soup?times=1/2#{format},en-IE,de,")), "{stamp}");
        kitchen.write(&format!("edit/{format}.txt"), &format!("0:00 Anfang\n\n{notes}\nTipp: 20 g Salz\n"));
    }
    assert_eq!(stale(&kitchen).code, 0, "{}", stale(&kitchen).out);
    kitchen.edit("soup/recipe.md", "salt = \"2 %\"", "salt = \"2.4 %\"");
    let done = stale(&kitchen);
    assert_eq!(done.code, 1, "{}", done.err);
    assert_eq!(done.out.matches(".txt\n").count(), 3, "{}", done.out);
    assert!(done.out.contains("10 g") && done.out.contains("→") && done.out.contains("12 g"), "{}", done.out);
    assert!(!done.out.contains("Anfang") && !done.out.contains("Tipp"), "{}", done.out);
    // Without the setting notes are as they were: every number in them is on the sheet.
    kitchen.edit("channel.toml", "stamp = true\n", "");
    assert!(!kitchen.run(&["notes", "soup"]).out.contains("tallyspoon"));
    kitchen.edit("channel.toml", "currency", "stamp = 1\ncurrency");
    assert_eq!(kitchen.run(&["check"]).code, 1);
}

#[test]
fn a_description_with_a_stamp_still_fits() {
    let kitchen = small();
    let lines: String = (0..60)
        .map(|n| format!("Say something long enough to fill a description, number {}.\n\n", "x".repeat(n)))
        .collect();
    kitchen.edit("soup/recipe.md", "A soup of two things.", &lines);
    let plain = kitchen.run(&["notes", "soup"]).out;
    assert!(plain.len() <= 5_000 && plain.contains("tallyspoon:soup#plain"), "{} bytes", plain.len());
}
