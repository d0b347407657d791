"""What converting a page has told of it, as plain data, and back again."""

from __future__ import annotations

from typing import Any

from witnessmark.databook import Scope
from witnessmark.page.asked import asked_on
from witnessmark.page.context import PageContext


def as_plain(context: PageContext) -> dict[str, Any]:
    """Everything that is asked of the context of a page once the page is converted."""
    used = context.used
    return {
        "text": context.text,
        "values": {
            name: sorted([scope.machine, scope.variant] for scope in scopes)
            for name, scopes in used.values.items()
        },
        "calculators": sorted(used.calculators),
        "modules": sorted(used.modules),
        "sections": context.sections,
        "asked": asked_on(context),
    }


def take_plain(context: PageContext, plain: dict[str, Any]) -> None:
    """Put the context of a page in the state in which ``as_plain`` saw it."""
    context.text = plain["text"]
    context.used.values = {
        name: {Scope(*scope) for scope in scopes} for name, scopes in plain["values"].items()
    }
    context.used.calculators = set(plain["calculators"])
    context.used.modules = set(plain["modules"])
    context.sections = dict(plain["sections"])
    context.asked = plain["asked"]
