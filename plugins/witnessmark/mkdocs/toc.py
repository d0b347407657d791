"""The contents of a page as plain data, and back again."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import Any


def tokens(links: Iterable[Any]) -> list[dict[str, Any]]:
    """A table of contents as Markdown gave it to the site generator."""
    return [
        {"name": each.title, "id": each.id, "level": each.level, "children": tokens(each.children)}
        for each in links
    ]


def of_tokens(plain: list[dict[str, Any]], page: type[Any]) -> Any:
    """The table of contents for pages of the class ``page``: MkDocs' or its fork's."""
    generator = page.__module__.partition(".")[0]
    return sys.modules[f"{generator}.structure.toc"].get_toc(plain)
