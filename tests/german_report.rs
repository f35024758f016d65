//! The German report of whole jobs and claims: what a result says is said in German, and what stays English is known.
#![allow(clippy::panic, clippy::unwrap_used, clippy::expect_used, clippy::missing_panics_doc)]

use std::collections::BTreeSet;

use fairpull::recordings::{RepairKind, Role};
use fairpull::reduction::{Job, reduce};
use fairpull::report::{Language, ResultModel, summary_text_in, to_html_in};
use fairpull::report::{VettingPage, vetting_to_html_in};
use fairpull_simulator::{Gain, Order, Random, RigKind, Run, hard_cases, usual_faults, usual_job};

fn demo() -> ResultModel {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../fixtures/demo");
    let text = std::fs::read_to_string(format!("{folder}/job.toml")).unwrap();
    let job = Job::parse(&text, "job.toml").unwrap();
    let catalogue = fairpull::builtin();
    let mut read = |f: &str| std::fs::read(format!("{folder}/{f}")).map_err(|e| e.to_string());
    let outcome = reduce(&job, &catalogue, &mut read, &mut |_, _| true).unwrap();
    fairpull::present(&job, &outcome, &catalogue)
}

fn simulated(run: &Run, changed: impl Fn(String) -> String) -> Option<ResultModel> {
    let job = Job::parse(&changed(run.job.to_toml()), "job.toml").unwrap_or_else(|e| panic!("{e}"));
    let catalogue = fairpull::builtin();
    let mut read = |name: &str| {
        let log = run.logs.iter().find(|l| l.file == name);
        log.map(|l| l.bytes.clone()).ok_or_else(|| "no such file".to_owned())
    };
    let outcome = reduce(&job, &catalogue, &mut read, &mut |_, _| true).ok()?;
    Some(fairpull::present(&job, &outcome, &catalogue))
}

/// What a page marks as English.
fn english(page: &str) -> BTreeSet<String> {
    let marked = page.split("<span lang=\"en\">").skip(1).filter_map(|t| t.split("</span>").next());
    marked.map(|t| t.replace("&lt;", "<").replace("&amp;", "&").replace('\u{a0}', " ")).collect()
}

/// Citations, and formulas that a card words in English: they stay as their cards have them.
fn is_of_a_card(text: &str) -> bool {
    let c = fairpull::builtin();
    let cards = c.standards().iter().flat_map(|s| {
        let k = s.card();
        let cites = k.sources.iter().map(|s| s.cite.to_string());
        let ranges = [&k.spark, &k.compression].map(|w| [w.temperature, w.pressure, w.factor]);
        let ranges = ranges.into_iter().flatten().flatten().map(|l| l.cite.to_string());
        cites
            .chain(ranges)
            .chain([k.formula.into(), k.designation.into(), k.scope().to_string()])
            .collect::<Vec<_>>()
    });
    let losses = c.losses().iter().flat_map(|l| {
        let k = l.card();
        k.sources.iter().map(|s| s.cite.to_string()).chain([k.formula.into()]).collect::<Vec<_>>()
    });
    cards.chain(losses).any(|t| t == text)
}

#[test]
fn the_summary_of_the_demo_job() {
    insta::assert_snapshot!(summary_text_in(&demo(), 100, false, Language::German));
}

#[test]
fn what_stays_english_in_the_demo_report() {
    let page = to_html_in(&demo(), Language::German);
    assert!(page.contains("<html lang=\"de\">"));
    insta::assert_debug_snapshot!(english(&page));
    assert_eq!(page, to_html_in(&demo(), Language::German));
}

/// Other rigs, hard cases and missing times bring other remarks: all are known.
#[test]
fn jobs_of_every_rig_leave_only_cards_in_english() {
    let untimed = |t: String| t.lines().filter(|l| !l.starts_with("start = ")).collect::<Vec<_>>().join("\n");
    let mut models = Vec::new();
    for kind in [RigKind::InertiaRoller, RigKind::BrakedRoller, RigKind::Hub] {
        let run = usual_job(kind, Gain::NONE, 3, Order::TwoDays).run(7);
        models.extend(simulated(&run, |t| t));
        models.extend(simulated(&run, untimed));
        models.extend(simulated(&usual_job(kind, Gain::flat(0.02), 1, Order::TwoDays).run(7), |t| t));
    }
    assert_eq!(models.len(), 9);
    models.extend(hard_cases(&|s| s).iter().filter_map(|c| simulated(&c.scenario.run(7), |t| t)));
    for kind in [RigKind::BrakedRoller, RigKind::Hub] {
        let faulty = usual_faults(kind, &mut Random::new(1, 8)).into_iter().map(|(_, f)| {
            let job = usual_job(kind, Gain::NONE, 1, Order::TwoDays);
            simulated(&job.faulty(&f).run(7), |t| t)
        });
        models.extend(faulty.flatten());
    }
    assert!(models.len() > 30, "{}", models.len());
    for m in models {
        let left: Vec<String> = english(&to_html_in(&m, Language::German))
            .into_iter()
            .filter(|t| !is_of_a_card(t) && !t.starts_with("Eilers and Marx"))
            .collect();
        assert_eq!(left, Vec::<String>::new());
        let summary = summary_text_in(&m, 100, false, Language::German);
        assert_ne!(summary, summary_text_in(&m, 100, false, Language::English));
    }
}

use RepairKind as R;
const REPAIRS: [RepairKind; 24] = [
    R::CommentLine,
    R::HeaderRepeated,
    R::TextRow,
    R::ShortRow,
    R::LongRow,
    R::TruncatedLastRow,
    R::NoTimeStamp,
    R::RepeatedStamp,
    R::BackwardStamp,
    R::LeapingStamp,
    R::NewestFirst,
    R::MidnightPassed,
    R::ClockRestarted,
    R::Gap,
    R::UnevenRate,
    R::EmptyCell,
    R::NoValue,
    R::NotANumber,
    R::Impossible,
    R::Spike,
    R::Stuck,
    R::NeverChanges,
    R::UnitOverridden,
    R::NoHeader,
];

#[test]
fn every_channel_repair_and_grade_is_known() {
    let german = |text: &str| assert!(Language::German.say(text).is_some(), "{text}");
    Role::ALL.iter().for_each(|r| german(r.words()));
    for kind in REPAIRS {
        german(kind.words());
        german(&format!("column \"Roller [km/h]\": {}", kind.words()));
    }
    let c = fairpull::builtin();
    c.losses().iter().for_each(|l| german(l.card().title));
    for s in c.standards() {
        german(s.card().grade().words());
        german(&s.card().rating.to_string());
    }
    fairpull::CAUTIONS.iter().for_each(|t| german(t));
}

#[test]
fn vetted_claims_leave_only_sources_in_english() {
    for name in ["consistent", "contradicted"] {
        let path = format!("{}/../fixtures/claims/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let question = fairpull::VetQuestion {
            text: Some(std::fs::read_to_string(path).unwrap()),
            ..fairpull::VetQuestion::default()
        };
        let found = fairpull::vet(&question, &fairpull::builtin()).unwrap();
        let page: VettingPage = serde_json::from_value(serde_json::to_value(&found).unwrap()).unwrap();
        let html = vetting_to_html_in(&page, Language::German);
        let sources: BTreeSet<String> = page.checks.iter().map(|c| c.source.clone()).collect();
        assert_eq!(english(&html).difference(&sources).collect::<Vec<_>>(), Vec::<&String>::new(), "{name}");
        assert!(html.contains("<html lang=\"de\">") && html.contains("Schranke"));
        assert_eq!(html, vetting_to_html_in(&page, Language::German));
    }
}
