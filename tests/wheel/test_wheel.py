"""Does the wheel work by itself, in an empty environment outside the checkout, without make and without our tools?

The environment gets exactly the libraries that the wheel's own metadata asks for, copied file by file from the locked
ones, so that nothing a developer happens to have can stand in for a dependency that was forgotten. pip then installs
the wheel without an index and refuses if one is missing.
"""

import json
import os
import shutil
import subprocess
import sys
import venv
import zipfile
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

pytestmark = pytest.mark.wheel

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Owner:
    """Someone who has only the wheel: their command, and the folder they stand in."""

    command: Path
    python: Path
    home: Path

    def run(self, *args: str) -> subprocess.CompletedProcess[str]:
        environment = {k: v for k, v in os.environ.items() if k not in ("PYTHONPATH", "VIRTUAL_ENV")}
        return subprocess.run(
            [self.command, *args],
            cwd=self.home,
            env=environment,
            capture_output=True,
            encoding="utf-8",
            timeout=120,
            check=False,
        )


def _runtime_libraries() -> set[str]:
    """Names of all distributions that the package's own dependencies lead to on this platform, tools left out."""
    waiting, found = ["cordwright"], set[str]()
    while waiting:
        name = waiting.pop()
        for text in metadata.requires(name) or []:
            wanted = Requirement(text)
            key = canonicalize_name(wanted.name)
            if key not in found and (wanted.marker is None or wanted.marker.evaluate({"extra": ""})):
                found.add(key)
                waiting.append(key)
    return found


def _copy(name: str, site_packages: Path) -> None:
    for entry in metadata.files(name) or []:
        source = Path(str(entry.locate()))
        if ".." in entry.parts or not source.is_file():
            continue
        target = site_packages / entry
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, target)


def _pip(*args: str | Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "pip", *args], cwd=ROOT, capture_output=True, text=True, timeout=300, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel as built from this tree."""
    folder = tmp_path_factory.mktemp("wheel")
    _pip("wheel", "--no-deps", "--no-build-isolation", "--quiet", "--wheel-dir", folder, ROOT)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def owner(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Owner:
    """An empty environment with the wheel, and an empty folder to work in."""
    place = tmp_path_factory.mktemp("owner")
    venv.create(place / "env", with_pip=False)
    scripts = place / "env" / ("Scripts" if os.name == "nt" else "bin")
    python = scripts / ("python.exe" if os.name == "nt" else "python")
    where = [python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"]
    site_packages = Path(subprocess.run(where, capture_output=True, text=True, check=True, timeout=60).stdout.strip())
    for name in _runtime_libraries():
        _copy(name, site_packages)
    _pip("--python", python, "install", "--quiet", "--no-index", wheel)
    home = place / "home"
    home.mkdir()
    return Owner(command=scripts / "cordwright", python=python, home=home)


def test_the_wheel_holds_data_and_examples_and_nothing_that_was_made_by_running(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert "cordwright/data/sources.toml" in names
    assert "cordwright/data/cautions.toml" in names
    for example in ("weaving-studio", "bakehouse", "sauna"):
        assert f"cordwright/examples/{example}/building.toml" in names
    made = ("__pycache__", ".cache", ".sqlite", ".pdf", ".pyc", ".xlsx")
    assert [n for n in names if any(mark in n for mark in made)] == []
    assert [n for n in names if not n.startswith(("cordwright/", "cordwright-"))] == []
    assert any(n.endswith("licenses/LICENSE") for n in names)


def test_the_environment_knows_the_package_only_by_its_wheel(owner: Owner) -> None:
    ask = "import cordwright, pathlib; print(pathlib.Path(cordwright.__file__).resolve())"
    done = subprocess.run(
        [owner.python, "-I", "-c", ask], cwd=owner.home, capture_output=True, text=True, check=True, timeout=60
    )
    place = Path(done.stdout.strip())
    assert ROOT not in place.parents
    assert owner.home.parent in place.parents
    tools = subprocess.run([owner.python, "-I", "-c", "import pytest"], capture_output=True, check=False, timeout=60)
    assert tools.returncode != 0


def test_idea_answers_before_there_is_a_file(owner: Owner) -> None:
    done = owner.run("idea", "--floor", "6.6 m x 4.8 m", "--wall", "350 mm")
    assert done.returncode == 0, done.stderr
    assert "mortar" in done.stdout
    assert list(owner.home.iterdir()) == []


@pytest.mark.parametrize("example", ["weaving-studio", "bakehouse", "sauna"])
def test_an_owner_goes_from_start_to_book(owner: Owner, example: str) -> None:
    started = owner.run("start", example, "--like", example)
    assert started.returncode == 0, started.stderr
    assert (owner.home / example / "building.toml").is_file()

    checked = owner.run("check", example)
    assert checked.returncode == 0, checked.stdout + checked.stderr

    reckoned = owner.run("reckon", example, "--json", "--no-studies")
    assert reckoned.returncode == 0, reckoned.stderr
    answer = json.loads(reckoned.stdout)
    assert answer["schema"] == 1
    assert answer["figures"]["plan.net_wall_area"]["unit"] == "m2"

    booked = owner.run("book", example, "--no-studies", "-o", f"{example}-book")
    assert booked.returncode == 0, booked.stderr
    books = list((owner.home / f"{example}-book").rglob("*.pdf"))
    assert len(books) == 1
    assert books[0].read_bytes().startswith(b"%PDF-")


def test_an_owner_starts_from_a_blank_and_hears_what_is_wrong(owner: Owner) -> None:
    assert owner.run("start", "cabin").returncode == 0
    file = owner.home / "cabin" / "building.toml"
    file.write_text(file.read_text(encoding="utf-8") + "\n[nonsense]\nx = 1\n", encoding="utf-8")
    done = owner.run("check", "cabin")
    assert done.returncode == 1
    assert "nonsense" in done.stdout + done.stderr
    assert "Traceback" not in done.stdout + done.stderr
