"""Findings: what a calculator has to say beside its figures.

Three levels named by the trade words: a *note* explains, a *caution* asks for care, a
*stop* says that the work must not go on like this.
"""

from __future__ import annotations

from dataclasses import dataclass

LEVELS = ("stop", "caution", "note")


@dataclass(frozen=True)
class Finding:
    """One finding. ``code`` is stable and names the condition; ``text`` is finished sentences:
    what is the matter and what to do. ``entry`` names the entry it is about, if one."""

    level: str
    code: str
    text: str
    entry: str = ""


def note(code: str, text: str, entry: str = "") -> Finding:
    """Something worth knowing."""
    return Finding("note", code, text, entry)


def caution(code: str, text: str, entry: str = "") -> Finding:
    """Something that asks for care, or a figure that may mislead."""
    return Finding("caution", code, text, entry)


def stop(code: str, text: str, entry: str = "") -> Finding:
    """Do not go on like this."""
    return Finding("stop", code, text, entry)


def in_order(findings: list[Finding]) -> list[Finding]:
    """Stops first, then cautions, then notes; otherwise as given, each code and text once."""
    unique = list(dict.fromkeys(findings))
    return sorted(unique, key=lambda finding: LEVELS.index(finding.level))
