//! The whole request: as received, and checked.
//!
//! May import: every room above. Below this room nothing reads a request.

mod checked;
mod limits;
mod request;

pub use checked::{HolderJob, Job};
pub use limits::Limits;
pub use request::{EffortSpec, Request, read, read_as};
