"""Words and marks that all generated pages are written with, as Markdown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from witnessmark.calc import Source

KIND_WORDS = {
    "standard": "standard",
    "handbook": "handbook",
    "paper": "paper",
    "dataset": "data set",
    "derivation": "worked out independently",
    "common practice": "common practice, no published source",
    "from memory": "from memory, not read again",
}


def front_matter(title: str, description: str) -> str:
    """Front matter of a generated page."""
    quoted = description.replace('"', "'")
    return f'---\ntitle: "{title}"\ndescription: "{quoted}"\n---\n'


def plain(text: str) -> str:
    """Text inside a Markdown table cell or list item: no bar, no brace, no markup of its own."""
    marks = {"|": "&#124;", "{": "&#123;", "}": "&#125;", "*": "&#42;", "_": "&#95;", "`": "&#96;"}
    return "".join(marks.get(mark, mark) for mark in escape(text, quote=False)).replace("\n", " ")


def markdown_table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table of finished cells."""
    lines = [f"| {' | '.join(head)} |", f"|{'---|' * len(head)}"]
    lines += [f"| {' | '.join(row)} |" for row in rows]
    return "\n".join(lines) + "\n"


def source_text(source: Source) -> str:
    """A source with its clause, and its kind where that is not plain from the title."""
    clause = f", {source.clause}" if source.clause else ""
    words = KIND_WORDS[source.kind]
    published = source.kind in ("standard", "handbook", "paper", "dataset")
    return source.title + clause + ("" if published else f" ({words})")


def source_list(sources: Sequence[Source]) -> str:
    """Sources as a list."""
    lines = [f"- {plain(source_text(source))}" for source in sources]
    return "\n".join(lines) + "\n" if lines else "None is named.\n"
