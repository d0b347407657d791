"""The parts of the bench that figures rest on; how long anything takes is not tested."""

from __future__ import annotations

import gzip
import http.client
import time
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest

from bench import invented
from bench.entries import latencies
from bench.figures import ratio, share, summary
from bench.host import TOLD, Host
from bench.variants import ROOT
from witnessmark.calc import evaluate
from witnessmark.collection import load_collection


def test_shares_and_medians() -> None:
    """Nearest rank, as ISO 3534-1 and Hyndman and Fan's first definition have it (from memory)."""
    values = [float(each) for each in range(1, 21)]
    assert share(values, 0.5) == 10
    assert share(values, 0.95) == 19
    assert share([7.0], 0.95) == 7
    assert summary([3.0, 1.0, 2.0]) == {"median": 2.0, "least": 1.0, "most": 3.0, "repeats": 3}
    assert ratio([1.0, 2.0, 4.0], [3.0, 4.0, 20.0])["median"] == 3


def _get(url: str) -> tuple[http.client.HTTPResponse, bytes]:
    address = urlsplit(url)
    connection = http.client.HTTPConnection(address.netloc, timeout=30)
    connection.request("GET", address.path, headers={"Accept-Encoding": "gzip"})
    answer = connection.getresponse()
    return answer, answer.read()


def test_the_host_counts_what_it_sends_and_compresses_nothing(tmp_path: Path) -> None:
    """Bytes are those of the file; a page is asked for anew, the rest is kept."""
    (tmp_path / "index.html").write_bytes(b"<p>" + b"x" * 50_000)
    (tmp_path / "module.wasm").write_bytes(b"\0" * 70_000)
    with Host(tmp_path) as host:
        page, text = _get(host.url)
        module, content = _get(f"{host.url}module.wasm")
        assert (host.bytes, host.requests) == (120_003, 2)
    assert len(text) == 50_003
    assert len(content) == 70_000
    assert page.headers["Content-Encoding"] is None
    assert page.headers["Cache-Control"] == "no-cache"
    assert "immutable" in module.headers["Cache-Control"]
    assert module.headers["Content-Type"] == "application/wasm"


def test_the_host_compresses_for_everybody_when_it_is_told_to(tmp_path: Path) -> None:
    """Texts and modules go out as gzip where a browser takes it; what is compressed stays."""
    (tmp_path / "index.html").write_bytes(b"<p>" + b"x" * 50_000)
    (tmp_path / "image.zst").write_bytes(b"\0" * 50_000)
    with Host(tmp_path) as host:
        host.compress = True
        page, text = _get(host.url)
        image, content = _get(f"{host.url}image.zst")
        assert host.bytes == len(text) + 50_000
    assert page.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(text) == b"<p>" + b"x" * 50_000
    assert image.headers["Content-Encoding"] is None
    assert len(content) == 50_000


def test_what_watches_a_page_is_not_counted(tmp_path: Path) -> None:
    """A script goes into the page; what it sends is handed over."""
    html = b'<!doctype html><meta charset="utf-8"><p>x'
    (tmp_path / "index.html").write_bytes(html)
    with Host(tmp_path) as host:
        host.watcher = "watch()"
        _, text = _get(host.url)
        assert host.bytes == len(html)
        address = urlsplit(host.url)
        connection = http.client.HTTPConnection(address.netloc, timeout=30)
        connection.request("POST", TOLD, body="420.5")
        assert connection.getresponse().status == 204
        assert host.told.get(timeout=5) == "420.5"
    assert text == b'<!doctype html><meta charset="utf-8"><script>watch()</script><p>x'


def test_a_slow_line_takes_as_long_as_its_speed_says(tmp_path: Path) -> None:
    """A quarter of a megabyte at 8 Mbit/s takes no less than a quarter of a second."""
    (tmp_path / "file.bin").write_bytes(b"\0" * 250_000)
    with Host(tmp_path) as host:
        host.line = 8.0
        begun = time.monotonic()
        _get(f"{host.url}file.bin")
        assert time.monotonic() - begun >= 0.24


def test_invented_handbooks_use_calculators_that_are_there() -> None:
    """Each of them gives results with its own entries."""
    known = load_collection(ROOT / "calculators").calculators
    assert len(set(invented.CALCULATORS)) == 3
    assert all(evaluate(known[name], {})["complete"] for name in invented.CALCULATORS)


def test_entries_of_a_calculator_that_has_no_page_are_refused(tmp_path: Path) -> None:
    """A slip in a name is told before a browser starts."""
    page = tmp_path / "reference/calculators/lever/index.html"
    page.parent.mkdir(parents=True)
    page.write_text("<wm-calculator>", "utf-8")
    nothing: Any = None
    with pytest.raises(KeyError, match="levre"):
        latencies(nothing, nothing, tmp_path, 1, ["lever", "levre"])
