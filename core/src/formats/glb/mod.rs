//! `model.glb`: the holders with their things in them, glTF 2.0 binary: metres, +Y up, right-handed.
//!
//! Node tree: a root that turns z-up into Y-up, a node a holder, a node a part and a thing. Each leaf
//! stands at its placement and says in `extras` what it is. Container: glTF 2.0, section 4.4.

mod mesh;
mod scene;
#[cfg(test)]
mod tests;

use super::{File, PackageFault};
use crate::made::Made;

const PATH: &str = "model.glb";
/// "glTF", "JSON" and "BIN" as little-endian words (glTF 2.0, section 4.4).
const MAGIC: u32 = 0x4654_6C67;
const JSON: u32 = 0x4E4F_534A;
const BIN: u32 = 0x004E_4942;

/// One file.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    Ok(vec![(PATH.to_owned(), bytes(made)?)])
}

/// The file's bytes.
pub fn bytes(made: &Made) -> Result<Vec<u8>, PackageFault> {
    let (root, mut binary) = scene::of(made)?;
    let mut json = gltf_json::serialize::to_vec(&root).map_err(|e| PackageFault::of(PATH, e))?;
    // chunks end on whole words: JSON is filled with blanks, binary with zeros
    pad(&mut json, b' ');
    pad(&mut binary, 0);
    let whole = 12 + 8 + json.len() + 8 + binary.len();
    let mut out = Vec::with_capacity(whole);
    let word = |out: &mut Vec<u8>, v: u32| out.extend(v.to_le_bytes());
    let size = |n: usize| u32::try_from(n).map_err(|_| PackageFault::of(PATH, "the model is larger than 4 GB"));
    for v in [MAGIC, 2, size(whole)?, size(json.len())?, JSON] {
        word(&mut out, v);
    }
    out.extend(&json);
    for v in [size(binary.len())?, BIN] {
        word(&mut out, v);
    }
    out.extend(&binary);
    Ok(out)
}

fn pad(bytes: &mut Vec<u8>, with: u8) {
    while !bytes.len().is_multiple_of(4) {
        bytes.push(with);
    }
}
