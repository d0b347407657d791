"""Level bars: shares of a whole, such as which entry moves a result most."""

from __future__ import annotations

from witnessmark.calc.drawing.ink import Lettering
from witnessmark.calc.drawing.letters import text_size
from witnessmark.calc.drawing.paper import EDGE, Paper
from witnessmark.calc.drawing.places import Place
from witnessmark.calc.drawing.plane import Box

_ROW = 34.0
_BAR = 9.0


class Bars:
    """Level bars, the name above each and its finished text at the right.

    ``full`` is the value a bar of full length stands for; without it the longest bar is full.

    >>> b = Bars("What moves this result", full=1.0)
    >>> b.bar("Efficiency", 0.61, "61 %")
    >>> b.bar("Torque wanted at the nut", 0.39, "39 %")
    >>> svg = b.svg()
    """

    def __init__(
        self,
        title: str,
        description: str = "",
        *,
        full: float | None = None,
        width: float = 320.0,
    ) -> None:
        if not title.strip():
            raise ValueError("bars need a title: it is read out in place of the picture")
        self.title, self.description, self.width = title, description, width
        self._full = full
        self._bars: list[tuple[str, float, str]] = []

    def bar(self, label: str, value: float, text: str) -> None:
        """Add a bar; bars stand in the order they were added."""
        if value < 0:
            raise ValueError(f"the bar {label!r} has a negative value {value!r}")
        self._bars.append((label, value, text))

    def svg(self, prefix: str | None = None) -> str:
        """Return the bars as SVG; ``prefix`` starts their ids, else a digest of the content."""
        if not self._bars:
            raise ValueError(f"the bars {self.title!r} are empty")
        full = self._full or max(value for _, value, _ in self._bars) or 1.0
        paper = Paper(limits=(0.0, 0.0, self.width, _ROW * len(self._bars)))
        room = self.width - 2 * EDGE
        for row, (label, value, text) in enumerate(self._bars):
            y = EDGE + row * _ROW
            length = room * min(1.0, value / full)
            track = Box(self.width / 2, y + 18 + _BAR / 2, room, _BAR)
            paper.stroke("thin", track.corners(), closed=True)
            if length > 0.5:
                solid = Box(EDGE + length / 2, y + 18 + _BAR / 2, length, _BAR)
                paper.stroke("bar", solid.corners(), closed=True)
            size = text_size(text, strong=True)
            at_right = Box(self.width - EDGE - size[0] / 2, y + 8, *size)
            paper.want(Lettering(text, [Place(at_right, anchor="end")], strong=True))
            shown = _cut_to(label, room - size[0] - 8)
            name = text_size(shown)
            at_left = Box(EDGE + name[0] / 2, y + 8, *name)
            paper.want(Lettering(shown, [Place(at_left, anchor="start")]))
        paper.settle()
        return paper.svg(self.title, self.description, prefix=prefix, width=self.width)

    def __str__(self) -> str:
        """Return the bars as SVG."""
        return self.svg()


def _cut_to(label: str, room: float) -> str:
    """Shorten a label that has no room, and say so with dots."""
    if text_size(label)[0] <= room:
        return label
    while label and text_size(label + "…")[0] > room:
        label = label[:-1]
    return label.rstrip() + "…"
