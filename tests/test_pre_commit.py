"""The hooks for authors: local only, commands that exist, and a reminder that never blocks."""

from __future__ import annotations

import shlex
from pathlib import Path

import yaml

from witnessmark.cli import main

ROOT = Path(__file__).resolve().parents[1]
(REPOSITORY,) = yaml.safe_load((ROOT / ".pre-commit-config.yaml").read_text("utf-8"))["repos"]
HOOKS = {hook["id"]: hook for hook in REPOSITORY["hooks"]}


def test_nothing_is_fetched():
    """Every hook runs what 'make venv' has set up."""
    assert REPOSITORY["repo"] == "local"
    for hook in HOOKS.values():
        assert hook["language"] == "system"
        assert (ROOT / shlex.split(hook["entry"])[0]).exists(), hook["id"]


def test_the_reminder_never_blocks(tmp_path, capsys):
    """Not even where the handbook cannot be read at all."""
    command = shlex.split(HOOKS["needs-review"]["entry"])
    assert command[0].endswith("/witnessmark")
    assert main(["--project", str(tmp_path), *command[1:]]) == 0
    assert "the handbook cannot be read yet" in capsys.readouterr().out
