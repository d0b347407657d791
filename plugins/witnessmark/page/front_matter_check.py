"""Whether the names in a procedure's front matter exist: machines, tools, pages."""

from __future__ import annotations

from collections.abc import Iterable

from witnessmark.faults import nearest
from witnessmark.page.context import PageContext
from witnessmark.page.front_matter import Named

TITLED = ("tools", "consumables", "hazards")
"""Keys whose names have a title in the data book: ``tools.reaction_bar.title``."""


def check_front_matter(context: PageContext) -> None:
    """Note every name of the front matter that nothing answers to."""
    front, book = context.front, context.book
    if not front.is_procedure:
        return
    _known(context, "machines", book.machines, "a machine of the data book")
    if not front.machine_names:
        context.fault(
            front.lines["machines"], "machines", "no machine", "one machine at least",
            code="no-machine",
        )  # fmt: skip
    variants = {
        variant
        for machine in front.machine_names
        if machine in book.machines
        for variant in book.machines[machine].variants
    }
    _known(context, "variants", sorted(variants), "a variant of the page's machines")
    for key in TITLED:
        known = sorted(
            name.split(".")[1]
            for name in book.names
            if name.startswith(f"{key}.") and name.endswith(".title")
        )
        _known(context, key, known, f"a name that the data book has under '{key}'")
        for item in front.named(key):
            if item.name in known:
                title_of(context, key, item)
    for key in ("after", "next"):
        for item in front.named(key):
            if context.pages.find(item.name, context.uri) is None:
                context.fault(
                    item.line, key, f"the page '{item.name}'", "the name of a page",
                    nearest=context.pages.nearest(item.name), code="unknown-page",
                )  # fmt: skip


def title_of(context: PageContext, key: str, item: Named) -> str:
    """The title of a tool, consumable or hazard; a fault when a machine in question has none."""
    name = f"{key}.{item.name}.title"
    missing = context.book.missing(name, context.scopes)
    if name not in context.book.values:  # told by check_front_matter
        return item.name
    if missing:
        context.fault(
            item.line, key, f"'{item.name}' without a title for {missing[0]}",
            f"'{name}' in the data book", code="no-title",
        )  # fmt: skip
        return item.name
    context.uses_value(name, context.scopes)
    held = context.book.across(name, context.scopes)
    if len(held) == 1:
        return held[0].value.text
    return ", ".join(f"{part.value.text} ({part.label})" for part in held)


def _known(context: PageContext, key: str, known: Iterable[str], what: str) -> None:
    names = list(known)
    for item in context.front.named(key):
        if item.name not in names:
            listed = f"{what}: {', '.join(names)}" if 0 < len(names) <= 8 else what
            context.fault(
                item.line, key, f"'{item.name}'", listed,
                nearest=nearest(item.name, names), code="unknown-name",
            )  # fmt: skip
