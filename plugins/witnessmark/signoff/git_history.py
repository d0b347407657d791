"""The handbook as it stood when a page was signed, out of the version history in git.

The seal of a ledger entry is in the history from the commit that brought the sign-off in:
that commit holds the handbook as it was signed. Nothing here writes to the repository.
"""

from __future__ import annotations

import io
import subprocess
import tarfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Commit:
    """A commit: its name, its day and the first line of its message."""

    name: str
    day: str
    subject: str

    def __str__(self) -> str:
        return f"{self.name[:10]} {self.day} {self.subject}"


@dataclass(frozen=True)
class History:
    """The git history of the folder ``project``."""

    project: Path

    def _git(self, *arguments: str) -> bytes | None:
        """What git answers, or None when there is no git, no repository, or no answer."""
        try:
            done = subprocess.run(
                ["git", *arguments], cwd=self.project, capture_output=True, check=False
            )
        except OSError:
            return None
        return done.stdout if done.returncode == 0 else None

    @property
    def is_there(self) -> bool:
        """Whether the project lies in a git repository with a commit."""
        return self._git("rev-parse", "--verify", "--quiet", "HEAD") is not None

    def commit_with(self, text: str, path: Path) -> Commit | None:
        """The commit that first brought ``text`` into the file ``path``."""
        found = self._commits("-S", text, "--reverse", "--", str(path.resolve()))
        return found[0] if found else None

    def since(self, commit: Commit, paths: Iterable[Path]) -> list[Commit]:
        """Commits after ``commit`` that touch ``paths``, the newest first."""
        return self._commits(f"{commit.name}..HEAD", "--", *(str(p.resolve()) for p in paths))

    def unpack(self, commit: Commit, folder: Path) -> bool:
        """Write the project as it stood at ``commit`` into ``folder``."""
        packed = self._git("archive", "--format=tar", commit.name)
        if packed is None:
            return False
        with tarfile.open(fileobj=io.BytesIO(packed)) as archive:
            archive.extractall(folder, filter="data")
        return True

    def _commits(self, *arguments: str) -> list[Commit]:
        answer = self._git("log", "--format=%H%x00%as%x00%s", *arguments)
        lines = (answer or b"").decode("utf-8", "replace").splitlines()
        return [Commit(*line.split("\0", 2)) for line in lines if line.count("\0") >= 2]
