//! What publishing promises about the disk: it is atomic, touches only what changes, and only what is its own.

use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop, prop_assert_eq, prop_oneof, proptest};
use proptest::sample::Index;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;
use tallyspoon::diag::{Diagnostic, Findings, Severity};
use tallyspoon::publish::{Put, Report, Scope, Tick, Work, compare, run};

/// A recipe whose files are given.
struct Given {
    id: &'static str,
    files: Vec<(String, String)>,
    fault: bool,
}

impl Work for Given {
    fn id(&self) -> &str {
        self.id
    }
    fn inputs(&self) -> String {
        format!("{:?}", self.files)
    }
    fn figures(&self) -> Vec<(String, String)> {
        self.files.iter().map(|(path, text)| (path.clone(), text.clone())).collect()
    }
    fn make(&self, put: &Put) -> Findings {
        self.files.par_iter().for_each(|(path, text)| put.put(path, text.as_bytes()));
        let mut findings = Findings::new();
        if self.fault {
            let (message, hint) = (format!("{} is at fault", self.id), None);
            findings.push(Diagnostic { code: "fault", severity: Severity::Error, span: None, message, hint });
        }
        findings
    }
}

fn recipe(id: &'static str, files: &[(&str, &str)]) -> Given {
    let files = files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect();
    Given { id, files, fault: false }
}

fn publish(out: &Path, works: &[Given]) -> Result<Report, Findings> {
    run(out, works, Scope::Channel(&[("index.html".into(), b"index".to_vec())]), &|_: Tick| {})
}

fn codes(result: Result<Report, Findings>) -> Vec<&'static str> {
    result.expect_err("a fault is expected").sorted().iter().map(|d| d.code).collect()
}

/// Every file under `root` with its text and the time it was written.
fn snapshot(root: &Path) -> BTreeMap<String, (String, std::time::SystemTime)> {
    let mut found = BTreeMap::new();
    let mut folders = vec![root.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() && !path.is_symlink() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(root).unwrap().to_string_lossy().into_owned();
                let time = fs::symlink_metadata(&path).unwrap().modified().unwrap();
                found.insert(name, (fs::read_to_string(&path).unwrap_or_default(), time));
            }
        }
    }
    found
}

fn names(root: &Path) -> Vec<String> {
    snapshot(root).into_keys().filter(|name| name != ".tallyspoon.json").collect()
}

#[test]
fn a_second_run_touches_nothing_and_a_change_only_what_shows_it() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("deep/out");
    let first = publish(&out, &[recipe("a", &[("wide/1", "x"), ("notes.txt", "n")]), recipe("b", &[("wide/1", "y")])]);
    assert_eq!(first.unwrap().written, 4);
    assert_eq!(names(&out), ["a/notes.txt", "a/wide/1", "b/wide/1", "index.html"]);
    let before = snapshot(&out);
    let again = publish(&out, &[recipe("a", &[("wide/1", "x"), ("notes.txt", "n")]), recipe("b", &[("wide/1", "y")])]);
    let again = again.unwrap();
    assert_eq!((again.written, again.removed, again.unchanged, again.changes.len()), (0, 0, 2, 0));
    assert_eq!(snapshot(&out), before, "not even the record is touched");
    let moved = publish(&out, &[recipe("a", &[("wide/1", "z"), ("notes.txt", "n")]), recipe("b", &[("wide/1", "y")])]);
    let moved = moved.unwrap();
    assert_eq!(moved.changes.iter().map(|c| c.line()).collect::<Vec<_>>(), ["a: wide/1 x → z (1 file written)"]);
    let after = snapshot(&out);
    let touched: Vec<&String> = after.keys().filter(|k| after[*k] != before[*k]).collect();
    assert_eq!(touched, [".tallyspoon.json", "a/wide/1"]);
}

/// A recipe of pictures, each given with what it is drawn of, that counts how many it draws.
struct Painted {
    pictures: Vec<(&'static str, &'static str)>,
    count: AtomicUsize,
}

impl Work for Painted {
    fn id(&self) -> &str {
        "a"
    }
    fn inputs(&self) -> String {
        format!("{:?}", self.pictures)
    }
    fn figures(&self) -> Vec<(String, String)> {
        Vec::new()
    }
    fn make(&self, put: &Put) -> Findings {
        for (path, of) in &self.pictures {
            if !put.stands(path, of) {
                self.count.fetch_add(1, Ordering::Relaxed);
                put.put_drawn(path, of, format!("drawn of {of}").as_bytes());
            }
        }
        Findings::new()
    }
}

#[test]
fn a_picture_is_drawn_again_where_what_it_is_drawn_of_differs_or_it_is_not_there() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path();
    let drawn = |pictures: &[(&'static str, &'static str)], scope: Scope| {
        let work = Painted { pictures: pictures.to_vec(), count: AtomicUsize::new(0) };
        run(out, &[work], scope, &|_: Tick| {}).map(|report| report.written)
    };
    let count = |pictures: &[(&'static str, &'static str)]| {
        let work = Painted { pictures: pictures.to_vec(), count: AtomicUsize::new(0) };
        let done = run(out, std::slice::from_ref(&work), Scope::Channel(&[]), &|_: Tick| {}).expect("no fault");
        for (path, of) in pictures {
            assert_eq!(fs::read_to_string(out.join("a").join(path)).unwrap(), format!("drawn of {of}"));
        }
        (work.count.into_inner(), done.written)
    };
    assert_eq!(count(&[("wide/1", "x"), ("wide/2", "x")]), (2, 2));
    assert_eq!(count(&[("wide/1", "x"), ("wide/2", "y")]), (1, 1));
    assert_eq!(count(&[("wide/1", "y"), ("wide/2", "x"), ("wide/3", "x")]), (3, 3), "not what another was drawn of");
    fs::remove_file(out.join("a/wide/2")).unwrap();
    assert_eq!(count(&[("wide/1", "y"), ("wide/2", "x"), ("wide/3", "x")]), (1, 1));
    // Pictures of one frame are no channel's: the next time everything is drawn.
    drawn(&[("wide/1", "z"), ("wide/2", "x"), ("wide/3", "x")], Scope::Frames(&["wide".to_owned()])).expect("no fault");
    assert_eq!(count(&[("wide/1", "y"), ("wide/2", "x"), ("wide/3", "x")]), (3, 1));
    // A file that somebody changed does not stand, whatever it was drawn of.
    fs::write(out.join("a/wide/3"), "drawn of X").unwrap();
    assert_eq!(
        drawn(&[("wide/1", "w"), ("wide/3", "x")], Scope::Channel(&[])).map_err(|f| f.sorted()[0].code),
        Err("foreign-file")
    );
}

#[test]
fn files_no_recipe_makes_any_more_go_and_others_stay() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path();
    publish(out, &[recipe("a", &[("wide/1", "x"), ("wide/2", "x")]), recipe("b", &[("tall/1", "y")])]).unwrap();
    fs::write(out.join("a/wide/mine.txt"), "mine").unwrap();
    fs::write(out.join("a/wide/2"), "edited").unwrap();
    let report = publish(out, &[recipe("a", &[("wide/1", "x")])]).unwrap();
    assert_eq!(names(out), ["a/wide/1", "a/wide/2", "a/wide/mine.txt", "index.html"]);
    assert_eq!((report.removed, report.left), (1, vec!["a/wide/2".to_owned()]));
    assert!(!out.join("b").exists(), "an emptied folder goes too");
}

#[test]
fn a_file_in_the_way_stops_everything() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path();
    fs::create_dir(out.join("b")).unwrap();
    fs::write(out.join("b/1"), "mine").unwrap();
    fs::create_dir(out.join("b/2")).unwrap();
    let works = [recipe("a", &[("1", "x")]), recipe("b", &[("1", "y"), ("2", "y")])];
    assert_eq!(codes(publish(out, &works)), ["foreign-file", "foreign-file"]);
    assert_eq!(names(out), ["b/1"]);
    assert_eq!(fs::read_to_string(out.join("b/1")).unwrap(), "mine");
}

#[test]
fn a_published_file_that_someone_changed_is_not_overwritten() {
    let dir = tempfile::tempdir().unwrap();
    publish(dir.path(), &[recipe("a", &[("1", "x")])]).unwrap();
    fs::write(dir.path().join("a/1"), "retouched").unwrap();
    assert_eq!(codes(publish(dir.path(), &[recipe("a", &[("1", "x")])])), ["foreign-file"]);
    fs::remove_file(dir.path().join("a/1")).unwrap();
    assert_eq!(publish(dir.path(), &[recipe("a", &[("1", "x")])]).unwrap().written, 1);
}

#[test]
fn equal_files_without_a_record_are_taken_over_untouched() {
    let dir = tempfile::tempdir().unwrap();
    publish(dir.path(), &[recipe("a", &[("1", "x")])]).unwrap();
    fs::remove_file(dir.path().join(".tallyspoon.json")).unwrap();
    assert_eq!(publish(dir.path(), &[recipe("a", &[("1", "x")])]).unwrap().written, 0);
    assert_eq!(publish(dir.path(), &[recipe("a", &[("1", "y")])]).unwrap().written, 1);
}

#[test]
fn a_fault_anywhere_writes_nothing_anywhere() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    let mut works = [recipe("a", &[("1", "x")]), recipe("b", &[("1", "y")]), recipe("c", &[("1", "y")])];
    works[0].fault = true;
    works[2].fault = true;
    assert_eq!(codes(publish(&out, &works)), ["fault", "fault"], "each recipe tells its own");
    assert!(!out.exists(), "not even the folder is left");
    fs::write(dir.path().join("file"), "").unwrap();
    assert_eq!(codes(publish(&dir.path().join("file"), &works)), ["output-failed"]);
}

#[cfg(unix)]
#[test]
fn links_do_not_lead_out_of_the_folder() {
    use std::os::unix::fs::symlink;
    let dir = tempfile::tempdir().unwrap();
    let (out, elsewhere) = (dir.path().join("out"), dir.path().join("elsewhere"));
    fs::create_dir(&elsewhere).unwrap();
    fs::create_dir(&out).unwrap();
    symlink(&elsewhere, out.join("a")).unwrap();
    assert_eq!(codes(publish(&out, &[recipe("a", &[("1", "x")])])), ["output-elsewhere"]);
    fs::remove_file(out.join("a")).unwrap();
    fs::create_dir(out.join("a")).unwrap();
    fs::write(elsewhere.join("1"), "theirs").unwrap();
    symlink(elsewhere.join("1"), out.join("a/1")).unwrap();
    assert_eq!(codes(publish(&out, &[recipe("a", &[("1", "x")])])), ["foreign-file"]);
    symlink(&elsewhere, out.join(".tallyspoon.new")).unwrap();
    assert_eq!(codes(publish(&out, &[recipe("a", &[("1", "x")])])), ["foreign-file"]);
    assert_eq!(names(&elsewhere), ["1"]);
    assert_eq!(fs::read_to_string(elsewhere.join("1")).unwrap(), "theirs");
}

#[test]
fn what_a_killed_run_left_is_healed() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path();
    publish(out, &[recipe("a", &[("1", "x"), ("2", "x")])]).unwrap();
    let stage = out.join(".tallyspoon.new/files/a");
    fs::create_dir_all(&stage).unwrap();
    fs::write(stage.join("1"), "hal").unwrap();
    publish(out, &[recipe("a", &[("1", "y"), ("2", "x")])]).unwrap();
    assert_eq!(names(out), ["a/1", "a/2", "index.html"]);
    assert_eq!(fs::read_to_string(out.join("a/1")).unwrap(), "y");
}

#[test]
fn two_runs_at_once_do_not_mix() {
    let dir = tempfile::tempdir().unwrap();
    fs::create_dir(dir.path().join(".tallyspoon.new")).unwrap();
    let lock = fs::File::create(dir.path().join(".tallyspoon.new/lock")).unwrap();
    lock.lock().unwrap();
    assert_eq!(codes(publish(dir.path(), &[recipe("a", &[("1", "x")])])), ["output-busy"]);
    drop(lock);
    publish(dir.path(), &[recipe("a", &[("1", "x")])]).unwrap();
}

#[test]
fn cards_of_one_frame_leave_the_rest() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path();
    let all = || recipe("a", &[("wide/1", "x"), ("wide/2", "x"), ("tall/1", "x"), ("notes.txt", "n")]);
    publish(out, &[all(), recipe("b", &[("wide/1", "y")])]).unwrap();
    let wide = recipe("a", &[("wide/1", "other yield")]);
    let told = run(out, &[wide], Scope::Frames(&["wide".to_owned()]), &|_: Tick| {}).unwrap();
    assert_eq!(told.changes[0].line(), "a: 1 file written, 1 removed", "another yield is no move");
    assert_eq!(names(out), ["a/notes.txt", "a/tall/1", "a/wide/1", "b/wide/1", "index.html"]);
    let back = publish(out, &[all(), recipe("b", &[("wide/1", "y")])]).unwrap();
    assert_eq!((back.written, back.unchanged), (2, 1), "publishing brings the frame back");
    assert_eq!(back.changes[0].line(), "a: no figure moved (2 files written)");
    // Nor is what was made of a recipe before it is published.
    let (new, frame) = (tempfile::tempdir().unwrap(), ["wide".to_owned()]);
    run(new.path(), &[recipe("a", &[("wide/1", "x")])], Scope::Frames(&frame), &|_: Tick| {}).unwrap();
    let first = publish(new.path(), &[all()]).unwrap();
    assert_eq!(first.changes[0].line(), "a: published for the first time (3 files written)");
}

#[test]
fn a_record_of_another_hand_is_in_the_way() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join(".tallyspoon.json"), "{}").unwrap();
    assert_eq!(codes(publish(dir.path(), &[recipe("a", &[("1", "x")])])), ["foreign-file"]);
    assert_eq!(fs::read_to_string(dir.path().join(".tallyspoon.json")).unwrap(), "{}");
}

/// A recipe's files at random: a card of two frames, notes, a page, each there or not, of one of three contents.
type Drawn = Vec<Option<u8>>;

fn drawn(id: &'static str, contents: &Drawn) -> Given {
    const PATHS: [&str; 5] = ["wide/01-cost.png", "tall/01-cost.png", "wide/02-closing.svg", "notes.txt", "index.html"];
    let files =
        PATHS.iter().zip(contents).filter_map(|(path, text)| Some(((*path).to_owned(), text.as_ref()?.to_string())));
    Given { id, files: files.collect(), fault: false }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// What is told to change beforehand is what publishing tells and does.
    #[test]
    fn what_would_be_done_is_what_is_done(
        before in prop::collection::vec(prop::collection::vec(prop::option::of(0_u8..3), 5), 2),
        after in prop::collection::vec(prop::collection::vec(prop::option::of(0_u8..3), 5), 2),
        index in 0_u8..2,
    ) {
        let works = |contents: &[Drawn]| vec![drawn("a", &contents[0]), drawn("b", &contents[1])];
        let beside = |text: u8| vec![("index.html".to_owned(), vec![text])];
        let (old, new) = (works(&before), works(&after));
        let (beside_old, beside_new) = (beside(0), beside(index));
        let told = compare((&old, &beside_old), (&new, &beside_new), &|_| {}).expect("no fault");
        let dir = tempfile::tempdir().unwrap();
        run(dir.path(), &old, Scope::Channel(&beside_old), &|_| {}).expect("no fault");
        let done = run(dir.path(), &new, Scope::Channel(&beside_new), &|_| {}).expect("no fault");
        prop_assert_eq!((told.written, told.removed, told.unchanged), (done.written, done.removed, done.unchanged));
        let lines = |report: &Report| report.changes.iter().map(|change| change.line()).collect::<Vec<_>>();
        prop_assert_eq!(lines(&told), lines(&done));
    }
}

/// What happens to a published folder between two runs.
#[derive(Clone, Debug)]
enum Event {
    /// A recipe says something else.
    Said(usize, Drawn),
    /// A file is given other bytes of the same length, and its time of writing back.
    Forged(Index),
    /// A file is removed.
    Gone(Index),
    /// A file is given another time of writing.
    Touched(Index),
    /// A file is replaced by a copy of itself.
    Copied(Index),
    /// Another run was killed before it moved anything.
    Killed,
}

fn event() -> impl Strategy<Value = Event> {
    let contents = prop::collection::vec(prop::option::of(0_u8..3), 5);
    prop_oneof![
        3 => (0_usize..2, contents).prop_map(|(recipe, contents)| Event::Said(recipe, contents)),
        2 => any::<Index>().prop_map(Event::Forged),
        1 => any::<Index>().prop_map(Event::Gone),
        1 => any::<Index>().prop_map(Event::Touched),
        1 => any::<Index>().prop_map(Event::Copied),
        1 => Just(Event::Killed),
    ]
}

/// Every file of a folder with its text alone.
fn texts(root: &Path) -> BTreeMap<String, String> {
    snapshot(root).into_iter().map(|(name, (text, _))| (name, text)).collect()
}

/// Does to the folder what happened; answers whether a file is somebody's now.
fn befall(out: &Path, event: &Event) -> Option<PathBuf> {
    let pick = |index: &Index| {
        let names = names(out);
        let path = out.join(&names[index.index(names.len())]);
        let written = fs::metadata(&path).unwrap().modified().unwrap();
        (path, written)
    };
    match event {
        Event::Said(..) => None,
        Event::Forged(index) => {
            let (path, written) = pick(index);
            let forged = fs::read(&path).unwrap().iter().map(|byte| byte ^ 1).collect::<Vec<_>>();
            let mut file = fs::File::options().write(true).open(&path).unwrap();
            file.write_all(&forged).unwrap();
            file.set_modified(written).unwrap();
            Some(path)
        }
        Event::Gone(index) => {
            fs::remove_file(pick(index).0).unwrap();
            None
        }
        Event::Touched(index) => {
            let (path, written) = pick(index);
            let file = fs::File::options().write(true).open(&path).unwrap();
            file.set_modified(written - Duration::from_secs(3600)).unwrap();
            None
        }
        Event::Copied(index) => {
            let (path, written) = pick(index);
            let bytes = fs::read(&path).unwrap();
            fs::remove_file(&path).unwrap();
            fs::write(&path, bytes).unwrap();
            fs::File::options().write(true).open(&path).unwrap().set_modified(written).unwrap();
            None
        }
        Event::Killed => {
            fs::create_dir_all(out.join(".tallyspoon.new/files/a/wide")).unwrap();
            fs::write(out.join(".tallyspoon.new/files/a/wide/01-cost.png"), "ha").unwrap();
            None
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever happened between runs, what is published is what an empty folder would be given, and nothing that somebody
    /// changed is taken for ours, though it looks as it did.
    #[test]
    fn what_is_brought_up_to_date_is_what_is_made_anew(events in prop::collection::vec(event(), 1..10)) {
        let dir = tempfile::tempdir().unwrap();
        let out = dir.path().join("out");
        let mut contents = vec![vec![Some(0_u8); 5]; 2];
        let works = |contents: &[Drawn]| vec![drawn("a", &contents[0]), drawn("b", &contents[1])];
        publish(&out, &works(&contents)).expect("no fault");
        for (round, event) in events.iter().enumerate() {
            if let Event::Said(recipe, said) = event {
                contents[*recipe].clone_from(said);
            }
            if let Some(theirs) = befall(&out, event) {
                let before = texts(&out);
                prop_assert_eq!(codes(publish(&out, &works(&contents))), ["foreign-file"]);
                prop_assert_eq!(texts(&out), before);
                fs::remove_file(theirs).unwrap();
            }
            publish(&out, &works(&contents)).expect("no fault");
            let fresh = dir.path().join(format!("fresh-{round}"));
            publish(&fresh, &works(&contents)).expect("no fault");
            prop_assert_eq!(texts(&out), texts(&fresh));
        }
    }
}

#[test]
fn a_change_names_the_cards_and_texts_that_it_is_in() {
    let dir = tempfile::tempdir().unwrap();
    let files = |cost: &'static str| {
        [("wide/07-cost.png", cost), ("tall/09-cost.svg", cost), ("notes.md", cost), ("wide/contact-sheet.png", cost)]
    };
    publish(dir.path(), &[recipe("a", &files("x"))]).unwrap();
    let report = publish(dir.path(), &[recipe("a", &files("y"))]).unwrap();
    assert_eq!(report.changes[0].shown, ["cost", "notes"]);
    assert!(report.changes[0].line().ends_with("(4 files written: cost, notes)"), "{}", report.changes[0].line());
}

#[test]
fn no_path_leads_out_of_the_folder() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    for path in ["../../x", "wide/../../../x", "/x", "wide//x", "..", "c:\\x"] {
        let result = publish(&out, &[recipe("a", &[("wide/1", "x"), (path, "y")])]);
        assert_eq!(codes(result), ["output-elsewhere"], "{path}");
        assert_eq!(names(dir.path()), Vec::<String>::new(), "{path}");
    }
}

#[cfg(unix)]
#[test]
fn links_in_the_stage_lead_nowhere() {
    use std::os::unix::fs::symlink;
    let dir = tempfile::tempdir().unwrap();
    let (out, victim) = (dir.path().join("out"), dir.path().join("victim"));
    let stage = out.join(".tallyspoon.new");
    fs::create_dir_all(&stage).unwrap();
    fs::write(&victim, "theirs").unwrap();
    symlink(&victim, stage.join("lock")).unwrap();
    assert_eq!(codes(publish(&out, &[recipe("a", &[("wide/1", "x")])])), ["foreign-file"]);
    fs::remove_file(stage.join("lock")).unwrap();
    // What a killed run left is cleared, and a link is cleared as the link that it is.
    symlink(dir.path(), stage.join("files")).unwrap();
    symlink(&victim, stage.join(".tallyspoon.json")).unwrap();
    publish(&out, &[recipe("a", &[("wide/1", "x")])]).unwrap();
    assert_eq!(fs::read_to_string(&victim).unwrap(), "theirs");
    assert_eq!(names(&out), ["a/wide/1", "index.html"]);
    assert!(!stage.exists());
}
