//! The codes of what can be wrong with a channel's entries.

use crate::diag::diagnostic_codes;

diagnostic_codes! {
    /// A key that its table does not have.
    UNKNOWN_KEY = "unknown-key",
    /// A key that must be there is not.
    MISSING_KEY = "missing-key",
    /// A value of the wrong kind: a number for a text.
    WRONG_KIND = "wrong-kind",
    /// A text that must say something is blank.
    BLANK = "blank",
    /// A number that is not written plainly.
    BAD_NUMBER = "bad-number",
    /// A unit that the source format does not know.
    UNKNOWN_UNIT = "unknown-unit",
    /// A unit of the wrong kind: a length for a weight.
    WRONG_UNIT = "wrong-unit",
    /// Terms or ends of different kinds.
    MIXED_UNITS = "mixed-units",
    /// A range whose lower end is above its upper end.
    BACKWARDS_RANGE = "backwards-range",
    /// Above 10^9 in its base unit.
    TOO_LARGE = "too-large",
    /// Zero where there must be something.
    ZERO = "zero",
    /// Outside what the value can be.
    OUT_OF_RANGE = "out-of-range",
    /// A word that is none of the choices.
    UNKNOWN_CHOICE = "unknown-choice",
    /// A name that can't be used for an id.
    BAD_NAME = "bad-name",
    /// Sources of a form that a newer program writes.
    NEWER_SCHEMA = "newer-schema",
    /// A locale or language that is none.
    BAD_LOCALE = "bad-locale",
    /// A frame whose safe area is smaller than it may be.
    UNSAFE_FRAME = "unsafe-frame",
    /// A key that is no pantry item.
    UNKNOWN_ITEM = "unknown-item",
    /// An item made of itself.
    CIRCULAR_ITEM = "circular-item",
    /// Shares of a compound that pass the whole.
    SHARES_ABOVE_WHOLE = "shares-above-whole",
    /// Shares of a compound that leave a rest.
    SHARES_BELOW_WHOLE = "shares-below-whole",
    /// Facts on an item that its composition contradicts.
    FACTS_CONTRADICT = "facts-contradict",
    /// Two statements of one thing.
    GIVEN_TWICE = "given-twice",
    /// Lines and parts in one table.
    MIXED_FORMULA = "mixed-formula",
    /// A formula or a part without lines.
    NO_LINES = "no-lines",
    /// A table about a part that is not there.
    UNKNOWN_PART = "unknown-part",
    /// Parts that take each other.
    CIRCULAR_PART = "circular-part",
    /// A name of pieces that is nearly that of `piece`.
    PIECE_UNLIKE = "piece-unlike",
    /// A part taken whole by one line and again by another.
    PART_TAKEN_TWICE = "part-taken-twice",
    /// A part with nothing that says how much of it there is.
    UNSIZED_PART = "unsized-part",
    /// `all` of something that is no part.
    ALL_OF_ITEM = "all-of-item",
    /// A line that is a percent, or all of a part, and yet never to change.
    FIXED_PERCENT = "fixed-percent",
    /// A basis that is no line.
    UNKNOWN_BASIS = "unknown-basis",
    /// A line that can't be what is 100 %.
    BAD_BASIS = "bad-basis",
    /// Percents of the basis that do not add up to 100.
    BASIS_SUM = "basis-sum",
    /// A percent with nothing to be a percent of.
    PERCENT_OF_NOTHING = "percent-of-nothing",
    /// Batch sizes that disagree.
    SIZES_DISAGREE = "sizes-disagree",
    /// A volume line whose item has no density.
    NO_DENSITY = "no-density",
    /// A counted line whose item has no weight of one.
    NO_EACH = "no-each",
    /// A claim that an item contradicts.
    CLAIM_CONTRADICTED = "claim-contradicted",
    /// A claim that an item's facts can't support.
    CLAIM_UNSUPPORTED = "claim-unsupported",
    /// A claim that a variant breaks.
    CLAIM_BROKEN = "claim-broken",
    /// A name in a variant that is no line.
    UNKNOWN_LINE = "unknown-line",
    /// A name that several lines have.
    AMBIGUOUS_LINE = "ambiguous-line",
    /// An address that is none, or has no place for what goes into it.
    BAD_ADDRESS = "bad-address",
    /// A date that is none.
    BAD_DATE = "bad-date",
    /// Columns of the price book that are missing or unknown.
    BAD_COLUMNS = "bad-columns",
    /// A price that is not plain decimal text.
    BAD_PRICE = "bad-price",
    /// A pack that is no weight, volume or count.
    BAD_PACK = "bad-pack",
    /// The same item twice on one day at one place.
    DUPLICATE_PRICE = "duplicate-price",
    /// A shop's name that several items go by.
    AMBIGUOUS_ITEM = "ambiguous-item",
    /// A comma or point that may stand before decimals or between thousands.
    AMBIGUOUS_NUMBER = "ambiguous-number",
    /// A text that a spreadsheet would run as a formula.
    RUNS_AS_FORMULA = "runs-as-formula",
    /// A brace that is not closed.
    UNCLOSED_BRACE = "unclosed-brace",
    /// A brace that names nothing.
    UNKNOWN_BRACE = "unknown-brace",
    /// A brace whose line or result has no such figure.
    NO_FIGURE = "no-figure",
    /// A share that is zero or more than the whole.
    BAD_SHARE = "bad-share",
    /// What remains of a line when nothing does.
    NOTHING_LEFT = "nothing-left",
    /// A method without steps.
    NO_STEPS = "no-steps",
    /// A heading or a block quote where none can stand.
    MISPLACED = "misplaced",
    /// A number with a unit outside braces.
    TYPED_NUMBER = "typed-number",
    /// A line that the method never uses.
    UNUSED_LINE = "unused-line",
    /// Uses of a line that pass the whole.
    SHARES_PASS_WHOLE = "shares-pass-whole",
    /// A translation with other steps than the recipe, or other figures in one.
    STEPS_DIFFER = "steps-differ",
    /// Words that a translation lacks.
    UNTRANSLATED = "untranslated",
    /// A plural that can't be told.
    PIECE_UNKNOWN = "piece-unknown",
    /// A channel without recipes.
    NO_RECIPES = "no-recipes",
}
