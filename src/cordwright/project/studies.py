"""Which slow studies does the building ask for, and which are kept from an earlier run?

A study's result is kept in `.cache` beside building.toml under a name made of all that it stands on; a file that is
damaged or of another make is passed over and the study done anew. The folder is safe to delete.
"""

import contextlib
import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from cordwright import __version__
from cordwright.base import DataError
from cordwright.case import Project
from cordwright.plan.results import Plan
from cordwright.project.reading import building_file
from cordwright.project.saving import save_atomically
from cordwright.reckon import reckon
from cordwright.timber.results import Timber
from cordwright.wall.laid_study import SIZE_CLASSES, LayoutStudy
from cordwright.wall.layout import Progress, quiet
from cordwright.wall.layout_codec import VERSION, decode, encode

FOLDER: Final = ".cache"
KEPT: Final = 8
"""So many layouts are kept; the oldest make room."""

Say = Callable[[str], None]
Clock = Callable[[], float]


def layout_key(project: Project, plan: Plan, timber: Timber) -> str:
    """Name a layout by all it stands on: versions, plan, log ends, joints, wishes with their seed, shares kept back.

    Args:
        project: the owner's case.
        plan: the plan worked out.
        timber: the wood worked out.
    """
    stock = timber.stock
    stands_on = (
        ("layout", VERSION, __version__),
        encode(plan.panels),
        encode(plan.posts),
        (stock.id, stock.stem, stock.shape, [repr(d) for d in stock.diameter.tolist()]),
        project.units,
        (project.timber.cull_share, project.timber.spare_share),
        encode(project.plan.section),
        encode(project.wall.joints),
        encode(project.wall.wishes),
    )
    return hashlib.sha256(json.dumps(stands_on, sort_keys=True).encode()).hexdigest()


def find_studies(
    file: Path, project: Project, *, progress: Progress = quiet, clock: Clock, say: Say
) -> dict[str, LayoutStudy]:
    """Give the studies the building asks for, kept ones from the cache, others run now and kept.

    Args:
        file: the project's building.toml, or its folder.
        project: the owner's case, without errors.
        progress: told the share done.
        clock: seconds of a running clock, to time each panel.
        say: told when nothing can be kept.
    """
    reckoning = reckon(project)
    if not reckoning.timber.stock.known_diameters.size:
        return {}
    key = layout_key(project, reckoning.plan, reckoning.timber)
    path = building_file(file).parent / FOLDER / f"layout-{key[:32]}.json"
    kept = read_layout(path, key)
    if kept is not None:
        return {"layout": kept}
    from cordwright.wall.study import lay_study

    study = lay_study(
        reckoning.plan,
        reckoning.timber,
        project.timber,
        project.wall,
        mortar_depth=project.plan.section.mortar_depth,
        size_class=SIZE_CLASSES[project.units],
        progress=progress,
        clock=clock,
    )
    keep_layout(path, key, study, say)
    return {"layout": study}


def read_layout(path: Path, key: str) -> LayoutStudy | None:
    """Give a layout that is kept, None where there is none or the file is damaged or of another make."""
    try:
        content: Any = json.loads(path.read_bytes())
        if content["key"] != key:
            return None
        return decode(LayoutStudy, content["layout"])
    except (OSError, ValueError, KeyError, TypeError, RecursionError, DataError):
        return None


def keep_layout(path: Path, key: str, study: LayoutStudy, say: Say) -> None:
    """Keep a layout for the next run; a folder that cannot be written is told and worked without."""
    content = json.dumps({"key": key, "layout": encode(study)}, ensure_ascii=False).encode()
    try:
        path.parent.mkdir(exist_ok=True)
        save_atomically(path, content)
    except OSError as fault:
        say(f"the layout is not kept for the next run: {path.parent} cannot be written ({fault.strerror or fault})")
        return
    _make_room(path.parent)


def _make_room(folder: Path) -> None:
    """Delete the oldest layouts beyond those that are kept."""
    with contextlib.suppress(OSError):
        files = sorted(folder.glob("layout-*.json"), key=lambda p: (p.stat().st_mtime, p.name), reverse=True)
        for old in files[KEPT:]:
            old.unlink(missing_ok=True)
