"""Jobs of the trial handbook as tests open them, wait for them and look into them."""

from __future__ import annotations

from playwright.sync_api import expect

READINGS, ENGINES = "procedures/readings/", "procedures/two-engines/"
PATIENCE = 20_000


def begin(page, trial, number: str, engine: str = "T2/dry") -> None:
    """Open a new job on the jobs page."""
    page.set_default_timeout(PATIENCE)
    page.goto(trial + "jobs/")
    page.get_by_label("Job number").fill(number)
    page.locator(".wm-job-new select").select_option(engine)
    page.get_by_label("Serial number").fill(f"serial of {number}")
    page.get_by_role("button", name="Open the job").click()
    expect(page.locator(".wm-jobs-said")).to_contain_text(f"Job {number} is open")


def kept(page) -> None:
    """Wait until what was entered is on disk: a transaction after it has come through."""
    page.evaluate("""async () => {
      const { jobStore: { allJobs } } = await import(new URL("main.js",
        document.querySelector('script[src*="/front-"]').src));
      await new Promise((resolve) => setTimeout(resolve, 50));
      await allJobs();
    }""")


def record(page) -> dict:
    """The record of the job that was worked on last, as its database holds it."""
    return page.evaluate("""async () => {
      const { jobStore: { allJobs } } = await import(new URL("main.js",
        document.querySelector('script[src*="/front-"]').src));
      return (await allJobs())[0];
    }""")
