"""How does a project begin? With a folder of plain text files, blank or like one of the examples."""

from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path

from cordwright.base import InputError


def _examples() -> Traversable:
    """The examples inside the package, or beside the sources in a checkout that is not installed."""
    packed = files("cordwright").joinpath("examples")
    if packed.is_dir():
        return packed
    return Path(__file__).parents[3] / "examples"


def example_names() -> tuple[str, ...]:
    """The examples a project can begin as."""
    return tuple(sorted(e.name for e in _examples().iterdir() if e.joinpath("building.toml").is_file()))


def start_project(folder: Path, like: str = "") -> tuple[Path, ...]:
    """Write the first files of a project into a new or empty folder and give their paths.

    Args:
        folder: where the project is to live.
        like: an example's name; empty for a blank cabin to fill in.

    Raises:
        InputError: no such example, or the folder holds something already (nothing is ever overwritten).
    """
    if like and like not in example_names():
        raise InputError(f"there is no example {like!r}; there are {', '.join(example_names())}")
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise InputError(f"{folder} is not an empty folder; choose a new one, nothing is overwritten")
    origin = _examples().joinpath(like) if like else files("cordwright.data").joinpath("blank")
    folder.mkdir(parents=True, exist_ok=True)
    return tuple(_copy(entry, folder) for entry in sorted(origin.iterdir(), key=lambda e: e.name) if entry.is_file())


def _copy(entry: Traversable, folder: Path) -> Path:
    target = folder / entry.name
    with as_file(entry) as source, target.open("xb") as out:
        out.write(source.read_bytes())
    return target
