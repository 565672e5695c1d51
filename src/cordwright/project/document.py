"""Does every table of building.toml hold what its model asks for, and what is wrong where it does not?

Each table is read on its own, so that a fault in one never hides the faults of another.
"""

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final, TypeVar

from pydantic import BaseModel, PlainValidator, ValidationError
from pydantic_core import ErrorDetails

from cordwright.base import Problem
from cordwright.project.faults import FieldFault, Findings, nearest, shown
from cordwright.project.fields import Reader
from cordwright.project.layout_tables import LayoutTable
from cordwright.project.lines import key_path
from cordwright.project.sand_tables import SandTable
from cordwright.project.schema import (
    BottleTable,
    CornersTable,
    CostTable,
    ForecastTable,
    FrameTable,
    MixTable,
    OpeningTable,
    PanelTable,
    PlanTable,
    PlinthTable,
    PostTable,
    ProjectTable,
    RoofTable,
    RuleTable,
    SeasoningTable,
    SiteTable,
    SleeveTable,
    SpeciesTable,
    StockTable,
    TreatmentTable,
    WallTable,
)
from cordwright.project.texts import inner_path_fault

Row = TypeVar("Row", bound=BaseModel)

SINGLE: Final[Mapping[str, type[BaseModel]]] = {
    "project": ProjectTable,
    "site": SiteTable,
    "plan": PlanTable,
    "plinth": PlinthTable,
    "frame": FrameTable,
    "corners": CornersTable,
    "roof": RoofTable,
    "wall": WallTable,
    "stock": StockTable,
    "layout": LayoutTable,
    "seasoning": SeasoningTable,
    "treatment": TreatmentTable,
    "mix": MixTable,
    "cost": CostTable,
}
MANY: Final[Mapping[str, type[BaseModel]]] = {
    "sands": SandTable,
    "rules": RuleTable,
    "forecast": ForecastTable,
    "posts": PostTable,
    "panels": PanelTable,
    "openings": OpeningTable,
    "sleeves": SleeveTable,
    "bottles": BottleTable,
    "species": SpeciesTable,
}
REQUIRED: Final = ("project", "plan", "wall")
MOST_ROWS: Final = 2000


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """The tables that could be read; `faulty` names those with a fault in them, `content` holds all as written."""

    content: Mapping[str, Any]
    tables: Mapping[str, BaseModel]
    rows: Mapping[str, tuple[BaseModel, ...]]
    faulty: frozenset[str]

    def one(self, name: str, model: type[Row]) -> Row | None:
        """Give a table, None if it is left out or faulty."""
        table = self.tables.get(name)
        assert table is None or isinstance(table, model)
        return table

    def many(self, name: str, model: type[Row]) -> tuple[Row, ...]:
        """Give the rows of an array of tables that could be read."""
        return tuple(row for row in self.rows.get(name, ()) if isinstance(row, model))

    def file_named(self, table: str, key: str) -> str:
        """Give the list a table names, even where another of its keys is faulty; empty for none."""
        keys = self.content.get(table)
        name = keys.get(key) if isinstance(keys, dict) else None
        return name if isinstance(name, str) and inner_path_fault(name) is None else ""

    def sound(self, *names: str) -> bool:
        """Whether none of these tables has a fault."""
        return self.faulty.isdisjoint(names)


def parse_toml(text: str, where: str) -> dict[str, Any] | Problem:
    """Read TOML, or say on which line it is none."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        match = re.search(r"\(at (?:line (\d+), column \d+|end of document)\)", str(fault))
        line = int(match[1]) if match and match[1] else text.rstrip().count("\n") + 1
        message = re.sub(r" \(at [^)]*\)$", "", str(fault))
        return Problem(
            field="file",
            message=f"this is not TOML: {message[:1].lower() + message[1:]}",
            hint='a line reads key = "value"; look for a missing quote, bracket or equals sign here or just above',
            where=where,
            line=line,
        )
    except (RecursionError, ValueError) as fault:
        message = "lists stand too deep within each other" if isinstance(fault, RecursionError) else "a number too long"
        return Problem(field="file", message=f"this cannot be read: {message}", hint="simplify it", where=where, line=1)


def read_document(content: Mapping[str, Any], findings: Findings) -> Document:
    """Read all tables, noting every fault."""
    _note_unknown(content, findings)
    tables: dict[str, BaseModel] = {}
    rows: dict[str, tuple[BaseModel, ...]] = {}
    faulty: set[str] = set()
    for name, model in SINGLE.items():
        table = _read_single(content, name, model, findings)
        if isinstance(table, BaseModel):
            tables[name] = table
        elif table:
            faulty.add(name)
    for name, model in MANY.items():
        rows[name], complete = _read_many(content.get(name, []), name, model, findings)
        if not complete:
            faulty.add(name)
    return Document(content=content, tables=tables, rows=rows, faulty=frozenset(faulty))


def _note_unknown(content: Mapping[str, Any], findings: Findings) -> None:
    known = (*SINGLE, *MANY)
    for key in content:
        if key not in known:
            findings.add(key_path("", key), f"there is no table {shown(key)} here", nearest(key, known))


def _read_single(content: Mapping[str, Any], name: str, model: type[BaseModel], findings: Findings) -> BaseModel | bool:
    """Give the table, or whether it is faulty."""
    if name not in content:
        if name in REQUIRED:
            findings.add(name, f"the table [{name}] is missing", f"begin it with a line [{name}]")
        return name in REQUIRED
    return _validated(content[name], name, model, findings) or True


def _read_many(value: Any, name: str, model: type[BaseModel], findings: Findings) -> tuple[tuple[BaseModel, ...], bool]:
    """Give the rows that could be read, and whether that is all of them."""
    if not isinstance(value, list):
        findings.add(name, f"{name} is {shown(value)}", f"write one block [[{name}]] for each")
        return (), False
    if len(value) > MOST_ROWS:
        findings.add(name, f"there are {len(value)} of [[{name}]]", f"at most {MOST_ROWS} are read")
        return (), False
    read = [_validated(row, key_path(name, i), model, findings) for i, row in enumerate(value)]
    found = tuple(row for row in read if row is not None)
    return found, len(found) == len(read)


def _validated(value: Any, path: str, model: type[BaseModel], findings: Findings) -> BaseModel | None:
    if path == "mix" and isinstance(value, str):
        value = {"parts": value}  # a mix in one word is refused where its parts are
    try:
        return model.model_validate(value)
    except ValidationError as error:
        findings.take(schema_problems(error, path, model))
        return None


def schema_problems(error: ValidationError, path: str, model: type[BaseModel]) -> Iterable[Problem]:
    """Put a model's complaints into the builder's words."""
    for fault in error.errors(include_url=False):
        field = path
        for part in fault["loc"]:
            field = key_path(field, part)
        message, hint = _words(fault, model)
        yield Problem(field=field, message=message, hint=hint)


def _words(fault: ErrorDetails, model: type[BaseModel]) -> tuple[str, str]:
    """What is wrong and what is accepted."""
    cause = fault.get("ctx", {}).get("error")
    if isinstance(cause, FieldFault):
        return cause.message, cause.hint
    *above, key = fault["loc"] or ("",)
    holder = _model_at(model, tuple(above))
    if fault["type"] == "extra_forbidden":
        return f"there is no key {shown(str(key))} here", nearest(str(key), tuple(holder.model_fields))
    if fault["type"] == "missing":
        return "this is missing", _forms(holder, str(key))
    wanted = "a list in brackets [ ]" if "tuple" in fault["type"] else "a table with keys of its own"
    return f"{shown(fault['input'])} stands here", f"write {wanted}"


def _model_at(model: type[BaseModel], location: tuple[int | str, ...]) -> type[BaseModel]:
    """The model of a table within a table, or of one row of a list of tables."""
    for part in location:
        field = model.model_fields.get(part) if isinstance(part, str) else None
        if field is not None:
            model = next(iter(_models_in(field.annotation)), model)
    return model


def _models_in(annotation: Any) -> Iterable[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in getattr(annotation, "__args__", ()):
        yield from _models_in(inner)


def _forms(holder: type[BaseModel], key: str) -> str:
    """How a missing key is written."""
    field = holder.model_fields[key]
    for note in field.metadata:
        if isinstance(note, PlainValidator) and isinstance(note.func, Reader):
            return f"add {key} = ...; {note.func.forms}"
    return f"add {key}"
