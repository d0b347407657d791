"""The process of ``workshop``: requests in, a line each, outcomes out.

It takes no more memory than a calculation may need; where the system knows no such limit, the
patience of the workshop has to do.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from witnessmark.calc.evaluate import CalculatorFailedError, evaluate
from witnessmark.calc.quantity_text import EntryError
from witnessmark.calc.reading import judge_request
from witnessmark.calc.units import KINDS
from witnessmark.collection import Collection, load_collection

MOST_MEMORY = 2 << 30


def main(folder: str) -> None:
    """Load the calculators of ``folder``, say so with an empty table, answer until the end."""
    _limit_memory()
    out = sys.stdout
    sys.stdout = sys.stderr  # a calculator that prints must not speak into the answers
    collection = load_collection(Path(folder))
    print("{}", file=out, flush=True)
    for line in sys.stdin:
        print(json.dumps(answer(json.loads(line), collection)), file=out, flush=True)


def answer(asked: Mapping[str, Any], collection: Collection) -> dict[str, Any]:
    """The outcome of one request, or {"failure": words}."""
    try:
        if "reading" in asked:
            return _judged(asked)
        calculator = collection.calculators[asked["calculator"]]
        unknown = [name for name in asked["entries"] if name not in calculator.entries]
        if unknown:
            return {"failure": f"the calculator has no entry '{unknown[0]}'"}
        return evaluate(calculator, asked["entries"], asked["units"], drawings=False)
    except EntryError as error:
        return {"failure": f"a limit cannot be read: {error.message}"}
    except CalculatorFailedError as error:
        return {"failure": str(error)}
    except KeyError as error:
        return {"failure": f"unknown here: {error.args[0]}"}
    except (MemoryError, RecursionError, TypeError, ValueError) as error:
        return {"failure": f"cannot be worked out: {type(error).__name__}"}


def _judged(asked: Mapping[str, Any]) -> dict[str, Any]:
    kind = KINDS.get(asked["kind"])
    if kind is None or asked["unit"] not in kind.units:
        return {"failure": f"no kind and unit of a reading: {asked['kind']}, {asked['unit']}"}
    return judge_request(asked)


def _limit_memory() -> None:
    try:
        import resource
    except ImportError:  # no such limit on this system
        return
    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    limit = MOST_MEMORY if hard == resource.RLIM_INFINITY else min(hard, MOST_MEMORY)
    resource.setrlimit(resource.RLIMIT_AS, (limit, hard))


if __name__ == "__main__":
    main(sys.argv[1])
