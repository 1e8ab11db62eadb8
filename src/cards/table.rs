//! Tables of rows: names at the left, figures right-aligned in columns, marks on a rail; fitted to the room there is by
//! a second column, then smaller type, then more pages. Must not know what the figures mean.

use super::columns::{Measured, Texts, Track, after, figures, too_wide, track};
use super::desk::{Desk, Room, Set};
use super::pile::Pile;
pub(super) use super::rows::{Cell, Kind, Look, Row, State};
use super::shapes::{Columns, MOST_OF_SIZES, Shape, shapes};
use crate::draw::{Colour, DrawError, Rect, Role};
use crate::theme::{Drawing, Ink, Plate};

/// A row's texts, laid out.
#[derive(Clone, Debug)]
struct Laid {
    name: Set,
    aside: Option<Set>,
    cells: Vec<Set>,
    /// What cells show on the way.
    tallies: Vec<Vec<Set>>,
    height: f32,
}

/// A page of a table: rows in one or two columns.
#[derive(Clone, Debug)]
pub(super) struct Page {
    /// The first row's index and one past the last's, a column each; columns share the page's heads.
    columns: Vec<(usize, usize)>,
}

/// A table that fits.
#[derive(Clone, Debug)]
pub(super) struct Table {
    rows: Vec<Row>,
    laid: Vec<Laid>,
    head: Option<(Row, Laid)>,
    /// The columns of rows, from the left.
    tracks: Vec<Track>,
    /// From one to the next.
    between: f32,
    shape: Shape,
    pub(super) pages: Vec<Page>,
}

/// The room that a table may take.
#[derive(Clone, Copy, Debug)]
pub(super) struct Area {
    /// The width for one column that leaves the picture beside it.
    pub(super) narrow: f32,
    /// The least width of a single column.
    pub(super) least: f32,
    /// All the width there is.
    pub(super) wide: f32,
    pub(super) height: f32,
    /// Whether a second column of rows is any use.
    pub(super) columns: bool,
}

/// Fits rows into an area; a head, if any, is repeated on each page.
///
/// # Errors
/// A misfit if a single row doesn't fit at the least size, and whatever else stops a text from being set.
pub(super) fn fit(desk: &Desk<'_>, rows: &[Row], head: Option<&Row>, area: Area) -> Result<Table, DrawError> {
    let mut best: Result<Table, Option<DrawError>> = Err(None);
    let mut measured: Vec<Measured> = Vec::new();
    for shape in shapes(desk, rows, area) {
        let known = measured.iter().position(|known| known.step == shape.step);
        let known = match known {
            Some(known) => known,
            None => {
                measured.push(Measured::new(desk, rows, head, shape.step)?);
                measured.len() - 1
            }
        };
        // A shape further on is only better with fewer pages.
        let most = best.as_ref().map_or(rows.len().max(1), |table| table.pages.len() - 1);
        if most == 0 {
            break;
        }
        match attempt(desk, (rows, head, &measured[known]), area, shape, most) {
            Ok(table) => best = Ok(table),
            Err(error) if !error.is_misfit() => return Err(error),
            Err(error) => best = best.map_err(|_| Some(error)),
        }
    }
    best.map_err(|last| last.expect("at least one shape was tried"))
}

/// The table in a shape, on as few pages as can be and on `most_pages` at the most.
fn attempt(
    desk: &Desk<'_>,
    (rows, head, measured): (&[Row], Option<&Row>, &Measured),
    area: Area,
    shape: Shape,
    most_pages: usize,
) -> Result<Table, DrawError> {
    let between = between(desk);
    let (most, least) = match shape.columns {
        Columns::One => (area.narrow, area.least),
        Columns::Even => (((area.wide - between) / 2.0).floor(), 0.0),
        Columns::Uneven => (area.wide - between, 0.0),
    };
    let heads = || head.zip(measured.head.as_ref());
    let all: Vec<(&Row, &Texts)> = rows.iter().zip(&measured.rows).collect();
    let (natural, even) = track(&all.iter().copied().chain(heads()).collect::<Vec<_>>(), (most, least), shape)?;
    // Names that all have room on one line were tried so; and a head is laid out once, for columns that are alike.
    if shape.lines > 1 && natural <= even.width || shape.columns == Columns::Uneven && head.is_some() {
        return Err(too_wide(&rows.iter().collect::<Vec<_>>(), natural, even.width));
    }
    let lay = |(row, texts): (&Row, &Texts), track: &Track| lay(desk, row, &texts.cells, track, shape);
    let lay_at = |at: usize, track: &Track| {
        let laid = lay(all[at], track)?;
        Ok(Laid { height: laid.height + below_bar(desk, rows, at), ..laid })
    };
    let laid = (0..rows.len()).map(|at| lay_at(at, &even)).collect::<Result<Vec<_>, DrawError>>()?;
    let head = heads().map(|row| lay(row, &even).map(|laid| (row.0.clone(), laid))).transpose()?;
    let tracks = vec![even; shape.columns.count()];
    let mut table = Table { rows: Vec::new(), laid, head, tracks, between, shape, pages: Vec::new() };
    let mut misfit = None;
    // Fewer pages have no room for all rows together.
    let above = table.head.as_ref().map_or(0.0, |(_, laid)| laid.height);
    let heights: f32 = table.laid.iter().map(|laid| laid.height).sum();
    let fewest = (heights / (shape.columns.count() as f32 * (area.height - above).max(1.0))) as usize;
    for count in fewest.clamp(1, most_pages)..=most_pages {
        table.pages = chunks(rows.len(), count).into_iter().map(|(from, to)| table.page(from, to)).collect();
        if shape.columns == Columns::Uneven {
            match uneven(&all, &table.pages, most, shape) {
                Ok(tracks) => table.tracks = tracks,
                Err(error) => {
                    misfit = Some(error);
                    continue;
                }
            }
            for (index, &(from, to)) in table.pages.iter().flat_map(|page| page.columns.iter().enumerate()) {
                for at in from..to {
                    table.laid[at] = lay_at(at, &table.tracks[index])?;
                }
            }
        }
        let height = table.pages.iter().map(|page| table.height(page)).fold(0.0, f32::max);
        if height <= area.height {
            table.rows = rows.to_vec();
            return Ok(table);
        }
        misfit = Some(DrawError::TooManyLines {
            text: rows.iter().map(|row| row.name.text()).collect::<Vec<_>>().join(", "),
            lines: height as usize,
            max: area.height as usize,
        });
    }
    // The misfit that makes the caller try the next shape.
    Err(misfit.expect("at least one number of pages was tried"))
}

/// Columns as wide as what stands in each of them on any page.
fn uneven(rows: &[(&Row, &Texts)], pages: &[Page], most: f32, shape: Shape) -> Result<Vec<Track>, DrawError> {
    let tracks = (0..shape.columns.count()).map(|index| {
        let held = pages.iter().flat_map(|page| &rows[page.columns[index].0..page.columns[index].1]);
        track(&held.copied().collect::<Vec<_>>(), (most, 0.0), shape).map(|(_, track)| track)
    });
    let tracks = tracks.collect::<Result<Vec<_>, _>>()?;
    let width = tracks.iter().map(|track| track.width).sum::<f32>();
    if width <= most {
        return Ok(tracks);
    }
    Err(too_wide(&rows.iter().map(|(row, _)| *row).collect::<Vec<_>>(), width, most))
}

/// From one column of rows to the next, with room for its rail.
fn between(desk: &Desk<'_>) -> f32 {
    let rail = -desk.margins(Plate::List).rail_x;
    desk.px(desk.theme.tokens().space.column) + rail.max(0.0).round()
}

/// Rows shared out over pages, the first pages longer by one at most.
fn chunks(rows: usize, pages: usize) -> Vec<(usize, usize)> {
    let at = |page: usize| (rows * page).div_ceil(pages);
    (0..pages).map(|page| (at(page), at(page + 1))).collect()
}

pub(super) fn name_ink<'a>(desk: &Desk<'a>, kind: Kind, step: f32) -> Ink<'a> {
    match kind {
        Kind::Line | Kind::Extra => desk.name(step),
        Kind::Total => desk.amount(step),
        Kind::Head => desk.label(),
        Kind::Sizes => desk.name(step).coloured(desk.colours().soft),
    }
}

pub(super) fn set_cell(desk: &Desk<'_>, cell: &Cell, step: f32) -> Result<Set, DrawError> {
    desk.set(&cell.text, cell_ink(desk, cell.look, step), Room::LINE)
}

fn cell_ink<'a>(desk: &Desk<'a>, look: Look, step: f32) -> Ink<'a> {
    let colours = desk.colours();
    // Figures below each other are of one face, so that they line up.
    let figures = Ink { face: &desk.theme.tokens().style.amount, ..desk.amount(step) };
    match look {
        Look::Amount => figures,
        Look::Beside => figures.coloured(colours.soft),
        Look::Accent => figures.coloured(colours.accent),
        Look::Own => figures.coloured(colours.on_chip),
        Look::Head => name_ink(desk, Kind::Head, step),
        Look::Struck => desk.name(step).coloured(colours.soft),
    }
}

fn row_pad(desk: &Desk<'_>, shape: Shape) -> f32 {
    desk.px(desk.theme.tokens().space.row * if shape.tight { 0.62 } else { 1.0 })
}

/// Lays a row out, whose cells are set.
fn lay(desk: &Desk<'_>, row: &Row, set: &[Set], track: &Track, shape: Shape) -> Result<Laid, DrawError> {
    let Track { width: column, cells } = track;
    let gap = shape.gap;
    let widths: Vec<f32> = set.iter().map(|set| set.width).collect();
    let taken = match shape.below {
        Some(_) if cells.first().is_some_and(|&width| width > 0.0) => cells[0] + gap,
        Some(_) => 0.0,
        None => figures(row, &widths, cells, gap),
    };
    let lines = if row.kind == Kind::Sizes { MOST_OF_SIZES } else { shape.lines };
    let room = Room::lines((column - taken).floor(), lines);
    let name = desk.set(&row.name, name_ink(desk, row.kind, shape.step), room)?;
    // It stands below the figures too, and takes the whole width.
    let below = Room::lines(*column, 4);
    let aside = row.aside.as_ref().map(|aside| desk.set(aside, desk.note(), below)).transpose()?;
    let beside = if shape.below.is_none() { set.iter().map(|set| set.height).fold(0.0, f32::max) } else { 0.0 };
    let mut height = name.height.max(beside) + row_pad(desk, shape);
    if let Some(aside) = &aside {
        height += (desk.gap() * 0.8).round() + aside.height;
    }
    if let Some(across) = shape.below {
        let lines = set.len().saturating_sub(1).div_ceil(across) as f32;
        height += lines * below_pitch(desk, shape.step);
    }
    height += match row.kind {
        // Clear of the rule below it.
        Kind::Head | Kind::Sizes => (desk.gap() * 0.6).round(),
        Kind::Total => under_rule(desk),
        Kind::Line | Kind::Extra => 0.0,
    };
    if row.bar.is_some() {
        height += desk.px(desk.theme.tokens().space.bar) + under_bar(desk, row);
    }
    let tally = |cell: &Cell| {
        cell.tally.iter().map(|text| desk.set(text, cell_ink(desk, cell.look, shape.step), Room::LINE)).collect()
    };
    let tallies = row.cells.iter().map(tally).collect::<Result<_, _>>()?;
    Ok(Laid { name, aside, cells: set.to_vec(), tallies, height: height.round() })
}

/// Air between the bar below a remark and the next name.
fn under_bar(desk: &Desk<'_>, row: &Row) -> f32 {
    if row.aside.is_some() { (desk.gap() * 0.5).round() } else { 0.0 }
}

/// Air between a bar and a total's rule below it.
fn below_bar(desk: &Desk<'_>, rows: &[Row], at: usize) -> f32 {
    let barred = at > 0 && rows[at].kind == Kind::Total && rows[at - 1].bar.is_some();
    if barred { (desk.gap() * 0.6).round() } else { 0.0 }
}

/// What a total's text stands lower for the rule above it.
fn under_rule(desk: &Desk<'_>) -> f32 {
    desk.px(desk.theme.tokens().space.rule) + (desk.gap() * 0.2).round()
}

/// From one line of figures below a name to the next.
fn below_pitch(desk: &Desk<'_>, step: f32) -> f32 {
    (desk.amount(step).cap + desk.gap()).round()
}

impl Table {
    /// A page of rows `from..to` in columns of about equal height.
    fn page(&self, from: usize, to: usize) -> Page {
        if self.tracks.len() == 1 {
            return Page { columns: vec![(from, to)] };
        }
        let height = |from, to| self.rows_height((from, to));
        // The first split at which the first column is at least as high as the second.
        let split = (from..=to).find(|&split| height(from, split) >= height(split, to)).unwrap_or(to);
        Page { columns: vec![(from, split), (split, to)] }
    }

    fn rows_height(&self, (from, to): (usize, usize)) -> f32 {
        self.laid[from..to].iter().map(|laid| laid.height).sum()
    }

    /// Height of a page.
    fn height(&self, page: &Page) -> f32 {
        let head = self.head.as_ref().map_or(0.0, |(_, laid)| laid.height);
        head + page.columns.iter().map(|&rows| self.rows_height(rows)).fold(0.0, f32::max)
    }

    /// Width of a page.
    pub(super) fn width(&self) -> f32 {
        let gaps = self.between * (self.tracks.len() - 1) as f32;
        self.tracks.iter().map(|track| track.width).sum::<f32>() + gaps
    }

    /// Which page a row is on.
    pub(super) fn page_of(&self, row: usize) -> usize {
        let holds = |page: &Page| page.columns.iter().any(|&(from, to)| (from..to).contains(&row));
        self.pages.iter().position(holds).unwrap_or(0)
    }

    /// Draws a page; `state` says how each row stands on it.
    ///
    /// # Errors
    /// Whatever stops a text from being set in the colour of its state.
    pub(super) fn draw(&self, desk: &Desk<'_>, page: usize, state: &dyn Fn(usize) -> State) -> Result<Pile, DrawError> {
        let page = &self.pages[page];
        // A picture of one moment of the weighing comes as a whole.
        let whole = page.columns.iter().all(|&(from, to)| (from..to).all(|at| state(at) == State::Shown));
        let mut pile = Pile::new();
        let mut x = 0.0;
        for (&(from, to), track) in page.columns.iter().zip(&self.tracks) {
            let mut column = Pile::new();
            let mut y = 0.0;
            if let Some((row, laid)) = &self.head {
                self.draw_row(desk, (&mut column, track), (from, row), laid, (y, State::Shown));
                y += laid.height;
            }
            self.rail(desk, &mut column, (from, to), y, state);
            for at in from..to {
                let state = state(at);
                let relaid;
                let laid = if state == State::Now {
                    relaid = self.lit(desk, at)?;
                    &relaid
                } else {
                    &self.laid[at]
                };
                let from = column.mark();
                // Below what hangs down into it.
                if at + 1 < to && self.rows[at].kind == Kind::Line && self.rows[at + 1].kind == Kind::Line {
                    self.rule(desk, (&mut column, track), y + laid.height, at, state);
                }
                self.draw_row(desk, (&mut column, track), (at, &self.rows[at]), laid, (y, state));
                if whole {
                    column.group(Role::Line(at), from, Vec::new());
                }
                y += laid.height;
            }
            pile.add(&column, x, 0.0);
            x += track.width + self.between;
        }
        pile.width = self.width();
        pile.height = self.height(page);
        Ok(pile)
    }

    fn rule(&self, desk: &Desk<'_>, (pile, track): (&mut Pile, &Track), y: f32, at: usize, state: State) {
        // A bar is its row's rule; a marked row needs none.
        if self.rows[at].bar.is_none() && state != State::Now {
            let thin = (desk.unit() * 2.0).round().max(1.0);
            pile.rect(Rect::new(0.0, y - thin, track.width, thin), 0.0, desk.colours().track);
        }
    }

    /// A row's texts on the ground of the row that is being added.
    fn lit(&self, desk: &Desk<'_>, at: usize) -> Result<Laid, DrawError> {
        let (row, laid) = (&self.rows[at], &self.laid[at]);
        let on_mark = desk.colours().on_mark;
        let named = |row: &Row, laid: &Laid, ink: Ink<'_>| {
            let room = Room::lines(laid.name.block.box_width(), self.shape.lines);
            desk.set(&row.name, ink.coloured(on_mark), room)
        };
        // Heavier, if all that are added one after the other stay on as many lines.
        let heavier = |row: &Row, laid: &Laid| {
            let name = named(row, laid, desk.amount(self.shape.step));
            name.is_ok_and(|name| name.block.line_count() == laid.name.block.line_count())
        };
        let mut added = self.rows.iter().zip(&self.laid).filter(|(row, _)| row.kind == Kind::Line);
        let heavy = added.all(|(row, laid)| heavier(row, laid));
        let name = named(row, laid, if heavy { desk.amount(self.shape.step) } else { desk.name(self.shape.step) })?;
        let cells = row.cells.iter().zip(&laid.cells);
        Ok(Laid {
            name,
            aside: laid.aside.clone(),
            cells: cells
                .map(|(cell, _)| {
                    let ink = cell_ink(desk, cell.look, self.shape.step).coloured(on_mark);
                    desk.set(&cell.text, ink, Room::LINE)
                })
                .collect::<Result<_, _>>()?,
            tallies: Vec::new(),
            height: laid.height,
        })
    }

    fn draw_row(
        &self,
        desk: &Desk<'_>,
        (pile, track): (&mut Pile, &Track),
        (number, row): (usize, &Row),
        laid: &Laid,
        (y, state): (f32, State),
    ) {
        let space = &desk.theme.tokens().space;
        let colours = desk.colours();
        if state == State::Now {
            let reach = (desk.gap() * 0.6).round();
            let ground = Rect::new(-reach, y, track.width + 2.0 * reach, laid.height);
            pile.rect(ground, desk.px(space.radius), colours.mark);
        }
        let y = y + if row.kind == Kind::Total { below_bar(desk, &self.rows, number) } else { 0.0 };
        if row.kind == Kind::Total {
            pile.rect(Rect::new(0.0, y, track.width, desk.px(space.rule)), 0.0, colours.rule);
        }
        if state == State::ToCome {
            return;
        }
        self.grounds(desk, (pile, track), row, (y, laid.height));
        let lowered = if row.kind == Kind::Total { under_rule(desk) } else { 0.0 };
        let top = y + (row_pad(desk, self.shape) * 0.42).round() + lowered;
        // Heads stand on one line with their column's, whatever their size: beside several lines on the last of them.
        let cap = laid.cells.first().filter(|_| row.kind.is_head()).map(|cell| cell.cap);
        let sunk = cap.map_or(0.0, |cap| (cap - laid.name.cap).max(0.0));
        let lower = cap.filter(|_| self.shape.below.is_none()).map_or(0.0, |cap| sunk + laid.name.height - cap);
        pile.hang(&laid.name, 0.0, top + sunk);
        let beside = if self.shape.below.is_none() { &laid.cells[..] } else { &[] };
        let mut below = top + beside.iter().map(|cell| cell.height).fold(laid.name.height, f32::max);
        if let Some(aside) = &laid.aside {
            below += (desk.gap() * 0.8).round();
            pile.hang(aside, 0.0, below);
            below += aside.height;
        }
        for (index, cell) in laid.cells.iter().enumerate() {
            let (right, at) = self.place(desk, track, index, laid.cells.len(), top + lower, below);
            // What stands alone below a name reaches to the right as well where it is wider than all at its left.
            let right = right.max(cell.width);
            self.own_ground(desk, (pile, track), (row, index, cell), (right, at));
            let from = pile.mark();
            pile.text_to(cell, right, at);
            let tally = laid.tallies.get(index).into_iter().flatten();
            let stages: Vec<Pile> = tally.map(|set| Pile::of_text_to(set, right, at)).collect();
            if !stages.is_empty() {
                pile.group(Role::Count(number), from, stages);
            }
            if row.cells[index].look == Look::Struck && cell.width > 0.0 {
                let middle = (at + cell.cap / 2.0).round();
                pile.strike(right - cell.width - 4.0, right + 4.0, middle, colours.soft, (cell.cap / 10.0).max(2.0));
            }
        }
        if let Some(thousandths) = row.bar {
            let thick = desk.px(space.bar);
            let place = Rect::new(0.0, y + laid.height - thick - under_bar(desk, row), track.width, thick);
            pile.rect(place, thick / 2.0, colours.track);
            let length = (track.width * f32::from(thousandths) / 1000.0).max(thick);
            let from = pile.mark();
            pile.rect(Rect { w: length, ..place }, thick / 2.0, bar_colour(colours.bar, thousandths));
            pile.group(Role::Bar(number), from, Vec::new());
        }
    }

    /// What lies under a row's figures: the band of this batch's own column, and the rule below the heads.
    fn grounds(&self, desk: &Desk<'_>, (pile, track): (&mut Pile, &Track), row: &Row, (y, height): (f32, f32)) {
        let reach = (self.shape.gap * 0.42).round();
        let own = row.cells.iter().position(|cell| cell.look == Look::Own);
        if let (Some(index), None) = (own, self.shape.below) {
            let right = self.place(desk, track, index, row.cells.len(), y, y).0;
            let band = Rect::new(right - track.cells[index] - reach, y, track.cells[index] + 2.0 * reach, height);
            pile.rect(band, 0.0, desk.colours().chip);
        }
        if row.kind.is_head() {
            let thick = (desk.px(desk.theme.tokens().space.rule) * 0.75).round().max(1.0);
            pile.rect(Rect::new(0.0, y + height - thick, track.width, thick), 0.0, desk.colours().rule);
        }
    }

    /// What lies under this batch's own figure where it stands below a name.
    fn own_ground(
        &self,
        desk: &Desk<'_>,
        (pile, track): (&mut Pile, &Track),
        (row, index, cell): (&Row, usize, &Set),
        at: (f32, f32),
    ) {
        if row.cells[index].look == Look::Own && self.shape.below.is_some() && cell.width > 0.0 {
            let (beside, above) = ((self.shape.gap * 0.42).round(), (desk.gap() * 0.42).round());
            let width = track.cells[index].max(cell.width) + 2.0 * beside;
            let ground = Rect::new(at.0 + beside - width, at.1 - above, width, cell.cap + 2.0 * above);
            pile.rect(ground, desk.px(desk.theme.tokens().space.radius), desk.colours().chip);
        }
    }

    /// Where a row's figure ends, and its top.
    fn place(&self, desk: &Desk<'_>, track: &Track, index: usize, count: usize, top: f32, below: f32) -> (f32, f32) {
        let gap = self.shape.gap;
        match self.shape.below {
            Some(across) if index > 0 => {
                let line = (index - 1) / across;
                let right = track.width - after(&track.cells, (index, count), gap, across);
                (right, below + desk.gap() + line as f32 * below_pitch(desk, self.shape.step))
            }
            Some(_) => (track.width, top),
            None => {
                let after = track.cells[index + 1..].iter().filter(|&&width| width > 0.0);
                (track.width - after.map(|width| width + gap).sum::<f32>(), top)
            }
        }
    }

    /// The rail beside rows, with a mark for each.
    fn rail(
        &self,
        desk: &Desk<'_>,
        pile: &mut Pile,
        (from, to): (usize, usize),
        top: f32,
        state: &dyn Fn(usize) -> State,
    ) {
        let margins = desk.margins(Plate::List);
        let lines = |at: &usize| self.rows[*at].kind == Kind::Line;
        let height: f32 = (from..to).filter(lines).map(|at| self.laid[at].height).sum();
        let rail = Rect::new(margins.rail_x, top, margins.rail_width, height);
        pile.art(desk.theme.drawing(Drawing::Rail), rail);
        let mut y = top;
        for at in (from..to).filter(lines) {
            let mark = match state(at) {
                State::Shown if self.rows[at].there => Drawing::MarkPast,
                State::Now => Drawing::MarkNow,
                State::Shown | State::ToCome => Drawing::MarkNext,
            };
            let place = Rect { y, h: self.laid[at].height, ..rail };
            let from = pile.mark();
            pile.drawing(desk.theme.drawing(mark), place);
            let mut to_come = Pile::new();
            to_come.drawing(desk.theme.drawing(Drawing::MarkNext), place);
            pile.group(Role::Mark(at), from, vec![to_come]);
            y += self.laid[at].height;
        }
    }
}

fn bar_colour(colour: Colour, thousandths: u16) -> Colour {
    // Nothing is no bar: a line that costs nothing keeps its track alone.
    if thousandths == 0 { colour.with_alpha(0) } else { colour }
}
