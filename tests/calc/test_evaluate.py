"""evaluate(): results, findings and errors from typed text, as plain JSON."""

import json

import pytest

from witnessmark.calc import (
    CalculatorFailedError,
    calculators_of,
    evaluate,
    evaluate_json,
    find_calculator,
    run_check,
)
from witnessmark.calc.entries import _no_such_choice


def result_of(outcome, name):
    return next(part for part in outcome["results"] if part["name"] == name)


def test_defaults_give_results(samples):
    """300 N on 750 mm is 225 N·m (moment of a force)."""
    outcome = evaluate(samples.lever, {})
    torque = result_of(outcome, "torque")
    assert outcome["complete"]
    assert torque["value"] == pytest.approx(225)
    assert torque["display"] == "225\u202fN·m"
    assert torque["lead"]
    assert torque["band"] is None


def test_an_outcome_is_plain_json(samples):
    """Whatever comes out goes through JSON unchanged."""
    for calculator in calculators_of(samples):
        outcome = evaluate(calculator, {})
        assert json.loads(json.dumps(outcome, allow_nan=False)) == outcome


def test_the_worker_gets_the_same_outcome(samples):
    """evaluate_json is evaluate with JSON at both ends."""
    request = {"calculator": "sample-lever", "entries": {"force": "50 lbf"}, "units": "us"}
    assert json.loads(evaluate_json(json.dumps(request))) == evaluate(
        find_calculator("sample-lever"), {"force": "50 lbf"}, "us"
    )


def test_drawings_can_be_left_out(samples, monkeypatch):
    """Figures are the same; nothing is drawn."""
    drawn = []
    monkeypatch.setattr(samples.lever, "drawings", [("Lever", lambda *_: drawn.append(1))])
    bare = evaluate(samples.lever, {}, drawings=False)
    assert drawn == []
    assert bare["results"] == evaluate(samples.lever, {})["results"]
    assert drawn == [1]


def test_units_mix_freely(samples):
    """100 lbf on 1 ft is 100 lbf·ft."""
    outcome = evaluate(samples.lever, {"force": "100 lbf", "arm": "12 in"}, "us")
    assert result_of(outcome, "torque")["display"] == "100\u202flbf·ft"


def test_a_bad_entry_is_told_at_its_field_and_no_result_is_given(samples):
    """Every bad entry has its own message, the good ones none."""
    outcome = evaluate(samples.lever, {"force": "much", "arm": "9 m"})
    assert not outcome["complete"]
    assert outcome["results"] == []
    assert outcome["entries"]["force"]["error"]["code"] == "no-number"
    assert outcome["entries"]["arm"]["error"]["message"] == (
        "Must be at most 3000\u202fmm. No bar is longer."
    )
    assert outcome["entries"]["stop_kind"]["error"] is None


def test_an_exclusive_limit_excludes_itself(samples):
    """An arm of 0 is refused."""
    assert evaluate(samples.lever, {"arm": "0"})["entries"]["arm"]["error"]["code"] == "too-small"


def test_an_unusual_entry_is_accepted_with_a_caution(samples):
    """401 N is beyond the usual range, 400 N is not."""
    found = [finding["code"] for finding in evaluate(samples.lever, {"force": "401"})["findings"]]
    assert "unusual" in found
    found = [finding["code"] for finding in evaluate(samples.lever, {"force": "400"})["findings"]]
    assert "unusual" not in found


def test_stops_come_first(samples):
    """Findings are in the order stop, caution, note."""
    outcome = evaluate(samples.lever, {"force": "500", "arm": "3 m"})
    assert [finding["level"] for finding in outcome["findings"]] == ["stop", "caution", "note"]


def test_an_entry_that_does_not_count_cannot_spoil_the_results(samples):
    """With no stop, the length of its arm is ignored, and its result left out."""
    outcome = evaluate(samples.lever, {"stop_arm": "rubbish"})
    assert outcome["complete"]
    assert not outcome["entries"]["stop_arm"]["active"]
    assert [part["name"] for part in outcome["results"]] == ["torque", "verdict"]


def test_a_choice_opens_its_entries(samples):
    """225 N·m on an arm of 250 mm presses with 900 N."""
    outcome = evaluate(samples.lever, {"stop_kind": "arm"})
    assert result_of(outcome, "press")["display"] == "0.900\u202fkN"
    assert evaluate(samples.lever, {"stop_kind": "rope"})["entries"]["stop_kind"]["error"]


def test_an_entry_is_given_in_every_unit_of_its_field(samples):
    """The widget converts with these, never by itself."""
    part = evaluate(samples.lever, {"arm": "30 in"})["entries"]["arm"]
    assert part["as_units"] == {"mm": "762", "m": "0.762", "in": "30"}
    assert part["typed_unit"] == "in"
    assert part["value"] == pytest.approx(762)


def test_a_unit_the_field_does_not_offer_is_refused(samples):
    """The arm is entered in mm, m or in, not in thousandths."""
    error = evaluate(samples.lever, {"arm": "9 thou"})["entries"]["arm"]["error"]
    assert error["code"] == "unit-not-here"


def test_rows_are_read_cell_by_cell(samples):
    """A table keeps its rows; a bad cell is told with row and column."""
    outcome = evaluate(samples.sorted_rows, {})
    assert result_of(outcome, "rows")["rows"] == [["a", "3.00"], ["b", "25.4"]]
    outcome = evaluate(samples.sorted_rows, {"parts": [["a", "3", "1"], ["b", "-1", "x"]]})
    error = outcome["entries"]["parts"]["error"]
    assert [(cell["row"], cell["column"]) for cell in error["cells"]] == [(1, "size"), (1, "n")]
    assert error["message"].startswith("Row 2, Size: Must be at least 0")


@pytest.mark.parametrize(
    ("rows", "code"),
    [
        ([], "too-few-rows"),
        ([["", "", ""]], "too-few-rows"),
        ([["a", "1", "1"]] * 4, "too-many-rows"),
        ([["a", "1", "1", "9"]], "bad-cell"),
        (["a"], "not-rows"),
        ([[1, 2, 3]], "not-rows"),
        ({"a": 1}, "not-rows"),
        ("x" * 10_000, "too-long"),
    ],
)
def test_odd_tables_are_refused(samples, rows, code):
    """Too few, too many, wrong shape: each has its code."""
    outcome = evaluate(samples.sorted_rows, {"parts": rows})
    assert outcome["entries"]["parts"]["error"]["code"] == code


def test_a_table_can_be_given_as_text(samples):
    """Rows by line or semicolon, cells by blank or tab (the command line)."""
    outcome = evaluate(samples.sorted_rows, {"parts": "p 3 1; q\t2\t1"})
    assert result_of(outcome, "rows")["rows"] == [["q", "2.00"], ["p", "3.00"]]


def test_an_optional_entry_may_stay_empty(samples):
    """Empty becomes None for the calculator."""
    assert result_of(evaluate(samples.sorted_rows, {"bench": ""}), "count")["value"] == 3
    assert result_of(evaluate(samples.sorted_rows, {}), "count")["value"] == 2


@pytest.mark.parametrize(("text", "code"), [("11.5", "not-whole"), ("11 ± 1", "not-whole")])
def test_a_count_is_whole(samples, text, code):
    """Teeth are counted."""
    error = evaluate(samples.sorted_rows, {"teeth": text})["entries"]["teeth"]["error"]
    assert error["code"] == code


def test_entries_that_contradict_are_refused_by_the_calculator(samples):
    """RefusedError marks the entry it names."""
    error = evaluate(samples.sorted_rows, {"teeth": "13"})["entries"]["teeth"]["error"]
    assert error == {
        "code": "contradiction",
        "message": "13 teeth do not mesh. Write another number.",
    }


def test_unknown_names_are_errors_of_the_caller(samples):
    """An entry or unit system that does not exist is no fitter's slip."""
    with pytest.raises(KeyError, match="no entry 'farce'"):
        evaluate(samples.lever, {"farce": "1"})
    with pytest.raises(KeyError, match="unit system"):
        evaluate(samples.lever, {}, "imperial")
    with pytest.raises(KeyError):
        find_calculator("no-such")


def test_a_defect_of_a_calculator_is_not_hidden(samples, monkeypatch):
    """An exception, or a result of the wrong dimension, raises CalculatorFailedError."""
    monkeypatch.setattr(samples.lever, "function", lambda **_: 1 / 0)
    with pytest.raises(CalculatorFailedError, match="sample-lever: ZeroDivisionError"):
        evaluate(samples.lever, {})
    wrong = samples.Lever(torque=samples.spread.function, press=None, verdict="")
    monkeypatch.setattr(samples.lever, "function", lambda **_: wrong)
    with pytest.raises(CalculatorFailedError, match="torque"):
        evaluate(samples.lever, {})


def test_check_values_are_judged_through_evaluate(samples):
    """A right expectation passes, a wrong one fails, a refusal is expected by name."""
    good, refused = samples.lever.check_values
    assert run_check(samples.lever, good).passed
    assert run_check(samples.lever, refused).passed
    import dataclasses

    wrong = dataclasses.replace(good, expected={"torque": "601 N·m"})
    assert not run_check(samples.lever, wrong).passed
    near = dataclasses.replace(good, expected={"torque": "600.4 N·m"}, abs_="0.5 N·m")
    assert run_check(samples.lever, near).passed
    accepted = dataclasses.replace(refused, entries={"arm": "1 m"})
    assert not run_check(samples.lever, accepted).passed
    silent = dataclasses.replace(good, findings=("never-raised",))
    assert not run_check(samples.lever, silent).passed


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("871.15 mm +723/-457", "871.15\u202fmm (414.2 … 1594)"),
        ("100 mm +4.1667/-3.84615", "100\u202fmm (96.15 … 104.17)"),
        ("340.38 mm ± 0.02", "340.38\u202fmm (340.36 … 340.4)"),
        ("0.12 mm ± 4 %", "0.12\u202fmm (0.1152 … 0.1248)"),
        ("8.0555 mm +0.0105/-0.0105", "8.0555\u202fmm (8.045 … 8.066)"),
    ],
)
def test_limits_of_an_entry_are_shown_as_finely_as_they_lie_apart(typed, shown, samples):
    """To a hundredth of their distance, with four to six figures; counted by hand."""
    outcome = evaluate(samples.spread, {"a": typed})
    assert outcome["entries"]["a"]["display"] == shown


def test_of_many_choices_the_nearest_are_named():
    """A list of all would hide them; few are all named."""
    threads = ("M10×1.5", "M12×1.75", "M12×1.25", *(f"M{size}×4" for size in range(30, 45)))
    for written, named in (
        ("m12 x 2", "Nearest: M12×1.75, M12×1.25."),
        ("ring", "For example M10×1.5."),
    ):
        message = _no_such_choice(written, threads)
        assert message == f"“{written}” is none of the 18 choices. {named}"
    assert _no_such_choice("ring", ("wet", "dry")) == "Choose one of: wet, dry."
