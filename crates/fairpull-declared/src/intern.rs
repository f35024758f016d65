//! Texts and cards that live as long as the process, equal ones kept once.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

static TEXTS: Mutex<BTreeMap<String, &'static str>> = Mutex::new(BTreeMap::new());
static CARDS: Mutex<BTreeMap<String, &'static fairpull_core::StandardCard>> = Mutex::new(BTreeMap::new());

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

/// A card that lives as long as the process; `make` runs only when no equal one is kept. Equality is that of the
/// card's full debug text, which shows every field and every digit.
pub(crate) fn card(card: fairpull_core::StandardCard) -> &'static fairpull_core::StandardCard {
    let key = format!("{card:?}");
    let mut kept = CARDS.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = kept.get(&key) {
        return known;
    }
    let leaked: &'static fairpull_core::StandardCard = Box::leak(Box::new(card));
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
