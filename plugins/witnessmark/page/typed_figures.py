"""Figures with a unit that stand typed in the words of a page.

A figure in a sentence belongs to the data book or to a calculator, so that it stands in one
place. Whatever else has the form of a number with a unit is a fault, unless the head of the
page names it under ``figures:`` as one that is no data::

    figures: [0°, 120°, 240°]

A designation that looks like a figure (the thread class 6g) is named there, too.
Entries of calculators are left alone: they are the calculator's own. So is code, which shows
how something is written, and the plate's ``time:``.
"""

from __future__ import annotations

import re
from functools import cache

from witnessmark.calc.units import UNITS
from witnessmark.faults import Faults
from witnessmark.page.blocks import BUILDERS
from witnessmark.page.front_matter import FrontMatter, Named, read_front_matter
from witnessmark.page.source import TOKEN, PageSource, SourceBlock, SourceReader

KEY = "figures"
"""The key of the front matter for figures that are no data."""

NUMBERS_ONLY = "calculator"
"""The block whose body holds entries, not words."""

_NUMBER = r"(?<![\w.,/])[-−+]?\d+(?:[.,]\d+)*(?:[ ]?\d*/\d+)?"
_SILENT = re.compile(r"`[^`]*`|<!--.*?-->|\]\([^)]*\)|\{[^{}]*\}|https?://\S+")
_AS_A_WORD = frozenset({"in"})
"""Units that are also words: they count before a mark or at the end of a line."""


def check_figures(text: str, file: str, faults: Faults) -> None:
    """Note every figure with a unit that is typed in the words of a page.

    ``text`` is the page's whole source.
    """
    front = read_front_matter(text, file, Faults())
    allowed = {_tidy(item.name): item for item in front.named(KEY)}
    met: set[str] = set()
    for line, words in _words(text, front):
        for figure in figures_in(words):
            if _tidy(figure) in allowed:
                met.add(_tidy(figure))
                continue
            faults.add(
                file, line, f"'{figure}'", "a figure typed in the words",
                "{name.of.value} from the data book or {calculator.result | entry: value}; if it "
                f"is no data, '{KEY}: [{figure}]' in the head of the page",
                code="typed-figure",
            )  # fmt: skip
    _check_allowed([item for key, item in allowed.items() if key not in met], front, faults)


def figures_in(words: str) -> list[str]:
    """The numbers with units in a line of words, as they are written."""
    return [match[0] for match in _figure().finditer(_SILENT.sub(" ", TOKEN.sub(" ", words)))]


def _check_allowed(unmet: list[Named], front: FrontMatter, faults: Faults) -> None:
    """A figure that is allowed and nowhere to be found hides the next slip."""
    for item in unmet:
        faults.add(
            front.file, item.line, KEY, f"'{item.name}', which stands nowhere on the page",
            "only figures that stand in the words", code="unused-figure",
        )  # fmt: skip


@cache
def _figure() -> re.Pattern[str]:
    words = {word for unit in UNITS.values() for word in unit.aliases if _is_a_word(word)}
    spellings = sorted({*filter(None, UNITS), *words}, key=len, reverse=True)
    units = "|".join(
        re.escape(text) + (r"(?=[.,;:)]|\s*$)" if text in _AS_A_WORD else "") for text in spellings
    )
    return re.compile(rf"{_NUMBER}[ \u00a0\u202f]?(?:{units})(?![\w/·²³])")


def _is_a_word(alias: str) -> bool:
    """Whether a spelling is a word (``minutes``); a letter or two may mean anything."""
    return alias.isalpha() and alias.islower() and len(alias) > 2


def _tidy(figure: str) -> str:
    return re.sub(r"\s", "", figure).replace("−", "-")


def _words(text: str, front: FrontMatter) -> list[tuple[int, str]]:
    """The lines of a page that are words, each with its number in the file."""
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").split("\n")
    reader = SourceReader(
        file=front.file,
        shapes={name: builder.shape for name, builder in BUILDERS.items()},
        foreign=(),
        line_of=lambda index: front.body_line + index,
        faults=Faults(),
        stray=lambda text, line: None,
    )
    page = reader.read(lines[front.body_line - 1 :])
    head = [(front.lines[key], getattr(front, key)) for key in ("title", "summary", "people")
            if key in front.lines]  # fmt: skip
    rows = [(row.line, row.text) for row in reader.rows if not row.code]
    return sorted([*head, *rows, *_block_words(page)])


def _block_words(page: PageSource) -> list[tuple[int, str]]:
    """Titles of blocks, and the bodies that hold words."""
    titles = [(block.line, block.argument) for block in page.blocks]
    bodies = [
        (block.body_line + number, line)
        for block in page.blocks
        if _holds_words(block)
        for number, line in enumerate(block.body)
    ]
    return titles + bodies


def _holds_words(block: SourceBlock) -> bool:
    return BUILDERS[block.name].shape.raw and block.name != NUMBERS_ONLY
