"""Answers of slow functions, remembered from one build to the next.

A function may be remembered when its answer depends on nothing but its arguments and the code
of the program, and when it is plain data: what JSON can hold. A process keeps the answers of
its last two builds; ``witnessmark.answers`` keeps those of the last one on disk.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from typing import Any, ClassVar


class Remembered[**P, T]:
    """A function with a memory, made once at the head of a module.

    Arguments are texts, bytes and truth values, given by position.
    """

    all: ClassVar[dict[str, Remembered[..., Any]]] = {}
    """Every function with a memory, by its name."""

    def __init__(self, function: Callable[P, T]) -> None:
        self.name = f"{function.__module__}.{function.__qualname__}"
        self._function = function
        self._kept: dict[str, T] = {}
        self._before: dict[tuple[Any, ...], T] = {}
        self._asked: dict[tuple[Any, ...], T] = {}
        self._keys: dict[tuple[Any, ...], str] = {}
        self.all[self.name] = self

    def __call__(self, *arguments: P.args, **named: P.kwargs) -> T:
        """The answer, worked out only when it is not known."""
        assert not named
        if arguments not in self._asked:
            answer = self._before.get(arguments)
            if answer is None:
                answer = self._kept.get(self._key(arguments))
            if answer is None:
                answer = self._function(*arguments, **named)
            self._asked[arguments] = answer
        return self._asked[arguments]

    def begin(self, kept: dict[str, T] | None = None) -> None:
        """A build begins: what the one before the last asked is forgotten.

        ``kept`` are answers of an earlier process by the digests of their arguments.
        """
        self._before, self._asked, self._keys = self._asked, {}, {}
        self._kept = self._kept if kept is None else kept

    def answers(self) -> dict[str, T]:
        """What was asked since the build began, by the digests of the arguments."""
        return {self._key(arguments): answer for arguments, answer in self._asked.items()}

    def _key(self, arguments: tuple[Any, ...]) -> str:
        if arguments not in self._keys:
            text = repr(arguments).encode()
            self._keys[arguments] = hashlib.sha256(text).hexdigest()[:32]
        return self._keys[arguments]
