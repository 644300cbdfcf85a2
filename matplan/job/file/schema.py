"""The JSON Schema (draft 2020-12) of a file's tables, made from the keys of their records."""

from __future__ import annotations

from matplan.job.file.table import Schema, keys_of


def schema_of(record: type, title: str) -> Schema:
    """Return the schema of a file whose outermost table is read into `record`."""
    defs: dict[str, Schema] = {}

    def table(record: type, without: tuple[str, ...] = ()) -> Schema:
        name = record.__name__ if not without else f"Plain{record.__name__}"
        if name not in defs:
            defs[name] = {}  # a table within itself ends here
            defs[name] = _table(record, without)
        return {"$ref": f"#/$defs/{name}"}

    def _table(record: type, without: tuple[str, ...] = ()) -> Schema:
        keys = keys_of(record, without)
        needs = [name for name, key in keys.items() if key.needs]
        return {
            "type": "object",
            "description": " ".join((record.__doc__ or "").split()),
            "properties": {name: key.schema(table) for name, key in keys.items()},
            **({"required": needs} if needs else {}),
            "additionalProperties": False,
        }

    outermost = _table(record)
    draft = "https://json-schema.org/draft/2020-12/schema"
    return {"$schema": draft, "title": title, **outermost, "$defs": dict(sorted(defs.items()))}
