"""YAML as it stands in the source: texts with their line numbers, and no guessing.

The values of a workshop are texts such as ``480 N·m ± 4 %``, ``M30x2``, ``on`` or
``2026-11-12``. YAML would turn some of them into numbers, truth values and dates. Here a
scalar stays the text the author wrote, and everything keeps its line, so that a fault can
name the place. What makes a file hard to read at a glance - anchors, aliases, merge keys,
tags - is refused, and so is a key that stands twice.

The data book, the front matter of a procedure and the head of a block are all read here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import yaml

from witnessmark.faults import Faults


@dataclass(frozen=True)
class Scalar:
    """A text. ``empty`` is true when nothing was written (or ``null`` or ``~``)."""

    text: str
    line: int
    empty: bool = False


@dataclass(frozen=True)
class Listing:
    """A sequence of nodes."""

    items: tuple[Node, ...]
    line: int


@dataclass(frozen=True)
class Entry:
    """A key of a mapping with the line of the key."""

    key: str
    line: int
    value: Node


@dataclass(frozen=True)
class Mapping:
    """Keys in the order they were written; no key stands twice."""

    entries: tuple[Entry, ...]
    line: int

    def __iter__(self) -> Iterator[Entry]:
        return iter(self.entries)

    def get(self, key: str) -> Entry | None:
        """The entry of ``key``, or None."""
        return next((entry for entry in self.entries if entry.key == key), None)

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys in order."""
        return tuple(entry.key for entry in self.entries)


type Node = Scalar | Listing | Mapping

PLAIN_TAGS = frozenset(
    f"tag:yaml.org,2002:{name}"
    for name in ("str", "int", "float", "bool", "null", "timestamp", "seq", "map", "value")
)


def read_yaml(text: str, file: str, faults: Faults, *, first_line: int = 1) -> Node | None:
    """The node that ``text`` holds, or None when it is empty or cannot be read.

    ``first_line`` is the line of ``file`` on which ``text`` begins. Faults go to ``faults``.
    """
    reader = _Reader(file, faults, first_line - 1)
    try:
        if reader.refuses_anchors(text):
            return None
        tree = _compose(text)
    except yaml.YAMLError as error:
        reader.report(error, text)
        return None
    return None if tree is None else reader.node(tree)


def _compose(text: str) -> yaml.Node | None:
    """The tree of ``text``, by the C parser where there is one: it takes a tenth of the time.

    Its messages differ, so a text at fault is read again by the plain parser.
    """
    fast: type[yaml.SafeLoader] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        return yaml.compose(text, Loader=fast)
    except yaml.YAMLError:
        return yaml.compose(text, Loader=yaml.SafeLoader)


def describe(node: Node) -> str:
    """The node as a phrase for "found …"."""
    if isinstance(node, Mapping):
        return "a mapping"
    if isinstance(node, Listing):
        return "a list"
    return "nothing" if node.empty else f"'{node.text}'"


@dataclass
class _Reader:
    file: str
    faults: Faults
    offset: int
    field_path: list[str] = field(default_factory=list)

    def fault(self, line: int, found: str, expected: str, code: str) -> None:
        self.faults.add(self.file, line, ".".join(self.field_path), found, expected, code=code)

    def refuses_anchors(self, text: str) -> bool:
        """Note every anchor and alias; compose() would silently follow them."""
        if "&" not in text and "*" not in text:
            return False
        before = len(self.faults)
        for event in yaml.parse(text, Loader=yaml.SafeLoader):
            anchor = getattr(event, "anchor", None)
            if anchor and event.start_mark is not None:
                mark = "*" if isinstance(event, yaml.AliasEvent) else "&"
                self.fault(
                    event.start_mark.line + 1 + self.offset,
                    f"the YAML reference '{mark}{anchor}'",
                    "the value written out (quote it when the text begins with & or *)",
                    "yaml-reference",
                )
        return len(self.faults) > before

    def report(self, error: yaml.YAMLError, text: str) -> None:
        """A syntax fault with the line of the trouble and the likely cause."""
        if isinstance(error, yaml.MarkedYAMLError) and error.problem_mark is not None:
            line = error.problem_mark.line + 1
            problem = error.problem or "text that is not YAML"
        elif isinstance(error, yaml.reader.ReaderError):
            line = text.count("\n", 0, error.position) + 1
            problem = f"the character U+{ord(text[error.position]):04X}"
        else:
            line, problem = 1, str(error)
        lines = text.splitlines()
        row = lines[line - 1] if 0 < line <= len(lines) else ""
        found, expected = f"text that is not YAML ({problem})", "a text that holds : or # in quotes"
        if "\t" in row:
            found, expected = "a tab", "spaces instead of tabs"
        elif "but found another document" in problem:
            found, expected = "a second YAML document ('---')", "one document"
        elif "mapping values are not allowed" in problem:
            found, expected = "a second ': ' in one text", "a text that holds ': ' in quotes"
        elif isinstance(error, yaml.reader.ReaderError):
            found, expected = problem, "printable characters"
        elif any(mark in row for mark in "{}[]&*%@`"):
            expected = "a text that holds one of { } [ ] & * % @ ` in quotes"
        self.fault(line + self.offset, found, expected, "yaml-syntax")

    def node(self, tree: yaml.Node) -> Node:
        line = tree.start_mark.line + 1 + self.offset
        if tree.tag not in PLAIN_TAGS:
            self.fault(line, f"the YAML tag '{tree.tag}'", "a plain value", "yaml-tag")
        if isinstance(tree, yaml.MappingNode):
            return self.mapping(tree, line)
        if isinstance(tree, yaml.SequenceNode):
            return Listing(tuple(self.node(item) for item in tree.value), line)
        empty = tree.tag.endswith(":null") or not tree.value.strip()
        return Scalar("" if empty else tree.value.strip(), line, empty)

    def mapping(self, tree: yaml.MappingNode, line: int) -> Mapping:
        entries: dict[str, Entry] = {}
        for key_node, value_node in tree.value:
            key_line = key_node.start_mark.line + 1 + self.offset
            if not isinstance(key_node, yaml.ScalarNode):
                self.fault(key_line, "a key that is no text", "a text as key", "yaml-key")
                continue
            key = key_node.value.strip()
            if key_node.tag.endswith(":merge"):
                self.fault(key_line, "the merge key '<<'", "the keys written out", "yaml-reference")
                continue
            if key in entries:
                self.fault(
                    key_line,
                    f"the key '{key}' a second time (first on line {entries[key].line})",
                    "each key once",
                    "duplicate-key",
                )
                continue
            self.field_path.append(key)
            entries[key] = Entry(key, key_line, self.node(value_node))
            self.field_path.pop()
        return Mapping(tuple(entries.values()), line)
