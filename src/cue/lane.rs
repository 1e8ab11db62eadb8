//! Lanes and the cards that lie on them, by their names. Must not know when a card comes or what it looks like.

use crate::sheet::Sheet;

/// A layer of the timeline: no two of its cards are on screen at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lane {
    /// The title and the closing card.
    Title,
    /// What to weigh in, part by part: the boards, and their reveals.
    WeighOut,
    /// One line's amount at a time: the callouts.
    Ingredients,
    /// The steps.
    Steps,
    /// The waits.
    Waits,
    /// The cautions.
    Cautions,
    /// Cost, totals, ratio and variants.
    Cost,
}

impl Lane {
    /// Every lane in the order of the file.
    pub const ALL: [Self; 7] =
        [Self::Title, Self::WeighOut, Self::Ingredients, Self::Steps, Self::Waits, Self::Cautions, Self::Cost];

    /// Every lane as they lie over each other, lowest first: large cards below small ones, what warns over all.
    pub const STACKED: [Self; 7] =
        [Self::WeighOut, Self::Title, Self::Steps, Self::Cost, Self::Waits, Self::Ingredients, Self::Cautions];

    /// Its name in `cues.toml` and in file names.
    pub fn id(self) -> &'static str {
        match self {
            Self::Title => "title",
            Self::WeighOut => "weigh-out",
            Self::Ingredients => "ingredients",
            Self::Steps => "steps",
            Self::Waits => "waits",
            Self::Cautions => "cautions",
            Self::Cost => "cost",
        }
    }

    /// Whether its cards stand where those of the other lane do, so that one would hide the other: both below, both above,
    /// or one of them so high that it may reach from one to the other. The boards of what to weigh in are left out: they are off unless somebody
    /// wants them there.
    pub fn hides(self, other: Self) -> bool {
        let takes = |lane: Self| match lane {
            Self::Steps | Self::Cautions => (true, false),
            Self::Ingredients | Self::Waits => (false, true),
            Self::Title | Self::Cost => (true, true),
            Self::WeighOut => (false, false),
        };
        let ((below, above), (others_below, others_above)) = (takes(self), takes(other));
        self != other && (below && others_below || above && others_above)
    }

    /// The lane of that name.
    pub fn parse(id: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|lane| lane.id() == id)
    }
}

/// What a card is about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum About {
    /// The recipe's title.
    Title,
    /// All of a part's lines: the part's id.
    Part(String),
    /// A part's lines as far as this one: the line's id.
    Reveal(String),
    /// A line: its id.
    Line(String),
    /// A caution: its id.
    Caution(String),
    /// A step: its id.
    Step(String),
    /// The wait of a step: its id.
    Wait(String),
    /// The cost, line by line.
    Cost,
    /// The totals, each with what it counts.
    Totals,
    /// The formula at several yields.
    Ratio,
    /// A variant: its id.
    Variant(String),
    /// The end.
    Closing,
}

impl About {
    /// The lane that such cards lie on.
    pub fn lane(&self) -> Lane {
        match self {
            Self::Title | Self::Closing => Lane::Title,
            Self::Part(_) | Self::Reveal(_) => Lane::WeighOut,
            Self::Line(_) => Lane::Ingredients,
            Self::Caution(_) => Lane::Cautions,
            Self::Step(_) => Lane::Steps,
            Self::Wait(_) => Lane::Waits,
            Self::Cost | Self::Totals | Self::Ratio | Self::Variant(_) => Lane::Cost,
        }
    }
}

/// A card, whether it is one picture or had to be split.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// Its name without its place in the running order and without a page's number: `step-2`.
    pub name: String,
    /// What it is about.
    pub about: About,
}

impl Card {
    /// The lane that it lies on.
    pub fn lane(&self) -> Lane {
        self.about.lane()
    }
}

/// Every card of a recipe, in running order, by the names that they are drawn under.
pub fn cards(sheet: &Sheet) -> Vec<Card> {
    let card = |name: String, about: About| Card { name, about };
    let parted = sheet.parts.iter().any(|part| part.title.is_some());
    let lines = || sheet.parts.iter().flat_map(|part| part.lines.iter().map(move |line| (part, line)));
    let mut all = vec![card("title".into(), About::Title)];
    all.extend(sheet.parts.iter().map(|part| {
        let name = if part.title.is_some() { format!("weigh-out-{}", part.id) } else { "weigh-out".into() };
        card(name, About::Part(part.id.clone()))
    }));
    all.extend(
        lines()
            .enumerate()
            .map(|(at, (_, line))| card(format!("reveal-{:02}", at + 1), About::Reveal(line.id.clone()))),
    );
    all.extend(lines().map(|(part, line)| {
        let name = if parted { format!("callout-{}-{}", part.id, line.key) } else { format!("callout-{}", line.key) };
        card(name, About::Line(line.id.clone()))
    }));
    let cautions = sheet.cautions.iter();
    all.extend(cautions.map(|caution| card(format!("caution-{}", caution.id), About::Caution(caution.id.clone()))));
    for step in &sheet.steps {
        let number = step.number.text();
        all.push(card(format!("step-{number}"), About::Step(step.id.clone())));
        all.extend(step.wait.as_ref().map(|_| card(format!("wait-{number}"), About::Wait(step.id.clone()))));
    }
    all.push(card("cost".into(), About::Cost));
    all.push(card("totals".into(), About::Totals));
    all.push(card("ratio".into(), About::Ratio));
    let variants = sheet.variants.iter();
    all.extend(variants.map(|variant| card(format!("variant-{}", variant.id), About::Variant(variant.id.clone()))));
    all.push(card("closing".into(), About::Closing));
    all
}

/// Which of `cards` a picture is of: the card itself, or a page of one that was split (`cost-2`).
///
/// `picture` is a name without its place in the running order.
pub fn card_of<'c>(picture: &str, cards: &'c [Card]) -> Option<&'c Card> {
    let whole = cards.iter().find(|card| card.name == picture);
    whole.or_else(|| {
        let (name, page) = picture.rsplit_once('-')?;
        let numbered = !page.is_empty() && page.bytes().all(|b| b.is_ascii_digit());
        cards.iter().find(|card| numbered && card.name == name)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_lane_lies_somewhere_over_the_others() {
        assert_eq!(Lane::ALL.map(|lane| Lane::STACKED.iter().filter(|other| **other == lane).count()), [1; 7]);
        let above = |lane: Lane| Lane::STACKED.iter().position(|other| *other == lane);
        assert!(above(Lane::Ingredients) > above(Lane::Steps) && above(Lane::Cautions) > above(Lane::Ingredients));
    }
}
