"""A record worked out again: what agrees, what differs, what has changed since."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.record.written import job, write
from witnessmark.collection import load_collection
from witnessmark.record import Workshop, check_record, read_record
from witnessmark.record.at_work import answer

PAGE = "pull.md"


@pytest.fixture
def check(shop, tmp_path):
    """Check a record against the handbook as it stands now: states and differences by name."""

    def run(data, basis=None):
        record = read_record(write(tmp_path, data))
        collection = load_collection(shop.folder / "calculators")
        found = check_record(record, basis or shop.basis(), lambda asked: answer(asked, collection))
        return {
            entry.name: (entry.found, [(d.where, d.recorded, d.now) for d in entry.differences])
            for entry in found
        }

    return run


def calculator(data):
    return data["pages"][PAGE]["calculators"]["wm-lever"]


def reading(data):
    return data["pages"][PAGE]["readings"]["reading-play-of-the-bar"]


def test_a_record_by_hand_agrees(check, basis):
    """Results and verdicts that were worked by hand are those of the handbook."""
    assert check(job(basis)) == {
        name: (["agrees"], []) for name in ("step-1", "reading-play-of-the-bar", "wm-lever")
    }


@pytest.mark.parametrize(
    ("key", "value", "difference"),
    [
        ("display", "350\u202fN·m", ("result torque, display", "350\u202fN·m", "360\u202fN·m")),
        ("value", 360.0001, ("result torque, value", "360.0001", "360.0")),
        ("unit", "lbf ft", ("result torque, unit", "lbf ft", "N·m")),
        ("label", "Pull", ("result torque, label", "Pull", "Torque at the nut")),
    ],
)
def test_a_changed_result_is_found(check, basis, key, value, difference):
    """With what stands in the record and what comes out now."""
    data = job(basis)
    calculator(data)["outcome"]["results"][0][key] = value
    assert check(data)["wm-lever"] == (["differs"], [difference])


def test_the_last_bit_is_nobodys(check, basis):
    """Two C maths libraries do not share it."""
    data = job(basis)
    calculator(data)["outcome"]["results"][0]["value"] = 360.00000000000006
    assert check(data)["wm-lever"] == (["agrees"], [])


def test_an_entry_changed_behind_the_result_is_found(check, basis):
    """What was typed must be what was worked with."""
    data = job(basis)
    calculator(data)["typed"]["force"] = "200 N"
    assert check(data)["wm-lever"] == (
        ["differs"], [("entry force", "typed 200 N", "worked with 300 N")],
    )  # fmt: skip


def test_a_figure_of_the_page_that_is_not_the_pages_is_found(check, basis):
    """Everything fits, but the page gives a bar of 1.2 m, and fixes it."""
    data = job(basis)
    outcome = calculator(data)["outcome"]
    outcome["entries"]["arm"] |= {"text": "2 m", "display": "2\u202fm"}
    outcome["results"][0] |= {"display": "600\u202fN·m", "value": 600}
    assert check(data)["wm-lever"] == (["differs"], [("entry arm of the page", "2 m", "1.2 m")])
    calculator(data)["typed"]["arm"] = "2 m"
    assert check(data)["wm-lever"] == (
        ["differs"], [("entry arm", "the reader's own", "fixed by the page")],
    )  # fmt: skip


def test_a_result_more_or_less_is_found(check, basis):
    """A result that is not the calculator's, and one that is missing."""
    data = job(basis)
    calculator(data)["outcome"]["results"][0]["name"] = "pull"
    assert check(data)["wm-lever"] == (
        ["differs"],
        [("result pull", "there", "not there"), ("result torque", "not there", "there")],
    )


def test_a_changed_verdict_is_found(check, basis):
    """0.12 mm is over 0.10 mm, whatever the record says."""
    data = job(basis)
    reading(data)["texts"] = ["0.12"]
    states, found = check(data)["reading-play-of-the-bar"]
    assert states == ["differs"]
    assert ("verdict", "in", "out") in found


def test_limits_that_are_not_the_pages_are_found(check, basis):
    """Everything in the record fits together, but the page accepts 0.10 mm and no more."""
    data = job(basis)
    reading(data)["request"]["most"] = "0.5 mm"
    reading(data)["outcome"] |= {"limits": "at most 0.5\u202fmm"}
    reading(data)["outcome"]["readings"][0] |= {"said": "In: 0.42\u202fmm left to the upper limit."}
    assert check(data)["reading-play-of-the-bar"] == (
        ["differs"], [("limits most", "0.5 mm", "0.10 mm")],
    )  # fmt: skip


def test_a_page_with_other_words_is_told(check, basis, shop):
    """The results are the same, yet somebody must look again."""
    data = job(basis)
    shop.replace("docs/pull.md", "Pull steadily", "Pull slowly")
    found = check(data)
    assert {states[0] for states, _ in found.values()} == {"page changed since"}
    assert all(len(states) == 1 for states, _ in found.values())


def test_other_maths_is_told_with_its_result(check, basis, shop):
    """The helper is another: page and maths have changed, and the result differs."""
    data = job(basis)
    shop.replace("calculators/statics.py", "force * arm", "force * arm * 2")
    states, found = check(data)["wm-lever"]
    assert states == ["page changed since", "maths changed since", "differs"]
    assert ("result torque, display", "360\u202fN·m", "720\u202fN·m") in found


def test_pages_and_calculators_that_are_gone_are_told(check, basis):
    """Neither is guessed at."""
    data = job(basis)
    calculator(data)["calculator"] = "winch"
    data["pages"]["gone.md"] = data["pages"][PAGE]
    del data["pages"][PAGE]
    found = check(data)
    assert found["step-1"][0] == ["unknown page"]
    assert found["wm-lever"][0] == ["unknown page", "unknown calculator"]


def test_an_entry_without_a_result_does_not_agree(check, basis):
    """The browser was closed, or somebody took the result out."""
    data = job(basis)
    calculator(data)["outcome"] = None
    reading(data)["outcome"] = None
    found = check(data)
    assert (
        found["wm-lever"][0] == found["reading-play-of-the-bar"][0] == ["no result in the record"]
    )


@pytest.mark.parametrize(
    ("key", "value"), [("kind", "mood"), ("unit", "ell"), ("most", "much"), ("most", "9" * 300)]
)
def test_absurd_limits_are_told(check, basis, key, value):
    """What cannot be judged by differs."""
    data = job(basis)
    reading(data)["request"][key] = value
    states, found = check(data)["reading-play-of-the-bar"]
    assert states == ["differs"]
    assert found[-1][0] == "all of it"


ENDLESS = """
from calculators.statics import moment as _moment


def _patient(force, arm):
    while force.m_as("N") > 1000:
        pass
    return _moment(force, arm)


moment = _patient
"""


def test_the_workshop_ends_what_does_not_end(shop):
    """A calculation without an end is given up; the next one is answered by a new process."""
    path = Path(shop.folder / "calculators" / "lever.py")
    path.write_text(path.read_text("utf-8").replace("\nSTATICS = ", f"{ENDLESS}\nSTATICS = ", 1))
    asked = {"calculator": "lever", "units": "si", "entries": {"force": "2000 N", "arm": "1 m"}}
    with Workshop(shop.folder / "calculators", patience=3) as workshop:
        assert workshop.answer(asked) == {"failure": "no answer within 3 seconds"}
        workshop.patience = 60
        asked["entries"]["force"] = "100 N"
        (torque,) = workshop.answer(asked)["results"]
        assert torque["display"] == "100\u202fN·m"
        assert workshop.answer({**asked, "entries": {"mood": "1"}}) == {
            "failure": "the calculator has no entry 'mood'"
        }
