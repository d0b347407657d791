"""The contract of a calculator: declare it, read entries, evaluate, judge, draw.

Pure Python and pint; it runs unchanged under pytest and in the reader's browser. Modules,
from the bottom up:

``conversion``      units to units by factors worked out once
``arithmetic``      the units of sums, products and powers worked out once
``units``           the registry, kinds of quantity, spellings
``quantity_text``   typed text to quantity
``display``         quantity to text, rounded as a tool is divided
``functions``       sin, sqrt … on quantities
``findings``        note, caution, stop
``later``           parts of results that are made only when they are shown
``drawing``         workshop drawings and charts as SVG
``declaration``     entry, result, source, check value
``as_entered``      an entry as it was entered, also while a band is worked out
``reference_table`` a table to look things up in, which becomes a page
``tools``           tools of the shop that settle entries
``calculator``      the declared function, known by name
``entries``         all entries of a calculator read, each with its own message
``reading``         a reading judged against its limits
``tolerance``       tolerances of entries to bands of results
``evaluate``        the one way from typed entries to results
``checks``          check values run and judged
``chain``           results that feed entries of other calculators
``request``         the browser worker's door: JSON in, JSON out
"""

from witnessmark.calc.as_entered import AsEntered, as_entered
from witnessmark.calc.calculator import (
    Calculator,
    RefusedError,
    calculator,
    calculators_of,
    find_calculator,
)
from witnessmark.calc.chain import (
    ChainError,
    Follow,
    Link,
    can_feed,
    evaluate_chain,
    fed_entry,
    fed_text,
    may_stand_for,
    told_of_stops,
)
from witnessmark.calc.checks import CheckedResult, CheckOutcome, request_of, run_check
from witnessmark.calc.declaration import (
    SOURCE_KINDS,
    Acceleration,
    ActivationEnergy,
    Angle,
    Area,
    CheckValue,
    Column,
    Count,
    DeclarationError,
    Density,
    Energy,
    Entry,
    Expansion,
    Force,
    Formula,
    Fraction,
    Inertia,
    Length,
    LineLoad,
    Mass,
    Number,
    Power,
    Pressure,
    Result,
    RotationalSpeed,
    Rows,
    Source,
    Speed,
    Stiffness,
    Stress,
    Symbol,
    Temperature,
    TemperatureDifference,
    Time,
    Torque,
    Unbalance,
    Volume,
    choice,
    column,
    entry,
    result,
    table,
    table_result,
    text_result,
)
from witnessmark.calc.display import Rounding, show, with_unit
from witnessmark.calc.drawing import Bars, Chart, Drawing, Outline, Polar
from witnessmark.calc.entries import Withheld
from witnessmark.calc.evaluate import CalculatorFailedError, Outcome, evaluate
from witnessmark.calc.findings import Finding, caution, note, stop
from witnessmark.calc.functions import Q, atan2, cos, exp, log, number, pi, sin, sqrt, tan
from witnessmark.calc.later import later
from witnessmark.calc.quantity_text import Entered, EntryError, read_quantity
from witnessmark.calc.reference_table import (
    ReferenceTable,
    reference_table,
    reference_tables_of,
)
from witnessmark.calc.request import evaluate_json
from witnessmark.calc.tools import ToolPlace, ToolRecord, WhenKnown
from witnessmark.calc.units import KINDS, UNITS, Kind, Quantity, Unit, kind_named

__all__ = [
    "KINDS",
    "SOURCE_KINDS",
    "UNITS",
    "Acceleration",
    "ActivationEnergy",
    "Angle",
    "Area",
    "AsEntered",
    "Bars",
    "Calculator",
    "CalculatorFailedError",
    "ChainError",
    "Chart",
    "CheckOutcome",
    "CheckValue",
    "CheckedResult",
    "Column",
    "Count",
    "DeclarationError",
    "Density",
    "Drawing",
    "Energy",
    "Entered",
    "Entry",
    "EntryError",
    "Expansion",
    "Finding",
    "Follow",
    "Force",
    "Formula",
    "Fraction",
    "Inertia",
    "Kind",
    "Length",
    "LineLoad",
    "Link",
    "Mass",
    "Number",
    "Outcome",
    "Outline",
    "Polar",
    "Power",
    "Pressure",
    "Q",
    "Quantity",
    "ReferenceTable",
    "RefusedError",
    "Result",
    "RotationalSpeed",
    "Rounding",
    "Rows",
    "Source",
    "Speed",
    "Stiffness",
    "Stress",
    "Symbol",
    "Temperature",
    "TemperatureDifference",
    "Time",
    "ToolPlace",
    "ToolRecord",
    "Torque",
    "Unbalance",
    "Unit",
    "Volume",
    "WhenKnown",
    "Withheld",
    "as_entered",
    "atan2",
    "calculator",
    "calculators_of",
    "can_feed",
    "caution",
    "choice",
    "column",
    "cos",
    "entry",
    "evaluate",
    "evaluate_chain",
    "evaluate_json",
    "exp",
    "fed_entry",
    "fed_text",
    "find_calculator",
    "kind_named",
    "later",
    "log",
    "may_stand_for",
    "note",
    "number",
    "pi",
    "read_quantity",
    "reference_table",
    "reference_tables_of",
    "request_of",
    "result",
    "run_check",
    "show",
    "sin",
    "sqrt",
    "stop",
    "table",
    "table_result",
    "tan",
    "text_result",
    "told_of_stops",
    "with_unit",
]
