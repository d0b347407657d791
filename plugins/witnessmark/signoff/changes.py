"""What has changed on a page since it was signed: words, values, maths, pictures."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher

from witnessmark.signoff.archive import Signed
from witnessmark.signoff.basis import (
    CALCULATOR_FACTS,
    CHECKS,
    CODE,
    PICTURE,
    RESULTS,
    VALUE,
    WORDS,
    CalculatorBasis,
    Facts,
    PageBasis,
    ValueRow,
    split_fact,
)

ARROW = " → "


@dataclass(frozen=True)
class Change:
    """One thing that differs from what was signed.

    ``kind`` is words, values, maths or pictures; ``about`` is the value, calculator or
    picture; ``text`` says in one line what has changed.
    """

    kind: str
    about: str
    text: str


def changes_between(
    signed: Mapping[str, str],
    facts: Facts,
    page: PageBasis,
    calculators: Iterable[CalculatorBasis],
    was: Signed | None,
) -> tuple[Change, ...]:
    """What differs between the facts ``signed`` and the facts of the page as it stands.

    ``was`` is the page as it was signed; without it only the names of what has changed are
    known, not the old figures.
    """
    now = {each.name: each for each in calculators}
    before = was.calculators if was else {}
    differing = [name for name in {**signed, **facts} if signed.get(name) != facts.get(name)]
    found: list[Change] = []
    whole: set[str] = set()
    for name in sorted(differing, key=_order):
        kind, about = split_fact(name)
        if kind == WORDS:
            found.append(Change("words", "", _words(was, page)))
        elif kind == VALUE:
            old = was.page.values.get(about) if was else None
            found.append(_value(about, name in signed, name in facts, old, page.values.get(about)))
        elif kind == PICTURE:
            found.append(Change("pictures", about, _picture(about, name in signed, name in facts)))
        elif about not in whole:
            title = now.get(about) or before.get(about)
            shown = title.title if title else about
            if f"{CODE} {about}" not in signed or f"{CODE} {about}" not in facts:
                whole.add(about)
                comes = f"{CODE} {about}" in facts
                text = "new on the page" if comes else "no longer on the page"
                found.append(Change("maths", about, f"{shown}: {text}"))
            else:
                text = _maths(
                    kind, before.get(about), now.get(about), f"{CODE} {about}" in differing
                )
                found.append(Change("maths", about, f"{shown}: {text}"))
    return tuple(found)


def _order(name: str) -> tuple[int, str, int]:
    """Words first, then values, then the maths calculator by calculator, then pictures."""
    kind, about = split_fact(name)
    if kind in CALCULATOR_FACTS:
        return 2, about, CALCULATOR_FACTS.index(kind)
    return {WORDS: 0, VALUE: 1, PICTURE: 3}.get(kind, 4), about, 0


def _words(was: Signed | None, page: PageBasis) -> str:
    if was is None:
        return "the text"
    count = changed_lines(was.page.text, page.text)
    return "1 line of the text" if count == 1 else f"{count} lines of the text"


def changed_lines(before: str, after: str) -> int:
    """How many lines of text differ; empty ones do not count."""
    old, new = ([line for line in text.split("\n") if line.strip()] for text in (before, after))
    blocks = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    return max(1, sum(max(i2 - i1, j2 - j1) for tag, i1, i2, j1, j2 in blocks if tag != "equal"))


def _value(
    name: str, had: bool, has: bool, old: Iterable[ValueRow] | None, new: Iterable[ValueRow] | None
) -> Change:
    if not had:
        text = f"{name}: new on the page, {_one(new)}"
    elif not has:
        text = f"{name}: no longer on the page" + (f", was {_one(old)}" if old else "")
    elif old is None:
        text = f"{name}: now {_one(new)}"
    else:
        text = f"{name}: {'; '.join(value_steps(old, new or ()))}"
    return Change("values", name, text)


def value_steps(old: Iterable[ValueRow], new: Iterable[ValueRow]) -> list[str]:
    """Old and new side by side for each machine: figures, and sources where they differ."""
    before, after = ({row[0]: row for row in rows} for rows in (old, new))
    steps: list[str] = []
    for label in {**before, **after}:
        was, now = before.get(label), after.get(label)
        if was == now:
            continue
        whom = f"{label}: " if label else ""
        if was is None or now is None:
            shown = f"{was[1] if was else 'none'}{ARROW}{now[1] if now else 'none'}"
            steps.append(whom + shown)
            continue
        parts = []
        if was[1] != now[1]:
            parts.append(f"{was[1]}{ARROW}{now[1]}")
        if was[2] != now[2]:
            parts.append(f"kind {was[2]}{ARROW}{now[2]}")
        if was[3] != now[3]:
            parts.append(f"source {was[3] or 'none'}{ARROW}{now[3] or 'none'}")
        steps.append(whom + ", ".join(parts))
    return steps


def _one(rows: Iterable[ValueRow] | None) -> str:
    return ", ".join(f"{row[1]} ({row[0]})" if row[0] else row[1] for row in rows or ())


def _picture(path: str, had: bool, has: bool) -> str:
    if had and has:
        return f"{path}: another picture"
    return f"{path}: {'new on the page' if has else 'no longer on the page'}"


def _maths(
    kind: str, was: CalculatorBasis | None, now: CalculatorBasis | None, code_too: bool
) -> str:
    if was is None or now is None:
        return {CODE: "its code", CHECKS: "its check values"}.get(kind, "its results")
    if kind == CODE:
        return f"code of {', '.join(changed_modules(was, now))}"
    if kind == CHECKS:
        labels = [f"'{label}'" for label, _, _ in changed_checks(was, now)]
        return (
            f"check value {', '.join(labels)}"
            if len(labels) == 1
            else (f"check values {', '.join(labels)}" if labels else "order of its check values")
        )
    steps = [f"{label} {a}{ARROW}{b}" for label, a, b in changed_results(was, now)]
    because = "" if code_too else " (its own code is the same: what it runs on has changed)"
    return f"at its defaults {'; '.join(steps) or 'other results'}{because}"


def changed_modules(was: CalculatorBasis, now: CalculatorBasis) -> list[str]:
    """The modules whose code differs, that have come, or that are gone."""
    before, after = was.module_digests(), now.module_digests()
    return [name for name in sorted({**before, **after}) if before.get(name) != after.get(name)]


def changed_checks(
    was: CalculatorBasis, now: CalculatorBasis
) -> list[tuple[str, tuple[object, ...] | None, tuple[object, ...] | None]]:
    """Check values that differ: label, old row, new row (None where there is none)."""
    before = {str(row[0]): row for row in was.checks}
    after = {str(row[0]): row for row in now.checks}
    return [
        (label, before.get(label), after.get(label))
        for label in {**before, **after}
        if not _same(before.get(label), after.get(label))
    ]


def _same(one: object, other: object) -> bool:
    """Rows are alike whether they come from JSON (lists) or from Python (tuples)."""
    if isinstance(one, list | tuple) and isinstance(other, list | tuple):
        return len(one) == len(other) and all(map(_same, one, other))
    return one == other


def changed_results(was: CalculatorBasis, now: CalculatorBasis) -> list[tuple[str, str, str]]:
    """Results at the defaults that differ: label, old text, new text."""
    before, after = dict(was.results), dict(now.results)
    return [
        (label, before.get(label, "none"), after.get(label, "none"))
        for label in {**before, **after}
        if before.get(label) != after.get(label)
    ]


__all__ = [
    "ARROW",
    "RESULTS",
    "Change",
    "changed_checks",
    "changed_lines",
    "changed_modules",
    "changed_results",
    "changes_between",
    "value_steps",
]
