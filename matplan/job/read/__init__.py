"""Reading a job: tables into records, names looked up, and every fault at once."""
