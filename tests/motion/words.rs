//! Every number on the way to a figure is one that the sheet minted, in the channel's language, and it arrives.

use tallyspoon::cards::Card;
use tallyspoon::draw::{Group, Node, Role};
use tallyspoon::locale::Language;

use super::demo;

fn text(nodes: &[Node]) -> String {
    let text = |node: &Node| match node {
        Node::Text { block, .. } => {
            Some(block.text().replace('\u{2060}', "").replace('\u{a0}', " ").replace('\u{2044}', "/"))
        }
        _ => None,
    };
    nodes.iter().filter_map(text).collect()
}

fn groups<'a>(cards: &'a [Card], wanted: fn(Role) -> bool) -> impl Iterator<Item = (&'a Card, &'a Group)> {
    let of_card = move |card: &'a Card| {
        card.scene
            .groups
            .iter()
            .filter(move |group| wanted(group.role) && !group.stages.is_empty())
            .map(move |g| (card, g))
    };
    cards.iter().flat_map(of_card)
}

/// The digits of a text as one number.
fn digits(text: &str) -> u64 {
    text.chars().filter_map(|c| c.to_digit(10)).fold(0, |all, digit| all * 10 + u64::from(digit))
}

#[test]
fn totals_are_counted_up_to_in_every_language() {
    for language in Language::ALL.map(Language::code) {
        let content = demo::content(language);
        let locale = demo::locale(&content, language);
        let theme = demo::theme(&content, "harbour");
        for resolved in &demo::sheets(&content, &locale) {
            for frame in &content.channel.frames {
                let cards = demo::deck(resolved, &theme, frame, &locale);
                let mut counted = 0;
                for (card, group) in groups(&cards, |role| matches!(role, Role::Count(_))) {
                    let full = text(&card.scene.nodes[group.nodes.clone()]);
                    let way: Vec<String> = group.stages.iter().map(|stage| text(stage)).collect();
                    assert_eq!(way.len(), 24, "{full}");
                    let values: Vec<u64> = way.iter().chain([&full]).map(|text| digits(text)).collect();
                    assert!(values.is_sorted() && values[0] == 0, "{way:?} {full}");
                    let around =
                        |text: &str| text.replace(|c: char| c.is_ascii_digit() || ",.\u{202f} ".contains(c), "");
                    assert!(way.iter().all(|text| around(text) == around(&full)), "{way:?} {full}");
                    counted += 1;
                }
                assert!(counted >= 4, "{language} {}: {counted} counted", resolved.0.recipe);
            }
        }
    }
}

#[test]
fn waits_run_down_to_nothing() {
    let content = demo::content("en");
    let locale = demo::locale(&content, "en");
    let theme = demo::theme(&content, "lantern");
    let mut seen = 0;
    for resolved in &demo::sheets(&content, &locale) {
        let cards = demo::deck(resolved, &theme, &content.channel.frames[0], &locale);
        for (card, group) in groups(&cards, |role| role == Role::Timer) {
            let left: Vec<String> = group.stages.iter().map(|stage| text(stage)).collect();
            assert!(left.len() >= 2, "{}: {left:?}", card.name);
            assert_eq!(digits(left.last().expect("some")), 0, "{left:?}");
            let step: usize = card.plain_name().trim_start_matches("wait-").parse().expect("a number");
            let minted: Vec<&str> = resolved.1[step - 1].iter().map(|figure| figure.text()).collect();
            assert_eq!(minted[0], text(&card.scene.nodes[group.nodes.clone()]));
            assert!(left.iter().all(|text| minted.contains(&text.as_str())), "{left:?} of {minted:?}");
            seen += 1;
        }
    }
    assert!(seen >= 2, "the demo has {seen} waits that run");
}
