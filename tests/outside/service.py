"""A small client of a running service: families, materials, and one request at a time."""

import json
import time
import urllib.error
import urllib.request

from faults import Verdict
from read import check_finding

TIMEOUT_S = 60
# An overloaded service says when to come back; this often it is asked again.
RETRIES = 20


class Service:
    """One running service at a base address."""

    def __init__(self, base):
        self.base = base.rstrip("/")

    def get(self, path):
        """A JSON resource."""
        with urllib.request.urlopen(self.base + path, timeout=TIMEOUT_S) as answer:
            return json.load(answer)

    def listing(self, path, key):
        """A list of objects, bare or under its key."""
        value = self.get(path)
        return value[key] if isinstance(value, dict) else value

    def families(self) -> list:
        """All families with their schema, ranges and example."""
        return self.listing("/v1/families", "families")

    def materials(self) -> list:
        """The closed list of materials."""
        return self.listing("/v1/materials", "materials")

    def make(self, spec):
        """Posts a request: (status, content type, body). Waits while the service is busy."""
        request = urllib.request.Request(
            self.base + "/v1/holders", data=json.dumps(spec).encode(), method="POST",
            headers={"Content-Type": "application/json", "Accept": "application/zip"})
        for _ in range(RETRIES):
            try:
                with urllib.request.urlopen(request, timeout=TIMEOUT_S) as answer:
                    return answer.status, answer.headers.get_content_type(), answer.read()
            except urllib.error.HTTPError as error:
                if error.code != 503:
                    return error.code, error.headers.get_content_type(), error.read()
                time.sleep(float(error.headers.get("Retry-After") or 1))
        return 503, "", b""


def judge_refusal(name, kind, body) -> Verdict:
    """A refusal is problem+json (RFC 9457) with findings, one of them a refusal with its numbers."""
    verdict = Verdict(name)
    if kind != "application/problem+json":
        verdict.add("refusal", name, kind, "application/problem+json")
    try:
        problem = json.loads(body)
    except ValueError:
        verdict.add("refusal", name, "no JSON", "a problem document")
        return verdict
    if not isinstance(problem, dict):
        verdict.add("refusal", name, type(problem).__name__, "an object")
        return verdict
    if problem.get("status") != 422 or not isinstance(problem.get("title"), str):
        verdict.add("refusal", name, str(problem.get("status")), "status 422 and a title")
    findings = problem.get("findings")
    if not isinstance(findings, list) or not findings:
        verdict.add("refusal", name, "no findings", "at least one")
        return verdict
    for i, finding in enumerate(findings):
        check_finding(finding, f"{name} /findings/{i}", verdict)
    if not any(isinstance(f, dict) and f.get("verdict") == "refuse" for f in findings):
        verdict.add("refusal", name, "nothing refused", "a finding with verdict refuse")
    return verdict
