"""What is restored from the heap image is as sound as what has been started."""

from __future__ import annotations

import json
import math
import platform
import re
import time
import unicodedata
from pathlib import Path
from typing import Any

import pytest

from tests.runtime.conftest import RunningRuntime
from tests.runtime.generated_entries import generated
from witnessmark.bundle import Bundle
from witnessmark.bundle.inside import DISPLAYED, LET_GO
from witnessmark.calc import request_of, run_check
from witnessmark.calc.units import REGISTRY
from witnessmark.collection import Collection

pytestmark = pytest.mark.runtime

# Digests of what Python says of every character: the same code here and in the image.
_CHARACTERS = """
import hashlib, sys
every = [chr(each) for each in range(sys.maxunicode + 1) if not 0xD800 <= each < 0xE000]

def digest(parts):
    total = hashlib.sha256()
    for part in parts:
        total.update(repr(part).encode())
    return total.hexdigest()

def of_str():
    asked = [str.isalpha, str.isdecimal, str.isdigit, str.isnumeric, str.isidentifier,
             str.isspace, str.isprintable, str.isupper, str.islower, str.istitle, str.upper,
             str.lower, str.title, str.casefold]
    return [digest(ask(each) for each in every) for ask in asked]

def of_names():
    import unicodedata
    names = [unicodedata.name(each, "") for each in every]
    found = sum(unicodedata.lookup(name) == each for name, each in zip(names, every) if name)
    forms = [digest(unicodedata.normalize(form, each) for each in every)
             for form in ("NFC", "NFD", "NFKC", "NFKD")]
    kinds = digest((unicodedata.category(each), unicodedata.decimal(each, None),
                    unicodedata.combining(each), unicodedata.mirrored(each)) for each in every)
    return [unicodedata.unidata_version, digest(names), found, forms, kinds]

def of_encodings():
    told = []
    for name in ("gb2312", "gbk", "gb18030", "hz", "big5hkscs", "iso2022_jp", "iso2022_jp_2",
                 "iso2022_jp_2004", "shift_jis", "shift_jis_2004", "euc_jp", "euc_jisx0213",
                 "cp932", "cp949", "euc_kr", "johab", "iso2022_kr", "big5", "cp950"):
        text = "".join(every).encode(name, "ignore")
        told.append([name, digest([text]), digest([text.decode(name, "replace")])])
    return told
"""


def test_a_library_module_can_still_be_imported(running_runtime: RunningRuntime) -> None:
    """A module that is not in the image comes from the archive on the host, which opens then."""
    answer = running_runtime.python(
        "import statistics, fractions, ast\n"
        "told = [statistics.stdev([2, 4, 4, 4, 5, 5, 7, 9]), ast.literal_eval('[1, 2]')]"
    )
    # Textbook example of a sample whose squared deviations sum to 32 (from memory).
    assert math.isclose(answer["told"][0], math.sqrt(32 / 7))
    assert answer["told"][1] == [1, 2]
    assert [name.rpartition("/")[2] for name in answer["opened"]] == ["python_stdlib.zip"]


def test_what_was_let_go_comes_back(running_runtime: RunningRuntime) -> None:
    """Every module the image let go imports again, and those that used it find it."""
    answer = running_runtime.python(
        "import importlib, sys\n"
        f"names = {list(LET_GO)!r}\n"
        "told = []\n"
        "for name in names:\n"
        "    try:\n"
        "        importlib.import_module(name)\n"
        "    except ImportError as error:\n"
        "        told.append([name, str(error)])\n"
    )
    # Neither compiled with the runtime: lzma is a package of its own there.
    assert [name for name, _ in answer["told"] if name != "lzma"] == []


def test_code_that_used_what_was_let_go_still_works(running_runtime: RunningRuntime) -> None:
    """Dataclasses looks at signatures, logging at stack traces, pint at files and locales."""
    answer = running_runtime.python(
        "import dataclasses, io, logging\n"
        "@dataclasses.dataclass\n"
        "class Bolt:\n"
        "    pitch: float = 2.0\n"
        "text = io.StringIO()\n"
        "logger = logging.getLogger('trial')\n"
        "logger.addHandler(logging.StreamHandler(text))\n"
        "try:\n"
        "    1 / 0\n"
        "except ZeroDivisionError:\n"
        "    logger.exception('caught')\n"
        "from witnessmark.calc.units import REGISTRY\n"
        "@REGISTRY.wraps('meter', ('meter', 'meter'))\n"
        "def total(one, other): return one + other\n"
        "length = REGISTRY.Quantity(1, 'inch')\n"
        "told = [repr(Bolt()), 'ZeroDivisionError' in text.getvalue(),\n"
        "        total(length, length).m_as('millimeter'), format(length, '~P')]\n"
    )
    assert answer["told"][:2] == ["Bolt(pitch=2.0)", True]
    assert math.isclose(answer["told"][2], 50.8)  # the inch is 25.4 mm by definition
    assert answer["told"][3] == format(REGISTRY.Quantity(1, "inch"), "~P")


def test_a_start_meets_no_error(bundle: Bundle, site: Path) -> None:
    """For every error the engine reads the script of the runtime once more, so there is none.

    A start that asks for a file that is not there, or offers the module a function that has to
    be wrapped first, does not get through here.
    """
    script = next(site.glob("assets/witnessmark/start-*/python.js"))
    whole = script.read_text("utf-8")
    asks = re.sub(r"(lookup\(\w+,\w+\)\{)(throw)", r"\1process.exit(3);\2", whole)
    offers = re.sub(r"(instanceof TypeError)", r"\1&&process.exit(4)", whole)
    assert whole not in (asks, offers)
    try:
        for changed in (asks, offers):
            script.write_text(changed, "utf-8")
            RunningRuntime(site / bundle.front, "image").close()
    finally:
        script.write_text(whole, "utf-8")


def test_without_docstrings_builtins_are_as_they_were(running_runtime: RunningRuntime) -> None:
    """Names, attributes and messages of errors are those of CPython on this machine."""
    asked = (
        "import builtins, decimal, json, math\n"
        "def refused(go):\n"
        "    try:\n"
        "        go()\n"
        "    except Exception as error:\n"
        "        return f'{type(error).__name__}: {error}'\n"
        "kinds = [each for each in vars(builtins).values() if isinstance(each, type)]\n"
        "told = [dir(math.gcd), dir(''), sorted(vars(decimal.Decimal)),\n"
        "        [[each.__name__, sorted(vars(each))] for each in kinds],\n"
        "        [refused(each) for each in (\n"
        "            lambda: int('x'), lambda: math.sqrt(-1), lambda: [][1], lambda: {}['a'],\n"
        "            lambda: len(3), lambda: 'a' + 1, lambda: json.loads('{'), lambda: 1 / 0,\n"
        "            lambda: decimal.Decimal('x'), lambda: max([]), lambda: (1).real())]]\n"
    )
    here: dict[str, Any] = {}
    exec(asked, here)
    there = running_runtime.python(asked)["told"]
    assert there[4] == here["told"][4]
    if running_runtime.about["python"].startswith(platform.python_version()[:5]):
        assert there == json.loads(json.dumps(here["told"]))


def test_a_module_of_a_wheel_can_still_be_imported(bundle: Bundle, site: Path) -> None:
    """Pint's parts that nobody has used come from its wheel on the host."""
    runtime = RunningRuntime(site / bundle.front, "image")  # one that has opened no archive yet
    answer = runtime.python(
        "import sys\n"
        "was = 'pint.facets.measurement' in sys.modules\n"
        "del sys.modules['pint.errors']\n"
        "import pint.errors\n"
        "told = [was, pint.errors.UndefinedUnitError.__name__]"
    )
    runtime.close()
    assert answer["told"][1] == "UndefinedUnitError"
    assert [name.rpartition("/")[2].partition("-")[0] for name in answer["opened"]] == ["pint"]


def test_calculators_need_nothing_that_is_not_in_the_image(
    bundle: Bundle, site: Path, collection: Collection
) -> None:
    """No archive is opened for defaults, check values or generated entries of any calculator."""
    runtime = RunningRuntime(site / bundle.front, "image")
    for item in collection.calculators.values():
        requests = generated(item, 20)
        requests += [request_of(item, case, units) for case in item.check_values
                     for units in ("si", "us")]  # fmt: skip
        runtime.outcomes(requests)
        assert runtime.python("told = None")["opened"] == [], item.name
    runtime.close()


def test_tables_that_stayed_behind_come_when_they_are_asked_for(bundle: Bundle, site: Path) -> None:
    """What str knows of characters is there at once; names and East Asian encodings come late.

    Held against CPython on this machine, for every character.
    """
    runtime = RunningRuntime(site / bundle.front, "image")
    at_once = runtime.python(f"{_CHARACTERS}\ntold = of_str()")
    names = runtime.python(f"{_CHARACTERS}\ntold = of_names()")
    encodings = runtime.python(f"{_CHARACTERS}\ntold = of_encodings()")
    runtime.close()
    here: dict[str, Any] = {}
    exec(_CHARACTERS, here)
    assert at_once["opened"] == []
    assert encodings["told"] == here["of_encodings"]()
    if names["told"][0] == unicodedata.unidata_version:  # another Python knows other characters
        assert names["told"] == here["of_names"]()
        assert at_once["told"] == here["of_str"]()
    assert "tables.bin" in [name.rpartition("/")[2] for name in names["opened"]]


def test_what_a_page_displays_anyway_is_not_in_the_image(
    collection: Collection, running_runtime: RunningRuntime, plain_runtime: RunningRuntime
) -> None:
    """Check values, formulas, sources and docstrings are let go; started the long way all are
    there. That both give the same outcomes, the test of both ways holds."""
    code = (
        "from witnessmark.calc.calculator import _CATALOGUE\n"
        f"told = [bool(getattr(each, part)) for part in {(*DISPLAYED, '__doc__')!r}\n"
        "        for each in _CATALOGUE.values()]"
    )
    assert not any(running_runtime.python(code)["told"])
    there = plain_runtime.python(code)["told"]
    assert sum(there) > 4 * len(collection.calculators)


def test_chance_clock_and_surroundings(
    bundle: Bundle, site: Path, running_runtime: RunningRuntime
) -> None:
    """Random numbers differ from start to start, hashes do not; the clock is this machine's."""
    code = (
        "import os, random, time, datetime, locale\n"
        "told = [random.random(), os.urandom(8).hex(), hash('torque'), time.time(),\n"
        "        datetime.datetime.fromtimestamp(1782907200).hour, dict(os.environ),\n"
        "        locale.getlocale(), f'{1234.5:n}', float('0.1')]"
    )
    other = RunningRuntime(site / bundle.front, "image")
    first, second = (each.python(code)["told"] for each in (running_runtime, other))
    other.close()
    assert first[0] != second[0]
    assert first[1] != second[1]
    assert first[2] == second[2]
    assert abs(first[3] - time.time()) < 60
    assert first[4] == time.localtime(1782907200).tm_hour
    assert first[5]["PYTHONHASHSEED"] == "0"
    assert first[7] == "1234.5"


def test_the_long_way_meets_the_check_values(
    collection: Collection, plain_runtime: RunningRuntime
) -> None:
    """Started from the wheels, every published value is met, as from the image."""
    cases = [(item, case) for item in collection.calculators.values() for case in item.check_values]
    outcomes = plain_runtime.outcomes([request_of(item, case) for item, case in cases])
    for (item, case), outcome in zip(cases, outcomes, strict=True):
        judged = run_check(item, case, outcome)
        assert [each for each in judged.results if not each.agrees] == [], (item.name, case.label)


def test_both_ways_give_the_same_text(
    collection: Collection, running_runtime: RunningRuntime, plain_runtime: RunningRuntime
) -> None:
    """To the letter, drawings included, in both unit systems."""
    requests = [
        {"calculator": name, "entries": {}, "units": units}
        for name in collection.calculators
        for units in ("si", "us")
    ]
    assert running_runtime.outcomes(requests) == plain_runtime.outcomes(requests)
