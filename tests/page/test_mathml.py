"""Formulas become MathML that reads well and needs no script or style."""

from xml.etree import ElementTree

import pytest

from witnessmark.collection import load_collection
from witnessmark.page.mathml import mathml, spoken

MATH = "{http://www.w3.org/1998/Math/MathML}"


def test_an_upright_word_is_one_identifier():
    """``\\mathrm{out}`` is read out as a word, not letter by letter."""
    tree = ElementTree.fromstring(mathml(r"T_\mathrm{out} = i\,T_\mathrm{in}"))
    assert [node.text for node in tree.iter(f"{MATH}mi")] == ["T", "out", "i", "T", "in"]


def test_a_fraction_is_a_fraction():
    """Numerator and denominator are parts of one <mfrac>."""
    tree = ElementTree.fromstring(mathml(r"\frac{T}{i\,\eta}"))
    (fraction,) = tree.iter(f"{MATH}mfrac")
    assert len(fraction) == 2


def test_a_formula_has_words_for_those_who_hear_it():
    """The label leaves out marks of layout."""
    assert spoken(r"T_\mathrm{in} = \frac{a}{b}") == "T in = (a) / (b)"
    assert "\\" not in spoken(r"\left(\frac{a}{b}\right)^2")


def _formulas():
    from pathlib import Path

    collection = load_collection(Path(__file__).resolve().parents[2] / "calculators")
    return [
        pytest.param(latex, id=f"{name}: {latex[:30]}")
        for name, item in collection.calculators.items()
        for latex in (
            *(formula.latex for formula in item.formulas),
            *(symbol.latex for symbol in item.symbols),
        )
    ]


@pytest.mark.parametrize("latex", _formulas())
def test_every_formula_of_the_shop_is_well_formed(latex):
    """No command is left as text, no style attribute, and the XML parses."""
    markup = mathml(latex)
    tree = ElementTree.fromstring(markup)
    assert "style=" not in markup
    assert "\\" not in "".join(tree.itertext())
