"""The front view: a piece as framed, with its windows' letters and its figures."""
