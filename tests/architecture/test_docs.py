"""Do the pages say what the code does today?"""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import cordwright.project.sand_tables
import cordwright.project.season_schema  # noqa: F401 - their tables are known once they are read
from cordwright.project.schema import Table

ROOT = Path(__file__).resolve().parents[2]
PAGES = [
    "README.md",
    "ARCHITECTURE.md",
    "CONTRIBUTING.md",
    "DISCLAIMER.md",
    "CHANGELOG.md",
    *(f"docs/{n}.md" for n in ("guide", "nomenclature", "sources", "validation")),
]
LINK = re.compile(r"\[[^\]]+\]\(([^)#]+)(?:#[^)]*)?\)")


def test_the_generated_pages_are_up_to_date() -> None:
    paths = [str(Path(p).resolve()) for p in os.environ.get("PYTHONPATH", "").split(os.pathsep) if p]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(paths)}
    done = subprocess.run(
        [sys.executable, "docs/generate.py", "--check"],
        cwd=ROOT, env=environment, capture_output=True, text=True, timeout=180, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_link_between_pages_leads_somewhere() -> None:
    broken = [
        f"{name}: {target}"
        for name in PAGES
        for target in LINK.findall((ROOT / name).read_text(encoding="utf-8"))
        if "://" not in target and not ((ROOT / name).parent / target).exists()
    ]
    assert broken == []


def test_the_guide_explains_every_key_of_the_file_and_no_other() -> None:
    guide = (ROOT / "docs" / "guide.md").read_text(encoding="utf-8")
    reference = guide.partition("## building.toml, key by key")[2].partition("## The lists beside it")[0]
    told = re.findall(r"`([a-z_]+(?:\.[a-z_]+)+)`", reference)
    assert sorted(told) == sorted(set(told))
    assert set(told) == set(_known_keys())
    assert len(told) > 80


def test_the_guide_names_every_command() -> None:
    from cordwright.cli import app

    guide = (ROOT / "docs" / "guide.md").read_text(encoding="utf-8")
    names = {c.name or (c.callback.__name__ if c.callback else "") for c in app.registered_commands}
    assert sorted(n for n in names if f"cordwright {n}" not in guide) == []
    assert "check" in names


def test_the_disclaimer_says_what_is_never_claimed() -> None:
    text = (ROOT / "DISCLAIMER.md").read_text(encoding="utf-8").lower()
    for phrase in ("not reviewed by an engineer", "for review", "local code", "licensed"):
        assert phrase in text


def _known_keys() -> Iterator[str]:
    """Key paths the file may hold, arrays of tables by their name alone (`openings.width`)."""
    models = {_section(model): model for model in Table.__subclasses__() if _section(model)}
    for section, model in models.items():
        yield from (key for name in model.model_fields if (key := f"{section}.{name}") not in models)


def _section(model: type[Table]) -> str:
    """The table's name as the model's docstring opens: `[wall.fill]: ...`."""
    opening = re.match(r"\[+([a-z.]+)\]+:", model.__doc__ or "")
    return opening[1] if opening else ""
