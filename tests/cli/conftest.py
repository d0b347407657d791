"""A throw-away project with one calculator and a small data book."""

from pathlib import Path

import pytest

CALCULATOR = '''"""A lever, for tests."""

from __future__ import annotations

from dataclasses import dataclass

from witnessmark.calc import (
    CheckValue, Finding, Force, Length, Source, Torque, calculator, entry, result, stop,
)

STATICS = Source("statics", "Moment of a force, by hand", kind="derivation")


@dataclass(frozen=True)
class Lever:
    torque: Torque = result("Torque", lead=True)
    findings: tuple[Finding, ...] = ()


@calculator(
    name="lever", title="A lever", topic="statics", purpose="Force times arm.",
    check_values=(CheckValue("level bar", {"force": "300 N", "arm": "2 m"},
                             {"torque": "600 N·m"}, source=STATICS),),
)
def lever(*, force: Force = entry("Force", "100 N", least=0),
          arm: Length = entry("Arm", "1 m", units=("m", "mm", "in"), above=0)) -> Lever:
    torque = force * arm
    findings = (stop("strong", "Too strong."),) if torque.m_as("N*m") > 1000 else ()
    return Lever(torque, findings)
'''


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """docs/databook and calculators/ with one calculator named lever."""
    (tmp_path / "calculators").mkdir()
    (tmp_path / "calculators" / "__init__.py").write_text('"""Calculators of a test."""\n')
    (tmp_path / "calculators" / "lever.py").write_text(CALCULATOR, "utf-8")
    book = tmp_path / "docs" / "databook"
    book.mkdir(parents=True)
    (book / "shop.yml").write_text(
        "bar:\n  length: {is: 1.2 m, kind: length, source: a test}\n", "utf-8"
    )
    return tmp_path
