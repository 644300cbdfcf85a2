"""Where in a job's text each key, value and heading is written, for changes that leave the rest as it is."""

from __future__ import annotations

from bisect import bisect_left

from matplan.job.file.lines import KEY, Place, Scan

type Span = tuple[int, int]
"""Where something begins in the text, and where it ends."""


class Spans(Scan):
    """One pass over a text that is valid TOML. `text` is the text without carriage returns."""

    def __init__(self, text: str) -> None:
        self.keys: dict[Place, list[Span]] = {}
        """Each time that a key is written: `ash` of `[frame.ash]` and of `[frame.ash.sticks]`."""
        self.values: dict[Place, Span] = {}
        """Values behind keys and in lists, tables on one line among them."""
        self.heads: list[tuple[Place, int]] = []
        """Each heading with where it begins, in the order of the text."""
        super().__init__(text)

    def block(self, place: Place) -> Span | None:
        """Return where a table with a heading stands: its comments above it, its keys, the tables in it.

        `None` for a table without a heading, or of which a part stands beyond other tables.
        """
        number = next((number for number, (head, _) in enumerate(self.heads) if head == place), None)
        if number is None:
            return None
        inside = [at for at, (head, _) in enumerate(self.heads) if head[: len(place)] == place]
        if inside != list(range(number, number + len(inside))):
            return None  # parts of it stand elsewhere
        after = (start for head, start in self.heads[number + 1 :] if head[: len(place)] != place)
        start, stop = self._with_comments(self.heads[number][1]), next(after, None)
        end = len(self.text) if stop is None else self._with_comments(stop)
        return start, start + len(self.text[start:end].rstrip())

    def _with_comments(self, at: int) -> int:
        """Return where the comments right above a heading begin."""
        number = bisect_left(self._ends, at)
        while number > 0:
            above = self.text[self._ends[number - 2] + 1 if number > 1 else 0 : self._ends[number - 1]]
            if not above.lstrip().startswith("#"):
                break
            at -= len(above) + 1
            number -= 1
        return at

    def _header(self, at: int) -> tuple[Place, int]:
        place, end = super()._header(at)
        parts, _ = self._keys(at + (2 if self.text.startswith("[[", at) else 1))
        ends = [number + 1 for number, part in enumerate(place) if isinstance(part, str)]
        for length, (_, start) in zip(ends, parts, strict=True):
            self._named(place[:length], start)
        self.heads.append((place, at))
        return place, end

    def _mark(self, place: Place, at: int) -> None:
        super()._mark(place, at)
        if isinstance(place[-1], str) and self.text[at] != "[":
            self._named(place, at)

    def _named(self, place: Place, start: int) -> None:
        """Note that a key begins there, or behind its single quote."""
        quoted = self.text[start - 1 : start] == "'"
        found = KEY.match(self.text, start - 1 if quoted else start)
        if found is not None:
            whole = found[0].rstrip()
            self.keys.setdefault(place, []).append((found.start(), found.start() + len(whole)))

    def _value(self, at: int, place: Place) -> int:
        end = super()._value(at, place)
        self.values[place] = (at, at + len(self.text[at:end].rstrip()))
        return end
