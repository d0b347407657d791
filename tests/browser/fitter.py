"""A fitter at his tablet: goes through procedures, ticks, reads, enters, and knows what he did.

What he has entered on a page is taken from the job's record once, when the record has all of it
with results; from then on ``still_there`` holds the record against that, to the letter.
"""

from __future__ import annotations

import json
import re
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import cycle
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import live, until

PATIENCE_MS = 90_000
NUMBER = r"([-−\d.]+)"

FREE = {"length": 0.80, "temperature": 17.0}
"""What he reads where there is no limit, by kind."""

RECORD = """async () => {
  const { jobStore: { allJobs } } = await import(new URL("main.js",
    document.querySelector('script[src*="/front-"]').src));
  return JSON.parse(JSON.stringify((await allJobs())[0]));
}"""


def limits_of(request: Mapping[str, str]) -> tuple[float | None, float]:
    """Least and most of a reading, read from what the page asks for."""
    if "most" in request:
        return None, float(re.match(NUMBER, request["most"])[1])
    band = request["band"].replace("−", "-")
    if found := re.match(rf"{NUMBER} … {NUMBER}", band):
        return float(found[1]), float(found[2])
    if found := re.match(rf"{NUMBER} ± {NUMBER}", band):
        return float(found[1]) - float(found[2]), float(found[1]) + float(found[2])
    found = re.match(rf"{NUMBER} \S+ \+{NUMBER}/{NUMBER}", band)
    return float(found[1]) + float(found[3]), float(found[1]) + float(found[2])


def measured(request: Mapping[str, str], verdict: str) -> str:
    """A value of which the page says so: well within, five hundredths inside, a fifth outside."""
    least, most = limits_of(request)
    room = most - (0 if least is None else least)
    share = {"in": 0.5, "near": 0.95, "out": 1.2}[verdict]
    return f"{most - room + share * room:.6g}"


@dataclass
class Fitter:
    """``entries`` are what he changes, by page: calculator, entry, text."""

    page: Page
    base: str
    number: str
    out: str
    entries: Mapping[str, list[tuple[str, str, str]]]
    done: dict[str, Any] = field(default_factory=dict)
    visited: list[str] = field(default_factory=list)
    counts: dict[str, int] = field(
        default_factory=lambda: {"ticks": 0, "readings": 0, "values": 0, "entries": 0}
    )

    def go(self, slug: str) -> None:
        """To a procedure, by the link of the page that is open if there is one."""
        uri = f"procedures/{slug}.md"
        link = self.page.locator(f".wm-ready a[href$='/{slug}/']:visible")
        if link.count():
            link.first.click()
        else:
            self.page.goto(f"{self.base}procedures/{slug}/")
        until(self.page, f"document.querySelector('wm-job')?.dataset.page === '{uri}'")
        expect(self.page.locator(".wm-job-line")).to_contain_text(self.number)

    def following(self) -> list[str]:
        """The procedures that come next for the engine on the bench."""
        links = self.page.locator(".wm-ready-next a:visible")
        paths = links.evaluate_all("(all) => all.map((link) => link.pathname)")
        return [path.rstrip("/").rpartition("/")[2] for path in paths]

    def in_order(self, first: str) -> Iterator[str]:
        """Every procedure of the job, as each names the next; he is on the page when it comes."""
        waiting = [first]
        while waiting:
            slug = waiting.pop(0)
            if slug not in self.visited:
                self.visited.append(slug)
                self.go(slug)
                waiting += self.following()
                yield slug

    def work(self, slug: str, *tabs: Page) -> None:
        """Everything on a page, in turn by one tab and the other where there are two."""
        tabs = tabs or (self.page,)
        self.measure(*tabs)
        self.enter(slug, *tabs)
        self.tick(*tabs)
        self.settle(slug, *tabs)

    def tick(self, *tabs: Page) -> None:
        """Every step for this engine."""
        turn = cycle(tabs or (self.page,))
        for step in range(self.page.locator("input.wm-step-tick:visible").count()):
            next(turn).locator("input.wm-step-tick:visible").nth(step).check()
            self.counts["ticks"] += 1

    def measure(self, *tabs: Page) -> None:
        """Every reading: well within, every third near a limit, one out of it."""
        turn = cycle(tabs or (self.page,))
        for place in range(self.page.locator("wm-reading:visible").count()):
            reading = next(turn).locator("wm-reading:visible").nth(place)
            request = json.loads(reading.get_attribute("data-request"))
            fields = reading.locator("input")
            self.counts["readings"] += 1
            said = self.verdict(request)
            for number in range(fields.count()):
                if said is None:
                    text = f"{FREE[request['kind']] + number / 100:.2f}"
                else:
                    text = measured(request, said if number == 0 else "in")
                fields.nth(number).fill(text)
                self.counts["values"] += 1
            words = {
                None: "Read", "in": "Within limits", "near": "Near the limit",
                "out": "Out of limits",
            }  # fmt: skip
            told = reading.locator(".wm-verdict")
            expect(told).to_contain_text(re.compile(f"^{words[said]}"), timeout=PATIENCE_MS)

    def verdict(self, request: Mapping[str, str]) -> str | None:
        """What he finds at a reading; None where there is no limit."""
        if "band" not in request and "most" not in request:
            return None
        if request["reading"] == self.out:
            return "out"
        return "near" if self.counts["readings"] % 3 == 0 else "in"

    def enter(self, slug: str, *tabs: Page) -> None:
        """Change the entries that are his to change, and see their results come."""
        turn = cycle(tabs or (self.page,))
        for calculator, entry, text in self.entries.get(slug, []):
            tab = next(turn)
            live(tab)
            entry_field(tab, calculator, entry).fill(text)
            self.counts["entries"] += 1

    def settle(self, slug: str, *tabs: Page) -> None:
        """Wait until the record has everything of this page, with results, and remember it."""
        uri = f"procedures/{slug}.md"
        steps: set[str] = set()
        readings: dict[str, list[str]] = {}
        for tab in tabs or (self.page,):
            shown = tab.locator("input.wm-step-tick:visible:checked")
            steps |= set(
                shown.evaluate_all("(all) => all.map((box) => box.closest('.wm-step').id)")
            )
            for reading in tab.locator("wm-reading:visible").all():
                texts = [each.input_value() for each in reading.locator("input").all()]
                if any(texts):
                    readings[str(reading.get_attribute("id"))] = texts
        fed = self.page.locator("wm-reading:visible").evaluate_all(
            "(all) => all.flatMap((each) => JSON.parse(each.dataset.feeds ?? '[]').flat())"
            ".filter(([id]) => document.getElementById(id).closest('[data-wm-off]') === null)"
        )

        def whole(held: Mapping[str, Any]) -> bool:
            calculators = held["calculators"].values()
            typed = {
                (each["calculator"], name, text)
                for each in calculators
                for name, text in each["typed"].items()
                if isinstance(text, str)
            }
            return (
                set(held["ticks"]) == steps
                and {name: each["texts"] for name, each in held["readings"].items()} == readings
                and all(each["outcome"] for each in (*held["readings"].values(), *calculators))
                and all(entry in held["calculators"].get(name, {"typed": ()})["typed"]
                        for name, entry in fed)
                and all(
                    any(one[:2] == (calculator, name) and one[2].startswith(text) for one in typed)
                    for calculator, name, text in self.entries.get(slug, [])
                )
            )  # fmt: skip

        end = time.monotonic() + PATIENCE_MS / 1000
        while True:
            held = self.record()["pages"].get(uri, {"ticks": {}, "readings": {}, "calculators": {}})
            if whole(held):
                break
            assert time.monotonic() < end, f"{uri} is not in the record: {held}"
            self.page.wait_for_timeout(50)
        hidden = self.page.locator("[data-wm-off]").evaluate_all(
            "(all) => all.flatMap((part) => [part, ...part.querySelectorAll('[id]')])"
            ".map(({ id }) => id)"
        )
        of_other_engines = {*held["readings"], *held["calculators"]} & set(hidden)
        assert of_other_engines == set(), uri
        self.done[uri] = held

    def record(self) -> dict[str, Any]:
        """The job as the browser's database holds it."""
        return self.page.evaluate(RECORD)

    def still_there(self) -> None:
        """Everything done so far is in the record, to the letter, and on the page that is open."""
        assert self.record()["pages"] == self.done
        uri = self.page.locator("wm-job").get_attribute("data-page")
        held = self.done.get(uri, {"ticks": {}, "readings": {}, "calculators": {}})
        for step in held["ticks"]:
            expect(self.page.locator(f"#{step} input.wm-step-tick")).to_be_checked()
        for name, reading in held["readings"].items():
            for place, text in enumerate(reading["texts"]):
                expect(self.page.locator(f"#{name} input").nth(place)).to_have_value(text)
        for name, calculator in held["calculators"].items():
            result = next(each for each in calculator["outcome"]["results"] if each.get("unit"))
            figure = self.page.locator(f'#{name} [data-result="{result["name"]}"] .wm-figure')
            expect(figure.first).to_contain_text(result["display"], timeout=PATIENCE_MS)


def entry_field(tab: Page, calculator: str, entry: str) -> Locator:
    """The field of an entry of the calculator that is shown for this engine."""
    shown = tab.locator(f"wm-calculator[data-calculator='{calculator}']:visible").first
    return shown.locator(f".wm-entry[data-entry='{entry}'] input").first
