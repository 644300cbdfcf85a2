"""Documents at full size on several pages: mat template and hang template."""
