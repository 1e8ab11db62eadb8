//! Sizes every part: what the written basis weighs, and what a part must weigh to be taken.

use crate::exact::Exact;
use crate::measure::{grams_of_count, grams_of_volume};
use crate::model::{Amount, Basis, Line, LineRef, Pantry, Recipe, Subject, Variant};
use crate::span::Span;

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
    pub own: Vec<Sizing>,
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
    let sizer = Sizer { recipe, pantry, variant: None, factor: Exact::one(), own };
    let basis = (0..recipe.parts.len()).map(|part| sizer.size(part).map(|s| s.basis)).collect::<Result<_, _>>()?;
    Ok(WrittenSizes { basis })
}

impl<'r> Sizer<'r> {
    /// Basis and total of a part; recursion ends because parts form no circle.
    pub fn size(&self, part: usize) -> Result<Sized, Unsizable> {
        match self.taken(part) {
            Taken::All | Taken::Beside => self.sized(part, &self.own[part]),
            Taken::Demands { percents, weights } => {
                let mut demand = weights;
                for (taker, percent) in percents {
                    let basis = self.size(taker)?.basis.ok_or_else(|| self.no_basis(taker))?;
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
        if let (Sizing::Total(wanted), true) = (sizing, self.factor == Exact::one() && self.variant.is_none()) {
            // A part of weights alone can't follow what is taken of it.
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
                        weights += &self.size(taken)?.total;
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
        let written = Sizer {
            variant: None,
            own: Vec::new(),
            recipe: self.recipe,
            pantry: self.pantry,
            factor: self.factor.clone(),
        };
        lines.iter().map(|&line| written.own_grams(LineRef { part, line })).sum::<Option<Exact>>()
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
        let written = match self.amount(at) {
            Amount::Weight { value, .. } => Some(value.clone()),
            Amount::Volume { value, .. } => item.and_then(|item| grams_of_volume(item, value)),
            Amount::Count { value, .. } => item.and_then(|item| grams_of_count(item, value)),
            Amount::Percent { .. } | Amount::All | Amount::ToTaste => None,
        };
        written.map(|grams| grams * self.line_factor(self.recipe.line(at)))
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
        Unsizable {
            message: format!(
                "the lines of `{}` weigh {} g, but {} g of it are wanted",
                part.id,
                total.round_places(1).decimal(),
                wanted.round_places(1).decimal()
            ),
            hint: "write its lines in percent, take `all` of it, or make the two agree".into(),
            span: part.span,
        }
    }
}
