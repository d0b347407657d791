"""What was signed can be shown again: from the archive, and from git where there is none."""

from __future__ import annotations

import json
import shutil
import subprocess
import zlib

import pytest

from tests.signoff.shop import LEVER_PAGE, Shop
from witnessmark.cli import main
from witnessmark.signoff import Archive
from witnessmark.signoff.differences import differences


def archive_of(shop: Shop) -> Archive:
    return Archive(shop.folder / "docs" / "signoff")


def shown(shop: Shop, uri: str) -> str:
    """The differences of a page since its sign-off, out of the archive."""
    handbook, _ = shop.render()
    entry = handbook.review.sign_offs.ledger.entries[uri]
    was = archive_of(shop).find(entry.archive)
    assert was is not None
    basis = handbook.review.basis
    return "\n".join(differences(was, basis.pages[uri], basis.calculators_of(basis.pages[uri])))


def test_words_are_shown_word_by_word(signed):
    """A changed word stands between its neighbours, gone and new marked."""
    signed.replace("docs/pull.md", "steadily", "slowly")
    assert shown(signed, "pull.md") == (
        "Words\n  line 8:\n"
        "    The nut gets {nut.torque}. Pull [-steadily-]{+slowly+} and look at the mark."
    )


def test_values_code_and_results_are_shown_old_and_new(signed):
    """Figures side by side, the line of code, and what it does to the result."""
    signed.replace("docs/databook/lg2.yml", "480 N·m ± 4 %", "500 N·m ± 4 %")
    signed.replace("calculators/statics.py", "return force * arm", "return 2 * force * arm")
    signed.replace("calculators/lever.py", '"600 N·m"', '"1200 N·m"')
    text = shown(signed, "pull.md")
    for line in (
        "nut.torque: 480 N·m ± 4 % → 500 N·m ± 4 %",
        "code of calculators.statics: changed",
        "-    return force * arm",
        "+    return 2 * force * arm",
        "check value '2 m', expected: torque 600 N·m → torque 1200 N·m",
        "Torque at the nut: 300\u202fN·m → 600\u202fN·m",
    ):
        assert line in text
    assert "Words" not in text


def test_the_archive_is_compact_and_shared(signed):
    """A page and a calculator each is one small file; what pages share is kept once."""
    files = list(archive_of(signed).folder.iterdir())
    # two pages, two calculators, and the modules: package, lever, statics, wedge
    assert len(files) == 8
    assert sum(path.stat().st_size for path in files) < 5000
    for path in files:
        assert path.suffix == ".z"


def test_a_damaged_archive_is_not_believed(signed):
    """An object whose content is not what its name says counts as missing."""
    handbook, _ = signed.render()
    entry = handbook.review.sign_offs.ledger.entries["pull.md"]
    path = archive_of(signed).folder / f"{entry.archive}.z"
    data = json.loads(zlib.decompress(path.read_bytes()))
    data["page"]["text"] = "Other words."
    path.write_bytes(zlib.compress(json.dumps(data).encode()))
    assert archive_of(signed).find(entry.archive) is None
    signed.replace("docs/pull.md", "steadily", "slowly")
    assert signed.reasons() == {"pull.md": [("words", "the text")]}


def test_what_no_entry_leads_to_is_removed(signed):
    """Signing again leaves nothing of the old state beside the ledger."""
    signed.replace("calculators/wedge.py", "drive / 10", "drive / 11")
    before = {path.name for path in archive_of(signed).folder.iterdir()}
    signed.sign("lift.md")
    ledger = signed.render()[0].review.sign_offs.ledger
    removed = archive_of(signed).prune(entry.archive for entry in ledger.entries.values())
    after = {path.name for path in archive_of(signed).folder.iterdir()}
    assert removed == len(before - after) == 3  # the page, the wedge, its module
    assert archive_of(signed).prune(e.archive for e in ledger.entries.values()) == 0
    for entry in ledger.entries.values():
        assert archive_of(signed).find(entry.archive)


def git(shop: Shop, *arguments: str) -> None:
    subprocess.run(
        ["git", "-c", "user.name=shop", "-c", "user.email=shop@example.org", *arguments],
        cwd=shop.folder, check=True, capture_output=True,
    )  # fmt: skip


@pytest.mark.site
def test_sign_status_show_and_due_on_a_real_handbook(shop, capsys):
    """The four commands from the first sign-off to a change, with git in the archive's place."""

    def run(*arguments: str) -> tuple[int, str, str]:
        status = main(["--project", str(shop.folder), "signoff", *arguments])
        told = capsys.readouterr()
        return status, told.out, told.err

    git(shop, "init", "-q")
    status, out, err = run(
        "sign", "docs/pull.md", "lift", "--role", "reviewer", "--note", "First issue",
        "--date", "2025-11-25", "--no-archive",
    )  # fmt: skip
    assert status == 0, err
    assert "pull.md: signed by the reviewer, 2025-11-25; changed: first sign-off" in out
    assert not (shop.folder / "docs/signoff").exists()
    git(shop, "add", "-A")
    git(shop, "commit", "-qm", "First issue of the handbook")

    shop.replace("docs/pull.md", "steadily", "slowly")
    shop.replace("snippets/warning.md", "gap", "slot")
    git(shop, "commit", "-qam", "Pull slowly")
    status, out, _ = run("status", "--json")
    pages = json.loads(out)["pages"]
    assert status == 0
    assert {uri: page["state"] for uri, page in pages.items()} == {
        "pull.md": "changed", "lift.md": "changed",
        LEVER_PAGE: "signed", "reference/calculators/wedge.md": "signed",
    }  # fmt: skip
    assert pages["pull.md"]["reasons"] == [{"kind": "words", "about": "", "text": "the text"}]

    status, out, _ = run("show", "lift")
    assert status == 0
    assert "Keep your fingers out of the [-gap.-]{+slot.+}" in out
    assert "Pull slowly" not in out  # that commit touched another page
    status, out, _ = run("show", "pull")
    assert "Pull slowly" in out  # the commit
    assert "[-steadily-]{+slowly+}" in out

    shutil.rmtree(shop.folder / ".git")  # neither git nor archive: what is known is told
    status, out, _ = run("show", "pull")
    assert status == 0
    assert "neither in docs/signoff/ nor in the git history" in out

    status, out, _ = run("due", "--on", "2026-11-01")
    assert status == 0
    assert "pull.md: due by 2026-11-25 (signed 2025-11-25, reviewer)" in out
    assert run("due", "--on", "2026-12-01")[0] == 1
    assert run("due", "--on", "2026-01-01")[:2] == (
        0, "nothing is to be reviewed again by 2026-01-31\n",
    )  # fmt: skip


@pytest.mark.site
def test_signing_is_refused_while_something_is_wrong(shop, capsys):
    """A check value that differs, a fault in a page, a damaged ledger: nothing is signed."""

    def sign(name: str = "pull") -> tuple[int, str]:
        options = ["--role", "reviewer", "--note", "All of it"]
        status = main(["--project", str(shop.folder), "signoff", "sign", name, *options])
        return status, capsys.readouterr().err

    ledger = shop.folder / "docs/signoff.yml"
    shop.replace("calculators/lever.py", '"600 N·m"', '"601 N·m"')
    status, said = sign()
    assert status == 1
    assert "lever, check value '2 m'" in said
    shop.replace("calculators/lever.py", '"601 N·m"', '"600 N·m"')

    status, said = sign("pul")
    assert status == 2
    assert "did you mean 'pull" in said

    shop.replace("docs/lift.md", "{flywheel.mass}", "{flywheel.mas}")
    status, said = sign()
    assert status == 2
    assert "docs/lift.md:11: {flywheel.mas}" in said
    assert not ledger.exists()

    ledger.write_text("<<<<<<< one\npull.md:\n=======\n>>>>>>> other\n", "utf-8")
    status, said = sign()
    assert status == 2
    assert "docs/signoff.yml:1: ledger: found a merge conflict" in said
