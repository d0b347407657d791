"""Small invented calculators that the contract's tests are run on."""

from __future__ import annotations

from dataclasses import dataclass

from witnessmark.calc import (
    CheckValue,
    Count,
    Finding,
    Force,
    Fraction,
    Length,
    RefusedError,
    Rounding,
    Rows,
    Source,
    Temperature,
    Torque,
    calculator,
    caution,
    choice,
    column,
    entry,
    note,
    result,
    stop,
    table,
    table_result,
    text_result,
)

STATICS = Source("statics", "Moment of a force, by hand", kind="derivation")


@dataclass(frozen=True)
class Lever:
    torque: Torque = result(
        "Torque", lead=True, rounding=Rounding(step="1 N·m", us_step="1 lbf·ft")
    )
    press: Force | None = result("Press on the stop", unit="kN", rounding=Rounding(figures=3))
    verdict: str = text_result("Verdict")
    findings: tuple[Finding, ...] = ()


@calculator(
    name="sample-lever",
    title="A lever",
    topic="sample",
    purpose="Tests the contract.",
    sources=(STATICS,),
    check_values=(
        CheckValue("2 m", {"arm": "2 m"}, {"torque": "600 N·m"}, source=STATICS),
        CheckValue("too long", {"arm": "9 m"}, refused=("arm",), source=STATICS),
    ),
)
def lever(
    *,
    force: Force = entry("Force", "300 N", least="0 N", most="1500 N", usual=("10 N", "400 N")),
    arm: Length = entry(
        "Arm", "750 mm", units=("mm", "m", "in"), above=0, most="3 m", why="No bar is longer."
    ),
    stop_kind: str = choice("Stop", {"none": "no stop", "arm": "an arm"}, default="none"),
    stop_arm: Length = entry(
        "Length of the stop's arm", "250 mm", above=0, when={"stop_kind": "arm"}
    ),
) -> Lever:
    torque = force * arm
    findings = [note("free", "Moments are about the nut's axis.")]
    if torque.m_as("N*m") > 1000:
        findings.append(stop("too-much", "More than the socket stands. Use another."))
    elif torque.m_as("N*m") > 500:
        findings.append(caution("much", "Brace the stand."))
    press = torque / stop_arm if stop_kind == "arm" else None
    return Lever(torque, press, "held" if press is not None else "free", tuple(findings))


@dataclass(frozen=True)
class Spread:
    sum: Length = result("Sum", lead=True, rounding=Rounding(decimals=2))
    peak: Length = result("Peak", rounding=Rounding(decimals=2))
    plain: Length = result("Plain", rounding=Rounding(decimals=2), band=False)
    findings: tuple[Finding, ...] = ()


@calculator(name="sample-spread", title="Bands", topic="sample", purpose="Tests bands.")
def spread(
    *,
    a: Length = entry("A", "10 mm"),
    b: Length = entry("B", "20 mm", tolerance="1 mm"),
    together: Length = entry("C", "5 mm", varies_with="batch"),
    again: Length = entry("D", "5 mm", varies_with="batch"),
    reading: Torque = entry("Reading", "100 N·m", deviation="reading"),
    share: Fraction = entry("Share", "0.9", least=0, most=1),
) -> Spread:
    x = a.m_as("mm") - 10
    return Spread(a + b + together - again, (4 - x * x) * a.units, a)


@dataclass(frozen=True)
class Sorted:
    count: Count = result("Rows", lead=True)
    rows: tuple[tuple[object, ...], ...] = table_result(
        "Rows", columns=(column("Name"), column("Length", Length, unit="mm"))
    )


@calculator(name="sample-table", title="A table", topic="sample", purpose="Tests tables.")
def sorted_rows(
    *,
    parts: Rows = table(
        "Parts",
        {
            "name": column("Name"),
            "size": column("Size", Length, least="0 mm"),
            "n": column("n", Count),
        },
        default=(("a", "3", "1"), ("b", "1 in", "2")),
        least_rows=1,
        most_rows=3,
    ),
    bench: Temperature = entry("Bench", "20 °C", optional=True),
    teeth: Count = entry("Teeth", "11", least=5, most=40),
) -> Sorted:
    if teeth == 13:
        raise RefusedError("teeth", "13 teeth do not mesh. Write another number.")
    rows = sorted(parts, key=lambda part: part.size.m_as("mm"))
    return Sorted(len(rows) + (bench is None), tuple((part.name, part.size) for part in rows))


@dataclass(frozen=True)
class Cut:
    left: Length = result("Left over", lead=True, rounding=Rounding(decimals=3))


@calculator(name="sample-cut", title="A cut", topic="sample", purpose="Tests limits by size.")
def cut(
    *,
    bar: Length = entry("Bar", "100 mm", tolerance=lambda bar: f"{bar.m_as('mm') / 100} mm"),
) -> Cut:
    return Cut(bar)
