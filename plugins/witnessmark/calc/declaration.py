"""The words a calculator is declared with: entries, results, sources, check values.

Everything a page, a command, a test or a record needs to know about a calculator stands in
its declaration, once.
"""

# ruff: noqa: UP040 - the kind is read from the annotation; a lazy ``type`` alias would hide it
from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal, TypeAlias

from witnessmark.calc.display import DEFAULT_ROUNDING, Rounding
from witnessmark.calc.units import KINDS, Kind, Quantity

Length: TypeAlias = Annotated[Quantity, KINDS["length"]]
Area: TypeAlias = Annotated[Quantity, KINDS["area"]]
Volume: TypeAlias = Annotated[Quantity, KINDS["volume"]]
Mass: TypeAlias = Annotated[Quantity, KINDS["mass"]]
Time: TypeAlias = Annotated[Quantity, KINDS["time"]]
Force: TypeAlias = Annotated[Quantity, KINDS["force"]]
Torque: TypeAlias = Annotated[Quantity, KINDS["torque"]]
Energy: TypeAlias = Annotated[Quantity, KINDS["energy"]]
Power: TypeAlias = Annotated[Quantity, KINDS["power"]]
Pressure: TypeAlias = Annotated[Quantity, KINDS["pressure"]]
Stress: TypeAlias = Annotated[Quantity, KINDS["stress"]]
Angle: TypeAlias = Annotated[Quantity, KINDS["angle"]]
RotationalSpeed: TypeAlias = Annotated[Quantity, KINDS["rotational speed"]]
Speed: TypeAlias = Annotated[Quantity, KINDS["speed"]]
Acceleration: TypeAlias = Annotated[Quantity, KINDS["acceleration"]]
Temperature: TypeAlias = Annotated[Quantity, KINDS["temperature"]]
TemperatureDifference: TypeAlias = Annotated[Quantity, KINDS["temperature difference"]]
Density: TypeAlias = Annotated[Quantity, KINDS["density"]]
Expansion: TypeAlias = Annotated[Quantity, KINDS["expansion"]]
ActivationEnergy: TypeAlias = Annotated[Quantity, KINDS["activation energy"]]
LineLoad: TypeAlias = Annotated[Quantity, KINDS["line load"]]
Stiffness: TypeAlias = Annotated[Quantity, KINDS["stiffness"]]
Unbalance: TypeAlias = Annotated[Quantity, KINDS["unbalance"]]
Inertia: TypeAlias = Annotated[Quantity, KINDS["inertia"]]
Number: TypeAlias = Annotated[Quantity, KINDS["number"]]
Fraction: TypeAlias = Annotated[Quantity, KINDS["fraction"]]
Count: TypeAlias = Annotated[int, KINDS["count"]]
Rows: TypeAlias = tuple[Any, ...]
"""Value of a table entry: one row object for each row, an attribute for each column."""

RowTexts: TypeAlias = Sequence[Sequence[str]]
Tolerance: TypeAlias = str | Callable[[Quantity], str]
"""A tolerance such as "0.06 N/mm", or a function that gives it for the value typed."""

Deviation: TypeAlias = Literal["value", "reading"]


class DeclarationError(ValueError):
    """A calculator that is declared wrongly; the message names it and the part."""


@dataclass(frozen=True)
class Source:
    """Where a formula, a limit or a check value comes from.

    ``kind`` is one of SOURCE_KINDS; ``clause`` names clause, table or page.
    """

    key: str
    title: str
    clause: str = ""
    kind: str = "standard"

    def at(self, clause: str) -> Source:
        """The same source at another clause or table."""
        return dataclasses.replace(self, clause=clause)


SOURCE_KINDS = (
    "standard", "handbook", "paper", "dataset", "derivation", "common practice", "from memory",
)  # fmt: skip


@dataclass(frozen=True)
class Formula:
    """A formula in LaTeX (it becomes MathML when the handbook is built) and what it gives."""

    latex: str
    gives: str


@dataclass(frozen=True)
class Symbol:
    """A symbol of the formulas (LaTeX), its meaning and its unit."""

    latex: str
    meaning: str
    unit: str = ""


@dataclass(frozen=True)
class CheckValue:
    """A case with a result known from outside.

    ``entries`` are texts as typed (entries left out take their defaults). ``expected`` gives
    results as text with a unit; without ``rel`` or ``abs_`` a result agrees when it is
    within half a unit of the last digit written. ``findings`` are codes that must be
    raised, ``refused`` names entries that must be refused.
    """

    label: str
    entries: Mapping[str, str | RowTexts]
    expected: Mapping[str, str] = field(default_factory=dict)
    source: Source = Source("", "")
    rel: float | None = None
    abs_: str | None = None
    findings: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    remark: str = ""


@dataclass(frozen=True)
class Column:
    """A column of a table entry or of a table result."""

    label: str
    kind: Kind | None = None
    units: tuple[str, ...] = ()
    unit: str | None = None
    rounding: Rounding = DEFAULT_ROUNDING
    least: str | float | None = None
    most: str | float | None = None
    name: str = ""


@dataclass(frozen=True)
class Entry:
    """One entry of a calculator, complete with its name and kind."""

    name: str
    label: str
    form: Literal["quantity", "count", "choice", "table"]
    kind: Kind | None = None
    units: tuple[str, ...] = ()
    default: Any = ""
    least: str | float | None = None
    above: str | float | None = None
    most: str | float | None = None
    why: str = ""
    usual: tuple[str, str] | None = None
    usual_why: str = ""
    help: str = ""
    tolerance: Tolerance = ""
    deviation: Deviation = "value"
    varies_with: str = ""
    optional: bool = False
    seldom: bool = False
    when: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    choices: Mapping[str, str] = field(default_factory=dict)
    columns: tuple[Column, ...] = ()
    least_rows: int = 0
    most_rows: int = 0

    @property
    def unit(self) -> str:
        """The entry's own unit: a bare number is in it."""
        return self.units[0] if self.units else ""

    def usual_tolerance(self, value: Quantity) -> str:
        """The tolerance that applies to ``value`` when none is typed; empty for none."""
        return self.tolerance if isinstance(self.tolerance, str) else self.tolerance(value)

    def active(self, chosen: Mapping[str, str]) -> bool:
        """Whether the entry counts, given the options chosen in the choice entries."""
        return all(chosen.get(name) in options for name, options in self.when.items())


@dataclass(frozen=True)
class Result:
    """One result of a calculator, complete with its name and kind."""

    name: str
    label: str
    form: Literal["quantity", "count", "text", "table"]
    kind: Kind | None = None
    unit: str | None = None
    us_unit: str | None = None
    lead: bool = False
    rounding: Rounding = DEFAULT_ROUNDING
    help: str = ""
    band: bool = True
    seldom: bool = False
    columns: tuple[Column, ...] = ()


def _annotated_kind(alias: Any) -> Kind | None:
    """The kind in an annotation such as ``Length``, or None."""
    for extra in getattr(alias, "__metadata__", ()):
        if isinstance(extra, Kind):
            return extra
    return None


def entry(
    label: str,
    default: str = "",
    *,
    units: tuple[str, ...] = (),
    least: str | float | None = None,
    above: str | float | None = None,
    most: str | float | None = None,
    why: str = "",
    usual: tuple[str, str] | None = None,
    usual_why: str = "",
    help: str = "",
    tolerance: Tolerance = "",
    deviation: Deviation = "value",
    varies_with: str = "",
    optional: bool = False,
    seldom: bool = False,
    when: Mapping[str, str | tuple[str, ...]] | None = None,
) -> Any:
    """A quantity to enter.

    ``units`` are the accepted units, the first being the entry's own (left out: those of
    its kind). Beyond ``least``, ``above`` (exclusive) or ``most`` the entry is refused and
    ``why`` tells the reason; outside ``usual`` it is accepted with a caution. ``tolerance``
    applies when none is typed; a function gives it for the value at hand, as a standard's table
    does for a size. ``deviation="reading"`` means deviations in the sense of
    ISO 6789 (a percentage of the true value: limits v/(1+p) and v/(1-p)). Entries with the
    same ``varies_with`` move together when bands are worked out (one lubricant, two friction
    values). An ``optional`` entry may stay empty and is then None. A ``seldom`` entry is one
    that the fitter rarely changes: it stands behind a disclosure. ``when`` names a choice
    entry and the options with which this entry counts.
    """
    return Entry(
        "", label, "quantity", units=units, default=default, least=least, above=above, most=most,
        why=why, usual=usual, usual_why=usual_why, help=help, tolerance=tolerance,
        deviation=deviation, varies_with=varies_with, optional=optional, seldom=seldom,
        when=_when(when),
    )  # fmt: skip


def choice(
    label: str,
    options: Mapping[str, str],
    *,
    default: str,
    help: str = "",
    seldom: bool = False,
    when: Mapping[str, str | tuple[str, ...]] | None = None,
) -> Any:
    """One of several options: a mapping of the option's name to what the reader sees."""
    return Entry(
        "", label, "choice", default=default, choices=dict(options), help=help,
        seldom=seldom, when=_when(when),
    )  # fmt: skip


def table(
    label: str,
    columns: Mapping[str, Column],
    *,
    default: RowTexts,
    least_rows: int = 1,
    most_rows: int = 24,
    help: str = "",
    seldom: bool = False,
    when: Mapping[str, str | tuple[str, ...]] | None = None,
) -> Any:
    """Rows of quantities, such as the positions of dowels: a cell for each column."""
    named = tuple(dataclasses.replace(column, name=name) for name, column in columns.items())
    return Entry(
        "", label, "table", default=tuple(tuple(row) for row in default), columns=named,
        least_rows=least_rows, most_rows=most_rows, help=help, seldom=seldom, when=_when(when),
    )  # fmt: skip


def column(
    label: str,
    kind: Any = None,
    *,
    units: tuple[str, ...] = (),
    unit: str | None = None,
    rounding: Rounding | None = None,
    least: str | float | None = None,
    most: str | float | None = None,
) -> Any:
    """A column of a table entry or table result; ``kind`` is an annotation such as Length,
    or left out for plain text."""
    of = _annotated_kind(kind)
    return Column(label, of, units or (of.units if of else ()), unit, rounding or Rounding(),
                  least, most)  # fmt: skip


def result(
    label: str,
    *,
    lead: bool = False,
    rounding: Rounding | None = None,
    unit: str | None = None,
    us_unit: str | None = None,
    help: str = "",
    band: bool = True,
    seldom: bool = False,
) -> Any:
    """A quantity that comes out.

    The ``lead`` result stands first and largest; ``seldom`` ones, which the fitter does not
    need to go on, stand behind a disclosure. ``band=False`` is for results that a tolerance
    does not concern.
    """
    return field(
        metadata={
            "witnessmark": Result(
                "", label, "quantity", unit=unit, us_unit=us_unit, lead=lead,
                rounding=rounding or Rounding(), help=help, band=band, seldom=seldom,
            )
        }
    )  # fmt: skip


def text_result(label: str, *, lead: bool = False, help: str = "", seldom: bool = False) -> Any:
    """A result in words (a plain ``str``)."""
    return field(
        metadata={"witnessmark": Result("", label, "text", lead=lead, help=help, seldom=seldom)}
    )


def table_result(
    label: str, *, columns: Sequence[Column], help: str = "", seldom: bool = False
) -> Any:
    """A result in rows: a tuple of tuples with a cell for each column."""
    return field(
        metadata={
            "witnessmark": Result(
                "", label, "table", columns=tuple(columns), help=help, seldom=seldom
            )
        }
    )


def _when(when: Mapping[str, str | tuple[str, ...]] | None) -> dict[str, tuple[str, ...]]:
    return {
        name: (options,) if isinstance(options, str) else tuple(options)
        for name, options in (when or {}).items()
    }
