//! What can be typed.

use crate::app::Settings;
use crate::serve::Socket;
use axum::http::HeaderValue;
use clap::{Args, Parser, Subcommand};
use std::net::SocketAddr;
use std::path::PathBuf;
use std::time::Duration;

/// Measures of things and of a space in, cut-ready and proven holders out.
#[derive(Debug, Parser)]
#[command(name = "berth", version, disable_help_subcommand = true)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What can be done.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Serve over HTTP.
    Serve(ServeArgs),
    /// Make one request from a file: exit 0 made, 2 refused, 3 unreadable, 4 cannot write, 5 out of time, 1 our fault.
    Make(MakeArgs),
    /// Print the OpenAPI document.
    Openapi,
    /// Print a request that works; without a name, the names.
    Example(ExampleArgs),
}

/// Which example.
#[derive(Args, Debug)]
pub struct ExampleArgs {
    /// Its name.
    pub name: Option<String>,
}

/// How to serve.
#[derive(Args, Debug)]
pub struct ServeArgs {
    /// Address and port.
    #[arg(long, default_value = "127.0.0.1:8080")]
    pub listen: SocketAddr,
    /// Seconds from a request's arrival to its answer; 504 beyond.
    #[arg(long, default_value_t = 30.0)]
    pub deadline_s: f64,
    /// Requests computed at the same time [default: the number of cores].
    #[arg(long)]
    pub jobs: Option<usize>,
    /// Requests that may wait for one of those; 503 beyond.
    #[arg(long, default_value_t = Settings::default().queue)]
    pub queue: usize,
    /// Largest body, bytes; 413 beyond.
    #[arg(long, default_value_t = Settings::default().max_body_bytes)]
    pub max_body: usize,
    /// Largest body that carries a package, bytes; 413 beyond.
    #[arg(long, default_value_t = Settings::default().max_package_bytes)]
    pub max_package: usize,
    /// An origin that browsers may call from, or `*`; may be given several times.
    #[arg(long)]
    pub allow_origin: Vec<HeaderValue>,
    /// Seconds for which requests are still taken after SIGTERM, while /readyz says 503.
    #[arg(long, default_value_t = 0.0)]
    pub linger_s: f64,
    /// Seconds that running work then has to finish.
    #[arg(long, default_value_t = 30.0)]
    pub grace_s: f64,
}

/// What to make.
#[derive(Args, Debug)]
pub struct MakeArgs {
    /// The request, JSON; `-` for the standard input.
    pub spec: PathBuf,
    /// Where the package goes; left out, it is only looked at.
    #[arg(short, long)]
    pub output: Option<PathBuf>,
    /// Media type of what is written, as in HTTP.
    #[arg(long, default_value = "application/zip")]
    pub accept: String,
    /// Seconds that it may take.
    #[arg(long, default_value_t = 600.0)]
    pub deadline_s: f64,
}

/// Seconds as typed: never negative, never more than a day.
fn seconds(s: f64) -> Duration {
    Duration::from_secs_f64(if s.is_nan() { 0.0 } else { s.clamp(0.0, 86_400.0) })
}

impl ServeArgs {
    /// As settings.
    #[must_use]
    pub fn settings(&self) -> Settings {
        let usual = Settings::default();
        Settings {
            deadline: seconds(self.deadline_s),
            jobs: self.jobs.unwrap_or(usual.jobs).max(1),
            queue: self.queue,
            max_body_bytes: self.max_body,
            max_package_bytes: self.max_package,
            allow_origins: self.allow_origin.clone(),
            ..usual
        }
    }
    /// As a socket.
    #[must_use]
    pub fn socket(&self) -> Socket {
        Socket { listen: self.listen, linger: seconds(self.linger_s), grace: seconds(self.grace_s) }
    }
}

impl MakeArgs {
    /// As settings: one job, and nobody waits.
    #[must_use]
    pub fn settings(&self) -> Settings {
        Settings { deadline: seconds(self.deadline_s), jobs: 1, ..Settings::default() }
    }
}
