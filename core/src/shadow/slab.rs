//! A slab through a slab in closed form. `joints` derives slots by clipping; these are the published
//! forms of the same, for checks and for people.

/// Width of the slot that a slab of thickness `t` needs in one of thickness `host` at `phi_rad`, for
/// a tab of any length: (t + T·cosφ)/sinφ (calculated; common knowledge of oblique joints).
#[must_use]
pub fn full_slot(t: f64, host: f64, phi_rad: f64) -> f64 {
    (t + host * libm::cos(phi_rad)) / libm::sin(phi_rad)
}

/// Width of the slot for a tab that is cut flush: T·cotφ + t·sinφ, valid while t·cosφ ≤ T.
#[must_use]
pub fn flush_slot(t: f64, host: f64, phi_rad: f64) -> f64 {
    host / libm::tan(phi_rad) + t * libm::sin(phi_rad)
}

/// Length of the flush tab along its plane: T/sinφ.
#[must_use]
pub fn flush_tab(host: f64, phi_rad: f64) -> f64 {
    host / libm::sin(phi_rad)
}

/// The wedge that stays open at a square shoulder: t·cosφ.
#[must_use]
pub fn shoulder_wedge(t: f64, phi_rad: f64) -> f64 {
    t * libm::cos(phi_rad)
}
