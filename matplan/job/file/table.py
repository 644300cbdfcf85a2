"""What every table of the job file's model is made of: keys that may be left out, short forms, and a schema fit for
TOML.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema


def says(description: str, default: bool | int | str | None = None, **more: Any) -> Any:
    """A key that may be left out, its description, and what is taken then, for the schema."""
    return Field(
        default=None,
        description=description,
        json_schema_extra=None if default is None else {"default": default},
        **more,
    )


class Table(BaseModel):
    """A table of the job file: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)
    needs: ClassVar[Mapping[str, str]] = {}
    """The keys that it cannot do without, each with an example of how it is written."""
    short: ClassVar[Mapping[str, Any] | None] = None
    """The JSON Schema of a shorter way to write the table, None where there is none."""

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        own = handler.resolve_ref_schema(handler(core))
        own.pop("title", None)
        if cls.needs:
            own["required"] = list(cls.needs)
        return own if cls.short is None else {"anyOf": [dict(cls.short), dict(own)]}

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """Its keys as they are written, its own before those that it shares with other tables."""
        own = cls.__annotations__
        written = ((field.alias or name, name in own) for name, field in cls.model_fields.items())
        return tuple(key for key, _ in sorted(written, key=lambda pair: not pair[1]))


class OneOrMore:
    """Marks a list that may be written as its only entry."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(
            lambda value: [value] if isinstance(value, str | dict) else value, handler(source)
        )

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        many = handler(core)
        return {"anyOf": [many["items"], many]}


def tidy(node: Any, *, names: bool = False) -> Any:
    """Without what TOML does not have (null) and what tells nothing (titles made from keys). `names`: the keys are
    names, not words.
    """
    if isinstance(node, list):
        return [tidy(inner) for inner in node]
    if not isinstance(node, dict):
        return node
    kept = {
        key: tidy(value, names=key in {"properties", "$defs"} and not names)
        for key, value in node.items()
        if names or not (key == "title" or (key == "default" and value is None))
    }
    choices = kept.get("anyOf")
    if not names and isinstance(choices, list) and {"type": "null"} in choices:
        left = [choice for choice in choices if choice != {"type": "null"}]
        del kept["anyOf"]
        kept = {**(left[0] if len(left) == 1 else {"anyOf": left}), **kept}
    return kept
