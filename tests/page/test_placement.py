"""What a calculator block gives the widget: entries, which are fixed, where they come from."""

from typing import Any

import pytest

from tests.page.builders import data_book, render
from witnessmark.page.widget import Placement


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """The invented data book."""
    return data_book(tmp_path_factory.mktemp("databook"))


@pytest.fixture
def placed(book, monkeypatch):
    """A function from the page's source to the placements it makes."""
    made: list[tuple[Placement, Any]] = []

    def take(placement, outcome):
        made.append((placement, outcome))
        return "<wm-calculator></wm-calculator>"

    monkeypatch.setattr("witnessmark.page.blocks.calculator.render_calculator", take)

    def of(source: str, machines: str = "[LG2]") -> list[Placement]:
        page = render(f"---\ntitle: Page\nmachines: {machines}\n---\n{source}", book)
        assert page.faults == []
        assert all(outcome["complete"] for _, outcome in made)
        return [placement for placement, _ in made]

    return of


def test_entries_from_the_data_book_are_fixed_and_carry_their_origin(placed):
    """Literals and entries left out stay open to the reader."""
    (one,) = placed("/// calculator | wrench\ntarget: nut.torque\nratio: 4\n///\n")

    assert one.entries == {"target": "480 N·m ± 4 %", "ratio": "4"}
    assert one.fixed == {"target"}
    assert one.origins == {"target": "sheet 2, rev A"}
    assert (one.ident, one.label) == ("wrench", "")
    assert one.reference_url == "../reference/wrench/"


def test_the_page_may_turn_the_rule_about(placed):
    """``fixed`` closes a literal or a default, ``open`` opens a value of the data book."""
    (one,) = placed(
        "/// calculator | wrench\ntarget: nut.torque\nratio: 4\nfixed: [ratio, form]\n"
        "open: target\n///\n"
    )

    assert one.fixed == {"ratio", "form"}


def test_machines_with_the_same_values_share_a_calculator(placed):
    """One widget, both sheets named as its origin."""
    (one,) = placed("/// calculator | wrench\narm: nut.arm\n///\n", "[LG2, LG3]")

    assert one.label == ""
    assert one.origins == {"arm": "sheet 2, rev A; sheet 3"}


def test_machines_with_different_values_have_one_each(placed):
    """Labelled, with identities of their own, numbered through the page."""
    made = placed(
        "/// calculator | wrench\ntarget: nut.torque\n///\n\n/// calculator | wrench\n///\n",
        "[LG2, LG3]",
    )

    assert [(one.ident, one.label) for one in made] == [
        ("wrench", "LG2"),
        ("wrench-2", "LG3"),
        ("wrench-3", ""),
    ]
    assert [one.entries for one in made] == [
        {"target": "480 N·m ± 4 %"},
        {"target": "118 N·m"},
        {},
    ]


def test_the_rows_of_a_table_may_name_values(placed):
    """A cell is a text or a name of the data book; with a name in it the table is fixed."""
    (one,) = placed("/// calculator | stack\nshims:\n  - [nut.width]\n  - ['0,5 mm']\n///\n")

    assert one.entries == {"shims": [["46 mm"], ["0,5 mm"]]}
    assert one.fixed == {"shims"}
    assert one.origins == {"shims": "sheet 2, rev A"}


def test_a_thread_with_a_point_is_no_name_of_the_data_book(book):
    """M12x1.25 is a text: a part of a name never begins with a digit."""
    page = render("/// calculator | wrench\nform: M12x1.25\n///\n", book)

    assert page.faults == [
        "2: wrench.form: found 'M12x1.25'; expected an entry that is accepted: "
        "Choose one of: canal form, dry form"
    ]


def test_a_page_without_machines_leaves_out_those_that_lack_a_value(book):
    """A reference page may speak of what only one machine has; it says for which."""
    page = render("{only_here.mass}\n", book)

    assert page.faults == []
    assert "(LG2)" in page.html


CHAIN = """\
/// calculator | wrench
name: second
target: from first.wrench
///

//// step | Set it
/// calculator | stack
///
////

//// step | Pull
/// calculator | wrench
name: first
target: nut.torque
ratio: 4 ± 0.1
///
////
"""


def test_a_fed_entry_has_the_figure_and_the_band_of_its_source(placed):
    """480 N·m ± 4 % over 4 ± 0.1 is 120 N·m, at worst 460.8/4.1 and 499.2/3.9 (by hand), also
    where the source stands below; the reader can type over it and sees where it comes from."""
    fed, _, _ = placed(CHAIN)

    value, limits = fed.entries["target"].split(" N·m ")
    assert value == "120"
    assert limits == "+8/-7.61"  # 499.2/3.9 is 128, 460.8/4.1 is 112.390: outward, four figures
    assert fed.fixed == set()
    follow = fed.follows["target"]
    assert (follow.ident, follow.result) == ("wm-first", "wrench")
    assert (follow.words, follow.label) == ("Wrench setting, step 2", "Set the wrench to")


def test_each_machine_is_fed_by_its_own(placed):
    """Two machines, two sources, two fed calculators; what is alike stays together."""
    made = placed(
        "/// calculator | wrench\ntarget: nut.torque\nratio: 2\n///\n\n"
        "/// calculator | wrench\nname: next\ntarget: from wrench.wrench\narm: nut.arm\n///\n\n"
        "/// calculator | stack\n///\n\n"
        "/// calculator | wrench\nname: last\narm: from stack.total\n///\n",
        "[LG2, LG3]",
    )

    assert [(one.ident, one.label) for one in made] == [
        ("wrench", "LG2"), ("wrench-2", "LG3"), ("next", "LG2"), ("next-2", "LG3"),
        ("stack", ""), ("last", ""),
    ]  # fmt: skip
    assert made[2].entries["target"].startswith("240 N·m +")
    assert made[3].entries["target"] == "59 N·m"
    assert [one.follows["target"].ident for one in made[2:4]] == ["wm-wrench", "wm-wrench-2"]
    assert made[5].entries == {"arm": "3 mm"}
    assert [one.origins for one in made[2:4]] == [{"arm": "sheet 2, rev A"}, {"arm": "sheet 3"}]


def test_a_fed_entry_may_be_fixed(placed):
    """Then the reader cannot type over it."""
    _, fed = placed(
        "/// calculator | stack\n///\n\n"
        "/// calculator | wrench\narm: from stack.total\nfixed: arm\n///\n"
    )

    assert fed.fixed == {"arm"}


def test_names_of_places_never_meet(placed):
    """An author's name may look like one that is counted on."""
    made = placed(
        "/// calculator | wrench\nname: wrench-2\n///\n\n"
        "/// calculator | wrench\n///\n\n/// calculator | wrench\n///\n"
    )

    assert len({one.ident for one in made}) == 3
