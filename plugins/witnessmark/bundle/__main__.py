"""``python -m witnessmark.bundle``: get the browser runtime into the cache."""

from __future__ import annotations

import sys

from witnessmark.bundle.runtime import get_runtime
from witnessmark.faults import WitnessMarkError

if __name__ == "__main__":
    try:
        runtime = get_runtime()
    except WitnessMarkError as error:
        sys.exit(str(error))
    sys.stdout.write(f"browser runtime {runtime.version}: {runtime.folder}\n")
