"""Whatever is wrong on a page is a fault with its line; nothing turns into text in silence."""

from pathlib import Path

import pytest
import yaml

from tests.page.builders import data_book, render

CASES = yaml.safe_load((Path(__file__).parent / "faults.yml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """The invented data book."""
    return data_book(tmp_path_factory.mktemp("databook"))


@pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
def test_a_page_gives_exactly_its_faults(case, book):
    """Every fault of the case, word by word, and no other."""
    assert sorted(render(case["page"], book).faults) == sorted(case["faults"])


@pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
def test_faults_do_not_depend_on_the_extensions_of_a_theme(case, book):
    """The same faults with nothing but our own extension."""
    ours = render(case["page"], book, extensions=("toc", "tables", "fenced_code"))

    assert sorted(ours.faults) == sorted(case["faults"])
