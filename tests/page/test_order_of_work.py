"""The procedures of the demonstration are one chain, which an engine walks from door to door."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.page.builders import context_of, data_book
from witnessmark.databook import Scope, load_databook
from witnessmark.faults import Faults
from witnessmark.page import (
    FrontMatter,
    PageEntry,
    PageIndex,
    read_front_matter,
    render_procedure_head,
)

ROOT = Path(__file__).resolve().parents[2]
FIRST, LAST = "receiving-and-identification", "close-out-and-record"
FOR_TOOLS = {"torque-wrench-care"}
BOOK = load_databook(ROOT / "docs/databook", Faults(), ROOT)


def procedures() -> dict[str, FrontMatter]:
    """Every procedure of this repository by name."""
    heads = {
        path.stem: read_front_matter(path.read_text("utf-8"), path.name, Faults())
        for path in (ROOT / "docs/procedures").glob("*.md")
    }
    return {name: head for name, head in heads.items() if head.is_procedure}


PAGES = procedures()


def for_engine(engine: Scope) -> set[str]:
    """The procedures of the job that are for the engine."""
    return {
        name
        for name, head in PAGES.items()
        if engine in BOOK.scopes(head.machine_names, head.variant_names)
    } - FOR_TOOLS


def ways(name: str, engine: Scope, before: tuple[str, ...] = ()) -> list[tuple[str, ...]]:
    """Every walk from ``name`` to an end through procedures that are for the engine."""
    assert name not in before, f"{name} is reached a second time"
    walked = (*before, name)
    following = [item.name for item in PAGES[name].named("next") if item.name in for_engine(engine)]
    return [way for each in following for way in ways(each, engine, walked)] or [walked]


@pytest.mark.parametrize("engine", BOOK.scopes(), ids=str)
def test_every_walk_leads_from_receiving_to_close_out(engine):
    """Whichever way is taken; and no procedure for the engine stands aside."""
    walks = ways(FIRST, engine)
    assert {way[-1] for way in walks} == {LAST}
    assert {name for way in walks for name in way} == for_engine(engine)


def test_the_chain_is_told_alike_from_both_ends():
    """What one page goes on to comes after it."""
    forth = {(name, item.name) for name, head in PAGES.items() for item in head.named("next")}
    back = {(item.name, name) for name, head in PAGES.items() for item in head.named("after")}
    assert forth == back
    assert not PAGES[FIRST].named("after")


def test_every_procedure_stands_in_the_overview_and_in_the_navigation():
    """In the order of the work."""
    overview = (ROOT / "docs/procedures/index.md").read_text("utf-8")
    navigation = (ROOT / "mkdocs.yml").read_text("utf-8")
    for text in (overview, navigation):
        places = {name: text.find(f"{name}.md") for name in PAGES}
        assert [name for name, place in places.items() if place < 0] == []
        for name, head in PAGES.items():
            for item in head.named("next"):
                assert places[name] < places[item.name], f"{item.name} stands before {name}"


def test_a_link_to_a_procedure_for_some_engines_says_so(tmp_path):
    """And goes with the other passages when another engine is chosen."""
    context = context_of(
        "---\ntitle: Locker\nmachines: [LG2, LG3]\nnext: [nut, ring, both, words]\n---\n",
        data_book(tmp_path),
    )
    context.pages = PageIndex.of([
        PageEntry("nut.md", "The nut", ("LG2",)),
        PageEntry("ring.md", "The ring", ("LG3",), ("canal",)),
        PageEntry("both.md", "Both", ("LG2", "LG3")),
        PageEntry("words.md", "Words"),
    ])  # fmt: skip
    plate = render_procedure_head(context)[-1]
    told = {
        item.findtext("a"): (item.get("data-wm-scopes"), item.findtext("span"))
        for item in plate.iter("dd")
    }
    assert told == {
        "The nut": ("LG2/canal LG2/stationary", " (LG2)"),
        "The ring": ("LG3/canal", " (LG3 canal)"),
        "Both": (None, None),
        "Words": (None, None),
    }
