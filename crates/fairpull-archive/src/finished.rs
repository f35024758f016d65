//! The mark of a finished job: what went in, what came out, its rows of the table.

use serde::{Deserialize, Serialize};

use crate::inputs::measure;
use crate::{Input, Inputs, Row};

/// Schema of `done.json`.
pub const FINISHED_SCHEMA: &str = "fairpull-done-2";

/// The content of `done.json`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Finished {
    /// [`FINISHED_SCHEMA`].
    pub schema: String,
    /// Job.
    pub job: String,
    /// [`Inputs::fingerprint`].
    pub fingerprint: String,
    /// What went in.
    pub inputs: Inputs,
    /// Language of the report; no figure depends on it.
    pub language: String,
    /// What came out: name, bytes, SHA-256.
    pub results: Vec<Product>,
    /// Rows of the table.
    pub rows: Vec<Row>,
    /// SHA-256 of all of the above, as JSON without line ends and with an empty seal.
    pub seal: String,
}

/// A file of results.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Product {
    /// Name.
    pub name: String,
    /// Bytes.
    pub bytes: u64,
    /// SHA-256, hexadecimal.
    pub sha256: String,
}

/// What a run would put into a result, as far as it is known before the logs are read.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    /// Program and version.
    pub program: &'a str,
    /// Language of the report.
    pub language: &'a str,
    /// Job file and declared standards.
    pub fixed: &'a [Input],
}

/// What is known of a job before it is reduced.
#[derive(Clone, Debug, PartialEq)]
pub enum Kept {
    /// Nothing is there.
    No,
    /// Finished, and every input as it was.
    Yes(Box<Finished>),
    /// Finished once; these inputs or results have changed since.
    Changed(Vec<String>),
}

impl Finished {
    /// The mark for results of these inputs.
    #[must_use]
    pub fn new(job: &str, inputs: Inputs, language: &str, results: &[(&str, &[u8])], rows: Vec<Row>) -> Self {
        let mut done = Self {
            schema: FINISHED_SCHEMA.into(),
            job: job.into(),
            fingerprint: inputs.fingerprint(),
            inputs,
            language: language.into(),
            results: results
                .iter()
                .map(|(name, bytes)| {
                    let (bytes, sha256) = measure(bytes);
                    Product { name: (*name).into(), bytes, sha256 }
                })
                .collect(),
            rows,
            seal: String::new(),
        };
        done.seal = done.sealed();
        done
    }

    fn sealed(&self) -> String {
        let open = Self { seal: String::new(), ..self.clone() };
        // plain data cannot fail to become JSON; no seal would fit nothing
        serde_json::to_vec(&open).map_or_else(|_| String::new(), |bytes| measure(&bytes).1)
    }

    /// True when nothing in it was altered since it was written.
    pub(crate) fn is_whole(&self) -> bool {
        !self.seal.is_empty() && self.seal == self.sealed()
    }
}
