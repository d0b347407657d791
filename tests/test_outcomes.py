"""Outcomes kept between builds: served while nothing they come from has changed, never after."""

from __future__ import annotations

from pathlib import Path

import pytest

from witnessmark import outcomes
from witnessmark.bundle import cache
from witnessmark.calc import evaluate
from witnessmark.collection import load_collection
from witnessmark.outcomes import FILE, KeptOutcomes
from witnessmark.page import EvaluationCache

LEVER = '''"""A lever, for tests."""

from dataclasses import dataclass

from calculators.helper import FACTOR
from witnessmark.calc import Force, Length, Torque, calculator, entry, result


@dataclass(frozen=True)
class Lever:
    torque: Torque = result("Torque")


@calculator(name="lever", title="A lever", topic="statics", purpose="Force times arm.")
def lever(*, force: Force = entry("Force", "300 N"), arm: Length = entry("Arm", "1 m")) -> Lever:
    return Lever(FACTOR * force * arm)
'''
OTHER = LEVER.replace('"lever"', '"other"').replace("from calculators.helper import FACTOR\n", "")
OTHER = OTHER.replace("FACTOR * ", "")


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Two calculators; one of them takes a factor from a module beside it."""
    folder = tmp_path / "shop/calculators"
    folder.mkdir(parents=True)
    for name, text in {
        "__init__": '"""Calculators of a test."""\n',
        "helper": "FACTOR = 2\n",
        "lever": LEVER,
        "other": OTHER,
    }.items():
        (folder / f"{name}.py").write_text(text, "utf-8")
    return folder


@pytest.fixture
def evaluated(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the calculators that are really evaluated."""
    calls: list[str] = []

    def counted(calculator, *given, **named):
        calls.append(calculator.name)
        return evaluate(calculator, *given, **named)

    monkeypatch.setattr("witnessmark.page.evaluations.evaluate", counted)
    return calls


def build(shop: Path, cache: Path, arm: str = "2 m", *, steady: bool = True) -> dict[str, str]:
    """What a build of its own shows for each calculator; it saves what it asked for."""
    collection = load_collection(shop)
    kept = KeptOutcomes(cache)
    kept.keep_for(collection, steady=steady)
    evaluations = EvaluationCache("2026-11-25", kept)
    shown = {
        name: evaluations.outcome(each, {"arm": arm})["results"][0]["display"]
        for name, each in collection.calculators.items()
    }
    kept.save()
    return shown


def file_of(cache: Path) -> Path:
    (file,) = cache.glob(f"outcomes-*/{FILE}")
    return file


def test_the_second_build_evaluates_nothing(shop, tmp_path, evaluated):
    """Force times arm by hand: 300 N × 2 m = 600 N·m, twice that with the factor."""
    first = build(shop, tmp_path)
    assert first == {"lever": "1200\u202fN·m", "other": "600\u202fN·m"}
    assert evaluated == ["lever", "other"]
    assert build(shop, tmp_path) == first
    assert evaluated == ["lever", "other"]


def test_a_changed_helper_is_not_served_from_the_cache(shop, tmp_path, evaluated):
    """What imports the helper is worked out anew, the other calculator is not."""
    build(shop, tmp_path)
    (shop / "helper.py").write_text("FACTOR = 3.5\n", "utf-8")
    assert build(shop, tmp_path)["lever"] == "2100\u202fN·m"
    assert evaluated == ["lever", "other", "lever"]


def test_a_changed_calculator_is_worked_out_anew(shop, tmp_path, evaluated):
    """The text of its own module counts too."""
    build(shop, tmp_path)
    (shop / "other.py").write_text(OTHER.replace("Lever(force", "Lever(4 * force"), "utf-8")
    assert build(shop, tmp_path)["other"] == "2400\u202fN·m"
    assert evaluated == ["lever", "other", "other"]


def test_a_changed_contract_is_not_served_from_the_cache(shop, tmp_path, evaluated, monkeypatch):
    """A module of ``witnessmark.calc`` with one more line makes every outcome anew."""
    build(shop, tmp_path)
    calc = tmp_path / "calc"
    (calc / "drawing").mkdir(parents=True)
    (calc / "__init__.py").write_text("")
    (calc / "drawing/chart.py").write_text("")
    monkeypatch.setattr(outcomes.witnessmark.calc, "__file__", str(calc / "__init__.py"))
    digests = []
    for text in ("", "# one more line\n"):
        (calc / "drawing/chart.py").write_text(text)
        outcomes.engine_digest.cache_clear()
        digests.append(outcomes.engine_digest())
    assert digests[0] != digests[1]
    build(shop, tmp_path)
    outcomes.engine_digest.cache_clear()
    assert evaluated == ["lever", "other"] * 2


@pytest.mark.parametrize("what", ["version", "python"])
def test_other_versions_below_count(what, monkeypatch):
    """Another pint or another Python is another engine."""
    outcomes.engine_digest.cache_clear()
    before = outcomes.engine_digest()
    outcomes.engine_digest.cache_clear()
    if what == "version":
        monkeypatch.setattr(outcomes, "version", lambda name: f"{name} of tomorrow")
    else:
        monkeypatch.setattr(outcomes.sys, "version", "3.99")
    after = outcomes.engine_digest()
    outcomes.engine_digest.cache_clear()
    assert before != after


@pytest.mark.parametrize(
    "spoil",
    [
        lambda text: b"",
        lambda text: text[: len(text) // 2],
        lambda text: text.replace(b"1200", b"1300"),
        lambda text: b"foreign\n[1, 2]",
        lambda text: cache.check_line(b"[1, 2]") + b"[1, 2]",
        lambda text: cache.check_line(b"\xff") + b"\xff",
    ],
    ids=["empty", "cut", "altered", "foreign", "strange", "no text"],
)
def test_a_spoiled_file_is_made_anew(shop, tmp_path, evaluated, spoil):
    """It is neither believed nor a fault of the build."""
    first = build(shop, tmp_path)
    good = file_of(tmp_path).read_bytes()
    file_of(tmp_path).write_bytes(spoil(good))
    assert build(shop, tmp_path) == first
    assert evaluated == ["lever", "other"] * 2
    assert file_of(tmp_path).read_bytes() == good


def test_a_file_holds_what_the_last_build_asked_for(shop, tmp_path, monkeypatch):
    """Requests of the past do not pile up, and a file beyond all measure is not written."""
    for arm in ("2 m", "3 m", "4 m"):
        build(shop, tmp_path, arm)
    assert b"4 m" in file_of(tmp_path).read_bytes()
    assert b"3 m" not in file_of(tmp_path).read_bytes()
    assert cache.MOST_BYTES > 1000
    monkeypatch.setattr(cache, "MOST_BYTES", 1000)
    build(shop, tmp_path, "5 m")
    assert b"5 m" not in file_of(tmp_path).read_bytes()


def test_nothing_is_kept_of_modules_that_changed_while_they_were_imported(shop, tmp_path):
    """Nobody knows then which text gave the outcome."""
    build(shop, tmp_path, steady=False)
    assert not list(tmp_path.glob("outcomes-*"))


def test_a_preview_keeps_what_a_rebuild_does_not_ask_again(shop, tmp_path, evaluated):
    """After a rebuild with one calculator changed, the other's outcomes are still written."""
    kept = KeptOutcomes(tmp_path)
    for text in (OTHER, OTHER.replace("Lever(force", "Lever(4 * force")):
        (shop / "other.py").write_text(text, "utf-8")
        collection = load_collection(shop)
        kept.keep_for(collection)
        evaluations = EvaluationCache(kept=kept)
        for each in collection.calculators.values():
            evaluations.outcome(each, {})
        kept.save()
    assert evaluated == ["lever", "other", "other"]
    again = KeptOutcomes(tmp_path)
    again.keep_for(collection)
    evaluations = EvaluationCache(kept=again)
    for each in collection.calculators.values():
        evaluations.outcome(each, {})
    assert evaluated == ["lever", "other", "other"]


def test_a_cache_that_cannot_be_written_is_no_fault(shop, tmp_path):
    """A file stands where the folder should be."""
    (tmp_path / "cache").write_text("")
    assert build(shop, tmp_path / "cache")["other"] == "600\u202fN·m"
