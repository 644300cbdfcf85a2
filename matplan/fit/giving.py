"""Several pictures and the frames that lie ready: who gets which, so that the whole is best.

More pictures framed go before a greater sum of scores. The assignment is exact: a matching of greatest weight among
those of most pairs (`networkx`, blossom algorithm), over scores as whole numbers. Time grows with the cube of the
pictures and frames together: 60 of each take a third of a second.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from matplan.fit.choices import answers
from matplan.fit.records import Option, Question, Subject

_FINENESS = 10_000
"""Scores have four places."""


type Answers = tuple[Option, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """A picture, and the choice that puts it into a frame that lies ready."""

    subject: Subject
    option: Option


@dataclass(frozen=True, slots=True, kw_only=True)
class Shared:
    """Who gets which frame. `photos` get no frame that lies ready; `frames` stay empty, each as often as it is left."""

    given: tuple[Given, ...]
    photos: tuple[Subject, ...]
    frames: tuple[str, ...]


def suited(questions: Sequence[Question], most: int) -> tuple[Answers, ...]:
    """Return the best answers to each question, at most so many; pictures that are alike are weighed once."""
    ask = _asking(most)
    return tuple(ask(question) for question in questions)


def shared(questions: Sequence[Question]) -> Shared:
    """Return which picture gets which of the frames that lie ready (`FrameChoice.have`).

    The questions differ in their pictures alone.
    """
    ask = _asking(1)
    ready = [frame for frame in questions[0].frames if frame.have]
    offers = {
        (number, index): option
        for number, question in enumerate(questions)
        for index, frame in enumerate(ready)
        for option in ask(replace(question, frames=(frame,)))
    }
    worth = {pair: round(option.score * _FINENESS) for pair, option in offers.items()}
    given = _matched(worth, [min(frame.have, len(questions)) for frame in ready])
    used = list(given.values())
    pictures = [question.subject for question in questions]
    return Shared(
        given=tuple(Given(subject=pictures[pair[0]], option=offers[pair]) for pair in sorted(given.items())),
        photos=tuple(picture for number, picture in enumerate(pictures) if number not in given),
        frames=tuple(frame.name for index, frame in enumerate(ready) for _ in range(frame.have - used.count(index))),
    )


def _asking(most: int) -> Callable[[Question], Answers]:
    """Return what answers a question; one that differs from an earlier one in its photo's file alone has its answer."""
    known: dict[Question, Answers] = {}

    def ask(question: Question) -> Answers:
        key = replace(question, subject=replace(question.subject, file=""))
        if key not in known:
            known[key] = answers(key, most)
        return known[key]

    return ask


def _matched(worth: dict[tuple[int, int], int], places: Sequence[int]) -> dict[int, int]:
    """Return the frame of each picture that gets one.

    `worth` is what each pair of picture and frame is worth, `places` how often each frame lies ready.
    """
    import networkx

    graph = networkx.Graph()
    for (number, index), value in sorted(worth.items()):
        for copy in range(places[index]):
            graph.add_edge((0, number, 0), (1, index, copy), weight=value)
    pairs = (sorted(pair) for pair in networkx.max_weight_matching(graph, maxcardinality=True))
    return {number: index for (_, number, _), (_, index, _) in pairs}
