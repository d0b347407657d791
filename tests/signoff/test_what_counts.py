"""One thing is changed, and exactly the pages that rest on it say so, with the right reason."""

from __future__ import annotations

import sys

import pytest

from tests.signoff.shop import LEVER_PAGE, WEDGE_PAGE

DEFAULTS = "A lever: at its defaults Torque at the nut 300\u202fN·m → 301\u202fN·m"

CHANGES = {
    "one word": (
        ("docs/pull.md", "steadily", "slowly"),
        {"pull.md": [("words", "1 line of the text")]},
    ),
    "front matter": (
        ("docs/lift.md", "title: Lift the flywheel", "title: Lift the wheel"),
        {"lift.md": [("words", "1 line of the text")]},
    ),
    "an included text": (
        ("snippets/warning.md", "gap", "slot"),
        {"lift.md": [("words", "1 line of the text")]},
    ),
    "one value": (
        ("docs/databook/lg2.yml", "31 kg", "32 kg"),
        {"lift.md": [("values", "flywheel.mass: LG2: 31 kg → 32 kg")]},
    ),
    "a value for a machine the page is not for": (
        ("docs/databook/lg3.yml", "118 N·m", "120 N·m"),
        {},
    ),
    "one tolerance": (
        ("docs/databook/lg2.yml", "± 4 %", "± 5 %"),
        {"pull.md": [("values", "nut.torque: 480 N·m ± 4 % → 480 N·m ± 5 %")]},
    ),
    "the revision of its source": (
        ("docs/databook/shop.yml", "source: tool card", "source: tool card 2"),
        {"pull.md": [("values", "tools.bar.length: source tool card → tool card 2")]},
    ),
    "a comment in the data book": (
        ("docs/databook/lg2.yml", "nut:", "# of the flywheel\nnut:"),
        {},
    ),
    "one line of a calculator": (
        ("calculators/lever.py", "moment(force, arm))", "moment(force, arm) * (301 / 300))"),
        {
            "pull.md": [("maths", "A lever: code of calculators.lever"), ("maths", DEFAULTS)],
            LEVER_PAGE: [("maths", "A lever: code of calculators.lever"), ("maths", DEFAULTS)],
        },
    ),
    "one imported helper": (
        ("calculators/statics.py", "force * arm", "arm * force"),
        {
            "pull.md": [("maths", "A lever: code of calculators.statics")],
            LEVER_PAGE: [("maths", "A lever: code of calculators.statics")],
        },
    ),
    "a docstring, which is shown": (
        ("calculators/wedge.py", '"""A wedge, for tests."""', '"""A wedge of 1 in 10."""'),
        {
            "lift.md": [("maths", "A wedge: code of calculators.wedge")],
            WEDGE_PAGE: [("maths", "A wedge: code of calculators.wedge")],
        },
    ),
    "one check value": (
        ("calculators/wedge.py", '{"drive": "80 mm"}, {"lift": "8 mm"}',
         '{"drive": "90 mm"}, {"lift": "9 mm"}'),
        {
            "lift.md": [("maths", "A wedge: check value '80 mm'")],
            WEDGE_PAGE: [("maths", "A wedge: check value '80 mm'")],
        },
    ),
    "one comment": (
        ("calculators/lever.py", "    return", "    # statics\n    return"),
        {},
    ),
    "layout of the code": (
        ("calculators/lever.py", "moment(force, arm)", "moment(\n        force, arm,\n    )"),
        {},
    ),
    "the drawing": (
        ("docs/wedge.svg", "L10 1", "L10 2"),
        {"lift.md": [("pictures", "wedge.svg: another picture")]},
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", CHANGES)
def test_exactly_what_rests_on_it_changes(signed, what):
    """The pages and reasons of every kind of change; nothing else is touched."""
    (name, old, new), expected = CHANGES[what]
    signed.replace(name, old, new)
    assert signed.reasons() == expected


def test_signed_pages_and_their_calculators(signed):
    """Signed procedures carry their calculators' reference pages along; words alone need none."""
    found = signed.standings()
    assert set(found.pages) == {"pull.md", "lift.md", LEVER_PAGE, WEDGE_PAGE}
    assert found.all_signed
    assert found.pages[LEVER_PAGE].through == "pull.md"


@pytest.mark.parametrize("ending", ["\r\n", " \n"])
def test_line_endings_and_trailing_blanks_do_not_count(signed, ending):
    """A checkout with other line endings, or an editor that leaves blanks, changes nothing."""
    endings = {".md": ending, ".py": ending, ".svg": "\r\n"}
    for path in [each for each in signed.folder.rglob("*") if each.suffix in endings]:
        text = path.read_text("utf-8").replace("\n", endings[path.suffix])
        # The extension for includes does not take a blank behind its line.
        path.write_bytes(text.replace('.md" \n', '.md"\n').encode())
    assert signed.standings().all_signed


def test_an_include_counts_as_its_text(signed):
    """Words are what the reader sees: an include written out is the same text."""
    signed.replace("docs/lift.md", '--8<-- "warning.md"', "Keep your fingers out of the gap.")
    assert signed.standings().all_signed


def test_signing_a_changed_page_signs_it(signed):
    """The new sign-off is on top, the old one becomes history."""
    signed.replace("docs/pull.md", "steadily", "slowly")
    assert not signed.standings().all_signed
    signed.sign("pull.md")
    page = signed.standings().pages["pull.md"]
    assert page.state == "signed"
    assert len(page.history) == 1


def test_results_that_move_without_code_are_told(signed, monkeypatch):
    """A new version of the program or a library that changes a figure is a change of the maths."""
    from witnessmark.calc import evaluate as evaluation

    assert signed.reasons() == {}
    module = sys.modules[evaluation.__module__]
    written = module.with_unit
    monkeypatch.setattr(module, "with_unit", lambda *args: written(*args).replace("5", "6"))
    reasons = signed.reasons()
    assert set(reasons) == {"lift.md", WEDGE_PAGE}
    ((kind, text),) = reasons["lift.md"]
    assert kind == "maths"
    assert text.startswith("A wedge: at its defaults Lift 5.00\u202fmm → 6.00\u202fmm")
    assert "its own code is the same" in text


def test_a_calculator_no_page_was_signed_with_is_unsigned(shop):
    """Only the wedge's page is signed: the lever's reference page is not."""
    shop.sign("lift.md")
    found = shop.standings()
    assert found.pages[WEDGE_PAGE].state == "signed"
    assert found.pages[LEVER_PAGE].state == "unsigned"


def test_a_page_without_figures_may_be_signed(shop):
    """Once signed it stays under sign-off."""
    assert "index.md" not in shop.standings().pages
    shop.sign("index.md")
    shop.replace("docs/index.md", "Words", "Other words")
    assert shop.reasons() == {"index.md": [("words", "1 line of the text")]}


def test_entries_of_pages_that_are_gone_are_told(signed):
    """A ledger may not name what is not there."""
    handbook, _ = signed.render()
    del handbook.review.pages["lift.md"]
    assert handbook.review.standings().gone == ("lift.md",)
    assert not handbook.review.standings().all_signed
