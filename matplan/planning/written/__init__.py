"""A plan as plain values: `plan.json`. It must not know drawings or files."""
