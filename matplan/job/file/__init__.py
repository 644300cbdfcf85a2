"""A job file as text: its TOML, the line of each part, its values as people write them, and what is said of wrong ones.

It must not know what a job is.
"""
