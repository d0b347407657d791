"""Workshop drawings and charts as SVG, the same text under every runtime.

A calculator draws with one of four sheets, each giving its picture by ``svg(prefix)``:

- :class:`Drawing`: the parts, in millimetres, with hatching, dimensions, forces and labels;
- :class:`Chart`: a result against one entry;
- :class:`Polar`: readings round a circle;
- :class:`Bars`: shares, such as which entry moves a result most.

>>> from witnessmark.calc.drawing import Drawing
>>> d = Drawing("Nut and lever", "A lever of 500 mm on a nut, pulled upward with 200 N.")
>>> d.hexagon((0, 0), 46)
>>> d.line((23, 0), (500, 0))
>>> d.force((500, 0), "n", "200 N")
>>> d.moment((0, 0), 60, 200, 330, "100 N·m")
>>> d.dimension((0, 0), (500, 0), "500 mm")
>>> d.svg().startswith("<svg")
True
"""

from witnessmark.calc.drawing.bars import Bars
from witnessmark.calc.drawing.chart import Chart
from witnessmark.calc.drawing.drawing import Drawing
from witnessmark.calc.drawing.outline import Outline
from witnessmark.calc.drawing.polar import Polar

__all__ = ["Bars", "Chart", "Drawing", "Outline", "Polar"]
