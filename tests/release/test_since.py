"""What has changed since the last release is told page by page, in the reviewer's words."""

from __future__ import annotations

from witnessmark.release import Manifest, ReleasedPage, changes_since, changes_text
from witnessmark.signoff import SignOff

FACTS = {"words": "a", "value nut.torque": "b", "code lever": "c", "results lever": "d"}
FIRST = SignOff("2026-01-10", "reviewer", "First issue", "first sign-off")
SECOND = SignOff("2026-03-01", "lead fitter", "New torque", "nut.torque: 480 → 500 N·m")


def page(title: str, sign_off: SignOff = FIRST, **facts: str) -> ReleasedPage:
    held = FACTS | {name.replace("_", " ", 1): digest for name, digest in facts.items()}
    return ReleasedPage(title, sign_off.role, sign_off.signed, sign_off.note, held)


BEFORE = Manifest(
    "1.0", "2026-01-31", "First", "", "0.1.0", "pyodide", 1,
    {"pull.md": page("Pull"), "lift.md": page("Lift"), "old.md": page("Old")},
)  # fmt: skip
NOW = {
    "pull.md": page("Pull", SECOND, **{"value nut.torque": "x", "results lever": "y"}),
    "lift.md": page("Lift"),
    "new.md": page("New", SECOND),
}


def test_changed_new_and_gone_pages():
    """With the kinds of change, and every sign-off that came since."""
    changes = changes_since(BEFORE, NOW, {"pull.md": (SECOND, FIRST)})
    assert {each.uri: each.lines for each in changes} == {
        "pull.md": (
            "Changed: values, maths.",
            "2026-03-01, lead fitter: New torque (nut.torque: 480 → 500 N·m)",
        ),
        "new.md": ("New. Signed 2026-03-01, lead fitter: New torque",),
        "old.md": ("No longer in the handbook.",),
    }


def test_the_first_release_has_every_page():
    """There is nothing to compare it with."""
    assert [each.uri for each in changes_since(None, NOW, {})] == ["lift.md", "new.md", "pull.md"]


def test_the_list_can_be_read_as_it_is():
    """A heading, the note, a line a page."""
    changes = changes_since(BEFORE, NOW, {"pull.md": (SECOND, FIRST)})
    text = changes_text("1.1", "2026-03-02", "Torque of the nut", "1.0", changes)
    assert text.startswith(
        "# Release 1.1, 2026-03-02\n\nTorque of the nut\n\n## Since release 1.0\n"
    )
    assert "- Pull (pull.md)\n    - Changed: values, maths.\n" in text
    assert "No page has changed." in changes_text("1.2", "2026-03-03", "Again", "1.1", [])
