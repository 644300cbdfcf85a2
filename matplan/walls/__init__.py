"""The wall: where frames hang and on which hooks. It must not know drawings, files or prices."""
