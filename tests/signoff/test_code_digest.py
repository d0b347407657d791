"""The digest of a module's code: what counts, and that every Python gives the same."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import witnessmark
from witnessmark.signoff import code_digest

SAMPLE = '''\
"""A module with what the versions of Python write differently.

    An indented line of its docstring.
"""
from __future__ import annotations
import math as m
CHECKS = (1, 2)
type Pair[T] = tuple[T, T]

@calculator(name="x", check_values=CHECKS)
def first[T](a: int = 1, *, b: float = 1e-3, **more: object) -> T:
    """What it does."""
    text = f"{a!r:>{b}} and {{braces}} {b:.2f}" "joined" f"{a=}"
    match a:
        case {"k": [1, *rest], **others} if rest: return m.pi
        case str() | None: pass
    try:
        async def inner(): return [x async for x in y if (z := x)]
    except* (ValueError, TypeError) as error: raise
    with open(a) as f, f: lambda: (yield)
    return b"\\x00\\xff", 1j, ..., True, "ü\\U0001fae8", not a < b <= 2, text[1:2, ::3]

class Empty(Base, metaclass=M): pass
'''

EXPECTED = "2ebe7505128fdff207d877251e8cf096"
"""The digest of SAMPLE. It may not change: every ledger in the world rests on it."""


def test_the_digest_of_a_module_never_changes():
    """A new version of Python or of this program gives the digest that ledgers hold."""
    assert code_digest(SAMPLE) == EXPECTED


def _pythons() -> list[str]:
    names = ("python3.12", "python3.13", "python3.14")
    homes = sorted(Path.home().glob(".pyenv/versions/3.1[234].*/bin/python3"))
    found = [path for path in map(shutil.which, names) if path] + [str(each) for each in homes]
    return [python for python in dict.fromkeys(found) if python != sys.executable]


def test_every_python_gives_the_same_digest(tmp_path):
    """Each other Python of this machine, run on the same text."""
    (tmp_path / "sample.txt").write_text(SAMPLE, "utf-8")
    program = (
        "import sys; from witnessmark.signoff.code_digest import code_digest;"
        "print(sys.version_info >= (3, 12) and code_digest(open('sample.txt', encoding='utf-8')"
        ".read()))"
    )
    package = tmp_path / "witnessmark"  # the module alone: other Pythons have no packages
    (package / "signoff").mkdir(parents=True)
    for name in ("__init__.py", "signoff/__init__.py"):
        (package / name).write_text("", "utf-8")
    for name in ("code_digest.py", "digests.py"):
        source = Path(witnessmark.__file__).parent / "signoff" / name
        shutil.copy(source, package / "signoff" / name)
    asked = 0
    for python in _pythons():
        done = subprocess.run(
            [python, "-c", program], cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(tmp_path)},
            capture_output=True, text=True, check=False,
        )  # fmt: skip
        if done.returncode == 0 and done.stdout.strip() != "False":
            asked += 1
            assert done.stdout.strip() == EXPECTED, python
    if not asked:
        pytest.skip("no other Python from 3.12 on here")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("CHECKS = (1, 2)\n", "# why\nCHECKS = (1, 2)  # and so\n"),
        ("a: int = 1, *, b", "a: int = 1,\n    *,\n    b"),
        ('"x"', "'x'"),
        ('    An indented line', '        An indented line'),
        ("1e-3", "0.001"),
        ("\n", "\r\n"),
        ("CHECKS = (1, 2)", "CHECKS = (1, 3)"),
        ("check_values=CHECKS", "check_values=[5]"),
    ],
    ids=["comment", "layout", "quotes", "indent of docstring", "spelling of a number",
         "line endings", "constant of check values", "check values"],
)  # fmt: skip
def test_what_does_not_count(old, new):
    """Comments, layout and check values leave the digest alone."""
    changed = SAMPLE.replace(old, new)
    assert changed != SAMPLE
    if new == "check_values=[5]":
        changed = changed.replace("CHECKS = (1, 2)\n", "")
    assert code_digest(changed) == EXPECTED


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("What it does.", "What it did."),
        ("An indented", "An outdented"),
        ("a: int = 1", "a: int = 2"),
        ("a: int = 1", "a: int = 1.0"),
        ("a: int = 1", "a: int = True"),
        ("joined", "united"),
        ("a < b", "a <= b"),
        ("{b:.2f}", "{b:.3f}"),
        ('b"\\x00', 'b"\\x01'),
        ('name="x"', 'name="y"'),
        ("import math as m", "import cmath as m"),
    ],
)
def test_what_counts(old, new):
    """Docstrings, values and their types, operators, formats, imports."""
    assert old in SAMPLE
    assert code_digest(SAMPLE.replace(old, new, 1)) != EXPECTED


def test_a_constant_that_is_used_elsewhere_counts():
    """Only what serves the check values alone is left out."""
    used = SAMPLE + "\nOTHER = CHECKS\n"
    assert code_digest(used) != code_digest(used.replace("(1, 2)", "(1, 3)"))
