from __future__ import annotations

from pathlib import Path

import pytest

from witnessmark.bundle import get_runtime
from witnessmark.bundle.minified import MinifyFailed, minified


def test_exports_keep_their_names_and_comments_go(tmp_path: Path) -> None:
    """What other modules import is found by them; what nobody uses is gone."""
    script = tmp_path / "a.js"
    script.write_text(
        '/** Said. */\nimport { other } from "./b.js";\nconst spare = 1;\n'
        "export function shown(value) {\n  return other(value);\n}\n",
        "utf-8",
    )
    made = minified(get_runtime(), {"a.js": script, "same.js": script}, tmp_path / "cache")
    text = made["a.js"].read_text("utf-8")
    assert text == made["same.js"].read_text("utf-8")
    assert 'from"./b.js"' in text
    assert "as shown}" in text or "function shown(" in text
    assert "Said" not in text
    assert "spare" not in text


def test_a_damaged_script_is_made_again(tmp_path: Path) -> None:
    """The cache is believed only as long as the digest is right."""
    script = tmp_path / "a.js"
    script.write_text("export const a = 1;\n", "utf-8")
    made = minified(get_runtime(), {"a.js": script}, tmp_path / "cache")["a.js"]
    text = made.read_text("utf-8")
    made.write_text("export const a = 2;\n", "utf-8")
    assert minified(get_runtime(), {"a.js": script}, tmp_path / "cache")["a.js"] == made
    assert made.read_text("utf-8") == text


def test_what_is_no_script_is_told(tmp_path: Path) -> None:
    """The build stops with what the library says of it."""
    script = tmp_path / "a.js"
    script.write_text("export const = 1;\n", "utf-8")
    with pytest.raises(MinifyFailed, match=r"a\.js:1:\d+: Name expected"):
        minified(get_runtime(), {"a.js": script}, tmp_path / "cache")
