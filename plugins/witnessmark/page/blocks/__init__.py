"""The kinds of block. A new kind is a module here and a line in ``BUILDERS``."""

from witnessmark.page.blocks.accept import AcceptBuilder
from witnessmark.page.blocks.builder import BlockBuilder, Stash
from witnessmark.page.blocks.calculator import CalculatorBuilder
from witnessmark.page.blocks.finding import CautionBuilder, NoteBuilder, StopBuilder
from witnessmark.page.blocks.jobs import JobsBuilder
from witnessmark.page.blocks.only import OnlyBuilder
from witnessmark.page.blocks.reading import ReadingBuilder
from witnessmark.page.blocks.step import StepBuilder

BUILDERS: dict[str, BlockBuilder] = {
    builder.name: builder
    for builder in (
        StepBuilder(),
        CalculatorBuilder(),
        NoteBuilder(),
        CautionBuilder(),
        StopBuilder(),
        AcceptBuilder(),
        ReadingBuilder(),
        OnlyBuilder(),
        JobsBuilder(),
    )
}

__all__ = ["BUILDERS", "BlockBuilder", "Stash"]
