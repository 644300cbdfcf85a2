"""The job file's JSON Schema: every key of a job is in it, and it takes what the reader takes."""

from __future__ import annotations

import json
import re
import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from matplan.job import parse_job
from matplan.job.file.wrong import read_float
from matplan.job.records.other_words import OTHER_WORDS
from matplan.job.schema import schema, schema_text
from matplan.job.starter import starter_text
from matplan.job.starter.sizes import Sizes
from matplan.lengths import Units

SCHEMA = schema()

KEYS = {
    "": "title units step currency paper board glazing backing frame piece wall",
    "Paper": "size printer_margin ppi",
    "FourSides": "top right bottom left",
    "Material": "ply thickness colour sheets dropout_trim",
    "PlainMaterial": "thickness colour sheets",
    "StockSheet": "size price have trim",
    "Frame": "takes rabbet clearance lip depth rail price sticks kerf",
    "Stick": "length price",
    "Piece": "name quantity frame turn photo aspect image border border_to border_at weight show overlap reveal"
    " gap paper mat glazing backing mat_supply aperture rows gutter row_align justify shape points",
    "ApertureAsk": "name photo aspect image show overlap reveal gap paper shape points text",
    "ImageAsk": "width height",
    "LayerAsk": "board reveal cut",
    "Wall": "name size eye gap arrange zone pieces at keep_clear furniture hang columns rise",
    "Zone": "left right bottom top",
    "Pin": "left bottom",
    "KeepClear": "name left bottom width height margin",
    "Furniture": "name left width height",
    "Hang": "by anchors drop in down",
}
"""The keys that a job is promised, table by table."""


def table(name: str) -> dict[str, Any]:
    """The schema of a table as such, without its short form."""
    hang = SCHEMA["$defs"]["Wall"]["properties"]["hang"]
    found: dict[str, Any] = hang if name == "Hang" else SCHEMA["$defs"][name] if name else SCHEMA
    return next((choice for choice in found.get("anyOf", ()) if "properties" in choice), found)


@pytest.mark.parametrize("name", KEYS)
def test_every_promised_key_is_in_the_schema_and_described(name: str) -> None:
    properties = table(name)["properties"]
    assert set(KEYS[name].split()) <= set(properties)
    assert [key for key, about in properties.items() if not about.get("description")] == []
    assert table(name)["additionalProperties"] is False


def test_defaults_of_the_schema_are_those_of_the_reader() -> None:
    piece = parse_job('[[piece]]\nname = "a"\nimage = "30 x 20 cm"\nborder = 60', Path()).pieces[0]
    properties = table("Piece")["properties"]
    (window,) = piece.apertures
    read = {
        "quantity": piece.quantity, "border_to": piece.border_to, "border_at": piece.border_at,
        "row_align": piece.row_align, "show": window.show, "shape": window.shape, "justify": piece.justify,
        "glazing": piece.glazing.name if piece.glazing else None,
        "backing": piece.backing.name if piece.backing else None,
    }  # fmt: skip
    assert {key: properties[key]["default"] for key in read} == read


def test_schema_holds_nothing_that_toml_has_not() -> None:
    assert json.loads(schema_text()) == SCHEMA
    assert "null" not in schema_text()


# --- a small validator: the words of JSON Schema that ours uses, JSON Schema 2020-12 ----------------------------------

TYPES: dict[str, tuple[type, ...]] = {
    "object": (dict,), "array": (list,), "string": (str,), "number": (int, Decimal), "integer": (int,),
    "boolean": (bool,),
}  # fmt: skip
CHECKED = {
    "$ref",
    "anyOf",
    "type",
    "enum",
    "minimum",
    "maximum",
    "pattern",
    "minLength",
    "properties",
    "required",
    "additionalProperties",
    "propertyNames",
}
CHECKED |= {"items", "prefixItems", "minItems", "maxItems"}
SAID = {"$schema", "$defs", "title", "description", "default", "examples", "x-names"}


def refused(value: Any, by: dict[str, Any]) -> str:
    """Why the schema refuses that value, "" where it takes it."""
    assert set(by) <= CHECKED | SAID, set(by) - CHECKED - SAID
    if "$ref" in by and (why := refused(value, SCHEMA["$defs"][by["$ref"].rsplit("/", 1)[1]])):
        return why
    if "anyOf" in by and all(reasons := [refused(value, choice) for choice in by["anyOf"]]):
        return " / ".join(reasons)
    if "type" in by and (
        not isinstance(value, TYPES[by["type"]]) or (isinstance(value, bool) and by["type"] != "boolean")
    ):
        return f"{value!r} is no {by['type']}"
    if value not in by.get("enum", [value]):
        return f"{value!r} is none of {by['enum']}"
    if isinstance(value, int | Decimal) and not by.get("minimum", value) <= value <= by.get("maximum", value):
        return f"{value} is out of range"
    if isinstance(value, str) and not (
        re.search(by.get("pattern", ""), value) and len(value) >= by.get("minLength", 0)
    ):
        return f"{value!r} does not match"
    if isinstance(value, dict):
        if missing := set(by.get("required", ())) - set(value):
            return f"{missing} missing"
        for key, inner in value.items():
            if why := refused(key, by.get("propertyNames", {})):
                return f"{key}: {why}"
            more = by.get("properties", {}).get(key, by.get("additionalProperties", {}))
            if more is False:
                return f"no key {key}"
            if more and (why := refused(inner, more)):
                return f"{key}: {why}"
    if isinstance(value, list):
        if not by.get("minItems", 0) <= len(value) <= by.get("maxItems", len(value)):
            return "a wrong number of entries"
        for number, inner in enumerate(value):
            first = by.get("prefixItems", ())
            if why := refused(inner, first[number] if number < len(first) else by.get("items", {})):
                return f"[{number}]: {why}"
    return ""


ROOT = Path(__file__).parents[3]
JOBS = sorted(ROOT.glob("gallery/*/*.toml"))


@pytest.mark.parametrize("path", JOBS, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_schema_takes_our_jobs(path: Path) -> None:
    assert refused(tomllib.loads(path.read_text(encoding="utf-8"), parse_float=read_float), SCHEMA) == ""


@pytest.mark.parametrize("units", Units)
def test_schema_takes_the_starter_job(units: Units) -> None:
    assert refused(tomllib.loads(starter_text(Sizes.of(units)), parse_float=read_float), SCHEMA) == ""


def test_schema_takes_every_short_form() -> None:
    text = """
units = "in"
[[piece]]
name = "a"
image = { width = 5 }
border = { top = 1.5, left = "2 in" }
weight = 1.2
mat = "white"
shape = "polygon"
points = [[0.5, 0], [1, 1], [0, 1]]
[[wall]]
name = "w"
size = "12 x 8 ft"
at = { a = { left = 1, bottom = 2 } }
hang = { by = "two hooks", in = 1, down = 2 }
"""
    assert refused(tomllib.loads(text, parse_float=read_float), SCHEMA) == ""
    assert "no key topp" in refused({"piece": [{"name": "a", "border": {"topp": 1}}]}, SCHEMA)
    assert "missing" in refused({"piece": [{}]}, SCHEMA)
    assert refused({"units": "feet"}, SCHEMA)
    assert refused({"piece": [{"name": "a", "quantity": 0}]}, SCHEMA)


def test_other_words_lead_to_keys_and_are_none_themselves() -> None:
    tables = [SCHEMA["properties"], *(table(name)["properties"] for name in SCHEMA["$defs"])]
    known = {key for properties in tables for key in properties}
    assert {key for keys in OTHER_WORDS.values() for key in keys} <= known
    for word, keys in OTHER_WORDS.items():
        assert any(key in properties and word not in properties for key in keys for properties in tables), word
