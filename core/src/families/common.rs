//! What every holder may say: its things, its stocks, its outer size.

/// The common part of a holder's spec.
#[derive(Clone, Copy, Debug)]
pub struct Common<'a> {
    /// Ids of the things that it holds.
    pub things: &'a [String],
    /// Stock of its panels; the first of the job when left out.
    pub stock: Option<&'a str>,
    /// Stock of its floor; the same as the panels' when left out.
    pub floor_stock: Option<&'a str>,
    /// Stock of what stands or lies inside: dividers, decks, plates.
    pub inner_stock: Option<&'a str>,
    /// Outer width, when the caller fixes it.
    pub width_mm: Option<f64>,
    /// Outer depth.
    pub depth_mm: Option<f64>,
    /// Outer height.
    pub height_mm: Option<f64>,
}

/// Declares a family's received struct: a `params!` struct with the fields that every holder has.
#[macro_export]
macro_rules! holder {
    (
        $(#[$smeta:meta])*
        pub struct $name:ident {
            numbers { $($numbers:tt)* }
            fields { $($fields:tt)* }
        }
    ) => {
        $crate::params! {
            $(#[$smeta])*
            pub struct $name {
                numbers {
                    /// Outer width; what the space offers when left out.
                    width_mm: opt(20.0, 3000.0, "mm"),
                    /// Outer depth; what the space offers when left out.
                    depth_mm: opt(20.0, 3000.0, "mm"),
                    /// Outer height.
                    height_mm: opt(8.0, 1000.0, "mm"),
                    $($numbers)*
                }
                fields {
                    /// Ids of the things that it holds, in the order in which they are placed.
                    #[serde(default, skip_serializing_if = "Vec::is_empty")]
                    pub things: Vec<String>,
                    /// Stock of its panels; the first stock of the job when left out.
                    #[serde(default, skip_serializing_if = "Option::is_none")]
                    pub stock: Option<String>,
                    /// Stock of its floor; the same as its panels' when left out.
                    #[serde(default, skip_serializing_if = "Option::is_none")]
                    pub floor_stock: Option<String>,
                    /// Stock of what is inside (dividers, decks, plates); its panels' when left out.
                    #[serde(default, skip_serializing_if = "Option::is_none")]
                    pub inner_stock: Option<String>,
                    $($fields)*
                }
            }
        }
        impl $name {
            /// What every holder may say.
            #[must_use]
            pub fn common(&self) -> $crate::families::Common<'_> {
                $crate::families::Common {
                    things: &self.things,
                    stock: self.stock.as_deref(),
                    floor_stock: self.floor_stock.as_deref(),
                    inner_stock: self.inner_stock.as_deref(),
                    width_mm: self.width_mm,
                    depth_mm: self.depth_mm,
                    height_mm: self.height_mm,
                }
            }
        }
    };
}
