"""Parts of a calculator's results that are made only when they are shown.

While a band is worked out a calculator is called for every corner of the tolerances, and only
its figures count. Sentences, tables and findings can take longer than the figures: given as
``later(lambda: …)`` they are made once, from the entries as they stand.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any


class _Later:
    """Stands in a result until it is made."""

    __slots__ = ("make",)

    def __init__(self, make: Callable[[], Any]) -> None:
        self.make = make


def later[T](make: Callable[[], T]) -> T:
    """What ``make`` gives, made when the results are to be shown.

    For findings, texts and tables in the dataclass that a calculator returns. Entries must have
    been refused before: ``make`` only tells.
    """
    made: Any = _Later(make)
    return made  # type: ignore[no-any-return]


def settled[T](results: T) -> T:
    """``results`` with everything made that was left for later (in place)."""
    if dataclasses.is_dataclass(results):
        for part in dataclasses.fields(results):
            value = getattr(results, part.name)
            if type(value) is _Later:
                object.__setattr__(results, part.name, value.make())
    return results
