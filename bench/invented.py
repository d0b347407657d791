"""Words for handbooks that are made to be measured: procedures as long as the demonstration's.

Nothing in them is meant to be worked by. Each page has other words in another order, so that
nothing about it is the same as on the page before but its shape.
"""

from __future__ import annotations

# Of the demonstration; they work with their own entries.
CALCULATORS = ("planetary-multiplier", "torque-wrench", "lever")

DATABOOK = """\
machine: LG2
source: sheet {number}
nut:
  torque: {{is: 480 N·m ± 4 %, kind: torque}}
  across_flats: {{is: 46 mm, kind: length}}
  shift: {{is: 12 deg ± 3 deg, kind: angle}}
tools:
  bar: {{title: long bar, length: {{is: 1.2 m, kind: length}}}}
  wrench: {{title: large wrench}}
hazards:
  pinch: {{title: fingers between arm and bar}}
"""

_SENTENCES = (
    "Clean the face and look along it against the light before anything is put on it.",
    "A burr on the edge is stoned off; nothing is filed that locates something else.",
    "Turn the part by hand through a whole turn and feel for a place where it binds.",
    "What was taken off is laid out in the order in which it came off, marks upward.",
    "The bar is set so that it closes the gap from above and cannot slip to either side.",
    "Take up the slack first, then pull evenly until the tool lets go, and stop there.",
    "Write the figure down before the next one is read; memory is no record.",
    "Where the figure lies outside the limits, the cause is found before work goes on.",
    "The second person watches the arm and says at once when it begins to move.",
    "Wipe the thread with a dry cloth and leave no lint in the first three turns.",
    "A thread that has been run dry is looked at again before it is tightened again.",
    "Set the stand on firm ground, wheels locked, and try it with the weight of the body.",
    "The mark is scribed across both parts with a hard point, fine and once.",
    "Count the turns aloud; the last one is made in three parts with a look between them.",
    "Heat is brought on slowly and from all round, never from one side alone.",
    "Lift with the hook above the centre, and keep feet clear until the load is down.",
    "Measure at four places, a quarter of a turn apart, and keep the largest difference.",
    "The gauge is put to nought on the highest place and read on the lowest.",
    "Grease on the lip, none on the land; what is wiped off does not run out later.",
    "New parts are held beside the old ones before either is thrown away.",
    "Close the box, note the number of the engine, and hang the tag where it is seen.",
)  # fmt: skip


def databook(number: int) -> str:
    """The data book of one handbook."""
    return DATABOOK.format(number=number)


def procedure(at: int) -> str:
    """Page number ``at``: five steps with words of their own, three of them with a calculator."""
    steps = [
        f"//// step | {_title(at, step)}\n{_words(at, step, 3)}\n\n{_inside(at, step)}\n////\n"
        for step in range(5)
    ]
    listed = "\n".join(f"- {_words(at, 20 + row, 1)}" for row in range(4))
    return (
        f"---\ntitle: Nut {at}\nsummary: How nut {at} is tightened, and what is looked at first.\n"
        "machines: [LG2]\ntools: [bar, wrench]\nhazards: [pinch]\ntime: 20 min\n"
        f"people: one fitter\n---\n# Nut {at}\n\n"
        f"Nut {at} gets {{nut.torque}} and is {{nut.across_flats}} across flats. "
        f"{_words(at, 30, 4)}\n\n/// caution\n{_words(at, 31, 2)}\n///\n\n"
        f"## Before the work\n\n{_words(at, 32, 4)}\n\n{listed}\n\n{''.join(steps)}\n"
        f"## After the work\n\n{_words(at, 33, 4)}\n"
    )


def _inside(at: int, step: int) -> str:
    """What a step holds besides its words."""
    if step < len(CALCULATORS):
        return f"{_words(at, 10 + step, 2)}\n\n/// calculator | {CALCULATORS[step]}\n///\n"
    if step == len(CALCULATORS):
        return "/// reading | Angle of the mark\nlimits: nut.shift\n///\n"
    return (
        "/// accept | Before you go on\n- what: nut\n  limit: mark in line\n"
        f"  how: by eye\n  otherwise: {_sentence(at).lower().rstrip('.')}\n///\n"
    )


def _title(at: int, step: int) -> str:
    return " ".join(_sentence(at * 3 + step).split()[:4]).rstrip(",;.")


def _words(at: int, part: int, sentences: int) -> str:
    return " ".join(_sentence(at * 5 + part * 7 + each) for each in range(sentences))


def _sentence(number: int) -> str:
    return _SENTENCES[number % len(_SENTENCES)]
