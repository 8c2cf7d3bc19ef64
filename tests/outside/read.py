"""Opens a package, distrusting it: names, sizes, checksums, and the JSON files' shapes."""

import io
import json
import re
import zipfile
from dataclasses import dataclass, field

FORMAT = "berth-assembly/1"
# More than any holder needs; a larger archive is refused before it is unpacked.
MAX_BYTES = 256 * 1024 * 1024
REQUIRED = ("assembly.json", "bill.csv", "bill.json", "cautions.txt", "model.glb", "plan.svg", "report.json", "spec.json")
SAFE_NAME = re.compile(r"^[A-Za-z0-9._-]+(/[A-Za-z0-9._-]+)*$")
KINDS = ("corner", "tab", "hook", "lap", "rest")


@dataclass
class Package:
    """The unpacked package: files by name, and the two JSON files that the judge reads."""

    name: str
    files: dict = field(default_factory=dict)
    assembly: dict = field(default_factory=dict)
    report: dict = field(default_factory=dict)

    def matching(self, pattern):
        """The names that match, sorted."""
        return sorted(n for n in self.files if re.fullmatch(pattern, n))


def read_package(name: str, data: bytes, verdict) -> Package | None:
    """Unpacks and checks the outer form. None if nothing further can be judged."""
    package = Package(name)
    try:
        archive = zipfile.ZipFile(io.BytesIO(data))
        broken = archive.testzip()
    except (zipfile.BadZipFile, ValueError, EOFError, NotImplementedError) as error:
        verdict.add("zip", name, type(error).__name__, "a readable ZIP", str(error)[:120])
        return None
    if broken:
        verdict.add("zip", broken, "checksum differs", "the stored CRC-32")
        return None
    check_entries(archive.infolist(), verdict)
    if sum(i.file_size for i in archive.infolist()) > MAX_BYTES:
        verdict.add("zip", name, "too large", f"<= {MAX_BYTES} bytes unpacked")
        return None
    for info in archive.infolist():
        package.files[info.filename] = archive.read(info)
    for want in REQUIRED:
        if want not in package.files:
            verdict.add("missing-file", want, "absent", "in the package")
    package.assembly = load(package, "assembly.json", verdict)
    package.report = load(package, "report.json", verdict)
    check_report(package.report, verdict)
    return package if check_assembly(package.assembly, verdict) else None


def check_entries(infos, verdict):
    """Names safe on every system, sorted, each once; one fixed time stamp."""
    names = [i.filename for i in infos]
    for info in infos:
        parts = info.filename.split("/")
        if not SAFE_NAME.match(info.filename) or any(p.startswith(".") or p.endswith(".") for p in parts):
            verdict.add("unsafe-name", repr(info.filename), "unsafe", "letters, digits, . _ - and inner /")
    if len({n.lower() for n in names}) != len(names):
        verdict.add("zip", "names", "a name twice", "each name once, whatever its case")
    if names != sorted(names):
        verdict.add("zip", "names", "unsorted", "sorted names")
    if len({i.date_time for i in infos}) > 1:
        verdict.add("zip", "time stamps", "differ", "one fixed time stamp")


def load(package, name, verdict) -> dict:
    """One JSON object out of the package, or {} with a fault."""
    def no_constant(text):
        raise ValueError(f"{text} is not JSON")

    try:
        value = json.loads(package.files.get(name, b"{}"), parse_constant=no_constant)
    except (ValueError, UnicodeDecodeError) as error:
        verdict.add("json", name, "unreadable", "JSON", str(error)[:120])
        return {}
    if not isinstance(value, dict):
        verdict.add("json", name, type(value).__name__, "an object")
        return {}
    return value


def check_report(report, verdict):
    """A package is sent with ok or warn; a refusal never comes as a package."""
    if report.get("verdict") not in ("ok", "warn"):
        verdict.add("report", "/verdict", str(report.get("verdict")), "ok or warn")
    if not isinstance(report.get("findings", []), list):
        verdict.add("report", "/findings", "no list", "a list")
        return
    for i, finding in enumerate(report.get("findings", [])):
        check_finding(finding, f"report.json /findings/{i}", verdict)
        if isinstance(finding, dict) and finding.get("verdict") == "refuse":
            verdict.add("report", f"/findings/{i}", "refuse", "no refusal inside a package")


def check_finding(finding, where, verdict):
    """A finding says code, verdict, where, why, and by how much: at least one number in have or need."""
    if not isinstance(finding, dict):
        verdict.add("finding", where, type(finding).__name__, "an object")
        return
    for key in ("code", "verdict", "where", "why"):
        if not isinstance(finding.get(key), str) or not finding[key]:
            verdict.add("finding", f"{where}/{key}", str(finding.get(key)), "text")
    if finding.get("verdict") == "refuse" and not has_number([finding.get("have"), finding.get("need")]):
        verdict.add("finding", where, finding.get("code", "?"), "a number in have or need")


def has_number(value) -> bool:
    """Whether a number stands anywhere in the value."""
    if isinstance(value, bool):
        return False
    if isinstance(value, (int, float)):
        return True
    if isinstance(value, dict):
        return any(has_number(v) for v in value.values())
    return isinstance(value, list) and any(has_number(v) for v in value)


def check_assembly(assembly, verdict) -> bool:
    """The shape of assembly.json. False if the parts cannot be put together from it."""
    before = len(verdict.faults)
    if assembly.get("format") != FORMAT:
        verdict.add("assembly", "/format", str(assembly.get("format")), FORMAT)
    if assembly.get("unit") != "mm":
        verdict.add("assembly", "/unit", str(assembly.get("unit")), "mm")
    parts = assembly.get("parts")
    if not isinstance(parts, list) or not parts:
        verdict.add("assembly", "/parts", "none", "at least one part")
        return False
    codes = [p.get("code") for p in parts if isinstance(p, dict)]
    if len(set(codes)) != len(parts):
        verdict.add("assembly", "/parts", "a code twice or missing", "each code once")
    for i, part in enumerate(parts):
        check_part(part, f"/parts/{i}", verdict)
    for i, joint in enumerate(assembly.get("joints", [])):
        check_joint(joint, f"/joints/{i}", codes, verdict)
    for i, thing in enumerate(assembly.get("things", [])):
        if not is_placement(thing.get("placement")) or not isinstance(thing.get("shape"), dict):
            verdict.add("assembly", f"/things/{i}", "shape or placement missing", "both")
    return len(verdict.faults) == before


def check_part(part, where, verdict):
    """The fields without which a part cannot be placed."""
    for key in ("code", "file", "material"):
        if not isinstance(part.get(key), str):
            verdict.add("assembly", f"{where}/{key}", str(part.get(key)), "text")
    for key, least in (("thickness_mm", 0.2), ("kerf_mm", 0.0)):
        value = part.get(key)
        if not isinstance(value, (int, float)) or value < least:
            verdict.add("assembly", f"{where}/{key}", str(value), f"a number >= {least}")
    if not is_placement(part.get("placement")):
        verdict.add("assembly", f"{where}/placement", "no placement", "16 numbers, row-major 4x4")


def is_placement(value) -> bool:
    """Whether the value is a list of 16 numbers."""
    return isinstance(value, list) and len(value) == 16 and all(
        isinstance(v, (int, float)) and not isinstance(v, bool) for v in value)


def check_joint(joint, where, codes, verdict):
    """A joint names its kind, two parts of the list, and its fit."""
    if joint.get("kind") not in KINDS:
        verdict.add("assembly", f"{where}/kind", str(joint.get("kind")), " or ".join(KINDS))
    for key in ("a", "b"):
        if joint.get(key) not in codes:
            verdict.add("assembly", f"{where}/{key}", str(joint.get(key)), "a part's code")
    if not isinstance(joint.get("fit_mm"), (int, float)):
        verdict.add("assembly", f"{where}/fit_mm", str(joint.get("fit_mm")), "a number")
