"""The ledger as a text: YAML, sorted, mergeable, and not to be changed by hand."""

from __future__ import annotations

import subprocess
import time
from datetime import date

import pytest
import yaml

from witnessmark.faults import Faults
from witnessmark.signoff import (
    Archive,
    HandbookBasis,
    Ledger,
    PageBasis,
    SignOff,
    SignOffs,
    months_after,
    read_ledger,
    text_digest,
    write_ledger,
)

FILE = "docs/signoff.yml"
FACTS = {"words": text_digest("words"), "value nut.torque": text_digest("480"),
         "check values lip-seal": text_digest("[]")}  # fmt: skip


def ledger(*uris: str, note: str = 'Read "aloud": all of it, for LG2 – 100 %') -> Ledger:
    made = Ledger()
    for uri in uris:
        made.sign(uri, FACTS, SignOff("2025-09-01", "lead fitter", note, "first sign-off"), "", "")
        made.sign(
            uri, FACTS, SignOff("2025-11-25", "reviewer", "Again", "nut.torque: 480 → 500 N·m"),
            "2026-11-25", text_digest("page"),
        )  # fmt: skip
    return made


def faults_of(text: str) -> list[str]:
    faults = Faults()
    read_ledger(text, FILE, faults)
    return [str(fault) for fault in faults]


def read(text: str) -> Ledger:
    faults = Faults()
    found = read_ledger(text, FILE, faults)
    faults.raise_if_any()
    return found


def test_what_is_written_is_read():
    """Text and ledger stand for one another, odd characters included."""
    made = ledger("procedures/b.md", "procedures/a b: c.md", "ä/ö.md")
    assert read(write_ledger(made)).entries == made.entries
    assert write_ledger(read(write_ledger(made))) == write_ledger(made)


def test_it_is_yaml():
    """A general YAML reader finds the same: one entry a page, one line a fact, sorted."""
    made = ledger("procedures/b.md", "procedures/a.md")
    data = yaml.safe_load(write_ledger(made))
    assert list(data) == ["procedures/a.md", "procedures/b.md"]
    entry = data["procedures/a.md"]
    assert entry["facts"] == FACTS
    assert list(entry["facts"]) == sorted(FACTS)
    assert entry["signed"] == date(2025, 11, 25)
    assert entry["role"] == "reviewer"
    assert entry["history"][0]["note"] == 'Read "aloud": all of it, for LG2 – 100 %'


def test_two_people_who_sign_different_pages_never_meet(tmp_path):
    """Ledgers with other pages signed merge by themselves; the same page is one conflict."""
    base = ledger("a.md", "b.md", "c.md")
    one, other = ledger("a.md", "b.md", "c.md"), ledger("a.md", "b.md", "c.md")
    one.sign("a.md", FACTS, SignOff("2026-01-10", "reviewer", "One", "words"), "", "")
    other.sign("c.md", FACTS, SignOff("2026-01-11", "reviewer", "Other", "words"), "", "")
    status, text = merged(tmp_path, base, one, other)
    assert status == 0
    assert read(text).entries == {**other.entries, "a.md": one.entries["a.md"]}

    facts = FACTS | {"words": text_digest("other words")}
    other.sign("a.md", facts, SignOff("2026-01-12", "lead fitter", "Other", "words"), "", "")
    status, text = merged(tmp_path, base, one, other)
    assert status == 1
    assert text.count("<<<<<<<") >= 1
    (fault, *rest) = faults_of(text)
    assert fault.startswith(f"{FILE}:")
    assert "a.md: found a merge conflict that nobody has resolved" in fault
    assert all("a.md" in each for each in rest)


def test_a_conflict_is_resolved_by_keeping_one_side(tmp_path):
    """The entry of one side, whole, is a sound ledger again; a mixture is not."""
    base, one, other = ledger("a.md"), ledger("a.md"), ledger("a.md")
    one.sign("a.md", FACTS, SignOff("2026-01-10", "reviewer", "One", "words"), "", "")
    facts = FACTS | {"words": text_digest("other words")}
    other.sign("a.md", facts, SignOff("2026-01-12", "lead fitter", "Other", "words"), "", "")
    theirs = merged(tmp_path, base, one, other, "--theirs")[1]
    assert read(theirs).entries == other.entries
    mixed = theirs.replace(
        'role: "lead fitter"\n  note: "Other"', 'role: "reviewer"\n  note: "One"'
    )
    assert mixed != theirs
    assert "its seal does not fit" in faults_of(mixed)[0]


def merged(folder, base, one, other, *options):
    """What ``git merge-file`` makes of three ledgers, and its exit status (0: no conflict)."""
    for name, each in {"one": one, "base": base, "other": other}.items():
        (folder / name).write_text(write_ledger(each), "utf-8")
    done = subprocess.run(
        ["git", "merge-file", "-p", *options, "one", "base", "other"],
        cwd=folder, capture_output=True, text=True, check=False, encoding="utf-8",
    )  # fmt: skip
    return min(done.returncode, 1), done.stdout


WRONG = {
    "another digest": (text_digest("480"), text_digest("500"), "a.md: found an entry that was "
                       "changed by hand or mixed in a merge"),
    "another day": ("signed: 2025-11-25", "signed: 2025-11-26", "its seal does not fit"),
    "a later review": ("review by: 2026-11-25", "review by: 2036-11-25", "its seal does not fit"),
    "a past note": ("Read ", "Heard ", "its seal does not fit"),
    "another page": ("a.md:", "b.md:", "its seal does not fit"),
    "no digest": (text_digest("480"), "unknown", "a.md, value nut.torque: found 'unknown'"),
    "no day": ("2025-11-25", "2025-13-25", "a.md, signed: found 'signed: 2025-13-25'"),
    "no quotes": ('role: "reviewer"', "role: reviewer", "a text in double quotes"),
    "an unknown field": ("  changed:", "  chnged:", "a.md, chnged"),
    "a strange line": ("  facts:", "  - facts", "found '- facts'"),
    "a fact less": ("    words: " + FACTS["words"] + "\n", "", "its seal does not fit"),
    "no seal": ("  seal:", "  # seal:", "an entry without seal"),
}  # fmt: skip


@pytest.mark.parametrize("what", WRONG)
def test_a_ledger_changed_by_hand_is_caught(what):
    """Every fault names file, line and page, and such an entry signs nothing."""
    old, new, message = WRONG[what]
    text = write_ledger(ledger("a.md"))
    assert old in text
    changed = text.replace(old, new, 1)
    (fault, *_) = faults_of(changed)
    assert message in fault
    assert fault.startswith(f"{FILE}:")
    assert read_ledger(changed, FILE, Faults()).entries == {}


def test_a_page_twice_is_told():
    """As after a merge that kept both sides."""
    text = write_ledger(ledger("a.md"))
    assert any("second entry" in each for each in faults_of(text + text))


def test_a_thousand_pages_cost_little(tmp_path):
    """1,000 pages with 20 values each are read and compared within a second (ten asserted)."""
    facts = {f"value engine.part_{n}.size": text_digest(str(n)) for n in range(20)}
    rows = {f"engine.part_{n}.size": (("", f"{n} mm", "length", ""),) for n in range(20)}
    made = Ledger()
    for number in range(1000):
        sign_off = SignOff("2025-11-25", "reviewer", "First issue", "first sign-off")
        made.sign(f"procedures/page-{number}.md", facts, sign_off, "2026-11-25", "")
    pages = {uri: PageBasis(uri, uri, "words", rows, is_procedure=True) for uri in made.entries}
    text = write_ledger(made)
    begun = time.perf_counter()
    found = SignOffs(read(text), Archive(tmp_path)).standings(HandbookBasis(pages, {}))
    assert time.perf_counter() - begun < 10
    assert len(found.in_state("changed")) == 1000


@pytest.mark.parametrize(
    ("day", "months", "expected"),
    [("2025-11-25", 12, "2026-11-25"), ("2025-08-31", 6, "2026-02-28"),
     ("2027-08-31", 6, "2028-02-29"), ("2025-12-31", 1, "2026-01-31")],
)  # fmt: skip
def test_months_after(day, months, expected):
    """The same day of the month, or the last one of a shorter month."""
    assert months_after(date.fromisoformat(day), months).isoformat() == expected
