"""Finished parts of pages, kept out of the way until a page is written.

The HTML of a calculator is many times as long as the words around it and is complete when its
block ends; so are the marks of sign-off and paper when they are made. Nothing that happens to a
page afterwards has any business in them: Markdown's last stages, the search index, other plugins,
the theme. So a short empty element stands in for each all the way, and the part goes in at the
very end. Pages with the same calculator in the same place share one part, which is made once.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass, field

from witnessmark.page.elements import Html

_STAND_IN = re.compile(r'<wm-calculator data-wm-part="([0-9a-f]+)"[^>]*></wm-calculator>')


@dataclass
class StandIns:
    """The parts of one build by their digest."""

    parts: dict[str, str] = field(default_factory=dict)
    _made: dict[Hashable, tuple[object, Html]] = field(default_factory=dict)

    def of(self, key: Hashable, rests_on: object, make: Callable[[], Html]) -> Html:
        """What stands in for the part that ``make`` gives; made once for the same ``key``.

        ``rests_on`` is an object whose identity belongs to the key: it is held, so that no
        other can take its place in memory.
        """
        known = self._made.get((key, id(rests_on)))
        if known is None:
            known = self._made[key, id(rests_on)] = rests_on, self.put(make())
        return known[1]

    def put(self, part: str) -> Html:
        """Keep a part; gives what stands in for it, which no search takes in."""
        digest = hashlib.sha256(part.encode()).hexdigest()[:32]
        self.parts[digest] = part
        return Html(f'<wm-calculator data-wm-part="{digest}" data-search-exclude></wm-calculator>')

    def on(self, html: str) -> Iterator[str]:
        """The parts that belong on a page, each as often as it stands there."""
        return (self.parts[found[1]] for found in _STAND_IN.finditer(html) if self._has(found))

    def named_on(self, html: str) -> dict[str, str]:
        """The parts that belong on a page by their digests."""
        names = [found[1] for found in _STAND_IN.finditer(html) if self._has(found)]
        return {name: self.parts[name] for name in names}

    def filled(self, html: str) -> str:
        """A page with its parts in their places."""
        return _STAND_IN.sub(lambda m: self.parts[m[1]] if self._has(m) else m[0], html)

    def _has(self, found: re.Match[str]) -> bool:
        return found[1] in self.parts
