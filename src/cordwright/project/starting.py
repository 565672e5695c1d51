"""How does a project begin? With a folder of plain text files, blank or like one of the examples."""

from collections.abc import Sequence
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
    _refuse_full(folder)
    origin = _examples().joinpath(like) if like else files("cordwright.data").joinpath("blank")
    folder.mkdir(parents=True, exist_ok=True)
    return tuple(_copy(entry, folder) for entry in sorted(origin.iterdir(), key=lambda e: e.name) if entry.is_file())


def copy_project(files_read: Sequence[Path], content: bytes, folder: Path) -> tuple[Path, ...]:
    """Copy a project into a new or empty folder, its building.toml with other content, and give the paths.

    Args:
        files_read: building.toml first, then the lists it names, which stand beside it.
        content: of the new building.toml.
        folder: where the copy is to live.

    Raises:
        InputError: the folder holds something already (nothing is ever overwritten).
    """
    _refuse_full(folder)
    building, *lists = files_read
    written = []
    for source in (building, *lists):
        target = folder / source.relative_to(building.parent)
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("xb") as out:
            out.write(content if source == building else source.read_bytes())
        written.append(target)
    return tuple(written)


def _refuse_full(folder: Path) -> None:
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise InputError(f"{folder} is not an empty folder; choose a new one, nothing is overwritten")


def _copy(entry: Traversable, folder: Path) -> Path:
    target = folder / entry.name
    with as_file(entry) as source, target.open("xb") as out:
        out.write(source.read_bytes())
    return target
