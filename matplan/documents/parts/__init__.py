"""What several documents are made of. No document takes from another, only from here."""
