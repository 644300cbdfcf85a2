"""Whether a piece says enough to be solved: two of frame, image and border, and what tells each picture's shape."""

from __future__ import annotations

from matplan.job.file.lines import Place
from matplan.job.file.written import quoted
from matplan.job.model import ApertureTable, PieceTable, WindowTable
from matplan.job.read.complaints import Faults
from matplan.job.records import Frame, MatSupply, Shape


def check_enough(table: PieceTable, place: Place, frame: Frame | None, faults: Faults) -> None:
    """A fault for each thing that is missing, where nothing faulty explains it. `frame` is None where it could not be
    read.
    """
    check = _Check(table, place, faults)
    check.two_of_three(frame)
    check.shapes(frame)


class _Check:
    def __init__(self, table: PieceTable, place: Place, faults: Faults) -> None:
        self.table = table
        self.place = place
        self.faults = faults

    def _own_windows(self) -> list[tuple[WindowTable, Place]]:
        if self.table.aperture is None:
            return [(self.table, self.place)]
        return [(window, (*self.place, "aperture", number)) for number, window in enumerate(self.table.aperture)]

    def _unsure(self, *keys: str) -> bool:
        """Whether one of those keys of the piece is faulty, so that nothing follows from its being missing."""
        return any(self.faults.touches((*self.place, key)) for key in keys)

    def two_of_three(self, frame: Frame | None) -> None:
        """Of frame, image and border two must be there; without a mat, or with a ready-cut one, a frame is enough."""
        table = self.table
        if self._unsure("image", "aperture") or (
            table.aperture is None and self.faults.touches((*self.place, "aperture"))
        ):
            return
        windows = self._own_windows()
        pictures = [(own, place) for own, place in windows if not _is_caption(own)] or windows
        bare = [place for own, place in pictures if own.image is None and table.image is None]
        if bare and len(bare) < len(pictures):
            some = f"{len(pictures) - len(bare)} of {len(pictures)}"
            for place in bare:
                self.faults.add(
                    (*place, "image"),
                    f"image is missing, while {some} windows have one; write it on all or on none",
                    line_of=place,
                )
            return
        if frame is None or self._unsure("frame", "turn", "border", "mat", "mat_supply"):
            return
        said = [
            word
            for word, there in (("frame", frame.has_size), ("image", not bare), ("border", table.border is not None))
            if there
        ]
        if len(said) < 2 and not (self._settled_by_mat() and frame.has_size):
            self.faults.add(self.place, self._too_little(said, frame))

    def _settled_by_mat(self) -> bool:
        """Whether a frame alone settles the piece: the image fills the sheet, or the standard mat's window is what is
        seen.
        """
        return self.table.mat == () or self.table.mat_supply is MatSupply.READY_CUT

    def shapes(self, frame: Frame | None) -> None:
        """What tells each picture's shape must be there; a frame alone without a mat, or a ready-cut mat, tells it too."""
        table = self.table
        if self._unsure("image", "mat", "mat_supply", "border", "shape") or (frame is None and table.mat == ()):
            return
        if table.aperture is None and self._unsure("aperture", "rows"):
            return
        fills = (
            self._settled_by_mat()
            and frame is not None
            and frame.has_size
            and (table.border is None or table.mat != ())
        )
        for own, place in self._own_windows():
            image = own.image or table.image
            told = (
                own.photo is not None
                or own.aspect is not None
                or (own.shape or table.shape) in {Shape.SQUARE, Shape.CIRCLE}
            )
            sized = image is not None and (
                image.size is not None or (image.width is not None and image.height is not None)
            )
            faulty = any(self.faults.touches((*place, key)) for key in ("photo", "aspect", "image", "shape", "text"))
            if told or sized or faulty or (fills and image is None):
                continue
            what, right = (
                ("slip", 'image = "120 x 30 mm"')
                if _is_caption(own)
                else ("picture", 'photo = "…", aspect = "3:2" or an image with both sides')
            )
            self.faults.add((*place, "aspect"), f"nothing tells the {what}'s shape; write {right}", line_of=place)

    def _too_little(self, said: list[str], frame: Frame | None) -> str:
        examples = {"frame": 'frame = "40x50 cm"', "image": 'image = { width = "25 cm" }', "border": 'border = "60 mm"'}
        more = [example for word, example in examples.items() if word not in said]
        name = quoted(self.table.name) if self.table.name else "this piece"
        moulding = ""
        if self.table.frame is not None and frame is not None and not frame.has_size:
            moulding = f" (frame {quoted(self.table.frame)} is a moulding without a size of its own)"
            more = [example for example in more if not example.startswith("frame")]
        has = f"has only {said[0]}" if said else "has none"
        right = " or ".join(more) if said else " and ".join(more[:2])
        return f"{name} {has} of frame, image and border{moulding}, and any two settle the third; write {right}"


def _is_caption(window: WindowTable) -> bool:
    return isinstance(window, ApertureTable) and window.text is not None
