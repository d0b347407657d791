"""The copy for a folder: links name files, scripts hold what would be fetched."""

from __future__ import annotations

import base64
import gzip
import json
import re
from pathlib import Path

import pytest

from witnessmark.cli import main
from witnessmark.publish import PackError, pack_site, write_service_worker

FRONT = "assets/witnessmark/front-0123456789ab"
PAGE = """<!doctype html><html><head><meta name="witnessmark-offline" content="yes"></head><body>
<a href="../b/?q=1#part">b</a> <a href="../">start</a> <a href=".">here</a> <a href="#own">own</a>
<a href="https://else.example/b/">else</a> <a href="../plan.pdf">plan</a> <img src="../b/x.svg">
<script src="../bundle.js"></script>
<script src="../FRONT/main.js" type="module"></script></body></html>""".replace("FRONT", FRONT)
SITE = {
    "index.html": PAGE.replace("../", ""),
    "404.html": PAGE,
    "sw.js": "worker",
    "a/index.html": PAGE,
    "b/index.html": PAGE,
    "b/index.html.gz": "made for a server",
    "search/search_index.json": json.dumps(
        {"docs": [{"location": ""}, {"location": "a/#x"}, {"location": "b/"}]}
    ),
    "search/engines.json": '{"a/": "LG2", "a/#x": "LG3"}',
    "job-sheet/paper-codes.json": '{"a/": "<svg></svg>"}',
    f"{FRONT}/main.js": 'import { a } from "./other.js";',
    f"{FRONT}/other.js": "export const a = 1;",
    f"{FRONT}/wm.css": "p {}",
    "assets/witnessmark/runtime-0123456789ab/python.wasm": "\0asm",
    "assets/witnessmark/runtime-0123456789ab/image.bin.gz": "zipped already",
    "assets/witnessmark/runtime-0123456789ab/LICENSE.txt": "licence",
}


@pytest.fixture
def site(tmp_path: Path) -> Path:
    for uri, text in SITE.items():
        path = tmp_path / "site" / uri
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return tmp_path / "site"


def handed_over(out: Path) -> dict[str, bytes]:
    """The files that scripts of the folder hold, by name, as they were."""
    found = {}
    for path in out.glob("assets/witnessmark/folder-*/*.js"):
        call = re.fullmatch(r'keep\((".*?"), "(.*?)", (true|false), "(.*?)"\);\n', path.read_text())
        if call is not None:
            data = base64.b64decode(call[4])
            found[json.loads(call[1])] = gzip.decompress(data) if call[3] == "true" else data
    return found


def test_links_name_files_and_the_rest_stays(site, tmp_path):
    """Only a link to a folder of the site is changed, its question and place kept."""
    pack_site(site, tmp_path / "out")
    html = (tmp_path / "out/a/index.html").read_text("utf-8")
    assert re.findall(r'href="([^"]*)"', html) == [
        "../b/index.html?q=1#part", "../index.html", "./index.html", "#own",
        "https://else.example/b/", "../plan.pdf",
    ]  # fmt: skip
    assert 'src="../b/x.svg"' in html
    assert "witnessmark-offline" not in html
    assert "main.js" not in html
    head = html.split("</head>")[0]
    assert re.search(
        r'<script src="\.\./assets/witnessmark/folder-\w+/folder\.js"></script>$', head
    )


def test_scripts_hold_what_would_be_fetched_byte_for_byte(site, tmp_path):
    """Modules, runtime, engines' index and codes; each held once, and no longer there as files."""
    out = tmp_path / "out"
    pack_site(site, out)
    held = handed_over(out)
    assert set(held) == {
        f"{FRONT}/main.js", f"{FRONT}/other.js", "search/engines.json",
        "job-sheet/paper-codes.json",
        "assets/witnessmark/runtime-0123456789ab/python.wasm",
        "assets/witnessmark/runtime-0123456789ab/image.bin.gz",
    }  # fmt: skip
    for uri, data in held.items():
        assert not (out / uri).exists()
        assert data == SITE[uri].encode()
    assert (out / FRONT / "wm.css").is_file()
    assert (out / "assets/witnessmark/runtime-0123456789ab/LICENSE.txt").is_file()
    for gone in ("404.html", "sw.js", "b/index.html.gz"):
        assert not (out / gone).exists()
    index = (out / "search/search_index.js").read_text("utf-8")
    assert index.startswith("var __index = ")
    assert re.findall(r'"location":"(.*?)"', index) == [
        "index.html",
        "a/index.html#x",
        "b/index.html",
    ]


def test_what_only_a_failed_start_needs_is_left_out(site, tmp_path):
    """The service worker's list says what readers need; without a list all is taken along."""
    spare = "assets/witnessmark/runtime-0123456789ab/python.wasm"
    write_service_worker(site, [spare])
    pack_site(site, tmp_path / "out")
    assert spare not in handed_over(tmp_path / "out")
    assert not (tmp_path / "out" / spare).exists()
    assert f"{FRONT}/main.js" in handed_over(tmp_path / "out")


def test_the_built_site_is_left_alone_and_nothing_is_overwritten(site, tmp_path, capsys):
    """The command tells what is wrong and what to do, with status 2."""
    before = sorted(site.rglob("*"))
    assert main(["pack", "--site-dir", str(site), str(tmp_path / "out")]) == 0
    assert sorted(site.rglob("*")) == before
    assert main(["pack", "--site-dir", str(site), str(tmp_path / "out")]) == 2
    assert "exists already" in capsys.readouterr().err
    with pytest.raises(PackError, match="no built handbook"):
        pack_site(tmp_path / "nothing", tmp_path / "out2")
