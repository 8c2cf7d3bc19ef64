// Validates GLB files, or the model.glb of packages (ZIP), against glTF 2.0.
//   node validate.mjs FILE.glb|PACKAGE.zip ...
// Prints one line a file; exits 1 if any has an error, 2 if one cannot be opened.
import { readFileSync } from "node:fs";
import { inflateRawSync } from "node:zlib";
import validator from "gltf-validator";

const END_OF_DIRECTORY = 0x06054b50;
const DIRECTORY_ENTRY = 0x02014b50;

/** One stored or deflated file out of a ZIP, by its central directory (APPNOTE 4.3.12 and 4.3.16). */
function fromZip(zip, wanted) {
  let end = zip.length - 22;
  while (end >= 0 && zip.readUInt32LE(end) !== END_OF_DIRECTORY) end -= 1;
  if (end < 0) throw new Error("no ZIP");
  let at = zip.readUInt32LE(end + 16);
  for (let left = zip.readUInt16LE(end + 10); left > 0; left -= 1) {
    if (zip.readUInt32LE(at) !== DIRECTORY_ENTRY) throw new Error("broken ZIP directory");
    const [method, size] = [zip.readUInt16LE(at + 10), zip.readUInt32LE(at + 20)];
    const [name, extra, note] = [28, 30, 32].map((k) => zip.readUInt16LE(at + k));
    if (zip.toString("utf8", at + 46, at + 46 + name) === wanted) {
      const local = zip.readUInt32LE(at + 42);
      const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
      const body = zip.subarray(start, start + size);
      return method === 0 ? body : inflateRawSync(body);
    }
    at += 46 + name + extra + note;
  }
  throw new Error(`no ${wanted} in the ZIP`);
}

let failed = 0;
for (const path of process.argv.slice(2)) {
  try {
    const bytes = readFileSync(path);
    const model = path.endsWith(".zip") ? fromZip(bytes, "model.glb") : bytes;
    const { issues } = await validator.validateBytes(new Uint8Array(model), { format: "glb", maxIssues: 20 });
    const bad = issues.messages.filter((m) => m.severity <= 1);
    const said = bad.map((m) => `${m.code} ${m.pointer ?? ""}`).join("; ");
    console.log(`${issues.numErrors ? "FAIL" : "ok  "} ${path}: ${issues.numErrors} errors, ${issues.numWarnings} warnings ${said}`);
    if (issues.numErrors) failed = Math.max(failed, 1);
  } catch (error) {
    console.log(`FAIL ${path}: ${error.message ?? error}`);
    failed = 2;
  }
}
process.exit(failed);
