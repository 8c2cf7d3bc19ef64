//! Which representation a client wants: `Accept` with its media ranges and weights (RFC 9110, section 12.5.1).

use axum::http::{HeaderMap, header};

/// What an answer can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Representation {
    /// The package, ready to cut.
    Package,
    /// The report.
    Report,
    /// The assembled model.
    Model,
    /// The plan view.
    Plan,
}

impl Representation {
    /// All of them; the first is sent to a client that does not mind.
    pub const ALL: [Self; 4] = [Self::Package, Self::Report, Self::Model, Self::Plan];

    /// Its media type.
    #[must_use]
    pub fn media_type(self) -> &'static str {
        match self {
            Self::Package => "application/zip",
            Self::Report => "application/json",
            Self::Model => "model/gltf-binary",
            Self::Plan => "image/svg+xml",
        }
    }

    /// How a file of it ends.
    #[must_use]
    pub fn extension(self) -> &'static str {
        match self {
            Self::Package => "zip",
            Self::Report => "json",
            Self::Model => "glb",
            Self::Plan => "svg",
        }
    }
}

/// One media range with its weight in thousandths.
struct Range<'a> {
    kind: &'a str,
    subtype: &'a str,
    weight: u32,
}

/// The representation that a request's headers ask for; `None` when none will do. Without `Accept`, the first.
#[must_use]
pub fn wanted(headers: &HeaderMap) -> Option<Representation> {
    wanted_of(headers, &Representation::ALL)
}

/// The same among fewer; the first is sent to a client that does not mind.
#[must_use]
pub fn wanted_of(headers: &HeaderMap, among: &[Representation]) -> Option<Representation> {
    let mut text = String::new();
    for value in headers.get_all(header::ACCEPT) {
        text.push_str(value.to_str().ok()?);
        text.push(',');
    }
    choose(&text, among)
}

fn choose(accept: &str, among: &[Representation]) -> Option<Representation> {
    if accept.trim_matches([',', ' ', '\t']).is_empty() {
        return among.first().copied();
    }
    let ranges: Vec<Range> = accept.split(',').filter_map(range).collect();
    // the first of equals: `max_by_key` would take the last
    among
        .iter()
        .map(|r| (weight(&ranges, *r), *r))
        .filter(|(w, _)| *w > 0)
        .reduce(|best, next| if next.0 > best.0 { next } else { best })
        .map(|(_, r)| r)
}

/// One element of the list; what is no media range is passed over. Parameters other than the weight are
/// passed over too: no representation here has any.
fn range(element: &str) -> Option<Range<'_>> {
    let mut parts = element.split(';').map(str::trim);
    let (kind, subtype) = parts.next()?.split_once('/')?;
    if kind.is_empty() || subtype.is_empty() || (kind == "*" && subtype != "*") {
        return None;
    }
    let q = parts.find_map(|p| p.strip_prefix("q=").or_else(|| p.strip_prefix("Q=")));
    let weight = match q {
        None => 1000,
        Some(text) => thousandths(text)?,
    };
    Some(Range { kind, subtype, weight })
}

/// `0`, `1`, or up to three decimals (RFC 9110, section 12.4.2).
fn thousandths(text: &str) -> Option<u32> {
    let (whole, decimals) = text.split_once('.').unwrap_or((text, ""));
    let plain = decimals.len() <= 3 && decimals.bytes().all(|b| b.is_ascii_digit());
    let value = format!("{decimals:0<3}").parse::<u32>().ok().filter(|_| plain)?;
    match whole {
        "0" => Some(value),
        "1" if value == 0 => Some(1000),
        _ => None,
    }
}

/// The weight of the most specific range that holds this representation; 0 when none does.
fn weight(ranges: &[Range], r: Representation) -> u32 {
    let (kind, subtype) = r.media_type().split_once('/').unwrap_or_default();
    ranges
        .iter()
        .filter_map(|g| {
            let closeness = match (g.kind, g.subtype) {
                ("*", "*") => 0,
                (k, "*") if k.eq_ignore_ascii_case(kind) => 1,
                (k, s) if k.eq_ignore_ascii_case(kind) && s.eq_ignore_ascii_case(subtype) => 2,
                _ => return None,
            };
            Some((closeness, g.weight))
        })
        .max()
        .map_or(0, |(_, w)| w)
}

#[cfg(test)]
mod tests {
    use super::Representation::{Model, Package, Plan, Report};
    use super::{Representation, choose};

    #[test]
    fn the_weights_decide_and_the_more_specific_range_rules() {
        for (accept, want) in [
            ("", Some(Package)),
            (" , ", Some(Package)),
            ("*/*", Some(Package)),
            ("application/*", Some(Package)),
            ("application/json", Some(Report)),
            ("Application/JSON;charset=utf-8", Some(Report)),
            ("model/*", Some(Model)),
            ("image/svg+xml, */*;q=0.1", Some(Plan)),
            ("application/zip;q=0.5, application/json;q=0.6", Some(Report)),
            ("application/json;q=0.6,application/zip;q=0.600", Some(Package)),
            // RFC 9110, section 12.5.1: the most specific reference has precedence
            ("*/*, application/zip;q=0", Some(Report)),
            ("application/*;q=0, */*", Some(Model)),
            ("application/problem+json, application/json", Some(Report)),
            ("text/html", None),
            ("application/zip;q=0", None),
            ("*/*;q=0", None),
            // what is no media range says nothing
            ("zip, application/json", Some(Report)),
            ("*/json", None),
            ("application/json;q=2", None),
            ("application/json;q=0.1234", None),
            ("application/json;q=-1", None),
            ("garbage", None),
            // what browsers send
            ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", Some(Package)),
        ] {
            assert_eq!(choose(accept, &Representation::ALL), want, "{accept:?}");
        }
    }
}
