//! `berth serve`: the runtime, the log, and the service.

use super::Exit;
use super::args::ServeArgs;
use crate::serve::serve as run_service;
use std::time::Duration;
use tracing_subscriber::EnvFilter;

/// Computing threads get more stack than the usual 2 MiB: boolean operations recurse.
const STACK_BYTES: usize = 8 << 20;

/// Work that is still at it after the grace is left behind.
const LEAVE_AFTER: Duration = Duration::from_millis(200);

/// Serves until told to stop.
pub fn serve(args: ServeArgs) -> Exit {
    let filter = EnvFilter::try_from_env("BERTH_LOG").unwrap_or_else(|_| EnvFilter::new("info"));
    tracing_subscriber::fmt().json().flatten_event(true).with_env_filter(filter).with_writer(std::io::stderr).init();
    let runtime = match tokio::runtime::Builder::new_multi_thread().enable_all().thread_stack_size(STACK_BYTES).build()
    {
        Ok(r) => r,
        Err(e) => {
            tracing::error!(fault = %e, "no runtime");
            return Exit::Broken;
        }
    };
    let ended = runtime.block_on(run_service(args.settings(), args.socket()));
    runtime.shutdown_timeout(LEAVE_AFTER);
    match ended {
        Ok(()) => Exit::Done,
        Err(e) => {
            tracing::error!(fault = %e, listen = %args.listen, "cannot listen");
            Exit::CannotWrite
        }
    }
}
