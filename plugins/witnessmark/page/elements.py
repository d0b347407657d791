"""HTML elements as nested function calls, so that every text on its way out is escaped."""

from __future__ import annotations

from html import escape
from typing import NewType

Html = NewType("Html", str)
"""Markup that is finished: already escaped, safe to put into a page."""

_WITHOUT_END = frozenset({"input", "br", "hr", "img"})

Attribute = str | int | bool | None
Child = Html | None


def text(content: str) -> Html:
    """Plain text as markup."""
    return Html(escape(content, quote=False))


def join(*children: Child) -> Html:
    """Markup after markup; None stands for nothing."""
    return Html("".join(child for child in children if child))


def element(tag: str, attributes: dict[str, Attribute], *children: Child) -> Html:
    """One element.

    An attribute that is None or False is left out, one that is True is written bare.
    """
    written = []
    for name, value in attributes.items():
        if value is None or value is False:
            continue
        written.append(f" {name}" if value is True else f' {name}="{escape(str(value))}"')
    head = f"<{tag}{''.join(written)}>"
    if tag in _WITHOUT_END:
        return Html(head)
    return Html(f"{head}{join(*children)}</{tag}>")
