//! What publishing a channel promises: killed runs heal, the same sources give the same bytes, and a changed
//! price touches only what shows it.

use crate::kitchen::{Done, Kitchen};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Stdio;
use std::time::Instant;

const RECORD: &str = ".tallyspoon.json";

fn publish(kitchen: &Kitchen) -> Done {
    let done = kitchen.run(&["publish", "--out", "out"]);
    assert_eq!(done.code, 0, "{}", done.err);
    done
}

/// Every file below `root` by its path.
fn files(root: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![root.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(root).unwrap().to_string_lossy().into_owned();
                found.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    found
}

#[test]
fn a_run_killed_at_any_moment_leaves_each_file_old_or_new_and_the_next_heals() {
    let kitchen = Kitchen::small();
    let out = kitchen.path("out");
    let prices = |price: &str| {
        kitchen.write(
            "content/prices.csv",
            &format!("date,item,pack,price,place,note\n2026-03-02,salt,500 g,{price},,\n"),
        );
    };
    let states = ["0.89", "7.77"].map(|price| {
        prices(price);
        let begin = Instant::now();
        publish(&kitchen);
        (files(&out), begin.elapsed())
    });
    let mut whole = states[1].1;
    let (mut killed, mut seed) = (0, 20_260_301_u64);
    for round in 0..30_usize {
        let target = round % 2;
        prices(["0.89", "7.77"][target]);
        let mut command = kitchen.command(&["publish", "--out", "out"]);
        let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("it runs");
        // A linear congruential step: moments spread over the run, the same ones every time.
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        std::thread::sleep(whole * u32::try_from((seed >> 33) % 1000).unwrap() / 1000);
        child.kill().expect("it is ours");
        if child.wait().expect("it ended").code().is_none() {
            killed += 1;
        } else {
            // It was measured on a busier machine: the moments are to lie within a run.
            whole = whole * 3 / 4;
        }
        for (name, bytes) in files(&out) {
            if name == RECORD || name.starts_with(".tallyspoon.new/") {
                continue;
            }
            let whole = states.iter().any(|(state, _)| state.get(&name) == Some(&bytes));
            assert!(whole, "round {round}: {name} is neither old nor new");
        }
        if round % 3 == 2 {
            publish(&kitchen);
            assert!(files(&out) == states[target].0, "round {round}: the next run did not heal");
        }
    }
    assert!(killed >= 10, "only {killed} runs were killed before they ended");
}

#[test]
fn the_same_sources_give_the_same_bytes() {
    let first = Kitchen::small();
    publish(&first);
    let expected = files(&first.path("out"));
    assert!(expected.len() > 20, "{} files", expected.len());
    let second = Kitchen::small();
    // The same files, made in another order in folders made in another order.
    let sources: Vec<(String, Vec<u8>)> = files(&first.path("content")).into_iter().collect();
    fs::remove_dir_all(second.path("content")).unwrap();
    for (path, bytes) in sources.into_iter().rev() {
        second.write(&format!("content/{path}"), &String::from_utf8(bytes).unwrap());
    }
    for threads in ["1", "2", "5"] {
        let mut command = second.command(&["publish", "--out", "out"]);
        assert!(command.env("RAYON_NUM_THREADS", threads).output().unwrap().status.success());
        let found = files(&second.path("out"));
        assert_eq!(found.keys().collect::<Vec<_>>(), expected.keys().collect::<Vec<_>>());
        let odd: Vec<&String> = found.keys().filter(|name| found[*name] != expected[*name]).collect();
        assert!(odd.is_empty(), "with {threads} threads these differ: {odd:?}");
        fs::remove_dir_all(second.path("out")).unwrap();
    }
}

#[test]
fn a_second_run_writes_nothing() {
    let kitchen = Kitchen::small();
    publish(&kitchen);
    let time = |name: &str| fs::metadata(kitchen.path(name)).unwrap().modified().unwrap();
    let before = (time("out/index.html"), time("out/.tallyspoon.json"));
    let done = publish(&kitchen);
    assert!(done.out.contains("nothing to do"), "{}", done.out);
    assert_eq!((time("out/index.html"), time("out/.tallyspoon.json")), before);
}

#[test]
fn a_changed_price_touches_only_what_shows_it_and_says_what_moved() {
    let kitchen = Kitchen::small();
    publish(&kitchen);
    let before = files(&kitchen.path("out"));
    kitchen.edit("prices.csv", "salt,500 g,0.89", "salt,500 g,5.00");
    let done = publish(&kitchen);
    let after = files(&kitchen.path("out"));
    let touched: Vec<&str> = after.keys().filter(|name| after[*name] != before[*name]).map(String::as_str).collect();
    assert!(touched.iter().any(|name| name.contains("-cost")), "{touched:?}");
    assert!(touched.contains(&"soup/notes.txt") && touched.contains(&"tray/index.html"), "{touched:?}");
    for quiet in ["weigh-out", "step-", "callout", "reveal"] {
        assert!(!touched.iter().any(|name| name.contains(quiet)), "{quiet} does not show a price: {touched:?}");
    }
    let soup = done.out.lines().find(|line| line.starts_with("soup: ")).expect("a line a recipe");
    assert!(soup.contains("cost.total €0.04 → €0.20"), "{soup}");
    assert!(done.out.lines().any(|line| line.starts_with("tray: ")), "{}", done.out);
}

#[test]
fn a_recipe_that_goes_takes_only_its_own_files_along() {
    let kitchen = Kitchen::small();
    publish(&kitchen);
    kitchen.write("out/tray/mine.txt", "mine");
    fs::remove_dir_all(kitchen.path("content/tray")).unwrap();
    publish(&kitchen);
    let left: Vec<String> = files(&kitchen.path("out")).into_keys().filter(|name| name.starts_with("tray")).collect();
    assert_eq!(left, ["tray/mine.txt"]);
}

#[test]
fn publishing_into_the_sources_is_refused() {
    let kitchen = Kitchen::small();
    for out in ["content", "content/soup/out", "content/../content", "nowhere/../content/out", "nowhere/../out"] {
        let done = kitchen.run(&["publish", "--out", out]);
        assert_eq!(done.code, 2, "{out}: {}", done.err);
    }
    assert!(files(&kitchen.path("content")).keys().all(|name| !name.ends_with(".png")));
    assert!(!kitchen.path("nowhere").exists() && !kitchen.path("out").exists());
}

#[test]
fn prices_of_a_later_day_touch_only_what_shows_the_day() {
    let kitchen = Kitchen::small();
    publish(&kitchen);
    let before = files(&kitchen.path("out"));
    kitchen.edit("prices.csv", "2026-03-02,water,1 L,0,,", "2026-03-02,water,1 L,0,,\n2026-06-06,onion,1 kg,1.20,,");
    publish(&kitchen);
    let after = files(&kitchen.path("out"));
    let touched: Vec<&str> = after.keys().filter(|name| after[*name] != before[*name]).map(String::as_str).collect();
    let shows = |name: &&str| {
        ["-cost", "-totals", "_channel", "contact-sheet", "notes", "html", RECORD]
            .iter()
            .any(|part| name.contains(part))
    };
    assert!(touched.iter().any(|name| name.contains("-cost")), "{touched:?}");
    assert!(touched.iter().all(shows), "{touched:?}");
}
