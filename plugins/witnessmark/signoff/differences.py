"""Everything that differs from what was signed, as text to read in a terminal.

Words are compared word by word inside a changed paragraph: ``[-gone-]`` and ``{+new+}``. Code
is compared line by line, values and results figure by figure.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from difflib import SequenceMatcher, unified_diff

from witnessmark.signoff.archive import Signed
from witnessmark.signoff.basis import CalculatorBasis, PageBasis
from witnessmark.signoff.calculators import CHECK_ROW
from witnessmark.signoff.changes import (
    changed_checks,
    changed_modules,
    changed_results,
    value_steps,
)

AROUND = 8
"""Words shown on either side of a change inside a long paragraph."""

_WORD = re.compile(r"\s+|[^\s]+")
ALIKE = 0.3
"""Two lines less alike than this are one gone and one new."""


def differences(was: Signed, page: PageBasis, calculators: Iterable[CalculatorBasis]) -> list[str]:
    """The lines that tell how a page differs from what was signed; none when it does not."""
    now = {each.name: each for each in calculators}
    parts = (
        ("Words", list(_words(was.page.text, page.text)) if not page.follows else []),
        ("Values", list(_values(was.page, page)) if not page.follows else []),
        ("Maths", list(_maths(was.calculators, now))),
        ("Pictures", list(_pictures(was.page.pictures, page.pictures))),
    )
    lines: list[str] = []
    for title, found in parts:
        if found:
            lines += ["", title, *(f"  {line}".rstrip() for line in found)]
    return lines[1:]


def _words(before: str, after: str) -> Iterator[str]:
    old, new = before.split("\n"), after.split("\n")
    for tag, i1, i2, j1, j2 in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if tag == "equal":
            continue
        gone = [line for line in old[i1:i2] if line.strip()]
        come = [line for line in new[j1:j2] if line.strip()]
        if not gone and not come:
            yield f"line {j1 + 1}: empty lines"
            continue
        yield f"line {j1 + 1}:"
        for one, other in _paired(gone, come):
            if one is None or other is None:
                yield (
                    f"  [-{one.strip()}-]"
                    if one is not None
                    else f"  {{+{(other or '').strip()}+}}"
                )
            else:
                yield f"  {_word_by_word(one, other)}"


def _paired(gone: list[str], come: list[str]) -> Iterator[tuple[str | None, str | None]]:
    """Lines of a block side by side where they are alike, else as gone and new."""
    for index in range(max(len(gone), len(come))):
        one = gone[index] if index < len(gone) else None
        other = come[index] if index < len(come) else None
        if one and other and SequenceMatcher(None, one, other, autojunk=False).ratio() < ALIKE:
            yield one, None
            yield None, other
        else:
            yield one, other


def _word_by_word(before: str, after: str) -> str:
    old, new = _WORD.findall(before.strip()), _WORD.findall(after.strip())
    steps = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    out: list[str] = []
    for place, (tag, i1, i2, j1, j2) in enumerate(steps):
        if tag == "equal":
            out.append(_shortened(old[i1:i2], first=place == 0, last=place == len(steps) - 1))
            continue
        gone, come = "".join(old[i1:i2]), "".join(new[j1:j2])
        out.append((f"[-{gone}-]" if gone else "") + (f"{{+{come}+}}" if come else ""))
    return "".join(out)


def _shortened(words: list[str], *, first: bool, last: bool) -> str:
    """A passage that is the same, cut down to a few words at the changes beside it."""
    most = 2 * AROUND
    ends = ([] if first else words[:most]), ([] if last else words[-most:])
    if len(words) <= len(ends[0]) + len(ends[1]) + 2:
        return "".join(words)
    return f"{''.join(ends[0])}…{''.join(ends[1])}"


def _values(was: PageBasis, now: PageBasis) -> Iterator[str]:
    for name in sorted({**was.values, **now.values}):
        before, after = was.values.get(name), now.values.get(name)
        if before == after:
            continue
        if before is None or after is None:
            rows = after or before or ()
            shown = ", ".join(f"{row[1]} ({row[0]})" if row[0] else row[1] for row in rows)
            yield f"{name}: {shown}, {'new' if before is None else 'no longer'} on the page"
            continue
        for step in value_steps(before, after):
            yield f"{name}: {step}"


def _maths(was: Mapping[str, CalculatorBasis], now: Mapping[str, CalculatorBasis]) -> Iterator[str]:
    for name in sorted({**was, **now}):
        before, after = was.get(name), now.get(name)
        if before is None or after is None:
            held = after or before
            title = held.title if held else name
            yield f"{title} ({name}): {'new' if before is None else 'no longer'} on the page"
            continue
        lines = [*_code(before, after), *_checks(before, after), *_results(before, after)]
        if lines:
            yield f"{after.title} ({name})"
            yield from (f"  {line}" for line in lines)


def _code(was: CalculatorBasis, now: CalculatorBasis) -> Iterator[str]:
    for module in changed_modules(was, now):
        before, after = was.modules.get(module, ""), now.modules.get(module, "")
        word = "new" if not before else "gone" if not after else "changed"
        yield f"code of {module}: {word}"
        if before and after:
            diff = unified_diff(before.split("\n"), after.split("\n"), n=2, lineterm="")
            yield from (f"  {line}" for line in list(diff)[2:])


def _checks(was: CalculatorBasis, now: CalculatorBasis) -> Iterator[str]:
    for label, before, after in changed_checks(was, now):
        if before is None or after is None:
            yield f"check value '{label}': {'new' if before is None else 'gone'}"
            continue
        for column, old, new in zip(CHECK_ROW, before, after, strict=False):
            one, other = _cell(old), _cell(new)
            if one != other:
                yield f"check value '{label}', {column}: {one or 'none'} → {other or 'none'}"


def _cell(cell: object) -> str:
    if isinstance(cell, Mapping):
        return ", ".join(f"{name} {_cell(part)}" for name, part in cell.items())
    if isinstance(cell, list | tuple):
        return ", ".join(map(_cell, cell))
    return str(cell)


def _results(was: CalculatorBasis, now: CalculatorBasis) -> Iterator[str]:
    steps = changed_results(was, now)
    if steps:
        yield "results at its defaults:"
    yield from (f"  {label}: {old} → {new}" for label, old, new in steps)
    if not steps and changed_modules(was, now):
        yield "results at its defaults: the same"


def _pictures(was: Mapping[str, str], now: Mapping[str, str]) -> Iterator[str]:
    for path in sorted({**was, **now}):
        if was.get(path) != now.get(path):
            word = "new" if path not in was else "gone" if path not in now else "another picture"
            yield f"{path}: {word}"
