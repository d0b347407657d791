"""What fasteners are made of: property classes and grades by the marks on their heads.

Strengths in MPa. ``tensile`` is the least tensile strength, ``yields`` the least yield or 0.2 %
proof stress, ``proof`` the stress under proof load: the fastener bears that for a while and is
as long as before. All three are minima, so there is no band about them.

The boundary counts: class 8.8 changes above 16 mm, and 16 mm itself belongs to the lower group.
Above 39 mm ISO 898-1 is silent, above 1 1/2 in SAE J429 is.

Sources: ISO 898-1 (stresses under proof load read, other columns from memory), ISO 898-2 from
memory, SAE J429.
"""

from __future__ import annotations

from dataclasses import dataclass

from witnessmark.calc import Source

ISO_898 = Source(
    "iso-898-1-2013", "ISO 898-1:2013 Mechanical properties of fasteners - Bolts, screws and "
    "studs - Coarse thread and fine pitch thread", "tables 3 to 7",
)  # fmt: skip
ISO_898_2 = Source(
    "iso-898-2", "ISO 898-2 Mechanical properties of fasteners - Nuts, quoted from memory",
    kind="from memory",
)  # fmt: skip
SAE_J429 = Source(
    "sae-j429", "SAE J429 Mechanical and material requirements for externally threaded fasteners",
    "table of grades",
)  # fmt: skip

KSI = 6.894757293168362
"""MPa in a ksi."""
METRIC_END = 39.0
"""Largest diameter in mm that ISO 898-1 covers."""
INCH_END = 38.1
"""Largest diameter in mm that SAE J429 covers."""


@dataclass(frozen=True)
class Strength:
    """Least tensile strength, least yield or proof stress and stress under proof load, MPa."""

    tensile: float
    yields: float
    proof: float


@dataclass(frozen=True)
class FastenerClass:
    """A property class or grade: what it is called and its strengths by diameter.

    ``steps`` pairs the largest diameter in mm with the strength up to it, smallest first.
    """

    name: str
    label: str
    unified: bool
    steps: tuple[tuple[float, Strength], ...]

    def strength(self, d: float) -> Strength:
        """The strength at a diameter in mm; above the last step that of the last."""
        return next((each for most, each in self.steps if d <= most + 1e-9), self.steps[-1][1])


def _metric(name: str, *steps: tuple[float, float, float, float]) -> FastenerClass:
    return FastenerClass(
        name, name, False, tuple((most, Strength(*figures)) for most, *figures in steps)
    )


def _grade(name: str, *steps: tuple[float, float, float, float]) -> FastenerClass:
    """Steps as printed: largest diameter in inches, then proof, yield and tensile in ksi."""
    return FastenerClass(
        f"grade {name}", f"grade {name}", True,
        tuple(
            (25.4 * most, Strength(KSI * tensile, KSI * yields, KSI * proof))
            for most, proof, yields, tensile in steps
        ),
    )  # fmt: skip


CLASSES = {
    each.name: each
    for each in (
        _metric("4.6", (39, 400, 240, 225)),
        _metric("4.8", (39, 420, 340, 310)),
        _metric("5.6", (39, 500, 300, 280)),
        _metric("5.8", (39, 520, 420, 380)),
        _metric("6.8", (39, 600, 480, 440)),
        _metric("8.8", (16, 800, 640, 580), (39, 830, 660, 600)),
        _metric("9.8", (16, 900, 720, 650)),
        _metric("10.9", (39, 1040, 940, 830)),
        _metric("12.9", (39, 1220, 1100, 970)),
        _grade("1", (1.5, 33, 36, 60)),
        _grade("2", (0.75, 55, 57, 74), (1.5, 33, 36, 60)),
        _grade("5", (1.0, 85, 92, 120), (1.5, 74, 81, 105)),
        _grade("8", (1.5, 120, 130, 150)),
    )
}

LOWEST = {False: "4.6", True: "grade 1"}
"""What a fastener without a mark is taken for, metric and unified: the weakest there is."""

UNKNOWN = "unmarked"
CHOICES = {UNKNOWN: "no mark, or not read"} | {
    name: each.label if each.unified else f"class {each.label}" for name, each in CLASSES.items()
}

HARDNESS_SHARE = 1.2
"""Greatest over least tensile strength of a class: a lot may be a fifth stronger than its least,
from the hardness limits of ISO 898-1 (8.8: 250 to 320 HV, 10.9: 320 to 380, 12.9: 385 to 435)
with a margin; from memory. For checks that the shank breaks before the thread strips."""


def class_of(name: str, unified: bool) -> FastenerClass:
    """The class chosen, or the weakest one where none is known."""
    return CLASSES[LOWEST[unified] if name == UNKNOWN else name]


def covers(of: FastenerClass, d: float) -> bool:
    """Whether the standard of this class reaches up to a diameter in mm."""
    return d <= of.steps[-1][0] + 1e-9
