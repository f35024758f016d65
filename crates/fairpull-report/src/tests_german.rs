//! The German table against the English one, and against the sources that its phrases come from.

use crate::pattern::{Piece, parts, slots};
use crate::sample::invented;
use crate::text::Language;
use crate::{summary_text_in, to_html_in};
use std::collections::BTreeSet;

/// Every phrase: English, German.
fn phrases() -> impl Iterator<Item = (&'static str, &'static str)> {
    Language::German.words().phrases.iter().flat_map(|p| p.iter().copied())
}

/// Places that a pattern fills, from 0.
fn places(pattern: &str) -> BTreeSet<usize> {
    let mut found = BTreeSet::new();
    slots(pattern, &mut |p| {
        if let Piece::Value(at) | Piece::Form(at, _, _) = p {
            found.insert(at);
        }
    });
    found
}

/// English words that no German text has, in any spelling: articles, prepositions, and the words of this trade.
const ENGLISH: &str = "the of and is are with from to at by for not that this which where over than between each every no yes pull \
    pulls power torque speed engine wheel crank curve peak gain loss change uncertainty measured source remark rig fuel knock roller";

fn english_words(text: &str) -> Vec<String> {
    // names of keys and files stay: engine.power, curves.csv
    let words = text.split(|c: char| !(c.is_alphanumeric() || "._[]".contains(c)));
    let words = words.map(|w| w.trim_matches('.').to_lowercase());
    words.filter(|w| ENGLISH.split_whitespace().any(|e| e == w)).collect()
}

/// Words of both tables, in the same order: the macro lists every field once, so neither can lack one.
fn fields(language: Language) -> Vec<(&'static str, &'static str)> {
    language.words().fields()
}

#[test]
fn no_german_text_is_empty_english_or_fills_other_places() {
    for ((name, english), (_, german)) in fields(Language::English).into_iter().zip(fields(Language::German))
    {
        assert!(!german.trim().is_empty(), "{name}");
        assert_eq!(english_words(german), Vec::<String>::new(), "{name}: {german}");
        assert_eq!(places(english), places(german), "{name}");
        let same = ["speed_unit", "scatter"].contains(&name);
        assert_eq!(english == german, same, "{name}: {german}");
    }
    let cautions = |l: Language| l.cautions().len();
    assert_eq!(cautions(Language::English), cautions(Language::German));
    for c in Language::German.cautions() {
        assert_eq!(english_words(c), Vec::<String>::new(), "{c}");
    }
}

#[test]
fn every_phrase_is_german_once_and_fills_what_its_english_takes() {
    let mut seen = BTreeSet::new();
    for (english, german) in phrases() {
        assert!(seen.insert(english), "twice: {english}");
        if !english.contains("[[") {
            assert_eq!(english_words(german), Vec::<String>::new(), "{german}");
        }
        let taken = english.matches('{').count();
        let filled = places(german);
        assert_eq!(filled, (0..taken).collect(), "{english} => {german}");
        for slot in english.split('{').skip(1).filter_map(|s| s.split('}').next()) {
            assert!(["", "n", "p", "e", "u"].contains(&slot), "{english}: {slot}");
        }
    }
    assert!(seen.len() > 300, "{}", seen.len());
}

/// A phrase whose English nobody writes any more would let its text fall back to English unseen.
#[test]
fn every_phrase_stands_in_a_source() {
    let crates = concat!(env!("CARGO_MANIFEST_DIR"), "/..");
    let mut all = String::new();
    for package in std::fs::read_dir(crates).expect("crates").flatten() {
        if package.file_name() == "fairpull-report" {
            continue;
        }
        let files = std::fs::read_dir(package.path().join("src")).into_iter().flatten().flatten();
        for file in files.filter(|f| f.path().extension().is_some_and(|e| e == "rs")) {
            all += &std::fs::read_to_string(file.path()).expect("source");
        }
    }
    // a string may go on in the next line of its source; parts of a sentence may be put together from pieces
    let mut whole = String::new();
    for (i, piece) in all.split("\\\n").enumerate() {
        whole += if i == 0 { piece } else { piece.trim_start() };
    }
    let whole = whole.replace("\\\"", "\"").to_lowercase();
    let missing: Vec<String> = phrases()
        .flat_map(|(english, _)| {
            let outside = english.split('{').enumerate();
            outside.map(|(i, s)| if i == 0 { s } else { s.split_once('}').map_or("", |p| p.1) })
        })
        .flat_map(|text| text.split([',', ';', '(', ')', ':', '"', '.']))
        .map(|text| text.trim().to_lowercase())
        .filter(|text| text.chars().filter(|c| c.is_alphabetic()).count() > 3)
        .filter(|text| !whole.contains(text.as_str()))
        .collect();
    assert_eq!(missing, Vec::<String>::new());
}

#[test]
fn a_pattern_takes_its_own_text_back() {
    for (english, _) in phrases() {
        let mut text = english.replace("{n}", "-1.5");
        for slot in ["{p}", "{e}", "{u}", "{}"] {
            text = text.replace(slot, "x");
        }
        assert!(parts(&text, english).is_some(), "{english}");
    }
}

/// What a German page of the invented result holds in English is marked: nothing else stands outside the marks.
#[test]
fn english_on_a_german_page_is_marked() {
    let mut m = invented();
    m.title = "Turbinengehäuse, vorher und nachher".into();
    m.note = None;
    let text = serde_json::to_string(&m).expect("model");
    let text = text.replace("as delivered", "Serie").replace("larger turbine housing", "Gehäuse");
    let mut m: crate::ResultModel = serde_json::from_str(&text).expect("model");
    m.vehicle.remove(0);
    m.rig.remove(0);
    let page = to_html_in(&m, Language::German);
    assert!(page.starts_with("<!DOCTYPE html><html lang=\"de\">"));
    let body = page.split("</style>").nth(1).expect("a body");
    let mut left = String::new();
    for part in body
        .split("<span lang=\"en\">")
        .enumerate()
        .map(|(i, p)| if i == 0 { p } else { p.split_once("</span>").map_or("", |s| s.1) })
    {
        left += part;
    }
    let texts = left.split('>').filter_map(|t| t.split('<').next()).collect::<Vec<_>>().join(" ");
    let labels = left.split("aria-label=\"").skip(1).filter_map(|t| t.split('"').next()).collect::<String>();
    for text in [texts, labels] {
        assert_eq!(english_words(&text), Vec::<String>::new(), "{text}");
    }
    assert_eq!(page, to_html_in(&m, Language::German));
    assert!(summary_text_in(&m, 80, false, Language::German).lines().all(|l| l.chars().count() <= 80));
}
