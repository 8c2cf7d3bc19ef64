//! The service on a socket: connections with timeouts, and a stop that lets running work finish.

mod connections;
mod signal;

use crate::app::{Settings, Shared};
use crate::router::router;
use std::net::SocketAddr;
use std::time::Duration;
use tokio::net::TcpListener;

/// What only a socket needs.
#[derive(Clone, Copy, Debug)]
pub struct Socket {
    /// Address and port.
    pub listen: SocketAddr,
    /// After the signal to stop: how long new requests are still taken while `/readyz` says 503.
    pub linger: Duration,
    /// After that: how long running work may take to finish.
    pub grace: Duration,
}

/// Serves until a signal says stop.
///
/// # Errors
/// When the address cannot be bound.
pub async fn serve(settings: Settings, socket: Socket) -> std::io::Result<()> {
    let listener = TcpListener::bind(socket.listen).await?;
    let at = listener.local_addr()?;
    tracing::info!(%at, jobs = settings.jobs, queue = settings.queue, deadline_s = settings.deadline.as_secs_f64(), "listening");
    let app = Shared::new(settings);
    let stop = async {
        signal::asked_to_stop().await;
        app.begin_to_stop();
        tracing::info!(linger_s = socket.linger.as_secs_f64(), running = app.jobs.running(), "stopping");
        tokio::time::sleep(socket.linger).await;
    };
    let all_done = connections::accept_until(listener, router(app.clone()), stop, socket.grace).await;
    tracing::info!(all_done, running = app.jobs.running(), "stopped");
    Ok(())
}
