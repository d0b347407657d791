"""Values are resolved per machine and variant, grouped when they agree, and digested."""

from dataclasses import replace

from witnessmark.databook import DataBook, Machine, Scope, Value


def book(*held: tuple[Scope, Value]) -> DataBook:
    """A data book of two machines, one of them in two forms, holding ``held``."""
    made = DataBook({"LG2": Machine("LG2", ("canal", "stationary")), "LG3": Machine("LG3")})
    for scope, value in held:
        made.values.setdefault(value.name, {})[scope] = value
    return made


def value(text: str, name: str = "nut.torque", **more: str) -> Value:
    return Value(name, text, **more)


def told(made: DataBook, scopes: tuple[Scope, ...]) -> list[tuple[str, str]]:
    return [(part.label, part.value.text) for part in made.across("nut.torque", scopes)]


def test_the_nearest_scope_answers():
    """Variant before machine before shop."""
    made = book(
        (Scope(), value("shop")),
        (Scope("LG2"), value("LG2")),
        (Scope("LG2", "canal"), value("canal")),
    )

    answers = [
        made.resolve("nut.torque", *scope)
        for scope in (("LG2", "canal"), ("LG2", "stationary"), ("LG3", ""), ("", ""))
    ]

    assert [answer and answer.text for answer in answers] == ["canal", "LG2", "shop", "shop"]


def test_a_name_that_no_scope_holds_has_no_value():
    """None, and the scopes without a value are named."""
    made = book((Scope("LG2"), value("480 N·m")))

    assert made.resolve("nut.torque", "LG3") is None
    assert made.missing("nut.torque", made.scopes()) == (Scope("LG3"),)
    assert made.missing("nut.thread", made.scopes()) == made.scopes()


def test_values_that_agree_are_one_without_a_label():
    """The same figure for every machine needs no distinction, whatever sheet it stands on."""
    made = book(
        (Scope("LG2"), value("480 N·m", source="sheet 7", rev="C")),
        (Scope("LG3"), value("480 N·m", source="sheet 9")),
    )

    (only,) = made.across("nut.torque", made.scopes())

    assert (only.label, only.value.text, only.origin) == ("", "480 N·m", "sheet 7, rev C; sheet 9")


def test_values_that_differ_carry_the_machine():
    """Each value once, in the order of the scopes."""
    made = book((Scope("LG2"), value("480 N·m")), (Scope("LG3"), value("92 N·m")))

    assert told(made, made.scopes(["LG3", "LG2"])) == [("LG3", "92 N·m"), ("LG2", "480 N·m")]


def test_a_value_that_some_scopes_lack_is_labelled():
    """A figure for LG2 alone must not look as if it held for LG3."""
    made = book((Scope("LG2"), value("480 N·m")))

    assert told(made, made.scopes()) == [("LG2", "480 N·m")]
    assert told(made, made.scopes(["LG2"])) == [("", "480 N·m")]


def test_texts_of_different_kinds_do_not_agree():
    """5 as a count is not 5 as a number."""
    made = book((Scope("LG2"), value("5", kind="count")), (Scope("LG3"), value("5", kind="number")))

    assert len(told(made, made.scopes())) == 2


def test_scopes_are_cut_down_to_the_variants_of_the_page():
    """A machine in one form stays in whatever the variants."""
    made = book()

    assert made.scopes(["LG2"], ["canal"]) == (Scope("LG2", "canal"),)
    assert made.scopes([], ["canal"]) == (Scope("LG2", "canal"), Scope("LG3"))
    assert DataBook().scopes() == (Scope(),)


def test_a_misspelled_name_finds_its_neighbour():
    """For the suggestion in a fault."""
    assert book((Scope(), value("480 N·m"))).nearest("nut.torqe") == "nut.torque"


def test_the_digest_follows_values_and_sources_but_not_their_place():
    """Moving a line is no change; another source, revision or text is."""
    first = value("480 N·m", source="sheet 7", file="a.yml", line=3)
    digest = book((Scope("LG2"), first)).digest()

    assert book((Scope("LG2"), replace(first, file="b.yml", line=9))).digest() == digest
    for other in (
        replace(first, text="481 N·m"),
        replace(first, rev="D"),
        replace(first, source="sheet 8"),
    ):
        assert book((Scope("LG2"), other)).digest() != digest
    assert book((Scope("LG3"), first)).digest() != digest


def test_the_digest_of_some_names_ignores_the_others():
    """A page depends on what it uses."""
    torque, width = value("480 N·m"), value("46 mm", "nut.width")
    alone = book((Scope(), torque)).digest(["nut.torque"])

    assert book((Scope(), torque), (Scope(), width)).digest(["nut.torque"]) == alone
