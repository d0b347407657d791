"""A real nginx under the very configuration that the handbook's page on publishing shows."""

from __future__ import annotations

import os
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs/reference/publishing.md"
SUBPATH = "/shop/handbook/"
PATIENCE_S = 20

# One process, as whoever runs the tests, with all it writes in a folder of its own.
AROUND = """\
daemon off; master_process off; pid {place}/pid; error_log {place}/error.log;
events {{ worker_connections 256; }}
http {{
  access_log off;
  client_body_temp_path {place}/1; proxy_temp_path {place}/2; fastcgi_temp_path {place}/3;
  uwsgi_temp_path {place}/4; scgi_temp_path {place}/5;
  {server}
}}
"""


def shown(title: str) -> str:
    """The code block with this title on the page."""
    lines = PAGE.read_text("utf-8").splitlines()
    (start,) = [at for at, line in enumerate(lines) if f'title="{title}"' in line]
    return "\n".join(lines[start + 1 : lines.index("```", start)])


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Nginx:
    """A folder served by nginx under the sub-path; can be stopped and started again.

    ``change`` may add to the server block what else the page shows."""

    def __init__(self, folder: Path, change: Callable[[str], str] = lambda server: server) -> None:
        self.change = change
        self.program = shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin")
        if self.program is None:
            raise RuntimeError("the browser tests serve the handbook with nginx: install nginx")
        self.folder = folder
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}{SUBPATH}"
        self.place = Path(tempfile.mkdtemp(prefix="nginx-"))
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Serve; returns when it answers."""
        server = shown("handbook.conf")
        for text, own in {
            "listen 80;": f"listen 127.0.0.1:{self.port};",
            "alias /srv/handbook/;": f"alias {self.folder}/;",
        }.items():
            assert server.count(text) == 1, text
            server = server.replace(text, own)
        server = self.change(server)
        config = self.place / "nginx.conf"
        config.write_text(AROUND.format(place=self.place, server=server), "utf-8")
        self.process = subprocess.Popen(
            [str(self.program), "-e", f"{self.place}/error.log", "-c", str(config)],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env={**os.environ},
        )  # fmt: skip
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until and self.process.poll() is None:
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", self.port)) == 0:
                    return
            time.sleep(0.02)
        raise RuntimeError(f"nginx did not start: {(self.place / 'error.log').read_text('utf-8')}")

    def stop(self) -> None:
        """Be gone, as a server is that nobody reaches."""
        if self.process is not None:
            self.process.kill()
            self.process.wait(PATIENCE_S)
            self.process = None

    def hang(self) -> None:
        """Take connections and say nothing, as an overloaded server does; ``stop`` ends it."""
        assert self.process is not None
        self.process.send_signal(signal.SIGSTOP)

    def close(self) -> None:
        """Stop for good and leave nothing behind."""
        self.stop()
        shutil.rmtree(self.place, ignore_errors=True)
