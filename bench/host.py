"""A static host that counts what it sends and can be as slow as a given line."""

from __future__ import annotations

import gzip
import io
import queue
import sys
import threading
import time
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

# Where the pages of the host tell what they have seen, and where one waits until all is quiet.
TOLD, WAIT = "/bench-told", "/bench-wait"
# A browser that has just been started is busy with itself.
SETTLE_MS = 2000
_WAIT_PAGE = f"""<!doctype html><meta charset="utf-8"><link rel="icon" href="data:,">
<script>setTimeout(() => {{ location.href = location.hash.slice(1); }}, {SETTLE_MS});</script>"""
_CHARSET = b'<meta charset="utf-8">'
# Bytes handed over at a time when the line has a speed.
PORTION = 1 << 14
# What hosts that compress compress; the rest is compressed already.
TEXTS = (".html", ".css", ".js", ".mjs", ".json", ".svg", ".wasm", ".xml")


class Host:
    """Serves a folder without compression of its own; ``with`` starts and stops it.

    ``line`` is the speed of the line in Mbit/s, shared by all connections; None for as fast
    as it goes. ``compress`` has texts and modules of WebAssembly sent as gzip, as most hosts can
    be told to; by itself the host compresses nothing. Pages are asked for again at every visit,
    everything else is kept.

    ``watcher`` is a script that goes into every page, uncounted; what it sends to ``TOLD`` is
    handed to ``told``. So no debugger has to look into the browser that is measured.
    """

    def __init__(self, folder: Path) -> None:
        self.line: float | None = None
        self.compress = False
        self.watcher = ""
        self.told: queue.SimpleQueue[str] = queue.SimpleQueue()
        self.bytes = 0
        self.requests = 0
        self._free_at = 0.0
        self._lock = threading.Lock()
        self._content: dict[str, tuple[bytes, int]] = {}
        handler = partial(_Handler, directory=str(folder), host=self)
        self._server = _Server(("127.0.0.1", 0), handler)
        self._server.daemon_threads = True
        self.url = f"http://127.0.0.1:{self._server.server_address[1]}/"

    def __enter__(self) -> Host:
        threading.Thread(target=self._server.serve_forever, daemon=True).start()
        return self

    def __exit__(self, *_: object) -> None:
        self._server.shutdown()
        self._server.server_close()

    def reset(self) -> None:
        """Count from nought."""
        self.bytes = self.requests = 0

    def passed(self, count: int) -> None:
        """Take note of bytes that are sent, when the line has room for them."""
        with self._lock:
            self.bytes += count
            if self.line is None:
                return
            now = time.monotonic()
            self._free_at = max(now, self._free_at) + count * 8 / (self.line * 1e6)
            wait = self._free_at - now
        time.sleep(max(0.0, wait))

    def content(self, path: Path, *, compress: bool) -> tuple[bytes, int]:
        """What is sent of a file, and how much of that counts; each is made once."""
        key = f"{compress} {bool(self.watcher)} {path}"
        if key not in self._content:
            data = path.read_bytes()
            whole = data
            if self.watcher and path.suffix == ".html":
                script = f"<script>{self.watcher}</script>".encode()
                whole = data.replace(_CHARSET, _CHARSET + script, 1)
            if compress:
                data, whole = (gzip.compress(each, 6, mtime=0) for each in (data, whole))
            self._content[key] = (whole, len(data))
        return self._content[key]


class _Server(ThreadingHTTPServer):
    def handle_error(self, *request: Any) -> None:
        """Say what went wrong, unless a browser was closed in the middle of a download."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(*request)


class _Handler(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    extensions_map = SimpleHTTPRequestHandler.extensions_map | {
        ".js": "text/javascript",
        ".mjs": "text/javascript",
        ".wasm": "application/wasm",
        ".gz": "application/gzip",
        ".whl": "application/zip",
    }

    def __init__(self, *args: Any, host: Host, **named: Any) -> None:
        self._host = host
        super().__init__(*args, **named)

    def do_GET(self) -> None:
        with self._host._lock:
            self._host.requests += 1
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if self.path.startswith(WAIT):
            self._send("text/html", _WAIT_PAGE.encode(), 0)
            self._host.reset()
            return
        accepted = "gzip" in self.headers.get("Accept-Encoding", "")
        compress = self._host.compress and accepted and path.name.endswith(TEXTS)
        if path.is_file() and (compress or (self._host.watcher and path.suffix == ".html")):
            content, counted = self._host.content(path, compress=compress)
            self._send(self.guess_type(path.name), content, counted, compress=compress)
            return
        super().do_GET()

    def do_POST(self) -> None:
        text = self.rfile.read(int(self.headers.get("Content-Length", 0))).decode()
        self.send_response(204)
        self.send_header("Content-Length", "0")
        self.end_headers()
        if self.path == TOLD:
            self._host.told.put(text)

    def _send(self, kind: str, content: bytes, counted: int, *, compress: bool = False) -> None:
        self.send_response(200)
        self.send_header("Content-Type", kind)
        if compress:
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        with self._host._lock:
            self._host.bytes -= len(content) - counted
        self.copyfile(io.BytesIO(content), self.wfile)

    def end_headers(self) -> None:
        page = self.path.endswith(("/", ".html")) or self.path in (TOLD, WAIT)
        keep = "no-cache" if page else "public, max-age=31536000, immutable"
        self.send_header("Cache-Control", keep)
        super().end_headers()

    def copyfile(self, source: Any, outputfile: Any) -> None:
        while portion := source.read(PORTION):
            self._host.passed(len(portion))
            outputfile.write(portion)

    def log_message(self, *_: Any) -> None:
        """Say nothing."""
