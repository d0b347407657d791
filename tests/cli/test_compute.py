"""The command line computes as the page does and tells by its exit status."""

import json

import pytest

from witnessmark.calc import evaluate
from witnessmark.cli import main


def run(capsys, project, *arguments):
    status = main(["--project", str(project), *arguments])
    captured = capsys.readouterr()
    return status, captured.out, captured.err


def test_one_case_is_worked_out(project, capsys):
    """50 lbf on 12 in is 67.8 N·m (50 lbf·ft; NIST SP 811 factor 1.355 818)."""
    status, out, _ = run(capsys, project, "compute", "lever", "force=50 lbf", "arm=12 in")
    assert status == 0
    assert out == "Torque: 67.8\u202fN·m\n"


def test_json_is_the_outcome_itself(project, capsys):
    """--json prints what evaluate() gives."""
    status, out, _ = run(capsys, project, "compute", "lever", "arm=2 m", "--json")
    from witnessmark.calc import find_calculator

    assert status == 0
    assert json.loads(out) == evaluate(find_calculator("lever"), {"arm": "2 m"})


def test_a_stop_is_told_by_the_exit_status(project, capsys):
    """Status 1 for a stop finding."""
    status, out, _ = run(capsys, project, "compute", "lever", "force=1500 N")
    assert status == 1
    assert "STOP: Too strong." in out


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["lever", "force=much"], "force: Write a number first"),
        (["lever", "farce=1"], "no entry 'farce'; did you mean 'force'?"),
        (["lever", "12"], "expected entry=value"),
        (["liver"], "no calculator 'liver'; did you mean 'lever'?"),
    ],
)
def test_a_slip_is_told_with_the_right_name(project, capsys, arguments, message):
    """Status 2, the message on standard error."""
    status, _, err = run(capsys, project, "compute", *arguments)
    assert status == 2
    assert message in err


def test_a_file_of_cases_gives_a_row_each(project, capsys, tmp_path):
    """Rows in order; an empty cell takes the default; a bad one is told by file and line."""
    cases = tmp_path / "cases.csv"
    cases.write_text("force,arm\n100 N,2 m\n,3 m\nmuch,1 m\n", "utf-8")
    status, out, err = run(capsys, project, "compute", "lever", "--csv", str(cases))
    assert status == 2
    assert out.splitlines() == [
        "force,arm,torque,findings",
        "100 N,2 m,200\u202fN·m,",
        ",3 m,300\u202fN·m,",
        "much,1 m,,",
    ]
    assert f"{cases}:4: force: Write a number first" in err


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("farce\n1\n", "no entry 'farce'"),
        ("force,arm\n1\n", "not as many cells"),
        ("force,arm\n1,2,3\n", "not as many cells"),
    ],
)
def test_a_crooked_file_is_refused(project, capsys, tmp_path, text, message):
    """Unknown columns and ragged rows."""
    cases = tmp_path / "cases.csv"
    cases.write_text(text, "utf-8")
    status, _, err = run(capsys, project, "compute", "lever", "--csv", str(cases))
    assert status == 2
    assert message in err


def test_the_list_shows_entries_and_check_values(project, capsys):
    """--list --json tells everything that is declared."""
    status, out, _ = run(capsys, project, "compute", "--list", "--json")
    (declared,) = json.loads(out)
    assert status == 0
    assert declared["name"] == "lever"
    assert [entry["name"] for entry in declared["entries"]] == ["force", "arm"]
    assert declared["check_values"][0]["expected"] == {"torque": "600 N·m"}


def test_check_runs_every_check_value(project, capsys):
    """A wrong formula makes the check fail and says by how much."""
    assert run(capsys, project, "check")[:2] == (0, "1 calculators, 1 of 1 check values agree\n")
    module = project / "calculators" / "lever.py"
    module.write_text(module.read_text("utf-8").replace("force * arm", "2 * force * arm"), "utf-8")
    status, out, _ = run(capsys, project, "check")
    assert status == 1
    assert "lever, check value 'level bar', Torque: found 1200 N·m; expected 600 N·m" in out


def test_check_reports_faults_of_the_data_book(project, capsys):
    """A unit of another kind in the data book is told with file, line and field."""
    book = project / "docs" / "databook" / "shop.yml"
    book.write_text("bar:\n  length: {is: 1.2 kg, kind: length, source: a test}\n", "utf-8")
    status, _, err = run(capsys, project, "check")
    assert status == 2
    assert "docs/databook/shop.yml:2: bar.length" in err


def test_check_reports_figures_typed_in_a_procedure(project, capsys):
    """With the line, and what to write instead."""
    (project / "docs" / "pull.md").write_text(
        "---\nmachines: [LG2]\n---\n# Pull\n\nPull to 480 N·m.\n", "utf-8"
    )
    status, _, err = run(capsys, project, "check")
    assert status == 2
    assert "docs/pull.md:6: '480 N·m': found a figure typed in the words" in err
