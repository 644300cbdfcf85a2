"""`python -m matplan`."""

from matplan.start import main

main()
