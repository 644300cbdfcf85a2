"""The job: what the user wants framed, read from a TOML file into frozen records. It must not know how a piece is solved."""
