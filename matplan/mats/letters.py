"""Letters that name things on a drawing, in their order: A … Z, AA, AB …"""

from __future__ import annotations

from string import ascii_uppercase


def letter_of(number: int) -> str:
    """Return the letter of the thing with that number, counted from 0.

    >>> letter_of(0), letter_of(25), letter_of(26), letter_of(701)
    ('A', 'Z', 'AA', 'ZZ')
    """
    text = ""
    number += 1
    while number:
        number, digit = divmod(number - 1, 26)
        text = ascii_uppercase[digit] + text
    return text
