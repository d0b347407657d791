"""The widget's HTML as the build writes it."""

from __future__ import annotations

import dataclasses
import json
import re
from dataclasses import dataclass

import pytest

from witnessmark.calc import (
    Count,
    Finding,
    Force,
    Fraction,
    Length,
    Rounding,
    Rows,
    Torque,
    calculator,
    caution,
    choice,
    column,
    entry,
    evaluate,
    note,
    result,
    stop,
    table,
)
from witnessmark.calc.quantity_text import read_quantity
from witnessmark.calc.units import KINDS, magnitude_in
from witnessmark.page.entries_html import echo, field_text
from witnessmark.page.entry_text import parted, parted_range
from witnessmark.page.results_html import figure
from witnessmark.page.widget import PAGE_FIGURES, Placement, render_calculator


@dataclass(frozen=True)
class _Press:
    press: Force = result("Press <on> the pin", lead=True, rounding=Rounding(step="1 N"))
    spare: Force = result("To spare", seldom=True, rounding=Rounding(figures=2))
    findings: tuple[Finding, ...] = ()


@calculator(name="widget-trial", title="Press & pull", topic="trial", purpose="To try with.")
def press(
    *,
    torque: Torque = entry("Torque", "100 N·m", tolerance="4 %", least="1 N·m"),
    arm: Length = entry("Arm", "500 mm ± 5 mm", above="0 mm", help="Along the arm."),
    shift: Length = entry("Shift", "-1 mm", units=("mm",)),
    share: Fraction = entry("Share", "0.95", least=0, most=1),
    hold: str = choice("Holds", {"a": "short", "b": "short too"}, default="a"),
    way: str = choice("Way", {"l": "left", "r": "right, over the whole of the rim"}, default="l"),
    teeth: Count = entry("Teeth", "121", when={"hold": "b"}),
    pins: Rows = table("Pins", {"x": column("x", Length)}, default=(("1",), ("2",))),
    rare: Length = entry("Rare", "1 mm", seldom=True),
) -> _Press:
    """Torque over arm."""
    force = torque / arm
    return _Press(
        force,
        force,
        (note("n", "A note."), caution("c", "A <caution>."), stop("s", "A stop.")),
    )


def rendered(entries=None, fixed=(), **more):
    entries = entries or {}
    placement = Placement(press, "trial", entries, frozenset(fixed), **more)
    return render_calculator(placement, evaluate(press, entries))


def part(html: str, name: str) -> str:
    """The HTML of one entry, up to the next."""
    found = re.search(
        rf'<div class="wm-entry[^>]*data-entry="{name}".*?(?=<div class="wm-entry|$)', html
    )
    assert found is not None
    return found[0]


def data(html: str, name: str) -> str:
    found = re.search(rf'{name}="([^"]*)"', html)
    assert found is not None
    return found[1].replace("&quot;", '"')


def test_every_text_is_escaped():
    """Labels, titles and findings are text, whatever they hold."""
    html = rendered()
    assert "Press &amp; pull" in html
    assert "Press &lt;on&gt; the pin" in html
    assert "A &lt;caution&gt;." in html


def test_without_a_script_nothing_can_be_typed_or_pressed():
    """Fields are disabled and buttons hidden until the script takes over."""
    html = rendered()
    controls = re.findall(r"<(?:input|select)[^>]*>", html)
    assert len(controls) > 8
    assert [tag for tag in controls if " disabled" not in tag] == []
    before, rows = html.split('class="wm-row-buttons" hidden>')
    inside, after = rows.split("</div>", 1)
    assert inside.count("<button") == 3
    shown = re.findall(r"<button[^>]*>", before + after)
    assert [tag for tag in shown if " hidden" not in tag] == []
    assert PAGE_FIGURES in html


@pytest.mark.parametrize(
    ("typed", "numbers", "unit"),
    [
        ("8.045 … 8.066 mm", "8.045 … 8.066", "mm"), ("0,10..0,25 mm", "0,10..0,25", "mm"),
        ("-0.5 … 0.5 N·m", "-0.5 … 0.5", "N·m"), ("8.045 … 8.066", "", ""),
        ("8 mm ± 1 mm", "", ""), ("8 mm", "", ""),
    ],
)  # fmt: skip
def test_a_range_has_its_unit_in_the_list(typed, numbers, unit):
    """What stands in the field is the two numbers; the unit stands beside it, once."""
    assert parted_range(typed) == (numbers, unit)


def test_a_share_stands_without_its_per_cent_where_that_stands_beside_it():
    """ "100 %" is the number beside the unit; with a tolerance the text stays as it was written."""
    share = dataclasses.replace(press.entries["arm"], kind=KINDS["fraction"], units=("%",))
    for typed, shown in (("100 %", "100"), ("100 % ± 4 %", "100 % ± 4 %"), ("0.98", "0.98")):
        assert field_text(share, {"text": typed, "typed_unit": "%"}) == shown


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("0.50 ± 0.05 mm", "0.50 ± 0.05"), ("2.00 mm ± 0.05 mm", "2.00 ± 0.05"),
        ("64.4 mm +0/-0.074", "64.4 +0/-0.074"), ("64.4 +0/-0.074 mm", "64.4 +0/-0.074"),
        ("80 mm ± 4 %", "80 ± 4 %"), ("8.045 … 8.066 mm", "8.045 … 8.066"), ("20 mm", "20"),
        ("20 mm ± 0.1 in", "20 mm ± 0.1 in"), ("20 ± 4 %", "20 ± 4 %"), ("20", "20"),
    ],
)  # fmt: skip
def test_the_unit_stands_once(typed, shown):
    """It is in the list beside the field; a tolerance in another unit stays as it was written.

    What is shown means, in the unit of the list, what the page gives."""
    arm = press.entries["arm"]
    outcome = evaluate(press, {"arm": typed})["entries"]["arm"]
    assert field_text(arm, outcome) == shown
    number, unit, tail = parted(shown)
    if number and not unit and " in" not in shown:
        again = evaluate(press, {"arm": f"{number} mm {tail}"})["entries"]["arm"]
        assert [again.get(key) for key in ("value", "low", "high")] == [
            outcome.get(key) for key in ("value", "low", "high")
        ]


def test_an_entry_carries_what_the_script_needs():
    """The page's own text, its number in every unit, and the unit of the US system."""
    torque = part(rendered({"torque": "480 N·m ± 4 %"}), "torque")
    assert data(torque, "data-text") == "480 N·m ± 4 %"
    assert json.loads(data(torque, "data-as-units"))["lbf·ft"] == "354.03"
    assert data(torque, "data-unit-us") == "lbf·ft"
    assert 'value="480 ± 4 %"' in torque
    pins = part(rendered(), "pins")
    assert json.loads(data(pins, "data-text")) == [["1"], ["2"]]


def test_label_help_echo_and_error_belong_to_the_field():
    """A screen reader hears them with the field."""
    arm = part(rendered(), "arm")
    assert '<label for="wm-trial-arm"' in arm
    described = data(arm, "aria-describedby").split()
    assert described == ["wm-trial-arm-help", "wm-trial-arm-echo", "wm-trial-arm-error"]
    assert [name for name in described if f'id="{name}"' not in arm] == []


def test_a_fixed_entry_is_text_in_both_unit_systems():
    """No field; the figure with its origin."""
    html = rendered({"torque": "480 N·m ± 4 %"}, ["torque"], origins={"torque": "sheet 7"})
    torque = part(html, "torque")
    assert "<input" not in torque
    assert '<span class="wm-si">480\u202fN·m ± 4\u202f%</span>' in torque
    assert '<span class="wm-us">354\u202flbf·ft ± 4\u202f%</span>' in torque
    assert ">sheet 7<" in torque


def test_a_bare_number_that_is_fixed_is_shown_with_its_unit():
    """The entry's own unit is added."""
    assert '<span class="wm-si">20\u202fmm</span>' in part(rendered({"arm": "20"}, ["arm"]), "arm")


def test_long_options_are_offered_one_below_the_other():
    """A list would cut them off; short ones stay in a list."""
    html = rendered()
    assert part(html, "way").count('type="radio"') == 2
    assert "<select" in part(html, "hold")
    assert 'type="radio"' not in part(html, "hold")


def test_an_entry_that_does_not_count_is_hidden_but_there():
    """The script shows it when the choice is made."""
    assert " hidden>" in part(rendered(), "teeth").split(">")[0] + ">"
    assert " hidden>" not in part(rendered({"hold": "b"}), "teeth").split(">")[0] + ">"


@pytest.mark.parametrize(
    ("name", "keyboard"), [("torque", "decimal"), ("teeth", "numeric"), ("shift", None)]
)
def test_digits_come_up_where_only_digits_are_typed(name, keyboard):
    """Not where a minus sign or a tolerance may be wanted."""
    field = part(rendered(), name)
    assert (f'inputmode="{keyboard}"' in field) if keyboard else ("inputmode" not in field)


def test_seldom_entries_stand_behind_unless_the_page_offers_them():
    """A value that the page gives and leaves open comes to the front."""
    behind = rendered().split('class="wm-seldom"')[1]
    assert 'data-entry="rare"' in behind
    assert 'class="wm-seldom"' not in rendered({"rare": "2 mm"})
    assert 'class="wm-seldom"' in rendered({"rare": "2 mm"}, ["rare"])


def test_a_long_form_takes_the_whole_width():
    """Fixed entries count half, hidden ones nothing."""
    assert "wm-large" in rendered()
    assert "wm-large" not in rendered(fixed=["torque", "arm"])


def test_warnings_stand_before_notes():
    """Stop and caution in sight, stop first; the note and the spare figure behind a disclosure."""
    front, behind = rendered().split('<details class="wm-more">')
    assert front.index('data-code="s"') < front.index('data-code="c"')
    assert 'data-code="n"' in behind
    assert "More figures, 1 note" in behind


def test_number_and_unit_stand_apart():
    """With the very space of the display text; without a unit there is one part."""
    made = figure({"number": "43", "unit_text": "N·m", "display": "43\u202fN·m"})
    assert made == ('<span class="wm-number">43</span>\u202f<span class="wm-unit">N·m</span>')
    assert figure({"number": "2", "unit_text": "", "display": "2"}) == (
        '<span class="wm-number">2</span>'
    )


def test_one_kind_of_limits_is_enough_when_both_say_the_same():
    """A single toleranced entry: worst case and root sum square agree, no drivers are drawn."""
    html = rendered({"arm": "500 mm"})
    assert html.count("wm-band-part") == 2  # two results, one pair of limits each
    assert "wm-drivers" not in html
    assert "root sum square" in rendered()
    assert "Where the spread comes from" in rendered()


@pytest.mark.parametrize(
    ("typed", "parts"),
    [
        ("480 N·m ± 4 %", ("480", "N·m", "± 4 %")),
        ("480 ± 20 N·m", ("480", "", "± 20 N·m")),
        ("1 7/16 in", ("1 7/16", "in", "")),
        ("1e3 mm", ("1e3", "mm", "")),
        ("75 mm +0.1/-0.2", ("75", "mm", "+0.1/-0.2")),
        ("-0.005", ("-0.005", "", "")),
        ("20 °C", ("20", "°C", "")),
        ("0.10 … 0.25 mm", ("", "", "")),
        ("M30x2", ("", "", "")),
    ],
)
def test_a_typed_quantity_comes_apart(typed, parts):
    """Number, unit, tolerance; anything else is left alone."""
    assert parted(typed) == parts


@pytest.mark.parametrize("typed", ["12 mm", "1 7/16 in", "0.5 in ± 0.1 in", "75 mm +0.1/-0.2"])
def test_what_stands_in_the_field_means_the_same(typed):
    """Field and chosen unit together are the quantity of the page's text."""
    outcome = evaluate(press, {"arm": typed})["entries"]["arm"]
    number, unit, tail = parted(field_text(press.entries["arm"], outcome))
    assert unit == ""
    again = read_quantity(f"{number} {outcome['typed_unit']} {tail}", KINDS["length"])
    assert magnitude_in(again.quantity, "mm") == pytest.approx(outcome["value"], rel=1e-12)
    assert magnitude_in(again.high, "mm") == pytest.approx(
        outcome.get("high", outcome["value"]), rel=1e-12
    )


def test_the_echo_tells_the_own_unit_and_the_limits():
    """Silent where the field already says it."""

    def part_of(text):
        return evaluate(press, {"arm": text})["entries"]["arm"]

    assert echo(part_of("12 mm")) == ""
    assert echo(part_of("2 in")) == "= 50.8 mm"
    assert echo(part_of("12 mm ± 1 mm")).endswith("(11 … 13)")
    assert echo(part_of("nonsense")) == ""
    share = evaluate(press, {"share": "95 %"})["entries"]["share"]
    assert echo(share) == "= 0.95 of 1"
