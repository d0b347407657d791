"""A whole job from identification to sheet, with everything that can come between.

Reload, no server, two tabs, a browser that is killed, a new release: nothing that was entered is
lost or changed, the file is of the published form and is worked out again, and paper shows all.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
import pytest
from jsonschema import Draft202012Validator
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Error, Page, expect

from tests.browser.conftest import build, opened
from tests.browser.fitter import Fitter
from tests.browser.nginx import ROOT, Nginx
from tests.browser.on_device import release_kept
from tests.conftest import CHROMIUM, FLAGS
from witnessmark.cli import main

pytestmark = pytest.mark.browser

FIRST = "receiving-and-identification"
OF_BOTH = {
    "supporting-the-engine": [("bench-stability", "force", "400")],
    "inspection": [("hole-position", "dx", "0.006"), ("assembly-chance", "hole_zone", "0.014")],
    "rear-seal-renewal": [("lip-seal-running", "runout", "0.04"), ("bore-offset", "sag", "0.01")],
    "threadlocker": [("threadlocker-cure", "bench", "18")],
    "runout-and-balance": [("balance-four-runs", "first", "3.10")],
}


@dataclass(frozen=True)
class Work:
    """One engine, what is entered for it, and how many procedures it takes."""

    engine: str
    serial: str
    procedures: int
    entries: dict[str, list[tuple[str, str, str]]]


WORKS = [
    Work("LG2/canal", "LG2-0417", 15, OF_BOTH | {
        "breaking-the-nut-loose": [("multiplier-of-stages", "turn", "20")],
        "ring-gear-renewal": [("ring-gear-heat", "start", "18")],
        "tightening-through-the-multiplier": [
            ("planetary-multiplier", "arm", "300"), ("clamp-loss", "rise", "50"),
        ],
        "tightening-with-a-long-wrench": [("lever", "arm", "1200")],
    }),
    Work("LG3/stationary", "LG3-1102", 13, OF_BOTH | {
        "breaking-the-nut-loose": [("break-loose", "tool_most", "400")],
        "tightening-the-bolt-ring": [("offset-adapter", "offset", "50"),
                                     ("clamp-loss", "rise", "50")],
    }),
]  # fmt: skip

OUT_OF_LIMITS = "reading-land-groove"

# A new release: one page has another sentence, one calculator other maths.
CHANGED_PAGE, CHANGED_MATHS = "inspection", "index-mark-offset"
CHANGES = (
    (
        "docs/procedures/inspection.md",
        "\n//// step | ",
        "\nClean every part first.\n\n//// step | ",
    ),
    ("calculators/index_mark.py", "turn = 2 * s / diameter", "turn = 2.2 * s / diameter"),
)
PAGES_WITH_CHANGED_MATHS = ("witness-marks-and-drawing-off", "dowel-alignment-and-refitting")


@dataclass
class Shop:
    """The handbook as it was and as it is published later, and its server."""

    server: Nginx
    old: Path
    new: Path
    sites: dict[Path, Path]

    def publish(self, project: Path) -> None:
        """Put another release where the server has it from."""
        shutil.rmtree(self.server.folder, ignore_errors=True)
        shutil.copytree(self.sites[project], self.server.folder)


@pytest.fixture(scope="module")
def shop(nginx, tmp_path_factory) -> Iterator[Shop]:
    """Two releases of the demonstration's handbook, at the address it is built for."""
    place = tmp_path_factory.mktemp("shop")
    new = place / "new"
    for folder in ("docs", "calculators"):
        shutil.copytree(ROOT / folder, new / folder)
    shutil.copy(ROOT / "mkdocs.yml", new)
    for name, was, becomes in CHANGES:
        text = (new / name).read_text("utf-8")
        assert was in text
        (new / name).write_text(text.replace(was, becomes, 1), "utf-8")
    later = build(new, place / "later", HANDBOOK_ADDRESS=nginx.url)
    server = Nginx(place / "site")
    server.port, server.url = nginx.port, nginx.url
    nginx.stop()
    shop = Shop(server, ROOT, new, {ROOT: nginx.folder, new: later})
    shop.publish(ROOT)
    server.start()
    yield shop
    server.close()
    nginx.start()


@pytest.fixture
def profile(tmp_path) -> Path:
    """The folder in which a browser keeps all it knows."""
    return tmp_path / "profile"


def browser_at(chromium: Browser, profile: Path) -> BrowserContext:
    """A browser of its own, which keeps everything in its profile."""
    return chromium.browser_type.launch_persistent_context(
        str(profile), executable_path=CHROMIUM, args=FLAGS, accept_downloads=True,
        viewport={"width": 1440, "height": 1000},
    )  # fmt: skip


def kill(profile: Path) -> None:
    """End the browser of a profile as a flat battery does."""
    for path in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            words = path.read_bytes().decode(errors="replace").split("\0")
        except OSError:
            continue
        if f"--user-data-dir={profile}" in words and not any("--type=" in each for each in words):
            os.kill(int(path.parent.name), signal.SIGKILL)
            return
    raise AssertionError("no browser has this profile")


def begin(page: Page, base: str, work: Work, number: str) -> None:
    """The job with all that is known of it; the engine is the one on the bench already."""
    page.goto(f"{base}jobs/")
    page.get_by_label("Job number").fill(number)
    expect(page.locator(".wm-job-new select")).to_have_value(work.engine)
    page.get_by_label("Serial number").fill(work.serial)
    page.get_by_label("Notes").fill("Weeps at the rear; owner waits at the lock.")
    page.get_by_role("button", name="Open the job").click()
    expect(page.locator(".wm-jobs-said")).to_contain_text(f"Job {number} is open")


def exported(page: Page, base: str, path: Path) -> Path:
    """The file that the jobs page gives out."""
    page.goto(f"{base}jobs/")
    with page.expect_download() as download:
        page.get_by_role("button", name="export", exact=True).click()
    download.value.save_as(path)
    return path


@pytest.mark.parametrize("work", WORKS, ids=lambda work: work.engine.replace("/", " "))
def test_a_whole_job(chromium, shop, profile, work, tmp_path, capsys):
    """Every procedure in its order, every step, reading and entry: all of it kept, out and on
    paper."""
    shop.publish(shop.old)
    base, number = shop.server.url, "26-" + work.serial[-4:]
    context = browser_at(chromium, profile)
    page = opened(context)
    page.goto(f"{base}procedures/{FIRST}/")
    page.locator("wm-engine select").select_option(work.engine)
    begin(page, base, work, number)
    fitter = Fitter(page, base, number, OUT_OF_LIMITS, work.entries)

    for slug in fitter.in_order(FIRST):
        if slug == "dowel-alignment-and-refitting":
            fitter.measure()
            fitter.settle(slug)
            kill(profile)
            with suppress(Error):
                context.close()
            context = browser_at(chromium, profile)
            fitter.page = page = opened(context)
            fitter.go(slug)
            fitter.still_there()
            fitter.tick()
            fitter.settle(slug)
        elif slug == "rear-seal-renewal":
            other = opened(context)
            other.goto(page.url)
            expect(other.locator(".wm-job-line")).to_contain_text(number)
            fitter.work(slug, page, other)
            other.close()
        else:
            fitter.work(slug)

        if slug == "supporting-the-engine":
            page.reload()
            fitter.still_there()
            first = release_kept(page)
            shop.server.stop()
        elif slug == "inspection":
            expect(page.locator(".wm-copy")).to_contain_text("The server does not answer")
            page.reload()
            fitter.still_there()
            shop.server.start()
        elif slug == "o-ring-or-gasket":
            before = exported(page, base, tmp_path / "before.json")
        elif slug == "threadlocker":
            shop.publish(shop.new)
            page.goto(f"{base}procedures/{CHANGED_PAGE}/")
            told = page.locator(".wm-job-warns")
            expect(told).to_contain_text("This page has changed since you entered")
            fitter.still_there()
            release_kept(page, but=first)
            page.goto(f"{base}procedures/supporting-the-engine/")
            fitter.still_there()
            expect(told).to_have_count(0)

    assert fitter.visited[-1] == "close-out-and-record"
    assert len(fitter.visited) == work.procedures
    assert fitter.record()["pages"] == fitter.done
    after = exported(page, base, tmp_path / "after.json")
    form = json.loads(page.request.get(f"{base}reference/job-record.schema.json").text())
    data = json.loads(after.read_text("utf-8"))
    Draft202012Validator(form).validate(data)
    assert data["pages"] == fitter.done
    counts = {
        part: sum(len(each[part]) for each in data["pages"].values())
        for part in ("ticks", "readings", "calculators")
    }
    assert counts["ticks"] == fitter.counts["ticks"]
    assert counts["readings"] == fitter.counts["readings"]

    found = checked(shop.old, before, capsys)
    assert {tuple(each) for each in found.values()} == {("agrees",)}
    changed_since(checked(shop.new, after, capsys, tampered(after)), data)

    on_paper(page, base, data, tmp_path)
    print(f"{work.engine}: {len(fitter.visited)} procedures, {fitter.counts}, {counts}")  # noqa: T201
    context.close()


def tampered(path: Path) -> Path:
    """The file with one result made a little better."""
    data = json.loads(path.read_text("utf-8"))
    (stability,) = data["pages"]["procedures/supporting-the-engine.md"]["calculators"].values()
    lead = next(part for part in stability["outcome"]["results"] if "value" in part)
    lead["value"] *= 1.001
    other = path.with_name("tampered.json")
    other.write_text(json.dumps(data), "utf-8")
    return other


Found = dict[tuple[str, str, str], list[str]]


def checked(project: Path, path: Path, capsys, other: Path | None = None) -> Found:
    """What ``record check`` finds about each entry; only the one that was tampered with differs
    between a file and the other."""
    capsys.readouterr()
    files = [str(each) for each in (path, other) if each is not None]
    status = main(["--project", str(project), "record", "check", "--json", *files])
    told = [
        {(each["page"], each["part"], each["name"]): each["found"] for each in record["entries"]}
        for record in json.loads(capsys.readouterr().out)["records"]
    ]
    assert status == (0 if other is None else 1)
    if other is not None:
        (where,) = [key for key in told[0] if told[0][key] != told[1][key]]
        assert where[:2] == ("procedures/supporting-the-engine.md", "calculators")
        assert (told[0][where], told[1][where]) == (["agrees"], ["differs"])
    return told[0]


def changed_since(found: Found, data: dict) -> None:
    """The changed page and the changed maths are found at their entries, and nowhere else."""
    pages = {f"procedures/{name}.md" for name in (CHANGED_PAGE, *PAGES_WITH_CHANGED_MATHS)}
    for (uri, part, name), states in found.items():
        expected = ["page changed since"] if uri in pages else ["agrees"]
        entry = data["pages"][uri][part][name]
        if part == "calculators" and entry["calculator"] == CHANGED_MATHS:
            expected = ["page changed since", "maths changed since", "differs"]
        assert states == expected, (uri, part, name)


def on_paper(page: Page, base: str, data: dict, folder: Path) -> None:
    """Every text and figure of the record is on the sheet, A4 and Letter; no row is torn, no
    heading left alone at the foot, nothing runs into the margin or is filled with black."""
    page.goto(f"{base}job-sheet/")
    expect(page.locator(".wm-sheet-code svg").first).to_be_attached()
    rows = page.locator(".wm-sheet-table tbody tr").evaluate_all(
        "(all) => all.map((row) => [...row.cells].map((cell) => cell.textContent))"
    )
    heads = page.locator("wm-job-sheet :is(h2, h3, caption)").all_inner_texts()
    assert len(page.locator(".wm-sheet-code svg").all()) == len(data["pages"])
    for paper in ("A4", "Letter"):
        path = folder / f"sheet-{paper}.pdf"
        page.pdf(path=str(path), format=paper)
        sheets = [squeezed(each.get_textpage().get_text_bounded())
                  for each in pypdfium2.PdfDocument(path)]  # fmt: skip
        text = "".join(sheets)
        for said in entered(data):
            assert squeezed(said) in text, (paper, said)
        for row in rows:
            cells = [squeezed(cell) for cell in row]
            assert any(all(cell in sheet for cell in cells) for sheet in sheets), (paper, row)
        for head in heads:
            assert not any(sheet.endswith(squeezed(head)) for sheet in sheets), (paper, head)
        for number, sheet in enumerate(pypdfium2.PdfDocument(path), 1):
            image = sheet.render(scale=100 / 72).to_pil().convert("L")
            image.save(folder / f"sheet-{paper}-{number:02}.png")
            looks_right(image)


def entered(data: dict) -> Iterator[str]:
    """Everything a reader of the sheet wants to find on it."""
    yield from (data["number"], data["serial"], data["notes"])
    for page in data["pages"].values():
        for tick in page["ticks"].values():
            yield tick["title"]
        for reading in page["readings"].values():
            yield from (reading["title"], *reading["texts"])
        for calculator in page["calculators"].values():
            yield calculator["title"]
            outcome = calculator["outcome"]
            for name in calculator["typed"]:
                part = outcome["entries"][name]
                yield from [part["display"]] if isinstance(part["text"], str) else []
            for part in outcome["results"]:
                yield from [part["display"]] if part.get("display") else []
            for finding in outcome["findings"]:
                yield finding["text"]


def squeezed(text: str) -> str:
    """Without blanks, as lines of paper break anywhere."""
    return re.sub(r"\s|\u00ad|\ufffe|\u200b", "", text)


def looks_right(image: Image.Image) -> None:
    """White rims of 8 mm; no more than a tenth of the sheet is dark."""
    rim = round(8 / 25.4 * 100)
    width, height = image.size
    for box in ((0, 0, rim, height), (width - rim, 0, width, height), (0, 0, width, rim),
                (0, height - rim, width, height)):  # fmt: skip
        assert image.crop(box).getextrema()[0] > 200, box
    dark = sum(image.histogram()[:100])
    assert dark < 0.1 * width * height
