//! The known words nearest to a misspelt one.

/// Up to three known words, the nearest first.
pub(crate) fn nearest<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Vec<String> {
    let word: Vec<char> = word.chars().take(64).map(|c| c.to_ascii_lowercase()).collect();
    let mut ranked: Vec<(usize, &str)> = Vec::new();
    for k in known {
        let one = (edits(&word, k), k);
        let place = ranked.iter().position(|r| *r >= one).unwrap_or(ranked.len());
        if ranked.get(place) != Some(&one) {
            ranked.insert(place, one);
            ranked.truncate(3);
        }
    }
    ranked.into_iter().map(|(_, k)| k.to_owned()).collect()
}

/// Levenshtein distance.
fn edits(a: &[char], b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.iter().enumerate() {
        let (mut diagonal, mut left) = (i, i + 1);
        for (cb, cell) in b.iter().zip(row.iter_mut().skip(1)) {
            let here = (diagonal + usize::from(ca != cb)).min(left + 1).min(*cell + 1);
            diagonal = *cell;
            *cell = here;
            left = here;
        }
        if let Some(first) = row.first_mut() {
            *first = i + 1;
        }
    }
    row.last().copied().unwrap_or(usize::MAX)
}
