"""How long does the weaving studio's whole book take, beside the setting of its pages by Typst alone?

Ours: all that `cordwright book` writes (PDF, page, lists, drawings, DXF, GLB, labels, pocket page) of a building
read, laid and reckoned. Peer: the typst package compiles the same template with the same data and pictures, all ready
in a folder. Each run is a process of its own, for Typst remembers what it has set; CPU seconds of all its threads, once
everything is imported (what the imports take is told beside it). Peak memory is that of the whole process, reading and
reckoning included.
"""

import importlib
import json
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

from timing import machine

STUDIO = Path(__file__).resolve().parents[1] / "examples" / "weaving-studio"
TODAY = date(2027, 5, 13)
ROUNDS = 5
LIBRARIES = (
    "cordwright.book",
    "cordwright.book.model",
    "ezdxf.filemanagement",
    "jinja2",
    "mapbox_earcut",
    "segno",
    "shapely",
    "trimesh",
    "typst",
    "xlsxwriter",
)
"""What a book is written with."""


def measured(libraries: Sequence[str], work: Callable[[], object]) -> dict[str, float]:
    """CPU seconds of the imports and of a piece of work, and the peak memory of this process [MiB]."""
    start = time.process_time()
    for library in libraries:
        importlib.import_module(library)
    imported = time.process_time()
    work()
    took = time.process_time() - imported
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {"imports": imported - start, "seconds": took, "memory": memory}


def ours(folder: Path) -> dict[str, float]:
    """The whole book of the studio as laid."""
    from cordwright.cli import app  # as the command runs: it also sets how often dead cycles are sought
    from cordwright.project import read
    from cordwright.project.studies import KeptStudies
    from cordwright.reckon import reckon

    assert app
    reading = read(STUDIO)
    if reading.project is None:
        raise SystemExit("the weaving studio has errors")
    kept = KeptStudies(STUDIO, progress=lambda _share, _words: None, clock=time.perf_counter, say=print)
    reckoning = reckon(reading.project, studies=kept)

    def work() -> None:
        from cordwright.book import write_book

        write_book(reading.project, reckoning, folder / "book", today=TODAY, source_bytes_hash=reading.digest)  # type: ignore[arg-type]

    return measured(LIBRARIES, work)


def peer(folder: Path) -> dict[str, float]:
    """Typst alone on the template, data and pictures that lie ready."""
    inputs = json.loads((folder / "inputs.json").read_text(encoding="utf-8"))

    def work() -> None:
        import typst

        typst.compile(str(folder / "book.typ"), root=str(folder), sys_inputs=inputs, ignore_system_fonts=True)

    return measured(("typst",), work)


def lay_ready(folder: Path) -> None:
    """What Typst is given for the studio's book, left in a folder."""
    from cordwright.book import assemble, typst_backend
    from cordwright.book.content import as_data, drawings_in
    from cordwright.project import read
    from cordwright.project.studies import KeptStudies
    from cordwright.reckon import reckon

    reading = read(STUDIO)
    assert reading.project is not None
    kept = KeptStudies(STUDIO, progress=lambda _share, _words: None, clock=time.perf_counter, say=print)
    book = assemble(reading.project, reckon(reading.project, studies=kept), TODAY, reading.digest)
    inputs = typst_backend.lay_ready(typst_backend.TEMPLATE, {"book": as_data(book)}, drawings_in(book), folder)
    (folder / "inputs.json").write_text(json.dumps(inputs), encoding="utf-8")


def child(what: str, folder: Path) -> dict[str, float]:
    """One run in a process of its own."""
    done = subprocess.run([sys.executable, __file__, what, str(folder)], capture_output=True, text=True, check=True)
    return dict(json.loads(done.stdout.splitlines()[-1]))


def main() -> None:
    """Print both times, their ratio and the memory."""
    machine()
    with tempfile.TemporaryDirectory() as made:
        ready = Path(made) / "ready"
        ready.mkdir()
        lay_ready(ready)
        runs = [(child("ours", Path(made)), child("peer", ready)) for _ in range(ROUNDS)]
    books, pages = ([run[k]["seconds"] for run in runs] for k in (0, 1))
    for name, times in (("the whole book of the weaving studio", books), ("peer: Typst alone on its pages", pages)):
        print(f"{name:<52} min {min(times):6.2f} s   median {statistics.median(times):6.2f} s   n {len(times)}")
    print(f"{'ours over the peer (wanted 3)':<52} min {min(books) / min(pages):6.2f}     median "
          f"{statistics.median(books) / statistics.median(pages):6.2f}")  # fmt: skip
    imports = [statistics.median(run[k]["imports"] for run in runs) for k in (0, 1)]
    print(f"{'imports of the book, of Typst, median':<52} {imports[0]:10.2f} s, {imports[1]:.2f} s")
    print(f"{'peak memory (wanted under 1024 MiB)':<52} {max(run[0]['memory'] for run in runs):6.0f} MiB")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(json.dumps({"ours": ours, "peer": peer}[sys.argv[1]](Path(sys.argv[2]))))
    else:
        main()
