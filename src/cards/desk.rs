//! What every card is made with: the sheet, the theme, the frame and the wording, and text set with them.
//! Must not know any one card.

use std::cell::RefCell;
use std::collections::HashMap;
use std::hash::{BuildHasher as _, Hash as _, Hasher as _, RandomState};
use std::sync::{Arc, OnceLock};

use super::callout::Callout;
use crate::draw::{Align, Colour, DrawError, Rect, Scene, TextBlock, TextRun, TextSpec, layout};
use crate::locale::{Key, Locale};
use crate::model::Frame;
use crate::sheet::{Figure, Phrase, Piece, Sheet, tally};
use crate::theme::{Face, Ink, Margins, Palette, Plate, Theme};

/// What cards that move are made with beside the sheet.
#[derive(Clone, Copy)]
pub(super) struct Moving<'a> {
    /// How many figures lead up to one that is counted.
    pub(super) steps: u32,
    /// What is left of each step's wait as it runs down.
    pub(super) countdowns: &'a [Vec<Figure>],
}

/// What all cards of a deck share, made by the first maker that asks for it.
#[derive(Default)]
pub(super) struct Shared {
    pub(super) callouts: OnceLock<Vec<Callout>>,
    /// How high what stands above in the picture is at the most.
    above: OnceLock<f32>,
}

/// A card's maker's desk.
pub(super) struct Desk<'a> {
    pub(super) sheet: &'a Sheet,
    pub(super) theme: &'a Theme,
    pub(super) frame: &'a Frame,
    pub(super) locale: &'a Locale,
    /// Pixels of the frame's shorter side.
    pub(super) side: u32,
    /// Where paint may be: one pixel clear of the safe area's line.
    pub(super) safe: Rect,
    /// Whether figures on the way are set too: cards that move need them.
    moving: Option<Moving<'a>>,
    pub(super) shared: Arc<Shared>,
    /// Texts that have been set, by the hash of what was asked: fitting asks for the same ones again and again.
    known: RefCell<HashMap<u64, Vec<Known>>>,
    hasher: RandomState,
}

/// A text that has been set, and how.
struct Known {
    runs: Vec<(Phrase, AskedInk)>,
    room: AskedRoom,
    set: Result<Set, DrawError>,
}

impl Known {
    /// Whether it is what is asked for.
    fn is(&self, runs: &[(&Phrase, Ink<'_>)], room: Room) -> bool {
        let alike =
            |((phrase, ink), (asked, of)): (&(Phrase, AskedInk), &(&Phrase, Ink<'_>))| ink.is(of) && phrase == *asked;
        self.room == asked_room(room) && self.runs.len() == runs.len() && self.runs.iter().zip(runs).all(alike)
    }
}

/// Everything of an ink that decides how a text is set.
struct AskedInk {
    family: String,
    weight: u16,
    italic: bool,
    cap: u32,
    colour: Colour,
}

impl AskedInk {
    fn new(ink: &Ink<'_>) -> Self {
        Self {
            family: ink.face.family.clone(),
            weight: ink.face.weight,
            italic: ink.face.italic,
            cap: ink.cap.to_bits(),
            colour: ink.colour,
        }
    }

    fn is(&self, ink: &Ink<'_>) -> bool {
        let face = (self.weight, self.italic) == (ink.face.weight, ink.face.italic) && self.family == ink.face.family;
        face && (self.cap, self.colour) == (ink.cap.to_bits(), ink.colour)
    }
}

/// Everything of a room that decides how a text is set.
type AskedRoom = (Option<u32>, usize, u8, u32);

fn asked_room(room: Room) -> AskedRoom {
    (room.width.map(f32::to_bits), room.lines, room.align as u8, room.pitch.to_bits())
}

/// Text laid out, measured by its capitals.
#[derive(Clone, Debug)]
pub(super) struct Set {
    pub(super) block: Arc<TextBlock>,
    /// Height of a capital.
    pub(super) cap: f32,
    /// The same before it is rounded to whole pixels.
    pub(super) cap_exact: f32,
    /// From the top of the first line's capitals to the last baseline.
    pub(super) height: f32,
    /// Width of the widest line.
    pub(super) width: f32,
}

impl Set {
    /// Whether the last of several lines is much shorter than the others.
    fn has_remnant(&self) -> bool {
        let lines = self.block.line_widths();
        lines.len() > 1 && lines.last().is_some_and(|&last| last < 0.4 * self.width)
    }
}

/// How a text may be set.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    /// Width of the lines; `None` for one line as wide as it needs.
    pub(super) width: Option<f32>,
    /// The most lines.
    pub(super) lines: usize,
    pub(super) align: Align,
    /// From baseline to baseline, in capitals.
    pub(super) pitch: f32,
}

impl Room {
    /// One line, as wide as it needs.
    pub(super) const LINE: Self = Self { width: None, lines: 1, align: Align::Start, pitch: 1.8 };

    /// Lines of that width.
    pub(super) fn lines(width: f32, lines: usize) -> Self {
        Self { width: Some(width), lines, ..Self::LINE }
    }

    /// The same with lines closer together, for headings.
    pub(super) fn tight(self) -> Self {
        Self { pitch: 1.58, ..self }
    }
}

impl<'a> Desk<'a> {
    pub(super) fn new(sheet: &'a Sheet, theme: &'a Theme, frame: &'a Frame, locale: &'a Locale) -> Self {
        let safe = Rect::from_edges(
            (frame.safe.left + 1) as f32,
            (frame.safe.top + 1) as f32,
            frame.width.saturating_sub(frame.safe.right + 1) as f32,
            frame.height.saturating_sub(frame.safe.bottom + 1) as f32,
        );
        let (known, hasher, shared) = (RefCell::default(), RandomState::new(), Arc::default());
        Self {
            sheet,
            theme,
            frame,
            locale,
            side: frame.width.min(frame.height),
            safe,
            moving: None,
            shared,
            known,
            hasher,
        }
    }

    /// The same for cards of a deck.
    pub(super) fn of_deck(self, shared: &Arc<Shared>) -> Self {
        Self { shared: Arc::clone(shared), ..self }
    }

    /// The height of the safe area that what stands above leaves to cards that may be on screen with it.
    pub(super) fn room_below(&self) -> f32 {
        let above =
            self.shared.above.get_or_init(|| super::callout::height(self).max(super::steps::height_of_waits(self)));
        if *above > 0.0 { self.safe.h - above - self.gap() } else { self.safe.h }
    }

    /// The same for cards that move.
    pub(super) fn moving(self, moving: Moving<'a>) -> Self {
        Self { moving: Some(moving), ..self }
    }

    /// What a figure shows on the way to it; none for cards that stand still, and where it can't be counted.
    pub(super) fn tally(&self, figure: &Figure) -> Vec<Phrase> {
        match self.moving {
            Some(moving) => {
                let on_the_way = tally(figure, self.locale, moving.steps);
                on_the_way.iter().take(moving.steps as usize).map(self::figure).collect()
            }
            None => Vec::new(),
        }
    }

    /// What is left of a step's wait as it runs down, after the whole of it.
    pub(super) fn countdown(&self, index: usize) -> &'a [Figure] {
        let left = self.moving.and_then(|moving| moving.countdowns.get(index));
        left.and_then(|left| left.get(1..)).unwrap_or_default()
    }

    /// Pixels in a unit of artwork: 1080 to the shorter side.
    pub(super) fn unit(&self) -> f32 {
        self.side as f32 / 1080.0
    }

    /// Whether there is room beside a panel: the safe area is well wider than a panel of one column.
    pub(super) fn is_wide(&self) -> bool {
        self.safe.w > 1.25 * self.side as f32
    }

    pub(super) fn colours(&self) -> &'a Palette {
        &self.theme.tokens().colour
    }

    /// A distance of the theme, in pixels.
    pub(super) fn px(&self, share: f32) -> f32 {
        (share * self.side as f32).round()
    }

    pub(super) fn gap(&self) -> f32 {
        self.px(self.theme.tokens().space.gap)
    }

    pub(super) fn block(&self) -> f32 {
        self.px(self.theme.tokens().space.block)
    }

    /// A plate's margins in pixels.
    pub(super) fn margins(&self, plate: Plate) -> Margins {
        let (margins, unit) = (self.theme.margins(plate), self.unit());
        Margins {
            left: margins.left * unit,
            top: margins.top * unit,
            right: margins.right * unit,
            bottom: margins.bottom * unit,
            rail_x: margins.rail_x * unit,
            rail_width: margins.rail_width * unit,
            least_width: margins.least_width * unit,
            least_height: margins.least_height * unit,
        }
    }

    /// The most that a plate's body may measure.
    pub(super) fn most(&self, plate: Plate) -> (f32, f32) {
        let margins = self.margins(plate);
        ((self.safe.w - margins.left - margins.right).floor(), (self.safe.h - margins.top - margins.bottom).floor())
    }

    /// The width of a plate's body that leaves the picture beside it: all of it where there is no room beside.
    pub(super) fn column(&self, plate: Plate) -> f32 {
        let most = self.most(plate).0;
        if self.is_wide() { most.min(1.02 * self.side as f32) } else { most }
    }

    pub(super) fn ink(&self, face: &'a Face, step: f32) -> Ink<'a> {
        Ink::new(face, self.side, step, self.colours().ink)
    }

    pub(super) fn hero(&self, step: f32) -> Ink<'a> {
        self.ink(&self.theme.tokens().style.hero, step)
    }

    pub(super) fn display(&self, step: f32) -> Ink<'a> {
        self.ink(&self.theme.tokens().style.display, step)
    }

    pub(super) fn name(&self, step: f32) -> Ink<'a> {
        self.ink(&self.theme.tokens().style.name, step)
    }

    pub(super) fn amount(&self, step: f32) -> Ink<'a> {
        self.ink(&self.theme.tokens().style.amount, step)
    }

    pub(super) fn note(&self) -> Ink<'a> {
        self.ink(&self.theme.tokens().style.note, 0.0).coloured(self.colours().soft)
    }

    pub(super) fn label(&self) -> Ink<'a> {
        self.ink(&self.theme.tokens().style.label, 0.0).coloured(self.colours().soft)
    }

    /// Sets a phrase.
    pub(super) fn set(&self, phrase: &Phrase, ink: Ink<'_>, room: Room) -> Result<Set, DrawError> {
        self.set_runs(&[(phrase, ink)], room)
    }

    /// Sets phrases of several inks on the same lines; the first is measured.
    pub(super) fn set_runs(&self, runs: &[(&Phrase, Ink<'_>)], room: Room) -> Result<Set, DrawError> {
        let hash = self.hash(runs, room);
        let known = self.known.borrow();
        if let Some(known) = known.get(&hash).and_then(|known| known.iter().find(|known| known.is(runs, room))) {
            return known.set.clone();
        }
        drop(known);
        let set = self.lay_out(runs, room);
        let runs = runs.iter().map(|(phrase, ink)| ((*phrase).clone(), AskedInk::new(ink))).collect();
        let known = Known { runs, room: asked_room(room), set: set.clone() };
        self.known.borrow_mut().entry(hash).or_default().push(known);
        set
    }

    /// A hash of what is asked, made without a copy of it.
    fn hash(&self, runs: &[(&Phrase, Ink<'_>)], room: Room) -> u64 {
        let mut hasher = self.hasher.build_hasher();
        for (phrase, ink) in runs {
            phrase.hash(&mut hasher);
            (ink.face.weight, ink.face.italic, ink.cap.to_bits(), ink.colour).hash(&mut hasher);
        }
        asked_room(room).hash(&mut hasher);
        hasher.finish()
    }

    fn lay_out(&self, runs: &[(&Phrase, Ink<'_>)], room: Room) -> Result<Set, DrawError> {
        let cap = runs.first().map_or(0.0, |(_, ink)| ink.cap);
        let pitch = (cap * room.pitch).round();
        let spec = |hyphens: Hyphens| TextSpec {
            runs: runs
                .iter()
                .map(|(phrase, ink)| TextRun { text: bound(phrase, hyphens), style: ink.style() })
                .collect(),
            max_width: room.width,
            align: room.align,
            line_height: pitch as u32,
            max_lines: Some(room.lines),
            balance: room.lines > 1,
        };
        let set = |hyphens| layout(self.theme.fonts(), &spec(hyphens));
        // A word with a hyphen is broken only where it has to be.
        let block =
            set(Hyphens::Hold).or_else(|error| if error.is_misfit() { set(Hyphens::Break) } else { Err(error) })?;
        let height = cap + pitch * (block.line_count().max(1) - 1) as f32;
        Ok(Set {
            width: block.width().ceil(),
            height: height.round(),
            cap: cap.round(),
            cap_exact: cap,
            block: Arc::new(block),
        })
    }

    /// Sets a phrase at the largest size of its face at which it fits.
    pub(super) fn set_large(
        &self,
        phrase: &Phrase,
        face: &'a Face,
        colour: Colour,
        room: Room,
    ) -> Result<Set, DrawError> {
        self.set_from(phrase, face, 0.0, colour, room)
    }

    /// The same, no larger than at `step`.
    pub(super) fn set_from(
        &self,
        phrase: &Phrase,
        face: &'a Face,
        step: f32,
        colour: Colour,
        room: Room,
    ) -> Result<Set, DrawError> {
        let at = |step: f32| self.set(phrase, self.ink(face, step).coloured(colour), room);
        let steps = || STEPS.into_iter().filter(|&smaller| smaller >= step).map(at).filter(|set| !is_misfit(set));
        // Smaller rather than with a remnant on a line of its own.
        let whole = |set: &Result<Set, DrawError>| set.as_ref().is_ok_and(|set| !set.has_remnant());
        steps().find(whole).or_else(|| steps().next()).unwrap_or_else(|| at(1.0))
    }

    /// The card that `make` makes at the largest type at which it stays clear of what stands above; where none does, at the
    /// largest that fits the frame.
    pub(super) fn fitted_below(&self, make: impl Fn(f32) -> Result<Scene, DrawError>) -> Result<Scene, DrawError> {
        let clear = |made: &Result<Scene, DrawError>| made.as_ref().is_ok_and(|scene| self.is_clear(scene));
        STEPS.into_iter().map(&make).find(clear).unwrap_or_else(|| self.fitted(make))
    }

    /// Whether a card below stays clear of what stands above.
    pub(super) fn is_clear(&self, scene: &Scene) -> bool {
        scene.nodes.first().is_none_or(|plate| plate.bounds().y >= self.safe.bottom() - self.room_below())
    }

    /// What `make` makes at the largest type at which it fits the frame.
    pub(super) fn fitted<T>(&self, make: impl Fn(f32) -> Result<T, DrawError>) -> Result<T, DrawError> {
        STEPS.into_iter().map(&make).find(|made| !is_misfit(made)).unwrap_or_else(|| make(1.0))
    }

    /// Wording with its slots filled.
    pub(super) fn say(&self, key: Key, slots: &[(&str, Phrase)]) -> Phrase {
        Phrase::worded(self.locale, key, slots)
    }
}

/// Steps from a face's full size to its least.
pub(super) const STEPS: [f32; 4] = [0.0, 0.34, 0.67, 1.0];

pub(super) fn is_misfit<T>(result: &Result<T, DrawError>) -> bool {
    result.as_ref().is_err_and(DrawError::is_misfit)
}

pub(super) fn figure(figure: &Figure) -> Phrase {
    Phrase::new().figure(figure)
}

pub(super) fn author(text: &str) -> Phrase {
    Phrase::new().author(text)
}

/// Phrases with a mark between them.
pub(super) fn joined(phrases: &[Phrase], mark: &str) -> Phrase {
    Phrase::joined(phrases, mark)
}

/// Whether lines may break after hyphens.
#[derive(Clone, Copy)]
enum Hyphens {
    Hold,
    Break,
}

impl Hyphens {
    fn apply(self, text: &str) -> String {
        let held = bound_numbers(text);
        match self {
            Self::Hold => held.replace('-', "-\u{2060}"),
            Self::Break => held,
        }
    }
}

/// Wording whose numbers stay with the unit or word behind them.
fn bound_numbers(text: &str) -> String {
    let mut before = ' ';
    let hold = |ch: char| {
        let held = if ch == ' ' && before.is_numeric() { '\u{a0}' } else { ch };
        before = ch;
        held
    };
    // A mark between remarks ends a line and begins none.
    text.chars().map(hold).collect::<String>().replace(" · ", "\u{a0}· ")
}

/// A phrase's text with its figures held together.
fn bound(phrase: &Phrase, hyphens: Hyphens) -> String {
    let mut bound = String::new();
    for piece in phrase.pieces() {
        match piece {
            Piece::Figure(figure) => {
                // What a figure is of stays on its line.
                if bound.ends_with(": ") {
                    bound.pop();
                    bound.push('\u{a0}');
                }
                bound.push_str(&bound_figure(figure.text()));
            }
            Piece::Label(label) => bound.push_str(&hyphens.apply(label.text())),
            Piece::Author(text) => bound.push_str(&hyphens.apply(text)),
        }
    }
    bound
}

/// A figure that breaks only between two plain words, never beside a number or a sign.
fn bound_figure(text: &str) -> String {
    const JOINER: char = '\u{2060}';
    let plain =
        |word: Option<&str>| word.is_some_and(|word| word.chars().count() > 3 && word.chars().all(char::is_alphabetic));
    let words: Vec<&str> = text.split(' ').collect();
    let mut bound = String::new();
    for (index, word) in words.iter().enumerate() {
        if index > 0 {
            let loose = plain(Some(words[index - 1])) && plain(Some(word));
            bound.push(if loose { ' ' } else { '\u{a0}' });
        }
        let digits = word.chars().any(char::is_numeric);
        // A slash of fractions has fonts set what is around it as one.
        for ch in word.chars().map(|ch| if digits && ch == '/' { '\u{2044}' } else { ch }) {
            bound.push(ch);
            if digits && matches!(ch, '-' | '–' | '—' | '%') {
                bound.push(JOINER);
            }
        }
    }
    bound
}

#[cfg(test)]
mod tests {
    use super::{bound_figure, bound_numbers};

    #[test]
    fn numbers_in_wording_stay_with_their_units() {
        assert_eq!(bound_numbers("between 5 °C and 60 °C"), "between 5\u{a0}°C and 60\u{a0}°C");
        assert_eq!(bound_numbers("sliced · 2 cups"), "sliced\u{a0}· 2\u{a0}cups");
    }

    #[test]
    fn figures_hold_together_and_their_words_may_part() {
        assert_eq!(bound_figure("1 cup + 2 tbsp"), "1\u{a0}cup\u{a0}+\u{a0}2\u{a0}tbsp");
        assert_eq!(bound_figure("1 1/8 tsp"), "1\u{a0}1\u{2044}8\u{a0}tsp");
        assert_eq!(bound_figure("18–20 sweetcorn puffs"), "18–\u{2060}20\u{a0}sweetcorn puffs");
        assert_eq!(bound_figure("to taste"), "to\u{a0}taste");
    }
}
