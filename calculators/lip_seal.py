"""Will a rotary lip seal stand the speed and the runout it is asked to run with?

Purpose at the bench: before the old seal is replaced like for like, see whether its lip is
near the limit of its material, and whether the shaft runs true enough for it.

v = pi d n is the lip speed. A lip of a given elastomer stands a speed range: at its lower
end every maker agrees, at its upper end some do; little oil at the lip, or a dust lip that
dams the heat, halves it. The faster the shaft, the less runout the lip can follow: points of
speed and allowed runout, straight lines between them. The bore may lie beside the shaft's
axis by an offset; a dial swept round the bore from the shaft shows twice that offset.
Friction: M = F' pi d mu d/2 with the line load F' of the lip, loss P = M omega.

Symbols: d measured shaft diameter, n speed of rotation, v lip speed, F' line load of the
lip, mu friction of the lip on its oil film, M friction torque, P loss, t runout (total
reading), e offset of the bore.

Assumptions: one lip carries the load; the lip runs 20 K to 50 K hotter than the oil at
15 m/s to 20 m/s, in proportion to the speed below and above; runout and offset are added
whole, as seal makers do.

Sources: limits of shafts ISO 286-2 (h11); speed, temperature, runout, offset, finish and
hardness: common practice. The seal maker's sheet and the engine maker's manual win.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from calculators.lip_seal_advice import Running, findings_of_running
from calculators.lip_seal_pictures import chart_of_runout, section_of_running
from calculators.lip_seal_tables import (
    ELASTOMERS,
    ISO_286,
    PRACTICE,
    allowed_offset,
    allowed_runout,
    h11,
)
from witnessmark.calc import (
    CheckValue,
    Finding,
    Formula,
    Fraction,
    Length,
    LineLoad,
    Number,
    Power,
    Q,
    RotationalSpeed,
    Rounding,
    Source,
    Speed,
    Symbol,
    Temperature,
    Torque,
    calculator,
    choice,
    entry,
    later,
    number,
    result,
)

CIRCLE = Source(
    "circumference",
    "Circumference times turns in a second, by hand: π × 70 mm × 100 /s = 21.991 m/s",
    kind="derivation",
)
BRAKE = Source(
    "lip-as-brake",
    "Line load times circumference times friction times radius, by hand: "
    "0.12 N/mm × π × 70 mm × 0.3 × 35 mm = 277 N·mm",
    kind="derivation",
)
_FINE = Rounding(decimals=2, us_decimals=4)
_PERMITTED = Rounding(decimals=2, us_decimals=4, toward="down")

CONDITIONS = {
    "oil": "one lip, oil splashes on it",
    "dust": "with a dust lip",
    "poor": "little oil or grease only",
}


@dataclass(frozen=True)
class LipSealRunning:
    """Speed, runout, offset, friction and warmth of a running lip."""

    lip_speed: Speed = result("Lip speed", lead=True, band=False)
    speed_share: Fraction = result(
        "Share of the speed limit",
        unit="%", us_unit="%", rounding=Rounding(decimals=0, us_decimals=0), band=False,
    )  # fmt: skip
    runout_reserve: Length | None = result(
        "Runout still in hand", rounding=_FINE, band=False,
        help="Allowed runout less the measured one; below zero the lip is asked too much.",
    )  # fmt: skip
    allowed_runout: Length | None = result(
        "Allowed runout at this speed", rounding=_PERMITTED, band=False,
        help="Total reading of the dial on the land.",
    )  # fmt: skip
    speed_limit: Speed = result("Speed limit", band=False, seldom=True)
    offset: Length = result("Offset of the bore", rounding=_FINE, band=False, seldom=True)
    allowed_offset: Length = result("Allowed offset", rounding=_PERMITTED, band=False, seldom=True)
    total: Length = result(
        "Runout and offset together", rounding=_FINE, band=False,
        help="Makers allow 0.25 mm to 0.4 mm together.", seldom=True,
    )  # fmt: skip
    friction_torque: Torque = result(
        "Friction torque of the lip", rounding=Rounding(figures=2), seldom=True
    )
    loss: Power = result(
        "Heat made at the lip", unit="W", us_unit="W", rounding=Rounding(figures=2), seldom=True
    )
    lip_temperature: Temperature | None = result(
        "Under the lip, up to",
        rounding=Rounding(decimals=0, us_decimals=0),
        band=False,
        seldom=True,
    )
    shaft_least: Length = result(
        "Least shaft diameter of h11",
        rounding=Rounding(decimals=3, us_decimals=4),
        band=False,
        seldom=True,
    )
    findings: tuple[Finding, ...] = ()


def _speed_case(d: str, n: str, v: str) -> CheckValue:
    return CheckValue(
        f"{d} at {n}", {"shaft": d, "speed": n}, {"lip_speed": v}, source=CIRCLE,
        remark="π d n by hand",
    )  # fmt: skip


@calculator(
    name="lip-seal-running",
    title="Will the seal stand the speed and the runout",
    topic="seals",
    purpose="Tells the speed at the lip and how near it is to what the elastomer stands, how "
    "much runout and offset the lip can follow, and the heat it makes.",
    formulas=(
        Formula(r"v = \pi\,d\,n", "Lip speed"),
        Formula(r"M = F'\,\pi\,d\,\mu\,\frac{d}{2}", "Friction torque of the lip"),
        Formula(r"P = M\,\omega = 2\pi\,n\,M", "Heat made at the lip"),
        Formula(r"e = \frac{1}{2}\,t_\mathrm{bore}", "Offset from a dial swept round the bore"),
    ),
    symbols=(
        Symbol("d", "measured shaft diameter", "mm"),
        Symbol("n", "speed of rotation", "r/min"),
        Symbol("v", "lip speed", "m/s"),
        Symbol("F'", "line load of the lip", "N/mm"),
        Symbol(r"\mu", "friction of the lip", "1"),
        Symbol("e", "offset of the bore from the shaft", "mm"),
        Symbol(r"t_\mathrm{bore}", "total reading of a dial swept round the bore", "mm"),
    ),
    assumptions=(
        "Speed limits are the ranges in common use; the share is of the lower end. A dust lip or "
        "little oil halves them.",
        "Allowed runout runs straight between the points 0.30 mm up to 500 r/min, 0.25 at 1000, "
        "0.20 at 2000, 0.15 at 3000, 0.13 at 4000 and 0.10 mm at 6000 r/min. Above there is none.",
        "Allowed offset grows from 0.10 mm on a shaft of 30 mm to 0.25 mm on one of 150 mm.",
        "The lip runs up to 50 K hotter than the oil at 17.5 m/s, in proportion at other speeds.",
        "Friction is that of one lip on an oil film; a dust lip adds to it.",
    ),
    sources=(PRACTICE, ISO_286, CIRCLE, BRAKE),
    check_values=(
        _speed_case("70 mm", "6000 r/min", "21.991 m/s"),
        _speed_case("90 mm", "3000 r/min", "14.137 m/s"),
        _speed_case("50 mm", "4000 r/min", "10.472 m/s"),
        _speed_case("80 mm", "2500 r/min", "10.472 m/s"),
        CheckValue(
            "lip of 0.12 N/mm on 70 mm at 6000 r/min",
            {
                "shaft": "70 mm", "speed": "6000 r/min", "elastomer": "FKM",
                "line_load": "0.12 N/mm ± 0 N/mm", "friction": "0.3 ± 0",
            },
            {"friction_torque": "0.277 N·m", "loss": "174 W"}, source=BRAKE,
        ),
        CheckValue(
            "70 h11", {"shaft": "70 mm"}, {"shaft_least": "69.810 mm"}, source=ISO_286,
            remark="h11 over 50 to 80 mm: 0/-190 µm",
        ),
        CheckValue(
            "a point of the runout table", {"speed": "3000 r/min"}, {"allowed_runout": "0.15 mm"},
            source=PRACTICE, abs_="0.1 µm",
        ),
        CheckValue(
            "midway between two points", {"speed": "2500 r/min"}, {"allowed_runout": "0.175 mm"},
            source=PRACTICE, abs_="0.1 µm",
        ),
        CheckValue(
            "a sweep of 0.30 mm round the bore is an offset of 0.15 mm",
            {"offset_from": "sweep", "bore_sweep": "0.30 mm"}, {"offset": "0.15 mm"},
            source=Source(
                "sweep-of-circle", "A circle set off by e is nearer by e on one side and farther "
                "by e on the other", kind="derivation",
            ), abs_="0.1 µm",
        ),
        CheckValue(
            "nitrile above its speed", {"shaft": "90 mm", "speed": "3000 r/min"},
            source=PRACTICE, findings=("speed-over-limit",),
        ),
        CheckValue(
            "runout the lip cannot follow", {"speed": "3000 r/min", "runout": "0.20 mm"},
            {"runout_reserve": "-0.05 mm"}, source=PRACTICE, findings=("runout-over",),
            abs_="0.1 µm",
        ),
        CheckValue(
            "no runout is allowed for above 6000 r/min",
            {"shaft": "30 mm", "speed": "7000 r/min"}, source=PRACTICE,
            findings=("runout-unknown",),
        ),
        CheckValue("no shaft so thin", {"shaft": "5 mm"}, source=PRACTICE, refused=("shaft",)),
    ),
)  # fmt: skip
def lip_seal_running(
    *,
    shaft: Length = entry(
        "Shaft diameter, nominal", "75 mm", units=("mm", "in"), least="6 mm", most="400 mm",
        why="Seals of this kind are made for shafts of 6 mm to 400 mm.",
        help="The first number on the seal.",
    ),
    speed: RotationalSpeed = entry(
        "Highest speed", "2600 r/min", units=("r/min",), least="1 r/min", most="8000 r/min",
        usual=("100 r/min", "6000 r/min"), why="No engine of this shop turns so fast.",
        help="Governed speed without load, not the rated one.",
    ),
    elastomer: str = choice(
        "Elastomer of the lip", {key: item.text for key, item in ELASTOMERS.items()},
        default="NBR", help="Printed on the seal or its box; colour tells nothing for sure.",
    ),
    lip: str = choice("Lip and oil", CONDITIONS, default="oil"),
    runout: Length = entry(
        "Runout of the land", "0.05 mm", units=("mm", "µm", "thou"), least="0 mm", most="2 mm",
        usual=("0 mm", "0.5 mm"), why="With more the shaft is bent: it is not a case for a seal.",
        help="Total reading of a dial on the lip's track over one turn. Not the offset.",
    ),
    offset_from: str = choice(
        "Offset of the bore from",
        {"sweep": "a dial swept round the bore", "offset": "the offset itself"}, default="sweep",
        help="A sweep shows twice the offset.",
    ),
    bore_sweep: Length = entry(
        "Total reading round the bore", "0.12 mm", units=("mm", "µm", "thou"), least="0 mm",
        most="6 mm", when={"offset_from": "sweep"}, why="With more the dial has slipped.",
        help="Dial carried by the shaft, one turn, bracket sag taken off.",
    ),
    offset: Length = entry(
        "Distance between the centres", "0.06 mm", units=("mm", "µm", "thou"), least="0 mm",
        most="3 mm", when={"offset_from": "offset"}, why="With more the housing is out of place.",
        seldom=True,
    ),
    shaft_measured: Length | None = entry(
        "Shaft diameter, measured", "", units=("mm", "in"), least="5 mm", most="402 mm",
        optional=True, why="Not a shaft for a seal of 6 mm to 400 mm.",
        help="With the micrometer beside the worn track. Leave empty if not measured.", seldom=True,
    ),
    finish: Length | None = entry(
        "Finish of the land Ra", "", units=("µm",), above=0, most="25 µm", optional=True,
        help="From the roughness tester or a comparison plate. Leave empty if not known.",
        seldom=True,
    ),
    hardness: Number | None = entry(
        "Hardness of the land, HRC", "", least=0, most=72, optional=True,
        why="Rockwell C ends there.", help="Leave empty if not known.", seldom=True,
    ),
    oil_temperature: Temperature | None = entry(
        "Oil temperature", "", units=("°C", "°F"), least="-40 °C", most="200 °C", optional=True,
        usual=("20 °C", "130 °C"), why="No engine oil is worked outside this.",
        help="In the sump at full load. Leave empty if not known.", seldom=True,
    ),
    speed_limit: Speed | None = entry(
        "Seal maker's speed limit", "", units=("m/s", "ft/min"), above=0, most="100 m/s",
        optional=True, help="It wins over the common figures; give it for your lip and oil.",
        seldom=True,
    ),
    runout_limit: Length | None = entry(
        "Maker's runout limit", "", units=("mm", "µm", "thou"), above=0, most="2 mm",
        optional=True, help="It wins over the common figure.", seldom=True,
    ),
    offset_limit: Length | None = entry(
        "Maker's offset limit", "", units=("mm", "µm", "thou"), above=0, most="3 mm",
        optional=True, help="It wins over the common figure.", seldom=True,
    ),
    line_load: LineLoad = entry(
        "Line load of the lip", "0.14 N/mm", units=("N/mm", "lbf/in"), tolerance="0.06 N/mm",
        least="0.01 N/mm", most="1 N/mm", seldom=True,
        help="Radial force for each mm of circumference: 0.08 to 0.20 N/mm.",
    ),
    friction: Number = entry(
        "Friction of the lip", "0.35", tolerance="0.15", least="0.01", most="1", seldom=True,
        help="On its oil film 0.2 to 0.5.",
    ),
) -> LipSealRunning:  # fmt: skip
    """Limits and reserves of a running lip; see the module's docstring."""
    nominal = shaft.m_as("mm")
    d = shaft_measured.m_as("mm") if shaft_measured is not None else nominal
    n = speed.m_as("turn/minute")
    v = math.pi * d * n / 60_000
    material = ELASTOMERS[elastomer]
    if speed_limit is not None:
        safe = utmost = speed_limit.m_as("m/s")
    else:
        share = 1.0 if lip == "oil" else 0.5
        safe, utmost = share * material.safe, share * material.utmost
    may_run = runout_limit.m_as("mm") if runout_limit is not None else allowed_runout(n)
    may_lie = offset_limit.m_as("mm") if offset_limit is not None else allowed_offset(nominal)
    t = runout.m_as("mm")
    e = bore_sweep.m_as("mm") / 2 if offset_from == "sweep" else offset.m_as("mm")
    torque = line_load.m_as("N/mm") * math.pi * d * number(friction) * d / 2  # N·mm
    oil = oil_temperature.m_as("degC") if oil_temperature is not None else None
    hottest = oil + 50 * v / 17.5 if oil is not None else None
    running = Running(
        elastomer=material, lip=lip, v=v, safe=safe, utmost=utmost,
        makers_speed=speed_limit is not None, t=t, may_run=may_run,
        makers_runout=runout_limit is not None, e=e, may_lie=may_lie,
        makers_offset=offset_limit is not None, finish=finish,
        hardness=number(hardness) if hardness is not None else None, oil=oil, hottest=hottest,
        shaft_measured=shaft_measured, shaft_limits=h11(nominal), n=n,
    )  # fmt: skip
    return LipSealRunning(
        lip_speed=Q(v, "m/s"),
        speed_share=Q(v / safe, ""),
        runout_reserve=Q(may_run - t, "mm") if may_run is not None else None,
        allowed_runout=Q(may_run, "mm") if may_run is not None else None,
        speed_limit=Q(safe, "m/s"),
        offset=Q(e, "mm"),
        allowed_offset=Q(may_lie, "mm"),
        total=Q(t + e, "mm"),
        friction_torque=Q(torque, "N·mm"),
        loss=Q(torque / 1000 * math.tau * n / 60, "W"),
        lip_temperature=Q(hottest, "°C") if hottest is not None else None,
        shaft_least=Q(h11(nominal)[0], "mm"),
        findings=later(lambda: findings_of_running(running)),
    )


lip_seal_running.drawing("Seal, bore and shaft")(section_of_running)
lip_seal_running.drawing("Allowed runout against speed")(chart_of_runout)
