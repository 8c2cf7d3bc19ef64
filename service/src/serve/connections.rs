//! One task a connection: how many, how slow, and how they end.

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use std::future::Future;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// Connections at the same time. Each holds one answer at most, some megabytes; the rest wait in the
/// system's own queue.
const MOST_CONNECTIONS: usize = 512;

/// A client sends a request's head in one packet; one that needs longer than this only holds a place.
const HEAD_TIME: Duration = Duration::from_secs(10);

/// When accepting fails (no more file handles), trying again at once would only burn the processor.
const AFTER_FAULT: Duration = Duration::from_millis(100);

/// Serves connections until `stop`, then takes no more and lets those at work finish within `grace`.
/// True when all of them did.
pub async fn accept_until(
    listener: TcpListener,
    router: Router,
    stop: impl Future<Output = ()>,
    grace: Duration,
) -> bool {
    let places = Arc::new(Semaphore::new(MOST_CONNECTIONS));
    let graceful = GracefulShutdown::new();
    tokio::pin!(stop);
    loop {
        tokio::select! {
            () = &mut stop => break,
            next = next(&listener, &places) => match next {
                Ok((stream, place)) => start(stream, place, &router, &graceful),
                Err(e) => {
                    tracing::warn!(fault = %e, "accept");
                    tokio::time::sleep(AFTER_FAULT).await;
                }
            },
        }
    }
    drop(listener);
    tokio::time::timeout(grace, graceful.shutdown()).await.is_ok()
}

async fn next(listener: &TcpListener, places: &Arc<Semaphore>) -> std::io::Result<(TcpStream, OwnedSemaphorePermit)> {
    let place = Arc::clone(places).acquire_owned().await.map_err(std::io::Error::other)?;
    Ok((listener.accept().await?.0, place))
}

fn start(stream: TcpStream, place: OwnedSemaphorePermit, router: &Router, graceful: &GracefulShutdown) {
    // small answers are not held back to be sent together; a socket that cannot do so still works
    let _ = stream.set_nodelay(true);
    let service = TowerToHyperService::new(router.clone());
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD_TIME)
        .serve_connection(TokioIo::new(stream), service);
    let watched = graceful.watch(connection);
    tokio::spawn(async move {
        let _place = place;
        if let Err(e) = watched.await {
            tracing::debug!(fault = %e, "connection");
        }
    });
}
