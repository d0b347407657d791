"""What the forms of a page ask, as plain data: which calculator or which limits, and what the page
itself enters. A record of a job is held against it.
"""

from __future__ import annotations

from typing import Any

from witnessmark.page.context import PageContext

Asked = dict[str, dict[str, Any]]


def asked_on(page: PageContext) -> Asked:
    """The forms of a rendered page by their identity.

    A reading is what it is judged by, {"reading", "kind", "unit", …}; a calculator is
    {"calculator": name, "entries": {name: text}, "fixed": [names]}, without the entries that
    another calculator feeds or that a tool of the shop may settle.
    """
    if page.asked is not None:
        return page.asked
    asked: Asked = {ident: dict(request) for ident, request in page.readings.items()}
    for placed in (page.placed_calculators or {}).values():
        settled = {entry for place in placed.calculator.tools.values() for entry in place.gives}
        for worked in placed.worked:
            own = {
                name: part["text"]
                for name, part in worked.outcome["entries"].items()
                if name not in worked.fed and name not in settled
            }
            fixed = sorted(name for name in own if placed.head.is_fixed(name, worked.setting))
            asked[f"wm-{worked.ident}"] = {
                "calculator": placed.calculator.name, "entries": own, "fixed": fixed,
            }  # fmt: skip
    return asked
