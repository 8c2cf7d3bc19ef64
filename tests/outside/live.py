"""The service over real sockets: overload, clients that leave, a slow client, and a graceful stop.

live.py BINARY starts its own service on a free port of this machine and stops it. All counts are bounded.
"""

import http.client
import json
import signal
import socket
import subprocess
import sys
import threading
import time


def free_port():
    """A port that nobody listens on."""
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


def heavy():
    """A spec that takes a while: twelve racks of fifty cells, and a longer search for sheets."""
    racks = range(12)
    return json.dumps({
        "name": "Light cells",
        "space": {"kind": "free", "width_mm": 3000, "depth_mm": 300, "height_mm": 200},
        "stocks": [{"id": "A", "material": "birch-ply-3", "readings_mm": [3.08, 3.12, 3.05], "kerf_mm": 0.18}],
        "things": [{"id": f"cells {i}", "count": 50, "shape": {"kind": "can", "diameter_mm": 14.5, "overall_mm": 50.5}} for i in racks],
        "holders": [{"family": "deck-rack", "things": [f"cells {i}"], "depth_mm": 200} for i in racks],
        "effort": "normal",
    })


def post(port, body, timeout=60):
    """Status, headers and seconds of one request."""
    start = time.monotonic()
    c = http.client.HTTPConnection("127.0.0.1", port, timeout=timeout)
    c.request("POST", "/v1/holders", body, {"Content-Type": "application/json"})
    r = c.getresponse()
    r.read()
    return r.status, dict((k.lower(), v) for k, v in r.getheaders()), time.monotonic() - start


def get(port, path):
    """Status of a path."""
    c = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    c.request("GET", path)
    return c.getresponse().status


def together(n, work):
    """Runs the work n times at once and gives all results."""
    results = []
    threads = [threading.Thread(target=lambda: results.append(work())) for _ in range(n)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    return results


def main(binary):
    port = free_port()
    server = subprocess.Popen(
        [binary, "serve", "--listen", f"127.0.0.1:{port}", "--jobs", "1", "--queue", "1"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    passed, failed = 0, 0

    def check(name, good, seen):
        nonlocal passed, failed
        passed, failed = passed + bool(good), failed + (not good)
        print(("ok   " if good else "FAIL ") + name + ("" if good else f": {seen}"))

    try:
        for _ in range(100):
            try:
                if get(port, "/livez") == 200:
                    break
            except OSError:
                time.sleep(0.1)
        check("ready once it listens", get(port, "/readyz") == 200, "not 200")
        body = heavy()
        answers = together(8, lambda: post(port, body))
        served = [a for a in answers if a[0] == 200]
        refused = [a for a in answers if a[0] == 503]
        check("under overload some are served", 1 <= len(served) <= 7, [a[0] for a in answers])
        check("the rest are told to come back", len(served) + len(refused) == 8 and refused, [a[0] for a in answers])
        check("with Retry-After", all("retry-after" in a[1] for a in refused), [a[1] for a in refused])
        slowest_no, slowest_yes = max(a[2] for a in refused), max(a[2] for a in served)
        check("a no comes sooner than a yes", slowest_no < slowest_yes, (slowest_no, slowest_yes))

        # a client that leaves frees its place
        for _ in range(3):
            s = socket.create_connection(("127.0.0.1", port))
            s.sendall(f"POST /v1/holders HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n{body}".encode())
            time.sleep(0.05)
            s.close()
        time.sleep(1.0)
        check("after clients left it serves again", post(port, body)[0] == 200, "not 200")

        # a client that never finishes its request does not keep others waiting
        slow = socket.create_connection(("127.0.0.1", port))
        slow.sendall(b"POST /v1/holders HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{")
        check("beside a slow client it serves", get(port, "/livez") == 200 and post(port, body)[0] == 200, "not 200")
        slow.close()

        # a stop lets the running request finish
        late = []
        t = threading.Thread(target=lambda: late.append(post(port, body)))
        t.start()
        time.sleep(0.15)
        server.send_signal(signal.SIGTERM)
        t.join()
        check("a running request is finished at a stop", late and late[0][0] == 200, late)
        code = server.wait(timeout=30)
        check("then it ends with 0", code == 0, code)
    finally:
        if server.poll() is None:
            server.kill()
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
