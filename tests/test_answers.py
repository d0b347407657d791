"""Answers of slow functions: worked out once, also over builds, and never when the program is
another."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from witnessmark import answers
from witnessmark.answers import FILE, KeptAnswers, program_digest
from witnessmark.bundle.cache import check_line
from witnessmark.remembered import Remembered

Calls = list[str]


@pytest.fixture
def calls() -> Iterator[Calls]:
    """The arguments for which ``shout`` was really worked out."""
    made: Calls = []

    def shout(text: str) -> list[str]:
        made.append(text)
        return [text.upper()]

    memory = Remembered(shout)
    Remembered.all["shout"] = Remembered.all.pop(memory.name)
    yield made
    del Remembered.all["shout"]


def build(cache: Path, *texts: str, kept: KeptAnswers | None = None) -> list[list[str]]:
    """What a build gets for ``texts``; without ``kept`` in a process of its own."""
    shout = Remembered.all["shout"]
    if kept is None:
        shout.begin({})
        shout.begin({})
        kept = KeptAnswers(cache)
    kept.begin(cache / "calculators")
    given = [shout(text) for text in texts]
    kept.save()
    return given


def file_of(cache: Path) -> Path:
    (file,) = cache.glob(f"outcomes-*/{FILE}")
    return file


def test_the_next_build_asks_nothing_again(tmp_path: Path, calls: Calls) -> None:
    """Only what is new is worked out, and the file stays as it is when nothing is."""
    assert build(tmp_path, "a", "b", "a") == [["A"], ["B"], ["A"]]
    assert calls == ["a", "b"]
    written = file_of(tmp_path).stat().st_ino
    assert build(tmp_path, "a", "b") == [["A"], ["B"]]
    assert calls == ["a", "b"]
    assert file_of(tmp_path).stat().st_ino == written
    build(tmp_path, "b", "c")
    assert calls == ["a", "b", "c"]


def test_what_was_not_asked_is_let_go(tmp_path: Path, calls: Calls) -> None:
    """The file holds the last build's answers, nothing older."""
    for text in ("a", "b", "a"):
        build(tmp_path, text)
    assert calls == ["a", "b", "a"]


def test_a_preview_forgets_after_two_rebuilds(tmp_path: Path, calls: Calls) -> None:
    """One process with many builds keeps what is asked every time and does not grow."""
    kept = KeptAnswers(tmp_path)
    for text in ("1", "2", "3", "1"):
        build(tmp_path, "always", text, kept=kept)
    assert calls == ["always", "1", "2", "3", "1"]


@pytest.mark.parametrize(
    "spoil",
    [
        lambda text: b"",
        lambda text: text[:-9],
        lambda text: text.replace(b'"A"', b'"Z"'),
        lambda text: check_line(b"[1, 2]") + b"[1, 2]",
        lambda text: check_line(b"7") + b"7",
    ],
    ids=["empty", "cut", "altered", "strange", "no list"],
)
def test_a_spoiled_file_is_not_believed(
    tmp_path: Path, calls: Calls, spoil: Callable[[bytes], bytes]
) -> None:
    """It is made anew, and no build fails by it."""
    build(tmp_path, "a")
    good = file_of(tmp_path).read_bytes()
    file_of(tmp_path).write_bytes(spoil(good))
    assert build(tmp_path, "a") == [["A"]]
    assert calls == ["a", "a"]
    assert file_of(tmp_path).read_bytes() == good


def test_another_program_answers_anew(
    tmp_path: Path, calls: Calls, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its sources, the libraries it names and its Python are part of every answer."""
    build(tmp_path, "a")
    digests = {program_digest()}
    monkeypatch.setattr(answers, "version", lambda name: f"{name} of tomorrow")
    program_digest.cache_clear()
    digests.add(program_digest())
    build(tmp_path, "a")
    assert calls == ["a", "a"]
    monkeypatch.setattr(answers.sys, "version", "3.99")
    program_digest.cache_clear()
    digests.add(program_digest())
    (tmp_path / "__init__.py").write_text("")
    monkeypatch.setattr(answers.witnessmark, "__file__", str(tmp_path / "__init__.py"))
    for text in ("", "# one more line\n"):
        (tmp_path / "page.py").write_text(text)
        program_digest.cache_clear()
        digests.add(program_digest())
    assert len(digests) == 5
    program_digest.cache_clear()


def test_a_cache_that_cannot_be_written_is_no_fault(tmp_path: Path, calls: Calls) -> None:
    """A file stands where the folder should be."""
    (tmp_path / "cache").write_text("")
    assert build(tmp_path / "cache", "a") == [["A"]]
