//! The report as one page: no script, nothing loaded, prints as it stands.

use crate::escape::clean;
use crate::model::ResultModel;
use crate::page::Page;
use crate::svg;
use crate::text::Language;
use crate::{html_basis, html_cost, html_curves, html_head, html_runs, html_stress};
use maud::{DOCTYPE, PreEscaped, html};

/// Rules of the page.
const PAGE_STYLE: &str = include_str!("page.css");

/// The report in English as one self-contained HTML page.
///
/// Every text of the result is escaped; control characters and marks that turn the reading direction become
/// U+FFFD. The same result gives the same bytes.
#[must_use]
pub fn to_html(result: &ResultModel) -> String {
    to_html_in(result, Language::English)
}

/// The report in a language.
#[must_use]
pub fn to_html_in(result: &ResultModel, language: Language) -> String {
    let p = Page::new(result, language);
    let page = html! {
        (DOCTYPE)
        html lang=(p.w.tag) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="referrer" content="no-referrer";
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'";
                title { (result.title) " – " (p.w.report) }
                style { (PreEscaped(PAGE_STYLE)) (PreEscaped(svg::STYLE)) }
            }
            body {
                (html_head::header(&p))
                main {
                    (html_head::verdicts(&p))
                    (html_curves::peaks(&p))
                    (html_curves::curves(&p))
                    (html_curves::gains(&p))
                    (html_cost::cost(&p))
                    (html_stress::margins(&p))
                    (html_runs::repeats(&p))
                    (html_runs::conditions(&p))
                    (html_runs::others(&p))
                    (html_basis::budget(&p))
                    (html_curves::numbers(&p))
                    (html_basis::trail(&p))
                    (html_basis::repairs(&p))
                    (html_basis::facts(&p))
                    (html_basis::cautions(&p))
                    (html_basis::notices(&p))
                }
                footer { p { (p.w.made_by) " " (result.program) ". " (p.w.interval_note) } }
            }
        }
    };
    clean(&page.into_string())
}
