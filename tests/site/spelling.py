"""British spelling of what readers are shown, by Hunspell's rules and the SCOWL word list.

What is no prose is left out by how it is marked: code, formulas, what ``translate="no"``
excludes, revisions on paper. Of the rest, parts of units and of signs are no words, nor are
designations in capitals or with one inside. Words of the trade and names stand in
``trade_words.txt``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

from spylls.hunspell import Dictionary

from witnessmark.calc.units import UNITS

ROOT = Path(__file__).resolve().parents[2]
WORD_LIST = ROOT / "node_modules/dictionary-en-gb/index"
TRADE_WORDS = Path(__file__).with_name("trade_words.txt")

SILENT = {"code", "kbd", "math", "pre", "samp", "script", "style"}
SILENT_CLASSES = {"arithmatex", "wm-paper"}
EMPTY = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source",
         "track", "wbr"}  # fmt: skip
SPOKEN = ("alt", "aria-label", "placeholder", "title")
"""Attributes that are read to somebody."""

_PIECE = re.compile(r"[^\s,;:!?()\[\]{}<>“”„\"…/=+×·*|→←−–—]+")
_WORD = re.compile(r"[A-Za-zÀ-ÖØ-öø-ÿ]+(?:'[A-Za-z]+)?")
_DESIGNATION = re.compile(r"^[A-Z]+$|[a-z][A-Z]")
_FENCE = re.compile(r"^(`{3,}|~{3,}).*?^\1\s*$", re.DOTALL | re.MULTILINE)
_MARKED = re.compile(r"`[^`]*`|\]\([^)]*\)|https?://\S+|<[^>]*>|\{[^{}\n]*\}")


@dataclass(frozen=True)
class Misspelling:
    """A word that is in no list, and where it stands."""

    page: str
    place: str
    word: str

    def __str__(self) -> str:
        near = ", ".join(list(_dictionary().suggest(self.word))[:3])
        return f"{self.page}, {self.place}: '{self.word}' (perhaps {near or 'a word of the trade'})"


def misspelt_on_page(html: str, page: str) -> list[Misspelling]:
    """Wrong words of a built page, each once for a place: the heading above it and its line."""
    reader = _Prose()
    reader.feed(html)
    return [
        Misspelling(page, f"under “{heading}”, in “{_short(text)}”", word)
        for heading, text in reader.said
        for word in misspelt(text)
    ]


def misspelt_in_markdown(text: str, name: str) -> list[Misspelling]:
    """Wrong words of a file of Markdown, by line."""
    blank = _FENCE.sub(lambda found: "\n" * found[0].count("\n"), text)
    return [
        Misspelling(name, f"line {number}", word)
        for number, line in enumerate(blank.split("\n"), 1)
        for word in misspelt(_MARKED.sub(" ", line))
    ]


def misspelt(text: str) -> Iterator[str]:
    """The words of a text that are in no list."""
    for piece in _PIECE.findall(text.replace("’", "'").replace("\u00ad", "")):
        for part in piece.strip(".'%°").split("-"):
            word = part.strip(".'")
            if len(word) > 1 and _WORD.fullmatch(word) and not _known(word):
                yield word


@cache
def _known(word: str) -> bool:
    if word in _signs() or _DESIGNATION.search(word):
        return True
    bare = word.removesuffix("'s")
    return any(each in trade_words() or in_dictionary(each) for each in (word, bare, bare.lower()))


def in_dictionary(word: str) -> bool:
    """Whether the word list has a word, in one of the forms its rules allow."""
    return bool(_dictionary().lookup(word))


@cache
def trade_words() -> frozenset[str]:
    """Words of the trade and names, as they are written within a sentence."""
    return frozenset(TRADE_WORDS.read_text("utf-8").split())


@cache
def _signs() -> frozenset[str]:
    """What units are made of."""
    spellings = [text for key, unit in UNITS.items() for text in (key, *unit.aliases)]
    return frozenset(part for text in spellings for part in re.findall(r"[A-Za-z]+", text))


@cache
def _dictionary() -> Dictionary:
    return Dictionary.from_files(str(WORD_LIST))


def _short(text: str) -> str:
    tidy = " ".join(text.split())
    return tidy if len(tidy) <= 60 else f"{tidy[:60]} …"


class _Prose(HTMLParser):
    """The texts of the article of a page, each with the heading above it."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[tuple[str, str]] = []
        self._open: list[tuple[str, bool]] = []
        self._silent = 0
        self._inside = False
        self._heading = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self._inside |= tag == "article"
        classes = set((given.get("class") or "").split())
        silent = tag in SILENT or bool(classes & SILENT_CLASSES) or given.get("translate") == "no"
        if not (silent or self._silent):
            for name in SPOKEN:
                self._say(given.get(name) or "")
        if tag not in EMPTY:
            self._open.append((tag, silent))
            self._silent += silent
        if tag in ("h1", "h2", "h3"):
            self._heading = ""

    def handle_endtag(self, tag: str) -> None:
        while self._open:
            name, silent = self._open.pop()
            self._silent -= silent
            if name == tag:
                break
        self._inside &= tag != "article"

    def handle_data(self, data: str) -> None:
        if not self._silent:
            if any(tag in ("h1", "h2", "h3") for tag, _ in self._open):
                self._heading = (self._heading + data).strip(" ¶")
            self._say(data)

    def _say(self, text: str) -> None:
        if self._inside and text.strip():
            self.said.append((self._heading, text))
