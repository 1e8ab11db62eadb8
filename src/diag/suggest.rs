//! Finds what a misspelt name was meant to be. Must not know what the names stand for.

/// The candidate nearest to `name`, if one is near enough to be meant.
pub fn nearest<'c>(name: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    let folded = name.to_lowercase();
    let (length, letters) = (folded.chars().count(), Letters::of(&folded));
    let limit = (length / 3).clamp(1, 3);
    candidates
        .into_iter()
        .filter(|candidate| !candidate.is_empty() && *candidate != name)
        .map(|candidate| (candidate.to_lowercase(), candidate))
        .filter(|(other, _)| letters.least_distance(&Letters::of(other)) <= limit)
        .map(|(other, candidate)| (strsim::damerau_levenshtein(&folded, &other), candidate))
        .filter(|(distance, candidate)| *distance <= limit && *distance < candidate.chars().count())
        .min_by(|a, b| a.0.cmp(&b.0).then(a.1.cmp(b.1)))
        .map(|(_, candidate)| candidate)
}

/// How many of each letter a name has, in a few bins: names that differ much are told apart by it at once. A book may have
/// a hundred thousand unknown names, and each is held against the whole pantry.
struct Letters([u8; 32]);

impl Letters {
    fn of(name: &str) -> Self {
        let mut bins = [0_u8; 32];
        for c in name.chars() {
            let bin = &mut bins[c as usize % 32];
            *bin = bin.saturating_add(1);
        }
        Self(bins)
    }

    /// The least number of letters that must be put in, taken out or changed to make one name of the other.
    fn least_distance(&self, other: &Self) -> usize {
        let surplus = |a: &Self, b: &Self| a.0.iter().zip(&b.0).map(|(a, b)| usize::from(a.saturating_sub(*b))).sum();
        usize::max(surplus(self, other), surplus(other, self))
    }
}

/// The longest candidate all of whose words stand in `name`: `milk` for `whole-milk`.
fn plainer<'c>(name: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    let words: Vec<&str> = name.split('-').collect();
    let contained = |candidate: &&str| *candidate != name && candidate.split('-').all(|word| words.contains(&word));
    candidates.into_iter().filter(contained).max_by_key(|candidate| candidate.len())
}

/// "did you mean `x`?" where a candidate is near, for a hint.
pub fn did_you_mean<'c>(name: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<String> {
    // A name of 200 characters is no misspelling, and comparing it would take long.
    if name.len() > 200 {
        return None;
    }
    let candidates: Vec<&str> = candidates.into_iter().collect();
    let meant = nearest(name, candidates.iter().copied()).or_else(|| plainer(name, candidates.iter().copied()));
    meant.map(|candidate| format!("did you mean `{candidate}`?"))
}

#[cfg(test)]
mod tests {
    use super::*;

    proptest::proptest! {
        /// What the letters rule out is as far away as they say.
        #[test]
        fn letters_never_tell_names_further_apart_than_they_are(one in "[a-dé-]{0,12}", other in "[a-dé-]{0,12}") {
            let least = Letters::of(&one).least_distance(&Letters::of(&other));
            proptest::prop_assert!(least <= strsim::damerau_levenshtein(&one, &other));
        }
    }

    #[test]
    fn near_names_are_found_and_far_ones_are_not() {
        let keys = ["makes", "title", "basis"];
        assert_eq!(nearest("makse", keys), Some("makes"));
        assert_eq!(nearest("Titel", keys), Some("title"));
        assert_eq!(nearest("zebra", keys), None);
        assert_eq!(nearest("x", ["y"]), None);
        assert_eq!(plainer("whole-milk", ["milk", "oat-milk", "whole"]), Some("whole"));
        assert_eq!(plainer("whole-milk", ["milk", "oat-milk"]), Some("milk"));
        assert_eq!(plainer("moon-dust", ["milk"]), None);
    }
}
