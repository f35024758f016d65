//! Texts, citations and cards that live as long as the process, equal ones kept once.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use fairpull_core::{Cite, StandardCard};

type Kept<T> = Mutex<BTreeMap<String, &'static T>>;

static TEXTS: Mutex<BTreeMap<String, &'static str>> = Mutex::new(BTreeMap::new());
static CITES: Kept<Cite> = Mutex::new(BTreeMap::new());
static CARDS: Kept<StandardCard> = Mutex::new(BTreeMap::new());

/// A text that lives as long as the process.
pub(crate) fn text(text: &str) -> &'static str {
    let mut kept = TEXTS.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = kept.get(text) {
        return known;
    }
    let leaked: &'static str = Box::leak(text.to_owned().into_boxed_str());
    kept.insert(text.to_owned(), leaked);
    leaked
}

/// A citation that lives as long as the process.
pub(crate) fn cite(cite: Cite) -> &'static Cite {
    one(&CITES, cite)
}

/// A card that lives as long as the process.
pub(crate) fn card(card: StandardCard) -> &'static StandardCard {
    one(&CARDS, card)
}

/// The kept value that equals this one. Equality is that of the full debug text, which shows every field and every
/// digit.
fn one<T: std::fmt::Debug>(kept: &Kept<T>, item: T) -> &'static T {
    let key = format!("{item:?}");
    let mut kept = kept.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = kept.get(&key) {
        return known;
    }
    let leaked: &'static T = Box::leak(Box::new(item));
    kept.insert(key, leaked);
    leaked
}

/// A list that lives as long as the process, one for each distinct content.
pub(crate) fn list<T: std::fmt::Debug + Send + Sync + 'static>(
    kept: &Mutex<BTreeMap<String, &'static [T]>>,
    items: Vec<T>,
) -> &'static [T] {
    let key = format!("{items:?}");
    let mut kept = kept.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = kept.get(&key) {
        return known;
    }
    let leaked: &'static [T] = Box::leak(items.into_boxed_slice());
    kept.insert(key, leaked);
    leaked
}
