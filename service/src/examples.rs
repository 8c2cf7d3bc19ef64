//! Requests that work: the demonstrations in `shared/examples`, and each family's own.

use berth_core::families::ALL;
use serde_json::Value;

/// A request that works.
#[derive(Clone, Debug)]
pub struct Example {
    /// Its name, and that of its file in `shared/examples`.
    pub name: &'static str,
    /// The request.
    pub request: Value,
}

/// One line for each demonstration in `shared/examples`; the other files there are the families'.
const SHOWN: &[(&str, &str)] = &[("bench-drawer", include_str!("../../shared/examples/bench-drawer.json"))];

/// All examples: demonstrations first.
#[must_use]
pub fn all() -> Vec<Example> {
    let shown =
        SHOWN.iter().filter_map(|(name, text)| Some(Example { name, request: serde_json::from_str(text).ok()? }));
    let own = ALL.iter().map(|a| Example { name: a.tag, request: (a.example)() });
    shown.chain(own).collect()
}

/// The example of a name.
#[must_use]
pub fn named(name: &str) -> Option<Example> {
    all().into_iter().find(|e| e.name == name)
}

/// An example as it stands in its file.
#[must_use]
pub fn text(example: &Example) -> String {
    let shown = SHOWN.iter().find(|(name, _)| *name == example.name).map(|(_, text)| (*text).to_owned());
    shown.unwrap_or_else(|| format!("{:#}\n", example.request))
}

#[cfg(test)]
mod tests {
    use super::{SHOWN, all, text};
    use std::collections::BTreeSet;

    #[test]
    fn every_example_has_its_file_and_every_file_is_an_example() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../shared/examples");
        assert_eq!(all().len(), SHOWN.len() + berth_core::families::ALL.len(), "a demonstration is no JSON");
        for e in all() {
            let file = std::fs::read_to_string(format!("{folder}/{}.json", e.name)).unwrap_or_default();
            let mend = format!("berth example {0} > shared/examples/{0}.json", e.name);
            assert!(file == text(&e), "shared/examples/{}.json has drifted: {mend}", e.name);
        }
        let names: BTreeSet<String> = all().iter().map(|e| format!("{}.json", e.name)).collect();
        for file in std::fs::read_dir(folder).unwrap() {
            let file = file.unwrap().file_name().into_string().unwrap();
            assert!(names.contains(&file), "shared/examples/{file} is listed nowhere");
        }
    }
}
