"""Reading the files of the data book and putting them together.

A file with ``machine:`` speaks for that machine, one without for the shop as a whole.
Nested keys make dotted names. What is a value and what is a group of values:

- a text is a value;
- a mapping with ``is`` is a value with its kind and source;
- a mapping by the machine's variants is one value a variant;
- any other mapping is a group.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

from witnessmark.databook.book import DataBook, Machine, Value
from witnessmark.databook.leaf import LEAF_KEYS, FileDefaults, read_leaf
from witnessmark.databook.scope import Scope
from witnessmark.databook.tools import read_tools
from witnessmark.databook.yaml_source import (
    Entry,
    Listing,
    Mapping,
    Node,
    Scalar,
    describe,
    read_yaml,
)
from witnessmark.faults import Faults, nearest

FILE_KEYS = ("machine", "variants", "source", "rev")
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]*")


def load_databook(folder: Path, faults: Faults, root: Path | None = None) -> DataBook:
    """The data book in the ``*.yml`` files of ``folder`` and the folders in it.

    Every fault goes to ``faults`` with file (relative to ``root``, by default the working
    directory), line and name. What could be read is returned all the same, so that the
    pages can be checked against it in the same round.
    """
    files: list[_File] = []
    paths = sorted(p for p in folder.rglob("*") if p.suffix in {".yml", ".yaml"} and p.is_file())
    for path in paths:
        shown = shown_path(path, root)
        text = read_text(path, shown, faults)
        node = None if text is None else read_yaml(text, shown, faults)
        if text is not None and not text.strip():
            faults.add(shown, 0, "", "an empty file", "values, or no file", code="empty-file")
        elif isinstance(node, Mapping):
            files.append(_read_head(node, shown, faults))
        elif node is not None:
            faults.add(shown, node.line, "", describe(node), "names with values", code="no-names")
    book = _Assembly(faults).put_together(files)
    book.tools = read_tools(book, faults)
    return book


def shown_path(path: Path, root: Path | None = None) -> str:
    """The path as the author knows it: relative to ``root`` where it lies below it."""
    base = (root or Path.cwd()).resolve()
    full = path.resolve()
    return (full.relative_to(base) if full.is_relative_to(base) else path).as_posix()


def read_text(path: Path, shown: str, faults: Faults) -> str | None:
    """The text of a file, or None after noting that it is not UTF-8."""
    raw = path.read_bytes()
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        found = f"the byte 0x{raw[error.start]:02X}, which is not UTF-8"
        faults.add(shown, line, "", found, "a file saved as UTF-8", code="not-utf8")
        return None


@dataclass
class _File:
    """A file with its head read: whose values, which variants, what source."""

    defaults: FileDefaults
    machine: str
    variants: tuple[str, ...]
    variants_line: int
    body: list[Entry] = field(default_factory=list)


def _read_head(node: Mapping, shown: str, faults: Faults) -> _File:
    texts: dict[str, str] = {}
    variants: tuple[str, ...] = ()
    variants_line = 0
    body: list[Entry] = []
    for entry in node:
        if entry.key == "variants":
            variants, variants_line = _variants(entry, shown, faults), entry.line
        elif entry.key in FILE_KEYS:
            if isinstance(entry.value, Scalar) and not entry.value.empty:
                texts[entry.key] = entry.value.text
            else:
                found = describe(entry.value)
                faults.add(shown, entry.line, entry.key, found, "a text", code="no-text")
        elif isinstance(entry.value, Scalar):
            faults.add(
                shown, entry.line, entry.key, f"the key '{entry.key}' at the head of the file",
                f"one of {', '.join(FILE_KEYS)}, or a group of values",
                nearest=nearest(entry.key, FILE_KEYS), code="unknown-key",
            )  # fmt: skip
        else:
            body.append(entry)
    machine = texts.get("machine", "")
    if machine and not _NAME.fullmatch(machine):
        line = node.entries[node.keys.index("machine")].line
        faults.add(shown, line, "machine", f"'{machine}'", _NAME_RULE, code="bad-name")
    if variants and not machine:
        faults.add(
            shown, variants_line, "variants", "variants without a machine",
            "'machine:' beside 'variants:'", code="variants-without-machine",
        )  # fmt: skip
        variants = ()
    defaults = FileDefaults(shown, texts.get("source", ""), texts.get("rev", ""))
    return _File(defaults, machine, variants, variants_line, body)


_NAME_RULE = "a letter, then letters, digits, '_' or '-'"


def _variants(entry: Entry, shown: str, faults: Faults) -> tuple[str, ...]:
    node = entry.value
    items = node.items if isinstance(node, Listing) else ()
    if not items:
        faults.add(
            shown, entry.line, "variants", describe(node),
            "a list such as [canal, stationary]", code="no-list",
        )  # fmt: skip
    names: list[str] = []
    for item in items:
        text = item.text if isinstance(item, Scalar) else ""
        if not _NAME.fullmatch(text) or text in LEAF_KEYS:
            faults.add(shown, item.line, "variants", describe(item), _NAME_RULE, code="bad-name")
        elif text in names:
            faults.add(
                shown, item.line, "variants", f"'{text}' a second time", "each variant once",
                code="duplicate-key",
            )  # fmt: skip
        else:
            names.append(text)
    return tuple(names)


@dataclass
class _Assembly:
    """The book as it grows file by file."""

    faults: Faults
    book: DataBook = field(default_factory=DataBook)
    claims: dict[tuple[str, str], tuple[str, int]] = field(default_factory=dict)
    groups: dict[tuple[str, str], tuple[str, int]] = field(default_factory=dict)

    def put_together(self, files: list[_File]) -> DataBook:
        for file in files:
            self.declare(file)
        for file in files:
            for entry in file.body:
                self.walk((entry.key,), entry, file)
        return self.book

    def declare(self, file: _File) -> None:
        """Enter the machine; its variants may stand in one of its files or agree in several."""
        if not file.machine:
            return
        known = self.book.machines.get(file.machine)
        if known is None or not known.variants:
            self.book.machines[file.machine] = Machine(file.machine, file.variants)
        elif file.variants and file.variants != known.variants:
            self.faults.add(
                file.defaults.file, file.variants_line, "variants",
                f"[{', '.join(file.variants)}] for {file.machine}",
                f"[{', '.join(known.variants)}], as in its other files", code="variants-differ",
            )  # fmt: skip

    def walk(self, path: tuple[str, ...], entry: Entry, file: _File) -> None:
        name = ".".join(path)
        if not _NAME.fullmatch(entry.key):
            self.fault(file, entry.line, name, f"the name '{entry.key}'", _NAME_RULE, "bad-name")
            return
        node: Node = entry.value
        if isinstance(node, Listing):
            self.fault(file, node.line, name, "a list", "a value, or names with values", "no-value")
        elif isinstance(node, Scalar) or node.get("is") or self.wants_is(node):
            self.hold(name, Scope(file.machine), node, file, entry.line)
        elif self.by_variant(node, file):
            self.hold_by_variant(name, node, file, entry.line)
        else:
            self.claim_group(name, file, entry.line)
            for inner in node:
                self.walk((*path, inner.key), inner, file)

    @staticmethod
    def wants_is(node: Mapping) -> bool:
        """A mapping with a kind or a source is a value whose 'is' was forgotten."""
        return any(
            entry.key in {"kind", "source"} and isinstance(entry.value, Scalar) for entry in node
        )

    def by_variant(self, node: Mapping, file: _File) -> bool:
        variants = self.variants_of(file)
        if not variants or not node.entries:
            return False
        return any(key in variants for key in node.keys) or all(
            nearest(key, variants) for key in node.keys
        )

    def variants_of(self, file: _File) -> tuple[str, ...]:
        machine = self.book.machines.get(file.machine)
        return machine.variants if machine else ()

    def hold_by_variant(self, name: str, node: Mapping, file: _File, line: int) -> None:
        variants = self.variants_of(file)
        for inner in node:
            if inner.key not in variants:
                self.faults.add(
                    file.defaults.file, inner.line, name, f"the variant '{inner.key}'",
                    f"a variant of {file.machine}: {', '.join(variants)}",
                    nearest=nearest(inner.key, variants), code="unknown-variant",
                )  # fmt: skip
            elif isinstance(inner.value, Listing):
                self.fault(file, inner.line, name, "a list", "a value", "no-value")
            else:
                self.hold(name, Scope(file.machine, inner.key), inner.value, file, inner.line)
        missing = [variant for variant in variants if variant not in node.keys]
        if missing and all(key in variants for key in node.keys):
            self.fault(
                file, line, name, f"no value for {', '.join(missing)}",
                f"one value for each of {', '.join(variants)}", "variant-missing",
            )  # fmt: skip

    def hold(self, name: str, scope: Scope, node: Scalar | Mapping, file: _File, line: int) -> None:
        held: dict[Scope, Value] = self.book.values.get(name, {})
        claim = (scope.machine, name)
        first = self.claims.setdefault(claim, (file.defaults.file, line))
        same_file = first[0] == file.defaults.file
        if not same_file or scope in held:
            whose = scope.machine or "the shop"
            self.fault(
                file, line, name, f"a second value for {whose} (first in {first[0]}:{first[1]})",
                "each value once", "second-claim",
            )  # fmt: skip
            return
        group = self.groups.get(claim)
        if group is not None:
            self.fault(
                file, line, name, f"a value that is a group of values in {group[0]}:{group[1]}",
                "one or the other", "value-and-group",
            )  # fmt: skip
            return
        value = read_leaf(name, node, file.defaults, self.faults)
        if value is not None:
            self.book.values.setdefault(name, {})[scope] = value

    def claim_group(self, name: str, file: _File, line: int) -> None:
        claim = (file.machine, name)
        self.groups.setdefault(claim, (file.defaults.file, line))
        value = self.claims.get(claim)
        if value is not None:
            self.fault(
                file, line, name, f"a group of values that is a value in {value[0]}:{value[1]}",
                "one or the other", "value-and-group",
            )  # fmt: skip

    def fault(
        self, file: _File, line: int, name: str, found: str, expected: str, code: str
    ) -> None:
        self.faults.add(file.defaults.file, line, name, found, expected, code=code)
