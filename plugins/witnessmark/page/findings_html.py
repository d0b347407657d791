"""Findings of a calculator as HTML; boxes an author writes have the same look (``blocks.finding``).

A finding is told apart by its word, by the weight of its rule and by the shape of its icon;
colour comes last.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.page.elements import Html, element, text
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
