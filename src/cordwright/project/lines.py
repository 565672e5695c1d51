"""On which line of building.toml does each value stand?

One pass over the signs of the file. It serves a document that the TOML reader has already taken, so it keeps only what
is needed to know the paths: keys, headers, the brackets of lists and inline tables, the quotes of strings.
"""

import re
from bisect import bisect_right
from typing import Final, NamedTuple

_BLANK: Final = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE: Final = re.compile(r"[ \t]*")
_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")
_STRING: Final = re.compile(
    r'"""(?:[^\\"]|\\[\s\S]|"(?!""))*"{3,5}'  # several lines, with escapes
    r"|'''(?:[^']|'(?!''))*'{3,5}"  # several lines, as written
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'"
)
_SCALAR: Final = re.compile(r"[^,\]}#\n]*")
_ESCAPE: Final = re.compile(r"\\(?:u([0-9A-Fa-f]{4})|U(00(?:0[0-9A-Fa-f]|10)[0-9A-Fa-f]{4})|([btnfr\"\\]))")
_SHORT: Final = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


class _Container(NamedTuple):
    """A list (index of its next element) or an inline table (None) that is still open."""

    path: str
    following: int | None


def key_path(parent: str, key: str | int) -> str:
    """Name a value by the one that holds it: `wall.joints`, `openings[1]`, `plan."north east"`."""
    if isinstance(key, int):
        return f"{parent}[{key}]"
    word = key if _BARE.fullmatch(key) else '"' + key.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return f"{parent}.{word}" if parent else word


def parent_path(path: str) -> str:
    """Name what holds a value: `openings[1]` of `openings[1].sill`; empty for the whole file."""
    if path.endswith("]"):
        return path[: path.rindex("[")]
    quoted = re.search(r'(?:^|\.)"(?:[^"\\]|\\.)*"$', path)
    return path[: quoted.start()] if quoted else path.rpartition(".")[0]


def lines_of(text: str) -> dict[str, int]:
    """Give the line, from 1, of every key, table and list element of a TOML document.

    A table stands where it is first mentioned. Text that is no TOML gives what was understood before it went wrong.

    Args:
        text: the document, line endings as they are.
    """
    return _Scanner(text).scan()


class _Scanner:
    """A walk over the document that notes each path with its line."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.position = 0
        self.newlines = [match.start() for match in re.finditer("\n", text)]
        self.lines: dict[str, int] = {}
        self.tables: dict[str, int] = {}  # how many elements each array of tables has so far

    def scan(self) -> dict[str, int]:
        table = ""
        while True:
            self.skip(_BLANK)
            start = self.position
            if start >= len(self.text):
                return self.lines
            if self.text[start] == "[":
                table = self.header()
            elif not self.pair(table):
                self.position = max(self.position, start + 1)  # no TOML: go on behind this sign

    def skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.position)
        assert match is not None
        self.position = match.end()

    def take(self, sign: str) -> bool:
        """Step over a sign if it is the next one."""
        found = self.text.startswith(sign, self.position)
        self.position += len(sign) if found else 0
        return found

    def note(self, path: str, position: int) -> None:
        self.lines.setdefault(path, bisect_right(self.newlines, position - 1) + 1 if position else 1)

    def key(self) -> str | None:
        """Read one part of a dotted key, None if none stands here."""
        self.skip(_SPACE)
        for pattern in (_BARE, _STRING):
            match = pattern.match(self.text, self.position)
            if match:
                self.position = match.end()
                self.skip(_SPACE)
                return _unquoted(match[0]) if pattern is _STRING else match[0]
        return None

    def keys(self) -> list[str]:
        parts: list[str] = []
        while (part := self.key()) is not None:
            parts.append(part)
            if not self.take("."):
                break
        return parts

    def header(self) -> str:
        """Read `[table]` or `[[table]]` and give the path its keys belong to."""
        start = self.position
        many = self.take("[[")
        self.take("[")
        path = ""
        *above, last = self.keys() or [""]
        for part in above:
            path = self.inside(key_path(path, part), start)
        path = key_path(path, last)
        if many:
            self.tables[path] = self.tables.get(path, 0) + 1
            path = self.inside(path, start)
        self.note(path, start)
        self.take("]]" if many else "]")
        return path

    def inside(self, path: str, start: int) -> str:
        """Step into a table; of an array of tables into its last element."""
        self.note(path, start)
        count = self.tables.get(path)
        if not count:
            return path
        element = key_path(path, count - 1)
        self.note(element, start)
        return element

    def pair(self, table: str) -> bool:
        """Read `key = value`; False if there is none."""
        path = self.name(table)
        if path is None:
            return False
        self.value(path)
        return True

    def name(self, table: str) -> str | None:
        start = self.position
        parts = self.keys()
        if not parts or not self.take("="):
            return None
        for part in parts:
            table = key_path(table, part)
            self.note(table, start)
        self.skip(_SPACE)
        return table

    def value(self, path: str) -> None:
        """Step over a value, noting what it holds; lists within lists are kept on a stack, not by recursion."""
        opened: list[_Container] = []
        self.enter(path, opened)
        while opened:
            self.skip(_BLANK)
            if self.position >= len(self.text):
                return
            holder = opened.pop()
            if self.take(",") or not self.take("}" if holder.following is None else "]"):
                self.element(holder, opened)

    def enter(self, path: str, opened: list[_Container]) -> None:
        """Open a list or an inline table, or step over a string or any other scalar."""
        if self.take("["):
            opened.append(_Container(path, 0))
        elif self.take("{"):
            opened.append(_Container(path, None))
        elif match := _STRING.match(self.text, self.position):
            self.position = match.end()
        else:
            self.skip(_SCALAR)

    def element(self, holder: _Container, opened: list[_Container]) -> None:
        self.skip(_BLANK)
        if self.text.startswith("}" if holder.following is None else "]", self.position):
            opened.append(holder)  # a comma before the bracket
            return
        start = self.position
        if holder.following is None:
            opened.append(holder)
            path = self.name(holder.path)
        else:
            opened.append(holder._replace(following=holder.following + 1))
            path = key_path(holder.path, holder.following)
            self.note(path, start)
        if path is not None:
            self.enter(path, opened)
        if self.position == start:
            self.position += 1  # no TOML: go on behind this sign


def _unquoted(text: str) -> str:
    """The key a quoted one stands for."""
    if text.startswith("'"):
        return text[1:-1]
    return _ESCAPE.sub(lambda m: _SHORT[m[3]] if m[3] else chr(int(m[1] or m[2], 16)), text[1:-1])
