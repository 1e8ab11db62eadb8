//! What two lists of texts say differently, side by side. Must not know what they are lists of.

/// Beyond so many texts on either side, lists are compared place by place.
const MOST: usize = 2_000;

/// A place where two lists differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shift {
    /// The last thing said before it that holds no number, as it is said now; empty where there is none.
    pub about: String,
    /// What was said; `None` where something is new.
    pub from: Option<String>,
    /// What is said now; `None` where something is gone.
    pub to: Option<String>,
}

/// The differences between `old` and `new`, in order, after the longest run of texts that both have.
pub fn shifts<S: AsRef<str>>(old: &[S], new: &[S]) -> Vec<Shift> {
    let (mut i, mut j) = (0, 0);
    let mut found = Vec::new();
    let mut about = String::new();
    let (mut gone, mut come): (Vec<&str>, Vec<&str>) = (Vec::new(), Vec::new());
    let mut flush = |about: &mut String, gone: &mut Vec<&str>, come: &mut Vec<&str>| {
        for at in 0..gone.len().max(come.len()) {
            let side = |list: &[&str]| list.get(at).map(|text| (*text).to_owned());
            found.push(Shift { about: about.clone(), from: side(gone), to: side(come) });
            // A name that changed is what the numbers behind it are about.
            if let Some(name) = side(come).filter(|text| is_name(text)) {
                *about = name;
            }
        }
        gone.clear();
        come.clear();
    };
    for (keep_old, keep_new) in common(old, new).into_iter().chain([(old.len(), new.len())]) {
        gone.extend(old[i..keep_old].iter().map(AsRef::as_ref));
        come.extend(new[j..keep_new].iter().map(AsRef::as_ref));
        flush(&mut about, &mut gone, &mut come);
        if let Some(kept) = old.get(keep_old).map(AsRef::as_ref).filter(|text| is_name(text)) {
            about = kept.to_owned();
        }
        (i, j) = (keep_old + 1, keep_new + 1);
    }
    found
}

fn is_name(text: &str) -> bool {
    !text.chars().any(char::is_numeric)
}

/// Places of a longest common run of texts, not necessarily without gaps.
fn common<S: AsRef<str>>(old: &[S], new: &[S]) -> Vec<(usize, usize)> {
    let same = |i: usize, j: usize| old[i].as_ref() == new[j].as_ref();
    if old.len() > MOST || new.len() > MOST {
        return (0..old.len().min(new.len())).filter(|&at| same(at, at)).map(|at| (at, at)).collect();
    }
    // Lengths of the longest common run of what is left, from each pair of places on.
    let width = new.len() + 1;
    let mut longest = vec![0_u16; (old.len() + 1) * width];
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            longest[i * width + j] = if same(i, j) {
                longest[(i + 1) * width + j + 1] + 1
            } else {
                longest[(i + 1) * width + j].max(longest[i * width + j + 1])
            };
        }
    }
    let (mut i, mut j, mut pairs) = (0, 0, Vec::new());
    while i < old.len() && j < new.len() {
        if same(i, j) {
            pairs.push((i, j));
            (i, j) = (i + 1, j + 1);
        } else if longest[(i + 1) * width + j] >= longest[i * width + j + 1] {
            i += 1;
        } else {
            j += 1;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(old: &[&str], new: &[&str]) -> Vec<String> {
        let side = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        shifts(old, new).into_iter().map(|s| format!("{}: {} > {}", s.about, side(s.from), side(s.to))).collect()
    }

    #[test]
    fn each_difference_has_its_two_sides_and_what_it_is_about() {
        let old = ["On the scale", "water", "100 g", "salt", "2 g", "2 %"];
        assert_eq!(told(&old, &old), Vec::<String>::new());
        assert_eq!(
            told(&old, &["On the scale", "water", "100 g", "salt", "3 g", "3 %"]),
            ["salt: 2 g > 3 g", "salt: 2 % > 3 %"]
        );
        assert_eq!(
            told(&old, &["On the scale", "water", "100 g"]),
            ["water: salt > -", "water: 2 g > -", "water: 2 % > -"]
        );
        assert_eq!(told(&[], &["1 g"]), [": - > 1 g"]);
        // What stands behind a name that changed is its own.
        assert_eq!(
            told(&["limes", "€0.70", "oil · on offer", "17 %", "€1.22"], &["limes", "€0.70", "oil", "20 %", "€1.47"]),
            ["limes: oil · on offer > oil", "oil: 17 % > 20 %", "oil: €1.22 > €1.47"]
        );
    }

    #[test]
    fn long_lists_are_compared_place_by_place() {
        let old: Vec<String> = (0..3_000).map(|n| format!("{n}")).collect();
        let mut new = old.clone();
        new[2_500] = "x".to_owned();
        assert_eq!(shifts(&old, &new).len(), 1);
    }
}
