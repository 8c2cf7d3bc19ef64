//! The never-list: what must not be cut, found by the words that people type for it.

use super::data::catalogue;
use super::received::Forbidden;

/// The words of a text: lower case, split at everything that is no letter or digit.
pub(super) fn words(text: &str) -> Vec<String> {
    text.to_lowercase().split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_owned).collect()
}

/// Whether the words of `phrase` stand next to each other in `text`; a plural `s` counts as the same.
fn holds(text: &[String], phrase: &[String]) -> bool {
    let same = |a: &String, b: &String| a == b || a.strip_suffix('s') == Some(b);
    !phrase.is_empty() && text.windows(phrase.len()).any(|run| run.iter().zip(phrase).all(|(a, b)| same(a, b)))
}

/// The entry of the never-list that a text speaks of, if any. Whole words count, so that `abs` is
/// not found in `absolute`.
#[must_use]
pub fn forbidden(text: &str) -> Option<&'static Forbidden> {
    let said = words(text);
    catalogue().never.iter().find(|f| f.words.iter().any(|phrase| holds(&said, &words(phrase))))
}
