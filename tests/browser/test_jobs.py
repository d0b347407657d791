"""Jobs: what is ticked, read and entered belongs to one, stays, goes out and comes in."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from playwright.sync_api import expect

from tests.browser.conftest import TRIAL, opened
from tests.browser.jobs_at_work import ENGINES, PATIENCE, READINGS, begin, kept, record
from witnessmark.cli import main
from witnessmark.record import SCHEMA

pytestmark = pytest.mark.browser

CHAIN = "procedures/chain/"


def read_float(page, verdict: str, *texts: str) -> None:
    """Write into the fields of the reading that is shown, and wait for the verdict on all."""
    reading = page.locator("wm-reading:visible").first
    for place, text in enumerate(texts):
        reading.locator("input").nth(place).fill(text)
    reading.locator(".wm-verdict", has_text=verdict).wait_for(timeout=PATIENCE)


def pull_at(page, length: str) -> str:
    """Enter a lever in the calculator that is shown; the pull that comes out."""
    calculator = page.locator("wm-calculator:visible").first
    calculator.get_by_label("Length of the lever").first.fill(length)
    page.wait_for_function(
        "(id) => document.getElementById(id).querySelector('.wm-runtime')"
        ".textContent.startsWith('Live') && !document.getElementById(id).matches('.wm-waiting')",
        arg=calculator.get_attribute("id"),
    )
    page.wait_for_timeout(1500)
    return calculator.locator('[data-result="pull"] .wm-figure').first.inner_text()


@pytest.fixture(scope="module")
def whole(chromium, trial, tmp_path_factory):
    """A job with a tick, a reading and a calculator: page, pull, exported file."""
    context = chromium.new_context(accept_downloads=True, service_workers="block")
    page = opened(context)
    begin(page, trial, "26-017")
    page.goto(trial + READINGS)
    read_float(page, "Out of limits", "0.18", "240 µm", "0,3")
    page.wait_for_timeout(2000)  # the calculator that the reading feeds answers after it
    kept(page)
    page.goto(trial + ENGINES)
    page.get_by_label("Step 1 done").check()
    pull = pull_at(page, "2 m")
    kept(page)
    page.goto(trial + "jobs/")
    with page.expect_download() as download:
        page.get_by_role("button", name="export", exact=True).click()
    file = tmp_path_factory.mktemp("export") / "job.json"
    download.value.save_as(file)
    yield page, pull, file
    context.close()


def test_everything_survives_a_reload(whole, trial):
    """Tick, reading and entry are there again, and the page says where to go on."""
    page, pull, _ = whole
    page.goto(trial + ENGINES)
    page.reload()
    expect(page.locator(".wm-job-line")).to_contain_text("Job 26-017 · T2 dry")
    expect(page.get_by_label("Step 1 done")).to_be_checked()
    expect(page.get_by_role("link", name="Go on with step 2")).to_be_visible()
    calculator = page.locator("wm-calculator:visible").first
    field = calculator.get_by_label("Length of the lever").first
    expect(field).to_have_value(re.compile("^2( m)?$"))
    expect(calculator.locator('[data-result="pull"] .wm-figure').first).to_have_text(
        pull, timeout=PATIENCE
    )
    expect(page.locator(".wm-job-warns")).to_have_count(0)
    page.goto(trial + READINGS)
    expect(page.locator("wm-reading:visible").first.locator("input").first).to_have_value("0.18")


def test_an_export_is_of_the_published_form_and_agrees(whole, trial, capsys, tmp_path):
    """By a general validator; the command line works it out again; a tampered result is found."""
    page, pull, file = whole
    data = json.loads(file.read_text("utf-8"))
    form = json.loads(page.request.get(trial + "reference/job-record.schema.json").text())
    assert form == SCHEMA
    Draft202012Validator(form).validate(data)
    worked = data["pages"]["procedures/two-engines.md"]["calculators"]
    (calculator,) = worked.values()
    assert [part["display"] for part in calculator["outcome"]["results"] if part["lead"]] == [pull]
    assert main(["--project", str(TRIAL), "record", "check", str(file)]) == 0
    said = capsys.readouterr().out
    assert re.search(r"  (\d+) entries: \1 agrees\n$", said), said
    for words in ("tick Look", "reading Axial float", "calculator Pull at a long lever"):
        assert f"{words}: agrees" in said
    calculator["outcome"]["results"][0]["display"] = "1\u202fN"
    tampered = tmp_path / "tampered.json"
    tampered.write_text(json.dumps(data), "utf-8")
    assert main(["--project", str(TRIAL), "record", "check", str(tampered)]) == 1
    assert "in the record 1\u202fN; now " in capsys.readouterr().out


def test_the_sheet_shows_everything_entered(whole, trial):
    """Head, ticks, readings with verdicts, results, entries, findings, places to sign."""
    page, pull, _ = whole
    page.goto(trial + "job-sheet/")
    sheet = page.locator("wm-job-sheet")
    for words in (
        "26-017", "T2 dry", "serial of 26-017", "Steps done: 1", "Look", "0.18\u202fmm", "240 µm",
        "within limits", "near the limit", "OUT OF LIMITS", pull, "Length of the lever", "2\u202fm",
        "Fitter", "Checked by",
    ):  # fmt: skip
        expect(sheet).to_contain_text(words)


def test_the_start_shows_the_jobs_in_brief(whole, trial):
    """The job, how far it is, the ways back and to all jobs; no forms, nothing to delete."""
    page, _, _ = whole
    page.goto(trial)
    job = page.locator("section.wm-job")
    expect(job).to_contain_text("Two engines: 1 of 2 steps done")
    expect(page.locator("wm-jobs form, wm-jobs input, .wm-job-delete")).to_have_count(0)
    job.get_by_role("link", name="Two engines").click()
    expect(page.locator(".wm-job-line")).to_contain_text("Job 26-017 · T2 dry")
    page.goto(trial)
    page.get_by_role("link", name="All jobs, and a new one").click()
    expect(page.get_by_label("Job number")).to_be_visible()


def test_what_was_left_too_soon_is_judged_when_the_page_is_opened_again(page, trial):
    """The reading was written, the page left before Python answered."""
    begin(page, trial, "hasty")
    page.goto(trial + READINGS)
    page.locator("wm-reading:visible input").first.fill("0.18")
    kept(page)
    page.evaluate("""async () => {
      const { jobStore: { allJobs, changeJob } } = await import(new URL("main.js",
        document.querySelector('script[src*="/front-"]').src));
      await new Promise((resolve) => setTimeout(resolve, 3000));
      const [{ id }] = await allJobs();
      await changeJob(id, ({ pages }) => {
        Object.values(Object.values(pages)[0].readings).forEach((each) => (each.outcome = null));
      });
    }""")
    page.reload()
    page.locator(".wm-verdict", has_text="limits").first.wait_for(timeout=PATIENCE)
    kept(page)
    (reading,) = record(page)["pages"]["procedures/readings.md"]["readings"].values()
    assert reading["outcome"]["verdict"] == "in"


def test_two_tabs_lose_nothing(page, trial):
    """Both write into one page of one job at the same time."""
    begin(page, trial, "two tabs")
    page.goto(trial + READINGS)
    other = opened(page.context)
    other.goto(trial + READINGS)
    tabs = (page, other)
    for tab in tabs:
        expect(tab.locator(".wm-job-line")).to_contain_text("two tabs")
    write = """(which) => {
      for (let n = 0; n < 12; n += 1) {
        if (which === 0) { document.querySelector('input.wm-step-tick').click(); }
        const field = [...document.querySelectorAll('wm-reading')]
          .filter((each) => each.checkVisibility())[which].querySelector('input');
        field.value = String(10 + n);
        field.dispatchEvent(new InputEvent('input', { bubbles: true }));
      }
      if (which === 0) { document.querySelector('input.wm-step-tick').click(); }
    }"""
    for which, tab in enumerate(tabs):
        tab.evaluate(write, which)
    for tab in tabs:
        kept(tab)
    entered = record(page)["pages"]["procedures/readings.md"]
    assert len(entered["ticks"]) == 1
    assert sorted(each["texts"][0] for each in entered["readings"].values()) == ["21", "21"]


def test_jobs_are_separate_and_deletion_is_for_good(page, trial):
    """What was ticked in the first is not ticked in the second; what is deleted is gone."""
    begin(page, trial, "first")
    page.goto(trial + ENGINES)
    page.get_by_label("Step 1 done").check()
    kept(page)
    begin(page, trial, "second")
    page.goto(trial + ENGINES)
    expect(page.locator(".wm-job-line")).to_contain_text("Job second")
    expect(page.get_by_label("Step 1 done")).not_to_be_checked()
    page.goto(trial + "jobs/")
    first = page.locator("section.wm-job", has_text="Job first")
    expect(first).to_contain_text("Two engines: 1 of 2 steps done")
    first.get_by_role("button", name="delete").click()
    first.get_by_role("button", name="keep it").click()
    first.get_by_role("button", name="delete").click()
    first.get_by_role("button", name="delete it").click()
    expect(page.locator(".wm-jobs-said")).to_contain_text("Job first is deleted")
    page.reload()
    expect(page.locator("section.wm-job")).to_have_count(1)
    expect(page.locator("section.wm-job")).to_contain_text("Job second")


def test_without_a_job_things_stay_in_the_tab_and_go_into_one_begun_later(page, trial):
    """Through a reload, not into another tab, into the job that is begun in this one."""
    page.goto(trial + ENGINES + "?engine=T2/dry")
    expect(page.locator(".wm-job-line")).to_contain_text("No job is open")
    page.get_by_label("Step 1 done").check()
    page.reload()
    expect(page.get_by_label("Step 1 done")).to_be_checked()
    other = opened(page.context)
    other.goto(trial + ENGINES + "?engine=T2/dry")
    expect(other.locator(".wm-job-line")).to_contain_text("No job is open")
    expect(other.get_by_label("Step 1 done")).not_to_be_checked()
    begin(page, trial, "later")
    assert list(record(page)["pages"]["procedures/two-engines.md"]["ticks"]) == ["step-1"]
    page.goto(trial + ENGINES)
    expect(page.get_by_label("Step 1 done")).to_be_checked()


def test_a_page_that_has_changed_since_says_so(page, trial):
    """The entries' revision is not the page's; a paper of another revision is told as well."""
    begin(page, trial, "old")
    page.goto(trial + ENGINES)
    page.get_by_label("Step 1 done").check()
    kept(page)
    page.reload()
    expect(page.get_by_label("Step 1 done")).to_be_checked()
    expect(page.locator(".wm-job-warns")).to_have_count(0)

    def newer(route):
        answer = route.fetch()
        revised = re.sub(r'data-revision="\w+"', 'data-revision="0123456789ab"', answer.text())
        route.fulfill(response=answer, body=revised)

    page.route("**/two-engines/**", newer)
    page.reload()
    expect(page.locator(".wm-job-warns")).to_contain_text(
        "This page has changed since you entered Look"
    )
    page.unroute("**/two-engines/**")
    page.goto(trial + ENGINES + "?paper=0123456789ab")
    expect(page.locator(".wm-job-warns")).to_contain_text("Your paper is of another revision")


def test_files_are_taken_in_or_refused_with_words(whole, trial, tmp_path):
    """One's own comes in beside itself, never over it; a hostile one is refused by its field."""
    page, _, file = whole
    page.goto(trial + "jobs/")
    good = file.read_text("utf-8")
    data = json.loads(good)
    engines = "procedures/two-engines.md"

    def spoiled(**parts) -> str:
        changed = json.loads(good)
        changed["pages"][engines] |= parts
        return json.dumps(changed)

    refused = {
        "not readable as JSON": "{" * 50_000,
        "not readable as JSON.": good.replace('"steps": 2', '"steps": NaN'),
        "no job record of this handbook's kind": "[]",
        "of another version": json.dumps(data | {"version": 2}),
        "'pages' is not what it should be": json.dumps(data | {"pages": [[[]]]}),
        "'id' is not what it should be": json.dumps(data | {"id": "../<img src=x onerror=1>"}),
        f"'pages.{engines}.url' is not": spoiled(url="javascript:alert(1)"),
        f"'pages.{engines}.url' is not what": spoiled(url="//elsewhere.example/"),
        f"'pages.{engines}.mood' does not belong": spoiled(mood=1),
        f"'pages.{engines}.ticks' is not": spoiled(ticks={str(n): {} for n in range(501)}),
        "'serial' is missing": json.dumps({k: v for k, v in data.items() if k != "serial"}),
        "too large for a job record": " " * 5_000_001,
    }
    chooser = page.get_by_label("Take in an exported job")
    for number, (said, text) in enumerate(refused.items()):
        path = Path(tmp_path / f"{number}.json")
        path.write_text(text, "utf-8")
        chooser.set_input_files(path)
        told = page.locator(".wm-jobs-said", has_text=f"{number}.json: ")
        expect(told).to_contain_text(said)
    expect(page.locator("section.wm-job")).to_have_count(1)
    marked = tmp_path / "marked.json"
    title = "<img src=x onerror=document.title='gone'><script>1</script>"
    marked.write_text(spoiled(title=title), "utf-8")
    chooser.set_input_files(marked)
    expect(page.locator(".wm-jobs-said")).to_contain_text("Job 26-017 (taken in) is here")
    expect(page.locator("section.wm-job")).to_have_count(2)
    expect(page.locator("section.wm-job", has_text="(taken in)")).to_contain_text(title)
    assert page.locator("section.wm-job img").count() == 0
