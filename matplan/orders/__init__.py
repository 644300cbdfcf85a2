"""What to buy for a job: the order list and its costs. It must not know drawings or files."""
