"""The data book: every value of the shop, and which of them holds for which engine."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from witnessmark.databook.scope import Scope, label_of
from witnessmark.faults import nearest


@dataclass(frozen=True)
class Value:
    """One value with its source and the place it was written.

    ``text`` is what a calculator's entry accepts (``480 N·m ± 4 %``). ``kind`` is the name
    of a quantity kind, or ``size`` for a text with a fit (``75 mm h11``), or ``text``.
    ``low`` and ``high`` are the limits of the tolerance in ``unit``, equal when there is
    none, and None for kinds that are not quantities.
    """

    name: str
    text: str
    kind: str = "text"
    unit: str = ""
    low: float | None = None
    high: float | None = None
    source: str = ""
    rev: str = ""
    note: str = ""
    file: str = ""
    line: int = 0

    @property
    def is_quantity(self) -> bool:
        """Whether the value is a number with a kind."""
        return self.low is not None

    @property
    def origin(self) -> str:
        """Source and revision as one phrase: ``works sheet 7, rev C``."""
        return f"{self.source}, rev {self.rev}" if self.source and self.rev else self.source


@dataclass(frozen=True)
class Labelled:
    """A value with the scopes it holds for and the label that tells it from its siblings.

    ``label`` is empty when the value holds for every scope in question. ``origin`` names
    the sources of all the entries that agree in this value.
    """

    label: str
    value: Value
    scopes: tuple[Scope, ...]
    origin: str


@dataclass(frozen=True)
class Machine:
    """A machine of the data book and the variants it is built in (none when it has one form)."""

    name: str
    variants: tuple[str, ...] = ()

    @property
    def scopes(self) -> tuple[Scope, ...]:
        """One scope a variant, or a single one."""
        return tuple(Scope(self.name, variant) for variant in self.variants or ("",))


@dataclass(frozen=True)
class Tool:
    """One tool of the shop: its kind and its values as texts."""

    name: str
    title: str
    kind: str
    values: Mapping[str, str] = field(default_factory=dict)
    due: str = ""

    @property
    def record(self) -> dict[str, Any]:
        """The tool as a calculator's evaluation takes it."""
        return {
            "name": self.name, "title": self.title, "kind": self.kind,
            "values": dict(self.values), "due": self.due,
        }  # fmt: skip


@dataclass
class DataBook:
    """Values by name. A value of the machine goes before one of the shop as a whole."""

    machines: dict[str, Machine] = field(default_factory=dict)
    values: dict[str, dict[Scope, Value]] = field(default_factory=dict)
    tools: dict[str, Tool] = field(default_factory=dict)

    def resolve(self, name: str, machine: str = "", variant: str = "") -> Value | None:
        """The value of ``name`` for a machine in a variant, or None when there is none."""
        held = self.values.get(name, {})
        for scope in (Scope(machine, variant), Scope(machine), Scope()):
            if scope in held:
                return held[scope]
        return None

    def across(self, name: str, scopes: Sequence[Scope]) -> list[Labelled]:
        """The different values of ``name`` over ``scopes``, in their order.

        Entries of the same text and kind are one value. Scopes that have none are left
        out; ``missing`` names them.
        """
        groups: dict[tuple[str, str], list[tuple[Scope, Value]]] = {}
        for scope in scopes:
            value = self.resolve(name, scope.machine, scope.variant)
            if value is not None:
                groups.setdefault((value.text, value.kind), []).append((scope, value))
        return [
            Labelled(
                label_of((scope for scope, _ in group), scopes),
                group[0][1],
                tuple(scope for scope, _ in group),
                "; ".join(dict.fromkeys(value.origin for _, value in group if value.origin)),
            )
            for group in groups.values()
        ]

    def missing(self, name: str, scopes: Iterable[Scope]) -> tuple[Scope, ...]:
        """The scopes for which ``name`` has no value."""
        return tuple(s for s in scopes if self.resolve(name, s.machine, s.variant) is None)

    def scopes(
        self, machines: Sequence[str] = (), variants: Sequence[str] = ()
    ) -> tuple[Scope, ...]:
        """The scopes of ``machines`` (all when empty), cut down to ``variants`` where given.

        A machine that is built in one form only stays in, whatever the variants.
        """
        chosen = [self.machines[m] for m in machines or self.machines if m in self.machines]
        scopes = tuple(
            scope
            for machine in chosen
            for scope in machine.scopes
            if not variants or not machine.variants or scope.variant in variants
        )
        return scopes or (Scope(),)

    @property
    def names(self) -> tuple[str, ...]:
        """All names, sorted."""
        return tuple(sorted(self.values))

    def nearest(self, name: str) -> str:
        """The known name most like ``name``, or an empty string."""
        return nearest(name, self.names)

    def digest(self, names: Iterable[str] | None = None) -> str:
        """SHA-256 (hexadecimal) of the values of ``names`` (all when None).

        It changes with everything a reader sees of a value and its source, and does not
        change when a value moves to another line or file.
        """
        chosen = self.names if names is None else sorted(set(names))
        rows = [
            [name, s.machine, s.variant, v.text, v.kind, v.source, v.rev, v.note]
            for name in chosen
            for s, v in sorted(self.values.get(name, {}).items())
        ]
        shapes: Mapping[str, Sequence[str]] = {m.name: m.variants for m in self.machines.values()}
        text = json.dumps([shapes if names is None else {}, rows], ensure_ascii=False)
        return hashlib.sha256(text.encode()).hexdigest()
