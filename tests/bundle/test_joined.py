from __future__ import annotations

from pathlib import Path

import pytest

from witnessmark.bundle import find_node, get_runtime, minified
from witnessmark.bundle.joined import JoinFailed, joined

MAIN = """/** Said. */
import { shown } from "./part.js";
export * as part from "./part.js";
export const doubled = (value) => 2 * shown(value);
"""
PART = "export const shown = (value) => value + 1;\nexport const other = () => 'other';\n"
SPARE = "export const spare = 'nobody wants this';\n"

USE = """
const { doubled, part } = await import(process.argv[1]);
process.stdout.write(JSON.stringify([doubled(20), part.shown(1), part.other()]));
"""


def _modules(folder: Path, **texts: str) -> dict[str, Path]:
    """Modules as files, by the names under which they import each other."""
    found = {}
    for name, text in ({"main": MAIN, "part": PART, "spare": SPARE} | texts).items():
        found[f"{name}.js"] = folder / f"{name}.js"
        found[f"{name}.js"].write_text(text, "utf-8")
    return found


def test_one_script_does_what_the_modules_did(tmp_path: Path) -> None:
    """It imports nothing any more, and its exports have the names they had."""
    made = joined(get_runtime(), _modules(tmp_path), ["main.js"], tmp_path / "cache")
    assert list(made) == ["main.js"]
    text = made["main.js"].read_text("utf-8")
    assert "./part.js" not in text
    assert "Said" not in text
    assert "nobody wants this" not in text
    (tmp_path / "alone.mjs").write_text(text, "utf-8")
    node = find_node()
    answer = node.run(
        [*node.command, "--input-type=module", "-e", USE, (tmp_path / "alone.mjs").as_uri()]
    )
    assert answer.stdout == '[42,2,"other"]', answer.stderr


def test_a_module_that_changes_changes_the_script(tmp_path: Path) -> None:
    """The cache knows it by all that goes in, not by the entry alone."""
    modules = _modules(tmp_path)
    before = joined(get_runtime(), modules, ["main.js"], tmp_path / "cache")["main.js"]
    was = before.read_text("utf-8")
    assert joined(get_runtime(), modules, ["main.js"], tmp_path / "cache")["main.js"] == before
    modules["part.js"].write_text(PART.replace("other'", "another'"), "utf-8")
    after = joined(get_runtime(), modules, ["main.js"], tmp_path / "cache")["main.js"]
    assert "another" in after.read_text("utf-8")
    assert before.read_text("utf-8") == was


def test_another_library_that_shortens_makes_another_script(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was shortened with the one that was pinned before is not taken for it."""
    modules = _modules(tmp_path)
    before = joined(get_runtime(), modules, ["main.js"], tmp_path / "cache")["main.js"]
    maker = tmp_path / "minify.mjs"
    maker.write_text(minified.MAKER.read_text("utf-8") + "// another\n", "utf-8")
    monkeypatch.setattr(minified, "MAKER", maker)
    assert joined(get_runtime(), modules, ["main.js"], tmp_path / "cache")["main.js"] != before


@pytest.mark.parametrize("damage", ["changed", "removed", "no digests"])
def test_a_damaged_script_is_made_again(tmp_path: Path, damage: str) -> None:
    """The cache is believed only as long as the digest is right."""
    modules = _modules(tmp_path)
    short = joined(get_runtime(), modules, ["main.js"], tmp_path / "cache")["main.js"]
    (made,) = (tmp_path / "cache").glob("joined-*/main.js")
    text = made.read_text("utf-8")
    if damage == "changed":
        made.write_text("export const doubled = 3;\n", "utf-8")
    elif damage == "removed":
        made.unlink()
    else:
        (made.parent / "digests").unlink()
    assert joined(get_runtime(), modules, ["main.js"], tmp_path / "cache")["main.js"] == short
    assert made.read_text("utf-8") == text
    assert (made.parent / "digests").is_file()


@pytest.mark.parametrize(
    ("broken", "words"),
    [
        ('import { a } from "./nowhere.js";\nexport const b = a;\n', r"nowhere\.js"),
        ('import { nothing } from "./part.js";\nexport const b = nothing;\n', "nothing"),
        ('import { a } from "somewhere";\nexport const b = a;\n', "somewhere"),
        ("export const = 1;\n", r"main\.js"),
    ],
)
def test_what_cannot_be_joined_is_told(tmp_path: Path, broken: str, words: str) -> None:
    """A module or a name that is not there, or no script at all, stops the build."""
    modules = _modules(tmp_path, main=broken)
    with pytest.raises(JoinFailed, match=words):
        joined(get_runtime(), modules, ["main.js"], tmp_path / "cache")
    assert not list((tmp_path / "cache").glob("joined-*"))
