from __future__ import annotations

from tests.bundle.conftest import MakeCollection
from witnessmark.bundle.wheels import WheelSource, wheel_sources


def _by_name(sources: list[WheelSource]) -> dict[str, WheelSource]:
    return {source.name: source for source in sources}


def test_pint_brings_what_it_requires_and_no_more(make_collection: MakeCollection) -> None:
    """The wheels are the calculators, the contract, pint and its own requirements."""
    sources = _by_name(wheel_sources(make_collection(), []))
    assert set(sources) == {
        "trial", "witnessmark", "pint", "flexcache", "flexparser", "platformdirs",
        "typing_extensions",
    }  # fmt: skip


def test_only_used_modules_and_what_they_import_travel(make_collection: MakeCollection) -> None:
    """A module that no page uses and no used module imports stays at home."""
    sources = _by_name(wheel_sources(make_collection(), ["trial.lever"]))
    assert set(sources["trial"].contents) == {
        "trial/__init__.py", "trial/_stock.py", "trial/arms.py", "trial/lever.py",
    }  # fmt: skip


def test_of_this_package_only_the_contract_travels(make_collection: MakeCollection) -> None:
    """The generator, its adapters and the bundle itself never reach the browser."""
    contents = _by_name(wheel_sources(make_collection(), []))["witnessmark"].contents
    assert "witnessmark/__init__.py" in contents
    assert "witnessmark/calc/units.py" in contents
    rest = {name for name in contents if not name.startswith("witnessmark/calc/")}
    assert rest == {"witnessmark/__init__.py"}
    assert {name for name in contents if not name.endswith(".py")} == set()


def test_nothing_of_mkdocs_tests_or_scripts_travels(make_collection: MakeCollection) -> None:
    """No wheel holds tests, byte code of this machine, scripts, MkDocs or Markdown."""
    names = [name for source in wheel_sources(make_collection(), []) for name in source.contents]
    parts = {part for name in names for part in name.split("/")}
    assert parts.isdisjoint({"mkdocs", "markdown", "tests", "testsuite", "__pycache__", "bin"})
    assert not [name for name in names if name.endswith((".pyc", ".pyi")) or ".." in name]


def test_licences_of_others_come_along(make_collection: MakeCollection) -> None:
    """Every package of somebody else brings a licence text."""
    for source in wheel_sources(make_collection(), []):
        if source.name not in {"trial", "witnessmark"}:
            assert any("LICENSE" in name for name in source.licences), source.name


def test_the_metadata_is_headers_only(make_collection: MakeCollection) -> None:
    """The read-me of a package does not travel; its name, version and requirements do."""
    pint = _by_name(wheel_sources(make_collection(), []))["pint"]
    text = pint.metadata.decode()
    assert "\n\n" not in text
    assert f"\nVersion: {pint.version}\n" in text
    assert "\nRequires-Dist: flexparser" in text
