"""A plain static host that counts what it sends and can be as slow as a given line."""

from __future__ import annotations

import threading
import time
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

# Bytes handed over at a time when the line has a speed.
PORTION = 1 << 14


class Host:
    """Serves a folder without compression of its own; ``with`` starts and stops it.

    ``line`` is the speed of the line in Mbit/s, shared by all connections; None for as fast
    as it goes. Pages are asked for again at every visit, everything else is kept.
    """

    def __init__(self, folder: Path) -> None:
        self.line: float | None = None
        self.bytes = 0
        self.requests = 0
        self._free_at = 0.0
        self._lock = threading.Lock()
        handler = partial(_Handler, directory=str(folder), host=self)
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
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
        super().do_GET()

    def end_headers(self) -> None:
        page = self.path.endswith(("/", ".html"))
        keep = "no-cache" if page else "public, max-age=31536000, immutable"
        self.send_header("Cache-Control", keep)
        super().end_headers()

    def copyfile(self, source: Any, outputfile: Any) -> None:
        while portion := source.read(PORTION):
            self._host.passed(len(portion))
            outputfile.write(portion)

    def log_message(self, *_: Any) -> None:
        """Say nothing."""
