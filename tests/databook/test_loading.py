"""The data book is read file by file; every fault names file, line and name."""

from pathlib import Path

import pytest
import yaml

from witnessmark.databook import DataBook, load_databook
from witnessmark.faults import Faults

CASES = yaml.safe_load((Path(__file__).parent / "loading.yml").read_text(encoding="utf-8"))


def load(tmp_path: Path, files: dict[str, str]) -> tuple[DataBook, list[str]]:
    """The data book made of ``files`` and the text of its faults."""
    folder = tmp_path / "databook"
    folder.mkdir()
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    faults = Faults()
    book = load_databook(folder, faults, tmp_path)
    return book, [str(fault) for fault in faults]


def told(book: DataBook, wanted: str) -> str:
    """A value as the cases write it: text (kind, origin)."""
    name, machine, variant = [*wanted.split(), "", ""][:3]
    value = book.resolve(name, machine, variant)
    if value is None:
        return "nothing"
    return f"{value.text} ({', '.join(part for part in (value.kind, value.origin) if part)})"


@pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
def test_a_data_book_gives_its_values_or_its_faults(case, tmp_path):
    """The whole list of faults is as written in the case, and so is every value asked for."""
    book, faults = load(tmp_path, case["files"])

    assert faults == case.get("faults", [])
    values = case.get("values", {})
    assert {wanted: told(book, wanted) for wanted in values} == values


def test_a_file_that_is_not_utf8_is_a_fault_with_its_line(tmp_path):
    """Old editors save N·m as one byte; the line of that byte is named."""
    folder = tmp_path / "databook"
    folder.mkdir()
    (folder / "old.yml").write_bytes("machine: LG2\nnut:\n  torque: 480 N·m\n".encode("latin-1"))
    faults = Faults()

    load_databook(folder, faults, tmp_path)

    assert [str(fault) for fault in faults] == [
        "databook/old.yml:3: found the byte 0xB7, which is not UTF-8; "
        "expected a file saved as UTF-8"
    ]


def test_a_byte_order_mark_and_carriage_returns_do_no_harm(tmp_path):
    """A file saved by a plain editor on any system reads the same."""
    folder = tmp_path / "databook"
    folder.mkdir()
    (folder / "a.yml").write_bytes(b"\xef\xbb\xbfmachine: LG2\r\nnut:\r\n  thread: M30x2\r\n")
    faults = Faults()

    book = load_databook(folder, faults, tmp_path)

    assert list(faults) == []
    assert told(book, "nut.thread LG2") == "M30x2 (text)"


def test_files_in_folders_below_are_read_and_others_left_alone(tmp_path):
    """Only *.yml and *.yaml are the data book."""
    folder = tmp_path / "databook"
    (folder / "shop").mkdir(parents=True)
    (folder / "shop" / "tools.yaml").write_text("tools: {bar: {title: reaction bar}}")
    (folder / "readme.txt").write_text("tools: {")
    faults = Faults()

    book = load_databook(folder, faults, tmp_path)

    assert list(faults) == []
    assert book.names == ("tools.bar.title",)
    assert book.values["tools.bar.title"].popitem()[1].file == "databook/shop/tools.yaml"


def test_without_a_folder_the_book_is_empty(tmp_path):
    """A handbook may do without a data book."""
    faults = Faults()

    book = load_databook(tmp_path / "databook", faults, tmp_path)

    assert (book.names, book.machines, list(faults)) == ((), {}, [])
