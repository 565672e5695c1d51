"""Does the project install from wherever its owner's tools look, naming no registry and no machine?"""

import re
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

# Written in pieces, so that this file holds none of them itself.
HOSTS = (
    ("pypi", "org"),
    ("pythonhosted", "org"),
    ("registry", "npmjs", "org"),
    ("registry", "yarnpkg", "com"),
    ("proxy", "golang", "org"),
    ("static", "crates", "io"),
    ("deb", "debian", "org"),
    ("anaconda", "org"),
)
ADDRESS = re.compile(
    "|".join([*(re.escape(".".join(host)) for host in HOSTS), "/opt/" + "(pypi|wheels)", "index-" + "url"])
)


def _files() -> list[Path]:
    """Every file of the project, tracked or about to be; what git ignores is not part of it."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, check=True, timeout=30).stdout.decode().split("\0")
    return [ROOT / name for name in listed if name and (ROOT / name).is_file()]


def test_no_file_names_a_registry() -> None:
    files = _files()
    named = [str(p.relative_to(ROOT)) for p in files if ADDRESS.search(p.read_text(encoding="utf-8", errors="replace"))]
    assert named == []
    assert len(files) > 50


def test_the_search_sees_an_address_when_there_is_one() -> None:
    assert ADDRESS.search("https://" + "pypi" + ".org/simple")
    assert not ADDRESS.search("http://www.apache.org/licenses/")


def test_the_lock_holds_no_address_at_all() -> None:
    assert "://" not in (ROOT / "requirements.lock").read_text(encoding="utf-8")
