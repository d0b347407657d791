from __future__ import annotations

import os
from pathlib import Path

import pytest

from witnessmark.calc import evaluate
from witnessmark.collection import Collection, load_collection
from witnessmark.faults import Fault, Faults, FaultsFound

LEVER = '''"""Lever."""
from dataclasses import dataclass

from witnessmark.calc import Force, Length, Torque, calculator, entry, result


@dataclass(frozen=True)
class Lever:
    torque: Torque = result("Torque", lead=True)


@calculator(name="lever", title="Lever", topic="torque", purpose="The torque of a pull.")
def lever(
    *, force: Force = entry("Force", "100 N"), arm: Length = entry("Arm", "1 m")
) -> Lever:
    return Lever(force * arm)
'''


def _write(folder: Path, modules: dict[str, str]) -> Path:
    """A package of modules, by their paths without the ending."""
    for name, text in ({"__init__": '"""Trial."""\n'} | modules).items():
        path = folder / f"{name}.py"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return folder


def _faults(folder: Path) -> list[Fault]:
    faults = Faults()
    load_collection(folder, faults)
    return list(faults)


def _torque(collection: Collection) -> float:
    outcome = evaluate(collection.calculators["lever"], {})
    return float(outcome["results"][0]["value"])


def test_calculators_are_known_by_name(tmp_path: Path) -> None:
    """Every calculator of every module is found, with the module that declares it."""
    modules = {"lever": LEVER, "empty": '"""Nothing yet."""\n'}
    collection = load_collection(_write(tmp_path / "trial", modules))
    assert list(collection.calculators) == ["lever"]
    assert collection.module_of("lever") == "trial.lever"
    assert list(collection.modules) == ["trial", "trial.empty", "trial.lever"]


def test_loading_again_takes_the_changed_source(tmp_path: Path) -> None:
    """A module edited between two loads computes as it is written now."""
    folder = _write(tmp_path / "trial", {"lever": LEVER})
    assert _torque(load_collection(folder)) == 100
    _write(folder, {"lever": LEVER.replace('"1 m"', '"2 m"')})
    assert _torque(load_collection(folder)) == 200


def test_loading_leaves_no_byte_code_behind(tmp_path: Path) -> None:
    """Nothing is written beside the modules, so that a watched folder does not change."""
    folder = _write(tmp_path / "trial", {"lever": LEVER})
    load_collection(folder)
    assert sorted(path.name for path in folder.iterdir()) == ["__init__.py", "lever.py"]


def test_the_closure_follows_imports_within_the_package(tmp_path: Path) -> None:
    """Absolute and relative imports, of modules and of names in them, are followed."""
    folder = _write(
        tmp_path / "trial",
        {
            "one": "from trial import two\n",
            "two": "from .three import NAME\nimport trial.parts.four\n",
            "three": "NAME = 1\n",
            "parts/__init__": "",
            "parts/four": "from .. import five\nimport math\n",
            "five": "from witnessmark.calc import Q\n",
            "alone": "",
        },
    )
    collection = load_collection(folder)
    names = [path.relative_to(folder).as_posix() for path in collection.closure(["trial.one"])]
    assert names == [
        "__init__.py", "five.py", "one.py", "parts/__init__.py", "parts/four.py", "three.py",
        "two.py",
    ]  # fmt: skip


def test_the_digest_is_of_the_closure_only(tmp_path: Path) -> None:
    """The digest changes with an imported module and not with one that is not imported."""
    modules = {"one": "from trial import two\n", "two": "N = 1\n", "alone": "N = 1\n"}
    folder = _write(tmp_path / "trial", modules)
    before = load_collection(folder).digest(["trial.one"])
    _write(folder, modules | {"alone": "N = 2\n"})
    assert load_collection(folder).digest(["trial.one"]) == before
    _write(folder, modules | {"two": "N = 2\n"})
    assert load_collection(folder).digest(["trial.one"]) != before


def test_a_module_that_cannot_be_read_is_a_fault_with_its_line(tmp_path: Path) -> None:
    """A slip of syntax is told with file and line; the other modules still load."""
    folder = _write(tmp_path / "trial", {"bad": "x = 1\ny = (\n", "lever": LEVER})
    faults = Faults()
    collection = load_collection(folder, faults)
    (fault,) = faults
    assert (fault.file, fault.line, fault.code) == ("trial/bad.py", 2, "collection-syntax")
    assert list(collection.calculators) == ["lever"]


def test_what_the_browser_lacks_may_not_be_imported(tmp_path: Path) -> None:
    """Anything but the standard library, pint, the contract and the package is a fault."""
    text = "import math\nimport numpy\nfrom witnessmark.faults import Fault\nimport pint\n"
    faults = _faults(_write(tmp_path / "trial", {"bad": text}))
    assert [(each.line, each.found) for each in faults] == [
        (2, "an import of numpy"),
        (3, "an import of witnessmark.faults"),
    ]
    assert {each.code for each in faults} == {"collection-import"}


def test_a_misspelt_module_is_answered_with_the_nearest(tmp_path: Path) -> None:
    """An import of a module that the package does not have suggests one that it has."""
    (fault,) = _faults(_write(tmp_path / "trial", {"one": "import trial.leever\n", "lever": LEVER}))
    assert fault.nearest == "trial.lever"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("\nraise ValueError('no such shim')\n", "ValueError: no such shim"),
        ("\nfrom witnessmark.calc import no_such_name\n", "ImportError: cannot import name"),
    ],
)
def test_an_error_while_importing_is_a_fault(tmp_path: Path, text: str, found: str) -> None:
    """What a module raises while it loads is told with the line that raised it."""
    (fault,) = _faults(_write(tmp_path / "trial", {"bad": text}))
    assert (fault.file, fault.line) == ("trial/bad.py", 2)
    assert fault.found.startswith(found)


def test_an_error_in_an_imported_module_names_that_module(tmp_path: Path) -> None:
    """The fault stands where the error is, once, not where the import is."""
    modules = {"a": "from trial import b\n", "b": "\n\n1 / 0\n"}
    faults = _faults(_write(tmp_path / "trial", modules))
    assert [(each.file, each.line) for each in faults] == [("trial/b.py", 3)]


def test_a_contradictory_declaration_is_a_fault(tmp_path: Path) -> None:
    """A calculator that the contract refuses is told with the line of its declaration."""
    text = LEVER.replace('name="lever"', 'name="Lever !"')
    (fault,) = _faults(_write(tmp_path / "trial", {"lever": text}))
    assert fault.file == "trial/lever.py"
    assert fault.found.startswith("DeclarationError")
    assert text.splitlines()[fault.line - 1].startswith("@calculator")


def test_a_name_is_given_once(tmp_path: Path) -> None:
    """Two calculators of one name are a fault at the second, naming the first."""
    faults = _faults(_write(tmp_path / "trial", {"one": LEVER, "two": LEVER}))
    (fault,) = faults
    assert (fault.file, fault.field) == ("trial/two.py", "lever")
    assert "trial/one.py" in fault.found
    assert LEVER.splitlines()[fault.line - 1].startswith('@calculator(name="lever"')


TABLE = '''"""Rods."""
from witnessmark.calc import Length, Q, Source, column, reference_table

RODS = reference_table(
    name="rods", title="Rods", purpose="Lengths of rods.",
    columns=(column("Rod"), column("Length", Length)), rows=[("short", Q(10.0, "mm"))],
    sources=(Source("book", "A handbook", kind="handbook"),),
)
'''


def test_tables_are_known_by_name(tmp_path: Path) -> None:
    """A table counts once, however many modules import it; a second of its name is a fault."""
    modules = {"rods": TABLE, "user": "from trial.rods import RODS\n"}
    collection = load_collection(_write(tmp_path / "one" / "trial", modules))
    assert list(collection.tables) == ["rods"]
    (fault,) = _faults(_write(tmp_path / "two" / "trial", {"rods": TABLE, "sticks": TABLE}))
    assert (fault.file, fault.field) == ("trial/sticks.py", "rods")
    assert "second table" in fault.found


def test_a_folder_that_is_no_package_is_a_fault(tmp_path: Path) -> None:
    """Without an __init__.py there is no package, and without collector it is raised."""
    (tmp_path / "trial").mkdir()
    with pytest.raises(FaultsFound, match=r"trial: found no __init__\.py"):
        load_collection(tmp_path / "trial")


def test_a_text_of_the_same_size_and_time_is_compiled_anew(tmp_path: Path) -> None:
    """Byte code is kept by the text itself: an editor may save twice in one tick of a clock."""
    folder = _write(tmp_path / "trial", {"lever": LEVER})
    assert _torque(load_collection(folder)) == 100
    path = folder / "lever.py"
    state = path.stat()
    path.write_text(LEVER.replace('"100 N"', '"300 N"'), "utf-8")
    os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert path.stat().st_size == state.st_size
    assert _torque(load_collection(folder)) == 300


def test_modules_of_a_package_within_are_found(tmp_path: Path) -> None:
    """A folder in the folder is a package like the first."""
    inner = {"deep/__init__": "", "deep/arm": "ARM = '2 m'\n"}
    lever = LEVER.replace("from dataclasses", "from trial.deep.arm import ARM\nfrom dataclasses")
    lever = lever.replace('"1 m"', "ARM")
    assert _torque(load_collection(_write(tmp_path / "trial", inner | {"lever": lever}))) == 200
