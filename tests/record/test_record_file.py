"""A record is read with care: whatever is not of the form is refused by file and field."""

from __future__ import annotations

import json
import time

import pytest

from tests.record.written import job, write
from witnessmark.record import RecordError, read_record
from witnessmark.record.record_file import MOST_BYTES


@pytest.fixture
def good(basis):
    return job(basis)


def refusal(path) -> str:
    with pytest.raises(RecordError) as caught:
        read_record(path)
    return str(caught.value)


def test_a_good_record_is_read(good, tmp_path):
    """Every entry with its page and its part."""
    entries = list(read_record(write(tmp_path, good)).entries())
    assert [entry[:3] for entry in entries] == [
        ("pull.md", "ticks", "step-1"),
        ("pull.md", "readings", "reading-play-of-the-bar"),
        ("pull.md", "calculators", "wm-lever"),
    ]


def spoil(data, path, value):
    *way, last = path
    for key in way:
        data = data[key]
    if value is None:
        del data[last]
    else:
        data[last] = value


PAGE = ("pages", "pull.md")
LEVER = (*PAGE, "calculators", "wm-lever")


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (("version",), 2, "version: found 2; expected 1"),
        (("version",), True, "version: found yes or no; expected 1"),
        (("serial",), None, "serial: found nothing; expected it to be there"),
        (("number",), 17, "number: found 17; expected a text"),
        (("notes",), "x" * 401, "notes: found 401 characters; expected at most 400"),
        (("mood",), "good", "mood: found an unknown name"),
        (("pages",), [], "pages: found a list; expected a table"),
        ((*PAGE, "steps"), 2.5, "pages.pull.md.steps: found 2.5; expected a whole number"),
        ((*PAGE, "url"), "javascript:alert(1)", "url: found 'javascript:alert(1)'"),
        ((*PAGE, "url"), "//elsewhere.example/", "url: found"),
        ((*PAGE, "url"), "pull/\n", "url: found"),
        ((*PAGE, "ticks", "step-1", "at"), "today", "ticks.step-1.at: found 'today'"),
        ((*LEVER, "typed", "force"), {"a": 1}, "typed.force: found a table"),
        ((*LEVER, "outcome", "results", 0, "value"), "360",
         "outcome.results[1].value: found '360'; expected a number"),
        ((*LEVER, "outcome", "findings"), [{"level": "cheer", "code": "a", "text": "b"}],
         "findings[1].level: found 'cheer'; expected 'note' or 'caution' or 'stop'"),
    ],
)  # fmt: skip
def test_a_wrong_field_is_named(good, tmp_path, path, value, said):
    """File, field, what was found, what would be right."""
    spoil(good, path, value)
    told = refusal(write(tmp_path, good))
    assert str(tmp_path / "job.json") in told
    assert said in told


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no JSON"),
        ("[" * 100_000, "nested deeper than 20"),
        ('{"a": ' * 100_000, "nested deeper than 20"),
        ('["\\"[[[[[[[[[[[[[[[[[[[[[[[["]', "no job record"),
        ('{"format": NaN}', "NaN is no number of JSON"),
        ('{"format": -Infinity}', "-Infinity is no number"),
        ('{"format": 1e999}', "1e999 is too large a number"),
        ('{"format": ' + "9" * 50_000 + "}", "too large a number"),
        ('{"format": 1, "format": 2}', "the name 'format' stands twice"),
        ("null", "no job record"),
        ('"witness-mark job record"', "no job record"),
        ('{"format": "another"}', "no job record"),
        ("\x00\x01", "no JSON"),
    ],
    ids=lambda value: value[:24],
)
def test_hostile_texts_are_refused(tmp_path, text, said):
    """Depth, numbers that are none, names that stand twice."""
    assert said in refusal(write(tmp_path, text))


def test_other_files_are_refused(tmp_path):
    """Bytes that are no text, a folder, no file, too large a file."""
    (tmp_path / "bytes").write_bytes(b"\xff\xfe\x00{")
    assert "no text in UTF-8" in refusal(tmp_path / "bytes")
    assert str(tmp_path) in refusal(tmp_path)
    assert "No such file" in refusal(tmp_path / "none.json")
    (tmp_path / "large").write_bytes(b" " * (MOST_BYTES + 1))
    assert "too large for a job record" in refusal(tmp_path / "large")


def test_absurd_numbers_of_entries_are_refused_in_time(good, tmp_path):
    """A file as large as may be is read or refused within seconds."""
    page = good["pages"]["pull.md"]
    tick = page["ticks"]["step-1"]
    page["ticks"] = {f"step-{n}": tick for n in range(500)}
    good["pages"] = {f"p{n}.md": page for n in range(40)}
    text = json.dumps(good)
    assert len(text) < MOST_BYTES
    begun = time.monotonic()
    assert "expected at most 5000" in refusal(write(tmp_path, text))
    page["ticks"] |= {"one-more": tick}
    assert "found 501 of them; expected at most 500" in refusal(write(tmp_path, good))
    assert time.monotonic() - begun < 60


def test_a_terminal_is_not_steered(good, tmp_path):
    """Escapes, a turned direction of writing and half a character come out as numbers."""
    good["pages"]["pull.md\x1b]0;gone\x07"] = {}
    told = refusal(write(tmp_path, good))
    assert "\x1b" not in told
    assert "\\u{1b}]0;gone\\u{7}" in told
    good["pages"] = {}
    good["number"] = {"‮": 1}
    good["\ud800‮"] = 1
    told = refusal(write(tmp_path, good))
    told.encode("utf-8")
    assert "‮" not in told
