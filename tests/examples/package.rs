//! Makes packages for an outside judge.
//!
//! `cargo run --release -p berth-tests --example package -- OUT_DIR [REQUEST.json ...]`
//! With no request, each family's example is made. A refusal writes its findings beside the package's place.

use std::path::Path;

use berth_core::job::{Limits, read};
use berth_core::make::{Answer, make};
use berth_core::{families, formats};
use serde_json::Value;

type Outcome<T> = Result<T, Box<dyn std::error::Error>>;

fn one(folder: &Path, name: &str, request: Value) -> Outcome<()> {
    let request = read(request).map_err(|(at, why)| format!("{name}: {at}: {why}"))?;
    match make(&request, &Limits::default(), &|| false) {
        Answer::Made(made) => std::fs::write(folder.join(format!("{name}.zip")), formats::package(&made)?)?,
        Answer::Refused(refused) => {
            std::fs::write(folder.join(format!("{name}.refused.json")), serde_json::to_vec_pretty(&refused.findings)?)?;
        }
        Answer::Stopped => return Err(format!("{name}: stopped").into()),
    }
    Ok(())
}

fn main() -> Outcome<()> {
    let mut args = std::env::args().skip(1);
    let folder = args.next().ok_or("OUT_DIR [REQUEST.json ...]")?;
    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder)?;
    let requests: Vec<String> = args.collect();
    for path in &requests {
        let name = Path::new(path).file_stem().and_then(|s| s.to_str()).unwrap_or("package").to_owned();
        one(folder, &name, serde_json::from_slice(&std::fs::read(path)?)?)?;
    }
    if requests.is_empty() {
        for about in families::ALL {
            one(folder, about.tag, (about.example)())?;
        }
    }
    Ok(())
}
