//! The page: nothing from a file becomes markup, and what must be there is there.

use crate::model::*;
use crate::sample::invented;
use crate::{Language, charts, to_html, to_html_in, to_json};

const HOSTILE: &str =
    "</style></title><script>alert(1)</script><img src=x onerror=\"alert(2)\">&'\u{202e}\u{1b}[31m";

/// Every text of the model replaced by one that tries to break out of its place.
fn hostile() -> ResultModel {
    fn poison(v: &mut serde_json::Value) {
        match v {
            serde_json::Value::String(s) => *s = HOSTILE.to_owned(),
            serde_json::Value::Array(list) => list.iter_mut().for_each(poison),
            serde_json::Value::Object(map) => map.values_mut().for_each(poison),
            _ => {}
        }
    }
    let mut v = serde_json::to_value(invented()).expect("model");
    poison(&mut v);
    serde_json::from_value(v).expect("model")
}

fn assert_harmless(page: &str) {
    let lower = page.to_lowercase();
    for bad in ["<script", "<img", "onerror=\"", "\u{202e}", "\u{1b}"] {
        assert!(!lower.contains(bad), "{bad:?} reached the page");
    }
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
}

#[test]
fn hostile_text_stays_text() {
    let m = hostile();
    for language in Language::ALL {
        let page = to_html_in(&m, language);
        assert_harmless(&page);
        assert_eq!(page.matches("</style>").count(), 1);
        assert_eq!(page.matches("</title>").count(), 1 + page.matches("role=\"img\"").count());
        for (_, chart) in charts::all(&m, language, false) {
            assert_harmless(&chart.document());
        }
        assert!(!crate::summary_text_in(&m, 80, true, language).contains("\u{1b}[31m"));
    }
}

#[test]
fn elements_are_closed_in_order() {
    let void = ["meta", "br", "!doctype"];
    for page in Language::ALL.iter().flat_map(|l| [to_html_in(&invented(), *l), to_html_in(&hostile(), *l)]) {
        let mut open: Vec<&str> = Vec::new();
        for tag in page.split('<').skip(1).filter_map(|t| t.split_once('>').map(|(tag, _)| tag)) {
            let name = tag.trim_start_matches('/').split([' ', '/']).next().unwrap_or_default();
            if let Some(closing) = tag.strip_prefix('/') {
                assert_eq!(open.pop(), Some(closing));
            } else if !tag.ends_with('/') && !void.contains(&name.to_lowercase().as_str()) {
                open.push(name);
            }
        }
        assert!(open.is_empty(), "left open: {open:?}");
    }
}

#[test]
fn ids_are_unique_and_labels_point_to_them() {
    for page in Language::ALL.map(|l| to_html_in(&invented(), l)) {
        labels_point_to_ids(&page);
    }
}

fn labels_point_to_ids(page: &str) {
    let ids: Vec<&str> = page.split(" id=\"").skip(1).filter_map(|t| t.split('"').next()).collect();
    let mut sorted = ids.clone();
    sorted.sort_unstable();
    sorted.dedup();
    assert_eq!(sorted.len(), ids.len());
    let labels = page.split("aria-labelledby=\"").skip(1).filter_map(|t| t.split('"').next());
    for id in labels.flat_map(str::split_whitespace) {
        assert!(ids.contains(&id), "nothing has id {id}");
    }
}

#[test]
fn the_page_loads_nothing_and_runs_nothing() {
    let page = Language::ALL.map(|l| to_html_in(&invented(), l)).concat();
    for word in ["http:", "https:", "src=", "href=", "url(", "@import", "<script", "<link"] {
        assert!(!page.contains(word), "{word}");
    }
    assert!(page.contains("default-src 'none'"));
}

#[test]
fn what_a_reader_needs_is_on_the_page() {
    let m = invented();
    let page = to_html(&m).replace('\u{a0}', " ");
    let needed = [
        m.basis.statement.as_str(),
        "+2.3 %",
        "± 0.8",
        "Pre-turbine pressure: -0.35 ± 0.05 bar.",
        "smallest detectable: ±1.1 %",
        "Strap the vehicle down",
        "Humidity was taken from the job",
        "Two pulls ended above",
        "Formula alone",
        "DIN 70020-6:1997",
        "Roller inertia",
        "ISO 1585:2020, 6.3",
        "bridged by interpolation",
    ];
    for text in needed {
        let text = text.replace("-0.35", "−0.35");
        assert!(page.contains(&text), "missing: {text}");
    }
}

// 1 PS = 735.498 75 W and 1 lbf·ft = 1.355 817 948 331 400 4 N·m: definitions of the kilogram-force (9.806 65 N),
// the international foot and pound.
#[test]
fn second_units_are_exact_conversions() {
    let ps = crate::units::power("PS").expect("known");
    assert_eq!(ps.worth, 75.0 * 9.80665 / 1000.0);
    let hp = crate::units::power("hp").expect("known");
    let exact = 550.0 * 0.3048 * 0.453_592_37 * 9.80665 / 1000.0;
    assert!((hp.worth / exact - 1.0).abs() < 1e-15);
    let ft = crate::units::torque("lbf·ft").expect("known");
    assert!((ft.worth / (0.3048 * 0.453_592_37 * 9.80665) - 1.0).abs() < 1e-15);
    assert!(crate::units::power("donkey").is_none());
}

#[test]
fn the_same_result_gives_the_same_bytes() {
    assert_eq!(to_html(&invented()), to_html(&invented()));
}

#[test]
fn an_empty_result_and_odd_numbers_still_make_a_page() {
    let mut m = invented();
    m.states.clear();
    m.comparisons.clear();
    assert!(to_html(&m).contains("holds no state"));
    let mut m = invented();
    let odd = Interval { value: f64::NAN, lo95: f64::NEG_INFINITY, hi95: f64::INFINITY };
    m.comparisons[0].mean_gain_percent = odd;
    m.comparisons[0].curve[3].gain_percent = odd;
    m.states[0].curve[0].crank_power_kw = odd;
    m.states[0].peak_power.value = odd;
    m.states[1].channels[0].mean = odd;
    let page = to_html(&m);
    let drawings = page.split("<svg").skip(1).filter_map(|t| t.split("</svg>").next());
    for d in drawings {
        assert!(!d.contains("NaN") && !d.contains("inf\"") && !d.contains("inf "), "{d}");
    }
    assert!(to_json(&m).is_err());
}

/// `FAIRPULL_SAMPLE_DIR=/somewhere cargo test -p fairpull-report sample_files` leaves the page and its charts there,
/// to be looked at.
#[test]
fn sample_files() {
    let dir = std::env::var_os("FAIRPULL_SAMPLE_DIR").map_or_else(
        || std::env::temp_dir().join(format!("fairpull-sample-{}", std::process::id())),
        Into::into,
    );
    std::fs::create_dir_all(&dir).expect("folder");
    let m = invented();
    std::fs::write(dir.join("report.html"), to_html(&m)).expect("write");
    std::fs::write(dir.join("result.json"), to_json(&m).expect("json")).expect("write");
    for (stem, chart) in charts::all(&m, Language::English, false) {
        std::fs::write(dir.join(format!("{stem}.svg")), chart.document()).expect("write");
    }
    let written = std::fs::read_dir(&dir).expect("folder").count();
    assert!(written >= 5, "{written} files");
    if std::env::var_os("FAIRPULL_SAMPLE_DIR").is_none() {
        std::fs::remove_dir_all(&dir).expect("tidy");
    }
}

/// WCAG 2.2, success criterion 1.4.3 and its definition of relative luminance (formula from memory).
fn contrast(a: &str, b: &str) -> f64 {
    let luminance = |hex: &str| {
        let full = if hex.len() == 4 {
            hex.chars().skip(1).flat_map(|c| [c, c]).collect::<String>()
        } else {
            hex.trim_start_matches('#').to_owned()
        };
        let part = |at: usize| {
            let c = f64::from(u8::from_str_radix(&full[at..at + 2], 16).expect("hex")) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
        };
        0.2126 * part(0) + 0.7152 * part(2) + 0.0722 * part(4)
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn every_text_colour_can_be_read_on_its_page() {
    let css = include_str!("page.css");
    let schemes: Vec<&str> = css.split(":root{").skip(1).filter_map(|t| t.split('}').next()).collect();
    assert_eq!(schemes.len(), 3, "light, dark, print");
    for scheme in schemes {
        let colour = |name: &str| {
            let pair = scheme.split(';').map(str::trim).find_map(|p| p.strip_prefix(&format!("--{name}:")));
            pair.unwrap_or_else(|| panic!("--{name} is missing"))
        };
        for name in ["ink", "dim", "c0", "c1", "c2", "c3", "c4", "c5"] {
            let ratio = contrast(colour(name), colour("paper"));
            assert!(ratio >= 4.5, "--{name} has {ratio:.2}:1 in {scheme}");
        }
        assert!(contrast(colour("line"), colour("paper")) >= 3.0);
    }
    assert!((contrast("#fff", "#000000") - 21.0).abs() < 1e-9);
    for (n, slot) in crate::svg::SLOTS.iter().enumerate() {
        assert!(contrast(slot.colour, "#fff") >= 4.5, "{}", slot.colour);
        assert!(css.contains(&format!("--c{n}:{}", slot.colour)), "page.css and SLOTS differ in {n}");
        let twins =
            crate::svg::SLOTS.iter().filter(|s| s.dash == slot.dash || s.colour == slot.colour).count();
        assert_eq!(twins, 1, "look {n} is not told apart");
    }
}
