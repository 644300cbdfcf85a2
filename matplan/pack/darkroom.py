"""Pictures that are made once: a darkroom keeps what it has made by the photo's file, its part and its size.

A photo that is saved anew is made anew; what was not asked for the longest goes first. It must not know how a document
looks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from math import ceil
from typing import Final

from matplan.documents.parts.pictures import Picture, PictureKey, photo_of_wall
from matplan.faults import Fault, JobError
from matplan.job.records import Job, Photo, Wall
from matplan.lengths import Box
from matplan.mats.records import SolvedPiece
from matplan.pack.pictures import PER_MM, Undecodable, picture

KEPT: Final = 256
"""Pictures that a darkroom keeps; each takes some hundred kilobytes at most."""

MOST_OF_A_WALL: Final = 2000
"""Pixels along the longer side of a wall's photograph: 200 ppi on a sheet of A4."""

type Drawn = Callable[[SolvedPiece], Mapping[str, tuple[float, float]]]
"""How large a piece's drawings show the image of each window, in mm of paper."""


class Darkroom:
    """Makes photos ready for drawings and keeps at most `keep` of the pictures."""

    def __init__(self, *, keep: int = KEPT) -> None:
        self._made = lru_cache(keep)(_made)

    def pictures(
        self,
        job: Job,
        pieces: Iterable[SolvedPiece],
        drawn: Drawn,
        tick: Callable[[], None] = lambda: None,
        *,
        walls: Iterable[Wall] = (),
    ) -> dict[PictureKey, Picture]:
        """Return a picture for each aperture with a photo, and each wall with one. Raises `JobError` that names every
        undecodable photo.
        """
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
        for wall in walls:
            if wall.photo is None:
                continue
            try:
                made[photo_of_wall(wall.file)] = self.picture(wall.photo.file, None, no_larger(wall.photo.file.pixels))
            except Undecodable as error:
                text = f"{wall.name}: {error}"
                fault = Fault(line=wall.line_of("photo"), where=f"{wall.place}.photo.file", text=text)
                faults.setdefault((f"wall/{wall.file}", ""), fault)
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


def no_larger(pixels: tuple[int, int], most: int = MOST_OF_A_WALL) -> tuple[int, int]:
    """Return the same shape with neither side longer than that.

    >>> no_larger((4000, 3000)), no_larger((640, 480))
    ((2000, 1500), (640, 480))
    """
    longest = max(most, *pixels)
    return max(1, round(pixels[0] * most / longest)), max(1, round(pixels[1] * most / longest))


def _made(photo: Photo, crop: Box | None, wanted: tuple[int, int], _changed: int, _bytes: int) -> Picture:
    return picture(photo, crop, wanted)
