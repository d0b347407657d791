"""A lever on a nut: the pull of the hand and what the pins behind it see (statics)."""

from dataclasses import dataclass

from witnessmark.calc import (
    Angle,
    CheckValue,
    Column,
    Count,
    Drawing,
    Finding,
    Force,
    Formula,
    Length,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Source,
    Torque,
    calculator,
    caution,
    choice,
    column,
    cos,
    entry,
    note,
    result,
    show,
    stop,
    table,
    table_result,
    text_result,
)
from witnessmark.calc.units import KINDS

STATICS = Source("statics", "Moment = force times lever", kind="derivation")
PIN_COLUMNS = (
    Column("Pin"),
    Column("x", KINDS["length"], rounding=Rounding(decimals=3)),
    Column("Force", KINDS["force"], rounding=Rounding(figures=3)),
)


@dataclass(frozen=True)
class Pull:
    """What comes out."""

    pull: Force = result(
        "Pull at the lever", lead=True, rounding=Rounding(step="5 N", us_step="1 lbf")
    )
    press: Force = result("Force on one pin", unit="kN", rounding=Rounding(figures=3))
    fitters: Count = result("Fitters needed")
    stance: str = text_result("How to stand")
    pins: tuple[tuple[object, ...], ...] = table_result("Pins", columns=PIN_COLUMNS)
    spare: Force = result("Pull to spare", seldom=True, rounding=Rounding(figures=2))
    findings: tuple[Finding, ...] = ()


@calculator(
    name="long-lever",
    title="Pull at a long lever",
    topic="torque",
    purpose="What has to be pulled at the end of a lever to reach a torque.",
    formulas=(Formula(r"F = \frac{M}{l\,\cos\alpha}", "pull of the hand"),),
    assumptions=("Lever and nut lie in one plane.",),
    sources=(STATICS,),
    check_values=(CheckValue("one metre", {"torque": "400 N·m"}, {"pull": "400 N"}, STATICS),),
)
def long_lever(
    *,
    torque: Torque = entry(
        "Torque at the nut",
        "400 N·m",
        least="1 N·m",
        most="5000 N·m",
        why="The nut does not bear more.",
        usual=("20 N·m", "3000 N·m"),
        units=("N·m", "lbf·ft", "kgf·m"),
        help="From the data book of the engine.",
        tolerance="4 %",
    ),
    lever: Length = entry("Length of the lever", "1000 mm ± 10 mm", above="0 mm", most="4 m"),
    angle: Angle = entry("Out of square", "0 deg", least="-60 deg", most="60 deg"),
    hold: str = choice(
        "What holds the flywheel",
        {
            "teeth": "turning tool in the teeth of the ring gear, bolted to the engine",
            "bar": "bar across two studs of the flange",
        },
        default="teeth",
    ),
    teeth: Count = entry(
        "Teeth on the ring gear", "121", least=20, most=400, when={"hold": "teeth"}
    ),
    side: str = choice("Side of the engine", {"left": "left", "right": "right"}, default="left"),
    pins: Rows = table(
        "Pins",
        columns={"x": column("x", Length), "y": column("y", Length)},
        default=(("27.010", "-0.005"), ("0", "27.000")),
        most_rows=3,
    ),
    play: Length = entry("Play of the lever", "0.2 mm", seldom=True),
) -> Pull:
    """Pull of the hand in newtons: torque over lever, square to it."""
    pull = torque.m_as("newton*meter") / (lever.m_as("meter") * float(cos(angle)))
    if pull > 4000:
        raise RefusedError("lever", "No hand pulls that; take a longer lever.")
    force = Q(pull, "N")
    findings = [note("teeth", "The tooth that holds the load is the first to chip.")]
    if pull > 600:
        findings.append(stop("too-hard", f"Two fitters cannot pull {show(force, 'N')}. Stop."))
    elif pull > 300:
        findings.append(caution("two-fitters", "Two fitters are needed, one to each side."))
    return Pull(
        pull=force,
        press=3 * force,
        fitters=1 + int(pull > 300),
        stance="Feet apart, back straight.",
        pins=tuple((f"pin {number}", pin.x, force) for number, pin in enumerate(pins, 1)),
        spare=Q(max(0.0, 600 - pull), "N"),
        findings=tuple(findings),
    )


@long_lever.drawing("The lever on the nut")
def draw_lever(entries: object, results: Pull) -> Drawing:
    """Nut, lever and pull."""
    sheet = Drawing("Nut and lever", "A lever on a nut, pulled upward.")
    sheet.hexagon((0, 0), 46)
    sheet.line((23, 0), (500, 0))
    sheet.force((500, 0), "n", show(results.pull, "N"))
    sheet.dimension((0, 0), (500, 0), "lever")
    return sheet
