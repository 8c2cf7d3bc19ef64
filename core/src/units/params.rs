//! `params!`: a field and its range row as one declaration, so that no field goes unchecked.
//!
//! Ranges are never negative: a number that may be (a fit) is no row but a type of its own.

use super::Readings;

/// Whether a received field was left out, so that it is not written either.
pub trait Absent {
    /// True when the caller left the field out.
    fn absent(&self) -> bool;
    /// The numbers that were given: none, one, or several.
    fn given(&self) -> &[f64];
}

impl Absent for f64 {
    fn absent(&self) -> bool {
        false
    }
    fn given(&self) -> &[f64] {
        std::slice::from_ref(self)
    }
}

impl Absent for Readings {
    fn absent(&self) -> bool {
        false
    }
    fn given(&self) -> &[f64] {
        self.all()
    }
}

impl<T: Absent> Absent for Option<T> {
    fn absent(&self) -> bool {
        self.is_none()
    }
    fn given(&self) -> &[f64] {
        self.as_ref().map_or(&[], T::given)
    }
}

/// Declares a received struct (serde, OpenAPI) whose numbers carry their range.
///
/// In `numbers`, each line is `name: KIND(min, max, "unit")`, KIND being `req` (must be there, `f64`),
/// `opt` (`Option<f64>`), `many` (one reading or several: [`Readings`]) or `optmany`; or
/// `def(min, max, "unit", default)`, which also makes a method of the field's name that gives the
/// caller's value or the default. In `fields` stands everything that is not a number.
///
/// In the struct's schema a field of readings is a number of the format `readings` with its range:
/// [`super::schema::spread_numbers`] makes one number or an array of it.
///
/// The struct gets `ROWS`, `check(at, findings)` (each number against its row) and
/// `note_defaults(at, list)`.
#[macro_export]
macro_rules! params {
    (
        $(#[$smeta:meta])*
        pub struct $name:ident {
            numbers { $($numbers:tt)* }
            fields { $($fields:tt)* }
        }
    ) => {
        $crate::params!(@munch [$(#[$smeta])*] $name [] [] [] { $($numbers)* } { $($fields)* });
    };
    (@munch $s:tt $name:ident [$($f:tt)*] [$($r:tt)*] [$($d:tt)*]
        { $(#[doc = $doc:literal])+ $field:ident : req($min:tt, $max:tt, $unit:literal), $($rest:tt)* } $o:tt) => {
        $crate::params!(@munch $s $name
            [$($f)* $(#[doc = $doc])+ #[schema(minimum = $min, maximum = $max)] pub $field: f64,]
            [$($r)* { $field, concat!($($doc),+), $min, $max, $unit, None }] [$($d)*] { $($rest)* } $o);
    };
    (@munch $s:tt $name:ident [$($f:tt)*] [$($r:tt)*] [$($d:tt)*]
        { $(#[doc = $doc:literal])+ $field:ident : opt($min:tt, $max:tt, $unit:literal), $($rest:tt)* } $o:tt) => {
        $crate::params!(@munch $s $name
            [$($f)* $(#[doc = $doc])+ #[serde(default, skip_serializing_if = "Option::is_none")]
             #[schema(minimum = $min, maximum = $max)] pub $field: Option<f64>,]
            [$($r)* { $field, concat!($($doc),+), $min, $max, $unit, None }] [$($d)*] { $($rest)* } $o);
    };
    (@munch $s:tt $name:ident [$($f:tt)*] [$($r:tt)*] [$($d:tt)*]
        { $(#[doc = $doc:literal])+ $field:ident : def($min:tt, $max:tt, $unit:literal, $default:tt), $($rest:tt)* } $o:tt) => {
        $crate::params!(@munch $s $name
            [$($f)* $(#[doc = $doc])+ #[serde(default, skip_serializing_if = "Option::is_none")]
             #[schema(minimum = $min, maximum = $max, default = $default)] pub $field: Option<f64>,]
            [$($r)* { $field, concat!($($doc),+), $min, $max, $unit, Some($default) }]
            [$($d)* { $(#[doc = $doc])+ $field $default }] { $($rest)* } $o);
    };
    (@munch $s:tt $name:ident [$($f:tt)*] [$($r:tt)*] [$($d:tt)*]
        { $(#[doc = $doc:literal])+ $field:ident : many($min:tt, $max:tt, $unit:literal), $($rest:tt)* } $o:tt) => {
        $crate::params!(@munch $s $name
            [$($f)* $(#[doc = $doc])+ #[schema(value_type = f64, format = "readings", minimum = $min, maximum = $max)]
             pub $field: $crate::units::Readings,]
            [$($r)* { $field, concat!($($doc),+), $min, $max, $unit, None }] [$($d)*] { $($rest)* } $o);
    };
    (@munch $s:tt $name:ident [$($f:tt)*] [$($r:tt)*] [$($d:tt)*]
        { $(#[doc = $doc:literal])+ $field:ident : optmany($min:tt, $max:tt, $unit:literal), $($rest:tt)* } $o:tt) => {
        $crate::params!(@munch $s $name
            [$($f)* $(#[doc = $doc])+ #[serde(default, skip_serializing_if = "Option::is_none")]
             #[schema(value_type = Option<f64>, format = "readings", minimum = $min, maximum = $max)]
             pub $field: Option<$crate::units::Readings>,]
            [$($r)* { $field, concat!($($doc),+), $min, $max, $unit, None }] [$($d)*] { $($rest)* } $o);
    };
    (@munch [$($smeta:tt)*] $name:ident [$($f:tt)*]
        [$({ $rf:ident, $what:expr, $min:tt, $max:tt, $unit:literal, $rdef:expr })*]
        [$({ $(#[doc = $ddoc:literal])+ $df:ident $dv:tt })*] { } { $($o:tt)* }) => {
        $($smeta)*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, utoipa::ToSchema)]
        #[serde(deny_unknown_fields)]
        pub struct $name { $($f)* $($o)* }

        impl $name {
            /// Each number of this struct with its range.
            pub const ROWS: &'static [$crate::units::Row] = &[
                $($crate::units::Row { name: stringify!($rf), what: $what, unit: $unit, min: $min, max: $max, default: $rdef }),*
            ];

            /// A finding for each number that is outside its row; `at` is this object's JSON Pointer.
            pub fn check(&self, at: &str, out: &mut Vec<$crate::finding::Finding>) {
                let mut rows = Self::ROWS.iter();
                $(
                    if let Some(row) = rows.next() {
                        let given = $crate::units::Absent::given(&self.$rf);
                        for (i, v) in given.iter().enumerate() {
                            let here = if given.len() > 1 { format!("{at}/{}/{i}", row.name) } else { format!("{at}/{}", row.name) };
                            row.check(*v, &here, out);
                        }
                    }
                )*
                let _ = (&mut rows, at, out);
            }

            /// Adds a line for each default that stands in for a field left out.
            pub fn note_defaults(&self, at: &str, out: &mut Vec<$crate::units::DefaultUsed>) {
                for row in Self::ROWS {
                    $(
                        if row.name == stringify!($rf) && $crate::units::Absent::absent(&self.$rf) {
                            if let Some(value) = row.default {
                                out.push($crate::units::DefaultUsed { at: format!("{at}/{}", row.name), value, unit: row.unit });
                            }
                        }
                    )*
                    let _ = row;
                }
            }

            $(
                $(#[doc = $ddoc])+
                ///
                /// The caller's value, or the row's default.
                #[must_use]
                pub fn $df(&self) -> f64 { self.$df.unwrap_or($dv) }
            )*
        }
    };
}
