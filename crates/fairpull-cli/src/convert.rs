//! `fairpull convert`.

use crate::args::Convert;
use crate::fail::Fail;
use crate::out;

pub fn run(a: &Convert) -> Result<(), Fail> {
    let answer = fairpull::convert(&a.quantity, &a.unit).map_err(|e| Fail::plain(e.to_string()))?;
    if a.json { out::json(&answer) } else { out::line(&answer.text) }
}
