//! `new`: asks what a channel needs to know, on a terminal, or takes it from options and standard input. Must not know how
//! lines become a formula.

use super::Failure;
use super::args::Cli;
use super::terminal::{safe, say, tell, tell_heading};
use crate::desk::{Answers, Fault, Home, LOCALES, begin, is_free, is_understood, slips};
use crate::diag::sanitise;
use std::io::{self, BufRead as _, IsTerminal as _, Read as _, Write as _};
use std::path::Path;

/// More than this is no recipe, in bytes.
const MOST: u64 = 64 * 1024;

/// What the command line says already.
pub(super) struct Asked<'a> {
    pub(super) name: &'a Option<String>,
    pub(super) locale: &'a Option<String>,
    pub(super) currency: &'a Option<String>,
    pub(super) measures: &'a Option<String>,
    pub(super) title: &'a Option<String>,
    pub(super) makes: &'a Option<String>,
    pub(super) basis: &'a Option<String>,
    pub(super) own: &'a [String],
}

/// Begins a channel in `dir`.
pub(super) fn new(cli: &Cli, dir: &Path, asked: &Asked<'_>) -> Result<(), Failure> {
    let home = Home { content: dir.to_owned(), language: cli.language.clone() };
    let on_terminal = io::stdin().is_terminal() && io::stderr().is_terminal();
    is_free(&home)?;
    let mut answers = if on_terminal { by_prompts(&home, asked)? } else { by_options(asked)? };
    let made = loop {
        match begin(&home, &answers, false) {
            // Somebody is there to put a line right.
            Err(Fault::Request(_)) if on_terminal && mended(&home, &mut answers)? => {}
            Err(Fault::Request(why)) if on_terminal && why.starts_with("line ") => {
                tell(&why);
                answers.lines = lines_by_prompt()?;
                if answers.lines.is_empty() {
                    return Err(Fault::Request(why).into());
                }
            }
            Err(fault) => return Err(fault.into()),
            Ok(made) => break made,
        }
    };
    let folder = dir.display().to_string();
    let mut text = format!("made {folder} with the dish `{}`\n", made.recipe);
    if !made.fresh.is_empty() {
        let list: Vec<String> = made.fresh.iter().map(|key| format!("`{key}`")).collect();
        text.push_str(&format!("new in {folder}/pantry.toml, fill in what you know: {}\n", list.join(", ")));
    }
    let quoted = if folder.contains(' ') { format!("\"{folder}\"") } else { folder };
    text.push_str(&format!("next: tallyspoon studio --content {quoted}\n"));
    Ok(say(safe(&text).as_bytes())?)
}

/// Asks what is meant by names that look like slips; answers whether slips were all there was to ask about.
fn mended(home: &Home, answers: &mut Answers) -> Result<bool, Failure> {
    let slips = slips(home, answers);
    let known = slips.iter().filter_map(|slip| Some((slip.at, slip.name.as_ref()?, slip.meant.as_ref()?)));
    let known: Vec<_> = known.collect();
    if known.is_empty() || known.len() < slips.len() {
        return Ok(false);
    }
    for (at, name, meant) in known {
        let question = format!("Line {at}: `{}` is no ingredient of the pantry. Is `{meant}` meant?", sanitise(name));
        if prompt(&question, "yes")?.to_lowercase().starts_with('y') {
            let Some(lines) = instead(&answers.lines, at, name, meant) else { return Ok(false) };
            answers.lines = lines;
        } else {
            answers.own.push(name.clone());
        }
    }
    Ok(true)
}

/// The lines with one name in place of another, in the line `at` (from 1); `None` where the line does not have it as it is
/// written.
fn instead(lines: &str, at: usize, name: &str, meant: &str) -> Option<String> {
    let mut all: Vec<String> = lines.lines().map(str::to_owned).collect();
    let line = all.get_mut(at.checked_sub(1)?)?;
    // Names are known in lower case and with single spaces. Where a small letter is as long as its capital, places stay.
    let plain = line.split_whitespace().collect::<Vec<_>>().join(" ");
    let small =
        |c: char| Some(c.to_lowercase().to_string()).filter(|low| low.len() == c.len_utf8()).unwrap_or(c.into());
    let start = plain.chars().map(small).collect::<String>().find(name)?;
    *line = format!("{}{meant}{}", &plain[..start], &plain[start + name.len()..]);
    Some(all.join("\n") + "\n")
}

/// Everything from options, the lines from standard input.
fn by_options(asked: &Asked<'_>) -> Result<Answers, Failure> {
    let needed = |given: &Option<String>, option: &str| {
        given.clone().ok_or_else(|| {
            Failure::CommandLine(format!("`--{option}` is missing: without a terminal nobody can be asked"))
        })
    };
    let (name, title) = (needed(asked.name, "name")?, needed(asked.title, "title")?);
    let mut lines = String::new();
    let read = io::stdin().lock().take(MOST + 1).read_to_string(&mut lines);
    read.map_err(|error| {
        Failure::CommandLine(format!("standard input can't be read: {error}; write the lines as UTF-8"))
    })?;
    if lines.len() as u64 > MOST {
        return Err(Failure::CommandLine("standard input is too long for a recipe's lines".into()));
    }
    Ok(Answers {
        name,
        locale: asked.locale.clone().unwrap_or_else(|| LOCALES[0].locale.into()),
        currency: asked.currency.clone(),
        measures: asked.measures.clone(),
        title,
        makes: asked.makes.clone().unwrap_or_default(),
        lines,
        basis: asked.basis.clone(),
        own: asked.own.to_vec(),
    })
}

fn by_prompts(home: &Home, asked: &Asked<'_>) -> Result<Answers, Failure> {
    let given = |given: &Option<String>, question: &str, default: &str| match given {
        Some(text) => Ok(text.clone()),
        None => prompt(question, default),
    };
    let name = given(asked.name, "What is your channel called?", "")?;
    if asked.locale.is_none() {
        let list: Vec<String> = LOCALES.iter().map(|place| format!("  {:6} {}", place.locale, place.name)).collect();
        tell(&list.join("\n"));
    }
    let locale = given(asked.locale, "Where do you cook? One of these, or another such as en-NZ", LOCALES[0].locale)?;
    let place = LOCALES.iter().find(|place| place.locale.eq_ignore_ascii_case(&locale));
    let currency = given(asked.currency, "Which currency?", place.map_or("EUR", |place| place.currency))?;
    let measures = given(
        asked.measures,
        "Whose spoons and cups: metric, us, uk, au, ca or jp?",
        place.map_or("metric", |place| place.measures),
    )?;
    let (currency, measures) = (Some(currency), Some(measures));
    let channel = Answers { name, locale, currency, measures, ..Answers::default() };
    // Before anybody types a recipe for nothing.
    is_understood(home, &channel)?;
    let title = given(asked.title, "What is the first dish called?", "")?;
    let makes = given(asked.makes, "What does a batch make, such as 12 rolls? Leave it empty if you don't know", "")?;
    let (lines, basis, own) = (lines_by_prompt()?, asked.basis.clone(), asked.own.to_vec());
    Ok(Answers { title, makes, lines, basis, own, ..channel })
}

fn lines_by_prompt() -> Result<String, Failure> {
    tell_heading("Its ingredients, one a line, such as `flour 500 g`; an empty line ends them");
    let mut lines = String::new();
    loop {
        let line = prompt("", "")?;
        if line.is_empty() {
            return Ok(lines);
        }
        lines.push_str(&line);
        lines.push('\n');
    }
}

/// Asks a question; an empty answer is the default.
fn prompt(question: &str, default: &str) -> Result<String, Failure> {
    let shown = match (question, default) {
        ("", _) => "  ".to_owned(),
        (_, "") => format!("{question}\n> "),
        (_, _) => format!("{question} [{default}]\n> "),
    };
    let mut err = io::stderr().lock();
    err.write_all(shown.as_bytes()).and_then(|()| err.flush())?;
    let mut line = String::new();
    if io::stdin().lock().take(MOST).read_line(&mut line)? == 0 && question.is_empty() {
        return Ok(String::new());
    }
    let line = line.trim();
    Ok(if line.is_empty() { default.to_owned() } else { line.to_owned() })
}

#[cfg(test)]
mod tests {
    use super::instead;

    #[test]
    fn a_name_is_put_right_in_its_line_alone() {
        let lines = "flour 500 g\nWatr 340 mL\nwatr 5 g";
        let put = |lines: &str, at: usize, name: &str, meant: &str| instead(lines, at, name, meant);
        assert_eq!(put(lines, 2, "watr", "water").as_deref(), Some("flour 500 g\nwater 340 mL\nwatr 5 g\n"));
        assert_eq!(put("Crème 5 g", 1, "crème", "cream").as_deref(), Some("cream 5 g\n"));
        let spaced = put("brown  suger 500 g", 1, "brown suger", "brown sugar");
        assert_eq!(spaced.as_deref(), Some("brown sugar 500 g\n"));
        assert_eq!(put("brown: suger 500 g", 1, "brown suger", "brown sugar"), None, "it is asked for again");
    }
}
