"""Chains: a result of one calculator feeds an entry of another.

A figure is handed on as text, the way it would be typed, with the whole worst-case band as its
tolerance: ``480.48 N·m +28.9/-27.6``. So a fed entry is read, limited and judged like any other,
and nothing downstream can tell it from a typed one: what stands in the field is what is reckoned
with, five figures of it. ``evaluate_chain`` is what the build and the browser both call; it works
out sources first.

The worst case stays right along a chain, because the limits are handed on, rounded outward. The
root sum square takes a fed entry as one independent input, although several of the source's
entries may stand behind it, and an entry that feeds two links is counted in both as if it were
two.

A source without a result gives nothing: the fed entry is then refused with the reason, and
results that hang on it are not worked out from a figure that no longer holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from typing import Any, NamedTuple

from witnessmark.calc.calculator import Calculator
from witnessmark.calc.declaration import Entry, Result
from witnessmark.calc.display import exact
from witnessmark.calc.entries import Given, Withheld
from witnessmark.calc.evaluate import CalculatorFailedError, Outcome
from witnessmark.calc.findings import LEVELS, caution
from witnessmark.calc.tools import ToolRecord
from witnessmark.calc.units import KINDS, Kind, as_quantity, magnitude_in

Worked = Outcome | CalculatorFailedError

FIGURES = 5
"""Significant figures of a figure that is handed on: its rounding is below a hundredth of a per
cent, far under what any bench resolves, and a fitter can read it."""
LENGTHS = 0.001, 0.0001
"""In mm, between which the last place of a length lies: fits are differences of large lengths, and
no bench reads finer than a tenth of a micrometre."""

_ALIKE = (frozenset({"number", "fraction", "count"}), frozenset({"pressure", "stress"}))
"""Kinds that may stand for one another: their units say the same thing."""


def may_stand_for(kind: str, wanted: str) -> bool:
    """Whether a figure of ``kind`` can be given where one of the kind ``wanted`` is asked for."""
    return kind == wanted or any({kind, wanted} <= group for group in _ALIKE)


def can_feed(result: Result, entry: Entry) -> bool:
    """Whether a result is a single figure of a kind that the entry takes."""
    figures = ("quantity", "count")
    return (
        result.form in figures
        and entry.form in figures
        and result.kind is not None
        and entry.kind is not None
        and may_stand_for(result.kind.name, entry.kind.name)
    )


class Follow(NamedTuple):
    """Where a fed entry comes from: the link (by its identity) and the name of the result."""

    of: str
    result: str


@dataclass(frozen=True)
class Link:
    """One calculator of a chain: what is typed in it, which entries follow which results, and
    the tools chosen."""

    calculator: Calculator[..., Any]
    entries: Given = field(default_factory=dict)
    follows: Mapping[str, Follow] = field(default_factory=dict)
    tools: Mapping[str, ToolRecord] = field(default_factory=dict)


WorkOut = Callable[[Link, Given], Outcome]
"""Works a link out with its entries, the fed ones among them."""


class ChainError(ValueError):
    """A chain that runs in a ring or follows what is not there; the build refuses such pages."""


def fed_text(part: Mapping[str, Any], entry: Entry) -> str:
    """A result's part of an outcome as the text that ``entry`` is fed.

    It is written in the entry's own unit with ``FIGURES`` significant figures, a length to
    the micrometre or its tenth; the band, if there is one, becomes its deviations with four
    figures, rounded outward from the written figure, so that nothing of the band is lost.
    """
    kind = KINDS["count"] if part["kind"] == "count" else KINDS[part["kind"]]
    wanted = entry.kind or kind
    unit = entry.unit
    band = part["band"]["worst"] if part["band"] else None
    value, low, high = (
        _in_unit(number, part["unit"], unit, kind, wanted)
        for number in (
            part["value"], band["low"] if band else part["value"],
            band["high"] if band else part["value"],
        )
    )  # fmt: skip
    written = _handed_on(exact(value), unit, wanted)
    if entry.deviation == "reading" and band and written and low and high:
        # Deviations of such an entry are read in the sense of ISO 6789; these limits are plain.
        value = float(written)
        low, high = value * value / high, value * value / low
    figure = f"{written:f} {unit}".strip()
    if not band:
        return figure
    above, below = (
        _rounded(max(deviation, Decimal(0)), _last_place(deviation, 4), ROUND_CEILING)
        for deviation in (exact(high) - written, written - exact(low))
    )
    return f"{figure} +{above:f}/-{below:f}"


def _in_unit(number: float, have: str, unit: str, kind: Kind, wanted: Kind) -> float:
    if have == unit:
        return float(number)
    return magnitude_in(as_quantity(number, have, kind), unit, wanted)


def _handed_on(value: Decimal, unit: str, kind: Kind) -> Decimal:
    """The value cut to what is handed on of it."""
    if kind.name != "length":
        return _rounded(value, _last_place(value, FIGURES), ROUND_HALF_UP)
    coarsest, finest = (
        _last_place(Decimal(magnitude_in(as_quantity(step, "mm", kind), unit, kind)), 1)
        for step in LENGTHS
    )
    last = max(min(_last_place(value, FIGURES), coarsest), finest)
    return _rounded(value, min(last, _last_place(value, 3)), ROUND_HALF_UP)


def _last_place(number: Decimal, figures: int) -> Decimal:
    """What one of the last place is worth when the number has so many figures."""
    return Decimal(1).scaleb(number.adjusted() - figures + 1)


def _rounded(number: Decimal, last: Decimal, rounding: str) -> Decimal:
    """The number to a multiple of ``last``, without zeros behind."""
    rounded = (number / last).to_integral_value(rounding) * last
    return Decimal(format(rounded.normalize(), "f"))


def evaluate_chain(
    links: Mapping[str, Link], work_out: WorkOut, wanted: Iterable[str] | None = None
) -> dict[str, Worked]:
    """The outcomes of the ``wanted`` links (all when None) and of those they hang on.

    ``work_out`` calls ``evaluate`` in one way or another. A calculator that fails gives its
    exception; what follows it is told that nothing comes. Raises ChainError for a ring or for
    a link that is not there.
    """
    done: dict[str, Worked] = {}
    for ident in links if wanted is None else wanted:
        _work_out_link(ident, links, work_out, done, ())
    return done


def _work_out_link(
    ident: str,
    links: Mapping[str, Link],
    work_out: WorkOut,
    done: dict[str, Worked],
    above: tuple[str, ...],
) -> None:
    if ident in done:
        return
    if ident in above or ident not in links:
        raise ChainError(" -> ".join((*above, ident)))
    link = links[ident]
    for source in {follow.of: None for follow in link.follows.values()}:
        _work_out_link(source, links, work_out, done, (*above, ident))
    sources = {
        name: (links[follow.of].calculator, done[follow.of])
        for name, follow in link.follows.items()
    }
    fed = {
        name: fed_entry(*source, link.follows[name].result, link.calculator.entries[name])
        for name, source in sources.items()
    }
    try:
        outcome = work_out(link, {**link.entries, **fed})
    except CalculatorFailedError as error:
        done[ident] = error
    else:
        done[ident] = told_of_stops(outcome, sources)


def fed_entry(
    calculator: Calculator[..., Any], source: Worked, result: str, entry: Entry
) -> str | Withheld:
    """The text that ``entry`` is fed from an outcome of ``calculator``, or why there is none."""
    if isinstance(source, CalculatorFailedError) or not source["complete"]:
        return Withheld(
            f"Nothing comes from “{calculator.title}” until an entry there is mended. Type a "
            "figure here to go on without it."
        )
    part = next((each for each in source["results"] if each["name"] == result), None)
    if part is None:
        return Withheld(
            f"“{calculator.title}” gives no “{calculator.results[result].label}” for its entries. "
            "Type a figure here to go on without it."
        )
    return fed_text(part, entry)


def told_of_stops(
    outcome: Outcome, sources: Mapping[str, tuple[Calculator[..., Any], Worked]]
) -> Outcome:
    """The outcome with a caution for every source that says stop: its figure must not be used
    further without a look at where it comes from. ``sources`` are those of the fed entries."""
    stopped = {
        calculator.title: name
        for name, (calculator, source) in sources.items()
        if outcome["complete"] and _has_stop(source)
    }
    if not stopped:
        return outcome
    told = [
        vars(
            caution(
                "source-stopped",
                f"“{title}”, where a figure comes from, says stop. Settle that first.",
                name,
            )
        )
        for title, name in stopped.items()
    ]
    findings = sorted(
        [*outcome["findings"], *told], key=lambda finding: LEVELS.index(finding["level"])
    )
    return {**outcome, "findings": findings}


def _has_stop(outcome: Worked) -> bool:
    return not isinstance(outcome, CalculatorFailedError) and any(
        finding["level"] == "stop" for finding in outcome["findings"]
    )
