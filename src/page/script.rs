//! The script of a page: its modules put together, without comments and indentation. Must not know any recipe.

use crate::locale::Key;
use std::sync::LazyLock;

/// In the order they build on each other.
const MODULES: [&str; 6] = [
    include_str!("web/exact.js"),
    include_str!("web/notation.js"),
    include_str!("web/kitchen.js"),
    include_str!("web/batch.js"),
    include_str!("web/cost.js"),
    include_str!("web/ask.js"),
];
/// Those that put figures in words and on the page.
const FACE: [&str; 7] = [
    include_str!("web/method.js"),
    include_str!("web/figures.js"),
    include_str!("web/view.js"),
    include_str!("web/yield.js"),
    include_str!("web/timers.js"),
    include_str!("web/walk.js"),
    include_str!("web/main.js"),
];

/// The wording that it fills.
pub(super) const WORDS: &[Key] = &[
    Key::HeadItem,
    Key::HeadPercent,
    Key::RatioOwn,
    Key::CostFree,
    Key::CostOffer,
    Key::CostNoPrice,
    Key::CostTotal,
    Key::CostTotalKnown,
    Key::CostIncomplete,
    Key::CostBasket,
    Key::TotalsUsedWhy,
    Key::TotalsEnergy,
    Key::TotalsEnergyWhy,
    Key::TotalsBasketLeft,
    Key::TotalsBasketMore,
    Key::TotalsCompare,
    Key::TotalsCompareWhy,
    Key::ToldBoth,
    Key::TotalsCheaper,
    Key::TotalsDearer,
    Key::VariantWas,
    Key::VariantReplaces,
    Key::Labelled,
    Key::PercentsOn,
    Key::SharesOn,
    Key::NotesHow,
    Key::NotesWorked,
    Key::Diet,
    Key::LiveHaveChoose,
    Key::LiveCopied,
    Key::LiveStill,
    Key::LiveRefusedNumber,
    Key::LiveRefusedUnit,
    Key::LiveRefusedWeight,
    Key::LiveRefusedCount,
    Key::LiveRefusedBeyond,
    Key::LiveRefusedLarge,
    Key::LiveRefusedTiny,
    Key::LiveRefusedSmall,
    Key::LiveRefusedLittle,
    Key::LiveRefusedUnweighed,
    Key::LiveRefusedVariant,
    Key::LiveRefusedTwo,
    Key::LiveRefusedUncounted,
    Key::LiveRefusedBaseless,
    Key::LiveWalkAt,
    Key::LiveAwake,
    Key::LiveAsleep,
    Key::LiveTimerStart,
    Key::LiveTimerLeft,
    Key::LiveTimerLook,
    Key::LiveTimerUp,
    Key::LiveTimerSeen,
    Key::LiveTimerStop,
];

/// One script that leaves nothing behind but what it does.
pub(super) fn script() -> &'static str {
    static SCRIPT: LazyLock<String> = LazyLock::new(|| {
        let lines = MODULES.iter().chain(&FACE).flat_map(|module| module.lines()).filter_map(packed);
        let all: String = lines.map(|line| format!("{line}\n")).collect();
        format!("(() => {{\n\"use strict\";\n{all}}})();\n")
    });
    &SCRIPT
}

/// A line without what only its readers need; nothing for a comment. No text of ours spans lines.
fn packed(line: &str) -> Option<&str> {
    let line = line.trim();
    let comment = line.starts_with("//") || line.starts_with("/*") || line.starts_with("* ") || line == "*/";
    (!line.is_empty() && !comment).then_some(line)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_script_can_stand_in_a_page() {
        assert!(!script().contains("</") && !script().contains("<!--"), "nothing in it closes or hides its element");
        assert!(script().lines().all(|line| packed(line) == Some(line)));
    }
}
