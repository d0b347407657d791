"""The head of a page: which machines a procedure is for, what it takes, what comes next."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from witnessmark.databook.yaml_source import Entry, Listing, Mapping, Scalar, describe, read_yaml
from witnessmark.faults import Faults, nearest

TEXT_KEYS = ("title", "summary", "time", "people")
LIST_KEYS = (
    "machines", "variants", "tools", "consumables", "hazards", "after", "next", "figures",
)  # fmt: skip
ANY_PAGE_KEYS = ("figures",)
ENGINE_KEYS = ("tools", "consumables", "hazards")
"""Lists in which a name may be for some engines only: ``o_rings | canal``."""
PROCEDURE_KEYS = (
    "title", "summary", "machines", "variants", "tools", "consumables", "time", "people",
    "hazards", "after", "next", "figures",
)  # fmt: skip
SITE_KEYS = ("template", "hide", "search", "description", "icon", "tags", "status")
"""Keys that belong to the site generator and its theme."""

_HEAD = re.compile(r"---[ \t]*\n(?P<yaml>.*?\n)??(?:\.{3}|-{3})[ \t]*(?:\n|$)", re.DOTALL)


@dataclass(frozen=True)
class Named:
    """A name out of the front matter with its line; ``only`` is for which engines it holds."""

    name: str
    line: int
    only: str = ""


@dataclass
class FrontMatter:
    """The front matter of a page. A page that names machines is a procedure.

    ``body_line`` is the line on which the page's text begins.
    """

    file: str = ""
    title: str = ""
    summary: str = ""
    time: str = ""
    people: str = ""
    lists: dict[str, tuple[Named, ...]] = field(default_factory=dict)
    lines: dict[str, int] = field(default_factory=dict)
    body_line: int = 1

    @property
    def is_procedure(self) -> bool:
        """Whether the page names machines."""
        return "machines" in self.lines

    @property
    def machine_names(self) -> tuple[str, ...]:
        """The machines it covers."""
        return tuple(item.name for item in self.named("machines"))

    @property
    def variant_names(self) -> tuple[str, ...]:
        """The variants it covers; empty for all."""
        return tuple(item.name for item in self.named("variants"))

    def named(self, key: str) -> tuple[Named, ...]:
        """The names under a key, in order."""
        return self.lists.get(key, ())


@dataclass(frozen=True)
class ReadFront:
    """The front matter of a page's text, read once, and the faults of form found in it."""

    text: str
    front: FrontMatter
    faults: Faults

    @classmethod
    def of(cls, text: str, file: str) -> ReadFront:
        """Read the whole ``text`` of a page; a byte order mark and line ends do not count."""
        faults = Faults()
        plain = text.removeprefix("\ufeff").replace("\r\n", "\n")
        return cls(text, read_front_matter(plain, file, faults), faults)


def read_front_matter(text: str, file: str, faults: Faults) -> FrontMatter:
    """The front matter of a page's whole ``text``; faults of form go to ``faults``.

    Whether the names in it exist is for ``check_front_matter`` to say, when the data book
    and all the pages are known.
    """
    front = FrontMatter(file)
    match = _HEAD.match(text)
    if match is None:
        if re.match(r"---[ \t]*\n[A-Za-z_-]+[ \t]*:", text):
            faults.add(
                file, 1, "front matter", "a head that is not closed",
                "'---' on a line of its own behind it", code="open-front-matter",
            )  # fmt: skip
        return front
    body = text[match.end() :]
    blank = len(body) - len(body.lstrip("\n"))
    front.body_line = text.count("\n", 0, match.end() + blank) + 1
    node = read_yaml(match["yaml"] or "", file, faults, first_line=2)
    if isinstance(node, Mapping):
        for entry in node:
            _take(entry, front, faults)
        _unknown_keys(node, front, faults)
    elif node is not None:
        faults.add(
            file, node.line, "front matter", describe(node), "keys with values", code="no-keys"
        )
    return front


def _take(entry: Entry, front: FrontMatter, faults: Faults) -> None:
    key, value = entry.key, entry.value
    if key in TEXT_KEYS:
        front.lines[key] = entry.line
        if isinstance(value, Scalar) and not value.empty:
            setattr(front, key, value.text)
        else:
            found = describe(value)
            faults.add(front.file, entry.line, key, found, "a text", code="no-text")
    elif key in LIST_KEYS:
        front.lines[key] = entry.line
        items = value.items if isinstance(value, Listing) else (value,)
        names: list[Named] = []
        for item in items:
            if not isinstance(item, Scalar) or item.empty:
                faults.add(
                    front.file, item.line, key, describe(item), "a name, or a list of names",
                    code="no-name",
                )  # fmt: skip
                continue
            name, only = _name_and_engines(key, item.text)
            if name in [named.name for named in names]:
                faults.add(
                    front.file, item.line, key, f"'{name}' a second time", "each name once",
                    code="duplicate-name",
                )  # fmt: skip
            else:
                names.append(Named(name, item.line, only))
        front.lists[key] = tuple(names)


def _name_and_engines(key: str, text: str) -> tuple[str, str]:
    """``o_rings | canal`` is a name and the engines that it is for."""
    if key not in ENGINE_KEYS:
        return text, ""
    name, _, only = text.partition("|")
    return name.strip(), only.strip()


def _unknown_keys(node: Mapping, front: FrontMatter, faults: Faults) -> None:
    """Unknown keys of a procedure; on other pages only those that look like a procedure's."""
    known = (*PROCEDURE_KEYS, *SITE_KEYS)
    for entry in node:
        if entry.key in known:
            continue
        near = nearest(entry.key, known)
        if front.is_procedure or near in PROCEDURE_KEYS:
            faults.add(
                front.file, entry.line, entry.key, f"the key '{entry.key}'",
                f"one of {', '.join(known)}", nearest=near, code="unknown-key",
            )  # fmt: skip
    if front.is_procedure:
        return
    for key in (*LIST_KEYS, "time", "people"):
        if key in front.lines and key not in ANY_PAGE_KEYS:
            faults.add(
                front.file, front.lines[key], key, f"'{key}' on a page without 'machines'",
                "'machines:' with the machines the procedure is for", code="no-machines",
            )  # fmt: skip
