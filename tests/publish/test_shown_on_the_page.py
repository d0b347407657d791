"""What the page on publishing shows is run as it stands there: only folders, port and hosts are
the test's own."""

from __future__ import annotations

import base64
import shutil
import subprocess
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.browser.nginx import Nginx, shown

Answer = tuple[int, dict[str, str], str]


def get(url: str, user: str = "") -> Answer:
    """Status, headers and text of an answer; ``user`` is name and password with a colon."""
    request = urllib.request.Request(url)
    if user:
        request.add_header("Authorization", f"Basic {base64.b64encode(user.encode()).decode()}")
    try:
        with urllib.request.urlopen(request, timeout=10) as answer:
            return answer.status, dict(answer.headers), answer.read().decode()
    except urllib.error.HTTPError as error:
        return error.code, dict(error.headers), error.read().decode()


@contextmanager
def served(folder: Path, change: Callable[[str], str]) -> Iterator[str]:
    """The site's server with the configuration of the page after ``change``; gives its root."""
    nginx = Nginx(folder, change)
    nginx.start()
    try:
        yield nginx.url.removesuffix("/shop/handbook/")
    finally:
        nginx.close()


@pytest.fixture
def releases(tmp_path: Path) -> Path:
    """A shelf with an old release and the one in force."""
    for version in ("1.0", "1.1"):
        (tmp_path / version).mkdir()
        (tmp_path / version / "index.html").write_text(f"release {version}")
        (tmp_path / version / "manifest.json").write_text("{}")
    (tmp_path / "current").symlink_to("1.1")
    (tmp_path / "index.html").write_text("the shelf")
    return tmp_path


def test_old_releases_stand_beside_the_one_in_force(releases: Path) -> None:
    """Under an address of their own, with the headers of the handbook."""

    def change(server: str) -> str:
        headers = "\n".join(line for line in server.splitlines() if "add_header" in line)
        more = shown("releases.conf").replace("/srv/releases/", f"{releases}/")
        assert more.count("# and the add_header lines") == 1
        more = more.replace("# and the add_header lines", f"{headers}\n#")
        return f"{server.rstrip().removesuffix('}')}{more}\n}}"

    with served(releases / "current", change) as root:
        assert get(f"{root}/shop/handbook/")[2] == "release 1.1"
        status, headers, text = get(f"{root}/shop/releases/1.0/")
        assert (status, text) == (200, "release 1.0")
        assert "script-src 'self'" in headers["Content-Security-Policy"]
        assert headers["Cache-Control"] == "no-cache"
        assert get(f"{root}/shop/releases/")[2] == "the shelf"
        assert get(f"{root}/shop/releases/0.9/")[0] == 404
        (releases / "current").unlink()
        (releases / "current").symlink_to("1.0")
        assert get(f"{root}/shop/handbook/")[2] == "release 1.0"


@pytest.mark.parametrize(
    ("bench", "user", "status"),
    [
        ("127.0.0.1", "", 200),
        ("192.168.10.0/24", "", 401),
        ("192.168.10.0/24", "fitter:torque", 200),
        ("192.168.10.0/24", "fitter:wrong", 401),
    ],
)
def test_who_may_read(releases: Path, bench: str, user: str, status: int) -> None:
    """From a bench without a word, by name from elsewhere, otherwise not at all."""
    users = releases / "users"
    users.write_text("fitter:{PLAIN}torque\n")

    def change(server: str) -> str:
        who = shown("who may read").splitlines()
        lines = "\n".join(who[1 : who.index("}")])
        lines = lines.replace("192.168.10.0/24", bench).replace(
            "/etc/nginx/handbook.users", str(users)
        )
        place = "location /shop/handbook/ {"
        assert who[0] == place
        return server.replace(place, f"{place}\n{lines}")

    with served(releases / "1.0", change) as root:
        answer = get(f"{root}/shop/handbook/", user)
        assert answer[0] == status
        assert ("release 1.0" in answer[2]) is (status == 200)


def test_a_build_is_published_again_and_again(tmp_path: Path) -> None:
    """The first time, and when an old one and one before it are there already."""
    command = shown("publish").replace("/srv/", f"{tmp_path}/srv/")
    command = command.replace("ssh server ", "sh -ec ").replace("server:", "")
    if shutil.which("rsync") is None:
        command = command.replace("rsync -a --delete site/", "cp -a site")
    (tmp_path / "srv").mkdir()
    for build in ("first", "second", "third"):
        shutil.rmtree(tmp_path / "site", ignore_errors=True)
        (tmp_path / "site").mkdir()
        (tmp_path / f"site/{build}.html").write_text(build)
        subprocess.run(["sh", "-ec", command], cwd=tmp_path, check=True)
        assert [path.name for path in (tmp_path / "srv/handbook").iterdir()] == [f"{build}.html"]
    assert (tmp_path / "srv/handbook-old/second.html").is_file()


@pytest.fixture
def nightly(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[], int]:
    """The command of the night over a repository and its clone; ``make`` notes what it was asked
    and makes the folder, or fails where the text says so. Gives the exit status."""
    for name in ("GIT_AUTHOR_NAME", "GIT_COMMITTER_NAME"):
        monkeypatch.setenv(name, "lead fitter")
    for name in ("GIT_AUTHOR_EMAIL", "GIT_COMMITTER_EMAIL"):
        monkeypatch.setenv(name, "lead@lockgate.example")
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", "/dev/null")
    srv, tools = tmp_path / "srv", tmp_path / "tools"
    (srv / "releases").mkdir(parents=True)
    tools.mkdir()
    git(tmp_path, "init", "-q", "-b", "main", "origin")
    sign(tmp_path, "words", "1.0", "First issue")
    git(srv, "clone", "-q", str(tmp_path / "origin"), "handbook-source")
    make = tools / "make"
    make.write_text(
        "#!/bin/sh\n"
        'for each; do case "$each" in VERSION=*) version=${each#VERSION=};; '
        "RELEASES=*) into=${each#RELEASES=};; esac; done\n"
        f'printf "%s|" "$HANDBOOK_ADDRESS" "$@" "$(cat text)" >> {tmp_path}/asked\n'
        f"echo >> {tmp_path}/asked\n"
        'grep -q unsigned text && exit 1\nmkdir "$into/$version"\n'
    )
    make.chmod(0o755)
    script = tools / "handbook-nightly"
    script.write_text(shown("/usr/local/bin/handbook-nightly").replace("/srv/", f"{srv}/"))
    script.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tools}:/usr/bin:/bin")
    return lambda: subprocess.run([script], cwd="/", check=False, capture_output=True).returncode


def git(place: Path, *words: str) -> str:
    """Run git in ``place``."""
    done = subprocess.run(["git", *words], cwd=place, check=True, capture_output=True, text=True)
    return done.stdout.strip()


def sign(place: Path, text: str, version: str, note: str) -> None:
    """A commit with a tag, as the lead fitter makes it."""
    (place / "origin/text").write_text(text)
    git(place / "origin", "add", "-A")
    git(place / "origin", "commit", "-q", "-m", text)
    git(place / "origin", "tag", "-a", version, "-m", note)


def asked(place: Path) -> list[str]:
    """What was asked of make, a line each time."""
    return (place / "asked").read_text().splitlines()


def test_every_night_the_newest_tag_is_made_once(
    nightly: Callable[[], int], tmp_path: Path
) -> None:
    """From the tag's own text, with the tag's words as the note; and the branch is back after."""
    assert nightly() == 0
    assert nightly() == 0
    releases = f"RELEASES={tmp_path}/srv/releases"
    address = "https://intranet.example/shop/handbook/"
    assert asked(tmp_path) == [f"{address}|release|VERSION=1.0|NOTE=First issue|{releases}|words|"]
    sign(tmp_path, "torque", "1.1", "Torque of the nut")
    (tmp_path / "origin/text").write_text("not yet signed")
    git(tmp_path / "origin", "commit", "-q", "-a", "-m", "draft")
    assert nightly() == 0
    assert asked(tmp_path)[1:] == [
        f"{address}|release|VERSION=1.1|NOTE=Torque of the nut|{releases}|torque|"
    ]
    source = tmp_path / "srv/handbook-source"
    assert git(source, "branch", "--show-current") == "main"
    assert (source / "text").read_text() == "not yet signed"


def test_a_release_that_is_refused_is_tried_again_and_changes_nothing(
    nightly: Callable[[], int], tmp_path: Path
) -> None:
    """The command fails, so that its words are sent by mail; the branch is back all the same."""
    assert nightly() == 0
    sign(tmp_path, "unsigned", "1.1", "Too early")
    assert nightly() != 0
    assert nightly() != 0
    assert len(asked(tmp_path)) == 3
    assert [path.name for path in (tmp_path / "srv/releases").iterdir()] == ["1.0"]
    assert git(tmp_path / "srv/handbook-source", "branch", "--show-current") == "main"
