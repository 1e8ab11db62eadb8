//! English: how words change their form, and how they sound. Rough, but alike on both sides of a comparison.

/// Whether a word ends as a plural does.
pub fn plural(word: &str) -> bool {
    word.len() > 3 && word.ends_with('s') && !word.ends_with("ss") && !word.ends_with("us") && !word.ends_with("is")
}

/// The singular of a noun.
pub fn singular(word: &str) -> String {
    if let Some(head) = word.strip_suffix("ies").filter(|head| head.len() >= 2) {
        return format!("{head}y");
    }
    if let Some(head) = word.strip_suffix("eaves") {
        return format!("{head}eaf");
    }
    let long = ["shes", "ches", "oes", "xes", "sses"].iter().any(|end| word.ends_with(end));
    let cut = if long { 2 } else { usize::from(plural(word)) };
    word[..word.len() - cut].to_owned()
}

/// The singular, and a verb without its ending: rough, but the same on both sides of a comparison.
pub fn stem(word: &str) -> String {
    // Words of one meaning in a kitchen.
    let word = match word {
        "oven" | "ovens" => "bake",
        "proof" | "proofs" | "proofing" | "proofed" | "proving" | "rise" | "rises" | "rising" | "rose" => "prove",
        "topmost" => "top",
        "thickness" => "thick",
        "stand" | "stands" | "standing" | "sit" | "sits" | "sitting" | "resting" | "left" | "leave" | "leaving" => {
            "rest"
        }
        "fridge" | "refrigerator" | "icebox" => "chill",
        _ => word,
    };
    let vowel = |text: &str| text.chars().any(|c| "aeiouy".contains(c));
    let long = |text: &str| text.len() >= 3 && vowel(text);
    let mut stem = word;
    let changed;
    if let Some(head) = word.strip_suffix("ies").or_else(|| word.strip_suffix("ied")).filter(|head| head.len() >= 2) {
        changed = format!("{head}y");
        stem = &changed;
    } else if word.ends_with("shes") || word.ends_with("ches") || word.ends_with("oes") || word.ends_with("xes") {
        stem = &word[..word.len() - 2];
    } else if plural(word) {
        stem = &word[..word.len() - 1];
    } else if let Some(head) = word.strip_suffix("ing").or_else(|| word.strip_suffix("ed")).filter(|head| long(head)) {
        stem = head;
        let mut last = head.chars().rev();
        if let (Some(a), Some(b)) = (last.next(), last.next())
            && a == b
            && !"aeiouls".contains(a)
        {
            stem = &head[..head.len() - a.len_utf8()];
        }
    }
    let bare = stem.strip_suffix('e').filter(|bare| long(bare) && bare.len() >= 3);
    bare.unwrap_or(stem).to_owned()
}

/// Whether "will" hangs on a word: "thatll".
pub fn will(word: &str) -> bool {
    word.ends_with("ll")
}

/// Whether a word ends as what has been done to a thing does.
pub fn participle(word: &str) -> bool {
    word.ends_with("ed")
}

/// Consonants by class, vowels only at the start: words of one sound have one key.
pub fn sound(word: &str) -> String {
    let word = word.replace("ph", "f").replace("gh", "").replace("kn", "n").replace("th", "t").replace("wh", "w");
    let mut key = String::new();
    let mut last = ' ';
    for (i, c) in word.chars().enumerate() {
        let class = match c {
            'a' | 'e' | 'i' | 'o' | 'u' | 'y' => {
                if i == 0 {
                    'a'
                } else {
                    ' '
                }
            }
            'b' | 'p' => 'p',
            'c' | 'k' | 'q' | 'g' => 'k',
            'd' | 't' => 't',
            'f' | 'v' => 'f',
            's' | 'z' | 'x' | 'j' => 's',
            'h' | 'w' => ' ',
            other => other,
        };
        if class != ' ' && class != last {
            key.push(class);
        }
        last = class;
    }
    key
}
