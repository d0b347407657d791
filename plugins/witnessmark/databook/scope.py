"""For which engine a value holds: machine and variant, and how a group of them is called."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Scope:
    """One machine in one variant. Both are empty for the shop as a whole."""

    machine: str = ""
    variant: str = ""

    def __str__(self) -> str:
        return f"{self.machine} {self.variant}".strip()

    @property
    def key(self) -> str:
        """The scope as one word for an HTML attribute: ``LG2/canal``."""
        return f"{self.machine}/{self.variant}"


class UnknownEngineError(ValueError):
    """A word that names no machine and no variant, or a pair that does not exist."""


def scopes_called(text: str, among: Sequence[Scope]) -> tuple[Scope, ...]:
    """The scopes that a reader calls ``LG2 canal, LG3``: machine, variant or both, by commas.

    Raises UnknownEngineError, with the word, for what is none of ``among``.
    """
    named: list[Scope] = []
    for part in text.split(","):
        words = part.split()
        strange = [w for w in words if not any(w in (s.machine, s.variant) for s in among)]
        found = [
            scope
            for scope in among
            if words and all(word in (scope.machine, scope.variant) for word in words)
        ]
        if strange or (not found and text):
            raise UnknownEngineError(strange[0] if strange else part.strip())
        named.extend(scope for scope in found if scope not in named)
    return tuple(named)


def label_of(scopes: Iterable[Scope], among: Sequence[Scope]) -> str:
    """The shortest name that tells ``scopes`` from the rest of ``among``.

    - all of them: empty, because there is nothing to tell apart;
    - one machine in question: its variants (``canal``);
    - a variant of every machine: that variant (``canal``);
    - a machine in all its variants: the machine (``LG2``);
    - otherwise machine and variant, joined: ``LG2 canal, LG3``.
    """
    chosen = set(scopes)
    if chosen >= set(among):
        return ""
    machines = list(dict.fromkeys(scope.machine for scope in among))
    if len(machines) == 1:
        return ", ".join(scope.variant for scope in among if scope in chosen)
    for variant in dict.fromkeys(scope.variant for scope in among):
        everywhere = {scope for scope in among if scope.variant == variant}
        if variant and chosen == everywhere and len({s.machine for s in everywhere}) > 1:
            return variant
    parts: list[str] = []
    for machine in machines:
        forms = [scope for scope in among if scope.machine == machine]
        held = [scope for scope in forms if scope in chosen]
        if len(held) == len(forms):
            parts.append(machine)
        else:
            parts.extend(map(str, held))
    return ", ".join(parts)
