"""A release from end to end: refused until all is well, built twice alike."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.signoff.shop import Shop, make_shop
from witnessmark.cli import main

pytestmark = [pytest.mark.site, pytest.mark.runtime]


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """The invented handbook of the sign-off tests."""
    return make_shop(tmp_path / "shop")


def test_a_release_from_end_to_end(shop, capsys):
    """Unsigned: refused. A check value that differs: refused. Signed: released."""

    def release(version: str, *options: str) -> tuple[int, str]:
        arguments = ["--project", str(shop.folder), "release", version, "--note", "A note"]
        status = main([*arguments, "--date", "2026-01-31", *options])
        told = capsys.readouterr()
        return status, told.out + told.err

    status, said = release("1.0")
    assert status == 1
    assert "not every page is signed" in said
    assert "pull.md: NOT SIGNED" in said

    shop.replace("calculators/wedge.py", '"8 mm"', '"9 mm"')
    shop.sign()
    status, said = release("1.0")
    assert status == 1
    assert "wedge, '80 mm', Lift, under CPython: found 8 mm; expected 9 mm" in said
    assert not (shop.folder / "releases").exists()
    shop.replace("calculators/wedge.py", '"9 mm"', '"8 mm"')
    shop.sign()

    status, said = release("1.0")
    assert status == 0, said
    first = shop.folder / "releases/1.0"
    assert "Release 1.0</b> of" in (first / "reference/sign-off/index.html").read_text("utf-8")
    assert ' release 1.0"' in (first / "pull/index.html").read_text("utf-8")
    assert release("1.0")[0] == 1  # a release never changes

    assert "- Pull on the bar (pull.md)\n    - New." in (first / "changes.md").read_text("utf-8")
    assert main(["--project", str(shop.folder), "release", "--verify"]) == 0
    assert "1.0: " in capsys.readouterr().out
