"""Compression of what every start has to fetch: Zstandard (RFC 8878).

It takes a quarter less than gzip. Browsers decompress it only where a host declares it, which
a plain host does not; pages therefore bring a decoder (``decoder``) and decompress it themselves.
"""

from __future__ import annotations

import base64
import re
import sys

from witnessmark.bundle.pinned import DECODER
from witnessmark.bundle.runtime import Runtime, RuntimeUnavailable

if sys.version_info >= (3, 14):
    from compression import zstd
else:
    from backports import zstd

# What it is made with; part of the keys of what is kept in the cache.
RECIPE = f"zstd {'.'.join(map(str, zstd.zstd_version_info))} level 22 window 23"

_OPTIONS: dict[int, int] = {
    zstd.CompressionParameter.compression_level: 22,
    # Whoever decompresses keeps this much (8 MiB) of what came before.
    zstd.CompressionParameter.window_log: 23,
    zstd.CompressionParameter.checksum_flag: 1,
}
_MODULE = re.compile(r"""\bwasm = (["'`])([A-Za-z0-9+/=]+)\1""")


def squeezed(data: bytes) -> bytes:
    """``data`` as one frame with a checksum."""
    return zstd.compress(data, options=_OPTIONS)


def decoder(runtime: Runtime) -> bytes:
    """The decoder of a well-kept library: its WebAssembly module without the library's script.

    The script hands the module over as an address with everything in it, which a strict policy
    does not let a page fetch. Raises ``RuntimeUnavailable`` when it is not where it should be.
    """
    found = _MODULE.search(runtime.decoder.read_text("utf-8"))
    module = base64.b64decode(found[2]) if found else b""
    if not module.startswith(b"\0asm"):
        raise RuntimeUnavailable(
            f"{runtime.version_of(DECODER)} does not hold its module as it used to; pin a version "
            "that does in package.json, or teach bundle/squeeze.py where it is now"
        )
    return module
