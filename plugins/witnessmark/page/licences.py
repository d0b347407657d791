"""The page with the licence notices of what a built site hands on, as Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from html import escape
from typing import Protocol

LICENCES_URI = "reference/licences.md"

_HEAD = """\
---
title: Licences
description: "What this site is made of, and the licences it comes under."
search:
  exclude: true
---
# Licences

The words, values and calculators of this handbook belong to the shop. The site also carries the parts below; their licences come with them.
"""  # noqa: E501 - a paragraph of Markdown is a line


class Notice(Protocol):
    """A part of the site and its licence."""

    @property
    def name(self) -> str:
        """What it is called."""

    @property
    def version(self) -> str:
        """Its version, or an empty text."""

    @property
    def purpose(self) -> str:
        """What it is there for."""

    @property
    def texts(self) -> Sequence[str]:
        """Its licences in full."""

    @property
    def parts(self) -> Sequence[str]:
        """What is inside it under licences of its own."""


def licences_page(notices: Iterable[Notice]) -> str:
    """The page, a section for each part."""
    lines = [_HEAD]
    for notice in notices:
        lines.append(f"## {_name(f'{notice.name} {notice.version}'.rstrip())}\n")
        lines.append(f"For {notice.purpose}.\n")
        if notice.parts:
            lines.append("Inside it:\n")
            lines += [f"- {_name(_plain(part))}" for part in notice.parts]
            lines.append("")
        # Each on lines of its own: what follows </pre> on its line would be read as text.
        texts = "\n".join(f"<pre>{_plain(text.strip())}</pre>" for text in notice.texts)
        lines.append(f"<details><summary>Licence</summary>\n{texts}\n</details>\n")
    return "\n".join(lines)


def _name(text: str) -> str:
    """Names of programs and people, which nobody translates or spells otherwise."""
    return f'<span translate="no">{text}</span>'


def _plain(text: str) -> str:
    """A text that neither Markdown nor the reader of values takes for more than text."""
    marks = {"{": "&#123;", "}": "&#125;", "/": "&#47;", "\r": ""}
    safe = "".join(marks.get(mark, mark) for mark in escape(text, quote=False))
    return re.sub("^ ", "&#32;", safe, flags=re.MULTILINE)  # no indent: it could be a list's
