from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from tests.bundle.conftest import STOCK, MakeCollection
from witnessmark.bundle import Bundle, RuntimeUnavailable, make_bundle, squeeze
from witnessmark.bundle import image as under_test


def _image(bundle: Bundle) -> Path:
    return bundle.files[f"{bundle.image}/image.zst"]


def _decompressed(path: Path) -> bytes:
    return squeeze.zstd.decompress(path.read_bytes())


def _silent(_: str) -> None:
    pass


def test_the_same_sources_give_the_same_image_and_a_change_another(
    make_collection: MakeCollection, warm_cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Made twice it is the same to the byte; its manifest tells what it was made from."""
    modules = ["trial.lever"]
    first = make_bundle(make_collection(), modules, warm_cache, _silent)
    before = _image(first).read_bytes()
    manifest = json.loads(_image(first).with_name("image.json").read_text("utf-8"))
    assert manifest["image"] == hashlib.sha256(before).hexdigest()
    assert manifest["inputs"]["modules"]["trial/_stock.py"] == (
        hashlib.sha256(STOCK.encode()).hexdigest()
    )
    assert squeeze.zstd.decompress(before)[:64].decode() == manifest["stamp"]

    _image(first).write_bytes(b"damaged")
    assert make_bundle(make_collection(), modules, warm_cache, _silent) == first
    assert _image(first).read_bytes() == before

    changed = make_collection(**{"_stock.py": STOCK.replace("1 m", "2 m")})
    other = make_bundle(changed, modules, warm_cache, _silent)
    assert other.image != first.image
    assert [uri for uri in other.start_files if "/start-" in uri] == [
        uri for uri in first.start_files if "/start-" in uri
    ]

    def refuse(*_: object) -> None:
        raise AssertionError("made again")

    monkeypatch.setattr(under_test, "_run", refuse)
    assert make_bundle(changed, modules, warm_cache, _silent) == other


def test_docstrings_stay_where_a_calculator_looks_at_one(
    make_collection: MakeCollection, warm_cache: Path
) -> None:
    """Otherwise they are let go: what a reference page shows of them has been written."""
    modules = ["trial.lever"]
    asks = f"{STOCK}\nABOUT = __doc__\n"
    plain, asking = (
        squeeze.zstd.decompress(
            _image(make_bundle(each, modules, warm_cache, _silent)).read_bytes()
        )
        for each in (make_collection(), make_collection("other", **{"_stock.py": asks}))
    )
    assert b"What is in the drawer." not in plain
    assert b"What is in the drawer." in asking
    # Of json.dumps, which is in Python; of math.acos and of dict, which are in C.
    for text in (b"Serialize ``obj`` to a JSON formatted ``str``", b"Return the arc cosine (meas",
                 b"new dictionary initialized from a mapping"):  # fmt: skip
        assert text not in plain
        assert text in asking


def test_a_calculator_that_breaks_in_the_runtime_stops_the_build(
    make_collection: MakeCollection, warm_cache: Path
) -> None:
    """What loads here but not in the browser's Python is told with Python's own words."""
    text = 'import sys\n\nif sys.platform == "emscripten":\n    raise OSError("no bench here")\n'
    collection = make_collection(**{"_stock.py": f"{text}\n{STOCK}"})
    with pytest.raises(RuntimeUnavailable, match="no bench here"):
        make_bundle(collection, ["trial.lever"], warm_cache, _silent)
