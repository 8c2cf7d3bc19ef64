//! `berth make`: one request through the same router, without a socket.

use super::Exit;
use super::args::MakeArgs;
use super::print;
use crate::router;
use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use axum::response::Response;
use http_body_util::BodyExt;
use std::io::{Read, Write};
use std::path::Path;
use std::time::{Duration, Instant};
use tower::ServiceExt;

/// Whoever waits longer than this is told that it goes on.
const TELL_AFTER: Duration = Duration::from_secs(1);

/// Makes what the file asks for and tells what came of it.
pub fn make(args: &MakeArgs) -> Exit {
    let spec = match read(&args.spec) {
        Ok(spec) => spec,
        Err(e) => return print::fault(Exit::Unreadable, &format!("{}: {e}", args.spec.display())),
    };
    let request = Request::post("/v1/holders")
        .header(header::CONTENT_TYPE, "application/json")
        .header(header::ACCEPT, &args.accept)
        .body(Body::from(spec));
    let Ok(request) = request else { return print::fault(Exit::Unreadable, "--accept: not a media type") };
    let Ok(runtime) = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build() else {
        return print::fault(Exit::Broken, "no threads to compute with");
    };
    let asked = router::fresh(args.settings()).oneshot(request);
    let Ok((response, body)) = runtime.block_on(async {
        let response = told(asked).await.unwrap_or_else(|never| match never {});
        let (head, body) = response.into_parts();
        body.collect().await.map(|b| (Response::from_parts(head, ()), b.to_bytes()))
    }) else {
        return print::fault(Exit::Broken, "the answer broke off");
    };
    if response.status() != StatusCode::OK {
        return print::problem(&response, &body);
    }
    if let Some(out) = &args.output
        && let Err(e) = write_aside(out, &body)
    {
        return print::fault(Exit::CannotWrite, &format!("{}: {e}", out.display()));
    }
    print::made(&response, args.output.as_deref(), body.len())
}

fn read(path: &Path) -> std::io::Result<Vec<u8>> {
    if path == Path::new("-") {
        let mut all = vec![];
        std::io::stdin().lock().read_to_end(&mut all)?;
        return Ok(all);
    }
    std::fs::read(path)
}

/// Waits; after the first second a line says each second how long it has taken.
async fn told<F: Future>(work: F) -> F::Output {
    let began = Instant::now();
    tokio::pin!(work);
    loop {
        tokio::select! {
            done = &mut work => return done,
            () = tokio::time::sleep(TELL_AFTER) => {
                let _ = writeln!(std::io::stderr(), "computing, {:.0} s", began.elapsed().as_secs_f64());
            }
        }
    }
}

/// Writes beside the place and then renames: nobody ever finds half a package.
fn write_aside(out: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let name = out.file_name().ok_or_else(|| std::io::Error::other("not a file's name"))?;
    let aside = out.with_file_name(format!(".{}.{}.part", name.to_string_lossy(), std::process::id()));
    let written = std::fs::File::create_new(&aside).and_then(|mut f| {
        f.write_all(bytes)?;
        f.sync_all()
    });
    let done = written.and_then(|()| std::fs::rename(&aside, out));
    if done.is_err() {
        let _ = std::fs::remove_file(&aside);
    }
    done
}
