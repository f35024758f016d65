//! Where a field of a job file stands, for a complaint that comes after it was read.

use core::ops::Range;

use fairpull_tree::{Data, Node, toml};

/// The first place at which the dotted field, or an entry of its list, holds this text.
pub fn of(job: &str, field: &str, text: &str) -> Option<Range<usize>> {
    let path: Vec<&str> = field.split('.').collect();
    within(&toml(job).ok()?, &path, text)
}

fn within(node: &Node, path: &[&str], text: &str) -> Option<Range<usize>> {
    match (&node.data, path) {
        (Data::List(items), _) => items.iter().find_map(|item| within(item, path, text)),
        (Data::Table(entries), [name, rest @ ..]) => {
            let (_, value) = entries.iter().find(|(key, _)| key.name == *name)?;
            within(value, rest, text)
        }
        (Data::Text(t), []) if t == text => Some(node.span.clone()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::of;

    #[test]
    fn only_the_field_itself_is_found() {
        let job = "title = \"x\"\n[basis]\nstandard = 'x'\nalso = [\"y\", \"x\"]\n[[state]]\n[[state.log]]\nfile = \"a\"\n[[state]]\n[[state.log]]\nfile = \"x\"\n";
        let at = |field: &str| of(job, field, "x").map(|s| (s.start, job[s].to_owned()));
        assert_eq!(at("basis.standard"), Some((31, "'x'".into())));
        assert_eq!(at("basis.also"), Some((48, "\"x\"".into())));
        assert_eq!(at("state.log.file"), Some((job.len() - 4, "\"x\"".into())));
        assert_eq!(at("loss.model"), None);
        assert_eq!(of("not = TOML", "not", "x"), None);
    }
}
