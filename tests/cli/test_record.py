"""``witnessmark record check`` on files, with a handbook built by its site generator."""

from __future__ import annotations

import json

import pytest

from tests.record.written import job, with_reading, write
from tests.signoff.shop import make_shop
from witnessmark.cli import main

pytestmark = pytest.mark.site


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    return with_reading(make_shop(tmp_path_factory.mktemp("handbook") / "shop"))


@pytest.fixture(scope="module")
def basis(shop):
    """As the site generator's own build hands it over."""
    from witnessmark.cli.site_build import read_basis

    return read_basis(shop.folder)


def run(capsys, shop, *arguments):
    status = main(["--project", str(shop.folder), "record", "check", *map(str, arguments)])
    captured = capsys.readouterr()
    return status, captured.out, captured.err


def test_status_and_words(capsys, shop, basis, tmp_path):
    """0 when all agree; 1 with both figures when one differs; 2 for a file that is no record."""
    good = write(tmp_path, job(basis))
    assert run(capsys, shop, good) == (
        0,
        f"{good}: job 26-017, LG2 canal\n"
        "  pull.md\n"
        "    tick Pull: agrees\n"
        "    reading Play of the bar: agrees\n"
        "    calculator A lever: agrees\n"
        "  3 entries: 3 agrees\n",
        "",
    )
    data = job(basis)
    data["number"] = "26\x1b[2J"
    lever = data["pages"]["pull.md"]["calculators"]["wm-lever"]
    lever["outcome"]["results"][0]["display"] = "350\u202fN·m"
    bad = write(tmp_path, data, "bad.json")
    status, out, _ = run(capsys, shop, good, bad, "--json")
    first, second = json.loads(out)["records"]
    assert (status, first["agrees"], second["agrees"]) == (1, True, False)
    assert second["entries"][2]["differences"] == [
        {"where": "result torque, display", "recorded": "350\u202fN·m", "now": "360\u202fN·m"}
    ]
    status, out, err = run(capsys, shop, bad, write(tmp_path, "[]", "none.json"))
    assert status == 2
    assert "calculator A lever: differs" in out
    assert "in the record 350\u202fN·m; now 360\u202fN·m" in out
    assert "\x1b" not in out
    assert err == f"{tmp_path / 'none.json'}: no job record\n"


def test_a_handbook_that_cannot_be_built_is_told(capsys, shop, basis, tmp_path):
    """Nothing is said to agree when there is nothing to compare with."""
    good = write(tmp_path, job(basis))
    shop.replace("docs/pull.md", "{nut.torque}", "{nut.torqe}")
    status, out, err = run(capsys, shop, good)
    shop.replace("docs/pull.md", "{nut.torqe}", "{nut.torque}")
    assert status == 2
    assert out == ""
    assert "nut.torqe" in err
