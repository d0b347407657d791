"""Findings as HTML: those a calculator gives, and boxes of the same look an author writes.

A finding is told apart by its word, by the weight of its rule and by the shape of its icon;
colour comes last.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.page.elements import Html, element, join, text
from witnessmark.page.icons import icon

WORDS = {"note": "Note", "caution": "Caution", "stop": "Stop"}


def _word(level: str) -> Html:
    return element("b", {"class": "wm-finding-word"}, text(f"{WORDS[level]}."))


def findings_list(findings: Iterable[Mapping[str, Any]]) -> Html:
    """The findings of an outcome, in its order; an empty list stays in the page as a place."""
    return element(
        "ul",
        {"class": "wm-findings"},
        *(
            element(
                "li",
                {"class": f"wm-finding wm-{finding['level']}", "data-code": finding["code"]},
                icon(finding["level"]),
                element(
                    "div",
                    {"class": "wm-finding-body"},
                    _word(finding["level"]),
                    text(f" {finding['text']}"),
                ),
            )
            for finding in findings
        ),
    )


def finding_box(level: str, body: str) -> Html:
    """A box in the running text; ``body`` is finished HTML, its first paragraph takes the word."""
    word = join(_word(level), text(" "))
    opened = re.match(r"\s*<p[^>]*>", body)
    end = opened.end() if opened else 0
    return element(
        "div",
        {"class": f"wm-finding wm-{level}", "role": "note"},
        icon(level),
        element(
            "div", {"class": "wm-finding-body"}, Html(body[:end]), word, Html(body[end:].rstrip())
        ),
    )
