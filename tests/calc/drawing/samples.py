"""Drawings the tests look at; the parts and figures are invented."""

from __future__ import annotations

import math

from witnessmark.calc.drawing import Bars, Chart, Drawing, Outline, Polar


def multiplier() -> Drawing:
    """Return a multiplier on a nut, its arm on a bar."""
    d = Drawing("Multiplier on the nut", "The arm bears on the bar 250 mm from the nut's axis.")
    d.polygon([(-55, -20), (-262, -78), (-262, -110), (-238, -110), (-238, -88), (-40, -45)])
    d.circle((0, 0), 66, covers=True)
    d.hexagon((0, 0), 46)
    d.square((0, 0), 19)
    d.polygon([(12, 5), (300, 62), (302, 50), (14, -7)], covers=True)
    d.rect(-330, -142, 130, 32, cut="/")
    d.centre_lines((0, 0), 84)
    d.force((-250, -110), "n", "1.92 kN")
    d.force((296, 62), "n", "104 N·m", pulls=True)
    d.moment((0, 0), 84, 215, 325, "480 N·m at the nut")
    d.dimension((-250, -110), (0, 0), "250 mm", "below")
    d.label((-310, -126), "reaction bar", on="face", toward="sw")
    d.label((-190, -58), "reaction arm", toward="nw")
    return d


def seal() -> Drawing:
    """Return a section of a lip seal between shaft and housing."""
    d = Drawing("Rear seal in its bore", "Section through the seal 75 x 95 x 10.")
    d.polygon([(-8, 47.5), (16, 47.5), (16, 57), (-2, 57), (-2, 60), (-8, 60)], cut="/")
    case = [(0, 47.5), (10, 47.5), (10, 46.3), (1.2, 46.3), (1.2, 41.5), (0, 41.5)]
    d.polygon(case, cut="\\")
    lip = Outline(1.2, 46.3).to(10, 46.3).to(10, 45.2).to(4.2, 45.2).to(4.2, 42.2).to(9.2, 41)
    lip.arc_to(9.6, 38.6, radius=1.6, clockwise=True).to(7.2, 37.5).to(4.6, 39.8).to(1.2, 41.5)
    d.outline(lip, cut="/")
    d.circle((7.9, 41.9), 0.75, covers=True)
    d.line((-10, 37.5), (20, 37.5))
    d.break_line((-10, 31), (-10, 37.5))
    d.line((-13, 31), (23, 31), "centre")
    d.dimension((20, 31), (20, 37.5), "37.5 mm", "right")
    d.dimension((16, 31), (16, 47.5), "47.5 mm", "right", level=2)
    d.label((7.4, 37.6), "sealing lip", toward="se")
    d.label((8.5, 42.3), "garter spring", toward="ne")
    d.label((-5, 54), "housing", on="face", toward="w")
    return d


def hole_pattern() -> Drawing:
    """Return a flange with bolt holes and two dowels."""
    d = Drawing("Flange with dowels", "Eight bolts and two dowels.")
    d.ring((0, 0), 60, 20)
    d.circle((0, 0), 44, "centre")
    for k in range(8):
        turn = math.radians(22.5 + 45 * k)
        d.circle((44 * math.cos(turn), 44 * math.sin(turn)), 6.5)
    for sign in (1, -1):
        d.circle((sign * 33, 0), 4, cut="/")
        d.circle((sign * 33 + 2, 1.2 * sign), 5.2, "hidden")
        d.mark((sign * 33, 0))
    d.dimension((-33, 0), (33, 0), "66.00 mm", "below")
    d.diameter((0, 0), 60, 60, "Ø 120")
    d.radius((44 * math.cos(1.9635), 44 * math.sin(1.9635)), 6.5, 120, "R 6.5")
    d.angle((0, 0), 30, 22.5, 67.5, "45°")
    d.label((35, 1.2), "dowel 2: 0.012 mm off\n(drawn 200×)", toward="e")
    return d


def ring_gear() -> Drawing:
    """Return a pinion in a ring gear."""
    d = Drawing("Turning tool in the ring gear", "Pinion of 11 teeth, ring of 121.")
    d.gear((0, 0), 121, 181.5)
    d.gear((198, 0), 11, 16.5, turn=180 / 11)
    d.moment((0, 0), 120, 20, 100, "400 N·m")
    d.force((181.5, 0), "s", "2.2 kN on the tooth")
    d.dimension((0, 0), (198, 0), "198 mm", offset=40)
    d.label((205, 10), "pinion, 11 teeth", toward="ne")
    return d


def cure() -> Chart:
    """Return strength against time on a logarithmic axis."""
    c = Chart(
        "Strength against time",
        "62 % after 24 h.",
        x="Time, h",
        y="Strength, %",
        x_log=True,
        x_range=(0.1, 200),
        y_range=(0, 100),
    )

    def strength(hours: float, pace: float) -> float:
        return 100 * (1 - math.exp(-((hours / pace) ** 0.6)))

    hours = [0.1 * 2000 ** (k / 40) for k in range(41)]
    c.curve_of(lambda t: strength(t, 24), 0.1, 200, "20 °C")
    c.curve_of(lambda t: strength(t, 90), 0.1, 200, "5 °C", dashed=True)
    c.band([(t, strength(t, 34)) for t in hours], [(t, strength(t, 17)) for t in hours], "band")
    c.limit(50, "may be loaded")
    c.limit(72, "full cure", axis="x")
    c.mark(24, strength(24, 24), "62 %", x_text="24 h")
    return c


def runout() -> Polar:
    """Return dial readings round a flywheel."""
    p = Polar("Face runout", "Highest at 120 degrees.", radial="0.01 mm")
    p.readings([(a, 4 * math.cos(math.radians(a - 120))) for a in range(0, 360, 30)], "dial")
    p.limit(5, "limit 0.05 mm")
    p.mark(120, 4.0, "high spot")
    return p


def drivers() -> Bars:
    """Return shares of a band."""
    b = Bars("What moves this result", full=1.0)
    b.bar("Efficiency of the multiplier", 0.61, "61 %")
    b.bar("Torque wanted at the nut", 0.39, "39 %")
    return b


ALL = (multiplier, seal, hole_pattern, ring_gear, cure, runout, drivers)
