//! The cards in docs/standards/ are those of the plug-ins. `FAIRPULL_WRITE_PAGES=1` writes them anew.

use fairpull_core::{Compensation, CorrectionStandard, PressureBasis, StandardCard, Status, TestWindow};
use std::fmt::Write;

const MARK: &str = "<!-- from the card; checked by tests/standard_pages.rs -->\n";

const PAGES: [(&str, &[&dyn CorrectionStandard]); 15] = [
    ("iso-1585", fairpull_iso_1585::ALL),
    ("iso-2534", fairpull_iso_2534::ALL),
    ("iso-15550", fairpull_iso_15550::ALL),
    ("iso-3046", fairpull_iso_3046::ALL),
    ("un-r85", fairpull_un_r85::ALL),
    ("un-r24", fairpull_un_r24::ALL),
    ("ec-80-1269", fairpull_ec_80_1269::ALL),
    ("eu-134-2014", fairpull_eu_134_2014::ALL),
    ("sae-j1349", fairpull_sae_j1349::ALL),
    ("sae-j1995", fairpull_sae_j1995::ALL),
    ("sae-j607", fairpull_sae_j607::ALL),
    ("sae-j816", fairpull_sae_j816::ALL),
    ("sae-j245", fairpull_sae_j245::ALL),
    ("din-70020", fairpull_din_70020::ALL),
    ("jis-d-1001", fairpull_jis_d_1001::ALL),
];

fn status(card: &StandardCard) -> String {
    match card.status {
        Status::Current => "current".into(),
        Status::Withdrawn(by) => format!("withdrawn; replaced by {by}"),
        Status::Historic => "historic: only to read old figures".into(),
        Status::Unknown => "not established".into(),
    }
}

fn ranges(window: &TestWindow) -> String {
    let limits = [window.temperature, window.pressure, window.factor];
    let texts: Vec<_> = limits
        .iter()
        .flatten()
        .map(|l| {
            format!(
                "{} {} to {}{}",
                l.what,
                l.low,
                l.high,
                if l.unit == "1" { String::new() } else { format!(" {}", l.unit) }
            )
        })
        .collect();
    if texts.is_empty() { "none known".into() } else { texts.join("; ") }
}

fn render(card: &StandardCard) -> Result<String, std::fmt::Error> {
    let mut t = String::new();
    writeln!(t, "## `{}`\n\n{}: {}. Edition: {}.\n", card.id, card.designation, card.title, card.edition)?;
    writeln!(t, "| | |\n|---|---|\n| status | {} |\n| rating | {} |", status(card), card.rating)?;
    let mut engines: Vec<_> =
        [(card.applies.spark, "spark ignition"), (card.applies.compression, "compression ignition")]
            .iter()
            .filter_map(|(yes, what)| yes.then_some(*what))
            .collect();
    engines.push(if card.applies.charged { "aspirated and charged" } else { "aspirated only" });
    writeln!(t, "| engines | {} |", engines.join(", "))?;
    let r = &card.reference;
    let basis = match r.basis {
        PressureBasis::Dry => {
            format!("{} kPa dry, {} kPa vapour", short(r.pressure_kpa), short(r.vapour_kpa))
        }
        PressureBasis::Total => format!("{} kPa total", short(r.pressure_kpa)),
    };
    writeln!(
        t,
        "| reference air | {basis}, {} °C (kelvin = °C + {}) |",
        short(r.temperature_c),
        short(r.kelvin_offset)
    )?;
    writeln!(t, "| factor | `{}` |", card.formula)?;
    if card.applies.spark {
        writeln!(t, "| ranges, spark ignition | {} |", ranges(&card.spark))?;
    }
    if card.applies.compression {
        writeln!(t, "| ranges, compression ignition | {} |", ranges(&card.compression))?;
    }
    let rule = match card.compensation {
        Compensation::None => {
            "no rule in the text; the formula is applied and the result says that it over-corrects".into()
        }
        Compensation::FactorOne(cite) => format!("factor 1 ({cite})"),
        Compensation::FactorOneByLaterText(cite) => {
            format!("factor 1 on the strength of a later text ({cite})")
        }
    };
    writeln!(t, "| engine that compensates for the ambient | {rule} |\n")?;
    writeln!(t, "| what | source | how far it was read |\n|---|---|---|")?;
    for s in card.sources {
        writeln!(t, "| {} | {} | {} |", s.what, s.cite, s.cite.reading.words())?;
    }
    for g in card.gaps {
        write!(t, "\n- Not established: {g}.")?;
    }
    for a in card.aliases {
        write!(
            t,
            "\n- Also found as `{}`, {}: {} ({}).",
            a.id,
            a.designation,
            a.cite,
            a.cite.reading.words()
        )?;
    }
    Ok(t.trim_end().to_owned() + "\n\n")
}

/// At most four decimals, without trailing zeros.
fn short(x: f64) -> String {
    format!("{x:.4}").trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[test]
fn pages_show_the_cards() -> Result<(), Box<dyn std::error::Error>> {
    for (id, list) in PAGES {
        let path = format!("{}/../docs/standards/{id}.md", env!("CARGO_MANIFEST_DIR"));
        let page = std::fs::read_to_string(&path).map_err(|e| format!("{path}: {e}"))?;
        let (head, cards) = page.split_once(MARK).ok_or(format!("{path}: no mark"))?;
        let mut want = String::new();
        for s in list {
            want += &render(s.card())?;
        }
        let want = want.trim_end().to_owned() + "\n";
        if std::env::var_os("FAIRPULL_WRITE_PAGES").is_some() {
            std::fs::write(&path, format!("{head}{MARK}{want}"))?;
        } else {
            assert_eq!(
                cards, want,
                "{path} is stale: FAIRPULL_WRITE_PAGES=1 cargo test --test standard_pages"
            );
        }
    }
    Ok(())
}
