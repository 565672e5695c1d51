"""What does the project's folder hold, and what is wrong with it?

Nothing in the owner's files raises: every fault becomes a problem with its line and a way out, all of them at once.
"""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from cordwright.base import Problem
from cordwright.case import Project
from cordwright.project.building import mortar_input, plan_input, site_input, wall_input
from cordwright.project.document import parse_toml, read_document
from cordwright.project.faults import Findings
from cordwright.project.heat_tables import heat_input
from cordwright.project.lines import lines_of
from cordwright.project.sand_tables import SandTable, sand_inputs
from cordwright.project.schema import ProjectTable, WallTable
from cordwright.project.stages import Inputs, note_stage_faults
from cordwright.project.supplies import Folder, cost_input, timber_input
from cordwright.project.texts import read_bytes, text_of
from cordwright.project.wishes import Asked, wishes_of, with_asked

FILE_NAME: Final = "building.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A project as read: the case (None when anything is an error), all problems, and what was found where.

    `lines` maps key paths of building.toml to lines; `files` are those that were read; `echo` tells how the lists were
    understood; `digest` names the bytes of building.toml, for `change`;
    `rows`: file and line of what stands in a list or at the command line.
    """

    project: Project | None
    problems: tuple[Problem, ...]
    lines: Mapping[str, int] = field(default_factory=dict)
    files: tuple[Path, ...] = ()
    echo: tuple[str, ...] = ()
    digest: str = ""
    rows: Mapping[str, tuple[str, int]] = field(default_factory=dict)

    def placed(self, problems: Iterable[Problem]) -> tuple[Problem, ...]:
        """Give problems that arose later, each with the file and line it belongs to."""
        findings = Findings(str(self.files[0]) if self.files else "", self.lines)
        findings.sheets.update(self.rows)
        findings.take(problems)
        return findings.sorted()


def building_file(path: Path) -> Path:
    """Give the building.toml of a folder, or the file itself."""
    return path / FILE_NAME if path.is_dir() else path


def digest_of(content: bytes) -> str:
    """Name the bytes of a file, so that a change since can be told."""
    return hashlib.sha256(content).hexdigest()


def read(path: Path, asked: Asked | None = None) -> Reading:
    """Read a project.

    Args:
        path: its folder, or the building.toml in it.
        asked: wishes for the layout said at the command line, added to the file's.
    """
    file = building_file(path)
    content = read_bytes(file)
    if isinstance(content, tuple):
        problem = Problem(field="file", message=content[0], hint=content[1], where=str(file))
        return Reading(project=None, problems=(problem,), files=(file,))
    return read_content(file, content, asked)


def read_content(file: Path, content: bytes, asked: Asked | None = None) -> Reading:
    """Read a project whose building.toml holds these bytes, saved or not.

    Args:
        file: where building.toml stands; the lists it names stand beside it.
        content: all of its bytes.
        asked: wishes for the layout said at the command line.
    """
    where, digest = str(file), digest_of(content)
    text, problems = text_of(content, where)
    if text is None:
        return Reading(project=None, problems=problems, files=(file,), digest=digest)
    tables = parse_toml(text, where)
    if isinstance(tables, Problem):
        return Reading(project=None, problems=(tables,), files=(file,), digest=digest)
    lines = lines_of(text)
    findings, folder = Findings(where, lines), Folder(file.parent)
    project = _project(with_asked(tables, asked, findings), folder, findings, asked)
    return Reading(
        project=None if findings.errors else project,
        problems=findings.sorted(),
        lines=lines,
        files=(file, *folder.files),
        echo=tuple(folder.echo),
        digest=digest,
        rows=dict(findings.sheets),
    )


def _project(tables: Mapping[str, object], folder: Folder, findings: Findings, asked: Asked | None) -> Project | None:
    document = read_document(tables, findings)
    named = document.one("project", ProjectTable)
    cost = cost_input(document, folder, findings)
    currency = named.currency if named else ""
    inputs = Inputs(
        site=site_input(document, folder, findings),
        plan=plan_input(document, findings),
        timber=timber_input(document, folder, findings),
        mortar=mortar_input(document, sand_inputs(document.many("sands", SandTable), currency, findings), findings),
        wall=wall_input(document.one("wall", WallTable), wishes_of(document, folder, findings, asked), folder.echo),
        heat=heat_input(document),
        cost=cost[0] if cost else None,
        price_units=cost[1] if cost else (),
    )
    return note_stage_faults(named, inputs, findings)
