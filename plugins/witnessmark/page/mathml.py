"""Formulas: LaTeX in a declaration, MathML in the page.

Converted when the handbook is built, so that the browser needs no script for it.
"""

from __future__ import annotations

import re
from functools import cache
from html import escape

from latex2mathml.converter import convert

from witnessmark.page.elements import Html

_UPRIGHT_RUN = re.compile(r'(?:<mi mathvariant="normal">[^<]</mi>){2,}')
_LETTER = re.compile(r">([^<])<")


@cache
def mathml(latex: str, display: str = "block") -> Html:
    """A formula as a <math> element; ``display`` is "block" or "inline".

    Upright words (``\\mathrm{out}``) become one identifier each, so that they are read out
    as a word. The LaTeX is kept as the accessible text of the formula.
    """
    markup = convert(latex, display=display)
    markup = _UPRIGHT_RUN.sub(
        lambda run: f"<mi>{''.join(_LETTER.findall(run.group()))}</mi>", markup
    )
    return Html(markup.replace("<math ", f'<math aria-label="{escape(spoken(latex))}" ', 1))


def spoken(latex: str) -> str:
    """A plain reading of a formula for those who hear it: marks of layout taken out."""
    words = re.sub(r"\\(?:mathrm|text|operatorname)\{([^}]*)\}", r"\1", latex)
    words = re.sub(r"\\frac\{([^{}]*)\}\{([^{}]*)\}", r"(\1) / (\2)", words)
    words = re.sub(r"\\(?:left|right|,|;|!|quad|qquad)", " ", words)
    words = re.sub(r"\\([A-Za-z]+)", r"\1 ", words)
    words = words.replace("_", " ").replace("{", "").replace("}", "").replace("\\", " ")
    return " ".join(words.split())
