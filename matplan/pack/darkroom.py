"""Pictures that are made once: a darkroom keeps what it has made by the photo's file, its part and its size.

A photo that is saved anew is made anew; what was not asked for the longest goes first. It must not know how a document
looks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from math import ceil
from typing import Final

from matplan.documents.parts.pictures import Picture, PictureKey
from matplan.faults import Fault, JobError
from matplan.job.records import Job, Photo
from matplan.lengths import Box
from matplan.mats.records import SolvedPiece
from matplan.pack.pictures import PER_MM, Undecodable, picture

KEPT: Final = 256
"""Pictures that a darkroom keeps; each takes some hundred kilobytes at most."""

type Drawn = Callable[[SolvedPiece], Mapping[str, tuple[float, float]]]
"""How large a piece's drawings show the image of each window, in mm of paper."""


class Darkroom:
    """Makes photos ready for drawings and keeps at most `keep` of the pictures."""

    def __init__(self, *, keep: int = KEPT) -> None:
        self._made = lru_cache(keep)(_made)

    def pictures(
        self, job: Job, pieces: Iterable[SolvedPiece], drawn: Drawn, tick: Callable[[], None] = lambda: None
    ) -> dict[PictureKey, Picture]:
        """Return a picture for each aperture with a photo. Raises `JobError` that names every undecodable photo."""
        made: dict[PictureKey, Picture] = {}
        faults: dict[tuple[str, str], Fault] = {}
        asked = {piece.file: piece for piece in job.pieces}
        for piece in pieces:
            if not any(aperture.ask.photo for aperture in piece.apertures):
                continue
            sizes = drawn(piece)
            for number, aperture in enumerate(piece.apertures, 1):
                photo = aperture.ask.photo
                if photo is None:
                    continue
                width, height = sizes[aperture.name]
                wanted = (max(1, ceil(width * PER_MM)), max(1, ceil(height * PER_MM)))
                try:
                    made[(piece.ask.file, aperture.name)] = self.picture(photo, aperture.crop, wanted)
                except Undecodable as error:
                    where, ask = (
                        "photo" if len(piece.apertures) == 1 else f"aperture[{number}].photo",
                        asked[piece.ask.file],
                    )
                    fault = Fault(line=ask.line_of(where), where=f"{ask.place}.{where}", text=f"{piece.name}: {error}")
                    faults.setdefault((piece.ask.file, str(photo.path)), fault)
                tick()
        if faults:
            raise JobError(faults.values(), file=job.file)
        return made

    def picture(self, photo: Photo, crop: Box | None, wanted: tuple[int, int]) -> Picture:
        """Return a part of a photo as `pictures.picture` makes it. Raises `Undecodable`."""
        try:
            about = photo.path.stat()
        except OSError:  # the file has gone since its header was read
            return picture(photo, crop, wanted)
        return self._made(photo, crop, wanted, about.st_mtime_ns, about.st_size)


def _made(photo: Photo, crop: Box | None, wanted: tuple[int, int], _changed: int, _bytes: int) -> Picture:
    return picture(photo, crop, wanted)
