"""The job file's JSON Schema, made from the records that declare its keys."""

from __future__ import annotations

from typing import Any

from matplan.job.file.schema import schema_of
from matplan.job.records import Job


def schema() -> dict[str, Any]:
    """Return the job file's JSON Schema (draft 2020-12)."""
    return schema_of(Job, "matplan job")


def schema_text() -> str:
    """Return the schema as JSON text."""
    import json

    return json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"
