"""A job file as text: its TOML, the line of each part, its values as people write them, and what is said of a wrong one. It must
not know what a job is.
"""
