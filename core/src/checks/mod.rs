//! Checks: one file a check, one line in the list. Each measures finished outlines and solids, or
//! looks at things and space; none repeats a family's own formula.
//!
//! A check reports all it measured against its limit, and a finding for each fault.
//!
//! May import: every room above.

mod bed;
pub(crate) mod boards;
mod bound;
pub(crate) mod convex;
mod core_part;
mod features;
pub(crate) mod held;
mod masses;
mod nested;
mod outcome;
mod place;
mod plate;
#[cfg(test)]
pub(crate) mod testing;

pub use bed::{batch_takes, grain_deg};
pub use outcome::{About, Limit, Measured, Outcome, Subject};

/// One check.
pub struct Check {
    /// What it is about.
    pub about: About,
    /// Measures and judges.
    pub run: fn(&Subject, &mut Outcome),
}

/// The list: one module a check, each with `ABOUT` and `run`.
macro_rules! checks {
    ($($module:ident),* $(,)?) => {
        $(mod $module;)*
        /// All checks, in the order of the report.
        pub const ALL: &[Check] = &[$(Check { about: $module::ABOUT, run: $module::run }),*];
    };
}

checks! {
    one_piece,
    overlap,
    joint_fit,
    tab_width,
    finger_width,
    web,
    slot_to_edge,
    lap_remainder,
    part_on_bed,
    fits_space,
    height,
    lid_swing,
    things_pass,
    lean_tip,
    slam_retention,
    holder_play,
    finger_gap,
    reach,
    everything_placed,
    floor_sag,
    tab_shear,
    tipping,
    mass_one_hand,
    slide_load,
    compartment_reach,
    capacity,
    material_allowed,
    plausible_readings,
}

/// Runs every check of the list.
#[must_use]
pub fn run_all(subject: &Subject) -> Vec<(About, Outcome)> {
    ALL.iter()
        .map(|check| {
            let mut outcome = Outcome::default();
            (check.run)(subject, &mut outcome);
            (check.about, outcome)
        })
        .collect()
}

#[cfg(test)]
mod cures_tests;
#[cfg(test)]
mod tests;
