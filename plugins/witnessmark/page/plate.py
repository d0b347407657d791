"""The plate under a procedure's title: for which engines, what to have ready, what comes next."""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement

from witnessmark.databook import Scope, label_of
from witnessmark.page.context import PageContext
from witnessmark.page.front_matter_check import title_of

_ROWS = (
    ("tools", "Have ready"),
    ("consumables", "Use up"),
    ("hazards", "Beware of"),
)


def render_procedure_head(context: PageContext) -> list[Element]:
    """The parts of the plate: for which machines, and the list of what the work takes.

    Links go to the Markdown files of the pages; the site generator turns them into addresses.
    """
    front = context.front
    engines = " ".join(scope.key for scope in context.scopes)
    plate = Element("div", {"class": "wm-plate", "data-wm-engines": engines})
    covers = SubElement(plate, "p", {"class": "wm-covers"})
    covers.text = "For "
    machines = SubElement(covers, "b")
    machines.text = _enumerated(front.machine_names)
    machines.tail = f", {_enumerated(front.variant_names)}" if front.variant_names else ""
    if len(context.scopes) > 1:
        SubElement(plate, "wm-engine", {"data-wm-engines": engines})
    parts = [plate]
    if front.summary:
        summary = Element("p", {"class": "wm-summary"})
        summary.text = front.summary
        parts.insert(0, summary)
    ready = Element("dl", {"class": "wm-ready"})
    for key, label in _ROWS:
        named = front.named(key)
        places = _row(ready, label, [title_of(context, key, item) for item in named], key)
        for item, place in zip(named, places, strict=True):
            if item.only:
                held = context.scopes_called(item.only, item.line, f"{key}: {item.name}")
                _only_for(place, held, context)
    _row(ready, "Takes", [part for part in (front.time, front.people) if part], "time")
    for key, label in (("after", "Comes after"), ("next", "Then go on to")):
        _links(ready, context, key, label)
    if len(ready):
        parts.append(ready)
    return parts


def _row(ready: Element, label: str, texts: list[str], kind: str) -> list[Element]:
    """The places of the texts, in a row of their own; no row without a text."""
    if not texts:
        return []
    row = SubElement(ready, "div", {"class": f"wm-ready-{kind}"})
    SubElement(row, "dt").text = label
    places = []
    for text in texts:
        place = SubElement(row, "dd")
        place.text = text
        places.append(place)
    return places


def _links(ready: Element, context: PageContext, key: str, label: str) -> None:
    pages = [context.pages.find(item.name, context.uri) for item in context.front.named(key)]
    found = [page for page in pages if page is not None]
    if not found:
        return
    row = SubElement(ready, "div", {"class": f"wm-ready-{key}"})
    SubElement(row, "dt").text = label
    for page in found:
        item = SubElement(row, "dd")
        link = SubElement(item, "a")
        link.set("href", context.pages.link(page, context.uri))
        link.text = page.title
        if page.machines:
            theirs = context.book.scopes(page.machines, page.variants)
            _only_for(item, tuple(scope for scope in context.scopes if scope in theirs), context)


def _only_for(item: Element, held: tuple[Scope, ...], context: PageContext) -> None:
    """Name the engines that a line of the plate is for, where it is not for all of the page."""
    label = label_of(held, context.scopes)
    if held and label:
        item.set("data-wm-scopes", " ".join(scope.key for scope in held))
        SubElement(item, "span", {"class": "wm-whom"}).text = f" ({label})"


def _enumerated(names: tuple[str, ...]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
