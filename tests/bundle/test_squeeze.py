"""What is compressed at build time comes out of the pages' decoder as it went in."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest

from witnessmark.bundle import get_runtime, squeeze
from witnessmark.bundle.archives import digest
from witnessmark.bundle.build import FRONT
from witnessmark.bundle.node import find_node
from witnessmark.bundle.runtime import RuntimeUnavailable

UNPACK = """
import { readFileSync } from "node:fs";
const [, , script, decoder, file, piece] = process.argv;
const { Unpacker } = await import(script);
const module = await WebAssembly.compile(readFileSync(decoder));
const unpacker = new Unpacker(await WebAssembly.instantiate(module, Unpacker.IMPORTS));
const bytes = readFileSync(file);
const stream = new ReadableStream({
  start(to) {
    for (let at = 0; at < bytes.length; at += Number(piece)) {
      to.enqueue(new Uint8Array(bytes.subarray(at, at + Number(piece))));
    }
    to.close();
  },
});
try {
  const content = await new Response(unpacker.unpacked(stream)).arrayBuffer();
  const digest = await crypto.subtle.digest("SHA-256", content);
  const sha = Buffer.from(digest).toString("hex");
  console.log(JSON.stringify({ size: content.byteLength, sha }));
} catch (error) {
  console.log(JSON.stringify({ error: error.message }));
}
"""


def _unpacked(tmp_path: Path, packed: bytes, piece: int) -> dict[str, object]:
    (tmp_path / "unpack.mjs").write_text(UNPACK, "utf-8")
    (tmp_path / "decoder.wasm").write_bytes(squeeze.decoder(get_runtime()))
    (tmp_path / "packed").write_bytes(packed)
    script = (FRONT / "unpacker.js").as_uri()
    node = find_node()
    names = [str(tmp_path / name) for name in ("unpack.mjs", "decoder.wasm", "packed")]
    answer = node.run([*node.command, names[0], script, names[1], names[2], str(piece)])
    assert answer.returncode == 0, answer.stderr
    told: dict[str, object] = json.loads(answer.stdout)
    return told


def _content() -> bytes:
    draw = random.Random(7)
    return b"".join(bytes(draw.choices(b"abcdefgh", k=50_000)) + bytes(90_000) for _ in range(9))


@pytest.mark.parametrize("piece", [1000, 65_536, 10_000_000])
def test_it_comes_out_as_it_went_in(tmp_path: Path, piece: int) -> None:
    """In whatever pieces it arrives."""
    content = _content()
    told = _unpacked(tmp_path, squeeze.squeezed(content), piece)
    assert told == {"size": len(content), "sha": digest(content)}


def test_what_is_damaged_or_cut_short_is_told(tmp_path: Path) -> None:
    """The checksum of the format finds a changed byte; an end that is missing is missed."""
    packed = squeeze.squeezed(_content())
    assert _unpacked(tmp_path, packed[:-1000], 65_536) == {"error": "what came is not whole"}
    changed = bytearray(packed)
    changed[len(changed) // 2] ^= 1
    assert "is damaged" in str(_unpacked(tmp_path, bytes(changed), 65_536)["error"])


def test_a_library_that_holds_no_module_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another version may keep it elsewhere."""
    (tmp_path / "empty.mjs").write_text("export const wasm = 'AAAA';\n", "utf-8")
    runtime = get_runtime()
    monkeypatch.setattr(type(runtime), "decoder", tmp_path / "empty.mjs")
    with pytest.raises(RuntimeUnavailable, match=r"zstddec .* does not hold its module"):
        squeeze.decoder(runtime)
