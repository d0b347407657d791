"""A small invented handbook for the tests: data book, calculators, pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import markdown

from witnessmark.calc import (
    Calculator,
    Finding,
    Force,
    Length,
    Number,
    Rounding,
    Rows,
    ToolPlace,
    Torque,
    calculator,
    choice,
    column,
    entry,
    number,
    result,
    stop,
    table,
    text_result,
)
from witnessmark.databook import DataBook, load_databook
from witnessmark.faults import Faults
from witnessmark.page import (
    PageContext,
    PageIndex,
    StandIns,
    WitnessMarkExtension,
    finish_page,
    page_entry,
)

ENGINES = {
    "lg2.yml": """\
machine: LG2
variants: [canal, stationary]
source: sheet 2
rev: A
nut:
  thread: M30x2
  torque: {is: 480 N·m ± 4 %, kind: torque}
  width: {is: 46 mm, kind: length}
  arm: {is: 300 mm, kind: length}
joint:
  sealing: {canal: o-ring, stationary: gasket}
only_here:
  mass: {is: 31 kg, kind: mass}
""",
    "lg3.yml": """\
machine: LG3
variants: [canal, stationary]
source: sheet 3
nut:
  thread: M12x1.25
  torque: {is: 118 N·m, kind: torque}
  width: {is: 46 mm, kind: length}
  arm: {is: 300 mm, kind: length}
joint:
  sealing: {canal: o-ring, stationary: gasket}
""",
    "shop.yml": """\
source: tool card
tools:
  bar: {title: reaction bar}
  multiplier:
    title: torque multiplier
    ratio: {is: 5, kind: number}
  gear:
    title: geared multiplier
    tool: torque multiplier
    ratio: {is: 4 ± 0.1, kind: number}
    due: 2027-09-13
  small:
    title: small multiplier
    tool: torque multiplier
    ratio: {is: 3, kind: number}
    due: 2026-01-31
  long_bar: {title: long bar, tool: reaction bar}
consumables:
  locker: {title: "threadlocker, medium"}
hazards:
  pinch: {title: fingers between arm and bar}
""",
}


@dataclass(frozen=True)
class Setting:
    """Results of the invented multiplier."""

    wrench: Torque = result(
        "Set the wrench to", lead=True, rounding=Rounding(step="1 N·m", us_step="1 lbf·ft")
    )
    press: Force | None = result("Press of the arm", rounding=Rounding(figures=3))
    verdict: str = text_result("Verdict")
    findings: tuple[Finding, ...] = ()


@calculator(name="wrench", title="Wrench setting", topic="tests", purpose="For the tests.")
def wrench(
    *,
    target: Torque = entry("Torque at the nut", "400 N·m", least="1 N·m", most="900 N·m"),
    ratio: Number = entry("Ratio", "5", least=1),
    arm: Length = entry("Arm", "250 mm", units=("mm", "in"), optional=True),
    form: str = choice("Form", {"canal": "canal form", "dry": "dry form"}, default="canal"),
) -> Setting:
    """Torque divided by the ratio; a stop above 150 N·m."""
    torque = target / number(ratio)
    press = target / arm if arm is not None else None
    findings = (stop("too-much", "More than the wrench can give."),)
    above = torque.m_as("N*m") > 150
    return Setting(torque, press, f"in the {form}", findings if above else ())


@dataclass(frozen=True)
class Sum:
    """The sum of a stack."""

    total: Length = result("Total", lead=True, rounding=Rounding(decimals=2))


@calculator(name="stack", title="Stack of shims", topic="tests", purpose="For the tests.")
def stack(
    *,
    shims: Rows = table("Shims", {"t": column("t", Length)}, default=(("1 mm",), ("2 mm",))),
    fail: Length = entry("Fails above", "5 mm"),
) -> Sum:
    """The sum of the thicknesses; a defect of its own above 5 mm."""
    total = sum((shim.t for shim in shims[1:]), shims[0].t)
    if fail.m_as("mm") > 5:
        raise ZeroDivisionError("a defect in the maths")
    return Sum(total)


@calculator(
    name="geared",
    title="Geared",
    topic="tests",
    purpose="For the tests.",
    tools=(
        ToolPlace("tool", "Multiplier", "torque multiplier", {"ratio": "{ratio}"}),
        ToolPlace("socket", "Socket", "socket", {"length": "{across_flats}"}),
    ),
)
def geared(
    *,
    ratio: Number = entry("Ratio", "5", least=1),
    length: Length = entry("Length", "10 mm"),
) -> Sum:
    """Length times ratio."""
    return Sum(length * number(ratio))


@dataclass
class Shelf:
    """The calculators of the tests in the shape of a collection."""

    calculators: Mapping[str, Calculator[..., Any]]

    def module_of(self, name: str) -> str:
        """Each calculator stands in a module of its own name."""
        return f"calculators.{name}"


SHELF = Shelf({"wrench": wrench, "stack": stack, "geared": geared})
THEME_EXTENSIONS = (
    "admonition", "attr_list", "tables", "toc", "def_list", "footnotes", "md_in_html", "abbr",
    "pymdownx.superfences", "pymdownx.details", "pymdownx.emoji", "pymdownx.inlinehilite",
    "pymdownx.smartsymbols", "pymdownx.tasklist", "pymdownx.betterem", "pymdownx.caret",
    "pymdownx.snippets", "pymdownx.blocks.html",
)  # fmt: skip
PAGES = {
    "procedures/runout.md": "# Runout and balance\n",
    "procedures/threadlocker.md": "---\ntitle: Threadlocker on the nut\n---\n",
    "index.md": "---\ntitle: Home\n---\n",
}


def data_book(folder: Path, files: Mapping[str, str] | None = None) -> DataBook:
    """The invented data book, or one made of ``files``."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in (files or ENGINES).items():
        (folder / name).write_text(text, encoding="utf-8")
    faults = Faults()
    book = load_databook(folder, faults)
    faults.raise_if_any()
    return book


def context_of(source: str, book: DataBook) -> PageContext:
    """The context of a page ``procedures/page.md`` with the whole text ``source``."""
    return PageContext(
        book=book,
        collection=SHELF,
        faults=Faults(),
        file="docs/procedures/page.md",
        source=source,
        uri="procedures/page.md",
        pages=PageIndex.of(page_entry(uri, text) for uri, text in PAGES.items()),
        reference_url=lambda name: f"../reference/{name}/",
    )


@dataclass
class Rendered:
    """A converted page."""

    html: str
    context: PageContext
    md: markdown.Markdown

    @property
    def faults(self) -> list[str]:
        """The faults without the page's path: ``line: field: found …``."""
        return [
            str(fault).removeprefix(self.context.file).lstrip(":").replace("\u202f", " ").strip()
            for fault in self.context.faults
        ]


def render(
    source: str,
    book: DataBook,
    extensions: tuple[Any, ...] = THEME_EXTENSIONS,
    *,
    ours_first: bool = False,
    today: str = "",
    stand_ins: StandIns | None = None,
    **options: Any,
) -> Rendered:
    """The page converted as a build does it."""
    context = context_of(source, book)
    context.evaluations.today = today
    context.stand_ins = stand_ins
    ours = WitnessMarkExtension(context)
    md = markdown.Markdown(
        extensions=[ours, *extensions] if ours_first else [*extensions, ours],
        extension_configs=options,
    )
    body = "\n".join(context.source.split("\n")[context.front.body_line - 1 :])
    html = finish_page(md.convert(body), context)
    return Rendered(html, context, md)
