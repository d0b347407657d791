from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.bundle.conftest import STOCK, MakeCollection
from witnessmark.bundle import Bundle, find_node, make_bundle
from witnessmark.bundle import build as under_test
from witnessmark.bundle import lock as lock_module
from witnessmark.collection import Collection


def _digests(bundle: Bundle) -> dict[str, str]:
    return {
        uri: hashlib.sha256(path.read_bytes()).hexdigest() for uri, path in bundle.files.items()
    }


def _silent(_: str) -> None:
    pass


def _plain(
    collection: Collection,
    modules: list[str],
    cache: Path,
    told: Callable[[str], None] = _silent,
) -> Bundle:
    """A bundle without a heap image, which takes seconds to make."""
    return make_bundle(collection, modules, cache, told, image=False)


def test_same_sources_give_the_same_site_files(
    make_collection: MakeCollection, warm_cache: Path, tmp_path: Path
) -> None:
    """Two builds in different folders with different caches agree in every URI and byte."""
    first = _plain(make_collection("here"), ["trial.lever"], warm_cache)
    other_cache = tmp_path / "other" / "cache"
    other_cache.mkdir(parents=True)
    runtime = next(warm_cache.glob("runtime-*"))
    (other_cache / runtime.name).symlink_to(runtime)
    second = _plain(make_collection("far/away"), ["trial.lever"], other_cache)
    assert _digests(second) == _digests(first)
    paths = {path for uri, path in first.files.items() if uri.startswith(first.packages)}
    assert paths.isdisjoint(second.files.values())


def test_a_warm_build_packs_nothing(
    make_collection: MakeCollection, warm_cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When only words changed, nothing is packed, locked or told."""
    collection = make_collection()
    first = _plain(collection, ["trial.lever"], warm_cache)

    def refuse(*_: object) -> None:
        raise AssertionError("packed again")

    monkeypatch.setattr(under_test, "pack", refuse)
    told: list[str] = []
    assert _plain(collection, ["trial.lever"], warm_cache, told.append) == first
    assert told == []


def test_uris_change_with_what_they_hold(make_collection: MakeCollection, warm_cache: Path) -> None:
    """A changed module gives new URIs to the packages and the scripts that name them."""
    before = _plain(make_collection(), ["trial.lever"], warm_cache)
    changed = {"_stock.py": STOCK.replace("1 m", "2 m")}
    after = _plain(make_collection(**changed), ["trial.lever"], warm_cache)
    assert after.runtime == before.runtime
    assert after.packages != before.packages
    assert after.front != before.front
    for uri in (after.runtime, after.packages, after.front):
        assert re.fullmatch(r"assets/witnessmark/(runtime|bundle|front)-[0-9a-f]{12}", uri)


def test_a_module_that_no_page_uses_changes_nothing(
    make_collection: MakeCollection, warm_cache: Path
) -> None:
    """Modules outside the closure of what pages use have no say in the bundle."""
    before = _plain(make_collection(), ["trial.lever"], warm_cache)
    changed = {"unused.py": '"""Quite another text."""\n'}
    after = _plain(make_collection(**changed), ["trial.lever"], warm_cache)
    assert after == before


def test_the_site_script_leads_to_files_of_the_bundle(
    make_collection: MakeCollection, warm_cache: Path, tmp_path: Path
) -> None:
    """What the build tells the scripts: runtime, lock and modules, by relative paths."""
    bundle = _plain(make_collection(), ["trial.lever"], warm_cache)
    node = find_node()
    script = bundle.files[f"{bundle.front}/pageless.js"].read_text("utf-8")
    tell = "process.stdout.write(JSON.stringify((await import(process.argv[1])).site));"
    (tmp_path / "pageless.mjs").write_text(script, "utf-8")
    at = (tmp_path / "pageless.mjs").as_uri()
    told = json.loads(node.run([*node.command, "--input-type=module", "-e", tell, at]).stdout)
    root = bundle.front.rpartition("/")[0]
    assert f"{root}/{told['runtime'].removeprefix('../')}pyodide.mjs" in bundle.files
    lock = bundle.files[f"{root}/{told['bundle'].removeprefix('../')}pyodide-lock.json"]
    assert told["packages"] == sorted(json.loads(lock.read_text("utf-8"))["packages"])
    assert told["modules"] == ["trial.lever"]


def test_the_site_holds_only_what_a_browser_needs_and_licences(
    make_collection: MakeCollection, warm_cache: Path
) -> None:
    """Of the runtime four files travel; the rest of its folder is licence texts."""
    bundle = _plain(make_collection(), [], warm_cache)
    names = {uri.rpartition("/")[2] for uri in bundle.files if uri.startswith(f"{bundle.runtime}/")}
    assert {name for name in names if not name.endswith(".txt")} == {
        "pyodide.mjs", "pyodide.asm.js", "pyodide.asm.wasm", "python_stdlib.zip",
    }  # fmt: skip
    assert {"LICENSE-pyodide.txt", "LICENSE-python.txt", "NOTICE.txt"} <= names
    assert f"{bundle.packages}/LICENSE-pint.txt" in bundle.files
    assert not [uri for uri in bundle.files if uri.endswith((".ts", ".map"))]


def test_a_damaged_bundle_is_packed_again(
    make_collection: MakeCollection, warm_cache: Path
) -> None:
    """A wheel that was changed in the cache never reaches a site."""
    collection = make_collection()
    bundle = _plain(collection, ["trial.lever"], warm_cache)
    good = _digests(bundle)
    wheel = next(path for uri, path in bundle.files.items() if "/pint-" in uri)
    wheel.write_bytes(b"")
    assert _digests(_plain(collection, ["trial.lever"], warm_cache)) == good


def test_another_python_ships_source_and_says_so(
    make_collection: MakeCollection, warm_cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Under a Python of another minor version wheels carry source, with a note."""
    monkeypatch.setattr(under_test, "compiles_for", lambda _: False)
    monkeypatch.setattr(lock_module, "compiles_for", lambda _: False)
    told: list[str] = []
    bundle = _plain(make_collection(), ["trial.lever"], warm_cache, told.append)
    wheels = [uri for uri in bundle.files if uri.endswith(".whl")]
    assert wheels
    assert all(uri.endswith("-py3-none-any.whl") for uri in wheels)
    assert any("source is shipped instead of byte code" in line for line in told)
