//! Waiting to be told to stop.

use tokio::signal::unix::{SignalKind, signal};

/// SIGTERM or SIGINT, whichever comes first. Where neither can be heard, never.
pub async fn asked_to_stop() {
    match (signal(SignalKind::terminate()), signal(SignalKind::interrupt())) {
        (Ok(mut term), Ok(mut int)) => {
            tokio::select! {
                _ = term.recv() => {}
                _ = int.recv() => {}
            }
        }
        _ => std::future::pending().await,
    }
}
