"""How long does the whole reckoning take once everything is imported, beside reading the same file by a peer?

Ours: `reckon(project)` on the weaving studio, no study run or read. Peer, in the same process and the same rounds:
tomllib parses the same building.toml and pydantic validates the result against an open model, ten times over.
"""

import tomllib
from pathlib import Path

from pydantic import ConfigDict, TypeAdapter
from typing_extensions import TypedDict

from cordwright.project import read
from cordwright.reckon import reckon
from timing import interleaved, machine, show, show_ratio

STUDIO = Path(__file__).resolve().parents[1] / "examples" / "weaving-studio"


class Building(TypedDict):
    """The file as a peer sees it: tables of anything."""

    __pydantic_config__ = ConfigDict(extra="allow")  # type: ignore[misc]
    project: dict[str, object]
    openings: list[dict[str, str]]


def main() -> None:
    """Print both times and their ratio."""
    project = read(STUDIO).project
    if project is None:
        raise SystemExit("the weaving studio has errors")
    text = (STUDIO / "building.toml").read_text(encoding="utf-8")
    adapter = TypeAdapter(Building)

    def peer() -> None:
        for _ in range(10):
            adapter.validate_python(tomllib.loads(text))

    machine()
    ours, theirs, reading = interleaved(lambda: reckon(project), peer, lambda: read(STUDIO), rounds=20)
    show("reckon(weaving studio), in process", ours)
    show("peer: ten times tomllib and pydantic on its file", theirs)
    show_ratio(ours, theirs)
    show("beside it: read(weaving studio), all its files", reading)


if __name__ == "__main__":
    main()
