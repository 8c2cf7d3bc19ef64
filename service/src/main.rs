//! The one binary.

fn main() -> std::process::ExitCode {
    berth_service::cli::run(std::env::args_os())
}
