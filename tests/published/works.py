"""The works that "published" figures and checks come from, each by the words that a source begins or stands with.

Titles and numbers are as the works' own pages give them; a title that is left out was not seen.
"""

from __future__ import annotations

from typing import Final

WORKS: Final = {
    "ISO 216": "ISO 216, Writing paper and certain classes of printed matter: trimmed sizes, A and B series",
    "ISO 4217": "ISO 4217, Codes for the representation of currencies; its list one, of 2026-01-01",
    "EN 572-1": "EN 572-1, Glass in building, basic soda-lime silicate glass products: definitions and general "
    "physical and mechanical properties",
    "ANSI/ASME Y14.1": "ANSI/ASME Y14.1, drawing sheet sizes, as given in the open data of papersizes.guide",
    "papersizes.guide": "papersizes.guide, open data of paper sizes (CC BY 4.0), version 2026.10.10",
    "CCI Notes 11/5": "Canadian Conservation Institute, CCI Notes 11/5, on matting works on paper",
    "M. T. Jackson, The Museum": "M. T. Jackson, The Museum: a manual, 1917 (public domain)",
    "S. Saitzyk, Art Hardware": "S. Saitzyk, Art Hardware: the definitive guide to artists' materials, 1987",
    "USDA Wood Handbook FPL-GTR-190": "Forest Products Laboratory, Wood Handbook: wood as an engineering material, "
    "general technical report FPL-GTR-190, USDA, 2010",
    "NDS 2018": "National Design Specification for Wood Construction, 2018",
    "US Navy training manual 14066": "US Navy training manual 14066",
    "Wikibooks, How to Frame a Picture": "Wikibooks, How to Frame a Picture",
    "Wikipedia, Foamcore": "Wikipedia, the article Foamcore",
    "Library of Congress, Matting and Hinging": "Library of Congress, Preservation: Matting and Hinging Works of Art "
    "on Paper",
    "NIOSH 94-110": "NIOSH publication 94-110, Applications manual for the revised lifting equation, 1994",
    "2010 ADA Standards": "2010 ADA Standards for Accessible Design, US Department of Justice",
    "National Gallery, London": "National Gallery, London, policy on lighting",
    "3rd CGPM": "3rd General Conference on Weights and Measures, 1901",
    "international yard and pound agreement": "International yard and pound agreement, 1959",
}


def work_of(source: str) -> str | None:
    """The first words of the work that a source names; `None` where it names none."""
    return next((work for work in WORKS if work in source), None)


def has_section(source: str) -> bool:
    """Whether a source says where in its work the figure stands, or names what a short work has once."""
    work = work_of(source)
    return work is not None and len(source.partition(work)[2].strip(" ,.:;()")) > 2
