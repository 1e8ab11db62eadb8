//! Sizes every part: what the written basis weighs, and what a part must weigh to be taken.

use crate::exact::Exact;
use crate::measure::{grams_of_count, grams_of_volume};
use crate::model::{Amount, Basis, Item, Line, LineRef, Pantry, Recipe, Subject, Variant};
use crate::span::Span;
use std::cell::OnceCell;

/// Why a formula has no size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unsizable {
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// Where.
    pub span: Span,
}

/// The written batch: the basis weight of each part, `None` where a part has no basis.
#[derive(Clone, Debug)]
pub struct WrittenSizes {
    pub(super) basis: Vec<Option<Exact>>,
}

/// Who takes how much of a part.
enum Taken<'r> {
    /// Percents of the takers' basis, and weights besides.
    Demands { percents: Vec<(usize, &'r Exact)>, weights: Exact },
    /// All of it, once.
    All,
    /// Nobody: the main part, or one weighed beside it.
    Beside,
}

/// How a part gets its size.
#[derive(Clone)]
pub(super) enum Sizing {
    /// By the weight of its basis.
    Basis(Exact),
    /// By its total.
    Total(Exact),
    /// By the weights of its own lines.
    Own,
}

/// What a formula needs to be weighed: facts, a variant's changes, and a scale factor for what
/// is not percent.
pub(super) struct Sizer<'r> {
    pub recipe: &'r Recipe,
    pub pantry: &'r Pantry,
    pub variant: Option<&'r Variant>,
    pub factor: Exact,
    /// How parts that nobody takes by percent are sized.
    own: Vec<Sizing>,
    /// The size of each part that was asked for: parts are taken by several others, which ask for it again.
    sized: Vec<OnceCell<Result<Sized, Unsizable>>>,
}

/// Basis and total of one part, in grams.
#[derive(Clone, Debug)]
pub(super) struct Sized {
    pub basis: Option<Exact>,
    pub total: Exact,
}

/// Sizes the written batch.
///
/// # Errors
/// [`Unsizable`] where a total is below the weights it must hold, or a part's own weights
/// and what is taken of it disagree.
pub fn written_sizes(recipe: &Recipe, pantry: &Pantry) -> Result<WrittenSizes, Unsizable> {
    let pieces = recipe.makes.as_ref().map(|makes| Exact::from(i64::from(makes.high)));
    let own = recipe
        .parts
        .iter()
        .enumerate()
        .map(|(index, part)| match (&recipe.batch, &part.each, &pieces) {
            (Some(batch), _, _) if index == recipe.main => Sizing::Basis(batch.value.clone()),
            (_, Some(each), Some(pieces)) => Sizing::Total(&each.value * pieces),
            _ => Sizing::Own,
        })
        .collect();
    let sizer = Sizer::new(recipe, pantry, None, Exact::one(), own);
    let size = |part| sizer.size(part).map(|size| size.basis.clone()).map_err(Unsizable::clone);
    Ok(WrittenSizes { basis: (0..recipe.parts.len()).map(size).collect::<Result<_, _>>()? })
}

impl<'r> Sizer<'r> {
    pub fn new(
        recipe: &'r Recipe,
        pantry: &'r Pantry,
        variant: Option<&'r Variant>,
        factor: Exact,
        own: Vec<Sizing>,
    ) -> Self {
        let sized = recipe.parts.iter().map(|_| OnceCell::new()).collect();
        Self { recipe, pantry, variant, factor, own, sized }
    }

    /// Basis and total of a part; recursion ends because parts form no circle.
    pub fn size(&self, part: usize) -> Result<&Sized, &Unsizable> {
        self.sized[part].get_or_init(|| self.work_out(part)).as_ref()
    }

    fn work_out(&self, part: usize) -> Result<Sized, Unsizable> {
        match self.taken(part) {
            Taken::All | Taken::Beside => self.sized(part, &self.own[part]),
            Taken::Demands { percents, weights } => {
                let mut demand = weights;
                for (taker, percent) in percents {
                    let size = self.size(taker).map_err(Unsizable::clone)?;
                    let basis = size.basis.as_ref().ok_or_else(|| self.no_basis(taker))?;
                    demand += &(basis * percent / Exact::from(100));
                }
                self.sized(part, &Sizing::Total(demand))
            }
        }
    }

    fn sized(&self, part: usize, sizing: &Sizing) -> Result<Sized, Unsizable> {
        let (weights, percents) = self.sums(part)?;
        let hundred = Exact::from(100);
        let own_basis = self.own_basis(part);
        let basis = match (sizing, own_basis) {
            (_, Some(weight)) => Some(weight),
            (Sizing::Basis(weight), None) => Some(weight.clone()),
            (Sizing::Own, None) => None,
            (Sizing::Total(total), None) => match (total - &weights).over(&percents) {
                Some(share) if share.is_positive() => Some(share * &hundred),
                Some(_) => return Err(self.too_small(part, total, &weights)),
                None => None,
            },
        };
        if basis.is_none() && percents.is_positive() {
            return Err(self.no_basis(part));
        }
        let total = weights + basis.as_ref().map_or_else(Exact::zero, |b| b * percents / hundred);
        if let Sizing::Total(wanted) = sizing {
            // A part of weights alone can't follow what is taken of it: a variant changes one of the two, and what is
            // fixed does not grow with the rest.
            if (wanted - &total).abs() > wanted.abs() * Exact::ratio(1, 1000) {
                return Err(self.disagrees(part, wanted, &total));
            }
        }
        Ok(Sized { basis, total })
    }

    /// The weight of lines that are no percent, and the sum of percents.
    fn sums(&self, part: usize) -> Result<(Exact, Exact), Unsizable> {
        let (mut weights, mut percents) = (Exact::zero(), Exact::zero());
        for (index, line) in self.recipe.parts[part].lines.iter().enumerate() {
            let at = LineRef { part, line: index };
            match self.amount(at) {
                Amount::Percent { value, .. } => percents += value,
                Amount::All => {
                    if let Subject::Part(taken) = line.subject {
                        weights += &self.size(taken).map_err(Unsizable::clone)?.total;
                    }
                }
                Amount::Weight { .. } | Amount::Volume { .. } | Amount::Count { .. } => {
                    if let Some(grams) = self.own_grams(at) {
                        weights += &grams;
                    }
                }
                Amount::ToTaste => {}
            }
        }
        Ok((weights, percents))
    }

    /// The basis weight that weights, volumes and counts in the basis lines give by themselves.
    /// Always of the written items: a swap does not change what 100 % is.
    fn own_basis(&self, part: usize) -> Option<Exact> {
        let Basis::Lines(lines) = &self.recipe.parts[part].basis else { return None };
        let written = |line: &usize| {
            let line = &self.recipe.parts[part].lines[*line];
            let item = match &line.subject {
                Subject::Item(key) => self.pantry.get(key),
                Subject::Part(_) => None,
            };
            Some(grams(item, &line.amount.value)? * self.line_factor(line))
        };
        lines.iter().map(written).sum::<Option<Exact>>()
    }

    /// The amount of a line, as the variant sets it.
    pub fn amount(&self, at: LineRef) -> &'r Amount {
        let set = self.variant.and_then(|v| v.set.iter().find(|(line, _)| *line == at));
        set.map_or(&self.recipe.line(at).amount.value, |(_, amount)| &amount.value)
    }

    /// The key of a line's item, as the variant swaps it; `None` for a line that takes a part.
    pub fn item(&self, at: LineRef) -> Option<&'r str> {
        let swapped = self.variant.and_then(|v| v.swap.iter().find(|(line, _)| *line == at));
        match (&self.recipe.line(at).subject, swapped) {
            (Subject::Part(_), _) => None,
            (Subject::Item(_), Some((_, item))) => Some(item),
            (Subject::Item(item), None) => Some(item),
        }
    }

    /// The scale factor of a line: one if it is fixed.
    pub fn line_factor(&self, line: &Line) -> Exact {
        if line.fixed { Exact::one() } else { self.factor.clone() }
    }

    /// Grams of a line that is a weight, a volume or a count, scaled.
    pub fn own_grams(&self, at: LineRef) -> Option<Exact> {
        let item = self.item(at).and_then(|key| self.pantry.get(key));
        grams(item, self.amount(at)).map(|grams| grams * self.line_factor(self.recipe.line(at)))
    }

    fn taken(&self, part: usize) -> Taken<'r> {
        let (mut percents, mut weights) = (Vec::new(), Exact::zero());
        for at in self.recipe.line_refs() {
            if self.recipe.line(at).subject != Subject::Part(part) {
                continue;
            }
            match self.amount(at) {
                Amount::Percent { value, .. } => percents.push((at.part, value)),
                Amount::Weight { value, .. } => weights += &(value * self.line_factor(self.recipe.line(at))),
                Amount::All | Amount::Volume { .. } | Amount::Count { .. } | Amount::ToTaste => return Taken::All,
            }
        }
        if percents.is_empty() && weights.is_zero() { Taken::Beside } else { Taken::Demands { percents, weights } }
    }

    fn no_basis(&self, part: usize) -> Unsizable {
        let part = &self.recipe.parts[part];
        Unsizable {
            message: format!("percents in `{}` have nothing to be a percent of", part.id),
            hint: "give `batch` (the weight of the basis) or `each` (the raw weight of one piece), or write weights"
                .into(),
            span: part.span,
        }
    }

    fn too_small(&self, part: usize, total: &Exact, weights: &Exact) -> Unsizable {
        let part = &self.recipe.parts[part];
        Unsizable {
            message: format!(
                "`{}` should weigh {} g in all, but its weighed lines alone are {} g",
                part.id,
                total.round_places(1).decimal(),
                weights.round_places(1).decimal()
            ),
            hint: "raise `each` or what is taken of it, or write these lines in percent".into(),
            span: part.span,
        }
    }

    fn disagrees(&self, part: usize, wanted: &Exact, total: &Exact) -> Unsizable {
        let part = &self.recipe.parts[part];
        let variant = self.variant.map_or_else(String::new, |variant| format!(", in the variant `{}`", variant.id));
        let times = match &self.factor {
            factor if *factor == Exact::one() => String::new(),
            factor => format!(", at {} times the written batch", factor.round_places(3).decimal()),
        };
        Unsizable {
            message: format!(
                "the lines of `{}` weigh {} g, but {} g of it are wanted{variant}{times}",
                part.id,
                total.round_places(1).decimal(),
                wanted.round_places(1).decimal()
            ),
            hint: "write its lines in percent, take `all` of it, or make the two agree".into(),
            span: part.span,
        }
    }
}

/// Grams of an amount that says so itself.
fn grams(item: Option<&Item>, amount: &Amount) -> Option<Exact> {
    match amount {
        Amount::Weight { value, .. } => Some(value.clone()),
        Amount::Volume { value, .. } => grams_of_volume(item?, value),
        Amount::Count { value, .. } => grams_of_count(item?, value),
        Amount::Percent { .. } | Amount::All | Amount::ToTaste => None,
    }
}
