//! What handlers share: settings that do not change, and the jobs at work.

use crate::jobs::Jobs;
use axum::http::HeaderValue;
use berth_core::job::Limits;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

/// How much a client may send, and how long and how wide the service computes.
#[derive(Clone, Debug)]
pub struct Settings {
    /// From a request's arrival to its answer.
    pub deadline: Duration,
    /// Requests that are computed at the same time.
    pub jobs: usize,
    /// Requests that may wait for one of those; the next is told to come back.
    pub queue: usize,
    /// Largest body, bytes.
    pub max_body_bytes: usize,
    /// Largest body that carries a package, bytes.
    pub max_package_bytes: usize,
    /// How long a client may take to send its body.
    pub body_time: Duration,
    /// Origins that browsers may call from; none unless given.
    pub allow_origins: Vec<HeaderValue>,
    /// How much one request may ask for.
    pub limits: Limits,
}

/// As many jobs as there are cores: more would only slow each other down.
fn cores() -> usize {
    std::thread::available_parallelism().map_or(2, usize::from)
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            deadline: Duration::from_secs(30),
            jobs: cores(),
            // at twice the capacity a short queue keeps the served fast and refuses the rest at once
            queue: 4,
            // the largest honest request, 5000 things one by one, has some 600 kB
            max_body_bytes: 1 << 20,
            // the package of a full trailer has some 6 MB
            max_package_bytes: 16 << 20,
            body_time: Duration::from_secs(10),
            allow_origins: vec![],
            limits: Limits::default(),
        }
    }
}

/// Shared by all handlers.
#[derive(Debug)]
pub struct Shared {
    /// As started.
    pub settings: Settings,
    /// The jobs at work.
    pub jobs: Jobs,
    stopping: AtomicBool,
}

/// A handle on what all handlers share.
pub type App = Arc<Shared>;

impl Shared {
    /// What a router needs.
    #[must_use]
    pub fn new(settings: Settings) -> App {
        Arc::new(Self {
            jobs: Jobs::new(settings.jobs, settings.queue, settings.deadline),
            settings,
            stopping: AtomicBool::new(false),
        })
    }
    /// From now on the service says that it is not ready for more.
    pub fn begin_to_stop(&self) {
        self.stopping.store(true, Ordering::Relaxed);
    }
    /// Whether it takes new work.
    #[must_use]
    pub fn ready(&self) -> bool {
        !self.stopping.load(Ordering::Relaxed)
    }
}
